/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a sheet sets up: model, round, people, characteristics, limits, and the gate with its criteria. */
#include "config.h"

#include "exchange-sheet-store-private.h"

#include "book-choices.h"
#include "exchange-error.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define GATE_NAME N_("Release")

void
exchange_new_row_begin (ExchangeNewRow *row, BookRecordId id)
{
  row->record = book_record (id);
  for (guint f = 0; f < row->record->n_fields; f++)
    row->values[f] = book_value_fallback (&row->record->fields[f]);
}

void
exchange_new_row_set (ExchangeNewRow *row, const char *name, BookValue value)
{
  int f = book_field_index (row->record, name);

  g_assert (f >= 0);
  row->values[f] = value;
}

void
exchange_new_row_set_text (ExchangeNewRow *row, const char *name, const char *text)
{
  exchange_new_row_set (row, name, text != NULL && *text != '\0' ? book_value_text (text, -1) : BOOK_VALUE_EMPTY);
}

void
exchange_new_row_set_real (ExchangeNewRow *row, const char *name, double real)
{
  exchange_new_row_set (row, name, isnan (real) ? BOOK_VALUE_EMPTY : book_value_real (real));
}

gboolean
exchange_new_row_insert (ExchangeStoring *self, ExchangeNewRow *row, gint64 *id, GError **error)
{
  for (guint f = 0; f < row->record->n_fields; f++)
    {
      const BookField *field = &row->record->fields[f];
      g_autoptr(GError) failure = NULL;

      if (field->kind == BOOK_KIND_REFERENCE || field->kind == BOOK_KIND_ANY
          || book_value_check (field, &row->values[f], &failure))
        continue;
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNDERSTOOD, "%s: %s: %s", row->record->name, field->name,
                   failure->message);
      return FALSE;
    }
  return book_record_insert (self->action, row->record, row->values, id, error);
}

static gboolean
begins_with (const BookValue *value, const char *text)
{
  gsize length = strlen (text);

  return value->type == SQLITE_TEXT && value->length > length && strncmp (value->text, text, length) == 0
         && !g_unichar_isalnum (g_utf8_get_char (value->text + length));
}

static gboolean
same_text (const BookValue *value, const char *text)
{
  g_autofree char *a = NULL;
  g_autofree char *b = NULL;

  if (value->type != SQLITE_TEXT || text == NULL)
    return FALSE;
  a = g_utf8_casefold (value->text, (gssize) value->length);
  b = g_utf8_casefold (text, -1);
  return strcmp (a, b) == 0;
}

/* Looks for a row by a text in one of two fields, within a parent. */
typedef struct
{
  gint64      parent;
  const char *parent_field; /* (nullable) */
  const char *fields[2];
  const char *text;
  gboolean    or_first_words; /* a text that begins with @text and ends its word there will do */
  gint64      id;
} Search;

static gboolean
on_searched (const BookRow *row, gpointer data, GError **error)
{
  Search *search = data;

  if (search->id != 0
      || (search->parent_field != NULL && book_row_get (row, search->parent_field)->integer != search->parent))
    return TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (search->fields); i++)
    if (same_text (book_row_get (row, search->fields[i]), search->text)
        || (search->or_first_words && begins_with (book_row_get (row, search->fields[i]), search->text)))
      search->id = row->id;
  return TRUE;
}

/* A code from a name: capitals, digits and hyphens, as many as the field holds, not that of a record of the model yet. */
static char *
make_code (ExchangeStoring *self, BookRecordId id, const char *name, GError **error)
{
  const BookRecord *record = book_record (id);
  gsize most = book_field_find (record, "code")->max_length;
  g_autofree char *plain = g_str_to_ascii (name, "C");
  g_autoptr(GString) code = g_string_new (NULL);
  gsize length;

  for (const char *p = plain; *p != '\0' && code->len < most; p++)
    {
      if (g_ascii_isalnum (*p))
        g_string_append_c (code, g_ascii_toupper (*p));
      else if (code->len > 0 && code->str[code->len - 1] != '-')
        g_string_append_c (code, '-');
    }
  while (code->len > 0 && code->str[code->len - 1] == '-')
    g_string_truncate (code, code->len - 1);
  if (code->len == 0)
    g_string_append (code, "X");
  length = code->len;
  for (guint n = 2;; n++)
    {
      Search search = { self->stored->model, id == BOOK_RECORD_MODEL ? NULL : "model", { "code", "code" }, code->str, FALSE, 0 };
      g_autofree char *suffix = g_strdup_printf ("-%u", n);

      if (!book_record_each (self->db, record, on_searched, &search, error))
        return NULL;
      if (search.id == 0)
        return g_string_free (g_steal_pointer (&code), FALSE);
      g_string_truncate (code, MIN (length, most - strlen (suffix)));
      g_string_append (code, suffix);
    }
}

