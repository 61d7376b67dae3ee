#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A pilot run from outside: a book made from files, the verb's document compared.

The tally is a pure sequence of three steps, for which the rolled yield has a beta posterior: qbeta (c (0.05, 0.95), 72.5, 28.5)
of R 4.2.2. The rate of the shared bench is worked out below, by the formula of any capacity sheet (common practice, no source).
"""
from datetime import date, timedelta

from batch_books import Model, criteria
from batch_tap import done, folder, ok, refuse, run

WEEKS = 52 / 12


def route(name):
    """Saw (1 bench), drill and fit (one bench of two people), harden outside."""
    model = Model(name)
    model.add('setting', 'name,value', 'working week', '8 8 8 8 8 0 0')
    model.add('setting', 'name,value', 'hourly cost', '60')
    model.add('bench', 'name,machines,people,hours_week,uptime,share_free', 'Saw', 1, 1, 40, 0.9, 0.5)
    model.add('bench', 'name,machines,people,hours_week,uptime,share_free', 'Fitting', 2, 2, 38, 1, 0.5)
    for position, title, kind, bench, setup, batch, cycle, rework, queue, price in (
            (10, 'Saw', 'own', 'Saw', 30, 50, 6, '', '', ''), (20, 'Harden', 'outside', '', '', 100, '', '', 8, 2.5),
            (30, 'Drill', 'own', 'Fitting', '', '', 5, '', '', ''), (40, 'Fit', 'own', 'Fitting', '', '', 12, 10, '', '')):
        model.add('step', 'model,position,name,kind,bench,setup_min,batch,cycle_min,rework_min,queue_days,price', 'M', position,
                  title, kind, bench, setup, batch, cycle, rework, queue, price)
    return model


def tally(model, step, date, units_in, first, reworked=0, waiting=0, scrapped=0, minutes='', round_label='A'):
    model.add('tally', 'model,step,date,person,no,round,units_in,good_first,reworked_good,waiting,scrapped,minutes', 'M', step, date,
              'AB', 1, round_label, units_in, first, reworked, waiting, scrapped, minutes)


def working_days(first, last):
    """Mondays to Fridays after the first day, up to and with the last: Python's calendar."""
    return sum((first + timedelta(n)).weekday() < 5 for n in range(1, (last - first).days + 1))


def close(a, b, tolerance=1e-9):
    return a is not None and abs(a - b) <= tolerance * max(1, abs(b))


# ---- a tally with its rolled yield ----

model = route('tally')
tally(model, 10, '2026-02-03', 100, 95, scrapped=5)
tally(model, 30, '2026-02-05', 95, 88, reworked=4, scrapped=3)
tally(model, 40, '2026-02-09', 88, 72, reworked=10, waiting=2, scrapped=4)
model.add('issue', 'model,no,title,class', 'M', 1, 'Sticks', 'function')
model.add('tally_loss', 'model,step,date,person,tally,issue,units', 'M', 40, '2026-02-09', 'AB', 1, 1, 12)
answer = model.store()
ok(answer.status == 0, 'a tallied run comes in', answer)
answer = run('pilot', '--json', '--book', model.book, '--today', '2026-03-01')
pilot = answer.json()
ok(pilot['round'] == 'A' and close(pilot['rolled'], 0.72), 'the rolled yield is the product of the first-pass yields', answer)
ok(close(pilot['rolled_low'], 0.642089949, 1e-6) and close(pilot['rolled_high'], 0.788625841, 1e-6),
   "its interval is R's of the beta posterior", (pilot['rolled_low'], pilot['rolled_high']))
steps = {step['position']: step for step in pilot['steps']}
codes = [reason['code'] for reason in pilot['reasons'] + pilot['rate']['reasons']]
ok(codes == ['in-hand', 'steps-uncounted', 'run-days', 'steps-assumed'], 'what is said beside it has codes', codes)
ok([steps[p]['source'] for p in (10, 20, 30, 40)] == ['tally', 'nothing', 'tally', 'tally'], 'each step says what counted', steps)
ok(close(steps[40]['final_low'], 82 / 88) and close(steps[40]['final_high'], 84 / 88), 'units in hand make the final yield a range', steps[40])
ok(pilot['losses'][0]['units'] == 12 and pilot['losses'][0]['issue'] == 1 and pilot['losses'][0]['found_at'] == 'Fit',
   'losses name the issue and the step that found them', pilot['losses'])

# ---- a shared bench by hand ----
# Good pieces go on: saw 95/100, drill 92/95 (3 scrapped), fit 84/88 (4 scrapped; those in hand are not).

saw, drill, fit = 0.95, 92 / 95, 84 / 88
minutes_fitting = 5 / (drill * fit) + (12 + 12 / 88 * 10) / fit
fitting = 2 * 0.5 * 38 * 60 * WEEKS / minutes_fitting
sawing = 0.5 * 40 * 60 * 0.9 * WEEKS / ((6 + 30 / 50) / (saw * drill * fit))
outside = 100 * WEEKS * 5 / 8 * drill * fit
rate = pilot['rate']
benches = {line.get('bench') or line['outside_step']: line for line in rate['benches']}
ok(close(benches['Fitting']['minutes_unit'], minutes_fitting), 'steps of one bench share its minutes', benches)
ok(close(benches['Fitting']['month'], fitting) and close(benches['Saw']['month'], sawing) and close(benches['Harden']['month'], outside),
   'each bench gives what is worked out by hand', (benches, fitting, sawing, outside))
