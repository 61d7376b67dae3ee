#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The decision pack: the first page answers, everything that blocks and each way of making a gate look better than it is stands in
it by name, nobody who builds or inspects does, and other programs read the file (qpdf and poppler, both of Debian)."""
import csv
import json
import pathlib
import re
import shutil
import subprocess

from batch_books import Model, serials
from batch_tap import done, folder, ok, refuse, run, write_csv

demo = pathlib.Path(__file__).resolve().parents[2] / 'demo' / 'data'
QUIET = {'ASAN_OPTIONS': 'detect_leaks=0'}  # fonts, as in test-letter.py
DAY = '2026-11-25'


def pack(book, name, *more, day=DAY):
    path = folder / name
    return path, run('pack', '-o', path, '--book', book, '--today', day, *more, **QUIET)


def text_of(path, *pages):
    out = subprocess.run(['pdftotext', *pages, path, '-'], capture_output=True, check=True).stdout.decode('utf-8')
    return ' '.join(out.split())


def info_of(path):
    out = subprocess.run(['pdfinfo', path], capture_output=True, check=True).stdout.decode('utf-8')
    return {line.split(':', 1)[0]: line.split(':', 1)[1].strip() for line in out.splitlines() if ':' in line}


def bare(text):
    """Without spaces, since a line may be broken anywhere between words."""
    return re.sub(r'\s+', '', text)


book = folder / 'demo.fettle'
run('new', book)
ok(run('import', demo, '--book', book).status == 0, 'the demo is imported')
standing = run('standing', '--json', '--book', book, '--model', 'HF', '--today', DAY).json()
path, answer = pack(book, 'pack.pdf', '--model', 'HF')
ok(answer.status == 0 and answer.out == '' and path.read_bytes().startswith(b'%PDF-'), 'the pack is written', answer)
info = info_of(path)
ok(8 <= int(info['Pages']) <= 20 and info['Page size'].startswith('595'), 'it has 8 to 20 pages of A4', info)
ok(path.stat().st_size < 2 * 1024 * 1024, 'it is below 2 MB', path.stat().st_size)
ok('Hawfinch' in info['Title'] and 'Release' in info['Subject'] and info['Creator'] == 'Fettle' and 'Author' not in info, 'it says of itself what it is', info)
whole, first = text_of(path), text_of(path, '-l', '1')
blocking = [one for one in standing['criteria'] if one['blocks']]
ok(len(blocking) > 0 and all(one['code'] in first for one in blocking), 'every criterion that blocks is on the first page', first)
ok(all(bare(one['code'] + one['about']) in bare(whole) for one in standing['criteria']), 'every criterion is in it',
   [one['code'] for one in standing['criteria'] if bare(one['code'] + one['about']) not in bare(whole)])
ok(first.index('not a safety certificate') < first.index('Signature') and 'qualified laboratory' in first, 'the caution stands above the signatures', first)
for said in ('Contents', 'What was not looked at', 'Beside the figures', 'Voided readings', 'Concessions', 'What was said and decided', 'Issues', 'Characteristics',
             'Pilot run', 'How many a month', 'Life tests', 'Gauges', 'Lead time', 'When it is ready', 'How the figures came about',
             'Where the journal stood', 'Invented demo data', f'Page 1 of {info["Pages"]}'):
    ok(said in whole, f'it says: {said}')
frozen = run('release', '--json', '--book', book, '--model', 'HF', '--today', DAY).json()
ok(frozen['journal_head'] in whole, 'the head of the journal is on it', frozen['journal_head'])
ok(frozen['draws_keyed_by'] in whole, 'and what its draws are keyed by, which is another where the model was made anew', frozen['draws_keyed_by'])

hidden = [row['initials'] for row in csv.DictReader((demo / 'person.csv').open(encoding='utf-8')) if row['role'] in ('maker', 'inspector')]
hidden += [word for row in csv.DictReader((demo / 'person.csv').open(encoding='utf-8')) if row['role'] in ('maker', 'inspector') for word in row['name'].split()]
voided = text_of(path).split('Voided readings', 1)[1].split('Concessions', 1)[0]
outside = whole.replace(voided, '')
found = [word for word in hidden if word and re.search(rf'(?<!\w){re.escape(word)}(?!\w)', outside)]
ok(len(hidden) > 4 and found == [], 'nobody who builds or inspects is named, but who voided', found)

checked = subprocess.run(['qpdf', '--check', path], capture_output=True)
ok(checked.returncode == 0, 'qpdf finds no fault', checked.stdout + checked.stderr)
parts = json.loads(subprocess.run(['qpdf', '--json', path], capture_output=True, check=True).stdout)
titles = [one['title'] for root in parts['outlines'] for one in [root, *root['kids']]]
ok('Pilot run' in titles and 'Characteristics' in titles, 'the outline has the sections', titles)
plain = subprocess.run(['qpdf', '--qdf', '--object-streams=disable', path, '-'], capture_output=True, check=True).stdout
ok(plain.count(b'/Subtype /Link') > 20, 'contents and criteria are links', plain.count(b'/Subtype /Link'))
ok(pack(book, 'again.pdf', '--model', 'HF')[0].read_bytes() == path.read_bytes(), 'the same records give the same bytes')
letter = info_of(pack(book, 'us.pdf', '--model', 'HF', '--paper', 'letter')[0])
ok(letter['Page size'].startswith('612 x 792') and 8 <= int(letter['Pages']) <= 20, 'letter paper is written on when asked for', letter)

released = pack(book, 'wagtail.pdf', '--model', 'WT', '--paper', 'letter')[0]  # its first page has no room for the contents
ok('Contents' not in text_of(released, '-l', '1') and 'Contents' in text_of(released, '-f', '2', '-l', '2')
   and 'What was not looked at' in text_of(released, '-f', '2', '-l', '2').split('What is asked for, and what was reached')[-1],
   'contents that find no room on the first page are followed by the first section', text_of(released, '-f', '2', '-l', '2'))

# ---- cheats, each by name ----


def shop(name, units=22, klass='safety', share='0.9'):
    """As in test-release.py: a check about safety that the owner set a share for, and units that pass it."""
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
    told = run('import', write_csv(folder / f'{model.place.name}-later' / f'{record}.csv', header.split(','), rows), '--book', model.book, '--update')
    assert told.status == 0, told.err


def told(model, *said, what, day='2026-03-10', within=None):
    path, answer = pack(model.book, f'{model.place.name}.pdf', '--model', 'M', day=day)
    assert answer.status == 0, answer.err
    text = text_of(path, *(within or ()))
    ok(all(bare(one) in bare(text) for one in said), what, text)


model = shop('met')
model.store()
told(model, 'Release: its 1 criterion is met.', 'not a safety certificate', what='a gate that is met says so, with the caution', within=('-l', '1'))

few = shop('few', units=21)
few.store()
told(few, 'not ready', '1 criterion blocks: C1.', what='one unit less and it blocks, on the first page', within=('-l', '1'))

unsafe = shop('unsafe', klass='function')
unsafe.store()
told(unsafe, 'No criterion is about safety', what='without a criterion about safety the first page says so', within=('-l', '1'))

issue = shop('issue')
issue.add('issue', 'model,no,title,class', 'M', 1, 'Lock slips', 'safety')
issue.store()
told(issue, '1 issue about safety is not shown by units to be solved: 1 Lock slips.', what='an open issue about safety is on the first page', within=('-l', '1'))

unit = shop('unit')
unit.characteristic('FT', kind='checked')
unit.reading('U0003', 'FT', mark='failed')
unit.store()
told(unit, 'nobody decided what becomes of it: U0003', what='a failing unit without a disposition is on the first page', within=('-l', '1'))

softer = shop('softer', units=15)
softer.store()
later(softer, 'criterion_term', 'model,criterion,from_date,share,confidence,person', ('M', 'C1', '2025-12-01', '0.85', '0.9', 'OW'))
told(softer, 'Terms of a criterion C1: Share', '0.9', '0.85', what='a share lowered after measuring is named, old to new')

shape = Model('shape')
shape.characteristic('SP', shape='unknown')
shape.limit('SP', lower=1.0)
shape.criterion('C1', 'SP', 0.9, 0.9)
shape.units(serials(8))
for number, serial in enumerate(serials(8)):
    shape.reading(serial, 'SP', 2.0 + 0.01 * number)
shape.store()
later(shape, 'characteristic', 'model,code,name,shape', ('M', 'SP', 'Thing SP', 'normal'))
told(shape, 'Characteristic SP: Shape', 'Unknown', 'Normal', what='a shape chosen after measuring is named')

added = shop('added')
added.store()
later(added, 'criterion', 'model,code,gate,kind,characteristic,strict', ('M', 'C2', 1, 'checked', 'LH', 'no'))
told(added, 'Criterion C2: added', what='a criterion added once its values were there is named')

typed = shop('typed')
typed.store()
later(typed, 'reading', 'model,round,unit,characteristic,attempt,n,taken', ('M', 'A', 'U0001', 'LH', 1, 1, '2026-02-19'))
told(typed, 'Reading LH: Taken', '2026-02-10', '2026-02-19', what='a reading given a new date is named')

waived = shop('waived', units=10)
waived.add('waiver', 'model,criterion,reason,until,person,date', 'M', 'C1', 'small batch', '2026-12-31', 'OW', '2026-03-01')
waived.add('signoff', 'model,gate,person,opinion,conditions,date', 'M', 1, 'AB', 'agree with conditions', 'third lot first', '2026-03-02')
waived.store()
told(waived, 'Waivers', 'small batch', '2026-12-31', 'nobody by name', what='a waiver, and what was entered for somebody else, are named')
told(waived, 'third lot first', what='conditions are on the first page', within=('-l', '1'))

# Several at once on one paper: a unit taken out after it failed, a limit widened once values were there, an issue about safety made one
# about something else, and one called a duplicate; then the same on a copy of the book that was written to.
many = shop('many', units=30)
many.rows['reading'][1][0] = (*many.rows['reading'][1][0][:-2], 'failed', '2026-02-10')
many.characteristic('OF')
many.limit('OF', upper=1.0)
many.add('criterion', 'model,code,gate,kind,characteristic,strict', 'M', 'C3', 1, 'measured', 'OF', 'no')
many.add('criterion_term', 'model,criterion,from_date,share,confidence,person', 'M', 'C3', '2025-12-01', '0.9', '0.9', 'OW')
for number, serial in enumerate(serials(8)):
    many.reading(serial, 'OF', 0.9 + 0.02 * number)
many.add('issue', 'model,no,title,class', 'M', 1, 'Lock slips', 'safety')
many.add('issue', 'model,no,title,class', 'M', 2, 'Lock slides', 'safety')
many.add('issue', 'model,no,title,class', 'M', 3, 'Lock opens', 'safety')
assert many.store().status == 0
later(many, 'finding', 'model,issue,no,round,unit,disposition,excused,reason,person,date', ('M', 1, 1, 'A', 'U0001', 'scrap', 'yes', 'dropped', 'AB', '2026-02-20'))
later(many, 'limit', 'model,characteristic,from_date,upper', ('M', 'OF', '2026-02-25', '2.0'))
later(many, 'issue', 'model,no,class,closed,outcome,outcome_by', ('M', 1, 'safety', '2026-03-01', 'duplicate', 'AB'), ('M', 2, 'function', '', '', ''))
copied = Model('copied')
shutil.copyfile(many.book, copied.book)
later(copied, 'reading', 'model,round,unit,characteristic,attempt,mark,taken', ('M', 'A', 'U0002', 'LH', 2, 'passed', '2026-02-19'))
told(copied, 'U0001 (AB: dropped)', 'The limits were widened on 2026-02-25', 'Issue 2: Class', 'closed as a duplicate on 2026-03-01',
     'is written by 2 users, computers or copies', what='a unit taken out, a limit widened, an issue made lighter, one called a duplicate, and a copy are named')

older = shop('older')
older.add('part', 'number,name,source', 'P', 'Part', 'made')
older.add('revision', 'part,label,date', 'P', 'A', '2026-01-01')
older.add('revision', 'part,label,date', 'P', 'B', '2026-02-21')
older.add('depends', 'model,characteristic,part', 'M', 'LH', 'P')
older.add('round', 'model,label,kind,opened,design_fixed,built,tested', 'M', 'B', 'pilot', '2026-02-22', '2026-02-23', '2026-02-24', '')
older.add('round_part', 'model,round,part,revision', 'M', 'A', 'P', 'A')
older.add('round_part', 'model,round,part,revision', 'M', 'B', 'P', 'B')
older.units(['B0001'], 'B')
assert older.store().status == 0
told(older, 'Measured on another state of design only: C1.', what='evidence from another state of design is on the first page', within=('-l', '1'))

nothing = Model('nothing')
nothing.store()
told(nothing, 'Nothing is asked for', what='a gate that asks for nothing is not met', within=('-l', '1'))

# ---- wrong use ----

refuse(run('pack', '--book', book), 2, '-o', name='a pack without a file says so')
refuse(run('pack', '-o', folder / 'x.doc', '--book', book), 2, 'x.doc', '.pdf', name='a pack in another form is refused')
refuse(run('pack', '-o', folder / 'x.pdf', '--book', book, '--model', 'HF', '--gate', 'Nowhere'), 2, "no gate 'Nowhere'; it has:", name='an unknown gate is refused with those there are')
refuse(run('pack', '-o', folder / 'x.pdf', '--paper', 'a3', '--book', book), 2, "'a3'", name='another paper is refused')
ok(not (folder / 'x.pdf').exists(), 'nothing was left behind')

done()
