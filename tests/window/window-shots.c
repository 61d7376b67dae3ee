/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * window-shots FOLDER [BOOK [MODEL]]: pictures of every page for eyes, light and dark, wide and narrow. Asserts nothing
 * about them. A folder of CSV files is imported first; without a book: the small one of the tests. FETTLE_SHOTS names
 * one page where only that is wanted, FETTLE_SHOTS_AS the initials of who is there.
 */
#include "config.h"

#include <glib/gi18n.h>
#include <locale.h>

#include "look.h"
#include "present-number.h"
#include "facts.h"
#include "ledger.h"
#include "paper-leaf.h"
#include "table.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

static const struct
{
  const char *name;
  int         width;
  int         height;
} sizes[] = { { "wide", 1280, 800 }, { "narrow", 1000, 640 }, { "small", 800, 560 } };

static void
shoot (FettleWindow *window, const char *folder, const char *what, const char *size, gboolean dark)
{
  g_autofree char *name = g_strdup_printf ("%s-%s-%s.png", what, size, dark ? "dark" : "light");
  g_autofree char *path = g_build_filename (folder, name, NULL);

  window_test_settle ();
  g_usleep (200000);
  window_test_settle ();
  if (fettle_window_get_sitting (window) != NULL)
    window_test_wait_answers (window);
  if (!window_test_picture (GTK_WIDGET (window), path))
    g_printerr ("%s: nothing was drawn\n", path);
}

static void
scroll_to (GtkWidget *page, double share)
{
  GtkWidget *scroll = window_test_find (page, "GtkScrolledWindow");
  GtkAdjustment *adjustment;

  if (scroll == NULL)
    return;
  adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scroll));
  gtk_adjustment_set_value (adjustment, share * (gtk_adjustment_get_upper (adjustment) - gtk_adjustment_get_page_size (adjustment)));
}

static gboolean
is_wanted (const char *page)
{
  const char *only = g_getenv ("FETTLE_SHOTS");

  return only == NULL || g_str_equal (only, page);
}

/* Bench: a unit at hand, and the form that sends it back. */
static void
shoot_bench (FettleWindow *window, const char *folder, const char *size, gboolean dark)
{
  if (fettle_sitting_get_person (fettle_window_get_sitting (window)) == 0)
    fettle_sitting_set_person (fettle_window_get_sitting (window), 1);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.at-bench", "s", "next");
  shoot (window, folder, "bench-unit", size, dark);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.at-bench", "s", "sent-back");
  g_usleep (300000);
  shoot (window, folder, "bench-back", size, dark);
}

/* Tally: some pieces counted in the round that runs, one of them lost. */
static void
shoot_tally (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  static const int kinds[] = { 0, 0, 0, 1, 2, 3 };

  gtk_drop_down_set_selected (GTK_DROP_DOWN (window_test_get (page, "tally-step")), 4);
  window_test_settle ();
  g_usleep (300000);
  window_test_settle ();
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      gtk_widget_activate_action (page, "tally.count", "i", kinds[i]);
      window_test_settle ();
    }
  g_usleep (300000);
  shoot (window, folder, "tally-counted", size, dark);
  scroll_to (page, 1.0);
  shoot (window, folder, "tally-end", size, dark);
}

/* Changes: what can be agreed now, and one that was carried out. */
static void
shoot_changes (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  FettleLedger *table = FETTLE_LEDGER (window_test_get (page, "changes-table"));

  g_usleep (300000);
  window_test_settle ();
  fettle_ledger_select (table, 0, TRUE);
  g_usleep (300000);
  shoot (window, folder, "change-first", size, dark);
  fettle_ledger_select (table, 3, TRUE);
  g_usleep (300000);
  shoot (window, folder, "change-later", size, dark);
  fettle_ledger_select (table, 0, TRUE);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.change", "s", "agree");
  g_usleep (300000);
  shoot (window, folder, "change-agree", size, dark);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.change", "s", "add");
  g_usleep (300000);
  shoot (window, folder, "change-add", size, dark);
  fettle_ledger_select (table, -1, FALSE);
  window_test_settle ();
  scroll_to (page, 1.0);
  shoot (window, folder, "changes-end", size, dark);
  scroll_to (page, 0.0);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.propose-change", NULL);
  g_usleep (300000);
  window_test_settle ();
  gtk_editable_set_text (GTK_EDITABLE (window_test_get (page, "title")), "Ramp radius 0.8 mm instead of 0.6 mm");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (window_test_get (page, "what")), 2);
  shoot (window, folder, "change-form", size, dark);
  g_signal_emit_by_name (window_test_get (page, "forget"), "clicked");
  g_signal_emit_by_name (window_test_get (page, "leave"), "clicked");
}

