#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The letters to the designer and to a supplier: two to five pages, and nobody, no cost, no other supplier and no other model in them."""
import csv
import pathlib
import re
import shutil
import subprocess

from batch_tap import done, folder, ok, refuse, run

demo = pathlib.Path(__file__).resolve().parents[2] / 'demo' / 'data'
# The library that looks for fonts keeps a cache to the end of the process, which a leak checker reports as a leak.
QUIET = {'ASAN_OPTIONS': 'detect_leaks=0'}
DAY = '2026-11-25'


def letter(book, name, *more):
    path = folder / name
    answer = run('letter', '--for', 'designer', '-o', path, '--book', book, '--today', DAY, *more, **QUIET)
    return path, answer


def text_of(path):
    return subprocess.run(['pdftotext', '-raw', path, '-'], capture_output=True, check=True).stdout.decode('utf-8')


def info_of(path):
    out = subprocess.run(['pdfinfo', path], capture_output=True, check=True).stdout.decode('utf-8')
    return {line.split(':', 1)[0]: line.split(':', 1)[1].strip() for line in out.splitlines() if ':' in line}


def words_that_stay_here(data):
    """Names and initials of people, names of suppliers, codes and names of other models, as the files of the demo say them."""
    words = []
    for row in csv.DictReader((data / 'person.csv').open(encoding='utf-8')):
        words += [row['initials'], *row['name'].split(), row['name']]
    for row in csv.DictReader((data / 'supplier.csv').open(encoding='utf-8')):
        words += [row['name'], row['name'].split()[0]]
    for row in csv.DictReader((data / 'model.csv').open(encoding='utf-8')):
        if row['code'] != 'HF':
            words += [row['code'], row['name'].split(',')[0]]
    return [word for word in words if word]


def found_in(text, words):
    return [word for word in words if re.search(rf'(?<!\w){re.escape(word)}(?!\w)', text)]


book = folder / 'demo.fettle'
run('new', book)
ok(run('import', demo, '--book', book).status == 0, 'the demo is imported')

for number, rounds in enumerate(([], ['--from', 'P1', '--to', 'P3'], ['--from', 'P2', '--to', 'P3'], ['--to', 'P1'], ['--from', 'M1', '--to', 'B'])):
    path, answer = letter(book, f'{number}.pdf', '--model', 'HF', *rounds)
    shown = ' '.join(rounds) or 'the newest rounds'
    ok(answer.status == 0 and answer.out == '' and path.read_bytes().startswith(b'%PDF-'), f'a letter is written: {shown}', answer)
    info = info_of(path)
    ok(2 <= int(info['Pages']) <= 5, f'it has two to five pages: {shown}', info)
    checked = subprocess.run(['qpdf', '--check', path], capture_output=True)
    ok(checked.returncode == 0, f'qpdf finds no fault: {shown}', checked.stderr)
    text = text_of(path)
    ok(found_in(text, words_that_stay_here(demo)) == [], f'no person, supplier or other model is in its text: {shown}',
       found_in(text, words_that_stay_here(demo)))
    ok(found_in(str(info) + path.read_bytes().decode('latin-1'), ['Hollin', 'Birk', 'Author']) == [], f'nor in what the PDF says of itself: {shown}')
    ok(not re.search(r'[€$£]|\b(EUR|USD|GBP|price|cost \d)', text), f'no sum of money is in it: {shown}', text)

text = text_of(letter(book, 'p.pdf', '--model', 'HF', '--from', 'P1', '--to', 'P3')[0])
for said in ('What changed from round P1 to round P3', 'Rocker lever', 'ramp 8 degrees', 'nose undercut by 6 degrees', 'Change 3: Undercut nose on the lever',
             'For issue 1: Lock slips under side load', 'What the readings say', 'Load at slip', 'Where the issues stand', 'not a safety certificate',
             'Invented demo data', 'Questions, and room for your answers', 'Page 1 of'):
    ok(said in ' '.join(text.split()), f'it says: {said}', text)
ok('Pivot bolt' in text and re.search(r'Pivot bolt, revision: A became B', ' '.join(text.split())), 'what was fitted without a change is asked about', text)
ok('issue 4' not in ' '.join(text.split()), 'what was answered since is not asked any more', text)
text = ' '.join(text_of(folder / '0.pdf').split())
ok('Change 13, “Chamfer of 0.2 mm at the lever slot”, is proposed and not agreed yet' in text, 'a change that waits is asked about', text)
ok('came back although change 10 was made' in text, 'an issue that came back is asked about', text)

