#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""walk-job.py FETTLE FETTLE-BATCH: walks through the program as a person with a keyboard and a screen reader does. After
each step the window is asked what it says, and the command line what the book holds."""
import walk_screen as screen
from walk_screen import Window, ok

SHEET = screen.source / 'demo' / 'sheet.csv'


def walk_from_a_sheet_to_the_failing_unit():
    """The main job: open, paste the untidy sheet, correct one head, store, find the failing unit, void, undo."""
    book = screen.demo_book('sheet')
    before = len(screen.rows(book, 'reading', model='HF'))
    ok(not screen.rows(book, 'unit', round='P4'), 'the book has no unit of the round on the sheet yet')

    window = Window(book, '--model', 'HF', '--page', 'standing')
    window.find('list item', name='Standing')
    screen.copy(SHEET.read_text(encoding='utf-8'))
    window.keys('ctrl+shift+v')
    understood = window.says('Understood:')
    ok('8 units' in understood and '52 readings' in understood, 'the pasted sheet is understood', understood)
    ok(window.text_of(window.find('text', begins='Model')) == 'Hawfinch', 'the model is read from the title')
    ok(window.text_of(window.find('text', name='column D, limits')) == '13 ±4', 'limits stand as people wrote them')

    # One head is corrected: another name, so that the book gets a characteristic of it, and another limit.
    window.retype(window.find('text', name='column C, name'), 'Side play of the blade')
    window.keys('Tab', 'Tab')
    window.focus_is('text', name='column C, limits')
    window.keys('ctrl+a')
    window.type('max 0,5o')
    window.keys('Tab')
    refusal = window.says('is no limit')
    ok('max 0,5o' in refusal, 'a limit that is none is named', refusal)
    window.press('push button', begins='Store')
    window.focus_is('text', name='column C, limits')
    ok(not screen.rows(book, 'unit', round='P4'), 'with a wrong limit nothing is stored, and its field has the keyboard')
    window.keys('ctrl+a')
    window.type('max 0,50')
    window.keys('Tab')
    window.gone('label', holds='is no limit')

    window.press('push button', begins='Store')
    stored = window.says('Stored as new')
    ok('8 units, 1 characteristic, 52 readings' in stored, 'the window says what was stored', stored)
    units = screen.rows(book, 'unit', model='HF', round='P4')
    ok(len(units) == 8, 'the units of the sheet are in the book', units)
    ok(len(screen.rows(book, 'reading', model='HF')) == before + 52, 'so are its readings')
    made = screen.rows(book, 'characteristic', model='HF', name='Side play of the blade')
    limits = screen.rows(book, 'limit', model='HF', characteristic=made[0]['code']) if made else []
    ok(len(limits) == 1 and float(limits[0]['upper']) == 0.5, 'the corrected head is in the book', f'{made} {limits}')
    ok(len(screen.rows(book, 'limit', model='HF', characteristic='SP')) == 1, 'the limits that the book has stay')

    # The unit that opens too hard: the search leads to its readings, the table to the one that fails.
    window.frame()
    window.keys('ctrl+f')
    window.type('P4-06')
    window.find('list item', holds='P4-06')
    window.keys('Return')
    window.find('table', begins='P4-06')
    window.choose('Characteristic', 'Opening force')
    window.find('label', name='Opening force')
    said = window.find('table', begins='P4-').name
    while not said.startswith('P4-06'):
        window.keys('Down')
        said = screen.until(lambda last=said: (now := window.find('table', begins='P4-').name) != last and now, 'the next row')
    ok('17.6 N' in said and 'outside' in said, 'the table says which unit fails, its value and that it is outside', said)

    # Voided with a reason, by a person who is chosen when it is wanted.
    window.keys('ctrl+d')
    window.find('list item', begins='LN')
    window.walk_down_to('list item', begins='LN')
    window.keys('Return')
    window.find('push button', name='LN writes')
    window.focus_is('text', name='Reason for voiding')
    window.type('gauge not zeroed')
    window.keys('Return')
    said = screen.until(lambda: (node := window.look('table', begins='P4-06')) and 'voided' in node.name and node.name,
                        'the table says voided', also=window.seen)
    ok('voided' in said, 'the window says that the reading is voided', said)
    void = screen.rows(book, 'reading', model='HF', unit='P4-06', characteristic='OF')
    ok(len(void) == 1 and void[0]['voided'] == 'yes' and void[0]['reason'] == 'gauge not zeroed',
       'the book has the void and its reason', void)
    last = screen.last_action(book)
    ok(last['person'] == 'LN' and any(line['field'] == 'reason' and line['after'] == 'gauge not zeroed' for line in last['lines']),
       'the journal has who voided it and why', last)

    window.keys('ctrl+z')
    said = screen.until(lambda: (node := window.look('table', begins='P4-06')) and 'outside' in node.name and node.name,
                        'the table says outside again', also=window.seen)
    void = screen.rows(book, 'reading', model='HF', unit='P4-06', characteristic='OF')
    ok(len(void) == 1 and void[0]['voided'] == 'no' and float(void[0]['value']) == 17.6, 'undo brings the reading back', void)
    ok('Taken back' in window.says('Taken back'), 'the window says what was taken back')
    window.close()
    ok(not (book.parent / f'{book.name}-wal').exists(), 'one file is left')
    screen.batch('check', '--replay', '--book', book)
    ok(True, 'the journal replays to the same book')


if __name__ == '__main__':
    screen.run([walk_from_a_sheet_to_the_failing_unit])
