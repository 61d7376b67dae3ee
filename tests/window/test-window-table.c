/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table alone, on a source of numbers that is made up here: a million rows, one column that can be typed into. */
#include "config.h"

#include "look.h"
#include "table-private.h"
#include "window-test.h"

#define MANY 1000000u

/* ---- a source ---- */

#define TEST_TYPE_NUMBERS (test_numbers_get_type ())
G_DECLARE_FINAL_TYPE (TestNumbers, test_numbers, TEST, NUMBERS, GObject)

struct _TestNumbers
{
  GObject parent_instance;

  gint64      first; /* key of the first row; the others follow */
  guint       n;
  GHashTable *stored; /* key -> text */
  GHashTable *typed;  /* key -> text */
  GHashTable *asked;  /* rows whose text was asked for */
};

static void test_numbers_source_init (FettleTableSourceInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (TestNumbers, test_numbers, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_TABLE_SOURCE, test_numbers_source_init))

static const FettleTableColumn *
numbers_columns (FettleTableSource *source, guint *n)
{
  static const FettleTableColumn columns[] = {
    { "Name", 10, FALSE, FALSE, 0 }, { "Often left out", 10, FALSE, FALSE, 900 }, { "Value", 8, TRUE, FALSE, 0 },
    { "Remark", 10, FALSE, TRUE, 0 }
  };

  *n = G_N_ELEMENTS (columns);
  return columns;
}

static guint
numbers_n_rows (FettleTableSource *source)
{
  return TEST_NUMBERS (source)->n;
}

static char *
numbers_text (FettleTableSource *source, guint row, guint column, FettleTableTone *tone, gboolean *pending)
{
  TestNumbers *self = TEST_NUMBERS (source);
  gint64 key = self->first + row;
  const char *stored = g_hash_table_lookup (self->stored, &key);

  g_hash_table_add (self->asked, GUINT_TO_POINTER (row));
  if (column == 2 && stored != NULL)
    return g_strdup (stored);
  return g_strdup_printf ("%s%" G_GINT64_FORMAT, column == 2 ? "" : "name ", key);
}

static gboolean
numbers_editable (FettleTableSource *source, guint row, guint column)
{
  return column == 2;
}

static char *
numbers_commit (FettleTableSource *source, guint row, guint column, const char *text)
{
  TestNumbers *self = TEST_NUMBERS (source);
  gint64 key = self->first + row;

  if (text[0] == '\0' || strspn (text, "0123456789") != strlen (text))
    return g_strdup_printf ("'%s' is no number.", text);
  g_hash_table_insert (self->stored, g_memdup2 (&key, sizeof key), g_strdup (text));
  g_hash_table_remove (self->typed, &key);
  return NULL;
}

static char *
numbers_describe (FettleTableSource *source, guint row, guint column)
{
  return g_strdup_printf ("row %" G_GINT64_FORMAT, TEST_NUMBERS (source)->first + row);
}

static gint64
numbers_key (FettleTableSource *source, guint row)
{
  return TEST_NUMBERS (source)->first + row;
}

static gboolean
numbers_find (FettleTableSource *source, gint64 key, guint *row)
{
  TestNumbers *self = TEST_NUMBERS (source);

  if (key < self->first || key >= self->first + self->n)
    return FALSE;
  *row = (guint) (key - self->first);
  return TRUE;
}

static void
numbers_keep (FettleTableSource *source, gint64 key, guint column, const char *text)
{
  if (text != NULL)
    g_hash_table_insert (TEST_NUMBERS (source)->typed, g_memdup2 (&key, sizeof key), g_strdup (text));
  else
    g_hash_table_remove (TEST_NUMBERS (source)->typed, &key);
}

static char *
numbers_typed (FettleTableSource *source, gint64 key, guint column)
{
  return column == 2 ? g_strdup (g_hash_table_lookup (TEST_NUMBERS (source)->typed, &key)) : NULL;
}