outline = (folder / '0.pdf').read_bytes()
ok(letter(book, 'again.pdf', '--model', 'HF')[0].read_bytes() == outline, 'the same records give the same bytes')
size = info_of(letter(book, 'us.pdf', '--model', 'HF', '--paper', 'letter')[0])['Page size']
ok(size.startswith('612 x 792'), 'letter paper is written on when asked for', size)
images = subprocess.run(['pdfimages', '-list', folder / '0.pdf'], capture_output=True, check=True).stdout.decode().splitlines()
ok(len(images) > 4, 'pictures of revisions and issues are in it', images)

# What people wrote in their own words is told without what stays here.
text_book = folder / 'words.fettle'
run('new', text_book)
data = folder / 'words'
shutil.copytree(demo, data)
rows = (data / 'change.csv').read_text(encoding='utf-8')
rows = rows.replace('Springs break at the hook long before 3000 openings.',
                    'RB and Tove Kell found that springs of Fernhill Springs at 1.20 EUR break unlike those of the Wagtail (WT).')
(data / 'change.csv').write_text(rows, encoding='utf-8')
ok(run('import', data, '--book', text_book).status == 0, 'the other texts are imported')
path, answer = letter(text_book, 'words.pdf', '--model', 'HF', '--from', 'P1', '--to', 'P3')
text = ' '.join(text_of(path).split())
ok('[left out] and [left out] found that springs of [left out] at [left out] break' in text, 'names and sums in free text are left out', text)
ok(found_in(text, words_that_stay_here(demo)) == [] and 'EUR' not in text, 'none of them is left', found_in(text, words_that_stay_here(demo)))

# A picture that is lost or altered does not keep the letter from going; `check` names it.
broken = folder / 'broken.fettle'
shutil.copy(book, broken)
subprocess.run(['sqlite3', broken, "UPDATE content SET bytes = zeroblob (length (bytes)) WHERE sha256 = "
                "(SELECT sha256 FROM attachment WHERE name = 'lever-C.png')"], check=True)
path, answer = letter(broken, 'broken.pdf', '--model', 'HF', '--from', 'P1', '--to', 'P3')
ok(answer.status == 0 and 2 <= int(info_of(path)['Pages']) <= 5, 'a letter goes without a picture that was altered', answer)
ok(answer.err == '' and '1 picture is left out, since its file is missing or damaged.' in ' '.join(text_of(path).split()), 'and says so', answer)
checked = run('check', '--book', broken)
ok(checked.status == 1 and "'lever-C.png' of 'Revision HF-20/C'" in ' '.join(checked.out.split()), 'check names the altered picture by owner and name', checked)
subprocess.run(['sqlite3', broken, "DELETE FROM content WHERE sha256 = (SELECT sha256 FROM attachment WHERE name = 'lever-C.png')"], check=True)
checked = run('check', '--book', broken)
ok(checked.status == 1 and "is missing: 'lever-C.png' of 'Revision HF-20/C'" in ' '.join(checked.out.split()), 'check names the missing picture by owner and name', checked)

refuse(run('export', folder / 'out', '--book', broken), 3, "'lever-C.png'", 'HF-20/C', name='export names it too, and writes nothing')
ok(not list((folder / 'out').rglob('*.csv')), 'no file of such an export is left')

# However much there is to say, it is five pages.
LONG = 'The designer and the shop found, after many words were spoken about it, that the thing does not hold as it should. ' * 16
data = folder / 'much'
shutil.copytree(demo, data)


def add(record, rows):
    path = data / f'{record}.csv'
    with path.open(encoding='utf-8') as file:
        header = next(csv.reader(file))
    with path.open('a', newline='', encoding='utf-8') as file:
        csv.DictWriter(file, header, lineterminator='\n').writerows(rows)


MANY = range(40)
add('part', [{'number': f'X-{i:02}', 'name': f'Small part number {i} with a rather long name', 'source': 'made', 'quantity': 1} for i in MANY])
add('revision', [{'part': f'X-{i:02}', 'label': label, 'state': 'released', 'date': '2026-01-14'} for i in MANY for label in 'AB'])
add('round_part', [{'model': 'HF', 'round': label, 'part': f'X-{i:02}', 'revision': revision} for i in MANY for label, revision in (('P2', 'A'), ('P3', 'B'))])
add('change', [{'model': 'HF', 'no': 100 + i, 'title': f'Another shape of small part {i}', 'reason': LONG[:1900], 'proposed_by': 'RB',
                'proposed_on': '2026-05-29', 'agreed_by': 'EH' if i % 2 else '', 'agreed_on': '2026-06-01' if i % 2 else '', 'from_round': 'P3',
                'expected_effect': LONG[:900]} for i in MANY])
add('change_item', [{'model': 'HF', 'change': 100 + i, 'no': 1, 'part': f'X-{i:02}', 'old_revision': 'A', 'new_revision': 'B',
                     'old': ('as it was before ' * 10).strip(), 'new': ('as it is now ' * 10).strip()} for i in MANY])
