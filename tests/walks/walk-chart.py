#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""walk-chart.py FETTLE FETTLE-BATCH: charts by keys and by ear: the summary, the marks, the table cell by cell, marks
chosen and what their units have in common."""
import pyatspi

import walk_screen as screen
from walk_screen import Window, ok


def focused(window):
    """What has the keyboard: the innermost, should several say so."""
    found = [node for node, _ in window.nodes() if node.getState().contains(pyatspi.STATE_FOCUSED)]
    return found[-1] if found else None


def tab_to(window, role, name):
    """Presses Tab, each time waiting until the keyboard is somewhere else, until it is at a node of that role and name."""
    trail = []
    for _ in range(40):
        now = screen.until(lambda: focused(window), 'something with the keyboard', also=window.seen)
        trail.append((now.getRoleName(), now.name))
        if now.getRoleName() == role and now.name.startswith(name):
            return now
        before = (now.getRoleName(), now.name, now.getIndexInParent())
        window.keys('Tab')
        try:
            screen.until(lambda: focused(window) is not None and (focused(window).getRoleName(), focused(window).name,
                                                                  focused(window).getIndexInParent()) != before, 'the next', 1)
        except screen.Lost:
            pass  # two of one name behind one another
    raise screen.Lost(f'no {role} {name} is reached by Tab: {trail}\n{window.seen()}')


def chart_of(window):
    """The chart of the page in view: a drawing with a sentence, other than the strip of rounds."""
    return screen.until(lambda: next((node for node, _ in window.nodes() if node.getRoleName() == 'image'
                                      and node.getState().contains(pyatspi.STATE_VISIBLE) and len(node.description) > 20
                                      and not node.name.startswith('Rounds')), None), 'a chart', also=window.seen)


def heard(window, role, name):
    """What a reader says of it after its name."""
    node = window.look(role, begins=name)
    return node.description if node is not None else ''


def hears(window, name, holds, what):
    """Waits until the chart's description is such, and returns it."""
    return screen.until(lambda: holds(heard(window, 'image', name)) and heard(window, 'image', name), what,
                        also=lambda: f'heard: {heard(window, "image", name)}\n{window.seen()}')


def cells(window):
    """The labels in the rows of the table that stands in place of a chart: row by row."""
    table = next((node for node, _ in window.nodes() if node.getRoleName() in ('tree table', 'table', 'list')
                  and node.getState().contains(pyatspi.STATE_VISIBLE) and window.chart_name in node.name), None)
    return [] if table is None else [node.name for node, _ in screen.tree(table) if node.getRoleName() == 'label' and node.name]


def walk_marks_and_choice():
    book = screen.demo_book('chart')
    window = Window(book, '--model', 'HF', '--page', 'readings')
    window.find('table', begins='B-')
    chart = chart_of(window).name
    tab_to(window, 'image', chart)
    summary = hears(window, chart, lambda said: len(said) > 20, 'the summary')
    ok(summary.rstrip().endswith('.') and any(c.isdigit() for c in summary), 'a reader hears what the chart shows in a sentence', summary)
    marks = []
    for key in ('End', 'Left', 'Left', 'Home', 'Right'):
        before = heard(window, 'image', chart)
        window.keys(key)
        marks.append(hears(window, chart, lambda said: said not in ('', before), f'another mark after {key}'))
    ok(all(':' in mark for mark in marks) and len(set(marks)) == 5, 'arrow keys walk the marks and each is told', marks)

    window.keys('ctrl+t')
    window.chart_name = chart
    shown = screen.until(lambda: cells(window), 'the table', also=window.seen)
    ok(any(cell.replace('.', '').isdigit() for cell in shown) and len(shown) > 12,
       'Ctrl+T shows the values as a table, read cell by cell', shown[:40])
    window.keys('ctrl+t')
    screen.until(lambda: not cells(window), 'the drawing', also=window.seen)
    tab_to(window, 'image', chart)

    window.keys('ctrl+2')
    hears(window, chart, lambda said: 'control' in said.lower() or said != '', 'single values')
    tab_to(window, 'image', chart)
    window.keys('End', 'space')
    one = hears(window, chart, lambda said: '1 unit chosen' in said, 'one unit chosen')
    window.keys('Left', 'space')
    two = hears(window, chart, lambda said: '2 units chosen' in said, 'two units chosen')
    serials = [said.split(':')[0] for said in (one, two)]
    summary = window.find('label', begins='2 units chosen').name
    ok(all(serial in summary for serial in serials), 'Space chooses marks, and their units are named beside the chart', (serials, summary))
    ok('(chosen)' in two, 'and that the mark is chosen is heard', two)
    ok(window.find('list item', begins=f'▸ Unit {serials[1]}') is not None, 'each unit has its rows', serials)
    window.keys('shift+Left', 'shift+Left')
    hears(window, chart, lambda said: '4 units chosen' in said, 'four units')
    ok(True, 'Shift with arrows adds those on the way')

    tab_to(window, 'list item', '▸ Unit')
    window.keys('Return')
    unit = window.find('label', begins='Unit ').name
    ok(any(character.isdigit() for character in unit), 'Enter leads to the unit', unit)
    window.keys('alt+Left')
    window.find('image', begins=chart)
    window.find('label', begins='4 units chosen')
    ok(True, 'Alt+Left leads back to what was chosen')
    window.close()


