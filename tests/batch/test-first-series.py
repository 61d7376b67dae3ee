#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The first series after a release: what was promised, by the frozen evidence alone, against what came.

A tally that is a pure sequence of two steps has a rolled yield with a beta posterior under Jeffreys' prior, since what is left of
the product is the share of the first step's pieces that pass the last one as well: qbeta (c (0.05, 0.95), good + 0.5, lost + 0.5).
The quantiles are R 4.2.2's and SciPy 1.10.1's; working days are Python's calendar; a month is 52/12 weeks.
"""
import subprocess
from datetime import date, timedelta

from batch_books import Model, decide, document_of
from batch_tap import done, folder, ok, run, write_csv

QUIET = {'ASAN_OPTIONS': 'detect_leaks=0'}  # fonts, as in test-letter.py
RELEASED, TODAY = '2026-03-02', '2026-04-20'
SERIES_DAYS = [date(2026, 3, 9) + timedelta(days) for days in (0, 2, 7, 10, 14, 18)]  # until Friday 27 March


def shop():
    """A pilot of 100 pieces, of which 90 pass both steps the first time."""
    model = Model('series')
    model.add('person', 'initials,role', 'OW', 'owner')
    model.add('setting', 'name,value', 'working week', '8 8 8 8 8 0 0')
    model.add('setting', 'name,value', 'hourly cost', '60')
    model.add('bench', 'name,machines,people,hours_week,uptime,share_free', 'Fitting', 1, 1, 40, 0.9, 0.5)
    for position, title, cycle in ((10, 'Drill', 5), (20, 'Fit', 12)):
        model.add('step', 'model,position,name,kind,bench,cycle_min,rework_min', 'M', position, title, 'own', 'Fitting', cycle, 10)
    day = date(2026, 2, 3)
    for units in (17, 17, 17, 17, 16, 16):
        tally(model, 'A', 10, day, units, units - 1, scrapped=1)
        day += timedelta(1 if day.weekday() < 4 else 3)
    tally(model, 'A', 20, day, 94, 90, reworked=3, scrapped=1)
    model.store()
    return model


def tally(model, round_label, step, day, units_in, first, reworked=0, scrapped=0):
    model.add('tally', 'model,step,date,person,no,round,units_in,good_first,reworked_good,waiting,scrapped,minutes', 'M', step, day.isoformat(),
              'AB', 1, round_label, units_in, first, reworked, 0, scrapped, units_in * 12)


def later(book, step, *records):
    files = [write_csv(folder / f'series-{step}' / f'{record}.csv', header.split(','), rows) for record, header, *rows in records]
    told = run('import', *files, '--book', book)
    assert told.status == 0, told.err


def release(book):
    return run('release', '--json', '--book', book, '--today', TODAY, '--model', 'M').json()


def near(a, b, tolerance=1e-6):
    return a is not None and abs(a - b) <= tolerance


model = shop()
document = document_of(model, RELEASED)
ok('first_series' not in release(model.book), 'without a release there is no first series')
told = decide(model, document, RELEASED)
assert told.status == 0, told.err
answer = release(model.book)['first_series']
ok(answer['released'] == RELEASED and 'nothing was counted yet' in answer['sentence'] and 'reached' not in answer,
   'once it is released, that nothing was counted yet is said', answer)
promised = run('pilot', '--json', '--book', model.book, '--today', RELEASED, '--model', 'M').json()
ok(near(answer['promised']['month']['value'], promised['rate']['month']) and near(answer['promised']['plan'], promised['rate']['plan'])
   and near(answer['promised']['rolled']['low'], promised['rolled_low']) and near(answer['promised']['cost']['value'], promised['cost']['unit']),
   'what was promised is what the pilot told on that day', answer)

# Six days of the series: 60 pieces, 48 pass both steps the first time, 6 after rework, 2 are in hand, 4 scrapped.
rows = []
for number, day in enumerate(SERIES_DAYS):
    waits = number >= 4
    rows += [('M', 10, day.isoformat(), 'AB', 1, 'S', 10, 10, 0, 0, 0, 60),
             ('M', 20, day.isoformat(), 'AB', 1, 'S', 10, 8, 1, int(waits), int(not waits), 130)]
later(model.book, 'made', ('round', 'model,label,kind,opened,design_fixed', ('M', 'S', 'first series', '2026-03-04', '2026-03-04')),
      ('tally', 'model,step,date,person,no,round,units_in,good_first,reworked_good,waiting,scrapped,minutes', *rows),
      ('issue', 'model,no,title,class,found_on,found_round', ('M', 1, 'Old scratch', 'appearance', '2026-02-10', 'A'),
       ('M', 2, 'Clip bends', 'function', '2026-03-20', 'S'), ('M', 3, 'Lock lets go', 'safety', '2026-04-10', '')),
      ('finding', 'model,issue,no,affected,inspected,in_field', ('M', 3, 1, 1, 54, 'yes')))
answer = release(model.book)['first_series']
reached = answer['reached']
ok((reached['round'], reached['good'], reached['n'], reached['scrapped'], reached['waiting']) == ('S', 54, 60, 4, 2), 'good, scrapped and in hand', reached)
days = sum((SERIES_DAYS[0] + timedelta(n)).weekday() < 5 for n in range((SERIES_DAYS[-1] - SERIES_DAYS[0]).days + 1))
ok(reached['days'] == days == 15, 'working days from the first to the last that ran, both counted', reached)
ok(near(reached['month'], 54 / 15 * 52 / 12 * 5), 'and the pace they make', reached)
# qbeta (c (0.05, 0.95), 48.5, 12.5) of R 4.2.2 and beta.ppf of SciPy 1.10.1: 0.7054847, 0.8736054
ok(near(reached['rolled']['value'], 48 / 60) and near(reached['rolled']['low'], 0.7054847, 2e-3) and near(reached['rolled']['high'], 0.8736054, 2e-3),
   'the share that passes all steps the first time, with its interval', reached)
ok(near(reached['final']['low'], 54 / 60) and near(reached['final']['high'], 56 / 60), 'good in the end, by what becomes of those in hand', reached)
ok([(issue['issue'], issue['in_field']) for issue in answer['issues']] == [(3, True), (2, False)], 'issues since, the one about safety first', answer)

text = ' '.join(run('release', '--book', model.book, '--today', TODAY, '--model', 'M').out.split())
ok('Series S made 54 good units in 15 working days, 78 a month' in text and '1 about safety, 1 found after delivery' in text, 'in a sentence', text)
ok('157 78 below' in text and '3 Lock lets go' in text, 'and in a table', text)
pack = folder / 'series.pdf'
told = run('pack', '-o', pack, '--book', model.book, '--today', TODAY, '--model', 'M', **QUIET)
pages = ' '.join(subprocess.run(['pdftotext', '-layout', pack, '-'], capture_output=True, text=True, check=True).stdout.split())
ok(told.status == 0 and 'First series: promised and reached' in pages and 'Lock lets go' in pages, 'and on the pack', pages[:300])
done()
