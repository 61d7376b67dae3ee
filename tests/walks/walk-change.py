#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""walk-change.py FETTLE FETTLE-BATCH: the lead writes down a change that the designer mailed, with its drawing, agrees to
it and puts it into the next round. Every key that is pressed is counted, each modifier as a key of its own, and every
pointing: at 0.28 s a key (an average typist) and 1.1 s a pointing it has to stay below a minute of keys (keystroke-level
model, Card, Moran and Newell 1980, from memory)."""
import csv
import shutil

import pyatspi

import walk_screen as screen
from walk_screen import CountedWindow, ok

KEY = 0.28      # seconds
POINTING = 1.1  # seconds
MOST = 60       # seconds
DRAWING = screen.folder / 'lever-D-marked.png'


class TimedWindow(CountedWindow):
    """A window whose keys and pointings are weighed in seconds."""

    def focus_in_row(self, begins):
        """Waits until something inside an opened row has the keyboard."""
        return screen.until(lambda: next((node for node, _ in self.nodes() if node.name.startswith(begins)
                                          and node.getState().contains(pyatspi.STATE_FOCUSED)), None),
                            f'the keyboard at {begins}', also=self.seen)

    def seconds(self):
        return self.presses * KEY + self.pointings * POINTING


def planned_book(name):
    """The demo with a round that is opened and of which nothing is built."""
    book = screen.demo_book(name)
    more = screen.folder / f'{name}-round'
    more.mkdir()
    (more / 'round.csv').write_text('model,label,kind,question,planned_units,opened\n'
                                    'HF,C,pilot,Does the lever stick no more?,60,2026-11-23\n', encoding='utf-8')
    screen.batch('import', more / 'round.csv', '--book', book)
    return book


def open_window(book, page):
    """A sitting of the lead: who writes is chosen once, before."""
    window = TimedWindow(book, '--model', 'HF', '--page', page)
    window.find('list item', name='Standing')
    window.keys('ctrl+p')
    window.find('list item', begins='EH')
    window.walk_down_to('list item', begins='EH')
    window.keys('Return')
    window.find('push button', begins='EH writes')
    return window


def copy_drawing():
    """What a mail program or a folder does when a file is copied: the demo's marked-up drawing under another name."""
    with open(screen.source / 'demo' / 'data' / 'attachment.csv', newline='', encoding='utf-8') as file:
        digest = next(row['sha256'] for row in csv.DictReader(file) if row['owner_record'] == 'change')
    shutil.copy(screen.source / 'demo' / 'data' / 'files' / digest, DRAWING)
    screen.copy_file(DRAWING)


def pick(window, begins, typed):
    """A reference has the keyboard: letters search, Return takes the first."""
    window.focus_is('push button', begins=begins)
    window.type(typed[0])
    window.focus_is('text', begins='Find: ')
    window.type(typed[1:])
    window.find('list item', holds=typed)
    window.keys('Return')


