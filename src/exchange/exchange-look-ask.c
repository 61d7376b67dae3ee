/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A look's rows judged by the import, and what it said of each. */
#include "config.h"

#include "exchange-look-private.h"

#include "exchange-error.h"
#include "exchange-import-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

typedef struct
{
  const ExchangeLook *look;
  ExchangeLookAnswer *answer;
  GArray             *sources; /* of int: column of the look, or -1 - field for what all rows have */
  GPtrArray          *names;
  GString            *words;  /* of the row, one cell behind the other */
  GArray             *starts; /* of gsize */
  GArray             *cells;  /* of ExchangeCsvField */
} Asking;

static void
note_clear (gpointer note)
{
  g_free (((ExchangeLookNote *) note)->text);
}

static GArray *
notes_new (void)
{
  GArray *notes = g_array_new (FALSE, FALSE, sizeof (ExchangeLookNote));

  g_array_set_clear_func (notes, note_clear);
  return notes;
}

static void
add_column (Asking *self, int source, const char *name)
{
  g_array_append_val (self->sources, source);
  g_ptr_array_add (self->names, (gpointer) name);
}

static void
list_columns (Asking *self)
{
  const ExchangeLook *look = self->look;

  for (guint i = 0; i < exchange_look_count_columns (look); i++)
    if (look->columns[i] >= 0)
      add_column (self, (int) i, exchange_look_field (look, (guint) look->columns[i])->name);
  for (guint f = 0; f < look->fields->len; f++)
    if (exchange_look_needs (look, f) && *exchange_look_get_fixed (look, f) != '\0')
      add_column (self, -1 - (int) f, exchange_look_field (look, f)->name);
}

static void
fill (guint row, ExchangeCsvRow *filled, gpointer data)
{
  Asking *self = data;
  const ExchangeLook *look = self->look;

  g_string_truncate (self->words, 0);
  g_array_set_size (self->starts, 0);
  g_array_set_size (self->cells, 0);
  for (guint i = 0; i < self->sources->len; i++)
    {
      int source = g_array_index (self->sources, int, i);
      guint field = (guint) (source >= 0 ? look->columns[source] : -1 - source);
      const char *text = source >= 0 ? exchange_look_get_cell (look, row, (guint) source) : exchange_look_get_fixed (look, field);
      gsize start = self->words->len;

      g_array_append_val (self->starts, start);
      exchange_look_translate (exchange_look_field (look, field)->leaf, text, look->decimal_sign, look->order, self->words);
      g_string_append_c (self->words, '\0');
    }
  filled->line = exchange_look_get_line (look, row);
  for (guint i = 0; i < self->sources->len; i++)
    {
      const char *cell = self->words->str + g_array_index (self->starts, gsize, i); /* only now it moves no more */
      ExchangeCsvField made = { cell, strlen (cell), filled->line };

      g_array_append_val (self->cells, made);
    }
  filled->fields = (const ExchangeCsvField *) (void *) self->cells->data;
  filled->n_fields = self->cells->len;
}

/* A field by the name of a column, or by that of the record's field where the last column gives it. */
static int
find_field (const ExchangeLook *look, const char *name)
{
  for (guint i = 0; name != NULL && i < look->fields->len; i++)
    if (strcmp (exchange_look_field (look, i)->name, name) == 0)
      return (int) i;
  return -1;
}

static void
on_changed (guint row, const BookField *field, const char *old_text, gpointer data)
{
  Asking *self = data;
  ExchangeLookNote note = { row, find_field (self->look, field->name), g_strdup (old_text) };

  g_array_append_val (self->answer->changes, note);
}

static void
on_refused (guint row, const char *column, const char *what, gpointer data)
{
  Asking *self = data;
  ExchangeLookNote note = { row, find_field (self->look, column), g_strdup (what) };

  g_array_append_val (self->answer->refusals, note);
}

static void
on_judged (guint row, ExchangeRowState state, gpointer data)
{
  static const ExchangeLookState states[] = {
    [EXCHANGE_ROW_NEW] = EXCHANGE_LOOK_NEW,
    [EXCHANGE_ROW_EQUAL] = EXCHANGE_LOOK_EQUAL,
    [EXCHANGE_ROW_CHANGES] = EXCHANGE_LOOK_CHANGED,
    [EXCHANGE_ROW_REJECTED] = EXCHANGE_LOOK_REFUSED,
  };
  Asking *self = data;

  self->answer->states[row] = (guint8) states[state];
  self->answer->counts[states[state]]++;
}

static int
compare_notes (gconstpointer a, gconstpointer b)
{
  const ExchangeLookNote *x = a;
  const ExchangeLookNote *y = b;

  return x->row < y->row ? -1 : x->row > y->row;
}

