/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows from the clipboard and from a dropped file: seen before they are stored, mended, taken in, undone. */
#include "config.h"

#include <string.h>

#include "book-record.h"
#include "import-page.h"
#include "table-private.h"
#include "tip.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

/* Invented: one row changes a unit of the book, one is new, one has a round that there is not, one is in the book. */
static const char block[] = "Round\tSerial\tVariant\n"
                            "P3\tP3-01\tblue \xf0\x9f\x94\xaa\n"
                            "P3\tP3-77\t\xd7\x90\xd7\x93\xd7\x95\xd7\x9d\n"
                            "P9\tP9-01\t\n"
                            "P3\tP3-02\t\n";

typedef WindowTestFixture Fixture;

static GtkWidget *
get (Fixture *fixture, const char *name)
{
  return window_test_get (window_test_page (fixture->window), name);
}

static const char *
button (Fixture *fixture, const char *name)
{
  return gtk_button_get_label (GTK_BUTTON (get (fixture, name)));
}

static const char *
label (Fixture *fixture, const char *name)
{
  return gtk_label_get_label (GTK_LABEL (get (fixture, name)));
}

/* Rows that name no model cannot be asked about before the page has read which one is in view. */
static gboolean
is_answered (gpointer data)
{
  Fixture *fixture = data;
  FettlePage *page = fettle_window_get_page (fixture->window);

  return FETTLE_IS_IMPORT_PAGE (page) && fettle_import_page_has_rows (FETTLE_IMPORT_PAGE (page))
         && gtk_widget_get_sensitive (get (fixture, "filter-new")) && !gtk_widget_get_visible (get (fixture, "stop"));
}

static gboolean
is_put_away (gpointer data)
{
  return gtk_widget_get_mapped (get (data, "paste"));
}

static void
wait_answered (Fixture *fixture)
{
  window_test_wait (is_answered, fixture, "what becomes of the rows");
  window_test_settle ();
}

static void
paste (Fixture *fixture, const char *text)
{
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (fixture->window)), text);
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_v, GDK_CONTROL_MASK));
}

static void
drop (Fixture *fixture, const char *path)
{
  window_test_drop_file (GTK_WIDGET (fixture->window), path);
}

static void
check_counts (Fixture *fixture, const char *all, const char *created, const char *changed, const char *equal, const char *refused)
{
  g_assert_cmpstr (button (fixture, "filter-all"), ==, all);
  g_assert_cmpstr (button (fixture, "filter-new"), ==, created);
  g_assert_cmpstr (button (fixture, "filter-changed"), ==, changed);
  g_assert_cmpstr (button (fixture, "filter-equal"), ==, equal);
  g_assert_cmpstr (button (fixture, "filter-refused"), ==, refused);
}

static void
test_pasted (Fixture *fixture, gconstpointer data)
{
  FettleTable *table;
  gint64 before = window_test_count_records (fixture->window, BOOK_RECORD_UNIT);
  g_autofree char *state = NULL;

  g_test_summary ("A block pasted on a table is shown row by row; nothing is stored before it is taken in.");
  paste (fixture, block);
  wait_answered (fixture);
  table = FETTLE_TABLE (get (fixture, "import-table"));
  check_counts (fixture, "All 4", "New 1", "Changed 1", "Equal 1", "Refused 1");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get (fixture, "fixed-model"))), ==, "M2"); /* the model in view */
  g_assert_cmpstr (button (fixture, "take"), ==, "Take In 2 Rows");
  g_assert_cmpstr (label (fixture, "row-words"), ==, "Line 2, changed. Variant: 'blue \xf0\x9f\x94\xaa', empty until now.");
  fettle_table_go (table, 2);
  g_assert_cmpstr (label (fixture, "row-words"), ==,
                   "Line 4, refused. Round: there is no round 'M2/P9' in the book or in the files: mend the cell or import it too.");
  state = window_test_cell (table, 2, 0);
  g_assert_cmpstr (state, ==, "refused");
  g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_UNIT), ==, before);
  g_assert_cmpuint (window_test_count_named (window_test_page (fixture->window)), >=, 14);

  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (get (fixture, "filter-refused")), TRUE);
  window_test_settle ();
  g_assert_cmpuint (fettle_table_source_n_rows (table->source), ==, 1);
}

/* A table of cells that are typed into keeps Ctrl+V to itself; the key of the menu means rows wherever the keyboard is. */
static void
test_pasted_from_a_field (Fixture *fixture, gconstpointer data)
{
  GtkWidget *field;

  window_test_act (fixture->window, "win.page", "setup");
  window_test_wait_page (fixture->window, "setup");
  field = get (fixture, "setup-filter");
  gtk_widget_grab_focus (field);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (fixture->window)), block);
  g_assert_true (window_test_shortcut (gtk_window_get_focus (GTK_WINDOW (fixture->window)), GDK_KEY_v, GDK_CONTROL_MASK | GDK_ALT_MASK));
  wait_answered (fixture);
  check_counts (fixture, "All 4", "New 1", "Changed 1", "Equal 1", "Refused 1");
}

