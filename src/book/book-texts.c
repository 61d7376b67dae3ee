/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-texts-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-error-private.h"
#include "book-form.h"
#include "book-rules.h"

/*
 * Method. What a form sends is three texts a field: which, what it is to hold, and what the form had read. A field whose
 * text is still what was read is left alone, whatever it holds now, so that two people can work on different fields of
 * one record. A field that both changed is refused with what it holds now; the person decides.
 */

typedef struct
{
  const BookField *field;
  char            *text;     /* NULL: @id counts */
  char            *expected; /* NULL: whatever it was */
  gint64           id;
} Given;

struct _BookTexts
{
  const BookRecord *record;
  GArray           *given; /* Given */
};

static void
given_clear (gpointer data)
{
  Given *given = data;

  g_free (given->text);
  g_free (given->expected);
}

static const BookField *
find_field (const BookRecord *record, const char *name)
{
  const BookField *field = book_field_find (record, name);

  if (field == NULL && record->kept != NULL && g_str_equal (record->kept->name, name))
    field = record->kept;
  g_assert (field != NULL); /* names come from the description */
  return field;
}

/* @fields ends in NULL, @texts and @expected are as long; a NULL among them is an empty text. */
BookTexts *
book_texts_new (BookRecordId record, const char *const *fields, const char *const *texts, const char *const *expected)
{
  BookTexts *self = g_new0 (BookTexts, 1);

  self->record = book_record (record);
  self->given = g_array_new (FALSE, FALSE, sizeof (Given));
  g_array_set_clear_func (self->given, given_clear);
  for (guint i = 0; fields != NULL && fields[i] != NULL; i++)
    {
      Given given = { .field = find_field (self->record, fields[i]) };

      given.text = g_strdup (texts[i] != NULL ? texts[i] : "");
      if (expected != NULL)
        given.expected = g_strdup (expected[i] != NULL ? expected[i] : "");
      g_array_append_val (self->given, given);
      /* cppcheck-suppress memleak ; the array has both now */
    }
  return self;
}

void
book_texts_free (BookTexts *texts)
{
  if (texts == NULL)
    return;
  g_array_unref (texts->given);
  g_free (texts);
}

static Given *
find_given (const BookTexts *texts, const BookField *field)
{
  for (guint i = 0; i < texts->given->len; i++)
    {
      Given *given = &g_array_index (texts->given, Given, i);

      if (given->field == field)
        return given;
    }
  return NULL;
}

void
book_texts_refer (BookTexts *texts, const char *field, gint64 id)
{
  const BookField *described = find_field (texts->record, field);
  Given *given = find_given (texts, described);

  if (given == NULL)
    {
      const Given fresh = { .field = described };

      g_array_append_val (texts->given, fresh);
      given = &g_array_index (texts->given, Given, texts->given->len - 1);
    }
  g_clear_pointer (&given->text, g_free);
  given->id = id;
}

const char *
book_texts_get (const BookTexts *texts, const char *field)
{
  const Given *given = find_given (texts, find_field (texts->record, field));

  return given != NULL ? given->text : NULL;
}

const char *
book_texts_kept (const BookTexts *texts)
{
  const Given *given = texts->record->kept != NULL ? find_given (texts, texts->record->kept) : NULL;

  return given != NULL ? given->text : NULL;
}

typedef struct
{
  const BookTexts *texts;
  StoreDb         *db;
  gint64           id;
  BookValue       *values;
} Taking;

/* A revision or lot is one of the part that the row names. */
static gint64
within (const Taking *taking, const BookRecord *target)
{
  static const char *const owners[] = { "part", "step" };

  if (target->id != BOOK_RECORD_REVISION && target->id != BOOK_RECORD_LOT)
    return 0;
  for (guint i = 0; i < G_N_ELEMENTS (owners); i++)
    {
      int place = book_field_index (taking->texts->record, owners[i]);

      if (place >= 0 && taking->values[place].type == SQLITE_INTEGER)
        return taking->values[place].integer;
    }
  return 0;
}

