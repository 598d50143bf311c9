"""Readings: mean and spread, groups and their two components of variance."""
import statistics
import warnings

import numpy as np
import pandas as pd
import statsmodels.formula.api as smf
from scipy import stats
from statsmodels.stats.anova import anova_lm

from compare import check, random

N = 10_000


def grouped(rng, lengths):
    """Groups of readings with a spread between them, around a depth."""
    between, within = rng.uniform(0.0, 0.5), rng.uniform(0.02, 0.5)
    return [rng.normal(2.0 + rng.normal(0.0, between), within, n) for n in lengths]


@check([])
def mean_and_spread(domain, report):
    """Mean and standard deviation, against exact fractions of Python's own statistics module"""
    rng = random("mean")
    cases = [
        ((rng.choice([0.0, 1.0, 1e4, 1e7]) + rng.normal(0.0, 10.0 ** rng.uniform(-3.0, 2.0), n)).tolist(),)
        for n in rng.integers(2, 30, N)
    ]
    ours = domain.numbers("mean_sd", cases)
    exact = [(statistics.mean(values), statistics.stdev(values)) for (values,) in cases]
    mean, sd = np.array(exact).T
    report.close("mean", ours[:, 0], mean, cases, 1e-14, 1e-12)
    # Readings of ten million carry eight digits behind the point.
    report.close("standard deviation", ours[:, 1], sd, cases, 1e-9, 1e-10)


@check(["scipy"])
def analysis_of_variance(domain, report):
    """One-way analysis of variance: F and p, groups of unequal size"""
    rng = random("one way")
    cases = [(grouped(rng, rng.integers(2, 9, rng.integers(2, 9))),) for _ in range(N)]
    ours = domain.numbers("one_way", cases)
    theirs = np.array([stats.f_oneway(*groups) for (groups,) in cases])
    report.close("F", ours[:, 2], theirs[:, 0], cases, 1e-10, 1e-12)
    report.close("p", ours[:, 3], theirs[:, 1], cases, 1e-8, 1e-12)


@check(["statsmodels"])
def sums_of_squares(domain, report):
    """One-way table: sums of squares of a fitted linear model"""
    rng = random("squares")
    cases = [(grouped(rng, rng.integers(2, 9, rng.integers(2, 9))),) for _ in range(300)]
    theirs = []
    for (groups,) in cases:
        frame = long_form(groups)
        table = anova_lm(smf.ols("y ~ C(g)", frame).fit())
        theirs.append(table["sum_sq"].to_numpy())
    report.close("between and within", domain.numbers("one_way", cases)[:, :2], theirs, cases, 1e-9, 1e-12)


@check(["numpy"])
def components_by_expected_mean_squares(domain, report):
    """Components of variance: expected mean squares from traces of projection matrices"""
    rng = random("components")
    cases = [(grouped(rng, rng.integers(1, 7, rng.integers(2, 7))),) for _ in range(N)]
    cases = [case for case in cases if max(len(g) for g in case[0]) > 1]
    ours = domain.numbers("one_way", cases)[:, 4:7]
    report.close("n0, moment estimate, intraclass", ours, [by_traces(g) for (g,) in cases], cases, 1e-8, 1e-8)


def by_traces(groups):
    """E(MSB) = s_w2 + n0 s_b2 for readings y = Z b + e; n0 is a trace, not the textbook fraction."""
    y = np.concatenate(groups)
    z = np.repeat(np.eye(len(groups)), [len(g) for g in groups], axis=0)
    onto_groups = z @ np.linalg.pinv(z)
    onto_mean = np.full((len(y), len(y)), 1.0 / len(y))
    between, within = onto_groups - onto_mean, np.eye(len(y)) - onto_groups
    df_b, df_w = np.trace(between), np.trace(within)
    msb, msw = y @ between @ y / df_b, y @ within @ y / df_w
    n0 = np.trace(z.T @ between @ z) / df_b
    moment = (msb - msw) / n0
    positive = max(moment, 0.0)
    return n0, moment, positive / (positive + msw)


@check(["statsmodels"])
def components_by_likelihood(domain, report):
    """Components of variance: restricted maximum likelihood agrees where groups are equal"""
    rng = random("reml")
    cases, theirs = [], []
    while len(cases) < 40:
        n, k = rng.integers(3, 8), rng.integers(4, 9)
        groups = [rng.normal(2.0 + rng.normal(0.0, 0.4), 0.3, n) for _ in range(k)]
        answer = domain.numbers("one_way", [(groups,)])[0]
        if answer[2] < 1.5:
            continue  # at the edge of nothing the likelihood has no smooth top
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            fit = smf.mixedlm("y ~ 1", long_form(groups), groups="g").fit(reml=True, method=["powell", "bfgs"])
        cases.append((groups,))
        theirs.append(float(fit.cov_re.iloc[0, 0]))
    report.close("variance between", domain.numbers("one_way", cases)[:, 5], theirs, cases, 1e-3, 1e-6)


def long_form(groups):
    """One line a reading."""
    names = np.repeat(np.arange(len(groups)), [len(g) for g in groups])
    return pd.DataFrame({"y": np.concatenate(groups), "g": names})


@check(["scipy"])
def one_set_against_the_rest(domain, report):
    """Rows of one reading: Student's t of one set against the rest"""
    rng = random("apart")
    cases = []
    for _ in range(N):
        own, rest = rng.normal(0.0, 1.0, rng.integers(1, 5)), rng.normal(rng.normal(), 1.0, rng.integers(2, 12))
        cases.append(([[v] for v in own], [[v] for v in rest]))
    ours = domain.numbers("apart", cases)
    theirs = []
    for own, rest in cases:
        own, rest = np.ravel(own), np.ravel(rest)
        # The library gives no answer for a set of one; the pooled variance then comes from the rest.
        if len(own) > 1:
            p = stats.ttest_ind(own, rest).pvalue
        else:
            t = (own[0] - rest.mean()) / (rest.std(ddof=1) * np.sqrt(1.0 + 1.0 / len(rest)))
            p = 2.0 * stats.t.sf(abs(t), len(rest) - 1)
        theirs.append((own.mean() - rest.mean(), p))
    report.close("difference and p", ours, theirs, cases, 1e-8, 1e-11)