static void
test_numbers_source_init (FettleTableSourceInterface *iface)
{
  iface->columns = numbers_columns;
  iface->n_rows = numbers_n_rows;
  iface->dup_text = numbers_text;
  iface->editable = numbers_editable;
  iface->commit = numbers_commit;
  iface->describe = numbers_describe;
  iface->get_key = numbers_key;
  iface->find = numbers_find;
  iface->keep_typed = numbers_keep;
  iface->dup_typed = numbers_typed;
}

static void
test_numbers_finalize (GObject *object)
{
  TestNumbers *self = TEST_NUMBERS (object);

  g_hash_table_unref (self->stored);
  g_hash_table_unref (self->typed);
  g_hash_table_unref (self->asked);
  G_OBJECT_CLASS (test_numbers_parent_class)->finalize (object);
}

static void
test_numbers_class_init (TestNumbersClass *class)
{
  G_OBJECT_CLASS (class)->finalize = test_numbers_finalize;
}

static void
test_numbers_init (TestNumbers *self)
{
  self->first = 1;
  self->stored = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  self->typed = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  self->asked = g_hash_table_new (NULL, NULL);
}

/* ---- a table in a window ---- */

typedef struct
{
  GtkWidget   *window;
  GtkWidget   *scroll;
  FettleTable *table;
  TestNumbers *numbers;
  char        *refused; /* the last sentence; NULL: settled */
} Fixture;

static void
on_refused (FettleTable *table, const char *sentence, Fixture *fixture)
{
  g_free (fixture->refused);
  fixture->refused = g_strdup (sentence);
}

static void
set_up (Fixture *fixture, gconstpointer rows)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *other = gtk_button_new_with_label ("other");

  fixture->window = gtk_window_new ();
  gtk_widget_add_css_class (fixture->window, "fettle");
  gtk_window_set_default_size (GTK_WINDOW (fixture->window), 700, 400);
  fixture->numbers = g_object_new (TEST_TYPE_NUMBERS, NULL);
  fixture->numbers->n = GPOINTER_TO_UINT (rows);
  fixture->table = FETTLE_TABLE (fettle_table_new ());
  fettle_table_set_source (fixture->table, FETTLE_TABLE_SOURCE (fixture->numbers));
  g_signal_connect (fixture->table, "refused", G_CALLBACK (on_refused), fixture);
  fixture->scroll = gtk_scrolled_window_new ();
  gtk_widget_set_vexpand (fixture->scroll, TRUE);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (fixture->scroll), GTK_WIDGET (fixture->table));
  gtk_widget_set_name (other, "other");
  gtk_box_append (GTK_BOX (box), fixture->scroll);
  gtk_box_append (GTK_BOX (box), other);
  gtk_window_set_child (GTK_WINDOW (fixture->window), box);
  gtk_window_present (GTK_WINDOW (fixture->window));
  gtk_widget_grab_focus (GTK_WIDGET (fixture->table));
  window_test_settle ();
}

static void
tear_down (Fixture *fixture, gconstpointer rows)
{
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  window_test_settle ();
  g_assert_finalize_object (fixture->numbers); /* nobody holds the source once the window is gone */
  g_free (fixture->refused);
}

static gboolean
press (Fixture *fixture, guint key, GdkModifierType state)
{
  gboolean handled = window_test_press (GTK_WIDGET (fixture->table), key, state);

  window_test_settle ();
  return handled;
}

static GtkEditable *
cell (Fixture *fixture)
{
  return GTK_EDITABLE (window_test_get (GTK_WIDGET (fixture->table), "cell"));
}

static void
check_row (Fixture *fixture, guint expected)
{
  guint row;

  g_assert_true (fettle_table_get_row (fixture->table, &row));
  g_assert_cmpuint (row, ==, expected);
}

static void
check_words (Fixture *fixture, const char *expected)
{
  g_autofree char *wrong = gtk_test_accessible_check_property (GTK_ACCESSIBLE (fixture->table), GTK_ACCESSIBLE_PROPERTY_LABEL, expected);

  g_assert_cmpstr (wrong, ==, NULL);
}

static const char *
stored (Fixture *fixture, gint64 key)
{
  return g_hash_table_lookup (fixture->numbers->stored, &key);
}

/* ---- a million rows ---- */

