#!/usr/bin/python3
"""Scenes for the photo lab from the program's layouts:  make_scenes.py LAB OUT [--quick] [SCENE...]

LAB is the photo lab's folder, OUT the folder that write-layouts.ts wrote to. Writes, for the scenes named or
all of ladders.json, OUT/SCENE/scene.json, its coupons as meshes, and rungs.json, the truth. --quick: a quarter of the resolution."""
import copy
import json
import math
import os
import sys

import numpy as np

from ladder_truth import gap_truth, isolated_truth, ladder_truth, rung_truth

HERE = os.path.dirname(os.path.abspath(__file__))
FRAME_PX = (4032, 3024)
FRAME_BORDER = 0.025
# Paper floats a little above the table, coupons above the paper, as printed things do.
COUPON_Z_MM, TABLE_Z_MM = 0.03, -0.3
# Its shadow and the strip in which its near wall mirrors the gratings want the samples of a coupon too.
REGION_MARGIN_MM = 1.2
CARD_SPP, COUPON_SPP = 8, 16


def mirrored(coupon):
    """The coupon as a mirrored mask would print it."""
    twin = copy.deepcopy(coupon)
    for prism in twin["prisms"]:
        prism["polygon"] = [[coupon["sizeMm"]["x"] - x, y] for x, y in prism["polygon"]][::-1]
    return twin


def project(camera, points):
    """Undistorted pixels of world points, mm; centre of the top left pixel is (0, 0)."""
    tilt, azimuth, roll = (math.radians(camera[k]) for k in ("tilt_deg", "azimuth_deg", "roll_deg"))
    back = np.array([math.sin(tilt) * math.cos(azimuth), math.sin(tilt) * math.sin(azimuth), math.cos(tilt)])
    centre = np.array(camera["target_mm"], float) + camera["distance_mm"] * back
    x = np.cross([0, 1.0, 0], back)
    x /= np.linalg.norm(x)
    y = np.cross(back, x)
    x, y = x * math.cos(roll) + y * math.sin(roll), -x * math.sin(roll) + y * math.cos(roll)
    width, height = camera["resolution"]
    focal = camera["focal_mm"] / camera["sensor_width_mm"] * width
    d = np.asarray(points, float) - centre
    depth = -(d @ back)
    return np.stack([(d @ x) / depth * focal + (width - 1) / 2, -(d @ y) / depth * focal + (height - 1) / 2], 1)


def focal_that_frames(camera, size):
    """Longest lens, to 0.01 mm, with which the whole card keeps its border in the frame."""
    corners = [[sx * size["x"] / 2, sy * size["y"] / 2, 0] for sx in (-1, 1) for sy in (-1, 1)]
    width, height = camera["resolution"]
    border = FRAME_BORDER * width

    def fits(focal):
        p = project({**camera, "focal_mm": focal}, corners)
        return (p.min(0) > border).all() and (p.max(0) < [width - border, height - border]).all()

    return max(f / 100 for f in range(200, 4000) if fits(f / 100))


def complement(frame, boxes):
    """Rectangles that fill the frame around the boxes, which must not overlap."""
    width, height = frame
    edges = sorted({0, height, *(y for b in boxes for y in (b[1], b[3]))})
    out = []
    for y0, y1 in zip(edges, edges[1:]):
        taken = sorted((b[0], b[2]) for b in boxes if b[1] < y1 and b[3] > y0)
        cuts = [0, *(x for pair in taken for x in pair), width]
        out += [[x0, y0, x1, y1] for x0, x1 in zip(cuts[::2], cuts[1::2]) if x1 > x0]
    return out


def slot_boxes(camera, corners_by_slot, quick):
    """Pixel boxes of the coupons; those of one row share their height, so that few rectangles fill the rest."""
    boxes = []
    for corners in corners_by_slot:
        p = project(camera, corners)
        boxes.append([*np.floor(p.min(0)).astype(int).tolist(), *np.ceil(p.max(0)).astype(int).tolist()])
    for b in boxes:
        row = [o for o in boxes if abs((o[1] + o[3]) - (b[1] + b[3])) < (100 if quick else 400)]
        b[1], b[3] = min(o[1] for o in row), max(o[3] for o in row)
    return boxes


