#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What a planned round can show, through the whole program: against the calculator, against sums of binomial and
beta-binomial terms made here, and against the noncentral t of SciPy. NIST's Mavro data (50 transmittance values,
certified mean 2.001856 and deviation 0.000429123454003053) are the values of the measured case."""
import csv
import json
from math import comb, exp, lgamma, log

from batch_books import Model, serials
from batch_tap import data, done, folder, ok, run, write_csv


def planned(name, units):
    model = Model(name)
    header = 'model,label,kind,planned_units'
    model.store_round = (header, model.code, units)
    return model


def store(model):
    answer = model.store()
    ok(answer.status == 0, 'the book is made by the importer', answer)
    header, code, units = model.store_round
    path = write_csv(folder / f'{model.place.name}-next' / 'round.csv', header.split(','), [(code, 'B', 'pilot', units)])
    answer = run('import', path, '--book', model.book)
    ok(answer.status == 0, 'and its next round', answer)


def plan(model, *more):
    return run('plan', 'B', '--json', '--book', model.book, '--today', '2026-03-01', *more)


def calc(**line):
    return json.loads(run('calc', stdin=json.dumps(line) + '\n').out)


def beta_log(a, b):
    return lgamma(a) + lgamma(b) - lgamma(a + b)


def beta_binomial(most, n, a, b):
    return sum(exp(beta_log(a + x, b + n - x) - beta_log(a, b)) * comb(n, x) for x in range(most + 1))


def binomial(most, n, p):
    return sum(comb(n, x) * p ** x * (1 - p) ** (n - x) for x in range(most + 1))


# ---- checks: 20 units, one of which failed; at least 90 in 100 at 90 % ----
model = planned('checks', 40)
model.characteristic('X', kind='checked', klass='appearance')
names = serials(20)
model.units(names)
for i, serial in enumerate(names):
    model.reading(serial, 'X', mark='failed' if i == 3 else 'passed')
model.criterion('C1', 'X', 0.9, 0.9, kind='checked')
store(model)
answer = plan(model)
c = answer.json()['criteria'][0]
ok(answer.json()['units'] == 40 and c['n'] == 20 and c['failed'] == 1 and c['counted'] == 40, 'the plan takes in what counts already', answer)
most = max(k for k in range(41) if 1 - binomial(1 + k, 60, 0.1) >= 0.9)
ok(c['allowed'] == most, 'so many of the 40 may fail as the exact binomial allows', c)
ok(abs(c['assurance'] - beta_binomial(most, 40, 1.5, 19.5)) < 1e-9, 'the chance of passing is the beta-binomial sum', c)
ok(abs(c['bad_passes'] - binomial(most, 40, 0.1)) < 1e-9, 'a design at the tolerated share passes by the binomial sum', c)
ok(abs(c['confidence'] - (1 - binomial(1, 60, 0.1))) < 1e-9, 'the confidence if none of the 40 fails', c)
got = calc(method='plan', failed=1, units=20, tolerated=0.1, confidence=0.9)
ok(c['needed_clean'] == got['units'], 'units without a further failure are those of the calculator', (c, got))
again = plan(model, '--units', str(got['units'])).json()['criteria'][0]
ok(again['allowed'] == 0 and abs(again['assurance'] - got['assurance']) < 1e-9 and abs(again['bad_passes'] - got['bad_passes']) < 1e-9,
   'and with them the chances are those of the calculator', (again, got))
fewer = plan(model, '--units', str(got['units'] - 1)).json()
ok(not fewer['criteria'][0]['can_be_met'] and fewer['criteria'][0]['assurance'] == 0, 'one unit fewer cannot be enough', fewer)

# ---- measured: the first ten values of Mavro ----
with open(data / 'published' / 'mavro.csv', newline='') as f:
    values = [float(row['value']) for row in csv.DictReader(f)][:10]
mean = sum(values) / len(values)
sd = (sum((v - mean) ** 2 for v in values) / (len(values) - 1)) ** 0.5
lower = mean - 2.5 * sd
model = planned('measured', 10)
model.characteristic('X', decimals=6)
model.limit('X', lower)
names = serials(len(values))
model.units(names)
for serial, value in zip(names, values):
    model.reading(serial, 'X', value)
model.criterion('C1', 'X', 0.95, 0.9)
store(model)
c = plan(model).json()['criteria'][0]
ok(c['n'] == 10 and not c['by_count'] and c['counted'] == 10, 'measured values are judged by their shape', c)
if not c['log_normal']:
    ok(abs(c['mean'] - mean) < 1e-12 and abs(c['sd'] - sd) < 1e-9, 'mean and deviation are those of the values', c)
got = calc(method='plan', n=10, mean=c['mean'], sd=c['sd'], lower=log(lower) if c['log_normal'] else lower, coverage=0.95,
           confidence=0.9, assurance=0.8)
enough = plan(model, '--units', str(c['needed'])).json()['criteria'][0]
few = plan(model, '--units', str(c['needed'] // 2)).json()['criteria'][0]
ok(c['needed'] > 0 and enough['assurance'] >= 0.8 > few['assurance'], 'with the units needed the chance is 80 in 100, with half of them less',
   (c, enough, few))
ask = plan(model, '--units', str(got['units'])).json()['criteria'][0]
ok(abs(ask['assurance'] - got['assurance']) < 0.03 and abs(ask['bad_passes'] - got['bad_passes']) < 0.03,
   'and so are the chances with them (4000 draws: a standard error of 0.008)', (ask, got))
try:
    from scipy.stats import nct, norm
except ImportError:
    print('# no SciPy for this interpreter: the closed form of the confidence is left out')
else:
    k = (c['mean'] - (log(lower) if c['log_normal'] else lower)) / c['sd']
    expected = nct.cdf(k * 20 ** 0.5, 19, norm.ppf(0.95) * 20 ** 0.5)
    ok(abs(c['confidence'] - expected) < 1e-6, 'the confidence if mean and deviation stay, by SciPy', (c, expected))

# ---- lots: a strict criterion of which all units so far are of one delivery ----
lotted = planned('lots', 20)
lotted.add('part', 'number,name', 'X-1', 'Blade')
lotted.add('lot', 'part,number', 'X-1', 'L1')
lotted.characteristic('X', kind='checked', klass='function')
lotted.add('depends', 'model,characteristic,part', lotted.code, 'X', 'X-1')
lotted.add('round_part', 'model,round,part,lot', lotted.code, 'A', 'X-1', 'L1')
names = serials(30)
lotted.units(names)
for serial in names:
    lotted.reading(serial, 'X', mark='passed')
lotted.criterion('C1', 'X', 0.9, 0.9, kind='checked', strict='yes')
store(lotted)
answer = plan(lotted).json()
c = answer['criteria'][0]
ok(c['lots'] == 2 and c['lots_of'] == 'Blade' and c['lots_assumed'] and c['lots_short'] and not c['can_be_met'],
   'without a planned lot one more is assumed, and two are too few', c)
ok(any("If all of them come of one lot of 'Blade' that was not used before, units of 2 lots are seen. The criterion is strict: without units "
       "of a third lot, or a waiver, it is not met by any number of them." in note for note in answer['notes']), 'which a note says', answer)

# ---- words and wrong use ----
text = run('plan', 'B', '--units', '3', '--book', model.book, '--today', '2026-03-01')
ok('With 3 units' in text.out and 'Criterion' in text.out, 'a sentence comes first, then the figures', text)
wrong = run('plan', 'X', '--book', model.book)
ok(wrong.status == 2 and "'X'" in wrong.err, 'a round that is not there is named', wrong)
wrong = run('plan', '--book', model.book)
ok(wrong.status == 2, 'a round must be named', wrong)
wrong = run('plan', 'B', '--units', '-4', '--book', model.book)
ok(wrong.status == 2 and '-4' in wrong.err, 'fewer units than none are refused', wrong)
done()
