#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Bad input and faults: one sentence that says what is wrong, where and what to do; the right exit status; nothing half
stored."""
import os
import shutil
import signal
import sqlite3
import subprocess
import threading
import time

from batch_books import Model, serials
from batch_tap import Answer, done, environment, folder, new_book, ok, program, refuse, run, write_csv

READING = ['model', 'round', 'unit', 'characteristic', 'value', 'taken']


def small(name):
    model = Model(name)
    model.characteristic('X')
    model.limit('X', 9.0, 11.0)
    model.units(serials(4))
    for serial in serials(4):
        model.reading(serial, 'X', 10.0)
    model.criterion('C1', 'X', 0.9, 0.9)
    answer = model.store()
    ok(answer.status == 0, f'the book {name} is made', answer)
    return model


def head(book):
    return run('check', '--json', '--book', book).json()['head']


model = small('bad')
before = head(model.book)
good = ['M', 'A', 'U0001', 'X', '10.0', '2026-02-10']


def rejected(name, row, *words, header=None, rows=None):
    """One wrong row: the whole call is refused, the place is named, the book is as before."""
    path = write_csv(folder / 'rows' / 'reading.csv', header or READING, rows or [row])
    answer = run('import', path, '--book', model.book)
    refuse(answer, 1, *words, name=name)
    ok(head(model.book) == before, f'{name}: nothing is stored')
    return answer


def file_refused(name, content, *words, record='reading', status=1):
    path = folder / 'files' / f'{record}.csv'
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(content)
    refuse(run('import', path, '--book', model.book), status, *words, name=name)
    ok(head(model.book) == before, f'{name}: nothing is stored')


# Rows
rejected('a wrong number', ['M', 'A', 'U0001', 'X', '10.x', '2026-02-10'], 'reading.csv:2: value:', '10.x')
rejected('a date that does not exist', ['M', 'A', 'U0001', 'X', '10', '2026-02-30'], 'reading.csv:2: taken:', '2026-02-30')
rejected('an unknown serial', ['M', 'A', 'U9999', 'X', '10', ''], 'reading.csv:2: unit:', 'U9999')
rejected('a value beyond its bounds', ['M', 'A', 'U0001', 'X', '1e13', ''], 'reading.csv:2: value:')
rejected('a value that is no number at all', ['M', 'A', 'U0001', 'X', 'nan', ''], 'reading.csv:2: value:')
rejected('two rows of one key', None, 'reading.csv:3:', rows=[['M', 'A', 'U0001', 'X', '10', ''], ['M', 'A', 'U0001', 'X', '10.1', '']])
rejected('an existing key with another value', ['M', 'A', 'U0001', 'X', '10.2', '2026-02-10'], 'reading.csv:2:', '--update')
rejected('a missing required column', ['M', 'A', 'X', '10'], 'reading.csv:1:', 'unit', header=['model', 'round', 'characteristic', 'value'])
rejected('an unknown column names the nearest', good + ['1'], 'reading.csv:1:', 'atempt', 'attempt', header=READING + ['atempt'])
rejected('a column given twice', good + ['1'], 'reading.csv:1:', 'value', header=READING + ['value'])
rejected('a row that is too long', good + ['more'], 'reading.csv:2:')
rejected('a choice that is none', ['M', 'A', 'U0001', 'X', '10', 'perhaps'], 'reading.csv:2: mark:', 'perhaps',
         header=READING[:5] + ['mark'])
rejected('a control character in a line of text', ['M', 'A', 'U0001', 'X', '10', 'a\x07b'], 'reading.csv:2: reason:',
         header=READING[:5] + ['reason'])
several = rejected('every wrong row is listed', None, 'reading.csv:2:', 'reading.csv:4:',
                   rows=[['M', 'A', 'U9998', 'X', '10', ''], good, ['M', 'A', 'U9999', 'X', '10', '']])
many = write_csv(folder / 'many' / 'reading.csv', READING, [['M', 'A', f'N{i}', 'X', '10', ''] for i in range(1200)])
answer = run('import', many, '--book', model.book)
ok(answer.status == 1 and answer.err.count('reading.csv:') == 1000 and '200 more' in answer.err,
   'of very many wrong rows the first thousand are listed and the rest is counted', answer.err[-300:])

# Files
file_refused('invalid UTF-8', b'model,round,unit,characteristic,value\nM,A,U0001,X,\xff\n', 'reading.csv:2:', 'UTF-8')
file_refused('an unfinished quote', b'model,round,unit,characteristic,value\nM,A,"U0001,X,10\n', 'reading.csv:2:')
file_refused('an empty file', b'', 'reading.csv', 'empty')
file_refused('a name that is no record', b'a,b\n1,2\n', 'raeding.csv', 'reading', record='raeding', status=2)
(folder / 'nothing').mkdir()
refuse(run('import', folder / 'nothing', '--book', model.book), 2, 'nothing', name='a folder without a file to import')
(folder / 'dir' / 'reading.csv').mkdir(parents=True)
answer = run('import', folder / 'dir' / 'reading.csv', '--book', model.book)
ok(answer.status in (1, 2) and 'reading.csv' in answer.err, 'a directory where a file should be', answer)
refuse(run('import', folder / 'gone.csv', '--book', model.book), 2, 'gone.csv', name='a file that is not there')

# --keep-good
path = write_csv(folder / 'keep' / 'reading.csv', READING[:4] + ['attempt', 'value'],
                 [['M', 'A', 'U0001', 'X', '2', '10.5'], ['M', 'A', 'U9999', 'X', '1', '10'], ['M', 'A', 'U0002', 'X', '2', 'ten']])
answer = run('import', path, '--book', model.book, '--keep-good')
left = (folder / 'keep' / 'reading.csv.rejected.csv').read_text().splitlines()
ok(answer.status == 1 and len(left) == 3 and 'U9999' in left[1] and 'ten' in left[2], 'keep-good stores the good rows and writes the others',
   f'{answer}\n{left}')
shutil.copy(folder / 'keep' / 'reading.csv.rejected.csv', folder / 'keep' / 'mended.csv')
mended = folder / 'keep' / 'again' / 'reading.csv'
mended.parent.mkdir()
mended.write_text('\n'.join(line.replace('U9999', 'U0003').replace('ten', '10.1') for line in left) + '\n')
answer = run('import', mended, '--book', model.book)
ok(answer.status == 0, 'which, mended, can be imported as they are', answer)

# Formula characters are text like any other
path = write_csv(folder / 'formula' / 'model.csv', ['code', 'name'], [['F', '=SUM(A1:A9)'], ['G', '@x'], ['H', '+1'], ['I', '-1']])
formula = new_book('formula')
ok(run('import', path, '--book', formula).status == 0, 'formula characters are stored')
run('export', folder / 'formula-out', '--book', formula)
ok('=SUM(A1:A9)' in (folder / 'formula-out' / 'model.csv').read_text(), 'and come out as they went in')

# Books that are none
refuse(run('check', '--book', folder / 'gone.fettle'), 3, 'gone.fettle', name='a book that is not there')
refuse(run('check', '--book', folder / 'nothing'), 3, 'nothing', name='a directory is no book')
(folder / 'empty.fettle').write_bytes(b'')
refuse(run('check', '--book', folder / 'empty.fettle'), 3, 'empty.fettle', name='an empty file is no book')
(folder / 'text.fettle').write_text('not a database, but long enough to look at: ' * 50)
refuse(run('check', '--book', folder / 'text.fettle'), 3, 'text.fettle', name='a text is no book')
with sqlite3.connect(folder / 'other.fettle') as db:
    db.execute('CREATE TABLE a (b)')
    db.execute('PRAGMA application_id = 1234')
db.close()
kept = (folder / 'other.fettle').read_bytes()
refuse(run('check', '--book', folder / 'other.fettle'), 3, 'other.fettle', name="another program's database is no book")
ok((folder / 'other.fettle').read_bytes() == kept, 'and is not touched')
shutil.copy(model.book, folder / 'newer.fettle')
db = sqlite3.connect(folder / 'newer.fettle')
version = db.execute('PRAGMA user_version').fetchone()[0]
db.execute(f'PRAGMA user_version = {version + 1}')
db.commit()
db.close()
kept = (folder / 'newer.fettle').read_bytes()
refuse(run('check', '--book', folder / 'newer.fettle'), 3, 'newer.fettle', 'newer', name='a newer book is refused')
ok((folder / 'newer.fettle').read_bytes() == kept, 'and is not touched')

# A book with triggers and views from elsewhere: nothing of it runs
shutil.copy(model.book, folder / 'trap.fettle')
db = sqlite3.connect(folder / 'trap.fettle')
db.execute("CREATE TRIGGER trap AFTER INSERT ON model BEGIN DELETE FROM person; END")
db.execute("CREATE VIEW trap_view AS SELECT 1")
db.commit()
db.close()
answer = run('import', write_csv(folder / 'trap' / 'model.csv', ['code', 'name'], [['T', 'Trap']]), '--book', folder / 'trap.fettle')
db = sqlite3.connect(folder / 'trap.fettle')
people = db.execute('SELECT count(*) FROM person').fetchone()[0]
db.close()
ok(people == 1, 'a trigger that came with a book does not run', answer)
answer = run('check', '--book', folder / 'trap.fettle')
ok(answer.status in (1, 3) and 'trap' in answer.out + answer.err, 'check names it', answer)

# A row edited with another program
shutil.copy(model.book, folder / 'edited.fettle')
db = sqlite3.connect(folder / 'edited.fettle')
db.execute("UPDATE reading SET value = 9.5 WHERE rowid = (SELECT min(rowid) FROM reading)")
db.commit()
db.close()
answer = run('check', '--replay', '--book', folder / 'edited.fettle')
ok(answer.status == 1 and 'reading' in answer.out and 'value' in answer.out and 'Reading M/' in answer.out, 'check --replay names a row that was edited elsewhere', answer)

# Copies: one made by a file manager while the book was open, and an older one brought back
shutil.copy(model.book, folder / 'older.fettle')
more = write_csv(folder / 'more' / 'model.csv', ['code', 'name'], [['K', 'More']])
db = sqlite3.connect(model.book)  # somebody has it open
db.execute('SELECT count(*) FROM model').fetchone()
ok(run('import', more, '--book', model.book).status == 0, 'a book that another program reads can be written')
for ending in ('', '-wal', '-shm'):
    if os.path.exists(f'{model.book}{ending}'):
        shutil.copy(f'{model.book}{ending}', folder / f'copied.fettle{ending}')
db.close()
answer = run('check', '--replay', '--book', folder / 'copied.fettle')
ok(answer.status == 0, 'a copy made while the book was open holds together', answer)
one = write_csv(folder / 'one' / 'model.csv', ['code', 'name'], [['P', 'One']])
two = write_csv(folder / 'two' / 'model.csv', ['code', 'name'], [['Q', 'Two']])
run('import', one, '--book', model.book)
shutil.copy(folder / 'older.fettle', model.book)
run('import', two, '--book', model.book)
key_new = int(run('history', '--json', '--book', model.book).json()['actions'][0]['key'])
key_old = int(run('history', '--json', '--book', model.book).json()['actions'][-1]['key'])
ok(key_new >> 33 != key_old >> 33, 'an older copy that is brought back takes a new origin')
ok(run('check', '--replay', '--book', model.book).status == 0, 'and holds together')

# A second program that writes
locked = small('locked')
db = sqlite3.connect(locked.book, isolation_level=None)
db.execute('BEGIN IMMEDIATE')
start = time.monotonic()
answer = run('import', more, '--book', locked.book)
waited = time.monotonic() - start
refuse(answer, 3, 'locked.fettle', name='a second program that writes: waits, then says so')
ok(waited > 1, 'it did wait')
release = threading.Timer(1.0, lambda: db.execute('ROLLBACK'))
db.close()
db = sqlite3.connect(locked.book, isolation_level=None, check_same_thread=False)
db.execute('BEGIN IMMEDIATE')
release = threading.Timer(1.0, lambda: db.execute('ROLLBACK'))
release.start()
answer = run('import', more, '--book', locked.book)
release.join()
db.close()
ok(answer.status == 0, 'a writer that ends in time is waited for', answer)

# A folder that may not be written
readonly = folder / 'readonly'
readonly.mkdir()
shutil.copy(locked.book, readonly / 'book.fettle')
os.chmod(readonly / 'book.fettle', 0o444)
os.chmod(readonly, 0o555)
if os.geteuid() == 0:
    print('# as root no folder is read-only: tried as nobody')


def as_nobody(*arguments):
    """Root may write everywhere, so such a call drops to a plain user."""
    def drop():
        if os.geteuid() == 0:
            os.setgid(65534)
            os.setuid(65534)
    state = folder / 'nobody'
    state.mkdir(exist_ok=True)
    state.chmod(0o777)
    return Answer(subprocess.run([program, *map(str, arguments)], capture_output=True, preexec_fn=drop, check=False,
                                 env=dict(environment, XDG_STATE_HOME=str(state), HOME=str(state))))


os.chmod(folder, 0o755)
answer = as_nobody('import', more, '--book', readonly / 'book.fettle')
refuse(answer, 3, 'book.fettle', name='a read-only folder is told')
answer = as_nobody('new', readonly / 'new.fettle')
refuse(answer, 3, 'new.fettle', name='no book is made there')
os.chmod(readonly, 0o755)

# A full disk
big = write_csv(folder / 'big' / 'unit.csv', ['model', 'round', 'serial'], [['M', 'A', f'B{i:06}'] for i in range(60000)])
script = ('mkdir -p "$1" && mount -t tmpfs -o size=1m none "$1" && cp "$2" "$1/full.fettle" && '
          '{ "$0" import "$3" --book "$1/full.fettle"; s=$?; echo "status $s"; cp "$1/full.fettle" "$4"; exit $s; }')
small_disk = subprocess.run(['unshare', '-rm', 'sh', '-c', script, program, folder / 'disk', locked.book, big, folder / 'after-full.fettle'],
                            capture_output=True, env=environment, check=False)
if b'status ' not in small_disk.stdout:
    print(f'# no small disk can be mounted here: {small_disk.stderr.decode()[:200]}')
    ok(True, 'a full disk # SKIP no permission to mount')
else:
    refuse(Answer(small_disk), 3, 'full', name='a full disk is told')
    answer = run('check', '--replay', '--book', folder / 'after-full.fettle')
    ok(answer.status == 0 and head(folder / 'after-full.fettle') == head(locked.book), 'and nothing half is stored', answer)

# Killed in the middle: every confirmed action is there, nothing half
killed = small('killed')
heads = {head(killed.book)}
struck = 0
for attempt in range(12):
    process = subprocess.Popen([program, 'import', big, '--book', killed.book], env=environment, stdout=subprocess.PIPE,
                               stderr=subprocess.DEVNULL)
    time.sleep(0.05 + 0.15 * attempt)
    if process.poll() is None:
        process.send_signal(signal.SIGKILL)
        struck += 1
    out, _ = process.communicate()
    confirmed = process.returncode == 0
    count = run('check', '--replay', '--book', killed.book, '--json').json()
    actions = len(run('history', '--json', '--records', '1', '--book', killed.book).json()['actions'])
    good_end = count['holds'] and actions == (2 if confirmed else actions) and actions in (1, 2)
    if not good_end:
        ok(False, f'killed after {attempt} steps: the book holds together', count)
    if actions == 2:
        break
ok(struck > 0, f'a killed import leaves the book whole ({struck} times)')

# Ctrl-C: stops cleanly, nothing stored
stopped = small('stopped')
before = head(stopped.book)
tries = 0
for delay in (0.4, 0.2, 0.1, 0.05):
    process = subprocess.Popen([program, 'import', big, '--book', stopped.book], env=environment, stdout=subprocess.PIPE,
                               stderr=subprocess.PIPE)
    time.sleep(delay)
    process.send_signal(signal.SIGINT)
    out, err = process.communicate()
    if process.returncode == 0:
        run('undo', '--book', stopped.book)  # it was faster
        before = head(stopped.book)
        continue
    tries += 1
    ok(process.returncode in (1, -signal.SIGINT) and head(stopped.book) == before, 'Ctrl-C stops with nothing stored',
       f'{process.returncode} {err}')
    break
if tries == 0:
    ok(True, 'Ctrl-C # SKIP the import was faster each time')
done()
