/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-letter-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-attach.h"
#include "book-record.h"
#include "paper-picture.h"
#include "store-reader.h"

#define PICTURE_SIDE  900 /* dots: half the width of a page at 250 an inch */
#define PICTURES_MOST 40  /* read; fewer are shown */

static void
picture_free (gpointer data)
{
  LetterPicture *picture = data;

  g_clear_pointer (&picture->surface, cairo_surface_destroy);
  g_free (picture);
}

void
letter_clear (Letter *letter)
{
  g_clear_pointer (&letter->evidence, book_evidence_free);
  g_clear_pointer (&letter->comparison, present_comparison_free);
  g_clear_pointer (&letter->changes, insight_changes_free);
  g_clear_pointer (&letter->issues, present_issues_free);
  g_clear_pointer (&letter->by_now, insight_issues_free);
  g_clear_pointer (&letter->discretion, paper_discretion_free);
  g_clear_pointer (&letter->asked, g_ptr_array_unref);
  g_clear_pointer (&letter->pictures, g_ptr_array_unref);
}

char *
letter_free_text (const Letter *letter, const char *text)
{
  return paper_discretion_apply (letter->discretion, text);
}

char *
letter_sentence (const Letter *letter, const char *text)
{
  g_autofree char *told = paper_discretion_check (letter->discretion, text);
  g_autoptr(GRegex) minus = g_regex_new ("(?<![\\p{L}\\p{N}.-])-(?=\\d)", 0, 0, NULL);

  /* Print has a minus of its own. */
  return g_regex_replace_literal (minus, told, -1, 0, "−", 0, NULL);
}

/* As much of a text as there is room for, to the end of a word. */
char *
letter_shortened (char *text, guint letters)
{
  g_autofree char *owned = text;
  char *end;

  if (letters == 0 || (gsize) g_utf8_strlen (text, -1) <= letters)
    return g_steal_pointer (&owned);
  end = g_utf8_offset_to_pointer (text, letters);
  while (end > text && *end != ' ')
    end = g_utf8_prev_char (end);
  *end = '\0';
  return g_strconcat (text, " …", NULL);
}

/* The picture number @which of a record, or NULL; (transfer none). */
cairo_surface_t *
letter_picture (const Letter *letter, BookRecordId record, gint64 owner, guint which)
{
  for (guint i = 0; i < letter->pictures->len; i++)
    {
      const LetterPicture *picture = letter->pictures->pdata[i];

      if (picture->record == record && picture->owner == owner && which-- == 0)
        return picture->surface;
    }
  return NULL;
}

typedef struct
{
  Letter     *letter;
  GHashTable *designers; /* keys of persons */
  GHashTable *changes;   /* keys of the model's changes */
  GHashTable *issues;
} Todos;

static gboolean
add_designer (const BookRow *row, gpointer data, GError **error)
{
  if (book_row_get (row, "role")->integer == BOOK_ROLE_DESIGNER)
    g_hash_table_add (data, g_memdup2 (&row->id, sizeof row->id));
  return TRUE;
}

static gboolean
add_todo (const BookRow *row, gpointer data, GError **error)
{
  Todos *todos = data;
  gint64 person = book_row_get (row, "person")->integer;
  gint64 about_record = book_row_get (row, "about_record")->integer;
  gint64 about = book_row_get (row, "about")->integer;
  gboolean is_ours = (about_record == BOOK_RECORD_CHANGE && g_hash_table_contains (todos->changes, &about))
                     || (about_record == BOOK_RECORD_ISSUE && g_hash_table_contains (todos->issues, &about))
                     || (about_record == BOOK_RECORD_MODEL && about == todos->letter->ask->model);

  if (is_ours && book_value_is_empty (book_row_get (row, "done")) && g_hash_table_contains (todos->designers, &person))
    g_ptr_array_add (todos->letter->asked, letter_free_text (todos->letter, book_row_get (row, "what")->text));
  return TRUE;
}

/* Things to do about this model that wait for a designer are questions. */
static gboolean
read_todos (StoreDb *db, Letter *letter, GError **error)
{
  g_autoptr(GHashTable) designers = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  g_autoptr(GHashTable) changes = g_hash_table_new (g_int64_hash, g_int64_equal);
  g_autoptr(GHashTable) issues = g_hash_table_new (g_int64_hash, g_int64_equal);
  Todos todos = { letter, designers, changes, issues };
  const BookChangeList *list = letter->changes->list;

  for (guint i = 0; i < list->n_changes; i++)
    g_hash_table_add (changes, (gpointer) &list->changes[i].id);
  for (guint i = 0; i < letter->evidence->n_issues; i++)
    g_hash_table_add (issues, &letter->evidence->issues[i].id);
  return book_record_each (db, book_record (BOOK_RECORD_PERSON), add_designer, designers, error)
         && book_record_each (db, book_record (BOOK_RECORD_TODO), add_todo, &todos, error);
}

static gboolean
read_picture (StoreDb *db, Letter *letter, const BookAttachment *attachment, BookRecordId record, gint64 owner,
              GCancellable *cancellable, GError **error)
{
  cairo_surface_t *surface;
  LetterPicture *picture;

  if (!paper_picture_read (db, attachment, PICTURE_SIDE, &surface, cancellable, error))
    return FALSE;
  if (surface == NULL)
    {
      letter->n_lost++;
      return TRUE;
    }
  picture = g_new0 (LetterPicture, 1);
  picture->record = record;
  picture->owner = owner;
  picture->kind = attachment->kind;
  picture->surface = surface;
  g_ptr_array_add (letter->pictures, picture);
  return TRUE;
}

