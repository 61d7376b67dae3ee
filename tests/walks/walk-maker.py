#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""walk-maker.py FETTLE FETTLE-BATCH: the maker measures 6 units at 8 characteristics in the grid, voids a value that was read
at the wrong unit, and raises an issue with its photograph.

The fewest keys that this needs: each character of each value, of the reason and of the title, and one key to finish each; one to
choose the issue's class and one to finish it; one to paste the photograph; one each to reach the chooser of persons, the grid, the
cell, the form of the reason and that of the issue. Every modifier that is held counts as a key."""
import csv
import shutil

import walk_screen as screen
from walk_screen import CountedWindow, ok

SERIALS = [f'A-{n:02}' for n in range(1, 7)]
# Code, name, unit, decimals, lower and upper limit, the six values in the order of the serials.
MEASURED = [
    ('BL', 'Blade length', 'mm', 2, '99.8', '100.2', ['100.02', '99.96', '100.11', '99.91', '100.05', '99.98']),
    ('BT', 'Blade thickness', 'mm', 2, '3.15', '3.25', ['3.21', '3.19', '3.22', '3.18', '3.2', '3.23']),
    ('CF', 'Closing force', 'N', 1, '6', '14', ['9.8', '11.2', '10.4', '8.7', '12.1', '9.3']),
    ('EA', 'Edge angle', 'deg', 1, '18', '22', ['20.3', '19.8', '20.9', '19.4', '20.1', '21.2']),
    ('HR', 'Hardness', 'HRC', 1, '58', '61', ['59.4', '59.8', '60.1', '59.2', '60.4', '59.7']),
    ('OF', 'Opening force', 'N', 1, '12', '22', ['16.3', '18.1', '15.2', '17.7', '16.9', '19.4']),
    ('SP', 'Side play', 'mm', 2, '0.02', '0.1', ['0.05', '0.07', '0.04', '0.06', '0.08', '0.05']),
    ('WT', 'Weight', 'g', 1, '110', '122', ['115.2', '116.8', '114.9', '117.3', '116.1', '115.7']),
]
REASON = 'read at A-05'
TITLE = 'Lever scratches the liner'
PHOTO = screen.folder / 'lever.png'
FILES = {
    'person': 'initials,role\nTK,maker\n',
    'model': 'code,name\nHF,Hawfinch\n',
    'round': 'model,label,kind,opened\nHF,A,prototype,2026-11-16\n',
    'characteristic': 'model,code,name,kind,unit,decimals,class,shape\n' + ''.join(
        f'HF,{code},{name},measured,{unit},{decimals},function,normal\n' for code, name, unit, decimals, *_ in MEASURED),
    'limit': 'model,characteristic,from_date,lower,upper\n' + ''.join(
        f'HF,{code},2026-11-01,{lower},{upper}\n' for code, _, _, _, lower, upper, _ in MEASURED),
    'unit': 'model,round,serial\n' + ''.join(f'HF,A,{serial}\n' for serial in SERIALS),
}


def shop_book():
    place = screen.folder / 'shop'
    place.mkdir()
    for record, text in FILES.items():
        (place / f'{record}.csv').write_text(text, encoding='utf-8')
    with open(screen.source / 'demo' / 'data' / 'attachment.csv', newline='', encoding='utf-8') as file:
        photo = next(row for row in csv.DictReader(file) if row['kind'] == 'photograph')
    shutil.copy(screen.source / 'demo' / 'data' / 'files' / photo['sha256'], PHOTO)
    return screen.make_book('measured', place)


def choose_who_writes(window):
    window.keys('ctrl+p')
    window.focus_is('list item', begins='TK')
    window.keys('Return')
    window.find('push button', begins='TK writes')


def fill_the_grid(window):
    window.keys('alt+shift+r')
    window.focus_is('table', begins='A-01, ')
    window.picture()
    for code, *_, values in MEASURED:
        for serial, value in zip(SERIALS, values):
            window.type(value)
            window.keys('Return')
        window.picture()
    window.says('Nothing is missing')


def void_one(window, book):
    window.focus_is('table', begins='A-06')
    window.keys('Up', 'Delete')
    window.focus_is('text', begins='Reason for voiding')
    window.picture()
    window.type(REASON)
    window.keys('Return')
    window.focus_is('table', begins='A-05')
    screen.until(lambda: screen.rows(book, 'reading', voided='yes'), 'the voided reading', also=window.seen)


def raise_the_issue(window, book):
    screen.copy_file(PHOTO)
    window.keys('ctrl+e')
    window.focus_is('text', begins='Title')
    window.picture()
    window.type(TITLE)
    window.keys('Tab')
    window.focus_is(name='Class: choose')
    window.keys('f')
    window.focus_is(name='Class: Function')
    window.keys('ctrl+Return')
    window.focus_is('list item', holds=TITLE)
    window.picture()
    window.keys('ctrl+v')
    window.find(holds=PHOTO.stem)
    screen.until(lambda: screen.rows(book, 'attachment', name=PHOTO.name), 'the photograph in the book', also=window.seen)
    window.picture()


def walk_the_maker():
    book = shop_book()
    window = CountedWindow(book, '--model', 'HF', '--page', 'standing')
    window.find('list item', name='Standing')
    window.begin()
    choose_who_writes(window)
    fill_the_grid(window)
    void_one(window, book)
    raise_the_issue(window, book)

    values = [value for *_, column in MEASURED for value in column]
    window.count_against(screen.fewest([*values, REASON, TITLE, '1', '1'], reached=5), '48 readings, a void and an issue')
    ok(window.pointings == 0, 'and the mouse is not needed')
    window.close()
    readings = {(row['characteristic'], row['unit']): row['value'] for row in screen.rows(book, 'reading')}
    wanted = {(code, serial): value for code, *_, column in MEASURED for serial, value in zip(SERIALS, column)}
    ok(readings.keys() == wanted.keys() and all(float(readings[at]) == float(wanted[at]) for at in wanted),
       'each value stands at its unit and characteristic', readings)
    screen.equals_kept(book, 'maker')
    screen.batch('check', '--replay', '--book', book)


if __name__ == '__main__':
    screen.run([walk_the_maker])
