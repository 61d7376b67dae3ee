/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-form.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-rules.h"
#include "book-search.h"

/**
 * book_form_free:
 * @form: (transfer full) (nullable): a form
 */
void
book_form_free (BookForm *form)
{
  if (form == NULL)
    return;
  for (guint i = 0; i < form->n_fields; i++)
    {
      g_free (form->fields[i].text);
      g_free (form->fields[i].shown);
    }
  g_free (form->fields);
  g_free (form->key);
  g_free (form);
}

/**
 * book_form_find:
 * @form: a form
 * @field: name of a field
 *
 * Returns: (transfer none) (nullable): the field
 */
BookFormField *
book_form_find (BookForm *form, const char *field)
{
  for (guint i = 0; i < form->n_fields; i++)
    if (g_str_equal (form->fields[i].field->name, field))
      return &form->fields[i];
  return NULL;
}

static void
take (BookFormField *field, char *text, char *shown, gint64 refers)
{
  g_free (field->text);
  g_free (field->shown);
  field->text = text;
  field->shown = shown;
  field->refers = refers;
}

static char *
label_of (const char *key, const char *name)
{
  return name != NULL && *name != '\0' && !g_str_equal (key, name) ? g_strdup_printf ("%s %s", key, name) : g_strdup (key);
}

/* What a record is called beside its key; NULL: nothing. The name of a person stands elsewhere. */
static char *
name_of (const BookRow *row)
{
  static const char *const names[] = { "name", "title", "what" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      int place = book_field_index (row->record, names[i]);

      if (place >= 0 && row->values[place].type == SQLITE_TEXT)
        return g_strndup (row->values[place].text, row->values[place].length);
    }
  return NULL;
}

static gboolean
set_reference (BookFormField *field, StoreDb *db, const BookRecord *target, gint64 id, GError **error)
{
  g_autofree char *text = book_record_key_text (db, target, id, BOOK_KEY_TEXT_EXACT, error);
  g_autofree char *key = text != NULL ? book_record_key_text (db, target, id, BOOK_KEY_TEXT_SHORT, error) : NULL;
  g_autoptr(BookRow) row = key != NULL ? book_record_read (db, target, id, error) : NULL;
  g_autofree char *name = NULL;

  if (row == NULL)
    return FALSE;
  name = name_of (row);
  take (field, g_steal_pointer (&text), label_of (key, name), id);
  return TRUE;
}

static gboolean
set_field (BookForm *form, StoreDb *db, guint place, const BookValue *value, const BookValue *before, GError **error)
{
  BookFormField *field = &form->fields[place];

  if (book_value_is_empty (value))
    take (field, g_strdup (""), g_strdup (""), 0);
  else if (field->field->kind == BOOK_KIND_REFERENCE)
    return set_reference (field, db, book_record (field->field->refers), value->integer, error);
  else if (field->field->kind == BOOK_KIND_ANY && before != NULL && before->type == SQLITE_INTEGER
           && book_record ((BookRecordId) before->integer) != NULL)
    return set_reference (field, db, book_record ((BookRecordId) before->integer), value->integer, error);
  else
    take (field, book_value_print (field->field, value), book_value_show (field->field, value), 0);
  return TRUE;
}

/**
 * book_form_set:
 * @form: a form
 * @db: any connection
 * @field: name of a field other than a key of any record
 * @value: what it is to hold
 * @error: return location
 *
 * Returns: whether it is filled in
 */
gboolean
book_form_set (BookForm *form, StoreDb *db, const char *field, const BookValue *value, GError **error)
{
  BookFormField *found = book_form_find (form, field);

  g_return_val_if_fail (found != NULL, FALSE);

  return set_field (form, db, (guint) (found - form->fields), value, NULL, error);
}

/* With texts for all of @values. */
static BookForm *
form_of (StoreDb *db, const BookRecord *record, gint64 id, const BookValue *values, GError **error)
{
  g_autoptr(BookForm) form = g_new0 (BookForm, 1);
  g_autoptr(BookRules) rules = book_rules_new (db);

  form->record = record;
  form->id = id;
  form->n_fields = record->n_fields + (record->kept != NULL);
  form->fields = g_new0 (BookFormField, form->n_fields);
  for (guint i = 0; i < record->n_fields; i++)
    {
      form->fields[i].field = &record->fields[i];
      if (!set_field (form, db, i, &values[i], i > 0 ? &values[i - 1] : NULL, error))
        return NULL;
    }
  if (record->kept != NULL)
    {
      g_autofree char *name = NULL;

      if (id != 0 && !book_person_name_read (db, id, &name, error))
        return NULL;
      form->fields[record->n_fields].field = record->kept;
      take (&form->fields[record->n_fields], g_strdup (name != NULL ? name : ""), g_strdup (name != NULL ? name : ""), 0);
    }
  if (!book_rules_model_of (rules, record, id, values, &form->model, error))
    return NULL;
  form->model = MAX (form->model, 0);
  form->key = id != 0 ? book_record_key_text_of (db, record, values, BOOK_KEY_TEXT_SHOWN, error) : g_strdup ("");
  return form->key != NULL ? g_steal_pointer (&form) : NULL;
}

