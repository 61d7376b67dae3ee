/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "reading-source.h"

#include <glib/gi18n.h>
#include <string.h>

#include "book-edit.h"
#include "book-readings.h"
#include "book.h"
#include "present-reading.h"

#define PAGE_ROWS 128
#define PAGES_KEPT 32
#define DRAFT_PREFIX "reading-" /* and the key of the reading */

typedef struct
{
  BookReadingRow *rows[PAGE_ROWS];
} Page;

struct _FettleReadingSource
{
  GObject parent_instance;

  FettleSitting *sitting;
  GArray        *keys;
  InsightSeries *series;  /* of the characteristic shown; NULL when several are */
  GHashTable    *marks;   /* unit, attempt, voided reading -> index of the mark, plus one */
  GHashTable    *pages;   /* page number -> Page */
  GQueue         age;     /* page numbers, the latest read first */
  GHashTable    *pending; /* key of a reading -> the Typed that the writer has, the last of several */
  FettleDrafts  *drafts;
  FettleTableColumn columns[PRESENT_N_READING_COLUMNS];
  char          *value_title; /* with the unit, where all have the same */
};

static void fettle_reading_source_table_init (FettleTableSourceInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleReadingSource, fettle_reading_source, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_TABLE_SOURCE, fettle_reading_source_table_init))

/* ---- rows ---- */

static void
page_free (gpointer data)
{
  Page *page = data;

  for (guint i = 0; i < PAGE_ROWS; i++)
    book_reading_row_free (page->rows[i]);
  g_free (page);
}

static void
forget_pages (FettleReadingSource *self)
{
  g_hash_table_remove_all (self->pages);
  g_queue_clear (&self->age);
}

static Page *
page_load (FettleReadingSource *self, guint number)
{
  g_autoptr(GError) error = NULL;
  Store *store = book_get_store (fettle_sitting_get_book (self->sitting));
  StoreDb *db = store_front_db (store, &error);
  Page *page = g_new0 (Page, 1);
  guint first = number * PAGE_ROWS, n = MIN (PAGE_ROWS, self->keys->len - first);

  /* Scrolling asks for rows; a failure there must not open anything: the rows stay empty, and the bar says why. */
  if (db == NULL || !book_readings_read (db, &g_array_index (self->keys, gint64, first), n, page->rows, &error))
    fettle_sitting_say (self->sitting, error->message, NULL, NULL);
  while (g_queue_get_length (&self->age) >= PAGES_KEPT)
    g_hash_table_remove (self->pages, g_queue_pop_tail (&self->age));
  g_queue_push_head (&self->age, GUINT_TO_POINTER (number));
  g_hash_table_insert (self->pages, GUINT_TO_POINTER (number), page);
  return page;
}

static const BookReadingRow *
row_at (FettleReadingSource *self, guint row)
{
  Page *page;

  if (self->keys == NULL || row >= self->keys->len)
    return NULL;
  page = g_hash_table_lookup (self->pages, GUINT_TO_POINTER (row / PAGE_ROWS));
  if (page == NULL)
    page = page_load (self, row / PAGE_ROWS);
  return page->rows[row % PAGE_ROWS];
}

/* A mark stands for all repeats of a unit's attempt; a voided reading has a mark of its own. */
static gint64
mark_key (gint64 unit, guint attempt, gint64 voided)
{
  return voided != 0 ? voided : unit ^ ((gint64) attempt << 48);
}

static const InsightMark *
mark_of (FettleReadingSource *self, const BookReadingRow *row)
{
  gint64 key = mark_key (row->unit_key, row->attempt, row->voided ? row->id : 0);
  guint at = GPOINTER_TO_UINT (g_hash_table_lookup (self->marks, &key));

  return at != 0 ? &self->series->marks[at - 1] : NULL;
}

/* What was typed and is with the writer. */
typedef struct
{
  FettleReadingSource *self;
  gint64               key;
  char                *text;
} Typed;

static char *
draft_field (gint64 key)
{
  return g_strdup_printf (DRAFT_PREFIX "%" G_GINT64_FORMAT, key);
}

/* ---- as a table ---- */

static const FettleTableColumn *
fettle_reading_source_columns (FettleTableSource *source, guint *n_columns)
{
  FettleReadingSource *self = FETTLE_READING_SOURCE (source);

  *n_columns = PRESENT_N_READING_COLUMNS;
  return self->columns;
}

static guint
fettle_reading_source_n_rows (FettleTableSource *source)
{
  FettleReadingSource *self = FETTLE_READING_SOURCE (source);

  return self->keys != NULL ? self->keys->len : 0;
}

