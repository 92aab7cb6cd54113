"""Reads a ladder's photograph with scikit-image and scipy: the peer that the analysis is timed and checked against.

What a competent user writes in a day: whole frame to linear grey and to spline coefficients once, discs by threshold and
labels, pose with distortion by least squares, coupons by template matching, each feature straightened by vectorised
interpolation, each groove's two edges fitted by blurred steps, each window taken for its bare target blurred twice.

Left out, though the analysis does it: the card's code (the layout is given), the camera's tone curve and sharpening,
ink on the lands, turned and mirrored coupons, the caliper, the width of the scatter (taken as known), uncertainty, quality
gates and refusals, the kind of a defect, survival models, and of the fit to a suggestion all but the dose-to-size and the
slope of print-through.

Use: read_photo.py LAYOUT.json. Every line on standard input names a photograph and is answered by one line of JSON:
clock and processor time in ms, and the reading, as tests/peers/peer-reading.ts describes it.
"""

import json
import sys
import time
from typing import Any

from card import Array, Card, Layout
from coupon import Coupon, draw_templates
from features import print_through_um, read_gaps, read_gratings, standing
from trend import against_exposure
from window import read_window


def read_rung(card: Card, slot: Layout, layout: Layout, templates: list[Array]) -> dict[str, Any]:
    """What the photograph shows of one coupon."""
    coupon = Coupon(card, slot, layout, templates)
    gratings = read_gratings(coupon)
    gaps = read_gaps(coupon, gratings)
    sunk_um = print_through_um(layout, gaps)
    return {
        "growthUm": gratings.growth_um,
        "printThroughUm": sunk_um,
        "gapsUm": gaps,
        "survives": standing(coupon, gratings, sunk_um),
        **vars(read_window(card, slot)),
    }


def read_photo(path: str, layout: Layout, templates: list[Array]) -> dict[str, Any]:
    """Every rung, and the two trends."""
    card, slots = Card(path, layout["card"]), layout["card"]["slots"]
    rungs = [read_rung(card, slot, layout["coupon"], templates) for slot in slots]
    exposures_s = [slot["exposureS"] for slot in slots]
    _, size_s = against_exposure(exposures_s, [rung["growthUm"] for rung in rungs])
    depth_um, _ = against_exposure(exposures_s, [rung["printThroughUm"] for rung in rungs])
    return {"rungs": rungs, "doseToSizeS": size_s, "penetrationDepthUm": depth_um}


def main() -> None:
    with open(sys.argv[1], encoding="utf-8") as file:
        layout = json.load(file)
    templates = draw_templates(layout["coupon"])
    print("ready", flush=True)
    for line in sys.stdin:
        wall, cpu = time.perf_counter(), time.process_time()
        reading = read_photo(line.strip(), layout, templates)
        took = {"wallMs": 1000 * (time.perf_counter() - wall), "cpuMs": 1000 * (time.process_time() - cpu)}
        print(json.dumps({**took, "reading": reading}), flush=True)


main()
