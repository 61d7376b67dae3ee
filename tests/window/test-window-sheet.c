/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page of a measuring sheet: what was understood, each kind of correction, storing, and undo. */
#include "config.h"

#include <math.h>
#include <string.h>

#include "book-evidence.h"
#include "exchange-sheet.h"
#include "table-private.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

/* Invented figures: a title above, a decimal comma, limits in the head, one cell that is no number, a line of means. */
static const char sheet[] = "Test piece three, round P1, 4.3.2026\n"
                            "\n"
                            "No.;Strength N;Play mm;Holds;Paint\n"
                            "limits;min 200;max 0,25;;\n"
                            "X-01;262;0,14;ok;red\n"
                            "X-02;258;0,13;nok;red\n"
                            "X-03;wet;0,12;ok;blue\n"
                            "mean;260;0,13;;\n";

typedef WindowTestFixture Fixture;

static GtkWidget *
get (Fixture *fixture, const char *name)
{
  return window_test_get (window_test_page (fixture->window), name);
}

static const char *
label (Fixture *fixture, const char *name)
{
  return gtk_label_get_label (GTK_LABEL (get (fixture, name)));
}

static const char *
store_label (Fixture *fixture)
{
  return gtk_button_get_label (GTK_BUTTON (get (fixture, "store")));
}

static gboolean
is_understood (gpointer data)
{
  Fixture *fixture = data;
  FettlePage *page = fettle_window_get_page (fixture->window);
  GtkWidget *understood = page != NULL ? window_test_find (GTK_WIDGET (page), "understood") : NULL;

  return understood != NULL && g_str_has_prefix (gtk_label_get_label (GTK_LABEL (understood)), "Understood");
}

static char *
sheet_path (Fixture *fixture)
{
  return g_build_filename (fixture->folder, "sheet.txt", NULL);
}

static void
take_file (Fixture *fixture)
{
  g_autofree char *path = sheet_path (fixture);

  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.import-file", "s", path);
  window_test_wait (is_understood, fixture, "the sheet");
  window_test_settle ();
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  window_test_set_up (fixture, "standing");
  window_test_write_file (fixture->folder, "sheet.txt", sheet);
  take_file (fixture);
}

/* Types into a field as a person does, and leaves it. */
static void
type_into (Fixture *fixture, const char *name, const char *text)
{
  gtk_widget_grab_focus (get (fixture, name));
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, name)), text);
  gtk_widget_grab_focus (get (fixture, "cancel"));
  window_test_settle ();
}

static void
check_text (Fixture *fixture, const char *name, const char *expected)
{
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get (fixture, name))), ==, expected);
}

static void
choose (Fixture *fixture, const char *name, guint selected)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, name)), selected);
  window_test_settle ();
}

static void
check_chosen (Fixture *fixture, const char *name, guint expected)
{
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (get (fixture, name))), ==, expected);
}

/* ---- what was understood ---- */

static void
test_understood (Fixture *fixture, gconstpointer data)
{
  GtkListBoxRow *first = gtk_list_box_get_row_at_index (GTK_LIST_BOX (get (fixture, "remarks")), 0);

  g_test_message ("%s", label (fixture, "understood"));
  check_text (fixture, "model", "Test piece three");
  check_text (fixture, "round", "P1");
  check_text (fixture, "date", "2026-03-04");
  check_chosen (fixture, "role-0", EXCHANGE_COLUMN_SERIAL);
  check_chosen (fixture, "role-1", EXCHANGE_COLUMN_MEASURED);
  check_chosen (fixture, "role-3", EXCHANGE_COLUMN_CHECKED);
  check_text (fixture, "name-2", "Play");
  check_text (fixture, "unit-2", "mm");
  check_text (fixture, "limits-2", "max 0,25");
  g_assert_false (gtk_widget_get_visible (get (fixture, "limits-3"))); /* a check has none */
  g_assert_cmpstr (store_label (fixture), ==, "Store 8 Readings");

  /* What was not understood comes first, and leads to its cell. */
  g_assert_nonnull (first);
  g_assert_true (gtk_widget_has_css_class (gtk_list_box_row_get_child (first), "open"));
  g_signal_emit_by_name (get (fixture, "remarks"), "row-activated", first);
  window_test_settle ();
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (fixture->window)) == get (fixture, "sheet-table"));
  g_assert_cmpuint (FETTLE_TABLE (get (fixture, "sheet-table"))->row, ==, 6);
}

/* ---- correcting ---- */

