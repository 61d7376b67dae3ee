/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "entry-source-private.h"

#include <glib/gi18n.h>
#include <math.h>

#include "present-entry.h"

#define SERIAL_LETTERS  9
#define MISSING_LETTERS 3
#define VALUE_LETTERS   8

enum { COLUMN_UNIT, COLUMN_MISSING };

static void fettle_entry_source_table_init (FettleTableSourceInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleEntrySource, fettle_entry_source, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_TABLE_SOURCE, fettle_entry_source_table_init))

static void
pending_free (gpointer data)
{
  FettleEntryPending *pending = data;

  g_free (pending->note);
  g_free (pending->text);
  g_free (pending);
}

/* ---- as a table ---- */

static const FettleTableColumn *
fettle_entry_source_columns (FettleTableSource *source, guint *n_columns)
{
  FettleEntrySource *self = FETTLE_ENTRY_SOURCE (source);

  *n_columns = self->entry != NULL ? self->entry->n_columns + FETTLE_ENTRY_FROZEN : FETTLE_ENTRY_FROZEN;
  return self->columns;
}

static guint
fettle_entry_source_n_rows (FettleTableSource *source)
{
  FettleEntrySource *self = FETTLE_ENTRY_SOURCE (source);

  return self->entry != NULL ? self->entry->n_units : 0;
}

static char *
fettle_entry_source_dup_text (FettleTableSource *source, guint row, guint column, FettleTableTone *tone, gboolean *pending)
{
  FettleEntrySource *self = FETTLE_ENTRY_SOURCE (source);
  InsightEntryJudged judged;
  BookMark mark;
  double value;
  guint missing;

  if (column == COLUMN_UNIT)
    {
      *tone = self->entry->units[row].gone ? FETTLE_TONE_FAINT : FETTLE_TONE_INK;
      return g_strdup (self->entry->units[row].serial);
    }
  if (column == COLUMN_MISSING)
    {
      missing = fettle_entry_count_missing (self, (int) row, -1);
      *tone = FETTLE_TONE_FAINT;
      return missing > 0 ? g_strdup_printf ("%u", missing) : g_strdup ("");
    }
  *pending = fettle_entry_pending_at (self, row, column) != NULL;
  if (!fettle_entry_get_value (self, row, column, &mark, &value))
    {
      const InsightEntryCell *cell = fettle_entry_cell_at (self, row, column);

      *tone = FETTLE_TONE_STRUCK;
      return cell->voided != 0 ? present_entry_value (fettle_entry_column_at (self, column), cell->mark, cell->value) : g_strdup ("");
    }
  judged = fettle_entry_judge (self, row, column);
  if (judged == INSIGHT_ENTRY_ABOVE || judged == INSIGHT_ENTRY_BELOW || judged == INSIGHT_ENTRY_FAILED)
    *tone = FETTLE_TONE_OPEN;
  return present_entry_value (fettle_entry_column_at (self, column), mark, value);
}

/* The value with its note; of a voided reading nothing, since the next value is another one. */
static char *
fettle_entry_source_dup_edit (FettleTableSource *source, guint row, guint column)
{
  FettleEntrySource *self = FETTLE_ENTRY_SOURCE (source);
  g_autofree char *note = NULL, *text = NULL;
  BookMark mark;
  double value;

  if (!fettle_entry_is_value (self, row, column) || !fettle_entry_get_value (self, row, column, &mark, &value))
    return g_strdup ("");
  text = present_entry_value (fettle_entry_column_at (self, column), mark, value);
  note = fettle_entry_source_dup_note (self, row, column);
  return note != NULL ? g_strdup_printf ("%s; %s", text, note) : g_steal_pointer (&text);
}

static char *
fettle_entry_source_dup_mark (FettleTableSource *source, guint row, guint column)
{
  FettleEntrySource *self = FETTLE_ENTRY_SOURCE (source);
  g_autofree char *note = NULL;
  const char *sign;

  if (!fettle_entry_is_value (self, row, column))
    return NULL;
  sign = present_entry_sign (fettle_entry_judge (self, row, column), !isnan (fettle_entry_slip (self, row, column)));
  if (sign != NULL)
    return g_strdup (sign);
  note = fettle_entry_source_dup_note (self, row, column);
  return note != NULL ? g_strdup ("*") : NULL;
}

