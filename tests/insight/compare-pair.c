/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "compare-pair.h"

const double pair_before[5] = { 10, 11, 12, 10.5, 11.5 }, pair_after[5] = { 12, 13, 14, 12.5, 13.5 };

InsightComparison *
fixture_compare (Fixture *f, InsightCompareAsk ask)
{
  g_autoptr(GError) error = NULL;
  InsightComparison *out;

  ask.today = "2027-01-01";
  out = insight_compare (f->e, &ask, NULL, &error);
  g_assert_no_error (error);
  return out;
}

InsightComparison *
pair_compare (Pair *pair)
{
  const BookEvidenceRound *rounds = pair->f->e->rounds;

  fixture_finish (pair->f);
  return fixture_compare (pair->f, (InsightCompareAsk){ .from = rounds[pair->p1].id, .to = rounds[pair->p2].id });
}

const InsightDifference *
difference_at (const InsightComparison *out, guint i)
{
  g_assert_cmpuint (out->differences->len, >, i);
  return out->differences->pdata[i];
}

const InsightEffect *
effect_at (const InsightComparison *out, guint i)
{
  g_assert_cmpuint (out->effects->len, >, i);
  return out->effects->pdata[i];
}

const InsightRemark *
remark_of (const InsightEffect *effect, InsightRemarkCode code)
{
  for (guint i = 0; i < effect->remarks->len; i++)
    if (((InsightRemark *) effect->remarks->pdata[i])->code == code)
      return effect->remarks->pdata[i];
  return NULL;
}

Pair
pair_new (void)
{
  Pair pair = { .f = fixture_new () };
  Fixture *f = pair.f;

  fixture_person (f, "MO", BOOK_ROLE_LEAD);
  pair.p1 = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", TRUE);
  pair.p2 = fixture_round (f, "P2", BOOK_ROUND_PROTOTYPE, "2026-03-01", TRUE);
  pair.lever = fixture_part (f, "LEVER");
  pair.a = fixture_revision (f, pair.lever, "A", "2026-01-01");
  pair.b = fixture_revision (f, pair.lever, "B", "2026-02-15");
  pair.play = fixture_measured (f, "PLAY", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  fixture_depends (f, pair.play, pair.lever, -1);
  return pair;
}

void
pair_plan (Pair *pair)
{
  fixture_plan (pair->f, pair->p1, pair->lever, pair->a, -1, "");
  fixture_plan (pair->f, pair->p2, pair->lever, pair->b, -1, "");
}

void
pair_change (Pair *pair, const char *date)
{
  pair->change = fixture_change (pair->f, date);
  pair->f->e->changes[pair->change].agreed_by = 0;
  fixture_change_item (pair->f, pair->change, pair->lever, pair->a, pair->b);
}

void
pair_values (Pair *pair, int round, int characteristic, const double *values, guint n)
{
  int first = fixture_units (pair->f, round, n);

  for (guint i = 0; i < n; i++)
    fixture_value (pair->f, first + (int) i, characteristic, values[i]);
}

int
pair_split (Pair *pair, const double *old, const double *new, guint n)
{
  Fixture *f = pair->f;
  int first;

  fixture_plan (f, pair->p1, pair->lever, pair->a, -1, "");
  first = fixture_units (f, pair->p2, 2 * n);
  for (guint i = 0; i < 2 * n; i++)
    {
      fixture_unit_part (f, first + (int) i, pair->lever, i % 2 ? pair->b : pair->a, -1);
      fixture_value (f, first + (int) i, pair->play, i % 2 ? new[i / 2] : old[i / 2]);
    }
  return first;
}
