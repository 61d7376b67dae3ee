/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-models.h"

#include <glib/gi18n-lib.h>

static char *
dup_column (StoreStatement *statement, int column)
{
  return g_strdup ((const char *) sqlite3_column_text (statement, column));
}

/**
 * book_model_free:
 * @model: (transfer full): from book_models_list()
 */
void
book_model_free (BookModel *model)
{
  g_free (model->code);
  g_free (model->name);
  g_free (model->caution);
  g_free (model);
}

/**
 * book_round_free:
 * @round: (transfer full): from book_rounds_list()
 */
void
book_round_free (BookRound *round)
{
  g_free (round->label);
  g_free (round->question);
  g_free (round->opened);
  g_free (round->design_fixed);
  g_free (round->parts_ready);
  g_free (round->built);
  g_free (round->tested);
  g_free (round->decided);
  g_free (round);
}

#define COLUMNS "SELECT id, code, name, caution_text, archived, (SELECT count (*) FROM round WHERE round.model = model.id) "

static GPtrArray *
list_models (StoreDb *db, const char *sql, gint64 except, gint64 bench, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  g_autoptr(GPtrArray) models = g_ptr_array_new_with_free_func ((GDestroyNotify) book_model_free);
  gboolean more;
  gboolean ok;

  if (statement == NULL)
    return NULL;
  if (sqlite3_bind_parameter_count (statement) > 0)
    {
      sqlite3_bind_int64 (statement, 1, except);
      sqlite3_bind_int64 (statement, 2, bench);
    }
  while ((ok = store_db_next (db, statement, _("The models could not be read"), &more, error)) && more)
    {
      BookModel *model = g_new0 (BookModel, 1);

      model->id = sqlite3_column_int64 (statement, 0);
      model->code = dup_column (statement, 1);
      model->name = dup_column (statement, 2);
      model->caution = dup_column (statement, 3);
      model->archived = sqlite3_column_int (statement, 4) != 0;
      model->n_rounds = (guint) sqlite3_column_int (statement, 5);
      g_ptr_array_add (models, model);
    }
  return ok ? g_steal_pointer (&models) : NULL;
}

/**
 * book_models_list:
 * @db: any connection
 * @error: return location
 *
 * Returns: (transfer full) (element-type BookModel) (nullable): all models, those put away last, else in order of entry
 */
GPtrArray *
book_models_list (StoreDb *db, GError **error)
{
  static const char sql[] = COLUMNS "FROM model ORDER BY archived, id";

  return list_models (db, sql, 0, 0, error);
}

/**
 * book_models_running:
 * @db: any connection
 * @except: key of a model that is left out; 0: none
 * @bench: key of a bench; 0: any
 * @error: return location
 *
 * Returns: (transfer full) (element-type BookModel) (nullable): models with units in a round that is not decided and with a
 *   step at the bench, without those put away
 */
GPtrArray *
book_models_running (StoreDb *db, gint64 except, gint64 bench, GError **error)
{
  static const char sql[] = COLUMNS "FROM model WHERE archived = 0 AND id <> ?1 AND EXISTS (SELECT 1 FROM round WHERE round.model = model.id "
                                    "AND round.decided IS NULL AND EXISTS (SELECT 1 FROM unit WHERE unit.round = round.id)) "
                                    "AND EXISTS (SELECT 1 FROM step WHERE step.model = model.id AND (?2 = 0 OR step.bench = ?2)) ORDER BY id";

  return list_models (db, sql, except, bench, error);
}

/**
 * book_rounds_list:
 * @db: any connection
 * @model: of which model
 * @error: return location
 *
 * Returns: (transfer full) (element-type BookRound) (nullable): its rounds by the day they opened (else the first day
 *   known of them), those without any day last in order of entry
 */
GPtrArray *
book_rounds_list (StoreDb *db, gint64 model, GError **error)
{
  static const char sql[] =
    "SELECT id, label, kind, question, opened, design_fixed, parts_ready, built, tested, decided, verdict, planned_units, "
    "(SELECT count (*) FROM unit WHERE unit.round = round.id AND part IS NULL) FROM round WHERE model = ?1 "
    "ORDER BY COALESCE (opened, design_fixed, parts_ready, built, tested, decided) NULLS LAST, id";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  g_autoptr(GPtrArray) rounds = g_ptr_array_new_with_free_func ((GDestroyNotify) book_round_free);
  gboolean more;
  gboolean ok;

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, model);
  while ((ok = store_db_next (db, statement, _("The rounds could not be read"), &more, error)) && more)
    {
      BookRound *round = g_new0 (BookRound, 1);

      round->id = sqlite3_column_int64 (statement, 0);
      round->label = dup_column (statement, 1);
      round->kind = (BookRoundKind) sqlite3_column_int (statement, 2);
      round->question = dup_column (statement, 3);
      round->opened = dup_column (statement, 4);
      round->design_fixed = dup_column (statement, 5);
      round->parts_ready = dup_column (statement, 6);
      round->built = dup_column (statement, 7);
      round->tested = dup_column (statement, 8);
      round->decided = dup_column (statement, 9);
      round->verdict = (BookRoundVerdict) sqlite3_column_int (statement, 10);
      round->planned_units = (guint) sqlite3_column_int64 (statement, 11);
      round->n_units = (guint) sqlite3_column_int64 (statement, 12);
      g_ptr_array_add (rounds, round);
    }
  return ok ? g_steal_pointer (&rounds) : NULL;
}

/**
 * book_rounds_days:
 * @from: a round
 * @to: the same, or a later one
 * @first: (out) (nullable): the first day known of @from; %NULL: none
 * @last: (out) (nullable): the day on which @to was decided; %NULL: not yet
 *
 * The days that two rounds span, for questions to the history.
 */
void
book_rounds_days (const BookRound *from, const BookRound *to, const char **first, const char **last)
{
  const char *const days[] = { from->opened, from->design_fixed, from->parts_ready, from->built, from->tested, from->decided };

  *first = NULL;
  for (guint i = 0; i < G_N_ELEMENTS (days) && *first == NULL; i++)
    *first = days[i];
  *last = to->decided;
}

/**
 * book_model_find:
 * @db: any connection
 * @code: of a model
 * @model: (out): its key; 0 if there is none
 * @error: return location
 *
 * Returns: whether the book could be asked
 */
gboolean
book_model_find (StoreDb *db, const char *code, gint64 *model, GError **error)
{
  static const char sql[] = "SELECT id FROM model WHERE code = ?1";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  *model = 0;
  if (statement == NULL)
    return FALSE;
  sqlite3_bind_text (statement, 1, code, -1, SQLITE_STATIC);
  return store_db_ask_integer (db, statement, _("The book could not be asked"), NULL, model, error);
}
