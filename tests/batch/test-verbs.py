#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every verb that has to do with a book, on a small neutral one: new, import, sheet, export, standing, chart, history,
undo, redo, check."""
import re

from batch_books import Model, criteria, serials
from batch_tap import data, done, folder, new_book, ok, refuse, run, write_csv


def small(name):
    """Eight units, one measured and one checked characteristic; the last unit fails the check."""
    model = Model(name)
    model.characteristic('X')
    model.characteristic('Y', kind='checked', klass='safety')
    model.limit('X', 9.0, 11.0)
    names = serials(8)
    model.units(names)
    for i, serial in enumerate(names):
        model.reading(serial, 'X', 9.9 + 0.025 * i)
        model.reading(serial, 'Y', mark='failed' if i == 7 else 'passed')
    model.criterion('C1', 'X', 0.95, 0.90)
    model.criterion('C2', 'Y', 0.90, 0.90, kind='checked', strict='yes')
    return model


# new
book = folder / 'new.fettle'
answer = run('new', book)
ok(answer.status == 0 and answer.out == '' and book.is_file(), 'new makes a book and says nothing', answer)
refuse(run('new', book), 3, 'new.fettle', name='new refuses to write over a file')
ok(run('check', '--replay', '--book', book).status == 0, 'an empty book holds together')
ok(sorted(p.name for p in folder.iterdir() if p.name.startswith('new.fettle')) == ['new.fettle'], 'a closed book is one file')

# import
model = small('verbs')
answer = model.store()
ok(answer.status == 0 and re.search(r'^reading\.csv +16 +16 +0 +0 +0$', answer.out, re.M), 'import stores and counts', answer)
answer = model.store()
ok(answer.status == 0 and re.search(r'^reading\.csv +16 +0 +0 +16 +0$', answer.out, re.M), 'importing again changes nothing', answer)
history = run('history', '--json', '--book', model.book).json()
ok(len(history['actions']) == 1, 'and leaves no action in the journal', history['actions'])
answer = run('import', model.place, '--book', model.book, '--json')
ok(answer.json()['version'] == 1 and not answer.json()['stored'] and len(answer.json()['files']) == len(model.rows),
   'a folder is imported whole, and the report is a document', answer)

changed = write_csv(folder / 'changed' / 'reading.csv', ['model', 'round', 'unit', 'characteristic', 'attempt', 'value'],
                    [['M', 'A', 'U0001', 'X', 1, '10.5']])
refuse(run('import', changed, '--book', model.book), 1, 'reading.csv:2:', '--update', name='another value for a key needs --update')
answer = run('import', changed, '--book', model.book, '--update', '--dry-run')
ok(answer.status == 0 and re.search(r'reading\.csv +1 +0 +1 +0 +0', answer.out), 'dry-run says what would change', answer)
ok(len(run('history', '--json', '--book', model.book).json()['actions']) == 1, 'and changes nothing')
answer = run('import', changed, '--book', model.book, '--update', '--as', 'AB')
ok(answer.status == 0, '--update changes it', answer)

# history
answer = run('history', '--book', model.book, '--record', 'reading/M/A/U0001/X/1/1')
ok('Value: 9.9' in answer.out and '10.5' in answer.out.split('Value: 9.9')[1].splitlines()[0] and ' AB ' in answer.out,
   'history shows old, new, who', answer)
lines = run('history', '--book', model.book, '--json', '--record', 'reading/M/A/U0001/X/1/1').json()['actions'][0]['lines']
ok([(line['field'], line['op'], line['before'][:3], line['after'][:4]) for line in lines] == [('value', 'changed', '9.9', '10.5')],
   'history as a document is field by field', lines)
ok(len(run('history', '--book', model.book, '--json', '--from', '2100-01-01').json()['actions']) == 0 and
   len(run('history', '--book', model.book, '--json', '--to', '2100-01-01').json()['actions']) == 2, 'history keeps to the days asked for')
ok(len(run('history', '--book', model.book, '--json', '--record', 'model').json()['actions']) == 1, 'history of one kind of record')
refuse(run('history', '--book', model.book, '--record', 'raeding'), 2, "'reading'", name='history names the nearest record')
refuse(run('history', '--book', model.book, '--record', 'unit/M/A/nobody'), 2, 'nobody', name='history knows which records there are')
ok(all(len(line) <= 100 for line in run('history', '--book', model.book).out.splitlines()), 'history fits 100 columns')
ok('more record' in run('history', '--book', model.book, '--records', '2').out, 'history counts what it does not show')

answer = run('history', '--book', model.book, '--json', '--compare', '--record', 'reading').json()
ok(answer['records'] == 16 and all(line['op'] == 'added' for line in answer['lines']) and
   [line['after'] for line in answer['lines'] if line['key'].endswith('U0001/X/1/1') and line['field'] == 'value'] == ['10.5'],
   'two days differ by what is left of all that was done between them', answer['records'])
ok('The records are the same.' in run('history', '--book', model.book, '--compare', '--from', '2100-01-01').out,
   'or by nothing')

# undo and redo
answer = run('undo', '--book', model.book, '--as', 'AB')
ok(answer.status == 0, 'undo takes the last action back', answer)
value = run('history', '--book', model.book, '--json', '--record', 'reading/M/A/U0001/X/1/1').json()['actions'][0]
ok(value['kind'] == 'undo' and value['lines'][0]['after'].startswith('9.9'), 'by a new action', value)
ok(run('redo', '--book', model.book).status == 0, 'redo does it again')
refuse(run('redo', '--book', model.book), 1, 'nothing', name='there is nothing more to redo')
first = run('history', '--book', model.book, '--json').json()['actions'][-1]['key']
answer = run('undo', '--book', model.book, '--action', first)
ok(answer.status == 1 and 'In the way:' in answer.err, 'undo of an earlier action names what is in the way', answer)
refuse(run('undo', '--book', model.book, '--action', '12345'), 3, name='an action that does not exist is told')
ok(run('check', '--replay', '--book', model.book).status == 0, 'all of this holds together')
gone = new_book('gone')
for record, header, row in (('model', 'code,name', ['G', 'Gone']), ('round', 'model,label,kind', ['G', 'R', 'pilot']),
                            ('unit', 'model,round,serial', ['G', 'R', 'U1'])):
    run('import', write_csv(folder / 'gone' / f'{record}.csv', header.split(','), [row]), '--book', gone)
answers = [run('undo', '--book', gone) for _ in range(3)]
ok(all(answer.status == 0 and 'Undone: Imported 1 row' in answer.out for answer in answers), 'undo says what it did', answers[0])
text = run('history', '--book', gone).out
ok('Unit G/R/U1: removed' in text and 'Round: G/R' in text and 'Round G/R: removed' in text and 'no longer there' not in text,
   'history names records that are gone as they were', text)
check = run('check', '--replay', '--book', model.book, '--json').json()
ok(check['holds'] and check['replayed'] and re.fullmatch('[0-9a-f]{64}', check['head']), 'check as a document has the head', check)

# export
answer = run('export', folder / 'out', '--book', model.book)
ok(answer.status == 0 and answer.out == '', 'export writes a folder', answer)
again = new_book('again')
answer = run('import', folder / 'out', '--book', again)
ok(answer.status == 0, 'which imports into a new book', answer)
run('export', folder / 'out2', '--book', again)
names = sorted(p.name for p in (folder / 'out').iterdir())
ok(names == sorted(p.name for p in (folder / 'out2').iterdir()) and
   all((folder / 'out' / n).read_bytes() == (folder / 'out2' / n).read_bytes() for n in names if n.endswith('.csv')),
   'export, import, export gives the same bytes', names)

# standing
answer = run('standing', '--book', model.book, '--today', '2026-03-01')
ok(answer.status == 0 and all(len(line) <= 100 for line in answer.out.splitlines()), 'standing fits 100 columns', answer)
ok('What blocks' in answer.out and 'Next steps' in answer.out and 'not a safety certificate' in answer.out.replace('\n', ' '),
   'standing speaks in sentences first', answer)
ok(run('standing', '--book', model.book, '--today', '2026-03-01').out == answer.out, 'the same day gives the same bytes')
document = model.standing()
c = criteria(document)
ok(document.json()['version'] == 1 and set(c) == {'C1', 'C2'} and document.json()['total'] == 2, 'standing is a document', document)
ok(c['C1']['n'] == 8 and c['C1']['rounds'] == ['A'] and c['C1']['confidence'] > 0.9 and c['C1']['state'] == 'met', 'measured', c['C1'])
ok(c['C2']['failed'] == 1 and c['C2']['strict'] and c['C2']['method'] == 'any-time' and c['C2']['state'] != 'met', 'checked', c['C2'])
ok(all(reason['sentence'] and reason['code'] for reason in c['C2']['reasons']), 'reasons have codes and sentences', c['C2'])
ok(len(document.json()['next_steps']) > 0 and document.json()['score']['percent'] < 100, 'steps and score', document)
ok('Methods' in run('standing', '--book', model.book, '--method').out, 'the method on demand')
refuse(run('standing', '--book', model.book, '--model', 'Q'), 2, 'Q', 'M', name='an unknown model names those there are')
refuse(run('standing', '--book', model.book, '--through', 'Z'), 2, 'Z', 'A', name='an unknown round names those there are')
other = write_csv(folder / 'other' / 'model.csv', ['code', 'name'], [['N', 'Other']])
run('import', other, '--book', model.book)
refuse(run('standing', '--book', model.book), 2, 'M', 'N', '--model', name='of several models one must be named')
ok(run('standing', '--book', model.book, '--model', 'N').status == 0, 'a model without anything has a standing too')
refuse(run('standing', '--book', new_book('empty')), 1, 'no model', name='an empty book says what to do')

# chart


def draw(*arguments):
    """Fontconfig's cache cannot be given back at the end of the program, because Pango's thread may still hold it; so
    leaks are looked for where charts are drawn inside a test (tests/chart, tests/present), and not here."""
    return run('chart', *arguments, ASAN_OPTIONS='detect_leaks=0')


for kind, more in (('characteristic', ['-c', 'X']), ('characteristic', ['-c', 'Y']), ('score', []), ('strip', [])):
    for ending, magic in (('png', b'\x89PNG'), ('svg', b'<?xml'), ('pdf', b'%PDF')):
        target = folder / f'{kind}.{ending}'
        answer = draw(kind, '-o', target, *more, '--book', model.book, '--model', 'M', '--today', '2026-03-01')
        ok(answer.status == 0 and target.read_bytes().startswith(magic), f'chart {kind} {" ".join(more)} as {ending}', answer)
svg = [folder / 'one.svg', folder / 'two.svg']
for target in svg:
    draw('score', '-o', target, '--book', model.book, '--model', 'M', '--today', '2026-03-01', '--look', 'dark', '--size', '400x240')
ok(svg[0].read_bytes() == svg[1].read_bytes() and b'400' in svg[0].read_bytes()[:300], 'a chart is the same each time, of the size asked for')
refuse(draw('characteristic', '-o', folder / 'x.png', '--book', model.book, '--model', 'M'), 2, 'X, Y', name='a chart of a characteristic needs its code')
refuse(draw('characteristic', '-c', 'Q', '-o', folder / 'x.png', '--book', model.book, '--model', 'M'), 2, 'Q', 'X, Y', name='an unknown characteristic names those there are')
refuse(draw('score', '-o', folder / 'x.gif', '--book', model.book, '--model', 'M'), 2, '.png', name='an ending that is none names those there are')
refuse(draw('score', '-o', folder / 'no' / 'x.png', '--book', model.book, '--model', 'M'), 1, 'x.png', name='a folder that is not there is told')
answer = draw('individuals', '-c', 'X', '--rules', '1, 2,6', '-o', folder / 'i.png', '--book', model.book, '--model', 'M', '--today', '2026-03-01')
ok(answer.status == 0 and 'count' in answer.out and (folder / 'i.png').exists(), 'with rules named, what they say is told', answer)
for wrong in ('4', '1,7', 'one', '', '1,,2', '22'):
    refuse(draw('individuals', '-c', 'X', '--rules', wrong, '-o', folder / 'x.png', '--book', model.book, '--model', 'M'), 2, '1, 2, 3, 5 and 6', name=f'{wrong!r} is no list of rules')
refuse(draw('score', '--rules', '1', '-o', folder / 'x.png', '--book', model.book, '--model', 'M'), 2, 'chart individuals', name='other charts have no rules')

# sheet
sheet = folder / 'sheet.csv'
sheet.write_text('Serial;Length [mm] 12,5 ±0,1;Rub\n1;12,51;ok\n2;12,48;nok\n3;12,55;ok\n', encoding='utf-8')
answer = run('sheet', sheet, '--dry-run')
ok(answer.status == 0 and '12.40 to 12.60' in answer.out and 'dry run' in answer.out, 'sheet --dry-run says what it understood', answer)
document = run('sheet', sheet, '--dry-run', '--json').json()
ok(document['units'] == 3 and document['readings'] == 6 and document['stored'] is None and
   [column['role'] for column in document['columns']] == ['serial', 'measured', 'checked'], 'and as a document', document)
sheets = new_book('sheets')
answer = run('sheet', sheet, '--book', sheets, '--model', 'S', '--round', 'R1', '--kind', 'pilot', '--date', '2026-02-01')
ok(answer.status == 0 and 'readings: 6' in answer.out, 'sheet stores', answer)
ok(len(run('history', '--json', '--book', sheets).json()['actions']) == 1, 'in one action')
ok(run('standing', '--book', sheets).status == 0 and run('undo', '--book', sheets).status == 0, 'which has a standing and can be undone')
answer = run('sheet', '-', '--book', sheets, '--model', 'S', '--round', 'R1', stdin=sheet.read_text(encoding='utf-8'))
ok(answer.status == 0, 'a sheet comes from standard input too', answer)
refuse(run('sheet', sheet, '--kind', 'party', '--book', sheets), 2, 'party', 'pilot', name='an unknown kind of round names the kinds')
refuse(run('sheet', sheet, '--date', '2026-13-01', '--book', sheets), 2, '2026-13-01', name='a wrong day is refused')
refuse(run('sheet', folder / 'nothing.csv', '--dry-run'), 1, 'nothing.csv', name='a sheet that is not there is told')

# the demo's data, which hold a row of nearly every record
demo = data.parents[1] / 'demo' / 'data'
one, two = new_book('demo-one'), new_book('demo-two')
answer = run('import', demo, '--book', one)
ok(answer.status == 0, "the demo's data come in without a complaint", answer)
run('export', folder / 'demo-one', '--book', one)
answer = run('import', folder / 'demo-one', '--book', two)
ok(answer.status == 0, 'and once more as they were exported', answer)
run('export', folder / 'demo-two', '--book', two)
names = sorted(str(p.relative_to(folder / 'demo-one')) for p in (folder / 'demo-one').rglob('*') if p.is_file())
differ = [n for n in names if (folder / 'demo-one' / n).read_bytes() != (folder / 'demo-two' / n).read_bytes()]
ok(len(names) > 20 and not differ, 'with the same bytes again', differ)
answer = run('standing', '--book', two, '--model', 'HF', '--today', '2026-11-25', '--json')
ok(answer.json()['total'] > 5 and all(len(c['sentence']) > 10 for c in answer.json()['criteria']), 'and a standing in sentences', answer)
by_round = [run('standing', '--book', two, '--model', 'HF', '--today', '2026-11-25', '--json', '--through', point['round']).json()['score']
            for point in answer.json()['course']]


def alike(one, other):
    """The course draws fewer times, so that a score with draws in it may differ by their chance (0.5 / sqrt (5000) of one criterion)."""
    return (one['total'], one['met']) == (other['total'], other['met']) and abs((one['score'] or 0) - (other['score'] or 0)) < 0.007


ok(all(alike(score, point['score']) and all(alike(score['classes'][name], point['score']['classes'][name]) for name in score['classes'])
       for score, point in zip(by_round, answer.json()['course'])), 'the course says of each round what a look through it says',
   (by_round, answer.json()['course']))

# who writes
refuse(run('import', other, '--book', model.book, '--as', 'ZZ'), 2, 'ZZ', name='nobody of those initials')

new = new_book('credit')
person = write_csv(folder / 'credit' / 'person.csv', ['initials', 'role', 'name'], [['EH', 'lead', 'One of the shop']])
refuse(run('import', person, '--book', new, '--as', 'ZZ'), 2, 'ZZ', name='the first import by somebody whom it does not bring')
ok(run('history', '--book', new, '--json').json()['actions'] == [], 'stores nothing')
ok(run('import', person, '--book', new, '--as', 'EH').status == 0, 'the first import by somebody whom it brings')
ok([action['person'] for action in run('history', '--book', new, '--json').json()['actions']] == ['EH'],
   'is credited to that person')
refuse(run('import', folder / 'nofile.csv', '--book', new), 2, 'nofile.csv', 'correct the path', name='a file that is not there')

# what a terminal never gets
rows = write_csv(folder / 'odd' / 'model.csv', ['code', 'name'], [['E', '=1+1 \x1b[31mred\x1b[0m ']])
answer = run('import', rows, '--book', new_book('odd'))
if answer.status == 0:
    shown = run('standing', '--book', folder / 'odd.fettle')
    ok('\x1b' not in shown.out and '\x1b' not in shown.err, 'control characters are shown escaped', repr(shown.out[:200]))
else:
    refuse(answer, 1, 'model.csv:2:', name='control characters in a line of text are refused')
done()