add('issue', [{'model': 'HF', 'no': 100 + i, 'title': ('Small part does not hold ' * 6).strip(), 'class': 'safety', 'found_round': 'P2', 'found_on': '2026-05-21',
               'seen_in_life_test': 'no', 'tolerated_share': 0.1, 'cause': LONG[:1500]} for i in MANY])
much = folder / 'much.fettle'
run('new', much)
answer = run('import', data, '--book', much)
ok(answer.status == 0, 'a model with much to say is imported', answer)
path, answer = letter(much, 'much.pdf', '--model', 'HF', '--from', 'P2', '--to', 'P3')
ok(answer.status == 0 and 2 <= int(info_of(path)['Pages']) <= 5, 'however much there is to say, it is five pages at most', info_of(path))
text = ' '.join(text_of(path).split())
ok('Changed too, and without reasons here for want of room' in text and 'further issues are left out' in text and 'further questions' in text,
   'and it says what was left out', text)

# ---- to a supplier: his own lots, and nobody else ----


def supplier_letter(where, name, supplier, *more):
    path = folder / name
    return path, run('letter', '--for', 'supplier', '--supplier', supplier, '-o', path, '--book', where, '--model', 'HF', '--today', DAY, *more, **QUIET)


def words_without(supplier):
    """What still stays here in a letter to him: other suppliers by name, and the rest."""
    return [word for word in words_that_stay_here(demo) if word not in (supplier, supplier.split()[0])]


lots = [row for row in csv.DictReader((demo / 'lot.csv').open(encoding='utf-8'))]
for supplier in ('Fernhill Springs', 'Alder Hardening'):
    path, answer = supplier_letter(book, f'{supplier}.pdf', supplier)
    ok(answer.status == 0 and answer.out == '' and path.read_bytes().startswith(b'%PDF-'), f'a letter to a supplier is written: {supplier}', answer)
    ok(2 <= int(info_of(path)['Pages']) <= 5, f'it has two to five pages: {supplier}', info_of(path))
    text = ' '.join(text_of(path).split())
    ok(f'To {supplier}, {DAY}' in text, f'it is to him by name: {supplier}', text)
    found = found_in(text, words_without(supplier))
    ok(found == [], f'no person, other supplier or other model is in it: {supplier}', found)
    ok(not re.search(r'[€$£]|\b(EUR|USD|GBP|price|cost \d)', text), f'no sum of money is in it: {supplier}', text)
    for row in lots:
        ok((re.search(rf'(?<!\w){re.escape(row["number"])}(?!\w)', text) is not None) == (row['supplier'] == supplier),
           f'lot {row["number"]} of {row["supplier"]} is told to him alone: {supplier}')
        if row['supplier'] == supplier:
            ok(re.search(rf'{re.escape(row["number"])} {row["received"]} {row["quantity"]} \d+ {row["verdict"]}', text, re.IGNORECASE),
               f'with day, pieces and verdict: {row["number"]}', text)
text = ' '.join(text_of(folder / 'Fernhill Springs.pdf').split())
for said in ('We received 6 lots from you. 1 of them was rejected.', 'Springs of lot S-42 are too short', 'Send back', 'What the readings say, by your lots', 'Load at slip',
             'Lever sticks', 'How long we waited, longest first', 'a third lot of springs B 2026-11-19 still', 'Since 2026-11-19 we wait for: a third lot of springs',
             'What is the cause, and what will keep it from coming again?', 'not a safety certificate', 'Invented demo data', 'Page 1 of'):
    ok(said in text, f'it says: {said}', text)
waits = [row for row in csv.DictReader((demo / 'wait.csv').open(encoding='utf-8')) if row['model'] == 'HF' and row['supplier'] == 'Fernhill Springs']
days = {row['what']: int(re.search(rf'{re.escape(row["what"])} {row["round"]} {row["from_date"]} (?:{row["to_date"] or "still"}) (\d+)', text).group(1)) for row in waits}
order = sorted(days, key=lambda what: text.index(f'{what} '))
ok(len(days) == 3 and [days[what] for what in order] == sorted(days.values(), reverse=True), 'waits stand by their length', days)

# What the readings say by lot, reckoned from the files: first attempts at the slip rig of units with each lot, as they were built.
given = {(row['round'], row['unit']): row['lot'] for row in csv.DictReader((demo / 'unit_part.csv').open(encoding='utf-8')) if row['model'] == 'HF' and row.get('part') == 'HF-30' and row['lot']}
by_lot = {}
for row in csv.DictReader((demo / 'reading.csv').open(encoding='utf-8')):
    lot = given.get((row['round'], row['unit']))
    if row['model'] == 'HF' and row['characteristic'] == 'LS' and row['attempt'] in ('', '1') and row['voided'] != 'yes' and lot:
        by_lot.setdefault(lot, []).append(float(row['value']))