static void
test_million (Fixture *fixture, gconstpointer rows)
{
  GtkAdjustment *down = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (fixture->scroll));
  guint in_view = g_hash_table_size (fixture->numbers->asked);

  g_assert_cmpuint (in_view, >, 5);
  g_assert_cmpuint (in_view, <, 20); /* 400 pixels hold a dozen rows */
  g_assert_cmpfloat (gtk_adjustment_get_upper (down), ==, (double) (MANY + 1) * fettle_table_line (fixture->table));

  press (fixture, GDK_KEY_End, 0);
  check_row (fixture, MANY - 1);
  check_words (fixture, "row 1000000");
  g_assert_cmpfloat (gtk_adjustment_get_value (down), ==, gtk_adjustment_get_upper (down) - gtk_adjustment_get_page_size (down));
  g_assert_cmpuint (g_hash_table_size (fixture->numbers->asked), <, 40);
  g_assert_true (g_hash_table_contains (fixture->numbers->asked, GUINT_TO_POINTER (MANY - 1)));

  /* Rows come before all others: the last one stays the current one, where it was on the screen, and few are asked for. */
  fixture->numbers->first = -4;
  fixture->numbers->n += 5;
  fettle_table_source_reset (FETTLE_TABLE_SOURCE (fixture->numbers));
  window_test_settle ();
  check_row (fixture, MANY + 4);
  check_words (fixture, "row 1000000");
  g_assert_cmpfloat (gtk_adjustment_get_value (down), ==, gtk_adjustment_get_upper (down) - gtk_adjustment_get_page_size (down));
  g_assert_cmpuint (g_hash_table_size (fixture->numbers->asked), <, 60);
}

/* ---- moving ---- */

static void
test_moves (Fixture *fixture, gconstpointer rows)
{
  check_row (fixture, 0);
  check_words (fixture, "row 1");
  g_assert_true (press (fixture, GDK_KEY_Up, 0)); /* at the top: nothing above, and the key is not lost to the page */
  check_row (fixture, 0);
  press (fixture, GDK_KEY_Down, 0);
  check_row (fixture, 1);
  press (fixture, GDK_KEY_Page_Down, 0);
  g_assert_cmpuint (fixture->table->row, >, 5);
  press (fixture, GDK_KEY_Page_Up, 0);
  check_row (fixture, 1);
  press (fixture, GDK_KEY_Right, 0);
  g_assert_cmpuint (fixture->table->column, ==, 2); /* past the one that a narrow table leaves out */
  press (fixture, GDK_KEY_Left, 0);
  g_assert_cmpuint (fixture->table->column, ==, 0);
  press (fixture, GDK_KEY_End, 0);
  check_row (fixture, 99);
  press (fixture, GDK_KEY_Down, 0);
  check_row (fixture, 99);
  press (fixture, GDK_KEY_Home, 0);
  check_row (fixture, 0);
  g_assert_false (press (fixture, GDK_KEY_Tab, 0)); /* leaves the table */
  g_assert_false (press (fixture, GDK_KEY_1, GDK_ALT_MASK)); /* belongs to the window */
  g_assert_false (press (fixture, GDK_KEY_d, GDK_CONTROL_MASK));
  g_assert_false (fettle_table_is_editing (fixture->table));
}

static void
test_empty (Fixture *fixture, gconstpointer rows)
{
  guint row;

  g_assert_false (fettle_table_get_row (fixture->table, &row));
  check_words (fixture, "Table without rows");
  fettle_table_set_placeholder (fixture->table, "Nothing was measured.");
  check_words (fixture, "Nothing was measured.");
  g_assert_false (press (fixture, GDK_KEY_Down, 0));
  g_assert_false (press (fixture, GDK_KEY_1, 0));
  fettle_table_edit (fixture->table);
  g_assert_false (fettle_table_is_editing (fixture->table));

  fixture->numbers->n = 3;
  fettle_table_source_reset (FETTLE_TABLE_SOURCE (fixture->numbers));
  check_row (fixture, 0);
  check_words (fixture, "row 1");
}

/* ---- typing ---- */

