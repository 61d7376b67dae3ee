# SPDX-License-Identifier: GPL-3.0-or-later
"""The Wagtail: released a year before the Hawfinch, and what its first series brought. All of it is invented.

What was known on the day of the release is kept as the program froze it, in wagtail-release.json: `freeze` made it once, of
these same files without the decision, and it is not made anew, as no evidence is."""
import hashlib
import pathlib
import random

import shop

WT = 'WT'
EVIDENCE = pathlib.Path(__file__).resolve().parent / 'wagtail-release.json'
PARTS = ('WT-10', 'WT-20', 'WT-30')

# code: name, kind, unit, decimals, class, limits
CHARACTERISTICS = {'RT': ('Torque to turn the ring', 'measured', 'N·m', 2, 'safety', (None, '0.60', None)),
                   'EA': ('Edge angle', 'measured', '°', 1, 'function', ('20', '18.5', '21.5')),
                   'KH': ('Hardness of the blade', 'measured', 'HRC', 1, 'function', ('58', '56', '60')),
                   'RL': ('Ring locks at both ends', 'checked', None, None, 'function', None)}

# label, kind, units, revision, opened to decided, verdict
ROUNDS = (('P1', 'prototype', 6, 'A', '2025-03-03 2025-03-21 2025-04-11 2025-04-18 2025-04-25 2025-04-28', 'another round'),
          ('P2', 'prototype', 10, 'B', '2025-05-05 2025-06-10 2025-07-04 2025-07-11 2025-07-18 2025-07-22', 'go on'),
          ('A', 'pilot', 50, 'B', '2025-08-04 2025-08-08 2025-09-12 2025-10-02 2025-10-17 2025-10-24', 'go on'),
          ('S', 'first series', 80, 'B', '2025-10-27 2025-10-28 2025-11-21 2025-12-05 2025-12-12 2025-12-17', 'go on'))

# In the first series four rings locked at one end only, and two edges were ground beyond the limit: indices of the units
ONE_END, WIDE_EDGE = (18, 31, 55, 70), {44: '21.7', 62: '18.3'}
SCRAPPED = 55
INSPECTED = ('2025-12-09', '2025-12-10', '2025-12-11')


