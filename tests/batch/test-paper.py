#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Paper for the bench: in the grid's order, limits in the head, the serial as text and as bars, nobody's name."""
import csv
import pathlib
import re
import subprocess

from batch_tap import done, folder, ok, refuse, run

demo = pathlib.Path(__file__).resolve().parents[2] / 'demo' / 'data'
# The library that looks for fonts keeps a cache to the end of the process, which a leak checker reports as a leak.
QUIET = {'ASAN_OPTIONS': 'detect_leaks=0'}
DAY = '2026-11-25'
# ISO 216, points: 210 x 297 and 148 x 210 mm at 72 points an inch of 25.4 mm.
SIZES = {'A4': (595.28, 841.89), 'A5': (419.53, 595.28)}
SUBJECTS = {
    'build-list': ['--round', 'P3'],
    'measuring-sheet': ['--round', 'P3'],
    'unit-card': ['--unit', 'P3-04'],
    'tally-sheet': ['--round', 'B'],
    'change-notice': ['--change', '10'],
    'issue-card': ['--issue', '2'],
}


def rows_of(record):
    with (demo / f'{record}.csv').open(encoding='utf-8', newline='') as file:
        return list(csv.DictReader(file))


def paper(kind, name, *more):
    path = folder / name
    answer = run('paper', kind, '-o', path, '--book', book, '--model', 'HF', '--today', DAY, *more, **QUIET)
    return path, answer


def tool(*words):
    return subprocess.run([str(word) for word in words], capture_output=True, check=False)


def text_of(path, *more):
    return tool('pdftotext', *more, path, '-').stdout.decode('utf-8')


def info_of(path):
    out = tool('pdfinfo', path).stdout.decode('utf-8')
    return {line.split(':', 1)[0]: line.split(':', 1)[1].strip() for line in out.splitlines() if ':' in line}


def codes_of(path, page):
    """What a decoder reads off the page as it is printed at 150 dots an inch."""
    picture = folder / 'page'
    tool('pdftoppm', '-r', '150', '-f', page, '-l', page, '-png', '-singlefile', path, picture)
    return tool('zbarimg', '-q', f'{picture}.png').stdout.decode('utf-8').split()


book = folder / 'demo.fettle'
run('new', book)
ok(run('import', demo, '--book', book).status == 0, 'the demo is imported')

# Names and initials of people; an initial that is also a code of a characteristic or a round tells nothing.
codes = {row['code'] for row in rows_of('characteristic')} | {row['label'] for row in rows_of('round')}
people = {word for row in rows_of('person') for word in [row['initials'], *row['name'].split()]} - codes

for kind, subject in SUBJECTS.items():
    for size, (short, long) in SIZES.items():
        path, answer = paper(kind, f'{kind}-{size}.pdf', *subject, '--size', size)
        ok(answer.status == 0 and answer.out == '', f'{kind} on {size} is written', answer)
        checked = tool('qpdf', '--check', path)
        ok(checked.returncode == 0, f'{kind} on {size} is a sound PDF', checked.stdout.decode() + checked.stderr.decode())
        info = info_of(path)
        measures = [float(word) for word in re.findall(r'[\d.]+', info['Page size'].replace('A4', '').replace('A5', ''))[:2]]
        ok(sorted(measures) == [short, long], f'{kind} on {size} has its size', info['Page size'])
        text = text_of(path)
        named = [word for word in people if re.search(rf'(?<!\w){re.escape(word)}(?!\w)', text)]
        ok(not named, f'{kind} on {size} names nobody', named)
        hyphens = re.findall(r'(?<![\w.-])-\d\S*', text)
        ok(not hyphens, f'{kind} on {size} writes less than zero with a minus, as the window does', hyphens)
        pages = text_of(path, '-raw').split('\f')[:-1]
        ok(all(re.search(rf'HF, (round \S+, )?{DAY}, book [0-9a-f]{{12}} Page {number} of {len(pages)}$', ' '.join(page.split()))
               for number, page in enumerate(pages, 1)),
           f'{kind} on {size} says on each page model, day, state of the book and number', pages[0][-200:])

# The grid's order: characteristics by code, units in the order of build.
codes = sorted(row['code'] for row in rows_of('characteristic') if row['model'] == 'HF')
units = [row['serial'] for row in rows_of('unit') if row['model'] == 'HF' and row['round'] == 'P3' and not row.get('part')]
for size in SIZES:
    words = text_of(folder / f'measuring-sheet-{size}.pdf', '-layout').split()
    shown = [word for word in words if word in codes]
    # A page that goes on begins with its head anew: each head counts once.
    first = list(dict.fromkeys(shown))
    ok(len(first) > 8 and first == [code for code in codes if code in first], f'on {size} characteristics stand by their code', first)
    serials = [word for word in words if word in units]
    ok(list(dict.fromkeys(serials)) == units, f'on {size} units stand in the order of build', serials)
    ok(len(serials) % len(units) == 0, f'on {size} the units stand again beside each block of columns', serials)

