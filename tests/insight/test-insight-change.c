/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What became of a change, what it means for the readings, and what no change leads to. */
#include "config.h"
#include "evidence-fixture.h"

#include "insight-change.h"

#include <string.h>

/* A shop with two rounds of four units: a lever in revision A, then B; B is what the change leads to. */
typedef struct
{
  Fixture        *f;
  BookChangeList *list;
  int             p1, p2, lever, bolt, a, b, step, slip, play, hard;
} Shop;

static gpointer
grown (gpointer array, guint n, gsize size)
{
  array = g_realloc_n (array, n + 1, size);
  memset ((char *) array + n * size, 0, size);
  return array;
}
#define ADD(list, name) \
  ((list)->name = grown ((list)->name, (list)->n_##name, sizeof *(list)->name), &(list)->name[(list)->n_##name++])

static BookChangeListChange *
add_change (Shop *shop, const char *proposed, const char *agreed)
{
  BookChangeListChange *change = ADD (shop->list, changes);

  *change = (BookChangeListChange){ .id = 1000 + shop->list->n_changes, .no = (int) shop->list->n_changes,
                                    .title = "Steeper ramp", .reason = "", .expected_effect = "", .proposed_by = "RB",
                                    .proposed_on = proposed, .entered_by = "", .agreed_by = agreed[0] != '\0' ? "EH" : "",
                                    .agreed_on = agreed, .from_label = "", .from_serial = "", .withdrawn = "",
                                    .withdrawn_reason = "", .carried_out = "" };
  return change;
}

static BookChangeListItem *
add_item (Shop *shop)
{
  BookChangeListItem *item = ADD (shop->list, items);

  *item = (BookChangeListItem){ .change = (int) shop->list->n_changes - 1, .number = "L", .name = "Lever", .setting = "",
                                .old_label = "", .new_label = "", .old = "", .new = "", .value = NAN, .nominal = NAN,
                                .lower = NAN, .upper = NAN, .unit = "", .decimals = -1 };
  return item;
}

static BookChangeListItem *
add_lever (Shop *shop)
{
  BookChangeListItem *item = add_item (shop);

  item->part = shop->f->e->parts[shop->lever].id;
  item->old_revision = shop->f->e->revisions[shop->a].id;
  item->new_revision = shop->f->e->revisions[shop->b].id;
  item->old_label = "A";
  item->new_label = "B";
  return item;
}

static void
add_effect (Shop *shop, int characteristic, const char *reason, const char *person, const char *second)
{
  *ADD (shop->list, effects) = (BookChangeListEffect){ (int) shop->list->n_changes - 1,
                                                       shop->f->e->characteristics[characteristic].id, TRUE, reason, person,
                                                       second };
}

static void
shop_set_up (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f = fixture_new ();
  int first;

  shop->list = book_change_list_new ();
  shop->p1 = fixture_round (f, "P1", BOOK_ROUND_PROTOTYPE, "2026-01-01", TRUE);
  shop->p2 = fixture_round (f, "P2", BOOK_ROUND_PROTOTYPE, "2026-03-01", FALSE);
  shop->lever = fixture_part (f, "LEVER");
  shop->bolt = fixture_part (f, "BOLT");
  shop->a = fixture_revision (f, shop->lever, "A", "2026-01-01");
  shop->b = fixture_revision (f, shop->lever, "B", "2026-02-15");
  shop->step = fixture_step (f, "Harden");
  shop->slip = fixture_measured (f, "SLIP", BOOK_CLASS_SAFETY, BOOK_SHAPE_NORMAL);
  shop->play = fixture_measured (f, "PLAY", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  shop->hard = fixture_measured (f, "HARD", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  fixture_depends (f, shop->slip, shop->lever, -1);
  fixture_depends (f, shop->play, shop->bolt, -1);
  fixture_depends (f, shop->hard, -1, shop->step);
  fixture_plan (f, shop->p1, shop->lever, shop->a, -1, "");
  fixture_plan (f, shop->p2, shop->lever, shop->b, -1, "");
  first = fixture_units (f, shop->p1, 4);
  for (int i = 0; i < 4; i++)
    fixture_value (f, first + i, shop->slip, 1.5);
  first = fixture_units (f, shop->p2, 3);
  for (int i = 0; i < 3; i++)
    fixture_value (f, first + i, shop->slip, 1.6);
}

static void
shop_tear_down (Shop *shop, gconstpointer data)
{
  fixture_free (shop->f);
  book_change_list_free (shop->list);
}

static InsightChanges *
changes_of (Shop *shop)
{
  fixture_finish (shop->f);
  return insight_changes_new (g_steal_pointer (&shop->list), shop->f->e, "2026-06-01");
}

static const InsightChange *
change_at (const InsightChanges *changes, guint index)
{
  return &g_array_index (changes->changes, InsightChange, index);
}

static const InsightChangeTouch *
touch_at (const InsightChanges *changes, guint change, guint touch)
{
  return &g_array_index (change_at (changes, change)->touches, InsightChangeTouch, touch);
}

static void
test_states (Shop *shop, gconstpointer data)
{
  g_autoptr(InsightChanges) changes = NULL;

  add_change (shop, "2026-02-01", "");
  add_change (shop, "2026-02-01", "2026-02-03");
  add_lever (shop);
  add_change (shop, "2026-02-01", "2026-02-03");
  add_lever (shop)->carried_out = TRUE;
  add_change (shop, "2026-02-01", "2026-02-03")->carried_out = "2026-02-15";
  add_change (shop, "2026-02-01", "2026-02-03")->withdrawn = "2026-02-20";
  changes = changes_of (shop);

  g_assert_cmpint (change_at (changes, 0)->state, ==, INSIGHT_CHANGE_PROPOSED);
  g_assert_cmpint (change_at (changes, 1)->state, ==, INSIGHT_CHANGE_AGREED);
  g_assert_cmpint (change_at (changes, 2)->state, ==, INSIGHT_CHANGE_CARRIED_OUT); /* by its traces */
  g_assert_cmpint (change_at (changes, 3)->state, ==, INSIGHT_CHANGE_CARRIED_OUT); /* because it says so */
  g_assert_cmpint (change_at (changes, 4)->state, ==, INSIGHT_CHANGE_WITHDRAWN);
  g_assert_cmpuint (changes->counts[INSIGHT_CHANGE_CARRIED_OUT], ==, 2);
  g_assert_cmpuint (change_at (changes, 2)->items, ==, 1);
  g_assert_cmpuint (change_at (changes, 2)->n_items, ==, 1);
  g_assert_cmpint (insight_changes_find (changes, 1004), ==, 3);
  g_assert_cmpint (insight_changes_find (changes, 7), ==, -1);
}

static void
test_touches_what_depends (Shop *shop, gconstpointer data)
{
  g_autoptr(InsightChanges) changes = NULL;

  add_change (shop, "2026-02-01", "");
  add_lever (shop);
  changes = changes_of (shop);

  g_assert_cmpuint (change_at (changes, 0)->touches->len, ==, 1);
  g_assert_cmpstr (touch_at (changes, 0, 0)->code, ==, "SLIP");
  g_assert_cmpint (touch_at (changes, 0, 0)->kind, ==, INSIGHT_TOUCH_AGAIN);
  g_assert_cmpuint (touch_at (changes, 0, 0)->units, ==, 3); /* the four of P1 are of another state already */
}

static void
test_touches_everything_where_nobody_said (Shop *shop, gconstpointer data)
{
  g_autoptr(InsightChanges) changes = NULL;

  fixture_measured (shop->f, "ANY", BOOK_CLASS_FUNCTION, BOOK_SHAPE_NORMAL);
  fixture_checked (shop->f, "ZEAL", BOOK_CLASS_SAFETY);
  add_change (shop, "2026-02-01", "");
  add_lever (shop);
  changes = changes_of (shop);

  g_assert_cmpuint (change_at (changes, 0)->touches->len, ==, 3);
  g_assert_cmpstr (touch_at (changes, 0, 0)->code, ==, "SLIP"); /* about safety, so first */
  g_assert_cmpstr (touch_at (changes, 0, 1)->code, ==, "ZEAL");
  g_assert_cmpstr (touch_at (changes, 0, 2)->code, ==, "ANY");
}

static void
test_carrying_over (Shop *shop, gconstpointer data)
{
  g_autoptr(InsightChanges) changes = NULL;

  fixture_depends (shop->f, shop->play, shop->lever, -1);
  add_change (shop, "2026-02-01", "");
  add_lever (shop);
  add_effect (shop, shop->slip, "the flank stays", "EH", "MO");
  add_effect (shop, shop->play, "far away", "EH", "");
  add_change (shop, "2026-02-01", "");
  add_lever (shop);
  add_effect (shop, shop->slip, "the flank stays", "EH", "");
  add_effect (shop, shop->play, "", "EH", "");
  add_change (shop, "2026-02-01", "");
  add_lever (shop);
  add_effect (shop, shop->slip, "the flank stays", "EH", "EH");
  changes = changes_of (shop);

  g_assert_cmpint (touch_at (changes, 0, 0)->kind, ==, INSIGHT_TOUCH_CARRIED);
  g_assert_cmpstr (touch_at (changes, 0, 0)->second_person, ==, "MO");
  g_assert_cmpint (touch_at (changes, 0, 1)->kind, ==, INSIGHT_TOUCH_CARRIED);
  g_assert_cmpint (touch_at (changes, 1, 0)->kind, ==, INSIGHT_TOUCH_LACKS_SECOND); /* about safety */
  g_assert_cmpint (touch_at (changes, 1, 1)->kind, ==, INSIGHT_TOUCH_AGAIN);        /* without a reason */
  g_assert_cmpint (touch_at (changes, 2, 0)->kind, ==, INSIGHT_TOUCH_LACKS_SECOND); /* the same person twice */
}

static void
test_limits_judge_anew (Shop *shop, gconstpointer data)
{
  g_autoptr(InsightChanges) changes = NULL;
  BookChangeListItem *item;

  add_change (shop, "2026-02-01", "");
  item = add_item (shop);
  item->characteristic = shop->f->e->characteristics[shop->slip].id;
  item->upper = 2.0;
  changes = changes_of (shop);

  g_assert_cmpuint (change_at (changes, 0)->touches->len, ==, 1);
  g_assert_cmpint (touch_at (changes, 0, 0)->kind, ==, INSIGHT_TOUCH_JUDGED_ANEW);
}

static void
test_settings_touch_what_depends_on_the_step (Shop *shop, gconstpointer data)
{
  g_autoptr(InsightChanges) changes = NULL;
  BookChangeListItem *item;

  add_change (shop, "2026-02-01", "");
  item = add_item (shop);
  item->step = shop->f->e->steps[shop->step].id;
  item->setting = "temperature";
  changes = changes_of (shop);

  g_assert_cmpuint (change_at (changes, 0)->touches->len, ==, 1);
  g_assert_cmpstr (touch_at (changes, 0, 0)->code, ==, "HARD");
  g_assert_cmpuint (touch_at (changes, 0, 0)->units, ==, 0);
}

/* Units of P2 were built on 2026-03-21 with revision B. */
static void
test_after_the_fact (Shop *shop, gconstpointer data)
{
  g_autoptr(InsightChanges) changes = NULL;

  add_change (shop, "2026-02-01", "2026-03-21");
  add_lever (shop);
  add_change (shop, "2026-02-01", "2026-03-22");
  add_lever (shop);
  add_change (shop, "2026-02-01", "");
  add_lever (shop);
  changes = changes_of (shop);

  g_assert_false (change_at (changes, 0)->after_the_fact);
  g_assert_true (change_at (changes, 1)->after_the_fact);
  g_assert_cmpstr (change_at (changes, 1)->built, ==, "P2");
  g_assert_false (change_at (changes, 2)->after_the_fact);
}

static void
test_fitted_without_a_change (Shop *shop, gconstpointer data)
{
  g_autoptr(InsightChanges) changes = NULL;
  const InsightUnexplained *one;

  changes = changes_of (shop);
  g_assert_cmpuint (changes->unexplained->len, ==, 1);
  one = &g_array_index (changes->unexplained, InsightUnexplained, 0);
  g_assert_cmpint (one->kind, ==, INSIGHT_SUBJECT_PART);
  g_assert_cmpstr (one->number, ==, "LEVER");
  g_assert_cmpstr (one->old, ==, "A");
  g_assert_cmpstr (one->new, ==, "B");
  g_assert_cmpstr (one->round, ==, "P2");
}

static void
test_fitted_with_a_change (Shop *shop, gconstpointer data)
{
  g_autoptr(InsightChanges) changes = NULL;

  add_change (shop, "2026-02-01", "2026-02-03");
  add_lever (shop);
  changes = changes_of (shop);
  g_assert_cmpuint (changes->unexplained->len, ==, 0);
}

static void
test_withdrawn_change_explains_nothing (Shop *shop, gconstpointer data)
{
  g_autoptr(InsightChanges) changes = NULL;

  add_change (shop, "2026-02-01", "2026-02-03")->withdrawn = "2026-02-10";
  add_lever (shop);
  changes = changes_of (shop);
  g_assert_cmpuint (changes->unexplained->len, ==, 1);
}

static void
test_split_round_names_the_newer_half (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f;
  int c = fixture_revision (f, shop->bolt, "C", "2026-02-20");
  int d = fixture_revision (f, shop->bolt, "D", "2026-02-21");
  g_autoptr(InsightChanges) changes = NULL;
  const InsightUnexplained *one;

  add_change (shop, "2026-02-01", "2026-02-03");
  add_lever (shop);
  fixture_plan (f, shop->p1, shop->bolt, c, -1, "P1-001");
  fixture_plan (f, shop->p1, shop->bolt, d, -1, "P1-003");
  changes = changes_of (shop);

  g_assert_cmpuint (changes->unexplained->len, ==, 1); /* the first one needs no change, the other does */
  one = &g_array_index (changes->unexplained, InsightUnexplained, 0);
  g_assert_cmpstr (one->old, ==, "C");
  g_assert_cmpstr (one->new, ==, "D");
  g_assert_cmpstr (one->round, ==, "P1");
}

static void
test_altered_setting_and_limit (Shop *shop, gconstpointer data)
{
  g_autoptr(InsightChanges) changes = NULL;
  Fixture *f = shop->f;

  add_change (shop, "2026-02-01", "2026-02-03");
  add_lever (shop);
  fixture_change (f, "2026-02-03");
  fixture_setting (f, shop->step, "2026-01-01", 220, -1);
  fixture_setting (f, shop->step, "2026-02-05", 210, 0);
  fixture_setting (f, shop->step, "2026-03-05", 205, -1);
  fixture_limit (f, shop->slip, "2026-01-01", 1, 2);
  fixture_limit (f, shop->slip, "2026-03-05", 1, 2.5);
  changes = changes_of (shop);

  g_assert_cmpuint (changes->unexplained->len, ==, 2); /* the first of each needs none, the second setting has one */
  g_assert_cmpint (g_array_index (changes->unexplained, InsightUnexplained, 0).kind, ==, INSIGHT_SUBJECT_SETTING);
  g_assert_cmpint (g_array_index (changes->unexplained, InsightUnexplained, 0).day, ==, book_day_parse ("2026-03-05", NULL));
  g_assert_cmpint (g_array_index (changes->unexplained, InsightUnexplained, 1).kind, ==, INSIGHT_SUBJECT_LIMIT);
}

static const InsightSubject *
subject_of (const InsightChanges *changes, InsightSubjectKind kind, const char *number)
{
  for (guint i = 0; i < changes->subjects->len; i++)
    {
      const InsightSubject *one = &g_array_index (changes->subjects, InsightSubject, i);

      if (one->kind == kind && strcmp (one->number, number) == 0)
        return one;
    }
  return NULL;
}

static void
test_what_a_change_may_begin_from (Shop *shop, gconstpointer data)
{
  Fixture *f = shop->f;
  g_autoptr(InsightChanges) changes = NULL;
  int p3 = fixture_round (f, "P3", BOOK_ROUND_PROTOTYPE, "2026-05-01", FALSE);

  f->e->rounds[p3].built = f->e->rounds[p3].tested = 0;
  fixture_revision (f, shop->lever, "C", "2026-05-01"); /* drawn, and fitted nowhere */
  fixture_setting (f, shop->step, "2026-01-01", 220, -1);
  fixture_setting (f, shop->step, "2026-02-05", 205, -1);
  fixture_setting (f, shop->step, "2026-07-01", 190, -1); /* not yet */
  fixture_limit (f, shop->slip, "2026-01-01", 1, 2);
  fixture_limit (f, shop->slip, "2026-03-05", 1, 2.5);
  changes = changes_of (shop);

  g_assert_cmpstr (subject_of (changes, INSIGHT_SUBJECT_PART, "LEVER")->label, ==, "B");
  g_assert_cmpstr (subject_of (changes, INSIGHT_SUBJECT_PART, "LEVER")->next, ==, "D"); /* C is taken */
  g_assert_cmpint (subject_of (changes, INSIGHT_SUBJECT_PART, "BOLT")->revision, ==, 0);
  g_assert_cmpstr (subject_of (changes, INSIGHT_SUBJECT_PART, "BOLT")->next, ==, "A");
  g_assert_cmpfloat (subject_of (changes, INSIGHT_SUBJECT_SETTING, "")->value, ==, 205);
  g_assert_cmpfloat (subject_of (changes, INSIGHT_SUBJECT_LIMIT, "SLIP")->upper, ==, 2.5);
  g_assert_cmpuint (changes->rounds->len, ==, 1);
  g_assert_cmpstr (g_array_index (changes->rounds, InsightChoice, 0).label, ==, "P3");
}

static void
test_next_label (void)
{
  static const char *const cases[][2] = {
    { "", "A" }, { "A", "B" }, { "H", "J" }, { "N", "P" }, { "Z", "AA" }, { "AZ", "AAA" }, { "c", "d" }, { "1", "2" },
    { "09", "10" }, { "B9", "B10" }, { "2.9", "2.10" }, { "A?", "A?-A" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *next = insight_next_label (cases[i][0]);

      g_assert_cmpstr (next, ==, cases[i][1]);
    }
}

#define TEST(path, test) g_test_add ("/insight/change/" path, Shop, NULL, shop_set_up, test, shop_tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  TEST ("is-proposed-agreed-carried-out-or-withdrawn", test_states);
  TEST ("touches-what-depends-on-its-parts", test_touches_what_depends);
  TEST ("touches-everything-where-nobody-said-what-it-depends-on", test_touches_everything_where_nobody_said);
  TEST ("carries-over-by-name-with-a-reason-and-for-safety-with-a-second-person", test_carrying_over);
  TEST ("of-limits-lets-readings-be-judged-anew", test_limits_judge_anew);
  TEST ("of-a-setting-touches-what-depends-on-the-step", test_settings_touch_what_depends_on_the_step);
  TEST ("agreed-after-units-were-built-is-told", test_after_the_fact);
  TEST ("missing-for-a-fitted-revision-is-named", test_fitted_without_a_change);
  TEST ("there-for-a-fitted-revision-leaves-nothing-to-name", test_fitted_with_a_change);
  TEST ("withdrawn-explains-nothing", test_withdrawn_change_explains_nothing);
  TEST ("missing-in-a-split-round-names-the-newer-half", test_split_round_names_the_newer_half);
  TEST ("missing-for-a-setting-or-limit-is-named", test_altered_setting_and_limit);
  TEST ("begins-from-what-is-fitted-set-and-in-force-today", test_what_a_change_may_begin_from);
  g_test_add_func ("/insight/change/proposes-the-label-after", test_next_label);
  return g_test_run ();
}