static char *
fettle_reading_source_dup_text (FettleTableSource *source, guint row, guint column, FettleTableTone *tone, gboolean *pending)
{
  FettleReadingSource *self = FETTLE_READING_SOURCE (source);
  const BookReadingRow *reading = row_at (self, row);
  static const FettleTableTone tones[] = {
    [PRESENT_WEIGHT_PLAIN] = FETTLE_TONE_INK,
    [PRESENT_WEIGHT_LESS] = FETTLE_TONE_FAINT,
    [PRESENT_WEIGHT_OPEN] = FETTLE_TONE_OPEN,
    [PRESENT_WEIGHT_STRUCK] = FETTLE_TONE_STRUCK,
  };
  PresentWeight weight;
  const Typed *typed;
  char *text;

  if (reading == NULL)
    return g_strdup ("");
  typed = column == PRESENT_READING_VALUE ? g_hash_table_lookup (self->pending, &reading->id) : NULL;
  if (typed != NULL)
    {
      *pending = TRUE;
      return g_strdup (typed->text);
    }
  text = present_reading_cell (reading, mark_of (self, reading), column, &weight);
  *tone = tones[weight];
  return text;
}

static gboolean
fettle_reading_source_editable (FettleTableSource *source, guint row, guint column)
{
  const BookReadingRow *reading = row_at (FETTLE_READING_SOURCE (source), row);

  return column == PRESENT_READING_VALUE && reading != NULL && !reading->voided;
}

/* What could not be stored stays among the drafts, and so in its cell. */
static void
on_stored (GObject *object, GAsyncResult *result, gpointer data)
{
  Typed *typed = data;
  FettleReadingSource *self = typed->self;
  g_autofree char *field = draft_field (typed->key);
  g_autoptr(GError) error = NULL;

  if (fettle_sitting_edit_finish (self->sitting, result, NULL, NULL, &error))
    {
      if (g_strcmp0 (fettle_drafts_get (self->drafts, field), typed->text) == 0)
        fettle_drafts_keep (self->drafts, field, NULL);
    }
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      fettle_sitting_say (self->sitting, error->message, NULL, NULL);
    }
  if (g_hash_table_lookup (self->pending, &typed->key) == typed)
    g_hash_table_remove (self->pending, &typed->key);
  forget_pages (self);
  fettle_table_source_rows_changed (FETTLE_TABLE_SOURCE (self));
  g_object_unref (self);
  g_free (typed->text);
  g_free (typed);
}

static char *
fettle_reading_source_commit (FettleTableSource *source, guint row, guint column, const char *text)
{
  FettleReadingSource *self = FETTLE_READING_SOURCE (source);
  const BookReadingRow *reading = row_at (self, row);
  g_autofree char *field = NULL;
  g_autoptr(GError) error = NULL;
  BookTyped value;
  Typed *typed;

  if (reading == NULL)
    return g_strdup (_("This reading is no longer in the book."));
  if (reading->voided)
    return g_strdup (_("This reading was voided meanwhile: Escape leaves it as it is."));
  if (!book_typed_parse (reading->kind, text, &value, &error))
    return g_strdup (error->message);

  typed = g_new (Typed, 1);
  typed->self = g_object_ref (self);
  typed->key = reading->id;
  typed->text = g_strdup (text);
  field = draft_field (reading->id);
  fettle_drafts_keep (self->drafts, field, text); /* until it is stored */
  g_hash_table_insert (self->pending, g_memdup2 (&reading->id, sizeof reading->id), typed);
  fettle_sitting_edit (self->sitting,
                       book_edit_reading (reading->unit_key, reading->characteristic_key, reading->attempt, reading->n,
                                          &value, NULL),
                       on_stored, typed);
  return NULL;
}

static char *
fettle_reading_source_describe (FettleTableSource *source, guint row, guint column)
{
  FettleReadingSource *self = FETTLE_READING_SOURCE (source);
  char *words = fettle_reading_source_dup_words (self, row);

  return words != NULL ? words : g_strdup ("");
}

static gint64
fettle_reading_source_key_at (FettleTableSource *source, guint row)
{
  return fettle_reading_source_get_key (FETTLE_READING_SOURCE (source), row);
}

static gboolean
fettle_reading_source_find_key (FettleTableSource *source, gint64 key, guint *row)
{
  return fettle_reading_source_find (FETTLE_READING_SOURCE (source), key, row);
}

static void
fettle_reading_source_keep_typed (FettleTableSource *source, gint64 key, guint column, const char *text)
{
  g_autofree char *field = draft_field (key);

  fettle_drafts_keep (FETTLE_READING_SOURCE (source)->drafts, field, text);
}

