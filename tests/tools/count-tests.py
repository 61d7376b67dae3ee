#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""count-tests.py JUNIT STATUS: a line 'suite seconds passed failed' for each suite of a meson test run.

A test program that broke off, timed out or ran nothing counts as one failure, whatever its subtests said."""
import re
import sys
import xml.etree.ElementTree as ET
from collections import defaultdict

path, status = sys.argv[1], int(sys.argv[2])
seconds, good, bad = defaultdict(float), defaultdict(int), defaultdict(int)
try:
    suites = list(ET.parse(path).getroot().iter('testsuite'))
except (OSError, ET.ParseError):
    print('broken 0 0 1')
    sys.exit()

for suite in suites:
    name = suite.get('name', '')
    cases = list(suite.iter('testcase'))
    # meson writes 'project.project:suite / program' for TAP; for what is no TAP 'project', and the rest with the case
    found = re.search(r':([^ /]+)', name) or (cases and re.search(r':([^ /]+)', cases[0].get('name', '')))
    label = found.group(1) if found else 'commands'
    seconds[label] += sum(float(case.get('time') or 0) for case in cases) or float(suite.get('time') or 0)
    wrong = sum(1 for case in cases if case.find('failure') is not None or case.find('error') is not None)
    skipped = sum(1 for case in cases if case.find('skipped') is not None)
    broken = int(suite.get('errors') or 0)
    good[label] += max(0, len(cases) - wrong - skipped)
    bad[label] += max(wrong, broken)
    if not cases:
        bad[label] += 1
if status != 0 and not sum(bad.values()):
    bad['programs'] += 1
for label in sorted(set(good) | set(bad)):
    print(label.replace(' ', '_'), round(seconds[label]), good[label], bad[label])