def walk_the_change_that_the_designer_mailed():
    book = planned_book('mailed')
    window = open_window(book, 'standing')
    copy_drawing()
    before = len(screen.rows(book, 'change', model='HF'))

    window.begin()
    window.keys('ctrl+g')
    window.focus_is('text', begins='Title')
    window.type('Ramp radius 0.8 mm')
    window.keys('Tab')
    pick(window, 'Proposed by: ', 'RB')
    window.focus_is('push button', begins='Proposed by: RB')
    window.keys('Tab')
    window.focus_is('text', begins='Proposed on')
    window.keys('Down')  # yesterday
    window.keys('Tab')
    pick(window, 'Issue: ', 'stick')
    window.focus_is('push button', begins='Issue: ')
    window.keys('Tab', 'Tab')  # past the room for another issue
    window.keys('space')
    window.focus_is('entry', name='Find in the list')
    window.type('lever')
    window.keys('Down', 'Return')
    window.find('combo box', begins='What is changed')
    window.keys('Tab')
    window.focus_is('text', begins='New')
    ok(window.text_of(window.find('text', begins='New')) == 'E', 'the label after the one that is fitted is proposed')
    ok(window.look('label', name='D') is not None, 'the old revision is filled in from the book')
    window.keys('Tab')
    window.focus_is('text', begins='In words')
    window.type('radius 0.8 mm')
    window.keys('Tab', 'Tab')
    window.type('Two in sixty still stick.')
    window.keys('ctrl+v')
    window.says(DRAWING.name)
    window.keys('ctrl+Return')
    window.focus_is('list item', holds='proposed: Ramp radius 0.8 mm')
    told = window.find(holds='Lever sticks is measured again').name
    ok('60 units no longer count' in told, 'what is measured again is listed before anybody agrees', told)

    window.keys('F4')
    window.focus_in_row('From round: C')
    window.keys('ctrl+Return')
    window.focus_is('list item', holds='agreed: Ramp radius 0.8 mm')
    window.keys('F5')
    window.focus_is('list item', holds='carried out: Ramp radius 0.8 mm')
    seconds = window.seconds()
    print(f'# {window.presses} keys, {window.pointings} pointings: {seconds:.1f} s of keys', file=screen.results)
    ok(seconds < MOST, f'it takes less than {MOST} s of keys', f'{window.presses} keys, {window.pointings} pointings: {seconds:.1f} s')
    ok(window.pointings == 0, 'and the mouse is not needed')

    changes = screen.rows(book, 'change', model='HF', title='Ramp radius 0.8 mm')
    ok(len(changes) == 1 and len(screen.rows(book, 'change', model='HF')) == before + 1, 'one change is in the book', changes)
    change = changes[0]
    told = {field: change[field] for field in ('proposed_by', 'proposed_on', 'entered_by', 'agreed_by', 'agreed_on', 'from_round', 'carried_out')}
    ok(told == {'proposed_by': 'RB', 'proposed_on': '2026-11-24', 'entered_by': 'EH', 'agreed_by': 'EH', 'agreed_on': '2026-11-25',
                'from_round': 'C', 'carried_out': '2026-11-25'}, 'with who proposed, who wrote it down, who agreed, and from when', told)
    items = screen.rows(book, 'change_item', model='HF', change=change['no'])
    ok([(i['part'], i['old_revision'], i['new_revision'], i['new']) for i in items] == [('HF-20', 'D', 'E', 'radius 0.8 mm')],
       'the item leads from the old revision to the new one', items)
    ok([i['issue'] for i in screen.rows(book, 'change_issue', model='HF', change=change['no'])] == ['2'], 'and answers the issue',
       screen.rows(book, 'change_issue', model='HF', change=change['no']))
    ok(len(screen.rows(book, 'revision', part='HF-20', label='E')) == 1, 'carrying it out wrote the new revision')
    plan = screen.rows(book, 'round_part', model='HF', round='C', part='HF-20')
    ok([row['revision'] for row in plan] == ['E'], 'and put it into the plan of the next round', plan)
    files = screen.rows(book, 'attachment', owner_record='change', owner=f"HF/{change['no']}")
    ok([file['name'] for file in files] == [DRAWING.name], 'the drawing is attached', files)

    window.keys('ctrl+z')
    window.focus_is('list item', holds='agreed: Ramp radius 0.8 mm')
    ok(not screen.rows(book, 'round_part', model='HF', round='C', part='HF-20'), 'Ctrl+Z takes the carrying out back')
    window.keys('ctrl+z')
    window.focus_is('list item', holds='proposed: Ramp radius 0.8 mm')
    window.keys('ctrl+z')
    screen.until(lambda: len(screen.rows(book, 'change', model='HF')) == before, 'the change taken back')
    ok(not screen.rows(book, 'attachment', owner_record='change', owner=f"HF/{change['no']}"), 'and once more the change with its drawing')
    window.close()


def walk_to_the_form_from_any_page():
    book = planned_book('pages')
    window = open_window(book, 'standing')
    pages = [node.name for node, _ in window.nodes() if node.getRoleName() == 'list item' and node.name in (
        'Standing', 'Readings', 'Issues', 'Changes', 'Compare', 'History')]
    ok(len(pages) >= 5, 'there are pages to come from', pages)
    for number, page in enumerate(('Standing', 'Readings', 'Issues', 'Changes', 'Compare', 'History'), 1):
        if page not in pages:
            continue
        window.keys(f'alt+{number}')
        window.find('list item', name=page)
        window.keys('ctrl+g')
        window.focus_is('text', begins='Title')
        ok(True, f'from {page} one key leads to a new change')
        window.keys('Escape')
        window.focus_is('push button', name='Propose a Change')
    window.close()


def walk_names_of_the_form():
    """Every control of the form and of the deeds says what it is."""
    book = planned_book('form')
    window = open_window(book, 'changes')
    window.keys('ctrl+g')
    window.focus_is('text', begins='Title')
    mute = [(node.getRoleName(), node.name) for node, _ in window.nodes(('combo box', 'list item'))
            if node.getRoleName() in ('text', 'entry', 'push button', 'toggle button', 'combo box', 'check box')
            and (not node.name or node.name.startswith(('Gtk', 'Fettle')))]
    ok(not mute, 'each control of the form has a name', mute)
    ok(any(node.getState().contains(pyatspi.STATE_FOCUSED) for node, _ in window.nodes()), 'and one has the keyboard')
    window.close()


if __name__ == '__main__':
    screen.run([walk_the_change_that_the_designer_mailed, walk_to_the_form_from_any_page, walk_names_of_the_form])
