/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "study-source.h"

#include <glib/gi18n.h>

#include "book-edit.h"
#include "book-values.h"
#include "today.h"
#include "typed-deed.h"

struct _FettleStudySource
{
  GObject parent_instance;

  FettleSitting     *sitting;
  FettleDrafts      *drafts;
  FettleStudyPlan   *plan; /* NULL until something is planned */
  FettleTableColumn *columns;
  char             **titles;
  GHashTable        *pending; /* draft name -> text that is on its way into the book */
  FettleVisit       *visit;   /* the sitting's: what is typed now; NULL: nothing yet */
  GPtrArray         *known;   /* labels of pieces; a row is known by the place of its label here, from 1 */
};

static void fettle_study_source_table_init (FettleTableSourceInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleStudySource, fettle_study_source, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_TABLE_SOURCE, fettle_study_source_table_init))

FettleStudyPlan *
fettle_study_plan_new (guint n_pieces, guint trials)
{
  FettleStudyPlan *plan = g_new0 (FettleStudyPlan, 1);

  plan->n_pieces = n_pieces;
  plan->trials = trials;
  plan->pieces = g_new0 (char *, n_pieces + 1);
  plan->keys = g_new0 (gint64, (gsize) n_pieces * trials + 1);
  plan->texts = g_new0 (char *, (gsize) n_pieces * trials + 1);
  return plan;
}

void
fettle_study_plan_free (FettleStudyPlan *plan)
{
  if (plan == NULL)
    return;

  g_strfreev (plan->pieces);
  g_free (plan->name);
  for (gsize i = 0; i < (gsize) plan->n_pieces * plan->trials; i++)
    g_free (plan->texts[i]);
  g_free (plan->texts);
  g_free (plan->keys);
  g_free (plan);
}

static gsize
cell_at (FettleStudySource *self, guint row, guint column)
{
  return (gsize) row * self->plan->trials + column - 1;
}

/* By piece and trial, not by place: a plan may grow while something is typed. */
static char *
draft_name (FettleStudySource *self, guint row, guint column)
{
  const FettleStudyPlan *plan = self->plan;

  return g_strdup_printf ("study-%" G_GINT64_FORMAT "-%" G_GINT64_FORMAT "-%" G_GINT64_FORMAT "-%s-%u", plan->gauge,
                          plan->characteristic, plan->person, plan->pieces[row], column);
}

/* ---- storing ---- */

static void
expect (FettleStudySource *self, FettleTypedDeed *deed, const char *draft, const char *text)
{
  fettle_typed_deed_add (deed, draft, text);
  g_hash_table_insert (self->pending, g_strdup (draft), g_strdup (text));
}

static void
on_ended (FettleTableSource *source, const char *draft, const char *text, gboolean stored, gint64 id)
{
  FettleStudySource *self = FETTLE_STUDY_SOURCE (source);

  if (stored && g_strcmp0 (fettle_drafts_get (self->drafts, draft), text) == 0)
    fettle_drafts_keep (self->drafts, draft, NULL);
  if (g_strcmp0 (g_hash_table_lookup (self->pending, draft), text) == 0)
    g_hash_table_remove (self->pending, draft);
}

static char *
visit_words (guint n, const char *where)
{
  /* Translators: stands after 'Undo:'; %s is the code of a characteristic */
  return g_strdup_printf (ngettext ("%u trial of %s", "%u trials of %s", n), n, where);
}

static void
store (FettleStudySource *self, BookEdit *edit, FettleTypedDeed *deed)
{
  if (self->visit == NULL || fettle_visit_is_over (self->visit))
    self->visit = fettle_sitting_begin_visit (self->sitting, visit_words, self->plan->name);
  fettle_typed_deed_store (deed, self->sitting, self->visit, edit);
}

