#!/usr/bin/python3
"""Scenes of single windows of known haze for the photo lab:  make_windows.py LAB OUT [SCENE...]

OUT is the folder that write-layouts.ts wrote to. Writes OUT/windows.json, of which render.py makes crops: each window
over its target, and the bare copy beside it. Of the scenes named, or of all; a scene that make_scenes.py made is named as
there, and gives the windows of its coupons with all that these have."""
import json
import os
import sys

from make_scenes import focal_that_frames

BASE = {
    "ior": 1.51, "rough_side": 0.1, "rough_top": 0.02, "rough_bottom": 0.02, "pigment_rgb": 0.03, "ink": "groove",
    "relief_um": 0.3, "layer_mm": 0.05, "relief_shape": "scallop", "absorption": [0.004, 0.006, 0.022],
}  # fmt: skip


def box(position, size, radiance, rgb=(1, 1, 1)):
    return {"position": position, "target": [0, 0, 0], "size_mm": [size, size], "radiance": radiance, "rgb": list(rgb)}


def camera(distance, tilt, azimuth, roll, f_number):
    return {"distance_mm": distance, "tilt_deg": tilt, "azimuth_deg": azimuth, "roll_deg": roll, "f_number": f_number,
            "sensor_width_mm": 5.6, "target_mm": [1, -1, 0], "resolution": [4032, 3024], "focus_mm": distance - 5}  # fmt: skip


LEFT = {"sky": {"strength": 0.9, "horizon_ratio": 0.6}, "softboxes": [box([-700, 350, 480], 900, 1.6)]}
SKY = {"sky": {"strength": 1.0, "horizon_ratio": 0.45}}
WARM = {"sky": {"strength": 0.7, "rgb": [1, 0.86, 0.68], "horizon_ratio": 0.7}, "softboxes": [box([850, -300, 560], 1200, 1.4, (1, 0.8, 0.56))]}
BACK = {"sky": {"strength": 0.7, "horizon_ratio": 0.7}, "softboxes": [box([200, 1000, 600], 1300, 1.5)]}
FRONT, LEVEL, NEAR = camera(400, 4, 250, 0.8, 4.0), camera(420, 1, 35, 2.4, 4.0), camera(300, 7, 160, -0.6, 2.8)


def rough(r, haze=0.0):
    return {"window_haze": haze, "window_rough_top": r, "window_rough_bottom": r}


# Two bottles, about 1.5 points of haze apart.
PAIR = {2: {"window_haze": 0.08}, 5: {"window_haze": 0.0972}}
FIVE_TINTS = [[0.002, 0.003, 0.008], [0.003, 0.006, 0.02], [0.004, 0.01, 0.04], [0.006, 0.016, 0.07], [0.01, 0.025, 0.11]]

# Scene: light, camera, and what differs from BASE by slot.
SCENES = {
    "haze": (LEFT, FRONT, {i + 1: {"window_haze": h} for i, h in enumerate([0, 0.03, 0.08, 0.15, 0.22, 0.3])}),
    "narrow": (SKY, FRONT, {**{i + 1: rough(r) for i, r in enumerate([0.0, 0.04, 0.06, 0.08, 0.11])}, 6: rough(0.06, 0.1)}),
    "lobes": (LEFT, FRONT, {1: {"window_haze": 0.15, "haze_roughness": 0.3}, 6: {"window_haze": 0.25, "haze_roughness": 0.35}}),
    "tints": (WARM, LEVEL, {i: {"window_haze": 0.05, "absorption": a} for i, a in ((1, [0.002, 0.003, 0.008]), (3, [0.004, 0.01, 0.04]), (5, [0.01, 0.025, 0.11]))}),
    "relief": (BACK, LEVEL, {3: {"window_haze": 0.1, "relief_um": 1.0}, 5: {"window_haze": 0.1, "relief_um": 3.0}}),
    "warm": (WARM, NEAR, {2: {"window_haze": 0.08}, 4: {"window_haze": 0.03}, 5: {"window_haze": 0.15}}),
    "pair-left": (LEFT, FRONT, PAIR),
    "pair-sky": (SKY, NEAR, PAIR),
    "pair-back": (BACK, LEVEL, PAIR),
    "pair-warm": (WARM, LEVEL, PAIR),
    "pair-cloud": (SKY, FRONT, PAIR),
    # The seed follows from the name.
    **{f"pair-left-{n}": (LEFT, FRONT, PAIR) for n in ("again", "third")},
    "pair-sky-again": (SKY, NEAR, {2: PAIR[2]}),
    **{f"pair-back-{n}": (BACK, LEVEL, PAIR) for n in ("again", "third")},
    "pair-warm-again": (WARM, LEVEL, PAIR),
    "pair-cloud-again": (SKY, FRONT, PAIR),
    "five-tints": (SKY, FRONT, {i + 1: {"window_haze": 0.05, "absorption": a} for i, a in enumerate(FIVE_TINTS)}),
}
# Of the crop through the window, of the bare one: what is compared to a tenth of a point needs twice the light.
SAMPLES = {name: (128, 64) if name.startswith("pair") else (64, 40) for name in SCENES}


