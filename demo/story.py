# SPDX-License-Identifier: GPL-3.0-or-later
"""What went wrong with the Hawfinch, what was changed for it, and how that was shown. All of it is invented.

make-data.py calls tell() once the units are there. Numbers of issues and changes are written out, because they refer to
one another and demo/README.md names them."""

import shop

HF = 'HF'

# no, title, class, round, found on, step, seen by, cycles seen at, tolerated share, cause, how known, then the days:
# contained, cause known, closed; outcome and by whom
ISSUES = (
    (1, 'Lock slips under side load', 'safety', 'P1', '2026-03-16', 70, 'LH', None, '0.10',
     'The nose of the lever rides up the tang: with the nose ground square it slips, with the undercut it holds.',
     'switched on and off', '2026-03-17', '2026-06-02', '2026-11-23', 'proven', 'EH'),
    (2, 'Lever sticks after some hundred cycles', 'function', 'P2', '2026-05-19', 70, 'LV', 200, '0.05',
     'The edge of the ramp digs into the liner and wears a step there.', 'seen', '2026-05-20', '2026-09-28', None, None, None),
    (3, 'Spring breaks at the hook', 'function', 'P2', '2026-05-21', None, 'CY', 900, '0.10',
     'Tool marks on the inside of the hook; every break starts at one.', 'seen', '2026-05-22', '2026-07-20', None, None, None),
    (4, 'Blade rubs in the handle', 'appearance', 'P1', '2026-03-17', 70, 'RB', None, '0.10',
     'The washer sits too shallow, so that the blade leans.', 'guessed', None, '2026-09-29', None, None, None),
    (5, 'Opening force above the limit on one unit', 'function', 'B', '2026-11-17', 70, 'OF', None, '0.05',
     None, None, None, None, None, None, None),
    (6, 'Springs of lot S-42 are too short', 'function', 'B', '2026-10-21', 50, None, None, '0.05',
     'Wound on the mandrel of another spring, as the supplier says.', 'guessed', '2026-10-21', '2026-10-23', None, None, None),
    (7, 'Blades come back stained from hardening', 'appearance', 'A', '2026-08-27', 40, None, None, '0.20',
     'Oil left on the blank.', 'seen', '2026-08-28', '2026-09-02', '2026-10-05', 'accepted', 'MO'),
    (8, 'Lever clicks twice when it is closed slowly', 'function', 'P3', '2026-07-16', 70, None, None, '0.05',
     None, None, None, None, '2026-07-24', 'not reproduced', 'EH'))

