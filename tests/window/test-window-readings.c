/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Readings page on a book: correcting, voiding, undo, what others write meanwhile, and what is typed and not stored. */
#include "config.h"

#include <string.h>

#include "book-evidence.h"
#include "book-readings.h"
#include "table-private.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

typedef WindowTestFixture Fixture;

static GtkWidget *
get (Fixture *fixture, const char *name)
{
  return window_test_get (window_test_page (fixture->window), name);
}

static FettleTable *
table (Fixture *fixture)
{
  return FETTLE_TABLE (get (fixture, "readings-table"));
}

static GtkEditable *
cell (Fixture *fixture)
{
  return GTK_EDITABLE (get (fixture, "cell"));
}

static char *
words (Fixture *fixture)
{
  guint row;

  return fettle_table_get_row (table (fixture), &row)
             ? fettle_table_source_describe (table (fixture)->source, row, 0) : g_strdup ("");
}

static gboolean
has_rows (gpointer data)
{
  return fettle_table_n_rows (table (data)) > 0;
}

typedef struct
{
  Fixture    *fixture;
  const char *part;
} Told;

static gboolean
tells (gpointer data)
{
  Told *told = data;
  g_autofree char *current = words (told->fixture);

  return strstr (current, told->part) != NULL;
}

static void
wait_words (Fixture *fixture, const char *part)
{
  window_test_wait (tells, &(Told){ fixture, part }, part);
  window_test_settle ();
}

static void
wait_rows (Fixture *fixture, guint n)
{
  window_test_wait_rows (fixture->window, "readings-table", n);
}

static void
wait_shown (Fixture *fixture)
{
  window_test_wait (has_rows, fixture, "readings");
  window_test_settle ();
}

/* Another window on the same book. */
static void
open_again (Fixture *fixture)
{
  fixture->window = window_test_open (fixture->book, "readings");
  wait_shown (fixture);
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  window_test_set_up (fixture, "readings");
  wait_shown (fixture);
}

/* The page with the play of each unit, a measured characteristic. */
static void
set_up_play (Fixture *fixture, gconstpointer data)
{
  set_up (fixture, data);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "characteristic")), 2);
  wait_words (fixture, "Play");
}

static FettleSitting *
sitting (Fixture *fixture)
{
  return fettle_window_get_sitting (fixture->window);
}

static gboolean
press (Fixture *fixture, guint key)
{
  gboolean handled = window_test_press (GTK_WIDGET (table (fixture)), key, 0);

  window_test_settle ();
  return handled;
}

/* ---- the book ---- */

static BookReadingRow *
read_reading (Fixture *fixture, gint64 key)
{
  g_autoptr(GError) error = NULL;
  StoreDb *db = window_test_db (fixture->window);
  BookReadingRow *row = NULL;

  g_assert_true (book_readings_read (db, &key, 1, &row, &error));
  g_assert_nonnull (row);
  return row;
}

typedef struct
{
  Fixture *fixture;
  gint64   key;
  double   value;
} Expected;

static gboolean
has_value (gpointer data)
{
  Expected *expected = data;
  g_autoptr(BookReadingRow) row = read_reading (expected->fixture, expected->key);

  return ABS (row->value - expected->value) < 1e-9;
}

static void
wait_value (Fixture *fixture, gint64 key, double value)
{
  window_test_wait (has_value, &(Expected){ fixture, key, value }, "the value in the book");
  window_test_settle ();
}

static gint64
key_at (Fixture *fixture, guint row)
{
  return fettle_table_source_get_key (table (fixture)->source, row);
}

static gint64
first_person (Fixture *fixture)
{
  g_assert_cmpuint (fixture->window->facts->n_persons, >, 0);
  return fixture->window->facts->persons[0].key;
}

/* ---- what is shown ---- */

static void
test_shown (Fixture *fixture, gconstpointer data)
{
  g_autofree char *current = words (fixture);

  g_test_message ("%s", current);
  /* 24 units of the newest round, and the characteristic that comes first. */
  g_assert_cmpstr (gtk_label_get_label (GTK_LABEL (get (fixture, "count"))), ==, "24 readings");
  g_assert_cmpuint (fettle_table_n_rows (table (fixture)), ==, 24);
  g_assert_true (gtk_widget_get_mapped (get (fixture, "chart")));
  g_assert_cmpstr (gtk_label_get_label (GTK_LABEL (get (fixture, "words"))), !=, "");
}

