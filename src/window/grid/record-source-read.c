/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "record-source-private.h"

#include <glib/gi18n.h>
#include <string.h>

#include "book-form.h"
#include "book-search.h"
#include "book-values.h"

/* ---- rows as the book has them ---- */

/**
 * fettle_record_row_new:
 * @n_columns: of the table
 *
 * Returns: (transfer full): a row that is not in the book, with empty cells
 */
FettleRecordRow *
fettle_record_row_new (guint n_columns)
{
  FettleRecordRow *row = g_new0 (FettleRecordRow, 1);

  row->name = g_strdup ("");
  row->texts = g_new0 (char *, n_columns + 1);
  row->shown = g_new0 (char *, n_columns + 1);
  row->refers = g_new0 (gint64, n_columns);
  for (guint i = 0; i < n_columns; i++)
    {
      row->texts[i] = g_strdup ("");
      row->shown[i] = g_strdup ("");
    }
  return row;
}

void
fettle_record_row_free (FettleRecordRow *row)
{
  if (row == NULL)
    return;
  g_free (row->name);
  g_strfreev (row->texts);
  g_strfreev (row->shown);
  g_free (row->refers);
  g_free (row);
}

static void
free_row (gpointer data)
{
  fettle_record_row_free (data);
}

static gboolean
fill_row (StoreDb *db, const BookRecord *record, const FettleRecordColumn *columns, guint n_columns, FettleRecordRow *row,
          GError **error)
{
  g_autoptr(BookForm) form = book_form_read (db, record, row->key, error);

  if (form == NULL)
    return FALSE;
  for (guint i = 0; i < n_columns; i++)
    {
      const BookFormField *field = book_form_find (form, columns[i].field);

      g_free (row->texts[i]);
      g_free (row->shown[i]);
      row->texts[i] = g_strdup (field->text);
      row->shown[i] = g_strdup (field->shown);
      row->refers[i] = field->refers;
    }
  return TRUE;
}

/**
 * fettle_record_rows_read:
 * @db: any connection
 * @record: what kind
 * @columns: (array length=n_columns): of the table
 * @keys: (array length=n_keys): which records, in order
 * @error: return location
 *
 * For the reader thread.
 *
 * Returns: (transfer full) (element-type FettleRecordRow): a row for each of them
 */
GPtrArray *
fettle_record_rows_read (StoreDb *db, BookRecordId record, const FettleRecordColumn *columns, guint n_columns,
                         const gint64 *keys, guint n_keys, GError **error)
{
  g_autoptr(GPtrArray) rows = g_ptr_array_new_with_free_func (free_row);

  for (guint i = 0; i < n_keys; i++)
    {
      FettleRecordRow *row = fettle_record_row_new (n_columns);

      g_ptr_array_add (rows, row);
      row->key = keys[i];
      if (!fill_row (db, book_record (record), columns, n_columns, row, error))
        return NULL;
    }
  return g_steal_pointer (&rows);
}

/* ---- what is typed, made into what the book reads ---- */

static const char *
last_part (const char *key_text)
{
  const char *slash = strrchr (key_text, '/');

  return slash != NULL ? slash + 1 : key_text;
}

/* 0: not what is meant; 1: begins so, or holds it; 2: is it. */
static guint
matches (const char *folded, const char *text)
{
  g_autofree char *other = book_search_fold (text, -1);

  return g_str_equal (folded, other) ? 2 : g_str_has_prefix (other, folded) || (strlen (folded) > 1 && strstr (other, folded) != NULL) ? 1 : 0;
}

