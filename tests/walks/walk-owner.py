#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""walk-owner.py FETTLE FETTLE-BATCH: the owner opens the book, sees why the model is not ready and which units failed, decides a
release with two conditions, and saves the pack; by keys alone, which are counted.

The fewest keys that this needs: the conditions and a letter for the verdict, each finished by one key; and one each to reach the
page, the units of a criterion and back, to write instead of reading, for the form of the decision, for the pack, and for the file
and its name, which is proposed."""
import subprocess

import walk_screen as screen
from walk_screen import CountedWindow, ok


CONDITIONS = ['Test 18 more units of round B; EH; 2026-12-18', 'Springs of a third lot on 20 units; LN; 2027-01-15']
REACHED = 8


def verdict_is(window, words):
    """Waits until the choice of the verdict has the keyboard and shows that."""
    screen.until(lambda: window.focused_name('push button') == f'Verdict: {words}', f'the verdict {words}', also=window.seen)


def walk_the_decision():
    book = screen.demo_book('owner')
    window = CountedWindow(book, '--model', 'HF', '--page', 'standing', '--as', 'MO')
    window.find('list item', name='Standing')
    window.begin()
    window.keys('alt+shift+d')
    ok(window.find('label', begins='Release: ').name == 'Release: not ready. 16 of 23 criteria are met.',
       'the owner is told that it is not ready')
    window.says('3 criteria block: C2, C8, C15.')
    window.focus_is('list item', begins='◐, criterion C2 ')
    window.keys('Down')
    window.focus_is('list item', begins='◐, criterion C8 ')
    window.keys('Return')
    window.find(name='B/B-17')
    ok(True, 'a blocking criterion leads to the units that fail')
    window.keys('alt+Left')
    window.focus_is('list item', begins='◐, criterion C8 ')
    ok(True, 'and back')
    window.keys('F9')
    window.find('push button', begins='MO writes')
    window.keys('F7')
    verdict_is(window, 'none')
    window.type('rrr')
    verdict_is(window, 'Release with conditions')
    window.keys('Tab', 'Tab')
    window.focus_is('text', begins='Conditions')
    window.type(CONDITIONS[0])
    window.keys('Return')
    window.type(CONDITIONS[1])
    window.keys('ctrl+Return')
    decided = screen.until(lambda: screen.rows(book, 'decision', model='HF'), 'the decision in the book', also=window.seen)
    todos = [(row['what'], row['person'], row['due']) for row in screen.rows(book, 'todo') if row['about_record'] == 'decision' and row['about'].startswith('HF/')]
    ok(len(decided) == 1 and decided[0]['verdict'] == 'release with conditions' and decided[0]['person'] == 'MO', 'the owner decides', decided)
    ok(todos == [tuple(line.split('; ')) for line in CONDITIONS], 'each condition is something to do, with a person and a day', todos)
    window.find(holds='Release with conditions')
    window.keys('ctrl+shift+d')
    window.says('as they will be printed')
    window.picture()
    window.keys('F3')
    window.frame('Decision Pack')
    window.picture()
    window.keys('Return')
    screen.until(lambda: window.id('Decision Pack') is None, 'the end of the dialog', also=window.seen)
    window.frame()
    window.says('it is in')
    window.picture()
    window.count_against(screen.fewest(['r', *CONDITIONS], REACHED), 'what blocks, the decision with two conditions, and the pack')
    ok(window.pointings == 0, 'and the mouse is not needed')
    window.close()
    packs = list(screen.folder.rglob('*.pdf'))
    ok(len(packs) == 1 and packs[0].read_bytes().startswith(b'%PDF'), 'the pack is a PDF', packs)
    text = ' '.join(subprocess.run(['pdftotext', packs[0], '-'], capture_output=True, text=True, check=True).stdout.split())
    wanted = ['3 criteria block: C2, C8, C15', 'not a safety certificate', *(line.split('; ')[0] for line in CONDITIONS)]
    ok(all(words in text for words in wanted), 'with what blocks, the caution and the conditions', [words for words in wanted if words not in text])
    screen.batch('check', '--replay', '--book', book)
    ok(True, 'and the journal replays to the same book')


if __name__ == '__main__':
    screen.run([walk_the_decision])
