"""Trials: distributions, power, and whole analyses on random data."""
import warnings

import numpy as np
import pandas as pd
import statsmodels.formula.api as smf
from scipy import stats
from statsmodels.stats.anova import anova_lm
from statsmodels.stats.multitest import multipletests
from statsmodels.stats.power import TTestIndPower, TTestPower

from compare import check, random


@check(["scipy"])
def studentized_range(domain, report):
    """Studentized range: chance and critical value"""
    rng = random("studentized")
    # The library's own integral stops at 1e-7 or so.
    cases = [(rng.uniform(0.2, 9.0), int(k), float(df)) for k, df in zip(rng.integers(2, 16, 300), rng.integers(1, 80, 300))]
    theirs = [stats.studentized_range.sf(*case) for case in cases]
    report.close("chance", domain.numbers("studentized_tail", cases)[:, 0], theirs, cases, 1e-6, 1e-8)
    cases = [(float(rng.choice([0.1, 0.05, 0.01])), int(rng.integers(2, 9)), float(rng.integers(2, 40))) for _ in range(60)]
    theirs = [stats.studentized_range.isf(*case) for case in cases]
    report.close("critical value", domain.numbers("studentized_critical", cases)[:, 0], theirs, cases, 1e-6)


@check(["scipy", "statsmodels"])
def noncentral_t(domain, report):
    """Noncentral t, and the power of t tests"""
    rng = random("noncentral")
    df, effect, t = rng.integers(1, 200, 3000), rng.uniform(-5.0, 8.0, 3000), rng.uniform(-4.0, 8.0, 3000)
    cases = list(zip(t, df, effect))
    theirs = stats.nct.sf(t, df, effect)
    report.close("chance above", domain.numbers("noncentral_t_above", cases)[:, 0], theirs, cases, 1e-8, 1e-9)
    critical = np.abs(t)
    cases = list(zip(effect, critical, df))
    theirs = stats.nct.sf(critical, df, effect) + stats.nct.sf(critical, df, -effect)
    report.close("chance beyond", domain.numbers("t_power", cases)[:, 0], theirs, cases, 1e-8, 1e-9)
    cases = list(zip(rng.uniform(0.5, 0.99, 500), stats.t.isf(0.025, df[:500]), df[:500]))
    found = domain.numbers("effect_for_power", cases)[:, 0]
    power, critical = np.array([c[0] for c in cases]), np.array([c[1] for c in cases])
    back = stats.nct.sf(critical, df[:500], found) + stats.nct.sf(critical, df[:500], -found)
    report.close("the power of the effect that is found", back, power, cases, 1e-7)
    paired, plain = [], []
    for _ in range(600):
        n, sd = int(rng.integers(2, 60)), rng.uniform(0.2, 4.0)
        # Beyond an effect of seven standard errors the library has no answer.
        d = sd * rng.uniform(0.05, 7.0) * np.sqrt(2.0 / n)
        percent = int(rng.choice([90, 95]))
        alpha = 1.0 - percent / 100.0
        # Plots of one pair differ by the square root of two more than one plot.
        power = TTestPower().power(d / (sd * np.sqrt(2.0)), n, alpha, df=n - 1)
        paired.append((("paired", 2, 1, percent, n, d, sd), power))
        power = TTestIndPower().power(d / sd, n, alpha, ratio=1.0)
        plain.append((("completely_randomised", 2, 1, percent, n, d, sd), power))
    for what, found in [("power of pairs", paired), ("power without blocks", plain)]:
        cases = [case for case, _ in found]
        report.close(what, domain.numbers("trial_power", cases)[:, 0], [p for _, p in found], cases, 1e-8, 1e-9)