static void
test_types (Fixture *fixture, gconstpointer rows)
{
  /* The current cell is a name: the letter goes to the cell of the row that can be typed into. */
  g_assert_true (press (fixture, GDK_KEY_7, 0));
  g_assert_true (fettle_table_is_editing (fixture->table));
  g_assert_cmpstr (gtk_editable_get_text (cell (fixture)), ==, "7");
  g_assert_true (gtk_widget_get_mapped (GTK_WIDGET (cell (fixture))));
  gtk_editable_set_text (cell (fixture), "77");
  press (fixture, GDK_KEY_Return, 0);
  g_assert_cmpstr (stored (fixture, 1), ==, "77");
  check_row (fixture, 1); /* a gauge that ends with Enter goes on with the next row */
  g_assert_true (fettle_table_is_editing (fixture->table));
  g_assert_cmpstr (gtk_editable_get_text (cell (fixture)), ==, "2");

  gtk_editable_set_text (cell (fixture), "88");
  press (fixture, GDK_KEY_Return, GDK_SHIFT_MASK);
  g_assert_cmpstr (stored (fixture, 2), ==, "88");
  check_row (fixture, 0);
  gtk_editable_set_text (cell (fixture), "99");
  press (fixture, GDK_KEY_Escape, 0);
  g_assert_false (fettle_table_is_editing (fixture->table));
  g_assert_cmpstr (stored (fixture, 1), ==, "77");
  g_assert_cmpuint (g_hash_table_size (fixture->numbers->typed), ==, 0);
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (fixture->window)) == GTK_WIDGET (fixture->table));

  press (fixture, GDK_KEY_End, 0);
  press (fixture, GDK_KEY_F2, 0);
  gtk_editable_set_text (cell (fixture), "5");
  press (fixture, GDK_KEY_Return, 0); /* the last row: stored, and typing ends */
  g_assert_cmpstr (stored (fixture, 100), ==, "5");
  g_assert_false (fettle_table_is_editing (fixture->table));
}

static void
on_painted (GdkFrameClock *clock, gpointer painted)
{
  *(gboolean *) painted = TRUE;
}

static gboolean
is_painted (gpointer painted)
{
  return *(gboolean *) painted;
}

static void
wait_for_frame (Fixture *fixture)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (fixture->window);
  gboolean painted = FALSE;
  gulong handler = g_signal_connect (clock, "after-paint", G_CALLBACK (on_painted), &painted);

  gdk_frame_clock_request_phase (clock, GDK_FRAME_CLOCK_PHASE_PAINT);
  window_test_wait (is_painted, &painted, "a frame");
  g_signal_handler_disconnect (clock, handler);
}

static void
test_blinks (Fixture *fixture, gconstpointer rows)
{
  GHashTable *asked = fixture->numbers->asked;

  g_test_summary ("A cursor that blinks, many times a second, draws no other cell anew; what changes does.");
  press (fixture, GDK_KEY_7, 0);
  wait_for_frame (fixture);
  wait_for_frame (fixture);
  g_hash_table_remove_all (asked);
  gtk_widget_queue_draw (GTK_WIDGET (cell (fixture)));
  wait_for_frame (fixture);
  g_assert_cmpuint (g_hash_table_size (asked), ==, 0);
  press (fixture, GDK_KEY_Escape, 0);
  wait_for_frame (fixture);
  g_assert_cmpuint (g_hash_table_size (asked), >, 5);
  g_hash_table_remove_all (asked);
  gtk_root_set_focus (GTK_ROOT (fixture->window), NULL); /* the row that had the keyboard looks otherwise */
  wait_for_frame (fixture);
  g_assert_cmpuint (g_hash_table_size (asked), >, 5);
}

