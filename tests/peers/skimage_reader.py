"""Measures a ladder's photograph with scikit-image and scipy: the peer that the analysis is timed against.

What a competent user writes in an hour: whole frame to linear grey and to spline coefficients once, discs by threshold
and labels, pose with distortion by least squares, coupons by template matching, each feature rectified by vectorised
interpolation, each groove's two edges fitted by blurred steps.

Left out, though the analysis does it: the card's code (the layout is given), the camera's tone curve and sharpening,
ink on the lands, turned and mirrored coupons, uncertainty, refusals, and the fit to a suggestion.

Use: skimage_reader.py LAYOUT.json PHOTO. Every line on standard input measures the photograph once more and prints one
line of JSON: clock and processor time in ms, and growth per side in um for each slot.
"""

import json
import sys
import time

import numpy as np
from scipy.ndimage import map_coordinates, spline_filter
from scipy.optimize import curve_fit, least_squares
from scipy.special import ndtr
from skimage import color, feature, filters, io, measure, transform

FACE_MAGNIFICATION = 1.02  # the face is 8 mm nearer to a camera some 400 mm away than the card
REACH_MM = 4
TEMPLATE_PX_PER_MM = 5
TURNS_DEG = (-3, -2, -1, 0, 1, 2, 3)


def linear_grey(path):
    encoded = color.rgb2gray(io.imread(path))
    return np.where(encoded <= 0.04045, encoded / 12.92, ((encoded + 0.055) / 1.055) ** 2.4)


def find_discs(grey):
    regions = measure.regionprops(measure.label(grey < filters.threshold_otsu(grey)))
    width = grey.shape[1]
    return np.array(
        [
            r.centroid[::-1]
            for r in regions
            if (width / 80) ** 2 / 2 < r.area < (width / 20) ** 2 and r.eccentricity < 0.5 and r.solidity > 0.95
        ]
    )


def solve_pose(found, card):
    """Card mm to pixels: homography and one term of radial distortion."""
    marks = np.array([(f["xMm"], -f["yMm"]) for f in card["fiducials"]])
    corners = lambda p: p[[np.argmin(p.sum(1)), np.argmax(p[:, 0] - p[:, 1]), np.argmax(p.sum(1)), np.argmin(p[:, 0] - p[:, 1])]]
    rough = transform.ProjectiveTransform()
    rough.estimate(corners(marks), corners(found))
    distance = np.linalg.norm(rough(marks)[:, None] - found[None], axis=2)
    near = distance.min(1) < 40
    source, target = marks[near], found[distance.argmin(1)[near]]
    return source, target, rough


def fit_pose(source, target, rough, shape):
    centre, half = np.array(shape[::-1]) / 2, np.hypot(*shape) / 2

    def project(parameters, points):
        h = np.append(parameters[:8], 1).reshape(3, 3)
        flat = np.column_stack([points, np.ones(len(points))]) @ h.T
        away = flat[:, :2] / flat[:, 2:] - centre
        return centre + away * (1 + parameters[8] * (away**2).sum(1, keepdims=True) / half**2)

    start = np.append((rough.params / rough.params[2, 2]).ravel()[:8], 0)
    fit = least_squares(lambda p: (project(p, source) - target).ravel(), start, x_scale=np.maximum(abs(start), 1e-6))
    return lambda points: project(fit.x, np.asarray(points))


def rectify(spline, to_px, x0, y0, x1, y1, px_per_mm, turn_deg=0.0):
    """The rectangle of the card seen straight from above, first row on top, turned about its middle."""
    rows, columns = round((y1 - y0) * px_per_mm), round((x1 - x0) * px_per_mm)
    v, u = np.mgrid[0:rows, 0:columns]
    dx, dy = (u + 0.5) / px_per_mm - (x1 - x0) / 2, (y1 - y0) / 2 - (v + 0.5) / px_per_mm
    a = np.radians(turn_deg)
    x = (x0 + x1) / 2 + dx * np.cos(a) - dy * np.sin(a)
    y = (y0 + y1) / 2 + dx * np.sin(a) + dy * np.cos(a)
    place = to_px(np.column_stack([x.ravel(), -y.ravel()]))
    seen = map_coordinates(spline, place[:, ::-1].T, order=3, mode="nearest", prefilter=False)
    return seen.reshape(rows, columns)


