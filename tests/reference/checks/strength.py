"""Soil strength: the formula, and the water content at a strength by root finding."""
import numpy as np
from scipy import optimize

from compare import check, random

N = 10_000


def strength(theta, clay, carbon, density):
    """da Silva and Kay 1997, taken as a power law of logarithms, in MPa."""
    log = -3.67 + 0.765 * carbon - 0.145 * clay
    log += (-0.481 + 0.208 * carbon - 0.124 * clay) * np.log(theta)
    log += (3.85 + 0.0963 * clay) * np.log(density)
    return np.exp(log)


def soils(rng):
    """Clay and organic carbon in percent, bulk density in g/cm3, water in m3/m3."""
    ends = [(5.0, 40.0), (0.0, 4.0), (0.9, 1.8), (0.10, 0.55)]
    return np.column_stack([rng.uniform(low, high, N) for low, high in ends])


@check(["numpy", "scipy"])
def strength_and_its_inverse(domain, report):
    """Soil strength against water content"""
    cases = soils(random("strength"))
    clay, carbon, density, theta = cases.T
    theirs = strength(theta, clay, carbon, density)
    report.close("MPa", domain.numbers("strength_mpa", cases)[:, 0], theirs, cases, 1e-11)
    asked = [(a, b, c, float(s)) for (a, b, c, _), s in zip(cases.tolist(), theirs)]
    ours = domain.ask("water_at_mpa", asked)
    roots = []
    for clay, carbon, density, wanted in asked:
        miss = lambda x: np.log(strength(np.exp(x), clay, carbon, density) / wanted)
        roots.append(np.exp(optimize.brentq(miss, np.log(0.05), np.log(0.8), xtol=1e-13)))
    report.close("water content, m3/m3", [a[0] for a in ours], roots, asked, 1e-9)
