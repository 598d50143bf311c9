"""Growing degree days by the 86/50 method."""
import csv
from pathlib import Path

import numpy as np
from gddPy import GDD

from compare import check, random

N = 20_000
PUBLISHED = Path(__file__).parents[3] / "domain/tests/data/gdd_days.csv"


def by_library(high, low):
    """A day by the library: average with the low raised to 50 and the high cut to 86."""
    limits = {"threshold_low": 50.0, "min_temp_cutoff": 50.0, "max_temp_cutoff": 86.0}
    day = GDD({"min_temp": low, "max_temp": high, **limits})
    return day.calcDailyAverage(cutoff_min_temp=True, cutoff_max_temp=True)


@check(["gddpy"])
def single_days(domain, report):
    """Degree days of single days"""
    rng = random("degree days")
    low = rng.uniform(-20.0, 100.0, N)
    cases = list(zip(low + rng.uniform(0.0, 45.0, N), low))
    ours = domain.numbers("degree_days", cases)[:, 0]
    # The library cuts only the high at 86. Where the whole day is warmer the method cuts both.
    hot = low > 86.0
    report.note("days warmer than 86 F all through, left to the plain formula", int(hot.sum()), "as above")
    theirs = np.array([by_library(high, low) for high, low in cases])
    mild = [case for case, h in zip(cases, hot) if not h]
    report.close("other days", ours[~hot], theirs[~hot], mild, 0.0, 1e-9)
    assert (theirs[hot] > ours[hot]).all() and np.allclose(ours[hot], 36.0)


@check(["numpy"])
def plain_formula(domain, report):
    """Degree days: every day by a vectorised formula, and the published days"""
    rng = random("degree days again")
    low = rng.uniform(-20.0, 110.0, N)
    cases = list(zip(low + rng.uniform(0.0, 45.0, N), low))
    theirs = np.clip(np.array(cases), 50.0, 86.0).mean(axis=1) - 50.0
    report.close("days", domain.numbers("degree_days", cases)[:, 0], theirs, cases, 0.0, 1e-9)
    with PUBLISHED.open(encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["mark"] == "read"]
    cases = [(float(row["tmax_f"]), float(row["tmin_f"])) for row in rows]
    theirs = [float(row["gdd"]) for row in rows]
    report.close("published days", domain.numbers("degree_days", cases)[:, 0], theirs, cases, 0.0, 1e-9)
