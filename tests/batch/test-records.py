#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Each record of issues and changes goes the way of all others: described, imported, changed, told, taken back, done
again, exported and imported to the same bytes. Then what history and undo say about an issue that a change needs."""
import itertools

from batch_books import Model
from batch_tap import done, folder, new_book, ok, refuse, run, write_csv

# record, header, row, visible key in the history, column that --update changes, new value
KINDS = (
    ('supplier', 'name', ('Brook Springs',), 'Brook Springs', None, None),
    ('issue', 'model,no,title,class,found_on', ('M', 1, 'Lever sticks', 'function', '2026-02-11'), 'M/1', 'title', 'Lever jams'),
    ('finding', 'model,issue,no,round,unit,reason', ('M', 1, 1, 'A', 'U1', 'burr'), 'M/1/1', 'reason', 'chip'),
    ('change', 'model,no,title,proposed_by,proposed_on', ('M', 1, 'Polished ramp', 'AB', '2026-02-12'), 'M/1', 'title', 'Ground ramp'),
    ('change_item', 'model,change,no,characteristic,old,new,lower', ('M', 1, 1, 'X', '1', '1.1', '1.1'), 'M/1/1', 'new', '1.2'),
    ('change_issue', 'model,change,issue', ('M', 1, 1), 'M/1/1', None, None),
    ('change_effect', 'model,change,characteristic,effect,reason,person', ('M', 1, 'X', 'carried over', 'not touched', 'AB'), 'M/1/X',
     'reason', 'far from it'),
    ('life_test', 'model,no,date,round,unit,characteristic,cycles,ended,issue', ('M', 1, '2026-02-13', 'A', 'U1', 'X', 900, 'failed', 1),
     'M/1', 'cycles', 950),
    ('todo', 'no,what,person,about_record,about', (1, 'ring the designer', 'AB', 'change', 'M/1'), '1', 'what', 'write to the designer'),
)

model = Model('records')
model.characteristic('X')
model.limit('X', 1.0)
model.units(['U1'])
ok(model.store().status == 0, 'a small book to begin with')
book = model.book


places = itertools.count()


def exported(record):
    place = folder / f'records-out-{next(places)}'
    answer = run('export', place, '--book', book)
    path = place / f'{record}.csv'
    return path.read_text(encoding='utf-8') if answer.status == 0 and path.exists() else ''


def lines(record, key):
    actions = run('history', '--json', '--book', book, '--record', f'{record}/{key}').json()['actions']
    return actions[0]['lines'] if actions else []


for record, header, row, key, column, value in KINDS:
    fields = run('fields', record).json()
    names = header.split(',')
    ok(fields['records'][0]['name'] == record if 'records' in fields else record in str(fields), f'{record}: described', fields)
    path = write_csv(folder / 'records-in' / f'{record}.csv', names, [row])
    answer = run('import', path, '--book', book, '--as', 'AB')
    ok(answer.status == 0, f'{record}: imported', answer)
    ok(str(row[-1]) in exported(record), f'{record}: exported')
    ok(lines(record, key), f'{record}: history tells what came')
    if column is not None:
        changed = list(row)
        changed[names.index(column)] = value
        write_csv(path, names, [changed])
        ok(run('import', path, '--book', book, '--as', 'AB').status == 1, f'{record}: a difference is refused')
        ok(run('import', path, '--book', book, '--as', 'AB', '--update').status == 0, f'{record}: and taken when asked')
        told = lines(record, key)
        ok(len(told) == 1 and str(row[names.index(column)]) in str(told[0]) and str(value) in str(told[0]),
           f'{record}: history shows old and new', told)
        ok(run('undo', '--book', book).status == 0 and str(value) not in exported(record), f'{record}: undone')
        ok(run('redo', '--book', book).status == 0 and str(value) in exported(record), f'{record}: done again')

place = folder / 'records-all'
other = new_book('records-other')
run('export', place, '--book', book)
ok(run('import', place, '--book', other).status == 0, 'all of it imports into another book')
run('export', folder / 'records-again', '--book', other)
ok(all((folder / 'records-again' / path.name).read_bytes() == path.read_bytes() for path in place.glob('*.csv')), 'to the same bytes')
answer = run('check', '--replay', '--book', book)
ok(answer.status == 0 and 'the journal gives the same records' in answer.out, 'and the book holds, replayed', answer)

# What an issue is needed by.
for record, header, row in (('issue', 'model,no,title,class', ('M', 2, 'Rubs', 'function')),
                            ('change_issue', 'model,change,issue', ('M', 1, 2)), ('todo', 'no,what', (2, 'something else'))):
    run('import', write_csv(folder / 'records-in' / f'{record}.csv', header.split(','), [row]), '--book', book)
raised = run('history', '--json', '--book', book, '--record', 'issue/M/2').json()['actions'][-1]['key']
needing = run('history', '--json', '--book', book, '--record', 'change_issue/M/1/2').json()['actions'][-1]['key']
refuse(run('undo', '--dry-run', '--action', raised, '--book', book), 1, 'In the way: ', name='undo of an issue that others need is refused')
before = run('history', '--json', '--book', book).out
answer = run('undo', '--action', raised, '--book', book)
ok(answer.status == 1 and answer.err.count('In the way: ') == 1 and str(needing) in answer.err and run('history', '--json', '--book', book).out == before,
   'the later action is named, and nothing is done', answer)
answer = run('undo', '--dry-run', '--book', book)
ok(answer.status == 0 and answer.out == 'Nothing stands in the way.\n' and run('history', '--json', '--book', book).out == before,
   'trying the last one says that it could be undone, and does nothing', answer)

# Who, what and when.
actions = run('history', '--json', '--book', book).json()['actions']
ok(0 < len(run('history', '--json', '--book', book, '--by', 'AB').json()['actions']) < len(actions), 'history by person')
refuse(run('history', '--book', book, '--by', 'ZZ'), 2, "'ZZ'", name='history knows its persons')
ok(len(run('history', '--json', '--book', book, '--record', 'change_item').json()['actions']) == 4, 'history by kind of record',
   run('history', '--book', book, '--record', 'change_item'))
ok(run('history', '--json', '--book', book, '--round', 'A').json()['actions'] == actions, 'history by round: an open one goes on')
refuse(run('history', '--book', book, '--round', 'Q'), 2, "'Q'", name='history knows its rounds')

# The ways to make a failure vanish.
answer = run('import', write_csv(folder / 'bad' / 'change_effect.csv', ['model', 'change', 'characteristic', 'effect', 'reason', 'person'],
                                 [('M', 1, 'X', 'carried over', '', '')]), '--book', book, '--update')
ok(answer.status == 1 and 'reason' in answer.err + answer.out, 'carried over without a reason is refused', answer)
answer = run('import', write_csv(folder / 'bad' / 'change.csv', ['model', 'no', 'title', 'proposed_on', 'withdrawn'],
                                 [('M', 7, 'x', '2026-02-02', '2026-02-03')]), '--book', book)
ok(answer.status == 1, 'withdrawn without a reason is refused', answer)
done()
