"""Texture triangle: two libraries that draw the classes as polygons, against rules that own their edges.

A polygon does not say to which class its edge belongs; the printed rules do (a clay of exactly 27 %
is a clay loam, not a loam). So the libraries may differ on an edge and nowhere else, and each such
difference is listed in `texture_edges.csv` with the rule that decides.
"""
import csv
from collections import Counter
from pathlib import Path

import numpy as np
import pedotri
from soiltexture import getTextures

from compare import check, random

EDGES = Path(__file__).parents[1] / "texture_edges.csv"
FIELDS = ["library", "edge", "class", "library_class", "points", "rule"]

# Where the printed rules change class (Benham, Ahrens and Nettleton 2009, USDA-NRCS); all in percent.
LINES = {
    "silt + 1.5 clay = 15": lambda sand, silt, clay: silt + 1.5 * clay - 15.0,
    "silt + 2 clay = 30": lambda sand, silt, clay: silt + 2.0 * clay - 30.0,
    **{f"clay = {v}": lambda sand, silt, clay, v=v: clay - v for v in (7, 12, 20, 27, 35, 40)},
    **{f"silt = {v}": lambda sand, silt, clay, v=v: silt - v for v in (28, 40, 50, 80)},
    **{f"sand = {v}": lambda sand, silt, clay, v=v: sand - v for v in (20, 45, 52)},
    "sand = 0": lambda sand, silt, clay: sand,
    "silt = 0": lambda sand, silt, clay: silt,
    "clay = 0": lambda sand, silt, clay: clay,
}

# The printed rule of each class.
RULES = {
    "sand": "silt + 1.5 clay < 15",
    "loamy sand": "silt + 1.5 clay >= 15 and silt + 2 clay < 30",
    "sandy loam": "silt + 2 clay >= 30 and (clay 7 to < 20 and sand > 52, or clay < 7 and silt < 50)",
    "loam": "clay 7 to < 27, silt 28 to < 50, sand <= 52",
    "silt loam": "silt >= 50 and clay 12 to < 27, or silt 50 to < 80 and clay < 12",
    "silt": "silt >= 80 and clay < 12",
    "sandy clay loam": "clay 20 to < 35, silt < 28, sand > 45",
    "clay loam": "clay 27 to < 40, sand > 20 to 45",
    "silty clay loam": "clay 27 to < 40, sand <= 20",
    "sandy clay": "clay >= 35, sand > 45",
    "silty clay": "clay >= 40, silt >= 40",
    "clay": "clay >= 40, sand <= 45, silt < 40",
}


def by_pedotri(sand, clay):
    """Class names; "" where no polygon holds the point."""
    found = pedotri.classify(np.array(sand), np.array(clay), "USDA")
    return [(name or "").replace("_", " ") for name in np.asarray(found, dtype=object)]


def by_soiltexture(sand, clay):
    """Class names; "" where no polygon holds the point."""
    return [name or "" for name in getTextures(list(sand), list(clay), "USDA")]


LIBRARIES = {"pedotri": by_pedotri, "soiltexture": by_soiltexture}


def edges(sand, clay):
    """The lines of the printed rules on which a point lies."""
    silt = 100.0 - sand - clay
    return [name for name, off in LINES.items() if abs(off(sand, silt, clay)) < 1e-9]


@check(["pedotri", "soiltexture"])
def all_whole_points(domain, report):
    """Texture: all 5,151 whole-number points; every difference lies on an edge and is listed"""
    points = [(float(sand), float(clay)) for sand in range(101) for clay in range(101 - sand)]
    ours = domain.ask("texture", points)
    found = Counter()
    for library, ask in LIBRARIES.items():
        theirs = ask(*zip(*points))
        assert len(ours) == len(theirs) == 5_151
        for point, one, other in zip(points, ours, theirs):
            if one != other:
                on = edges(*point)
                assert on, f"{library} differs off every edge at sand, clay {point}: {one}, {other}"
                found[library, " and ".join(on), one, other] += 1
        differ = sum(a != b for a, b in zip(ours, theirs))
        report.note(library, 5_151, f"{5_151 - differ} the same, {differ} differ on an edge")
    with EDGES.open(encoding="utf-8", newline="") as file:
        listed = list(csv.DictReader(file))
    assert all(row["rule"] == RULES[row["class"]] for row in listed), "a rule is not the one of its class"
    wanted = Counter({tuple(row[k] for k in FIELDS[:4]): int(row["points"]) for row in listed})
    missing, extra = wanted - found, found - wanted
    assert not missing and not extra, f"listed but not found: {missing}; found but not listed: {extra}"
    report.note("edges listed with their rule", sum(wanted.values()), f"in {len(listed)} rows")


@check(["pedotri", "soiltexture"])
def points_between(domain, report):
    """Texture: random points off the edges have one class"""
    rng = random("texture")
    sand = rng.uniform(0.0, 100.0, 20_000)
    clay = (100.0 - sand) * rng.uniform(0.0, 1.0, len(sand))
    silt = 100.0 - sand - clay
    off = np.min([np.abs(line(sand, silt, clay)) for line in LINES.values()], axis=0)
    points = np.column_stack([sand, clay])[off > 1e-6]
    ours = domain.ask("texture", points)
    for library, ask in LIBRARIES.items():
        report.same(library, ours, ask(*points.T), points)
