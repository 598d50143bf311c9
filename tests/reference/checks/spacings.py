"""Spacings of a dig: indices of both conventions and their limits, all worked out again with numpy."""
import gc

import numpy as np
from scipy import stats
from statsmodels.stats.multitest import multipletests
from statsmodels.stats.proportion import proportion_confint

from checks.rows import by_pseudo_values
from compare import check, random

WANTED, WIDTH = 6.5, 30.0
ACRE = 43_560.0 * 144.0 * (1200.0 / 3937.0 / 0.3048) ** 2  # of the survey foot, in square inches


def digs(rng, number):
    """Rows of spacings with skips and multiples; half of them on the marks of a ruler."""
    found = []
    for _ in range(number):
        rows = []
        for _ in range(rng.integers(1, 6)):
            n = rng.integers(2, 40)
            kind = rng.choice(4, n, p=rng.dirichlet([1.0, 12.0, 1.0, 0.3]))
            one = rng.normal(WANTED, rng.uniform(0.1, 0.25) * WANTED, n)
            row = np.select([kind == 0, kind == 2, kind == 3], [one * 0.2, one + WANTED, one + 3 * WANTED], one)
            row = np.clip(row, 0.05, 45.0)
            rows.append(row)
        if rng.random() < 0.5:
            # Quarters meet the ends of the regions: 3.25, 9.75, 16.25, 22.75 in.
            rows = [np.maximum(np.round(row * 4.0) / 4.0, 0.25) for row in rows]
        found.append(([row.tolist() for row in rows],))
    return found


@check(["numpy", "scipy", "statsmodels"])
def spacings_of_a_dig(domain, report):
    """Spacings: regions, positions, shares, precision, population, with their limits"""
    cases = digs(random("spacings"), 500)
    answers = domain.ask("dig_spacings", cases)
    pairs = {}
    gc.freeze()  # the library behind Holm's adjustment collects garbage at every call
    for (rows,), answer in zip(cases, answers):
        rows = [np.array(row) for row in rows]
        compare_all(pairs, rows, answer)
        for row, own in zip(rows, answer["rows"]):
            compare_row(pairs, row, own)
        compare_faults(pairs, rows, answer["rows"])
    gc.unfreeze()
    for what, (ours, theirs) in pairs.items():
        report.close(what, ours, theirs, ours, 1e-8, 1e-9)


def put(pairs, what, ours, theirs):
    """Keeps a pair; one that is missing here must be missing there."""
    ours, theirs = np.ravel([ours]), np.ravel([theirs])
    missing = ours[0] is None, theirs[0] is None
    if missing[0] != missing[1]:
        raise AssertionError(f"{what}: {ours}, reference {theirs}")
    if not missing[0]:
        kept = pairs.setdefault(what, ([], []))
        kept[0].extend(map(float, ours))
        kept[1].extend(map(float, theirs))


def compare_all(pairs, rows, answer):
    all_of = np.concatenate(rows)
    units = rows if len(rows) > 1 else [np.array([s]) for s in rows[0]]
    put(pairs, "rows are the units", answer["of_planter"], len(rows) > 1)
    mean, sd = all_of.mean(), all_of.std(ddof=1)
    put(pairs, "mean", answer["mean"], mean)
    put(pairs, "standard deviation", answer["sd"], sd)
    put(pairs, "variation", answer["cv"], sd / mean)
    put(pairs, "population", answer["population"], ACRE / WIDTH / mean)
    limits = of_mean(units)
    put(pairs, "limits of the mean", answer["mean_limits"], np.maximum(limits, 0.0))
    if limits[0] > 1e-3:
        put(pairs, "limits of the population", answer["population_limits"], ACRE / WIDTH / limits[::-1])
    put(pairs, "limits of the deviation", answer["sd_limits"], of_figure(units, spread))
    put(pairs, "limits of the variation", answer["cv_limits"], of_figure(units, lambda x: spread(x) / x.mean()))
    compare_indices(pairs, units, answer["against"])


def compare_row(pairs, row, own):
    units = [np.array([s]) for s in row]
    put(pairs, "row: limits of the mean", own["mean_limits"], np.maximum(of_mean(units), 0.0))
    put(pairs, "row: deviation", own["sd"], row.std(ddof=1))
    put(pairs, "row: has indices", own["against"] is not None, len(row) >= 10)
    put(pairs, "row: meter", own["meter_check"], len(row) >= 10 and row.std(ddof=1) > 3.0)
    if own["against"] is not None:
        compare_indices(pairs, units, own["against"])