static gboolean
store_model (ExchangeStoring *self, GError **error)
{
  Search search = { 0, NULL, { "code", "name" }, self->model_text, FALSE, 0 };
  g_autofree char *code = NULL;
  ExchangeNewRow row;

  if (!book_record_each (self->db, book_record (BOOK_RECORD_MODEL), on_searched, &search, error))
    return FALSE;
  if (search.id == 0)
    {
      /* `Lark` in a title is the model `Lark, folding saw`. */
      search.or_first_words = TRUE;
      if (!book_record_each (self->db, book_record (BOOK_RECORD_MODEL), on_searched, &search, error))
        return FALSE;
    }
  self->stored->model = search.id;
  if (search.id != 0)
    return TRUE;
  code = make_code (self, BOOK_RECORD_MODEL, self->model_text, error);
  if (code == NULL)
    return FALSE;
  exchange_new_row_begin (&row, BOOK_RECORD_MODEL);
  exchange_new_row_set_text (&row, "code", code);
  exchange_new_row_set_text (&row, "name", self->model_text);
  self->stored->new_model = TRUE;
  return exchange_new_row_insert (self, &row, &self->stored->model, error);
}

/* 'pilot B', as a sheet is headed, is round B where B is a pilot: not a second round beside it. */
static gboolean
find_round (ExchangeStoring *self, const BookValue *key, GError **error)
{
  const BookRecord *record = book_record (BOOK_RECORD_ROUND);

  if (!book_record_find_id (self->db, record, key, &self->stored->round, error))
    return FALSE;
  for (const BookChoice *kind = book_round_kinds; kind->text != NULL && self->stored->round == 0; kind++)
    {
      gsize length = strlen (kind->text);
      BookValue rest[2] = { key[0] };
      g_autoptr(BookRow) row = NULL;
      gint64 found;

      if (g_ascii_strncasecmp (self->round_text, kind->text, length) != 0 || self->round_text[length] != ' ')
        continue;
      rest[1] = book_value_text (self->round_text + length + strspn (self->round_text + length, " "), -1);
      if (!book_record_find_id (self->db, record, rest, &found, error))
        return FALSE;
      if (found == 0)
        continue;
      row = book_record_read (self->db, record, found, error);
      if (row == NULL)
        return FALSE;
      if (book_row_get (row, "kind")->integer == kind->code)
        self->stored->round = found;
    }
  return TRUE;
}

static gboolean
store_round (ExchangeStoring *self, GError **error)
{
  BookValue key[2] = { book_value_integer (self->stored->model), book_value_text (self->round_text, -1) };
  ExchangeNewRow row;

  if (!find_round (self, key, error))
    return FALSE;
  if (self->stored->round != 0)
    return TRUE;
  exchange_new_row_begin (&row, BOOK_RECORD_ROUND);
  exchange_new_row_set (&row, "model", key[0]);
  exchange_new_row_set (&row, "label", key[1]);
  exchange_new_row_set (&row, "kind",
                        book_value_integer (self->target->kind != 0 ? self->target->kind : BOOK_ROUND_PROTOTYPE));
  exchange_new_row_set_text (&row, "opened", self->first_date);
  self->stored->new_round = TRUE;
  return exchange_new_row_insert (self, &row, &self->stored->round, error);
}

