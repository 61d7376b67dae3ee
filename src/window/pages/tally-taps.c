/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "tally-taps.h"

#include <glib/gi18n.h>

struct _FettleTallyTaps
{
  gatomicrefcount     count;
  FettleSitting      *sitting; /* NULL: the page has gone */
  FettleTallyTapsTell tell;
  GObject            *data;    /* borrowed: the page, which ends this before it goes */
  GHashTable         *actions; /* gint64 *: taps of this page */
  FettleVisit        *visit;   /* the sitting's; NULL: none was begun */
  char               *where;   /* that it is about */
  gboolean            fresh;   /* the last action is a tap, and it is not known yet that it can be undone */
  guint               pending; /* taps on their way to the disk */
  guint               undos;   /* wanted once these are there */
};

static void
release (FettleTallyTaps *taps)
{
  if (!g_atomic_ref_count_dec (&taps->count))
    return;
  g_hash_table_unref (taps->actions);
  g_free (taps->where);
  g_free (taps);
}

FettleTallyTaps *
fettle_tally_taps_new (FettleSitting *sitting, FettleTallyTapsTell tell, GObject *data)
{
  FettleTallyTaps *taps = g_new0 (FettleTallyTaps, 1);

  g_atomic_ref_count_init (&taps->count);
  taps->sitting = g_object_ref (sitting);
  taps->tell = tell;
  taps->data = data;
  taps->actions = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  return taps;
}

void
fettle_tally_taps_leave (FettleTallyTaps *taps)
{
  if (taps->visit != NULL && taps->sitting != NULL)
    fettle_sitting_end_visit (taps->sitting, taps->visit);
  taps->visit = NULL;
}

void
fettle_tally_taps_end (FettleTallyTaps *taps)
{
  taps->visit = NULL; /* the window may be going: nobody is told any more */
  g_clear_object (&taps->sitting);
  release (taps);
}

void
fettle_tally_taps_refresh (FettleTallyTaps *taps)
{
  taps->fresh = FALSE;
}

/* ---- storing ---- */

/* Only what was tapped here: what was done on other pages is undone there, or by Ctrl+Z. */
static gboolean
undo (FettleTallyTaps *taps)
{
  gint64 last = fettle_sitting_get_undo (taps->sitting);

  if (!taps->fresh && !g_hash_table_contains (taps->actions, &last))
    {
      taps->tell (_("The last thing done in this window was no tap: Ctrl+Z undoes it."), taps->data);
      return FALSE;
    }
  taps->fresh = FALSE;
  taps->tell ("", taps->data);
  fettle_sitting_undo_one (taps->sitting);
  return TRUE;
}

gboolean
fettle_tally_taps_undo (FettleTallyTaps *taps)
{
  if (taps->pending == 0)
    return undo (taps);
  taps->undos++;
  return TRUE;
}

typedef struct
{
  FettleTallyTaps *taps;
  char            *said;
} Tap;

static void
on_stored (GObject *source, GAsyncResult *result, gpointer data)
{
  Tap *tap = data;
  FettleTallyTaps *taps = tap->taps;
  g_autoptr(GError) error = NULL;
  StoreReceipt receipt;
  gboolean stored = fettle_sitting_edit_finish (FETTLE_SITTING (source), result, &receipt, NULL, &error);

  taps->pending--;
  if (taps->sitting != NULL)
    {
      if (stored)
        {
          g_hash_table_add (taps->actions, g_memdup2 (&receipt.action, sizeof receipt.action));
          taps->fresh = TRUE;
          taps->tell (tap->said, taps->data);
        }
      else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        taps->tell (error->message, taps->data);
      for (; taps->pending == 0 && taps->undos > 0; taps->undos--)
        undo (taps);
    }
  release (taps);
  g_free (tap->said);
  g_free (tap);
}

static char *
visit_words (guint n, const char *where)
{
  /* Translators: %u counts what was tapped, %s is a step, as in '34 taps of the tally at 10 Mill' */
  return g_strdup_printf (ngettext ("%u tap of the tally at %s", "%u taps of the tally at %s", n), n, where);
}

void
fettle_tally_taps_store (FettleTallyTaps *taps, BookEdit *edit, const char *where, char *said)
{
  Tap *tap = g_new0 (Tap, 1);

  if (taps->visit != NULL && (fettle_visit_is_over (taps->visit) || !g_str_equal (taps->where, where)))
    fettle_tally_taps_leave (taps);
  if (taps->visit == NULL)
    {
      g_free (taps->where);
      taps->where = g_strdup (where);
      taps->visit = fettle_sitting_begin_visit (taps->sitting, visit_words, where);
    }
  tap->taps = taps;
  tap->said = said;
  g_atomic_ref_count_inc (&taps->count);
  taps->pending++;
  fettle_sitting_edit_in (taps->sitting, taps->visit, edit, 1, on_stored, tap);
}