checked = 0
for lot, values in by_lot.items():
    mean = sum(values) / len(values)
    sd = (sum((value - mean) ** 2 for value in values) / (len(values) - 1)) ** 0.5
    line = re.search(rf'{re.escape(lot)} {len(values)} 0 {mean:.1f} N {sd:.1f} N {min(values):.0f} to {max(values):.0f} N', text)
    ok(line is not None, f'load at slip with lot {lot}: number, mean, deviation, least and most are those of the files', (values, text))
    checked += 1
ok(checked >= 2, 'several lots have been reckoned', by_lot)
ok(supplier_letter(book, 'again-s.pdf', 'Fernhill Springs')[0].read_bytes() == (folder / 'Fernhill Springs.pdf').read_bytes(), 'the same records give him the same bytes')

# His own name stays in what people wrote; others' do not, also where both names share a word.
named = folder / 'named'
shutil.copytree(demo, named)
rows = (named / 'wait.csv').read_text(encoding='utf-8')
rows = rows.replace('springs for the lot that failed', 'RB asked Fernhill Springs for 40 EUR less; Alder Hardening and Fernhill Coils too')
(named / 'wait.csv').write_text(rows, encoding='utf-8')
with (named / 'supplier.csv').open('a', encoding='utf-8') as file:
    file.write('Fernhill Coils\n')
named_book = folder / 'named.fettle'
run('new', named_book)
ok(run('import', named, '--book', named_book).status == 0, 'a book with names in a wait is imported')
text = ' '.join(text_of(supplier_letter(named_book, 'named.pdf', 'Fernhill Springs')[0]).split())
ok('[left out] asked Fernhill Springs for [left out] less; [left out] and [left out] too' in text, 'his own name stays, all else is left out', text)

much_path, answer = supplier_letter(much, 'much-s.pdf', 'Alder Hardening')
ok(answer.status == 0 and 2 <= int(info_of(much_path)['Pages']) <= 5, 'however much there is, it is five pages at most', answer)
refuse(run('letter', '--for', 'supplier', '-o', folder / 'x.pdf', '--book', book, '--model', 'HF', **QUIET), 2, '--supplier', name='a letter to no supplier in particular is refused')
refuse(run('letter', '--for', 'supplier', '--supplier', 'Nobody & Sons', '-o', folder / 'x.pdf', '--book', book, '--model', 'HF', **QUIET), 2, "'Nobody & Sons'",
       name='a supplier that the book does not have is refused')
refuse(run('letter', '--for', 'supplier', '--supplier', 'Fernhill Springs', '--from', 'P1', '-o', folder / 'x.pdf', '--book', book, '--model', 'HF', **QUIET), 2, '--from',
       name='rounds are refused there')
refuse(run('letter', '--for', 'designer', '--supplier', 'Fernhill Springs', '-o', folder / 'x.pdf', '--book', book, '--model', 'HF', **QUIET), 2, '--supplier',
       name='a supplier is refused in the letter to the designer')
refuse(run('letter', '--for', 'supplier', '--supplier', 'Fernhill Springs', '-o', folder / 'x.pdf', '--book', book, '--model', 'DU', **QUIET), 2, 'DU', 'Fernhill Springs',
       name='a supplier who has nothing to do with the model is refused')
ok(not (folder / 'x.pdf').exists(), 'nothing is written then')

refuse(run('letter', '--for', 'designer', '-o', folder / 'x.pdf', '--book', book, '--model', 'HF', '--from', 'P9', **QUIET), 2, "'P9'", 'P1',
       name='a round that is not there is refused')
refuse(run('letter', '--for', 'designer', '-o', folder / 'x.pdf', '--book', book, '--model', 'HF', '--paper', 'a9', **QUIET), 2, "'a9'",
       name='paper that is none is refused')
refuse(run('letter', '--for', 'designer', '-o', folder / 'x.pdf', '--book', book, '--model', 'DU', **QUIET), 2, 'two rounds', 'DU',
       name='a model with one round has nothing to write about')
refuse(run('letter', '--for', 'designer', '-o', folder / 'x.pdf', '--book', book, '--model', 'HF', '--from', 'P3', '--to', 'P1', **QUIET), 2,
       name='rounds in the wrong order are refused')
refuse(run('letter', '--for', 'designer', '-o', folder / 'none' / 'x.pdf', '--book', book, '--model', 'HF', **QUIET), 1, 'x.pdf',
       name='a folder that is not there is named')
done()
