/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "life-answer.h"

#include "book-evidence.h"
#include "book-form.h"
#include "book-number.h"
#include "present-number.h"
#include "today.h"

#include <math.h>

struct _FettleLifeAsk
{
  FettleSpan span;
  gint64     characteristic;
  gint64     wanted;
  char      *today;
};

/* Cycles come last, so that a test is stored when the figure that was waited for is typed. */
const FettleRecordColumn fettle_life_columns[FETTLE_LIFE_N_COLUMNS] = {
  [FETTLE_LIFE_DATE] = { .field = "date", .letters = 10 },
  [FETTLE_LIFE_UNIT] = { .field = "unit", .letters = 9 },
  [FETTLE_LIFE_LOAD] = { .field = "load", .letters = 7, .least_width = 520 },
  [FETTLE_LIFE_ENDED] = { .field = "ended", .letters = 8 },
  [FETTLE_LIFE_ISSUE] = { .field = "issue", .letters = 14, .grows = TRUE },
  [FETTLE_LIFE_CYCLES] = { .field = "cycles", .letters = 9 },
};

/**
 * fettle_life_ask_new:
 * @span: in view
 * @characteristic: key; 0: the one with most tests
 * @wanted: key of a test whose characteristic is meant instead; 0: none
 *
 * Returns: (transfer full): the question
 */
FettleLifeAsk *
fettle_life_ask_new (const FettleSpan *span, gint64 characteristic, gint64 wanted)
{
  FettleLifeAsk *ask = g_new0 (FettleLifeAsk, 1);

  ask->span = *span;
  ask->characteristic = characteristic;
  ask->wanted = wanted;
  ask->today = fettle_today ();
  return ask;
}

void
fettle_life_ask_free (gpointer data)
{
  FettleLifeAsk *ask = data;

  g_free (ask->today);
  g_free (ask);
}

/* A part of a key text: '/' and '\' follow a '\' (book-record.h). */
static void
append_part (GString *text, const char *part)
{
  if (text->len > 0)
    g_string_append_c (text, '/');
  for (; *part != '\0'; part++)
    {
      if (*part == '/' || *part == '\\')
        g_string_append_c (text, '\\');
      g_string_append_c (text, *part);
    }
}

static void
free_option (gpointer data)
{
  book_option_free (data);
}

static BookOption *
add_option (GPtrArray *options, gint64 id, GString *text, char *label)
{
  BookOption *option = g_new0 (BookOption, 1);

  option->id = id;
  option->text = g_string_free (text, FALSE);
  option->label = label;
  g_ptr_array_add (options, option);
  return option;
}

static GPtrArray *
list_units (const BookEvidence *e)
{
  GPtrArray *options = g_ptr_array_new_with_free_func (free_option);

  for (guint i = 0; i < e->n_units; i++)
    {
      GString *text = g_string_new (NULL);

      append_part (text, e->code);
      append_part (text, e->rounds[e->units[i].round].label);
      append_part (text, e->units[i].serial);
      add_option (options, e->units[i].id, text, g_strdup (e->units[i].serial));
    }
  return options;
}

static GPtrArray *
list_issues (const BookEvidence *e)
{
  GPtrArray *options = g_ptr_array_new_with_free_func (free_option);

  for (guint i = 0; i < e->n_issues; i++)
    {
      GString *text = g_string_new (NULL);
      g_autofree char *no = g_strdup_printf ("%d", e->issues[i].no);

      append_part (text, e->code);
      append_part (text, no);
      add_option (options, e->issues[i].id, text, g_strdup_printf ("%d %s", e->issues[i].no, e->issues[i].title));
    }
  return options;
}

static void
set_cell (FettleRecordRow *row, guint column, const char *text, const char *shown, gint64 refers)
{
  g_free (row->texts[column]);
  g_free (row->shown[column]);
  row->texts[column] = g_strdup (text);
  row->shown[column] = g_strdup (shown);
  row->refers[column] = refers;
}

static void
set_option (FettleRecordRow *row, guint column, GPtrArray *options, gint64 id)
{
  for (guint i = 0; id != 0 && i < options->len; i++)
    {
      const BookOption *option = options->pdata[i];

      if (option->id == id)
        set_cell (row, column, option->text, option->label, id);
    }
}

