#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""No text for people claims more than evidence can: looks at every string of src/ and ui/ that is marked for
translation, and at the manual page."""
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
STRING = re.compile(r'"((?:[^"\\]|\\.)*)"')
CALL = re.compile(r'\b(?:_|N_|C_|NC_|ngettext|N_PLURAL) ?\(')
FORBIDDEN = [
    (r'significan', 'say how sure, with n'), (r'\bsafe\b|\bsafely\b', 'no figure shows that'),
    (r'zero defects?', 'say "no failure in n units"'), (r'no difference', 'say what could not be told apart, with n'),
    (r'improved by', 'rounds differ by'), (r'\bp ?[=<] ?0', 'a p-value never stands alone'),
    (r'\bproven\b(?! at %s on %u)', 'say n and confidence'), (r'\bguaranteed?\b', 'nothing is'), (r'normally distributed|is normal\b', 'not after a test'),
]
# Words of a record's choices and of their descriptions: what a person states, not what the program claims.
STATED = {'src/book/book-choices.c', 'src/book/book-fields-issue.c', 'src/book/book-fields-gate.c'}


def strings(path):
    text = path.read_text()
    if path.suffix == '.ui':
        for found in re.finditer(r'translatable="yes"[^>]*>([^<]*)<', text):
            yield text.count('\n', 0, found.start()) + 1, found.group(1)
        return
    for call in CALL.finditer(text):
        position, said = call.end(), []
        while True:
            found = re.compile(r'[\s,]*').match(text, position)
            position = found.end()
            found = STRING.match(text, position)
            if not found:
                break
            said.append(found.group(1))
            position = found.end()
        if said:
            yield text.count('\n', 0, call.start()) + 1, ''.join(said)


looked, bad = 0, []
paths = [p for folder in ('src', 'ui') for p in sorted((root / folder).rglob('*')) if p.suffix in ('.c', '.h', '.ui')]
for path in paths:
    name = str(path.relative_to(root))
    for line, said in strings(path):
        looked += 1
        for pattern, instead in FORBIDDEN:
            if name not in STATED and re.search(pattern, said, re.I):
                bad.append(f'{name}:{line}: "{said}": {instead}')
for number, line in enumerate((root / 'data/man/fettle-batch.1').read_text().splitlines(), 1):
    looked += 1
    for pattern, instead in FORBIDDEN:
        if re.search(pattern, line, re.I):
            bad.append(f'data/man/fettle-batch.1:{number}: "{line}": {instead}')

# The look finds what it looks for.
probe = root / 'tests/present/forbidden-words-probe.txt'
seen = {pattern for pattern, _ in FORBIDDEN for line in probe.read_text().splitlines() if re.search(pattern, line, re.I)}
print('1..3')
print(f'{"ok" if looked > 300 else "not ok"} 1 texts are found ({looked})')
print(f'{"ok" if len(seen) == len(FORBIDDEN) else "not ok"} 2 each forbidden word is recognised')
for line in bad:
    print(f'# {line}')
print(f'{"not ok" if bad else "ok"} 3 no text claims too much')
sys.exit(1 if bad or looked <= 300 or len(seen) != len(FORBIDDEN) else 0)