sheet = text_of(folder / 'measuring-sheet-A4.pdf')
flat = ' '.join(sheet.split())
for limits in ('9.0 to 17.0 N', 'at least 1.20 mm', 'at most 0.45 mm', 'at least 250 N'):
    ok(limits in flat, f'the head has the limits: {limits}', flat[:1500])
ok('Opening force' in flat and 'Force gauge 1' in flat, 'the head has names and gauges', flat[:1500])
ok('not a safety certificate' in flat, 'caution stands where the lock is measured')
ok('not a safety certificate' not in ' '.join(text_of(folder / 'tally-sheet-A4.pdf').split()), 'and not where pieces are counted')

# A round with many units and characteristics: over pages by rows and by columns, nothing lost.
for size in SIZES:
    path, answer = paper('measuring-sheet', f'long-{size}.pdf', '--round', 'B', '--size', size)
    words = text_of(path, '-layout').split()
    all_units = [row['serial'] for row in rows_of('unit') if row['model'] == 'HF' and row['round'] == 'B' and not row.get('part')]
    times = {serial: words.count(serial) for serial in all_units}
    ok(len(all_units) == 60 and len(set(times.values())) == 1 and min(times.values()) >= 1,
       f'on {size} each of sixty units stands once in each block', times)

# The card: serial as text and as bars that a decoder reads.
for size in SIZES:
    path = folder / f'unit-card-{size}.pdf'
    ok(codes_of(path, 1) == ['CODE-128:P3-04'], f'on {size} a decoder reads the serial off the card', codes_of(path, 1))
card = ' '.join(text_of(folder / 'unit-card-A4.pdf').split())
ok(card.index('P3-04') < card.index('As built') < card.index('Steps') < card.index('To be measured'), 'the card has its sections', card)
ok('HF-20 Rocker lever C' in card and 'ramp stoned 0.1' in card, 'and how the unit was built and altered', card)
path, answer = paper('unit-card', 'cards.pdf', '--round', 'P3', '--size', 'a5')
numbers = re.findall(r'Page (\d+) of (\d+)', text_of(path))
ok(len(numbers) % 10 == 0 and [number for number, _ in numbers].count('1') == 10, 'all units of a round have a card with numbers of its own', numbers)
starts = [at for at, (number, _) in enumerate(numbers, 1) if number == '1']
ok([codes_of(path, at)[0] for at in starts] == [f'CODE-128:{serial}' for serial in units], 'and each its own bars')

build = ' '.join(text_of(folder / 'build-list-A4.pdf', '-layout').split())
ok('HF-30 Lock spring C S-31 5 units from P3-06 on' in build, 'the build list says part, revision, lot and units', build)
ok(re.search(r'P3-04 HF-30 Lock spring B LV tested, 300 cycles .*P3-07 HF-30 Lock spring C, lot (S-31 )?LV tested', build) is not None, 'and which unit gets which', build)
tally = ' '.join(text_of(folder / 'tally-sheet-A4.pdf').split())
serials_at = {row['step'] for row in rows_of('unit_event') if row['model'] == 'HF' and row['round'] == 'B'}
steps = [(row['name'], row['position'] in serials_at) for row in rows_of('step') if row['model'] == 'HF']
ok(0 < sum(serials for _, serials in steps) < len(steps), 'the round has serials at some steps and not at others', steps)
wrong = [name for name, serials in steps if (f'{name} ' in tally) == serials]
ok(not wrong, 'the tally sheet has the steps at which pieces are counted, and none at which units have serials', wrong)
ok('Issue 2, Lever sticks' in tally, 'and the open issues where they were caused', tally)
change = ' '.join(text_of(folder / 'change-notice-A4.pdf').split())
ok('From round B on.' in change and 'ramp radius 0.3 mm' in change and 'ramp radius 0.6 mm' in change, 'the notice has old, new and from when', change)
ok('LE Lock engagement at least 1.20 mm carried over' in change and 'LS Load at slip at least 250 N measure again' in change,
   'and what is measured again', change)