/* Below the heading: the limits in force, and how many readings are missing or that the gauge is out. */
static const char *
fettle_entry_source_head_note (FettleTableSource *source, guint column, guint line)
{
  FettleEntrySource *self = FETTLE_ENTRY_SOURCE (source);
  guint missing;

  if (self->entry == NULL || column < COLUMN_MISSING)
    return "";
  if (line == 0)
    return column >= FETTLE_ENTRY_FROZEN ? self->limits[column - FETTLE_ENTRY_FROZEN] : "";
  missing = fettle_entry_count_missing (self, -1, column >= FETTLE_ENTRY_FROZEN ? (int) column : -1);
  g_free (self->counted);
  if (column < FETTLE_ENTRY_FROZEN)
    self->counted = g_strdup_printf ("%u", missing);
  else
    {
      g_autofree char *warning = fettle_entry_source_dup_warning (self, column);

      /* Translators: below a heading, as in '12 missing' */
      self->counted = missing > 0 ? g_strdup_printf (_("%s%u missing"), warning != NULL ? "◆ " : "", missing)
                                  : g_strdup (warning != NULL ? "◆" : "");
    }
  return self->counted;
}

static gboolean
fettle_entry_source_editable (FettleTableSource *source, guint row, guint column)
{
  return fettle_entry_is_value (FETTLE_ENTRY_SOURCE (source), row, column);
}

static char *
fettle_entry_source_describe (FettleTableSource *source, guint row, guint column)
{
  FettleEntrySource *self = FETTLE_ENTRY_SOURCE (source);
  g_autofree char *words = NULL, *note = NULL;
  BookMark mark;
  double value;

  if (!fettle_entry_is_value (self, row, column))
    return g_strdup (row < fettle_entry_source_n_rows (source) ? self->entry->units[row].serial : "");
  fettle_entry_get_value (self, row, column, &mark, &value);
  words = present_entry_cell (self->entry, row, column - FETTLE_ENTRY_FROZEN, mark, value, fettle_entry_judge (self, row, column));
  note = fettle_entry_source_dup_note (self, row, column);
  return note != NULL ? g_strdup_printf ("%s; %s", words, note) : g_steal_pointer (&words);
}

static gint64
fettle_entry_source_key_at (FettleTableSource *source, guint row)
{
  return FETTLE_ENTRY_SOURCE (source)->entry->units[row].id;
}

static gboolean
fettle_entry_source_find_key (FettleTableSource *source, gint64 key, guint *row)
{
  for (*row = 0; *row < fettle_entry_source_n_rows (source); ++*row)
    if (fettle_entry_source_key_at (source, *row) == key)
      return TRUE;
  return FALSE;
}

static void
fettle_entry_source_keep_typed (FettleTableSource *source, gint64 key, guint column, const char *text)
{
  FettleEntrySource *self = FETTLE_ENTRY_SOURCE (source);
  g_autofree char *draft = NULL;
  guint row;

  if (!fettle_entry_source_find_key (source, key, &row) || !fettle_entry_is_value (self, row, column))
    return;
  draft = fettle_entry_draft_name (self, row, column);
  fettle_drafts_keep (self->drafts, draft, text);
}

static char *
fettle_entry_source_dup_typed (FettleTableSource *source, gint64 key, guint column)
{
  FettleEntrySource *self = FETTLE_ENTRY_SOURCE (source);
  g_autofree char *draft = NULL;
  guint row;

  if (column < FETTLE_ENTRY_FROZEN || !fettle_entry_source_find_key (source, key, &row) || !fettle_entry_is_value (self, row, column))
    return NULL;
  draft = fettle_entry_draft_name (self, row, column);
  return g_hash_table_contains (self->pending, draft) ? NULL : g_strdup (fettle_drafts_get (self->drafts, draft));
}

static void
fettle_entry_source_table_init (FettleTableSourceInterface *iface)
{
  iface->columns = fettle_entry_source_columns;
  iface->n_rows = fettle_entry_source_n_rows;
  iface->dup_text = fettle_entry_source_dup_text;
  iface->dup_edit = fettle_entry_source_dup_edit;
  iface->dup_mark = fettle_entry_source_dup_mark;
  iface->head_note = fettle_entry_source_head_note;
  iface->n_head_notes = 2;
  iface->editable = fettle_entry_source_editable;
  iface->commit = fettle_entry_commit;
  iface->describe = fettle_entry_source_describe;
  iface->get_key = fettle_entry_source_key_at;
  iface->find = fettle_entry_source_find_key;
  iface->keep_typed = fettle_entry_source_keep_typed;
  iface->dup_typed = fettle_entry_source_dup_typed;
  iface->put = fettle_entry_put;
  iface->clear = fettle_entry_clear;
}

/* ---- the object ---- */

static void
fettle_entry_source_finalize (GObject *object)
{
  FettleEntrySource *self = FETTLE_ENTRY_SOURCE (object);

  insight_entry_free (self->entry);
  g_hash_table_unref (self->notes);
  g_hash_table_unref (self->pending);
  g_hash_table_unref (self->right);
  g_strfreev (self->titles);
  g_strfreev (self->limits);
  g_free (self->columns);
  g_free (self->counted);
  g_free (self->less);
  g_free (self->asked);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_entry_source_parent_class)->finalize (object);
}

