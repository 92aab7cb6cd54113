#!/usr/bin/python3
"""Crops of rendered windows as an honest camera would give them:  develop_windows.py LAB OUT DIR [LIST]

Softness, exposure by the bare paper, shot and read noise, sRGB, JPEG; scenes of pairs in each treatment. Writes DIR/*.jpg
and DIR/LIST (windows.json)."""
import json
import os
import sys

os.environ["OPENCV_IO_ENABLE_OPENEXR"] = "1"
import cv2  # noqa: E402
import numpy as np  # noqa: E402

lab, out, target, *listed = sys.argv[1:]
sys.path.insert(0, lab)
import camera  # noqa: E402

SEED, READ_NOISE = 1, camera.DEF["read_noise_e"]
PLAIN = {"softness_px": 0.6, "white": 0.62, "balance": [1.03, 1, 0.96], "gain": 1, "quality": 90}
# Darker than PLAIN, which clips the path tracer's own noise: more of it in the channel that the balance raises.
DARK = {**PLAIN, "white": 0.4}
TREATMENTS = {
    "": DARK,
    "-soft": {**DARK, "softness_px": 1.0, "white": 0.32, "balance": [0.96, 1, 1.05]},
    "-grain": {**DARK, "balance": [1.08, 1, 0.9], "gain": 3, "quality": 82},
}


def crop(image, gain, how, rng):
    """A linear crop as the camera stores it."""
    full_well = camera.DEF["full_well_e"] / how["gain"]
    electrons = cv2.GaussianBlur(image, (0, 0), how["softness_px"]) * gain * np.array(how["balance"], np.float32) * full_well
    electrons = electrons + np.sqrt(np.maximum(electrons, 0)) * rng.standard_normal(image.shape)
    electrons = electrons + READ_NOISE * rng.standard_normal(image.shape)
    return np.clip(np.rint(camera.srgb(electrons / full_well) * 255), 0, 255).astype(np.uint8)


def describe(slot, material, share_past, crops):
    return {
        "slot": slot,
        "sharePastDeg": {k: round(max(0, v), 4) for k, v in share_past.items()},
        "absorptionPerMm": material["absorption"],
        "reliefUm": material["relief_um"],
        "mixedIn": material.get("window_haze", 0),
        "lobeRoughness": material.get("haze_roughness", 0.5),
        "windowRoughness": material.get("window_rough_top", material["rough_top"]),
        "through": crops[f"w{slot}"],
        "bare": crops[f"b{slot}"],
    }  # fmt: skip


def share_past(scene, slot, cam):
    mixed = cam["scene"]["coupons"][slot - 1]["material"].get("window_haze", 0)
    return truth.get(f"{scene}/{slot}", {"2.5": SHARE_BEYOND * mixed})


def treatments_of(scene):
    if scene in ("pair-left", "pair-sky", "pair-back", "pair-warm", "pair-cloud"):
        return TREATMENTS
    return {"": DARK if scene.startswith("pair") or scene == "five-tints" else PLAIN}


layout = json.load(open(os.path.join(out, "demo/layout.json")))
truth = json.load(open(os.path.join(out, "window_truth.json")))
# Of what is mixed in, as window_truth.json has it of such windows: those of whole scenes were not rendered again for it.
SHARE_BEYOND = 0.876
scenes = {}
for spec in json.load(open(os.path.join(out, "windows.json")))["scenes"]:
    name = spec["out"].split("/")[0]
    cam = json.load(open(os.path.join(out, f"{spec['out']}.cam.json")))
    regions = {r["name"]: r for r in cam["regions"]}
    light = {k: cv2.imread(os.path.join(out, name, r["file"]), cv2.IMREAD_UNCHANGED)[..., 2::-1] for k, r in regions.items()}
    paper = np.median([np.percentile(im.mean(2), 95) for k, im in light.items() if k[0] == "b"])
    for suffix, how in treatments_of(name).items():
        rng = np.random.default_rng(SEED)
        crops = {}
        for key, image in light.items():
            file = f"{name}{suffix}-{key[1:]}-{'through' if key[0] == 'w' else 'bare'}.jpg"
            code = crop(image, how["white"] / paper, how, rng)
            cv2.imwrite(os.path.join(target, file), code[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, how["quality"]])
            crops[key] = {"file": file, "leftPx": regions[key]["px"][0], "topPx": regions[key]["px"][1]}
        windows = [
            describe(slot, cam["scene"]["coupons"][slot - 1]["material"], share_past(name, slot, cam), crops)
            for slot in sorted({int(k[1:]) for k in light})
        ]
        view = {k: cam[k] for k in ("resolution", "K", "R", "t")}
        scenes[name + suffix] = {"camera": view, "light": spec["light"], "windows": windows}
text = json.dumps({"simulated": True, "design": layout["design"], "scenes": scenes}, indent=1)
open(os.path.join(target, *(listed or ["windows.json"])), "w").write(text)