/* An issue that is open, its form of the cause, its end, and a new one. */
static void
shoot_issues (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  FettleLedger *table = FETTLE_LEDGER (window_test_get (page, "issues-table"));

  fettle_ledger_select (table, 0, TRUE);
  g_usleep (400000);
  window_test_settle ();
  g_usleep (400000);
  shoot (window, folder, "issue", size, dark);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.issue", "s", "cause");
  g_usleep (300000);
  shoot (window, folder, "issue-cause", size, dark);
  scroll_to (page, 0.4);
  shoot (window, folder, "issue-middle", size, dark);
  scroll_to (page, 0.6);
  shoot (window, folder, "issue-pictures", size, dark);
  fettle_ledger_select (table, -1, FALSE);
  window_test_settle ();
  scroll_to (page, 1.0);
  shoot (window, folder, "issues-end", size, dark);
  scroll_to (page, 0.0);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.raise-issue", NULL);
  g_usleep (300000);
  shoot (window, folder, "issue-new", size, dark);
  g_signal_emit_by_name (window_test_get (page, "leave"), "clicked");
}

/* The grid with something out of its limits, and what looks like a slip. */
static void
shoot_entry (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  FettleTable *table = FETTLE_TABLE (window_test_get (page, "entry-table"));

  gtk_widget_grab_focus (GTK_WIDGET (table));
  fettle_table_go_to_cell (table, 2, 5);
  fettle_table_paste_text (table, "570\t0.9");
  window_test_wait_answers (window);
  shoot (window, folder, "entry-slip", size, dark);
  fettle_sitting_undo (fettle_window_get_sitting (window));
  window_test_settle ();
}

/* With somebody chosen: the study that is typed, and checks of known pieces. */
static void
shoot_gauges (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  FettleSitting *sitting = fettle_window_get_sitting (window);

  if (window->facts != NULL && window->facts->n_persons > 0)
    fettle_sitting_set_person (sitting, window->facts->persons[0].key);
  window_test_wait_answers (window);
  scroll_to (page, 0.6);
  shoot (window, folder, "gauges-study", size, dark);
  scroll_to (page, 1.0);
  shoot (window, folder, "gauges-end", size, dark);
  scroll_to (page, 0.0);
  fettle_sitting_set_person (sitting, 0);
}

/* Four marks chosen: the last two and the first two. */
static void
shoot_chosen (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  GtkWidget *chart = window_test_get (page, "chart");

  if (!g_str_equal (G_OBJECT_TYPE_NAME (chart), "FettleChartArea"))
    chart = gtk_widget_get_first_child (chart);
  window_test_press (chart, GDK_KEY_End, 0);
  window_test_press (chart, GDK_KEY_space, 0);
  window_test_press (chart, GDK_KEY_Left, GDK_SHIFT_MASK);
  window_test_press (chart, GDK_KEY_Home, 0);
  window_test_press (chart, GDK_KEY_space, 0);
  window_test_press (chart, GDK_KEY_Right, GDK_SHIFT_MASK);
  window_test_settle ();
  g_usleep (900000);
  shoot (window, folder, "readings-chosen", size, dark);
  window_test_press (chart, GDK_KEY_Escape, 0);
  window_test_press (chart, GDK_KEY_Escape, 0);
  window_test_settle ();
}

/* Single values with some chosen, how values lie, and the wall. */
static void
shoot_readings (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  static const char *const names[] = { "readings", "readings-single", "readings-spread", "readings-wall" };
  GtkDropDown *view = GTK_DROP_DOWN (window_test_get (page, "view"));

  for (guint i = 1; i < G_N_ELEMENTS (names); i++)
    {
      gtk_drop_down_set_selected (view, i);
      window_test_settle ();
      g_usleep (600000);
      shoot (window, folder, names[i], size, dark);
      if (i == 1)
        shoot_chosen (window, page, folder, size, dark);
    }
  gtk_drop_down_set_selected (view, 0);
  window_test_settle ();
}

