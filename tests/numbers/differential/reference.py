#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""reference.py COUNT SEED FOLDER: random small-sample cases of each method with the answers of SciPy, as lines of the check
values (tests/data/check-values/README.md; the tolerance "*" is that of all keys), one file a method."""
import json
import math
import os
import sys

import numpy
import scipy
from scipy import integrate, optimize, special, stats

COUNT, SEED, FOLDER = int(sys.argv[1]), int(sys.argv[2]), sys.argv[3]
KIND = "reference library: SciPy " + scipy.__version__
CASES = []


def method(name, source, rel=1e-8, abs_=1e-10):
    """Registers a function that draws an input and answers (input, expect)."""
    def register(draw):
        CASES.append((name, source, rel, abs_, draw))
        return draw
    return register


@method("demonstration", "binom")
def demonstration(rng):
    failures, tolerated = int(rng.integers(0, 6)), float(rng.choice([0.3, 0.1, 0.05, 0.01, 0.001]))
    if rng.random() < 0.5:
        units = failures + int(rng.integers(1, 200))
        return ({"reliability": 1 - tolerated, "failures": failures, "units": units},
                {"confidence": stats.binom.sf(failures, units, 1 - (1 - tolerated))})
    wanted = float(rng.choice([0.5, 0.8, 0.9, 0.95, 0.99]))
    units = failures + 1
    while stats.binom.cdf(failures, units, 1 - (1 - tolerated)) > (1 - wanted) * (1 + 1e-12):
        units += 1
    return {"reliability": 1 - tolerated, "failures": failures, "confidence": wanted}, {"units": units}


def e_value(k, n, p0):
    mixed = (special.betaln(k + 1, n - k + 1) + stats.beta.logcdf(p0, k + 1, n - k + 1)
             - (k + 1) * math.log(p0) - (n - k) * math.log1p(-p0))
    return 0.5 * math.exp(mixed) + (0.5 * (1 - p0) ** -n if k == 0 else 0)


@method("anytime", "betaln and beta.logcdf")
def anytime(rng):
    p0, n = float(rng.choice([0.3, 0.1, 0.05, 0.01])), int(rng.integers(1, 400))
    k = int(min(n, rng.integers(0, 8)))
    e = e_value(k, n, p0)
    return {"failed": k, "units": n, "tolerated": p0}, {"e": e, "confidence": max(0.0, 1 - 1 / e)}


def one_limit(n, distance, coverage):
    """Integral of Phi over the chi density: the noncentral t without a series."""
    z = stats.norm.ppf(coverage)
    slice_ = lambda u: stats.norm.cdf(math.sqrt(n) * (distance * u - z)) * 2 * (n - 1) * u * stats.chi2.pdf((n - 1) * u * u, n - 1)
    reach = 12 / math.sqrt(2 * (n - 1))
    edge = z / distance if distance > 0 else 1
    points = [p for p in (edge, 1.0) if max(0, 1 - reach) < p < 1 + reach]
    return integrate.quad(slice_, max(0, 1 - reach), 1 + reach, points=points, epsabs=1e-12, epsrel=1e-10, limit=400)[0]


def two_limits(n, mean, lower, upper, coverage):
    """For each sigma the means that conform are an interval, found by brentq; integrated over the chi-square of sigma."""
    width, middle = upper - lower, 0.5 * (upper + lower)
    most = 0.5 * width / stats.norm.ppf(0.5 * (1 + coverage))

    def slice_(angle):  # sigma = most sin(angle) takes the root-like end away
        sigma = most * math.sin(angle)
        inside = lambda d: stats.norm.cdf((0.5 * width - d) / sigma) - stats.norm.cdf((-0.5 * width - d) / sigma) - coverage
        if sigma <= 0 or inside(0) <= 0:
            return 0.0
        d = optimize.brentq(inside, 0, width + 10 * sigma, xtol=1e-14)
        v = (n - 1) / sigma ** 2
        share = stats.norm.cdf((middle + d - mean) * math.sqrt(n) / sigma) - stats.norm.cdf((middle - d - mean) * math.sqrt(n) / sigma)
        return share * stats.chi2.pdf(v, n - 1) * 2 * v / sigma * most * math.cos(angle)

    centre = math.asin(min(1, 1 / most))
    points = [p for p in (0.5 * centre, centre) if p < math.pi / 2]
    return integrate.quad(slice_, 0, math.pi / 2, points=points, epsabs=1e-9, epsrel=1e-8, limit=200)[0]


@method("conformance", "noncentral t as an integral, and the integral over sigma, both by quad", rel=1e-6, abs_=2e-7)
def conformance(rng):
    n, mean = int(rng.integers(2, 40)), round(float(rng.normal(0, 0.5)), 3)
    coverage, upper = float(rng.choice([0.3, 0.8, 0.9, 0.95, 0.99])), round(float(rng.uniform(0.5, 5)), 3)
    question = {"n": n, "mean": mean, "sd": 1, "upper": upper, "coverage": coverage}
    if rng.random() < 0.4:
        return question, {"confidence": one_limit(n, upper - mean, coverage), "share": stats.norm.cdf(upper - mean)}
    lower = round(float(-rng.uniform(0.5, 5)), 3)
    return (dict(question, lower=lower),
            {"confidence": two_limits(n, mean, lower, upper, coverage),
             "share": stats.norm.cdf(upper - mean) - stats.norm.cdf(lower - mean)})


@method("permutation", "permutation_test, all arrangements; p as the share of differences at least as large")
def permutation(rng):
    before = [round(float(v), 2) for v in rng.normal(10, 1, int(rng.integers(2, 7)))]
    after = [round(float(v), 2) for v in rng.normal(10.5, 1, int(rng.integers(2, 7)))]
    size = lambda a, b: abs(numpy.mean(a) - numpy.mean(b))
    # one-sided in the size of the difference is two-sided in the difference
    p = stats.permutation_test((after, before), size, n_resamples=numpy.inf, alternative="greater").pvalue
    return ({"before": before, "after": after, "confidence": 0.9},
            {"difference": float(numpy.mean(after) - numpy.mean(before)), "p": float(p)})


@method("life", "chi2 at the least sum over the range of the shape, by bounded minimising", rel=1e-6)
def life(rng):
    failures, stops = int(rng.integers(0, 3)), int(rng.integers(1, 20))
    failed = [round(float(v)) for v in rng.uniform(300, 3000, failures)]
    stopped = [round(float(v)) for v in rng.uniform(300, 3000, stops)]
    low = round(float(rng.uniform(0.5, 2)), 2)
    high = round(low + float(rng.uniform(0, 3)), 2)
    share, at = float(rng.choice([0.8, 0.9, 0.95])), 1000
    total = lambda shape: sum((t / at) ** shape for t in failed + stopped)
    least = min(total(low), total(high))
    if high > low:
        least = min(least, optimize.minimize_scalar(total, bounds=(low, high), method="bounded", options={"xatol": 1e-11}).fun)
    return ({"failed": failed, "stopped": stopped, "at": at, "share": share, "shape_range": [low, high]},
            {"confidence": stats.chi2.cdf(-2 * math.log(share) * least, 2 * failures + 2)})


@method("discovery", "brentq of the likelihood equation", rel=1e-7)
def discovery(rng):
    n, end = int(rng.integers(4, 40)), 100.0
    times = [round(float(v), 2) for v in end * rng.beta(1, 2.5, n)]
    mean = sum(times) / n
    slope = lambda rate: n / rate - sum(times) - n * end / math.expm1(rate * end)
    if not 0 < mean < 0.49 * end:
        return discovery(rng)
    rate = optimize.brentq(slope, 1e-6, 5, xtol=1e-15, rtol=1e-14)
    total = n / -math.expm1(-rate * end)
    return ({"times": times, "end": end},
            {"rate": rate, "total": total, "laplace": (mean - end / 2) / (end * math.sqrt(1 / (12 * n)))})


@method("growth", "sums of logarithms; time-truncated interval by Bessel sums, failure-truncated by quad of two chi2", rel=1e-6)
def growth(rng):
    n, end, level = int(rng.integers(3, 20)), 500.0, float(rng.choice([0.8, 0.9, 0.95]))
    times = sorted(round(float(v), 1) for v in end * rng.uniform(0.01, 1, n) ** 1.5)
    half, kind = (1 - level) / 2, str(rng.choice(["time", "failure"]))
    if kind == "failure":
        end = times[-1]
    beta = n / sum(math.log(end / t) for t in times)
    if kind == "time":
        k = numpy.arange(1, 400)

        def tail(z, upper):
            weight = 2 * k * math.log(z) - special.gammaln(k + 1) - special.gammaln(k)
            weight = numpy.exp(weight - weight.max())
            return float((weight[k >= n] if upper else weight[k <= n]).sum() / weight.sum()) - half
        low_z = optimize.brentq(lambda z: tail(z, True), 1e-3, 300, xtol=1e-13)
        high_z = optimize.brentq(lambda z: tail(z, False), 1e-3, 300, xtol=1e-13)
        factors = [n * n / high_z ** 2, n * n / low_z ** 2]
    else:
        def below(q):
            f = lambda y: stats.chi2.cdf(q / y, 2 * (n - 1)) * stats.chi2.pdf(y, 2 * n)
            return integrate.quad(f, 0, 2 * n + 30 * math.sqrt(4 * n) + 60, points=[2 * n], epsabs=1e-13, epsrel=1e-11, limit=400)[0]
        centre = 4.0 * n * (n - 1)
        quantile = lambda p: optimize.brentq(lambda q: below(q) - p, centre * 1e-4, centre * 60, xtol=1e-10)
        factors = [4 * n * n / quantile(1 - half), 4 * n * n / quantile(half)]
    return ({"times": times, "end": end, "truncation": kind, "confidence": level},
            {"beta": beta, "lambda": n / end ** beta, "mtbf_interval": [end / (n * beta) * f for f in factors]})


@method("normality", "Anderson and Darling's statistic by anderson")
def normality(rng):
    values = [round(float(v), 3) for v in (rng.normal(5, 1, int(rng.integers(8, 40))) if rng.random() < 0.6
                                           else rng.exponential(2, int(rng.integers(8, 40))))]
    return {"values": values}, {"a2": float(stats.anderson(values, "norm").statistic)}


@method("yield", "beta.ppf of a pure sequence and of one step", rel=1e-7)
def yield_(rng):
    units, steps = int(rng.integers(5, 60)), []
    first_in = units
    for _ in range(int(rng.integers(1, 5))):
        good = int(rng.binomial(units, rng.uniform(0.6, 1)))
        if good == 0:
            break
        steps.append({"in": units, "first": good, "reworked": 0, "scrapped": units - good})
        units = good
    if not steps:
        return yield_(rng)
    k = steps[-1]["first"]
    ends = stats.beta.ppf([0.05, 0.95], k + 0.5, first_in - k + 0.5)
    high = 1.0 if all(s["first"] == s["in"] for s in steps) else float(ends[1])
    return ({"steps": steps, "confidence": 0.9, "target": 0.5},
            {"rolled": math.prod(s["first"] / s["in"] for s in steps), "rolled_interval": [float(ends[0]), high],
             "target_confidence": stats.beta.sf(0.5, k + 0.5, first_in - k + 0.5)})


@method("individuals", "NumPy sums")
def individuals(rng):
    values = [round(float(v), 3) for v in rng.normal(10, 1, int(rng.integers(2, 30)))]
    mr_bar, mean = float(numpy.mean(numpy.abs(numpy.diff(values)))), float(numpy.mean(values))
    sd = mr_bar / (2 / math.sqrt(math.pi))
    return {"values": values}, {"mean": mean, "mr_bar": mr_bar, "lower": mean - 3 * sd, "upper": mean + 3 * sd}


def draws(rng, groups, limits, coverage, count=400000):
    """The generalised confidence as the method defines it, by NumPy's own generator."""
    a, sizes = len(groups), numpy.array([len(g) for g in groups])
    means = numpy.array([numpy.mean(g) for g in groups])
    m = a / (1 / sizes).sum()
    between = m * ((means - means.mean()) ** 2).sum()
    within = sum(((numpy.array(g) - numpy.mean(g)) ** 2).sum() for g in groups)
    error = within / rng.chisquare(sizes.sum() - a, count)
    ratio = between / rng.chisquare(a - 1, count)
    sd = numpy.sqrt(error + numpy.maximum(0, (ratio - error) / m))
    mean = means.mean() - rng.normal(size=count) * numpy.sqrt(ratio / (a * m))
    share = special.ndtr((limits[1] - mean) / sd) - special.ndtr((limits[0] - mean) / sd)
    return float((share >= coverage).mean())


