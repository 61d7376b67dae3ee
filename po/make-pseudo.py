#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes a language that nobody speaks from the program's own English, to see what a translation would break.

make-pseudo.py SOURCE_ROOT POTFILES OUTPUT.mo FOLDER (where gettext looks for it): letters get accents, texts grow by a third and stand in brackets, so
that a text without brackets was never marked for translation and a cut one misses its end. Placeholders, markup,
mnemonics and entities stay as they are.
"""
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ACCENTS = str.maketrans('aceinosuyzACEINOSUYZ', 'àçéîñöšüýžÀÇÉÎÑÖŠÜÝŽ')
KEPT = re.compile(r'(%(?:\d+\$)?[-+ #0]*\d*(?:\.\d+)?(?:hh|h|ll|l|z|j)?[a-zA-Z%]|<[^<>]*>|&\w+;|_\w|\\.|\{[^{}]*\})')
KEYWORDS = ['_', 'N_', 'C_:1c,2', 'NC_:1c,2', 'ngettext:1,2', 'N_PLURAL:1,2', 'g_dngettext:2,3']


def stretched(text):
    """One message of the pseudo-language; the same text always gives the same one."""
    if not text.strip():
        return text
    body = ''.join(part if KEPT.fullmatch(part) else part.translate(ACCENTS) for part in KEPT.split(text) if part)
    more = max(1, round(len(text) * 0.3) - 2)
    ending = '\n' if body.endswith('\n') else ''
    return '[' + body.rstrip('\n') + ' ' + '·' * more + ']' + ending


def quoted(text):
    for plain, escaped in (('\\', '\\\\'), ('"', '\\"'), ('\n', '\\n'), ('\t', '\\t')):
        text = text.replace(plain, escaped)
    return '"' + text + '"'


def unquoted(lines):
    text = ''.join(line[1:-1] for line in lines)
    return re.sub(r'\\(.)', lambda found: {'n': '\n', 't': '\t'}.get(found.group(1), found.group(1)), text)


def entries(pot):
    """(context, message, plural) of each entry of a template."""
    fields, current = {}, None
    for line in pot.splitlines() + ['']:
        found = re.match(r'(msgctxt|msgid_plural|msgid|msgstr(?:\[\d\])?) (".*")$', line)
        if found:
            current = found.group(1)
            fields[current] = [found.group(2)]
        elif line.startswith('"') and current:
            fields[current].append(line)
        elif not line:
            if 'msgid' in fields:
                yield tuple(unquoted(fields[key]) if key in fields else None
                            for key in ('msgctxt', 'msgid', 'msgid_plural'))
            fields, current = {}, None


def main():
    root, potfiles, output, place = (Path(word) for word in sys.argv[1:])
    files = [line for line in potfiles.read_text().splitlines() if line and not line.startswith('#')]
    with tempfile.TemporaryDirectory() as folder:
        pot, po = Path(folder) / 'all.pot', Path(folder) / 'pseudo.po'
        subprocess.run(['xgettext', '--from-code=UTF-8', '-o', pot, f'--directory={root}', '--add-comments']
                       + [f'--keyword={word}' for word in KEYWORDS] + files, check=True)
        out = ['msgid ""', 'msgstr "Language: en_XA\\nContent-Type: text/plain; charset=UTF-8\\n'
               'Plural-Forms: nplurals=2; plural=n != 1;\\n"', '']
        for context, message, plural in entries(pot.read_text()):
            if not message:
                continue
            if context is not None:
                out.append('msgctxt ' + quoted(context))
            out.append('msgid ' + quoted(message))
            if plural is None:
                out.append('msgstr ' + quoted(stretched(message)))
            else:
                out += ['msgid_plural ' + quoted(plural), 'msgstr[0] ' + quoted(stretched(message)),
                        'msgstr[1] ' + quoted(stretched(plural))]
            out.append('')
        po.write_text('\n'.join(out))
        subprocess.run(['msgfmt', '-o', output, po], check=True)
    place.mkdir(parents=True, exist_ok=True)
    shutil.copy(output, place / 'fettle.mo')


main()
