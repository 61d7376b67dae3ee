/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Opens the book of a call and finds the model, round and person that its options name. */

#include "config.h"

#include "batch-book.h"

#include "book-models.h"
#include "book-record.h"
#include "book-search.h"
#include "present-sentence.h"

#include <glib/gi18n.h>
#include <string.h>

/**
 * batch_book_open:
 * @call: the call
 * @book: (out) (transfer full): the book
 * @status: (out): the exit status on failure
 *
 * Returns: whether the book is open; otherwise a sentence was written
 */
gboolean
batch_book_open (BatchCall *call, Book **book, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;

  *book = NULL;
  if (call->book == NULL)
    {
      *status = batch_usage (call, _("'%s' needs a book: add --book FILE."), call->verb->name);
      return FALSE;
    }
  *book = book_open (call->book, NULL, &error);
  if (*book == NULL)
    *status = batch_fail (call, error);
  else
    book_search_catch_up (*book);
  return *book != NULL;
}

static gboolean
find_person (BatchCall *call, StoreDb *db, gint64 *person, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;

  *person = 0;
  if (call->person == NULL)
    return TRUE;
  if (!book_record_find_text (db, book_record (BOOK_RECORD_PERSON), call->person, person, &error) || *person == 0)
    {
      if (error != NULL && error->domain != BOOK_ERROR)
        *status = batch_fail (call, error);
      else
        *status = batch_usage (call, _("The book has nobody with the initials '%s': add the person first, or leave --as out."), call->person);
      return FALSE;
    }
  return TRUE;
}

/**
 * batch_intent:
 * @call: the call
 * @book: its book
 * @action: word of the action
 * @intent: (out): who does it, in a sitting of its own
 * @status: (out): the exit status on failure
 *
 * Returns: whether the person is known
 */
gboolean
batch_intent (BatchCall *call, Book *book, const char *action, StoreIntent *intent, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;
  StoreDb *db = store_front_db (book_get_store (book), &error);

  *intent = (StoreIntent) { .action = action, .progress = batch_progress, .progress_data = call };
  if (db == NULL)
    {
      *status = batch_fail (call, error);
      return FALSE;
    }
  return find_person (call, db, &intent->person, status);
}

static char *
codes_of (GPtrArray *models)
{
  g_autoptr(GPtrArray) codes = g_ptr_array_new ();

  for (guint i = 0; i < models->len; i++)
    g_ptr_array_add (codes, ((BookModel *) models->pdata[i])->code);
  g_ptr_array_add (codes, NULL);
  return present_names ((const char * const *) codes->pdata);
}

static const BookModel *
choose_model (BatchCall *call, GPtrArray *models, BatchStatus *status)
{
  g_autofree char *codes = codes_of (models);

  if (models->len == 0)
    {
      batch_say (call, _("The book has no model yet: import one, or read a measuring sheet."));
      *status = BATCH_ATTENTION;
      return NULL;
    }
  if (call->model == NULL && models->len == 1)
    return models->pdata[0];
  if (call->model == NULL)
    {
      *status = batch_usage (call, _("The book has several models, so add --model and one of these codes: %s."), codes);
      return NULL;
    }
  for (guint i = 0; i < models->len; i++)
    if (g_str_equal (((BookModel *) models->pdata[i])->code, call->model))
      return models->pdata[i];
  *status = batch_usage (call, _("The book has no model '%s'; its models are: %s."), call->model, codes);
  return NULL;
}

/**
 * batch_model:
 * @call: the call
 * @db: a connection
 * @model: (out): key of the model that is meant
 * @status: (out): the exit status on failure
 *
 * Returns: whether it is clear which; otherwise a sentence was written
 */
gboolean
batch_model (BatchCall *call, StoreDb *db, gint64 *model, BatchStatus *status)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) models = book_models_list (db, &error);
  const BookModel *chosen;

  if (models == NULL)
    {
      *status = batch_fail (call, error);
      return FALSE;
    }
  chosen = choose_model (call, models, status);
  if (chosen == NULL)
    return FALSE;
  *model = chosen->id;
  return TRUE;
}

/**
 * batch_round:
 * @call: the call
 * @evidence: of the model
 * @label: what was given
 * @round: (out): key of the round
 * @status: (out): the exit status on failure
 *
 * Returns: whether the model has it; otherwise a sentence was written
 */
