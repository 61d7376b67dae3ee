#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""walk-two.py FETTLE FETTLE-BATCH: two programs on one book, as of two persons at two desks, and the command line beside them: each
shows what the others write, and where two write into one field both values are shown and nothing that is typed is lost.

A second start hands its command line to the first, over the bus of the person's session: so each program gets a session of its
own, with settings and drafts of its own. Both are on one display, where the one that is turned to lies on top with the keyboard."""
import subprocess
import time

import pyatspi

import walk_screen as screen
from walk_screen import Window, ok

UNIT = 'B-05'
TITLE = 'Blade rubs in the handle'
OTHER = 'Screw loosens in the cold'


def accessibility_bus():
    """The one that the walk listens to: a program in a session of its own would begin another."""
    said = subprocess.run(['gdbus', 'call', '--session', '--dest', 'org.a11y.Bus', '--object-path', '/org/a11y/bus', '--method',
                           'org.a11y.Bus.GetAddress'], capture_output=True, text=True, check=True).stdout
    return said.split("'")[1]


class Desk(Window):
    """A program in a session of its own, of one person."""

    def __init__(self, name, *arguments):
        self.name = name
        self.bus = subprocess.Popen(['dbus-daemon', '--session', '--nofork', '--print-address=1'], stdout=subprocess.PIPE, text=True)
        places = {'HOME': 'home', 'XDG_STATE_HOME': 'state', 'XDG_DATA_HOME': 'data', 'XDG_CONFIG_HOME': 'config',
                  'XDG_CACHE_HOME': 'cache', 'XDG_RUNTIME_DIR': 'run'}
        for place in places.values():
            (screen.folder / name / place).mkdir(mode=0o700, parents=True, exist_ok=True)
        super().__init__(*arguments, '--as', name, AT_SPI_BUS_ADDRESS=accessibility_bus(), DBUS_SESSION_BUS_ADDRESS=self.bus.stdout.readline().strip(),
                         **{variable: str(screen.folder / name / place) for variable, place in places.items()})
        self.find('push button', begins=f'{name} writes')

    def frame(self, title='Fettle'):
        """On top as well: the pointer meets what lies on top."""
        window = super().frame(title)
        subprocess.run(['xdotool', 'windowraise', window], check=False)
        return window

    def input(self, begins):
        """A field or cell that is typed into, also one in the row of a list."""
        return next(node for node, _ in self.nodes() if node.getRoleName() == 'text' and node.name.startswith(begins))

    def typing_in(self, begins):
        """Waits until a field or cell has the keyboard."""
        screen.until(lambda: self.input(begins).getState().contains(pyatspi.STATE_FOCUSED), f'the keyboard in {begins}', also=self.seen)

    def leave(self):
        self.close()
        self.bus.terminate()
        self.bus.wait()


def shown_at(desk, what, **which):
    """A test: what was written elsewhere comes into view by itself. How long that took is told, and is no test."""
    began = time.monotonic()
    desk.find(**which)
    ok(True, what)
    print(f'# {time.monotonic() - began:.1f} s later', file=screen.results, flush=True)


def value_of(book):
    found = screen.rows(book, 'reading', model='HF', unit=UNIT, characteristic='BC', attempt='1', n='1')
    return found[0]['value'] if len(found) == 1 else None


def issue(book):
    return screen.rows(book, 'issue', model='HF', no='4')[0]


def in_book(book, desk, field, wanted):
    screen.until(lambda: issue(book)[field] == wanted, f'{field}: {wanted}', also=desk.seen)


def holds(desk, field, wanted):
    """Waits until the field or cell of this name holds just this."""
    screen.until(lambda: desk.text_of(desk.input(field)) == wanted, f'{wanted} in {field}', also=desk.seen)


def go_to(desk, unit):
    """The keyboard in the table of readings, on one unit."""
    desk.frame()
    desk.find('table', begins='B-')
    desk.keys('ctrl+f')
    desk.focus_is(name='Find in this book')
    desk.type(unit)
    desk.find('list item', holds=unit)
    desk.keys('Return')
    desk.focus_is('table', begins=unit)


# ---- the walks ----

def two_desks(book, page):
    return [Desk(name, book, '--model', 'HF', '--page', page) for name in ('TK', 'LN')]


def walk_readings_at_two_desks():
    book = screen.demo_book('readings')
    left, right = two_desks(book, 'readings')
    for desk in (left, right):
        go_to(desk, UNIT)

    left.frame()
    left.type('0.11')
    left.keys('Return')
    left.typing_in('B-06')
    shown_at(right, 'a reading that one program stores is shown by the other', role='table', begins=f'{UNIT}, Blade centring: 0.11 mm')

    # Typed at one desk and not stored, stored at the other.
    right.frame()
    right.type('0.13')
    right.typing_in(UNIT)
    left.frame()
    left.keys('Up')
    left.typing_in(UNIT)
    holds(left, UNIT, '0.11')
    ok(float(value_of(book)) == 0.11, 'turning to another window stores nothing that is half typed', value_of(book))
    left.keys('ctrl+a')
    left.type('0.12')
    left.keys('Return')
    left.typing_in('B-06')
    said = right.find('label', holds='Somebody else wrote').name
    ok('0.12' in said and '0.13' in said, 'a cell that both write shows both values', said)
    holds(right, UNIT, '0.13')
    ok(float(value_of(book)) == 0.12, 'what is typed stays in the cell, and what is stored in the book', value_of(book))
    right.frame()
    right.keys('Return')
    right.typing_in('B-06')
    screen.until(lambda: float(value_of(book)) == 0.13, 'the value that was chosen', also=right.seen)
    ok(True, 'and one key chooses')

    # The command line beside both.
    more = screen.folder / 'reading.csv'
    more.write_text('model,round,unit,characteristic,attempt,n,value,taken,person\n'
                    f'HF,B,{UNIT},BC,2,1,0.14,2026-11-24,JS\n', encoding='utf-8')
    screen.batch('import', more, '--book', book)
    for desk, which in ((left, 'one'), (right, 'the other')):
        shown_at(desk, f'a reading that comes by the command line is shown by {which} program', role='label', begins='61 readings')

    # What somebody else has written over is not taken back.
    left.frame()
    left.keys('Escape')
    left.focus_is('table', begins='B-06')
    left.keys('ctrl+z')
    said = left.find('status bar').name
    ok(float(value_of(book)) == 0.13 and 'undo the later action first' in said,
       'Ctrl+Z does not take back what somebody else has written over, and says so', said)
    for desk in (left, right):
        desk.leave()
    screen.batch('check', '--replay', '--book', book)
    ok(True, 'the journal replays to the same book')


def open_issue(desk):
    """The form of issue 4, with the keyboard in its title."""
    desk.frame()
    desk.find('list item', begins='1 ')
    desk.keys('ctrl+f')
    desk.focus_is(name='Find in this book')
    desk.type(TITLE)
    desk.find('list item', holds=TITLE)
    desk.keys('Return')
    desk.focus_is('list item', holds=TITLE)
    desk.keys('F2')
    desk.typing_in('Title')
    desk.keys('End')


def walk_an_issue_at_two_desks():
    book = screen.demo_book('issue')
    left, right = two_desks(book, 'issues')
    for desk in (left, right):
        open_issue(desk)
    right.type(', badly')
    holds(right, 'Title', f'{TITLE}, badly')
    left.frame()
    left.type(' when cold')
    left.keys('Return')
    in_book(book, left, 'title', f'{TITLE} when cold')
    said = right.find(role=None, begins='Somebody else wrote').name
    ok(f"'{TITLE} when cold'" in said, 'a field that both write shows what the other stored', said)
    holds(right, 'Title', f'{TITLE}, badly')
    ok(issue(book)['title'] == f'{TITLE} when cold', 'beside what is typed, which stays and is not stored by itself')
    right.frame()
    right.keys('Tab', 'Tab')
    right.focus_is(name='Keep Mine')
    right.keys('Return')
    in_book(book, right, 'title', f'{TITLE}, badly')
    ok(True, 'what is typed is stored when it is chosen')
    screen.until(lambda: left.text_of(left.input('Title')) == f'{TITLE}, badly', 'the title at the other desk', also=left.seen)
    ok(True, 'a field that nobody types into follows')

    # Each another field of the one record: neither is asked anything.
    right.click(right.input('Cycles'))
    right.typing_in('Cycles')
    right.type('250')
    left.frame()
    left.click(left.input('Load'))
    left.typing_in('Load')
    left.type('40')
    left.keys('Return')
    in_book(book, left, 'seen_load', '40')
    holds(right, 'Load', '40')
    holds(right, 'Cycles', '250')
    right.frame()
    right.keys('ctrl+Return')
    right.focus_is('list item', holds=f'{TITLE}, badly')
    in_book(book, right, 'seen_cycles', '250')
    ok(issue(book)['seen_load'] == '40' and right.look(begins='Somebody else wrote') is None,
       'two who write into two fields of one record are in nobody\'s way', issue(book))

    more = screen.folder / 'issue.csv'
    more.write_text(f'model,no,title,class,found_on\nHF,9,{OTHER},function,2026-11-24\n', encoding='utf-8')
    screen.batch('import', more, '--book', book)
    for desk, which in ((left, 'one'), (right, 'the other')):
        shown_at(desk, f'an issue that comes by the command line is shown by {which} program', role='list item', begins=f'9 {OTHER}')
    left.frame()
    left.typing_in('Load')
    ok(True, 'and the keyboard is where it was left')
    for desk in (left, right):
        desk.leave()
    screen.batch('check', '--replay', '--book', book)
    ok(True, 'the journal replays to the same book')


if __name__ == '__main__':
    screen.run([walk_readings_at_two_desks, walk_an_issue_at_two_desks])