static void
fettle_entry_source_class_init (FettleEntrySourceClass *class)
{
  GType type = G_TYPE_FROM_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = fettle_entry_source_finalize;
  g_signal_new ("refused", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  g_signal_new ("asked", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  g_signal_new ("void-wanted", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
set_columns (FettleEntrySource *self)
{
  guint n = self->entry != NULL ? self->entry->n_columns : 0;

  g_strfreev (self->titles);
  g_strfreev (self->limits);
  g_free (self->columns);
  self->titles = g_new0 (char *, n + FETTLE_ENTRY_FROZEN + 1);
  self->limits = g_new0 (char *, n + 1);
  self->columns = g_new0 (FettleTableColumn, n + FETTLE_ENTRY_FROZEN);
  self->titles[COLUMN_UNIT] = g_strdup (_("Unit"));
  /* Translators: heading of a narrow column: how many readings a unit lacks */
  self->titles[COLUMN_MISSING] = g_strdup (_("Lacks"));
  self->columns[COLUMN_UNIT] = (FettleTableColumn){ self->titles[COLUMN_UNIT], SERIAL_LETTERS, FALSE, FALSE, 0 };
  self->columns[COLUMN_MISSING] = (FettleTableColumn){ self->titles[COLUMN_MISSING], MISSING_LETTERS, TRUE, FALSE, 0 };
  for (guint i = 0; i < n; i++)
    {
      char *title = present_entry_title (&self->entry->columns[i]);

      self->titles[i + FETTLE_ENTRY_FROZEN] = title;
      self->limits[i] = present_entry_limits (&self->entry->columns[i]);
      self->columns[i + FETTLE_ENTRY_FROZEN] = (FettleTableColumn){ title, VALUE_LETTERS, TRUE, FALSE, 0 };
    }
}

static void
fettle_entry_source_init (FettleEntrySource *self)
{
  self->notes = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  self->pending = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, pending_free);
  self->right = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  set_columns (self);
}

/**
 * fettle_entry_source_new:
 * @sitting: whose book
 *
 * Returns: (transfer full): a table without rows
 */
FettleEntrySource *
fettle_entry_source_new (FettleSitting *sitting)
{
  FettleEntrySource *self = g_object_new (FETTLE_TYPE_ENTRY_SOURCE, NULL);

  self->sitting = g_object_ref (sitting);
  self->drafts = fettle_sitting_get_drafts (sitting);
  return self;
}

static gboolean
is_same_grid (const InsightEntry *a, const InsightEntry *b)
{
  if (a == NULL || b == NULL || a->round != b->round || a->attempt != b->attempt || a->repeat != b->repeat || a->n_units != b->n_units
      || a->n_columns != b->n_columns)
    return FALSE;
  for (guint i = 0; i < a->n_units; i++)
    if (a->units[i].id != b->units[i].id)
      return FALSE;
  for (guint i = 0; i < a->n_columns; i++)
    if (a->columns[i].id != b->columns[i].id)
      return FALSE;
  return TRUE;
}

/**
 * fettle_entry_source_take:
 * @self: the table
 * @entry: (nullable) (transfer full): what is shown from now on
 * @notes: (nullable) (transfer full) (element-type gint64 utf8): notes by the key of their reading
 */
void
fettle_entry_source_take (FettleEntrySource *self, InsightEntry *entry, GHashTable *notes)
{
  gboolean same = is_same_grid (self->entry, entry);

  if (self->entry != NULL && (entry == NULL || self->entry->round != entry->round))
    fettle_entry_source_leave (self);
  insight_entry_free (self->entry);
  self->entry = entry;
  if (notes != NULL)
    {
      g_hash_table_unref (self->notes);
      self->notes = notes;
    }
  else
    g_hash_table_remove_all (self->notes);
  fettle_entry_pending_changed (self);
  set_columns (self);
  if (same)
    fettle_table_source_rows_changed (FETTLE_TABLE_SOURCE (self));
  else
    fettle_table_source_reset (FETTLE_TABLE_SOURCE (self));
}

const InsightEntry *
fettle_entry_source_get_entry (FettleEntrySource *self)
{
  return self->entry;
}

/* What new values are measured with; 0: the usual gauge of each characteristic. */
void
fettle_entry_source_set_gauge (FettleEntrySource *self, gint64 gauge)
{
  self->gauge = gauge;
  fettle_table_source_rows_changed (FETTLE_TABLE_SOURCE (self));
}

/* The person went on to something else: undo takes what was typed so far as one. */
void
fettle_entry_source_leave (FettleEntrySource *self)
{
  if (self->visit != NULL)
    fettle_sitting_end_visit (self->sitting, self->visit);
}
