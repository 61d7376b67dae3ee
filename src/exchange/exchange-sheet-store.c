/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A sheet into the book. What is there already is found by its visible key or its name and left as it is; what is not is
 * made. The whole sheet is one action: undo takes all of it back.
 */
#include "config.h"

#include "exchange-sheet-store.h"

#include "book-record.h"
#include "exchange-error.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define GATE_NAME N_("Release")
#define MOST_REASON 300 /* the bound of reading.reason */

typedef struct
{
  gint64 id;          /* of the characteristic; 0 for other columns */
  gboolean has_limits;
  BookClass class_code;
} Column;

typedef struct
{
  ExchangeSheet             *sheet;
  const ExchangeSheetTarget *target;
  ExchangeSheetStored       *stored;
  const char                *model_text;
  const char                *round_text;
  const char                *date;     /* of readings without one */
  const char                *first_date;
  const char                *person_text;
  StoreAction               *action;
  StoreDb                   *db;
  Column                    *columns;
  GHashTable                *people; /* initials to id */
  guint                      most_repeats;
  guint                      n_conflicts;
  char                      *conflict; /* the first */
} Storing;

/* Values of a new row, by name; what is not set is what the description puts there. */
typedef struct
{
  const BookRecord *record;
  BookValue         values[BOOK_MAX_FIELDS];
} NewRow;

static void
row_begin (NewRow *row, BookRecordId id)
{
  row->record = book_record (id);
  for (guint f = 0; f < row->record->n_fields; f++)
    {
      const BookField *field = &row->record->fields[f];

      row->values[f] = BOOK_VALUE_EMPTY;
      if (field->fallback != NULL && !book_value_parse (field, "", 0, FALSE, &row->values[f], NULL))
        row->values[f] = BOOK_VALUE_EMPTY;
    }
}

static void
row_set (NewRow *row, const char *name, BookValue value)
{
  int f = book_field_index (row->record, name);

  g_assert (f >= 0);
  row->values[f] = value;
}

static void
row_set_text (NewRow *row, const char *name, const char *text)
{
  row_set (row, name, text != NULL && *text != '\0' ? book_value_text (text, -1) : BOOK_VALUE_EMPTY);
}

static void
row_set_real (NewRow *row, const char *name, double real)
{
  row_set (row, name, isnan (real) ? BOOK_VALUE_EMPTY : book_value_real (real));
}

static gboolean
row_insert (Storing *self, NewRow *row, gint64 *id, GError **error)
{
  for (guint f = 0; f < row->record->n_fields; f++)
    {
      const BookField *field = &row->record->fields[f];
      g_autoptr(GError) failure = NULL;

      if (field->kind == BOOK_KIND_REFERENCE || field->kind == BOOK_KIND_ANY || book_value_check (field, &row->values[f], &failure))
        continue;
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNDERSTOOD, "%s: %s: %s", row->record->name, field->name, failure->message);
      return FALSE;
    }
  return book_record_insert (self->action, row->record, row->values, id, error);
}

/* A code from a name: capitals, digits and hyphens, at most @most bytes, not yet in @taken. */
static char *
make_code (const char *name, gsize most, gboolean (*is_taken) (Storing *self, const char *code, gpointer data), Storing *self, gpointer data)
{
  g_autofree char *plain = g_str_to_ascii (name, "C");
  GString *code = g_string_new (NULL);
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
  for (guint n = 2; is_taken (self, code->str, data); n++)
    {
      g_autofree char *suffix = g_strdup_printf ("-%u", n);

      g_string_truncate (code, MIN (length, most - strlen (suffix)));
      g_string_append (code, suffix);
    }
  return g_string_free (code, FALSE);
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

  if (search->id != 0 || (search->parent_field != NULL && book_row_get (row, search->parent_field)->integer != search->parent))
    return TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (search->fields); i++)
    if (same_text (book_row_get (row, search->fields[i]), search->text)
        || (search->or_first_words && begins_with (book_row_get (row, search->fields[i]), search->text)))
      search->id = row->id;
  return TRUE;
}

