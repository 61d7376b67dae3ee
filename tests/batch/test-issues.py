#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""An issue from being found to its fix being shown, from outside: list, one issue, document, chart, criterion. Figures
are R 4.2.2's: fisher.test (alternative = "less"), and the any-time formula by pbeta and lbeta."""
from batch_books import Model, criteria, serials
from batch_tap import done, folder, ok, refuse, run


def story(name, after):
    """Round A: 5 of 10 fail the check. Round B: @after units with revision B of the lever, which change 1 brought in."""
    model = Model(name)
    model.add('part', 'number,name', 'L-1', 'Lever')
    for label, date in (('A', '2026-01-05'), ('B', '2026-03-02')):
        model.add('revision', 'part,label,state,date', 'L-1', label, 'released', date)
    model.add('round', 'model,label,kind,opened,design_fixed,built,tested', 'M', 'B', 'pilot', '2026-03-02', '2026-03-09',
              '2026-03-16', '2026-03-27')
    for label in ('A', 'B'):
        model.add('round_part', 'model,round,part,revision', 'M', label, 'L-1', label)
    model.characteristic('Y', kind='checked')
    model.units(serials(10))
    for i, serial in enumerate(serials(10)):
        model.reading(serial, 'Y', mark='failed' if i < 5 else 'passed')
    model.units(serials(after, 101), 'B')
    for serial in serials(after, 101):
        model.reading(serial, 'Y', mark='passed', taken='2026-03-20', round_label='B')
    model.add('issue', 'model,no,title,class,found_round,found_on,characteristic,tolerated_share,contained', 'M', 1,
              'Lever sticks', 'function', 'A', '2026-02-10', 'Y', '0.10', '2026-02-10')
    for i in range(5):
        model.add('finding', 'model,issue,no,round,unit,disposition,person,date', 'M', 1, i + 1, 'A', serials(10)[i], 'rework',
                  'AB', '2026-02-11')
    model.add('change', 'model,no,title,proposed_by,proposed_on,agreed_by,agreed_on', 'M', 1, 'Radius', 'AB', '2026-02-16', 'AB',
              '2026-02-20')
    model.add('change_item', 'model,change,no,part,old_revision,new_revision', 'M', 1, 1, 'L-1', 'A', 'B')
    model.add('change_issue', 'model,change,issue', 'M', 1, 1)
    model.add('criterion', 'model,code,gate,kind,issue,strict', 'M', 'F1', 1, 'fix', 1, 'yes')
    model.add('criterion_term', 'model,criterion,from_date,share,confidence', 'M', 'F1', '2026-01-01', '0.90', '0.90')
    model.add('criterion', 'model,code,gate,kind,issue,strict', 'M', 'I1', 1, 'issues', '', '')
    return model


def issues(model, *more):
    return run('issues', *more, '--book', model.book, '--today', '2026-04-01')


proven, few = story('proven', 33), story('few', 32)
for model in (proven, few):
    answer = model.store()
    ok(answer.status == 0, 'a story with an issue comes in', answer)

answer = issues(proven)
ok(answer.status == 0 and '1 shown to be solved' in answer.out and 'proven at 95 % on 33' in ' '.join(answer.out.split()),
   'the list says proven with confidence and n', answer)
issue = issues(proven, '--json').json()['issues'][0]
ok(issue['state'] == 'proven' and abs(issue['confidence'] - 0.951936767100527) < 1e-9
   and abs(issue['fisher'] - 2.61791526680920e-04) < 1e-12 and issue['attempts'] == 1 and issue['wanted'] == 0.95,
   "figures are R's", issue)
ok(issue['before_failed'] == 5 and issue['before_n'] == 10 and issue['after_failed'] == 0 and issue['after_n'] == 33,
   'before and after are counted', issue)
ok(issue['days']['contained'] == {'date': '2026-02-10', 'days': 0.5} and issue['days']['proven'] == {'date': '2026-03-20', 'days': 28},
   'days are working days', issue['days'])
ok(len(issue['findings']) == 5 and issue['findings'][0]['disposition'] == 'rework', 'findings are lines', issue['findings'])

issue = issues(few, '1', '--json').json()['issues'][0]
ok(issue['state'] == 'not-again' and issue['units_needed'] == 1, 'one unit less is not seen again', issue)
answer = issues(few, '1')
ok('1 more unit of the new state without a failure is needed (n 32 so far).' in ' '.join(answer.out.split()),
   'and says what is missing', answer)
refuse(issues(few, '7'), 2, "no issue '7'", name='an issue that is not there is refused')

today = ['--today', '2026-04-01']
met = criteria(run('standing', '--json', '--book', proven.book, *today))
ok(met['F1']['state'] == 'met' and met['F1']['n'] == 33 and met['I1']['state'] == 'met' and met['I1']['done'] == 1,
   'the criteria are met', met)
ok('with the change do not show it' in met['F1']['sentence'], 'and say what is claimed', met['F1']['sentence'])
open_ = run('standing', '--json', '--book', few.book, *today)
ok(criteria(open_)['F1']['state'] == 'too-few' and criteria(open_)['I1']['done'] == 0, 'or not', open_)
ok([step['code'] for step in open_.json()['next_steps'] if step['criterion'] == 'F1'] == ['test'], 'with the next step', open_)
before = issues(proven, '1', '--json', '--through', 'A').json()['issues'][0]
ok(before['state'] == 'open' and before['after_n'] == 0, 'through the first round it was open', before)

for ending in ('png', 'pdf', 'svg'):
    answer = run('chart', 'issues', '-o', folder / f'issues.{ending}', '--book', proven.book, ASAN_OPTIONS='detect_leaks=0')
    ok(answer.status == 0 and (folder / f'issues.{ending}').stat().st_size > 500, f'the chart goes into {ending}', answer)
done()