static void
test_taken_in (Fixture *fixture, gconstpointer data)
{
  FettleTable *table;
  gint64 before = window_test_count_records (fixture->window, BOOK_RECORD_UNIT);

  g_test_summary ("What can be stored is, as one undoable action; what was refused stays, is mended in its cell and taken in.");
  paste (fixture, block);
  wait_answered (fixture);
  g_signal_emit_by_name (get (fixture, "take"), "clicked");
  window_test_wait_said (fixture->window, "1 row came into the book, 1 was changed.");
  wait_answered (fixture);
  g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_UNIT), ==, before + 1);
  check_counts (fixture, "All 1", "New 0", "Changed 0", "Equal 0", "Refused 1");
  g_assert_cmpstr (label (fixture, "said"), ==, "1 refused row is kept here: mend it and take it in.");

  table = FETTLE_TABLE (get (fixture, "import-table"));
  fettle_table_go_to_cell (table, 0, 1);
  fettle_table_edit (table);
  g_assert_true (fettle_table_is_editing (table));
  gtk_editable_set_text (GTK_EDITABLE (table->text), "P3");
  g_assert_true (fettle_table_finish (table));
  wait_answered (fixture);
  check_counts (fixture, "All 1", "New 1", "Changed 0", "Equal 0", "Refused 0");
  g_signal_emit_by_name (get (fixture, "take"), "clicked");
  window_test_wait (is_put_away, fixture, "all rows taken in");
  window_test_settle ();
  g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_UNIT), ==, before + 2);

  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo", NULL);
  window_test_settle ();
  g_usleep (300000);
  window_test_settle ();
  g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_UNIT), ==, before + 1);
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo", NULL);
  window_test_settle ();
  g_usleep (300000);
  window_test_settle ();
  g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_UNIT), ==, before);
}

static void
check_cell (FettleTable *table, guint row, guint column, const char *expected)
{
  g_autofree char *text = window_test_cell (table, row, column);

  g_assert_cmpstr (text, ==, expected);
}

static void
mend (FettleTable *table, guint row, guint column, const char *text)
{
  fettle_table_go_to_cell (table, row, column);
  fettle_table_edit (table);
  gtk_editable_set_text (GTK_EDITABLE (table->text), text);
  g_assert_true (fettle_table_finish (table));
}

static void
press_undo (Fixture *fixture, GdkModifierType shift)
{
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_z, GDK_CONTROL_MASK | shift));
  window_test_settle ();
  g_usleep (300000);
  window_test_settle ();
}

static void
test_mend_taken_back (Fixture *fixture, gconstpointer data)
{
  FettleTable *table;
  gint64 before = window_test_count_records (fixture->window, BOOK_RECORD_UNIT);
  GtkWidget *undo = fixture->window->undo_button;

  g_test_summary ("Undo takes back what was mended, newest first, and only then what the book has; the bar's own Undo means what the bar says.");
  paste (fixture, block);
  wait_answered (fixture);
  g_signal_emit_by_name (get (fixture, "take"), "clicked");
  window_test_wait_said (fixture->window, "1 row came into the book, 1 was changed.");
  wait_answered (fixture);
  table = FETTLE_TABLE (get (fixture, "import-table"));

  mend (table, 0, 1, "P3");
  mend (table, 0, 3, "green");
  wait_answered (fixture);
  check_counts (fixture, "All 1", "New 1", "Changed 0", "Equal 0", "Refused 0");
  press_undo (fixture, 0);
  wait_answered (fixture);
  check_cell (table, 0, 3, "");
  check_cell (table, 0, 1, "P3");
  g_assert_cmpuint (table->column, ==, 3); /* where it happened */
  g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_UNIT), ==, before + 1);
  g_assert_cmpstr (fettle_tip_get (undo), ==, "Undo: 'P3' under Round in line 4 (Ctrl+Z)");
  press_undo (fixture, 0);
  wait_answered (fixture);
  check_cell (table, 0, 1, "P9");
  check_counts (fixture, "All 1", "New 0", "Changed 0", "Equal 0", "Refused 1");
  g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_UNIT), ==, before + 1);

  press_undo (fixture, GDK_SHIFT_MASK);
  wait_answered (fixture);
  check_cell (table, 0, 1, "P3");
  check_cell (table, 0, 3, "");
  check_counts (fixture, "All 1", "New 1", "Changed 0", "Equal 0", "Refused 0");

  /* The bar still speaks of the rows that came in. */
  g_signal_emit_by_name (window_test_get (GTK_WIDGET (fixture->window), "message-action"), "clicked");
  window_test_wait_said (fixture->window, "Taken back: ");
  wait_answered (fixture);
  g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_UNIT), ==, before);
  check_cell (table, 0, 1, "P3");
}