def table_cells(window):
    """The labels of the table that has the keyboard, in which a chart's values stand."""
    node = focused(window)
    while node is not None and node.getRoleName() not in ('tree table', 'table', 'list', 'filler', 'frame'):
        node = node.parent
    return [] if node is None else [one.name for one, _ in screen.tree(node) if one.getRoleName() == 'label' and one.name]


def next_chart(window, known):
    """Presses Ctrl+J and returns the chart that has the keyboard then; None when it is one already known."""
    window.keys('ctrl+j')

    def at():
        node = focused(window)
        return node if node is not None and node.getRoleName() == 'image' and node.name not in known \
            and not node.name.startswith('Rounds') else None
    try:
        return screen.until(at, 'a chart', 5)
    except screen.Lost:
        return None


def read_out(window, name):
    """What is heard of the chart with the keyboard: itself, its first and last mark, its values."""
    summary = hears(window, name, lambda said: len(said) > 20, f'what {name} shows')
    window.keys('Home')
    first = hears(window, name, lambda said: said not in ('', summary), f'the first mark of {name}')
    window.keys('End')
    last = hears(window, name, lambda said: said not in ('', summary), f'the last mark of {name}')
    window.keys('ctrl+t')
    values = screen.until(lambda: focused(window).getRoleName() != 'image' and table_cells(window), f'{name} as a table', also=window.seen)
    window.keys('ctrl+t')
    screen.until(lambda: focused(window).getRoleName() == 'image', f'{name} drawn again', also=window.seen)
    return summary, first, last, values


def walk_every_chart():
    """Ctrl+J goes from chart to chart of a page; each tells itself, its first and last mark, and its values as a table."""
    book = screen.demo_book('charts')
    for page, least in (('standing', 1), ('readings', 1), ('issues', 1), ('compare', 1), ('pilot', 3), ('leadtime', 1), ('life', 2),
                        ('shelf', 1)):
        window = Window(book, '--model', 'HF', '--page', page)
        told = {}
        end = screen.time.monotonic() + screen.PATIENCE
        while screen.time.monotonic() < end:
            chart = next_chart(window, told)
            if chart is not None:
                told[chart.name] = read_out(window, chart.name)
                end = screen.time.monotonic() + screen.PATIENCE  # the next one's answer may take as long
            elif len(told) >= least:
                break  # else its answer is not there yet
        ok(len(told) >= least, f'{page}: charts are gone to by Ctrl+J, {len(told)}', told)
        ok(all(any(c.isdigit() for c in summary) and summary.rstrip().endswith('.') for summary, *_ in told.values()),
           f'{page}: each is heard in a sentence with its figures', told)
        ok(all(any(any(c.isdigit() for c in cell) for cell in values) and not any(cell.startswith('Gtk') for cell in values)
               for *_, values in told.values()), f'{page}: each is read as a table', told)
        window.close()


if __name__ == '__main__':
    screen.run([walk_marks_and_choice, walk_every_chart])
