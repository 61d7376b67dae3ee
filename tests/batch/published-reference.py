#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes tests/data/published/reference.json: what SciPy says about the published data sets that test-published.py
makes books of. Written from the definitions, without Fettle. Needs python3-scipy; run by hand when a case is added.

Sources of the data sets: gear.csv and mavro.csv NIST (e-Handbook of Statistical Methods; Statistical Reference
Datasets), piston-rings.csv and orange-juice.csv Montgomery 1991, Introduction to Statistical Quality Control.
"""
import csv
import json
import math
import pathlib

import numpy as np
import scipy
from scipy import integrate, optimize, stats

folder = pathlib.Path(__file__).resolve().parents[1] / 'data' / 'published'


def column(name, key):
    with open(folder / name, newline='') as f:
        return [float(row[key]) for row in csv.DictReader(f)]


def one_sided(values, limit, upper, coverage):
    """Chance that the share inside is at least coverage: noncentral t (ISO 16269-6)."""
    n, mean, sd = len(values), np.mean(values), np.std(values, ddof=1)
    k = (limit - mean) / sd if upper else (mean - limit) / sd
    return float(stats.nct.cdf(k * math.sqrt(n), n - 1, stats.norm.ppf(coverage) * math.sqrt(n)))


def two_sided(values, lower, upper, coverage):
    """The same between two limits: quadrature over the deviation, its chi-square divided by n - 1."""
    n, mean, sd = len(values), np.mean(values), np.std(values, ddof=1)
    width, middle = upper - lower, (upper + lower) / 2

    def given(v):
        sigma = sd * math.sqrt((n - 1) / v)
        if 2 * stats.norm.cdf(width / 2 / sigma) - 1 <= coverage:
            return 0.0
        d = optimize.brentq(lambda x: stats.norm.cdf((width / 2 - x) / sigma) - stats.norm.cdf((-width / 2 - x) / sigma)
                            - coverage, 0, width, xtol=1e-14)
        root = math.sqrt(n)
        return (stats.norm.cdf((middle + d - mean) * root / sigma) - stats.norm.cdf((middle - d - mean) * root / sigma)) \
            * stats.chi2.pdf(v, n - 1)
    # beyond these quantiles lies less than 1e-13
    low, high = stats.chi2.ppf([1e-14, 1 - 1e-14], n - 1)
    return integrate.quad(given, low, high, limit=400, epsabs=1e-12, epsrel=1e-11)[0]


def three_lots(groups, lower, coverage, draws=2_000_000, seed=7):
    """Generalised confidence with lots as a random effect: Mee and Owen 1983, Krishnamoorthy and Mathew 2004 (from memory)."""
    a = len(groups)
    m = a / sum(1 / len(g) for g in groups)
    means = np.array([np.mean(g) for g in groups])
    within = sum(((np.array(g) - np.mean(g)) ** 2).sum() for g in groups)
    between = m * ((means - means.mean()) ** 2).sum()
    n = sum(len(g) for g in groups)
    random = np.random.default_rng(seed)
    var_e = within / random.chisquare(n - a, draws)
    chi_a = random.chisquare(a - 1, draws)
    var_a = np.maximum(0, (between / chi_a - var_e) / m)
    mu = means.mean() - random.standard_normal(draws) * np.sqrt(between / (chi_a * a * m))
    share = stats.norm.sf((lower - mu) / np.sqrt(var_a + var_e))
    return float((share >= coverage).mean())


gear = column('gear.csv', 'diameter')
with open(folder / 'gear.csv', newline='') as f:
    batches = {}
    for row in csv.DictReader(f):
        batches.setdefault(row['batch'], []).append(float(row['diameter']))
first = [batches[b] for b in ('1', '2', '3')]
rings = column('piston-rings.csv', 'diameter')
mavro = column('mavro.csv', 'value')
out = {'made_by': f'SciPy {scipy.__version__}, NumPy {np.__version__}'}

# NIST e-Handbook 7.2.6.3: with n = 6, coverage 0.90 and confidence 0.99 the one-sided factor is 4.4111. A lower limit
# so far below the mean of any six values has the confidence 0.99; on logarithms it is higher, so 0.99 is the least.
six = gear[:6]
limit = float(np.mean(six) - 4.4111 * np.std(six, ddof=1))
out['one-sided-factor'] = {'lower': limit, 'coverage': 0.90, 'confidence': one_sided(six, limit, False, 0.90),
                           'log_normal': one_sided(np.log(six), math.log(limit), False, 0.90)}
limit = 2.0032
out['one-sided'] = {'upper': limit, 'coverage': 0.99, 'normal': one_sided(mavro, limit, True, 0.99),
                    'log_normal': one_sided(np.log(mavro), math.log(limit), True, 0.99)}
# Montgomery's limits of the rings are 74.000 +- 0.05 mm.
out['two-sided'] = {'lower': 73.95, 'upper': 74.05, 'coverage': 0.99999,
                    'normal': two_sided(rings, 73.95, 74.05, 0.99999),
                    'log_normal': two_sided(np.log(rings), math.log(73.95), math.log(74.05), 0.99999)}
failed, tried = int(sum(column('orange-juice.csv', 'defective'))), int(sum(column('orange-juice.csv', 'size')))
out['checked'] = {'failed': failed, 'n': tried, 'coverage': 0.75, 'confidence': float(stats.binom.sf(failed, tried, 0.25))}
limit = 0.98
out['three-lots'] = {'lower': limit, 'coverage': 0.95, 'lots': three_lots(first, limit, 0.95),
                     'pooled': one_sided(sum(first, []), limit, False, 0.95),
                     'pooled_log_normal': one_sided(np.log(sum(first, [])), math.log(limit), False, 0.95)}
(folder / 'reference.json').write_text(json.dumps(out, indent=2) + '\n')
print(json.dumps(out, indent=2))
