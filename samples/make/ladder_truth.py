"""What is true of each rung of a simulated ladder: growth, print-through, haze and tint as functions of exposure."""
import math

from scipy.special import erfcinv


def growth_um(g, exposure_s):
    """Growth of each side across x, um. log: straight or bent in ln(t); blurred-edge: threshold of a blurred edge."""
    if g["kind"] == "blurred-edge":
        return math.sqrt(2) * g["sigmaUm"] * float(erfcinv(g["sizeS"] / exposure_s))
    log = math.log(exposure_s / g["sizeS"])
    return g["slopeUm"] * log + g["curveUm"] * log**2


def growth_formula(g):
    if g["kind"] == "blurred-edge":
        return f"growthUm = sqrt(2) * {g['sigmaUm']} * erfcinv({g['sizeS']} / exposureS)"
    bend = f" + {g['curveUm']} * ln(exposureS / {g['sizeS']})^2" if g["curveUm"] else ""
    return f"growthUm = {g['slopeUm']} * ln(exposureS / {g['sizeS']}){bend}"


def rung_truth(ladder, exposure_s):
    p, h, a = ladder["printThrough"], ladder["haze"], ladder["absorption"]
    return {
        "exposureS": exposure_s,
        "growthUm": round(growth_um(ladder["growth"], exposure_s), 3),
        "printThroughUm": round(max(50.0, p["um"] + p["penetrationDepthUm"] * math.log(exposure_s / p["atS"])), 3),
        "haze": round(h["value"] * (exposure_s / h["atS"]) ** h["power"], 5),
        "absorptionPerMm": [round(k * (exposure_s / a["atS"]) ** a["power"], 6) for k in a["perMm"]],
    }


def ladder_truth(ladder):
    p, h, a = ladder["printThrough"], ladder["haze"], ladder["absorption"]
    return {
        "doseToSizeS": ladder["growth"]["sizeS"],
        "growth": growth_formula(ladder["growth"]),
        "penetrationDepthUm": p["penetrationDepthUm"],
        "printThrough": f"printThroughUm = {p['um']} + {p['penetrationDepthUm']} * ln(exposureS / {p['atS']})",
        "haze": f"haze = {h['value']} * (exposureS / {h['atS']})^{h['power']}",
        "absorption": f"absorptionPerMm = {a['perMm']} (red, green, blue) * (exposureS / {a['atS']})^{a['power']}",
    }


def isolated_truth(layout, features):
    """Isolated lines and spaces: nominal and true width, um; None where lost or closed."""
    state = {f["id"]: f for f in features["features"]}
    solid = {tuple(b["between"]): b for b in features["between"] if b["kind"] == "solid"}
    lines = [f for f in layout["coupon"]["isolated"] if f["kind"] == "line"]
    found = []
    for f in layout["coupon"]["isolated"]:
        if f["kind"] == "space":
            s = state[f["id"]]
            there, width = s["state"] == "open", s["true_width_um"] and s["true_width_um"]["x"]
        else:
            i = lines.index(f)
            s = solid[(f"line-comb_{i}", f"line-comb_{i + 1}")]
            there, width = s["state"] == "standing", s["true_width_um"]
        found.append({"id": f["id"], "nominalUm": round(f["widthMm"] * 1000, 3), "trueUm": width if there else None})
    return found


def gap_truth(layout, features):
    """Gaps across the build: nominal and true height, um; None where print-through closed them."""
    state = {f["id"]: f for f in features["features"]}
    return [
        {
            "id": g["id"],
            "nominalUm": round(g["gapMm"] * 1000, 3),
            "trueUm": state[g["id"]]["true_width_um"]["y"] if state[g["id"]]["state"] == "open" else None,
        }
        for g in layout["coupon"]["gaps"]
    ]
