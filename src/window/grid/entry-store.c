/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is typed or pasted into a round goes into the book, value by value or as a block; what is void is voided by name. */
#include "config.h"

#include "entry-source-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "today.h"
#include "typed-deed.h"

/* What is stored is shown as such before the round is read anew, so that no cell is empty in between. */
static void
take_in (FettleEntrySource *self, const char *draft, gint64 id)
{
  const FettleEntryPending *pending = g_hash_table_lookup (self->pending, draft);
  guint row, column;

  if (pending == NULL || !fettle_entry_find_draft (self, draft, &row, &column))
    return;
  insight_entry_put (self->entry, row, column - FETTLE_ENTRY_FROZEN, id != 0 ? id : -1, pending->mark, pending->value);
  if (id != 0)
    g_hash_table_insert (self->notes, g_memdup2 (&id, sizeof id), g_strdup (pending->note));
}

/* What was typed into the cell since is about to be stored by itself, or was let go. */
static void
on_ended (FettleTableSource *source, const char *draft, const char *text, gboolean stored, gint64 id)
{
  FettleEntrySource *self = FETTLE_ENTRY_SOURCE (source);
  const FettleEntryPending *pending = g_hash_table_lookup (self->pending, draft);

  if (stored && g_strcmp0 (fettle_drafts_get (self->drafts, draft), text) == 0)
    fettle_drafts_keep (self->drafts, draft, NULL);
  if (pending == NULL || !g_str_equal (pending->text, text))
    return;
  if (stored)
    take_in (self, draft, id);
  g_hash_table_remove (self->pending, draft);
  fettle_entry_pending_changed (self);
}

static char *
visit_words (guint n, const char *where)
{
  /* Translators: stands after 'Undo:'; %s is the label of a round */
  return g_strdup_printf (ngettext ("%u reading in %s", "%u readings in %s", n), n, where);
}

static void
store (FettleEntrySource *self, BookEdit *edit, FettleTypedDeed *deed)
{
  if (self->visit == NULL || fettle_visit_is_over (self->visit))
    self->visit = fettle_sitting_begin_visit (self->sitting, visit_words, self->entry->label);
  fettle_typed_deed_store (deed, self->sitting, self->visit, edit);
}

/* '12.5; burr' is a value and a note; without a ';' the note that is there stays. */
static gboolean
parse (FettleEntrySource *self, guint column, const char *text, BookTyped *typed, char **note, GError **error)
{
  const char *semicolon = strchr (text, ';');
  g_autofree char *value = g_strstrip (semicolon != NULL ? g_strndup (text, (gsize) (semicolon - text)) : g_strdup (text));

  *note = NULL;
  if (!book_typed_parse (fettle_entry_column_at (self, column)->kind, value, typed, error))
    return FALSE;
  if (semicolon != NULL)
    *note = g_strstrip (g_strdup (semicolon + 1));
  return TRUE;
}

/* Asks about a value that looks like a slip, and withdraws the question when the cell it was about holds another. */
static void
look_for_slip (FettleEntrySource *self, guint row, guint column, const char *draft)
{
  gboolean strange;

  g_hash_table_remove (self->right, draft);
  strange = !isnan (fettle_entry_slip (self, row, column));
  if (!strange && g_strcmp0 (self->asked, draft) != 0)
    return;
  g_free (self->asked);
  self->asked = strange ? g_strdup (draft) : NULL;
  g_signal_emit_by_name (self, "asked");
}

static BookEdit *
edit_for (FettleEntrySource *self, guint row, guint column, const BookTyped *typed, const char *note)
{
  const InsightEntryCell *cell = fettle_entry_cell_at (self, row, column);
  const InsightEntryColumn *one = fettle_entry_column_at (self, column);
  g_autofree char *today = fettle_today ();
  BookEdit *edit = book_edit_reading (self->entry->units[row].id, one->id, self->entry->attempt, cell->n, typed,
                                      cell->reading != 0 ? NULL : today);

  if (self->gauge != 0 && one->kind == BOOK_CHARACTERISTIC_MEASURED)
    book_edit_reading_gauge (edit, self->gauge);
  if (note != NULL)
    book_edit_reading_note (edit, note);
  return edit;
}

/* What was typed is shown and judged at once; the writer has it from now on. */
static void
expect (FettleEntrySource *self, FettleTypedDeed *deed, guint row, guint column, const char *text, const BookTyped *typed, const char *note)
{
  g_autofree char *draft = fettle_entry_draft_name (self, row, column);
  FettleEntryPending *pending = g_new0 (FettleEntryPending, 1);

  *pending = (FettleEntryPending){ typed->mark, typed->has_value ? typed->value : (double) NAN, g_strdup (note), g_strdup (text) };
  g_hash_table_insert (self->pending, g_strdup (draft), pending);
  fettle_entry_pending_changed (self);
  fettle_typed_deed_add (deed, draft, text);
  look_for_slip (self, row, column, draft);
}