# no, title, reason, proposed by, on, entered by, agreed by, on, from round, from serial, withdrawn, expected effect
CHANGES = (
    (1, 'Ramp of the lever at 12 degrees instead of 8', 'Four of six locks slipped: the ramp should draw the nose deeper.',
     'RB', '2026-03-25', None, 'EH', '2026-03-30', 'P2', None, None, 'No slip at 250 N in the bench test.'),
    (2, 'Notch of the tang 0.3 mm deeper', 'The nose reaches the flank of the notch only on half of the units.',
     'RB', '2026-03-26', None, 'EH', '2026-03-30', 'P2', None, None, 'Lock engagement 0.1 mm more.'),
    (3, 'Undercut nose on the lever', 'The steeper ramp did not help: five of eight still slip. Side load has to pull the nose in.',
     'RB', '2026-05-29', None, 'EH', '2026-06-03', 'P3', None, None, 'Load at slip above 300 N; no slip in the bench test.'),
    (4, 'Spring wire 0.9 mm instead of 0.8 mm', 'Springs break at the hook long before 3000 openings.',
     'RB', '2026-05-29', None, 'EH', '2026-06-01', 'P3', None, None, 'Less stress at the hook: no break in 3000 openings.'),
    (5, 'Spring shot peened, hook with a radius of 1.0 mm', 'If the break starts at tool marks, a thicker wire alone does not help. '
     'Half of the round gets this one, so that the two can be told apart.',
     'RB', '2026-06-02', None, 'EH', '2026-06-04', 'P3', 'P3-06', None, 'No break in 3000 openings.'),
    (6, 'Relief in the handle beside the lever', 'The lever needs room at its root, the makers say.',
     'TK', '2026-05-28', 'EH', 'RB', '2026-06-05', 'P3', None, None, 'The lever no longer sticks.'),
    (7, 'Tang hardened, notch ground after it, temper 15 degrees lower', 'Blades came back at 56 HRC, and the notch wears at its edge.',
     'RB', '2026-07-27', None, 'MO', '2026-07-29', 'A', None, None, 'Hardness near 57 HRC; the notch keeps its edge.'),
    (8, 'Washer of bronze instead of nylon', 'Side play grows with use, and the blade leans and rubs.',
     'RB', '2026-07-28', None, 'EH', '2026-07-31', 'A', None, None, 'Side play 0.05 mm less.'),
    (9, 'Lever plated with nickel', 'A smoother ramp might not dig into the liner.',
     'RB', '2026-09-28', None, None, None, None, None, '2026-10-02', 'The lever no longer sticks.'),
    (10, 'Ramp radius 0.6 mm instead of 0.3 mm, polished', 'Eight of forty levers stuck in pilot A. The edge of the ramp digs into the '
     'liner. The designer mailed a drawing with red marks.',
     'RB', '2026-10-01', 'EH', 'MO', '2026-10-06', 'B', None, None, 'At most one lever in twenty sticks at first fitting.'),
    (11, 'Seat of the washer 0.05 mm deeper', 'The blade still leans towards one handle scale and rubs on two of forty units.',
     'RB', '2026-10-01', None, 'EH', '2026-10-05', 'B', None, None, 'No rubbing; blade centring within 0.3 mm.'),
    (12, 'Opening force measured at the thumb; upper limit 17 N', 'The gauge now pulls where the thumb does, 10 mm further out, which '
     'reads higher for the same lever.', 'EH', '2026-10-07', None, 'MO', '2026-10-09', 'B', None, None, None),
    (13, 'Chamfer of 0.2 mm at the lever slot', 'B-17 stuck at a burr of the lever slot, not at the ramp.',
     'TK', '2026-11-19', 'EH', None, None, None, None, None, 'No burr that can hold the lever.'))

WHY_WITHDRAWN = {9: 'In the trial the plating flaked off the ramp after 150 openings.'}
CARRIED_OUT = {1: '2026-04-07', 2: '2026-04-02', 3: '2026-06-09', 4: '2026-06-02', 5: '2026-06-05', 6: '2026-06-08', 7: '2026-07-31',
               8: '2026-08-03', 10: '2026-10-07', 11: '2026-10-05', 12: '2026-10-09'}

# change, part, old revision, new revision, old, new
ITEMS = ((1, 'HF-20', 'A', 'B', 'ramp 8 degrees', 'ramp 12 degrees'), (2, 'HF-10', 'A', 'B', 'notch 2.1 mm deep', 'notch 2.4 mm deep'),
         (3, 'HF-20', 'B', 'C', 'nose square', 'nose undercut by 6 degrees'), (4, 'HF-30', 'A', 'B', 'wire 0.8 mm', 'wire 0.9 mm'),
         (5, 'HF-30', 'B', 'C', 'hook bent sharp', 'hook radius 1.0 mm, shot peened'),
         (6, 'HF-50', 'A', 'B', 'no relief', 'relief 0.4 mm beside the lever'),
         (7, 'HF-10', 'B', 'C', 'notch milled before hardening', 'notch ground after hardening'),
         (8, 'HF-60', 'A', 'B', 'nylon', 'bronze'), (9, 'HF-20', 'C', None, 'bare steel', 'plated with nickel, 8 µm'),
         (10, 'HF-20', 'C', 'D', 'ramp radius 0.3 mm, milled', 'ramp radius 0.6 mm, polished'),
         (11, 'HF-50', 'B', 'C', 'seat 0.80 mm deep', 'seat 0.85 mm deep'), (13, 'HF-50', 'C', None, 'slot with a sharp edge', 'chamfer 0.2 mm'))

ANSWERS = ((1, 1), (2, 1), (3, 1), (4, 3), (5, 3), (6, 2), (8, 4), (9, 2), (10, 2), (11, 4), (13, 2))

# What has to be measured again after each change.
AGAIN = {1: 'LE LS LH OF LV LL', 2: 'LE LS LH', 3: 'LE LS LH OF LV LL', 4: 'LS OF LV CY LL', 5: 'LS OF LV CY LL', 6: 'SP BC RB LV', 7: 'LE LS LH HR CF BC RB',
         8: 'SP BC RB', 10: 'LS LH OF LV LL', 11: 'SP BC RB', 12: 'OF'}