ok(rate['constraint'] == min((fitting, 'Fitting'), (sawing, 'Saw'), (outside, 'Harden'))[1] and close(rate['month'], min(fitting, sawing, outside)),
   'the least sets the pace', rate)
ok(rate['month_low'] is None and rate['run_days'] == 3, 'three run days give no interval', rate)
ok(close(pilot['cost']['outside'], 2.5) and close(pilot['cost']['minutes'], 6.6 + 5 + 12), 'the cost is split', pilot['cost'])

# ---- what if ----

more = run('pilot', '--json', '--set', 'bench:Saw.share_free=1', '--set', 'step:10.cycle_min=3', '--book', model.book, '--today',
           '2026-03-01').json()
line = next(line for line in more['rate']['benches'] if line.get('bench') == 'Saw')
ok(close(line['month'], 40 * 60 * 0.9 * WEEKS / ((3 + 30 / 50) / (saw * drill * fit))), 'what if is asked of the same counts', line)
again = run('pilot', '--json', '--book', model.book, '--today', '2026-03-01')
ok(again.out == answer.out, 'and nothing is stored', again)
refuse(run('pilot', '--set', 'bench:Lathe.people=2', '--book', model.book), 2, 'bench:Lathe', name='a bench that is not there is refused')
refuse(run('pilot', '--set', 'bench:Saw.cycle_min=2', '--book', model.book), 2, 'cycle_min', 'uptime', name='a field of something else is refused')
refuse(run('pilot', '--set', 'bench:Saw.uptime=1.5', '--book', model.book), 2, '1.5', name='a value that cannot be is refused')
refuse(run('pilot', '--set', 'Saw', '--book', model.book), 2, 'bench:NAME', name='something else is refused')
refuse(run('pilot', '--by', 'soon', '--book', model.book), 2, 'soon', name='no date is refused')
refuse(run('pilot', '--round', 'Z', '--book', model.book), 2, 'Z', name='a round that is not there is refused')

# ---- run days, and the criteria ----

model = route('days')
for day in range(1, 9):
    tally(model, 40, f'2026-02-0{day}', 20, 18 - day % 2, reworked=1 + day % 2, scrapped=1, minutes=200 + 10 * (day % 3))
tally(model, 10, '2026-02-01', 160, 160)
tally(model, 30, '2026-02-01', 160, 160)
model.add('criterion', 'model,code,gate,kind,strict', 'M', 'R1', 1, 'rate', 'no')
model.add('criterion_term', 'model,criterion,from_date,target,confidence', 'M', 'R1', '2026-01-01', '100', '0.90')
model.add('criterion', 'model,code,gate,kind,strict', 'M', 'Y1', 1, 'yield', 'no')
model.add('criterion_term', 'model,criterion,from_date,share,confidence', 'M', 'Y1', '2026-01-01', '0.95', '0.90')
ok(model.store().status == 0, 'eight run days come in')
pilot = run('pilot', '--json', '--book', model.book, '--today', '2026-03-01').json()
rate = pilot['rate']
mean = sum(200 + 10 * (day % 3) for day in range(1, 9)) / 160
line = next(line for line in rate['benches'] if line.get('bench') == 'Fitting')
ok(close(line['minutes_unit'], 5 / (152 / 160) + (mean + 12 / 160 * 10) / (152 / 160)), "from five days on the day's minutes count", line)
ok(rate['month_low'] < rate['month'] < rate['month_high'], 'and there is an interval', rate)
found = criteria(run('standing', '--json', '--book', model.book, '--today', '2026-03-01'))
ok(found['R1']['state'] == 'met' and found['R1']['method'] == 'rate' and found['R1']['confidence'] > 0.9, 'the rate is judged', found['R1'])
ok(found['Y1']['state'] == 'against' and close(found['Y1']['estimate'], 140 / 160), 'the yield is judged', found['Y1'])
text = run('pilot', '--book', model.book, '--today', '2026-03-01', '--by', '2026-06-01')
given = run('pilot', '--json', '--book', model.book, '--today', '2026-03-01', '--by', '2026-06-01').json()['rate']['delivery']
ok(given['date'] == '2026-06-01' and given['units_low'] <= given['units'] <= given['units_high'], 'good units by a date have an interval', given)
ok(given['units'] == int(0.85 * rate['month'] * (working_days(date(2026, 3, 1), date(2026, 6, 1)) - 8) / (WEEKS * 5) + 1e-9),
   'they are made on working days after the eight at the supplier', (given, rate['month']))
ok(text.status == 0 and max(map(len, text.out.splitlines())) <= 100 and 'sets the pace' in text.out and '2026-06-01' in text.out,
   'as text it fits a terminal', text)

# ---- nothing to count ----

empty = Model('nothing')
empty.store()
answer = run('pilot', '--book', empty.book, '--today', '2026-03-01')
ok(answer.status == 0 and 'Nothing was counted' in answer.out, 'a book without counts says so', answer)
done()
