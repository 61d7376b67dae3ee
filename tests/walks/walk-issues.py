#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""walk-issues.py FETTLE FETTLE-BATCH: an issue from the first word to its end, by keys alone; what the window says is read
through the accessibility bus, what is stored is asked of the book."""
import re

import pyatspi

import walk_screen as screen
from walk_screen import Window, ok

TITLE = 'Thumb stud turns loose'
INPUTS = ('text', 'entry', 'push button', 'toggle button', 'combo box', 'check box', 'list', 'table')


def issue(book):
    found = screen.rows(book, 'issue', title=TITLE)
    return found[0] if found else None


def typed_into(window):
    """Waits until a field has the keyboard."""
    return screen.until(lambda: next((node for node, _ in window.nodes() if node.getRoleName() in ('text', 'entry')
                                      and node.getState().contains(pyatspi.STATE_FOCUSED)), None), 'a field with the keyboard',
                        also=window.seen)


def chosen_from(window):
    """The line of an open list that has the keyboard."""
    return next((node for node, _ in window.nodes() if node.getRoleName() == 'list item' and TITLE not in node.name
                 and node.getState().contains(pyatspi.STATE_FOCUSED)), None)


def pick(window, times):
    """Opens the drop-down that has the keyboard, goes down in its list, and waits until it is closed again."""
    window.keys('space')
    screen.until(lambda: chosen_from(window), 'an open list', also=window.seen)
    window.keys(*['Down'] * times, 'Return')
    screen.until(lambda: chosen_from(window) is None, 'a closed list', also=window.seen)


def stored(window, book, **wanted):
    return screen.until(lambda: (row := issue(book)) and all(row[key] == value for key, value in wanted.items()) and row,
                        f'the book has {wanted}', also=lambda: f'{issue(book)}\n{window.seen()}')


def walk_an_issue_from_raised_to_closed():
    book = screen.demo_book('issue')
    window = Window(book, '--model', 'HF', '--page', 'issues', '--as', 'EH')
    window.find('list item', begins='1 ')
    window.find('push button', name='EH writes')

    window.keys('ctrl+e')
    window.says('A new issue')
    typed_into(window)
    window.type(TITLE)
    window.keys('Tab')
    pick(window, 2)
    window.keys('ctrl+Return')
    row = stored(window, book, **{'class': 'function'})
    ok(row['found_on'] == '2026-11-25' and row['found_round'] == 'B' and row['owner'] == 'EH',
       'a new issue takes day, round and owner from what the window knows', row)
    window.focus_is('list item', holds=TITLE)
    ok(True, 'the new issue has the keyboard in the list')

    window.keys('F4')
    window.find(holds='no longer reach anybody')
    typed_into(window)
    window.keys('Return')
    stored(window, book, contained='2026-11-25')
    ok(True, 'F4 and Enter: contained today')
    window.focus_is('list item', holds=TITLE)

    window.keys('F5')
    window.find(holds='Why does it happen')
    typed_into(window)
    window.type('thread without adhesive')
    window.keys('Tab')
    pick(window, 2)
    window.keys('ctrl+Return')
    row = stored(window, book, cause='thread without adhesive', cause_known='2026-11-25')
    ok(row['cause_basis'] == 'seen', 'F5: the cause, how it is known and since when are one step', row)
    window.find(holds='thread without adhesive')
    window.focus_is('list item', holds=TITLE)

    window.keys('F3')
    window.find(holds='Where was it seen?')
    window.find(name='Add')
    window.keys('Escape')
    window.gone(holds='Where was it seen?')
    ok(not screen.rows(book, 'finding', issue=row['no'], model='HF'), 'Escape leaves a finding unwritten')

    window.keys('F6')
    window.find(holds='How did it end?')
    window.find(name='Leave')
    pick(window, 4)
    window.keys('ctrl+Return')
    row = stored(window, book, outcome='accepted', closed='2026-11-25')
    ok(row['outcome_by'] == 'EH', 'F6: closed by name', row)
    window.focus_is('list item', holds=TITLE)
    window.keys('ctrl+z')
    stored(window, book, outcome='', closed='')
    ok(issue(book)['cause'] == 'thread without adhesive', 'Ctrl+Z takes back the last step alone')

    inputs = [(node.getRoleName(), node.name) for node, _ in window.nodes() if node.getRoleName() in INPUTS]
    mute = [(role, name) for role, name in inputs if re.match('^Gtk|^Fettle|^$', name) and not (role == 'list' and name == 'GtkListView')]
    ok(len(inputs) > 12 and not mute, 'each control of the page has a name', mute)
    window.close()
    screen.batch('check', '--replay', '--book', book)
    ok(True, 'the journal replays to the same book')


def walk_what_is_typed_is_not_lost():
    book = screen.demo_book('half')
    window = Window(book, '--model', 'HF', '--page', 'issues')
    window.find('list item', begins='1 ')
    window.keys('ctrl+e')
    window.says('A new issue')
    typed_into(window)
    window.type('Half a th')
    # A file with an ending is one that is being written.
    screen.until(lambda: any('Half a th' in path.read_text(encoding='utf-8') for path in (screen.folder / 'state').rglob('typed/*')
                             if not path.suffix), 'what is typed is kept beside the settings')
    window.crash()
    ok(issue(book) is None, 'a crash stores nothing half')

    window = Window(book, '--model', 'HF', '--page', 'issues')
    window.says('what was typed is kept')
    window.press('push button', name='Go On')
    window.says('is back in its fields')
    field = window.find('text', name='Title')
    ok('Half a th' in window.text_of(field), 'what was typed is back in its field', window.text_of(field))
    window.press('push button', name='Forget It')
    window.close()


if __name__ == '__main__':
    screen.run([walk_an_issue_from_raised_to_closed, walk_what_is_typed_is_not_lost])
