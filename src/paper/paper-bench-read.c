/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-bench-private.h"

#include <glib/gi18n-lib.h>

#include "book-attach.h"
#include "book.h"
#include "insight-tally.h"
#include "paper-picture.h"
#include "paper-size.h"
#include "store-history.h"
#include "store-reader.h"

#define PICTURE_SIDE  700 /* dots: half the width of a page, printed */
#define PICTURES_MOST 6
#define STATE_DIGITS  12  /* of the head; nobody copies more by hand */

void
bench_clear (Bench *bench)
{
  g_clear_pointer (&bench->sheet, insight_sheet_free);
  g_clear_pointer (&bench->issues, present_issues_free);
  g_clear_pointer (&bench->changes, insight_changes_free);
  g_clear_pointer (&bench->pictures, g_ptr_array_unref);
  g_clear_pointer (&bench->evidence, book_evidence_free);
  g_clear_pointer (&bench->state, g_free);
}

static gboolean
refuse (GError **error, const char *sentence)
{
  g_set_error_literal (error, PAPER_ERROR, PAPER_ERROR_INPUT, sentence);
  return FALSE;
}

/* Finds what is asked for, so that setting it needs no error. */
static gboolean
find_subject (Bench *bench, GError **error)
{
  const BookEvidence *e = bench->evidence;
  const PaperBenchAsk *ask = bench->ask;

  bench->round = bench->unit = -1;
  if (ask->unit != 0)
    bench->unit = book_evidence_find (e, units, ask->unit);
  if (bench->unit >= 0)
    bench->round = e->units[bench->unit].round;
  else if (paper_bench_needs_round (ask->kind))
    bench->round = book_evidence_find (e, rounds, ask->round);
  if (ask->unit != 0 && bench->unit < 0)
    return refuse (error, _("The unit is not in the book any more: choose another one."));
  if (paper_bench_needs_round (ask->kind) && bench->round < 0)
    return refuse (error, _("There is no round to make this paper for: plan a round first."));
  if (ask->kind == PAPER_BENCH_TALLY_SHEET && e->n_steps == 0)
    return refuse (error, _("The model has no steps to tally at: write down its route first."));
  if (ask->kind == PAPER_BENCH_TALLY_SHEET && insight_tally_first_step (e, bench->round) < 0)
    return refuse (error, _("At every step the units of the round have serials, so a tally would count them twice: make their unit "
                            "cards instead."));
  if (ask->kind == PAPER_BENCH_MEASURING_SHEET && e->n_characteristics == 0)
    return refuse (error, _("The model has no characteristics to measure: write these down first."));
  if (ask->kind == PAPER_BENCH_UNIT_CARD && bench->unit < 0)
    {
      for (guint u = 0; u < e->n_units; u++)
        if (e->units[u].round == bench->round && e->units[u].part < 0)
          return TRUE;
      return refuse (error, _("The round has no units yet: a card needs a unit with its serial. Enter the units first."));
    }
  return TRUE;
}

static gboolean
read_pictures (StoreDb *db, Bench *bench, GCancellable *cancellable, GError **error)
{
  g_autoptr(GPtrArray) list = book_attachments_list (db, BOOK_RECORD_ISSUE, bench->ask->issue, error);

  for (guint i = 0; list != NULL && i < list->len && bench->pictures->len < PICTURES_MOST; i++)
    {
      const BookAttachment *attachment = list->pdata[i];
      cairo_surface_t *surface;

      if (!attachment->is_picture)
        continue;
      if (!paper_picture_read (db, attachment, PICTURE_SIDE, &surface, cancellable, error))
        return FALSE;
      if (surface != NULL)
        g_ptr_array_add (bench->pictures, surface);
      else
        bench->n_lost++;
    }
  return list != NULL;
}

static gboolean
compute (StoreDb *db, Bench *bench, GCancellable *cancellable, GError **error)
{
  const PaperBenchAsk *ask = bench->ask;

  if (bench->round >= 0)
    bench->sheet = insight_sheet_new (bench->evidence, bench->evidence->rounds[bench->round].id, ask->today);
  if (ask->kind == PAPER_BENCH_CHANGE_NOTICE && insight_changes_find (bench->changes, ask->change) < 0)
    return refuse (error, _("The change is not in the book any more: choose another one."));
  if (ask->kind == PAPER_BENCH_ISSUE_CARD)
    {
      InsightSpan span = { .today = ask->today };
      InsightIssues *issues = insight_issues (bench->evidence, &span, cancellable, error);

      if (issues == NULL)
        return FALSE;
      bench->issues = present_issues_new (issues);
      if (insight_issues_find (issues, ask->issue) == NULL)
        return refuse (error, _("The issue is not in the book any more: choose another one."));
      return read_pictures (db, bench, cancellable, error);
    }
  return TRUE;
}

/**
 * bench_read:
 * @db: the reader's connection
 * @ask: what is asked for; kept
 * @bench: (out): to be cleared with bench_clear(), also on failure
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Returns: whether all was read and computed
 */
gboolean
bench_read (StoreDb *db, const PaperBenchAsk *ask, Bench *bench, GCancellable *cancellable, GError **error)
{
  g_autoptr(BookChangeList) list = NULL;
  g_autofree char *head = NULL;

  *bench = (Bench) { .ask = ask, .round = -1, .unit = -1 };
  bench->pictures = g_ptr_array_new_with_free_func ((GDestroyNotify) cairo_surface_destroy);
  bench->size = (PaperSize) MAX (ask->size, 0);
  if (ask->size == PAPER_SIZE_OF_BOOK && !paper_size_of_book (db, TRUE, &bench->size, error))
    return FALSE;
  bench->evidence = book_evidence_load (db, ask->model, error);
  if (bench->evidence == NULL || !store_history_head (db, NULL, &head, error))
    return FALSE;
  bench->state = g_strndup (head, STATE_DIGITS);
  if (!find_subject (bench, error))
    return FALSE;
  if (ask->kind == PAPER_BENCH_CHANGE_NOTICE)
    {
      list = book_change_list_read (db, ask->model, error);
      if (list == NULL)
        return FALSE;
      bench->changes = insight_changes_new (g_steal_pointer (&list), bench->evidence, ask->today);
    }
  store_reader_done_reading (db);
  return compute (db, bench, cancellable, error);
}
