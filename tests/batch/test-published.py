#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The main job against the outside: books made of published data sets, whose standing gives the published confidence or
that of a reference library. The data sets with their sources, and how the reference values were made, stand in
published-reference.py.
"""
import csv
import json
from fractions import Fraction
from math import comb

from batch_books import Model, criteria, serials
from batch_tap import data, done, ok, run

published = data / 'published'
reference = json.loads((published / 'reference.json').read_text())


def column(name, key):
    with open(published / name, newline='') as f:
        return [float(row[key]) for row in csv.DictReader(f)]


def close(got, expected, tolerance):
    return got is not None and abs(got - expected) <= tolerance


def stored(model):
    answer = model.store()
    ok(answer.status == 0, 'the book is made by the importer', answer)
    return model.standing()


def measured(name, values, case):
    """A book of one measured characteristic, a unit a value."""
    model = Model(name)
    model.characteristic('X', decimals=6)
    model.limit('X', case.get('lower'), case.get('upper'))
    names = serials(len(values))
    model.units(names)
    for serial, value in zip(names, values):
        model.reading(serial, 'X', value)
    model.criterion('C1', 'X', case['coverage'], 0.90)
    return stored(model)


# One-sided, published: NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3: six values, coverage 0.90: the limit
# 4.4111 deviations away has the confidence 0.99. Values: its gear example, the first six.
case = reference['one-sided-factor']
answer = measured('factor', column('gear.csv', 'diameter')[:6], case)
c = criteria(answer)['C1']
ok(close(c['confidence'], 0.99, 5e-6), 'one limit at the published factor of NIST has its confidence 0.99', c)
ok(close(c['confidence'], case['confidence'], 1e-6) and c['n'] == 6 and c['method'] == 'least', 'and agrees with SciPy', c)

# One-sided: NIST Statistical Reference Datasets, Mavro: 50 values, certified mean 2.001856, deviation 0.000429123454003053.
case = reference['one-sided']
answer = measured('mavro', column('mavro.csv', 'value'), case)
c = criteria(answer)['C1']
ok(close(c['mean'], 2.001856, 1e-9) and close(c['sd'], 0.000429123454003053, 1e-12), 'mean and deviation are as NIST certifies', c)
ok(close(c['confidence'], min(case['normal'], case['log_normal']), 2e-6), 'one limit: the smaller of two answers, as SciPy has it', c)
ok(c['state'] == 'met' and c['wanted'] == 0.9, 'and the criterion is met', c)

# Two-sided: Montgomery 1991, inside diameters of piston rings, limits 74.000 +- 0.05 mm.
case = reference['two-sided']
answer = measured('rings', column('piston-rings.csv', 'diameter'), case)
c = criteria(answer)['C1']
ok(close(c['confidence'], min(case['normal'], case['log_normal']), 5e-6) and c['n'] == 125, 'two limits: as SciPy has it', c)

# Checked: Montgomery 1991, orange juice cans: 347 of 1500 defective. The exact binomial in whole numbers, here.
with open(published / 'orange-juice.csv', newline='') as f:
    samples = [(int(row['defective']), int(row['size'])) for row in csv.DictReader(f)]
bad, tried = sum(d for d, _ in samples), sum(s for _, s in samples)
model = Model('juice')
model.characteristic('X', kind='checked')
names = serials(tried)
model.units(names)
position = 0
for defective, size in samples:
    for i in range(size):
        model.reading(names[position], 'X', mark='failed' if i < defective else 'passed')
        position += 1
model.criterion('C1', 'X', 0.75, 0.90, kind='checked')
answer = stored(model)
c = criteria(answer)['C1']
exact = 1 - sum(Fraction(comb(tried, i) * 3 ** (tried - i), 4 ** tried) for i in range(bad + 1))
ok((c['failed'], c['n']) == (bad, tried) == (347, 1500), 'every can counts once', c)
ok(close(c['confidence'], float(exact), 1e-9) and close(c['confidence'], reference['checked']['confidence'], 1e-9),
   'checked: the exact binomial, in whole numbers and by SciPy', c)
ok(c['state'] == 'too few to tell' or c['state'] == 'too-few', 'failures that nobody has disposed of keep it unmet', c)
ok(any(reason['code'] == 'disposition' for reason in c['reasons']), 'and the reason is said', c['reasons'])

# Three lots: NIST e-Handbook, gear diameters, the first three batches as lots. By random draws: compared within 0.004.
case = reference['three-lots']
with open(published / 'gear.csv', newline='') as f:
    rows = [(row['batch'], float(row['diameter'])) for row in csv.DictReader(f) if int(row['batch']) <= 3]
model = Model('gears')
model.add('part', 'number,name', 'G', 'Gear blank')
for lot in ('1', '2', '3'):
    model.add('lot', 'part,number', 'G', lot)
model.add('revision', 'part,label,state', 'G', 'A', 'released')
model.add('round_part', 'model,round,part,revision', 'M', 'A', 'G', 'A')
model.characteristic('X')
model.limit('X', lower=case['lower'])
model.add('depends', 'model,characteristic,part', 'M', 'X', 'G')
names = serials(len(rows))
model.units(names)
for serial, (lot, value) in zip(names, rows):
    model.add('unit_part', 'model,round,unit,part,revision,lot', 'M', 'A', serial, 'G', 'A', lot)
    model.reading(serial, 'X', value)
model.criterion('C1', 'X', case['coverage'], 0.90)
answer = stored(model)
c = criteria(answer)['C1']
ok(c['lots'] == 3 and c['method'] == 'lots', 'three lots are a grouping factor', c)
ok(close(c['confidence'], case['lots'], 0.004), 'three lots: as two million draws of NumPy have it', c)
told = [reason for reason in c['reasons'] if reason['code'] == 'lots-decided']
ok(len(told) == 1 and close(told[0]['numbers'][1], min(case['pooled'], case['pooled_log_normal']), 2e-6),
   'and the pooled answer stands beside it', c['reasons'])
again = model.standing()
ok(again.out == answer.out, 'the same question gives the same bytes, random draws included')

check = run('check', '--replay', '--book', model.book)
ok(check.status == 0, 'the journal gives the same records', check)
done()
