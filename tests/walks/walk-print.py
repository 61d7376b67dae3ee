#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""walk-print.py WINDOW BATCH: somebody prints the measuring sheet of the round that is being filled in, by keys alone, through
the dialog of GTK and its printer that is a file; and leaves that dialog again without printing. In the long run only, since it
holds a dialog that is not ours and depends on what printers the machine has."""
import subprocess

import walk_screen as screen
from walk_screen import Window, ok


def ask(window):
    """The paper of the round in view: its menu by its key, down to the sheet, and the dialog."""
    window.keys('ctrl+shift+p')
    window.focus_is('menu item', begins='Build List')
    window.walk_down_to('menu item', begins='Measuring Sheet')
    window.keys('Return')
    window.frame('^Print$')
    window.find('label', name='Print to File')


def is_back(window):
    """The dialog is gone and the keyboard at the cell that had it."""
    screen.until(lambda: window.id('^Print$') is None, 'the end of the dialog', also=window.seen)
    window.frame()
    window.focus_is('table', begins='B-01')


def choose_file(window):
    """By Tab to the list of printers, which here holds the file alone."""
    def has_row():
        window.keys('Tab')
        return window.focused_name('table row') is not None
    screen.until(has_row, 'the keyboard at the list of printers', also=window.seen)
    window.keys('space')


def walk_print():
    book = screen.demo_book('sheet')
    window = Window(book, '--model', 'HF', '--page', 'standing')
    window.says('Through round')
    window.keys('alt+shift+r')
    window.focus_is('table', begins='B-01')
    before = screen.last_action(book)['key']

    ask(window)
    window.keys('Escape')
    is_back(window)
    ok(True, 'Escape leaves the dialog, and the keyboard is in the grid again')
    ok(not list(screen.folder.rglob('output.pdf')), 'nothing is printed then')

    ask(window)
    choose_file(window)
    window.keys('alt+p')
    printed = screen.until(lambda: list(screen.folder.rglob('output.pdf')), 'the printed file', also=window.seen)[0]
    screen.until(lambda: printed.read_bytes().rstrip().endswith(b'%%EOF'), 'its end', also=window.seen)
    is_back(window)
    text = subprocess.run(['pdftotext', '-layout', printed, '-'], capture_output=True, text=True, check=True).stdout
    ok('B-01' in text and 'B-60' in text and 'BC' in text, 'the sheet that is printed has the units and characteristics of the round', text)
    ok(screen.last_action(book)['key'] == before, 'and the book is as it was')
    window.close()


screen.run([walk_print])