def glare(camera, light, points):
    """Whether a flat top at any of the points mirrors a softbox into the lens."""
    tilt, azimuth = math.radians(camera["tilt_deg"]), math.radians(camera["azimuth_deg"])
    back = np.array([math.sin(tilt) * math.cos(azimuth), math.sin(tilt) * math.sin(azimuth), math.cos(tilt)])
    eye = np.array(camera["target_mm"], float) + camera["distance_mm"] * back
    for box in light.get("softboxes", []):
        position = np.array(box["position"], float)
        n = np.array(box["target"], float) - position
        n /= np.linalg.norm(n)
        right = np.cross([0, 0, 1.0], n)
        right /= np.linalg.norm(right)
        up = np.cross(n, right)
        for p in points:
            ray = (np.asarray(p) - eye) * [1, 1, -1]
            s = ((position - p) @ n) / (ray @ n)
            hit = p + s * ray - position
            if s > 0 and abs(hit @ right) < box["size_mm"][0] / 2 and abs(hit @ up) < box["size_mm"][1] / 2:
                return True
    return False


def lay_down(rng, scene, slot, size, state):
    """Position and angle of a coupon laid by hand: offset of its centre from its place, turned about its centre."""
    dx, dy = rng.uniform(-scene["carelessMm"], scene["carelessMm"], 2)
    angle = rng.uniform(-scene["carelessDeg"], scene["carelessDeg"]) + (180 if state == "turned" else 0)
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    rotation = np.array([[c, -s], [s, c]])
    half = np.array([size["x"], size["y"]]) / 2
    centre = np.array(slot["originMm"]) + half + [dx, dy]
    corners = [centre + rotation @ (half * k + np.sign(k) * REGION_MARGIN_MM) for k in ([-1, -1], [1, -1], [1, 1], [-1, 1])]
    pose = {"x": round(float(dx), 4), "y": round(float(dy), 4), "rotationDeg": round(float(angle), 4)}
    return pose, (centre - rotation @ half).tolist(), [[*q, z] for q in corners for z in (0, size["z"])]


def coupon_material(ladder, rung, state):
    face_haze = 1 - math.sqrt(1 - rung["haze"])
    ink = {"wash": "groove", "roller": "land"}[ladder["ink"]["method"]]
    return {
        **ladder["material"],
        "layer_mm": ladder["design"]["layerHeightUm"] / 1000,
        "absorption": rung["absorptionPerMm"],
        "window_haze": rung["haze"],
        "top_haze": face_haze,
        "ink": "none" if state == "not-inked" else ink,
        "ink_wrap": ink == "land",
    }


