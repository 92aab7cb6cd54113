"""Where a coupon lies in its slot: matching of a drawn template at several turns."""

import numpy as np
from skimage import feature, transform

from card import Array, Card, Layout

FACE_MAGNIFICATION = 1.02  # the face is 8 mm nearer to a camera some 400 mm away than the card
REACH_MM = 4
TEMPLATE_PX_PER_MM = 5
TURNS_DEG = (-3, -2, -1, 0, 1, 2, 3)


def draw_templates(coupon: Layout) -> list[Array]:
    """The coupon with dark grooves at each turn."""
    scale = TEMPLATE_PX_PER_MM * FACE_MAGNIFICATION
    picture = np.full((round(coupon["sizeMm"]["y"] * scale), round(coupon["sizeMm"]["x"] * scale)), 0.7)
    for prism in coupon["prisms"]:
        if prism["kind"] == "void":
            xs, ys = np.array(prism["polygon"]).T * scale
            rows = slice(len(picture) - round(ys.max()), len(picture) - round(ys.min()))
            picture[rows, round(xs.min()) : round(xs.max())] = 0.03
    return [transform.rotate(picture, turn, mode="edge") for turn in TURNS_DEG]


class Coupon:
    """The coupon of one slot; places are its own millimetres, lower left corner at (0, 0)."""

    def __init__(self, card: Card, slot: Layout, layout: Layout, templates: list[Array]) -> None:
        self.card, self.layout = card, layout
        self.size = np.array([layout["sizeMm"]["x"], layout["sizeMm"]["y"]])
        (x, y), (w, h) = slot["originMm"], self.size
        place = (x - REACH_MM, y - REACH_MM, x + w + REACH_MM, y + h + REACH_MM)
        small = card.straighten(*place, px_per_mm=TEMPLATE_PX_PER_MM)
        scores = [feature.match_template(small, template) for template in templates]
        peaks = np.array([score.max() for score in scores])
        best = int(peaks.argmax())
        row, column = np.unravel_index(scores[best].argmax(), scores[best].shape)
        rows, columns = templates[best].shape
        left, up = (column + columns / 2) / TEMPLATE_PX_PER_MM, (row + rows / 2) / TEMPLATE_PX_PER_MM
        self.middle = np.array([x - REACH_MM + left, y + h + REACH_MM - up])
        self.turn_deg = float(TURNS_DEG[best])
        if 0 < best < len(peaks) - 1:
            before, here, after = peaks[best - 1 : best + 2]
            self.turn_deg += (before - after) / (2 * (before - 2 * here + after))

    def move(self, x_mm: float, y_mm: float) -> None:
        """Moves what is taken for the coupon along its own axes."""
        self.middle = self.middle + self._turned(np.array([x_mm, y_mm]))

    def area(self, x0: float, y0: float, x1: float, y1: float) -> Array:
        """Light of a rectangle of the coupon, straightened, first row on top."""
        at = self.middle + self._turned(np.array([x0 + x1, y0 + y1]) / 2 - self.size / 2)
        half = np.array([x1 - x0, y1 - y0]) / 2 * FACE_MAGNIFICATION
        return self.card.straighten(*(at - half), *(at + half), self.turn_deg)

    def _turned(self, mm: Array) -> Array:
        a = np.radians(self.turn_deg)
        return np.array([[np.cos(a), -np.sin(a)], [np.sin(a), np.cos(a)]]) @ mm * FACE_MAGNIFICATION
