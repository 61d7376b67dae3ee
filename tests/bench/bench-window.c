/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bench-window bare: a window with nothing in it. bench-window fettle BOOK: the program itself, on the Standing page of a
 * book. Each prints 'ready' when the frame that shows all of it was drawn, and then obeys lines on its standard input:
 * 'quit', and with a book 'type', which commits another value of one reading and prints the seconds until the frame with
 * the new standing was drawn. 'pages' prints, for each page of the list, ten lines 'PAGE WORK SCAN SECONDS CALIBRATION':
 * what other threads than GTK's computed for its answers; one sum of the model's readings by SQLite; the time by the clock
 * from the making of the page to its frame with everything on it; the calibration loop. Then 'end'. The Release page counts
 * with its gates; 'forecast' prints the same of all that follows them. 'grid' does as bench-grid.h says, for the last round
 * of the book, 'forms' and 'drafts' as bench-form.h.
 */
#include "config.h"

#include <glib/gi18n.h>
#include <gio/gunixinputstream.h>
#include <locale.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "application.h"
#include "bench-form.h"
#include "bench-grid.h"
#include "bench-pairs.h"
#include "insight-memo.h"
#include "page.h"
#include "present-number.h"
#include "release-answer.h"
#include "release-page.h"
#include "standing-page.h"
#include "window.h"

typedef struct
{
  GApplication     *application;
  FILE             *answers; /* what went to standard output before the libraries below got it */
  GDataInputStream *orders;
  gboolean          ready;
  double            typed_at; /* 0: nothing was typed that is not shown yet */
  guint             typed;
} Bench;

/* ---- orders ---- */

static void on_order (GObject *source, GAsyncResult *result, gpointer user_data);

static void
next_order (Bench *bench)
{
  g_data_input_stream_read_line_async (bench->orders, G_PRIORITY_DEFAULT, NULL, on_order, bench);
}

static void
answer (Bench *bench, const char *text)
{
  fprintf (bench->answers, "%s\n", text);
  fflush (bench->answers);
  next_order (bench);
}

typedef struct
{
  gint64 unit, characteristic;
  guint  attempt, n;
  double value;
} Reading;

/* A reading that counts: the first of the newest round. */
static Reading
find_reading (Book *book, gint64 model)
{
  static const char sql[] = "SELECT d.unit, d.characteristic, d.attempt, d.n, d.value FROM unit u JOIN round r ON r.id = u.round"
                            " JOIN reading d ON d.unit = u.id WHERE r.model = ?1 AND r.label = 'B' AND d.value IS NOT NULL"
                            " AND NOT d.voided ORDER BY u.id, d.id LIMIT 1";
  g_autoptr(GError) error = NULL;
  StoreDb *db = store_front_db (book_get_store (book), &error);
  g_autoptr(StoreStatement) statement = db == NULL ? NULL : store_db_statement (db, sql, &error);
  gboolean row;

  if (statement == NULL)
    g_error ("%s", error->message);
  sqlite3_bind_int64 (statement, 1, model);
  if (!store_db_next (db, statement, "The reading was not found", &row, &error) || !row)
    g_error ("the book has no reading to change");
  return (Reading){ sqlite3_column_int64 (statement, 0), sqlite3_column_int64 (statement, 1),
                    (guint) sqlite3_column_int (statement, 2), (guint) sqlite3_column_int (statement, 3),
                    sqlite3_column_double (statement, 4) };
}

static void
type_reading (Bench *bench)
{
  FettleWindow *window = FETTLE_WINDOW (gtk_application_get_active_window (GTK_APPLICATION (bench->application)));
  FettleSitting *sitting = fettle_window_get_sitting (window);
  Reading reading = find_reading (fettle_sitting_get_book (sitting), fettle_window_get_span (window)->model);
  BookTyped typed = { BOOK_MARK_MEASURED, TRUE, reading.value + (bench->typed++ % 2 == 0 ? 0.001 : -0.001) };

  bench->typed_at = bench_now ();
  fettle_sitting_edit (sitting, book_edit_reading (reading.unit, reading.characteristic, reading.attempt, reading.n, &typed, NULL),
                       NULL, NULL);
}