gboolean
batch_round (BatchCall *call, const BookEvidence *evidence, const char *label, gint64 *round, BatchStatus *status)
{
  g_autoptr(GPtrArray) labels = g_ptr_array_new ();
  g_autofree char *known = NULL;

  for (guint i = 0; i < evidence->n_rounds; i++)
    {
      if (g_str_equal (evidence->rounds[i].label, label))
        {
          *round = evidence->rounds[i].id;
          return TRUE;
        }
      g_ptr_array_add (labels, (gpointer) evidence->rounds[i].label);
    }
  g_ptr_array_add (labels, NULL);
  known = present_names ((const char * const *) labels->pdata);
  *status = batch_usage (call, _("Model '%s' has no round '%s'; its rounds are: %s."), evidence->code, label, known);
  return FALSE;
}

/**
 * batch_gate:
 * @call: the call
 * @evidence: of the model
 * @name: (nullable): what was given: a name or a place
 * @gate: (out): key of the gate; 0 when nothing was given
 * @status: (out): the exit status on failure
 *
 * Returns: whether the model has it, or any gate where none was given; otherwise a sentence was written
 */
gboolean
batch_gate (BatchCall *call, const BookEvidence *evidence, const char *name, gint64 *gate, BatchStatus *status)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new ();
  g_autofree char *known = NULL;

  *gate = 0;
  if (evidence->n_gates == 0)
    {
      *status = batch_usage (call, _("Model '%s' has no gate yet: import gate.csv, or enter one."), evidence->code);
      return FALSE;
    }
  for (guint i = 0; i < evidence->n_gates && name != NULL; i++)
    {
      g_autofree char *position = g_strdup_printf ("%d", evidence->gates[i].position);

      if (g_str_equal (name, evidence->gates[i].name) || g_str_equal (name, position))
        {
          *gate = evidence->gates[i].id;
          return TRUE;
        }
      g_ptr_array_add (names, (gpointer) evidence->gates[i].name);
    }
  if (name == NULL)
    return TRUE;
  g_ptr_array_add (names, NULL);
  known = present_names ((const char *const *) names->pdata);
  *status = batch_usage (call, _("Model '%s' has no gate '%s'; it has: %s."), evidence->code, name, known);
  return FALSE;
}

/**
 * batch_evidence:
 * @call: the call
 * @book: its book
 * @evidence: (out) (transfer full): all that the model's evidence is made from
 * @span: (out): what to look at; borrows from @call
 * @status: (out): the exit status on failure
 *
 * Returns: whether it was read; otherwise a sentence was written
 */
gboolean
batch_evidence (BatchCall     *call,
                Book          *book,
                BookEvidence **evidence,
                InsightSpan   *span,
                BatchStatus   *status)
{
  g_autoptr(GError) error = NULL;
  StoreDb *db = store_front_db (book_get_store (book), &error);
  gint64 model;

  *evidence = NULL;
  if (db == NULL)
    {
      *status = batch_fail (call, error);
      return FALSE;
    }
  if (!batch_model (call, db, &model, status))
    return FALSE;
  *evidence = book_evidence_load (db, model, &error);
  if (*evidence == NULL)
    {
      *status = batch_fail (call, error);
      return FALSE;
    }
  span->today = call->today;
  span->through = 0;
  if (call->through == NULL || batch_round (call, *evidence, call->through, &span->through, status))
    return TRUE;
  g_clear_pointer (evidence, book_evidence_free);
  return FALSE;
}

/**
 * batch_is_moment:
 * @text: what was given
 *
 * Returns: whether it is an ISO 8601 date, or a date and a time
 */
gboolean
batch_is_moment (const char *text)
{
  g_autoptr(GTimeZone) utc = g_time_zone_new_utc ();
  g_autofree char *whole = strlen (text) == 10 ? g_strdup_printf ("%sT00:00:00", text) : g_strdup (text);
  g_autoptr(GDateTime) moment = g_date_time_new_from_iso8601 (whole, utc);

  return moment != NULL && strlen (text) >= 10 && text[4] == '-' && text[7] == '-';
}

/**
 * batch_other_rounds:
 * @book: a book
 * @model: key of a model
 * @error: return location
 *
 * Returns: (transfer full) (element-type BookEvidence) (nullable): the rounds of all models but @model
 */
GPtrArray *
batch_other_rounds (Book *book, gint64 model, GError **error)
{
  StoreDb *db = store_front_db (book_get_store (book), error);

  return db == NULL ? NULL : book_evidence_load_others (db, model, NULL, error);
}
