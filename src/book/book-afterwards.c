/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-afterwards.h"

#include "book-record.h"
#include "store-history.h"
#include "store-id.h"

/*
 * Method. The journal's entries that touched what is asked for, a reading or an issue, are gone through once, from the oldest on;
 * those that only hold new readings or issues, or were made before the first value, are not opened, and they are almost all of a
 * journal. An action that was undone, and the undoing, are left out: nothing of them is left. Whether a value was there already is
 * told by keys, which rise within one origin; of another origin by days.
 */

/* Fields by which what is asked for, or what was measured, becomes another. */
static const char *const criterion_fields[] = { "kind", "characteristic", "issue", "blocking", "strict", "counts_from", NULL };
static const char *const term_fields[] = { "from_date", "share", "target", "confidence", "cycles", "load", "shape_low", "shape_high",
                                           "plan_units", "plan_failures", NULL };
static const char *const characteristic_fields[] = { "kind", "class", "per_unit", "shape", "fitted_at_assembly", "step", "gauge", NULL };
static const char *const reading_fields[] = { "unit", "characteristic", "attempt", "value", "mark", "taken", NULL };
static const char *const issue_fields[] = { "class", "tolerated_share", NULL };

static const struct
{
  const char *const *fields;
  BookRecordId       record;
  gboolean           when_made; /* whether it is told that one was made */
} watched[] = {
  { criterion_fields, BOOK_RECORD_CRITERION, TRUE },
  { term_fields, BOOK_RECORD_CRITERION_TERM, TRUE },
  { characteristic_fields, BOOK_RECORD_CHARACTERISTIC, FALSE },
  { reading_fields, BOOK_RECORD_READING, FALSE },
  { issue_fields, BOOK_RECORD_ISSUE, FALSE },
};

typedef struct
{
  StoreDb               *db;
  const BookEvidence    *e;
  GPtrArray             *list;
  GHashTable            *readings;   /* key: characteristic + 1 */
  const BookRecord      *record;     /* of the row that is looked at */
  const char *const     *fields;
  const StoreActionInfo *action;
  guint                  first;      /* in @list, of this action */
} Watch;

void
book_afterwards_free (BookAfterwards *afterwards)
{
  if (afterwards == NULL)
    return;

  g_free (afterwards->code);
  g_free (afterwards->before);
  g_free (afterwards->after);
  g_free (afterwards->person);
  g_free (afterwards->time);
  g_free (afterwards);
}

static gboolean
came_before (const BookEvidenceReading *reading, gint64 action, BookDay day)
{
  return store_id_origin (reading->id) == store_id_origin (action) ? reading->id < action : reading->day != 0 && reading->day < day;
}

/* Whether a value of a characteristic (-1: of any) was there before the action. */
static gboolean
was_measured (const Watch *watch, int characteristic)
{
  const BookEvidence *e = watch->e;
  g_autofree char *date = g_strndup (watch->action->time, 10);
  BookDay day = book_day_parse (date, NULL);
  guint from = characteristic < 0 ? 0 : e->characteristics[characteristic].first_reading;
  guint to = characteristic < 0 ? e->n_readings : e->characteristics[characteristic].end_reading;

  for (guint i = from; i < to; i++)
    if (came_before (&e->readings[i], watch->action->id, day))
      return TRUE;
  for (guint i = 0; characteristic < 0 && i < e->n_tallies; i++)
    if (store_id_origin (e->tallies[i].id) == store_id_origin (watch->action->id) && e->tallies[i].id < watch->action->id)
      return TRUE;
  return FALSE;
}

static const StoreValue *
column (const StoreRow *row, const StoreValue *values, const BookRecord *record, const char *field)
{
  guint at = (guint) book_field_index (record, field) + 1;

  return values != NULL && at < row->n_columns && values[at].type != STORE_UNCHANGED ? &values[at] : NULL;
}

/* What a criterion is about: a characteristic, or that which shows the issue. */
static int
about (const BookEvidence *e, int criterion)
{
  const BookEvidenceCriterion *one = &e->criteria[criterion];

  return one->characteristic >= 0 || one->issue < 0 ? one->characteristic : e->issues[one->issue].seen_by;
}

static gboolean
place_issue (const Watch *watch, const StoreRow *row, int *characteristic, char **code)
{
  const BookEvidence *e = watch->e;
  const StoreValue *all = row->op == STORE_DELETE ? row->before : row->after;
  const StoreValue *model, *no;
  int issue = book_evidence_find (e, issues, row->id);

  if (issue >= 0)
    {
      *characteristic = e->issues[issue].seen_by;
      *code = g_strdup_printf ("%d", e->issues[issue].no);
      return TRUE;
    }
  model = row->op == STORE_DELETE ? column (row, all, watch->record, "model") : NULL;
  if (model == NULL || model->integer != e->model_id)
    return FALSE;
  no = column (row, all, watch->record, "no");
  *code = no != NULL ? g_strdup_printf ("%d", (int) no->integer) : g_strdup ("");
  return TRUE;
}

