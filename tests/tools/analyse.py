#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""analyse.py TOOL BUILD FOLDER...: asks clang-tidy, or gcc's -fanalyzer, about the sources of these folders as BUILD
compiles them, a process a core. Prints what the tool says about a file; exit 1 when it says anything."""
import concurrent.futures
import json
import os
import shlex
import subprocess
import sys

# Options of the build that the analyser must not see: it would follow the sanitizers' own branches.
DROPPED = ('-fsanitize', '-fno-omit-frame-pointer', '-O', '-g', '-MD', '-Winvalid-pch', '-fdiagnostics-color')


def command_of(tool, build, entry):
    if tool == 'clang-tidy':
        return ['clang-tidy', '-quiet', '-p', build, os.path.normpath(os.path.join(entry['directory'], entry['file']))]
    words = iter(shlex.split(entry['command']))
    kept = []
    for word in words:
        if word in ('-MQ', '-MF', '-o'):
            next(words)
        elif not word.startswith(DROPPED) and word not in ('ccache', 'gcc', 'cc'):
            kept.append(word)
    return ['gcc', '-fanalyzer', '-Werror', '-O1', '-o', '/dev/null', *kept]


def ask(tool, build, entry):
    done = subprocess.run(command_of(tool, build, entry), cwd=entry['directory'], capture_output=True, text=True)
    said = done.stdout + done.stderr if done.returncode else ''
    return entry['file'].replace('../', ''), said


def main():
    tool, build, *folders = sys.argv[1:]
    build = os.path.abspath(build)
    with open(os.path.join(build, 'compile_commands.json'), encoding='utf-8') as file:
        entries = [entry for entry in json.load(file) if entry['file'].startswith(tuple(f'../{name}/' for name in folders))]
    wrong = 0
    with concurrent.futures.ThreadPoolExecutor(len(os.sched_getaffinity(0))) as pool:
        for name, said in pool.map(lambda entry: ask(tool, build, entry), entries):
            if said:
                wrong += 1
                print(f'{name}:\n{said}')
    print(f'{tool}: {len(entries)} files, {wrong} with findings')
    return 1 if wrong or not entries else 0


if __name__ == '__main__':
    sys.exit(main())