/* A round that is over, the form of the next one, and that one planned; it is taken back. */
static void
shoot_rounds (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  FettleLedger *table = FETTLE_LEDGER (window_test_get (page, "rounds-table"));

  fettle_ledger_select (table, 1, TRUE);
  g_usleep (900000);
  shoot (window, folder, "round-answer", size, dark);
  scroll_to (page, 1.0);
  shoot (window, folder, "round-answer-end", size, dark);
  scroll_to (page, 0.0);
  fettle_ledger_select (table, -1, FALSE);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.plan-round", NULL);
  g_usleep (500000);
  shoot (window, folder, "round-form", size, dark);
  g_signal_emit_by_name (window_test_get (page, "store"), "clicked");
  window_test_settle ();
  g_usleep (1500000);
  window_test_settle ();
  g_usleep (900000);
  scroll_to (page, 0.0);
  shoot (window, folder, "round-plan", size, dark);
  if (window_test_find (page, "tests-expander") != NULL)
    gtk_expander_set_expanded (GTK_EXPANDER (window_test_get (page, "tests-expander")), TRUE);
  window_test_settle ();
  scroll_to (page, 0.5);
  shoot (window, folder, "round-plan-middle", size, dark);
  scroll_to (page, 1.0);
  shoot (window, folder, "round-plan-end", size, dark);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  g_usleep (500000);
  window_test_settle ();
}

/* All of a long page, a what-if that has an interval, and a tally to be entered. */
static void
shoot_pilot (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  GtkWidget *people = window_test_find (page, "people");

  if (people != NULL)
    gtk_spin_button_set_value (GTK_SPIN_BUTTON (people), 2.0);
  g_usleep (400000);
  window_test_settle ();
  scroll_to (page, 0.3);
  shoot (window, folder, "pilot-losses", size, dark);
  scroll_to (page, 0.55);
  shoot (window, folder, "pilot-rate", size, dark);
  scroll_to (page, 0.75);
  shoot (window, folder, "pilot-what-if", size, dark);
  gtk_widget_activate_action (page, "win.pilot-store", NULL);
  g_usleep (400000);
  window_test_settle ();
  shoot (window, folder, "pilot-store", size, dark);
  scroll_to (page, 1.0);
  shoot (window, folder, "pilot-end", size, dark);
  scroll_to (page, 0.0);
  g_signal_emit_by_name (window_test_get (page, "rate-reset"), "clicked");
  g_signal_emit_by_name (window_test_get (page, "pilot-count"), "clicked");
  g_usleep (300000);
  shoot (window, folder, "pilot-tally", size, dark);
}

/* The day on which a wait ended. */
static void
shoot_leadtime (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  g_usleep (400000);
  window_test_settle ();
  for (int i = 0; i < 12 && !gtk_widget_get_mapped (window_test_get (page, "wait-today")); i++)
    {
      fettle_ledger_select (FETTLE_LEDGER (window_test_get (page, "leadtime-open")), i, TRUE);
      window_test_settle ();
    }
  gtk_widget_activate_action (page, "win.wait", "s", "on");
  g_usleep (400000);
  window_test_settle ();
  shoot (window, folder, "leadtime-wait", size, dark);
}

/* The kinds that have most to show, a new row, and what would go along with one that is deleted. */
static void
shoot_setup (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  static const char *const kinds[] = { "model", "limit", "step", "criterion", "part", "person" };
  GtkListBox *list = GTK_LIST_BOX (window_test_get (page, "setup-kinds"));

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autofree char *name = g_strdup_printf ("setup-%s", kinds[i]);

      gtk_list_box_select_row (list, GTK_LIST_BOX_ROW (window_test_get (GTK_WIDGET (list), kinds[i])));
      window_test_settle ();
      g_usleep (400000);
      shoot (window, folder, name, size, dark);
    }
  gtk_list_box_select_row (list, GTK_LIST_BOX_ROW (window_test_get (GTK_WIDGET (list), "step")));
  g_usleep (400000);
  window_test_settle ();
  gtk_widget_activate_action (page, "setup.act", "s", "remove");
  g_usleep (300000);
  shoot (window, folder, "setup-remove", size, dark);
  gtk_widget_activate_action (page, "setup.act", "s", "add");
  g_usleep (300000);
  shoot (window, folder, "setup-add", size, dark);
  gtk_list_box_select_row (list, GTK_LIST_BOX_ROW (window_test_get (GTK_WIDGET (list), "model")));
  g_usleep (400000);
  window_test_settle ();
  gtk_widget_activate_action (page, "setup.act", "s", "deed");
  g_usleep (300000);
  shoot (window, folder, "setup-take-over", size, dark);
}

