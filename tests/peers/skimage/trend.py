"""How growth and print-through go with the logarithm of the exposure."""

import numpy as np
from scipy.optimize import curve_fit


def against_exposure(exposures_s: list[float], values_um: list[float]) -> tuple[float, float]:
    """Slope, um per unit of ln(exposure), and the exposure at which the line is zero, s."""
    line = lambda t, slope, level: level + slope * np.log(t)
    slope, level = curve_fit(line, np.array(exposures_s), np.array(values_um))[0]
    return float(slope), float(np.exp(-level / slope))
