/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Two windows, or a window and the command line, on one book: each sees what the other stores, and a cell that both
 * write shows both values and lets one choose.
 */
#include "config.h"

#include "book-edit.h"
#include "book-readings.h"
#include "book-record.h"
#include "table.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

#include <string.h>

typedef struct
{
  WindowTestFixture base; /* its window is typed into */
  FettleWindow     *other;
  gint64            reading; /* in the current row of the first */
} Fixture;

static void
show_readings (FettleWindow *window)
{
  gtk_widget_activate_action (GTK_WIDGET (window), "win.show-record", "(sx)", "characteristic",
                              window_test_find_record (window, BOOK_RECORD_CHARACTERISTIC, "M2/ST"));
  window_test_wait_page (window, "readings");
}

static GtkWidget *
table (FettleWindow *window)
{
  return window_test_get (GTK_WIDGET (window), "readings-table");
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  const char *record;

  window_test_set_up (&fixture->base, "standing");
  show_readings (fixture->base.window);
  fixture->other = window_test_open (fixture->base.book, "standing");
  show_readings (fixture->other);
  gtk_widget_grab_focus (table (fixture->base.window));
  g_assert_true (fettle_page_get_place (fettle_window_get_page (fixture->base.window), &record, &fixture->reading));
  g_assert_cmpstr (record, ==, "reading");
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  window_test_close (fixture->other);
  window_test_tear_down (&fixture->base, data);
}

/* ---- what is stored ---- */

static BookRow *
read_row (Fixture *fixture)
{
  return window_test_read_record (fixture->base.window, BOOK_RECORD_READING, fixture->reading);
}

static double
value (Fixture *fixture)
{
  g_autoptr(BookRow) row = read_row (fixture);

  return book_row_get (row, "value")->real;
}

typedef struct
{
  Fixture *fixture;
  double   value;
} Wanted;

static gboolean
has_value (gpointer data)
{
  const Wanted *wanted = data;

  return value (wanted->fixture) > wanted->value - 1e-9 && value (wanted->fixture) < wanted->value + 1e-9;
}

static void
wait_value (Fixture *fixture, double wanted)
{
  Wanted waiting = { fixture, wanted };

  window_test_wait (has_value, &waiting, "the value");
  window_test_settle ();
}

static void
on_stored (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(GError) error = NULL;

  fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error);
  g_assert_no_error (error);
}

/* The same reading, stored by the other window. */
static void
store_elsewhere (Fixture *fixture, double number)
{
  g_autoptr(BookRow) row = read_row (fixture);
  const BookTyped typed = { .mark = BOOK_MARK_MEASURED, .has_value = TRUE, .value = number };

  fettle_sitting_edit (fettle_window_get_sitting (fixture->other),
                       book_edit_reading (book_row_get (row, "unit")->integer, book_row_get (row, "characteristic")->integer,
                                          (guint) book_row_get (row, "attempt")->integer, (guint) book_row_get (row, "n")->integer,
                                          &typed, NULL),
                       on_stored, NULL);
  wait_value (fixture, number);
}

/* ---- what is shown ---- */

static const char *
said (Fixture *fixture)
{
  return gtk_label_get_label (GTK_LABEL (window_test_get (GTK_WIDGET (fixture->base.window), "said")));
}

static gboolean
both_told (gpointer data)
{
  return strstr (said (data), "Somebody else wrote") != NULL;
}

static GtkEditable *
begin (Fixture *fixture)
{
  fettle_table_edit (FETTLE_TABLE (table (fixture->base.window)));
  window_test_settle ();
  return GTK_EDITABLE (window_test_get (table (fixture->base.window), "cell"));
}

/* 250 is typed here, and not stored; meanwhile the other window stores 175. */
static GtkEditable *
type_against (Fixture *fixture)
{
  GtkEditable *cell = begin (fixture);

  gtk_editable_set_text (cell, "250");
  store_elsewhere (fixture, 175);
  window_test_wait (both_told, fixture, "both values");
  return cell;
}

static gboolean
in_text (gpointer data)
{
  const Wanted *wanted = data;
  g_autofree char *text = g_strdup_printf ("%g", wanted->value);

  return strstr (gtk_editable_get_text (GTK_EDITABLE (window_test_get (table (wanted->fixture->base.window), "cell"))), text) != NULL;
}

/* ---- tests ---- */

static gboolean
has_person (gpointer data)
{
  return window_test_find_person (data, "ZZ") != NULL;
}

static void
test_windows_see_each_other (Fixture *fixture, gconstpointer data)
{
  fettle_sitting_edit (fettle_window_get_sitting (fixture->other), book_edit_add_person ("ZZ", BOOK_ROLE_MAKER, NULL), NULL, NULL);
  window_test_wait (has_person, fixture->base.window, "the person, in the other window");
}

static void
batch (Fixture *fixture, const char *verb)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GSubprocess) process = g_subprocess_new (G_SUBPROCESS_FLAGS_STDOUT_SILENCE, &error, g_getenv ("FETTLE_BATCH"), verb,
                                                     "--book", fixture->base.book, NULL);

  g_assert_no_error (error);
  g_assert_true (g_subprocess_wait_check (process, NULL, &error));
  g_assert_no_error (error);
}

static gboolean
has_no_person (gpointer data)
{
  return !has_person (data);
}