/* The gate from top to bottom, and the form of a decision. */
static void
shoot_release (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  gtk_widget_activate_action (GTK_WIDGET (window), "win.release", "s", "decide");
  g_usleep (300000);
  shoot (window, folder, "release-decide", size, dark);
  scroll_to (page, 0.4);
  shoot (window, folder, "release-middle", size, dark);
  scroll_to (page, 0.7);
  shoot (window, folder, "release-forecast", size, dark);
  scroll_to (page, 1.0);
  shoot (window, folder, "release-end", size, dark);
  scroll_to (page, 0.0);
}

static gboolean
has_sheets (gpointer data)
{
  GtkWidget *first = gtk_widget_get_first_child (window_test_get (data, "pack-sheets"));

  return first != NULL && fettle_paper_leaf_is_painted (FETTLE_PAPER_LEAF (first));
}

static void
shoot_pack (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  window_test_wait (has_sheets, page, "the decision pack");
  shoot (window, folder, "pack", size, dark);
  scroll_to (page, 0.3);
  shoot (window, folder, "pack-later", size, dark);
  scroll_to (page, 0.0);
}

static void
shoot_pages (FettleWindow *window, const char *folder, const char *size, gboolean dark)
{
  guint n;
  const FettlePageKind *kinds = fettle_page_kinds (&n);

  for (guint i = 0; i < n; i++)
    {
      GtkWidget *page;

      if (!is_wanted (kinds[i].name))
        continue;
      gtk_widget_activate_action (GTK_WIDGET (window), "win.page", "s", kinds[i].name);
      window_test_settle ();
      page = window_test_page (window);
      shoot (window, folder, kinds[i].name, size, dark);
      if (g_str_equal (kinds[i].name, "pack"))
        shoot_pack (window, page, folder, size, dark);
      if (g_str_equal (kinds[i].name, "tally"))
        shoot_tally (window, page, folder, size, dark);
      if (g_str_equal (kinds[i].name, "bench"))
        shoot_bench (window, folder, size, dark);
      if (g_str_equal (kinds[i].name, "issues"))
        shoot_issues (window, page, folder, size, dark);
      if (g_str_equal (kinds[i].name, "readings"))
        shoot_readings (window, page, folder, size, dark);
      if (g_str_equal (kinds[i].name, "entry"))
        shoot_entry (window, page, folder, size, dark);
      if (g_str_equal (kinds[i].name, "gauges"))
        shoot_gauges (window, page, folder, size, dark);
      if (g_str_equal (kinds[i].name, "rounds"))
        shoot_rounds (window, page, folder, size, dark);
      if (g_str_equal (kinds[i].name, "compare"))
        {
          scroll_to (page, 0.5);
          shoot (window, folder, "compare-middle", size, dark);
          scroll_to (page, 1.0);
          shoot (window, folder, "compare-end", size, dark);
          scroll_to (page, 0.0);
        }
      if (g_str_equal (kinds[i].name, "changes"))
        shoot_changes (window, page, folder, size, dark);
      if (g_str_equal (kinds[i].name, "setup"))
        shoot_setup (window, page, folder, size, dark);
      if (g_str_equal (kinds[i].name, "release"))
        shoot_release (window, page, folder, size, dark);
      if (g_str_equal (kinds[i].name, "pilot"))
        shoot_pilot (window, page, folder, size, dark);
      if (g_str_equal (kinds[i].name, "leadtime"))
        shoot_leadtime (window, page, folder, size, dark);
      if (!g_str_equal (kinds[i].name, "standing"))
        continue;

      fettle_ledger_select (FETTLE_LEDGER (window_test_get (page, "criteria")), 1, TRUE);
      g_usleep (400000);
      shoot (window, folder, "criterion", size, dark);
      fettle_ledger_select (FETTLE_LEDGER (window_test_get (page, "criteria")), -1, FALSE);
      window_test_settle ();
      scroll_to (page, 1.0);
      shoot (window, folder, "standing-end", size, dark);
      scroll_to (page, 0.0);
    }
}

