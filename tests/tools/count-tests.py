#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""count-tests.py JUNIT STATUS: a line 'suite seconds passed failed' for each suite of a meson test run.

Which programs ran and how each ended is read from testlog.json beside JUNIT, which alone knows a program that broke off; their
subtests from JUNIT. A program that broke off, timed out or ran nothing counts as one failure, whatever its subtests said."""
import json
import os
import re
import sys
import xml.etree.ElementTree as ET
from collections import defaultdict

path, status = sys.argv[1], int(sys.argv[2])
seconds, good, bad = defaultdict(float), defaultdict(int), defaultdict(int)
try:
    subtests = {suite.get('name', ''): list(suite.iter('testcase')) for suite in ET.parse(path).getroot().iter('testsuite')}
    with open(os.path.join(os.path.dirname(path), 'testlog.json'), encoding='utf-8') as file:
        programs = [json.loads(line) for line in file]
except (OSError, ET.ParseError, json.JSONDecodeError):
    print('broken 0 0 1')
    sys.exit()

for program in programs:
    name = program['name']
    found = re.search(r':([^ /]+)', name)
    label = found.group(1) if found else 'commands'
    seconds[label] += float(program.get('duration') or 0)
    if program['result'] == 'SKIP':
        continue
    # meson names the suite of a TAP program 'project.NAME'; what is no TAP is itself one case
    cases = next((cases for suite, cases in subtests.items() if suite.endswith('.' + name)), None)
    ended_well = program['result'] == 'OK'
    if cases is None:
        good[label] += ended_well
        bad[label] += not ended_well
        continue
    wrong = sum(1 for case in cases if case.find('failure') is not None or case.find('error') is not None)
    skipped = sum(1 for case in cases if case.find('skipped') is not None)
    good[label] += len(cases) - wrong - skipped
    bad[label] += max(wrong, 0 if ended_well and cases else 1)
if status != 0 and not sum(bad.values()):
    bad['programs'] += 1
for label in sorted(set(good) | set(bad)):
    print(label.replace(' ', '_'), round(seconds[label]), good[label], bad[label])
