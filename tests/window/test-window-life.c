/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Life tests page on a book: tests entered in the grid by keys, errors in words, undo, and what is typed and not stored. */
#include "config.h"

#include <string.h>

#include "table-private.h"
#include "unit-page.h"
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
  return FETTLE_TABLE (get (fixture, "life-table"));
}

static const char *
label (Fixture *fixture, const char *name)
{
  return gtk_label_get_label (GTK_LABEL (get (fixture, name)));
}

static void
wait_rows (Fixture *fixture, guint n)
{
  window_test_wait_rows (fixture->window, "life-table", n);
}

static gboolean
has_choice (gpointer data)
{
  return g_list_model_get_n_items (gtk_drop_down_get_model (GTK_DROP_DOWN (get (data, "life-characteristic")))) > 1;
}

/* Nothing was cycled in this book: a characteristic is chosen first. */
static void
open_page (Fixture *fixture, guint rows)
{
  fixture->window = window_test_open (fixture->book, "life");
  window_test_wait (has_choice, fixture, "the characteristics");
  if (fettle_table_n_rows (table (fixture)) == 0)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "life-characteristic")), 0);
  wait_rows (fixture, rows);
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  window_test_set_up (fixture, "life");
  window_test_wait (has_choice, fixture, "the characteristics");
}

static void
choose (Fixture *fixture)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "life-characteristic")), 0);
  wait_rows (fixture, 1);
}

static void
press (Fixture *fixture, guint key)
{
  window_test_press (GTK_WIDGET (table (fixture)), key, 0);
  window_test_settle ();
}

/* Types into the cell that is open, and goes on by @key. */
static void
type (Fixture *fixture, const char *text, guint key)
{
  g_assert_true (fettle_table_is_editing (table (fixture)));
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "cell")), text);
  press (fixture, key);
}

static char *
words (Fixture *fixture, guint row)
{
  return fettle_table_source_describe (table (fixture)->source, row, 0);
}

/* The columns are day, unit, load, ended, issue, cycles; the day is there, and typing begins at the unit. */
static void
type_test (Fixture *fixture, const char *unit, const char *ended, const char *cycles)
{
  fettle_table_edit (table (fixture));
  type (fixture, unit, GDK_KEY_Tab);
  type (fixture, "5", GDK_KEY_Tab);
  type (fixture, ended, GDK_KEY_Tab);
  press (fixture, GDK_KEY_Tab); /* no issue named */
  type (fixture, cycles, GDK_KEY_Return);
}

static void
test_empty (Fixture *fixture, gconstpointer data)
{
  g_assert_nonnull (strstr (label (fixture, "life-lead"), "No characteristic"));
  g_assert_nonnull (strstr (label (fixture, "caution"), "guard"));
  choose (fixture);
  g_assert_nonnull (strstr (label (fixture, "life-lead"), "No life test"));
  g_assert_nonnull (strstr (label (fixture, "caution"), "cut-resistant"));
}

static void
test_entered (Fixture *fixture, gconstpointer data)
{
  g_autofree char *first = NULL, *second = NULL;

  choose (fixture);
  type_test (fixture, "P1-01", "s", "6000");
  wait_rows (fixture, 2);
  type_test (fixture, "p1-02", "fail", "4100,5"); /* small letters, and a comma, are meant as well */
  wait_rows (fixture, 3);
  first = words (fixture, 0);
  second = words (fixture, 1);
  g_test_message ("%s | %s", first, second);
  g_assert_nonnull (strstr (first, "P1-01"));
  g_assert_nonnull (strstr (first, "Stopped"));
  g_assert_nonnull (strstr (first, "6000"));
  g_assert_nonnull (strstr (second, "Failed"));
  g_assert_nonnull (strstr (second, "4100.5"));
  window_test_wait_answers (fixture->window);
  g_assert_true (gtk_widget_get_mapped (get (fixture, "growth-chart")));
}

static void
test_undone (Fixture *fixture, gconstpointer data)
{
  g_autofree char *kept = NULL;

  choose (fixture);
  type_test (fixture, "P1-01", "stopped", "6000");
  wait_rows (fixture, 2);
  window_test_wait_undo (fixture->window);
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_z, GDK_CONTROL_MASK));
  wait_rows (fixture, 1); /* the whole row by one undo */
  kept = words (fixture, 0);
  g_assert_null (strstr (kept, "6000"));
}

static void
test_wrong (Fixture *fixture, gconstpointer data)
{
  choose (fixture);
  fettle_table_edit (table (fixture));
  type (fixture, "ZZ-99", GDK_KEY_Tab);
  g_assert_nonnull (strstr (label (fixture, "life-said"), "ZZ-99"));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get (fixture, "cell"))), ==, "ZZ-99");
  press (fixture, GDK_KEY_Escape);
  g_assert_cmpstr (label (fixture, "life-said"), ==, "");
  fettle_table_edit (table (fixture));
  type (fixture, "P1-01", GDK_KEY_Tab);
  type (fixture, "", GDK_KEY_Tab);
  type (fixture, "burst", GDK_KEY_Tab);
  g_assert_nonnull (strstr (label (fixture, "life-said"), "Failed, Stopped"));
  press (fixture, GDK_KEY_Escape);
  wait_rows (fixture, 1);
}