static void
test_chosen (Fixture *fixture, gconstpointer data)
{
  GtkDropDown *choice = GTK_DROP_DOWN (get (fixture, "characteristic"));
  g_autofree char *before = NULL, *after = NULL;

  fettle_table_go (table (fixture), 7);
  before = words (fixture);
  gtk_drop_down_set_selected (choice, 3);
  wait_words (fixture, "Strength");
  after = words (fixture);
  g_test_message ("%s | %s", before, after);
  g_assert_cmpstr (before, !=, after);
  before[4] = after[4] = '\0'; /* the serial: who looked at a unit goes on looking at it */
  g_assert_cmpstr (before, ==, after);

  gtk_drop_down_set_selected (choice, 0); /* every characteristic: three a unit, no chart */
  wait_rows (fixture, 72);
  g_assert_false (gtk_widget_get_mapped (get (fixture, "chart")));
}

static gboolean
other_round (gpointer data)
{
  g_autofree char *current = words (data);

  return g_str_has_prefix (current, "P1-03");
}

static void
test_led_to (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  StoreDb *db = window_test_db (fixture->window);
  const FettleSpan *span = fettle_window_get_span (fixture->window);
  g_autoptr(BookEvidence) evidence = book_evidence_load (db, span->model, &error);
  gint64 newest = span->to;

  g_assert_no_error (error);
  for (guint i = 0; i < evidence->n_units; i++)
    if (g_str_equal (evidence->units[i].serial, "P1-03"))
      gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.show-record", "(sx)", "unit", evidence->units[i].id);
  window_test_wait (other_round, fixture, "the unit of another round");
  window_test_settle ();
  g_assert_cmpint (fettle_window_get_span (fixture->window)->to, !=, newest); /* the strip follows */
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (fixture->window)) == GTK_WIDGET (table (fixture)));
}

/* ---- correcting ---- */

static void
test_corrected (Fixture *fixture, gconstpointer data)
{
  gint64 key = key_at (fixture, 2);
  g_autoptr(BookReadingRow) before = read_reading (fixture, key);

  fettle_table_go (table (fixture), 2);
  g_signal_emit_by_name (get (fixture, "edit"), "clicked");
  g_assert_true (fettle_table_is_editing (table (fixture)));
  gtk_editable_set_text (cell (fixture), "0,199"); /* a comma is one too */
  press (fixture, GDK_KEY_Return);
  wait_value (fixture, key, 0.199);
  press (fixture, GDK_KEY_Escape);

  window_test_wait_undo (fixture->window);
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_z, GDK_CONTROL_MASK));
  wait_value (fixture, key, before->value);
  window_test_wait_redo (fixture->window);
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_z, GDK_CONTROL_MASK | GDK_SHIFT_MASK));
  wait_value (fixture, key, 0.199);
}

static void
test_wrong (Fixture *fixture, gconstpointer data)
{
  gint64 key = key_at (fixture, 0);
  g_autoptr(BookReadingRow) before = read_reading (fixture, key), after = NULL;
  GtkLabel *sentence = GTK_LABEL (get (fixture, "said"));

  press (fixture, GDK_KEY_F2);
  gtk_editable_set_text (cell (fixture), "0.1.2");
  press (fixture, GDK_KEY_Return);
  g_test_message ("%s", gtk_label_get_label (sentence));
  g_assert_nonnull (strstr (gtk_label_get_label (sentence), "0.1.2"));
  g_assert_cmpstr (gtk_editable_get_text (cell (fixture)), ==, "0.1.2");
  after = read_reading (fixture, key);
  g_assert_cmpfloat (after->value, ==, before->value);
  press (fixture, GDK_KEY_Escape);
  g_assert_cmpstr (gtk_label_get_label (sentence), ==, "");
}

/* ---- others write meanwhile ---- */

static void
add_before (Fixture *fixture)
{
  g_autoptr(BookReadingRow) first = read_reading (fixture, key_at (fixture, 0));
  BookTyped typed = { .mark = BOOK_MARK_MEASURED, .has_value = TRUE, .value = 0.111 };
  guint before = fettle_table_n_rows (table (fixture));

  window_test_edit (fixture->window, book_edit_reading (first->unit_key, first->characteristic_key, 2, 1, &typed, "2026-11-20"));
  wait_rows (fixture, before + 1);
}

