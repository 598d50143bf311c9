"""Uncertain numbers: moments of sums and products, and the curve that stands for them."""
import numpy as np
from scipy import stats

from compare import check, random

N = 10_000
NODES, WEIGHTS = np.polynomial.legendre.leggauss(3)


def triangles(rng, count):
    """Low, likely and high; some with the peak at an end."""
    low = rng.uniform(-2.0, 5.0, count)
    width = 10.0 ** rng.uniform(-1.0, 1.0, count)
    peak = np.where(rng.random(count) < 0.1, rng.integers(0, 2, count), rng.random(count))
    return np.column_stack([low, low + peak * width, low + width])


def nodes(triangle):
    """Points and weights that integrate any cubic against the triangular density exactly."""
    low, peak, high = triangle
    points, weights = [], []
    for a, b in [(low, peak), (peak, high)]:
        if b > a:
            x = (a + b) / 2.0 + (b - a) / 2.0 * NODES
            density = stats.triang.pdf(x, (peak - low) / (high - low), low, high - low)
            points.append(x)
            weights.append(WEIGHTS * (b - a) / 2.0 * density)
    return np.concatenate(points), np.concatenate(weights)


def moments(x, w):
    """Mean, standard deviation and skewness of weighted points."""
    mean = np.sum(w * x)
    sd = np.sqrt(np.sum(w * (x - mean) ** 2))
    return mean, sd, np.sum(w * (x - mean) ** 3) / sd**3


@check(["scipy", "numpy"])
def moments_of_sums_and_products(domain, report):
    """A + B C of triangular numbers: three moments, against integrals over their densities"""
    rng = random("moments")
    cases = [tuple(t.tolist() for t in triangles(rng, 3)) for _ in range(N)]
    theirs = []
    for a, b, c in cases:
        (xa, wa), (xb, wb), (xc, wc) = nodes(a), nodes(b), nodes(c)
        x = xa[:, None, None] + xb[None, :, None] * xc[None, None, :]
        w = wa[:, None, None] * wb[None, :, None] * wc[None, None, :]
        theirs.append(moments(x, w))
    report.close("mean, spread, skew", domain.numbers("sum_with_product", cases), theirs, cases, 1e-8, 1e-7)


@check(["scipy", "numpy"])
def moments_by_ratio(domain, report):
    """Half below the likely figure and half above, thinning out in logarithms: three moments, by integration"""
    rng = random("by ratio")
    likely = 10.0 ** rng.uniform(-2.0, 4.0, N)
    below, above = 10.0 ** rng.uniform(-2.0, 0.6, (2, N))
    cases = [(three,) for three in np.column_stack([likely * np.exp(-below), likely, likely * np.exp(above)]).tolist()]
    x, weight = np.polynomial.legendre.leggauss(40)
    u, weight = (x + 1.0) / 2.0, weight / 2.0
    theirs = []
    for ((low, middle, high),) in cases:
        # A triangle on either side: the density 2 (1 - u) of the way to the end.
        ways = np.concatenate([np.log(low / middle) * u, np.log(high / middle) * u])
        masses = np.tile(weight * (1.0 - u), 2)
        theirs.append(moments(middle * np.exp(ways), masses))
    report.close("mean, spread, skew", domain.numbers("by_ratio", cases), theirs, cases, 1e-7, 1e-6)


@check(["scipy", "numpy"])
def moments_of_mixtures(domain, report):
    """A with a chance, else B: three moments"""
    rng = random("mixture")
    cases = [(*(t.tolist() for t in triangles(rng, 2)), float(rng.random())) for _ in range(N)]
    theirs = []
    for a, b, share in cases:
        (xa, wa), (xb, wb) = nodes(a), nodes(b)
        theirs.append(moments(np.concatenate([xa, xb]), np.concatenate([share * wa, (1.0 - share) * wb])))
    report.close("mean, spread, skew", domain.numbers("mixture", cases), theirs, cases, 1e-8, 1e-7)


@check(["scipy"])
def pearson_three(domain, report):
    """Pearson III curve with the moments of a triangle, against the exact distribution"""
    rng = random("pearson")
    cases = [(t.tolist(), float(rng.uniform(-2.5, 2.5)), float(rng.uniform(0.01, 0.99))) for t in triangles(rng, N)]
    ours = domain.numbers("curve", cases)
    peak = np.array([(t[1] - t[0]) / (t[2] - t[0]) for t, _, _ in cases])
    mean, variance, skew = stats.triang.stats(peak, moments="mvs")
    low, width = np.array([(t[0], t[2] - t[0]) for t, _, _ in cases]).T
    theirs = np.column_stack([low + width * mean, width * np.sqrt(variance), skew])
    report.close("moments of one triangle", ours[:, :3], theirs, cases, 1e-8, 1e-7)
    at, share = np.array([(x, p) for _, x, p in cases]).T
    # The cube of Wilson and Hilferty stands for the gamma curve: an approximation, with its error.
    report.close("share below", ours[:, 3], stats.pearson3.cdf(at, skew), cases, 0.0, 2e-3)
    standard = (ours[:, 4] - ours[:, 0]) / ours[:, 1]
    report.close("quantile, in standard deviations", standard, stats.pearson3.ppf(share, skew), cases, 0.0, 1e-2)
