#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""check-potfiles.py SOURCE_ROOT: every file with a text for people stands in po/POTFILES, and no other; and gettext finds
each of these texts whole: it knows <inttypes.h>'s PRIu64 and the like between two pieces, GLib's G_GUINT64_FORMAT ends it."""
import re
import sys
from pathlib import Path

root = Path(sys.argv[1])
MARKED = re.compile(r'\b(?:_|N_|C_|NC_|ngettext|g_dngettext) ?\("|translatable="yes"')
CUT = re.compile(r'\b(?:_|N_|C_|NC_|ngettext|N_PLURAL|g_dngettext) ?\((?:[\s,]*"(?:[^"\\]|\\.)*")*\s*G_\w+')
listed = {line for line in (root / 'po/POTFILES').read_text().splitlines() if line and not line.startswith('#')}
found = {str(path.relative_to(root)) for folder in ('src', 'ui') for path in (root / folder).rglob('*')
         if path.suffix in ('.c', '.h', '.ui') and MARKED.search(path.read_text())}
found |= {str(path.relative_to(root)) for path in (root / 'data').glob('*.in')}
for name in sorted(found - listed):
    print(f'{name} holds texts and is missing in po/POTFILES')
for name in sorted(listed - found):
    print(f'po/POTFILES names {name}, which is not there or holds no text')
cut = 0
for path in sorted((root / 'src').rglob('*.[ch]')):
    text = path.read_text()
    for match in CUT.finditer(text):
        cut += 1
        print(f'{path.relative_to(root)}:{text.count(chr(10), 0, match.end()) + 1}: gettext would cut the text here')
sys.exit(found != listed or cut > 0)