static BookEdit *
new_trial (FettleStudySource *self, guint row, guint column, const char *text)
{
  static const char *const fields[] = { "piece", "trial", "date", "value", NULL };
  const FettleStudyPlan *plan = self->plan;
  g_autofree char *trial = g_strdup_printf ("%u", column), *today = fettle_today ();
  const char *const texts[] = { plan->pieces[row], trial, today, text, NULL };
  BookEdit *edit = book_edit_record (BOOK_RECORD_GAUGE_TRIAL, 0, fields, texts, NULL);

  book_edit_record_refer (edit, "gauge", plan->gauge);
  book_edit_record_refer (edit, "characteristic", plan->characteristic);
  book_edit_record_refer (edit, "person", plan->person);
  return edit;
}

/* Whether @value says something new about a cell; else what was typed is let go. */
static gboolean
is_new (FettleStudySource *self, gsize cell, const char *draft, const char *value)
{
  if (g_strcmp0 (value, self->plan->texts[cell]) != 0 && (self->plan->keys[cell] != 0 || *value != '\0'))
    return TRUE;
  fettle_drafts_keep (self->drafts, draft, NULL);
  return FALSE;
}

static BookEdit *
edit_for (FettleStudySource *self, guint row, guint column, const char *value)
{
  gint64 key = self->plan->keys[cell_at (self, row, column)];

  return key != 0 ? book_edit_field (BOOK_RECORD_GAUGE_TRIAL, key, "value", value) : new_trial (self, row, column, value);
}

static char *
fettle_study_source_commit (FettleTableSource *source, guint row, guint column, const char *text)
{
  FettleStudySource *self = FETTLE_STUDY_SOURCE (source);
  g_autofree char *draft = draft_name (self, row, column);
  g_autofree char *value = g_strstrip (g_strdup (text));
  FettleTypedDeed *deed;

  if (!is_new (self, cell_at (self, row, column), draft, value))
    return NULL;
  if (*value == '\0')
    return g_strdup (_("A value that was measured is not emptied: type what was measured, or undo it."));
  deed = fettle_typed_deed_new (source, self->drafts, on_ended);
  expect (self, deed, draft, value);
  store (self, edit_for (self, row, column, value), deed);
  return NULL;
}

/* A block: what is no number stays in its cell, typed and not stored, and the first of them is told. */
static char *
fettle_study_source_put (FettleTableSource *source, guint row, guint column, const char *const *texts, guint n_rows, guint n_columns)
{
  FettleStudySource *self = FETTLE_STUDY_SOURCE (source);
  const BookField *field = book_field_find (book_record (BOOK_RECORD_GAUGE_TRIAL), "value");
  GPtrArray *edits = g_ptr_array_new_with_free_func ((GDestroyNotify) book_edit_free);
  FettleTypedDeed *deed = fettle_typed_deed_new (source, self->drafts, on_ended);
  char *refused;

  for (guint i = 0; i < n_rows * n_columns; i++)
    {
      guint at = row + i / n_columns, trial = column + i % n_columns;
      g_autofree char *draft = texts[i] != NULL ? draft_name (self, at, trial) : NULL;
      g_autoptr(GError) error = NULL;
      BookValue value;

      if (draft == NULL || !is_new (self, cell_at (self, at, trial), draft, texts[i]))
        continue;
      if (book_value_parse (field, texts[i], -1, TRUE, &value, &error))
        {
          expect (self, deed, draft, texts[i]);
          g_ptr_array_add (edits, edit_for (self, at, trial, texts[i]));
        }
      else
        fettle_typed_deed_refuse (deed, draft, texts[i], error);
    }
  refused = fettle_typed_deed_dup_refused (deed);
  if (edits->len > 0)
    store (self, book_edit_several ("trials-typed", BOOK_RECORD_CHARACTERISTIC, self->plan->characteristic, edits), deed);
  else
    {
      g_ptr_array_unref (edits);
      fettle_typed_deed_free (deed);
    }
  return refused;
}

/* ---- as a table ---- */

