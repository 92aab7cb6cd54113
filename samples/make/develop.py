#!/usr/bin/python3
"""Photographs from rendered scenes:  develop.py LAB OUT SAMPLES [NAME...]

Runs the photo lab's camera on the scenes that are rendered, writes EXIF (the JPEG data stay as they are) and the truth:
SAMPLES/NAME.jpg and NAME.truth.json. Without names: all photos of ladders.json whose scene exists and that do not."""
import hashlib
import json
import math
import os
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
# Of 36 x 24 mm: the 35 mm equivalent of a focal length keeps the angle of the diagonal.
FILM_DIAGONAL_MM = math.hypot(36, 24)


def write_exif(path, photo, camera, orientation):
    width, height = camera["resolution"]
    diagonal = camera["sensor_width_mm"] * math.hypot(width, height) / width
    tags = {
        "ImageDescription": "Simulated photograph of simulated coupons",
        "Make": "Simulated",
        "Model": "Path-traced camera",
        "DateTimeOriginal": photo["taken"],
        "FocalLength": round(camera["focal_mm"], 2),
        "FocalLengthIn35mmFormat": round(camera["focal_mm"] * FILM_DIAGONAL_MM / diagonal),
        "FNumber": camera["f_number"],
        "ColorSpace#": 1,
        "Orientation#": orientation,
    }
    options = [f"-EXIF:{tag}={value}" for tag, value in tags.items()]
    subprocess.run(["exiftool", "-q", "-overwrite_original", *options, path], check=True)


def write_truth(path, truth):
    """JSON with one line a rung, so that it can be read."""
    line = lambda key, value: f" {json.dumps(key)}: {value}"
    rungs = "[\n" + ",\n".join("  " + json.dumps(r) for r in truth["rungs"]) + "\n ]"
    rows = [line(k, rungs if k == "rungs" else json.dumps(v)) for k, v in truth.items()]
    with open(path, "w") as file:
        file.write("{\n" + ",\n".join(rows) + "\n}\n")


def develop(lab, out, samples, name, photo, treatments):
    scene = os.path.join(out, photo["scene"])
    cfg = {**treatments[photo["treatment"]], **photo["cfg"]}
    target = os.path.join(samples, f"{name}.jpg")
    with tempfile.TemporaryDirectory() as work:
        shot = os.path.join(work, f"{name}.jpg")
        settings = [f"{k}={json.dumps(v)}" for k, v in cfg.items()]
        cam = os.path.join(scene, "shot.cam.json")
        run = [sys.executable, os.path.join(lab, "camera.py"), cam, shot, "--seed", str(photo["seed"]), "--set", *settings]
        subprocess.run(run, check=True)
        lab_truth = json.load(open(os.path.join(work, f"{name}.truth.json")))
        render = lab_truth["render"]
        write_exif(shot, photo, render["scene"]["camera"], lab_truth["camera_cfg"]["exif_orientation"])
        with open(shot, "rb") as source, open(target, "wb") as file:
            data = source.read()
            file.write(data)
    rungs = json.load(open(os.path.join(scene, "rungs.json")))
    camera = render["scene"]["camera"]
    truth = {
        "simulated": True,
        "photo": f"{name}.jpg",
        "sha256": hashlib.sha256(data).hexdigest(),
        "scene": photo["scene"],
        "treatment": photo["treatment"],
        **rungs,
        "camera": {
            "resolution": render["resolution"],
            "focalMm": camera["focal_mm"],
            "sensorWidthMm": camera["sensor_width_mm"],
            "distanceMm": camera["distance_mm"],
            "tiltDeg": camera["tilt_deg"],
            "fNumber": camera["f_number"],
            "P": [[round(v, 9) for v in row] for row in render["P"]],
            "principalPointPx": [render["K"][0][2], render["K"][1][2]],
            "distortion": lab_truth["distortion"],
        },
        "light": render["scene"]["light"],
        "seed": photo["seed"],
        "cameraCfg": lab_truth["camera_cfg"],
        "exposureGain": lab_truth["exposure_gain"],
    }
    write_truth(os.path.join(samples, f"{name}.truth.json"), truth)


if __name__ == "__main__":
    lab, out, samples, *names = sys.argv[1:]
    spec = json.load(open(os.path.join(HERE, "ladders.json")))
    for name, photo in spec["photos"].items():
        rendered = os.path.exists(os.path.join(out, photo["scene"], "shot.cam.json"))
        wanted = name in names if names else rendered and not os.path.exists(os.path.join(samples, f"{name}.jpg"))
        if wanted:
            develop(lab, out, samples, name, photo, spec["treatments"])