/* ---- pages ---- */

typedef struct
{
  FettleSitting *sitting;
  gboolean       painted;
} Drawn;

static void
on_drawn (GdkFrameClock *clock, gpointer data)
{
  Drawn *drawn = data;

  drawn->painted = TRUE;
}

/* The forecast's 10,000 runs come after the gates, and have a limit of their own. */
static gboolean
is_waiting (FettleSitting *sitting, GtkWidget *page)
{
  return FETTLE_IS_RELEASE_PAGE (page) ? !fettle_release_page_has_gates (FETTLE_RELEASE_PAGE (page)) : fettle_sitting_is_asking (sitting);
}

/* Until a frame was drawn after which nothing that @page waits for was asked and nothing was left to do; NULL: nothing at all. */
static void
wait_until_drawn (GtkWidget *window, FettleSitting *sitting, GtkWidget *page)
{
  Drawn drawn = { sitting, FALSE };
  GdkFrameClock *clock = gtk_widget_get_frame_clock (window);
  gulong handler = g_signal_connect (clock, "after-paint", G_CALLBACK (on_drawn), &drawn);

  do
    {
      drawn.painted = FALSE;
      while (is_waiting (sitting, page))
        g_main_context_iteration (NULL, TRUE);
      while (!drawn.painted)
        {
          gtk_widget_queue_draw (window);
          g_main_context_iteration (NULL, TRUE);
        }
    }
  while (is_waiting (sitting, page));
  g_signal_handler_disconnect (clock, handler);
}

/* What other threads compute for one answer of the Release page. */
typedef struct
{
  double   computed;
  gboolean done;
} Answered;

static void
on_release_answer (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Answered *answered = user_data;
  g_autoptr(GError) error = NULL;
  gpointer answer = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  answered->computed = bench_computed_beside ();
  answered->done = TRUE;
  if (answer == NULL)
    g_error ("%s", error->message);
  fettle_release_answer_unref (answer);
}

static double
release_work (FettleSitting *sitting, const FettleSpan *span, FettleProgress *progress)
{
  const char *book = store_get_uuid (book_get_store (fettle_sitting_get_book (sitting)));
  double computed = bench_computed_beside ();
  Answered answered = { 0 };

  fettle_sitting_ask (sitting, fettle_release_ask_work, fettle_release_ask_new (span, book, progress), fettle_release_ask_free,
                      fettle_release_answer_unref, NULL, on_release_answer, &answered);
  while (!answered.done)
    g_main_context_iteration (NULL, TRUE);
  return answered.computed - computed;
}

/* What was cancelled goes on in its thread until it asks whether it was. */
static void
wait_until_idle (void)
{
  double before;

  do
    {
      before = bench_computed_beside ();
      g_usleep (20000);
    }
  while (bench_computed_beside () - before > 0.0005);
}

static void
show_page (const FettlePageKind *kind, GtkWidget *window, FettleSitting *sitting, const FettleSpan *span, double *work,
           double *seconds)
{
  double start = bench_now (), computed = bench_computed_beside ();
  GtkWidget *page = kind->make (sitting);
  gboolean is_release = FETTLE_IS_RELEASE_PAGE (page);

  fettle_page_set_span (FETTLE_PAGE (page), span);
  gtk_window_set_child (GTK_WINDOW (window), page);
  wait_until_drawn (window, sitting, page);
  *work = bench_computed_beside () - computed;
  *seconds = bench_now () - start;
  gtk_window_set_child (GTK_WINDOW (window), NULL);
  wait_until_drawn (window, sitting, NULL);
  if (is_release) /* its forecast had begun by then */
    {
      wait_until_idle ();
      *work = release_work (sitting, span, NULL);
    }
}

