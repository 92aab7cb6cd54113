"""Widths of grooves by blurred-edge fits, and what stands or is open of the smallest features."""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import curve_fit
from scipy.special import ndtr

from card import Array, Layout
from coupon import Coupon

SEEN_SHARE = 0.1  # of the step from land to groove: less is nothing there, or noise
WIDE_GAP_MM = 0.3  # in a narrower one darkness and width are not told apart: as if dark throughout
LEAST_OPEN_MM = 0.02  # a narrower one holds no ink that a phone could see


@dataclass
class Gratings:
    """Growth per side; how long the coupon's millimetre looks; light of land and of groove."""

    growth_um: float
    scale: float
    land: float
    groove: float


def bar(x: Array, left: float, right: float, before: float, dark: float, after: float, blur: float) -> Array:
    return before + (dark - before) * ndtr((x - left) / blur) + (after - dark) * ndtr((x - right) / blur)


def fit_bar(position: Array, light: Array, left: float, right: float) -> Array:
    """Left edge, right edge and levels of one dark bar."""
    start = [left, right, light[:3].mean(), light.min(), light[-3:].mean(), 0.05]
    return curve_fit(bar, position, light, start, maxfev=2000)[0]


def places(count: int, start: float, end: float) -> Array:
    return start + (np.arange(count) + 0.5) * (end - start) / count


def slide(position: Array, light: Array, starts: Array, width: float) -> float:
    """How far a row of dark bars lies from where it is expected, mm."""
    shifts = np.arange(-0.35, 0.35, 0.02)
    inside = lambda s: np.add.reduce([(position > a + s) & (position < a + s + width) for a in starts]) > 0
    return shifts[np.argmin([light[inside(s)].mean() for s in shifts])]


def read_gratings(coupon: Coupon) -> Gratings:
    """Fits every groove of both gratings, the pitch as ruler; centres the coupon along x on them."""
    growth, scales, levels, shifts = [], [], [], []
    for g in coupon.layout["gratings"]:
        x0, x1 = g["x0Mm"] - 0.25, g["x0Mm"] + (g["grooves"] - 1) * g["pitchMm"] + g["grooveMm"] + 0.25
        strip = coupon.area(x0, g["y0Mm"] + 0.7, x1, g["y1Mm"] - 0.9)
        position, light = places(strip.shape[1], x0, x1), strip.mean(0)
        nominal = g["x0Mm"] + np.arange(g["grooves"]) * g["pitchMm"]
        starts = nominal + slide(position, light, nominal, g["grooveMm"])
        margin = (g["pitchMm"] - g["grooveMm"]) / 2
        bars = []
        for left in starts:
            near = (position > left - margin) & (position < left + g["grooveMm"] + margin)
            bars.append(fit_bar(position[near], light[near], left, left + g["grooveMm"]))
        bars = np.array(bars)
        centres = bars[:, :2].mean(1)
        scale = np.polyfit(np.arange(g["grooves"]), centres, 1)[0] / g["pitchMm"]
        growth.append((g["grooveMm"] - np.mean(bars[:, 1] - bars[:, 0]) / scale) / 2 * 1000)
        scales.append(scale)
        shifts.append(np.mean(centres - nominal - g["grooveMm"] / 2))
        levels.append((bars[:, [2, 4]].mean(), bars[:, 3].mean()))
    coupon.move(float(np.mean(shifts)), 0)
    land, groove = np.mean(levels, 0)
    return Gratings(float(np.mean(growth)), float(np.mean(scales)), float(land), float(groove))


def read_gaps(coupon: Coupon, gratings: Gratings) -> dict[str, float | None]:
    """Width of each gap along the build, um; None where it has closed."""
    step = gratings.land - gratings.groove
    found: dict[str, float | None] = {}
    for z in coupon.layout["gaps"]:
        y0, y1 = z["y0Mm"] - 0.4, z["y1Mm"] + 0.4
        column = coupon.area(z["x0Mm"] + 0.4, y0, z["x1Mm"] - 0.4, y1).mean(1)[::-1]
        position = places(len(column), y0, y1)
        depth = np.median(np.r_[column[:5], column[-5:]]) - column
        width = depth.sum() * (y1 - y0) / len(column) / step
        if width > WIDE_GAP_MM:
            low, high = position[depth > depth.max() / 2][[0, -1]]
            left, right = fit_bar(position, column, low, high)[:2]
            width = (right - left) / gratings.scale
        found[z["id"]] = float(width * 1000) if width > LEAST_OPEN_MM else None
    return found


def print_through_um(layout: Layout, gaps: dict[str, float | None]) -> float:
    """How far the later-printed side of a gap sank: what is missing of the wide ones."""
    wide = [(z["gapMm"] * 1000, gaps[z["id"]]) for z in layout["gaps"]]
    return float(np.mean([nominal - width for nominal, width in wide if width is not None and width > WIDE_GAP_MM * 1000]))


def standing(coupon: Coupon, gratings: Gratings, sunk_um: float) -> dict[str, bool]:
    """Whether each isolated line stands and each isolated space is open, below what print-through has filled."""
    step = gratings.land - gratings.groove
    found = {}
    for f in coupon.layout["isolated"]:
        y1 = f["y1Mm"] - sunk_um / 1000 - 0.3
        profile = coupon.area(f["x0Mm"] - 0.25, f["y0Mm"] + 0.3, f["x1Mm"] + 0.25, y1).mean(0)
        rise = profile - np.median(np.r_[profile[:3], profile[-3:]])
        found[f["id"]] = bool((rise.max() if f["kind"] == "line" else -rise.min()) > SEEN_SHARE * step)
    return found
