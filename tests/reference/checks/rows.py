"""Rows as units: limits of the two components, of a mean, of a spread; tests of one row against the others."""
import gc

import numpy as np
import statsmodels.api as sm
from scipy import stats
from statsmodels.stats.multitest import multipletests

from compare import check, random

N = 2_000


def rows_of(rng, least=2, most=9, least_rows=2):
    """Rows of readings with a spread between them; every other dig has rows of one size."""
    k = rng.integers(least_rows, 9)
    sizes = np.full(k, rng.integers(least, most)) if rng.random() < 0.5 else rng.integers(least, most, k)
    between, within = rng.choice([0.0, 0.05, 0.3]), rng.uniform(0.02, 0.4)
    return [(2.0 + rng.normal(0.0, between) + rng.normal(0.0, within, n)).tolist() for n in sizes]


@check(["scipy"])
def fisher_snedecor(domain, report):
    """Fisher's F: points and tails"""
    rng = random("f")
    df, other = rng.integers(1, 60, N), rng.integers(1, 400, N)
    p, f = rng.uniform(0.001, 0.999, N), 10.0 ** rng.uniform(-3.0, 2.0, N)
    cases = list(zip(p, df, other))
    report.close("points", domain.numbers("f_point", cases)[:, 0], stats.f.ppf(p, df, other), cases, 1e-7)
    cases = list(zip(f, df, other))
    report.close("tails", domain.numbers("f_tail", cases)[:, 0], stats.f.sf(f, df, other), cases, 1e-8, 1e-14)


@check(["scipy"])
def exact_test_of_counts(domain, report):
    """Fisher's exact test of two counts"""
    rng = random("exact")
    of, other = rng.integers(1, 120, N), rng.integers(1, 400, N)
    share = rng.choice([0.0, 0.02, 0.1, 0.5], N)
    hits, other_hits = rng.binomial(of, np.minimum(1.0, share * rng.choice([1, 3], N))), rng.binomial(other, share)
    cases = list(zip(hits, of, other_hits, other))
    theirs = [stats.fisher_exact([[a, b - a], [c, d - c]]).pvalue for a, b, c, d in cases]
    report.close("p-values", domain.numbers("fisher_exact", cases)[:, 0], theirs, cases, 1e-8, 1e-13)


@check(["scipy", "numpy"])
def limits_of_components(domain, report):
    """Limits of the components: the modified large-sample formulas, written out again"""
    rng = random("component limits")
    cases = [(rows_of(rng), c) for c in rng.uniform(0.5, 0.99, N)]
    cases = [case for case in cases if min(np.var(g) for g in case[0]) > 0.0]
    ours = domain.numbers("component_limits", cases)
    theirs = np.array([by_mean_squares(*case) for case in cases])
    report.close("between and total", ours[:, :4], theirs, cases, 1e-6, 1e-9)


def by_mean_squares(groups, confidence):
    """Lower and upper limit of s_b2 and of s_b2 + s_w2, drawn out to the moment estimates."""
    up, low = (1.0 + confidence) / 2.0, (1.0 - confidence) / 2.0
    sizes = np.array([len(g) for g in groups])
    k, n = len(groups), sizes.sum()
    a, b = k - 1, n - k
    means = np.array([np.mean(g) for g in groups])
    msw = sum(np.sum((np.array(g) - m) ** 2) for g, m in zip(groups, means)) / b
    h = stats.hmean(sizes)
    s1, s2, s3 = means.var(ddof=1), msw / h, msw * (1.0 - 1.0 / h)
    g1, g2 = 1 - a / stats.chi2.ppf(up, a), 1 - b / stats.chi2.ppf(up, b)
    h1, h2 = a / stats.chi2.ppf(low, a) - 1, b / stats.chi2.ppf(low, b) - 1
    fu, fl = stats.f.ppf(up, a, b), stats.f.ppf(low, a, b)
    g12 = ((fu - 1) ** 2 - g1**2 * fu**2 - h2**2) / fu
    h12 = ((1 - fl) ** 2 - h1**2 * fl**2 - g2**2) / fl
    vl = g1**2 * s1**2 + h2**2 * s2**2 + g12 * s1 * s2
    vu = h1**2 * s1**2 + g2**2 * s2**2 + h12 * s1 * s2
    between = [max(0.0, s1 - s2 - np.sqrt(max(vl, 0.0))), max(0.0, s1 - s2 + np.sqrt(max(vu, 0.0)))]
    total = [max(0.0, s1 + s3 - np.hypot(g1 * s1, g2 * s3)), s1 + s3 + np.hypot(h1 * s1, h2 * s3)]
    n0 = (n - (sizes**2).sum() / n) / a
    grand = np.concatenate(groups).mean()
    moment = max(0.0, ((sizes * (means - grand) ** 2).sum() / a - msw) / n0)
    return [
        min(between[0], moment), max(between[1], moment),
        min(total[0], moment + msw), max(total[1], moment + msw),
    ]


