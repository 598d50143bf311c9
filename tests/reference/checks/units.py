"""Conversions of the whole unit table."""
from itertools import permutations

import numpy as np
from ucumvert import PintUcumRegistry

from compare import check, random

A_PAIR = 100
# 0 K lies at -459.67 degF: a difference is judged against the absolute temperature.
WARMEST = 700.0


def values(rng, kind, count):
    """Numbers of both signs over nine decades; temperatures from cold to boiling."""
    if kind == "temperature":
        return rng.uniform(-80.0, 250.0, count)
    return rng.choice([-1.0, 1.0], count) * 10.0 ** rng.uniform(-4.0, 5.0, count)


def exchangeable(domain):
    """The codes of each kind that has more than one: one alone (pH) is never converted."""
    kinds = {}
    for code, kind in domain.ask("unit_table", [()])[0]:
        kinds.setdefault(kind, []).append(code)
    return {kind: codes for kind, codes in kinds.items() if len(codes) > 1}


@check(["ucumvert", "pint"])
def every_pair_of_units_of_a_kind(domain, report):
    """Unit conversions: every pair within a kind, UCUM codes read by an independent parser"""
    rng = random("units")
    ucum = PintUcumRegistry()
    for kind, codes in exchangeable(domain).items():
        cases, theirs = [], []
        for one, other in permutations(codes, 2):
            source, target = ucum.from_ucum(one).units, ucum.from_ucum(other).units
            for value in values(rng, kind, A_PAIR):
                cases.append((value, one, other))
                theirs.append(ucum.Quantity(value, source).to(target).magnitude)
        ours = domain.numbers("convert", cases)[:, 0]
        slack = 1e-13 * WARMEST if kind == "temperature" else 0.0
        report.close(f"{kind}, {len(codes)} units", ours, np.array(theirs), cases, 1e-13, slack)


@check(["ucumvert", "pint"])
def kinds_are_dimensions(domain, report):
    """Units of one kind have one dimension"""
    ucum = PintUcumRegistry()
    kinds = exchangeable(domain)
    seen = [len({ucum.from_ucum(code).dimensionality for code in codes}) for codes in kinds.values()]
    report.same("kinds", seen, [1] * len(kinds), list(kinds))