static ExchangeLookAnswer *
answer_new (guint n_rows)
{
  ExchangeLookAnswer *answer = g_new0 (ExchangeLookAnswer, 1);

  answer->n_rows = n_rows;
  answer->states = g_new0 (guint8, n_rows + 1);
  answer->changes = notes_new ();
  answer->refusals = notes_new ();
  return answer;
}

ExchangeLookAnswer *
exchange_look_ask (Book *book, const ExchangeLookQuestion *question, StoreProgress progress, gpointer progress_data,
                   GCancellable *cancellable, GError **error)
{
  const ExchangeLook *look = question->look;
  g_autoptr(ExchangeLookAnswer) answer = answer_new (look->rows->len);
  g_autoptr(ExchangeImportReport) report = NULL;
  ExchangeImportOptions options = { .keep_good = TRUE, .update = TRUE, .dry_run = !question->store,
                                    .person = question->person, .sitting = question->sitting,
                                    .progress = progress, .progress_data = progress_data };
  ExchangeImportRows rows = { .name = look->name, .record = look->record, .n_rows = look->rows->len, .fill = fill,
                              .changed = on_changed, .refused = on_refused, .judged = on_judged };
  g_autofree char *lacks = exchange_look_lacks (look);
  Asking asking = { .look = look, .answer = answer };
  gboolean good;

  if (lacks != NULL)
    {
      g_set_error_literal (error, EXCHANGE_ERROR, EXCHANGE_ERROR_ROWS, lacks);
      return NULL;
    }
  asking.sources = g_array_new (FALSE, FALSE, sizeof (int));
  asking.names = g_ptr_array_new ();
  asking.words = g_string_new (NULL);
  asking.starts = g_array_new (FALSE, FALSE, sizeof (gsize));
  asking.cells = g_array_new (FALSE, FALSE, sizeof (ExchangeCsvField));
  list_columns (&asking);
  rows.n_columns = asking.names->len;
  rows.columns = (const char *const *) asking.names->pdata;
  rows.data = &asking;
  good = exchange_import_rows (book, &rows, &options, &report, cancellable, error);
  g_array_unref (asking.sources);
  g_ptr_array_unref (asking.names);
  g_string_free (asking.words, TRUE);
  g_array_unref (asking.starts);
  g_array_unref (asking.cells);
  if (!good)
    return NULL;
  answer->stored = report->stored;
  g_array_sort (answer->changes, compare_notes); /* the book gives them in its own order */
  g_array_sort (answer->refusals, compare_notes);
  return g_steal_pointer (&answer);
}

void
exchange_look_answer_free (ExchangeLookAnswer *answer)
{
  if (answer == NULL)
    return;
  g_free (answer->states);
  g_array_unref (answer->changes);
  g_array_unref (answer->refusals);
  g_free (answer);
}

guint
exchange_look_answer_count (const ExchangeLookAnswer *answer, ExchangeLookState state)
{
  return answer->counts[state];
}

ExchangeLookState
exchange_look_answer_state (const ExchangeLookAnswer *answer, guint row)
{
  return (ExchangeLookState) answer->states[row];
}

gboolean
exchange_look_answer_is_stored (const ExchangeLookAnswer *answer)
{
  return answer->stored;
}

/* ---- one row ---- */