/**
 * book_form_read:
 * @db: any connection
 * @record: what kind
 * @id: which
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the record as texts; %NULL with %BOOK_ERROR_MISSING if there is none
 */
BookForm *
book_form_read (StoreDb *db, const BookRecord *record, gint64 id, GError **error)
{
  g_autoptr(BookRow) row = book_record_read (db, record, id, error);

  return row != NULL ? form_of (db, record, id, row->values, error) : NULL;
}

/**
 * book_form_new:
 * @db: any connection
 * @record: what kind
 * @parent: what it will belong to: the record that its parent reference leads to; 0: not known, or there is none
 * @error: return location
 *
 * Returns: (transfer full) (nullable): a record that is not in the book yet, with what stands in a new one; its running
 *   number is left empty, since it is filled in when it is stored
 */
BookForm *
book_form_new (StoreDb *db, const BookRecord *record, gint64 parent, GError **error)
{
  BookValue values[BOOK_MAX_FIELDS];

  for (guint i = 0; i < record->n_fields; i++)
    {
      const BookField *field = &record->fields[i];

      values[i] = book_value_fallback (field);
      if (parent != 0 && record->parent != NULL && g_str_equal (field->name, record->parent)
          && field->kind == BOOK_KIND_REFERENCE)
        values[i] = book_value_integer (parent);
    }
  return form_of (db, record, 0, values, error);
}

/**
 * book_option_free:
 * @option: (transfer full) (nullable): from book_options_list()
 */
void
book_option_free (BookOption *option)
{
  if (option == NULL)
    return;
  g_free (option->text);
  g_free (option->label);
  g_free (option);
}

/* A record that a reference may choose, before its key is read. */
typedef struct
{
  gint64 id;
  char  *name; /* NULL: it has none */
} Candidate;

typedef struct
{
  StoreDb   *db;
  BookRules *rules;
  gint64     model;
  gint64     within;
  gboolean   retired; /* also those that are put away */
  GArray    *candidates;
} Gathering;

static void
candidate_clear (gpointer data)
{
  g_free (((Candidate *) data)->name);
}

static gboolean
is_put_away (const BookRow *row)
{
  if (row->record->id == BOOK_RECORD_PERSON)
    return book_row_get (row, "active")->integer == 0;
  return row->record->id == BOOK_RECORD_MODEL && book_row_get (row, "archived")->integer != 0;
}

static gboolean
lies_within (const BookRow *row, gint64 id)
{
  for (guint i = 0; i < row->record->n_key; i++)
    {
      const BookField *field = book_field_find (row->record, row->record->key[i]);

      if (field->kind == BOOK_KIND_REFERENCE && book_row_get (row, field->name)->integer == id)
        return TRUE;
    }
  return FALSE;
}

static gboolean
gather (const BookRow *row, gpointer data, GError **error)
{
  Gathering *gathering = data;
  Candidate candidate = { .id = row->id };
  gint64 model;

  if (!book_rules_model_of (gathering->rules, row->record, row->id, row->values, &model, error))
    return FALSE;
  if ((gathering->model != 0 && model > 0 && model != gathering->model)
      || (gathering->within != 0 && !lies_within (row, gathering->within)) || (!gathering->retired && is_put_away (row)))
    return TRUE;
  if (row->record->kept != NULL)
    {
      if (!book_person_name_read (gathering->db, row->id, &candidate.name, error))
        return FALSE;
    }
  if (candidate.name == NULL)
    candidate.name = name_of (row);
  g_array_append_val (gathering->candidates, candidate);
  /* cppcheck-suppress memleak ; the array has it now */
  return TRUE;
}

static GArray *
gather_all (StoreDb *db, const BookRecord *record, gint64 model, gint64 id, gboolean retired, GError **error)
{
  g_autoptr(BookRules) rules = book_rules_new (db);
  g_autoptr(GArray) candidates = g_array_new (FALSE, FALSE, sizeof (Candidate));
  Gathering gathering = { db, rules, model, id, retired, candidates };

  g_array_set_clear_func (candidates, candidate_clear);
  if (!book_record_each_by_key (db, record, gather, &gathering, error))
    return NULL;
  return g_steal_pointer (&candidates);
}

static gboolean
has_words (const char *label, char **words)
{
  g_autofree char *folded = book_search_fold (label, -1);

  for (guint i = 0; words[i] != NULL; i++)
    if (*words[i] != '\0' && strstr (folded, words[i]) == NULL)
      return FALSE;
  return TRUE;
}