/* Rows of readings before they are taken in: invented ones of a unit of the demo. */
static void
shoot_import (FettleWindow *window, const char *folder, const char *size, gboolean dark)
{
  static const char rows[] = "Round\tUnit\tCharacteristic\tValue\tTaken\tPerson\tRemark\n"
                             "P3\tP3-01\tSP\t0,31\t12.10.2026\t\tfirst of the day\n"
                             "P3\tP3-01\tOF\t11,2\t12.10.2026\t\t\n"
                             "P3\tP3-02\tSP\t0,31x\t12.10.2026\t\t\n"
                             "P3\tP3-99\tSP\t0,30\t12.10.2026\t\tlabel fell off\n"
                             "P3\tP3-03\tSP\t0,29\t31.9.2026\t\t\n"
                             "P3\tP3-04\tSP\t0,28\t12.10.2026\t\t\n";

  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (window)), rows);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.paste-rows", NULL);
  for (guint i = 0; i < 10; i++)
    {
      g_usleep (100000);
      window_test_settle ();
    }
  shoot (window, folder, "import-filled", size, dark);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (window_test_get (GTK_WIDGET (window), "filter-refused")), TRUE);
  shoot (window, folder, "import-refused", size, dark);
  g_signal_emit_by_name (window_test_get (GTK_WIDGET (window), "away"), "clicked");
}

/* Where something is typed: a wrong number in a cell, a reason for voiding, a measuring sheet and its end. */
static void
shoot_typing (FettleWindow *window, const char *folder, const char *size, gboolean dark)
{
  g_autofree char *sheet = g_build_filename (g_getenv ("FETTLE_DEMO_DIR") != NULL ? g_getenv ("FETTLE_DEMO_DIR") : ".", "..",
                                             "sheet.csv", NULL);
  GtkWidget *page, *table;

  gtk_widget_activate_action (GTK_WIDGET (window), "win.page", "s", "readings");
  window_test_settle ();
  page = window_test_page (window);
  table = window_test_get (page, "readings-table");
  window_test_press (table, GDK_KEY_Down, 0);
  window_test_press (table, GDK_KEY_F2, 0);
  gtk_editable_set_text (GTK_EDITABLE (window_test_get (page, "cell")), "0.1x");
  window_test_press (table, GDK_KEY_Return, 0);
  shoot (window, folder, "readings-wrong", size, dark);
  window_test_press (table, GDK_KEY_Escape, 0);

  if (fettle_sitting_get_person (fettle_window_get_sitting (window)) == 0)
    fettle_sitting_set_person (fettle_window_get_sitting (window), 1);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (window_test_get (page, "void")), TRUE);
  shoot (window, folder, "readings-void", size, dark);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (window_test_get (page, "void")), FALSE);

  if (!g_file_test (sheet, G_FILE_TEST_EXISTS))
    return;
  gtk_widget_activate_action (GTK_WIDGET (window), "win.import-file", "s", sheet);
  g_usleep (300000);
  shoot (window, folder, "sheet-filled", size, dark);
  page = window_test_page (window);
  scroll_to (page, 0.6);
  shoot (window, folder, "sheet-middle", size, dark);
  scroll_to (page, 1.0);
  shoot (window, folder, "sheet-end", size, dark);
  g_signal_emit_by_name (window_test_get (page, "cancel"), "clicked");
}

/* Popovers are surfaces of their own: each is pictured alone. */
static void
shoot_popover (FettleWindow *window, const char *folder, const char *button, const char *what, gboolean dark)
{
  GtkMenuButton *menu_button = GTK_MENU_BUTTON (window_test_get (GTK_WIDGET (window), button));
  g_autofree char *name = g_strdup_printf ("%s-%s.png", what, dark ? "dark" : "light");
  g_autofree char *path = g_build_filename (folder, name, NULL);

  gtk_menu_button_popup (menu_button);
  g_usleep (300000);
  window_test_settle ();
  window_test_picture (GTK_WIDGET (gtk_menu_button_get_popover (menu_button)), path);
  gtk_menu_button_popdown (menu_button);
  window_test_settle ();
}

/* What is found for a word, and what is said where nothing is. */
static void
shoot_find (FettleWindow *window, const char *folder, const char *size, gboolean dark)
{
  static const char *const words[] = { "lock", "xylophone" };
  GtkWidget *entry = window_test_get (GTK_WIDGET (window), "find");

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    {
      g_autofree char *name = g_strdup_printf ("find-%s-%s-%s.png", i == 0 ? "hits" : "nothing", size, dark ? "dark" : "light");
      g_autofree char *path = g_build_filename (folder, name, NULL);

      gtk_widget_activate_action (GTK_WIDGET (window), "win.find", NULL);
      gtk_editable_set_text (GTK_EDITABLE (entry), words[i]);
      g_usleep (300000);
      window_test_settle ();
      g_usleep (300000);
      window_test_settle ();
      window_test_picture (GTK_WIDGET (window), path);
    }
  gtk_editable_set_text (GTK_EDITABLE (entry), "");
}