@check(["statsmodels"])
def sizes_of_trials(domain, report):
    """Replications needed: the library's own search, rounded up"""
    rng = random("sizes")
    cases, theirs = [], []
    while len(cases) < 200:
        ratio, power = rng.uniform(0.5, 3.0), rng.uniform(0.6, 0.95)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            n = TTestPower().solve_power(ratio / np.sqrt(2.0), None, 0.05, power)
        n = float(np.atleast_1d(n)[0])
        # Where the search ends on a whole number, rounding decides; below two there is no trial.
        if not 2.0 < n < 99.0 or abs(n - round(n)) < 1e-4:
            continue
        cases.append(("paired", 2, 1, 95, ratio, 1.0, power))
        theirs.append(float(np.ceil(n)))
    report.same("pairs", [a[0] for a in domain.ask("trial_size", cases)], theirs, cases)


@check(["scipy"])
def dunnett(domain, report):
    """Dunnett: one-way trials of unequal sizes, compared to the noise of the library's integral"""
    rng = random("dunnett")
    cases, ours, theirs = [], [], []
    for _ in range(120):
        sizes = rng.integers(2, 9, rng.integers(3, 6))
        groups = [rng.normal(rng.normal(0.0, 0.7), 1.0, n) for n in sizes]
        case = ("completely_randomised", len(groups), 0, 95, plots(groups))
        cases.append(case)
        found = domain.ask("trial", [case])[0]
        library = stats.dunnett(*groups[1:], control=groups[0], random_state=np.random.default_rng(1))
        ours.append(pad([[e[4], e[5]] for e in found["effects"]]))
        theirs.append(pad(np.column_stack([library.statistic, library.pvalue])))
    report.close("statistic and chance", ours, theirs, cases, 1e-6, 2e-3)


@check(["scipy"])
def dunnett_integral(domain, report):
    """Dunnett: two comparisons by a nested integral of another kind, to many digits"""
    rng = random("dunnett integral")
    cases, theirs = [], []
    for _ in range(40):
        a, b, t, df = rng.uniform(0.1, 0.95), rng.uniform(0.1, 0.95), rng.uniform(0.3, 4.0), int(rng.integers(2, 30))
        cases.append((t, [a, b], float(df)))
        theirs.append(1.0 - box(t, a * b, df))
    report.close("chance", domain.numbers("dunnett_tail", cases)[:, 0], theirs, cases, 1e-6, 1e-8)
    cases = [(0.05, loadings, df) for _, loadings, df in cases]
    found = domain.numbers("dunnett_critical", cases)[:, 0]
    back = [1.0 - box(t, a * b, df) for t, (_, (a, b), df) in zip(found, cases)]
    report.close("the chance beyond the critical value", back, np.full(len(cases), 0.05), cases, 1e-6)


def box(t, correlation, df):
    """P(|T1| < t, |T2| < t) of a bivariate t, over the angle of its elliptic contours."""
    # In white axes the contours are circles; the square becomes a lozenge, met at radius r(angle).
    angle = np.linspace(0.0, 2.0 * np.pi, 200_001)[:-1]
    c, s = np.cos(angle), np.sin(angle)
    second = correlation * c + np.sqrt(1.0 - correlation**2) * s
    radius = t / np.maximum(np.abs(c), np.abs(second))
    return np.mean(1.0 - (1.0 + radius**2 / df) ** (-df / 2.0))