def draw_templates(coupon):
    scale = TEMPLATE_PX_PER_MM * FACE_MAGNIFICATION
    picture = np.full((round(coupon["sizeMm"]["y"] * scale), round(coupon["sizeMm"]["x"] * scale)), 0.7)
    for prism in coupon["prisms"]:
        if prism["kind"] == "void":
            xs, ys = np.array(prism["polygon"]).T * scale
            rows = slice(len(picture) - round(ys.max()), len(picture) - round(ys.min()))
            picture[rows, round(xs.min()) : round(xs.max())] = 0.03
    return [transform.rotate(picture, turn, mode="edge") for turn in TURNS_DEG]


def find_coupon(spline, to_px, slot, coupon, templates):
    """Middle of the coupon on the card, mm, and its turn, degrees."""
    x, y = slot["originMm"]
    w, h = coupon["sizeMm"]["x"], coupon["sizeMm"]["y"]
    small = rectify(spline, to_px, x - REACH_MM, y - REACH_MM, x + w + REACH_MM, y + h + REACH_MM, TEMPLATE_PX_PER_MM)
    scores = [feature.match_template(small, template) for template in templates]
    peaks = np.array([score.max() for score in scores])
    best = int(peaks.argmax())
    row, column = np.unravel_index(scores[best].argmax(), scores[best].shape)
    left, up = column + templates[best].shape[1] / 2, row + templates[best].shape[0] / 2
    turn = TURNS_DEG[best]
    if 0 < best < len(peaks) - 1:
        before, here, after = peaks[best - 1 : best + 2]
        turn += (before - after) / (2 * (before - 2 * here + after))
    return x - REACH_MM + left / TEMPLATE_PX_PER_MM, y + h + REACH_MM - up / TEMPLATE_PX_PER_MM, turn


def bar(x, left, right, before, dark, after, blur):
    return before + (dark - before) * ndtr((x - left) / blur) + (after - dark) * ndtr((x - right) / blur)


def fit_bar(position, light, left, right):
    """Both edges of one dark bar."""
    start = [left, right, light[:3].mean(), light.min(), light[-3:].mean(), 0.05]
    return curve_fit(bar, position, light, start, maxfev=2000)[0][:2]


def slide(position, light, starts, width):
    """How far a row of dark bars lies from where it is expected."""
    shifts = np.arange(-0.35, 0.35, 0.02)
    inside = lambda s: np.add.reduce([(position > a + s) & (position < a + s + width) for a in starts]) > 0
    return shifts[np.argmin([light[inside(s)].mean() for s in shifts])]


