/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "study-wish.h"

#define USUAL_PIECES 10
#define USUAL_TRIALS 3
#define MOST_PIECES  100
#define MOST_TRIALS  10

/* Of the text: number of pieces, trials, persons, labels. */
enum { PIECES, TRIALS, PERSONS, LABELS, N_PARTS };

FettleStudyWish *
fettle_study_wish_new (void)
{
  FettleStudyWish *wish = g_new0 (FettleStudyWish, 1);

  wish->persons = g_array_new (FALSE, FALSE, sizeof (gint64));
  wish->pieces = g_new0 (char *, 1);
  wish->n_pieces = USUAL_PIECES;
  wish->trials = USUAL_TRIALS;
  return wish;
}

void
fettle_study_wish_free (FettleStudyWish *wish)
{
  if (wish == NULL)
    return;

  g_array_unref (wish->persons);
  g_strfreev (wish->pieces);
  g_free (wish);
}

static guint
read_count (const char *text, guint most, guint otherwise)
{
  guint64 n;

  return g_ascii_string_to_unsigned (text, 10, 2, most, &n, NULL) ? (guint) n : otherwise;
}

/**
 * fettle_study_wish_parse:
 * @text: (nullable): from fettle_study_wish_to_text()
 *
 * Returns: (transfer full): the plan; ten pieces three times by whoever does where nothing was planned
 */
FettleStudyWish *
fettle_study_wish_parse (const char *text)
{
  FettleStudyWish *wish = fettle_study_wish_new ();
  g_auto(GStrv) parts = g_strsplit (text != NULL ? text : "", ";", N_PARTS);
  g_auto(GStrv) persons = NULL;

  if (g_strv_length (parts) < N_PARTS)
    return wish;
  wish->n_pieces = read_count (parts[PIECES], MOST_PIECES, wish->n_pieces);
  wish->trials = read_count (parts[TRIALS], MOST_TRIALS, wish->trials);
  persons = g_strsplit (parts[PERSONS], ",", -1);
  for (guint i = 0; persons[i] != NULL; i++)
    {
      gint64 key = g_ascii_strtoll (persons[i], NULL, 10);

      if (key != 0)
        g_array_append_val (wish->persons, key);
    }
  fettle_study_wish_set_pieces (wish, parts[LABELS]);
  return wish;
}

char *
fettle_study_wish_to_text (const FettleStudyWish *wish)
{
  GString *text = g_string_new (NULL);
  g_autofree char *labels = g_strjoinv (",", wish->pieces);

  g_string_printf (text, "%u;%u;", wish->n_pieces, wish->trials);
  for (guint i = 0; i < wish->persons->len; i++)
    g_string_append_printf (text, "%s%" G_GINT64_FORMAT, i > 0 ? "," : "", g_array_index (wish->persons, gint64, i));
  g_string_append_printf (text, ";%s", labels);
  return g_string_free (text, FALSE);
}

gboolean
fettle_study_wish_has (const FettleStudyWish *wish, gint64 person)
{
  for (guint i = 0; i < wish->persons->len; i++)
    if (g_array_index (wish->persons, gint64, i) == person)
      return TRUE;
  return FALSE;
}

/* @typed: labels between commas; each is taken once. */
void
fettle_study_wish_set_pieces (FettleStudyWish *wish, const char *typed)
{
  g_auto(GStrv) parts = g_strsplit_set (typed, ",;\t\n", -1);
  g_autoptr(GPtrArray) pieces = g_ptr_array_new ();

  for (guint i = 0; parts[i] != NULL && pieces->len < MOST_PIECES; i++)
    {
      const char *label = g_strstrip (parts[i]);

      if (*label != '\0' && !g_ptr_array_find_with_equal_func (pieces, label, g_str_equal, NULL))
        g_ptr_array_add (pieces, (gpointer) label);
    }
  g_ptr_array_add (pieces, NULL);
  g_strfreev (wish->pieces);
  wish->pieces = g_strdupv ((char **) pieces->pdata);
}

char *
fettle_study_wish_draft (gint64 gauge, gint64 characteristic)
{
  return g_strdup_printf (FETTLE_STUDY_WISH_PREFIX "%" G_GINT64_FORMAT "-%" G_GINT64_FORMAT, gauge, characteristic);
}