ok('Signature' in change, 'and places to sign')
issue = ' '.join(text_of(folder / 'issue-card-A4.pdf').split())
ok('Contained on 2026-05-20.' in issue and 'wears a step there' in issue and 'Change 10:' in issue, 'the card of an issue has containment, cause, change', issue)
images = tool('pdfimages', '-list', folder / 'issue-card-A4.pdf').stdout.decode().splitlines()[2:]
ok(len(images) == 2, 'and its photographs', images)

# The book's setting chooses the paper.
settings = folder / 'setting.csv'
settings.write_text('name,value\npaper,A5\n', encoding='utf-8')
ok(run('import', settings, '--book', book, '--update').status == 0, 'the book is told to print on A5')
path, answer = paper('build-list', 'by-setting.pdf', '--round', 'P3')
ok('419.53 x 595.28' in info_of(path)['Page size'], 'then it does', info_of(path))
path, answer = paper('build-list', 'otherwise.pdf', '--round', 'P3', '--size', 'letter')
ok('612 x 792' in info_of(path)['Page size'], 'unless the call says otherwise', info_of(path))
path, answer = paper('tally-sheet', 'same.pdf', '--round', 'A', '--json')
ok(answer.json() == {'version': 1, 'paper': 'tally-sheet', 'file': str(path), 'pages': int(info_of(path)['Pages'])}, 'JSON says what was written', answer)
again = path.read_bytes()
paper('tally-sheet', 'same.pdf', '--round', 'A')
ok(path.read_bytes() == again, 'the same book gives the same bytes')

# A round that is only planned has empty rows; one without anything refuses by a sentence.
plan = folder / 'plan'
plan.mkdir()
(plan / 'model.csv').write_text('code,name\nQQ,Test piece\n', encoding='utf-8')
(plan / 'characteristic.csv').write_text('model,code,name,kind,unit,decimals,class,per_unit,shape,destructive\n'
                                         'QQ,W,Width,measured,mm,2,function,first,normal,no\n', encoding='utf-8')
(plan / 'round.csv').write_text('model,label,kind,question,planned_units\nQQ,P1,prototype,Does it hold?,4\n', encoding='utf-8')
ok(run('import', plan, '--book', book).status == 0, 'a round is planned')
empty = folder / 'empty.pdf'
answer = run('paper', 'measuring-sheet', '-o', empty, '--book', book, '--model', 'QQ', '--today', DAY, **QUIET)
ok(answer.status == 0 and 'Round P1, 4 units' in text_of(empty) and 'Width' in text_of(empty), 'it has a sheet to write serials into', answer)
for words, *expected in [
    (['unit-card', '-o', empty, '--model', 'QQ'], 'no units yet'),
    (['tally-sheet', '-o', empty, '--model', 'QQ'], 'no steps'),
    (['unit-card', '-o', empty, '--model', 'HF', '--unit', 'ZZ-1'], "'ZZ-1'"),
    (['build-list', '-o', empty, '--model', 'HF', '--round', 'ZZ'], "'ZZ'"),
    (['issue-card', '-o', empty, '--model', 'HF', '--issue', '99'], "'99'"),
    (['change-notice', '-o', empty, '--model', 'HF', '--change', '1x'], "'1x'"),
]:
    refuse(run('paper', *words, '--book', book, '--today', DAY, **QUIET), 2, *expected, name=f'{words[0]} without its subject is refused')
refuse(run('paper'), 2, '--list', name='paper without a kind says how to list them')
refuse(run('paper', 'unit-cart', '-o', 'x.pdf'), 2, "'unit-card'", name='a kind that is nearly right is named')
refuse(run('paper', 'unit-card'), 2, '-o', name='paper without a file says so')
refuse(run('paper', 'unit-card', '-o', 'x.png'), 2, "'x.png'", name='paper in another form is refused')
refuse(run('paper', 'issue-card', '-o', 'x.pdf'), 2, '--issue', name='an issue card asks for its issue')
refuse(run('paper', 'change-notice', '-o', 'x.pdf'), 2, '--change', name='a change notice asks for its change')
refuse(run('paper', 'unit-card', '-o', 'x.pdf', '--size', 'a3'), 2, "'a3'", name='another size of paper is refused')
listed = run('paper', '--list')
ok([line.split()[0] for line in listed.out.splitlines()] == list(SUBJECTS), 'the kinds are listed', listed)
ok([row['paper'] for row in run('paper', '--list', '--json').json()['papers']] == list(SUBJECTS), 'as JSON too')
answer = run('paper', 'build-list', '-o', folder / 'nowhere' / 'x.pdf', '--book', book, '--model', 'HF', **QUIET)
ok(answer.status == 1 and 'x.pdf' in answer.err, 'a place that cannot be written to is named', answer)

done()