def inspected(i):
    return INSPECTED[i * len(INSPECTED) // 80]


def reading(row, label, serial, code, taken, attempt=1, **cells):
    row('reading', model=WT, round=label, unit=serial, characteristic=code, attempt=attempt, n=1, taken=taken, person='LN', **cells)


def tell_parts(row):
    row('model', code=WT, name='Wagtail, grafting knife', purpose='A grafting knife with a ring lock', designer='RB', target_release='2025-11-14', monthly_demand='90',
        caution_text='Invented demo data: no figure here says anything about a real tool.')
    row('hazard', model=WT, no=1, what='The ring turns by itself and the blade closes', characteristic='RT')
    for number, name, price in zip(PARTS, ('Knife blade', 'Lock ring', 'Handle'), ('4.90', '2.70', '3.10')):
        row('part', number=number, name=name, source='made', price=price)
        for label, date in (('A', '2025-03-03'), ('B', '2025-06-10')):
            row('revision', part=number, label=label, state='released' if label == 'B' else 'withdrawn', date=date)
    shop.tell_route(row, WT, shop.WAGTAIL_ROUTE)
    for code, (name, kind, unit, decimals, klass, limits) in CHARACTERISTICS.items():
        row('characteristic', model=WT, code=code, name=name, kind=kind, unit=unit, decimals=decimals, **{'class': klass},
            per_unit='first', shape='normal' if kind == 'measured' else None)
        if limits:
            row('limit', model=WT, characteristic=code, from_date='2025-03-01', nominal=limits[0], lower=limits[1], upper=limits[2])
        row('depends', model=WT, characteristic=code, part={'EA': 'WT-10', 'KH': 'WT-10'}.get(code, 'WT-20'))


def tell_series_unit(row, draw, i, serial, taken):
    """A unit of the first series: the edges spread more than in the pilot, and the wheel was dressed too late."""
    for code, mean, sd in (('RT', .835, .030), ('EA', 20.2, .40), ('KH', 58.1, .50)):
        value = f'{draw.gauss(mean, sd):.{CHARACTERISTICS[code][3]}f}'
        reading(row, 'S', serial, code, taken, value=WIDE_EDGE.get(i, value) if code == 'EA' else value)
    reading(row, 'S', serial, 'RL', taken, mark='failed' if i in ONE_END else 'passed')
    if i in WIDE_EDGE:
        reading(row, 'S', serial, 'EA', taken, attempt=2, value='20.1')
    if i in ONE_END and i != SCRAPPED:
        reading(row, 'S', serial, 'RL', taken, attempt=2, mark='passed')


def tell_rounds(row, draw):
    own = random.Random(20261120)
    for label, kind, count, rev, dates, verdict in ROUNDS:
        day = dict(zip(('opened', 'design_fixed', 'parts_ready', 'built', 'tested', 'decided'), dates.split()))
        row('round', model=WT, label=label, kind=kind, planned_units=count, verdict=verdict, **day, **shop.plan_of(shop.WAGTAIL_PLANS, label, 2025))
        for number in PARTS:
            row('round_part', model=WT, round=label, part=number, revision=rev, units=count)
        for i in range(count):
            serial = f'W{label}-{i + 1:02d}'
            row('unit', model=WT, round=label, serial=serial, assembled_on=day['built'], assembled_by='JS')
            if label == 'S':
                tell_series_unit(row, own, i, serial, inspected(i))
                continue
            for code, mean, sd in (('RT', .84 if rev == 'B' else .7, .028), ('EA', 20.1, .35), ('KH', 58.2, .45)):
                reading(row, label, serial, code, day['tested'], value=f'{draw.gauss(mean, sd):.{CHARACTERISTICS[code][3]}f}')
            reading(row, label, serial, 'RL', day['tested'], mark='failed' if (label, i) == ('P1', 2) else 'passed')


def tell_issues(row):
    row('issue', model=WT, no=1, title='Ring locks at one end only', **{'class': 'function'}, found_round='P1', found_on='2025-04-25',
        characteristic='RL', tolerated_share='0.10', cause='The detent is too shallow.', cause_basis='seen', owner='EH',
        contained='2025-04-25', cause_known='2025-05-02', closed='2025-10-20', outcome='proven', outcome_by='EH')
    row('finding', model=WT, issue=1, no=1, round='P1', unit='WP1-03', disposition='scrap', person='EH', date='2025-04-25', reason='ring opens')
    for no, i in enumerate(ONE_END):
        row('finding', model=WT, issue=1, no=no + 2, round='S', unit=f'WS-{i + 1:02d}', found_at=60, caused_at=20, person='LN', date=inspected(i),
            disposition='scrap' if i == SCRAPPED else 'rework', reason='ring cracked at the detent' if i == SCRAPPED else 'detent cut anew')
    row('issue', model=WT, no=2, title='Ring turns stiffly after rain', **{'class': 'function'}, found_round='S', found_on='2026-09-08',
        tolerated_share='0.05', owner='EH', contained='2026-09-10')
    row('finding', model=WT, issue=2, no=1, affected=3, inspected=78, in_field='yes', disposition='send back', person='EH', date='2026-09-10',
        reason='cleaned and oiled for the owner')
    row('issue', model=WT, no=3, title='Edge angle wanders towards the end of a wheel', **{'class': 'function'}, found_round='S', found_on='2025-12-10',
        characteristic='EA', tolerated_share='0.05', cause='The wheel was dressed after forty blades instead of twenty.', cause_basis='seen', owner='TK',
        contained='2025-12-11', cause_known='2025-12-11')
    for no, i in enumerate(WIDE_EDGE):
        row('finding', model=WT, issue=3, no=no + 1, round='S', unit=f'WS-{i + 1:02d}', found_at=60, caused_at=40, disposition='rework', person='EH',
            date=inspected(i), reason='edge ground again')
    row('issue', model=WT, no=4, title='Edge chips on dry knots', **{'class': 'appearance'}, found_round='S', found_on='2026-03-19',
        tolerated_share='0.10', owner='EH', contained='2026-03-23', cause='It is a knife for green wood.', cause_basis='guessed', cause_known='2026-04-02',
        closed='2026-04-10', outcome='accepted', outcome_by='MO')
    row('finding', model=WT, issue=4, no=1, affected=2, inspected=78, in_field='yes', disposition='use as is', person='EH', date='2026-03-23',
        reason='edges stoned for the owners; the leaflet now says green wood only')


def tell_changes(row):
    for no, title, reason, items, codes in (
            (1, 'Deeper detent of the lock ring', 'One ring of six locks at one end only.', (('WT-20', 'detent 0.3 mm', 'detent 0.5 mm'),), 'RT RL'),
            (2, 'Blade and handle for the wider ring', 'The ring with the deeper detent is 0.4 mm wider.',
             (('WT-10', 'groove 3.0 mm', 'groove 3.4 mm'), ('WT-30', 'seat 3.1 mm', 'seat 3.5 mm')), 'EA KH')):
        row('change', model=WT, no=no, title=title, reason=reason, proposed_by='RB', proposed_on='2025-05-06', agreed_by='EH',
            agreed_on='2025-05-20', from_round='P2', carried_out='2025-06-10')
        for i, (part, old, new) in enumerate(items):
            row('change_item', model=WT, change=no, no=i + 1, part=part, old_revision='A', new_revision='B', old=old, new=new)
        for code in codes.split():
            row('change_effect', model=WT, change=no, characteristic=code, effect='measure again')
    row('change_issue', model=WT, change=1, issue=1)


def tell_release(row):
    row('gate', model=WT, position=1, name='Release')
    for code, kind, about, share, confidence in (('C1', 'measured', 'RT', '0.9999', '0.95'), ('C2', 'measured', 'EA', '0.95', '0.9'),
                                                 ('C3', 'measured', 'KH', '0.95', '0.9'), ('C4', 'checked', 'RL', '0.95', '0.9')):
        row('criterion', model=WT, gate=1, code=code, kind=kind, characteristic=about, blocking='yes')
        row('criterion_term', model=WT, criterion=code, from_date='2025-04-01', share=share, confidence=confidence, person='MO')
    row('signoff', model=WT, gate=1, person='EH', no=1, opinion='agree', date='2025-10-23', reason='fifty alike; the benches know it now')
    row('signoff', model=WT, gate=1, person='RB', no=1, opinion='agree with conditions', conditions='Look at the detent of every ring of the series.', date='2025-10-22')
    conditions = (('Turn every ring of the first series to both ends', 'LN', '2025-12-12', '2025-12-11'),
                  ('Put the care of the ring into the leaflet', 'EH', '2025-11-28', '2025-11-20'))
    row('decision', model=WT, gate=1, no=1, verdict='release with conditions', person='MO', date='2025-10-24',
        conditions='\n'.join(f'{what} ({who}, {due})' for what, who, due, _ in conditions),
        evidence=hashlib.sha256(EVIDENCE.read_bytes()).hexdigest(), reason='all four criteria are met on the pilot')
    for no, (what, who, due, done) in enumerate(conditions):
        row('todo', no=no + 7, what=what, person=who, due=due, done=done, about_record='decision', about=f'{WT}/1/1')


def tell(row, draw):
    """Tells the Wagtail; answers with what was known when it was released."""
    tell_parts(row)
    tell_rounds(row, draw)
    tell_issues(row)
    tell_changes(row)
    tell_release(row)
    return EVIDENCE.read_bytes()