@check(["scipy", "statsmodels"])
def tests_of_shape(domain, report):
    """Shapiro and Wilk, Brown and Forsythe, Bartlett, Grubbs, Benjamini and Hochberg"""
    rng = random("shape")
    draw = [lambda n: rng.normal(50.0, 3.0, n), lambda n: rng.exponential(2.0, n), lambda n: np.round(rng.normal(8.0, 2.0, n), 1)]
    samples = []
    while len(samples) < 3000:
        x = draw[rng.integers(3)](int(rng.integers(3, 60)))
        if np.ptp(x) > 0:
            samples.append((x,))
    theirs = [stats.shapiro(x) for (x,) in samples]
    report.close("Shapiro and Wilk", domain.numbers("shapiro_wilk", samples), theirs, samples, 1e-4, 1e-6)
    cases = [([rng.normal(0.0, rng.uniform(0.5, 2.0), n) for n in rng.integers(3, 9, rng.integers(2, 6))],) for _ in range(3000)]
    theirs = [stats.levene(*groups, center="median") for (groups,) in cases]
    report.close("Brown and Forsythe", domain.numbers("brown_forsythe", cases), theirs, cases, 1e-8, 1e-11)
    theirs = [stats.bartlett(*groups) for (groups,) in cases]
    report.close("Bartlett", domain.numbers("bartlett", cases), theirs, cases, 1e-8, 1e-10)
    even = [([v.var(ddof=1) for v in rng.normal(0.0, 1.0, (k, n))], float(n)) for k, n in rng.integers(2, 9, (1000, 2))]
    theirs = []
    for variances, n in even:
        k, c = len(variances), max(variances) / sum(variances)
        theirs.append((c, min(1.0, k * stats.f.sf((k - 1) * c / (1.0 - c), n - 1, (k - 1) * (n - 1)))))
    report.close("Cochran", domain.numbers("cochran", even), theirs, even, 1e-8, 1e-12)
    theirs = []
    for (x,) in samples:
        n, g = len(x), np.max(np.abs(x - x.mean())) / x.std(ddof=1)
        left = (n - 1) ** 2 - n * g * g
        p = n * 2.0 * stats.t.sf(np.sqrt(n * (n - 2) * g * g / left), n - 2) if left > 1e-9 else 0.0
        theirs.append((g, min(p, 1.0)))
    keep = [i for i, (g, _) in enumerate(theirs) if (len(samples[i][0]) - 1) ** 2 - len(samples[i][0]) * g * g > 1e-6]
    cases = [samples[i] for i in keep]
    report.close("Grubbs", domain.numbers("grubbs", cases), [theirs[i] for i in keep], cases, 1e-7, 1e-9)
    cases = [(rng.uniform(0.0, 1.0, n) ** rng.choice([1.0, 4.0]),) for n in rng.integers(1, 30, 500)]
    ours = np.concatenate(domain.ask("benjamini_hochberg", cases))
    theirs = np.concatenate([stats.false_discovery_control(p) for (p,) in cases])
    report.close("Benjamini and Hochberg", ours, theirs, list(ours), 1e-12, 1e-15)
    ours = np.concatenate(domain.ask("benjamini_hochberg", cases[:50]))
    theirs = np.concatenate([multipletests(p, method="fdr_bh")[1] for (p,) in cases[:50]])
    report.close("the same by another library", ours, theirs, list(ours), 1e-12, 1e-15)


@check(["scipy"])
def exact_tests_of_pairs(domain, report):
    """Signed ranks and sign flips, exact"""
    rng = random("exact pairs")
    cases = [(rng.normal(rng.normal(), 2.0, n),) for n in rng.integers(3, 30, 1000)]
    theirs = [stats.wilcoxon(d, method="exact") for (d,) in cases]
    report.close("signed ranks", domain.numbers("signed_rank", cases), theirs, cases, 1e-9, 1e-12)
    # With ties: every sign by the library's enumeration.
    cases = [(np.round(rng.normal(0.7, 2.0, n)),) for n in rng.integers(4, 11, 60)]
    cases = [(d,) for (d,) in cases if np.count_nonzero(d) > 2]
    flips, ranks = [], []
    for (d,) in cases:
        flips.append(flip(d, d))
        left = d[d != 0]
        ranks.append(flip(left, np.sign(left) * stats.rankdata(np.abs(left))))
    ours = domain.numbers("sign_flip", cases)[:, 0]
    report.close("sign flips", ours, flips, cases, 1e-9, 1e-12)
    report.close("signed ranks with ties", domain.numbers("signed_rank", cases)[:, 1], ranks, cases, 1e-9, 1e-12)


def flip(differences, scores):
    """All signs, by the library."""
    if np.sum(scores) == 0:
        return 1.0
    found = stats.permutation_test(
        (scores,), lambda x, axis: np.sum(x, axis=axis), permutation_type="samples",
        n_resamples=np.inf, vectorized=True, alternative="two-sided",
    )
    return found.pvalue


