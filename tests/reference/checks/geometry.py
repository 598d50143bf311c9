"""What follows from the definition of an area, a force or a speed, with pint doing the units."""
import numpy as np
from pint import UnitRegistry

from compare import check, random

N = 10_000
U = UnitRegistry()
# The acre of UCUM ([acr_us]) is the one of the US survey foot.
ACRE = 43_560.0 * U.survey_foot**2


@check(["pint"])
def seeds_and_rows(domain, report):
    """Spacing in the row, and the row that is a share of an acre"""
    rng = random("rows")
    rate, width = rng.uniform(5_000.0, 300_000.0, N), rng.uniform(7.0, 40.0, N)
    cases = list(zip(rate, width))
    theirs = (1.0 / (rate / ACRE) / (width * U.inch)).to(U.inch).magnitude
    report.close("spacing, in", domain.numbers("spacing_in", cases)[:, 0], theirs, cases, 1e-12)
    share = 10.0 ** rng.uniform(-4.0, -1.0, N)
    cases = list(zip(share, width))
    theirs = (share * ACRE / (width * U.inch)).to(U.foot).magnitude
    report.close("row length, ft", domain.numbers("row_of_acre_ft", cases)[:, 0], theirs, cases, 1e-12)


@check(["pint"])
def stands_and_clips(domain, report):
    """Stands from a row or a hoop, dry matter from a clip"""
    rng = random("stands")
    plants, length = rng.integers(1, 400, N).astype(float), rng.uniform(5.0, 200.0, N)
    width, hoop = rng.uniform(7.0, 40.0, N), rng.uniform(12.0, 60.0, N)
    cases = list(zip(plants, length, width))
    theirs = (plants / (length * U.foot * width * U.inch) * ACRE).to("").magnitude
    report.close("in a row, per acre", domain.numbers("stand_in_row", cases)[:, 0], theirs, cases, 1e-12)
    cases = list(zip(plants, hoop))
    theirs = (plants / (np.pi * (hoop * U.inch / 2.0) ** 2) * ACRE).to("").magnitude
    report.close("in a hoop, per acre", domain.numbers("stand_in_hoop", cases)[:, 0], theirs, cases, 1e-12)
    grams, area = rng.uniform(1.0, 2_000.0, N), rng.uniform(0.25, 100.0, N)
    cases = list(zip(grams, area))
    theirs = (grams * U.gram / (area * U.foot**2) * ACRE).to(U.pound).magnitude
    report.close("clip, lb/ac", domain.numbers("clip_lb_ac", cases)[:, 0], theirs, cases, 1e-12)


@check(["pint"])
def field_capacity(domain, report):
    """Field capacity: width, speed and efficiency"""
    rng = random("capacity")
    cases = list(zip(rng.uniform(5.0, 120.0, N), rng.uniform(1.0, 12.0, N), rng.uniform(0.1, 1.0, N)))
    width, speed, share = np.array(cases).T
    theirs = (width * U.foot * speed * U.mile / U.hour * share / ACRE).to(1 / U.hour).magnitude
    report.close("ac/h", domain.numbers("capacity_ac_h", cases)[:, 0], theirs, cases, 1e-12)


@check(["pint"])
def liquids(domain, report):
    """Flow through an outlet in the furrow, and the course that is a 128th of an acre"""
    rng = random("liquids")
    cases = list(zip(rng.uniform(1.0, 60.0, N), rng.uniform(1.0, 12.0, N), rng.uniform(7.0, 40.0, N)))
    rate, speed, width = np.array(cases).T
    theirs = (rate * U.gallon / ACRE * speed * U.mile / U.hour * width * U.inch).to(U.gallon / U.minute).magnitude
    report.close("gal/min", domain.numbers("outlet_gal_min", cases)[:, 0], theirs, cases, 1e-12)
    theirs = (ACRE / 128.0 / (width * U.inch)).to(U.foot).magnitude
    report.close("course, ft", domain.numbers("course_ft", [(w,) for w in width])[:, 0], theirs, width, 1e-12)


@check(["pint"])
def cylinders_and_arms(domain, report):
    """Cylinder force, cone base, arm angle and what the arms add"""
    rng = random("cylinders")
    bore, rod = rng.uniform(0.5, 4.0, N), rng.uniform(0.1, 0.9, N)
    side, lever, psi = rng.choice(["cap", "rod"], N), rng.uniform(0.1, 2.0, N), rng.uniform(50.0, 3_000.0, N)
    cases = [(b, b * r, str(s), k, p) for b, r, s, k, p in zip(bore, rod, side, lever, psi)]
    hollow = np.where(side == "rod", bore * rod, 0.0)
    area = np.pi / 4.0 * ((bore * U.inch) ** 2 - (hollow * U.inch) ** 2)
    theirs = (psi * U.psi * area * lever).to(U.force_pound).magnitude
    report.close("cylinder, lbf", domain.numbers("cylinder_lbf", cases)[:, 0], theirs, cases, 1e-10)
    cone = rng.uniform(5.0, 40.0, N)
    ours = domain.numbers("cone_base_mm2", [(c,) for c in cone])[:, 0]
    report.close("cone base, mm2", ours, np.pi * (cone / 2.0) ** 2, cone, 1e-12)
    arm = rng.uniform(200.0, 800.0, N)
    high = arm * rng.uniform(-0.9, 0.9, N)
    cases = list(zip(high, arm))
    theirs = np.degrees(np.arctan2(high, np.sqrt(arm**2 - high**2)))
    report.close("arm angle, degrees", domain.numbers("arm_angle_deg", cases)[:, 0], theirs, cases, 1e-11, 1e-12)
    cases = list(zip(rng.uniform(0.0, 5_000.0, N), rng.uniform(-30.0, 30.0, N)))
    pull, angle = np.array(cases).T
    theirs = -pull * np.sin(np.radians(angle)) / np.cos(np.radians(angle))
    report.close("arms, N", domain.numbers("arm_force", cases)[:, 0], theirs, cases, 1e-12, 1e-12)
