#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""walk-lead.py FETTLE FETTLE-BATCH: from an empty book the lead pastes the untidy sheet, says in the set-up what is about safety and
which part there is, and plans the next round; by keys alone, which are counted.

The fewest keys that this needs: what is typed, each value finished by one key; and one each to reach the chooser of persons, to
paste the sheet and to store it, to reach the set-up, the row of the lock, its form, the kind of the parts, the form of a new one, and
the plan of the round. Every modifier that is held counts as a key."""
import walk_screen as screen
from walk_screen import CountedWindow, ok

SHEET = screen.source / 'demo' / 'sheet.csv'
LOCK = 'LOCK-ENGAGEMENT'
NUMBER, NAME = 'hf-10', 'blade'
QUESTION = 'does the lever still stick with a larger radius at the ramp, now that the handle has room?'
UNITS = '12'
REACHED = 9


def paste_the_sheet(window, book):
    window.keys('ctrl+p')
    window.focus_is('text', begins='Initials')
    window.type('EH')
    window.keys('Return')
    window.find('push button', begins='EH writes')
    window.keys('ctrl+shift+v')
    window.says('Understood:')
    window.focus_is('text', begins='Model')
    window.keys('ctrl+Return')
    window.says('Stored as new: 8 units, 7 characteristics, 52 readings.')
    ok(len(screen.rows(book, 'reading')) == 52, 'the sheet is in the book')
    window.says('No safety criterion yet')


def complete_the_setup(window, book):
    window.keys('alt+shift+e')
    focused_row(window, 'Code: BLADE-HARDNESS')
    for _ in range(4):
        window.keys('Down')
    focused_row(window, f'Code: {LOCK}')
    window.keys('F2')
    window.focus_is('text', name='Code')
    window.keys(*['Tab'] * 5)
    screen.until(lambda: window.focused_name('push button') == 'Class: Function', 'the keyboard at the class', also=window.seen)
    window.type('s')
    window.keys('ctrl+Return')
    screen.until(lambda: screen.rows(book, 'characteristic', code=LOCK)[0]['class'] == 'safety', 'the class in the book', also=window.seen)
    ok(True, 'what is about safety is said')
    window.keys('F4')
    window.type('parts')
    window.keys('Return')
    screen.until(lambda: window.focused_name('push button') == 'Add', 'the keyboard at what adds the first part', also=window.seen)
    window.keys('Return')
    window.focus_is('text', name='Number')
    window.type(NUMBER)
    window.keys('Tab')
    window.type(NAME)
    window.keys('ctrl+Return')
    screen.until(lambda: screen.rows(book, 'part', number=NUMBER), 'the part in the book', also=window.seen)
    ok(True, 'and which part there is')


def focused_row(window, begins):
    screen.until(lambda: (window.focused_name('table') or '').startswith(begins), f'the keyboard at {begins}', also=window.seen)


def plan_the_round(window, book):
    window.keys('ctrl+b')
    window.focus_is('text', begins='Question')
    window.type(QUESTION)
    window.keys('shift+Tab')
    screen.until(lambda: any('Planned units' in (window.focused_name(role) or '') for role in ('text', 'spin button')), 'the keyboard at the units',
                 also=window.seen)
    window.type(UNITS)
    window.keys('ctrl+Return')
    planned = screen.until(lambda: screen.rows(book, 'round', question=QUESTION), 'the round in the book', also=window.seen)
    ok(planned[0]['label'] == 'P5' and planned[0]['planned_units'] == UNITS, 'the next round is planned after the last', planned)


def walk_an_empty_book():
    book = screen.make_book('lead')
    window = CountedWindow(book)
    window.find('push button', name='Paste a Measuring Sheet')
    screen.copy(SHEET.read_text(encoding='utf-8'))
    window.begin()
    paste_the_sheet(window, book)
    complete_the_setup(window, book)
    plan_the_round(window, book)
    window.count_against(screen.fewest(['EH', 's', NUMBER, NAME, QUESTION, UNITS], REACHED), 'the sheet, the set-up and the next round')
    ok(window.pointings == 0, 'and the mouse is not needed')
    window.close()
    screen.equals_kept(book, 'lead')
    screen.batch('check', '--replay', '--book', book)


if __name__ == '__main__':
    screen.run([walk_an_empty_book])
