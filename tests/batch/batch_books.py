# SPDX-License-Identifier: GPL-3.0-or-later
"""Small neutral books for tests, made through the importer that a user has."""
import hashlib

from batch_tap import folder, new_book, run, write_csv


class Model:
    """One model with one decided, tested pilot round, filled by the methods below, written by store()."""

    def __init__(self, name, code='M'):
        self.book = new_book(name)
        self.code = code
        self.place = folder / f'{name}-csv'
        self.rows = {}
        self.add('model', 'code,name', code, f'Model {code}')
        self.add('person', 'initials,role', 'AB', 'lead')
        self.add('round', 'model,label,kind,opened,design_fixed,built,tested', code, 'A', 'pilot', '2026-01-05', '2026-01-12',
                 '2026-02-02', '2026-02-20')
        self.add('gate', 'model,position,name', code, 1, 'Release')

    def add(self, record, header, *row):
        self.rows.setdefault(record, (header.split(','), []))[1].append(row)

    def characteristic(self, code, kind='measured', unit='mm', klass='function', shape='normal', decimals=3):
        self.add('characteristic', 'model,code,name,kind,unit,class,shape,decimals', self.code, code, f'Thing {code}', kind,
                 unit if kind == 'measured' else '', klass, shape, decimals)

    def limit(self, code, lower=None, upper=None, date='2025-12-01'):
        self.add('limit', 'model,characteristic,from_date,lower,upper', self.code, code, date,
                 '' if lower is None else repr(lower), '' if upper is None else repr(upper))

    def units(self, serials, round_label='A'):
        for serial in serials:
            self.add('unit', 'model,round,serial', self.code, round_label, serial)

    def reading(self, serial, code, value=None, mark='measured', taken='2026-02-10', round_label='A', attempt=1):
        self.add('reading', 'model,round,unit,characteristic,attempt,value,mark,taken', self.code, round_label, serial, code,
                 attempt, '' if value is None else repr(value), mark, taken)

    def criterion(self, code, about, share, confidence, kind='measured', strict='no', counts_from='prototype'):
        self.add('criterion', 'model,code,gate,kind,characteristic,strict,counts_from', self.code, code, 1, kind, about, strict,
                 counts_from)
        self.add('criterion_term', 'model,criterion,from_date,share,confidence', self.code, code, '2025-12-01', repr(share),
                 repr(confidence))

    def files(self):
        return [write_csv(self.place / f'{record}.csv', header, rows) for record, (header, rows) in self.rows.items()]

    def store(self):
        return run('import', *self.files(), '--book', self.book)

    def standing(self, *more, today='2026-03-01'):
        return run('standing', '--json', '--book', self.book, '--today', today, *more)


def criteria(answer):
    return {criterion['code']: criterion for criterion in answer.json()['criteria']}


def serials(count, start=1):
    return [f'U{number:04}' for number in range(start, start + count)]


def document_of(model, today):
    """What a decision would freeze on that day."""
    return run('release', '--json', '--book', model.book, '--today', today, '--model', 'M').out.encode()


def decide(model, document, day):
    """A decision with that document, as it comes in from an export."""
    place = folder / f'{model.place.name}-decided'
    (place / 'files').mkdir(parents=True)
    name = hashlib.sha256(document).hexdigest()
    (place / 'files' / name).write_bytes(document)
    file = write_csv(place / 'decision.csv', ['model', 'gate', 'no', 'verdict', 'evidence', 'person', 'date'],
                     [('M', 1, 1, 'release', name, 'OW', day)])
    return run('import', file, '--book', model.book)
