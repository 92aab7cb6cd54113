"""Share of light that windows deviate:  blender -b -P window_truth.py -- LAB OUT

For each window of OUT/windows.json, the light of a disc of 2.5, 5 and 10 degrees radius seen through it against one of 75
degrees, by the path tracer itself. Writes OUT/window_truth.json: scene/slot -> angle -> share beyond."""
import json
import math
import os
import sys

lab, out = sys.argv[sys.argv.index("--") + 1 :][:2]
sys.path.insert(0, lab)
import bpy  # noqa: E402
import numpy as np  # noqa: E402
import render  # noqa: E402

DEPTH_MM, HALF_PX, SAMPLES = 600.0, 6, 1024
CAMERA = {"distance_mm": 400, "tilt_deg": 0, "azimuth_deg": 0, "roll_deg": 0, "target_mm": [0, 0, 68],
          "sensor_width_mm": 5.6, "focal_mm": 20, "resolution": [800, 600]}  # fmt: skip


def light_of_disc(material, degrees):
    scene = {"coupons": [{"mesh": "window-coupon.obj", "position": [-31, -6.7, 60], "material": material}], "camera": CAMERA,
             "light": {"sky": {"strength": 0.0, "horizon_ratio": 1.0, "below": 1.0}}, "table": None,
             "render": {"samples": SAMPLES, "seed": 5, "threads": 1}}  # fmt: skip
    setup = render.setup(scene, out)
    radius = DEPTH_MM * math.tan(math.radians(degrees))
    rim = [(radius * math.cos(a), radius * math.sin(a), 66 - DEPTH_MM) for a in np.linspace(0, 2 * math.pi, 96, endpoint=False)]
    disc = bpy.data.meshes.new("disc")
    disc.from_pydata(rim, [], [tuple(range(96))])
    disc.materials.append(render.emission_mat("glow", [1, 1, 1]))
    disc.update()
    bpy.context.collection.objects.link(bpy.data.objects.new("disc", disc))
    setup.render.use_border = setup.render.use_crop_to_border = True
    width, height = CAMERA["resolution"]
    setup.render.border_min_x, setup.render.border_max_x = 0.5 - HALF_PX / width, 0.5 + HALF_PX / width
    setup.render.border_min_y, setup.render.border_max_y = 0.5 - HALF_PX / height, 0.5 + HALF_PX / height
    setup.render.filepath = os.path.join(out, "disc.exr")
    bpy.ops.render.render(write_still=True)
    image = bpy.data.images.load(setup.render.filepath)
    return float(np.array(image.pixels[:]).reshape(-1, 4)[:, 1].mean())


truth = {}
for scene in json.load(open(os.path.join(out, "windows.json")))["scenes"]:
    for slot in sorted({int(r["name"][1:]) for r in scene["render"]["regions"]}):
        material = {**scene["coupons"][slot - 1]["material"], "relief_um": 0, "absorption": 0, "ink": "none"}
        whole = light_of_disc(material, 75)
        truth[f"{scene['out'].split('/')[0]}/{slot}"] = {str(a): 1 - light_of_disc(material, a) / whole for a in (2.5, 5, 10)}
json.dump(truth, open(os.path.join(out, "window_truth.json"), "w"), indent=1)
