#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The workbook of a decision, read back by an independent reader (openpyxl): numbers are numbers, days are dates, texts stay
texts, and every figure is that of `release --json` and `standing --json`."""
import csv
import datetime
import pathlib
import re
import shutil
import zipfile

import openpyxl

from batch_tap import done, folder, ok, run

demo = pathlib.Path(__file__).resolve().parents[2] / 'demo' / 'data'
DAY = '2026-11-25'
QUIET = {'ASAN_OPTIONS': 'detect_leaks=0'}
FORMULAS = ['=1+1', '+1', '-1', '@SUM(A1)', "=cmd|' /C calc'!A0", '=HYPERLINK("http://x","y")']


def write(name, *more):
    path = folder / name
    given = run('pack', '-o', path, '--book', store, '--model', 'HF', '--today', DAY, *more, **QUIET)
    ok(given.status == 0 and given.out == '', f'a workbook is written: {name}', given)
    return path


def rows_of(book, name):
    """A sheet as a list of rows by their heads. A head that comes twice ('and') keeps its first column."""
    heads, *rows = book[name].iter_rows(values_only=True)
    return [{head: value for head, value in reversed(list(zip(heads, row)))} for row in rows]


def close(one, other):
    if one is None or other is None:
        return one is None and other is None
    return abs(one - other) <= 1e-12 * max(abs(one), abs(other), 1e-3)


def day(text):
    return datetime.datetime.fromisoformat(text) if text else None


# ---- the demo, with issues whose titles look like formulas ----
data = folder / 'data'
shutil.copytree(demo, data)
with (data / 'issue.csv').open(encoding='utf-8') as file:
    header = next(csv.reader(file))
with (data / 'issue.csv').open('a', newline='', encoding='utf-8') as file:
    csv.DictWriter(file, header, lineterminator='\n').writerows(
        {'model': 'HF', 'no': 100 + i, 'title': title, 'class': 'appearance', 'found_round': 'P2', 'found_on': '2026-05-21',
         'seen_in_life_test': 'no', 'tolerated_share': 0.1, 'cause': title} for i, title in enumerate(FORMULAS))
store = folder / 'demo.fettle'
run('new', store)
answer = run('import', data, '--book', store)
ok(answer.status == 0, 'the demo is imported', answer)
path = write('a4.xlsx')
book = openpyxl.load_workbook(path)
ok(write('again.xlsx').read_bytes() == path.read_bytes(), 'the same records give the same bytes')
frozen = run('release', '--json', '--book', store, '--model', 'HF', '--today', DAY, **QUIET).json()
standing = run('standing', '--json', '--book', store, '--model', 'HF', '--today', DAY, **QUIET).json()

# ---- no formulas, whatever the texts ----
cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.value is not None]
ok(len(cells) > 10000 and not [cell for cell in cells if cell.data_type == 'f'], 'no cell is a formula')
with zipfile.ZipFile(path) as archive:
    names = archive.namelist()
    ok(archive.testzip() is None and not any(re.search(rb'<f[ >/]', archive.read(name)) for name in names if 'worksheets/' in name),
       'nor does the file have the element of one')
    ok(not any(word in name for name in names for word in ('external', 'vba', 'connections')), 'it leads nowhere and runs nothing', names)
issues = rows_of(book, 'Issues')
ok([row['issue'] for row in issues if row['no'] >= 100] == FORMULAS, 'titles that look like formulas are kept as texts', issues[-6:])
ok(all(cell.data_type == 's' for cell in book['Issues']['B']), 'and are of the kind of texts')

# ---- the answer ----
answers = [(row['what'], row['answer']) for row in rows_of(book, 'Answer')]
ok(('gate', 'Release: not ready. 16 of 23 criteria are met.') in answers, 'the answer is there', answers)
blocking = [c['code'] for c in frozen['standing']['criteria'] if c['blocks']]
ok(blocking == ['C2', 'C8', 'C15'], 'three criteria of the demo block', blocking)
told = ' '.join(text for what, text in answers if what == 'stands against it')
ok(all(re.search(rf'\b{code}\b', told) for code in blocking), 'every one is named in the answer', told)
criteria = rows_of(book, 'Criteria')
ok([row['criterion'] for row in criteria[:len(blocking)]] == blocking and all(row['blocks'] == 'yes' for row in criteria[:len(blocking)])
   and not any(row['blocks'] for row in criteria[len(blocking):]), 'and stands first among the criteria')
ok(dict(answers)['as of'] == day(DAY) and dict(answers)['met'] == 16 and dict(answers)['block'] == 3, 'day and counts are native', answers)
ok('not a safety certificate' in dict(answers)['caution'], 'the caution is there')

# ---- figures equal those of release --json and standing --json ----
FIGURES = {'confidence reached': 'confidence', 'share wanted': 'share', 'lower limit': 'lower', 'upper limit': 'upper', 'n': 'n', 'lots': 'lots',
           'looks': 'looks', 'attempts': 'attempts', 'earlier units': 'earlier_units', 'earlier failures': 'earlier_failures',
           'voided': 'voided', 'mean': 'mean', 'standard deviation': 'sd', 'least': 'min', 'most': 'max', 'share that conforms': 'share_estimate',
           'at least': 'share_low', 'target': 'target', 'estimate': 'estimate', 'between': 'estimate_low', 'and': 'estimate_high'}
ok({row['criterion'] for row in criteria} == {c['code'] for c in standing['criteria']}, 'all criteria are there')
for source, known in (('release', frozen['standing']), ('standing', standing)):
    wrong = []
    for c in known['criteria']:
        row = next(row for row in criteria if row['criterion'] == c['code'])
        wrong += [(c['code'], head, row[head], c[name]) for head, name in FIGURES.items() if not close(row[head], c[name])]
        if c['method'] != 'count' and not (close(row['confidence wanted'], c['wanted']) and row['failed'] == c['failed']):
            wrong.append((c['code'], row['confidence wanted'], row['failed']))
        if row['state'] != c['state_words'] or row['what may be said'] != c['sentence'] or (row['rounds'] or '') != ', '.join(c['rounds']):
            wrong.append((c['code'], row['state'], row['rounds']))
    ok(not wrong, f'every figure of the criteria is that of {source} --json', wrong)
wrong = [(i['no'], head) for i in frozen['issues']['issues'] for row in issues if row['no'] == i['no']
         for head, name in (('confidence reached', 'confidence'), ('units before', 'before_n'), ('failed before', 'before_failed'),
                            ('units after', 'after_n'), ('failed after', 'after_failed'), ('by luck alone', 'fisher'), ('may fail', 'tolerated'),
                            ('attempts', 'attempts'), ('working days', 'age')) if not close(row[head], i[name])]
ok(len(issues) == len(frozen['issues']['issues']) and not wrong, 'and those of the issues', wrong)
ok([row['found on'] for row in issues] == [day(i['found']) for i in frozen['issues']['issues']], 'days of issues are dates')
steps = rows_of(book, 'Pilot steps')
ok(all(close(row['first-pass yield'], s['first_pass']) and close(row['and'], s['first_pass_high']) and row['in'] == s['in'] and row['scrapped'] == s['scrapped']
       for row, s in zip(steps, frozen['pilot']['steps'])) and len(steps) == len(frozen['pilot']['steps']) + 1, 'and those of the steps')
ok(close(steps[-1]['first-pass yield'], frozen['pilot']['rolled']), 'and the yield of all', steps[-1])
ok([(row['issue'] or 0, row['units']) for row in rows_of(book, 'Losses')] == [(loss['issue'], loss['units']) for loss in frozen['pilot']['losses']], 'and the losses')
rate = {row['bench or outside step']: row for row in rows_of(book, 'Rate')}
ok(close(rate['all together']['good units a month'], frozen['pilot']['rate']['month']), 'and the rate', rate['all together'])
cost = {row['for']: row['cost of one good unit'] for row in rows_of(book, 'Cost')}
ok(close(cost['all'], frozen['pilot']['cost']['unit']) and close(cost['rework'], frozen['pilot']['cost']['rework']), 'and the cost', cost)
ok([(row['round'], row['working days']) for row in rows_of(book, 'Lead time')] == [(r['label'], r['days']) for r in frozen['leadtime']['rounds']], 'and the days')
ok([(row['from'], row['to'], row['supplier'] or '') for row in rows_of(book, 'Waits')]
   == [(day(w['from']), day(w['to']), w['supplier']) for w in frozen['leadtime']['waits']], 'and the waits, their days as dates')
tests = rows_of(book, 'Life tests')
ok([(row['characteristic'], row['no'], row['cycles'], row['failed'] == 'yes', row['date']) for row in tests]
   == [(life['characteristic'], t['no'], t['cycles'], t['failed'], day(t['date'])) for name, life in frozen.items() if name.startswith('life ') for t in life['tests']],
   'and the life tests')
ok([sum(row['characteristic'] == life['characteristic'] and row['counts'] == 'yes' for row in tests) for name, life in frozen.items() if name.startswith('life ')]
   == [life['n'] for name, life in frozen.items() if name.startswith('life ')], 'and which of them count')
studies = rows_of(book, 'Gauge studies')
ok(all(close(row["gauge's standard deviation"], s['grr']) and close(row['at most'], s['at_most']) and row['ended'] == day(s['last'])
       for row, s in zip(studies, frozen['gauges']['studies'])) and len(studies) == 3, 'and the gauge studies')
forecast = rows_of(book, 'Forecast')
ok([(row['of the futures'], row['ready by']) for row in forecast if row['what'] == 'date'] == [(d['share'], day(d['date'])) for d in frozen['forecast']['dates']],
   'and the dates of the forecast', forecast[:3])
ok(len([row for row in forecast if row['what'] == 'curve']) == len(frozen['forecast']['curve']), 'and its curve')
journal = {row['what']: row['value'] for row in rows_of(book, 'Journal')}
ok(journal['digest of the last one'] == frozen['journal_head'] and journal['entries'] == frozen['journal_entries'] and journal['book'] == frozen['book'],
   'and where the journal stood', journal)

# ---- readings: each of the files', with its decimals ----
decimals = {row['code']: int(row['decimals'] or 0) for row in csv.DictReader((data / 'characteristic.csv').open(encoding='utf-8')) if row['model'] == 'HF'}
written = {}
for row in csv.DictReader((data / 'reading.csv').open(encoding='utf-8')):
    if row['model'] == 'HF':
        written[row['round'], row['unit'], row['characteristic'], int(row['attempt'] or 1), int(row['n'] or 1)] = row
readings = {(row['round'], row['unit'], row['characteristic'], row['attempt'], row['repeat']): row for row in rows_of(book, 'Readings')}
ok(set(readings) == set(written) and len(written) > 1000, 'every reading is there', (len(readings), len(written), list(set(readings) ^ set(written))[:5]))
wrong = [key for key, row in written.items() if row['value'] and readings[key]['value'] != float(row['value'])]
ok(not wrong, 'with its value as a number', wrong[:5])
wrong = [key for key, row in written.items() if readings[key]['taken'] != day(row['taken'])]
ok(not wrong, 'and its moment as a date', wrong[:5])
sheet = book['Readings']
heads = [cell.value for cell in sheet[1]]
wrong = []
for row in sheet.iter_rows(min_row=2):
    code, value = row[heads.index('characteristic')].value, row[heads.index('value')]
    if value.value is not None and value.number_format != ('0.' + '0' * decimals[code] if decimals[code] else '0'):
        wrong.append((code, value.number_format))
ok(not wrong, 'shown with the decimals of its characteristic', wrong[:5])
wrong = []
for c in standing['criteria']:
    if c['kind'] in ('measured', 'checked'):
        units = {row['unit'] for row in readings.values() if row['characteristic'] == c['characteristic'] and row['counts'] == 'yes'}
        if len(units) != c['n']:
            wrong.append((c['code'], c['characteristic'], len(units), c['n']))
ok(not wrong, 'as many units count by the readings as the criteria say', wrong)
voided = [key for key, row in written.items() if row['voided'] == 'yes']
ok(voided and all(readings[key]['counts'] is None and readings[key]['why not'] == 'voided' for key in voided), 'what was voided does not count, and says why', voided)
ok(all((row['counts'] == 'yes') == (row['why not'] is None) for row in readings.values()), 'what does not count says why')

# ---- how it looks and prints ----
for sheet in book:
    widths = [sheet.column_dimensions[openpyxl.utils.get_column_letter(i + 1)].width for i in range(sheet.max_column)]
    ok(sheet.freeze_panes == 'A2' and sheet.print_title_rows in ('1:1', '$1:$1') and sheet['A1'].font.bold and sheet.auto_filter.ref is not None
       and all(width >= 8 for width in widths[:1]) and max(widths) <= 120, f'heads stay in view and are printed again: {sheet.title}', (sheet.print_title_rows, widths))
ok(all(str(sheet.page_setup.paperSize) == '9' and sheet.sheet_properties.pageSetUpPr.fitToPage and str(sheet.page_setup.fitToHeight) == '0' for sheet in book), 'it is printed on A4, as wide as the page')
ok(book['Readings'].page_setup.orientation == 'landscape' and book['Lead time'].page_setup.orientation == 'portrait', 'across where it is wide')
letter = openpyxl.load_workbook(write('letter.xlsx', '--paper', 'letter'))
ok(all(str(sheet.page_setup.paperSize) == '1' for sheet in letter), 'or on letter')

# ---- nobody who builds or inspects is named, but who voids, excuses, signs or decides is ----
NAMED = ('Said and decided', 'Beside the figures', 'Voided readings', 'Concessions')
codes = set(decimals)
people = []
for row in csv.DictReader((data / 'person.csv').open(encoding='utf-8')):
    if row['role'] in ('maker', 'inspector'):
        people += [word for word in (row['initials'], row['name'], *row['name'].split()) if word and word not in codes]
texts = [str(cell.value) for sheet in book if sheet.title not in NAMED for row in sheet.iter_rows() for cell in row if isinstance(cell.value, str)]
found = [word for word in people if any(re.search(rf'(?<!\w){re.escape(word)}(?!\w)', text) for text in texts)]
ok(len(people) > 4 and not found, 'nobody who builds or inspects is named', found)
done()