static void
test_columns (Fixture *fixture, gconstpointer data)
{
  type_into (fixture, "name-1", " Pulling strength ");
  check_text (fixture, "name-1", "Pulling strength");
  type_into (fixture, "name-1", "");
  check_text (fixture, "name-1", "Pulling strength"); /* a characteristic without a name there is not */
  type_into (fixture, "unit-1", "kN");
  check_text (fixture, "unit-1", "kN");
  choose (fixture, "class-1", 1);
  check_chosen (fixture, "class-1", 1);
  check_text (fixture, "name-1", "Pulling strength"); /* each correction keeps those before it */
  check_text (fixture, "unit-1", "kN");

  choose (fixture, "role-2", EXCHANGE_COLUMN_LEFT_OUT);
  g_assert_cmpstr (store_label (fixture), ==, "Store 5 Readings");
  g_assert_false (gtk_widget_get_visible (get (fixture, "name-2")));
  choose (fixture, "role-2", EXCHANGE_COLUMN_MEASURED);
  g_assert_cmpstr (store_label (fixture), ==, "Store 8 Readings");
}

static void
test_rows (Fixture *fixture, gconstpointer data)
{
  FettleTable *table = FETTLE_TABLE (get (fixture, "sheet-table"));

  fettle_table_go (table, 5);
  check_chosen (fixture, "row-role", EXCHANGE_ROW_DATA);
  choose (fixture, "row-role", EXCHANGE_ROW_LEFT_OUT);
  g_assert_cmpstr (store_label (fixture), ==, "Store 5 Readings");
  g_assert_cmpuint (table->row, ==, 5);
  fettle_table_go (table, 7);
  check_chosen (fixture, "row-role", EXCHANGE_ROW_SUMMARY);
  fettle_table_go (table, 5);
  check_chosen (fixture, "row-role", EXCHANGE_ROW_LEFT_OUT);
}

static void
test_wrong_limit (Fixture *fixture, gconstpointer data)
{
  type_into (fixture, "limits-1", "about 200");
  g_test_message ("%s", label (fixture, "said"));
  g_assert_nonnull (strstr (label (fixture, "said"), "about 200"));
  g_assert_true (gtk_widget_has_css_class (get (fixture, "limits-1"), "wrong"));

  /* Correcting another column does not take away what was typed here, nor does storing go past it. */
  type_into (fixture, "name-2", "Side play");
  check_text (fixture, "limits-1", "about 200");
  g_signal_emit_by_name (get (fixture, "store"), "clicked");
  window_test_settle ();
  g_assert_nonnull (strstr (label (fixture, "said"), "about 200"));
  g_assert_true (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (fixture->window)), get (fixture, "limits-1")));
  g_assert_true (is_understood (fixture)); /* the sheet is still there */

  type_into (fixture, "limits-1", "200 … 300");
  g_assert_cmpstr (label (fixture, "said"), ==, "");
  g_assert_false (gtk_widget_has_css_class (get (fixture, "limits-1"), "wrong"));
}

static void
test_wrong_day (Fixture *fixture, gconstpointer data)
{
  type_into (fixture, "date", "2026-02-31");
  g_signal_emit_by_name (get (fixture, "store"), "clicked");
  window_test_settle ();
  g_test_message ("%s", label (fixture, "said"));
  g_assert_nonnull (strstr (label (fixture, "said"), "2026-02-31"));
  check_text (fixture, "date", "2026-02-31");
  g_assert_true (is_understood (fixture));
  type_into (fixture, "model", "");
  g_assert_false (gtk_widget_get_sensitive (get (fixture, "store"))); /* without a model there is nowhere to store it */
}

/* Invented: limits in lines of their own, both or one. */
static const char lines_sheet[] = "Test piece four, round P1\n"
                                  "\n"
                                  "No.,Strength N,Play mm,Pull N\n"
                                  "lower,18,,7.5\n"
                                  "upper,22,0.25,\n"
                                  "Y-01,19.5,0.14,8.1\n"
                                  "Y-02,20.5,0.13,8.3\n";

static BookEvidence *load (Fixture *fixture, const char *name);

static gboolean
has_four (gpointer data)
{
  g_autoptr(BookEvidence) evidence = load (data, "Test piece four");

  return evidence != NULL;
}

static gboolean
has_limits_of_lines (gpointer data)
{
  GtkWidget *field = window_test_find (GTK_WIDGET (((Fixture *) data)->window), "limits-1");

  return field != NULL && g_str_equal (gtk_editable_get_text (GTK_EDITABLE (field)), "18 … 22");
}

