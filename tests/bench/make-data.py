#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""make-data.py FOLDER: writes the data of the speed cases as RECORD.csv files, the same every time.

FOLDER/big/shop        50 models: all records but the readings
FOLDER/big/readings    their readings, 20,000 each, a million rows, shuffled
FOLDER/stress/...      one model of 100,000 readings
FOLDER/small/...       one model of 10,000 readings
FOLDER/paste.tsv       a measuring sheet of 250 units by 40 characteristics: 10,000 readings

Everything is drawn from a fixed seed and means nothing.
"""

import csv
import math
import os
import random
import sys

SEED = 20260301

ROUNDS = [  # label, kind, share of the units, dates from opened to decided, revision letter
    ('P1', 'prototype', 0.10, ('2026-01-05', '2026-01-09', '2026-01-23', '2026-01-28', '2026-02-04', '2026-02-06'), 'A'),
    ('P2', 'prototype', 0.15, ('2026-02-09', '2026-02-13', '2026-02-27', '2026-03-04', '2026-03-11', '2026-03-13'), 'B'),
    ('P3', 'prototype', 0.15, ('2026-03-16', '2026-03-20', '2026-04-03', '2026-04-08', '2026-04-15', '2026-04-17'), 'C'),
    ('A', 'pilot', 0.25, ('2026-04-20', '2026-04-24', '2026-05-08', '2026-05-13', '2026-05-20', '2026-05-22'), 'C'),
    ('B', 'pilot', 0.35, ('2026-05-25', '2026-05-29', '2026-06-12', '2026-06-17', '2026-06-24', ''), 'C'),
]
PERSONS = ['AB', 'CD', 'EF', 'GH', 'IJ', 'KL']
GAUGES = ['Caliper 1', 'Caliper 2', 'Force gauge', 'Comparator']
CHARACTERISTICS = 50
CHECKED = 10     # of these
PARTS = 8
RETEST = 0.02    # share of units measured a second time, at a characteristic
VOID = 0.0005    # share of readings voided


class Writer:
    """One RECORD.csv."""

    def __init__(self, folder, record, columns):
        os.makedirs(folder, exist_ok=True)
        self.file = open(os.path.join(folder, record + '.csv'), 'w', newline='', encoding='utf-8')
        self.rows = csv.writer(self.file, lineterminator='\n')
        self.rows.writerow(columns)

    def __call__(self, *cells):
        self.rows.writerow(cells)

    def close(self):
        self.file.close()


class Shop:
    """A folder of records, filled model by model."""

    COLUMNS = {
        'person': ['initials', 'role', 'active', 'name'],
        'gauge': ['name', 'resolution'],
        'gauge_calibration': ['gauge', 'date', 'due', 'in_order'],
        'model': ['code', 'name', 'monthly_demand'],
        'part': ['number', 'name', 'source'],
        'revision': ['part', 'label', 'state', 'date'],
        'round': ['model', 'label', 'kind', 'planned_units', 'opened', 'design_fixed', 'parts_ready', 'built', 'tested',
                  'decided'],
        'round_part': ['model', 'round', 'part', 'revision'],
        'characteristic': ['model', 'code', 'name', 'kind', 'unit', 'decimals', 'class', 'per_unit', 'shape'],
        'limit': ['model', 'characteristic', 'from_date', 'lower', 'upper', 'nominal'],
        'depends': ['model', 'characteristic', 'part'],
        'unit': ['model', 'round', 'serial', 'assembled_on', 'assembled_by'],
        'gate': ['model', 'position', 'name'],
        'criterion': ['model', 'gate', 'code', 'kind', 'characteristic', 'blocking'],
        'criterion_term': ['model', 'criterion', 'from_date', 'share', 'confidence', 'person', 'reason'],
        'document': ['model', 'no', 'kind', 'title', 'state', 'person', 'date'],
        'hazard': ['model', 'no', 'what', 'characteristic'],
    }

    def __init__(self, folder):
        self.write = {record: Writer(folder, record, columns) for record, columns in self.COLUMNS.items()}
        for i, initials in enumerate(PERSONS):
            self.write['person'](initials, ['lead', 'designer', 'owner', 'maker', 'inspector', 'maker'][i], 'yes',
                                 'Person ' + initials)
        for gauge in GAUGES:
            self.write['gauge'](gauge, '0.01')
            self.write['gauge_calibration'](gauge, '2025-12-01', '2027-12-01', 'yes')

    def close(self):
        for writer in self.write.values():
            writer.close()


def characteristic_facts(index):
    """Kind, unit, class, shape, per unit, share wanted, confidence wanted of the index-th characteristic."""
    checked = index >= CHARACTERISTICS - CHECKED
    group = ['safety', 'function', 'function', 'appearance', 'function'][index % 5]
    share, confidence = {'safety': (0.999, 0.95), 'function': (0.95, 0.90), 'appearance': (0.90, 0.90)}[group]
    return {
        'checked': checked,
        'class': group,
        'unit': '' if checked else ['mm', 'N', 'HRC', 'g'][index % 4],
        'shape': ['normal', 'normal', 'log-normal', 'unknown'][(index // 5) % 4],
        'per_unit': ['mean', 'worst', 'first'][index % 3],
        'share': share,
        'confidence': confidence,
        'middle': 10.0 + index,
        'width': 0.5 + 0.01 * index,
    }


def write_model(rand, shop, readings, code, units, repeats):
    """One model with all its records; its readings go into the list @readings, a text line each."""
    write = shop.write
    write['model'](code, 'Model ' + code, 100)
    parts = ['%s-%d0' % (code, i + 1) for i in range(PARTS)]
    for part in parts:
        write['part'](part, 'Part ' + part, 'made')
        for label, date in (('A', '2026-01-09'), ('B', '2026-02-13'), ('C', '2026-03-20')):
            write['revision'](part, label, 'released' if label == 'C' else 'withdrawn', date)
    write['gate'](code, 1, 'Release')
    facts = [characteristic_facts(i) for i in range(CHARACTERISTICS)]
    for i, fact in enumerate(facts):
        name = 'C%02d' % (i + 1)
        write['characteristic'](code, name, 'Characteristic %d' % (i + 1), 'checked' if fact['checked'] else 'measured',
                                fact['unit'], 3, fact['class'], fact['per_unit'],
                                'unknown' if fact['checked'] else fact['shape'])
        if not fact['checked']:
            lower, upper = fact['middle'] - fact['width'], fact['middle'] + fact['width']
            write['limit'](code, name, '2026-01-05', '' if i % 5 == 1 else '%.3f' % lower,
                           '' if i % 5 == 2 else '%.3f' % upper, '%.3f' % fact['middle'])
        for step in (0, 3):
            write['depends'](code, name, parts[(i + step) % PARTS])
        write['criterion'](code, 1, 'K%02d' % (i + 1), 'checked' if fact['checked'] else 'measured', name, 'yes')
        write['criterion_term'](code, 'K%02d' % (i + 1), '2026-01-05', fact['share'], fact['confidence'], 'EF', 'by class')
    write['document'](code, 1, 'drawing', 'Drawing set', 'approved', 'AB', '2026-05-29')
    write['hazard'](code, 1, 'What could hurt somebody', 'C01')

    counts = [int(units * share) for _, _, share, _, _ in ROUNDS]
    counts[-1] += units - sum(counts)
    for count, (label, kind, _, dates, revision) in zip(counts, ROUNDS):
        write['round'](code, label, kind, count, *dates)
        for part in parts:
            write['round_part'](code, label, part, revision)
        for u in range(count):
            serial = '%s-%03d' % (label, u + 1)
            write['unit'](code, label, serial, dates[3], PERSONS[3 + u % 3])
            for i, fact in enumerate(facts):
                write_unit(rand, readings, (code, label, serial, 'C%02d' % (i + 1), dates[3][:8] + '%02d' % (int(dates[3][8:]) + 1)),
                           fact, repeats)


def write_unit(rand, readings, about, fact, repeats):
    """The readings of one unit and characteristic: @repeats of them, sometimes the last one as a second attempt."""
    code, label, serial, name, day = about
    for n in range(1, repeats + 1):
        attempt = 1
        if n == repeats and rand.random() < RETEST:
            attempt, n = 2, 1
        if fact['checked']:
            value, mark = '', 'failed' if rand.random() < 0.002 else 'passed'
        elif fact['shape'] == 'log-normal':
            value, mark = '%.3f' % rand.lognormvariate(math.log(fact['middle']), fact['width'] / fact['middle'] / 5), 'measured'
        else:
            value, mark = '%.3f' % rand.gauss(fact['middle'], fact['width'] / 5), 'measured'
        voided, reason = ('yes', 'slipped') if rand.random() < VOID else ('', '')
        taken = '%sT%02d:%02d' % (day, rand.randrange(7, 16), rand.randrange(60))
        readings.append(','.join((code, label, serial, name, str(attempt), str(n), value, mark, voided, reason, taken,
                                  PERSONS[rand.randrange(3, 6)], GAUGES[rand.randrange(4)])))


def write_readings(rand, folder, readings):
    os.makedirs(folder, exist_ok=True)
    rand.shuffle(readings)
    with open(os.path.join(folder, 'reading.csv'), 'w', encoding='utf-8') as file:
        file.write('model,round,unit,characteristic,attempt,n,value,mark,voided,reason,taken,person,gauge\n')
        for line in readings:
            file.write(line + '\n')


def write_book(folder, codes, units, repeats):
    """Models of units * CHARACTERISTICS * repeats readings each."""
    rand = random.Random('%d %s' % (SEED, codes[0]))
    shop = Shop(os.path.join(folder, 'shop'))
    readings = []
    for code in codes:
        write_model(rand, shop, readings, code, units, repeats)
    shop.close()
    write_readings(rand, os.path.join(folder, 'readings'), readings)


def write_paste(path, units, characteristics):
    """A measuring sheet as it is pasted: units down, characteristics across, limits in the head."""
    rand = random.Random('%d paste' % SEED)
    with open(path, 'w', encoding='utf-8') as file:
        file.write('Unit\t' + '\t'.join('Length %d [mm] %.1f ±0.5' % (i + 1, 20.0 + i) for i in range(characteristics)) + '\n')
        for u in range(units):
            file.write('S-%03d\t' % (u + 1) + '\t'.join('%.3f' % rand.gauss(20.0 + i, 0.1) for i in range(characteristics)) + '\n')


def main():
    folder = sys.argv[1]
    write_book(os.path.join(folder, 'small'), ['S01'], 100, 2)
    write_book(os.path.join(folder, 'stress'), ['T01'], 500, 4)
    write_book(os.path.join(folder, 'big'), ['M%02d' % (i + 1) for i in range(50)], 200, 2)
    write_paste(os.path.join(folder, 'paste.tsv'), 250, 40)


if __name__ == '__main__':
    main()
