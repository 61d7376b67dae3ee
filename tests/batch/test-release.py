#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A gate from outside: each way of making it look better than it is, and what the document says then.

The number of units without a failure that a share of 0.9 takes at confidence 0.9 is 22 (0.9^22 = 0.0985 < 0.1 < 0.9^21; NIST/SEMATECH
Handbook 7.2.4.1, the exact binomial).
"""
import json
import math
import shutil

from batch_books import Model, serials
from batch_tap import done, folder, ok, run, write_csv


def release(model, *more, today='2026-03-10'):
    return run('release', '--json', '--book', model.book, '--today', today, '--model', 'M', *more)


def shop(name, units=22, klass='safety', share='0.9'):
    """A gate with one check about safety that the owner set a share for, and units that pass it."""
    model = Model(name)
    model.add('person', 'initials,role', 'OW', 'owner')
    model.characteristic('LH', kind='checked', klass=klass)
    model.add('criterion', 'model,code,gate,kind,characteristic,strict', 'M', 'C1', 1, 'checked', 'LH', 'no')
    model.add('criterion_term', 'model,criterion,from_date,share,confidence,person', 'M', 'C1', '2025-12-01', share, '0.9', 'OW')
    model.units(serials(units))
    for serial in serials(units):
        model.reading(serial, 'LH', mark='passed')
    return model


def later(model, record, header, *rows):
    """More records by a call of their own, as something done afterwards."""
    told = run('import', write_csv(folder / f'{model.place.name}-later' / f'{record}.csv', header.split(','), rows), '--book', model.book, '--update')
    assert told.status == 0, told.err


def stops(answer):
    return ' '.join(row[0] for row in answer['stops'])


model = shop('met')
model.store()
answer = release(model).json()
ok(answer['stops'] == [] and answer['standing']['criteria'][0]['state'] == 'met', 'twenty-two units without a failure meet it', str(answer['stops']))
again = release(model)
ok(again.out == release(model).out, 'the same records give the same bytes')
text = run('release', '--book', model.book, '--today', '2026-03-10', '--model', 'M')
ok('Release: its 1 criterion is met.' in text.out and 'not a safety certificate' in text.out and all(len(line) <= 100 for line in text.out.splitlines()),
   'the text says so, with the caution', text.out)

few = shop('few', units=21)
few.store()
ok('1 criterion blocks: C1.' in stops(release(few).json()), 'one unit less and it blocks')

# One more round as large as the newest: 21 units beside 21 that passed may show one failure, 31 may show two, since 38 units meet it
# with one and 52 with two (the same binomial). The failures are beta-binomial by Jeffreys' prior, Beta(1/2, 21 + 1/2).
def beta_binomial(k, n, a, b):
    def logarithm(x, y):
        return math.lgamma(x) + math.lgamma(y) - math.lgamma(x + y)
    return math.comb(n, k) * math.exp(logarithm(k + a, n - k + b) - logarithm(a, b))


def plain(book):
    return ' '.join(run('release', '--book', book, '--today', '2026-03-10', '--model', 'M').out.split())


chances = [sum(beta_binomial(k, n, 0.5, 21.5) for k in range(most + 1)) for n, most in ((21, 1), (31, 2))]
ways = release(few).json()['another_round']['criteria'][0]['ways']
ok(all(abs(way['chance'] - chance) < 1e-9 for way, chance in zip(ways, chances)), 'what one more round could prove is a beta-binomial chance',
   str((ways, chances)))
text = plain(few.book)
proof = 'C1 ' + ' '.join(f'{math.floor(100 * chance)} %' for chance in chances) + ' 21 units count for it'
ok(proof in text and 'meets the 1 criterion that blocks with a chance of 88 %' in text, 'and the text says it of either number of units', text)
ok('working days 20 to 60' in text and 'money outside the shop not known' in text and 'No price is put on a failure.' in text,
   'with its days and its money, and no price of a failure', text)
text = plain(model.book)
ok('Nothing blocks: one more round has nothing to prove.' in text and 'could prove criterion' not in text, 'where nothing blocks it has nothing to prove', text)

bare = Model('bare')
bare.characteristic('LH', kind='checked')
bare.units(serials(3))
bare.store()
ok('No criterion is set: what one more round could prove cannot be told.' in plain(bare.book), 'without a criterion it is said that nothing is asked for')

# The round is called decided before the last unit is checked: what that unit failed is no evidence by its date, and stops all the same.
early = shop('early')
early.units(['U0099'])
early.reading('U0099', 'LH', mark='failed', taken='2026-03-05')
early.store()
later(early, 'round', 'model,label,decided', ('M', 'A', '2026-03-01'))
said = release(early).json()
ok('U0099' in stops(said) and said['standing']['criteria'][0]['state'] == 'met', 'a unit that failed after the round was called decided stops', str(said['stops']))
told = plain(early.book)
ok('1 reading is dated after the decision of round A and counts for nothing' in told and 'Failed after the decision of the round: U0099.' in told,
   'and is named beside the figures', told)

unsafe = shop('unsafe', klass='function')
unsafe.store()
ok('No criterion is about safety' in stops(release(unsafe).json()), 'without a criterion about safety nobody may say that all are met')

issue = shop('issue')
issue.add('issue', 'model,no,title,class', 'M', 1, 'Lock slips', 'safety')
issue.store()
ok('1 issue about safety is not shown by units to be solved: 1 Lock slips.' in stops(release(issue).json()), 'an open issue about safety stops')

unit = shop('unit')
unit.characteristic('FT', kind='checked')
unit.reading('U0003', 'FT', mark='failed')
unit.store()
ok('nobody decided what becomes of it: U0003' in stops(release(unit).json()), 'a failing unit without a disposition stops, whatever is asked for')

# ---- what is changed once values are there ----

softer = shop('softer', units=15)
softer.store()
ok('blocks' in stops(release(softer).json()), 'fifteen units are too few for 0.9, and do for 0.85 (0.85^15 = 0.087)')
later(softer, 'criterion_term', 'model,criterion,from_date,share,confidence,person', ('M', 'C1', '2025-12-01', '0.85', '0.9', 'OW'))
answer = release(softer).json()
ok(answer['stops'] == [] and [row[2:] for row in answer['changed_afterwards']] == [['Terms of a criterion C1: Share', '0.9', '0.85']],
   'a share lowered after measuring is named, old to new', str(answer['changed_afterwards']))

shape = Model('shape')
shape.characteristic('SP', shape='unknown')
shape.limit('SP', lower=1.0)
shape.criterion('C1', 'SP', 0.9, 0.9)
shape.units(serials(8))
for number, serial in enumerate(serials(8)):
    shape.reading(serial, 'SP', 2.0 + 0.01 * number)
shape.store()
later(shape, 'characteristic', 'model,code,name,shape', ('M', 'SP', 'Thing SP', 'normal'))
answer = release(shape).json()
ok([row[2:] for row in answer['changed_afterwards']] == [['Characteristic SP: Shape', 'Unknown', 'Normal']], 'a shape chosen after measuring is named',
   str(answer['changed_afterwards']))

added = shop('added')
added.store()
later(added, 'criterion', 'model,code,gate,kind,characteristic,strict', ('M', 'C2', 1, 'checked', 'LH', 'no'))
answer = release(added).json()
ok([row[2] for row in answer['changed_afterwards']] == ['Criterion C2: added'], 'a criterion added once its values were there is named',
   str(answer['changed_afterwards']))

typed = shop('typed')
typed.store()
later(typed, 'reading', 'model,round,unit,characteristic,attempt,n,taken', ('M', 'A', 'U0001', 'LH', 1, 1, '2026-02-19'))
answer = release(typed).json()
ok([row[2:] for row in answer['changed_afterwards']] == [['Reading LH: Taken', '2026-02-10', '2026-02-19']], 'a reading given a new date is named',
   str(answer['changed_afterwards']))

widened = Model('widened')
widened.characteristic('OF')
widened.limit('OF', upper=1.0)
widened.criterion('C1', 'OF', 0.9, 0.9)
widened.units(serials(8))
for number, serial in enumerate(serials(8)):
    widened.reading(serial, 'OF', 0.9 + 0.02 * number)
widened.store()
later(widened, 'limit', 'model,characteristic,from_date,upper', ('M', 'OF', '2026-02-25', '2.0'))
answer = release(widened).json()
ok(any('widened' in ' '.join(row) for row in answer['remarks']), 'a limit widened once values were there is named', str(answer['remarks']))

removed = shop('removed', units=30)
removed.rows['reading'][1][0] = (*removed.rows['reading'][1][0][:-2], 'failed', '2026-02-10')
removed.store()
ok('blocks' in stops(release(removed).json()), 'one failure blocks')
later(removed, 'issue', 'model,no,title,class', ('M', 1, 'Lock slips', 'safety'))
later(removed, 'finding', 'model,issue,no,round,unit,disposition,excused,reason,person,date',
      ('M', 1, 1, 'A', 'U0001', 'scrap', 'yes', 'dropped', 'AB', '2026-02-20'))
answer = release(removed).json()
ok(any('U0001' in ' '.join(row) for row in answer['remarks']), 'a unit taken out after it failed is named', str(answer['remarks']))

# A copy takes an origin of its own when it is first written. The first book cannot know of it.
first = shop('first')
first.store()
copy = Model('copy')
shutil.copyfile(first.book, copy.book)
ok(not any(row[0] == 'the book' for row in release(copy).json()['remarks']), 'a copy that nobody wrote to is the same book')
later(copy, 'reading', 'model,round,unit,characteristic,attempt,mark,taken', ('M', 'A', 'U0001', 'LH', 2, 'passed', '2026-02-19'))
answer = release(copy).json()
told = [row[1] for row in answer['remarks'] if row[0] == 'the book']
ok(len(told) == 1 and f"Since entry {answer['journal_entries']} " in told[0] and 'by 2 users' in told[0] and 'is not in it' in told[0],
   'on a copy that was written to, what would be frozen names it, and since which entry', str(answer['remarks']))
text = run('release', '--book', copy.book, '--today', '2026-03-10', '--model', 'M')
ok('what was entered in another copy' in ' '.join(text.out.split()), 'and so does the text', text.out)
ok(not any(row[0] == 'the book' for row in release(first).json()['remarks']), 'the first book does not know of its copy')

# The futures are drawn from one fixed beginning: whoever dislikes an answer cannot ask again until a better one comes.
retried = run('forecast', '--set', 'seed=2', '--book', softer.book, '--today', '2026-03-10', '--model', 'M')
ok(retried.status == 2 and "there is no 'seed'" in retried.err, 'a seed cannot be set', retried.err)
ok(release(softer).json()['forecast'] == release(softer).json()['forecast'], 'and asking again gives the same futures')

# ---- waivers, opinions, who stands for them ----

waived = shop('waived', units=10)
waived.add('waiver', 'model,criterion,reason,until,person,date', 'M', 'C1', 'small batch', '2026-12-31', 'OW', '2026-03-01')
waived.add('signoff', 'model,gate,person,opinion,date', 'M', 1, 'AB', 'agree', '2026-03-02')
waived.store()
answer = release(waived).json()
ok(answer['stops'] == [] and answer['standing']['criteria'][0]['state'] != 'met' and answer['waivers'][0][0] == 'C1'
   and any('small batch' in row[1] for row in answer['remarks']), 'a waiver unblocks, meets nothing, and is named', str(answer['waivers']))
ok(all(row[2] == 'nobody by name' for row in answer['entered_by_others']) and len(answer['entered_by_others']) == 2,
   'what was entered for somebody else is named', str(answer['entered_by_others']))
ok('blocks' in stops(release(waived, today='2027-01-01').json()), 'after its last day the waiver unblocks no more')

nothing = Model('nothing')
nothing.store()
ok('Nothing is asked for' in stops(release(nothing).json()), 'a gate that asks for nothing is not met')
refused = release(model, '--gate', 'Nowhere')
ok(refused.status == 2 and "no gate 'Nowhere'; it has: Release" in refused.err, 'an unknown gate is refused with those there are', refused.err)
frozen = release(model).json()
ok(frozen['format'] == 'fettle-evidence' and frozen['journal_entries'] >= 1 and len(frozen['journal_head']) == 64
   and {'pilot', 'leadtime', 'gauges', 'forecast', 'issues'} <= set(frozen), 'the document names the journal and holds every part')
ok(json.dumps(frozen, sort_keys=True) == json.dumps(release(model, '--gate', '1').json(), sort_keys=True), 'a gate is found by its place too')

done()
