#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Small rules of the house: licence line, no tabs, no trailing blanks, no forgotten marks, no SQL above src/book,
no drawing outside src/chart, files of one subject."""
import pathlib
import re
import subprocess
import sys

root = pathlib.Path(__file__).resolve().parents[2]
listed = subprocess.run(['git', 'ls-files'], cwd=root, capture_output=True, text=True)
names = listed.stdout.split() if listed.returncode == 0 else [
    str(p.relative_to(root)) for p in root.rglob('*') if p.is_file() and not p.relative_to(root).parts[0].startswith(('build', '.git'))]
problems = []
code = ('.c', '.h', '.py', '.sql', '.css')
for name in names:
    path = root / name
    if not path.is_file():
        continue
    scripts = path.suffix == '' and path.read_bytes()[:2] == b'#!'
    if path.suffix not in code + ('.ui', '.build', '.md') and not scripts and path.name != 'meson.build':
        continue
    text = path.read_text()
    lines = text.splitlines()
    if (path.suffix in code or scripts or path.name == 'meson.build') and not any('SPDX-License-Identifier: GPL-3.0-or-later' in l for l in lines[:4]):
        problems.append(f'{name}:1: the licence line is missing')
    if name == 'tests/tools/check-style.py':
        continue
    for number, line in enumerate(lines, 1):
        where = f'{name}:{number}'
        if path.suffix in ('.c', '.h'):
            if '\t' in line:
                problems.append(f'{where}: a tab')
            if re.search(r'\b(TODO|FIXME|XXX|HACK)\b', line):
                problems.append(f'{where}: a deferred thing belongs in the list of issues')
            if name.startswith('src/') and not name.startswith(('src/store/', 'src/book/')) and re.search(
                    r'"\s*(SELECT|INSERT INTO|UPDATE \w+ SET|DELETE FROM|PRAGMA) ', line):
                problems.append(f'{where}: SQL stands only in src/store and src/book')
            if name.startswith('src/') and not name.startswith(('src/chart/', 'src/paper/paper-document-draw.c')) and re.search(r'\bcairo_(line_to|move_to|arc|stroke|fill|rectangle)\b', line):
                problems.append(f'{where}: drawing stands only in src/chart, and on pages in paper-document-draw.c')
            if name.startswith('src/window/') and re.search(r'tooltip-text|set_tooltip_text', line):
                problems.append(f'{where}: tooltips are set by fettle_tip_set(), which does not wait for the display')
        if path.suffix != '.md' and line != line.rstrip():
            problems.append(f'{where}: blanks at the end of the line')
    if path.suffix == '.c' and name.startswith('src/') and len(lines) > 700 and 'Length:' not in text[:2000]:
        problems.append(f'{name}: {len(lines)} lines hold more than one subject (or say why in a line "Length: ...")')
for line in problems:
    print(line)
print(f'{len(names)} files, {len(problems)} breaches')
sys.exit(1 if problems else 0)