static gboolean
read_pictures_of (StoreDb *db, Letter *letter, BookRecordId record, gint64 owner, guint most, GCancellable *cancellable,
                  GError **error)
{
  g_autoptr(GPtrArray) list = owner != 0 ? book_attachments_list (db, record, owner, error) : g_ptr_array_new ();

  for (guint i = 0; list != NULL && i < list->len && most > 0; i++)
    {
      const BookAttachment *attachment = list->pdata[i];

      if (!attachment->is_picture || letter->pictures->len >= PICTURES_MOST)
        continue;
      if (!read_picture (db, letter, attachment, record, owner, cancellable, error))
        return FALSE;
      most--;
    }
  return list != NULL;
}

static gboolean
read_pictures_of_side (StoreDb *db, Letter *letter, const InsightCompareSide *side, GCancellable *cancellable, GError **error)
{
  const InsightCompareState *states = side->n_built > 0 ? side->built : side->planned;
  guint n = side->n_built > 0 ? side->n_built : side->n_planned;

  for (guint i = 0; i < n; i++)
    if (letter_picture (letter, BOOK_RECORD_REVISION, states[i].id, 0) == NULL
        && !read_pictures_of (db, letter, BOOK_RECORD_REVISION, states[i].id, 1, cancellable, error))
      return FALSE;
  return TRUE;
}

/* Of both revisions of each part, and of the issues. What was drawn on for a change is often signed, and stays here. */
static gboolean
read_pictures (StoreDb *db, Letter *letter, GCancellable *cancellable, GError **error)
{
  g_autoptr(GPtrArray) issues = letter_issues (letter);

  for (guint i = 0; i < letter->comparison->data->differences->len; i++)
    {
      const InsightDifference *difference = letter->comparison->data->differences->pdata[i];

      if (difference->kind == INSIGHT_DIFFERS_REVISION
          && (!read_pictures_of_side (db, letter, &difference->before, cancellable, error)
              || !read_pictures_of_side (db, letter, &difference->after, cancellable, error)))
        return FALSE;
    }
  for (guint i = 0; i < issues->len; i++)
    {
      const PresentIssueRow *row = issues->pdata[i];

      if (!read_pictures_of (db, letter, BOOK_RECORD_ISSUE, row->data->id, 2, cancellable, error))
        return FALSE;
    }
  return TRUE;
}

/* The newest round with a built unit, and the one before it. */
static gboolean
choose_rounds (const Letter *letter, InsightCompareAsk *compare, GError **error)
{
  const BookEvidence *evidence = letter->evidence;
  int to = -1, from = -1;

  for (guint i = 0; i < evidence->n_rounds; i++)
    if (letter->ask->to != 0 ? evidence->rounds[i].id == letter->ask->to : evidence->rounds[i].built != 0)
      to = (int) i;
  for (int i = 0; i < (int) evidence->n_rounds; i++)
    if (letter->ask->from != 0 ? evidence->rounds[i].id == letter->ask->from : i < to)
      from = i;
  if (to < 0 || from < 0)
    {
      g_set_error (error, PAPER_ERROR, PAPER_ERROR_INPUT,
                   _("The letter sets two rounds against each other, and model '%s' has no two with a built unit: give --from and --to."),
                   evidence->code);
      return FALSE;
    }
  compare->from = evidence->rounds[from].id;
  compare->to = evidence->rounds[to].id;
  compare->today = letter->ask->today;
  return TRUE;
}

/**
 * letter_read:
 * @db: the reader's connection
 * @ask: what the letter is about; kept
 * @letter: (out): to be cleared with letter_clear(), also on failure
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Returns: whether all was read and computed
 */
gboolean
letter_read (StoreDb *db, const PaperLetterAsk *ask, Letter *letter, GCancellable *cancellable, GError **error)
{
  g_autoptr(BookChangeList) list = NULL;
  InsightCompareAsk compare = { 0 };
  InsightSpan span = { 0 };
  InsightComparison *comparison;
  InsightIssues *issues;

  *letter = (Letter) { .ask = ask };
  letter->pictures = g_ptr_array_new_with_free_func (picture_free);
  letter->asked = g_ptr_array_new_with_free_func (g_free);
  letter->evidence = book_evidence_load (db, ask->model, error);
  if (letter->evidence == NULL || !choose_rounds (letter, &compare, error))
    return FALSE;
  list = book_change_list_read (db, ask->model, error);
  letter->discretion = list != NULL ? paper_discretion_read (db, letter->evidence, error) : NULL;
  if (letter->discretion == NULL)
    return FALSE;
  letter->changes = insight_changes_new (g_steal_pointer (&list), letter->evidence, ask->today);
  if (!read_todos (db, letter, error))
    return FALSE;
  /* Pictures are chosen by the comparison and never change, so that they can be read after the transaction. */
  store_reader_done_reading (db);

  comparison = insight_compare (letter->evidence, &compare, cancellable, error);
  if (comparison == NULL)
    return FALSE;
  letter->comparison = present_comparison_new (comparison, letter->evidence->caution);
  letter_order_effects (letter->comparison);
  span.through = compare.to;
  span.today = ask->today;
  issues = insight_issues (letter->evidence, &span, cancellable, error);
  if (issues == NULL)
    return FALSE;
  letter->issues = present_issues_new (issues);
  span.through = 0;
  letter->by_now = insight_issues (letter->evidence, &span, cancellable, error);
  if (letter->by_now == NULL)
    return FALSE;
  return read_pictures (db, letter, cancellable, error);
}
