/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-size.h"

#include "book.h"

/**
 * paper_size_parse:
 * @word: 'a4', 'A5', 'letter'
 * @may_be_small: A5 will do: paper for the bench; a letter needs more
 * @size: (out): of the paper
 *
 * Returns: whether @word is one
 */
gboolean
paper_size_parse (const char *word, gboolean may_be_small, PaperSize *size)
{
  static const char *const words[] = { [PAPER_A4] = "a4", [PAPER_LETTER] = "letter", [PAPER_A5] = "a5" };

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_ascii_strcasecmp (word, words[i]) == 0 && (may_be_small || i != PAPER_A5))
      {
        *size = (PaperSize) i;
        return TRUE;
      }
  return FALSE;
}

/**
 * paper_size_of_book:
 * @db: any connection
 * @may_be_small: as in paper_size_parse()
 * @size: (out): what the book's setting 'paper' says, else A4: what somebody wrote there is no reason to refuse a page
 * @error: return location
 *
 * Returns: whether the book could be asked
 */
gboolean
paper_size_of_book (StoreDb *db, gboolean may_be_small, PaperSize *size, GError **error)
{
  g_autofree char *kept = NULL;

  *size = PAPER_A4;
  if (!book_setting_read (db, "paper", &kept, error))
    return FALSE;
  if (kept == NULL || !paper_size_parse (kept, may_be_small, size))
    *size = PAPER_A4;
  return TRUE;
}
