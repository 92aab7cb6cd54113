"""Haze, clarity, colour and defects of a window: the target behind it against its bare copy.

The picture through the window is taken for the bare picture blurred twice, a little by the surface and widely by scatter,
each with its share, under uneven light, and with mirrored light on top.
"""

from dataclasses import dataclass

import numpy as np
from scipy import fft
from scipy.ndimage import gaussian_filter, morphological_gradient
from scipy.optimize import least_squares
from scipy.special import k1
from skimage import color, measure, registration, transform

from card import Array, Card, Layout

MARGIN_MM = 1
# How far from an edge its blur is over.
EDGE_MM = 0.3
DISTANCE_MM = 6  # from the middle of the plate, as air, to the paper
HAZE_ANGLE_DEG = 2.5  # light deviated by more is haze in ASTM D1003
SCATTER_MM = 0.5  # radius on the paper within which half of the scattered light lands; taken as known
# Of the surface's blur across and along the build.
START_MM = (0.03, 0.2)
MOST_MM = (0.15, 1)
PASSES = 2  # light crosses the plate down to the paper and up again
DEFECT_NOISE = 6
DEFECT_LEAST_SHARE = 0.08  # of the light of white paper
EDGE_PX = 0.25  # edges may lie off their place by so much of a pixel
DEFECT_LEAST_MM2 = 0.05  # a bubble of a quarter of a millimetre


@dataclass
class Window:
    """Share scattered by more than 2.5 degrees, amplitude kept of each group of bars, change of b*, spots."""

    hazeIndex: float
    kept: dict[str, float]
    deltaB: float
    defects: int


def bounds(target: Layout) -> Array:
    """x0, y0, x1, y1 around bars and patches, mm on the card."""
    rects = [*(target[group]["areaMm"] for group in ("fine", "medium", "across")), target["whiteMm"], target["blackMm"]]
    low, high = (pick([[r[f"x{k}"], r[f"y{k}"]] for r in rects], axis=0) for k, pick in ((0, np.min), (1, np.max)))
    return np.concatenate([low - MARGIN_MM, high + MARGIN_MM])


def inner(rect: Layout, margin: float) -> tuple[float, float, float, float]:
    return rect["x0"] + margin, rect["y0"] + margin, rect["x1"] - margin, rect["y1"] - margin


