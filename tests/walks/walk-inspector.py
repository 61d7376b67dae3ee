#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""walk-inspector.py FETTLE FETTLE-BATCH: the inspector tallies 40 pieces by the digits, 6 of them lost, each with the issue that
took it, and puts the tally sheet into a PDF.

The fewest keys that this needs: one for each piece and one for each loss's issue; one for the file, whose name is proposed; one
each to reach the chooser of persons, the page and the papers. Every modifier that is held counts as a key."""
import subprocess

import walk_screen as screen
from walk_screen import CountedWindow, ok

FILES = {
    'person': 'initials,role\nLN,inspector\n',
    'model': 'code,name\nHF,Hawfinch\n',
    'bench': 'name\nGrinding bench\n',
    'step': 'model,position,name,kind,bench\nHF,10,Grind,own,Grinding bench\n',
    'round': 'model,label,kind,planned_units,opened\nHF,A,pilot,40,2026-11-20\n',
    'issue': 'model,no,title,class\nHF,1,Bevel uneven,function\nHF,2,Burr at the edge,appearance\n',
}
# In the order in which the pieces came: how many good before each loss, the key of what became of it, its issue and the key of
# that. The newest issue has the first key, and then what took most away.
LOSSES = [(7, '4', 'Burr', '7'), (5, '3', 'Burr', '7'), (6, '4', 'Bevel', '8'), (4, '3', 'Burr', '7'), (8, '4', 'Bevel', '8'),
          (3, '4', 'Burr', '7')]
AFTER = 1
PIECES = sum(good + 1 for good, *_ in LOSSES) + AFTER
UNNAMED = 'has no issue yet'


def shop_book():
    place = screen.folder / 'shop'
    place.mkdir()
    for record, text in FILES.items():
        (place / f'{record}.csv').write_text(text, encoding='utf-8')
    return screen.make_book('tallied', place)


def tap(window, keys, counted):
    window.keys(*keys)
    window.find('label', begins=f'{counted} piece')


def tally(window):
    window.keys('alt+shift+t')
    window.focus_is('push button', begins='Good')
    counted = 0
    for good, key, issue, digit in LOSSES:
        tap(window, ['1'] * good, counted + good)
        tap(window, [key], counted + good + 1)
        window.says(UNNAMED)
        window.keys(digit)
        window.says(issue)
        window.gone('label', holds=UNNAMED)
        counted += good + 1
    tap(window, ['1'] * AFTER, counted + AFTER)
    window.picture()


def save_the_sheet(window):
    window.keys('ctrl+shift+p')
    window.focus_is('menu item', begins='Build List')
    window.keys('Up')  # the last of the menu: the round's tally sheet as PDF
    screen.until(lambda: (window.focused_name('menu item') or '').startswith('Tally Sheet'), 'the keyboard at the last paper',
                 also=window.seen)
    window.picture()
    window.keys('Return')
    window.frame('Tally Sheet')
    window.picture()
    window.keys('Return')
    screen.until(lambda: window.id('Tally Sheet') is None, 'the end of the dialog', also=window.seen)
    window.frame()
    window.says('it is in')
    window.picture()


def walk_the_tally():
    book = shop_book()
    window = CountedWindow(book, '--model', 'HF', '--page', 'standing')
    window.find('list item', name='Standing')
    window.begin()
    window.keys('ctrl+p')
    window.focus_is('list item', begins='LN')
    window.keys('Return')
    window.find('push button', begins='LN writes')
    tally(window)
    save_the_sheet(window)
    window.count_against(PIECES + len(LOSSES) + 1 + 3, f'{PIECES} pieces, {len(LOSSES)} losses and the sheet')
    ok(window.pointings == 0, 'and the mouse is not needed')
    window.close()
    sheets = list(screen.folder.rglob('*.pdf'))
    ok(len(sheets) == 1 and sheets[0].read_bytes().startswith(b'%PDF'), 'the sheet is a PDF', sheets)
    text = subprocess.run(['pdftotext', sheets[0], '-'], capture_output=True, text=True, check=True).stdout
    ok(all(words in text for words in ('Tally Sheet', 'round A', '40 units', '10 Grind', 'Good first time')),
       'with its round, its step and lines to tick', text)
    screen.equals_kept(book, 'inspector')
    screen.batch('check', '--replay', '--book', book)


if __name__ == '__main__':
    screen.run([walk_the_tally])