/* A row that the filter hides comes into view for what is taken back in it. */
static void
test_mend_in_a_hidden_row (Fixture *fixture, gconstpointer data)
{
  FettleTable *table;

  paste (fixture, block);
  wait_answered (fixture);
  table = FETTLE_TABLE (get (fixture, "import-table"));
  mend (table, 2, 1, "P3");
  wait_answered (fixture);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (get (fixture, "filter-equal")), TRUE);
  window_test_settle ();
  g_assert_cmpuint (fettle_table_source_n_rows (table->source), ==, 1);
  press_undo (fixture, 0);
  wait_answered (fixture);
  g_assert_cmpuint (fettle_table_source_n_rows (table->source), ==, 4);
  g_assert_cmpuint (table->row, ==, 2);
  check_cell (table, 2, 1, "P9");

  /* Nothing is mended any more: the next rows may come. */
  paste (fixture, "Round\tSerial\nP3\tP3-05\n");
  for (guint i = 0; i < 100 && !g_str_equal (button (fixture, "filter-all"), "All 1"); i++)
    {
      g_usleep (20000);
      window_test_settle ();
    }
  g_assert_cmpstr (button (fixture, "filter-all"), ==, "All 1");
}

static void
test_dropped (Fixture *fixture, gconstpointer data)
{
  g_autofree char *path = g_build_filename (fixture->folder, "from the gauge.csv", NULL);
  g_autoptr(GError) error = NULL;

  g_test_summary ("A dropped file is shown; a column is mended by hand, and what is typed for all rows holds for them.");
  g_file_set_contents (path, "Round;Unit;Characteristic;Value;Measured at\nP3;P3-01;PL;0,119;13.4.2026\n;P3-02;PL;0,12;13.4.2026\n", -1,
                       &error);
  g_assert_no_error (error);
  drop (fixture, path);
  wait_answered (fixture);
  g_assert_cmpstr (label (fixture, "import-title"), ==, "from the gauge.csv");
  check_counts (fixture, "All 2", "New 0", "Changed 1", "Equal 0", "Refused 1");
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (get (fixture, "import-sign"))), ==, 1);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (get (fixture, "field-4"))), ==, 0); /* left out */

  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "field-0")), 0);
  wait_answered (fixture);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get (fixture, "fixed-round"))), !=, "");
  gtk_widget_grab_focus (get (fixture, "fixed-round"));
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "fixed-round")), "P3");
  gtk_widget_grab_focus (get (fixture, "import-table"));
  wait_answered (fixture);
  check_counts (fixture, "All 2", "New 0", "Changed 2", "Equal 0", "Refused 0");

  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "import-sign")), 0);
  wait_answered (fixture);
  check_counts (fixture, "All 2", "New 0", "Changed 2", "Equal 0", "Refused 0");
  g_signal_emit_by_name (get (fixture, "away"), "clicked");
  window_test_settle ();
  g_assert_true (is_put_away (fixture));
}

static void
test_lacks (Fixture *fixture, gconstpointer data)
{
  g_test_summary ("What every row needs is asked for in a sentence before anything is judged.");
  paste (fixture, "Serial\tVariant\nP3-01\tblue\n");
  wait_answered (fixture);
  gtk_widget_grab_focus (get (fixture, "fixed-round"));
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "fixed-round")), "");
  gtk_widget_grab_focus (get (fixture, "import-table"));
  window_test_settle ();
  g_assert_cmpstr (label (fixture, "said"), ==,
                   "No column says 'Round', which every row needs: choose the column above it, or fill it in for all rows.");
  g_assert_cmpstr (button (fixture, "take"), ==, "Look at Them Again");
}

static void
test_keeps_mended (Fixture *fixture, gconstpointer data)
{
  FettleTable *table;

  g_test_summary ("Rows that were mended are not lost to the next ones, and the book's changes are seen.");
  paste (fixture, block);
  wait_answered (fixture);
  table = FETTLE_TABLE (get (fixture, "import-table"));
  fettle_table_go_to_cell (table, 3, 3);
  fettle_table_edit (table);
  gtk_editable_set_text (GTK_EDITABLE (table->text), "green");
  g_assert_true (fettle_table_finish (table));
  wait_answered (fixture);
  check_counts (fixture, "All 4", "New 1", "Changed 2", "Equal 0", "Refused 1");
  paste (fixture, "Round\tSerial\nP3\tP3-05\n");
  window_test_settle ();
  g_usleep (200000);
  window_test_settle ();
  g_assert_cmpstr (button (fixture, "filter-all"), ==, "All 4");
  window_test_wait_said (fixture->window, "Mended rows wait here: take them in, save them or put them away first.");
}