def measure_coupon(spline, to_px, px_per_mm, slot, coupon, templates):
    middle_x, middle_y, turn = find_coupon(spline, to_px, slot, coupon, templates)
    turn_rad = np.radians(turn)

    def area(x0, y0, x1, y1):
        """A rectangle of the coupon, straightened; x and y are the coupon's own millimetres."""
        u = ((x0 + x1) / 2 - coupon["sizeMm"]["x"] / 2) * FACE_MAGNIFICATION
        v = ((y0 + y1) / 2 - coupon["sizeMm"]["y"] / 2) * FACE_MAGNIFICATION
        cx = middle_x + u * np.cos(turn_rad) - v * np.sin(turn_rad)
        cy = middle_y + u * np.sin(turn_rad) + v * np.cos(turn_rad)
        hx, hy = (x1 - x0) / 2 * FACE_MAGNIFICATION, (y1 - y0) / 2 * FACE_MAGNIFICATION
        return rectify(spline, to_px, cx - hx, cy - hy, cx + hx, cy + hy, px_per_mm, turn)

    growth = []
    for g in coupon["gratings"]:
        x0, x1 = g["x0Mm"] - 0.25, g["x0Mm"] + (g["grooves"] - 1) * g["pitchMm"] + g["grooveMm"] + 0.25
        strip = area(x0, g["y0Mm"] + 0.7, x1, g["y1Mm"] - 0.9)
        position = x0 + (np.arange(strip.shape[1]) + 0.5) * (x1 - x0) / strip.shape[1]
        starts = g["x0Mm"] + np.arange(g["grooves"]) * g["pitchMm"]
        light = strip.mean(0)
        starts = starts + slide(position, light, starts, g["grooveMm"])
        margin = (g["pitchMm"] - g["grooveMm"]) / 2
        edges = []
        for left in starts:
            near = (position > left - margin) & (position < left + g["grooveMm"] + margin)
            edges.append(fit_bar(position[near], light[near], left, left + g["grooveMm"]))
        edges = np.array(edges)
        pitch = np.polyfit(np.arange(g["grooves"]), edges.mean(1), 1)[0]
        groove = np.mean(edges[:, 1] - edges[:, 0]) * g["pitchMm"] / pitch
        growth.append((g["grooveMm"] - groove) / 2 * 1000)
    gaps = []
    for z in coupon["gaps"]:
        y0, y1 = z["y0Mm"] - 0.4, z["y1Mm"] + 0.4
        column = area(z["x0Mm"] + 0.4, y0, z["x1Mm"] - 0.4, y1).mean(1)[::-1]
        dark = column < (column.max() + column.min()) / 2
        if dark.sum() > 4:
            position = y0 + (np.arange(len(column)) + 0.5) * (y1 - y0) / len(column)
            low, high = position[dark][[0, -1]]
            gaps.append(np.diff(fit_bar(position, column, low, high))[0])
    stand = [np.ptp(area(f["x0Mm"] - 0.2, f["y0Mm"] + 0.5, f["x1Mm"] + 0.2, f["y1Mm"] - 0.9).mean(0)) > 0.1 for f in coupon["isolated"]]
    contrast = []
    for target in (slot["windowTarget"], slot["bareTarget"]):
        a = target["fine"]["areaMm"]
        profile = rectify(spline, to_px, a["x0"], a["y0"] + 0.3, a["x1"], a["y1"] - 0.3, px_per_mm).mean(0)
        contrast.append(np.abs(np.fft.rfft(profile))[target["fine"]["periods"]] / profile.sum())
    return {"growthUm": np.mean(growth), "gapsMm": gaps, "stand": stand, "haze": 1 - contrast[0] / contrast[1]}


def measure_photo(path, layout, templates):
    grey = linear_grey(path)
    source, target, rough = solve_pose(find_discs(grey), layout["card"])
    to_px = fit_pose(source, target, rough, grey.shape)
    spline = spline_filter(grey, order=3)
    px_per_mm = np.linalg.norm(to_px([(10, 0)]) - to_px([(0, 0)])) / 10
    return [measure_coupon(spline, to_px, px_per_mm, slot, layout["coupon"], templates) for slot in layout["card"]["slots"]]


def main():
    with open(sys.argv[1], encoding="utf-8") as file:
        layout = json.load(file)
    templates = draw_templates(layout["coupon"])
    print("ready", flush=True)
    for _ in sys.stdin:
        wall, cpu = time.perf_counter(), time.process_time()
        rungs = measure_photo(sys.argv[2], layout, templates)
        took = {"wallMs": 1000 * (time.perf_counter() - wall), "cpuMs": 1000 * (time.process_time() - cpu)}
        print(json.dumps({**took, "growthUm": [rung["growthUm"] for rung in rungs]}), flush=True)


main()
