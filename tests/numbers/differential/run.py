#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""run.py CALCULATOR [COUNT [SEED]]: asks the calculator COUNT new random cases a method and compares with R and SciPy.

Speaks TAP. The kept cases in tests/data/differential were made by reference.R and reference.py with 200 and seed 1."""
import glob
import json
import math
import os
import shutil
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))


def near(expected, got, tolerance):
    if isinstance(expected, list):
        return isinstance(got, list) and len(got) == len(expected) and all(map(lambda e, g: near(e, g, tolerance), expected, got))
    if isinstance(expected, (int, float)) and not isinstance(expected, bool):
        if not isinstance(got, (int, float)) or isinstance(got, bool) or not math.isfinite(got):
            return False
        return abs(got - expected) <= max(tolerance["abs"], tolerance["rel"] * abs(expected)) + 4e-16 * abs(expected)
    return expected == got and type(expected) is type(got)


def differences(calculator, path):
    with open(path, encoding="utf-8") as file:
        cases = [json.loads(line) for line in file]
    text = "".join(json.dumps(dict(case["input"], id=case["id"])) + "\n" for case in cases)
    done = subprocess.run([calculator], input=text.encode(), stdout=subprocess.PIPE)
    answers = [json.loads(line) for line in done.stdout.decode().splitlines()]
    if len(answers) != len(cases):
        return len(cases), ["%d answers to %d questions" % (len(answers), len(cases))]
    wrong = []
    for case, answer in zip(cases, answers):
        bad = [key for key, value in case["expect"].items() if not near(value, answer.get(key), case["tolerance"]["*"])]
        if bad:
            wrong.append("%s: %s: expected %s, got %s, asked %s" % (
                case["id"], bad[0], case["expect"][bad[0]], answer.get(bad[0], answer.get("error")), json.dumps(case["input"])))
    return len(cases), wrong


def scipy_python():
    for python in (sys.executable, "/usr/bin/python3"):
        if os.path.exists(python) and subprocess.run([python, "-c", "import scipy"], stderr=subprocess.DEVNULL).returncode == 0:
            return python
    return None


def main():
    calculator, count, seed = sys.argv[1], sys.argv[2] if len(sys.argv) > 2 else "2000", sys.argv[3] if len(sys.argv) > 3 else "2"
    python, r = scipy_python(), shutil.which("Rscript")
    if python is None or r is None:
        print("1..0 # SKIP R and SciPy are not both installed")
        return 0
    failed = 0
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([r, os.path.join(HERE, "reference.R"), count, seed, folder], check=True, stdout=subprocess.DEVNULL)
        subprocess.run([python, os.path.join(HERE, "reference.py"), count, seed, folder], check=True)
        paths = sorted(glob.glob(os.path.join(folder, "*.jsonl")))
        print("1..%d" % len(paths))
        for number, path in enumerate(paths, 1):
            cases, wrong = differences(calculator, path)
            for line in wrong[:5]:
                print("# " + line[:600])
            print("%sok %d /numbers/differential/%s %d of %d agree" % (
                "not " if wrong else "", number, os.path.basename(path)[:-6], cases - len(wrong), cases))
            failed += bool(wrong)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
