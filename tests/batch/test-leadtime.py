#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Where the days went, from outside: a book made from files, the verb's document compared.

Working days are held against Python's calendar. The lives of issues are the remission times of 21 patients on
6-mercaptopurine (Freireich and others 1963, Blood 21, 699-716, as in Kaplan and Meier's textbook example), a week taken as a
day: survfit (conf.type = "log-log", conf.int = 0.9) of R's survival 3.5 gives the median and its lower end.
"""
import datetime
import random

from batch_books import Model
from batch_tap import done, ok, run

DAY = datetime.timedelta(days=1)


def working_days(start, end, week, holidays):
    """Days after start up to and including end."""
    return sum(1 for i in range(1, (end - start).days + 1)
               if week[(start + i * DAY).weekday()] and start + i * DAY not in holidays)


def leadtime(model, today, *more):
    return run('leadtime', '--json', '--book', model.book, '--today', today, '--model', 'M', *more)


# ---- days against a calendar ----

draw = random.Random(7)
wrong, tried = [], 0
for case in range(6):
    model = Model(f'days{case}')
    del model.rows['round']
    week = [8, 8, 8, 8, draw.choice([0, 6]), draw.choice([0, 4]), 0]
    start = datetime.date(2025, 1, 1)
    holidays = {start + draw.randrange(700) * DAY for _ in range(12)}
    model.add('setting', 'name,value', 'working week', ' '.join(map(str, week)))
    for holiday in sorted(holidays):
        model.add('holiday', 'date', holiday.isoformat())
    want = {}
    for number in range(8):
        dates = [start + draw.randrange(500) * DAY]
        for _ in range(4):
            dates.append(dates[-1] + draw.randrange(25) * DAY)
        waits = []
        for no in range(draw.randrange(3)):
            begin = dates[0] + draw.randrange((dates[-1] - dates[0]).days + 1) * DAY
            end = min(begin + draw.randrange(12) * DAY, dates[-1])
            waits.append((begin, end))
            model.add('wait', 'model,round,no,reason,from_date,to_date', 'M', f'R{number}', no + 1, 'other', begin.isoformat(),
                      end.isoformat())
        model.add('round', 'model,label,kind,opened,design_fixed,built,tested,decided', 'M', f'R{number}', 'prototype',
                  *(date.isoformat() for date in dates))
        total = working_days(dates[0], dates[-1], week, holidays)
        waited = sum(1 for i in range(1, (dates[-1] - dates[0]).days + 1)
                     if working_days(dates[0] + (i - 1) * DAY, dates[0] + i * DAY, week, holidays)
                     and any(begin < dates[0] + i * DAY <= end for begin, end in waits))
        want[f'R{number}'] = (total, waited)
    model.store()
    for row in leadtime(model, '2027-06-01').json()['rounds']:
        tried += 1
        if (row['days'], row['wait']) != want[row['label']]:
            wrong.append((case, row, want[row['label']]))
ok(tried == 48 and not wrong, 'working days and waits are those of a calendar', wrong)

# ---- a published Kaplan and Meier ----

times = [6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35]
ended = [1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0]
today = datetime.date(2026, 6, 1)
model = Model('remission')
model.add('setting', 'name,value', 'working week', '8 8 8 8 8 8 8')
for number, (days, end) in enumerate(zip(times, ended), 1):
    found = today - days * DAY if not end else today - 50 * DAY
    model.add('issue', 'model,no,title,class,found_on,closed,outcome,outcome_by', 'M', number, f'Issue {number}', 'function',
              found.isoformat(), (found + days * DAY).isoformat() if end else '', 'proven' if end else '', 'AB' if end else '')
answer = model.store()
ok(answer.status == 0, 'issues with their dates come in', answer)
closed = leadtime(model, today.isoformat()).json()['issues']['closed']
ok(closed['n'] == 21 and closed['ended'] == 9, 'what is open is counted', closed)
ok(closed['median'] == 23 and closed['median_low'] == 13 and closed['median_high'] is None, "median and interval are R's", closed)

# ---- the next round ----
# exp (m + t s sqrt (1 + 1/n)) of the rounds 10, 12, 20: R 4.2.2.

model = Model('next')
del model.rows['round']
model.add('setting', 'name,value', 'working week', '8 8 8 8 8 8 8')
begin = datetime.date(2026, 1, 1)
for label, days in (('P1', 10), ('P2', 12), ('P3', 20)):
    model.add('round', 'model,label,kind,opened,design_fixed,built,tested,decided', 'M', label, 'prototype', begin.isoformat(),
              begin.isoformat(), begin.isoformat(), begin.isoformat(), (begin + days * DAY).isoformat())
    begin += days * DAY
model.store()
two = leadtime(model, begin.isoformat(), '--through', 'P2').json()
three = leadtime(model, begin.isoformat()).json()
ok(two['next'] is None and two['round']['least'] == 10 and two['round']['most'] == 12, 'two rounds give a range', two)
ok(abs(three['next'] - 13.388659002) < 1e-6 and abs(three['next_low'] - 6.123085307) < 1e-6 and abs(three['next_high'] - 29.275468312) < 1e-6,
   "three give R's interval", three)
ok(three['round']['median_low'] is None, 'and no interval of the median', three['round'])

# ---- text ----

text = run('leadtime', '--book', model.book, '--today', '2026-06-01')
ok(text.status == 0 and max(map(len, text.out.splitlines())) <= 100 and 'By round and phase' in text.out, 'as text it fits a terminal', text)
empty = Model('empty')
empty.store()
text = run('leadtime', '--book', empty.book, '--today', '2026-01-05')
ok(text.status == 0, 'a round that began today has no days yet', text)
done()