@check(["scipy"])
def paired_trials(domain, report):
    """Paired trials: t test, limits, means"""
    rng = random("paired trials")
    cases, theirs = [], []
    for _ in range(1000):
        n, percent = int(rng.integers(2, 16)), int(rng.choice([90, 95]))
        one = rng.normal(180.0, 20.0, n)
        other = one + rng.normal(3.0, rng.uniform(1.0, 15.0), n)
        cases.append(("paired", 2, 0, percent, plots_in_blocks([one, other])))
        test = stats.ttest_rel(other, one)
        low, high = test.confidence_interval(percent / 100.0)
        theirs.append([np.mean(other - one), test.statistic, test.pvalue, low, high, one.mean(), other.mean()])
    ours = []
    for found in domain.ask("trial", cases):
        _, _, difference, _, t, p, low, high = found["effects"][0]
        ours.append([difference, t, p, low, high, *found["means"]])
    report.close("difference, t, chance, limits, means", ours, theirs, cases, 1e-8, 1e-9)


@check(["statsmodels", "scipy"])
def blocks_with_lost_plots(domain, report):
    """Randomised blocks, plots lost, samples averaged: least squares of a second implementation"""
    rng = random("blocks")
    cases, table, contrasts, means, apart, bell, scatter = [], [], [], [], [], [], []
    ours = {name: [] for name in ["table", "contrasts", "means", "apart", "bell", "scatter"]}
    while len(cases) < 150:
        treatments, blocks = int(rng.integers(3, 6)), int(rng.integers(3, 7))
        frame = pd.DataFrame([(t, b) for t in range(treatments) for b in range(blocks)], columns=["t", "b"])
        lost = int(rng.integers(0, 4))
        frame = frame.drop(rng.choice(len(frame), lost, replace=False)).reset_index(drop=True)
        if frame.t.nunique() < treatments or frame.groupby("b").size().min() < 2 or frame.b.nunique() < blocks:
            continue
        level = rng.normal(0.0, 5.0, treatments)[frame.t] + rng.normal(0.0, 9.0, blocks)[frame.b]
        samples = [rng.normal(180.0 + m + rng.normal(0.0, 3.0), 4.0, rng.integers(1, 6)) for m in level]
        frame["y"] = [s.mean() for s in samples]
        listed = [[int(t), int(b), s] for t, b, s in zip(frame.t, frame.b, samples)]
        case = ("randomised_blocks", treatments, -1, 95, listed)
        found = domain.ask("trial", [case])[0]
        fit = smf.ols("y ~ C(b) + C(t)", frame).fit()
        lines = anova_lm(fit)
        cases.append(case[:4])
        table.append([lines.F["C(t)"], lines["PR(>F)"]["C(t)"], fit.mse_resid, fit.df_resid])
        ours["table"].append([found["f"], found["p"], found["error"], found["df"]])
        tests = [fit.t_test(contrast(fit, e[0], e[1])) for e in found["effects"]]
        critical = stats.studentized_range.isf(0.05, treatments, fit.df_resid) / np.sqrt(2.0)
        theirs = []
        for test in tests:
            difference, se, t = float(test.effect[0]), float(np.ravel(test.sd)[0]), float(np.ravel(test.tvalue)[0])
            p = stats.studentized_range.sf(abs(t) * np.sqrt(2.0), treatments, fit.df_resid)
            theirs.append([difference, se, t, p, difference - critical * se, difference + critical * se])
        contrasts.append(pad(theirs, 10))
        ours["contrasts"].append(pad([e[2:] for e in found["effects"]], 10))
        whole = [fit.predict(pd.DataFrame({"t": t, "b": range(blocks)})).mean() for t in range(treatments)]
        means.append(pad([[m] for m in whole], 6))
        ours["means"].append(pad([[m] for m in found["means"]], 6))
        # A plot that decides its own fitted value can't stand apart; the library divides by zero there.
        if fit.get_influence().hat_matrix_diag.max() < 1.0 - 1e-8:
            far = fit.outlier_test(method="bonferroni")
            apart.append([far.iloc[:, 0].abs().max(), far.iloc[:, 2].min()])
            ours["apart"].append(found["apart"])
        bell.append(list(stats.shapiro(fit.resid)))
        ours["bell"].append(found["bell"])
        groups = [fit.resid[frame.t == t] for t in range(treatments)]
        groups = [g for g in groups if len(g) > 2]
        if found["scatter"] is None or len(groups) < 2:
            continue
        scatter.append(list(stats.levene(*groups, center="median")))
        ours["scatter"].append(found["scatter"])
    report.close("F, chance, error, degrees of freedom", ours["table"], table, cases, 1e-7, 1e-9)
    report.close("differences of all pairs", ours["contrasts"], contrasts, cases, 1e-6, 1e-8)
    report.close("adjusted means", ours["means"], means, cases, 1e-9, 1e-9)
    report.close("the plot farthest off", ours["apart"], apart, apart, 1e-6, 1e-9)
    report.close("shape of what is left", ours["bell"], bell, cases, 1e-4, 1e-6)
    report.close("scatter of treatments", ours["scatter"], scatter, scatter, 1e-6, 1e-8)


