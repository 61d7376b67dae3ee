/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "progress.h"

#define OUT_OF 1000000

/* Held by whoever waits for the work, by the work, and by the call that waits in the main thread. */
struct _FettleProgress
{
  FettleProgressShow show;
  GWeakRef           owner;
  gboolean           ended; /* main thread only */
  gint               told;  /* atomic: out of OUT_OF */
  gint               waits; /* atomic: a call waits in the main thread */
};

/**
 * fettle_progress_new:
 * @show: called in the main thread now and then, until fettle_progress_end() or the end of @owner
 * @owner: (type GObject): handed to @show; not held
 *
 * Returns: (transfer full): of a piece of work that has not begun
 */
FettleProgress *
fettle_progress_new (FettleProgressShow show, gpointer owner)
{
  FettleProgress *progress = g_atomic_rc_box_new0 (FettleProgress);

  progress->show = show;
  g_weak_ref_init (&progress->owner, owner);
  return progress;
}

FettleProgress *
fettle_progress_ref (FettleProgress *progress)
{
  return g_atomic_rc_box_acquire (progress);
}

static void
clear (gpointer data)
{
  g_weak_ref_clear (&((FettleProgress *) data)->owner);
}

void
fettle_progress_unref (gpointer progress)
{
  if (progress != NULL)
    g_atomic_rc_box_release_full (progress, clear);
}

static gboolean
show (gpointer data)
{
  FettleProgress *progress = data;
  g_autoptr(GObject) owner = NULL;

  g_atomic_int_set (&progress->waits, 0);
  if (progress->ended)
    return G_SOURCE_REMOVE;
  owner = g_weak_ref_get (&progress->owner);
  if (owner != NULL)
    progress->show ((double) g_atomic_int_get (&progress->told) / OUT_OF, owner);
  return G_SOURCE_REMOVE;
}

/**
 * fettle_progress_tell:
 * @progress: of the work
 * @share: done, 0 to 1
 *
 * From any thread; returns at once.
 */
void
fettle_progress_tell (FettleProgress *progress, double share)
{
  g_atomic_int_set (&progress->told, (gint) (CLAMP (share, 0.0, 1.0) * OUT_OF + 0.5));
  if (g_atomic_int_compare_and_exchange (&progress->waits, 0, 1))
    g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, show, fettle_progress_ref (progress), fettle_progress_unref);
}

/**
 * fettle_progress_end:
 * @progress: of the work
 *
 * In the main thread: nothing is shown any more, whatever is still told.
 */
void
fettle_progress_end (FettleProgress *progress)
{
  progress->ended = TRUE;
}

/**
 * fettle_progress_percent:
 * @share: as it was told
 *
 * Returns: whole hundredths that are done
 */
guint
fettle_progress_percent (double share)
{
  return (guint) (share * 100.0 + 0.5 / OUT_OF);
}
