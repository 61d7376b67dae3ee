/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The calculator with questions that went wrong: each kept question as it is, then changed at random places by a fixed key.
 * A mutation puts an odd number where a number stands, or deletes, doubles or overwrites bytes.
 */
#include "calc-ask.h"

#include "num-random.h"

#include <string.h>

#define MUTATIONS 12 /* of each kept question */

static const char *const odd_numbers[] = {
  "0", "-1", "1", "2", "0.5", "1e308", "-1e308", "1e-308", "5e-324", "9007199254740992", "4294967296", "1e400", "NaN",
  "0.999999999999", "1e-12", "3", "100000", "[]", "[1]", "\"1\"", "null", "{}",
};

static gboolean
is_number_byte (char byte)
{
  return g_ascii_isdigit (byte) || strchr ("+-.eE", byte) != NULL;
}

/* Replaces the number at or after a place. */
static void
mutate_number (GString *text, gsize place, NumRandom *random)
{
  gsize end;

  while (place < text->len && !g_ascii_isdigit (text->str[place]))
    place++;
  while (place > 0 && place < text->len && is_number_byte (text->str[place - 1]))
    place--;
  for (end = place; end < text->len && is_number_byte (text->str[end]); end++)
    ;
  g_string_erase (text, (gssize) place, (gssize) (end - place));
  g_string_insert (text, (gssize) place, odd_numbers[num_random_below (random, G_N_ELEMENTS (odd_numbers))]);
}

static void
mutate (GString *text, NumRandom *random)
{
  gsize place = num_random_below (random, (guint32) text->len);
  gsize wish = 1 + num_random_below (random, 8);
  gsize size = MIN (wish, text->len - place);

  switch (num_random_below (random, 6))
    {
    case 0:
      g_string_erase (text, (gssize) place, (gssize) size);
      break;
    case 1:
      {
        g_autofree char *piece = g_strndup (text->str + place, size);

        g_string_insert (text, (gssize) place, piece);
        break;
      }
    case 2:
      text->str[place] = (char) (1 + num_random_below (random, 255));
      break;
    default:
      mutate_number (text, place, random);
    }
}

/* Bootstraps and large samplings take long under the sanitizers; they are asked as they are, and changed once only. */
static gboolean
is_slow (const char *question)
{
  return strstr (question, "\"life\"") != NULL || strstr (question, "\"permutation\"") != NULL;
}

static void
test_file (gconstpointer data)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", (const char *) data, NULL);
  g_autofree char *all = NULL;
  g_auto(GStrv) lines = NULL;
  g_autoptr(GError) error = NULL;
  guint asked = 0;

  g_file_get_contents (path, &all, NULL, &error);
  g_assert_no_error (error);
  lines = g_strsplit (all, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    {
      NumRandom random;

      if (lines[i][0] == '\0')
        continue;
      calc_check_answers (lines[i], strlen (lines[i]));
      num_random_init (&random, 17, 0);
      for (guint j = 0; j < (is_slow (lines[i]) ? 1 : MUTATIONS); j++)
        {
          g_autoptr(GString) text = g_string_new (lines[i]);
          g_autofree char *shown = NULL;

          num_random_draw (&random, i * MUTATIONS + j);
          for (guint k = num_random_below (&random, 3) + 1; k > 0 && text->len > 0; k--)
            mutate (text, &random);
          if (text->len == 0)
            continue;
          shown = g_strescape (text->str, NULL);
          g_test_message ("%.300s", shown); /* the last one told is the one that breaks */
          calc_check_answers (text->str, text->len);
          asked++;
        }
    }
  g_assert_cmpuint (asked, >, 100);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_data_func ("/numbers/calc/answers-questions-that-went-wrong", "calc-corpus.jsonl", test_file);
  return g_test_run ();
}