/* One sum over the readings of a model, or of all for 0, in its fastest way. */
static double
scan_seconds (StoreDb *db, gint64 model)
{
  static const char of_model[] = "SELECT sum(d.value), count(*) FROM round r JOIN unit u ON u.round = r.id"
                                 " JOIN reading d ON d.unit = u.id WHERE r.model = ?1";
  static const char of_all[] = "SELECT sum(value), count(*) FROM reading WHERE ?1 = 0";
  const char *sql = model != 0 ? of_model : of_all;
  g_autoptr(GError) error = NULL;
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, &error);
  double start = bench_now ();
  gboolean row;

  if (statement == NULL)
    g_error ("%s", error->message);
  sqlite3_bind_int64 (statement, 1, model);
  if (!store_db_next (db, statement, "The sum failed", &row, &error))
    g_error ("%s", error->message);
  bench_use (sqlite3_column_double (statement, 0));
  return bench_now () - start;
}

static double
calibration_seconds (void)
{
  double start = bench_now ();

  bench_calibration (NULL);
  return bench_now () - start;
}

static void
measure_pages (Bench *bench)
{
  FettleWindow *shown = FETTLE_WINDOW (gtk_application_get_active_window (GTK_APPLICATION (bench->application)));
  FettleSitting *sitting = fettle_window_get_sitting (shown);
  const FettleSpan *span = fettle_window_get_span (shown);
  StoreDb *db = store_front_db (book_get_store (fettle_sitting_get_book (sitting)), NULL);
  GtkWidget *window = gtk_window_new ();
  guint n;
  const FettlePageKind *kinds = fettle_page_kinds (&n);

  gtk_window_set_default_size (GTK_WINDOW (window), 1280, 800);
  gtk_window_present (GTK_WINDOW (window));
  while (!gtk_widget_get_mapped (window))
    g_main_context_iteration (NULL, TRUE);
  for (guint i = 0; i < n; i++)
    for (guint k = 0; kinds[i].in_list && k <= BENCH_PAIRS; k++)
      {
        double work, seconds;

        show_page (&kinds[i], window, sitting, span, &work, &seconds);
        fprintf (bench->answers, "%s %.9f %.9f %.9f %.9f\n", kinds[i].name, work,
                 scan_seconds (db, strcmp (kinds[i].name, "shelf") == 0 ? 0 : span->model), /* its models are all */
                 seconds, calibration_seconds ());
      }
  gtk_window_destroy (GTK_WINDOW (window));
  answer (bench, "end");
}

static void
forget_progress (double share, gpointer data)
{
}

static void
measure_forecast (FILE *answers, FettleSitting *sitting, const FettleSpan *span)
{
  for (guint k = 0; k <= BENCH_PAIRS; k++)
    {
      FettleProgress *progress = fettle_progress_new (forget_progress, NULL);
      double work;

      insight_memo_forget (); /* as after the start */
      work = release_work (sitting, span, progress);
      fettle_progress_end (progress);
      fettle_progress_unref (progress);
      fprintf (answers, "forecast %.9f %.9f\n", work, calibration_seconds ());
    }
  fprintf (answers, "end\n");
  fflush (answers);
}

static const struct
{
  const char *order;
  void (*measure) (FILE *answers, FettleSitting *sitting, const FettleSpan *span);
} beside[] = { { "grid", bench_grid }, { "forms", bench_forms }, { "drafts", bench_drafts }, { "forecast", measure_forecast } };

/* In a window of its own beside the one that shows the book; FALSE: that is no such order. */
static gboolean
measure_beside (Bench *bench, const char *order)
{
  FettleWindow *shown = FETTLE_WINDOW (gtk_application_get_active_window (GTK_APPLICATION (bench->application)));

  for (guint i = 0; i < G_N_ELEMENTS (beside); i++)
    if (g_str_equal (order, beside[i].order))
      {
        beside[i].measure (bench->answers, fettle_window_get_sitting (shown), fettle_window_get_span (shown));
        next_order (bench);
        return TRUE;
      }
  return FALSE;
}