static void
test_limits_of_lines (Fixture *fixture, gconstpointer data)
{
  g_autoptr(BookEvidence) evidence = NULL;
  GtkWidget *field;

  g_test_summary ("Limits in lines of their own are shown whole; what is left as it is shown is stored as the sheet has it.");
  window_test_write_file (fixture->folder, "sheet.txt", lines_sheet);
  take_file (fixture);
  window_test_wait (has_limits_of_lines, fixture, "the other sheet, with its limits");
  check_text (fixture, "limits-2", "≤ 0.25");
  check_text (fixture, "limits-3", "≥ 7.5");
  field = get (fixture, "limits-1");
  gtk_widget_grab_focus (field);
  gtk_widget_grab_focus (get (fixture, "cancel"));
  window_test_settle ();
  check_text (fixture, "limits-1", "18 … 22");
  g_signal_emit_by_name (get (fixture, "store"), "clicked");
  window_test_wait_page (fixture->window, "readings");
  window_test_wait (has_four, fixture, "the model");
  window_test_settle ();

  evidence = load (fixture, "Test piece four");
  g_assert_cmpuint (evidence->n_limits, ==, 3);
  for (guint i = 0; i < evidence->n_limits; i++)
    {
      const char *name = evidence->characteristics[evidence->limits[i].characteristic].name;
      double lower = evidence->limits[i].lower, upper = evidence->limits[i].upper;

      if (g_str_equal (name, "Strength"))
        g_assert_true (lower == 18.0 && upper == 22.0);
      else if (g_str_equal (name, "Play"))
        g_assert_true (!isfinite (lower) && upper == 0.25);
      else
        g_assert_true (lower == 7.5 && !isfinite (upper));
    }
}

/* ---- storing ---- */

static BookEvidence *
load (Fixture *fixture, const char *name)
{
  g_autoptr(GError) error = NULL;
  StoreDb *db = window_test_db (fixture->window);

  for (guint i = 0; i < fixture->window->facts->n_models; i++)
    if (g_str_equal (fixture->window->facts->models[i].name, name))
      return book_evidence_load (db, fixture->window->facts->models[i].key, &error);
  return NULL;
}

static gboolean
is_there (gpointer data)
{
  g_autoptr(BookEvidence) evidence = load (data, "Test piece three");

  return evidence != NULL;
}

static gboolean
is_gone (gpointer data)
{
  return !is_there (data);
}

typedef struct
{
  Fixture *fixture;
  gint64   round;
} Rounds;

static gboolean
has_round (gpointer data)
{
  const Rounds *rounds = data;

  return rounds->fixture->window->span.to == rounds->round;
}

static gboolean
has_other_round (gpointer data)
{
  return !has_round (data);
}

/* What undo says stays, and offers to do it again. */
static void
check_taken_back (Fixture *fixture)
{
  GtkWidget *action = window_test_get (GTK_WIDGET (fixture->window), "message-action");

  g_test_message ("%s", window_test_said (fixture->window));
  g_assert_true (g_str_has_prefix (window_test_said (fixture->window), "Taken back: "));
  g_assert_true (gtk_widget_get_mapped (action));
  g_assert_cmpstr (gtk_button_get_label (GTK_BUTTON (action)), ==, "Redo");
}

static void
test_stored (Fixture *fixture, gconstpointer data)
{
  g_autoptr(BookEvidence) evidence = NULL;

  type_into (fixture, "limits-2", "0.05 … 0.20");
  type_into (fixture, "date", "5.3.2026"); /* as it is written on paper */
  g_signal_emit_by_name (get (fixture, "store"), "clicked");
  window_test_wait_page (fixture->window, "readings");
  window_test_wait (is_there, fixture, "the model");
  window_test_settle ();

  evidence = load (fixture, "Test piece three");
  g_assert_cmpuint (evidence->n_units, ==, 3);
  g_assert_cmpuint (evidence->n_readings, ==, 8);
  g_assert_cmpuint (evidence->n_rounds, ==, 1);
  g_assert_cmpstr (evidence->rounds[0].label, ==, "P1");
  for (guint i = 0; i < evidence->n_limits; i++)
    if (g_str_equal (evidence->characteristics[evidence->limits[i].characteristic].name, "Play"))
      {
        g_assert_cmpfloat (evidence->limits[i].lower, ==, 0.05);
        g_assert_cmpfloat (evidence->limits[i].upper, ==, 0.20);
      }
  g_assert_cmpuint (evidence->n_limits, ==, 2);

  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo", NULL);
  window_test_wait (is_gone, fixture, "all of it taken back");
  window_test_settle ();
  check_taken_back (fixture);
}

