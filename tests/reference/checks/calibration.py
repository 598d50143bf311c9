"""Force against pressure: the least-squares line and the pressure for a force."""
import numpy as np
from scipy import optimize, stats

from compare import check, random

N = 10_000


def readings(rng):
    """Pressures in Pa and forces in N, as one measures them: a line and some noise, any order."""
    count = rng.integers(2, 9)
    pressure = rng.uniform(5.0, 100.0, count) * 6_894.757
    if np.ptp(pressure) < 20_000.0:
        pressure[0] += 100_000.0
    force = rng.uniform(-200.0, 400.0) + pressure * 10.0 ** rng.uniform(-3.0, -2.0)
    return pressure, force + rng.normal(0.0, rng.uniform(0.0, 60.0), count)


def usable(rng, count):
    """Sets whose force rises with pressure."""
    found = []
    while len(found) < count:
        pressure, force = readings(rng)
        if np.polyfit(pressure, force, 1)[0] > 1e-6:
            found.append((pressure.tolist(), force.tolist()))
    return found


@check(["numpy", "scipy"])
def least_squares_line(domain, report):
    """Calibration: the line through 2 to 8 points"""
    cases = usable(random("line"), N)
    ours = domain.numbers("calibration", cases)
    theirs = []
    for pressure, force in cases:
        slope, start = np.polyfit(pressure, force, 1)
        miss = np.abs(np.polyval([slope, start], pressure) - force).max() if len(force) > 2 else 0.0
        line = stats.linregress(pressure, force)
        assert np.isclose(line.slope, slope, rtol=1e-8) and np.isclose(line.intercept, start, atol=1e-5)
        theirs.append((start, slope, miss))
    theirs = np.array(theirs)
    report.close("force at zero, N", ours[:, 0], theirs[:, 0], cases, 1e-9, 1e-7)
    report.close("slope, N/Pa", ours[:, 1], theirs[:, 1], cases, 1e-9)
    report.close("worst miss, N", ours[:, 2], theirs[:, 2], cases, 1e-9, 1e-7)


@check(["scipy"])
def falling_force_is_refused(domain, report):
    """Calibration: no line where the force does not rise"""
    rng = random("falling")
    cases = []
    while len(cases) < 1_000:
        pressure, force = readings(rng)
        force = force.mean() - (force - force.mean())
        if stats.linregress(pressure, force).slope < -1e-6:
            cases.append((pressure, force))
    report.same("refused", domain.ask("calibration", cases), [None] * len(cases), cases)


@check(["scipy"])
def pressure_for_a_force(domain, report):
    """Calibration: the pressure for a force by root finding, and refusal outside what was measured"""
    rng = random("pressure")
    cases, theirs, inside, wanted = [], [], [], []
    for pressure, force in usable(rng, 5_000):
        line = np.polynomial.Polynomial.fit(pressure, force, 1)
        low, high = min(pressure), max(pressure)
        for share in (rng.uniform(0.01, 0.99), rng.uniform(-1.0, -0.01), rng.uniform(1.01, 2.0)):
            target = float(line(low) + share * (line(high) - line(low)))
            cases.append((pressure, force, target))
            word = "below" if share < 0 else "above" if share > 1 else "within"
            theirs.append(word)
            if word == "within":
                root = optimize.brentq(lambda p: line(p) - target, low, high, xtol=1e-9, rtol=1e-14)
                inside.append((len(cases) - 1, root))
    ours = domain.ask("pressure_for", cases)
    report.same("within, below or above", [answer[0] for answer in ours], theirs, cases)
    at, roots = zip(*inside)
    wanted = [ours[i][1] for i in at]
    report.close("pressure, Pa", wanted, roots, [cases[i] for i in at], 1e-9)
