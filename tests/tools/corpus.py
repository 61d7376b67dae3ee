#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""corpus.py unpack FILE FOLDER | pack FOLDER FILE: the kept inputs of a fuzzer, a line each in FILE, a file each in
FOLDER. Lines of a .jsonl file are taken as they are; in others a byte that is no plain letter is written \\xHH.

To keep what a fuzzer has learned: let it merge into an empty folder (-merge=1 -use_counters=0), then pack that."""
import os
import re
import sys


def to_line(data):
    return re.sub(rb'[^ -\[\]-~]', lambda found: b'\\x%02x' % found.group()[0], data)


def from_line(line, plain):
    return line if plain else re.sub(rb'\\x(..)', lambda found: bytes.fromhex(found.group(1).decode()), line)


def main():
    way, source, target = sys.argv[1:]
    if way == 'unpack':
        os.makedirs(target, exist_ok=True)
        with open(source, 'rb') as file:
            for number, line in enumerate(file.read().split(b'\n')[:-1]):
                with open(os.path.join(target, f'{number:04}'), 'wb') as one:
                    one.write(from_line(line, source.endswith('.jsonl')))
    else:
        lines = set()
        for name in os.listdir(source):
            with open(os.path.join(source, name), 'rb') as one:
                lines.add(to_line(one.read()))
        with open(target, 'wb') as file:
            file.write(b''.join(line + b'\n' for line in sorted(lines, key=lambda line: (len(line), line))))


if __name__ == '__main__':
    main()
