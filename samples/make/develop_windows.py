#!/usr/bin/python3
"""Crops of rendered windows as an honest camera would give them:  develop_windows.py LAB OUT DIR

Softness 0.6 px, exposure by the bare paper, shot and read noise, sRGB, JPEG 90. Writes DIR/*.jpg and DIR/windows.json."""
import json
import os
import sys

os.environ["OPENCV_IO_ENABLE_OPENEXR"] = "1"
import cv2  # noqa: E402
import numpy as np  # noqa: E402

lab, out, target = sys.argv[1:]
sys.path.insert(0, lab)
import camera  # noqa: E402

SOFTNESS_PX, WHITE, BALANCE, QUALITY, SEED = 0.6, 0.62, [1.03, 1, 0.96], 90, 1
FULL_WELL, READ_NOISE = camera.DEF["full_well_e"], camera.DEF["read_noise_e"]
layout = json.load(open(os.path.join(out, "demo/layout.json")))
truth = json.load(open(os.path.join(out, "window_truth.json")))
scenes = {}
for spec in json.load(open(os.path.join(out, "windows.json")))["scenes"]:
    name = spec["out"].split("/")[0]
    cam = json.load(open(os.path.join(out, f"{spec['out']}.cam.json")))
    regions = {r["name"]: r for r in cam["regions"]}
    light = {k: cv2.imread(os.path.join(out, name, r["file"]), cv2.IMREAD_UNCHANGED)[..., 2::-1] for k, r in regions.items()}
    gain = WHITE / np.median([np.percentile(im.mean(2), 95) for k, im in light.items() if k[0] == "b"])
    rng = np.random.default_rng(SEED)
    crops = {}
    for key, im in light.items():
        electrons = cv2.GaussianBlur(im, (0, 0), SOFTNESS_PX) * gain * np.array(BALANCE, np.float32) * FULL_WELL
        electrons = electrons + np.sqrt(np.maximum(electrons, 0)) * rng.standard_normal(im.shape)
        electrons = electrons + READ_NOISE * rng.standard_normal(im.shape)
        code = np.clip(np.rint(camera.srgb(electrons / FULL_WELL) * 255), 0, 255).astype(np.uint8)
        kind = {"w": "through", "b": "bare"}[key[0]]
        file = f"{name}-{key[1:]}-{kind}.jpg"
        cv2.imwrite(os.path.join(target, file), code[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, QUALITY])
        crops[key] = {"file": file, "leftPx": regions[key]["px"][0], "topPx": regions[key]["px"][1]}
    windows = []
    for slot in sorted({int(k[1:]) for k in light}):
        m = cam["scene"]["coupons"][slot - 1]["material"]
        windows.append({
            "slot": slot,
            "sharePastDeg": {k: round(max(0, v), 4) for k, v in truth[f"{name}/{slot}"].items()},
            "absorptionPerMm": m["absorption"],
            "reliefUm": m["relief_um"],
            "mixedIn": m.get("window_haze", 0),
            "lobeRoughness": m.get("haze_roughness", 0.5),
            "windowRoughness": m.get("window_rough_top", m["rough_top"]),
            "through": crops[f"w{slot}"],
            "bare": crops[f"b{slot}"],
        })  # fmt: skip
    view = {k: cam[k] for k in ("resolution", "K", "R", "t")}
    scenes[name] = {"camera": view, "light": spec["light"], "windows": windows}
json.dump({"simulated": True, "design": layout["design"], "scenes": scenes}, open(os.path.join(target, "windows.json"), "w"), indent=1)
