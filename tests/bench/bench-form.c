/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-form.h"

#include <glib/gstdio.h>

#include "bench-frames.h"
#include "bench-pairs.h"
#include "drafts.h"
#include "record-form.h"

#define OTHER_DRAFTS 40   /* of a day at which much is left unfinished */
#define DRAFT_CHARS  2000
#define KEYS         6    /* one a frame and more, as fast as people type */
#define KEY_MS       60
#define SYNCED_MS    400  /* after the last key everything is on the disk */
#define FRAME        (1.0 / 60.0)

/* Forms stand in what scrolls, as on a page: a bare window would grow until the form fits with all its fields below each other. */
static GtkWidget *
make_window (GtkWidget **page)
{
  GtkWidget *window = gtk_window_new ();

  *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_window_set_default_size (GTK_WINDOW (window), 1280, 800);
  gtk_window_set_child (GTK_WINDOW (window), g_object_new (GTK_TYPE_SCROLLED_WINDOW, "child", *page, "hscrollbar-policy",
                                                           GTK_POLICY_NEVER, NULL));
  gtk_widget_add_css_class (window, "fettle");
  gtk_window_present (GTK_WINDOW (window));
  while (!gtk_widget_get_mapped (window))
    g_main_context_iteration (NULL, TRUE);
  return window;
}

static GtkWidget *
begin_form (GtkWidget *page, FettleSitting *sitting, BookRecordId record, gint64 model)
{
  GtkWidget *form = fettle_record_form_new (sitting, record, NULL);

  gtk_box_append (GTK_BOX (page), form);
  fettle_record_form_set_model (FETTLE_RECORD_FORM (form), model);
  fettle_record_form_begin (FETTLE_RECORD_FORM (form), 0);
  return form;
}

/**
 * bench_forms:
 * @answers: where to
 * @sitting: of the book
 * @span: whose model is offered
 *
 * Prints lines 'RECORD SECONDS CALIBRATION': a form of every field of every kind of record, from its making to its frame;
 * then 'end'.
 */
void
bench_forms (FILE *answers, FettleSitting *sitting, const FettleSpan *span)
{
  GtkWidget *page, *window = make_window (&page);

  bench_settle (window, sitting);
  for (guint record = 1; record <= BOOK_N_RECORDS; record++)
    for (guint i = 0; i <= BENCH_PAIRS; i++)
      {
        double start = bench_worked (), seconds;
        GtkWidget *form = begin_form (page, sitting, (BookRecordId) record, span->model);

        bench_wait_for_frame (window);
        seconds = bench_worked () - start;
        fprintf (answers, "%s %.9f %.9f\n", book_record ((BookRecordId) record)->name, seconds, bench_worked_calibration ());
        bench_settle (window, sitting);
        gtk_box_remove (GTK_BOX (page), form);
        bench_settle (window, sitting);
      }
  gtk_window_destroy (GTK_WINDOW (window));
  fprintf (answers, "end\n");
  fflush (answers);
}

/* ---- drafts ---- */

typedef struct
{
  GtkText *text;
  double   painted; /* the last frame; 0: none yet */
  double   longest; /* seconds between two frames */
  guint    keys;    /* left to be typed */
} Typing;

static gboolean
on_tick (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  gtk_widget_queue_draw (widget); /* every frame is drawn, so that one that is late is seen */
  return G_SOURCE_CONTINUE;
}

static void
on_frame (GdkFrameClock *clock, gpointer data)
{
  Typing *typing = data;
  double now = bench_now ();

  if (typing->painted > 0.0)
    typing->longest = MAX (typing->longest, now - typing->painted);
  typing->painted = now;
}

static gboolean
on_key (gpointer data)
{
  Typing *typing = data;

  g_signal_emit_by_name (typing->text, "insert-at-cursor", "x");
  return --typing->keys > 0 ? G_SOURCE_CONTINUE : G_SOURCE_REMOVE;
}

static gboolean
on_over (gpointer data)
{
  *(gboolean *) data = TRUE;
  return G_SOURCE_REMOVE;
}

static void
iterate_for (guint milliseconds)
{
  gboolean over = FALSE;

  g_timeout_add (milliseconds, on_over, &over);
  while (!over)
    g_main_context_iteration (NULL, TRUE);
}

/* When a file of drafts was last put in the place of the one before. */
static gint64
replaced_at (void)
{
  g_autofree char *folder = g_build_filename (g_get_user_state_dir (), "fettle", "typed", NULL);
  GStatBuf facts;

  if (g_stat (folder, &facts) != 0)
    return 0;
  return (gint64) facts.st_mtim.tv_sec * 1000000000 + facts.st_mtim.tv_nsec;
}

static double
longest_frame (GtkWidget *window, GtkText *text, guint keys)
{
  Typing typing = { text, 0.0, 0.0, keys };
  GdkFrameClock *clock = gtk_widget_get_frame_clock (window);
  gulong handler = g_signal_connect (clock, "after-paint", G_CALLBACK (on_frame), &typing);
  guint tick = gtk_widget_add_tick_callback (window, on_tick, NULL, NULL);
  gint64 before = replaced_at ();

  if (keys > 0)
    g_timeout_add (KEY_MS, on_key, &typing);
  iterate_for (KEYS * KEY_MS + SYNCED_MS);
  gtk_widget_remove_tick_callback (window, tick);
  g_signal_handler_disconnect (clock, handler);
  if ((replaced_at () != before) != (keys > 0))
    g_error ("drafts are %s the disk", keys > 0 ? "not on" : "written without a key to");
  return typing.longest;
}

/**
 * bench_drafts:
 * @answers: where to
 * @sitting: of the book
 * @span: whose model is offered
 *
 * Prints lines 'draft SECONDS SECONDS': the longest time between two frames while somebody types into a form and all that is
 * typed is brought to the disk, and that while nobody types, a frame at least; then 'end'.
 */
void
bench_drafts (FILE *answers, FettleSitting *sitting, const FettleSpan *span)
{
  GtkWidget *page, *window = make_window (&page), *form;
  FettleDrafts *drafts = fettle_sitting_get_drafts (sitting);
  g_autofree char *much = g_strnfill (DRAFT_CHARS, 'm');

  for (guint i = 0; i < OTHER_DRAFTS; i++)
    {
      g_autofree char *name = g_strdup_printf ("bench-%u", i);

      fettle_drafts_keep (drafts, name, much);
    }
  form = begin_form (page, sitting, BOOK_RECORD_ISSUE, span->model);
  bench_settle (window, sitting);
  fettle_record_form_focus (FETTLE_RECORD_FORM (form), "title");
  bench_settle (window, sitting);
  iterate_for (SYNCED_MS);
  for (guint i = 0; i <= BENCH_PAIRS; i++)
    {
      GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (window));
      double still, typed;

      if (!GTK_IS_TEXT (focus))
        g_error ("the form has no keyboard");
      still = longest_frame (window, GTK_TEXT (focus), 0);
      typed = longest_frame (window, GTK_TEXT (focus), KEYS);
      fprintf (answers, "draft %.9f %.9f\n", typed, MAX (still, FRAME));
    }
  gtk_window_destroy (GTK_WINDOW (window));
  fprintf (answers, "end\n");
  fflush (answers);
}
