#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Verbs without a book: fields and calc; and what becomes of results that nobody takes."""
import json
import subprocess

from batch_tap import done, environment, ok, program, refuse, run

whole = run('fields')
document = whole.json()
records = {record['name']: record for record in document['records']}
ok(whole.status == 0 and document['version'] == 1, 'fields prints a document with a version')
ok({'person', 'model', 'hazard', 'part', 'revision', 'lot', 'characteristic', 'limit', 'depends', 'round', 'round_part',
    'unit', 'unit_part', 'unit_event', 'reading', 'gate', 'criterion', 'criterion_term', 'document', 'attachment',
    'holiday', 'setting', 'supplier', 'step', 'step_setting', 'gauge', 'finding', 'signoff'} <= set(records),
   'fields describes every record')
order = [record['name'] for record in document['records']]
late = [(record['name'], reference['refers']) for record in document['records'] for reference in record['references']
        if reference['refers'] != record['name'] and order.index(reference['refers']) > order.index(record['name'])]
ok(not late, 'what is referred to comes before', late)
unknown = [(record['name'], column['name']) for record in document['records'] for column in record['columns']
           if 'refers' in column and column['refers']['record'] not in records]
ok(not unknown, 'references name known records', unknown)
reading = {column['name']: column for column in records['reading']['columns']}
ok(reading['value']['kind'] == 'real' and reading['value']['min'] < reading['value']['max'], 'a number has bounds')
ok([choice['text'] for choice in reading['mark']['choices']] == ['measured', 'above', 'below', 'passed', 'failed'],
   'a choice has its words')
ok(next(r for r in records['reading']['references'] if r['field'] == 'unit')['by'] == ['model', 'round', 'unit'],
   'a reference says by which visible key')
one = run('fields', 'reading')
ok(one.json()['records'] == [records['reading']], 'fields RECORD prints that record alone')
ok(run('fields', '--json').out == whole.out, 'fields prints JSON with and without --json')

# Exact: one failure in two, and the success run 22 at 0.9 (Clopper and Pearson without failure: 1 - 0.9^22).
lines = [{'id': 'a', 'method': 'demonstration', 'reliability': 0.9, 'failures': 0, 'units': 22},
         {'id': 'b', 'method': 'nothing'},
         {'id': 'c', 'method': 'proportion', 'k': 1, 'n': 2, 'confidence': 0.9}]
answer = run('calc', stdin='\n'.join(map(json.dumps, lines)) + '\n')
got = [json.loads(line) for line in answer.out.splitlines()]
ok([line['id'] for line in got] == ['a', 'b', 'c'], 'calc answers in order', answer)
ok(abs(got[0]['confidence'] - (1 - 0.9 ** 22)) < 1e-12, 'calc computes', answer)
ok('error' in got[1] and answer.status == 1, 'calc goes on after an error and ends with 1', answer)
ok(run('calc').status == 0, 'calc without input is done')

# Questions that libRmath 4.2.2 answers with a warning of its own: a noncentral t at 0 whose chance is nearly 1, and the
# logarithm of a beta probability below every number.
hard = [{'method': 'conformance', 'n': 10, 'mean': 0, 'sd': 1, 'lower': 0, 'coverage': 1e-6},
        {'method': 'anytime', 'failed': 10 ** 9 - 6, 'units': 10 ** 9, 'tolerated': 1e-6}]
answer = run('calc', stdin='\n'.join(map(json.dumps, hard)) + '\n')
ok(answer.err == '' and len(answer.out.splitlines()) == 2, "no warning of a library reaches the terminal", answer)

with open('/dev/full', 'wb') as full:
    done_full = subprocess.run([program, 'fields'], stdout=full, stderr=subprocess.PIPE, env=environment, check=False)
ok(done_full.returncode == 1 and b'could not be written' in done_full.stderr, 'a full disk below the results is told',
   done_full.stderr)
closed = subprocess.Popen([program, 'fields'], stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=environment)
closed.stdout.close()
err = closed.stderr.read()
ok(closed.wait() == 0 and err == b'', 'a reader that went away is no error', err)
shut = subprocess.run(['sh', '-c', 'exec "$0" fields >&-', program], stderr=subprocess.PIPE, env=environment, check=False)
ok(shut.returncode == 1 and b'Standard output is closed' in shut.stderr, 'closed standard output is told', shut.stderr)
refuse(run('fields', 'unit', 'lot'), 2, name='fields takes one record')
done()