static char *
read_option (FettleRecordSource *self, guint column, const char *typed, char **refused)
{
  GPtrArray *options = g_hash_table_lookup (self->offers, self->shapes[column].field);
  g_autofree char *folded = book_search_fold (typed, -1);
  const BookOption *found = NULL;
  guint best = 0, n = 0;

  if (options == NULL || *typed == '\0')
    return g_strdup (typed);
  for (guint i = 0; i < options->len; i++)
    {
      const BookOption *option = options->pdata[i];
      guint match = MAX (matches (folded, option->text), matches (folded, option->label));

      match = MAX (match, matches (folded, last_part (option->text)));
      if (match > best)
        n = 0;
      if (match >= best && match > 0)
        {
          best = match;
          found = option;
          n++;
        }
    }
  if (n == 1)
    return g_strdup (found->text);
  *refused = n == 0 ? g_strdup_printf (_("There is no '%s' to choose here: Escape leaves the cell as it was."), typed)
                    : g_strdup_printf (_("'%s' may mean several here: type more of it."), typed);
  return NULL;
}

static char *
read_choice (const BookField *field, const char *typed, char **refused)
{
  g_autofree char *folded = book_search_fold (typed, -1);
  g_autoptr(GString) words = g_string_new (NULL);
  const BookChoice *found = NULL;
  guint best = 0, n = 0;

  if (*typed == '\0')
    return g_strdup ("");
  for (const BookChoice *choice = field->choices; choice->text != NULL; choice++)
    {
      guint match = MAX (matches (folded, choice->text), matches (folded, _(choice->label)));

      g_string_append_printf (words, "%s%s", words->len > 0 ? ", " : "", _(choice->label));
      if (match > best)
        n = 0;
      if (match >= best && match > 0)
        {
          best = match;
          found = choice;
          n++;
        }
    }
  if (n == 1)
    return g_strdup (found->text);
  *refused = g_strdup_printf (_("'%s' is none of these: %s."), typed, words->str);
  return NULL;
}

/* 'y' is enough; the words of the reader's language are taken like those of files. */
static char *
read_boolean (const char *typed, char **refused)
{
  g_autofree char *folded = book_search_fold (typed, -1);

  if (*typed == '\0')
    return g_strdup ("");
  if (matches (folded, "yes") > 0 || matches (folded, _("yes")) > 0)
    return g_strdup ("yes");
  if (matches (folded, "no") > 0 || matches (folded, _("no")) > 0)
    return g_strdup ("no");
  *refused = g_strdup_printf (_("'%s' is neither yes nor no."), typed);
  return NULL;
}

/* The text that the book reads; NULL with a sentence in @refused. */
char *
fettle_record_read_cell (FettleRecordSource *self, guint column, const char *text, char **refused)
{
  const BookField *field = self->fields[column];
  g_autofree char *typed = g_strstrip (g_strdup (text));
  g_autoptr(GError) error = NULL;
  BookValue value;

  if (field->kind == BOOK_KIND_REFERENCE)
    return read_option (self, column, typed, refused);
  if (field->kind == BOOK_KIND_CHOICE)
    return read_choice (field, typed, refused);
  if (field->kind == BOOK_KIND_BOOLEAN)
    return read_boolean (typed, refused);
  if (*typed != '\0' && !book_value_parse (field, typed, -1, TRUE, &value, &error))
    {
      *refused = g_strdup (error->message);
      return NULL;
    }
  return g_steal_pointer (&typed);
}

/* What the book reads, as people read it. */
char *
fettle_record_shown_text (FettleRecordSource *self, guint column, const char *text)
{
  const BookField *field = self->fields[column];
  GPtrArray *options = g_hash_table_lookup (self->offers, self->shapes[column].field);

  if (field->kind == BOOK_KIND_BOOLEAN && *text != '\0')
    return g_strdup (g_str_equal (text, "yes") ? _("yes") : _("no"));
  for (const BookChoice *choice = field->choices; choice != NULL && choice->text != NULL; choice++)
    if (g_str_equal (choice->text, text))
      return g_strdup (_(choice->label));
  for (guint i = 0; options != NULL && i < options->len; i++)
    {
      const BookOption *option = options->pdata[i];

      if (g_str_equal (option->text, text))
        return g_strdup (option->label);
    }
  return g_strdup (text);
}