static void
shoot_rest (FettleWindow *window, const char *folder, gboolean dark)
{
  g_autofree char *keys_name = g_strdup_printf ("shortcuts-%s.png", dark ? "dark" : "light");
  g_autofree char *keys_path = g_build_filename (folder, keys_name, NULL);
  GListModel *windows = gtk_window_get_toplevels ();

  shoot_popover (window, folder, "menu", "menu", dark);
  shoot_popover (window, folder, "model-button", "models", dark);
  shoot_popover (window, folder, "person-button", "persons", dark);

  gtk_widget_activate_action (GTK_WIDGET (window), "win.shortcuts", NULL);
  g_usleep (300000);
  window_test_settle ();
  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr(GtkWidget) each = g_list_model_get_item (windows, i);

      if (!GTK_IS_SHORTCUTS_WINDOW (each))
        continue;
      window_test_picture (each, keys_path);
      gtk_window_destroy (GTK_WINDOW (each));
      break;
    }
  gtk_widget_activate_action (GTK_WIDGET (window), "win.legend", NULL);
  fettle_window_say (window, "Taken back: 24 readings were typed for round B.", "Redo", "win.redo");
  window_test_press (window_test_get (GTK_WIDGET (window), "strip"), GDK_KEY_Left, GDK_SHIFT_MASK);
  window_test_press (window_test_get (GTK_WIDGET (window), "strip"), GDK_KEY_Left, GDK_SHIFT_MASK);
  g_usleep (300000);
  shoot (window, folder, "span", "wide", dark);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.legend", NULL);
}

int
main (int argc, char **argv)
{
  g_autofree char *made = NULL;
  const char *folder, *book;

  setlocale (LC_ALL, "");
  if (g_getenv ("FETTLE_LOCALE_DIR") != NULL)
    {
      bindtextdomain (GETTEXT_PACKAGE, g_getenv ("FETTLE_LOCALE_DIR"));
      bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
      textdomain (GETTEXT_PACKAGE);
    }
  g_setenv ("GSETTINGS_BACKEND", "memory", TRUE);
  window_test_init (&argc, &argv);
  present_number_set_local (TRUE);
  folder = argc > 1 ? argv[1] : "shots";
  g_mkdir_with_parents (folder, 0755);
  book = argc > 2 ? argv[2] : NULL;
  if (book == NULL || g_file_test (book, G_FILE_TEST_IS_DIR))
    {
      g_autofree char *place = g_dir_make_tmp ("fettle-shots-XXXXXX", NULL);

      if (book == NULL)
        made = window_test_make_book (place);
      else
        window_test_import (made = g_build_filename (place, "hawfinch" BOOK_SUFFIX, NULL), book);
      book = made;
    }

  for (gboolean dark = FALSE; dark <= TRUE; dark++)
    for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
      {
        FettleWindow *window;
        FettleWish wish = { argc > 3 ? argv[3] : NULL, "standing", g_getenv ("FETTLE_SHOTS_AS") };

        window_test_program ();
        fettle_look_choose (dark ? FETTLE_LOOK_DARK : FETTLE_LOOK_LIGHT);
        window = fettle_window_new (window_test_program ());
        gtk_window_set_default_size (GTK_WINDOW (window), sizes[i].width, sizes[i].height);
        gtk_window_present (GTK_WINDOW (window));
        fettle_window_open (window, NULL, FALSE, NULL);
        shoot (window, folder, "welcome", sizes[i].name, dark);
        if (g_strcmp0 (book, "none") != 0)
          {
            fettle_window_open (window, book, FALSE, &wish);
            window_test_wait_standing (window);
            shoot_pages (window, folder, sizes[i].name, dark);
            if (is_wanted ("typing"))
              shoot_typing (window, folder, sizes[i].name, dark);
            if (is_wanted ("find"))
              shoot_find (window, folder, sizes[i].name, dark);
            if (is_wanted ("import"))
              shoot_import (window, folder, sizes[i].name, dark);
            if (i == 0 && is_wanted ("rest"))
              shoot_rest (window, folder, dark);
          }
        window_test_close (window);
      }
  return 0;
}
