/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is pictured of each page beside the page as it opens: its forms, its ends, what is selected. */
#include "config.h"

#include "window-shots.h"

#include "facts.h"
#include "ledger.h"
#include "paper-leaf.h"
#include "table.h"
#include "window-look.h"

static gboolean
has_form (gpointer page)
{
  return window_test_find (page, "leave") != NULL;
}

/* A form is there when the book has answered, which on a busy machine takes longer than a picture may wait. */
static void
leave (GtkWidget *page)
{
  window_test_wait (has_form, page, "a form");
  g_signal_emit_by_name (window_test_get (page, "leave"), "clicked");
}

/* Bench: a unit at hand, and the form that sends it back. */
static void
shoot_bench (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  if (fettle_sitting_get_person (fettle_window_get_sitting (window)) == 0)
    fettle_sitting_set_person (fettle_window_get_sitting (window), window->facts->persons[0].key);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.at-bench", "s", "next");
  window_shots_take (window, folder, "bench-unit", size, dark);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.at-bench", "s", "sent-back");
  g_usleep (300000);
  window_shots_take (window, folder, "bench-back", size, dark);
}

/* Tally: some pieces counted in the round that runs, one of them lost. */
static void
shoot_tally (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  static const int kinds[] = { 0, 0, 0, 1, 2, 3 };

  if (fettle_sitting_get_person (fettle_window_get_sitting (window)) == 0 && window->facts->n_persons > 0)
    fettle_sitting_set_person (fettle_window_get_sitting (window), window->facts->persons[0].key);
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
  window_shots_take (window, folder, "tally-counted", size, dark);
  window_shots_scroll (page, 1.0);
  window_shots_take (window, folder, "tally-end", size, dark);
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
  window_shots_take (window, folder, "change-first", size, dark);
  fettle_ledger_select (table, 3, TRUE);
  g_usleep (300000);
  window_shots_take (window, folder, "change-later", size, dark);
  fettle_ledger_select (table, 0, TRUE);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.change", "s", "agree");
  g_usleep (300000);
  window_shots_take (window, folder, "change-agree", size, dark);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.change", "s", "add");
  g_usleep (300000);
  window_shots_take (window, folder, "change-add", size, dark);
  fettle_ledger_select (table, -1, FALSE);
  window_test_settle ();
  window_shots_scroll (page, 1.0);
  window_shots_take (window, folder, "changes-end", size, dark);
  window_shots_scroll (page, 0.0);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.propose-change", NULL);
  g_usleep (300000);
  window_test_settle ();
  gtk_editable_set_text (GTK_EDITABLE (window_test_get (page, "title")), "Ramp radius 0.8 mm instead of 0.6 mm");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (window_test_get (page, "what")), 2);
  window_shots_take (window, folder, "change-form", size, dark);
  g_signal_emit_by_name (window_test_get (page, "forget"), "clicked");
  leave (page);
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
  window_shots_take (window, folder, "issue", size, dark);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.issue", "s", "cause");
  g_usleep (300000);
  window_shots_take (window, folder, "issue-cause", size, dark);
  window_shots_scroll (page, 0.4);
  window_shots_take (window, folder, "issue-middle", size, dark);
  window_shots_scroll (page, 0.6);
  window_shots_take (window, folder, "issue-pictures", size, dark);
  fettle_ledger_select (table, -1, FALSE);
  window_test_settle ();
  window_shots_scroll (page, 1.0);
  window_shots_take (window, folder, "issues-end", size, dark);
  window_shots_scroll (page, 0.0);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.raise-issue", NULL);
  g_usleep (300000);
  window_shots_take (window, folder, "issue-new", size, dark);
  leave (page);
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
  window_shots_take (window, folder, "entry-slip", size, dark);
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
  window_shots_scroll (page, 0.6);
  window_shots_take (window, folder, "gauges-study", size, dark);
  window_shots_scroll (page, 1.0);
  window_shots_take (window, folder, "gauges-end", size, dark);
  window_shots_scroll (page, 0.0);
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
  window_shots_take (window, folder, "readings-chosen", size, dark);
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
      window_shots_take (window, folder, names[i], size, dark);
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
  window_shots_take (window, folder, "round-answer", size, dark);
  window_shots_scroll (page, 1.0);
  window_shots_take (window, folder, "round-answer-end", size, dark);
  window_shots_scroll (page, 0.0);
  fettle_ledger_select (table, -1, FALSE);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.plan-round", NULL);
  g_usleep (500000);
  window_shots_take (window, folder, "round-form", size, dark);
  g_signal_emit_by_name (window_test_get (page, "store"), "clicked");
  window_test_settle ();
  g_usleep (1500000);
  window_test_settle ();
  g_usleep (900000);
  window_shots_scroll (page, 0.0);
  window_shots_take (window, folder, "round-plan", size, dark);
  if (window_test_find (page, "tests-expander") != NULL)
    gtk_expander_set_expanded (GTK_EXPANDER (window_test_get (page, "tests-expander")), TRUE);
  window_test_settle ();
  window_shots_scroll (page, 0.5);
  window_shots_take (window, folder, "round-plan-middle", size, dark);
  window_shots_scroll (page, 1.0);
  window_shots_take (window, folder, "round-plan-end", size, dark);
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
  window_shots_scroll (page, 0.3);
  window_shots_take (window, folder, "pilot-losses", size, dark);
  window_shots_scroll (page, 0.55);
  window_shots_take (window, folder, "pilot-rate", size, dark);
  window_shots_scroll (page, 0.75);
  window_shots_take (window, folder, "pilot-what-if", size, dark);
  gtk_widget_activate_action (page, "win.pilot-store", NULL);
  g_usleep (400000);
  window_test_settle ();
  window_shots_take (window, folder, "pilot-store", size, dark);
  window_shots_scroll (page, 1.0);
  window_shots_take (window, folder, "pilot-end", size, dark);
  window_shots_scroll (page, 0.0);
  g_signal_emit_by_name (window_test_get (page, "rate-reset"), "clicked");
  g_signal_emit_by_name (window_test_get (page, "pilot-count"), "clicked");
  g_usleep (300000);
  window_shots_take (window, folder, "pilot-tally", size, dark);
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
  window_shots_take (window, folder, "leadtime-wait", size, dark);
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
      window_shots_take (window, folder, name, size, dark);
    }
  gtk_list_box_select_row (list, GTK_LIST_BOX_ROW (window_test_get (GTK_WIDGET (list), "step")));
  g_usleep (400000);
  window_test_settle ();
  gtk_widget_activate_action (page, "setup.act", "s", "remove");
  g_usleep (300000);
  window_shots_take (window, folder, "setup-remove", size, dark);
  gtk_widget_activate_action (page, "setup.act", "s", "add");
  g_usleep (300000);
  window_shots_take (window, folder, "setup-add", size, dark);
  gtk_list_box_select_row (list, GTK_LIST_BOX_ROW (window_test_get (GTK_WIDGET (list), "model")));
  g_usleep (400000);
  window_test_settle ();
  gtk_widget_activate_action (page, "setup.act", "s", "deed");
  g_usleep (300000);
  window_shots_take (window, folder, "setup-take-over", size, dark);
}