char *
fettle_entry_commit (FettleTableSource *source, guint row, guint column, const char *text)
{
  FettleEntrySource *self = FETTLE_ENTRY_SOURCE (source);
  g_autofree char *draft = NULL, *note = NULL, *stripped = g_strstrip (g_strdup (text));
  g_autoptr(GError) error = NULL;
  BookTyped typed;
  BookEdit *edit;
  FettleTypedDeed *deed;

  if (!fettle_entry_is_value (self, row, column))
    return g_strdup (_("This unit is no longer in the round."));
  draft = fettle_entry_draft_name (self, row, column);
  if (*stripped == '\0' && fettle_entry_judge (self, row, column) == INSIGHT_ENTRY_EMPTY)
    {
      fettle_drafts_keep (self->drafts, draft, NULL);
      return NULL;
    }
  if (!parse (self, column, stripped, &typed, &note, &error))
    return g_strdup (error->message);
  deed = fettle_typed_deed_new (source, self->drafts, on_ended);
  edit = edit_for (self, row, column, &typed, note);
  expect (self, deed, row, column, stripped, &typed, note);
  store (self, edit, deed);
  fettle_table_source_rows_changed (source);
  return NULL;
}

/* Whether @typed is what stands there already. */
static gboolean
is_same (FettleEntrySource *self, guint row, guint column, const BookTyped *typed, const char *note)
{
  BookMark mark;
  double value;

  return note == NULL && fettle_entry_get_value (self, row, column, &mark, &value) && mark == typed->mark
         && (typed->has_value ? typed->value == value : isnan (value));
}

char *
fettle_entry_put (FettleTableSource *source, guint row, guint column, const char *const *texts, guint n_rows, guint n_columns)
{
  FettleEntrySource *self = FETTLE_ENTRY_SOURCE (source);
  GPtrArray *edits = g_ptr_array_new_with_free_func ((GDestroyNotify) book_edit_free);
  FettleTypedDeed *deed = fettle_typed_deed_new (source, self->drafts, on_ended);
  char *refused;

  for (guint i = 0; i < n_rows * n_columns; i++)
    {
      guint at = row + i / n_columns, beside = column + i % n_columns;
      g_autofree char *draft = texts[i] != NULL && fettle_entry_is_value (self, at, beside) ? fettle_entry_draft_name (self, at, beside) : NULL;
      g_autofree char *note = NULL;
      g_autoptr(GError) error = NULL;
      BookTyped typed;

      if (draft == NULL)
        continue;
      if (!parse (self, beside, texts[i], &typed, &note, &error))
        {
          fettle_typed_deed_refuse (deed, draft, texts[i], error);
          continue;
        }
      if (is_same (self, at, beside, &typed, note))
        continue;
      g_ptr_array_add (edits, edit_for (self, at, beside, &typed, note));
      expect (self, deed, at, beside, texts[i], &typed, note);
    }
  refused = fettle_typed_deed_dup_refused (deed);
  if (edits->len > 0)
    store (self, book_edit_several ("readings-typed", BOOK_RECORD_ROUND, self->entry->round, edits), deed);
  else
    {
      g_ptr_array_unref (edits);
      fettle_typed_deed_free (deed);
    }
  fettle_table_source_rows_changed (source);
  return refused;
}

/* ---- voiding ---- */

/* A reading is not emptied: it is voided by name and with a reason, for which the page asks. */
char *
fettle_entry_clear (FettleTableSource *source, guint row, guint column, guint n_rows, guint n_columns)
{
  FettleEntrySource *self = FETTLE_ENTRY_SOURCE (source);
  g_autoptr(GArray) keys = fettle_entry_source_dup_stored (self, row, column, n_rows, n_columns);

  if (keys->len == 0)
    return g_strdup (_("There is no reading here to void."));
  g_signal_emit_by_name (self, "void-wanted");
  return NULL;
}

/**
 * fettle_entry_source_dup_stored:
 * @self: the round
 * @row: of a block of cells
 * @column: of it
 * @n_rows: of it
 * @n_columns: of it
 *
 * Returns: (element-type gint64): the keys of the readings that stand in the block
 */
GArray *
fettle_entry_source_dup_stored (FettleEntrySource *self, guint row, guint column, guint n_rows, guint n_columns)
{
  GArray *keys = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint r = row; r < row + n_rows; r++)
    for (guint c = column; c < column + n_columns; c++)
      if (fettle_entry_is_value (self, r, c) && fettle_entry_cell_at (self, r, c)->reading > 0)
        g_array_append_val (keys, fettle_entry_cell_at (self, r, c)->reading);
  return keys;
}

static void
on_voided (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleEntrySource) self = data;
  g_autoptr(GError) error = NULL;

  if (!fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error))
    g_signal_emit_by_name (self, "refused", error->message);
}

/**
 * fettle_entry_source_void:
 * @self: the round
 * @keys: (element-type gint64): of readings
 * @reason: why
 *
 * Voids readings as one deed.
 */
void
fettle_entry_source_void (FettleEntrySource *self, GArray *keys, const char *reason)
{
  GPtrArray *edits = g_ptr_array_new_with_free_func ((GDestroyNotify) book_edit_free);

  for (guint i = 0; i < keys->len; i++)
    g_ptr_array_add (edits, book_edit_void (g_array_index (keys, gint64, i), reason));
  fettle_sitting_edit (self->sitting, book_edit_several ("readings-voided", BOOK_RECORD_ROUND, self->entry->round, edits), on_voided,
                       g_object_ref (self));
}
