# SPDX-License-Identifier: GPL-3.0-or-later
"""Black-box tests of the command-line program: runs it, counts what holds, speaks TAP."""
import csv
import json
import os
import pathlib
import subprocess
import sys
import tempfile

program = pathlib.Path(sys.argv[1]).resolve()
data = pathlib.Path(__file__).resolve().parents[1] / 'data'
work = tempfile.TemporaryDirectory(prefix='fettle-batch-')
folder = pathlib.Path(work.name)
environment = dict(os.environ, XDG_STATE_HOME=str(folder / 'state'), HOME=str(folder / 'home'), LC_ALL='C.UTF-8', TZ='UTC')
count = 0
failed = 0


def ok(holds, name, detail=''):
    """One test: its name is a sentence of behaviour."""
    global count, failed
    count += 1
    if not holds:
        failed += 1
        for line in str(detail).splitlines()[:40]:
            print(f'# {line}')
    print(f'{"ok" if holds else "not ok"} {count} {name}', flush=True)
    return bool(holds)


def done():
    print(f'1..{count}')
    sys.exit(1 if failed else 0)


class Answer:
    def __init__(self, finished):
        self.status = finished.returncode
        self.out = finished.stdout.decode('utf-8')
        self.err = finished.stderr.decode('utf-8')

    def __str__(self):
        return f'status {self.status}\n-- out\n{self.out[:3000]}\n-- err\n{self.err[:3000]}'

    def json(self):
        return json.loads(self.out)


def run(*arguments, stdin='', timeout=300, **more):
    """Runs the program. Whatever a test expects, a sanitizer's or GLib's complaint fails it."""
    given = stdin if isinstance(stdin, bytes) else stdin.encode('utf-8')
    finished = subprocess.run([program, *map(str, arguments)], input=given, capture_output=True, timeout=timeout,
                              env=dict(environment, **more), check=False)
    answer = Answer(finished)
    for sign in ('Sanitizer', 'runtime error:', '-CRITICAL **', '-WARNING **'):
        if sign in answer.err:
            ok(False, f'{arguments[0] if arguments else "the program"} runs clean', answer)
            break
    return answer


def sentence(text):
    """The one sentence on standard error, without the program's name; None when it is not one line."""
    lines = text.strip().splitlines()
    if not lines or not lines[-1].startswith('fettle-batch: '):
        return None
    return lines[-1][len('fettle-batch: '):]


def is_sentence(said):
    """A whole sentence, or a place (FILE:LINE: column:) and what is wrong there."""
    return said is not None and (said.startswith('/') or (said[-1] in '.?)' and said[0] == said[0].upper()))


def refuse(answer, status, *words, name):
    """Refused with a status and one sentence that holds all the words."""
    said = sentence(answer.err)
    return ok(answer.status == status and is_sentence(said) and all(word in answer.err for word in words), name,
              f'expected {status} and {words}\n{answer}')


def write_csv(path, header, rows):
    path.parent.mkdir(parents=True, exist_ok=True)
    with open(path, 'w', newline='', encoding='utf-8') as f:
        writer = csv.writer(f, lineterminator='\n')
        writer.writerow(header)
        writer.writerows(rows)
    return path


def new_book(name):
    book = folder / f'{name}.fettle'
    answer = run('new', book)
    if answer.status != 0:
        print(f'Bail out! no book could be made: {answer.err}')
        sys.exit(1)
    return book