static gboolean
is_model_code (Storing *self, const char *code, gpointer data)
{
  Search search = { 0, NULL, { "code", "code" }, code, FALSE, 0 };

  return book_record_each (self->db, book_record (BOOK_RECORD_MODEL), on_searched, &search, NULL) && search.id != 0;
}

static gboolean
is_characteristic_code (Storing *self, const char *code, gpointer data)
{
  Search search = { self->stored->model, "model", { "code", "code" }, code, FALSE, 0 };

  return book_record_each (self->db, book_record (BOOK_RECORD_CHARACTERISTIC), on_searched, &search, NULL) && search.id != 0;
}

static gboolean
is_criterion_code (Storing *self, const char *code, gpointer data)
{
  Search search = { self->stored->model, "model", { "code", "code" }, code, FALSE, 0 };

  return book_record_each (self->db, book_record (BOOK_RECORD_CRITERION), on_searched, &search, NULL) && search.id != 0;
}

static gboolean
store_model (Storing *self, GError **error)
{
  Search search = { 0, NULL, { "code", "name" }, self->model_text, FALSE, 0 };
  g_autofree char *code = NULL;
  NewRow row;

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
  code = make_code (self->model_text, 20, is_model_code, self, NULL);
  row_begin (&row, BOOK_RECORD_MODEL);
  row_set_text (&row, "code", code);
  row_set_text (&row, "name", self->model_text);
  self->stored->new_model = TRUE;
  return row_insert (self, &row, &self->stored->model, error);
}

static gboolean
store_round (Storing *self, GError **error)
{
  BookValue key[2] = { book_value_integer (self->stored->model), book_value_text (self->round_text, -1) };
  NewRow row;

  if (!book_record_find_id (self->db, book_record (BOOK_RECORD_ROUND), key, &self->stored->round, error))
    return FALSE;
  if (self->stored->round != 0)
    return TRUE;
  row_begin (&row, BOOK_RECORD_ROUND);
  row_set (&row, "model", key[0]);
  row_set (&row, "label", key[1]);
  row_set (&row, "kind", book_value_integer (self->target->kind != 0 ? self->target->kind : BOOK_ROUND_PROTOTYPE));
  row_set_text (&row, "opened", self->first_date);
  self->stored->new_round = TRUE;
  return row_insert (self, &row, &self->stored->round, error);
}