/* Half a row is there again in the next window on the book. */
static void
test_kept (Fixture *fixture, gconstpointer data)
{
  g_autofree char *kept = NULL;

  choose (fixture);
  fettle_table_edit (table (fixture));
  type (fixture, "P1-03", GDK_KEY_Tab);
  type (fixture, "7", GDK_KEY_Tab);
  window_test_close (fixture->window);
  open_page (fixture, 1);
  kept = words (fixture, 0);
  g_test_message ("%s", kept);
  g_assert_nonnull (strstr (kept, "P1-03"));
  g_assert_nonnull (strstr (kept, "7"));
}

/* What the book itself refuses stays in the row, and is stored once that is mended. */
static void
test_refused_by_book (Fixture *fixture, gconstpointer data)
{
  g_autofree char *kept = NULL;

  choose (fixture);
  fettle_table_go_to_cell (table (fixture), 0, 0);
  fettle_table_edit (table (fixture));
  type (fixture, "2099-01-01", GDK_KEY_Tab);
  g_assert_cmpuint (table (fixture)->column, ==, 1);
  press (fixture, GDK_KEY_Escape);
  type_test (fixture, "P1-01", "stopped", "6000");
  window_test_wait_said (fixture->window, NULL);
  window_test_settle ();
  g_test_message ("%s", window_test_said (fixture->window));
  g_assert_cmpuint (fettle_table_n_rows (table (fixture)), ==, 1);
  kept = words (fixture, 0);
  g_assert_nonnull (strstr (kept, "2099-01-01"));
  g_assert_nonnull (strstr (kept, "6000"));
  fettle_table_go_to_cell (table (fixture), 0, 0);
  fettle_table_edit (table (fixture));
  type (fixture, "2026-03-01", GDK_KEY_Return);
  wait_rows (fixture, 2);
}

/* Rows lead to their unit. */
static gboolean
is_on_unit (gpointer data)
{
  return FETTLE_IS_UNIT_PAGE (fettle_window_get_page (((Fixture *) data)->window));
}

static void
test_leads (Fixture *fixture, gconstpointer data)
{
  choose (fixture);
  g_assert_false (gtk_widget_get_sensitive (get (fixture, "life-unit")));
  type_test (fixture, "P1-01", "stopped", "6000");
  wait_rows (fixture, 2);
  fettle_table_go (table (fixture), 0);
  window_test_settle ();
  g_assert_true (gtk_widget_get_sensitive (get (fixture, "life-unit")));
  g_assert_false (gtk_widget_get_sensitive (get (fixture, "life-issue"))); /* none is named */
  g_assert_cmpuint (window_test_count_named (window_test_page (fixture->window)), >=, 5);
  g_signal_emit_by_name (get (fixture, "life-unit"), "clicked");
  window_test_wait (is_on_unit, fixture, "the unit");
  window_test_settle ();
}

static void
test_removed (Fixture *fixture, gconstpointer data)
{
  choose (fixture);
  type_test (fixture, "P1-01", "stopped", "6000");
  wait_rows (fixture, 2);
  fettle_table_go (table (fixture), 0);
  window_test_settle ();
  g_signal_emit_by_name (get (fixture, "life-remove"), "clicked");
  wait_rows (fixture, 1);
  window_test_wait_undo (fixture->window);
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_z, GDK_CONTROL_MASK));
  wait_rows (fixture, 2);
}

static void
test_corrected (Fixture *fixture, gconstpointer data)
{
  g_autofree char *now = NULL;

  choose (fixture);
  type_test (fixture, "P1-01", "stopped", "6000");
  wait_rows (fixture, 2);
  fettle_table_go_to_cell (table (fixture), 0, 5);
  fettle_table_edit (table (fixture));
  type (fixture, "6100", GDK_KEY_Return);
  press (fixture, GDK_KEY_Escape);
  window_test_wait_answers (fixture->window);
  now = words (fixture, 0);
  g_assert_nonnull (strstr (now, "6100"));
}

int
main (int argc, char **argv)
{
  window_test_init_apart (&argc, &argv);
#define ADD(path, test) g_test_add ("/window/life/" path, Fixture, NULL, set_up, test, window_test_tear_down)
  ADD ("says-that-nothing-was-cycled-and-warns", test_empty);
  ADD ("takes-tests-by-keys", test_entered);
  ADD ("undoes-a-test-as-a-whole", test_undone);
  ADD ("refuses-in-a-sentence-and-keeps-what-was-typed", test_wrong);
  ADD ("keeps-half-a-test-for-the-next-window", test_kept);
  ADD ("corrects-a-cell", test_corrected);
  ADD ("keeps-what-the-book-refuses", test_refused_by_book);
  ADD ("leads-to-the-unit", test_leads);
  ADD ("removes-a-test-and-takes-it-back", test_removed);
#undef ADD
  return window_test_run_apart ();
}