/* The gate from top to bottom, and the form of a decision. */
static void
shoot_release (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  gtk_widget_activate_action (GTK_WIDGET (window), "win.release", "s", "decide");
  g_usleep (300000);
  window_shots_take (window, folder, "release-decide", size, dark);
  window_shots_scroll (page, 0.4);
  window_shots_take (window, folder, "release-middle", size, dark);
  window_shots_scroll (page, 0.7);
  window_shots_take (window, folder, "release-forecast", size, dark);
  window_shots_scroll (page, 1.0);
  window_shots_take (window, folder, "release-end", size, dark);
  window_shots_scroll (page, 0.0);
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
  window_shots_take (window, folder, "pack", size, dark);
  window_shots_scroll (page, 0.3);
  window_shots_take (window, folder, "pack-later", size, dark);
  window_shots_scroll (page, 0.0);
}

static void
shoot_compare (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  window_shots_scroll (page, 0.5);
  window_shots_take (window, folder, "compare-middle", size, dark);
  window_shots_scroll (page, 1.0);
  window_shots_take (window, folder, "compare-end", size, dark);
  window_shots_scroll (page, 0.0);
}

/* A criterion that is opened, and the end of the page. */
static void
shoot_standing (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark)
{
  FettleLedger *criteria = FETTLE_LEDGER (window_test_get (page, "criteria"));

  fettle_ledger_select (criteria, 1, TRUE);
  g_usleep (400000);
  window_shots_take (window, folder, "criterion", size, dark);
  fettle_ledger_select (criteria, -1, FALSE);
  window_test_settle ();
  window_shots_scroll (page, 1.0);
  window_shots_take (window, folder, "standing-end", size, dark);
  window_shots_scroll (page, 0.0);
}

void
window_shots_of_page (FettleWindow *window, const char *name, const char *folder, const char *size, gboolean dark)
{
  static const struct
  {
    const char *name;
    void (*shoot) (FettleWindow *window, GtkWidget *page, const char *folder, const char *size, gboolean dark);
  } more[] = { { "bench", shoot_bench },       { "changes", shoot_changes }, { "compare", shoot_compare },
               { "entry", shoot_entry },       { "gauges", shoot_gauges },   { "issues", shoot_issues },
               { "leadtime", shoot_leadtime }, { "pack", shoot_pack },       { "pilot", shoot_pilot },
               { "readings", shoot_readings }, { "release", shoot_release }, { "rounds", shoot_rounds },
               { "setup", shoot_setup },       { "standing", shoot_standing }, { "tally", shoot_tally } };
  GtkWidget *page;

  gtk_widget_activate_action (GTK_WIDGET (window), "win.page", "s", name);
  window_test_settle ();
  page = window_test_page (window);
  window_shots_take (window, folder, name, size, dark);
  for (guint i = 0; i < G_N_ELEMENTS (more) && g_getenv ("FETTLE_SHOTS_PLAIN") == NULL; i++)
    if (g_str_equal (more[i].name, name))
      more[i].shoot (window, page, folder, size, dark);
}