static void
test_a_program_is_seen (Fixture *fixture, gconstpointer data)
{
  fettle_sitting_edit (fettle_window_get_sitting (fixture->other), book_edit_add_person ("ZZ", BOOK_ROLE_MAKER, NULL), NULL, NULL);
  window_test_wait (has_person, fixture->base.window, "the person");
  window_test_settle ();
  batch (fixture, "undo");
  window_test_wait (has_no_person, fixture->base.window, "what the command line took back");
  window_test_wait (has_no_person, fixture->other, "the same in the other window");
}

/* Typed here, stored there: both are told; Enter stores what is typed. */
static void
test_both_values_and_ours (Fixture *fixture, gconstpointer data)
{
  GtkEditable *cell = type_against (fixture);

  g_test_message ("%s", said (fixture));
  g_assert_nonnull (strstr (said (fixture), "175"));
  g_assert_nonnull (strstr (said (fixture), "250"));
  g_assert_cmpstr (gtk_editable_get_text (cell), ==, "250");
  g_assert_true (fettle_table_finish (FETTLE_TABLE (table (fixture->base.window)))); /* as Enter does */
  wait_value (fixture, 250);
}

/* ... Escape leaves theirs. */
static void
test_both_values_and_theirs (Fixture *fixture, gconstpointer data)
{
  type_against (fixture);
  window_test_press (table (fixture->base.window), GDK_KEY_Escape, 0);
  window_test_settle ();
  g_assert_false (fettle_table_is_editing (FETTLE_TABLE (table (fixture->base.window))));
  g_usleep (200000);
  window_test_settle ();
  g_assert_cmpfloat_with_epsilon (value (fixture), 175, 1e-9);
}

/* Going elsewhere chooses neither: what is typed stays in the cell, and theirs in the book. */
static void
test_leaving_chooses_neither (Fixture *fixture, gconstpointer data)
{
  GtkEditable *cell = type_against (fixture);

  gtk_widget_grab_focus (window_test_get (GTK_WIDGET (fixture->base.window), "strip"));
  window_test_settle ();
  g_assert_cmpfloat_with_epsilon (value (fixture), 175, 1e-9);
  g_assert_true (fettle_table_is_editing (FETTLE_TABLE (table (fixture->base.window))));
  g_assert_cmpstr (gtk_editable_get_text (cell), ==, "250");
}

/* Nothing typed yet: the cell shows theirs. */
static void
test_an_untouched_cell_follows (Fixture *fixture, gconstpointer data)
{
  Wanted wanted = { fixture, 175 };

  begin (fixture);
  store_elsewhere (fixture, 175);
  window_test_wait (in_text, &wanted, "their value");
  g_assert_null (strstr (said (fixture), "Somebody"));
}

/* The other program takes back what the other window had stored, while the cell is typed into. */
static void
test_a_program_and_a_cell (Fixture *fixture, gconstpointer data)
{
  double before = value (fixture);
  Wanted theirs = { fixture, 175 };
  GtkEditable *cell;

  /* Only once the cell shows 175 is taking it back a change of what was there when typing began. */
  store_elsewhere (fixture, 175);
  cell = begin (fixture);
  window_test_wait (in_text, &theirs, "their value");
  gtk_editable_set_text (cell, "250");
  batch (fixture, "undo");
  wait_value (fixture, before);
  window_test_wait (both_told, fixture, "both values");
  g_test_message ("%s", said (fixture));
  g_assert_cmpstr (gtk_editable_get_text (cell), ==, "250");
  window_test_press (table (fixture->base.window), GDK_KEY_Escape, 0);
}

/* As GTK tells it when a person turns to another window: the cell is left, and stays the one that the keyboard comes back to. */
static void
turn_away (GtkWidget *widget)
{
  g_autoptr(GListModel) controllers = gtk_widget_observe_controllers (widget);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr(GObject) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_EVENT_CONTROLLER_FOCUS (controller))
        g_signal_emit_by_name (controller, "leave");
    }
  window_test_settle ();
}

static void
test_another_window_stores_nothing (Fixture *fixture, gconstpointer data)
{
  GtkEditable *cell = begin (fixture);
  double before = value (fixture);

  gtk_editable_set_text (cell, "25");
  turn_away (GTK_WIDGET (cell));
  g_usleep (200000);
  window_test_settle ();
  g_assert_cmpfloat_with_epsilon (value (fixture), before, 1e-9);
  g_assert_true (fettle_table_is_editing (FETTLE_TABLE (table (fixture->base.window))));
  gtk_editable_set_text (cell, "250");
  gtk_widget_grab_focus (window_test_get (GTK_WIDGET (fixture->base.window), "strip")); /* this does leave it */
  wait_value (fixture, 250);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);

#define ADD(name, test) g_test_add ("/window/two/" name, Fixture, NULL, set_up, test, tear_down)
  ADD ("windows-see-each-other", test_windows_see_each_other);
  ADD ("another-program-is-seen", test_a_program_is_seen);
  ADD ("a-cell-shows-both-values-and-enter-stores-ours", test_both_values_and_ours);
  ADD ("a-cell-shows-both-values-and-escape-leaves-theirs", test_both_values_and_theirs);
  ADD ("leaving-chooses-neither", test_leaving_chooses_neither);
  ADD ("an-untouched-cell-follows", test_an_untouched_cell_follows);
  ADD ("another-program-and-a-cell", test_a_program_and_a_cell);
  ADD ("turning-to-another-window-stores-nothing", test_another_window_stores_nothing);
#undef ADD
  return g_test_run ();
}
