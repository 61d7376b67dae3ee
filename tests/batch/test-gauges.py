#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Gauges from outside: published studies through a book made from files, the verb's document compared.

The studies: AIAG, Measurement Systems Analysis, 4th edition, chapter III (10 parts, 3 appraisers, 3 trials), and the gasket
thickness of ASQC Automotive Division/AIAG 1990 (10 parts, 3 operators, 2 trials). Expected are R 4.2.2's components,
anova (lm (y ~ part * person)), as tests/data/check-values/gauge.jsonl lists them.
"""
import csv
import json
import random
import statistics

from batch_books import Model, criteria
from batch_tap import data, done, ok, run


def expected(name):
    for line in (data / 'check-values' / 'gauge.jsonl').read_text(encoding='utf-8').splitlines():
        case = json.loads(line)
        if case['id'] == name:
            return case
    raise KeyError(name)


def study(name, file, tolerance, drop=None):
    model = Model(name)
    for initials in ('ZA', 'ZB', 'ZC'):
        model.add('person', 'initials,role', initials, 'inspector')
    model.add('gauge', 'name,resolution', 'Comparator', 0.01)
    model.add('gauge_calibration', 'gauge,date,due,in_order', 'Comparator', '2025-12-01', '2026-02-15', 'yes')
    model.characteristic('T')
    model.rows['characteristic'][0].append('gauge')
    model.rows['characteristic'] = (model.rows['characteristic'][0], [(*row, 'Comparator') for row in model.rows['characteristic'][1]])
    model.limit('T', 0, tolerance)
    with open(data / 'check-values' / 'data' / file, encoding='utf-8') as rows:
        for row in csv.DictReader(rows):
            if (row['person'], row['part'], row['trial']) != drop:
                model.add('gauge_trial', 'gauge,model,characteristic,person,piece,trial,date,value', 'Comparator', 'M', 'T',
                          'Z' + row['person'], row['part'], row['trial'], '2026-02-01', row['value'])
    model.criterion('G1', 'T', 0.9, 0.9, kind='method')
    return model


def gauges(model, *more):
    return run('gauges', *more, '--book', model.book, '--today', '2026-03-01')


def check(name, file, case, tolerance):
    want = expected(case)['expect']
    model = study(name, file, tolerance)
    answer = model.store()
    ok(answer.status == 0, f'{name}: the study comes in', answer)
    found = gauges(model, '--json').json()['studies'][0]
    wrong = [key for key in ('ev', 'av', 'grr', 'pv', 'tv', 'ndc', 'tolerance_share')
             if abs(found[key] - want[key]) > 1e-6 * max(1, abs(want[key]))]
    ok(found['complete'] and not wrong, f"{name}: components, categories and share are R's", (wrong, found, want))
    ok(found['at_most'] > found['tolerance_share'], f'{name}: the bound lies above', found)
    return model, found


model, found = check('aiag', 'gauge-aiag.csv', 'gauge-aiag-anova-full', 6)
check('gasket', 'gauge-gasket.csv', 'gauge-gasket-anova', 0.4)

text, document = gauges(model), gauges(model, '--json')
ok(text.status == 0 and max(map(len, text.out.splitlines())) <= 100, 'as text it fits a terminal', text)
ok(not any(initials in text.out + document.out for initials in ('ZA', 'ZB', 'ZC')), 'nobody is named', text)
line = document.json()['gauges'][0]
ok(line['state'] == 'overdue' and 'overdue' in text.out, 'a gauge past its due date is said to be overdue', line)

# 6 grr is 30.2 % of a tolerance of 6: as good as at the limit, so no confidence of nine tenths that it is below 30 %.
judged = criteria(run('standing', '--json', '--book', model.book, '--today', '2026-03-01'))['G1']
ok(judged['method'] == 'method' and judged['state'] != 'met' and abs(judged['estimate'] - found['tolerance_share']) < 1e-12
   and 0.2 < judged['confidence'] < 0.8, 'the criterion is judged by the same study', judged)

gaps = study('gaps', 'gauge-aiag.csv', 6, drop=('B', '4', '2'))
gaps.store()
found = gauges(gaps, '--json').json()['studies'][0]
ok(not found['complete'] and found['grr'] is None and 'gaps' in found['sentence'], 'a study with a gap says so and gives no figure', found)
judged = criteria(run('standing', '--json', '--book', gaps.book, '--today', '2026-03-01'))['G1']
ok(judged['state'] == 'no-data' and any(reason['code'] == 'study-gaps' for reason in judged['reasons']), 'and meets nothing', judged)

# 20 of 20 and 19 of 20: one-sided exact bounds at 0.9: 0.1^(1/20), and qbeta (0.1, 19, 2) of R 4.2.2.
checked = Model('checked')
checked.characteristic('L', kind='checked', klass='safety')
checked.add('gauge', 'name', 'Lock vice')
for initials, caught in (('ZA', 20), ('ZB', 19)):
    checked.add('person', 'initials,role', initials, 'inspector')
    for number in range(20):
        checked.add('gauge_trial', 'gauge,model,characteristic,person,piece,trial,date,verdict,known_bad', 'Lock vice', 'M', 'L',
                    initials, f'P{number}', 1, '2026-02-01', 'failed' if number < caught else 'passed', 'yes')
answer = checked.store()
lines = {line['inspector']: line for line in gauges(checked, '--json').json()['checks']}
ok(abs(lines['A']['at_least'] - 0.1 ** (1 / 20)) < 1e-9 and abs(lines['B']['at_least'] - 0.8190390366) < 1e-8,
   "what each inspector finds at least is R's", (answer, lines))

# Two persons who hardly differ on two pieces: with one degree of freedom each, the upper bound is more than eight times what
# was found. The analysis of variance and the draws are done anew here (Burdick, Borror and Montgomery 2005): mean squares
# times degrees of freedom over chi-square, the same components, negative ones 0.
few = Model('few')
values = {'ZA': ((1.0, 1.0001), (2.0, 2.0001)), 'ZB': ((1.002, 1.0021), (2.0, 2.0001))}
few.characteristic('T')
few.limit('T', 0, 0.2)
few.add('gauge', 'name', 'Dial')
for initials, pieces in values.items():
    few.add('person', 'initials,role', initials, 'inspector')
    for number, trials in enumerate(pieces):
        for trial, value in enumerate(trials):
            few.add('gauge_trial', 'gauge,model,characteristic,person,piece,trial,date,value', 'Dial', 'M', 'T', initials,
                    f'P{number}', trial + 1, '2026-02-01', repr(value))
few.store()
cells = [statistics.mean(trials) for pieces in values.values() for trials in pieces]
person = (cells[0] + cells[1] - cells[2] - cells[3]) ** 2 / 2
interaction = (cells[0] - cells[1] - cells[2] + cells[3]) ** 2 / 2
error = sum((value - statistics.mean(trials)) ** 2 for pieces in values.values() for trials in pieces for value in trials) / 4
draw = random.Random(20260301)
found = []
for _ in range(200000):
    drawn = [square * df / (2 * draw.gammavariate(df / 2, 1)) for square, df in ((person, 1), (interaction, 1), (error, 4))]
    found.append(drawn[2] + max(0, (drawn[1] - drawn[2]) / 2) + max(0, (drawn[0] - drawn[1]) / 4))
bound = 6 * sorted(found)[180000] ** 0.5 / 0.2
line = gauges(few, '--json').json()['studies'][0]
ok(abs(line['at_most'] / bound - 1) < 0.15 and line['at_most'] > 8 * line['tolerance_share'],
   'the bound of a small study is not held down', (line, bound))
ok('too few' in gauges(few).out and 'good enough up to' not in gauges(few).out, 'and a gauge is not called good enough by it', gauges(few))

# Shares that lie just above the limit are not written as if they were at it; a bound is rounded up.
line = gauges(model, '--json').json()['studies'][0]
ok('takes up 30.2 % of the tolerance' in line['sentence'], 'a share just above three tenths reads so', line)

# Where a criterion sets a target, that is what the study is judged by, the least of several; else 30 % is, and says so.
ok((line['wanted'], line['criterion']) == (0.3, '') and 'no criterion sets a target' in line['sentence'],
   'without a target three tenths are taken, and that is said', line)
aimed = study('aimed', 'gauge-aiag.csv', 12)
for code, target in (('G2', 0.6), ('G3', 0.8)):
    aimed.add('criterion', 'model,code,gate,kind,characteristic,strict,counts_from', 'M', code, 1, 'method', 'T', 'no', 'prototype')
    aimed.rows['criterion_term'] = ('model,criterion,from_date,share,target,confidence'.split(','),
                                    [(*row[:4], '', row[4]) if len(row) == 5 else row for row in aimed.rows['criterion_term'][1]]
                                    + [('M', code, '2025-12-01', '', repr(target), '0.9')])
stored = aimed.store()
ok(stored.status == 0, 'criteria with a target come in', stored)
line = gauges(aimed, '--json').json()['studies'][0]
ok((line['wanted'], line['criterion']) == (0.6, 'G2') and "good enough for criterion 'G2', which allows 60 %" in line['sentence'],
   'the least target of the criteria judges', line)
ok('60 %, G2' in run('gauges', '--book', aimed.book, '--today', '2026-03-01').out.replace('\u00a0', ' '), 'the table says whose target it is', gauges(aimed))

# Due on 15 February: of four readings the two after that day do not count; those before a calibration that found it out of
# order count again by name.
dated = study('dated', 'gauge-aiag.csv', 6)
dated.units(['U1', 'U2', 'U3', 'U4'])
for serial, day in (('U1', '2026-02-10'), ('U2', '2026-02-15'), ('U3', '2026-02-16'), ('U4', '2026-02-20')):
    dated.reading(serial, 'T', 3.0, taken=day)
dated.store()
line = gauges(dated, '--json').json()['gauges'][0]
ok((line['readings'], line['not_counting'], line['not_counting_since'], line['excused']) == (4, 2, '2026-02-16', 0),
   'what a gauge reads from the day after its due date does not count', line)
ok("'Comparator': readings since 2026-02-16 do not count: 2" in ' '.join(gauges(dated).out.split()), 'and says since when', gauges(dated))

dated = study('excused', 'gauge-aiag.csv', 6)
header, rows = dated.rows['gauge_calibration']
dated.rows['gauge_calibration'] = (header + ['excused_by', 'excused_on', 'reason'], [(*row, '', '', '') for row in rows])
dated.units(['U1', 'U2'])
for serial, day in (('U1', '2026-01-10'), ('U2', '2026-01-20')):
    dated.reading(serial, 'T', 3.0, taken=day)
dated.add('gauge_calibration', 'gauge,date,due,in_order,excused_by,excused_on,reason', 'Comparator', '2026-02-01', '2026-08-01', 'no',
          'AB', '2026-02-02', 'Set back by a hundredth, far from the limits.')
answer = dated.store()
line = gauges(dated, '--json').json()['gauges'][0]
ok((line['state'], line['readings'], line['not_counting'], line['excused']) == ('out-of-order', 2, 0, 2),
   'readings excused by name count, and are said to be excused', (answer, line))
ok('AB' not in gauges(dated).out, 'by whom stands in the history, not here')

empty = Model('empty')
empty.store()
ok('No gauge is in the book yet' in ' '.join(gauges(empty).out.split()), 'a book without gauges says what goes there')
done()