static const FettleTableColumn *
fettle_study_source_columns (FettleTableSource *source, guint *n_columns)
{
  FettleStudySource *self = FETTLE_STUDY_SOURCE (source);

  *n_columns = self->plan != NULL ? self->plan->trials + 1 : 1;
  return self->columns;
}

static guint
fettle_study_source_n_rows (FettleTableSource *source)
{
  FettleStudySource *self = FETTLE_STUDY_SOURCE (source);

  return self->plan != NULL ? self->plan->n_pieces : 0;
}

static char *
fettle_study_source_dup_text (FettleTableSource *source, guint row, guint column, FettleTableTone *tone, gboolean *pending)
{
  FettleStudySource *self = FETTLE_STUDY_SOURCE (source);
  g_autofree char *draft = column > 0 ? draft_name (self, row, column) : NULL;
  const char *typed;

  if (column == 0)
    return g_strdup (self->plan->pieces[row]);
  typed = g_hash_table_lookup (self->pending, draft);
  if (typed != NULL)
    {
      *pending = TRUE;
      return g_strdup (typed);
    }
  return g_strdup (self->plan->texts[cell_at (self, row, column)] != NULL ? self->plan->texts[cell_at (self, row, column)] : "");
}

static gboolean
fettle_study_source_editable (FettleTableSource *source, guint row, guint column)
{
  return column > 0;
}

static char *
fettle_study_source_describe (FettleTableSource *source, guint row, guint column)
{
  FettleStudySource *self = FETTLE_STUDY_SOURCE (source);
  const char *text = column > 0 ? self->plan->texts[cell_at (self, row, column)] : NULL;

  if (column == 0)
    return g_strdup_printf (_("piece %s"), self->plan->pieces[row]);
  if (text == NULL)
    return g_strdup_printf (_("piece %s, trial %u: not measured yet"), self->plan->pieces[row], column);
  return g_strdup_printf (_("piece %s, trial %u: %s"), self->plan->pieces[row], column, text);
}

static gint64
fettle_study_source_key_at (FettleTableSource *source, guint row)
{
  FettleStudySource *self = FETTLE_STUDY_SOURCE (source);
  const char *label = self->plan->pieces[row];
  guint place;

  if (!g_ptr_array_find_with_equal_func (self->known, label, g_str_equal, &place))
    {
      place = self->known->len;
      g_ptr_array_add (self->known, g_strdup (label));
    }
  return (gint64) place + 1;
}

static gboolean
fettle_study_source_find_key (FettleTableSource *source, gint64 key, guint *row)
{
  for (*row = 0; *row < fettle_study_source_n_rows (source); ++*row)
    if (fettle_study_source_key_at (source, *row) == key)
      return TRUE;
  return FALSE;
}

static void
fettle_study_source_keep_typed (FettleTableSource *source, gint64 key, guint column, const char *text)
{
  FettleStudySource *self = FETTLE_STUDY_SOURCE (source);
  g_autofree char *draft = NULL;
  guint row;

  if (!fettle_study_source_find_key (source, key, &row))
    return;
  draft = draft_name (self, row, column);
  fettle_drafts_keep (self->drafts, draft, text);
}

static char *
fettle_study_source_dup_typed (FettleTableSource *source, gint64 key, guint column)
{
  FettleStudySource *self = FETTLE_STUDY_SOURCE (source);
  g_autofree char *draft = NULL;
  guint row;

  if (column > 0 && fettle_study_source_find_key (source, key, &row))
    draft = draft_name (self, row, column);
  return draft != NULL ? g_strdup (fettle_drafts_get (self->drafts, draft)) : NULL;
}

static void
fettle_study_source_table_init (FettleTableSourceInterface *iface)
{
  iface->columns = fettle_study_source_columns;
  iface->n_rows = fettle_study_source_n_rows;
  iface->dup_text = fettle_study_source_dup_text;
  iface->editable = fettle_study_source_editable;
  iface->commit = fettle_study_source_commit;
  iface->put = fettle_study_source_put;
  iface->describe = fettle_study_source_describe;
  iface->get_key = fettle_study_source_key_at;
  iface->find = fettle_study_source_find_key;
  iface->keep_typed = fettle_study_source_keep_typed;
  iface->dup_typed = fettle_study_source_dup_typed;
}

