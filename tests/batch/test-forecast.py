#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""When it is ready, from outside: a book made from files, the verb's document compared.

While no fix works, a round of m units passes with (1-p)^m and the number of rounds is geometric (NIST/SEMATECH Handbook
1.3.6.6); p has the posterior without data, Beta (1/2, 1/2) (Jeffreys), whose moments are exact products. A figure of 10,000
futures lies within four standard errors of the exact one. Working days are held against Python's calendar.
"""
import datetime
import math
import sqlite3

from batch_books import Model
from batch_tap import done, ok, run

FUTURES = 10000


def power(s):
    """E (1-p)^s over Beta (1/2, 1/2) = product of (i - 1/2)/i."""
    value = 1.0
    for i in range(1, s + 1):
        value *= (i - 0.5) / i
    return value


def working_days(start, end):
    return sum((start + datetime.timedelta(days=i + 1)).weekday() < 5 for i in range((end - start).days))


def forecast(model, *more):
    return run('forecast', '--json', '--book', model.book, '--today', '2026-07-01', '--model', 'M', *more)


def shop(name, rounds, units):
    """Rounds of the same length, a checked characteristic asked for at 90 in 100 that nobody measured yet."""
    model = Model(name)
    del model.rows['round']
    for number, opened in enumerate(rounds):
        start = datetime.date.fromisoformat(opened)
        dates = [(start + datetime.timedelta(days=14 * i)).isoformat() for i in range(4)]
        model.add('round', 'model,label,kind,opened,design_fixed,built,tested,decided', 'M', f'P{number + 1}', 'prototype', *dates, dates[-1])
    for serial in range(units):
        model.add('unit', 'model,round,serial', 'M', f'P{len(rounds)}', f'U{serial + 1:03}')
    model.characteristic('LH', kind='checked')
    model.criterion('C1', 'LH', 0.9, 0.9, kind='checked')
    model.store()
    return model


model = shop('three', ['2026-01-05', '2026-03-02', '2026-04-27'], 22)
told = forecast(model, '--set', 'failed=1000000')
ok(told.status == 0, 'a forecast of three finished rounds is told', told.err)
answer = told.json()
length = answer['lengths'][0]['days']
start = datetime.date(2026, 1, 5)
ok(length == working_days(start, start + datetime.timedelta(days=42)), 'a round is as long as the calendar says', str(length))
ok(answer['criteria'][0]['units_round'] == 22 and answer['criteria'][0]['left_out'] == '', 'the criterion gets the units of the newest round')
first = answer['curve'][0]
error = math.sqrt(power(22) * (1 - power(22)) / FUTURES)
ok(abs(first['days'] - length) < 1e-6 and abs(first['share'] - power(22)) < 4 * error, 'as many futures are ready after one round as the exact sum says',
   f"{first['share']} {power(22)}")
never = sum((-1) ** i * math.comb(40, i) * power(22 * i) for i in range(41))
error = math.sqrt(never * (1 - never) / FUTURES)
ok(abs(answer['never'] - never) < 4 * error, 'as many are never ready as the exact sum says', f"{answer['never']} {never}")

told = forecast(model, '--set', 'worked=1000000', '--set', 'residual=0').json()
half, most = told['dates'][:2]
ok(len(told['dates']) == 2 and most['date'] != '' and
   working_days(datetime.date(2026, 7, 1), datetime.date.fromisoformat(most['date'])) == 2 * length,
   'with fixes that always hold it takes two rounds, by the calendar', str(most))
again = forecast(model, '--set', 'worked=1000000', '--set', 'residual=0').json()
ok(told == again, 'the same question has the same answer')

# one more round: the share of 0.9 at 0.9 takes 22 without a failure, and nothing was measured yet
another = told['another_round']
ok(another['round'] == '' and [way['units'] for way in another['ways']] == [22, 32], 'one more round has the units of the newest, and ten more beside it',
   str(another['ways']))
ok(another['days']['n'] == 3 and another['days']['least'] == another['days']['most'] == length, 'and takes the days of finished rounds', str(another['days']))
ok(another['ways'][0]['outside']['n'] == 0 and another['ways'][0]['outside']['median'] is None, 'what nobody wrote down of costs is not made up')
ok([(row['code'], row['told']) for row in another['criteria']] == [('C1', 'unknown')] and another['ways'][0]['all'] is None,
   'and no chance is told where nothing was measured', str(another['criteria']))

two = shop('two', ['2026-01-05', '2026-03-02'], 22)
told = forecast(two, '--set', 'shortest=30', '--set', 'longest=40', '--set', 'worked=1000000', '--set', 'residual=0')
ok(told.json()['dates'] == [] and abs(told.json()['range'][1]['days'] - (80 - 20 * math.sqrt(0.05))) < 0.5,
   'below three rounds only a range is told, of the sum of two even lengths', str(told.json()['range']))
ok('fewer than three finished rounds' in told.json()['headline'], 'and the sentence says why')

none = Model('none')
none.store()
ok('No criterion is asked for yet' in forecast(none).json()['headline'], 'where nothing is asked for nobody is told that nothing blocks')

text = run('forecast', '--book', model.book, '--today', '2026-07-01', '--model', 'M', '--earlier')
ok(text.status == 0 and all(len(line) <= 100 for line in text.out.splitlines()) and 'Under these assumptions' in text.out
   and 'What earlier rounds would have said' in text.out and 'No price is put on a failure.' in text.out, 'the text fits, and says under which assumptions', text.out)

# Two failures of the first round are typed after it was decided. Actions get the days on which they would have been made; a
# journal altered like that is found by 'check', and is read as it says.
typed = shop('typed', ['2026-01-05', '2026-03-02'], 0)
typed.rows = {}
for serial in range(30):
    typed.add('unit', 'model,round,serial', 'M', 'P1', f'V{serial + 1:03}')
    typed.add('reading', 'model,round,unit,characteristic,attempt,mark,taken', 'M', 'P1', f'V{serial + 1:03}', 'LH', 1, 'passed' if serial >= 2 else 'failed',
              '2026-02-10')
failing = typed.rows['reading'][1][:2]
typed.rows['reading'] = (typed.rows['reading'][0], typed.rows['reading'][1][2:])
ok(typed.store().status == 0, 'units and what passes are entered')
typed.rows = {'reading': (typed.rows['reading'][0], failing)}
ok(typed.store().status == 0, 'then the failures')
with sqlite3.connect(typed.book) as book:
    actions = [row[0] for row in book.execute('SELECT id FROM action ORDER BY first_place')]
    for action, day in zip(actions, ['2026-01-06', '2026-02-11', '2026-02-20', '2026-02-20'], strict=False):
        book.execute('UPDATE action SET time = ? WHERE id = ?', (f'{day}T10:00:00Z', action))
    book.commit()
book.close()
told = forecast(typed, '--earlier').json()['earlier']
ok(len(actions) == 3 and [row['recorded'] for row in told] == [True, True], 'both rounds are told from what was recorded then', f'{actions} {told}')
ok(told[0]['half'] == '' and told[0]['on'] == '2026-02-16', 'by what was recorded when the first was decided nothing blocked: no date', str(told[0]))
ok(told[1]['half'] != '' and told[1]['entered_later'] is False, 'by what was recorded at the second the failures block', str(told[1]))
ok(told[0]['entered_later'] is True and told[0]['met'] == told[0]['on'], 'and the row says that some was entered later', str(told[0]))
late = shop('late', ['2026-01-05'], 22)
told = forecast(late, '--earlier').json()['earlier']
ok([row['recorded'] for row in told] == [False], 'where the book began later nothing was recorded, and the row says so', str(told))
text = run('forecast', '--book', late.book, '--today', '2026-07-01', '--model', 'M', '--earlier')
ok('nothing was recorded then' in ' '.join(text.out.split()), 'in words too', text.out)

for wrong, sentence in ((['--set', 'units'], 'write WHAT=VALUE'), (['--set', 'lengths=3'], "there is no 'lengths'"),
                        (['--set', 'residual=2'], "'residual' cannot be '2'"), (['--set', 'more_units=-1'], "cannot be '-1'"),
                        (['--set', 'waits=Nobody'], "'waits' cannot be 'Nobody'"),
                        (['--set', 'shortest=50', '--set', 'longest=40'], 'must not be longer')):
    refused = forecast(model, *wrong)
    ok(refused.status == 2 and sentence in refused.err, f'wrong use is refused: {" ".join(wrong)}', refused.err)

done()
