#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
# Computes the journal's digests anew, from the description in store-chain.c alone and with another language's SHA-256,
# zlib and SQLite, and compares. Arguments: the program that makes the file.
import hashlib
import os
import sqlite3
import struct
import subprocess
import sys
import tempfile
import zlib


def integer(value):
    return struct.pack('>q', value)


def text(value):
    raw = value.encode()
    return integer(len(raw)) + raw


def entry_hash(e, a, digest):
    return hashlib.sha256(
        text('fettle-entry-1')
        + b''.join(integer(n) for n in (e['origin'], e['number'], a['id'], a['kind'], a['reverses'], a['sitting'], a['person']))
        + text(a['time']) + text(a['message']) + text(a['arguments'])
        + integer(e['schema']) + integer(e['size']) + digest).digest()


def main():
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, 'a.tray')
        subprocess.run([sys.argv[1], path, os.path.join(folder, 'state')], check=True)
        db = sqlite3.connect(path)
        db.row_factory = sqlite3.Row
        entries = db.execute('SELECT * FROM entry ORDER BY place').fetchall()
        packings = set()
        kinds = set()
        wrong = []
        previous = bytes(32)
        for place, e in enumerate(entries, 1):
            a = db.execute('SELECT * FROM action WHERE id = ?', (e['action'],)).fetchone()
            p = db.execute('SELECT * FROM payload WHERE place = ?', (place,)).fetchone()
            raw = zlib.decompress(p['bytes']) if p['packing'] == 1 else p['bytes']
            digest = hashlib.sha256(raw).digest()
            own = entry_hash(e, a, digest)
            previous = hashlib.sha256(previous + own).digest()
            packings.add(p['packing'])
            kinds.add(a['kind'])
            if (e['place'], e['number'], e['size'], e['digest'], e['entry_hash'], e['place_hash']) != \
                    (place, place, len(raw), digest, own, previous):
                wrong.append(place)
        arguments = db.execute("SELECT arguments FROM action WHERE message = 'items-filled' AND kind = 0").fetchone()[0]
        db.close()

    checks = [
        ('/store/chain/every-digest-is-as-described', len(entries) == 7 and not wrong),
        ('/store/chain/both-packings-and-all-kinds-were-seen', packings == {0, 1} and kinds == {0, 1, 2}),
        ('/store/chain/arguments-are-words-and-numbers', arguments == 'box:7 count:40'),
    ]
    print('1..%d' % len(checks))
    for number, (name, ok) in enumerate(checks, 1):
        print('%s %d %s' % ('ok' if ok else 'not ok', number, name))
    if wrong:
        print('# wrong places:', wrong)
    return 0 if all(ok for _, ok in checks) else 1


sys.exit(main())
