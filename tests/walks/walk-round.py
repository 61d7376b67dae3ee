#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""walk-round.py FETTLE FETTLE-BATCH: the next round by keys alone: planned after the last one, what its units can show,
opened, and all of it taken back."""
import walk_screen as screen
from walk_screen import Window, ok


def round_of(book, label):
    found = screen.rows(book, 'round', model='HF', label=label)
    return found[0] if found else None


def walk_the_next_round():
    book = screen.demo_book('round')
    window = Window(book, '--model', 'HF', '--page', 'rounds')
    window.find('label', begins='6 rounds')
    window.keys('ctrl+b')
    window.find('push button', name='Plan the Round')
    window.focus_is('text', begins='Question')
    window.type('Is it ready now?')
    window.keys('ctrl+Return')
    screen.until(lambda: round_of(book, 'C') is not None, 'the round in the book')
    made = round_of(book, 'C')
    ok(made['question'] == 'Is it ready now?' and made['planned_units'] == '60' and made['kind'] == 'pilot',
       'two keys and a question plan the next round after the last', made)
    ok(len(screen.rows(book, 'round_part', model='HF', round='C')) == 6, 'with all that goes in')
    window.find('list item', begins='C, Pilot')
    window.keys('F4')
    screen.until(lambda: round_of(book, 'C')['opened'] != '', 'the day it was opened')
    ok(round_of(book, 'C')['design_fixed'] == '', 'F4 reaches one date, the next')
    window.keys('ctrl+z')
    screen.until(lambda: round_of(book, 'C')['opened'] == '', 'the day taken back')
    ok(True, 'Ctrl+Z takes the day back')
    window.keys('ctrl+z')
    screen.until(lambda: round_of(book, 'C') is None, 'the round taken back')
    ok(not screen.rows(book, 'round_part', model='HF', round='C'), 'and then the round with all that was planned')
    window.close()


if __name__ == '__main__':
    screen.run([walk_the_next_round])