static void
test_wrong (Fixture *fixture, gconstpointer rows)
{
  press (fixture, GDK_KEY_F2, 0);
  gtk_editable_set_text (cell (fixture), "1x");
  press (fixture, GDK_KEY_Return, 0);
  g_assert_cmpstr (fixture->refused, ==, "'1x' is no number.");
  g_assert_true (gtk_widget_has_css_class (GTK_WIDGET (cell (fixture)), "wrong"));
  g_assert_cmpstr (gtk_editable_get_text (cell (fixture)), ==, "1x");
  fettle_table_go (fixture->table, 50); /* nothing leads away from it */
  check_row (fixture, 0);
  g_assert_false (fettle_table_finish (fixture->table));

  /* Leaving the table does not lose it either. */
  gtk_widget_grab_focus (window_test_get (fixture->window, "other"));
  window_test_settle ();
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (fixture->window)) == window_test_get (fixture->window, "other"));
  g_assert_cmpstr (gtk_editable_get_text (cell (fixture)), ==, "1x");
  g_assert_true (gtk_widget_get_mapped (GTK_WIDGET (cell (fixture))));
  g_assert_null (stored (fixture, 1));

  gtk_editable_set_text (cell (fixture), "12");
  g_assert_true (fettle_table_finish (fixture->table));
  g_assert_cmpstr (stored (fixture, 1), ==, "12");
  g_assert_null (fixture->refused);
}

static void
test_left (Fixture *fixture, gconstpointer rows)
{
  press (fixture, GDK_KEY_F2, 0);
  gtk_editable_set_text (cell (fixture), "31");
  gtk_widget_grab_focus (window_test_get (fixture->window, "other"));
  window_test_settle ();
  g_assert_cmpstr (stored (fixture, 1), ==, "31");
  g_assert_false (fettle_table_is_editing (fixture->table));
  /* What was clicked keeps the keyboard. */
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (fixture->window)) == window_test_get (fixture->window, "other"));
}

/* ---- others write meanwhile ---- */

static void
test_moved_along (Fixture *fixture, gconstpointer rows)
{
  fettle_table_go (fixture->table, 6);
  press (fixture, GDK_KEY_F2, 0);
  gtk_editable_set_text (cell (fixture), "70");

  fixture->numbers->first = -2; /* three rows before it */
  fixture->numbers->n += 3;
  fettle_table_source_reset (FETTLE_TABLE_SOURCE (fixture->numbers));
  window_test_settle ();
  check_row (fixture, 9);
  g_assert_cmpstr (gtk_editable_get_text (cell (fixture)), ==, "70");
  press (fixture, GDK_KEY_Return, 0);
  g_assert_cmpstr (stored (fixture, 7), ==, "70");
  g_assert_cmpuint (g_hash_table_size (fixture->numbers->stored), ==, 1);
}

static void
test_row_gone (Fixture *fixture, gconstpointer rows)
{
  press (fixture, GDK_KEY_F2, 0);
  gtk_editable_set_text (cell (fixture), "4");

  fixture->numbers->first = 2; /* without the first row */
  fixture->numbers->n--;
  fettle_table_source_reset (FETTLE_TABLE_SOURCE (fixture->numbers));
  window_test_settle ();
  g_assert_false (fettle_table_is_editing (fixture->table));
  g_assert_cmpuint (g_hash_table_size (fixture->numbers->stored), ==, 0); /* least of all in the row that has its place now */
  check_words (fixture, "row 2");

  fixture->numbers->first = 1; /* it is back */
  fixture->numbers->n++;
  fettle_table_source_reset (FETTLE_TABLE_SOURCE (fixture->numbers));
  fettle_table_go (fixture->table, 0);
  check_words (fixture, "row 1; typed and not stored: 4");
  press (fixture, GDK_KEY_F2, 0);
  g_assert_cmpstr (gtk_editable_get_text (cell (fixture)), ==, "4");
  press (fixture, GDK_KEY_Return, 0);
  g_assert_cmpstr (stored (fixture, 1), ==, "4");
}

static void
test_kept_taken_back (Fixture *fixture, gconstpointer rows)
{
  numbers_keep (FETTLE_TABLE_SOURCE (fixture->numbers), 1, 2, "4x");
  g_assert_true (press (fixture, GDK_KEY_Escape, 0));
  g_assert_cmpuint (g_hash_table_size (fixture->numbers->typed), ==, 0);
  check_words (fixture, "row 1");
  g_assert_false (press (fixture, GDK_KEY_Escape, 0)); /* nothing more: the page may have it */
}

/* ---- looks ---- */