static void
set_number (FettleRecordRow *row, guint column, double number, int decimals)
{
  g_autofree char *text = book_number_dup (number);
  g_autofree char *shown = isnan (number) ? g_strdup ("") : present_number (number, decimals);

  set_cell (row, column, text, shown, 0);
}

static void
add_rows (FettleLifeAnswer *answer)
{
  const InsightLife *life = answer->data;
  double load = life->wanted_load;

  answer->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) fettle_record_row_free);
  for (guint i = 0; i < life->n_tests; i++)
    {
      const InsightLifeTest *test = &life->tests[i];
      const BookChoice *ended = book_choice_by_code (book_life_ends, test->failed ? BOOK_LIFE_FAILED : BOOK_LIFE_STOPPED);
      FettleRecordRow *row = fettle_record_row_new (FETTLE_LIFE_N_COLUMNS);

      row->key = test->id;
      set_cell (row, FETTLE_LIFE_DATE, test->date, test->date, 0);
      set_option (row, FETTLE_LIFE_UNIT, answer->units, test->unit);
      set_number (row, FETTLE_LIFE_LOAD, test->load, life->decimals >= 0 ? life->decimals : 1);
      set_cell (row, FETTLE_LIFE_ENDED, ended->text, book_choice_label (ended), 0);
      set_option (row, FETTLE_LIFE_ISSUE, answer->issues, test->issue);
      set_number (row, FETTLE_LIFE_CYCLES, test->cycles, test->cycles == round (test->cycles) ? 0 : 1);
      g_ptr_array_add (answer->rows, row);
      if (!isnan (test->load))
        load = test->load;
    }
  if (life->characteristic != 0)
    g_ptr_array_add (answer->rows, fettle_record_row_new (FETTLE_LIFE_N_COLUMNS));
  answer->load = isnan (load) ? NULL : book_number_dup (load);
}

static gint64
characteristic_of_test (const BookEvidence *e, gint64 test)
{
  for (guint i = 0; i < e->n_life_tests; i++)
    if (e->life_tests[i].id == test && e->life_tests[i].characteristic >= 0)
      return e->characteristics[e->life_tests[i].characteristic].id;
  return 0;
}

static gboolean
is_known (const BookEvidence *e, gint64 characteristic)
{
  return book_evidence_find (e, characteristics, characteristic) >= 0;
}

/**
 * fettle_life_answer_read:
 * @db: the reader's connection
 * @data: a #FettleLifeAsk
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * A #StoreReadWork.
 *
 * Returns: (transfer full) (nullable): a #FettleLifeAnswer
 */
gpointer
fettle_life_answer_read (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleLifeAsk *ask = data;
  InsightSpan span = { ask->span.to, ask->today };
  g_autoptr(BookEvidence) evidence = book_evidence_load_parts (db, ask->span.model, BOOK_EVIDENCE_RECORDS, error);
  g_autoptr(FettleLifeAnswer) answer = g_new0 (FettleLifeAnswer, 1);
  gint64 characteristic = ask->characteristic;

  if (evidence == NULL)
    return NULL;
  store_reader_done_reading (db);
  if (ask->wanted != 0)
    characteristic = characteristic_of_test (evidence, ask->wanted);
  if (!is_known (evidence, characteristic)) /* an undo may have taken it away */
    characteristic = 0;
  answer->data = insight_life (evidence, characteristic, &span, cancellable, error);
  if (answer->data == NULL)
    return NULL;
  answer->words = present_life_new (answer->data, evidence->caution);
  answer->chart = present_chart_life (answer->data, FALSE);
  answer->growth = present_chart_growth (answer->data, FALSE);
  answer->units = list_units (evidence);
  answer->issues = list_issues (evidence);
  answer->wanted = ask->wanted;
  add_rows (answer);
  return g_steal_pointer (&answer);
}

void
fettle_life_answer_free (gpointer data)
{
  FettleLifeAnswer *answer = data;

  if (answer == NULL)
    return;

  g_clear_pointer (&answer->words, present_life_free);
  g_clear_pointer (&answer->data, insight_life_free);
  g_clear_pointer (&answer->chart, chart_free);
  g_clear_pointer (&answer->growth, chart_free);
  g_clear_pointer (&answer->rows, g_ptr_array_unref);
  g_clear_pointer (&answer->units, g_ptr_array_unref);
  g_clear_pointer (&answer->issues, g_ptr_array_unref);
  g_free (answer->load);
  g_free (answer);
}
