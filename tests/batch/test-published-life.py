#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Life tests from outside: books made of published data sets, the verb's document compared.

Weibull: NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.3: 10 failures and 10 units stopped at 500 hours: shape 1.7208,
characteristic life 606.5280; the bands and bounds by R's survreg (survival 3.5), as in tests/data/check-values/weibull.jsonl.
Growth: the same, 8.4.5.2: 10 repairs in 1500 hours, time truncated: modified exponent 0.483506, mean time between failures
310.234. Plans without a failure: closed forms, written out below; SciPy is not needed.
"""
import csv
from math import ceil, exp, log

from batch_books import Model, serials
from batch_tap import data, done, ok, refuse, run

published = data / 'published'


def rows(name):
    with open(published / name, newline='') as f:
        return list(csv.DictReader(f))


def close(got, expected, tolerance):
    return got is not None and abs(got - expected) <= tolerance


def book(name, tests, term=None, strict='no', klass='function'):
    """A model whose characteristic CY is cycled: (cycles, failed, issue) of each unit; a criterion C1 if @term says so."""
    model = Model(name)
    model.characteristic('CY', kind='checked', klass=klass)
    names = serials(len(tests))
    model.units(names)
    model.add('issue', 'model,no,title,class,found_on,seen_in_life_test', 'M', 1, 'Spring breaks', 'function', '2026-02-10', 'yes')
    model.add('issue', 'model,no,title,class,found_on,seen_in_life_test', 'M', 2, 'Lever sticks', 'function', '2026-02-10', 'yes')
    for number, (serial, (cycles, failed, issue)) in enumerate(zip(names, tests), 1):
        model.add('life_test', 'model,no,date,round,unit,characteristic,load,cycles,ended,issue', 'M', number, '2026-02-11', 'A', serial,
                  'CY', 5, repr(cycles), 'failed' if failed else 'stopped', issue if issue else '')
    if term:
        model.add('criterion', 'model,code,gate,kind,characteristic,strict,counts_from', 'M', 'C1', 1, 'life', 'CY', strict, 'prototype')
        model.add('criterion_term', 'model,criterion,from_date,' + ','.join(term), 'M', 'C1', '2025-12-01', *map(repr, term.values()))
    answer = model.store()
    ok(answer.status == 0, f'the book {name} is made by the importer', answer)
    return model


def life(model, *more):
    return run('life', '--json', '--book', model.book, '--model', 'M', '--today', '2026-03-01', *more)


# ---- Weibull ----

units = [(float(row['hours']), row['failed'] == '1', 1) for row in rows('weibull-nist.csv')]
units = [(cycles, failed, issue if failed else None) for cycles, failed, issue in units]
answer = life(book('weibull', units)).json()
mode = answer['modes'][0]
ok(len(answer['modes']) == 1 and mode['failures'] == 10 and answer['n'] == 20, 'ten failed and ten were stopped', answer['n'])
ok(close(mode['shape'], 1.7208, 6e-5) and close(mode['scale'], 606.5280, 6e-4), 'shape and characteristic life are as NIST has them', mode)
ok(close(mode['b10'], 164.022438660012, 1e-2) and close(mode['b10_low'], 105.791800535623, 1e-2)
   and close(mode['shape_low'], 1.06481217839697, 1e-4) and close(mode['shape_high'], 2.78090659823157, 1e-4),
   'bounds agree with survreg', mode)
# No unit was stopped before the last failure: the product-limit curve falls by 1/20 at each, and points lie in the middle.
ok(all(close(point['failed_share'], (i + 0.5) / 20, 1e-12) for i, point in enumerate(mode['points'])),
   'points lie in the middle of the steps', mode['points'])
ok(all(line['low'] < line['failed_share'] < line['high']
       and close(line['failed_share'], 1 - exp(-(line['cycles'] / mode['scale']) ** mode['shape']), 1e-9) for line in mode['line']),
   'the line is the fit, between its band', mode['line'][:2])

# ---- stopped units move later points; ways of failing apart ----

tests = [(100, True, 1), (150, True, 2), (200, False, None), (300, True, 1), (400, False, None)]
answer = life(book('modes', tests)).json()
ok([(m['issue'], m['failures']) for m in answer['modes']] == [('Spring breaks', 2), ('Lever sticks', 1)], 'ways of failing stand apart', answer['modes'])
# Spring: 5 at risk at 100, 2 at 300 (150 failed otherwise, 200 stopped): 1, 0.8, 0.4 by the product-limit rule, by hand.
points = [point['failed_share'] for point in answer['modes'][0]['points']]
ok(len(points) == 2 and close(points[0], 0.1, 1e-12) and close(points[1], 0.4, 1e-12), 'stopped units move the later points', points)
ok(not answer['modes'][0]['fitted'], 'with two failures of a way there is no line')
ok(answer['growth']['state'] == 'too few', 'nor is growth told from three')

# ---- growth ----

hours = [float(row['hours']) for row in rows('growth-nist.csv')]
steps = [(b - a, True, 1) for a, b in zip([0.0] + hours, hours)] + [(1500 - hours[-1], False, None)]
answer = life(book('growth', steps)).json()
growth = answer['growth']
ok(growth['failures'] == 10 and growth['cycles'] == 1500 and growth['truncation'] == 'time', 'ten failures in 1500', growth)
ok(close(growth['beta_unbiased'], 0.483506, 1e-6) and close(growth['mtbf'], 310.234, 6e-4), 'exponent and time between failures are as NIST has them', growth)
ok(close(growth['mtbf_low'], 137.6, 20) and growth['mtbf_low'] < 153.3157 and growth['mtbf_high'] > 596.2738,
   'the interval at 90 % holds that at 80 % of R', growth)
ok(growth['state'] == 'up' and growth['beta_high'] < 1, 'the exponent lies below 1: failures come more seldom', growth)

# ---- what would prove it ----

# 0.90 to live beyond 1000 at 0.90 confidence: n = ln 0.1 / ln 0.9 = 21.9 units; at twice the cycles with shape 1 to 3 half as
# many at the worst end; at half the cycles per unit the shape 3 is worst.
term = {'share': 0.9, 'confidence': 0.9, 'cycles': 1000.0, 'shape_low': 1.0, 'shape_high': 3.0}
answer = life(book('plan', [(1000, False, None)] * 4, term)).json()
plan = {(row['cycles'], row['failures']): row for row in answer['plan_units']}
need = log(0.1) / log(0.9)
ok(plan[(1000, 0)]['units'] == ceil(need - 4), 'further units at the cycles wanted', plan)
ok(plan[(2000, 0)]['units'] == ceil((need - 4) / 2), 'half as many at twice the cycles, at the worst shape', plan)
ok(close(plan[(1000, 0)]['bad_passes'], 0.9 ** plan[(1000, 0)]['units'], 1e-12), 'and a design at the limit passes as often', plan)
ok(plan[(1000, 1)]['units'] > plan[(1000, 0)]['units'] + 1, 'one failure costs more than a unit', plan)
cycles = {row['units']: row['cycles'] for row in answer['plan_cycles']}
ok(all(1000 * (need - 4) / n <= cycles[n] <= 1000 * (need - 4) / n * 1.1 for n in (3, 5, 8, 12)), 'cycles for given units, rounded up', cycles)
ok(answer['criterion']['state'] == 'too-few' and close(answer['criterion']['confidence'], 1 - 0.9 ** 4, 1e-9), 'the criterion says what four units show', answer['criterion'])
answer = life(book('met', [(1000, False, None)] * 22, term)).json()
ok(answer['criterion']['state'] == 'met' and answer['plan_units'] == [], 'twenty-two units meet it, and nothing is left to plan', answer['criterion'])

# ---- wrong use ----

model = book('empty', [])
answer = life(model)
ok(answer.status == 0 and answer.json()['tests'] == [] and answer.json()['modes'] == [], 'without a test it says so', answer)
refuse(life(model, '-c', 'ZZ'), 2, "'ZZ'", name='an unknown characteristic is refused')
text = run('life', '--book', model.book, '--model', 'M', '--today', '2026-03-01')
ok(text.status == 0 and 'guard' in text.out and 'cut-resistant' in text.out, 'the caution stands there', text)
done()
