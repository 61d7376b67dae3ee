/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lines above the table: model, round, day and person, as far as they say so. */
#include "config.h"

#include "exchange-sheet-private.h"

#include "exchange-number.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static gboolean
is_word_end (const char *p)
{
  return *p == '\0' || strchr (" ,;:.()[]/", *p) != NULL;
}

static const char *
skip_word (const char *p)
{
  while (!is_word_end (p))
    p = g_utf8_next_char (p);
  return p;
}

/* `P2`, `B1`, `P-03`: capital letters and a number. */
static gboolean
looks_like_round (const char *from, const char *end)
{
  gsize letters = 0;
  gsize digits = 0;

  while (from < end && g_ascii_isupper (*from) && letters < 3)
    from++, letters++;
  if (from < end && *from == '-')
    from++;
  while (from < end && g_ascii_isdigit (*from))
    from++, digits++;
  return from == end && letters >= 1 && digits >= 1 && digits <= 2;
}

static gboolean
looks_like_initials (const char *from, const char *end)
{
  gsize letters = 0;

  while (from < end && g_ascii_isupper (*from))
    from++, letters++;
  return from == end && letters >= 2 && letters <= 4;
}

static void
set_once (ExchangeSheet *sheet, const char **what, const char *from, gsize length)
{
  g_autofree char *text = g_strndup (from, length);

  g_strstrip (text);
  if (*what == NULL && *text != '\0')
    *what = exchange_sheet_keep (sheet, text);
}

static void
take_value (ExchangeSheet *sheet, ExchangeWord word, const char *text)
{
  ExchangeSheetTitle *title = &sheet->title;
  gboolean doubtful;
  char iso[17];

  text = exchange_text_skip_spaces (text);
  if (word == EXCHANGE_WORD_MODEL)
    set_once (sheet, &title->model, text, strlen (text));
  else if (word == EXCHANGE_WORD_ROUND)
    set_once (sheet, &title->round, text, strlen (text));
  else if (word == EXCHANGE_WORD_PERSON)
    set_once (sheet, &title->person, text, strlen (text));
  else if (word == EXCHANGE_WORD_DATE && exchange_text_is_date (text, sheet->date_order, iso, &doubtful))
    set_once (sheet, &title->date, iso, 10);
}

/* Dates, rounds and people in running words; what is found is blotted out of @text. */
static void
take_from_words (ExchangeSheet *sheet, char *text)
{
  ExchangeSheetTitle *title = &sheet->title;

  for (char *p = text; *p != '\0';)
    {
      const char *end = p;
      gboolean doubtful;
      char iso[17];

      if (p > text && !is_word_end (p - 1))
        {
          p = g_utf8_next_char (p);
          continue;
        }
      if (exchange_date_scan (&end, sheet->date_order, iso, &doubtful))
        set_once (sheet, &title->date, iso, 10);
      else if (g_ascii_strncasecmp (p, "round ", 6) == 0 || g_ascii_strncasecmp (p, "runde ", 6) == 0)
        {
          end = skip_word (p + 6);
          set_once (sheet, &title->round, p + 6, (gsize) (end - (p + 6)));
        }
      else if (g_ascii_strncasecmp (p, "pilot ", 6) == 0 && g_ascii_isupper (p[6]) && is_word_end (p + 7))
        {
          end = p + 7;
          set_once (sheet, &title->round, p, 7);
        }
      else if (g_ascii_strncasecmp (p, "by ", 3) == 0 && looks_like_initials (p + 3, skip_word (p + 3)))
        {
          end = skip_word (p + 3);
          set_once (sheet, &title->person, p + 3, (gsize) (end - (p + 3)));
        }
      else if (looks_like_round (p, skip_word (p)) && title->round == NULL)
        {
          end = skip_word (p);
          set_once (sheet, &title->round, p, (gsize) (end - p));
        }
      if (end == p)
        {
          p = g_utf8_next_char (p);
          continue;
        }
      memset (p, ',', (gsize) (end - p));
      p += end - p;
    }
}

/* The first words of the first title line that are not about the sheet itself. */
static void
take_model (ExchangeSheet *sheet, const char *text)
{
  static const char *const about[] = { "measuring sheet", "measurements",  "measurement", "measured",
                                       "inspection",      "messprotokoll", "messblatt",   "messwerte",
                                       "test sheet",      "sheet",         "date",        "datum",
                                       "after",           "protocol",      "report" };
  g_auto(GStrv) parts = NULL;
  g_autofree char *plain = g_strdup (text);

  if (sheet->title.model != NULL)
    return;
  for (char *p = plain; *p != '\0'; p++)
    if (strchr ("([{:;|", *p) != NULL)
      *p = ',';
  parts = g_strsplit (plain, ",", -1);
  for (guint i = 0; parts[i] != NULL; i++)
    {
      g_autofree char *lower = NULL;
      gboolean skip = FALSE;
      char *dash = strstr (parts[i], " - ");

      if (dash == NULL)
        dash = strstr (parts[i], " – ");
      if (dash != NULL)
        *dash = '\0';
      g_strstrip (parts[i]);
      lower = g_utf8_strdown (parts[i], -1);
      for (guint w = 0; w < G_N_ELEMENTS (about); w++)
        skip = skip || g_str_has_prefix (lower, about[w]);
      if (!skip && g_utf8_strlen (parts[i], -1) >= 2 && !g_ascii_isdigit (*parts[i]))
        {
          set_once (sheet, &sheet->title.model, parts[i], strlen (parts[i]));
          return;
        }
    }
}

static void
read_title_row (ExchangeSheet *sheet, guint row)
{
  for (guint c = 0; c < sheet->grid->n_columns; c++)
    {
      g_autofree char *text = g_strdup (exchange_sheet_text (sheet, row, c));
      char *colon = strchr (text, ':');
      ExchangeWord word;

      if (*text == '\0')
        continue;
      if (colon != NULL && colon[1] != '\0')
        {
          g_autofree char *key = g_strndup (text, (gsize) (colon - text));

          word = exchange_word_of_title (key);
          if (word != EXCHANGE_WORD_NONE)
            {
              take_value (sheet, word, colon + 1);
              continue;
            }
        }
      word = exchange_word_of_title (text);
      if (word != EXCHANGE_WORD_NONE && c + 1 < sheet->grid->n_columns)
        {
          take_value (sheet, word, exchange_sheet_text (sheet, row, ++c));
          continue;
        }
      take_from_words (sheet, text);
      take_model (sheet, text);
    }
}

/**
 * exchange_sheet_find_title:
 * @sheet: a sheet whose rows have their roles
 *
 * Reads the title lines and lists what was guessed from them.
 */
void
exchange_sheet_find_title (ExchangeSheet *sheet)
{
  const ExchangeSheetTitle *title = &sheet->title;
  int first = -1;

  for (guint r = 0; r < sheet->grid->n_rows; r++)
    if (sheet->rows[r].role == EXCHANGE_ROW_TITLE)
      {
        if (first < 0)
          first = (int) r;
        read_title_row (sheet, r);
      }
  if (title->model != NULL)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, first, -1, _("'%s' in the title was taken for the model"),
                           title->model);
  if (title->round != NULL)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, first, -1, _("'%s' in the title was taken for the round"),
                           title->round);
  if (title->date != NULL)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, first, -1,
                           _("%s in the title was taken for the day of measuring"), title->date);
  if (title->person != NULL)
    exchange_sheet_remark (sheet, EXCHANGE_REMARK_GUESS, first, -1, _("'%s' in the title was taken for who measured"),
                           title->person);
}