/* The first note of a row, or the length of the list. */
static guint
find_notes (const GArray *notes, guint row)
{
  guint low = 0, high = notes->len;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;

      if (g_array_index (notes, ExchangeLookNote, middle).row < row)
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

static const ExchangeLookNote *
note_at (const GArray *notes, guint at, guint row)
{
  const ExchangeLookNote *note = at < notes->len ? &g_array_index (notes, ExchangeLookNote, at) : NULL;

  return note != NULL && note->row == row ? note : NULL;
}

const char *
exchange_look_answer_old (const ExchangeLook *self, const ExchangeLookAnswer *answer, guint row, guint column)
{
  const ExchangeLookNote *note;

  if (answer->states[row] != EXCHANGE_LOOK_CHANGED || self->columns[column] < 0)
    return NULL;
  for (guint at = find_notes (answer->changes, row); (note = note_at (answer->changes, at, row)) != NULL; at++)
    if (note->field == self->columns[column])
      return note->text;
  return NULL;
}

gboolean
exchange_look_answer_is_wrong (const ExchangeLook *self, const ExchangeLookAnswer *answer, guint row, guint column)
{
  const ExchangeLookNote *note;

  if (answer->states[row] != EXCHANGE_LOOK_REFUSED || self->columns[column] < 0)
    return FALSE;
  for (guint at = find_notes (answer->refusals, row); (note = note_at (answer->refusals, at, row)) != NULL; at++)
    if (note->field == self->columns[column])
      return TRUE;
  return FALSE;
}

/* What the row has in a field, as it was written. */
static const char *
written (const ExchangeLook *self, guint row, int field)
{
  for (guint i = 0; field >= 0 && i < exchange_look_count_columns (self); i++)
    if (self->columns[i] == field)
      return exchange_look_get_cell (self, row, i);
  return field >= 0 ? exchange_look_get_fixed (self, (guint) field) : "";
}

static void
append_change (const ExchangeLook *self, guint row, const ExchangeLookNote *note, GString *out)
{
  const char *now = written (self, row, note->field);
  const char *label = note->field >= 0 ? exchange_look_field (self, (guint) note->field)->label : "";
  g_autofree char *words = NULL;

  if (*note->text == '\0')
    /* Translators: a field and what comes into it, which was empty */
    words = g_strdup_printf (_("%s: '%s', empty until now"), label, now);
  else if (*now == '\0')
    /* Translators: a field and what goes out of it */
    words = g_strdup_printf (_("%s: '%s' becomes empty"), label, note->text);
  else
    /* Translators: a field, what the book has, and what it will have */
    words = g_strdup_printf (_("%s: '%s' becomes '%s'"), label, note->text, now);
  g_string_append (out, words);
}

char *
exchange_look_answer_words (const ExchangeLook *self, const ExchangeLookAnswer *answer, guint row)
{
  const GArray *notes = answer->states[row] == EXCHANGE_LOOK_REFUSED ? answer->refusals : answer->changes;
  g_autoptr(GString) out = g_string_new (NULL);
  const ExchangeLookNote *note;

  if (answer->states[row] != EXCHANGE_LOOK_REFUSED && answer->states[row] != EXCHANGE_LOOK_CHANGED)
    return g_strdup ("");
  for (guint at = find_notes (notes, row); (note = note_at (notes, at, row)) != NULL; at++)
    {
      if (out->len > 0)
        g_string_append (out, "; ");
      if (notes == answer->changes)
        append_change (self, row, note, out);
      else if (note->field >= 0)
        g_string_append_printf (out, "%s: %s", exchange_look_field (self, (guint) note->field)->label, note->text);
      else
        g_string_append (out, note->text);
      if (g_str_has_suffix (out->str, "."))
        g_string_truncate (out, out->len - 1);
    }
  g_string_append_c (out, '.');
  return g_string_free (g_steal_pointer (&out), FALSE);
}

/* ---- what is left ---- */

void
exchange_look_keep_refused (ExchangeLook *self, const ExchangeLookAnswer *answer)
{
  g_autoptr(GArray) rows = g_steal_pointer (&self->rows);

  self->rows = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint row = 0; row < rows->len; row++)
    if (answer->states[row] == EXCHANGE_LOOK_REFUSED)
      g_array_append_val (self->rows, g_array_index (rows, guint, row));
  exchange_look_forget_mends (self);
}

/* A spreadsheet takes tabs and semicolons alike; what was pasted goes out with commas. */
static char
separator_of (const ExchangeLook *self)
{
  char separator = self->text->grid->separator;

  return separator == ';' || (separator == '\t' && self->decimal_sign == ',') ? ';' : ',';
}

char *
exchange_look_print_refused (const ExchangeLook *self, const ExchangeLookAnswer *answer)
{
  GString *out = g_string_new (NULL);
  char separator = separator_of (self);

  for (guint i = 0; i < exchange_look_count_columns (self); i++)
    {
      const char *head = self->columns[i] >= 0 ? exchange_look_field (self, (guint) self->columns[i])->name
                                               : exchange_look_get_head (self, i);

      exchange_csv_write_field (out, head, strlen (head), separator);
      g_string_append_c (out, separator);
    }
  g_string_append (out, EXCHANGE_REASON_COLUMN "\n");
  for (guint row = 0; row < self->rows->len; row++)
    {
      g_autofree char *why = NULL;

      if (answer->states[row] != EXCHANGE_LOOK_REFUSED)
        continue;
      why = exchange_look_answer_words (self, answer, row);
      for (guint i = 0; i < exchange_look_count_columns (self); i++)
        {
          const char *cell = exchange_look_get_cell (self, row, i);

          exchange_csv_write_field (out, cell, strlen (cell), separator);
          g_string_append_c (out, separator);
        }
      exchange_csv_write_field (out, why, strlen (why), separator);
      g_string_append_c (out, '\n');
    }
  return g_string_free (out, FALSE);
}