/* ---- the object ---- */

static void
fettle_study_source_finalize (GObject *object)
{
  FettleStudySource *self = FETTLE_STUDY_SOURCE (object);

  fettle_study_plan_free (self->plan);
  g_strfreev (self->titles);
  g_free (self->columns);
  g_hash_table_unref (self->pending);
  g_ptr_array_unref (self->known);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_study_source_parent_class)->finalize (object);
}

static void
fettle_study_source_class_init (FettleStudySourceClass *class)
{
  G_OBJECT_CLASS (class)->finalize = fettle_study_source_finalize;
  /* FettleStudySource::refused: the sentence why a value is not in the book */
  g_signal_new ("refused", FETTLE_TYPE_STUDY_SOURCE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
fettle_study_source_init (FettleStudySource *self)
{
  self->pending = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->known = g_ptr_array_new_with_free_func (g_free);
}

/**
 * fettle_study_source_new:
 * @sitting: whose book
 *
 * Returns: (transfer full): a table without rows
 */
FettleStudySource *
fettle_study_source_new (FettleSitting *sitting)
{
  FettleStudySource *self = g_object_new (FETTLE_TYPE_STUDY_SOURCE, NULL);

  self->sitting = g_object_ref (sitting);
  self->drafts = fettle_sitting_get_drafts (sitting);
  fettle_study_source_take (self, fettle_study_plan_new (0, 1));
  return self;
}

/**
 * fettle_study_source_take:
 * @self: the table
 * @plan: (transfer full): what is shown from now on
 */
void
fettle_study_source_take (FettleStudySource *self, FettleStudyPlan *plan)
{
  gboolean same = self->plan != NULL && self->plan->n_pieces == plan->n_pieces && self->plan->trials == plan->trials
                  && self->plan->gauge == plan->gauge && self->plan->characteristic == plan->characteristic
                  && self->plan->person == plan->person
                  && g_strv_equal ((const char *const *) self->plan->pieces, (const char *const *) plan->pieces);

  fettle_study_plan_free (self->plan);
  self->plan = plan;
  if (same)
    {
      fettle_table_source_rows_changed (FETTLE_TABLE_SOURCE (self));
      return;
    }
  fettle_study_source_leave (self);
  g_strfreev (self->titles);
  g_free (self->columns);
  self->titles = g_new0 (char *, plan->trials + 2);
  self->columns = g_new0 (FettleTableColumn, plan->trials + 1);
  self->titles[0] = g_strdup (_("Piece"));
  for (guint i = 1; i <= plan->trials; i++)
    self->titles[i] = g_strdup_printf (_("Trial %u"), i);
  for (guint i = 0; i <= plan->trials; i++)
    self->columns[i] = (FettleTableColumn){ self->titles[i], i == 0 ? 10 : 9, i > 0, FALSE, 0 };
  fettle_table_source_reset (FETTLE_TABLE_SOURCE (self));
}

/**
 * fettle_study_source_count_missing:
 * @self: the table
 *
 * Returns: how many planned values are not measured yet
 */
guint
fettle_study_source_count_missing (FettleStudySource *self)
{
  guint missing = 0;

  for (gsize i = 0; i < (gsize) self->plan->n_pieces * self->plan->trials; i++)
    missing += self->plan->keys[i] == 0;
  return missing;
}

/**
 * fettle_study_source_leave:
 * @self: the table
 *
 * The person went on to something else: undo takes what was typed so far as one.
 */
void
fettle_study_source_leave (FettleStudySource *self)
{
  if (self->visit != NULL)
    fettle_sitting_end_visit (self->sitting, self->visit);
}

const FettleStudyPlan *
fettle_study_source_get_plan (FettleStudySource *self)
{
  return self->plan;
}