gboolean
exchange_sheet_store_person (ExchangeStoring *self, const char *initials, gint64 *id, GError **error)
{
  BookValue key[1] = { book_value_text (initials, -1) };
  const gint64 *known = g_hash_table_lookup (self->people, initials);
  ExchangeNewRow row;

  if (known != NULL)
    {
      *id = *known;
      return TRUE;
    }
  if (!book_record_find_id (self->db, book_record (BOOK_RECORD_PERSON), key, id, error))
    return FALSE;
  if (*id == 0)
    {
      exchange_new_row_begin (&row, BOOK_RECORD_PERSON);
      exchange_new_row_set (&row, "initials", key[0]);
      exchange_new_row_set (&row, "role", book_value_integer (BOOK_ROLE_INSPECTOR));
      self->stored->people++;
      if (!exchange_new_row_insert (self, &row, id, error))
        return FALSE;
    }
  g_hash_table_insert (self->people, g_strdup (initials), g_memdup2 (id, sizeof *id));
  return TRUE;
}

static gint64
class_of (const ExchangeSheetColumn *head)
{
  const BookChoice *choice = head->class_word != NULL ? book_choice_by_text (book_classes, head->class_word) : NULL;

  return choice != NULL ? choice->code : BOOK_CLASS_FUNCTION;
}

static gboolean
make_characteristic (ExchangeStoring *self, guint c, GError **error)
{
  const ExchangeSheetColumn *head = exchange_sheet_get_column (self->sheet, c);
  ExchangeStoredColumn *column = &self->columns[c];
  g_autofree char *code = make_code (self, BOOK_RECORD_CHARACTERISTIC, head->code != NULL ? head->code : head->name, error);
  ExchangeNewRow row;

  if (code == NULL)
    return FALSE;
  column->class_code = (BookClass) class_of (head);
  exchange_new_row_begin (&row, BOOK_RECORD_CHARACTERISTIC);
  exchange_new_row_set (&row, "model", book_value_integer (self->stored->model));
  exchange_new_row_set_text (&row, "code", code);
  exchange_new_row_set_text (&row, "name", head->name);
  exchange_new_row_set (&row, "kind",
                        book_value_integer (head->role == EXCHANGE_COLUMN_CHECKED ? BOOK_CHARACTERISTIC_CHECKED
                                                                                  : BOOK_CHARACTERISTIC_MEASURED));
  exchange_new_row_set (&row, "class", book_value_integer (column->class_code));
  exchange_new_row_set (&row, "decimals", book_value_integer (head->decimals));
  if (head->role == EXCHANGE_COLUMN_MEASURED)
    exchange_new_row_set_text (&row, "unit", head->unit);
  self->stored->characteristics++;
  return exchange_new_row_insert (self, &row, &column->id, error);
}

/* The characteristic of a column: by code, by name with the group, by name alone; else a new one. */
static gboolean
store_characteristic (ExchangeStoring *self, guint c, GError **error)
{
  const ExchangeSheetColumn *head = exchange_sheet_get_column (self->sheet, c);
  const char *texts[] = { head->code, head->name, head->short_name };
  ExchangeStoredColumn *column = &self->columns[c];
  g_autoptr(BookRow) found = NULL;
  g_autofree char *place = NULL;
  gint64 kind;

  for (guint earlier = 0; earlier < c; earlier++)
    if (self->columns[earlier].id != 0 && exchange_sheet_get_column (self->sheet, earlier)->role == head->role
        && strcmp (exchange_sheet_get_column (self->sheet, earlier)->name, head->name) == 0)
      {
        column->id = self->columns[earlier].id; /* a repeat of that column */
        return TRUE;
      }
  for (guint i = 0; i < G_N_ELEMENTS (texts) && column->id == 0; i++)
    {
      Search search = { self->stored->model, "model", { "code", "name" }, texts[i], FALSE, 0 };

      if (!book_record_each (self->db, book_record (BOOK_RECORD_CHARACTERISTIC), on_searched, &search, error))
        return FALSE;
      column->id = search.id;
    }
  if (column->id == 0)
    return make_characteristic (self, c, error);
  found = book_record_read (self->db, book_record (BOOK_RECORD_CHARACTERISTIC), column->id, error);
  if (found == NULL)
    return FALSE;
  column->class_code = (BookClass) book_row_get (found, "class")->integer;
  kind = book_row_get (found, "kind")->integer;
  if ((kind == BOOK_CHARACTERISTIC_CHECKED) == (head->role == EXCHANGE_COLUMN_CHECKED))
    return TRUE;
  place = exchange_sheet_place (-1, (int) c);
  g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNDERSTOOD,
               kind == BOOK_CHARACTERISTIC_CHECKED
                   ? _("%s: the book has '%s' as checked, the sheet as measured: set the column's role or name")
                   : _("%s: the book has '%s' as measured, the sheet as checked: set the column's role or name"),
               place, head->name);
  return FALSE;
}

