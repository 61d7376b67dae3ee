/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The History page: what was done, field by field, taken back from there, days compared, one record, and the check. */
#include "config.h"

#include <string.h>

#include "book-day.h"
#include "book-readings.h"
#include "table-private.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

typedef struct
{
  WindowTestFixture base;
  gint64            reading; /* one that was voided after the import */
} Fixture;

static GtkWidget *
get (Fixture *fixture, const char *name)
{
  return window_test_get (window_test_page (fixture->base.window), name);
}

static FettleTable *
table (Fixture *fixture, const char *name)
{
  return FETTLE_TABLE (get (fixture, name));
}

static char *
words_of (Fixture *fixture, const char *name, guint row)
{
  return fettle_table_source_describe (table (fixture, name)->source, row, 0);
}

static const char *
label (Fixture *fixture, const char *name)
{
  return gtk_label_get_label (GTK_LABEL (get (fixture, name)));
}

static FettleSitting *
sitting (Fixture *fixture)
{
  return fettle_window_get_sitting (fixture->base.window);
}

typedef struct
{
  Fixture    *fixture;
  const char *table;
  guint       row;
  const char *part;
} Told;

static gboolean
tells (gpointer data)
{
  Told *told = data;
  g_autofree char *words = NULL;

  if (fettle_table_n_rows (table (told->fixture, told->table)) <= told->row)
    return FALSE;
  words = words_of (told->fixture, told->table, told->row);
  return strstr (words, told->part) != NULL;
}

static void
wait_words (Fixture *fixture, const char *name, guint row, const char *part)
{
  window_test_wait (tells, &(Told){ fixture, name, row, part }, part);
  window_test_settle ();
}

static gint64
first_reading (Fixture *fixture)
{
  g_autoptr(GError) error = NULL;
  StoreDb *db = window_test_db (fixture->base.window);
  BookReadingsAsk which = { .model = fettle_window_get_span (fixture->base.window)->model };
  g_autoptr(GArray) keys = book_readings_keys (db, &which, NULL, &error);

  g_assert_no_error (error);
  return g_array_index (keys, gint64, 0);
}

/* A book of one import, and a reading voided by its first person. */
static void
set_up (Fixture *fixture, gconstpointer data)
{
  window_test_set_up (&fixture->base, "history");
  wait_words (fixture, "actions", 0, "Imported");
  fettle_sitting_set_person (sitting (fixture), fixture->base.window->facts->persons[0].key);
  fixture->reading = first_reading (fixture);
  window_test_edit (fixture->base.window, book_edit_void (fixture->reading, "gauge slipped"));
  wait_words (fixture, "actions", 0, "Voided a reading");
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  window_test_tear_down (&fixture->base, data);
}

static void
test_shown (Fixture *fixture, gconstpointer data)
{
  const char *initials = fixture->base.window->facts->persons[0].initials;
  g_autofree char *action = words_of (fixture, "actions", 0);

  g_test_message ("%s", action);
  g_assert_nonnull (strstr (action, initials));
  g_assert_cmpuint (fettle_table_n_rows (table (fixture, "actions")), ==, 2);
  g_assert_nonnull (strstr (label (fixture, "words"), "Entries in the journal: 2"));
  /* It goes on looking at the import, which it showed before the reading was voided. */
  g_assert_nonnull (strstr (label (fixture, "heading"), "Imported"));
  fettle_table_go (table (fixture, "actions"), 0);
  wait_words (fixture, "lines", 0, "Field: Voided; Before: no; After: yes");
  wait_words (fixture, "lines", 1, "After: gauge slipped");
  g_assert_cmpuint (fettle_table_n_rows (table (fixture, "lines")), ==, 3); /* and who says so */
}

static void
test_taken_back (Fixture *fixture, gconstpointer data)
{
  fettle_table_go (table (fixture, "actions"), 0);
  wait_words (fixture, "lines", 0, "Voided");
  g_signal_emit_by_name (get (fixture, "undo-this"), "clicked");
  wait_words (fixture, "actions", 0, "Undone: Voided a reading");
  wait_words (fixture, "actions", 1, "taken back since");
  g_assert_true (gtk_widget_is_sensitive (get (fixture, "undo-this")) == FALSE); /* it looks at what was taken back */
}

/* The import made the reading that was voided later: that one is in the way, and named. */
static void
test_in_the_way (Fixture *fixture, gconstpointer data)
{
  fettle_table_go (table (fixture, "actions"), 1);
  wait_words (fixture, "lines", 0, "added");
  g_assert_true (window_test_shortcut (GTK_WIDGET (table (fixture, "actions")), GDK_KEY_d, GDK_CONTROL_MASK));
  window_test_wait_said (fixture->base.window, "Voided a reading");
  g_assert_cmpuint (fettle_table_n_rows (table (fixture, "actions")), ==, 2);
}

static gboolean
is_mapped (gpointer data)
{
  return gtk_widget_get_mapped (data);
}