static void
on_order (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Bench *bench = user_data;
  g_autofree char *order = g_data_input_stream_read_line_finish (bench->orders, result, NULL, NULL);

  if (order != NULL && g_str_equal (order, "type"))
    type_reading (bench);
  else if (order != NULL && g_str_equal (order, "pages"))
    measure_pages (bench);
  else if (order == NULL || !measure_beside (bench, order))
    exit (0); /* at once: how the program ends is not measured */
}

/* ---- ready ---- */

/* The frame is drawn, and on its way to the display. */
static void
on_painted (GdkFrameClock *clock, gpointer data)
{
  Bench *bench = data;
  g_autofree char *seconds = g_strdup_printf ("%.9f", bench_now () - bench->typed_at);

  g_signal_handlers_disconnect_by_func (clock, on_painted, data);
  if (!bench->ready)
    answer (bench, "ready");
  else if (bench->typed_at > 0.0)
    answer (bench, seconds);
  bench->ready = TRUE;
  bench->typed_at = 0.0;
}

static void
on_mapped (GtkWidget *widget, gpointer data)
{
  g_signal_handlers_disconnect_by_func (widget, on_mapped, data);
  g_signal_connect (gtk_widget_get_frame_clock (widget), "after-paint", G_CALLBACK (on_painted), data);
  gtk_widget_queue_draw (widget);
}

static void
wait_for_frame (Bench *bench, GtkWidget *widget)
{
  if (gtk_widget_get_mapped (widget))
    on_mapped (widget, bench);
  else
    g_signal_connect_after (widget, "map", G_CALLBACK (on_mapped), bench);
}

static gboolean
on_shown (GSignalInvocationHint *hint, guint n_values, const GValue *values, gpointer data)
{
  Bench *bench = data;

  if (!bench->ready || bench->typed_at > 0.0)
    wait_for_frame (bench, g_value_get_object (&values[0]));
  return TRUE;
}

/* As the program's own main function, and a look at what its page tells. */
static GtkApplication *
fettle (Bench *bench)
{
  gpointer class = g_type_class_ref (FETTLE_TYPE_STANDING_PAGE);

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, FETTLE_LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  present_number_set_local (TRUE);
  g_signal_add_emission_hook (g_signal_lookup ("shown", FETTLE_TYPE_STANDING_PAGE), 0, on_shown, bench, NULL);
  g_type_class_unref (class);
  return fettle_application_new (G_APPLICATION_HANDLES_COMMAND_LINE | G_APPLICATION_NON_UNIQUE);
}

static void
on_bare_activate (GApplication *application, gpointer data)
{
  GtkWidget *window = gtk_application_window_new (GTK_APPLICATION (application));

  gtk_window_set_default_size (GTK_WINDOW (window), 1280, 800);
  gtk_window_present (GTK_WINDOW (window));
  wait_for_frame (data, window);
}

static GtkApplication *
bare (Bench *bench)
{
  GtkApplication *application = gtk_application_new ("org.fettle.Bare", G_APPLICATION_NON_UNIQUE);

  g_signal_connect (application, "activate", G_CALLBACK (on_bare_activate), bench);
  return application;
}

int
main (int argc, char **argv)
{
  Bench bench = { NULL };
  gboolean is_bare = argc == 2 && strcmp (argv[1], "bare") == 0;
  g_autoptr(GInputStream) input = NULL;

  if (!is_bare && (argc != 3 || strcmp (argv[1], "fettle") != 0))
    {
      fprintf (stderr, "bench-window needs 'bare', or 'fettle' and a book\n");
      return 2;
    }
  bench.answers = fdopen (dup (STDOUT_FILENO), "w");
  dup2 (STDERR_FILENO, STDOUT_FILENO);
  input = g_unix_input_stream_new (STDIN_FILENO, FALSE);
  bench.orders = g_data_input_stream_new (input);
  bench.application = G_APPLICATION (is_bare ? bare (&bench) : fettle (&bench));
  return is_bare ? g_application_run (bench.application, 1, argv)
                 : g_application_run (bench.application, argc - 1, argv + 1);
}