/* The limits in force on the day of the sheet. */
typedef struct
{
  gint64      characteristic;
  const char *on;
  gboolean    any;
  char        from[11];
  double      lower;
  double      upper;
} InForce;

static gboolean
on_limit (const BookRow *row, gpointer data, GError **error)
{
  InForce *force = data;
  const BookValue *from = book_row_get (row, "from_date");

  if (book_row_get (row, "characteristic")->integer != force->characteristic)
    return TRUE;
  /* Limits from a later day alone still are the book's limits: the sheet does not add others before them. */
  if (force->any && strncmp (from->text, force->on, 10) > 0)
    return TRUE;
  if (force->any && strcmp (from->text, force->from) < 0 && strcmp (force->from, force->on) <= 0)
    return TRUE;
  force->any = TRUE;
  g_strlcpy (force->from, from->text, sizeof force->from);
  force->lower = store_value_real (book_row_get (row, "lower"), NAN);
  force->upper = store_value_real (book_row_get (row, "upper"), NAN);
  return TRUE;
}

gboolean
exchange_limits_differ (double a, double b)
{
  return isnan (a) != isnan (b) || (!isnan (a) && (a < b || a > b));
}

static gboolean
store_limits (ExchangeStoring *self, guint c, GError **error)
{
  const ExchangeSheetColumn *head = exchange_sheet_get_column (self->sheet, c);
  ExchangeStoredColumn *column = &self->columns[c];
  InForce force = { column->id, self->first_date, FALSE, "", NAN, NAN };
  gboolean written = !isnan (head->lower) || !isnan (head->upper);
  ExchangeNewRow row;

  if (head->role != EXCHANGE_COLUMN_MEASURED)
    return TRUE;
  if (!book_record_each (self->db, book_record (BOOK_RECORD_LIMIT), on_limit, &force, error))
    return FALSE;
  column->has_limits = force.any || written;
  if (force.any && written
      && (exchange_limits_differ (force.lower, head->lower) || exchange_limits_differ (force.upper, head->upper)))
    self->stored->limits_kept++;
  if (force.any || (!written && isnan (head->nominal)))
    return TRUE;
  exchange_new_row_begin (&row, BOOK_RECORD_LIMIT);
  exchange_new_row_set (&row, "characteristic", book_value_integer (column->id));
  exchange_new_row_set_text (&row, "from_date", self->first_date);
  exchange_new_row_set_real (&row, "nominal", head->nominal);
  exchange_new_row_set_real (&row, "lower", head->lower);
  exchange_new_row_set_real (&row, "upper", head->upper);
  self->stored->limits++;
  return exchange_new_row_insert (self, &row, NULL, error);
}

/* Shares and confidences wanted by class; the defaults of the evidence rules. */
static void
default_terms (BookClass class_code, double *share, double *confidence)
{
  *share = class_code == BOOK_CLASS_SAFETY ? 0.9999 : class_code == BOOK_CLASS_FUNCTION ? 0.95 : 0.90;
  *confidence = class_code == BOOK_CLASS_SAFETY ? 0.95 : 0.90;
}

typedef struct
{
  gint64      model;
  const char *name;
  gint64      id;    /* the gate of that name */
  gboolean    any;
} GateSearch;

static gboolean
on_gate (const BookRow *row, gpointer data, GError **error)
{
  GateSearch *search = data;

  if (book_row_get (row, "model")->integer != search->model)
    return TRUE;
  search->any = TRUE;
  if (same_text (book_row_get (row, "name"), search->name))
    search->id = row->id;
  return TRUE;
}

typedef struct
{
  gint64   characteristic;
  gboolean found;
} CriterionSearch;

static gboolean
on_criterion (const BookRow *row, gpointer data, GError **error)
{
  CriterionSearch *search = data;
  const BookValue *about = book_row_get (row, "characteristic");

  search->found = search->found || (about->type == SQLITE_INTEGER && about->integer == search->characteristic);
  return TRUE;
}

