/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-terms.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "book-column-private.h"

void
book_terms_now_free (BookTermsNow *now)
{
  if (now == NULL)
    return;
  g_free (now->code);
  g_free (now->from);
  g_free (now);
}

/**
 * book_terms_now:
 * @db: a connection in a read transaction
 * @criterion: its key
 * @today: ISO 8601
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the criterion with the terms in force on that day; %NULL with @error set
 */
BookTermsNow *
book_terms_now (StoreDb *db, gint64 criterion, const char *today, GError **error)
{
  static const char sql[] =
    "SELECT c.code, c.kind, t.id, t.from_date, t.share, t.target, t.confidence, t.cycles, t.load, t.shape_low, t.shape_high, t.plan_units,"
    " t.plan_failures FROM criterion AS c LEFT JOIN criterion_term AS t ON t.criterion = c.id AND t.from_date <= ?2 WHERE c.id = ?1"
    " ORDER BY t.from_date DESC LIMIT 1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  g_autoptr(BookTermsNow) now = NULL;
  gboolean found;

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, criterion);
  sqlite3_bind_text (statement, 2, today, -1, SQLITE_TRANSIENT);
  if (!store_db_next (db, statement, _("The terms could not be read"), &found, error))
    return NULL;
  if (!found)
    {
      g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_MISSING, _("The criterion is no longer in the book: choose another one."));
      return NULL;
    }
  now = g_new0 (BookTermsNow, 1);
  now->criterion = criterion;
  now->code = book_column_dup (statement, 0);
  now->kind = (BookCriterionKind) sqlite3_column_int (statement, 1);
  now->row = sqlite3_column_int64 (statement, 2);
  now->from = book_column_dup (statement, 3);
  now->share = book_column_real (statement, 4, (double) NAN);
  now->target = book_column_real (statement, 5, (double) NAN);
  now->confidence = book_column_real (statement, 6, (double) NAN);
  now->cycles = book_column_real (statement, 7, (double) NAN);
  now->load = book_column_real (statement, 8, (double) NAN);
  now->shape_low = book_column_real (statement, 9, (double) NAN);
  now->shape_high = book_column_real (statement, 10, (double) NAN);
  now->plan_units = (guint) sqlite3_column_int (statement, 11);
  now->plan_failures = (guint) sqlite3_column_int (statement, 12);
  return g_steal_pointer (&now);
}

const char *const *
book_terms_fields (BookCriterionKind kind)
{
  static const char *const tested[] = { "from_date", "share", "confidence", "plan_units", "plan_failures", "person", "reason", NULL };
  static const char *const measured[] = { "from_date", "share", "confidence", "person", "reason", NULL };
  static const char *const passed[] = { "from_date", "share", "target", "confidence", "person", "reason", NULL };
  static const char *const reached[] = { "from_date", "target", "confidence", "person", "reason", NULL };
  static const char *const lived[] = { "from_date", "share", "confidence", "cycles", "load", "shape_low", "shape_high", "person", "reason", NULL };
  static const char *const counted[] = { "from_date", "share", "target", "person", "reason", NULL };

  switch (kind)
    {
    case BOOK_CRITERION_CHECKED:
    case BOOK_CRITERION_FIX:
      return tested;
    case BOOK_CRITERION_MEASURED:
    case BOOK_CRITERION_DETECTION:
      return measured;
    case BOOK_CRITERION_YIELD:
      return passed;
    case BOOK_CRITERION_RATE:
    case BOOK_CRITERION_METHOD:
      return reached;
    case BOOK_CRITERION_LIFE:
      return lived;
    case BOOK_CRITERION_ISSUES:
    case BOOK_CRITERION_REVISIONS:
    case BOOK_CRITERION_SIGN_OFFS:
    case BOOK_CRITERION_DOCUMENTS:
    case BOOK_CRITERION_LOTS:
      break;
    }
  return counted;
}
