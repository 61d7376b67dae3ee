/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "find-hits.h"

#include "book-record.h"
#include "page.h"

#define MOST_HITS 60

static void
found_free (gpointer data)
{
  FettleFound *found = data;

  book_hit_free (found->hit);
  g_free (found);
}

void
fettle_find_ask_free (gpointer data)
{
  FettleFindAsk *ask = data;

  g_free (ask->words);
  g_free (ask);
}

void
fettle_finding_free (gpointer data)
{
  FettleFinding *finding = data;

  g_free (finding->words);
  g_ptr_array_unref (finding->found);
  g_free (finding);
}

static gboolean
can_show (const char *record)
{
  guint n;
  const FettlePageKind *kinds = fettle_page_kinds (&n);

  if (g_str_equal (record, "model"))
    return TRUE;
  for (guint i = 0; i < n; i++)
    if (kinds[i].records != NULL && g_strv_contains (kinds[i].records, record))
      return TRUE;
  return FALSE;
}

/* What a row belongs to; @id 0 where that is nothing. */
static const BookRecord *
parent_of (const BookRow *row, gint64 *id)
{
  int field = row->record->parent == NULL ? -1 : book_field_index (row->record, row->record->parent);
  const BookRecord *parent = NULL;

  *id = 0;
  if (field < 0 || row->values[field].type != SQLITE_INTEGER)
    return NULL;
  if (row->record->fields[field].kind == BOOK_KIND_REFERENCE)
    parent = book_record (row->record->fields[field].refers);
  else if (row->record->fields[field].kind == BOOK_KIND_ANY && field > 0 && row->values[field - 1].type == SQLITE_INTEGER)
    parent = book_record ((BookRecordId) row->values[field - 1].integer);
  if (parent != NULL)
    *id = row->values[field].integer;
  return parent;
}

/* Up from the record until a page shows it; the model itself would say nothing about it. */
static void
aim (StoreDb *db, FettleFound *found)
{
  const BookRecord *record = found->hit->record;
  gint64 id = found->hit->id;

  while (record != NULL && !can_show (record->name))
    {
      g_autoptr(BookRow) row = book_record_read (db, record, id, NULL);

      record = row == NULL ? NULL : parent_of (row, &id);
    }
  found->in_history = record == NULL || (record->id == BOOK_RECORD_MODEL && found->hit->record != record);
  found->record = found->in_history ? found->hit->record->name : record->name;
  found->id = found->in_history ? found->hit->id : id;
}

/* Beside their kind, the kinds in the order in which they come first. */
static void
take_kind (GPtrArray *found, GPtrArray *hits, const BookRecord *kind)
{
  for (guint i = 0; i < hits->len; i++)
    {
      BookHit *hit = hits->pdata[i];
      FettleFound *each;

      if (hit == NULL || hit->record != kind)
        continue;
      each = g_new0 (FettleFound, 1);
      each->hit = hit;
      hits->pdata[i] = NULL;
      g_ptr_array_add (found, each);
    }
}

static void
hit_free (gpointer data)
{
  if (data != NULL)
    book_hit_free (data);
}

gpointer
fettle_find_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettleFindAsk *ask = data;
  gboolean more;
  g_autoptr(GPtrArray) hits = book_search (db, ask->words, ask->model, MOST_HITS, &more, error);
  FettleFinding *finding;

  if (hits == NULL)
    return NULL;

  g_ptr_array_set_free_func (hits, hit_free);
  finding = g_new0 (FettleFinding, 1);
  finding->words = g_strdup (ask->words);
  finding->found = g_ptr_array_new_with_free_func (found_free);
  finding->more = more;
  for (guint i = 0; i < hits->len; i++)
    if (hits->pdata[i] != NULL)
      take_kind (finding->found, hits, ((BookHit *) hits->pdata[i])->record);
  for (guint i = 0; i < finding->found->len; i++)
    aim (db, finding->found->pdata[i]);
  return finding;
}