def contrast(fit, treatment, against):
    """The weights of one difference."""
    names = list(fit.params.index)
    weights = np.zeros(len(names))
    for place, sign in [(treatment, 1.0), (against, -1.0)]:
        name = f"C(t)[T.{place}]"
        if name in names:
            weights[names.index(name)] = sign
    return weights


@check(["statsmodels", "scipy"])
def split_plots_with_lost_parts(domain, report):
    """Split plots, parts lost: a mixed model of another library; degrees of freedom by dense matrices"""
    rng = random("split plots")
    cases, ours, theirs, means, errors = [], [], [], [], []
    our_means, our_errors = [], []
    while len(cases) < 60:
        blocks, wholes, parts = int(rng.integers(4, 7)), int(rng.integers(2, 4)), int(rng.integers(2, 5))
        frame = pd.DataFrame(
            [(b, w, p) for b in range(blocks) for w in range(wholes) for p in range(parts)], columns=["b", "w", "p"]
        )
        plot = frame.b * wholes + frame.w
        frame["y"] = (
            150.0 + rng.normal(0.0, 6.0, blocks)[frame.b] + rng.normal(0.0, 4.0, (wholes, parts))[frame.w, frame.p]
            + rng.normal(0.0, 4.0, blocks * wholes)[plot] + rng.normal(0.0, 3.0, len(frame))
        )
        frame["plot"] = plot
        frame = frame.drop(rng.choice(len(frame), int(rng.integers(1, 5)), replace=False)).reset_index(drop=True)
        if frame.groupby(["w", "p"]).size().shape[0] < wholes * parts or frame.b.nunique() < blocks:
            continue
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            fit = smf.mixedlm("y ~ C(b) + C(w) * C(p)", frame, groups="plot").fit(reml=True, method=["powell", "bfgs"])
        between, within = float(fit.cov_re.iloc[0, 0]), float(fit.scale)
        if between < 0.05 * within:
            continue  # at the edge of nothing the likelihood has no smooth top
        listed = [[int(b), int(w), int(p), float(y)] for b, w, p, y in zip(frame.b, frame.w, frame.p, frame.y)]
        case = (wholes, parts, 95, listed)
        found = domain.ask("split_plot", [case])[0]
        by_hand = dense_split_plot(frame, blocks, wholes, parts, between, within)
        cases.append(case[:3])
        ours.append(np.ravel([found["wholes"], found["parts"], found["together"]]).astype(float))
        theirs.append(np.ravel([by_hand["wholes"], by_hand["parts"], by_hand["together"]]))
        levels = [(w, p) for w in range(wholes) for p in range(parts)]
        expected = [fit.predict(pd.DataFrame({"w": w, "p": p, "b": range(blocks)})).mean() for w, p in levels]
        means.append(pad([[m] for m in expected], 12))
        our_means.append(pad([[m] for m in found["means"]], 12))
        errors.append(np.ravel(by_hand["least"]))
        our_errors.append(np.ravel(found["least"]))
    # The library's search ends where the likelihood is flat to six digits or so.
    report.close("F, degrees of freedom, chance", ours, theirs, cases, 5e-3, 1e-5)
    report.close("means without the loss", our_means, means, cases, 1e-5)
    report.close("largest standard errors and least differences", our_errors, errors, cases, 5e-3)