static char *
fettle_reading_source_dup_typed (FettleTableSource *source, gint64 key, guint column)
{
  g_autofree char *field = column == PRESENT_READING_VALUE ? draft_field (key) : NULL;

  return field != NULL ? g_strdup (fettle_drafts_get (FETTLE_READING_SOURCE (source)->drafts, field)) : NULL;
}

static void
fettle_reading_source_table_init (FettleTableSourceInterface *iface)
{
  iface->get_key = fettle_reading_source_key_at;
  iface->find = fettle_reading_source_find_key;
  iface->keep_typed = fettle_reading_source_keep_typed;
  iface->dup_typed = fettle_reading_source_dup_typed;
  iface->columns = fettle_reading_source_columns;
  iface->n_rows = fettle_reading_source_n_rows;
  iface->dup_text = fettle_reading_source_dup_text;
  iface->editable = fettle_reading_source_editable;
  iface->commit = fettle_reading_source_commit;
  iface->describe = fettle_reading_source_describe;
}

/* ---- the object ---- */

static void
fettle_reading_source_finalize (GObject *object)
{
  FettleReadingSource *self = FETTLE_READING_SOURCE (object);

  g_clear_pointer (&self->keys, g_array_unref);
  g_clear_pointer (&self->series, insight_series_free);
  g_hash_table_unref (self->marks);
  g_hash_table_unref (self->pages);
  g_hash_table_unref (self->pending);
  g_queue_clear (&self->age);
  g_free (self->value_title);
  g_object_unref (self->drafts);
  g_object_unref (self->sitting);

  G_OBJECT_CLASS (fettle_reading_source_parent_class)->finalize (object);
}

static void
fettle_reading_source_class_init (FettleReadingSourceClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = fettle_reading_source_finalize;
}

static void
fettle_reading_source_init (FettleReadingSource *self)
{
  static const struct
  {
    guint    letters;
    gboolean number;
    gboolean grows;
    int      least_width;
  } shapes[] = {
    [PRESENT_READING_ROUND] = { 5, FALSE, FALSE, 0 },
    [PRESENT_READING_SERIAL] = { 8, FALSE, FALSE, 0 },
    [PRESENT_READING_CHARACTERISTIC] = { 18, FALSE, FALSE, 0 },
    [PRESENT_READING_ATTEMPT] = { 6, TRUE, FALSE, 620 },
    [PRESENT_READING_VALUE] = { 8, TRUE, FALSE, 0 },
    [PRESENT_READING_STATE] = { 20, FALSE, FALSE, 0 },
    [PRESENT_READING_TAKEN] = { 14, FALSE, FALSE, 720 },
    [PRESENT_READING_PERSON] = { 4, FALSE, FALSE, 720 },
    [PRESENT_READING_REMARK] = { 10, FALSE, TRUE, 0 },
  };
  G_STATIC_ASSERT (G_N_ELEMENTS (shapes) == PRESENT_N_READING_COLUMNS);

  self->marks = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  self->pages = g_hash_table_new_full (NULL, NULL, NULL, page_free);
  self->pending = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  g_queue_init (&self->age);
  for (guint i = 0; i < PRESENT_N_READING_COLUMNS; i++)
    self->columns[i] = (FettleTableColumn){ present_reading_heading (i), shapes[i].letters, shapes[i].number,
                                            shapes[i].grows, shapes[i].least_width };
}

/**
 * fettle_reading_source_new:
 * @sitting: whose book
 * @drafts: keeps what is typed and not stored
 *
 * Returns: (transfer full): a source without rows
 */
FettleReadingSource *
fettle_reading_source_new (FettleSitting *sitting, FettleDrafts *drafts)
{
  FettleReadingSource *self = g_object_new (FETTLE_TYPE_READING_SOURCE, NULL);

  self->sitting = g_object_ref (sitting);
  self->drafts = g_object_ref (drafts);
  return self;
}

/* One characteristic has its name above the table and its unit in the heading; of several each row tells. */
static void
set_columns (FettleReadingSource *self)
{
  const char *heading = present_reading_heading (PRESENT_READING_VALUE);
  const char *unit = self->series != NULL ? self->series->unit : NULL;

  g_free (self->value_title);
  self->value_title = unit != NULL && unit[0] != '\0' ? g_strdup_printf ("%s, %s", heading, unit) : g_strdup (heading);
  self->columns[PRESENT_READING_VALUE].title = self->value_title;
  self->columns[PRESENT_READING_CHARACTERISTIC].least_width = self->series != NULL ? G_MAXINT : 0;
}