/* Which model's it is is told by the row itself where it came or went, else by what is there now. FALSE: another model's. */
static gboolean
place_row (const Watch *watch, const StoreRow *row, int *characteristic, char **code)
{
  const BookEvidence *e = watch->e;
  const StoreValue *all = row->op == STORE_DELETE ? row->before : row->after;
  const StoreValue *model, *reference;
  int criterion, term;

  *characteristic = -1;
  switch (watch->record->id)
    {
    case BOOK_RECORD_CRITERION:
      criterion = book_evidence_find (e, criteria, row->id);
      if (criterion >= 0)
        {
          *characteristic = about (e, criterion);
          *code = g_strdup (e->criteria[criterion].code);
          return TRUE;
        }
      model = row->op == STORE_DELETE ? column (row, all, watch->record, "model") : NULL;
      if (model == NULL || model->integer != e->model_id)
        return FALSE;
      reference = column (row, all, watch->record, "characteristic");
      *characteristic = reference != NULL ? book_evidence_find (e, characteristics, reference->integer) : -1;
      reference = column (row, all, watch->record, "code");
      *code = g_strdup (reference != NULL && reference->text != NULL ? reference->text : "");
      return TRUE;
    case BOOK_RECORD_CRITERION_TERM:
      criterion = -1;
      term = book_evidence_find (e, terms, row->id);
      if (term >= 0)
        criterion = e->terms[term].criterion;
      reference = row->op != STORE_UPDATE ? column (row, all, watch->record, "criterion") : NULL;
      if (criterion < 0 && reference != NULL)
        criterion = book_evidence_find (e, criteria, reference->integer);
      if (criterion < 0)
        return FALSE;
      *characteristic = about (e, criterion);
      *code = g_strdup (e->criteria[criterion].code);
      return TRUE;
    case BOOK_RECORD_CHARACTERISTIC:
      *characteristic = book_evidence_find (e, characteristics, row->id);
      if (*characteristic < 0)
        return FALSE;
      *code = g_strdup (e->characteristics[*characteristic].code);
      return TRUE;
    case BOOK_RECORD_ISSUE:
      return place_issue (watch, row, characteristic, code);
    default:
      *characteristic = GPOINTER_TO_INT (g_hash_table_lookup (watch->readings, &row->id)) - 1;
      reference = row->op == STORE_DELETE ? column (row, all, watch->record, "characteristic") : NULL;
      if (*characteristic < 0 && reference != NULL)
        *characteristic = book_evidence_find (e, characteristics, reference->integer);
      if (*characteristic < 0)
        return FALSE;
      *code = g_strdup (e->characteristics[*characteristic].code);
      return TRUE;
    }
}

static char *
show (const Watch *watch, const BookField *field, const StoreValue *value)
{
  if (value == NULL || value->type == SQLITE_NULL || value->type == STORE_UNCHANGED)
    return g_strdup ("");
  if (field->kind == BOOK_KIND_REFERENCE)
    return book_record_key_text (watch->db, book_record (field->refers), value->integer, BOOK_KEY_TEXT_SHOWN, NULL);
  return book_value_show (field, value);
}

static void
add (Watch *watch, const StoreRow *row, const BookField *field, int characteristic, const char *code)
{
  BookAfterwards *out;

  /* Readings of one characteristic that one action changed alike are told once. */
  for (guint i = watch->first; watch->record->id == BOOK_RECORD_READING && i < watch->list->len; i++)
    {
      out = watch->list->pdata[i];
      if (out->field == field && out->op == row->op && out->characteristic == characteristic)
        {
          out->n++;
          g_free (out->before);
          g_free (out->after);
          out->before = g_strdup ("");
          out->after = g_strdup ("");
          return;
        }
    }
  out = g_new0 (BookAfterwards, 1);
  out->record = watch->record;
  out->id = row->id;
  out->op = row->op;
  out->field = field;
  out->characteristic = characteristic;
  out->code = g_strdup (code);
  out->before = field != NULL ? show (watch, field, column (row, row->before, watch->record, field->name)) : NULL;
  out->after = field != NULL ? show (watch, field, column (row, row->after, watch->record, field->name)) : NULL;
  if (out->before == NULL)
    out->before = g_strdup ("");
  if (out->after == NULL)
    out->after = g_strdup ("");
  out->n = 1;
  out->place = watch->action->first_place;
  out->time = g_strdup (watch->action->time);
  out->person = watch->action->person > 0
                    ? book_record_key_text (watch->db, book_record (BOOK_RECORD_PERSON), watch->action->person, BOOK_KEY_TEXT_SHOWN, NULL)
                    : NULL;
  if (out->person == NULL)
    out->person = g_strdup ("");
  g_ptr_array_add (watch->list, out);
}

/* Whether what was done to the row may have to be told; takes note of its table. */
static gboolean
watch_row (Watch *watch, const StoreRow *row)
{
  watch->record = book_record_of_table (row->table);
  for (guint i = 0; i < G_N_ELEMENTS (watched); i++)
    if (watch->record->id == watched[i].record)
      {
        watch->fields = watched[i].fields;
        return row->op != STORE_INSERT || watched[i].when_made;
      }
  return FALSE;
}