@check(["scipy", "numpy"])
def limits_of_the_intraclass_correlation(domain, report):
    """Intraclass correlation: at its limits the generalized least squares of all readings meet the points of F"""
    rng = random("intraclass")
    cases = [(rows_of(rng, least_rows=3), 0.95) for _ in range(600)]
    ours = domain.numbers("component_limits", cases)[:, 4:6]
    got, asked, kept = [], [], []
    for (groups, confidence), limits in zip(cases, ours):
        for share, p in zip(limits, [(1 + confidence) / 2, (1 - confidence) / 2]):
            # A limit that stopped at 0, or was drawn out to the estimate, meets no point of F.
            if 1e-9 < share < 1.0 - 1e-6:
                got.append(f_at(groups, share))
                asked.append(p)
                kept.append((groups, share))
    found = np.array([stats.f.cdf(f, len(g) - 1, sum(map(len, g)) - len(g)) for f, (g, _) in zip(got, kept)])
    drawn_out = np.abs(found - asked) > 1e-6
    if drawn_out.mean() > 0.02:
        raise AssertionError(f"{drawn_out.sum()} of {len(found)} limits meet no point of F")
    keep = ~drawn_out
    report.close("share of F below", found[keep], np.array(asked)[keep], [c for c, k in zip(kept, keep) if k], 1e-6)
    report.note("limits drawn out to the estimate", int(drawn_out.sum()), f"of {len(found)}")


def f_at(groups, share):
    """The F of all row means being one, when the readings have this intraclass correlation."""
    y = np.concatenate(groups)
    z = np.repeat(np.eye(len(groups)), [len(g) for g in groups], axis=0)
    ratio = share / (1.0 - share)
    covariance = np.linalg.inv(np.eye(len(y)) + ratio * z @ z.T)
    ones = np.ones((len(y), 1))
    one = covariance - covariance @ ones @ np.linalg.inv(ones.T @ covariance @ ones) @ ones.T @ covariance
    inside = np.eye(len(y)) - z @ np.linalg.pinv(z)
    within = y @ inside @ y
    df, other = len(groups) - 1, len(y) - len(groups)
    return (y @ one @ y - within) / df / (within / other)


@check(["statsmodels"])
def limits_of_a_mean(domain, report):
    """Limits of a mean with rows as units: least squares with a covariance by clusters"""
    rng = random("cluster")
    cases = [(rows_of(rng, 1, 30), c) for c in rng.uniform(0.5, 0.99, N)]
    theirs = []
    for groups, confidence in cases:
        y = np.concatenate(groups)
        row = np.repeat(np.arange(len(groups)), [len(g) for g in groups])
        fit = sm.OLS(y, np.ones_like(y)).fit(cov_type="cluster", cov_kwds={"groups": row}, use_t=True)
        theirs.append(fit.conf_int(1.0 - confidence)[0])
    report.close("low and high", domain.numbers("mean_limits", cases), theirs, cases, 1e-6, 1e-9)


@check(["scipy", "numpy"])
def limits_by_leaving_out(domain, report):
    """Limits of a spread with rows as units: pseudo-values, each row left out in turn"""
    rng = random("jackknife")
    cases = [(rows_of(rng, 2, 30, 3), c) for c in rng.uniform(0.5, 0.99, N)]
    for name, figure in [
        ("sd_by_group", lambda x: x.std(ddof=1)),
        ("cv_by_group", lambda x: x.std(ddof=1) / x.mean()),
    ]:
        theirs = [by_pseudo_values(*case, figure) for case in cases]
        report.close(name.split("_")[0], domain.numbers(name, cases), theirs, cases, 1e-6, 1e-12)


def by_pseudo_values(groups, confidence, figure):
    k = len(groups)
    whole = np.log(figure(np.concatenate(groups)))
    rest = [np.log(figure(np.concatenate(groups[:i] + groups[i + 1 :]))) for i in range(k)]
    pseudo = k * whole - (k - 1) * np.array(rest)
    half = stats.t.isf((1.0 - confidence) / 2.0, k - 1) * stats.sem(pseudo)
    return np.exp([whole - half, whole + half])


@check(["scipy", "statsmodels"])
def scatter_of_one_row(domain, report):
    """One row that scatters more than the others: F of its variance, held for the number of rows"""
    rng = random("scatter")
    cases = [(rows_of(rng, 3, 9),) for _ in range(N)]
    # Readings finer than the ruler count as the ruler reads them; here every row scatters more.
    cases = [case for case in cases if min(np.std(g, ddof=1) for g in case[0]) > 0.05][:500]
    ours, theirs = [], []
    gc.freeze()  # the library collects garbage at every call
    for (groups,), answer in zip(cases, domain.ask("scatter", cases)):
        squares = np.array([np.sum((np.array(g) - np.mean(g)) ** 2) for g in groups])
        df = np.array([len(g) - 1 for g in groups])
        f = squares / df / ((squares.sum() - squares) / (df.sum() - df))
        p = stats.f.sf(f, df, df.sum() - df)
        ours += answer
        theirs += multipletests(p, method="holm")[1].tolist()
    gc.unfreeze()
    report.close("p-values", ours, theirs, ours, 1e-7, 1e-12)