/* Undo of a sheet that made a round: one stands in a round that there is, and can do it again. */
static void
test_round_gone (Fixture *fixture, gconstpointer data)
{
  const FettleFacts *facts = fixture->window->facts;
  gint64 newest = fixture->window->span.to;

  g_assert_cmpuint (facts->n_models, ==, 2);
  type_into (fixture, "model", "Test piece two");
  type_into (fixture, "round", "P9");
  type_into (fixture, "date", "2026-08-03"); /* opened after all others */
  g_signal_emit_by_name (get (fixture, "store"), "clicked");
  window_test_wait_page (fixture->window, "readings");
  window_test_wait (has_other_round, &(Rounds){ fixture, newest }, "the round of the sheet");
  window_test_settle ();

  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo-book", NULL);
  window_test_wait (has_round, &(Rounds){ fixture, newest }, "the round before");
  window_test_settle ();
  g_assert_cmpint (fixture->window->span.from, ==, newest);
  check_taken_back (fixture);
}

static void
test_one_at_a_time (Fixture *fixture, gconstpointer data)
{
  g_autofree char *path = sheet_path (fixture);

  g_signal_emit_by_name (get (fixture, "store"), "clicked");
  g_assert_false (gtk_widget_get_sensitive (get (fixture, "store")));
  /* Another file comes while the thread has the sheet: it is said so, and the sheet stays whole. */
  gtk_widget_activate_action (window_test_page (fixture->window), "sheet.take-file", "s", path);
  g_assert_nonnull (strstr (window_test_said (fixture->window), "still being stored"));
  window_test_wait (is_there, fixture, "the model");
  window_test_settle ();
}

static void
test_put_away (Fixture *fixture, gconstpointer data)
{
  g_signal_emit_by_name (get (fixture, "cancel"), "clicked");
  window_test_settle ();
  g_assert_false (gtk_widget_get_mapped (get (fixture, "store")));
  g_assert_true (gtk_widget_get_mapped (get (fixture, "paste")));
  g_assert_false (is_there (fixture));

  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (fixture->window)), sheet);
  g_signal_emit_by_name (get (fixture, "paste"), "clicked");
  window_test_wait (is_understood, fixture, "the pasted sheet");
  g_assert_cmpstr (store_label (fixture), ==, "Store 8 Readings");
}

/* Another sheet replaces the one before; the window may end while a field of it has the keyboard. */
static void
test_replaced (Fixture *fixture, gconstpointer data)
{
  gtk_widget_grab_focus (get (fixture, "limits-2"));
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "limits-2")), "max 0,3");
  g_signal_emit_by_name (get (fixture, "cancel"), "clicked");
  take_file (fixture);
  check_text (fixture, "limits-2", "max 0,25");
  gtk_widget_grab_focus (get (fixture, "limits-2"));
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "limits-2")), "max 0,3");
}

/* ---- names ---- */

static void
test_names (Fixture *fixture, gconstpointer data)
{
  g_assert_cmpuint (window_test_count_named (window_test_page (fixture->window)), >=, 30);
}

#define ADD(path, test) g_test_add (path, Fixture, NULL, set_up, test, window_test_tear_down)

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  ADD ("/window/sheet/says-what-was-understood", test_understood);
  ADD ("/window/sheet/columns-are-corrected", test_columns);
  ADD ("/window/sheet/rows-are-corrected", test_rows);
  ADD ("/window/sheet/a-wrong-limit-stays-and-stops-storing", test_wrong_limit);
  ADD ("/window/sheet/a-wrong-day-stays-and-stops-storing", test_wrong_day);
  ADD ("/window/sheet/limits-of-lines-are-shown-whole", test_limits_of_lines);
  ADD ("/window/sheet/is-stored-and-taken-back-in-one-action", test_stored);
  ADD ("/window/sheet/its-round-goes-with-undo", test_round_gone);
  ADD ("/window/sheet/no-other-comes-while-one-is-stored", test_one_at_a_time);
  ADD ("/window/sheet/is-put-away-and-pasted", test_put_away);
  ADD ("/window/sheet/another-takes-its-place", test_replaced);
  ADD ("/window/sheet/every-control-has-a-name", test_names);
  return g_test_run ();
}