def around(target, margin):
    areas = [target["fine"]["areaMm"], target["medium"]["areaMm"], target["across"]["areaMm"], target["whiteMm"], target["blackMm"]]
    low = [min(a[k] for a in areas) - margin for k in ("x0", "y0")]
    return low + [max(a[k] for a in areas) + margin for k in ("x1", "y1")]


def crops(slots, through, bare):
    """Regions of each window and its bare copy. Seen through 3 mm of resin the paper seems raised by 1 mm."""
    return [
        region
        for s in slots
        for region in (
            {"name": f"w{s['slot']}", "world_mm": around(s["windowTarget"], 1.15), "z": 1.0, "samples": through},
            {"name": f"b{s['slot']}", "world_mm": around(s["bareTarget"], 0.8), "z": 0, "samples": bare},
        )
    ]


def windows_of_frame(out, name):
    """A whole scene, of which the windows alone are rendered."""
    scene = json.load(open(os.path.join(out, name, "scene.json")))
    from_out = lambda path: os.path.normpath(os.path.join(name, path))
    layout = json.load(open(os.path.join(out, os.path.dirname(from_out(scene["card"]["png"])), "layout.json")))
    for coupon in scene["coupons"]:
        coupon["mesh"] = from_out(coupon["mesh"])
    scene["card"]["png"] = from_out(scene["card"]["png"])
    scene["render"] = {**scene["render"], "samples": 64, "threads": 1, "regions": crops(layout["card"]["slots"], 64, 40)}
    return {"out": f"{name}-windows/shot", **scene}


if __name__ == "__main__":
    lab, out, *named = sys.argv[1:]
    sys.path.insert(0, lab)
    import coupon_gen

    layout = json.load(open(os.path.join(out, "demo/layout.json")))
    card = layout["card"]["sizeMm"]
    mesh, _ = coupon_gen.build(layout["coupon"], gx=0.0, p=0.3, fillet=0.025, recess=0.04)
    coupon_gen.write_obj(mesh, os.path.join(out, "window-coupon.obj"))
    scenes = []
    for name in named or SCENES:
        if name not in SCENES:
            scenes.append(windows_of_frame(out, name))
            continue
        light, view, windows = SCENES[name]
        slots = [s for s in layout["card"]["slots"] if s["slot"] in windows]
        # Every slot holds a coupon: neighbours shade each other.
        coupons = [
            {"mesh": "window-coupon.obj", "position": [*s["originMm"], 0.03], "material": {**BASE, **windows.get(s["slot"], {})}}
            for s in layout["card"]["slots"]
        ]
        scenes.append({
            "out": f"{name}/shot",
            "card": {"png": "demo/card.png", "size_mm": [card["x"], card["y"]]},
            "coupons": coupons,
            "camera": {**view, "focal_mm": focal_that_frames(view, card)},
            "light": light,
            "phone": {},
            "table": {"rgb": [0.3, 0.22, 0.15], "size_mm": [1200, 1200], "z": -0.3},
            "render": {"samples": 64, "clamp": 20, "seed": sum(map(ord, name)), "threads": 1, "regions": crops(slots, *SAMPLES[name])},
        })  # fmt: skip
    json.dump({"skip_existing": True, "scenes": scenes}, open(os.path.join(out, "windows.json"), "w"))
