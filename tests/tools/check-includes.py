#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds the includes of src/ against the table of src/README.md: arrows point down only."""
import pathlib
import re
import sys

root = pathlib.Path(__file__).resolve().parents[2]
src = root / 'src'
allowed = {}
for line in (src / 'README.md').read_text().splitlines():
    cells = [cell.strip() for cell in line.strip().strip('|').split('|')]
    if line.startswith('|') and len(cells) == 4 and cells[0] not in ('folder', '---'):
        allowed[cells[0]] = set(cells[1].split())

home = {}
problems = []
for path in sorted(src.rglob('*.h')):
    folder = path.relative_to(src).parts[0]
    if path.name in home:
        problems.append(f'{path.relative_to(root)}: a header of this name stands in {home[path.name]} too')
    home[path.name] = folder

# library headers that may be named only where the table of design says so
only = {
    'sqlite3.h': {'store', 'book'},
    'gtk/gtk.h': {'window'},
    'json-glib/json-glib.h': {'present', 'batch', 'insight', 'window'},
    'csv.h': {'exchange'},
    'gdk-pixbuf/gdk-pixbuf.h': {'exchange', 'paper'},
    'cairo.h': {'chart', 'window', 'present', 'paper'},
}
for path in sorted([*src.rglob('*.c'), *src.rglob('*.h')]):
    folder = path.relative_to(src).parts[0]
    where = path.relative_to(root)
    if folder not in allowed:
        problems.append(f'{where}: src/README.md does not know the folder {folder}')
        continue
    for number, line in enumerate(path.read_text().splitlines(), 1):
        found = re.match(r'\s*#\s*include\s+([<"])([^>"]+)[>"]', line)
        if not found:
            continue
        name = found.group(2)
        if '/' in name and found.group(1) == '"':
            problems.append(f'{where}:{number}: "{name}" names a folder; headers are included by name alone')
        target = home.get(name)
        if target and target != folder:
            if target not in allowed[folder]:
                problems.append(f'{where}:{number}: {folder} must not include {name} of {target}')
            if name.endswith('-private.h'):
                problems.append(f'{where}:{number}: {name} is private to {target}')
        if name in only and folder not in only[name]:
            problems.append(f'{where}:{number}: {name} is not for {folder}')
        if name == 'Rmath.h' and path.name != 'num-dist.c':
            problems.append(f'{where}:{number}: only num-dist.c speaks to libRmath')
for line in problems:
    print(line)
print(f'{len(home)} headers, {len(problems)} includes in the wrong direction')
sys.exit(1 if problems else 0)
