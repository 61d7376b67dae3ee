#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A chart of single values and a capability study of published data, through files, book and verb.

flowrate.csv: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 (ten batches of a liquid).
capability-bissell.csv: Bissell 1990, Applied Statistics 39, 331-340, limits 5.49 and 5.79.
"""
import csv
from math import sqrt
from statistics import NormalDist, mean, quantiles, stdev

from batch_books import Model, serials
from batch_tap import data, done, ok, refuse, run


def column(name, key):
    with open(data / 'published' / name, newline='') as f:
        return [float(row[key]) for row in csv.DictReader(f)]


def close(got, expected, tolerance):
    return got is not None and abs(got - expected) <= tolerance


def stored(name, values, lower=None, upper=None, shape='normal'):
    model = Model(name)
    model.characteristic('X', decimals=2, shape=shape)
    if lower is not None or upper is not None:
        model.limit('X', lower, upper)
    names = serials(len(values))
    model.units(names)
    for serial, value in zip(names, values):
        model.reading(serial, 'X', value)
    answer = model.store()
    ok(answer.status == 0, f'{name}: the book is made by the importer', answer)
    return model


def readings(model, *more):
    return run('readings', '-c', 'X', '--json', '--book', model.book, '--today', '2026-03-01', *more).json()


# The handbook: mean 50.81, mean moving range 1.8778, limits 45.8159 and 55.8041 with d2 rounded to 1.128, no signal.
flow = column('flowrate.csv', 'flowrate')
model = stored('flow', flow)
answer = readings(model)
ok(close(answer['centre'], 50.81, 1e-9), 'centre line as the handbook has it', answer)
ok(close(answer['moving_range'], 1.8778, 6e-5), 'mean moving range as the handbook has it', answer['moving_range'])
ok(close(answer['control_lower'], 45.8159, 0.002) and close(answer['control_upper'], 55.8041, 0.002),
   'limits as the handbook has them, but for its rounded d2', answer)
ok(answer['signals'] == [] and answer['so_far'] is True, 'no signal, and ten values are told as so far', answer)
ok(answer['capability']['state'] == 'no-limits' and answer['capability']['ppk'] is None, 'without limits no capability', answer)

# One value far out: rule 1 names its unit; the mean moving range by hand.
far = flow + [70.0]
answer = readings(stored('far', far))
ranges = [abs(b - a) for a, b in zip(far, far[1:])]
upper = mean(far) + 3 * mean(ranges) * sqrt(3.141592653589793) / 2
ok(close(answer['control_upper'], upper, 1e-9) and far[-1] > upper, 'the limit is that worked out here', (answer, upper))
ok([(s['unit'], s['rule']) for s in answer['signals']] == [('U0011', 1)], 'the signal names the unit', answer['signals'])

# Nine in a row on one side: seen only when all rules are asked for, and the price is said.
drift = [10.0, 10.4, 9.9, 10.2, 9.8, 10.0, 10.4, 10.5, 10.2, 10.6, 10.3, 10.4, 10.25, 10.6, 10.2, 9.8, 10.2, 9.9, 10.0, 9.9]
model = stored('drift', drift)
one, five = readings(model), readings(model, '--rules')
ok(one['signals'] == [] and any(s['rule'] == 2 and s['unit'] == 'U0015' for s in five['signals']),
   'nine in a row on one side, the ninth named', (one['signals'], five['signals']))
ok(any('0.86' in s for s in five['sentences']) and not any('0.86' in s for s in one['sentences']),
   'that five rules give false signals is said when they are switched on', five['sentences'])

# Bissell's data. Indices by R 4.2.2 from mean, deviation and mean moving range; the interval by his formula, here.
bissell = column('capability-bissell.csv', 'value')
model = stored('bissell', bissell, 5.49, 5.79)
answer = readings(model)
found = answer['capability']
reference = {'cp': 1.07881212357969, 'cpk': 0.888941189829661, 'pp': 1.03491454811624, 'ppk': 0.85276958764778}
ok(found['state'] == 'given' and found['n'] == 75, 'there is a capability', found)
ok(all(close(found[key], value, 1e-9) for key, value in reference.items()), 'the four indices are those of R', found)
index = min(5.79 - mean(bissell), mean(bissell) - 5.49) / (3 * stdev(bissell))
half = NormalDist().inv_cdf(0.975) * sqrt(1 / (9 * 75) + index * index / (2 * 74))
ok(close(found['ppk_low'], index - half, 1e-9) and close(found['ppk_high'], index + half, 1e-9), 'the interval is that of Bissell', found)
# R 4.2.2: x * sqrt(qchisq(c(.025, .975), 74)/74) with x = 0.3/(6 sd(values)), the formula of the NIST/SEMATECH e-Handbook 6.1.6.
ok(close(found['pp_low'], 0.868398940657633, 1e-9) and close(found['pp_high'], 1.20112733346044, 1e-9), 'that of pp is exact', found)
ok(any('Pp 1.03 (95 % interval 0.87 to 1.20)' in s for s in answer['sentences']), 'and is said', answer['sentences'])
ok('cannot be told yet' in answer['sentences'][1], 'an interval around 1 tells nothing yet', answer['sentences'])
ok(not any('normal' in s for s in answer['sentences']), 'nothing is called normal', answer['sentences'])
row = answer['rounds'][0]
# num_describe() and Python's 'inclusive' way both take the quartiles of R's type 7 (Hyndman and Fan 1996, from memory).
q = quantiles(bissell, n=4, method='inclusive')
ok(all(close(row[key], value, 1e-9) for key, value in (('least', min(bissell)), ('q1', q[0]), ('median', q[1]), ('q3', q[2]),
                                                       ('most', max(bissell)))), 'the box of the round', (row, q))

# Where an index would mean nothing there is none.
ok(readings(stored('few', bissell[:29], 5.49, 5.79))['capability']['state'] == 'too-few', 'below 30 units: too few')
ok(readings(stored('shape', bissell, 5.49, 5.79, shape='unknown'))['capability']['state'] == 'shape', 'not of unknown shape')

# The wall: what fails stands before what is near a limit, that before what is far from one.
model = Model('wall')
for code, lower, upper in (('FAR', 0, 20), ('NEAR', 9, 11), ('BAD', 9.95, 11), ('FREE', None, None)):
    model.characteristic(code)
    if lower is not None:
        model.limit(code, lower, upper)
model.characteristic('NONE')
names = serials(10)
model.units(names)
for i, serial in enumerate(names):
    for code in ('FAR', 'NEAR', 'BAD', 'FREE'):
        model.reading(serial, code, 9.9 + 0.03 * i)
model.store()
answer = run('readings', '--json', '--book', model.book, '--today', '2026-03-01').json()
ok([(c['code'], c['group']) for c in answer['characteristics']]
   == [('BAD', 'fails'), ('NEAR', 'near'), ('FAR', 'near'), ('FREE', 'no-limits'), ('NONE', 'no-data')],
   'the worst first', answer)
values = [9.9 + 0.03 * i for i in range(10)]
ok(close(answer['characteristics'][1]['measure'], (11 - mean(values)) / stdev(values), 1e-9), 'distance in deviations', answer)
refuse(run('readings', '--rules', '--book', model.book), 2, '--characteristic', name='five rules of many charts are refused')
refuse(run('readings', '-c', 'Z', '--book', model.book), 2, "'Z'", name='an unknown characteristic is refused')
done()