def compare_indices(pairs, units, against):
    all_of = np.concatenate(units)
    region = np.searchsorted([0.5, 1.5, 2.5, 3.5], all_of / WANTED - 1e-9)
    counts = np.bincount(region, minlength=5)
    put(pairs, "regions", against["regions"], counts)
    doubled = counts[0]
    alone, empty = len(all_of) - 2 * doubled, counts[2] + 2 * counts[3] + 3 * counts[4]
    put(pairs, "seed positions", against["positions"], [doubled, alone, empty] if alone >= 0 else None)
    for name, of in [("multiples", region == 0), ("singles", region == 1), ("skips", region > 1)]:
        put(pairs, f"share of {name}", against[name], of_share(units, of))
    singles = all_of[region == 1]
    sd = spread(singles)
    precision = [sd / WANTED, sd / singles.mean()] if sd is not None else [None, None]
    put(pairs, "precision", against["precision"], precision)
    only = [unit[(unit / WANTED > 0.5 + 1e-9) & (unit / WANTED <= 1.5 + 1e-9)] for unit in units]
    only = [unit for unit in only if len(unit)]
    put(pairs, "limits of precision", against["precision_limits"], of_figure(only, spread, WANTED))
    put(pairs, "limits of precision over the mean", against["singles_cv_limits"],
        of_figure(only, lambda x: spread(x) / x.mean()))
    put(pairs, "population off", against["population_off"], WANTED / all_of.mean() - 1.0)
    limits = of_mean(units)
    if limits[0] > 1e-3:
        put(pairs, "limits of population off", against["population_off_limits"], WANTED / limits[::-1] - 1.0)


def compare_faults(pairs, rows, answers):
    faults = [int(np.sum((r / WANTED <= 0.5 + 1e-9) | (r / WANTED > 1.5 + 1e-9))) for r in rows]
    looked_at = [len(rows) > 1 and len(r) >= 10 for r in rows]
    p = []
    for row, own, at in zip(rows, faults, looked_at):
        if at:
            other, of = sum(faults) - own, sum(map(len, rows)) - len(row)
            p.append(stats.fisher_exact([[own, len(row) - own], [other, of - other]]).pvalue)
    held = iter(multipletests(p, method="holm")[1] if p else [])
    for answer, at in zip(answers, looked_at):
        put(pairs, "row: faults against the others", answer["faults_p"], next(held) if at else None)


def spread(x):
    return x.std(ddof=1) if len(x) > 1 else None


def of_mean(units):
    """Student's t on what each unit adds to the mean."""
    all_of = np.concatenate(units)
    added = np.array([np.sum(u - all_of.mean()) for u in units])
    k = len(units)
    half = stats.t.isf(0.025, k - 1) * np.sqrt(k / (k - 1) * np.sum(added**2)) / len(all_of)
    return np.array([all_of.mean() - half, all_of.mean() + half])


def of_figure(units, figure, over=1.0):
    """Pseudo-values; nothing where a part has no spread or the limits are more than 400-fold apart."""
    k = len(units)
    if k < 2:
        return None
    parts = [np.concatenate(units)] + [np.concatenate(units[:i] + units[i + 1 :]) for i in range(k)]
    if any(len(part) < 2 or np.ptp(part) < 1e-9 for part in parts):
        return None
    limits = by_pseudo_values(units, 0.95, figure) / over
    # Where leaving a unit out changes nothing there is nothing to judge by.
    return limits if 1.0 + 1e-9 < limits[1] / limits[0] <= 400.0 else None


def of_share(units, marks):
    """Wilson on an effective number of spacings: what the likeness of a row and few rows leave."""
    groups, at = [], 0
    for unit in units:
        groups.append(marks[at : at + len(unit)].astype(float))
        at += len(unit)
    sizes = np.array([len(g) for g in groups])
    n, k, share, worth = sizes.sum(), len(groups), marks.mean(), float(sizes.sum())
    if n > k > 1:
        means = np.array([g.mean() for g in groups])
        n0 = (n - (sizes**2).sum() / n) / (k - 1)
        msw = sum(np.sum((g - g.mean()) ** 2) for g in groups) / (n - k)
        between = max(0.0, ((sizes * (means - share) ** 2).sum() / (k - 1) - msw) / n0)
        if between > 0.0:
            few = (stats.t.isf(0.025, k - 1) / stats.norm.isf(0.025)) ** 2
            worth = max(n / (1.0 + (n0 - 1.0) * between / (between + msw) * few), k)
    low, high = proportion_confint(share * worth, worth, method="wilson")
    return [share, min(low, share), max(high, share), worth]