static void
test_selection (Fixture *fixture, gconstpointer data)
{
  gint64 key = key_at (fixture, 9);
  guint row;

  fettle_table_go (table (fixture), 9);
  add_before (fixture);
  g_assert_true (fettle_table_get_row (table (fixture), &row));
  g_assert_cmpuint (row, ==, 10);
  g_assert_cmpint (key_at (fixture, row), ==, key);
}

static void
test_typed_into (Fixture *fixture, gconstpointer data)
{
  gint64 key = key_at (fixture, 9), other = key_at (fixture, 8);
  g_autoptr(BookReadingRow) before = read_reading (fixture, other), after = NULL;

  fettle_table_go (table (fixture), 9);
  press (fixture, GDK_KEY_F2);
  gtk_editable_set_text (cell (fixture), "0.177");
  add_before (fixture);
  g_assert_true (fettle_table_is_editing (table (fixture)));
  g_assert_cmpstr (gtk_editable_get_text (cell (fixture)), ==, "0.177");
  press (fixture, GDK_KEY_Return);
  wait_value (fixture, key, 0.177);
  after = read_reading (fixture, other);
  g_assert_cmpfloat (after->value, ==, before->value);
}

/* ---- voiding ---- */

static void
test_voided (Fixture *fixture, gconstpointer data)
{
  gint64 key = key_at (fixture, 4);
  GtkToggleButton *open = GTK_TOGGLE_BUTTON (get (fixture, "void"));
  GtkWidget *reason = get (fixture, "void-reason"), *act = get (fixture, "void-do");
  GtkListBox *persons;
  g_autoptr(BookReadingRow) voided = NULL, back = NULL;

  fettle_table_go (table (fixture), 4);
  gtk_toggle_button_set_active (open, TRUE);
  window_test_settle ();
  g_assert_false (gtk_widget_get_mapped (reason)); /* nobody writes yet: that is asked first */
  persons = GTK_LIST_BOX (window_test_get (GTK_WIDGET (fixture->window), "persons"));
  g_signal_emit_by_name (persons, "row-activated", gtk_list_box_get_row_at_index (persons, 0));
  window_test_settle ();
  g_assert_true (gtk_widget_get_mapped (reason)); /* and then it goes on */

  g_assert_false (gtk_widget_get_sensitive (act));
  gtk_editable_set_text (GTK_EDITABLE (reason), "   ");
  g_assert_false (gtk_widget_get_sensitive (act)); /* blanks are no reason */
  gtk_editable_set_text (GTK_EDITABLE (reason), " dropped ");
  g_assert_true (gtk_widget_get_sensitive (act));
  add_before (fixture); /* the row moves down while the reason is typed */
  g_signal_emit_by_name (act, "clicked");
  wait_words (fixture, "voided");

  voided = read_reading (fixture, key);
  g_assert_true (voided->voided);
  g_assert_cmpstr (voided->reason, ==, "dropped");
  g_assert_false (gtk_widget_get_mapped (reason));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (reason)), ==, "");
  g_assert_false (gtk_widget_get_sensitive (get (fixture, "edit"))); /* a void reading is not corrected */
  g_assert_false (gtk_widget_get_sensitive (GTK_WIDGET (open)));
  press (fixture, GDK_KEY_1);
  g_assert_false (fettle_table_is_editing (table (fixture)));

  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_z, GDK_CONTROL_MASK));
  wait_words (fixture, "inside");
  back = read_reading (fixture, key);
  g_assert_false (back->voided);
  g_assert_true (gtk_widget_get_sensitive (GTK_WIDGET (open)));
}

static void
test_reason_stays (Fixture *fixture, gconstpointer data)
{
  GtkToggleButton *open = GTK_TOGGLE_BUTTON (get (fixture, "void"));
  GtkWidget *reason = get (fixture, "void-reason");

  fettle_sitting_set_person (sitting (fixture), first_person (fixture));
  gtk_toggle_button_set_active (open, TRUE);
  gtk_editable_set_text (GTK_EDITABLE (reason), "half a rea");
  g_assert_true (window_test_shortcut (reason, GDK_KEY_Escape, 0));
  window_test_settle ();
  g_assert_false (gtk_widget_get_mapped (reason));
  gtk_toggle_button_set_active (open, TRUE);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (reason)), ==, "half a rea");
}