# change, characteristic, reason, by, second person
CARRIED = ((10, 'LE', 'The engagement is set by the nose and the notch; the radius of the ramp lies 4 mm away from both.', 'EH', 'MO'),)


def spread(serials, wanted):
    """So many of the units, over the whole run, so that every lot is among them."""
    return [serials[i * len(serials) // wanted] for i in range(wanted)]


def tell_issues(row):
    for (no, title, klass, label, found, step, code, cycles, share, cause, basis, contained, known, closed, outcome,
         person) in ISSUES:
        row('issue', model=HF, no=no, title=title, **{'class': klass}, found_round=label, found_on=found, found_step=step,
            characteristic=code, seen_in_life_test='yes' if code == 'CY' else 'no', seen_cycles=cycles, tolerated_share=share,
            cause=cause, cause_basis=basis, owner='EH', contained=contained, cause_known=known, closed=closed, outcome=outcome,
            outcome_by=person)


def tell_changes(row):
    for (no, title, reason, proposed_by, proposed, entered_by, agreed_by, agreed, label, serial, withdrawn, expected) in CHANGES:
        row('change', model=HF, no=no, title=title, reason=reason, proposed_by=proposed_by, proposed_on=proposed, entered_by=entered_by,
            agreed_by=agreed_by, agreed_on=agreed, from_round=label, from_serial=serial, withdrawn=withdrawn, expected_effect=expected,
            withdrawn_reason=WHY_WITHDRAWN.get(no), carried_out=CARRIED_OUT.get(no))
    for change, part, old_revision, new_revision, old, new in ITEMS:
        row('change_item', model=HF, change=change, no=1, part=part, old_revision=old_revision, new_revision=new_revision, old=old, new=new,
            new_label={13: 'D'}.get(change))
    row('change_item', model=HF, change=7, no=2, step=30, setting='tempering temperature', old='220', new='205', value='205')
    row('change_item', model=HF, change=12, no=1, characteristic='OF', old='9 to 16 N', new='9 to 17 N', nominal='13', lower='9',
        upper='17')
    for change, issue in ANSWERS:
        row('change_issue', model=HF, change=change, issue=issue)
    for change, codes in AGAIN.items():
        for code in codes.split():
            row('change_effect', model=HF, change=change, characteristic=code, effect='measure again')
    for change, code, reason, person, second in CARRIED:
        row('change_effect', model=HF, change=change, characteristic=code, effect='carried over', reason=reason, person=person,
            second_person=second)


def tell_findings(row, units, failed):
    number = {}

    def finding(issue, **cells):
        number[issue] = number.get(issue, 0) + 1
        row('finding', model=HF, issue=issue, no=number[issue], **cells)

    day = {'P1': '2026-03-18', 'P2': '2026-05-21', 'P3': '2026-07-20', 'A': '2026-09-22', 'B': '2026-11-18'}
    for code, issue, caused_at, disposition, reason in (('LH', 1, 20, 'scrap', 'lock slipped'), ('LV', 2, 20, 'rework', 'ramp polished'),
                                                        ('RB', 4, 60, 'rework', 'blade set again')):
        for label, serials in failed[code].items():
            for i in serials:
                at_burr = (code, label) == ('LV', 'B')
                finding(issue, round=label, unit=units[label][i], found_at=70, caused_at=50 if at_burr else caused_at,
                        disposition=disposition, person='EH', date=day[label],
                        reason='burr at the lever slot taken off' if at_burr else reason)
    finding(5, round='B', unit='B-41', found_at=70, disposition='use as is', person='MO', date='2026-11-19',
            reason='force is felt, not unsafe; kept as a house tool, not to be sold')
    finding(6, part='HF-30', lot='S-42', found_at=50, disposition='send back', person='EH', date='2026-10-22',
            reason='free length 0.6 mm short; the supplier winds a new lot')
    finding(6, affected=7, inspected=20, found_at=50)
    finding(7, affected=5, inspected=40, found_at=40, caused_at=30, disposition='rework', person='TK', date='2026-08-31',
            reason='stain polished off')


def tell_events(row, units, failed):
    """Each unit's events, told by the day, with those of the steps."""
    events = shop.unit_events(units) + shop.inspection_events(units, failed)

    def event(label, serial, date, step, kind, reason, person, issue=2, minutes=None):
        events.append((label, serial, {'date': date, 'step': step, 'kind': kind, 'issue': issue, 'minutes': minutes, 'reason': reason,
                                       'person': person}))

    event('P3', 'P3-04', '2026-07-17', 50, 'altered', 'ramp stoned 0.1', 'TK', minutes=20)
    event('B', 'B-17', '2026-11-17', 70, 'sent back', 'lever sticks', 'LN', minutes=9)
    event('B', 'B-17', '2026-11-18', 50, 'reworked', 'burr at the lever slot taken off', 'TK', minutes=25)
    event('B', 'B-52', '2026-11-18', 70, 'set aside', 'fell from the bench after it was measured; the tip is bent', 'EH', issue=None)
    for i in failed['LV']['A']:
        event('A', units['A'][i], '2026-09-18', 70, 'sent back', 'lever sticks', 'LN', minutes=9)
        event('A', units['A'][i], '2026-09-21', 50, 'reworked', 'ramp polished', 'JS', minutes=30)
    number = {}
    for label, serial, cells in sorted(events, key=lambda one: (one[0], one[1], one[2]['date'])):
        number[serial] = number.get(serial, 0) + 1
        row('unit_event', model=HF, round=label, unit=serial, no=number[serial], **cells)


def tell_tests(row, units):
    """Springs and levers opened and closed by the machine, until they fail or the test is stopped."""
    number = 0
    for label, date, code, cycles, ended, issue, serials in (
            ('P2', '2026-05-21', 'CY', (900, 1150, 1420), 'failed', 3, (0, 2, 6)), ('P2', '2026-05-21', 'CY', (3000, 3000), 'stopped', None, (4, 7)),
            ('P2', '2026-05-20', 'LV', (380,), 'failed', 2, (5,)),
            ('P3', '2026-07-18', 'CY', (1250, 1980), 'failed', 3, (1, 4)), ('P3', '2026-07-19', 'CY', (3000,) * 3, 'stopped', None, (0, 2, 3)),
            ('P3', '2026-07-19', 'CY', (3000,) * 5, 'stopped', None, (5, 6, 7, 8, 9)),
            ('A', '2026-09-24', 'CY', (3000,) * 5, 'stopped', None, (0, 8, 16, 24, 32)), ('A', '2026-09-23', 'CY', (640,), 'failed', 2, (20,)),
            ('B', '2026-11-19', 'CY', (3000,) * 6, 'stopped', None, (4, 14, 24, 34, 44, 54))):
        for i, count in zip(serials, cycles):
            number += 1
            row('life_test', model=HF, no=number, date=date, round=label, unit=units[label][i], characteristic=code, cycles=count,
                ended=ended, issue=issue)
            if code == 'CY':
                row('round_test', model=HF, round=label, serial=units[label][i], characteristic=code, cycles=3000)
    for label in ('P2', 'P3', 'A', 'B'):                     # every lever is tried after it was opened 300 times
        for serial in units[label]:
            row('round_test', model=HF, round=label, serial=serial, characteristic='LV', cycles=300)
    for label, wanted in (('A', 14), ('B', 22)):
        for serial in spread(units[label], wanted):
            row('round_test', model=HF, round=label, serial=serial, characteristic='LS', load=250, destroyed='yes')


def tell_todo(row):
    for no, what, person, due, done, record, about in (
            (1, 'Order a third lot of springs', 'EH', '2026-12-04', None, 'criterion', 'HF/C2'),
            (2, 'Find why B-41 opens hard: take it apart', 'TK', '2026-12-01', None, 'issue', 'HF/5'),
            (3, 'Open six more units 3000 times', 'LN', '2026-12-08', None, 'criterion', 'HF/C15'),
            (4, 'Ask the designer about the chamfer', 'EH', '2026-11-27', None, 'change', 'HF/13'),
            (5, 'Write to the supplier about lot S-42', 'EH', '2026-10-23', '2026-10-22', 'lot', 'HF-30///S-42'),
            (6, 'Have the force gauge studied', 'LN', '2026-11-20', '2026-11-19', 'gauge', 'Force gauge 1')):
        row('todo', no=no, what=what, person=person, due=due, done=done, about_record=record, about=about)


def tell(row, units, failed):
    tell_issues(row)
    tell_changes(row)
    tell_events(row, units, failed)
    tell_findings(row, units, failed)
    tell_tests(row, units)
    tell_todo(row)
