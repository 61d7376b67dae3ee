/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A cell as a person wrote it into the words of files: `12,5 mm` is `12.5`, `24.3.2026` is `2026-03-24`, `Prototype` is
 * `prototype`. What is not understood stays as it is, so that the sentence that refuses it quotes what was written.
 */
#include "config.h"

#include "exchange-look-private.h"

#include "book-number.h"
#include "exchange-number.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define ROWS_ASKED 2000 /* to find out how numbers and dates are written */

static gboolean
is_number (const BookField *leaf)
{
  return leaf->kind == BOOK_KIND_INTEGER || leaf->kind == BOOK_KIND_REAL || leaf->kind == BOOK_KIND_SHARE
         || leaf->kind == BOOK_KIND_MONEY;
}

static gboolean
is_date (const BookField *leaf)
{
  return leaf->kind == BOOK_KIND_DATE || leaf->kind == BOOK_KIND_MOMENT;
}

static gboolean
translate_number (const BookField *leaf, const char *text, char decimal_sign, GString *out)
{
  const char *rest = text;
  ExchangeNumber number;
  gboolean is_percent;

  if (!exchange_number_scan (&rest, decimal_sign, &number))
    return FALSE;
  rest = exchange_text_skip_spaces (rest);
  is_percent = leaf->kind == BOOK_KIND_SHARE && *rest == '%';
  if (is_percent)
    rest = exchange_text_skip_spaces (rest + 1);
  else if (*rest != '\0' && leaf->unit != NULL
           && (strcmp (rest, leaf->unit) == 0 || strcmp (rest, book_field_unit (leaf)) == 0))
    rest += strlen (rest);
  if (*rest != '\0')
    return FALSE;
  book_number_append (out, number.value);
  if (is_percent)
    g_string_append_c (out, '%');
  return TRUE;
}

static gboolean
translate_date (const char *text, ExchangeDateOrder order, GString *out)
{
  const char *rest = text;
  gboolean is_doubtful;
  char iso[17];

  if (!exchange_date_scan (&rest, order, iso, &is_doubtful) || *exchange_text_skip_spaces (rest) != '\0')
    return FALSE;
  g_string_append (out, iso);
  return TRUE;
}

static gboolean
is_word (const char *text, const char *word)
{
  g_autofree char *a = g_utf8_casefold (text, -1);
  g_autofree char *b = g_utf8_casefold (word, -1);

  return strcmp (a, b) == 0;
}

static gboolean
translate_choice (const BookField *leaf, const char *text, GString *out)
{
  for (const BookChoice *choice = leaf->choices; choice->text != NULL; choice++)
    if (is_word (text, choice->text) || is_word (text, choice->label) || is_word (text, book_choice_label (choice)))
      {
        g_string_append (out, choice->text);
        return TRUE;
      }
  return FALSE;
}

static gboolean
translate_boolean (const char *text, GString *out)
{
  static const char *const yes[] = { N_("yes"), "yes", "y", "true", "1", "x", "ja", "wahr" };
  static const char *const no[] = { N_("no"), "no", "n", "false", "0", "-", "nein", "falsch" };

  for (guint i = 0; i < G_N_ELEMENTS (yes); i++)
    {
      if (is_word (text, i == 0 ? _(yes[i]) : yes[i]))
        {
          g_string_append (out, "yes");
          return TRUE;
        }
      if (is_word (text, i == 0 ? _(no[i]) : no[i]))
        {
          g_string_append (out, "no");
          return TRUE;
        }
    }
  return FALSE;
}

static gboolean
translate_record (const char *text, GString *out)
{
  for (guint i = 0; i < BOOK_N_RECORDS; i++)
    {
      const BookRecord *record = book_record_in_order (i);

      if (is_word (text, record->name) || is_word (text, record->label) || is_word (text, book_record_label (record)))
        {
          g_string_append (out, record->name);
          return TRUE;
        }
    }
  return FALSE;
}

/**
 * exchange_look_translate:
 * @leaf: what the cell holds
 * @text: as it was written
 * @decimal_sign: '.' or ','
 * @order: of day and month in `3/4/2025`
 * @out: where the words of files are appended; @text itself when it is not understood
 */
void
exchange_look_translate (const BookField *leaf, const char *text, char decimal_sign, ExchangeDateOrder order, GString *out)
{
  gboolean understood = FALSE;

  if (*text == '\0')
    return;
  if (is_number (leaf))
    understood = translate_number (leaf, text, decimal_sign, out);
  else if (is_date (leaf))
    understood = translate_date (text, order, out);
  else if (leaf->kind == BOOK_KIND_CHOICE)
    understood = translate_choice (leaf, text, out);
  else if (leaf->kind == BOOK_KIND_BOOLEAN)
    understood = translate_boolean (text, out);
  else if (leaf->kind == BOOK_KIND_RECORD)
    understood = translate_record (text, out);
  if (!understood)
    g_string_append (out, text);
}

/* ---- how numbers and dates are written ---- */

typedef struct
{
  guint points;
  guint commas;
  guint doubtful; /* `1,234` */
  guint days_first;
  guint months_first;
} Signs;

static void
count_number (Signs *signs, const char *text)
{
  const char *rest = text;
  ExchangeNumber number;

  if (!exchange_number_scan (&rest, 0, &number) || number.decimal_sign == 0)
    return;
  if (number.is_doubtful)
    signs->doubtful++;
  else if (number.decimal_sign == ',')
    signs->commas++;
  else
    signs->points++;
}

/* `13/4/2026` and `4/13/2026` speak, `3/4/2026` does not. */
static void
count_date (Signs *signs, const char *text)
{
  char *end;
  guint64 first = g_ascii_strtoull (text, &end, 10);
  guint64 second = *end == '/' ? g_ascii_strtoull (end + 1, &end, 10) : 0;

  if (first > 31 || second == 0 || *end != '/')
    return;
  signs->days_first += first > 12;
  signs->months_first += second > 12;
}

/**
 * exchange_look_recognise:
 * @self: a look
 *
 * Finds out the decimal sign and the form of dates from the columns that hold such, where nobody said so.
 */
void
exchange_look_recognise (ExchangeLook *self)
{
  Signs signs = { 0 };

  for (guint i = 0; i < exchange_look_count_columns (self); i++)
    {
      const BookField *leaf = self->columns[i] >= 0 ? exchange_look_field (self, (guint) self->columns[i])->leaf : NULL;

      for (guint row = 0; leaf != NULL && (is_number (leaf) || is_date (leaf)) && row < MIN (self->rows->len, ROWS_ASKED); row++)
        {
          const char *cell = exchange_look_get_cell (self, row, i);

          if (is_number (leaf))
            count_number (&signs, cell);
          else
            count_date (&signs, cell);
        }
    }
  if (!self->decimal_sign_is_set)
    self->decimal_sign = signs.commas > signs.points || (signs.commas + signs.points == 0 && signs.doubtful > 0) ? ',' : '.';
  if (!self->order_is_set)
    self->order = signs.months_first > signs.days_first ? EXCHANGE_DATE_MONTH_FIRST : EXCHANGE_DATE_DAY_FIRST;
}