static void
test_one_record (Fixture *fixture, gconstpointer data)
{
  gtk_widget_activate_action (GTK_WIDGET (fixture->base.window), "win.show-history", "(sx)", "reading", fixture->reading);
  window_test_wait (is_mapped, get (fixture, "all"), "the way back to all");
  window_test_settle ();
  g_assert_true (g_str_has_prefix (label (fixture, "title"), "History of Reading "));
  g_assert_cmpuint (fettle_table_n_rows (table (fixture, "actions")), ==, 2);
  fettle_table_go (table (fixture, "actions"), 1);
  wait_words (fixture, "lines", 0, "Field: Unit");
  g_signal_emit_by_name (get (fixture, "all"), "clicked");
  wait_words (fixture, "actions", 0, "Voided a reading");
  g_assert_cmpstr (label (fixture, "title"), ==, "History");
}

static gboolean
counts_differences (gpointer data)
{
  return strstr (label (data, "heading"), "records differ") != NULL;
}

static void
test_compared (Fixture *fixture, gconstpointer data)
{
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (get (fixture, "compare")), TRUE);
  window_test_wait (counts_differences, fixture, "what differs"); /* an action's lines may say 'added', too */
  wait_words (fixture, "lines", 0, "added");
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "from")), "2100-01-01");
  g_signal_emit_by_name (get (fixture, "from"), "activate");
  window_test_settle ();
  while (fettle_table_n_rows (table (fixture, "lines")) > 0)
    window_test_settle ();
  g_assert_cmpstr (label (fixture, "heading"), ==, "0 records differ");
}

static void
test_days (Fixture *fixture, gconstpointer data)
{
  GtkWidget *from = get (fixture, "from");

  gtk_editable_set_text (GTK_EDITABLE (from), "yesterday");
  g_signal_emit_by_name (from, "activate");
  window_test_settle ();
  g_assert_true (gtk_widget_has_css_class (from, "wrong"));
  g_assert_nonnull (strstr (window_test_said (fixture->base.window), "year-month-day"));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (from)), ==, "yesterday"); /* what is wrong stays as typed */
  gtk_editable_set_text (GTK_EDITABLE (from), "2000-01-01");
  g_signal_emit_by_name (from, "activate");
  wait_words (fixture, "actions", 1, "Imported");
  g_assert_false (gtk_widget_has_css_class (from, "wrong"));

  /* A round stands for its first day; the one that is not decided yet for no last day. */
  gtk_editable_set_text (GTK_EDITABLE (from), " p1 ");
  g_signal_emit_by_name (from, "activate");
  wait_words (fixture, "actions", 1, "Imported");
  g_assert_cmpint (book_day_parse (gtk_editable_get_text (GTK_EDITABLE (from)), NULL), !=, 0);
  g_assert_false (gtk_widget_has_css_class (from, "wrong"));
}

static void
test_by_person_and_kind (Fixture *fixture, gconstpointer data)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "person")), 1); /* the first by initials: who voided it */
  window_test_wait_rows (fixture->base.window, "actions", 1);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "person")), 0);
  window_test_wait_rows (fixture->base.window, "actions", 2);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "record")), 5); /* units: the import alone */
  window_test_wait_rows (fixture->base.window, "actions", 1);
}

static gboolean
has_checked (gpointer data)
{
  return strstr (label (data, "words"), "All holds, and the journal gives the same records.") != NULL;
}

static void
test_checked (Fixture *fixture, gconstpointer data)
{
  g_signal_emit_by_name (get (fixture, "check"), "clicked");
  g_assert_cmpstr (gtk_button_get_label (GTK_BUTTON (get (fixture, "check"))), ==, "Stop Checking");
  window_test_wait (has_checked, fixture, "the check");
  g_assert_cmpstr (gtk_button_get_label (GTK_BUTTON (get (fixture, "check"))), ==, "Check the Book");
}

/* A window that goes while its book is checked takes the check along. */
static void
test_closed_while_checking (Fixture *fixture, gconstpointer data)
{
  g_signal_emit_by_name (get (fixture, "check"), "clicked");
}

static void
test_keyboard (Fixture *fixture, gconstpointer data)
{
  g_assert_cmpuint (window_test_count_named (window_test_page (fixture->base.window)), >=, 8);
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->base.window), GDK_KEY_1, GDK_ALT_MASK));
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->base.window), GDK_KEY_6, GDK_ALT_MASK));
  window_test_settle ();
  g_assert_cmpstr (gtk_widget_get_name (window_test_page (fixture->base.window)), ==, "history");
}

#define ADD(path, test) g_test_add (path, Fixture, NULL, set_up, test, tear_down)

int
main (int argc, char **argv)
{
  window_test_init_apart (&argc, &argv);
  ADD ("/window/history/tells-what-was-done-field-by-field", test_shown);
  ADD ("/window/history/takes-an-action-back", test_taken_back);
  ADD ("/window/history/names-what-is-in-the-way", test_in_the_way);
  ADD ("/window/history/tells-one-record-alone", test_one_record);
  ADD ("/window/history/compares-two-days", test_compared);
  ADD ("/window/history/keeps-a-wrong-day-as-typed", test_days);
  ADD ("/window/history/by-person-and-kind-of-record", test_by_person_and_kind);
  ADD ("/window/history/checks-the-book", test_checked);
  ADD ("/window/history/goes-while-checking", test_closed_while_checking);
  ADD ("/window/history/is-reached-by-keys", test_keyboard);
  return window_test_run_apart ();
}