static gboolean
look_at_row (const StoreRow *row, gpointer data)
{
  Watch *watch = data;
  g_autofree char *code = NULL;
  int characteristic;

  if (!watch_row (watch, row))
    return TRUE;
  if (!place_row (watch, row, &characteristic, &code))
    return TRUE;
  if (watch->record->id != BOOK_RECORD_READING && watch->record->id != BOOK_RECORD_ISSUE && !was_measured (watch, characteristic))
    return TRUE;
  if (row->op != STORE_UPDATE)
    {
      add (watch, row, NULL, characteristic, code);
      return TRUE;
    }
  for (guint i = 0; watch->fields[i] != NULL; i++)
    if (column (row, row->after, watch->record, watch->fields[i]) != NULL)
      add (watch, row, book_field_find (watch->record, watch->fields[i]), characteristic, code);
  return TRUE;
}

/* Terms that came with their criterion are told with it. */
static void
fold_terms (GPtrArray *list)
{
  for (guint i = list->len; i > 0; i--)
    {
      const BookAfterwards *term = list->pdata[i - 1];
      gboolean told = FALSE;

      if (term->record->id != BOOK_RECORD_CRITERION_TERM || term->op == STORE_UPDATE)
        continue;
      for (guint k = 0; k < list->len && !told; k++)
        {
          const BookAfterwards *criterion = list->pdata[k];

          told = criterion->record->id == BOOK_RECORD_CRITERION && criterion->op == term->op && criterion->place == term->place
                 && g_str_equal (criterion->code, term->code);
        }
      if (told)
        g_ptr_array_remove_index (list, i - 1);
    }
}

/* An entry that touched a watched table. */
typedef struct
{
  gint64   place;
  gboolean always; /* also before the first value: readings, issues */
} Touched;

static int
compare_touched (gconstpointer a, gconstpointer b)
{
  const Touched *x = a, *y = b;

  if (x->place != y->place)
    return x->place > y->place ? 1 : -1;
  return y->always - x->always;
}

/* The oldest first; one that touched several tables stands there for each, first for those that are always opened. */
static GArray *
list_touched (StoreDb *db, GError **error)
{
  g_autoptr(GArray) all = g_array_new (FALSE, FALSE, sizeof (Touched));

  for (guint i = 0; i < G_N_ELEMENTS (watched); i++)
    {
      const int table = store_db_find_table (db, book_record (watched[i].record)->name);
      g_autoptr(GArray) places = store_history_places (db, table, !watched[i].when_made, error);

      if (places == NULL)
        return NULL;
      for (guint k = 0; k < places->len; k++)
        {
          const Touched touched = { g_array_index (places, gint64, k),
                                    watched[i].record == BOOK_RECORD_READING || watched[i].record == BOOK_RECORD_ISSUE };

          g_array_append_val (all, touched);
        }
    }
  g_array_sort (all, compare_touched);
  return g_steal_pointer (&all);
}

static gboolean
look_at_entries (Watch *watch, const GArray *all, GCancellable *cancellable, GError **error)
{
  g_autoptr(StoreActionInfo) action = NULL;
  gboolean measured = FALSE;
  gint64 last = 0;

  for (guint i = 0; i < all->len; i++)
    {
      const Touched *touched = &g_array_index (all, Touched, i);

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      if (touched->place == last)
        continue;
      last = touched->place;
      if (action == NULL || last >= action->first_place + action->entries)
        {
          g_clear_pointer (&action, store_action_info_free);
          action = store_history_at (watch->db, last, error);
          if (action == NULL)
            return FALSE;
          watch->action = action;
          watch->first = watch->list->len;
          measured = was_measured (watch, -1);
        }
      if (action->kind == STORE_DO && !action->undone && !action->erased && (measured || touched->always)
          && !store_history_rows_at (watch->db, last, look_at_row, watch, error))
        return FALSE;
    }
  return TRUE;
}

/**
 * book_afterwards_list:
 * @db: any connection
 * @evidence: the records of a model, with readings
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Returns: (transfer full) (element-type BookAfterwards) (nullable): what was changed after the first value of what it is
 *   about; %G_IO_ERROR_CANCELLED
 */
GPtrArray *
book_afterwards_list (StoreDb *db, const BookEvidence *evidence, GCancellable *cancellable, GError **error)
{
  g_autoptr(GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) book_afterwards_free);
  g_autoptr(GHashTable) readings = g_hash_table_new (g_int64_hash, g_int64_equal);
  g_autoptr(GArray) touched = NULL;
  Watch watch = { .db = db, .e = evidence, .list = list, .readings = readings };

  for (guint c = 0; c < evidence->n_characteristics; c++)
    for (guint i = evidence->characteristics[c].first_reading; i < evidence->characteristics[c].end_reading; i++)
      g_hash_table_insert (readings, &evidence->readings[i].id, GINT_TO_POINTER (c + 1));
  touched = list_touched (db, error);
  if (touched == NULL || !look_at_entries (&watch, touched, cancellable, error))
    return NULL;
  fold_terms (list);
  return g_steal_pointer (&list);
}