static void
test_saves_refused (Fixture *fixture, gconstpointer data)
{
  g_autofree char *path = g_build_filename (fixture->folder, "refused.csv", NULL);
  g_autofree char *text = NULL;
  g_autoptr(GError) error = NULL;

  g_test_summary ("What was refused goes out as CSV with its reason, and is read again.");
  paste (fixture, block);
  wait_answered (fixture);
  g_assert_true (gtk_widget_get_visible (get (fixture, "save-refused")));
  gtk_widget_activate_action (window_test_page (fixture->window), "import.save-to", "s", path);
  window_test_wait_said (fixture->window, NULL);
  window_test_wait_said (fixture->window, "What was refused is in 'refused.csv', each row with the reason.");
  g_assert_true (g_file_get_contents (path, &text, NULL, &error));
  g_test_message ("%s", text);
  g_assert_true (g_str_has_prefix (text, "round,serial,variant,rejected_because\nP9,P9-01,,"));
  g_signal_emit_by_name (get (fixture, "away"), "clicked");
  drop (fixture, path);
  wait_answered (fixture);
  check_counts (fixture, "All 1", "New 0", "Changed 0", "Equal 0", "Refused 1");
}

static void
test_ends (Fixture *fixture, gconstpointer data)
{
  g_test_summary ("The window may close while rows are looked at.");
  paste (fixture, block);
  for (guint i = 0; i < 20 && !FETTLE_IS_IMPORT_PAGE (fettle_window_get_page (fixture->window)); i++)
    {
      g_usleep (5000);
      g_main_context_iteration (NULL, FALSE);
    }
}

/* ---- what is no table ---- */

static void
paste_picture (Fixture *fixture)
{
  g_autoptr(GdkPixbuf) dots = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 4, 4);
  g_autoptr(GdkTexture) picture = NULL;

  gdk_pixbuf_fill (dots, 0x336699ff);
  picture = gdk_texture_new_for_pixbuf (dots);
  gdk_clipboard_set_texture (gtk_widget_get_clipboard (GTK_WIDGET (fixture->window)), picture);
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_v, GDK_CONTROL_MASK));
}

static void
drop_bytes (Fixture *fixture, const char *name, const char *bytes, gsize length)
{
  g_autofree char *path = g_build_filename (fixture->folder, name, NULL);

  fettle_message_bar_hide (fixture->window->message_bar);
  g_assert_true (g_file_set_contents (path, bytes, (gssize) length, NULL));
  drop (fixture, path);
  window_test_wait_said (fixture->window, name);
  g_test_message ("%s: %s", name, window_test_said (fixture->window));
}

static void
test_no_table (Fixture *fixture, gconstpointer data)
{
  static const char png[] = "\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x04\0\0\0\x04";
  gint64 before = window_test_count_records (fixture->window, BOOK_RECORD_UNIT);

  g_test_summary ("A picture on the clipboard, a file that is none of ours and an empty one: each is answered by a sentence, and the page stays.");
  paste_picture (fixture);
  window_test_wait_said (fixture->window, "The clipboard holds no rows");
  drop_bytes (fixture, "photo.png", png, sizeof png - 1);
  drop_bytes (fixture, "empty.csv", "", 0);
  g_assert_cmpstr (gtk_widget_get_name (window_test_page (fixture->window)), ==, "readings");
  g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_UNIT), ==, before);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);

#define ADD(path, function) g_test_add (path, Fixture, "readings", window_test_set_up, function, window_test_tear_down)
  ADD ("/window/import/a-pasted-block-is-shown-first", test_pasted);
  ADD ("/window/import/a-key-pastes-rows-from-any-field", test_pasted_from_a_field);
  ADD ("/window/import/what-is-refused-stays-to-be-mended", test_taken_in);
  ADD ("/window/import/what-was-mended-is-taken-back", test_mend_taken_back);
  ADD ("/window/import/a-hidden-row-comes-back-with-its-cell", test_mend_in_a_hidden_row);
  ADD ("/window/import/a-dropped-file-is-mended-by-hand", test_dropped);
  ADD ("/window/import/what-is-lacking-is-said", test_lacks);
  ADD ("/window/import/mended-rows-are-not-lost", test_keeps_mended);
  ADD ("/window/import/refused-rows-go-out-as-csv", test_saves_refused);
  ADD ("/window/import/what-is-no-table-is-said-to-be-none", test_no_table);
  ADD ("/window/import/the-window-may-end", test_ends);
  return g_test_run ();
}
