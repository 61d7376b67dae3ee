# SPDX-License-Identifier: GPL-3.0-or-later
"""What the walks share: the real program on its own display, seen through the accessibility bus as a reader for blind
people sees it, moved by real keys and clicks, and its book asked through the command line. Nothing sleeps for a fixed
time: every look waits until what it looks for is there, and fails after PATIENCE seconds."""
import csv
import difflib
import hashlib
import json
import os
import pathlib
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import traceback

import pyatspi

PATIENCE = 40 * float(os.environ.get('MESON_TEST_TIMEOUT_MULTIPLIER', '1'))
window_program, batch_program = (pathlib.Path(argument).resolve() for argument in sys.argv[1:3])
source = pathlib.Path(__file__).resolve().parents[2]
work = tempfile.TemporaryDirectory(prefix='fettle-walk-')
folder = pathlib.Path(work.name)
environment = dict(os.environ, FETTLE_TODAY='2026-11-25', HOME=str(folder / 'home'), XDG_STATE_HOME=str(folder / 'state'),
                   XDG_DATA_HOME=str(folder / 'data'), XDG_CONFIG_HOME=str(folder / 'config'),
                   XDG_CACHE_HOME=str(folder / 'cache'), XDG_RUNTIME_DIR=str(folder / 'run'))
for name in ('home', 'state', 'data', 'config', 'cache', 'run'):
    (folder / name).mkdir(mode=0o700)
try:
    results = os.fdopen(9, 'w', encoding='utf-8')  # from on-a-display; apart from what buses and servers print
except OSError:
    results = sys.stdout
count = 0
failed = 0


class Lost(Exception):
    """What was waited for did not come."""


# ---- tests ----

def ok(holds, name, detail=''):
    """One test: its name is a sentence of behaviour."""
    global count, failed
    count += 1
    failed += not holds
    for line in [] if holds else str(detail).splitlines()[:160]:
        print(f'# {line}', file=results)
    print(f'{"ok" if holds else "not ok"} {count} {name}', file=results, flush=True)
    return bool(holds)


def run(walks):
    """Runs walks; one that loses its way fails, says what it saw, and the next begins."""
    wanted = os.environ.get('FETTLE_WALK', '')
    for walk in walks:
        if wanted not in walk.__name__:
            continue
        began = time.monotonic()
        try:
            walk()
        except Lost as lost:
            ok(False, f'{walk.__name__} comes to its end', f'{traceback.format_exc()}\n{lost}')
        except Exception:  # the bus may lose an object at any moment: the walk failed, the others still run
            ok(False, f'{walk.__name__} comes to its end', traceback.format_exc())
        finally:
            Window.end_all()
        print(f'# {walk.__name__}: {time.monotonic() - began:.1f} s', file=results, flush=True)
    print(f'1..{count}', file=results, flush=True)
    sys.exit(1 if failed else 0)


def until(look, what, seconds=PATIENCE, also=None):
    """Looks again and again until something true is seen, and returns it."""
    end = time.monotonic() + seconds
    while True:
        ended = next((window for window in Window.running if window.process.poll() is not None), None)
        if ended is not None:
            raise Lost(f'the program ended with {ended.process.returncode}: {ended.said_on_terminal()}')
        try:
            seen = look()
        except (Lost, RuntimeError, AttributeError, TypeError, NotImplementedError, LookupError):
            seen = None  # the tree changed under the look
        except Exception as error:  # GLib.Error from the bus: the object is gone
            if type(error).__name__ != 'Error':
                raise
            seen = None
        if seen:
            return seen
        if time.monotonic() > end:
            raise Lost(f'waited in vain for: {what}\n{also() if also else ""}')
        time.sleep(0.03)


# ---- the book, through the command line ----

def batch(*arguments, expect=0):
    finished = subprocess.run([batch_program, *map(str, arguments)], capture_output=True, text=True, timeout=120,
                              env=environment, check=False)
    if finished.returncode != expect:
        raise Lost(f'fettle-batch {arguments} ended with {finished.returncode}: {finished.stderr}')
    return finished.stdout