static gboolean
store_person (Storing *self, const char *initials, gint64 *id, GError **error)
{
  BookValue key[1] = { book_value_text (initials, -1) };
  const gint64 *known = g_hash_table_lookup (self->people, initials);
  NewRow row;

  if (known != NULL)
    {
      *id = *known;
      return TRUE;
    }
  if (!book_record_find_id (self->db, book_record (BOOK_RECORD_PERSON), key, id, error))
    return FALSE;
  if (*id == 0)
    {
      row_begin (&row, BOOK_RECORD_PERSON);
      row_set (&row, "initials", key[0]);
      row_set (&row, "role", book_value_integer (BOOK_ROLE_INSPECTOR));
      self->stored->people++;
      if (!row_insert (self, &row, id, error))
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
make_characteristic (Storing *self, guint c, GError **error)
{
  const ExchangeSheetColumn *head = exchange_sheet_get_column (self->sheet, c);
  Column *column = &self->columns[c];
  g_autofree char *code = make_code (head->code != NULL ? head->code : head->name, 30, is_characteristic_code, self, NULL);
  NewRow row;

  column->class_code = (BookClass) class_of (head);
  row_begin (&row, BOOK_RECORD_CHARACTERISTIC);
  row_set (&row, "model", book_value_integer (self->stored->model));
  row_set_text (&row, "code", code);
  row_set_text (&row, "name", head->name);
  row_set (&row, "kind", book_value_integer (head->role == EXCHANGE_COLUMN_CHECKED ? BOOK_CHARACTERISTIC_CHECKED : BOOK_CHARACTERISTIC_MEASURED));
  row_set (&row, "class", book_value_integer (column->class_code));
  row_set (&row, "decimals", book_value_integer (head->decimals));
  if (head->role == EXCHANGE_COLUMN_MEASURED)
    row_set_text (&row, "unit", head->unit);
  self->stored->characteristics++;
  return row_insert (self, &row, &column->id, error);
}

/* The characteristic of a column: by code, by name with the group, by name alone; else a new one. */
static gboolean
store_characteristic (Storing *self, guint c, GError **error)
{
  const ExchangeSheetColumn *head = exchange_sheet_get_column (self->sheet, c);
  const char *texts[] = { head->code, head->name, head->short_name };
  Column *column = &self->columns[c];
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
               kind == BOOK_CHARACTERISTIC_CHECKED ? _("%s: the book has '%s' as checked, the sheet as measured: set the column's role or name")
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

static gboolean
differ (double a, double b)
{
  return isnan (a) != isnan (b) || (!isnan (a) && (a < b || a > b));
}

static gboolean
store_limits (Storing *self, guint c, GError **error)
{
  const ExchangeSheetColumn *head = exchange_sheet_get_column (self->sheet, c);
  Column *column = &self->columns[c];
  InForce force = { column->id, self->first_date, FALSE, "", NAN, NAN };
  gboolean written = !isnan (head->lower) || !isnan (head->upper);
  NewRow row;

  if (head->role != EXCHANGE_COLUMN_MEASURED)
    return TRUE;
  if (!book_record_each (self->db, book_record (BOOK_RECORD_LIMIT), on_limit, &force, error))
    return FALSE;
  column->has_limits = force.any || written;
  if (force.any && written && (differ (force.lower, head->lower) || differ (force.upper, head->upper)))
    self->stored->limits_kept++;
  if (force.any || (!written && isnan (head->nominal)))
    return TRUE;
  row_begin (&row, BOOK_RECORD_LIMIT);
  row_set (&row, "characteristic", book_value_integer (column->id));
  row_set_text (&row, "from_date", self->first_date);
  row_set_real (&row, "nominal", head->nominal);
  row_set_real (&row, "lower", head->lower);
  row_set_real (&row, "upper", head->upper);
  self->stored->limits++;
  return row_insert (self, &row, NULL, error);
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
store_criterion (Storing *self, gint64 gate, guint c, GError **error)
{
  const ExchangeSheetColumn *head = exchange_sheet_get_column (self->sheet, c);
  const Column *column = &self->columns[c];
  CriterionSearch search = { column->id, FALSE };
  g_autofree char *code = NULL;
  double share;
  double confidence;
  gint64 id;
  NewRow row;

  if (head->role == EXCHANGE_COLUMN_MEASURED && !column->has_limits)
    return TRUE; /* nothing to conform to yet */
  if (!book_record_each (self->db, book_record (BOOK_RECORD_CRITERION), on_criterion, &search, error))
    return FALSE;
  if (search.found)
    return TRUE;
  code = make_code (head->code != NULL ? head->code : head->name, 30, is_criterion_code, self, NULL);
  row_begin (&row, BOOK_RECORD_CRITERION);
  row_set (&row, "model", book_value_integer (self->stored->model));
  row_set_text (&row, "code", code);
  row_set (&row, "gate", book_value_integer (gate));
  row_set (&row, "kind", book_value_integer (head->role == EXCHANGE_COLUMN_CHECKED ? BOOK_CRITERION_CHECKED : BOOK_CRITERION_MEASURED));
  row_set (&row, "characteristic", book_value_integer (column->id));
  if (!row_insert (self, &row, &id, error))
    return FALSE;
  self->stored->criteria++;
  default_terms (column->class_code, &share, &confidence);
  row_begin (&row, BOOK_RECORD_CRITERION_TERM);
  row_set (&row, "criterion", book_value_integer (id));
  row_set_text (&row, "from_date", self->first_date);
  row_set_real (&row, "share", share);
  row_set_real (&row, "confidence", confidence);
  if (self->target->writer != 0)
    row_set (&row, "person", book_value_integer (self->target->writer));
  return row_insert (self, &row, NULL, error);
}

/* A model without gates gets one; a model with gates of its own is not told what to show at them. */
static gboolean
store_gate (Storing *self, GError **error)
{
  GateSearch search = { self->stored->model, _(GATE_NAME), 0, FALSE };
  NewRow row;

  if (!book_record_each (self->db, book_record (BOOK_RECORD_GATE), on_gate, &search, error))
    return FALSE;
  if (search.any && search.id == 0)
    return TRUE;
  if (search.id == 0)
    {
      row_begin (&row, BOOK_RECORD_GATE);
      row_set (&row, "model", book_value_integer (self->stored->model));
      row_set (&row, "position", book_value_integer (1));
      row_set_text (&row, "name", search.name);
      if (!row_insert (self, &row, &search.id, error))
        return FALSE;
    }
  for (guint c = 0; c < exchange_sheet_count_columns (self->sheet); c++)
    if (self->columns[c].id != 0 && !store_criterion (self, search.id, c, error))
      return FALSE;
  return TRUE;
}

static gboolean
store_unit (Storing *self, const char *serial, gint64 *id, GError **error)
{
  BookValue key[2] = { book_value_integer (self->stored->round), book_value_text (serial, -1) };
  NewRow row;

  if (!book_record_find_id (self->db, book_record (BOOK_RECORD_UNIT), key, id, error))
    return FALSE;
  if (*id != 0)
    return TRUE;
  row_begin (&row, BOOK_RECORD_UNIT);
  row_set (&row, "round", key[0]);
  row_set (&row, "serial", key[1]);
  self->stored->units++;
  return row_insert (self, &row, id, error);
}

static BookMark
mark_code (ExchangeReadingMark mark)
{
  switch (mark)
    {
    case EXCHANGE_READING_NONE:
    case EXCHANGE_READING_MEASURED:
      return BOOK_MARK_MEASURED;
    case EXCHANGE_READING_ABOVE:
      return BOOK_MARK_ABOVE;
    case EXCHANGE_READING_BELOW:
      return BOOK_MARK_BELOW;
    case EXCHANGE_READING_PASSED:
      return BOOK_MARK_PASSED;
    case EXCHANGE_READING_FAILED:
      return BOOK_MARK_FAILED;
    }
  return BOOK_MARK_MEASURED;
}

/* The note beside the value and the remark on the unit, as far as the field holds them. */
static char *
make_reason (const char *note, const char *remark)
{
  g_autofree char *both = note != NULL && remark != NULL ? g_strdup_printf ("%s; %s", note, remark) : g_strdup (note != NULL ? note : remark);
  char *lines = both;

  if (both == NULL)
    return NULL;
  for (char *p = lines; *p != '\0'; p++)
    if ((guchar) *p < 0x20)
      *p = ' ';
  if (g_utf8_strlen (both, -1) > MOST_REASON)
    {
      g_autofree char *cut = g_utf8_substring (both, 0, MOST_REASON - 1);

      return g_strconcat (cut, "…", NULL);
    }
  return g_steal_pointer (&both);
}

static void
note_conflict (Storing *self, guint r, guint c, const BookRow *found)
{
  const char *serial = exchange_sheet_get_row (self->sheet, r)->serial;
  g_autofree char *place = exchange_sheet_place ((int) exchange_sheet_get_row (self->sheet, r)->line - 1, (int) c);
  const BookRecord *record = book_record (BOOK_RECORD_READING);
  gboolean has_value = book_row_get (found, "value")->type == SQLITE_FLOAT;
  const char *name = has_value ? "value" : "mark";
  g_autofree char *old = book_value_print (book_field_find (record, name), book_row_get (found, name));

  if (self->n_conflicts++ == 0)
    self->conflict = g_strdup_printf (_("%s: the book has '%s' for unit '%s', the sheet '%s': correct one of them, or say that the sheet holds another attempt"),
                                      place, old, serial, exchange_sheet_get_cell (self->sheet, r, c));
}

static gboolean
store_reading (Storing *self, guint r, guint c, gint64 unit, const char *remark, GError **error)
{
  const ExchangeSheetRow *line = exchange_sheet_get_row (self->sheet, r);
  const ExchangeSheetColumn *head = exchange_sheet_get_column (self->sheet, c);
  ExchangeSheetReading reading = exchange_sheet_get_reading (self->sheet, r, c);
  const char *initials = line->person != NULL ? line->person : self->person_text;
  g_autofree char *reason = make_reason (reading.note, remark);
  gint64 person = 0;
  gint64 known;
  NewRow row;
  BookValue key[4];

  row_begin (&row, BOOK_RECORD_READING);
  key[0] = book_value_integer (unit);
  key[1] = book_value_integer (self->columns[c].id);
  key[2] = book_value_integer (line->attempt);
  key[3] = book_value_integer ((gint64) (line->n - 1) * self->most_repeats + head->repeat);
  if (!book_record_find_id (self->db, row.record, key, &known, error))
    return FALSE;
  if (known != 0)
    {
      g_autoptr(BookRow) found = book_record_read (self->db, row.record, known, error);

      if (found == NULL)
        return FALSE;
      if (book_row_get (found, "mark")->integer == (gint64) mark_code (reading.mark) && !differ (store_value_real (book_row_get (found, "value"), NAN), reading.value))
        self->stored->equal++;
      else
        note_conflict (self, r, c, found);
      return TRUE;
    }
  if (initials != NULL && !store_person (self, initials, &person, error))
    return FALSE;
  row_set (&row, "unit", key[0]);
  row_set (&row, "characteristic", key[1]);
  row_set (&row, "attempt", key[2]);
  row_set (&row, "n", key[3]);
  row_set (&row, "mark", book_value_integer (mark_code (reading.mark)));
  row_set_real (&row, "value", reading.value);
  row_set_text (&row, "reason", reason);
  row_set_text (&row, "taken", line->date != NULL ? line->date : self->date);
  if (person != 0)
    row_set (&row, "person", book_value_integer (person));
  self->stored->readings++;
  return row_insert (self, &row, NULL, error);
}

/* The column whose reading carries the remark on a unit: the first that failed, else the first with a reading. */
static int
find_remark_column (const Storing *self, guint r)
{
  int first = -1;

  for (guint c = 0; c < exchange_sheet_count_columns (self->sheet); c++)
    {
      ExchangeReadingMark mark = exchange_sheet_get_reading (self->sheet, r, c).mark;

      if (mark == EXCHANGE_READING_FAILED)
        return (int) c;
      if (mark != EXCHANGE_READING_NONE && first < 0)
        first = (int) c;
    }
  return first;
}

static gboolean
store_rows (Storing *self, GError **error)
{
  guint n = exchange_sheet_count_rows (self->sheet);

  for (guint r = 0; r < n; r++)
    {
      const ExchangeSheetRow *line = exchange_sheet_get_row (self->sheet, r);
      int remark_column;
      gint64 unit;

      if (line->role != EXCHANGE_ROW_DATA || line->serial == NULL)
        continue;
      if (!store_action_progress (self->action, r, n, error) || !store_unit (self, line->serial, &unit, error))
        return FALSE;
      remark_column = line->remark != NULL ? find_remark_column (self, r) : -1;
      for (guint c = 0; c < exchange_sheet_count_columns (self->sheet); c++)
        if (self->columns[c].id != 0 && exchange_sheet_get_reading (self->sheet, r, c).mark != EXCHANGE_READING_NONE
            && !store_reading (self, r, c, unit, (int) c == remark_column ? line->remark : NULL, error))
          return FALSE;
    }
  return TRUE;
}

static gboolean
store_columns (Storing *self, GError **error)
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

static gboolean
store_work (StoreAction *action, gpointer data, GError **error)
{
  Storing *self = data;
  g_autoptr(GVariantBuilder) arguments = g_variant_builder_new (G_VARIANT_TYPE (STORE_ARGUMENTS));

  self->action = action;
  self->db = store_action_db (action);
  if (!store_model (self, error) || !store_round (self, error) || !store_columns (self, error) || !store_gate (self, error)
      || !store_rows (self, error))
    return FALSE;
  if (self->n_conflicts > 0)
    {
      g_set_error_literal (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNDERSTOOD, self->conflict);
      return FALSE;
    }
  g_variant_builder_add (arguments, "(sx)", "round", self->stored->round);
  g_variant_builder_add (arguments, "(sx)", "count", (gint64) self->stored->readings);
  store_action_message (action, "sheet", g_variant_builder_end (arguments));
  return TRUE;
}

/* The first day of the sheet: limits and terms hold from it. */
static const char *
find_first_date (const Storing *self)
{
  const char *first = NULL;

  for (guint r = 0; r < exchange_sheet_count_rows (self->sheet); r++)
    {
      const char *date = exchange_sheet_get_row (self->sheet, r)->date;

      if (date != NULL && (first == NULL || strcmp (date, first) < 0))
        first = date;
    }
  return first != NULL ? first : self->date;
}

static gboolean
is_storable (const Storing *self, GError **error)
{
  guint problems = exchange_sheet_count_problems (self->sheet);

  if (self->model_text == NULL || *self->model_text == '\0')
    g_set_error_literal (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNDERSTOOD, _("The sheet does not say which model it is about: name it."));
  else if (!book_date_is_valid (self->date, strlen (self->date)))
    g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNDERSTOOD, _("'%s' is no date that exists: write it as 2025-03-14."), self->date);
  else if (exchange_sheet_count_readings (self->sheet) == 0)
    g_set_error_literal (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNDERSTOOD, _("The sheet holds no reading: say which lines and columns hold values."));
  else if (problems > 0 && !self->target->allow_problems)
    g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNDERSTOOD,
                 ngettext ("%u thing in the sheet was not understood: correct it, or store the rest without it.",
                           "%u things in the sheet were not understood: correct them, or store the rest without them.", problems),
                 problems);
  else
    return TRUE;
  return FALSE;
}

/**
 * exchange_sheet_store:
 * @book: a book
 * @sheet: a sheet; not changed
 * @target: for what the sheet does not say, or says wrongly
 * @stored: (out): what was made and found
 * @cancellable: (nullable): stops with nothing stored
 * @error: return location
 *
 * Stores a sheet in one action. A model, round, person, unit or characteristic that the book has is used; characteristics
 * are found by code, else by name. Readings that the book has with the same value are passed over, with another value
 * they are refused. A model without a gate gets one, with a criterion for each characteristic that can be judged, at the
 * shares and confidences of its class.
 *
 * Blocks; never to be called from a window's main thread.
 *
 * Returns: %FALSE with %EXCHANGE_ERROR_UNDERSTOOD where the sheet must be corrected first, else the book's error
 */
gboolean
exchange_sheet_store (Book *book, ExchangeSheet *sheet, const ExchangeSheetTarget *target, ExchangeSheetStored *stored,
                      GCancellable *cancellable, GError **error)
{
  const ExchangeSheetTitle *title = exchange_sheet_get_title (sheet);
  StoreIntent intent = { "sheet", target->writer, target->sitting, NULL, NULL };
  Storing self = { .sheet = sheet, .target = target, .stored = stored };
  gboolean good;

  memset (stored, 0, sizeof *stored);
  self.model_text = target->model != NULL ? target->model : title->model;
  self.round_text = target->round != NULL ? target->round : title->round != NULL ? title->round : "1";
  self.date = target->date != NULL ? target->date : title->date != NULL ? title->date : target->today;
  self.person_text = target->person != NULL ? target->person : title->person;
  if (!is_storable (&self, error))
    return FALSE;
  self.first_date = g_strndup (find_first_date (&self), 10);
  self.columns = g_new0 (Column, exchange_sheet_count_columns (sheet));
  self.people = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  good = store_write (book_get_store (book), &intent, store_work, &self, &stored->receipt, cancellable, error);
  g_hash_table_unref (self.people);
  g_free (self.columns);
  g_free (self.conflict);
  g_free ((char *) self.first_date);
  return good;
}
