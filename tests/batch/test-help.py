#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The help of the program and the manual page name the same verbs and options."""
import pathlib
import re

from batch_tap import done, ok, refuse, run

VERBS = ['new', 'fields', 'import', 'sheet', 'export', 'standing', 'readings', 'issues', 'compare', 'pilot', 'leadtime', 'forecast', 'release', 'gauges', 'life', 'plan', 'chart', 'paper', 'letter', 'pack', 'history', 'undo', 'redo', 'check', 'calc']
page = (pathlib.Path(__file__).resolve().parents[2] / 'data' / 'man' / 'fettle-batch.1').read_text()
page = page.replace('\\-', '-').replace('\\&', '')

overview = run('--help')
listed = re.findall(r'^  ([a-z]+) ', overview.out, re.M)
ok(overview.status == 0 and overview.err == '' and listed == VERBS, 'help lists every verb', overview)
ok(all(len(line) <= 100 for line in overview.out.splitlines()), 'help fits 100 columns', overview)

verbs_of_page = page[page.index('.SH VERBS'):page.index('.SH OPTIONS')]
for verb in VERBS:
    answer = run(verb, '--help')
    options = set(re.findall(r'--([a-z-]+)', answer.out[answer.out.index('Options:'):]))
    ok(answer.status == 0 and f' {verb}' in answer.out.splitlines()[1] and '(null)' not in answer.out,
       f'{verb} has help of its own', answer)
    ok(re.search(rf'^\.(B|BI|BR) .*\b{verb}\b', verbs_of_page, re.M) is not None, f'the manual page has {verb}')
    missing = sorted(option for option in options if f'--{option}' not in page)
    ok(not missing, f'the manual page has every option of {verb}', missing)

known = set()
for verb in VERBS:
    known |= set(re.findall(r'--([a-z-]+)', run(verb, '--help').out))
extra = sorted(set(re.findall(r'--([a-z-]+)', page)) - known)
ok(not extra, 'the manual page names no option that is not there', extra)

version = run('--version')
ok(version.status == 0 and re.fullmatch(r'fettle-batch \d+\.\d+\.\d+\n', version.out), 'version is one line', version)
refuse(run(), 2, 'No verb', name='no verb is wrong usage')
refuse(run('standng'), 2, "'standng'", "'standing'", name='an unknown verb is wrong usage and names the nearest')
refuse(run('qqqqqqqqq'), 2, 'lists the verbs', name='a verb like no other is wrong usage too')
refuse(run('hub'), 2, 'There is no verb', name='a verb of a later version is unknown, not a stub')
refuse(run('new', '--replay', 'x'), 2, '--replay', name='an option of another verb is refused')
refuse(run('standing', '--book'), 2, '--book', name='an option without its value is refused')
refuse(run('standing', '--today', '2026-02-30', '--book', 'x'), 2, '2026-02-30', name='a date that does not exist is refused')
refuse(run('standing', '--today', '1 March', '--book', 'x'), 2, '1 March', name='a date in other words is refused')
refuse(run('new'), 2, name='too few arguments are refused')
refuse(run('new', 'a', 'b'), 2, name='too many arguments are refused')
refuse(run('standing'), 2, '--book', name='a verb that needs a book says so')
refuse(run('fields', 'redaing'), 2, "'reading'", name='an unknown record names the nearest')
refuse(run('chart'), 2, '--list', name='a chart without its kind says where the kinds are')
refuse(run('chart', 'scroe', '-o', 'x.png'), 2, "'score'", name='an unknown chart names the nearest')
refuse(run('chart', 'score'), 2, '-o', name='a chart without a file says so')
refuse(run('chart', 'score', '-o', 'x.png', '--size', 'big'), 2, 'big', name='a size that is none is refused')
refuse(run('chart', 'score', '-o', 'x.png', '--look', 'neon'), 2, 'neon', name='an unknown look is refused')
refuse(run('compare', '--book', 'x'), 2, '--from', '--round', name='a comparison of nothing says what it needs')
refuse(run('compare', '--from', 'P1', '--book', 'x'), 2, '--to', name='a comparison with one end is refused')
refuse(run('compare', '--from', 'P1', '--to', 'P2', '--by', 'L', '--book', 'x'), 2, '--round', name='a part does not divide two rounds')
refuse(run('compare', '--round', 'P1', '--old', 'A', '--book', 'x'), 2, '--new', name='one group alone is refused')
refuse(run('compare', '--from', 'P1', '--to', 'P2', '--through', 'P3', '--book', 'x'), 2, '--through', name='a comparison has its own end')
refuse(run('letter', '-o', 'x.pdf'), 2, '--for', name='a letter to nobody is refused')
refuse(run('letter', '--for', 'press', '-o', 'x.pdf'), 2, "'press'", 'designer, supplier', name='a letter to anybody else is refused')
refuse(run('letter', '--for', 'supplier', '-o', 'x.pdf'), 2, '--supplier', name='a letter to no supplier by name is refused')
refuse(run('letter', '--for', 'designer'), 2, '-o', name='a letter without a file says so')
refuse(run('letter', '--for', 'designer', '-o', 'x.doc'), 2, "'x.doc'", '.pdf', name='a letter in another form is refused')
refuse(run('history', '--from', 'yesterday', '--book', 'x'), 2, 'yesterday', name='a wrong date of the history is refused')
refuse(run('undo', '--action', 'last', '--book', 'x'), 2, "'last'", name='a key that is none is refused')
kinds = run('chart', '--list')
ok(kinds.status == 0 and [line.split()[0] for line in kinds.out.splitlines()] == ['characteristic', 'distribution', 'effect', 'forecast', 'growth', 'individuals', 'issues', 'leadtime', 'life', 'losses', 'rate', 'score', 'strip',
                                                                                'wall', 'yield'],
   'chart --list names the kinds', kinds)
ok(run('--json', 'fields', 'unit').json()['records'][0]['name'] == 'unit', 'shared options may stand before the verb')
done()
