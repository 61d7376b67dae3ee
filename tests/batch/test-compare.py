#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Before and after against the outside: published data sets through the importer and `compare` to the published answer, or
to what R says (published-compare.R); and stories in which somebody would like to claim more than the units show.
"""
import csv
import json
import re

from batch_books import Model
from batch_tap import data, done, folder, ok, refuse, run

published = data / 'published'
reference = json.loads((published / 'compare.json').read_text())
SETS = {}
with open(published / 'compare.csv', newline='') as f:
    for row in csv.DictReader(f):
        SETS.setdefault(row['set'], {}).setdefault(row['side'], []).append(float(row['value']))


def close(got, expected, tolerance=1e-9):
    return got is not None and abs(got - expected) <= tolerance


class Story(Model):
    """Two prototype rounds, P1 and P2, and a lever in revisions A and B."""

    def __init__(self, name):
        super().__init__(name)
        self.rows.pop('round')
        for label, month in (('P1', '01'), ('P2', '04')):
            self.add('round', 'model,label,kind,opened,design_fixed,built,tested,decided', 'M', label, 'prototype',
                     f'2026-{month}-05', f'2026-{month}-10', f'2026-{month}-20', f'2026-{month}-25', f'2026-{month}-28')
        self.add('part', 'number,name', 'L', 'Lever')
        for label, day in (('A', '2026-01-02'), ('B', '2026-03-20')):
            self.add('revision', 'part,label,state,date', 'L', label, 'released', day)
        self.lever('P1', 'A')

    def lever(self, round_label, revision):
        self.add('round_part', 'model,round,part,revision', 'M', round_label, 'L', revision)

    def change(self, agreed='2026-03-25', withdrawn=''):
        self.add('issue', 'model,no,title,class', 'M', 1, 'It slips', 'function')
        self.add('change', 'model,no,title,reason,agreed_by,agreed_on,withdrawn,withdrawn_reason', 'M', 1, 'Steeper ramp',
                 'It slips.', 'AB', agreed, withdrawn, 'Too steep to make.' if withdrawn else '')
        self.add('change_item', 'model,change,no,part,old_revision,new_revision', 'M', 1, 1, 'L', 'A', 'B')
        self.add('change_issue', 'model,change,issue', 'M', 1, 1)

    def measured(self, code, kind='measured'):
        self.characteristic(code, kind=kind, decimals=3)
        self.add('depends', 'model,characteristic,part', 'M', code, 'L')

    def unit(self, round_label, serial, values, revision=None, kind='measured', attempt=1):
        if attempt == 1 and ('unit', round_label, serial) not in self.known:
            self.known.add(('unit', round_label, serial))
            self.units([serial], round_label)
            if revision:
                self.add('unit_part', 'model,round,unit,part,revision', 'M', round_label, serial, 'L', revision)
        taken = '2026-01-22' if round_label == 'P1' else '2026-04-22'
        for code, value in values.items():
            if kind == 'measured':
                self.reading(serial, code, value, taken=taken, round_label=round_label, attempt=attempt)
            else:
                self.reading(serial, code, mark=value, taken=taken, round_label=round_label, attempt=attempt)

    known = set()

    def rounds(self, sets):
        """The values before in P1, those after in P2, each set a characteristic."""
        for side, label in (('before', 'P1'), ('after', 'P2')):
            for i in range(max(len(values[side]) for values in sets.values())):
                self.unit(label, f'{label}-{i + 1}', {code: values[side][i] for code, values in sets.items()
                                                      if i < len(values[side])})

    def split(self, code, values):
        """Old and new turn by turn in P2."""
        for i in range(len(values['before'])):
            self.unit('P2', f'P2-{2 * i + 1}', {code: values['before'][i]}, 'A')
            self.unit('P2', f'P2-{2 * i + 2}', {code: values['after'][i]}, 'B')

    def stored(self):
        self.known.clear()
        answer = self.store()
        ok(answer.status == 0, 'the book is made by the importer', answer)
        return self

    def compare(self, *more):
        return run('compare', '--json', '--book', self.book, '--today', '2026-06-01', *(more or ('--from', 'P1', '--to', 'P2')))

    def text(self, *more):
        return run('compare', '--book', self.book, '--today', '2026-06-01', *(more or ('--from', 'P1', '--to', 'P2')))


def effects(answer):
    return answer.json()['effects']


def remarks(effect):
    return {remark['code']: remark for remark in effect['remarks']}


# Published: R's own help page of t.test prints for the sleep data (Cushny and Peebles 1905, Student 1908) Welch's
# p = 0.07939, interval -3.3654832 to 0.2054832, means 0.75 and 2.33, group 1 less group 2; here after less before.
story = Story('sleep-rounds')
story.lever('P2', 'B')
story.change()
story.measured('SLEEP')
story.rounds({'SLEEP': SETS['sleep']})
answer = story.stored().compare()
effect = effects(answer)[0]
ok(effect['way'] == 'rounds' and effect['method'] == 'welch', 'two rounds are compared by Welch', effect)
ok(close(effect['before']['mean'], 0.75) and close(effect['after']['mean'], 2.33), 'the means are as published', effect)
ok(close(effect['low'], -0.2054832, 5e-8) and close(effect['high'], 3.3654832, 5e-8) and close(effect['p'], 0.07939, 5e-6),
   "the interval is as R's help page prints it", effect)
ok(not effect['told_apart'] and not effect['put_down_to_the_change'] and 'may be chance' in effect['sentence'],
   'and 0 within it is said', effect['sentence'])
difference = answer.json()['differences'][0]
ok(difference['code'] == 'L' and difference['before']['built'][0]['label'] == 'A' and difference['after']['built'][0]['label'] == 'B'
   and difference['explained'] == 'yes' and difference['changes'] == [1], 'the revision stands old beside new, with its change', difference)
change = answer.json()['changes'][0]
ok(change['reason'] == 'It slips.' and change['agreed_by'] == 'AB' and change['issues'][0]['title'] == 'It slips',
   'the change has its reason, who agreed, and its issue', change)

# The same data as two groups of one round, all 184756 arrangements: R, published-compare.R.
for name in ('sleep', 'plants', 'control', 'chicks'):
    story = Story(f'split-{name}')
    story.change()
    story.measured('X')
    story.split('X', SETS[name])
    answer = story.stored().compare()
    expected, effect = reference[name], effects(answer)[0]
    ok(len(effects(answer)) == 1 and effect['way'] == 'split' and effect['method'] == 'permutation',
       f'{name}: the groups of a split round are preferred', answer)
    ok(close(effect['p'], expected['p']), f'{name}: the share of arrangements as rare is as R counts it', effect)
    ok(close(effect['low'], expected['low'], 1e-6) and close(effect['high'], expected['high'], 1e-6),
       f'{name}: the interval is that of the effects that R does not reject', effect)
    apart = expected['p'] < 0.05
    ok(effect['told_apart'] == apart and effect['put_down_to_the_change'] == apart
       and ('may be put down to the change' in effect['sentence']) == apart, f'{name}: the sentence claims no more than that', effect)
    one = story.compare('--round', 'P2', '--by', 'L')
    within = effects(one)[0]
    ok((within['p'], within['low'], within['high']) == (effect['p'], effect['low'], effect['high']) and one.json()['within']
       and one.json()['divided_by'] == 'L Lever', f'{name}: the round by itself gives the same', one)

# Four characteristics at once: p.adjust (p, "holm") of R.
story = Story('holm')
story.lever('P2', 'B')
for code in SETS:
    story.measured(code)
story.rounds(SETS)
answer = story.stored().compare()
together = {effect['characteristic']: effect for effect in effects(answer)}
ok(all(close(together[name]['p_holm'], reference[name]['holm']) and close(together[name]['p'], reference[name]['welch_p'])
       and close(together[name]['low'], reference[name]['welch_low']) for name in SETS), "all are adjusted together as by R's p.adjust",
   together)
ok([name for name in sorted(SETS) if together[name]['told_apart']] == ['plants'], 'one of three small figures stands', together)
ok('Among the 4 comparisons' in together['chicks']['sentence'], 'and the sentence of another says that four were looked at',
   together['chicks']['sentence'])

# Shares, published: Newcombe 1998, Statistics in Medicine 17:873-890, Table II, method 10 (as quoted in public test suites):
# 56 of 70 against 48 of 80: 0.0524 to 0.3339. And Fisher 1970 on convictions of twins, in R's help page of fisher.test:
# 10 of 13 against 2 of 17: p = 0.0005367.
story = Story('shares')
story.lever('P2', 'B')
story.measured('N', kind='checked')
story.measured('T', kind='checked')
for label, (bad, tried), (bad_twins, twins) in (('P1', (48, 80), (10, 13)), ('P2', (56, 70), (2, 17))):
    for i in range(tried):
        story.unit(label, f'{label}-{i + 1}', {'N': 'failed' if i < bad else 'passed'}, kind='checked')
        if i < twins:
            story.unit(label, f'{label}-{i + 1}', {'T': 'failed' if i < bad_twins else 'passed'}, kind='checked')
answer = story.stored().compare()
newcombe, twins = effects(answer)
ok(close(newcombe['low'], 0.0524, 6e-5) and close(newcombe['high'], 0.3339, 6e-5) and newcombe['method'] == 'shares',
   'failed shares have the interval that Newcombe published', newcombe)
ok(close(twins['p'], 0.0005367, 5e-8) and twins['told_apart'], "and the exact test that R's help page prints", twins)
ok('10 of 13 units of round P1' in twins['sentence'] and 'differ by -65 % points' in twins['sentence'], 'as a fact in words', twins)

# Text: whole sentences, nothing that claims too much, within 100 columns, the same each time.
text = story.text()
ok(text.status == 0 and all(len(line) <= 100 for line in text.out.splitlines()), 'the text fits 100 columns', text)
ok(text.out == story.text().out and answer.out == story.compare().out, 'the same question gives the same bytes')
ok(not re.search(r'improved by|significan|no difference|\bp ?[=<]', text.out, re.I), 'no text claims more than the units show', text)
ok('may be put down to the change, one between rounds never' in ' '.join(text.out.split()), 'across rounds a split is offered', text)
ok('Welch' in story.text('--from', 'P1', '--to', 'P2', '--method').out or 'Newcombe' in story.text('--from', 'P1', '--to', 'P2', '--method').out,
   'the method is told on demand')

# A lever that nobody wrote a change for; a change agreed when the units stood there already; one that was withdrawn.
story = Story('nobody')
story.lever('P2', 'B')
story.measured('X')
story.rounds({'X': SETS['plants']})
text = story.stored().text()
ok('Fitted without a change' in text.out and story.compare().json()['differences'][0]['explained'] == 'no',
   'what was fitted without a change is named', text)
story = Story('after-the-fact')
story.lever('P2', 'B')
story.change(agreed='2026-04-22')
story.measured('X')
story.rounds({'X': SETS['plants']})
text = story.stored().text()
ok('first used on 2026-04-20 and agreed only on 2026-04-22' in text.out, 'a change written after the fact is told', text)
story = Story('withdrawn')
story.lever('P2', 'B')
story.change(withdrawn='2026-04-01')
story.measured('X')
story.rounds({'X': SETS['plants']})
text = story.stored().text()
ok('Fitted without a change that holds' in text.out and 'withdrawn on 2026-04-01: Too steep to make.' in text.out, 'a withdrawn change accounts for nothing', text)

# Planned B, but the old lever went in again: the plan is no evidence.
story = Story('off-plan')
story.lever('P2', 'B')
story.change()
story.measured('X')
for i, value in enumerate(SETS['plants']['before']):
    story.unit('P1', f'P1-{i + 1}', {'X': value})
for i, value in enumerate(SETS['plants']['after']):
    story.unit('P2', f'P2-{i + 1}', {'X': value}, 'A')
answer = story.stored().compare()
ok(answer.json()['differences'][0]['off_plan'] == 10 and effects(answer) == [] and answer.json()['untouched'] == ['X'],
   'what was planned and not fitted is no difference, but told', answer)

# Half with the new lever, and the same half was read with another gauge, or got another spring as well.
story = Story('gauge')
story.add('gauge', 'name,resolution', 'Old scale', '0.01')
story.add('gauge', 'name,resolution', 'New scale', '0.01')
story.change()
story.measured('X')
values = SETS['plants']
for i in range(10):
    for side, revision, gauge in (('before', 'A', 'Old scale'), ('after', 'B', 'New scale')):
        serial = f'P2-{2 * i + (1 if side == "before" else 2)}'
        story.units([serial], 'P2')
        story.add('unit_part', 'model,round,unit,part,revision', 'M', 'P2', serial, 'L', revision)
        story.add('reading', 'model,round,unit,characteristic,attempt,value,mark,taken,gauge', 'M', 'P2', serial, 'X', 1,
                  repr(values[side][i]), 'measured', '2026-04-22', gauge)
answer = story.stored().compare()
effect = effects(answer)[0]
ok(effect['told_apart'] and not effect['put_down_to_the_change'] and 'gauges' in remarks(effect) and 'other gauges' in effect['sentence'],
   'another gauge keeps a difference from being put down to the change', effect)
story = Story('two-at-once')
story.add('part', 'number,name', 'S', 'Spring')
for label in ('1', '2'):
    story.add('revision', 'part,label,state,date', 'S', label, 'released', '2026-01-02')
story.add('round_part', 'model,round,part,revision', 'M', 'P1', 'S', '1')
story.change()
story.measured('X')
story.add('depends', 'model,characteristic,part', 'M', 'X', 'S')
story.split('X', values)
for i in range(10):
    story.add('unit_part', 'model,round,unit,part,revision', 'M', 'P2', f'P2-{2 * i + 2}', 'S', '2')
answer = story.stored().compare('--round', 'P2', '--by', 'L')
effect = effects(answer)[0]
ok(effect['told_apart'] and not effect['put_down_to_the_change'] and [touch['name'] for touch in effect['differs_as_well']] == ['S Spring'],
   'what else went into the same units is named', effect)
refuse(run('compare', '--round', 'P2', '--book', story.book), 2, 'L, S', name='a round split by two parts asks by which')

# Retested until it passes, and a reading voided without another: the first attempt stands.
story = Story('retest')
story.lever('P2', 'B')
story.measured('X', kind='checked')
for i in range(8):
    story.unit('P1', f'P1-{i + 1}', {'X': 'failed' if i < 6 else 'passed'}, kind='checked')
    story.unit('P2', f'P2-{i + 1}', {'X': 'failed' if i < 6 else 'passed'}, kind='checked')
    if i < 6:
        story.unit('P2', f'P2-{i + 1}', {'X': 'passed'}, kind='checked', attempt=2)
answer = story.stored().compare()
effect = effects(answer)[0]
ok(effect['after']['failed'] == 6 and effect['difference'] == 0 and remarks(effect)['retested']['counts'] == [6],
   'a unit tested until it passes still failed', effect)

# A characteristic of which nobody said what it depends on is compared, one that depends on something else is not.
story = Story('depends')
story.add('part', 'number,name', 'H', 'Handle')
story.lever('P2', 'B')
story.characteristic('ANY')
story.characteristic('GRIP')
story.add('depends', 'model,characteristic,part', 'M', 'GRIP', 'H')
story.rounds({'ANY': SETS['plants'], 'GRIP': SETS['plants']})
answer = story.stored().compare()
ok([effect['characteristic'] for effect in effects(answer)] == ['ANY'] and 'depends' in remarks(effects(answer)[0])
   and answer.json()['untouched'] == ['GRIP'], 'what depends on nothing that changed is named and not compared', answer)

story = Story('no-records')
story.characteristic('ANY')
story.rounds({'ANY': SETS['plants']})
text = story.stored().text()
ok('Nothing on record' in text.out and 'no readings are compared' in text.out, 'where nothing on record differs nothing is compared', text)

# Too few: no interval, and it says so.
story = Story('few')
story.lever('P2', 'B')
story.measured('X')
story.rounds({'X': {side: values[:2] for side, values in SETS['plants'].items()}})
answer = story.stored().compare()
effect = effects(answer)[0]
ok(effect['low'] is None and effect['p'] is None and 'too-few' in remarks(effect) and 'nothing can be concluded' in effect['sentence'],
   'two units a side have no interval, and it is said', effect)

# Wrong questions.
book = story.book
refuse(run('compare', '--from', 'P2', '--to', 'P1', '--book', book), 2, 'P2 comes after', name='the later round first is refused')
refuse(run('compare', '--from', 'P1', '--to', 'P9', '--book', book), 2, "'P9'", 'P1, P2', name='an unknown round names those there are')
refuse(run('compare', '--round', 'P2', '--by', 'Q', '--book', book), 2, "'Q'", name='an unknown part is refused')
refuse(run('compare', '--round', 'P2', '--by', 'L', '--book', book), 2, 'no two groups', name='a round of one revision has no groups')
refuse(run('compare', '--round', 'P2', '--book', book), 2, 'several revisions', name='a round without a split says so')
picture = folder / 'effect.svg'
drawn = run('chart', 'effect', '--from', 'P1', '--to', 'P2', '-o', picture, '--book', book, ASAN_OPTIONS='detect_leaks=0')
ok(drawn.status == 0 and picture.exists() and '<svg' in picture.read_text(), 'the effects are drawn', drawn)
done()