def dense_split_plot(frame, blocks, wholes, parts, between, within):
    """F, Satterthwaite's degrees of freedom and chance at given variances, from whole matrices."""
    y = frame.y.to_numpy()
    cell = frame.w.to_numpy() * parts + frame.p.to_numpy()
    x = np.column_stack([np.eye(blocks)[frame.b][:, 1:] - np.eye(blocks)[frame.b][:, :1], np.eye(wholes * parts)[cell]])
    kinds = [(frame["plot"].to_numpy()[:, None] == frame["plot"].to_numpy()[None, :]).astype(float), np.eye(len(y))]

    def covariance(variances):
        inverse = np.linalg.inv(variances[0] * kinds[0] + variances[1] * kinds[1])
        return np.linalg.inv(x.T @ inverse @ x), inverse

    at = np.array([between, within])
    of_effects, inverse = covariance(at)
    effects = of_effects @ x.T @ inverse @ y
    kept = inverse - inverse @ x @ of_effects @ x.T @ inverse
    doubt = 2.0 * np.linalg.inv([[np.trace(kept @ a @ kept @ b) for b in kinds] for a in kinds])

    def freedom(weights):
        steep = []
        for i in range(2):
            step = np.zeros(2)
            step[i] = 1e-4 * at[i]
            ends = [weights @ covariance(at + s)[0] @ weights for s in (step, -step)]
            steep.append((ends[0] - ends[1]) / (2.0 * step[i]))
        return 2.0 * (weights @ of_effects @ weights) ** 2 / (np.array(steep) @ doubt @ np.array(steep))

    def test(sums):
        sums = np.array(sums)
        values, vectors = np.linalg.eigh(sums @ of_effects @ sums.T)
        each = np.array([freedom(v @ sums) for v in vectors.T])
        f = float(np.mean((vectors.T @ sums @ effects) ** 2 / values))
        if np.ptp(each) < 1e-7 * each.max():
            df = each.min()
        else:
            e = np.sum(each / (each - 2.0))
            df = 2.0 * e / (e - len(each))
        return [f, df, stats.f.sf(f, len(each), df)]

    first = blocks - 1

    def weigh(grid):
        return np.concatenate([np.zeros(first), np.ravel(grid)])

    def unit(w, p):
        grid = np.zeros((wholes, parts))
        grid[w, p] = 1.0
        return grid

    row = [sum(unit(w, p) for p in range(parts)) / parts for w in range(wholes)]
    column = [sum(unit(w, p) for w in range(wholes)) / wholes for p in range(parts)]
    pairs = lambda n: [(a, b) for a in range(n) for b in range(a + 1, n)]
    compared = [
        [row[a] - row[b] for a, b in pairs(wholes)],
        [column[a] - column[b] for a, b in pairs(parts)],
        [unit(w, a) - unit(w, b) for w in range(wholes) for a, b in pairs(parts)],
        [unit(a, p) - unit(b, p) for p in range(parts) for a, b in pairs(wholes)],
    ]
    least = []
    for grids in compared:
        errors = [np.sqrt(weigh(g) @ of_effects @ weigh(g)) for g in grids]
        each = [(e * stats.t.isf(0.025, freedom(weigh(g))), e) for e, g in zip(errors, grids)]
        worst = max(each)
        least.append([worst[1], worst[0]])
    return {
        "wholes": test([weigh(row[w] - row[0]) for w in range(1, wholes)]),
        "parts": test([weigh(column[p] - column[0]) for p in range(1, parts)]),
        "together": test([
            weigh(unit(w, p) - unit(w, 0) - unit(0, p) + unit(0, 0)) for w in range(1, wholes) for p in range(1, parts)
        ]),
        "least": least,
    }


