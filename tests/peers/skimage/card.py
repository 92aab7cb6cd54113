"""A photograph of a card, seen straight from above: discs by threshold and labels, pose by least squares."""

from typing import Any, Callable

import numpy as np
from scipy.ndimage import map_coordinates, spline_filter
from scipy.optimize import least_squares
from skimage import color, filters, io, measure, transform, util

Array = np.ndarray
Layout = dict[str, Any]

NEAR_PX = 40


def linear(encoded: Array) -> Array:
    """Light of sRGB values from 0 to 1."""
    return np.where(encoded <= 0.04045, encoded / 12.92, ((encoded + 0.055) / 1.055) ** 2.4)


class Card:
    """The card of one photograph; places are its millimetres, origin in the middle, y up."""

    def __init__(self, path: str, layout: Layout) -> None:
        self.encoded = io.imread(path)
        grey = linear(color.rgb2gray(util.img_as_float32(self.encoded)))
        self._spline = spline_filter(grey, order=3, output=np.float32)
        self._to_px = solve_pose(find_discs(grey), layout, grey.shape)
        self.px_per_mm = float(np.linalg.norm(self._to_px([(10, 0)]) - self._to_px([(0, 0)])) / 10)

    def straighten(self, x0: float, y0: float, x1: float, y1: float, turn_deg: float = 0, px_per_mm: float = 0) -> Array:
        """Light of a rectangle turned about its middle, first row on top, at the photograph's scale or another."""
        places, shape = self._pixels(x0, y0, x1, y1, turn_deg, px_per_mm or self.px_per_mm)
        return map_coordinates(self._spline, places, order=3, mode="nearest", prefilter=False).reshape(shape)

    def mean_colour(self, x0: float, y0: float, x1: float, y1: float) -> Array:
        """Mean linear red, green and blue of a rectangle."""
        places, _ = self._pixels(x0, y0, x1, y1, 0, self.px_per_mm)
        column, row = np.round(places[::-1]).astype(int)
        return linear(self.encoded[row, column] / 255).mean(0)

    def _pixels(self, x0: float, y0: float, x1: float, y1: float, turn_deg: float, px_per_mm: float):
        rows, columns = round((y1 - y0) * px_per_mm), round((x1 - x0) * px_per_mm)
        v, u = np.mgrid[0:rows, 0:columns]
        dx, dy = ((u + 0.5) / columns - 0.5) * (x1 - x0), (0.5 - (v + 0.5) / rows) * (y1 - y0)
        a = np.radians(turn_deg)
        x = (x0 + x1) / 2 + dx * np.cos(a) - dy * np.sin(a)
        y = (y0 + y1) / 2 + dx * np.sin(a) + dy * np.cos(a)
        return self._to_px(np.column_stack([x.ravel(), -y.ravel()]))[:, ::-1].T, (rows, columns)


def find_discs(grey: Array) -> Array:
    """Centres of dark round regions, px, shape (n, 2)."""
    regions = measure.regionprops(measure.label(grey < filters.threshold_otsu(grey)))
    smallest, largest = (grey.shape[1] / 80) ** 2 / 2, (grey.shape[1] / 20) ** 2
    return np.array(
        [
            r.centroid[::-1]
            for r in regions
            if smallest < r.area < largest and r.eccentricity < 0.5 and r.solidity > 0.95
        ]
    )


def corners(points: Array) -> Array:
    total, difference = points.sum(1), points[:, 0] - points[:, 1]
    return points[[total.argmin(), difference.argmax(), total.argmax(), difference.argmin()]]


def solve_pose(found: Array, layout: Layout, shape: tuple[int, int]) -> Callable[[Any], Array]:
    """Card mm, y down, to pixels: homography and one term of radial distortion."""
    marks = np.array([(f["xMm"], -f["yMm"]) for f in layout["fiducials"]])
    rough = transform.ProjectiveTransform()
    rough.estimate(corners(marks), corners(found))
    distance = np.linalg.norm(rough(marks)[:, None] - found[None], axis=2)
    near = distance.min(1) < NEAR_PX
    source, target = marks[near], found[distance.argmin(1)[near]]
    centre, half = np.array(shape[::-1]) / 2, np.hypot(*shape) / 2

    def project(parameters: Array, points: Array) -> Array:
        h = np.append(parameters[:8], 1).reshape(3, 3)
        flat = np.column_stack([points, np.ones(len(points))]) @ h.T
        away = flat[:, :2] / flat[:, 2:] - centre
        return centre + away * (1 + parameters[8] * (away**2).sum(1, keepdims=True) / half**2)

    start = np.append((rough.params / rough.params[2, 2]).ravel()[:8], 0)
    fit = least_squares(lambda p: (project(p, source) - target).ravel(), start, x_scale=np.maximum(abs(start), 1e-6))
    return lambda points: project(fit.x, np.asarray(points))