/* ---- typed and not stored ---- */

static void
test_refused_by_book (Fixture *fixture, gconstpointer data)
{
  gint64 key = key_at (fixture, 3);
  g_autoptr(BookReadingRow) after = NULL;
  g_autofree char *kept = NULL;

  fettle_sitting_set_person (sitting (fixture), first_person (fixture));
  fettle_table_go (table (fixture), 3);
  press (fixture, GDK_KEY_F2);
  gtk_editable_set_text (cell (fixture), "0.155");
  /* Voided elsewhere, and the page has not heard of it: the writer refuses what it is handed next. */
  fettle_sitting_edit (sitting (fixture), book_edit_void (key, "dropped"), NULL, NULL);
  g_assert_true (fettle_table_finish (table (fixture)));
  window_test_wait_said (fixture->window, NULL);
  g_test_message ("%s", window_test_said (fixture->window));
  after = read_reading (fixture, key);
  g_assert_true (after->voided);
  g_assert_cmpfloat (ABS (after->value - 0.155), >, 1e-9);
  kept = fettle_table_source_dup_typed (table (fixture)->source, key, 4);
  g_assert_cmpstr (kept, ==, "0.155"); /* what was typed is not lost with it */
}

static gboolean
is_kept (gpointer data)
{
  g_autofree char *folder = g_build_filename (g_get_user_state_dir (), "fettle", "typed", NULL);
  g_autoptr(GDir) dir = g_dir_open (folder, 0, NULL);

  return dir != NULL && g_dir_read_name (dir) != NULL;
}

static gboolean
is_editing (gpointer data)
{
  return fettle_table_is_editing (table (data));
}

static void
test_restored (Fixture *fixture, gconstpointer data)
{
  gint64 key = key_at (fixture, 5);

  fettle_table_go (table (fixture), 5);
  press (fixture, GDK_KEY_F2);
  gtk_editable_set_text (cell (fixture), "0.1x");
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "void-reason")), "because");
  window_test_close (fixture->window);
  window_test_wait (is_kept, NULL, "the file of what was typed"); /* written in a thread while the window ends */

  open_again (fixture);
  window_test_wait (is_editing, fixture, "the cell that was typed into");
  g_assert_cmpint (key_at (fixture, table (fixture)->row), ==, key);
  g_assert_cmpstr (gtk_editable_get_text (cell (fixture)), ==, "0.1x");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get (fixture, "void-reason"))), ==, "because");
  gtk_editable_set_text (cell (fixture), "0.188");
  press (fixture, GDK_KEY_Return);
  wait_value (fixture, key, 0.188);
  press (fixture, GDK_KEY_Escape);
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "void-reason")), "");
}

/* ---- names ---- */

static void
test_names (Fixture *fixture, gconstpointer data)
{
  press (fixture, GDK_KEY_F2);
  g_assert_cmpuint (window_test_count_named (window_test_page (fixture->window)), >=, 9);
  press (fixture, GDK_KEY_Escape);
}

#define ADD(path, test) g_test_add (path, Fixture, NULL, set_up_play, test, window_test_tear_down)

int
main (int argc, char **argv)
{
  window_test_init_apart (&argc, &argv);
  g_test_add ("/window/readings/shows-the-newest-round", Fixture, NULL, set_up, test_shown, window_test_tear_down);
  ADD ("/window/readings/another-characteristic-keeps-the-unit", test_chosen);
  ADD ("/window/readings/leads-to-a-unit-of-another-round", test_led_to);
  ADD ("/window/readings/a-value-is-corrected-and-taken-back", test_corrected);
  ADD ("/window/readings/a-wrong-number-stays-with-its-sentence", test_wrong);
  ADD ("/window/readings/selection-outlives-a-refresh", test_selection);
  ADD ("/window/readings/typing-meets-the-reading-that-was-meant", test_typed_into);
  ADD ("/window/readings/a-void-needs-a-person-and-a-reason", test_voided);
  ADD ("/window/readings/a-half-typed-reason-stays", test_reason_stays);
  ADD ("/window/readings/what-the-book-refuses-is-not-lost", test_refused_by_book);
  ADD ("/window/readings/what-was-typed-outlives-the-window", test_restored);
  ADD ("/window/readings/every-control-has-a-name", test_names);
  return window_test_run_apart ();
}