@check(["statsmodels"])
def same_in_all_blocks(domain, report):
    """Tukey's one degree of freedom: a column of products added to the model"""
    rng = random("additive")
    cases, ours, theirs = [], [], []
    for _ in range(150):
        treatments, blocks = int(rng.integers(2, 6)), int(rng.integers(3, 7))
        values = rng.normal(100.0, 8.0, (treatments, blocks)) + rng.normal(0.0, 10.0, blocks)
        case = ("randomised_blocks", treatments, -1, 95, plots_in_blocks(values))
        found = domain.ask("trial", [case])[0]
        product = np.outer(values.mean(axis=1) - values.mean(), values.mean(axis=0) - values.mean())
        frame = pd.DataFrame({
            "y": values.ravel(), "x": product.ravel(),
            "t": np.repeat(range(treatments), blocks), "b": np.tile(range(blocks), treatments),
        })
        lines = anova_lm(smf.ols("y ~ C(b) + C(t) + x", frame).fit())
        cases.append(case[:4])
        ours.append(found["additive"])
        theirs.append([lines.F["x"], lines["PR(>F)"]["x"]])
    report.close("F and chance", ours, theirs, cases, 1e-6, 1e-8)


@check(["scipy"])
def all_pairs_without_blocks(domain, report):
    """Tukey and Kramer without blocks, unequal sizes"""
    rng = random("tukey")
    cases, ours, theirs = [], [], []
    for _ in range(80):
        groups = [rng.normal(rng.normal(0.0, 1.0), 1.0, n) for n in rng.integers(2, 8, rng.integers(3, 6))]
        case = ("completely_randomised", len(groups), -1, 95, plots(groups))
        found = domain.ask("trial", [case])[0]
        library = stats.tukey_hsd(*groups)
        limits = library.confidence_interval(0.95)
        rows = []
        for treatment, against, *_ in found["effects"]:
            at = (treatment, against)
            rows.append([library.statistic[at], library.pvalue[at], limits.low[at], limits.high[at]])
        cases.append(case[:4])
        ours.append(pad([[e[2], e[5], e[6], e[7]] for e in found["effects"]], 10))
        theirs.append(pad(rows, 10))
    report.close("difference, chance, limits", ours, theirs, cases, 1e-6, 1e-7)


@check(["statsmodels"])
def components_of_sampled_plots(domain, report):
    """Scatter of plots and of samples in blocks: restricted maximum likelihood"""
    rng = random("sampled")
    cases, ours, theirs = [], [], []
    while len(cases) < 25:
        treatments, blocks, samples = 3, 5, int(rng.integers(3, 6))
        frame = pd.DataFrame([(t, b, s) for t in range(treatments) for b in range(blocks) for s in range(samples)], columns=["t", "b", "s"])
        frame["plot"] = frame.t * blocks + frame.b
        frame["y"] = 100.0 + rng.normal(0.0, 4.0, treatments * blocks)[frame["plot"]] + rng.normal(0.0, 3.0, len(frame))
        listed = [[int(t), int(b), group.y.to_numpy()] for (t, b), group in frame.groupby(["t", "b"])]
        found = domain.ask("trial", [("randomised_blocks", treatments, -1, 95, listed)])[0]
        if found["parts"][0] < 1.0:
            continue  # at the edge of nothing the likelihood has no smooth top
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            fit = smf.mixedlm("y ~ C(t) + C(b)", frame, groups="plot").fit(reml=True, method=["powell", "bfgs"])
        cases.append(samples)
        ours.append(found["parts"])
        theirs.append([float(fit.cov_re.iloc[0, 0]), fit.scale])
    report.close("variances", ours, theirs, cases, 2e-3, 1e-6)


def plots(groups):
    """Groups as plots without blocks."""
    return [[t, i, [v]] for t, values in enumerate(groups) for i, v in enumerate(values)]


def plots_in_blocks(rows):
    """One row a treatment, one column a block."""
    return [[t, b, [v]] for t, values in enumerate(rows) for b, v in enumerate(values)]


def pad(rows, length=8):
    """Rows of equal number for all cases."""
    rows = [list(row) for row in rows]
    return rows + [[0.0] * len(rows[0])] * (length - len(rows))