/**
 * book_options_list:
 * @db: any connection
 * @record: what a reference refers to
 * @model: only records of this model and shared ones; 0: of all
 * @within: only records whose key begins with this one (the revisions of a part, the units of a round); 0: all
 * @words: (nullable): every word must occur in key or name, without regard to case and accents
 * @most: how many at most; 0: all
 * @error: return location
 *
 * What a reference can choose, by key. Persons who are no longer active and models that are put away are left out.
 *
 * Returns: (transfer full) (element-type BookOption) (nullable): options
 */
GPtrArray *
book_options_list (StoreDb *db, const BookRecord *record, gint64 model, gint64 within, const char *words, guint most,
                   GError **error)
{
  g_autoptr(GArray) candidates = gather_all (db, record, model, within, FALSE, error);
  g_autoptr(GPtrArray) options = g_ptr_array_new_with_free_func ((GDestroyNotify) book_option_free);
  g_autofree char *folded = g_strstrip (book_search_fold (words != NULL ? words : "", -1));
  g_auto(GStrv) each = g_strsplit_set (folded, " \t\n", -1);

  if (candidates == NULL)
    return NULL;
  for (guint i = 0; i < candidates->len && (most == 0 || options->len < most); i++)
    {
      const Candidate *candidate = &g_array_index (candidates, Candidate, i);
      g_autofree char *key = book_record_key_text (db, record, candidate->id, BOOK_KEY_TEXT_SHORT, error);
      g_autofree char *label = NULL;
      BookOption *option;

      if (key == NULL)
        return NULL;
      label = label_of (key, candidate->name);
      if (!has_words (label, each))
        continue;
      option = g_new0 (BookOption, 1);
      option->id = candidate->id;
      option->label = g_steal_pointer (&label);
      g_ptr_array_add (options, option);
      option->text = book_record_key_text (db, record, candidate->id, BOOK_KEY_TEXT_EXACT, error);
      if (option->text == NULL)
        return NULL;
    }
  return g_steal_pointer (&options);
}

/* Whether somebody who writes @text (folded) may mean the record of this short key and name. */
static gboolean
may_mean (const char *text, const char *key, const char *name)
{
  g_autofree char *folded_key = book_search_fold (key, -1);
  g_autofree char *folded_name = book_search_fold (name != NULL ? name : "", -1);
  g_autofree char *label = label_of (folded_key, folded_name);
  const char *last = strrchr (folded_key, '/');

  return g_str_equal (text, folded_key) || (last != NULL && g_str_equal (text, last + 1)) || g_str_equal (text, folded_name)
         || g_str_equal (text, label);
}

static gboolean
refuse_option (const BookRecord *record, const char *text, guint n, GError **error)
{
  if (n == 0)
    /* Translators: the second %s is a kind of record, for many, as in 'Units' */
    g_set_error (error, BOOK_ERROR, BOOK_ERROR_MISSING, _("'%s' is none of these: %s. Choose one from the list."), text,
                 book_record_plural (record));
  else
    g_set_error (error, BOOK_ERROR, BOOK_ERROR_VALUE, _("'%s' may be several of these: %s. Choose one from the list."), text,
                 book_record_plural (record));
  return FALSE;
}

/**
 * book_option_find:
 * @db: any connection
 * @record: what a reference refers to
 * @model: only records of this model and shared ones; 0: of all
 * @within: only records whose key begins with this one; 0: all
 * @text: an exact key text; or the short key, its last part, the name, or both, as people write them
 * @id: (out): which; 0 for an empty text
 * @error: return location
 *
 * Returns: whether it is empty or means one record; else %BOOK_ERROR_MISSING or %BOOK_ERROR_VALUE
 */
gboolean
book_option_find (StoreDb *db, const BookRecord *record, gint64 model, gint64 within, const char *text, gint64 *id,
                  GError **error)
{
  g_autofree char *plain = g_strstrip (g_strdup (text));
  g_autofree char *folded = book_search_fold (plain, -1);
  g_autoptr(GArray) candidates = NULL;
  guint n = 0;

  *id = 0;
  if (*plain == '\0')
    return TRUE;
  if (!book_record_find_text (db, record, plain, id, error))
    return FALSE;
  if (*id != 0)
    return TRUE;

  candidates = gather_all (db, record, model, within, TRUE, error);
  if (candidates == NULL)
    return FALSE;
  for (guint i = 0; i < candidates->len; i++)
    {
      const Candidate *candidate = &g_array_index (candidates, Candidate, i);
      g_autofree char *key = book_record_key_text (db, record, candidate->id, BOOK_KEY_TEXT_SHORT, error);

      if (key == NULL)
        return FALSE;
      if (!may_mean (folded, key, candidate->name))
        continue;
      *id = candidate->id;
      n++;
    }
  if (n == 1)
    return TRUE;
  *id = 0;
  return refuse_option (record, plain, n, error);
}
