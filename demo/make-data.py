#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Writes demo/data/*.csv: the invented story of Thistle Lane Toolworks (demo/README.md tells it).

Every person, figure and date is invented. The readings are drawn with a fixed seed, so that the files come out the
same each time; the places where the story needs a certain unit to fail are written out below by serial."""
import csv
import hashlib
import pathlib
import random
import sys

sys.dont_write_bytecode = True
import drawings
import photographs
import shop
import story
import wagtail

out = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else pathlib.Path(__file__).resolve().parent / 'data')
draw = random.Random(20260112)
tables = {}


def row(record, **cells):
    tables.setdefault(record, []).append({key: value for key, value in cells.items() if value is not None})


# ---- who ------------------------------------------------------------------------------------------------------
for initials, role, name in (('EH', 'lead', 'Edda Hollin'), ('RB', 'designer', 'Rowan Birk'),
                             ('MO', 'owner', 'Merle Oaks'), ('TK', 'maker', 'Tove Kell'),
                             ('JS', 'maker', 'Jory Sund'), ('LN', 'inspector', 'Linnet Nye')):
    row('person', initials=initials, role=role, active='yes', name=name)

for name, value in (('working week', '8 8 8 8 6 0 0'), ('hourly cost', '54'), ('paper', 'A4'), ('may widen limits', 'lead, owner')):
    row('setting', name=name, value=value)
for date, name in (('2026-01-01', 'New Year'), ('2026-04-03', 'spring holiday'), ('2026-04-06', 'spring holiday'),
                   ('2026-05-01', 'May Day'), ('2026-08-10', 'works holiday'), ('2026-08-11', 'works holiday'),
                   ('2026-08-12', 'works holiday'), ('2026-08-13', 'works holiday'), ('2026-08-14', 'works holiday'),
                   ('2026-12-25', 'winter holiday')):
    row('holiday', date=date, name=name)
for name in ('Fernhill Springs', 'Alder Hardening', 'Marram Fasteners', 'Sallow Plating'):
    row('supplier', name=name)
shop.tell_benches(row)

# ---- the Hawfinch: what it is -----------------------------------------------------------------------------------
HF = 'HF'
row('model', code=HF, name='Hawfinch, folding pruning saw', purpose='A folding saw with a rocker-lever lock for orchard work',
    designer='RB', target_release='2026-12-18', monthly_demand='120',
    caution_text='Invented demo data: no figure here says anything about a real tool.')
for no, text, code in ((1, 'The lock slips under side load and the blade closes on the fingers', 'LS'),
                       (2, 'The lock does not engage fully and opens when the handle is twisted', 'LE'),
                       (3, 'The lever sticks and the user forces the blade with the other hand', 'LV')):
    row('hazard', model=HF, no=no, what=text, characteristic=code)

parts = {'HF-10': ('Saw blade', 'made'), 'HF-20': ('Rocker lever', 'made'), 'HF-30': ('Lock spring', 'bought'),
         'HF-40': ('Pivot bolt', 'made'), 'HF-50': ('Handle scales', 'made'), 'HF-60': ('Washer', 'bought')}
for number, (name, source) in parts.items():
    supplier = {'HF-30': 'Fernhill Springs', 'HF-60': 'Marram Fasteners'}.get(number)
    row('part', number=number, name=name, source=source, supplier=supplier,
        lead_days={'HF-30': 15, 'HF-60': 8}.get(number), quantity=2 if number in ('HF-50', 'HF-60') else 1,
        price={'HF-10': '6.80', 'HF-20': '4.10', 'HF-30': '0.85', 'HF-40': '1.60', 'HF-50': '3.40', 'HF-60': '0.22'}[number])
revisions = (('HF-10', 'A', '2026-01-14', 'first blade'), ('HF-10', 'B', '2026-04-02', 'tang notch 0.3 deeper'),
             ('HF-10', 'C', '2026-07-31', 'hardened tang, notch ground after hardening'),
             ('HF-20', 'A', '2026-01-15', 'first lever'), ('HF-20', 'B', '2026-04-07', 'steeper ramp; did not stop the slip'),
             ('HF-20', 'C', '2026-06-09', 'undercut nose, holds under side load'),
             ('HF-20', 'D', '2026-10-07', 'ramp radius 0.6 instead of 0.3, polished'),
             ('HF-30', 'A', '2026-01-15', 'wire 0.8'), ('HF-30', 'B', '2026-06-02', 'wire 0.9'),
             ('HF-30', 'C', '2026-06-05', 'wire 0.9, shot peened'),
             ('HF-40', 'A', '2026-01-15', ''), ('HF-40', 'B', '2026-04-01', 'tighter fit, 6 g6'),
             ('HF-50', 'A', '2026-01-15', ''), ('HF-50', 'B', '2026-06-08', 'relief at the lever'),
             ('HF-50', 'C', '2026-10-05', 'seat of the washer 0.05 deeper'),
             ('HF-60', 'A', '2026-01-15', 'nylon'), ('HF-60', 'B', '2026-08-03', 'bronze'))
latest = {part: label for part, label, _, _ in revisions}
for part, label, date, note in revisions:
    row('revision', part=part, label=label, state='released' if latest[part] == label else 'withdrawn', date=date, note=note or None)

shop.tell_route(row, HF, shop.ROUTE)
row('step_setting', model=HF, step=30, name='tempering temperature', from_date='2026-01-10', value='220', unit='°C')
row('step_setting', model=HF, step=30, name='tempering temperature', from_date='2026-07-30', value='205', unit='°C', change=7)

# code: name, kind, unit, decimals, class, shape, deciding step, limits, parts and steps it depends on
characteristics = {
    'LE': ('Lock engagement', 'measured', 'mm', 2, 'safety', 'normal', 70, (None, '1.20', None), 'HF-10 HF-20 HF-40'),
    'LS': ('Load at slip', 'measured', 'N', 0, 'safety', 'normal', 70, (None, '250', None), 'HF-10 HF-20 HF-30 HF-40 30'),
    'LH': ('Lock holds under the bench test', 'checked', None, None, 'safety', None, 70, None, 'HF-10 HF-20'),
    'SP': ('Side play at the tip', 'measured', 'mm', 2, 'function', 'unknown', 70, (None, None, '0.45'), 'HF-40 HF-50 HF-60'),
    'OF': ('Opening force', 'measured', 'N', 1, 'function', 'normal', 70, ('13', '9', '17'), 'HF-20 HF-30'),
    'HR': ('Blade hardness', 'measured', 'HRC', 1, 'function', 'normal', 40, ('57', '55', '59'), 'HF-10 30'),
    'CF': ('Cutting force', 'measured', 'N', 0, 'function', 'log-normal', 70, (None, None, '62'), 'HF-10'),
    'LV': ('Lever sticks', 'checked', None, None, 'function', None, 70, None, 'HF-20 HF-30'),
    'BC': ('Blade centring', 'measured', 'mm', 2, 'appearance', 'normal', 70, ('0', '-0.50', '0.50'), 'HF-10 HF-40 HF-50 HF-60'),
    'RB': ('Blade rubs in the handle', 'checked', None, None, 'appearance', None, 70, None, 'HF-10 HF-50 HF-60'),
    'CY': ('Spring lasts 3000 openings', 'checked', None, None, 'function', None, None, None, 'HF-30'),
    'LL': ('Lever works through 3000 openings', 'checked', None, None, 'function', None, None, None, 'HF-20 HF-30'),
}
for name, resolution in (('Caliper 3', '0.01'), ('Force gauge 1', '0.1'), ('Hardness tester', '0.1'), ('Slip rig', '1')):
    row('gauge', name=name, resolution=resolution)
    row('gauge_calibration', gauge=name, date='2026-01-08', due='2027-01-08', in_order='yes')
gauge_of = {'LE': 'Caliper 3', 'SP': 'Caliper 3', 'BC': 'Caliper 3', 'OF': 'Force gauge 1', 'CF': 'Force gauge 1',
            'HR': 'Hardness tester', 'LS': 'Slip rig'}
for code, (name, kind, unit, decimals, klass, shape, step, limits, depends) in characteristics.items():
    row('characteristic', model=HF, code=code, name=name, kind=kind, unit=unit, decimals=decimals, **{'class': klass},
        per_unit='worst' if code == 'SP' else 'mean' if code == 'HR' else 'first', shape=shape,
        destructive='yes' if code == 'LS' else 'no', step=step, gauge=gauge_of.get(code))
    if limits:
        first = limits if code != 'OF' else ('13', '9', '16')
        row('limit', model=HF, characteristic=code, from_date='2026-01-12', nominal=first[0], lower=first[1], upper=first[2])
    for what in depends.split():
        row('depends', model=HF, characteristic=code, part=what if '-' in what else None, step=None if '-' in what else what)
# After pilot A the opening force was measured at the thumb, 10 mm further out; the limit moved before pilot B was built.
row('limit', model=HF, characteristic='OF', from_date='2026-10-09', nominal='13', lower='9', upper='17', change=12)

# ---- the rounds -------------------------------------------------------------------------------------------------
rounds = (
    ('M1', 'bench', 'Does a rocker lever lock at all?', 2, '01-12 01-16 01-23 01-27 01-29 01-30', 'go on'),
    ('P1', 'prototype', 'Does the lock hold with production fits?', 6, '02-02 02-13 03-06 03-12 03-19 03-23', 'another round'),
    ('P2', 'prototype', 'Does the steeper ramp stop the slip?', 8, '03-24 04-08 05-06 05-13 05-22 05-27', 'another round'),
    ('P3', 'prototype', 'Which spring lasts, B or C?', 10, '05-28 06-11 07-03 07-09 07-21 07-24', 'go on'),
    ('A', 'pilot', 'Can the benches build forty alike?', 40, '07-27 08-05 08-28 09-15 09-25 09-30', 'another round'),
    ('B', 'pilot', 'Is it ready for release?', 60, '10-01 10-09 10-28 11-12 11-20', None))
fitted = {'M1': 'A A A A A A', 'P1': 'A A A A A A', 'P2': 'B B A B A A', 'P3': 'B C B B B A', 'A': 'C C C B B B', 'B': 'C D C B C B'}
blade_lots = {'A': ('H-07', 'H-08'), 'B': ('H-09', 'H-10', 'H-11')}
spring_lots = {'P3': ('S-31',), 'A': ('S-38', 'S-40'), 'B': ('S-41', 'S-43')}
for number, received, verdict in (('H-07', '2026-08-24', 'accepted'), ('H-08', '2026-08-26', 'accepted'),
                                  ('H-09', '2026-10-22', 'accepted'), ('H-10', '2026-10-23', 'accepted'), ('H-11', '2026-10-27', 'accepted')):
    row('lot', part='HF-10', number=number, supplier='Alder Hardening', received=received, quantity=24, verdict=verdict, person='LN')
for number, received, verdict in (('S-31', '2026-06-29', 'accepted'), ('S-38', '2026-08-20', 'accepted'), ('S-40', '2026-08-27', 'accepted'),
                                  ('S-41', '2026-10-20', 'accepted'), ('S-42', '2026-10-21', 'rejected'), ('S-43', '2026-10-26', 'accepted')):
    row('lot', part='HF-30', number=number, supplier='Fernhill Springs', received=received, quantity=50, verdict=verdict, person='LN')

units = {}
for label, kind, question, count, dates, verdict in rounds:
    day = dict(zip(('opened', 'design_fixed', 'parts_ready', 'built', 'tested', 'decided'), ('2026-' + d for d in dates.split())))
    row('round', model=HF, label=label, kind=kind, question=question, planned_units=count, verdict=verdict, **day,
        **shop.plan_of(shop.PLANS, label, 2026))
    revision = dict(zip(parts, fitted[label].split()))
    for part, rev in revision.items():
        if label == 'P3' and part == 'HF-30':
            row('round_part', model=HF, round=label, part=part, revision='B', units=5, first_serial='P3-01')
            row('round_part', model=HF, round=label, part=part, revision='C', lot='S-31', units=5, first_serial='P3-06')
            continue
        row('round_part', model=HF, round=label, part=part, revision=rev, units=count)
    for i in range(count):
        serial = f'{label}-{i + 1:02d}'
        units.setdefault(label, []).append(serial)
        row('unit', model=HF, round=label, serial=serial, assembled_on=day['built'], assembled_by='TK' if i % 3 else 'JS')
        if label == 'P3':
            row('unit_part', model=HF, round=label, unit=serial, part='HF-30', revision='B' if i < 5 else 'C', lot=None if i < 5 else 'S-31')
        for part, lots in (('HF-10', blade_lots.get(label)), ('HF-30', spring_lots.get(label) if label in 'AB' else None)):
            if lots:
                row('unit_part', model=HF, round=label, unit=serial, part=part, revision=revision[part], lot=lots[i * len(lots) // count])

for label, no, reason, what, supplier, start, end in (
        ('P1', 1, 'outside step', 'hardening of six blades', 'Alder Hardening', '2026-02-17', '2026-03-04'),
        ('P2', 1, 'outside step', 'hardening of eight blades', 'Alder Hardening', '2026-04-13', '2026-05-04'),
        ('P3', 1, 'delivery', 'springs B and C', 'Fernhill Springs', '2026-06-12', '2026-06-29'),
        ('A', 1, 'outside step', 'hardening of forty blades', 'Alder Hardening', '2026-08-06', '2026-08-26'),
        ('B', 1, 'delivery', 'springs for the lot that failed', 'Fernhill Springs', '2026-10-12', '2026-10-26')):
    row('wait', model=HF, round=label, no=no, reason=reason, what=what, supplier=supplier, from_date=start, to_date=end)
shop.tell_waits(row, {'P1': 1, 'P2': 1, 'P3': 1, 'A': 1, 'B': 1})

# mean and deviation by round; the story's failures stand below
means = {
    'LE': {'M1': (1.05, .12), 'P1': (1.22, .07), 'P2': (1.28, .06), 'P3': (1.41, .05), 'A': (1.465, .040), 'B': (1.47, .038)},
    'LS': {'P1': (212, 24), 'P2': (228, 22), 'P3': (338, 21), 'A': (382, 18), 'B': (402, 15)},
    'SP': {'M1': (.62, .1), 'P1': (.46, .06), 'P2': (.38, .05), 'P3': (.35, .045), 'A': (.30, .04), 'B': (.26, .032)},
    'OF': {'P1': (10.2, 1.1), 'P2': (11.4, 1.0), 'P3': (13.4, .8), 'A': (13.9, .75), 'B': (13.1, .7)},
    'HR': {'P1': (55.6, .8), 'P2': (55.9, .7), 'P3': (56.1, .6), 'A': (57.1, .45), 'B': (57.2, .4)},
    'CF': {'P1': (58, 4), 'P2': (54, 4), 'P3': (51, 3.5), 'A': (47, 3), 'B': (46, 2.8)},
    'BC': {'P1': (.18, .2), 'P2': (.12, .18), 'P3': (.08, .15), 'A': (.05, .14), 'B': (.02, .12)},
}
lot_shift = {'H-07': -.12, 'H-08': .10, 'H-09': .08, 'H-10': -.06, 'H-11': .02}
sampled = {'LS': {'A': 14, 'B': 22}, 'CF': {'A': 12, 'B': 14}}
failed = {'LH': {'P1': (1, 2, 4, 5), 'P2': (0, 1, 3, 4, 6)},
          'LV': {'P2': (5,), 'P3': (1, 4), 'A': (3, 7, 11, 18, 22, 23, 31, 36), 'B': (16,)},
          'RB': {'P1': (0, 3), 'P2': (2,), 'A': (14, 29)}}
moments = {'P1': '2026-03-1%d', 'P2': '2026-05-1%d', 'P3': '2026-07-1%d', 'A': '2026-09-1%d', 'B': '2026-11-1%d', 'M1': '2026-01-2%d'}


def reading(label, serial, code, value=None, mark=None, attempt=1, n=1, day=7, **more):
    row('reading', model=HF, round=label, unit=serial, characteristic=code, attempt=attempt, n=n,
        value=value, mark=mark, taken=(moments[label] % day) + 'T%02d:%02d' % (8 + len(tables.get('reading', ())) // 60 % 8, len(tables.get('reading', ())) % 60),
        person='LN', gauge=gauge_of.get(code), **more)


for label, kind, question, count, dates, verdict in rounds:
    for code, (name, what, unit, decimals, klass, shape, step, limits, depends) in characteristics.items():
        chosen = units[label]
        wanted = sampled.get(code, {}).get(label)
        if wanted:                                    # spread over the run, so that every lot is in it
            chosen = [chosen[i * count // wanted] for i in range(wanted)]
        if what == 'checked' and (label == 'M1' or code not in failed) or what == 'measured' and label not in means[code]:
            continue
        for serial in chosen:
            i = units[label].index(serial)
            day = 6 + i % 3 if label != 'M1' else 8
            if what == 'checked':
                reading(label, serial, code, mark='failed' if i in failed[code].get(label, ()) else 'passed', day=day)
                continue
            mean, sd = means[code][label]
            repeats = {'SP': 2, 'HR': 3}.get(code, 1) if label not in ('M1', 'P1') else 1
            own = draw.gauss(mean, sd)
            if code == 'HR' and label in blade_lots:
                lots = blade_lots[label]
                own += lot_shift[lots[i * len(lots) // count]]
            if code == 'OF' and label == 'P3':        # the peened spring is the stiffer one
                own += .5 if i >= 5 else -1.3
            for n in range(1, repeats + 1):
                value = own + (draw.gauss(0, sd / 6) if repeats > 1 else 0)
                value = abs(value) if code == 'SP' else value
                if (label, serial, code) == ('B', 'B-41', 'OF'):          # the concession
                    value = 17.3
                if (label, serial, code) == ('B', 'B-08', 'OF'):          # typed without the point, voided, measured again
                    reading(label, serial, code, value='131', n=1, day=day, voided='yes', reason='typed without the point: 13.1 was read')
                    reading(label, serial, code, value='13.1', attempt=1, n=2, day=day)
                    break
                reading(label, serial, code, value=f'{value:.{decimals}f}', n=n, day=day)

# ---- what happened to single units ------------------------------------------------------------------------------
reading('B', 'B-17', 'LV', mark='passed', attempt=2, day=9)
story.tell(row, units, failed)
shop.tell_lives(row, units, len(tables['life_test']))
shop.tell_gauges(row)
shop.tell_tallies(row)

# ---- the release gate -------------------------------------------------------------------------------------------
row('gate', model=HF, position=1, name='Release')
for code, kind, about, share, confidence, why in (
        ('C1', 'measured', 'LE', '0.9999', '0.95', 'a thumb is behind this lock'), ('C2', 'measured', 'LS', '0.9999', '0.95', 'strength of the lock'),
        ('C3', 'checked', 'LH', '0.9', '0.9', 'beside the measured strength'), ('C4', 'measured', 'SP', '0.95', '0.9', ''),
        ('C5', 'measured', 'OF', '0.95', '0.9', ''), ('C6', 'measured', 'HR', '0.95', '0.9', ''), ('C7', 'measured', 'CF', '0.95', '0.9', ''),
        ('C8', 'checked', 'LV', '0.95', '0.9', ''), ('C9', 'measured', 'BC', '0.9', '0.9', ''), ('C10', 'checked', 'RB', '0.9', '0.9', ''),
        ('C11', 'documents', None, None, None, ''), ('C12', 'revisions', None, None, None, ''), ('C13', 'sign-offs', None, None, None, ''),
        ('C14', 'fix', 1, '0.9', '0.9', 'the hazard of this saw'), ('C15', 'fix', 3, '0.9', '0.9', 'a broken spring lets the lever go'),
        ('C16', 'fix', 2, '0.95', '0.9', 'C8 asks the same of every unit, so this one does not block')):
    row('criterion', model=HF, gate=1, code=code, kind=kind, **{'issue' if kind == 'fix' else 'characteristic': about},
        blocking='no' if code in ('C9', 'C10', 'C16') else 'yes')
    if share:
        row('criterion_term', model=HF, criterion=code, from_date='2026-07-27' if kind == 'fix' else '2026-01-30', share=share,
            confidence=confidence, person='MO', reason=why or None)
    else:
        row('criterion_term', model=HF, criterion=code, from_date='2026-01-30', person='MO', target={'C13': 1}.get(code))
for code, kind, about, terms, why in (
        ('C17', 'yield', None, {'share': '0.40', 'confidence': '0.90'}, 'of all steps from the blank on, good the first time'),
        ('C18', 'rate', None, {'target': '90', 'confidence': '0.80'}, 'ninety a month would do in the first season'),
        ('C19', 'life', 'LL', {'share': '0.90', 'confidence': '0.90', 'cycles': '3000', 'shape_low': '1.2', 'shape_high': '3'}, 'five seasons of use'),
        ('C20', 'life', 'CY', {'share': '0.90', 'confidence': '0.90', 'cycles': '3000', 'shape_low': '1', 'shape_high': '4'}, 'beside C15: the springs of today alone'),
        ('C21', 'method', 'OF', {'target': '0.30', 'confidence': '0.90'}, ''), ('C22', 'method', 'HR', {'target': '0.30', 'confidence': '0.90'}, ''),
        ('C23', 'detection', 'LH', {'share': '0.85', 'confidence': '0.90'}, 'what slips must be found before it leaves')):
    row('criterion', model=HF, gate=1, code=code, kind=kind, characteristic=about, blocking='yes' if code == 'C23' else 'no')
    row('criterion_term', model=HF, criterion=code, from_date='2026-07-27', person='MO', reason=why or None, **terms)
row('signoff', model=HF, gate=1, person='RB', no=1, opinion='agree', date='2026-11-23',
    reason='lever D does what it should; the third lot of springs must still come')
for no, kind, title, state, date in ((1, 'drawing', 'Drawing set, revision of 5 October', 'approved', '2026-10-05'),
                                     (2, 'instructions', 'How to open, lock and clean the saw', 'approved', '2026-11-16'),
                                     (3, 'marking', 'Marking of the blade', 'approved', '2026-11-10')):
    row('document', model=HF, no=no, kind=kind, title=title, state=state, person='EH', date=date)

# ---- the Wagtail, released earlier, and the Dunnock, just begun ---------------------------------------------------
evidence = wagtail.tell(row, draw)

DU = 'DU'
row('model', code=DU, name='Dunnock, hook knife', purpose='A folding hook knife for baskets', designer='RB')
row('part', number='DU-10', name='Hook blade', source='made')
row('revision', part='DU-10', label='A', state='draft', date='2026-11-02')
row('characteristic', model=DU, code='EN', name='Lock engagement', kind='measured', unit='mm', decimals=2, **{'class': 'safety'}, per_unit='first', shape='normal')
row('round', model=DU, label='M1', kind='bench', question='Can the hook fold at all?', planned_units=2, opened='2026-11-02',
    design_fixed='2026-11-05', parts_ready='2026-11-12', built='2026-11-16')
row('round_part', model=DU, round='M1', part='DU-10', revision='A', units=2)
for serial, value in (('M1-01', '0.92'), ('M1-02', '1.08')):
    row('unit', model=DU, round='M1', serial=serial, assembled_on='2026-11-16', assembled_by='JS')
    row('reading', model=DU, round='M1', unit=serial, characteristic='EN', attempt=1, n=1, value=value, taken='2026-11-17', person='LN',
        gauge='Caliper 2')

# ---- what is attached ---------------------------------------------------------------------------------------------
files = {hashlib.sha256(evidence).hexdigest(): evidence}


def attach(record, owner, no, kind, name, content):
    digest = hashlib.sha256(content).hexdigest()
    files[digest] = content
    row('attachment', owner_record=record, owner=owner, no=no, kind=kind, name=name, mime_type='image/png', sha256=digest, size=len(content))


for part, revision, name, canvas in drawings.all_drawings():
    attach('revision', f'{part}/{revision}', 1, 'drawing', name, canvas.drawing())
attach('change', 'HF/10', 1, 'drawing', 'lever-C-marked-by-RB.png', drawings.marked_lever(random.Random(20261001)).drawing())
for name, content in photographs.all_photographs():
    issue, no = {'tang-slip-mark.png': (1, 1), 'lever-ramp-worn.png': (2, 1), 'lever-slot-burr.png': (2, 2), 'spring-hook-broken.png': (3, 1),
                 'blade-rubbed.png': (4, 1)}[name]
    attach('issue', f'HF/{issue}', no, 'photograph', name, content)
row('attachment', owner_record='document', owner='HF/1', no=1, kind='drawing', name='Drawing set on paper, cabinet 2, drawer 4',
    link='drawings/HF/2026-10-05')

(out / 'files').mkdir(parents=True, exist_ok=True)
for old in (out / 'files').iterdir():
    if old.name not in files:
        old.unlink()
for digest, content in files.items():
    (out / 'files' / digest).write_bytes(content)
for record, rows in sorted(tables.items()):
    columns = []
    for cells in rows:
        columns += [column for column in cells if column not in columns]
    with open(out / f'{record}.csv', 'w', newline='', encoding='utf-8') as handle:
        writer = csv.DictWriter(handle, columns, lineterminator='\n')
        writer.writeheader()
        writer.writerows(rows)