/**
 * fettle_reading_source_take:
 * @self: a source
 * @keys: (transfer full) (element-type gint64): readings in order
 * @series: (transfer full) (nullable): of their characteristic, for the states against the limits
 *
 * Shows other readings.
 */
void
fettle_reading_source_take (FettleReadingSource *self, GArray *keys, InsightSeries *series)
{
  gboolean same = self->keys != NULL && self->keys->len == keys->len && (self->series != NULL) == (series != NULL) &&
                  (keys->len == 0 || memcmp (self->keys->data, keys->data, keys->len * sizeof (gint64)) == 0);

  g_clear_pointer (&self->keys, g_array_unref);
  g_clear_pointer (&self->series, insight_series_free);
  g_hash_table_remove_all (self->marks);
  forget_pages (self);

  self->keys = keys;
  self->series = series;
  set_columns (self);
  for (guint i = 0; series != NULL && i < series->n_marks; i++)
    {
      const InsightMark *mark = &series->marks[i];

      gint64 key = mark_key (mark->unit, mark->attempt, mark->counting == INSIGHT_NOT_VOIDED ? mark->reading : 0);

      g_hash_table_insert (self->marks, g_memdup2 (&key, sizeof key), GUINT_TO_POINTER (i + 1));
    }

  if (same)
    fettle_table_source_rows_changed (FETTLE_TABLE_SOURCE (self));
  else
    fettle_table_source_reset (FETTLE_TABLE_SOURCE (self));
}

/**
 * fettle_reading_source_get_key:
 * @self: a source
 * @row: which row
 *
 * Returns: key of the reading; 0 when there is no such row
 */
gint64
fettle_reading_source_get_key (FettleReadingSource *self, guint row)
{
  return self->keys != NULL && row < self->keys->len ? g_array_index (self->keys, gint64, row) : 0;
}

/**
 * fettle_reading_source_find:
 * @self: a source
 * @key: of a reading
 * @row: (out): where it stands
 *
 * Returns: whether it is among the rows
 */
gboolean
fettle_reading_source_find (FettleReadingSource *self, gint64 key, guint *row)
{
  for (guint i = 0; self->keys != NULL && i < self->keys->len; i++)
    if (g_array_index (self->keys, gint64, i) == key)
      {
        *row = i;
        return TRUE;
      }
  return FALSE;
}

/**
 * fettle_reading_source_get_unit:
 * @self: a source
 * @row: which row
 *
 * Returns: key of its unit; 0 when there is no such row
 */
gint64
fettle_reading_source_get_unit (FettleReadingSource *self, guint row)
{
  const BookReadingRow *reading = row_at (self, row);

  return reading != NULL ? reading->unit_key : 0;
}

/**
 * fettle_reading_source_find_unit:
 * @self: a source
 * @unit: key of a unit
 * @row: (out): where its first reading stands
 *
 * Returns: whether it has one among the rows; only asked while one characteristic is shown
 */
gboolean
fettle_reading_source_find_unit (FettleReadingSource *self, gint64 unit, guint *row)
{
  for (guint i = 0; self->series != NULL && i < self->series->n_marks; i++)
    if (self->series->marks[i].unit == unit)
      return fettle_reading_source_find (self, self->series->marks[i].reading, row);
  return FALSE;
}

/**
 * fettle_reading_source_find_typed:
 * @self: a source
 *
 * Returns: key of a reading, of any model, into whose cell something was typed that is not stored; 0: there is none
 */
gint64
fettle_reading_source_find_typed (FettleReadingSource *self)
{
  g_auto (GStrv) fields = fettle_drafts_list (self->drafts);

  for (guint i = 0; fields[i] != NULL; i++)
    if (g_str_has_prefix (fields[i], DRAFT_PREFIX))
      return g_ascii_strtoll (fields[i] + strlen (DRAFT_PREFIX), NULL, 10);
  return 0;
}

gboolean
fettle_reading_source_is_voided (FettleReadingSource *self, guint row)
{
  const BookReadingRow *reading = row_at (self, row);

  return reading != NULL && reading->voided;
}

/**
 * fettle_reading_source_dup_words:
 * @self: a source
 * @row: which row
 *
 * Returns: (transfer full) (nullable): the reading in words; %NULL when there is no such row
 */
char *
fettle_reading_source_dup_words (FettleReadingSource *self, guint row)
{
  const BookReadingRow *reading = row_at (self, row);

  return reading != NULL ? present_reading_words (reading, mark_of (self, reading)) : NULL;
}
