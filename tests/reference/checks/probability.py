"""Distributions: normal, Student t, chi-square; limits of a share; many tests at once."""
import gc

import numpy as np
from scipy import stats
from statsmodels.stats.multitest import multipletests
from statsmodels.stats.proportion import proportion_confint

from compare import check, random

N = 10_000


@check(["scipy"])
def normal_distribution(domain, report):
    """Normal distribution: share below, and its inverse"""
    rng = random("normal")
    z = np.concatenate([rng.uniform(-8.0, 8.0, N), rng.uniform(-35.0, -8.0, 1_000)])
    ours = domain.numbers("phi", [(v,) for v in z])[:, 0]
    report.close("share below z", ours, stats.norm.cdf(z), z, 1e-9)
    p = np.concatenate([rng.uniform(0.0, 1.0, N), 10.0 ** rng.uniform(-15.0, -1.0, 2_000)])
    ours = domain.numbers("phi_inverse", [(v,) for v in p])[:, 0]
    report.close("z of a share", ours, stats.norm.ppf(p), p, 1e-9, 1e-9)


@check(["scipy"])
def loss_of_contact(domain, report):
    """Share of the time without contact: a normal load around its mean"""
    rng = random("contact")
    cases = list(zip(rng.uniform(0.0, 3000.0, N), rng.uniform(150.0, 1500.0, N)))
    mean, sigma = np.array(cases).T
    ours = domain.numbers("contact_loss", cases)[:, 0]
    report.close("share at a mean load and scatter", ours, stats.norm.cdf(0.0, mean, sigma), cases, 1e-9)
    cases = list(zip(10.0 ** rng.uniform(-6.0, -0.31, N), rng.uniform(50.0, 1500.0, N)))
    p, sigma = np.array(cases).T
    ours = domain.numbers("load_for_loss", cases)[:, 0]
    report.close("mean load for a share", ours, sigma * stats.norm.isf(p), cases, 1e-9, 1e-6)


@check(["scipy"])
def student_t(domain, report):
    """Student's t: two-sided critical values, p-values, and how many units are needed"""
    rng = random("student")
    df = np.concatenate([rng.integers(1, 200, N // 2), rng.uniform(1.0, 2000.0, N // 2)])
    alpha = 10.0 ** rng.uniform(-6.0, -0.01, N)
    cases = list(zip(alpha, df))
    ours = domain.numbers("t_critical", cases)[:, 0]
    report.close("critical values", ours, stats.t.isf(alpha / 2.0, df), cases, 1e-7, 1e-9)
    t = rng.normal(0.0, 4.0, N)
    cases = list(zip(t, df))
    ours = domain.numbers("t_p_value", cases)[:, 0]
    report.close("p-values", ours, 2.0 * stats.t.sf(np.abs(t), df), cases, 1e-9)
    units(domain, report, rng)


def units(domain, report, rng):
    """The smallest number of units whose mean is known well enough, by trying them all at once."""
    most = 300
    k = np.arange(2, most + 1)
    factor = stats.t.isf(0.025, k - 1) / np.sqrt(k)
    sd, half = rng.uniform(0.05, 3.0, N), rng.uniform(0.05, 1.0, N)
    cases = [(s, h, most) for s, h in zip(sd.tolist(), half.tolist())]
    fits = factor[None, :] * sd[:, None] <= half[:, None]
    theirs = [float(k[np.argmax(row)]) if row.any() else None for row in fits]
    ours = [None if a is None else a[0] for a in domain.ask("units_needed", cases)]
    report.same("units needed", ours, theirs, cases)


@check(["statsmodels"])
def limits_of_a_share(domain, report):
    """Wilson limits of a counted share, also for counts that are not whole"""
    rng = random("wilson")
    of = np.concatenate([rng.integers(1, 400, N // 2), rng.uniform(1.0, 60.0, N // 2)])
    share = rng.uniform(0.0, 1.0, N)
    whole = np.floor(share[: N // 2] * (of[: N // 2] + 1))
    count = np.minimum(np.concatenate([whole, share[N // 2 :] * of[N // 2 :]]), of)
    alpha = rng.uniform(0.001, 0.5, N)
    cases = list(zip(count, of, 1.0 - alpha))
    ours = domain.numbers("wilson", cases)
    low, high = proportion_confint(count, of, alpha=alpha, method="wilson")
    # At 0 and at all of them the limit is the share itself; the library leaves a rounding error.
    theirs = np.column_stack([np.minimum(low, count / of), np.maximum(high, count / of)])
    report.close("low and high limit", ours, theirs, cases, 1e-9, 1e-12)


@check(["scipy"])
def limits_of_a_spread(domain, report):
    """Limits of a standard deviation from chi-square"""
    rng = random("chi square")
    sd, df = rng.uniform(0.01, 5.0, N), rng.integers(1, 300, N)
    confidence = rng.uniform(0.5, 0.999, N)
    cases = list(zip(sd, df, confidence))
    ours = domain.numbers("sd_limits", cases)
    tail = (1.0 - confidence) / 2.0
    theirs = np.column_stack([sd * np.sqrt(df / stats.chi2.isf(tail, df)), sd * np.sqrt(df / stats.chi2.ppf(tail, df))])
    report.close("low and high limit", ours, theirs, cases, 1e-7)


@check(["statsmodels"])
def many_tests_at_once(domain, report):
    """Holm's adjustment: lists of 1 to 40 p-values, with ties, zeros and ones"""
    rng = random("holm")
    cases, ours, theirs = [], [], []
    for size in rng.integers(1, 41, 2_000):
        p = rng.uniform(0.0, 1.0, size) ** rng.choice([1.0, 3.0, 8.0])
        if rng.random() < 0.3:
            p = np.round(p, 2)
        cases.append((p,))
    # The library collects garbage at every call: 0.1 s each unless what is there is left alone.
    gc.freeze()
    for (p,), answer in zip(cases, domain.ask("holm", cases)):
        ours += answer
        theirs += multipletests(p, method="holm")[1].tolist()
    gc.unfreeze()
    report.close("adjusted p-values", ours, theirs, ours, 1e-12, 1e-15)
