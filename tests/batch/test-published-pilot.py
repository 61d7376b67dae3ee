#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A tally with its rolled yield, and a bench shared by steps, through files, book and verb.

Neither has a published data set that gives all figures at once, so both are worked out here: the yields by the beta posterior
(closed form for a sequence; else two hundred thousand draws of Python's own generator, which shares no code with the
program), the rate in whole fractions from its definition (common practice, no source).
"""
import random
from fractions import Fraction as F

from batch_books import Model
from batch_tap import done, ok, run

COUNTS = 'in', 'first', 'reworked', 'waiting', 'scrapped'


def book(name, steps, benches=(), hourly=''):
    """steps: position, kind, bench, setup, batch, cycle, rework min, queue days, price, counts by COUNTS or None."""
    model = Model(name)
    model.add('setting', 'name,value', 'working week', '8 8 8 8 8 0 0')
    if hourly:
        model.add('setting', 'name,value', 'hourly cost', hourly)
    for row in benches:
        model.add('bench', 'name,machines,people,hours_week,uptime,share_free', *row)
    for position, kind, bench, setup, batch, cycle, rework, queue, price, counts in steps:
        model.add('step', 'model,position,name,kind,bench,setup_min,batch,cycle_min,rework_min,queue_days,price', 'M', position,
                  f'Step {position}', kind, bench, setup, batch, cycle, rework, queue, price)
        if counts is not None:
            model.add('tally', 'model,step,date,person,no,round,units_in,good_first,reworked_good,waiting,scrapped', 'M', position,
                      '2026-02-03', 'AB', 1, 'A', *counts)
    answer = model.store()
    ok(answer.status == 0, f'{name}: the book is made by the importer', answer)
    return run('pilot', '--json', '--book', model.book, '--today', '2026-03-01').json()


def own(position, counts):
    return position, 'own', '', '', '', '', '', '', '', counts


def close(got, expected, tolerance):
    return got is not None and abs(got - expected) <= tolerance


# ---- rolled yield of steps that are no sequence ----
# Reworked pieces go on, so that each step is given more than the one before passed the first time. Step i of s has the
# posterior Beta(k + 1/2 + (s-i)/(2s), n - k + 1/(2s)); the product is drawn. n leaves out pieces that nobody came to yet.

tallies = [(120, 111, 6, 0, 3), (117, 101, 12, 2, 2), (113, 90, 14, 3, 4), (106, 104, 0, 0, 1)]
pilot = book('rolled', [own(10 * i + 10, counts) for i, counts in enumerate(tallies)])
generator = random.Random(20260203)
s = len(tallies)
products = []
for _ in range(200_000):
    product = 1.0
    for i, (_, first, reworked, waiting, scrapped) in enumerate(tallies, 1):
        n = first + reworked + waiting + scrapped
        product *= generator.betavariate(first + 0.5 + (s - i) / (2 * s), n - first + 1 / (2 * s))
    products.append(product)
products.sort()
low, high = products[10_000], products[190_000]
rolled = F(111, 120) * F(101, 117) * F(90, 111) * F(104, 105)
ok(close(pilot['rolled'], float(rolled), 1e-12), 'the rolled yield is the product in whole fractions', pilot['rolled'])
# 200,000 draws place a 5 % point to about 0.0005 in share; the two sets of draws together, and the density here: 0.002.
ok(close(pilot['rolled_low'], low, 0.002) and close(pilot['rolled_high'], high, 0.002),
   'its interval is that of draws by another generator', (pilot['rolled_low'], low, pilot['rolled_high'], high))
steps = pilot['steps']
ok([step['n'] for step in steps] == [120, 117, 111, 105], 'pieces that nobody came to yet are in no yield', steps)
ranges = [(F(117, 120),) * 2, (F(113, 117), F(115, 117)), (F(104, 111), F(107, 111)), (F(104, 105),) * 2]
ok(all(close(step['final_low'], float(lo), 1e-12) and close(step['final_high'], float(hi), 1e-12) for step, (lo, hi) in zip(steps, ranges)),
   'the final yields run from all in hand scrapped to all good', steps)
product = [F(1), F(1)]
for lo, hi in ranges:
    product = [product[0] * lo, product[1] * hi]
ok(close(pilot['final_low'], float(product[0]), 1e-12) and close(pilot['final_high'], float(product[1]), 1e-12),
   'and so does that of the row', pilot['final_low'])

# ---- a bench shared by three of five steps ----
# Bench F (2 places, 1.5 people, 38 h, runs 0.9 of them, 0.4 free) does steps 10, 30 and 50; bench G (1, 1, 40, 0.8, 0.5) step
# 20; step 40 is outside: 60 pieces every 6 working days at 1.80 each.
#   go on (1 - scrapped share): 10: 196/200, 20: 188/192, 30: 180/188, 40: 177/180, 50: 172/176
#   take rework (or wait for it): 10: 4/200, 20: 6/192, 30: 18/188, 50: 9/176
#   minutes of F for a piece shipped = (3 + 20/40 + 4/200*5)/(y10 y20 y30 y40 y50) + (7 + 18/188*15)/(y30 y40 y50)
#                                      + (9 + 9/176*12)/y50
#   F a month = 1.5 * 0.4 * 38 * 60 * 0.9 * 52/12 / these minutes; G, outside likewise.

answer = book('shared', [
    (10, 'own', 'F', 20, 40, 3, 5, '', '', (200, 192, 4, 0, 4)),
    (20, 'own', 'G', '', '', 8, 10, '', '', (192, 182, 4, 2, 4)),
    (30, 'own', 'F', '', '', 7, 15, '', '', (188, 162, 18, 0, 8)),
    (40, 'outside', '', '', 60, '', '', 6, '1.80', (180, 177, 0, 0, 3)),
    (50, 'inspection', 'F', '', '', 9, 12, '', '', (176, 163, 9, 0, 4)),
], (('F', 2, '1.5', 38, '0.9', '0.4'), ('G', 1, 1, 40, '0.8', '0.5')), hourly='48')
y10, y20, y30, y40, y50 = F(196, 200), F(188, 192), F(180, 188), F(177, 180), F(172, 176)
weeks = F(52, 12)
work = {10: 3 + F(20, 40), 20: F(8), 30: F(7), 50: F(9)}
rework = {10: F(4, 200) * 5, 20: F(6, 192) * 10, 30: F(18, 188) * 15, 50: F(9, 176) * 12}
after = {10: y10 * y20 * y30 * y40 * y50, 20: y20 * y30 * y40 * y50, 30: y30 * y40 * y50, 40: y40 * y50, 50: y50}
minutes = sum((work[p] + rework[p]) / after[p] for p in (10, 30, 50))
month = {
    'F': F(3, 2) * F(4, 10) * 38 * 60 * F(9, 10) * weeks / minutes,
    'G': F(1, 2) * 40 * 60 * F(8, 10) * weeks / ((work[20] + rework[20]) / after[20]),
    'Step 40': 60 * weeks * 5 / 6 * after[40],
}
rate = answer['rate']
lines = {line.get('bench') or line['outside_step']: line for line in rate['benches']}
ok(close(lines['F']['minutes_unit'], float(minutes), 1e-9), 'three steps share the minutes of one bench', lines['F'])
ok(all(close(lines[name]['month'], float(value), 1e-6) for name, value in month.items()), 'each bench and supplier gives what is worked out', lines)
least = min(month, key=month.get)
ok(rate['constraint'] == least and close(rate['month'], float(month[least]), 1e-6), 'the least of them sets the pace', (rate['constraint'], month))
ok(close(rate['plan'], 0.85 * float(month[least]), 1e-6), 'and a plan takes 85 in 100 of it', rate['plan'])
# Cost at 0.80 a minute: what is done, what is done again, 1.80 outside; each made dearer by what is scrapped behind it.
cost = {'minutes': sum(work.values()) * F(8, 10), 'rework': sum(rework.values()) * F(8, 10), 'outside': F(18, 10), 'material': F(0)}
whole = sum((work[p] + rework[p]) * F(8, 10) / after[p] for p in work) + F(18, 10) / after[40]
ok(all(close(answer['cost'][name], float(value), 1e-9) for name, value in cost.items()), 'the cost is split by what it is for', answer['cost'])
ok(close(answer['cost']['unit'], float(whole), 1e-9) and close(answer['cost']['scrap'], float(whole - sum(cost.values())), 1e-9),
   'and scrap is what is left', answer['cost'])
done()
