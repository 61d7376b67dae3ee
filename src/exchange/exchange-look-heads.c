/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which column gives which field: by the names of files, the labels in English and in the reader's language, and trade words. */
#include "config.h"

#include "exchange-look-private.h"

#include "exchange-words-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* What sheets call a field that this program calls otherwise. */
static const struct
{
  ExchangeWord word;
  const char  *names[3];
} sheet_words[] = {
  { EXCHANGE_WORD_SERIAL, { "serial", "unit" } }, { EXCHANGE_WORD_DATE, { "date", "taken" } },
  { EXCHANGE_WORD_PERSON, { "person", "initials" } }, { EXCHANGE_WORD_ATTEMPT, { "attempt" } },
  { EXCHANGE_WORD_REPEAT, { "n" } }, { EXCHANGE_WORD_REMARK, { "note" } },
  { EXCHANGE_WORD_LOT, { "lot" } }, { EXCHANGE_WORD_MODEL, { "model" } },
  { EXCHANGE_WORD_ROUND, { "round" } }, { EXCHANGE_WORD_CLASS, { "class" } },
  { EXCHANGE_WORD_CODE, { "code", "characteristic" } }, { EXCHANGE_WORD_LOWER, { "lower" } },
  { EXCHANGE_WORD_UPPER, { "upper" } }, { EXCHANGE_WORD_MIN, { "lower" } },
  { EXCHANGE_WORD_MAX, { "upper" } }, { EXCHANGE_WORD_NOMINAL, { "nominal" } },
  { EXCHANGE_WORD_UNIT, { "unit" } },
};

void
exchange_look_field_clear (gpointer field)
{
  g_free (((ExchangeLookField *) field)->label);
}

/* Files beside the file are not pasted. */
gboolean
exchange_look_can_take (const BookRecord *record)
{
  for (guint i = 0; i < record->n_fields; i++)
    if (record->fields[i].kind == BOOK_KIND_CONTENT)
      return FALSE;
  return TRUE;
}

/* A head without case, brackets at its end and signs between words: `Side_play [mm]` is 'side play'. */
static char *
tidy_head (const char *head)
{
  g_autofree char *folded = g_utf8_casefold (head, -1);
  g_autoptr(GString) out = g_string_new (NULL);
  gsize length = strlen (folded);

  if (length > 0 && strchr ("])}", folded[length - 1]) != NULL)
    for (gsize i = length; i-- > 1;)
      if (strchr ("[({", folded[i]) != NULL)
        {
          folded[i] = '\0';
          break;
        }
  for (const char *p = folded; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar letter = g_utf8_get_char (p);

      if (g_unichar_isalnum (letter) || g_unichar_ismark (letter))
        g_string_append_unichar (out, letter);
      else if (out->len > 0 && out->str[out->len - 1] != ' ')
        g_string_append_c (out, ' ');
    }
  if (out->len > 0 && out->str[out->len - 1] == ' ')
    g_string_truncate (out, out->len - 1);
  return g_string_free (g_steal_pointer (&out), FALSE);
}

static void
learn (GHashTable *words, const char *text, guint field)
{
  char *tidy = tidy_head (text);

  if (*tidy != '\0' && !g_hash_table_contains (words, tidy))
    g_hash_table_insert (words, tidy, GUINT_TO_POINTER (field + 1));
  else
    g_free (tidy);
}

/* A part of a key is called by what it is a key of: the round of a unit is 'Round'. */
static gboolean
is_named_by_record (const BookCsvColumn *column, gboolean is_last)
{
  const BookRecord *record = column->record;

  return !is_last && record->n_key > 0 && strcmp (record->key[record->n_key - 1], column->leaf->name) == 0;
}

static char *
label_of (const BookField *field, const BookCsvColumn *column, gboolean is_last)
{
  const char *part = is_named_by_record (column, is_last) ? book_record_label (column->record)
                                                          : book_field_label (column->leaf);

  if (is_last)
    return g_strdup (book_field_label (field));
  if (g_strcmp0 (field->qualifier, column->name) == 0)
    /* Translators: a field that is another record, and what that one belongs to: 'Went into: Round' */
    return g_strdup_printf (_("%s: %s"), book_field_label (field), part);
  return g_strdup (part);
}

static gboolean
has_field (const ExchangeLook *self, const char *name)
{
  for (guint i = 0; i < self->fields->len; i++)
    if (strcmp (exchange_look_field (self, i)->name, name) == 0)
      return TRUE;
  return FALSE;
}

static void
add_field (ExchangeLook *self, const BookField *field, const BookCsvColumn *column, gboolean is_last)
{
  ExchangeLookField made = { column->name, NULL, column->leaf, field, is_last };

  if (has_field (self, column->name))
    return;
  g_array_append_val (self->fields, made);
  g_array_index (self->fields, ExchangeLookField, self->fields->len - 1).label = label_of (field, column, is_last);
  g_ptr_array_add (self->fixed, g_strdup (""));
}