static void
test_font (Fixture *fixture, gconstpointer rows)
{
  g_autoptr(GtkCssProvider) large = gtk_css_provider_new ();
  int before = fettle_table_line (fixture->table), after;

  gtk_css_provider_load_from_data (large, "fettletable { font-size: 30pt; }", -1);
  gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (large), G_MAXUINT);
  window_test_settle ();
  after = fettle_table_line (fixture->table);
  gtk_style_context_remove_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (large));
  g_assert_cmpint (after, >, before + 10);
  window_test_settle ();
  g_assert_cmpint (fettle_table_line (fixture->table), ==, before);
}

static void
test_copy (Fixture *fixture, gconstpointer rows)
{
  GdkClipboard *clipboard = gtk_widget_get_clipboard (GTK_WIDGET (fixture->table));
  g_auto (GValue) value = G_VALUE_INIT;

  press (fixture, GDK_KEY_Down, 0);
  press (fixture, GDK_KEY_c, GDK_CONTROL_MASK);
  g_value_init (&value, G_TYPE_STRING);
  g_assert_true (gdk_content_provider_get_value (gdk_clipboard_get_content (clipboard), &value, NULL));
  g_assert_cmpstr (g_value_get_string (&value), ==, "name 2\tname 2\t2\tname 2");
}

static void
assert_seen (Fixture *fixture)
{
  GdkRectangle place;

  fettle_table_place_cell (fixture->table, fixture->table->row, 0, &place);
  g_assert_cmpint (place.y, >=, fettle_table_head (fixture->table));
  g_assert_cmpint (place.y + place.height, <=, gtk_widget_get_height (GTK_WIDGET (fixture->table)));
}

/* Where one is stays in view: below it a form opens, its rows give way to others, or all of another source stand there. */
static void
test_seen (Fixture *fixture, gconstpointer rows)
{
  g_autoptr(TestNumbers) others = g_object_new (TEST_TYPE_NUMBERS, NULL);
  GtkWidget *form = gtk_label_new ("form");

  fettle_table_go (fixture->table, 60);
  window_test_settle ();
  assert_seen (fixture);
  gtk_widget_set_size_request (form, -1, 150);
  gtk_box_append (GTK_BOX (gtk_window_get_child (GTK_WINDOW (fixture->window))), form);
  window_test_settle ();
  assert_seen (fixture);

  gtk_adjustment_set_value (fixture->table->vadjustment, 0.0); /* as a wheel does */
  fixture->numbers->first = 5001;
  fettle_table_source_reset (FETTLE_TABLE_SOURCE (fixture->numbers));
  window_test_settle ();
  g_assert_cmpuint (fixture->table->row, ==, 60);
  assert_seen (fixture);

  others->n = 80;
  fettle_table_set_source (fixture->table, FETTLE_TABLE_SOURCE (others));
  window_test_settle ();
  g_assert_cmpuint (fixture->table->row, ==, 0);
  assert_seen (fixture);
  fettle_table_set_source (fixture->table, NULL);
}

#define ADD(path, rows, test) g_test_add (path, Fixture, GUINT_TO_POINTER (rows), set_up, test, tear_down)

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  fettle_look_load (gdk_display_get_default ());
  ADD ("/window/table/asks-only-for-rows-in-view", MANY, test_million);
  ADD ("/window/table/keys-move", 100, test_moves);
  ADD ("/window/table/says-that-it-is-empty", 0, test_empty);
  ADD ("/window/table/enter-stores-and-goes-on", 100, test_types);
  ADD ("/window/table/a-blink-draws-nothing-else", 100, test_blinks);
  ADD ("/window/table/wrong-text-stays-with-its-sentence", 100, test_wrong);
  ADD ("/window/table/leaving-the-cell-stores-it", 100, test_left);
  ADD ("/window/table/typing-stays-with-its-row", 100, test_moved_along);
  ADD ("/window/table/typing-outlives-its-row", 100, test_row_gone);
  ADD ("/window/table/escape-takes-back-what-was-kept", 100, test_kept_taken_back);
  ADD ("/window/table/rows-follow-the-font", 100, test_font);
  ADD ("/window/table/where-one-is-stays-in-view", 100, test_seen);
  ADD ("/window/table/a-row-is-copied", 100, test_copy);
  return g_test_run ();
}
