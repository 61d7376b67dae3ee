#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What a decision froze: it stays byte by byte whatever is entered later, and a document that was altered, lost or made of another
journal is named wherever somebody decides. SHA-256 is computed here by Python's hashlib (FIPS 180-4)."""
import hashlib
import shutil
import sqlite3
import subprocess

from batch_books import Model, decide, document_of, serials
from batch_tap import done, folder, ok, run, write_csv

DAY = '2026-03-10'
ELSEWHERE = 'not put together from this journal'
QUIET = {'ASAN_OPTIONS': 'detect_leaks=0'}  # fonts, as in test-letter.py


def shop(name):
    """Twenty-two units that pass the one check, about safety."""
    model = Model(name)
    model.add('person', 'initials,role', 'OW', 'owner')
    model.characteristic('LH', kind='checked', klass='safety')
    model.characteristic('GA', kind='measured')
    model.limit('GA', upper=2.0)
    model.add('criterion', 'model,code,gate,kind,characteristic,strict', 'M', 'C1', 1, 'checked', 'LH', 'no')
    model.add('criterion_term', 'model,criterion,from_date,share,confidence,person', 'M', 'C1', '2025-12-01', '0.9', '0.9', 'OW')
    model.units(serials(22))
    for number, serial in enumerate(serials(22)):
        model.reading(serial, 'LH', mark='passed')
        model.reading(serial, 'GA', 1.0 + 0.01 * number)
    model.store()
    return model


def later(book, step, *records):
    """More records by a call of their own: (record, header, rows...) each."""
    files = [write_csv(folder / f'{book.stem}-{step}' / f'{record}.csv', header.split(','), rows) for record, header, *rows in records]
    told = run('import', *files, '--book', book, '--update')
    assert told.status == 0, told.err


def kept(book):
    """The frozen document, as an export hands it out."""
    place = folder / f'export-{len(list(folder.iterdir()))}'
    run('export', place, '--book', book)
    row = (place / 'decision.csv').read_text(encoding='utf-8').splitlines()[1].split(',')
    return (place / 'files' / next(cell for cell in row if len(cell) == 64)).read_bytes()


def release(book):
    return run('release', '--json', '--book', book, '--today', '2026-04-20', '--model', 'M').json()


def named(book):
    return ' '.join(' '.join(row) for row in release(book)['remarks'])


def pack_text(book):
    path = book.with_suffix('.pdf')
    told = run('pack', '-o', path, '--book', book, '--today', '2026-04-20', '--model', 'M', **QUIET)
    assert told.status == 0, told.err
    return ' '.join(subprocess.run(['pdftotext', path, '-'], capture_output=True, text=True, check=True).stdout.split())


def copy_of(model, name):
    return shutil.copyfile(model.book, folder / f'{name}.fettle')


model = shop('frozen')
document = document_of(model, DAY)
told = decide(model, document, DAY)
ok(told.status == 0, 'a decision comes with its document', told.err)
ok(kept(model.book) == document, 'and keeps it byte by byte')
ok(named(model.book) == '', 'a document of this journal is as it should be', named(model.book))

edits = [
    ('a reading fails', [('reading', 'model,round,unit,characteristic,attempt,n,mark,taken', ('M', 'A', 'U0001', 'LH', 1, 1, 'failed', '2026-02-10'))]),
    ('the share is lowered', [('criterion_term', 'model,criterion,from_date,share,confidence,person', ('M', 'C1', '2025-12-01', '0.5', '0.9', 'OW'))]),
    ('a limit is widened', [('limit', 'model,characteristic,from_date,upper', ('M', 'GA', '2026-04-01', '9.0'))]),
    ('the names are changed', [('model', 'code,name', ('M', 'Renamed')), ('person', 'initials,name', ('OW', 'Renamed too'))]),
    ('another round comes', [('round', 'model,label,kind,opened', ('M', 'B', 'pilot', '2026-04-02')), ('unit', 'model,round,serial', ('M', 'B', 'B0001'))]),
    ('a criterion is added', [('criterion', 'model,code,gate,kind,characteristic,strict', ('M', 'C9', 1, 'measured', 'GA', 'no'))]),
]
for step, (what, records) in enumerate(edits):
    later(model.book, step, *records)
    ok(kept(model.book) == document, f'it stays byte by byte when {what}')
pack = pack_text(model.book)
ok('Since the last decision' in pack and ELSEWHERE not in pack, 'the pack sets then beside now', pack[:600])
ok(run('check', '--replay', '--book', model.book).status == 0, 'and the book replays')

# ---- the document is altered, by another program, below the journal ----

altered = copy_of(model, 'altered')
with sqlite3.connect(altered) as db:
    (bytes_kept,) = db.execute('SELECT bytes FROM content WHERE sha256 = ?', (hashlib.sha256(document).hexdigest(),)).fetchone()
    changed = bytearray(bytes_kept)
    changed[len(changed) // 2] ^= 1
    db.execute('UPDATE content SET bytes = ? WHERE sha256 = ?', (bytes(changed), hashlib.sha256(document).hexdigest()))
ok('was altered since' in named(altered), 'a document that was altered is named', named(altered))
ok('was altered since' in pack_text(altered), 'also on the pack')
checked = run('check', '--book', altered)
ok(checked.status != 0, 'and by check', checked.out + checked.err)

lost = copy_of(model, 'lost')
with sqlite3.connect(lost) as db:
    db.execute('DELETE FROM content WHERE sha256 = ?', (hashlib.sha256(document).hexdigest(),))
ok('no longer in the book' in named(lost) and 'no longer in the book' in pack_text(lost), 'a document that is gone is named', named(lost))

# ---- a document that was made of another journal, and says what this book never knew ----

forged = shop('forged')
told = decide(forged, document.replace(b'"n": 22', b'"n": 99'), DAY)
ok(told.status == 0, 'a decision of another book comes in, since an export may be all that is left of one', told.err)
ok(ELSEWHERE in named(forged.book) and ELSEWHERE in pack_text(forged.book), 'a document of another book is named', named(forged.book))
done()