static void
list_fields (ExchangeLook *self)
{
  const BookRecord *record = self->record;

  g_array_set_size (self->fields, 0);
  g_ptr_array_set_size (self->fixed, 0);
  for (guint f = 0; f < record->n_fields; f++)
    {
      BookCsvColumn columns[BOOK_MAX_KEY];
      guint n = book_field_csv_columns (record, &record->fields[f], columns);

      for (guint i = 0; i < n; i++)
        add_field (self, &record->fields[f], &columns[i], i + 1 == n);
    }
  if (record->kept != NULL)
    {
      BookCsvColumn column = { .name = record->kept->name, .record = record, .leaf = record->kept };

      add_field (self, record->kept, &column, TRUE);
    }
}

/* The names of files come first, so that what was exported is always read as it was. */
static void
learn_words (ExchangeLook *self)
{
  const BookRecord *record = self->record;

  g_hash_table_remove_all (self->words);
  for (guint i = 0; i < self->fields->len; i++)
    learn (self->words, exchange_look_field (self, i)->name, i);
  for (guint i = 0; i < self->fields->len; i++)
    {
      const ExchangeLookField *field = exchange_look_field (self, i);

      learn (self->words, field->label, i);
      if (field->is_last)
        learn (self->words, field->field->label, i);
    }
  /* A list of rounds has a column 'Round': what the record is called by. */
  for (guint i = 0; i < self->fields->len; i++)
    if (record->n_key > 0 && strcmp (exchange_look_field (self, i)->name, record->key[record->n_key - 1]) == 0)
      {
        learn (self->words, record->name, i);
        learn (self->words, record->label, i);
        learn (self->words, book_record_label (record), i);
      }
}

static int
field_of_word (const ExchangeLook *self, const char *head)
{
  ExchangeWord word = exchange_word_of_column (head);

  for (guint i = 0; i < G_N_ELEMENTS (sheet_words) && word != EXCHANGE_WORD_NONE; i++)
    for (guint j = 0; sheet_words[i].word == word && sheet_words[i].names[j] != NULL; j++)
      for (guint f = 0; f < self->fields->len; f++)
        if (strcmp (exchange_look_field (self, f)->name, sheet_words[i].names[j]) == 0)
          return (int) f;
  return -1;
}

static gboolean
is_taken (const ExchangeLook *self, int field)
{
  for (guint i = 0; i < exchange_look_count_columns (self); i++)
    if (self->columns[i] == field)
      return TRUE;
  return FALSE;
}

/* Says what kind of record the rows are, and which columns give which of its fields. */
void
exchange_look_take_record (ExchangeLook *self, const BookRecord *record)
{
  guint n = exchange_look_count_columns (self);

  self->record = record;
  self->n_by_trade_word = 0;
  list_fields (self);
  learn_words (self);
  for (guint i = 0; i < n; i++)
    self->columns[i] = -1;
  for (guint pass = 0; pass < 2 && self->has_head; pass++)
    for (guint i = 0; i < n; i++)
      {
        const char *head = exchange_look_get_head (self, i);
        g_autofree char *tidy = tidy_head (head);
        int field = pass == 0 ? GPOINTER_TO_INT (g_hash_table_lookup (self->words, tidy)) - 1 : field_of_word (self, head);

        if (self->columns[i] >= 0 || field < 0 || is_taken (self, field))
          continue;
        self->columns[i] = field;
        self->n_by_trade_word += pass;
      }
}

guint
exchange_look_count_matched (const ExchangeLook *self)
{
  guint n = 0;

  for (guint i = 0; i < exchange_look_count_columns (self); i++)
    n += self->columns[i] >= 0;
  return n;
}

/* More for each head that is a field, less for what every row needs and no column gives: the page says model and round. */
static int
score (const ExchangeLook *self)
{
  int points = 100 * (int) exchange_look_count_matched (self) - 40 * (int) self->n_by_trade_word;

  for (guint i = 0; i < self->fields->len; i++)
    if (exchange_look_needs (self, i))
      points -= exchange_look_is_place (exchange_look_field (self, i)) ? 40 : 120;
  return points - (int) self->fields->len;
}

/**
 * exchange_look_match:
 * @self: a look whose rows are cut
 * @likely: (nullable): what they are when their heads do not say otherwise
 *
 * Finds out which record the rows are. The first line holds the names of columns unless none of them is one.
 */
void
exchange_look_match (ExchangeLook *self, const BookRecord *likely)
{
  const BookRecord *best = NULL;
  int most = G_MININT;

  self->has_head = TRUE;
  for (guint i = 0; i < BOOK_N_RECORDS; i++)
    {
      const BookRecord *record = book_record_in_order (i);
      int points;

      if (!exchange_look_can_take (record))
        continue;
      exchange_look_take_record (self, record);
      points = score (self) + (record == likely ? 150 : 0);
      if (points > most)
        {
          most = points;
          best = record;
        }
    }
  exchange_look_take_record (self, best);
  self->has_head = exchange_look_count_matched (self) > 0;
  if (self->has_head)
    g_array_remove_index (self->rows, 0);
  else
    exchange_look_take_record (self, likely != NULL && exchange_look_can_take (likely) ? likely : book_record (BOOK_RECORD_READING));
  exchange_look_recognise (self);
}
