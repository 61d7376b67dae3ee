#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The demo as a whole, from outside: it is made the same each time, comes in and goes out with its files, and tells the
story that demo/README.md promises."""
import csv
import json
import math
import struct
import subprocess
import sys

from batch_tap import data, done, folder, new_book, ok, refuse, run

demo = data.parents[1] / 'demo'
TODAY = ('--today', '2026-11-25')


def listed(place):
    return {str(path.relative_to(place)): path.read_bytes() for path in place.rglob('*') if path.is_file()}


def rows(place, record):
    with open(place / f'{record}.csv', newline='', encoding='utf-8') as f:
        return list(csv.DictReader(f))


# how it is made
made = subprocess.run([sys.executable, demo / 'make-data.py', folder / 'made'], capture_output=True, check=False)
kept, again = listed(demo / 'data'), listed(folder / 'made')
ok(made.returncode == 0 and sorted(kept) == sorted(again), 'the script writes the files that are there', made.stderr.decode())
ok(kept == again, 'with the same bytes', [name for name in kept if kept[name] != again.get(name)])
frozen = {f"files/{row['evidence']}" for row in rows(demo / 'data', 'decision')}
pictures = [content for name, content in kept.items() if name.startswith('files/') and name not in frozen]
sizes = [struct.unpack('>II', content[16:24]) for content in pictures if content.startswith(b'\x89PNG\r\n\x1a\n')]
ok(len(pictures) > 12 and len(sizes) == len(pictures), 'its pictures are PNG files', len(sizes))
ok(all(len(content) < 100_000 for content in pictures), 'of less than 100 kB each', [len(content) for content in pictures])

# in, out, in, out
one, two = new_book('one'), new_book('two')
answer = run('import', demo / 'data', '--book', one)
ok(answer.status == 0, 'it comes in without a complaint', answer)
run('export', folder / 'one', '--book', one)
answer = run('import', folder / 'one', '--book', two)
ok(answer.status == 0, 'and once more as it was exported', answer)
run('export', folder / 'two', '--book', two)

# Draws hang on the book, verdicts do not: what is decided by them is kept short of their error.
three = new_book('three')
run('import', demo / 'data', '--book', three)


def verdicts(book):
    told = {}
    for model in ('HF', 'WT'):
        answer = run('release', '--json', '--book', book, '--model', model, *TODAY).json()
        told[model] = (answer['stops'], [(c['code'], c['state'], c['blocks']) for c in answer['standing']['criteria']])
    return told


seen = [verdicts(book) for book in (one, two, three)]
ok(len(seen[0]['HF'][1]) > 20 and seen[0] == seen[1] == seen[2], 'three new books of the same records come to the same verdicts', seen)
first, second = listed(folder / 'one'), listed(folder / 'two')
ok(first == second and len(first) > 40, 'the second export has the same bytes', sorted(set(first) ^ set(second)))
ok({name: content for name, content in first.items() if name.startswith('files/')} ==
   {name: content for name, content in kept.items() if name.startswith('files/')}, 'and every picture as it was drawn')
answer = run('check', '--replay', '--book', two)
ok(answer.status == 0, 'the book holds together', answer)
attached = [row for row in rows(demo / 'data', 'attachment') if row['sha256']]
first_file = demo / 'data' / 'files' / attached[0]['sha256']
for name, content in first.items():
    if not name.startswith('files/') or name != f'files/{first_file.name}':
        target = folder / 'lacks' / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content)
answer = run('import', folder / 'lacks', '--book', new_book('lacks'))
refuse(answer, 1, 'attachment.csv:', first_file.name, name='a picture that is missing is told, and nothing is stored')

# where it stands
document = run('standing', '--book', two, '--model', 'HF', '--json', *TODAY).json()
c = {criterion['code']: criterion for criterion in document['criteria']}
ok(document['total'] == len(c) and document['met'] == document['total'] - 7 and document['block'] == 3, 'nearly ready: three criteria block',
   document['headline'])
ok({code for code, one in c.items() if one['blocks']} == {'C2', 'C8', 'C15'}, 'the load at slip, the lever and the spring', document['headline'])
codes = {code: {reason['code'] for reason in one['reasons']} for code, one in c.items()}
ok(c['C14']['kind'] == 'fix' and c['C14']['state'] == 'met' and c['C14']['n'] == 59 and c['C14']['failed'] == 0 and c['C14']['strict'],
   'that the lock no longer slips is shown, strictly', c['C14'])
ok(c['C15']['state'] == 'too-few' and c['C15']['failed'] == 0 and c['C15']['n'] == 16 and 'issue-other-mode' in codes['C15'],
   'the spring was not seen to break again, on too few; one stopped by the lever does not count', c['C15'])
ok(c['C15']['units_needed'] == 6 and any('6 more units' in reason['sentence'] for reason in c['C15']['reasons']), 'six more would do', c['C15'])
ok(c['C16']['state'] != 'met' and c['C16']['failed'] == 1 and 'issue-came-back' in codes['C16'] and not c['C16']['blocks'],
   'the lever that sticks came back, which does not block', c['C16'])
ok(any('B-17' in reason['sentence'] for reason in c['C16']['reasons']), 'on B-17', c['C16'])
ok({'A', 'B'} <= set(c['C1']['rounds']) and any('change 10' in reason['sentence'].lower() or '10 Ramp' in reason['sentence']
                                                  for reason in c['C1']['reasons']), 'the engagement counts pilot A, by change 10', c['C1'])
ok('excused' in codes['C1'] and any('B-52' in reason['sentence'] for reason in c['C1']['reasons']), 'the unit that fell is named', c['C1'])
states = {code: c[code]['state'] for code in ('C17', 'C18', 'C19', 'C20', 'C21', 'C22', 'C23')}
ok(states == {'C17': 'met', 'C18': 'met', 'C19': 'too-few', 'C20': 'too-few', 'C21': 'met', 'C22': 'against', 'C23': 'met'},
   'yield, rate, the force gauge and the lock check do, on life too little is known, the hardness tester is not good enough', states)
ok(not any(c[code]['blocks'] for code in states), 'and none of these blocks', states)
said = [gap['sentence'] for gap in document['not_looked_at']]
ok(any('HF-40' in sentence for sentence in said) and any('S-42' in sentence for sentence in said),
   'the bolt without a change and the issue without a test are not looked at', said)

# the Wagtail: what was known when it was released, and what its first series brought
wagtail = ('--model', 'WT', '--json', '--book', two)
released = json.loads(kept[frozen.copy().pop()])
known = run('release', *wagtail, '--through', 'A', '--today', '2025-10-24').json()
told = [[(c['code'], c['state'], c['n'], c['failed']) for c in one['standing']['criteria']] for one in (released, known)]
ok(len(frozen) == 1 and told[0] == told[1] and len(told[0]) == 4 and all(c[1] == 'met' for c in told[0]),
   'what was frozen at its release is what the records of that day say', told)
now = run('release', *wagtail, *TODAY).json()
states = {c['code']: c['state'] for c in now['standing']['criteria']}
ok(states == {'C1': 'met', 'C2': 'met', 'C3': 'met', 'C4': 'too-few'}, 'by the first series the ring is no longer known to lock', states)
series = now['first_series']
tallied = [row for row in rows(demo / 'data', 'tally') if row['model'] == 'WT' and row['round'] == 'S']
last = [row for row in tallied if row['step'] == '60']
good = sum(int(row['good_first']) + int(row['reworked_good']) for row in last)
first = math.prod(sum(int(row['good_first']) for row in tallied if row['step'] == step) / sum(int(row['units_in']) for row in tallied if row['step'] == step)
                  for step in {row['step'] for row in tallied})
ok(series['reached']['good'] == good == 78 and series['reached']['waiting'] == 1, 'good units of the first series are those of its tallies', series['reached'])
ok(abs(series['reached']['rolled']['value'] - first) < 0.02 and series['promised']['rolled'] == {
    'value': released['pilot']['rolled'], 'low': released['pilot']['rolled_low'], 'high': released['pilot']['rolled_high']},
   'its yield is theirs, beside the one that was frozen', (first, series))
ok(series['reached']['month'] < series['promised']['plan'], 'it was slower than promised', series)
ok({(one['issue'], one['in_field']) for one in series['issues']} == {(2, True), (3, False), (4, True)},
   'two issues came back from the field, one was found in the series', series['issues'])
ok(any('came in with files' in ' '.join(row) for row in now['remarks']), 'that the decision came in with files is said', now['remarks'])
text = run('release', '--model', 'WT', '--book', two, *TODAY).out
ok('by what is known now it would not be ready' in text and '\\n' not in text and 'Put the care of the ring' in text,
   'a released model says what stands against it now, and its conditions a line each', text)

# the pilots
pilots = {label: run('pilot', '--book', two, '--model', 'HF', '--through', label, '--json', *TODAY).json() for label in ('A', 'B')}
fitted_first = {}
for row in rows(demo / 'data', 'unit_event'):
    if row['step'] == '50' and row['kind'] == 'passed':
        fitted_first.setdefault(row['unit'], True)
    if row['step'] == '50' and row['kind'] == 'sent back':
        fitted_first[row['unit']] = False
good = {label: sum(first for serial, first in fitted_first.items() if serial.startswith(label)) for label in ('A', 'B')}
ok(good == {'A': 27, 'B': 56}, 'the lever was right the first time on 27 of 40 units, then on 56 of 60', good)
fit = {label: next(step for step in pilots[label]['steps'] if step['position'] == 50) for label in pilots}
ok((fit['A']['first'], fit['A']['n'], fit['B']['first'], fit['B']['n']) == (27, 40, 56, 60), 'which is what the verb counts', fit)
inspected = next(step for step in pilots['B']['steps'] if step['position'] == 70)
ok(inspected['waiting'] == 2, 'two units wait for a new marking', inspected)

# what was changed, and why
changes = {row['no']: row for row in rows(demo / 'data', 'change') if row['model'] == 'HF'}
explained = {(row['part'], row['old_revision'], row['new_revision']) for row in rows(demo / 'data', 'change_item')
             if row['model'] == 'HF' and row['new_revision'] and changes[row['change']]['agreed_on']}
fitted = {}
for row in rows(demo / 'data', 'round_part'):
    if row['model'] == 'HF':
        taken = fitted.setdefault(row['part'], [])
        taken += [row['revision']] if row['revision'] not in taken else []
unexplained = [(part, old, new) for part, taken in fitted.items() for old, new in zip(taken, taken[1:]) if (part, old, new) not in explained]
ok(unexplained == [('HF-40', 'A', 'B')], 'each revision that was fitted is explained by a change, but for the pivot bolt', unexplained)
carried = [row for row in rows(demo / 'data', 'change_effect') if row['effect'] == 'carried over']
ok(carried and all(row['reason'] and row['person'] and row['second_person'] for row in carried), 'what is carried over has a reason and two names', carried)
ok(sum(1 for row in changes.values() if row['withdrawn']) == 1 and sum(1 for row in changes.values() if not row['agreed_on'] and not row['withdrawn']) == 1,
   'one change was withdrawn, one waits', changes)

# history of an issue
answer = run('history', '--book', one, '--json', '--record', 'issue/HF/2')
lines = answer.json()['actions'][0]['lines'] if answer.status == 0 else []
said = {line['field']: line['after'] for line in lines if line['key'] == 'HF/2'}
ok(said.get('title') == 'Lever sticks after some hundred cycles' and said.get('cause_basis') == 'Seen' and said.get('contained') == '2026-05-20',
   'the history of an issue tells field by field how it came in', said)
before = run('standing', '--book', one, '--model', 'HF', '--json', *TODAY).json()
for step in sorted((demo / 'later').iterdir()):
    answer = run('import', step, '--update', '--as', step.name.rpartition('-')[2], '--book', one)
    ok(answer.status == 0, f'what was entered later comes in: {step.name}', answer)
after = run('standing', '--book', one, '--model', 'HF', '--json', *TODAY).json()
ok([(c['code'], c['state']) for c in before['criteria']] == [(c['code'], c['state']) for c in after['criteria']], 'and moves no criterion', after)
actions = run('history', '--book', one, '--json').json()['actions']
ok([action['person'] for action in actions] == ['EH', 'EH', 'LN', 'TK', None], 'the history says who entered it', actions)
newest = run('history', '--book', one, '--json', '--record', 'issue/HF/2').json()['actions'][0]
ok([(line['field'], line['before'][-6:], line['after'][-5:]) for line in newest['lines']] == [('cause', 'there.', 'slot.')],
   'and of an issue what was before and after', newest)
answer = run('undo', '--action', actions[-1]['key'], '--book', one)
ok(answer.status == 1 and 'never undone' in answer.err, 'an import with a sign-off stays', answer)
answer = run('undo', '--action', actions[-2]['key'], '--book', one)
issues = folder / 'undone'
run('export', issues, '--book', one)
ok(answer.status == 0 and [row['cause'] for row in rows(issues, 'issue') if row['no'] == '5'] == [''], 'a step of the day before is taken back alone', answer)
ok(run('check', '--replay', '--book', one).status == 0, 'and the book holds together')

# what changed between two rounds, and what the readings say
compared = ['compare', '--book', two, '--model', 'HF', *TODAY]
document = run(*compared, '--from', 'P1', '--to', 'P3', '--json').json()
ok([(d['code'], d['before']['words'], d['after']['words']) for d in document['differences'] if d['code'] == 'HF-20'] == [('HF-20', 'A', 'C')],
   'between P1 and P3 the lever went from A to C', document['differences'])
ok({change['no'] for change in document['changes']} == {1, 2, 3, 4, 5, 6}, 'by these changes', document['changes'])
ok([d['code'] for d in document['differences'] if d['explained'] == 'no'] == ['HF-40'], 'and the pivot bolt by none', document['differences'])
told = {(effect['characteristic'], effect['way']): effect for effect in document['effects']}
ok(told['LS', 'rounds']['told_apart'] and told['LS', 'rounds']['difference'] > 100 and not told['LS', 'rounds']['put_down_to_the_change'],
   'the load at slip differs, which is not put down to a change', told['LS', 'rounds'])
ok(not told['BC', 'rounds']['told_apart'], 'the centring does not', told['BC', 'rounds'])
text = run(*compared, '--from', 'P1', '--to', 'P3')
ok(text.status == 0 and 'the rounds differ by' in text.out.lower() and all(len(line) <= 100 for line in text.out.splitlines()), 'in words too', text)
document = run(*compared, '--round', 'P3', '--by', 'HF-30', '--json').json()
told = {effect['characteristic']: effect for effect in document['effects']}
ok(told['OF']['told_apart'] and told['OF']['put_down_to_the_change'] and told['OF']['method'] == 'permutation' and told['OF']['low'] > 0,
   'within P3 the peened spring opens harder, and that is put down to the spring', told['OF'])

# A characteristic says how much of its tolerance the gauge takes up, in the words of the studies themselves.
studies = run('gauges', '--book', one, '--model', 'HF', '--json', *TODAY)
document = run('readings', '-c', 'OF', '--book', one, '--model', 'HF', '--json', *TODAY).json()
said = [sentence for sentence in document['sentences'] if 'of the tolerance' in sentence]
own = [study['sentence'] for study in studies.json()['studies'] if study['characteristic'] == 'OF']
ok(len(said) == 1 and said == own and 'Force gauge 1' in said[0],
   'the share of the gauge stands beside the readings', document['sentences'])
document = run('readings', '--book', one, '--model', 'HF', '--json', *TODAY).json()
ok(document['characteristics'][0]['group'] == 'fails' and document['characteristics'][-1]['group'] == 'no-data',
   'the worst characteristic stands first', [c['code'] for c in document['characteristics']])
done()
