/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-round.h"

#include <glib/gi18n-lib.h>

#include "book-edit-private.h"
#include "book-texts-private.h"

/* Planning from scratch, dates, waits, the verdict; copying an earlier round is in book-round-copy.c. */

static const char *const date_fields[BOOK_N_ROUND_DATES] = {
  "opened", "design_fixed", "parts_ready", "built", "tested", "decided",
};

/**
 * book_round_date_field:
 * @date: one of the dates of a round
 *
 * Returns: (transfer none): the name of the field that holds it
 */
const char *
book_round_date_field (BookRoundDate date)
{
  g_return_val_if_fail (date < BOOK_N_ROUND_DATES, NULL);

  return date_fields[date];
}

typedef struct
{
  gint64     model;
  BookTexts *texts;
  GPtrArray *parts; /* BookTexts */
  GPtrArray *tests; /* BookTexts */
} Plan;

static void
plan_free (gpointer data)
{
  Plan *plan = data;

  book_texts_free (plan->texts);
  g_ptr_array_unref (plan->parts);
  g_ptr_array_unref (plan->tests);
  g_free (plan);
}

static gboolean
store_rows (BookEdit *edit, StoreAction *action, BookRecordId id, GPtrArray *rows, GError **error)
{
  const BookRecord *record = book_record (id);
  BookValue values[BOOK_MAX_FIELDS];

  for (guint i = 0; i < rows->len; i++)
    {
      gint64 row = 0;

      book_values_begin (record, values);
      book_values_set (record, values, "round", book_value_integer (edit->id));
      if (!book_texts_take (rows->pdata[i], store_action_db (action), 0, edit->today, values, error)
          || !book_edit_store (action, record, values, &row, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
plan_round (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *rounds = book_record (BOOK_RECORD_ROUND);
  Plan *plan = edit->data;
  BookValue values[BOOK_MAX_FIELDS];

  book_values_begin (rounds, values);
  book_values_set (rounds, values, "model", book_value_integer (plan->model));
  edit->id = 0;
  if (!book_texts_take (plan->texts, store_action_db (action), 0, edit->today, values, error)
      || !book_edit_store (action, rounds, values, &edit->id, error)
      || !store_rows (edit, action, BOOK_RECORD_ROUND_PART, plan->parts, error)
      || !store_rows (edit, action, BOOK_RECORD_ROUND_TEST, plan->tests, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_ROUND, edit->id);
  return TRUE;
}

/**
 * book_round_plan:
 * @model: of which model
 * @fields: (array zero-terminated=1): label, kind, question, planned units and dates
 * @texts: for each of @fields
 *
 * Plans a round, with all that book_round_plan_part() and book_round_plan_test() add, in one action.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_round_plan (gint64 model, const char *const *fields, const char *const *texts)
{
  Plan *plan = g_new0 (Plan, 1);

  plan->model = model;
  plan->texts = book_texts_new (BOOK_RECORD_ROUND, fields, texts, NULL);
  plan->parts = g_ptr_array_new_with_free_func ((GDestroyNotify) book_texts_free);
  plan->tests = g_ptr_array_new_with_free_func ((GDestroyNotify) book_texts_free);
  return book_edit_new_dated (plan_round, "round-planned", plan, plan_free);
}

/**
 * book_round_plan_part:
 * @edit: from book_round_plan()
 * @fields: (array zero-terminated=1): part with revision and lot, or step with lot; units, first serial
 * @texts: for each of @fields
 *
 * Adds what goes in; several rows of one part split the round.
 */
void
book_round_plan_part (BookEdit *edit, const char *const *fields, const char *const *texts)
{
  g_return_if_fail (edit->work == plan_round);

  g_ptr_array_add (((Plan *) edit->data)->parts, book_texts_new (BOOK_RECORD_ROUND_PART, fields, texts, NULL));
}

/**
 * book_round_plan_test:
 * @edit: from book_round_plan()
 * @fields: (array zero-terminated=1): serial, characteristic; load, cycles, destroyed, lent
 * @texts: for each of @fields
 *
 * Adds what a unit is tested for.
 */
void
book_round_plan_test (BookEdit *edit, const char *const *fields, const char *const *texts)
{
  g_return_if_fail (edit->work == plan_round);

  g_ptr_array_add (((Plan *) edit->data)->tests, book_texts_new (BOOK_RECORD_ROUND_TEST, fields, texts, NULL));
}

/* A deed about a round, or about one of its waits. */
typedef struct
{
  BookRoundDate    date;
  BookRoundVerdict verdict;
  char            *on;
  char            *cost;
  BookTexts       *texts;
  /* of a test */
  char            *serial;
  gint64           characteristic;
  BookRoundTest    test;
} Deed;

static void
deed_free (gpointer data)
{
  Deed *deed = data;

  g_free (deed->on);
  g_free (deed->cost);
  g_free (deed->serial);
  book_texts_free (deed->texts);
  g_free (deed);
}

static BookEdit *
deed_new (BookEditDatedWork work, const char *message, gint64 id, const char *on)
{
  Deed *deed = g_new0 (Deed, 1);
  BookEdit *edit = book_edit_new_dated (work, message, deed, deed_free);

  deed->on = g_strdup (on);
  edit->id = id;
  return edit;
}

/* A date is reached once, and after those before it: what was forgotten is noted first, what is wrong is corrected. */
static gboolean
may_reach (const BookRow *row, BookRoundDate date, GError **error)
{
  const BookRecord *rounds = row->record;
  const BookField *field = book_field_find (rounds, date_fields[date]);

  if (!book_value_is_empty (book_row_get (row, date_fields[date])))
    {
      g_autofree char *sentence = g_strdup_printf (_("'%s' is noted already, as %.10s: correct the date in the round's form."),
                                                   book_field_label (field), book_row_get (row, date_fields[date])->text);

      return book_error_refuse (error, BOOK_ERROR_REFUSED, field, sentence);
    }
  for (BookRoundDate before = BOOK_ROUND_OPENED; before < date; before++)
    if (book_value_is_empty (book_row_get (row, date_fields[before])))
      {
        g_autofree char *sentence = g_strdup_printf (_("'%s' comes first and is not noted yet: note its day before '%s'."),
                                                     book_field_label (book_field_find (rounds, date_fields[before])),
                                                     book_field_label (field));

        return book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (rounds, date_fields[before]), sentence);
      }
  return TRUE;
}

static gboolean
reach (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *rounds = book_record (BOOK_RECORD_ROUND);
  const Deed *deed = edit->data;
  const char *field = date_fields[deed->date];
  g_autoptr(BookRow) row = book_record_read (store_action_db (action), rounds, edit->id, error);
  BookValue values[BOOK_MAX_FIELDS];

  if (row == NULL || !may_reach (row, deed->date, error))
    return FALSE;
  book_values_fill (rounds, values, BOOK_VALUE_UNCHANGED);
  if (deed->verdict != 0)
    book_values_set (rounds, values, "verdict", book_value_integer (deed->verdict));
  if (!book_edit_day (edit, rounds, field, deed->on, &values[book_field_index (rounds, field)], error)
      || (deed->cost != NULL && *deed->cost != '\0'
          && !book_edit_text (rounds, "cost", deed->cost, &values[book_field_index (rounds, "cost")], error))
      || !book_edit_store (action, rounds, values, &edit->id, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_ROUND, edit->id);
  return TRUE;
}

/**
 * book_round_reach:
 * @round: a round
 * @date: what is reached
 * @on: (nullable): the day
 *
 * Notes that a round got as far as @date. Refused where it is noted already, where one of the dates before it is not, and
 * where the day lies before theirs.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_round_reach (gint64 round, BookRoundDate date, const char *on)
{
  static const char *const messages[BOOK_N_ROUND_DATES] = {
    "round-opened", "round-design-fixed", "round-parts-ready", "round-built", "round-tested", "round-decided",
  };
  BookEdit *edit;

  g_return_val_if_fail (date < BOOK_N_ROUND_DATES, NULL);

  edit = deed_new (reach, messages[date], round, on);
  ((Deed *) edit->data)->date = date;
  return edit;
}

static gboolean
decide (BookEdit *edit, StoreAction *action, GError **error)
{
  if (((Deed *) edit->data)->verdict == 0)
    return book_error_refuse (error, BOOK_ERROR_VALUE, book_field_find (book_record (BOOK_RECORD_ROUND), "verdict"),
                              _("Choose what was decided: go on, another round, or stop."));
  return reach (edit, action, error);
}

/**
 * book_round_decide:
 * @round: a round that is tested
 * @verdict: what was decided; 0 is refused, as not chosen yet
 * @cost: (nullable): what the round cost outside the shop
 * @on: (nullable): the day
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_round_decide (gint64 round, BookRoundVerdict verdict, const char *cost, const char *on)
{
  BookEdit *edit = deed_new (decide, "round-decided", round, on);
  Deed *deed = edit->data;

  deed->date = BOOK_ROUND_DECIDED;
  deed->verdict = verdict;
  deed->cost = g_strdup (cost);
  return edit;
}

static gboolean
begin_wait (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *waits = book_record (BOOK_RECORD_WAIT);
  const BookRecord *rounds = book_record (BOOK_RECORD_ROUND);
  Deed *deed = edit->data;
  const gint64 round = edit->id;
  g_autoptr(BookRow) row = book_record_read (store_action_db (action), rounds, round, error);
  BookValue values[BOOK_MAX_FIELDS];

  if (row == NULL)
    return FALSE;
  if (!book_value_is_empty (book_row_get (row, "decided")))
    return book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (rounds, "decided"),
                              _("The round is decided and waits for nothing more: choose the round that waits."));
  book_values_begin (waits, values);
  book_values_set (waits, values, "round", book_value_integer (round));
  if (!book_texts_take (deed->texts, store_action_db (action), 0, edit->today, values, error))
    return FALSE;
  if (book_value_is_empty (&values[book_field_index (waits, "from_date")]))
    book_values_set (waits, values, "from_date", book_value_text (edit->today, 10));
  edit->id = 0;
  if (!book_edit_store (action, waits, values, &edit->id, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_WAIT, edit->id);
  return TRUE;
}

/**
 * book_round_begin_wait:
 * @round: a round that is not decided
 * @fields: (array zero-terminated=1): reason, what, supplier, from_date
 * @texts: for each of @fields
 *
 * Notes that a round waits, from today on if nothing else is said.
 *
 * Returns: (transfer full): the command; its record is the wait
 */
BookEdit *
book_round_begin_wait (gint64 round, const char *const *fields, const char *const *texts)
{
  BookEdit *edit = deed_new (begin_wait, "wait-begun", round, NULL);

  ((Deed *) edit->data)->texts = book_texts_new (BOOK_RECORD_WAIT, fields, texts, NULL);
  return edit;
}

static gboolean
end_wait (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *waits = book_record (BOOK_RECORD_WAIT);
  const Deed *deed = edit->data;
  g_autoptr(BookRow) row = book_record_read (store_action_db (action), waits, edit->id, error);
  BookValue values[BOOK_MAX_FIELDS];

  if (row == NULL)
    return FALSE;
  if (!book_value_is_empty (book_row_get (row, "to_date")))
    return book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (waits, "to_date"),
                              _("The wait is over already: correct its end in its form."));
  book_values_fill (waits, values, BOOK_VALUE_UNCHANGED);
  if (!book_edit_day (edit, waits, "to_date", deed->on, &values[book_field_index (waits, "to_date")], error)
      || !book_edit_store (action, waits, values, &edit->id, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_WAIT, edit->id);
  return TRUE;
}

/**
 * book_round_end_wait:
 * @wait: a wait that lasts
 * @on: (nullable): the day on which it ended
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_round_end_wait (gint64 wait, const char *on)
{
  return deed_new (end_wait, "wait-ended", wait, on);
}

static gboolean
set_test (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *tests = book_record (BOOK_RECORD_ROUND_TEST);
  const Deed *deed = edit->data;
  const gint64 round = edit->id;
  const BookValue key[] = { book_value_integer (round), book_value_text (deed->serial, -1),
                            book_value_integer (deed->characteristic) };
  BookValue values[BOOK_MAX_FIELDS];
  gint64 id;

  if (!book_record_find_id (store_action_db (action), tests, key, &id, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_ROUND, round);
  if (deed->test == BOOK_ROUND_TEST_NONE)
    return id == 0 || book_record_delete (action, tests, id, error);
  if (id != 0)
    book_values_fill (tests, values, BOOK_VALUE_UNCHANGED);
  else
    {
      book_values_begin (tests, values);
      book_values_set (tests, values, "round", key[0]);
      book_values_set (tests, values, "serial", key[1]);
      book_values_set (tests, values, "characteristic", key[2]);
    }
  book_values_set (tests, values, "destroyed", book_value_integer (deed->test == BOOK_ROUND_TEST_DESTROYED));
  book_values_set (tests, values, "lent", book_value_integer (deed->test == BOOK_ROUND_TEST_LENT));
  return book_edit_store (action, tests, values, &id, error);
}

/**
 * book_round_set_test:
 * @round: a round
 * @serial: a unit, built or not
 * @characteristic: what it is tested for
 * @test: what becomes of it; %BOOK_ROUND_TEST_NONE takes the test out of the plan
 *
 * Plans, changes or takes back the test of a unit. Load and cycles of a test that is there already stay.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_round_set_test (gint64 round, const char *serial, gint64 characteristic, BookRoundTest test)
{
  BookEdit *edit = deed_new (set_test, "round-test-set", round, NULL);
  Deed *deed = edit->data;

  deed->serial = g_strdup (serial);
  deed->characteristic = characteristic;
  deed->test = test;
  return edit;
}