@method("lots", "400,000 draws of the definition by NumPy; four standard errors of both", rel=0, abs_=0.0055)
def lots(rng):
    groups = [[round(float(v), 3) for v in rng.normal(rng.normal(0, 0.6), 1, int(rng.integers(2, 8)))]
              for _ in range(int(rng.integers(3, 7)))]
    low, high = round(float(-rng.uniform(2, 6)), 2), round(float(rng.uniform(2, 6)), 2)
    everything = numpy.concatenate(groups)
    coverage = float(rng.choice([0.8, 0.9, 0.99]))
    reached = draws(rng, groups, (low, high), coverage)
    sd = float(everything.std(ddof=1))
    pooled = two_limits(len(everything), float(everything.mean()) / sd, low / sd, high / sd, coverage)
    return {"groups": groups, "lower": low, "upper": high, "coverage": coverage}, {"confidence": min(reached, pooled)}


def plain(value):
    if isinstance(value, (list, tuple)):
        return [plain(v) for v in value]
    if isinstance(value, dict):
        return {k: plain(v) for k, v in value.items()}
    return value.item() if isinstance(value, numpy.generic) else value


def main():
    for number, (name, source, rel, abs_, draw) in enumerate(CASES):
        rng = numpy.random.default_rng([SEED, number])
        with open(os.path.join(FOLDER, "scipy-%s.jsonl" % name), "w", encoding="utf-8") as out:
            for i in range(COUNT):
                question, expect = draw(rng)
                json.dump({"id": "scipy-%s-%d" % (name, i + 1), "source": source, "source_kind": KIND,
                           "input": dict(method=name, **question), "expect": plain(expect), "tolerance": {"*": {"rel": rel, "abs": abs_}}},
                          out, separators=(",", ":"))
                out.write("\n")


if __name__ == "__main__":
    main()