def make_book(name, *imports):
    book = folder / f'{name}.fettle'
    batch('new', book)
    for path in imports:
        batch('import', path, '--book', book)
    return book


def demo_book(name):
    """The demo's book, made once and copied."""
    made = folder / 'made' / 'demo.fettle'
    if not made.exists():
        made.parent.mkdir()
        batch('new', made)
        batch('import', source / 'demo' / 'data', '--book', made)
    return pathlib.Path(shutil.copy(made, folder / f'{name}.fettle'))


def exported(book, record):
    with tempfile.TemporaryDirectory(dir=folder) as place:
        batch('export', place, '--book', book)
        with open(pathlib.Path(place) / f'{record}.csv', newline='', encoding='utf-8') as file:
            return list(csv.DictReader(file))


def rows(book, record, **wanted):
    return [row for row in exported(book, record) if all(row[key] == value for key, value in wanted.items())]


def last_action(book):
    return max(json.loads(batch('history', '--json', '--book', book))['actions'], key=lambda action: action['place'])


def standing(book, model, *more):
    return json.loads(batch('standing', '--json', '--book', book, '--model', model, '--today', '2026-11-25', *more))


# ---- the window ----

def tree(node, closed=(), depth=0):
    """A node and all below it, but not what is below a role in @closed; what goes away meanwhile is left out."""
    yield node, depth
    if node.getRoleName() in closed:
        return
    for i in range(node.childCount):
        child = node.getChildAtIndex(i)
        if child is not None:
            yield from tree(child, closed, depth + 1)