def halved(picture: Array) -> Array:
    rows, columns = (2 * (size // 2) for size in picture.shape)
    return transform.downscale_local_mean(picture[:rows, :columns], (2, 2))


def read_window(card: Card, slot: Layout) -> Window:
    px_per_mm, target = card.px_per_mm / 2, slot["windowTarget"]
    bare, seen, shift = pictures(card, slot, px_per_mm)
    scattered_share, light, expected = fit_target(bare, seen, px_per_mm)
    radius_mm = DISTANCE_MM * np.tan(np.radians(HAZE_ANGLE_DEG))
    return Window(
        hazeIndex=float(scattered_share / (1 + (radius_mm / SCATTER_MM) ** 2)),
        kept=kept_amplitudes(bare, seen / light, target, px_per_mm),
        deltaB=delta_b(card, target, slot["bareTarget"], shift),
        defects=count_defects(seen / light, expected / light, px_per_mm),
    )


def pictures(card: Card, slot: Layout, px_per_mm: float) -> tuple[Array, Array, Array]:
    """The bare target and the one behind the window, in light of bare paper; how far the latter seems moved, mm."""
    bare_target, target = slot["bareTarget"], slot["windowTarget"]
    white = card.straighten(*inner(bare_target["whiteMm"], 0.3)).mean()
    bare = halved(card.straighten(*bounds(bare_target))) / white
    blacken(bare, target, px_per_mm)
    # The plate shows the paper nearer than it is, so a little beside its place.
    seen = halved(card.straighten(*bounds(target)))
    moved = registration.phase_cross_correlation(seen, bare, upsample_factor=20, normalization=None)[0]
    down, right = moved / px_per_mm
    shift = np.array([right, -down])
    return bare, halved(card.straighten(*(bounds(target) + np.tile(shift, 2)))) / white, shift


def blacken(bare: Array, target: Layout, px_per_mm: float) -> None:
    """Gives the bare target the black around its black patch that the one behind the window has, its edges as blurred."""
    x0, _, _, y1 = bounds(target)
    black = target["blackMm"]
    left, right = np.round((np.array([black["x0"], black["x1"]]) - x0 - EDGE_MM) * px_per_mm).astype(int)
    top, bottom = np.round((y1 - np.array([black["y1"], black["y0"]]) - EDGE_MM) * px_per_mm).astype(int)
    within = bare[top:bottom, left + 2 * int(EDGE_MM * px_per_mm) : right].mean(1)
    bare[top:bottom, right:] = within[:, None]
    bare[bottom:, left:] = bare[bottom - 1, left:]


def fit_target(bare: Array, seen: Array, px_per_mm: float) -> tuple[float, Array, Array]:
    """Scattered share, light on the target, and the picture that was to be seen.

    Levels by linear least squares inside a search for the surface's blur across and along the build.
    """
    v, u = (axis - 0.5 for axis in np.meshgrid(*(np.linspace(0, 1, size) for size in bare.shape), indexing="ij"))
    uneven = np.stack([u, v, u * u - 1 / 12, v * v - 1 / 12, u * v])
    far = scatter(bare, SCATTER_MM * px_per_mm)

    def levels(blur_mm: Array) -> tuple[Array, Array]:
        near = gaussian_filter(bare, blur_mm[::-1] * px_per_mm, mode="nearest")
        parts = np.stack([near, far, np.ones_like(bare), *(near * uneven)]).reshape(8, -1)
        return parts, np.linalg.solve(parts @ parts.T, parts @ seen.ravel())

    def residual(blur_mm: Array) -> Array:
        parts, c = levels(blur_mm)
        return c @ parts - seen.ravel()

    found = least_squares(residual, START_MM, bounds=((0, 0), MOST_MM), x_scale=START_MM, ftol=1e-5, xtol=1e-2)
    parts, c = levels(found.x)
    light = c[0] + c[1] + np.tensordot(c[3:], uneven, 1)
    return float(c[1] / (c[0] + c[1])), light, (c @ parts).reshape(bare.shape)


def scatter(picture: Array, half_px: float) -> Array:
    """The picture in light that rough facets scatter, half of it within a radius: density a^2 / (pi (a^2 + r^2)^2).

    B. Walter et al., Microfacet Models for Refraction through Rough Surfaces (2007), eq. 33; its transform is k a K1(k a).
    """
    rows, columns = (fft.next_fast_len(2 * size, real=True) for size in picture.shape)
    padded = np.pad(picture, ((0, rows - picture.shape[0]), (0, columns - picture.shape[1])), constant_values=1)
    ky, kx = fft.fftfreq(rows)[:, None], fft.rfftfreq(columns)
    ka = np.maximum(2 * np.pi * np.hypot(ky, kx) * half_px, 1e-9)
    blurred = fft.irfft2(fft.rfft2(padded) * ka * k1(ka), padded.shape)
    return blurred[: picture.shape[0], : picture.shape[1]]


def kept_amplitudes(bare: Array, seen: Array, target: Layout, px_per_mm: float) -> dict[str, float]:
    """Fundamental of the bars through the window over that of the bare ones, each pitch."""
    box, kept = bounds(target), {}
    for group, axis in (("fine", 0), ("medium", 0), ("across", 1)):
        x0, y0, x1, y1 = (target[group]["areaMm"][side] for side in ("x0", "y0", "x1", "y1"))
        pitch = target[group]["pitchMm"]
        if axis == 0:
            y0, y1 = y0 + 0.3, y1 - 0.3
        else:
            x0, x1, y1 = x0 + 0.4, x1 - 0.4, y0 + pitch
        left, right = np.round((np.array([x0, x1]) - box[0]) * px_per_mm).astype(int)
        top, bottom = np.round((box[3] - np.array([y1, y0])) * px_per_mm).astype(int)
        profiles = np.stack([picture[top:bottom, left:right].mean(axis) for picture in (seen, bare)])
        phase = np.exp(-2j * np.pi * np.arange(profiles.shape[1]) / (pitch * px_per_mm))
        through, plain = abs((profiles - profiles.mean(1, keepdims=True)) @ phase)
        kept[group] = float(through / plain)
    return kept


def delta_b(card: Card, target: Layout, bare_target: Layout, shift: Array) -> float:
    """Change of b* that one passage through the resin makes of white; black is subtracted, red stands for no colour."""
    steps = []
    for part, (dx, dy) in ((target, shift), (bare_target, (0, 0))):
        white, black = (
            card.mean_colour(*(np.array(inner(part[patch], 0.3)) + [dx, dy, dx, dy])) for patch in ("whiteMm", "blackMm")
        )
        steps.append(white - black)
    passed = (steps[0] / steps[1]) ** (1 / PASSES)
    passed /= passed[0]
    encoded = np.where(passed <= 0.0031308, 12.92 * passed, 1.055 * passed ** (1 / 2.4) - 0.055)
    return float(color.rgb2lab(encoded[None, None])[0, 0, 2] - color.rgb2lab(np.ones((1, 1, 3)))[0, 0, 2])


def count_defects(seen: Array, expected: Array, px_per_mm: float) -> int:
    """Regions that the blurred target does not explain, its edges a little off their place allowed for."""
    smooth = gaussian_filter(seen - expected, 1)
    noise = 1.4826 * np.median(np.abs(smooth))
    edges = EDGE_PX * morphological_gradient(expected, size=3)
    beyond = np.abs(smooth) > max(DEFECT_NOISE * noise, DEFECT_LEAST_SHARE) + edges
    least_px = DEFECT_LEAST_MM2 * px_per_mm**2
    return sum(bool(region.area >= least_px) for region in measure.regionprops(measure.label(beyond)))