def make_scene(out, name, scene, ladder, quick):
    import coupon_gen

    layout = json.load(open(os.path.join(out, scene["ladder"], "layout.json")))
    folder = os.path.join(out, name)
    os.makedirs(folder, exist_ok=True)
    camera = {**scene["camera"], "resolution": [n // (4 if quick else 1) for n in FRAME_PX]}
    camera["focus_mm"] = camera["distance_mm"] - 5
    camera["focal_mm"] = focal_that_frames(camera, layout["card"]["sizeMm"])
    rng = np.random.default_rng(scene["seed"])
    coupons, rungs, corners, size, ink = [], [], [], layout["coupon"]["sizeMm"], ladder["ink"]
    for i, slot in enumerate(layout["card"]["slots"]):
        state = ladder.get("states", ["good"] * 8)[i]
        truth = rung_truth(ladder, slot["exposureS"])
        pose, position, around = lay_down(rng, scene, slot, size, state)
        if state == "empty":
            rungs.append({"slot": slot["slot"], "exposureS": slot["exposureS"], "state": state})
            continue
        grown = {"gx": truth["growthUm"] / 1000, "p": truth["printThroughUm"] / 1000}
        rim = {"fillet": ink["rimMm"], "recess": ink["recessMm"]}
        prisms = mirrored(layout["coupon"]) if state == "mirrored" else layout["coupon"]
        mesh, features = coupon_gen.build(prisms, **grown, **rim)
        coupon_gen.write_obj(mesh, os.path.join(folder, f"slot{slot['slot']}.obj"))
        coupons.append(
            {
                "mesh": f"slot{slot['slot']}.obj",
                "position": [*position, COUPON_Z_MM],
                "rotation_deg": pose["rotationDeg"],
                "material": coupon_material(ladder, truth, state),
            }
        )
        corners.append(around)
        # A mirrored comb of lines runs the other way; widths are those of the upright coupon.
        _, upright = (mesh, features) if state != "mirrored" else coupon_gen.build(layout["coupon"], **grown, **rim)
        isolated = isolated_truth(layout, upright)
        alive = lambda kind: [f["nominalUm"] for f in isolated if f["id"].startswith(kind) and f["trueUm"]]
        rungs.append(
            {
                "slot": slot["slot"],
                **truth,
                "state": state,
                "smallestLineUm": min(alive("line"), default=None),
                "smallestSpaceUm": min(alive("space"), default=None),
                "isolated": isolated,
                "gaps": gap_truth(layout, upright),
                "poseMm": pose,
            }
        )
    if glare(camera, scene["light"], [p for c in corners for p in np.array(c)]):
        print(name, "NOTE: a flat top mirrors a softbox")
    boxes = slot_boxes(camera, corners, quick)
    regions = [{"name": f"card{i}", "px": b, "samples": CARD_SPP} for i, b in enumerate(complement(camera["resolution"], boxes))]
    regions += [{"name": f"coupon{i}", "px": b, "samples": COUPON_SPP} for i, b in enumerate(boxes)]
    card = layout["card"]["sizeMm"]
    spec = {
        "card": {"png": f"../{scene['ladder']}/card.png", "size_mm": [card["x"], card["y"]]},
        "coupons": coupons,
        "camera": camera,
        "light": scene["light"],
        "phone": {},
        "table": {"rgb": scene["table_rgb"], "size_mm": [1200, 1200], "z": TABLE_Z_MM},
        "render": {"samples": CARD_SPP, "clamp": 20, "seed": scene["seed"], "regions": regions},
    }
    json.dump(spec, open(os.path.join(folder, "scene.json"), "w"), indent=1)
    truth = {
        "design": ladder["design"],
        "ladder": ladder_truth(ladder),
        "rungs": rungs,
        # Rolled ink has no recess; the generator needs one above the rim to tell rims from groove walls.
        "ink": {
            "method": ink["method"],
            "rimUm": ink["rimMm"] * 1000,
            "recessUm": ink["recessMm"] * 1000 if ink["method"] == "wash" else None,
        },
        "resin": {"ior": ladder["material"]["ior"], "reliefUm": ladder["material"]["relief_um"]},
    }
    json.dump(truth, open(os.path.join(folder, "rungs.json"), "w"), indent=1)
    scale = 1000 * camera["distance_mm"] * camera["sensor_width_mm"] / camera["focal_mm"] / camera["resolution"][0]
    print(name, f"focal {camera['focal_mm']} mm, {scale:.1f} um/px,", len(regions), "regions")


if __name__ == "__main__":
    lab, out, *names = [a for a in sys.argv[1:] if a != "--quick"]
    sys.path.insert(0, lab)
    quick = "--quick" in sys.argv
    spec = json.load(open(os.path.join(HERE, "ladders.json")))
    for name in names or spec["scenes"]:
        scene = spec["scenes"][name]
        make_scene(out, f"{name}.quick" if quick else name, scene, spec["ladders"][scene["ladder"]], quick)
