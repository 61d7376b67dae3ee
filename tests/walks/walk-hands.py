#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""walk-hands.py FETTLE FETTLE-BATCH: short walks: a cell by keyboard, rounds by keyboard, wrong files, a name for every
control, and nothing typed is lost, whatever happens meanwhile."""
import re

import pyatspi

import walk_screen as screen
from walk_screen import Window, ok

INPUTS = ('text', 'entry', 'push button', 'toggle button', 'combo box', 'check box', 'spin button', 'list', 'table', 'image',
          'page tab', 'slider', 'radio button', 'password text')


def value_of(book, unit, characteristic='OF'):
    found = screen.rows(book, 'reading', model='HF', unit=unit, characteristic=characteristic, attempt='1', n='1')
    return float(found[0]['value']) if len(found) == 1 and found[0]['value'] else None


def open_readings(book, unit, characteristic='Opening force', **more):
    """The Readings page with the keyboard in the table, on one unit."""
    window = Window(book, '--model', 'HF', '--page', 'readings', **more)
    window.find('table', begins='B-')
    window.choose('Characteristic', characteristic)
    window.find('label', begins=characteristic)
    window.keys('ctrl+f')
    window.type(unit)
    window.find('list item', holds=unit)
    window.keys('Return')
    window.focus_is('table', begins=unit)
    return window


def walk_a_cell_by_keyboard():
    book = screen.demo_book('cell')
    before = value_of(book, 'B-05')
    window = open_readings(book, 'B-05')
    said = window.find('table', begins='B-05').name
    ok(f'{before:.1f} N' in said, 'the table tells the reading', said)

    window.type('12,7x')
    window.keys('Return')
    refused = window.find('label', holds='12,7x').name
    ok(window.text_of(window.find('text', begins='B-05')) == '12,7x', 'a wrong number stays in its cell')
    ok(value_of(book, 'B-05') == before, 'and not in the book', refused)
    window.keys('BackSpace', 'Return')
    window.focus_is('text', begins='B-06')
    screen.until(lambda: value_of(book, 'B-05') == 12.7, 'the value in the book')
    ok(True, 'Enter stores it in the book, and the next cell is typed into')
    window.keys('Escape')
    window.focus_is('table', begins='B-06')
    window.keys('Up')
    window.find('table', begins='B-05, Opening force: 12.7 N')
    ok(True, 'the window shows what the book has')

    window.keys('ctrl+z')
    window.says('Taken back')
    ok(value_of(book, 'B-05') == before, 'Ctrl+Z takes it back in the book')
    window.find('table', begins=f'B-05, Opening force: {before:.1f} N')
    window.keys('ctrl+shift+z')
    window.says('Done again')
    ok(value_of(book, 'B-05') == 12.7, 'Ctrl+Shift+Z stores it again')
    window.find('table', begins='B-05, Opening force: 12.7 N')

    # While something stands in the cell, Ctrl+Z is about the typing, not about the book.
    window.type('99')
    window.focus_is('text', begins='B-05')
    window.keys('ctrl+z')
    screen.until(lambda: window.text_of(window.find('text', begins='B-05')) != '99', 'the typing taken back')
    ok(value_of(book, 'B-05') == 12.7, 'Ctrl+Z in a cell takes back typing')
    window.keys('Escape')
    window.focus_is('table', begins='B-05')
    window.close()
    ok(value_of(book, 'B-05') == 12.7, 'Escape stores nothing')


def walk_rounds_by_keyboard():
    book = screen.demo_book('rounds')
    window = Window(book, '--model', 'HF', '--page', 'standing')
    window.find('image', begins='Rounds, one chosen: B')
    window.says('Through round B')
    window.keys('ctrl+r')
    window.focus_is('image', begins='Rounds')
    window.keys('Left')
    window.find('image', begins='Rounds, one chosen: A')
    said = window.says('Through round A')
    met = [c for c in screen.standing(book, 'HF', '--through', 'A')['criteria'] if c['state'] == 'met']
    headline = window.find('label', holds=' met').name
    ok(headline.startswith(f'{len(met)} of'), 'the window counts what the command line counts', f'{headline} {len(met)} {said}')
    window.keys('alt+2')
    window.find('table', begins='A-')
    window.says('40 readings')
    window.keys('ctrl+r')
    window.focus_is('image', begins='Rounds')
    window.keys('shift+Left')
    window.says('50 readings')
    ok(True, 'a span of two rounds shows the readings of both')
    window.keys('End')
    window.says('60 readings')
    ok(True, 'End goes to the newest round')
    window.close()


def walk_wrong_files():
    letter = screen.folder / 'letter.fettle'
    letter.write_text('Dear reader, this is no book.\n' * 200, encoding='utf-8')
    window = Window(letter)
    said = window.find('status bar').name
    ok('letter' in said and said.endswith('.'), 'a file that is no book gets one sentence', said)
    window.find('push button', name='Open Another…')
    window.close()
    ok(letter.read_text(encoding='utf-8').startswith('Dear reader'), 'and is not touched')

    book = screen.demo_book('wrong')
    before = screen.last_action(book)['key']
    picture = screen.folder / 'photo.csv'
    picture.write_bytes(bytes(range(256)) * 20)
    units = screen.folder / 'unit.csv'
    units.write_text('model,round,serial\nHF,Z9,Z9-01\n', encoding='utf-8')
    window = Window(book, '--model', 'HF', '--page', 'standing')
    window.says('Through round')
    import_file(window, units)
    window.find('push button', name='Refused 1')
    said = window.find('label', holds="'HF/Z9'").name
    ok('\n' not in said, 'a row that refers to what is not there is refused in one sentence that names it', said)
    window.press('push button', name='Put Away')
    import_file(window, picture)
    said = screen.until(lambda: (node := window.look('status bar')) and 'being read' not in node.name and node.name,
                        'a sentence about the picture', also=window.seen)
    ok(picture.name in said and '\n' not in said, f'{picture.name} gets one sentence that names it', said)
    close = window.look('push button', name='Close the message')
    close.queryAction().doAction(0)
    window.gone('status bar')
    ok(screen.last_action(book)['key'] == before, 'nothing of them was stored')
    window.close()


def import_file(window, path):
    """Through the dialog, by keys: its entry opens when a path is typed."""
    window.frame()
    window.keys('ctrl+i')
    window.frame('Import')
    window.find('label', name='Cancel')
    window.type(str(path))
    window.keys('Return')
    screen.until(lambda: window.id('Import') is None, 'the dialog to close', also=window.seen) # it stays open when the keyboard is taken away
    window.frame()
    window.app = window.find_app() # a window that came and went leaves the client's picture of the program behind


def walk_names():
    book = screen.demo_book('names')
    window = Window(book, '--model', 'HF', '--page', 'standing')
    window.says('Through round')
    check_names(window, 'Standing')
    window.keys('alt+2')
    window.find('table', begins='B-')
    window.keys('F2')
    window.press('push button', name='Correct')
    window.find('text', begins='B-')
    check_names(window, 'Readings')
    window.keys('Escape')
    window.keys('ctrl+p')
    window.find('text', name='Initials of a person who is not in the list')
    check_names(window, 'the choice of person')
    window.keys('Escape')
    screen.copy((screen.source / 'demo' / 'sheet.csv').read_text(encoding='utf-8'))
    window.keys('ctrl+shift+v')
    window.says('Understood:')
    check_names(window, 'the measuring sheet')
    window.close()
    window = Window()
    window.find('push button', begins='New')
    check_names(window, 'the first page')
    window.close()


def check_names(window, page):
    """Every control says what it is: GTK falls back to the name of a type, which says nothing."""
    inputs = [(node.getRoleName(), node.name) for node, _ in window.nodes() if node.getRoleName() in INPUTS]
    # Inside a list GTK 4.8 shows pictures and an unnamed list of its own; neither can be named from outside.
    mute = [(role, name) for role, name in inputs if re.match('^Gtk|^Fettle|^$', name)
            and not (role == 'image' and name == 'GtkImage') and not (role == 'list' and name == 'GtkListView')]
    ok(len(inputs) > 4 and not mute, f'{page}: each of its controls has a name', f'{len(inputs)} inputs; without a name: {mute}')


def walk_typing_while_others_write():
    """Rows come before the cell that is typed into: what is typed stays, and goes to the reading that was meant."""
    book = screen.demo_book('others')
    window = open_readings(book, 'B-05')
    window.type('12.9')
    window.focus_is('text', begins='B-05')
    more = screen.folder / 'reading.csv'
    more.write_text('model,round,unit,characteristic,attempt,n,value,taken,person\n'
                    'HF,B,B-01,OF,2,1,11.1,2026-11-24,LN\nHF,B,B-02,OF,2,1,11.2,2026-11-24,LN\n', encoding='utf-8')
    screen.batch('import', more, '--book', book)
    window.says('63 readings')
    ok(window.text_of(window.find('text', begins='B-05')) == '12.9', 'a refresh leaves the cell that is typed into alone')
    window.keys('Return')
    screen.until(lambda: value_of(book, 'B-05') == 12.9, 'the value in the book')
    ok(value_of(book, 'B-05') == 12.9, 'it is stored for the unit that was meant')
    ok(value_of(book, 'B-03') != 12.9 and value_of(book, 'B-04') != 12.9, 'and for no other')
    window.close()


def walk_typed_and_lost_from_view():
    """Another page, another round, a power cut: what is typed comes back."""
    book = screen.demo_book('kept')
    window = open_readings(book, 'B-05')
    window.type('13.')
    window.keys('x')
    window.focus_is('text', begins='B-05')
    window.keys('alt+1')
    window.says('Through round')
    window.keys('alt+2')
    cell = window.find('text', begins='B-05')
    ok(window.text_of(cell) == '13.x', 'a wrong number is still in its cell after another page', window.text_of(cell))
    window.keys('ctrl+r')
    window.focus_is('image', begins='Rounds')
    window.keys('Left')
    window.says('40 readings')
    ok('kept' in window.find('status bar').name, 'it is said that it is kept when its row goes away')
    window.keys('End')
    window.says('61 readings')
    window.keys('Tab')
    window.crash()

    window = Window(book, '--model', 'HF', '--page', 'readings')
    window.focus_is('text', begins='B-05')
    cell = window.find('text', begins='B-05')
    ok(window.text_of(cell) == '13.x', 'after a crash it is back in its cell', window.text_of(cell))
    window.keys('BackSpace')
    window.type('1')
    window.keys('Return')
    screen.until(lambda: value_of(book, 'B-05') == 13.1, 'the value in the book')
    ok(True, 'and can be stored')
    window.close()
    ok(not list((screen.folder / 'state' / 'fettle' / 'typed').glob('*')), 'nothing is kept once it is stored')


if __name__ == '__main__':
    screen.run([walk_a_cell_by_keyboard, walk_rounds_by_keyboard, walk_wrong_files, walk_names,
                walk_typing_while_others_write, walk_typed_and_lost_from_view])