class Window:
    """One running program."""
    running = []

    def __init__(self, *arguments, **more):
        self.log = open(folder / f'log-{time.monotonic_ns()}', 'w+', encoding='utf-8')
        self.process = subprocess.Popen([window_program, *map(str, arguments)], stdout=self.log, stderr=subprocess.STDOUT, cwd=folder,
                                        env=dict(environment, **more))
        Window.running.append(self)
        self.app = until(self.find_app, 'the program on the accessibility bus', also=self.said_on_terminal)
        self.frame()

    def find_app(self):
        desk = pyatspi.Registry.getDesktop(0)
        desk.clearCache()
        for i in range(desk.childCount):
            app = desk.getChildAtIndex(i)
            if app is not None and app.get_process_id() == self.process.pid:
                return app
        return None

    def said_on_terminal(self):
        self.log.flush()
        return pathlib.Path(self.log.name).read_text(encoding='utf-8')

    def nodes(self, closed=()):
        self.app.clearCache()
        for i in range(self.app.childCount):
            top = self.app.getChildAtIndex(i)
            if top is not None:
                yield from tree(top, closed)

    def seen(self):
        """The whole tree as text, to be printed when a walk loses its way."""
        self.picture()
        try:
            return '\n'.join(f'{"  " * depth}{node.getRoleName()} | {node.name}'
                             f'{" <- keyboard" if node.getState().contains(pyatspi.STATE_FOCUSED) else ""}' for node, depth in self.nodes()
                             if node.name and not node.name.startswith('Gtk')) + '\n' + self.said_on_terminal()
        except Exception as error:
            return f'{error}\n{self.said_on_terminal()}'

    def look(self, role=None, name=None, holds=None, begins=None):
        """A node by its role and name, or None. Choices are looked into only for the entry in which they are searched."""
        for node, _ in self.nodes(() if role in ('entry', None) else ('combo box', 'list item')):
            if role is not None and node.getRoleName() != role:
                continue
            said = node.name
            if (name is None or said == name) and (holds is None or holds in said) and (begins is None or said.startswith(begins)):
                return node
        return None

    def find(self, role=None, **which):
        return until(lambda: self.look(role, **which), f'{role} {which}', also=self.seen)

    def gone(self, role=None, **which):
        return until(lambda: self.look(role, **which) is None, f'no more {role} {which}', also=self.seen)

    def says(self, words):
        """Waits until the window shows a label with these words."""
        return self.find('label', holds=words).name

    # -- what a person does --

    def id(self, title='Fettle'):
        """The window on the display, by a part of its title; the newest when there are several."""
        found = subprocess.run(['xdotool', 'search', '--all', '--onlyvisible', '--pid', str(self.process.pid), '--name', title],
                               capture_output=True, text=True, check=False).stdout.split()
        return found[-1] if found else None

    def frame(self, title='Fettle'):
        """Gives a window the keyboard: there is no window manager to do it."""
        def focused():
            window = self.id(title)
            if window is None:
                return None
            subprocess.run(['xdotool', 'windowfocus', window], check=False, capture_output=True)
            now = subprocess.run(['xdotool', 'getwindowfocus'], capture_output=True, text=True, check=False).stdout.strip()
            return window if now == window else None
        return until(focused, f'a window called {title}', also=self.said_on_terminal)

    def keys(self, *keys):
        for key in keys:
            subprocess.run(['xdotool', 'key', '--clearmodifiers', key], check=True)

    def type(self, text):
        subprocess.run(['xdotool', 'type', '--delay', '12', text], check=True)

    def picture(self):
        """For eyes, when FETTLE_WALK_PICTURES names a folder."""
        place = os.environ.get('FETTLE_WALK_PICTURES')
        if place:
            subprocess.run(['import', '-window', 'root', f'{place}/{time.monotonic_ns()}.png'], check=False)

    def press(self, role, **which):
        """Activates a control through the accessibility bus."""
        node = self.find(role, **which)
        until(lambda: node.getState().contains(pyatspi.STATE_SENSITIVE) or self.look(role, **which).getState().contains(
            pyatspi.STATE_SENSITIVE), f'{which} can be pressed', also=self.seen)
        self.find(role, **which).queryAction().doAction(0)

    def click(self, node, title='Fettle', times=1):
        """Clicks into the middle of something with the mouse."""
        at = node.queryComponent().getExtents(pyatspi.WINDOW_COORDS)
        subprocess.run(['xdotool', 'mousemove', '--window', self.id(title), str(at.x + at.width // 2), str(at.y + at.height // 2),
                        'click', '--repeat', str(times), '--delay', '40', '1'], check=True)

    def retype(self, field, text):
        """Puts other words into a field: click, choose all, type."""
        self.click(field)
        self.keys('ctrl+a')
        self.type(text)

    def text_of(self, node):
        text = node.queryText()
        return text.getText(0, text.characterCount)

    def focus_is(self, role=None, **which):
        """Waits until a node has the keyboard."""
        def has():
            node = self.look(role, **which)
            return node is not None and node.getState().contains(pyatspi.STATE_FOCUSED)
        return until(has, f'the keyboard at {role} {which}', also=self.seen)

    def choose(self, combo, name):
        """Opens a choice by mouse, searches in its list by keys, and takes the first that is found."""
        self.click(self.find('combo box', name=combo))
        self.focus_is('entry', name='Find in the list')
        self.type(name)
        self.keys('Down', 'Return')

    def walk_down_to(self, role, **which):
        """Presses Down, each time waiting until something has the keyboard, until it is what was looked for."""
        for _ in range(30):
            focused = until(lambda: next((node for node, _ in self.nodes() if node.getRoleName() == role and node.getState().contains(
                pyatspi.STATE_FOCUSED)), None), f'a focused {role}', also=self.seen)
            if self.look(role, **which).name == focused.name:
                return
            before = focused.name
            self.keys('Down')
            until(lambda: self.focused_name(role) != before, f'the next {role}', also=self.seen)
        raise Lost(f'no {role} {which} below')

    def focused_name(self, role):
        return next((node.name for node, _ in self.nodes() if node.getRoleName() == role
                     and node.getState().contains(pyatspi.STATE_FOCUSED)), None)

    # -- the end --

    def close(self):
        """Closes by key, as a person does; a complaint of GLib, GTK or a sanitizer fails the walk."""
        status = None
        end = time.monotonic() + PATIENCE
        while status is None and time.monotonic() < end:
            self.frame()
            self.keys('ctrl+q')  # on a busy machine a key is lost while the display gives the keyboard anew
            try:
                status = self.process.wait(PATIENCE / 4)
            except subprocess.TimeoutExpired:
                pass
        Window.running.remove(self)
        said = self.said_on_terminal()
        clean = status == 0 and not any(sign in said for sign in ('CRITICAL', 'WARNING', 'Sanitizer', 'runtime error'))
        if not clean:
            ok(False, 'the program ends clean', f'status {status}\n{said}')

    def crash(self):
        """Ends as a power cut would."""
        self.process.send_signal(signal.SIGKILL)
        self.process.wait(PATIENCE)
        Window.running.remove(self)

    @staticmethod
    def end_all():
        for window in list(Window.running):
            if window.process.poll() is None:
                window.crash()
            else:
                Window.running.remove(window)


SHIFTED = set('~!@#$%^&*()_+{}|:"<>?')


def keys_of(text):
    """How many keys a text is typed with: capitals and signs above the digits take a second one."""
    return sum(2 if letter.isupper() or letter in SHIFTED else 1 for letter in text)


def fewest(values, reached):
    """The fewest keys that @values need by themselves: each is typed and finished by one key, and each page or form is
    reached by one."""
    return sum(keys_of(value) + 1 for value in values) + reached


class CountedWindow(Window):
    """A window whose every key and pointing is counted, each modifier as a key of its own."""
    presses = 0
    pointings = 0

    def begin(self):
        self.presses = self.pointings = 0

    def keys(self, *keys):
        super().keys(*keys)
        for key in keys:
            self.presses += len(key.split('+'))

    def type(self, text):
        super().type(text)
        self.presses += keys_of(text)

    def click(self, node, title='Fettle', times=1):
        super().click(node, title, times)
        self.pointings += 1
        self.presses += times

    def choose_person(self, initials):
        """Ctrl+P opens the list of persons with the keyboard in it."""
        self.keys('ctrl+p')
        self.focus_is('list item', begins=initials)
        self.keys('Return')
        self.find('push button', begins=f'{initials} writes')

    def count_against(self, least, job):
        """A test: at most 1.3 times the keys and clicks that the values need."""
        ok(self.presses <= 1.3 * least,
           f'{job}: {self.presses} keys and clicks, {self.presses / least:.2f} times the {least} that the values need',
           'at most 1.3 times')


def equals_kept(book, name):
    """A test: the book's export is the one kept in tests/data/walks/NAME. Files that records hold are not kept there: each is
    called by its SHA-256, which the kept rows name. With FETTLE_WALK_KEEP set the export is kept anew, to be looked through."""
    kept, place = source / 'tests' / 'data' / 'walks' / name, folder / f'export-{name}'
    batch('export', place, '--book', book)
    texts = {path.name: path.read_text(encoding='utf-8') for path in sorted(place.glob('*.csv'))}
    rows_of = {file: text for file, text in texts.items() if text.count('\n') > 1}  # of the rest there is but the head
    if os.environ.get('FETTLE_WALK_KEEP'):
        shutil.rmtree(kept, ignore_errors=True)
        kept.mkdir(parents=True)
        for file, text in rows_of.items():
            (kept / file).write_text(text, encoding='utf-8')
    wanted = {path.name: path.read_text(encoding='utf-8') for path in kept.glob('*.csv')}
    apart = [line for file in sorted(rows_of.keys() | wanted.keys()) for line in difflib.unified_diff(
        wanted.get(file, '').splitlines(), rows_of.get(file, '').splitlines(), f'kept/{file}', f'book/{file}', lineterm='')]
    ok(wanted and not apart, 'the book is the kept one, row for row', '\n'.join(apart))
    named = {row['sha256'] for row in csv.DictReader(texts['attachment.csv'].splitlines())}
    held = {hashlib.sha256(path.read_bytes()).hexdigest() for path in place.rglob('*') if path.is_file() and path.suffix != '.csv'}
    ok(named == held, 'and holds the files that its rows name, by their SHA-256', f'{named} {held}')


def copy_file(path):
    """Puts a file on the clipboard, as a mail program or a folder does."""
    subprocess.run(['xclip', '-selection', 'clipboard', '-t', 'text/uri-list', '-i'], input=path.as_uri() + '\r\n', text=True,
                   check=True)


def copy(text):
    """Puts text on the clipboard."""
    subprocess.run(['xclip', '-selection', 'clipboard', '-i'], input=text, text=True, check=True)