static gboolean
store_criterion (ExchangeStoring *self, gint64 gate, guint c, GError **error)
{
  const ExchangeSheetColumn *head = exchange_sheet_get_column (self->sheet, c);
  const ExchangeStoredColumn *column = &self->columns[c];
  CriterionSearch search = { column->id, FALSE };
  g_autofree char *code = NULL;
  double share;
  double confidence;
  gint64 id;
  ExchangeNewRow row;

  if (head->role == EXCHANGE_COLUMN_MEASURED && !column->has_limits)
    return TRUE; /* nothing to conform to yet */
  if (!book_record_each (self->db, book_record (BOOK_RECORD_CRITERION), on_criterion, &search, error))
    return FALSE;
  if (search.found)
    return TRUE;
  code = make_code (self, BOOK_RECORD_CRITERION, head->code != NULL ? head->code : head->name, error);
  if (code == NULL)
    return FALSE;
  exchange_new_row_begin (&row, BOOK_RECORD_CRITERION);
  exchange_new_row_set (&row, "model", book_value_integer (self->stored->model));
  exchange_new_row_set_text (&row, "code", code);
  exchange_new_row_set (&row, "gate", book_value_integer (gate));
  exchange_new_row_set (
      &row, "kind",
      book_value_integer (head->role == EXCHANGE_COLUMN_CHECKED ? BOOK_CRITERION_CHECKED : BOOK_CRITERION_MEASURED));
  exchange_new_row_set (&row, "characteristic", book_value_integer (column->id));
  if (!exchange_new_row_insert (self, &row, &id, error))
    return FALSE;
  self->stored->criteria++;
  default_terms (column->class_code, &share, &confidence);
  exchange_new_row_begin (&row, BOOK_RECORD_CRITERION_TERM);
  exchange_new_row_set (&row, "criterion", book_value_integer (id));
  exchange_new_row_set_text (&row, "from_date", self->first_date);
  exchange_new_row_set_real (&row, "share", share);
  exchange_new_row_set_real (&row, "confidence", confidence);
  if (self->target->writer != 0)
    exchange_new_row_set (&row, "person", book_value_integer (self->target->writer));
  return exchange_new_row_insert (self, &row, NULL, error);
}

/* A model without gates gets one; a model with gates of its own is not told what to show at them. */
static gboolean
store_gate (ExchangeStoring *self, GError **error)
{
  GateSearch search = { self->stored->model, _(GATE_NAME), 0, FALSE };
  ExchangeNewRow row;

  if (!book_record_each (self->db, book_record (BOOK_RECORD_GATE), on_gate, &search, error))
    return FALSE;
  if (search.any && search.id == 0)
    return TRUE;
  if (search.id == 0)
    {
      exchange_new_row_begin (&row, BOOK_RECORD_GATE);
      exchange_new_row_set (&row, "model", book_value_integer (self->stored->model));
      exchange_new_row_set (&row, "position", book_value_integer (1));
      exchange_new_row_set_text (&row, "name", search.name);
      if (!exchange_new_row_insert (self, &row, &search.id, error))
        return FALSE;
    }
  for (guint c = 0; c < exchange_sheet_count_columns (self->sheet); c++)
    if (self->columns[c].id != 0 && !store_criterion (self, search.id, c, error))
      return FALSE;
  return TRUE;
}

static gboolean
store_columns (ExchangeStoring *self, GError **error)
{
  self->most_repeats = 1;
  for (guint c = 0; c < exchange_sheet_count_columns (self->sheet); c++)
    {
      const ExchangeSheetColumn *head = exchange_sheet_get_column (self->sheet, c);

      if (head->role != EXCHANGE_COLUMN_MEASURED && head->role != EXCHANGE_COLUMN_CHECKED)
        continue;
      self->most_repeats = MAX (self->most_repeats, head->repeat);
      if (!store_characteristic (self, c, error) || !store_limits (self, c, error))
        return FALSE;
    }
  return TRUE;
}

/* Makes or finds all that the readings refer to, but for units and people. */
gboolean
exchange_sheet_store_setup (ExchangeStoring *self, GError **error)
{
  return store_model (self, error) && store_round (self, error) && store_columns (self, error)
         && store_gate (self, error);
}