static gboolean
find_record (const Taking *taking, const BookRecord *target, const char *text, BookValue *value, GError **error)
{
  g_autoptr(BookRules) rules = book_rules_new (taking->db);
  gint64 model;
  gint64 id;

  if (!book_rules_model_of (rules, taking->texts->record, taking->id, taking->values, &model, error)
      || !book_option_find (taking->db, target, MAX (model, 0), within (taking, target), text, &id, error))
    return FALSE;
  *value = id != 0 ? book_value_integer (id) : BOOK_VALUE_EMPTY;
  return TRUE;
}

static gboolean
read_text (const Taking *taking, guint place, const char *text, BookValue *value, GError **error)
{
  const BookField *field = &taking->texts->record->fields[place];
  const BookRecord *target = NULL;

  if (field->kind == BOOK_KIND_REFERENCE)
    target = book_record (field->refers);
  else if (field->kind == BOOK_KIND_ANY && place > 0 && taking->values[place - 1].type == SQLITE_INTEGER)
    target = book_record ((BookRecordId) taking->values[place - 1].integer);
  else
    {
      if (!book_value_parse (field, text, -1, TRUE, value, error))
        return FALSE;
      if (field->kind != BOOK_KIND_ANY || book_value_is_empty (value))
        return TRUE;
      g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_VALUE, _("Choose first what kind of record it is about."));
      return FALSE;
    }
  return find_record (taking, target, text, value, error);
}

static gboolean
refuse_changed (const Taking *taking, guint place, GError **error)
{
  const BookField *field = &taking->texts->record->fields[place];
  const BookValue *now = &taking->values[place];
  g_autofree char *text = NULL;
  g_autofree char *sentence = NULL;
  GError *problem;

  if (field->kind == BOOK_KIND_REFERENCE && now->type == SQLITE_INTEGER)
    {
      text = book_record_key_text (taking->db, book_record (field->refers), now->integer, BOOK_KEY_TEXT_EXACT, error);
      if (text == NULL)
        return FALSE;
    }
  else
    text = book_value_is_empty (now) ? g_strdup ("") : book_value_print (field, now);
  if (*text != '\0')
    sentence = g_strdup_printf (_("Somebody changed it meanwhile; it now holds: '%s'. Keep that, or write yours again."), text);
  else
    sentence = g_strdup (_("Somebody emptied it meanwhile. Keep it empty, or write yours again."));
  problem = g_error_new_literal (BOOK_ERROR, BOOK_ERROR_CHANGED, sentence);
  book_error_tell_now (problem, text);
  g_propagate_error (error, problem);
  return FALSE;
}

static gboolean
take_field (Taking *taking, guint place, const Given *given, const char *today, GError **error)
{
  const BookField *field = given->field;
  BookValue *held = &taking->values[place];
  BookValue value;

  if (given->text == NULL)
    value = given->id != 0 ? book_value_integer (given->id) : BOOK_VALUE_EMPTY;
  else if (!read_text (taking, place, given->text, &value, error))
    return FALSE;
  if (given->expected != NULL && taking->id != 0)
    {
      BookValue expected;
      gboolean readable = read_text (taking, place, given->expected, &expected, NULL);

      if (readable && store_value_equal (&expected, &value))
        return TRUE;
      if ((!readable || !store_value_equal (&expected, held)) && !store_value_equal (held, &value))
        return refuse_changed (taking, place, error);
    }
  if (field->past && value.type == SQLITE_TEXT && !store_value_equal (held, &value) && memcmp (value.text, today, 10) > 0)
    {
      g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_VALUE,
                           _("The day has not come yet: write today's or an earlier one."));
      return FALSE;
    }
  *held = value;
  return TRUE;
}

gboolean
book_texts_take (BookTexts *texts, StoreDb *db, gint64 id, const char *today, BookValue *values, GError **error)
{
  Taking taking = { texts, db, id, values };

  /* In the description's order, so that what a reference is looked for within is known when it comes. */
  for (guint i = 0; i < texts->record->n_fields; i++)
    {
      const Given *given = find_given (texts, &texts->record->fields[i]);
      GError *problem = NULL;

      if (given == NULL || take_field (&taking, i, given, today, &problem))
        continue;
      book_error_blame (problem, given->field);
      g_propagate_error (error, problem);
      return FALSE;
    }
  return TRUE;
}
