/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the Readings page draws: its views by key, the wall of small charts, and marks that are chosen. */
#include "config.h"

#include <string.h>

#include "readings-answer.h"
#include "table-private.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

typedef WindowTestFixture Fixture;

typedef struct
{
  Fixture    *fixture;
  const char *part;
} Said;

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

/* The row with the keyboard is of what @part names. */
static gboolean
is_about (gpointer data)
{
  Said *said = data;
  guint row;
  g_autofree char *words = fettle_table_get_row (table (said->fixture), &row)
                               ? fettle_table_source_describe (table (said->fixture)->source, row, 0) : g_strdup ("");

  return strstr (words, said->part) != NULL;
}

static gboolean
has_rows (gpointer data)
{
  return fettle_table_n_rows (table (data)) > 0;
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  window_test_set_up (fixture, "readings");
  window_test_wait (has_rows, fixture, "readings");
  window_test_settle ();
}

/* The play of each unit, a measured characteristic. */
static void
choose_play (Fixture *fixture)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "characteristic")), 2);
  window_test_wait (is_about, &(Said){ fixture, "Play" }, "the play");
  window_test_settle ();
}

static void
view_key (Fixture *fixture, guint key)
{
  g_assert_true (window_test_shortcut (window_test_page (fixture->window), key, GDK_CONTROL_MASK));
  window_test_settle ();
}

static gboolean
wall_is_shown (gpointer data)
{
  return gtk_widget_get_mapped (get (data, "wall"));
}

static gboolean
chart_is_shown (gpointer data)
{
  return gtk_widget_get_mapped (get (data, "chart"));
}

/* The line below a chart: its last child. */
static const char *
told_of (GtkWidget *view)
{
  return gtk_label_get_label (GTK_LABEL (gtk_widget_get_last_child (view)));
}

/* The characteristic that is chosen. */
static char *
title_of (Fixture *fixture)
{
  GtkDropDown *choice = GTK_DROP_DOWN (get (fixture, "characteristic"));

  return g_strdup (gtk_string_object_get_string (gtk_drop_down_get_selected_item (choice)));
}

/* Ctrl+1 to Ctrl+4 change what is drawn; five rules say their price. */
static void
test_views (Fixture *fixture, gconstpointer data)
{
  GtkDropDown *view = GTK_DROP_DOWN (get (fixture, "view"));

  choose_play (fixture);
  gtk_widget_grab_focus (GTK_WIDGET (table (fixture)));
  view_key (fixture, GDK_KEY_2);
  g_assert_cmpuint (gtk_drop_down_get_selected (view), ==, FETTLE_READINGS_SINGLE);
  window_test_wait_label (fixture->window, "words", "in order of build");
  g_assert_true (gtk_widget_get_visible (get (fixture, "rules")));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (get (fixture, "rules")), TRUE);
  window_test_wait_label (fixture->window, "words", "false signals");

  view_key (fixture, GDK_KEY_3);
  window_test_wait_label (fixture->window, "words", "interval of the share");
  g_assert_false (gtk_widget_get_visible (get (fixture, "rules")));
  view_key (fixture, GDK_KEY_1);
  window_test_wait_label (fixture->window, "words", "Limits:");
}

/* Enter on a small chart opens its single values, with the keyboard on them; back, and it is at the same small chart. */
static void
test_wall (Fixture *fixture, gconstpointer data)
{
  GtkDropDown *view = GTK_DROP_DOWN (get (fixture, "view"));
  GtkWidget *wall, *area, *chart;
  g_autofree char *told = NULL, *name = NULL, *again = NULL;

  gtk_widget_grab_focus (GTK_WIDGET (table (fixture)));
  view_key (fixture, GDK_KEY_4);
  window_test_wait (wall_is_shown, fixture, "the wall");
  window_test_wait_label (fixture->window, "words", "worst first");
  g_assert_false (gtk_widget_get_mapped (GTK_WIDGET (table (fixture))));
  wall = get (fixture, "wall");
  g_assert_true (gtk_widget_child_focus (wall, GTK_DIR_TAB_FORWARD));
  area = gtk_root_get_focus (GTK_ROOT (fixture->window));
  g_assert_true (gtk_widget_is_ancestor (area, wall));
  g_assert_true (window_test_press (area, GDK_KEY_Home, 0) || window_test_press (wall, GDK_KEY_Home, 0));
  g_assert_true (window_test_press (area, GDK_KEY_Right, 0) || window_test_press (wall, GDK_KEY_Right, 0));
  told = g_strdup (told_of (wall));
  g_assert_true (window_test_press (area, GDK_KEY_Return, 0) || window_test_press (wall, GDK_KEY_Return, 0));
  window_test_wait (chart_is_shown, fixture, "one chart again");
  window_test_wait_answers (fixture->window);
  g_assert_cmpuint (gtk_drop_down_get_selected (view), ==, FETTLE_READINGS_SINGLE);
  g_assert_true (gtk_widget_get_mapped (GTK_WIDGET (table (fixture))));
  chart = gtk_root_get_focus (GTK_ROOT (fixture->window));
  g_assert_true (gtk_widget_is_ancestor (chart, get (fixture, "chart")));
  name = title_of (fixture);
  g_assert_nonnull (strstr (told, name));

  window_test_act (fixture->window, "win.back", NULL);
  window_test_wait (wall_is_shown, fixture, "the wall once more");
  window_test_wait_answers (fixture->window);
  g_assert_true (gtk_root_get_focus (GTK_ROOT (fixture->window)) == area);
  g_assert_cmpstr (told_of (wall), ==, told);
  window_test_act (fixture->window, "win.forward", NULL);
  window_test_wait (chart_is_shown, fixture, "the chart once more");
  window_test_wait_answers (fixture->window);
  g_assert_cmpuint (gtk_drop_down_get_selected (view), ==, FETTLE_READINGS_SINGLE);
  again = title_of (fixture);
  g_assert_cmpstr (again, ==, name);
}

static gboolean
has_chosen (gpointer data)
{
  Said *said = data;
  GtkWidget *summary = get (said->fixture, "chosen-summary");

  return gtk_widget_get_mapped (summary) && g_str_has_prefix (gtk_label_get_label (GTK_LABEL (summary)), said->part);
}

/* Space, Shift and Escape on the marks; who they are stands beside the chart, and stays through another view. */
static void
test_choose (Fixture *fixture, gconstpointer data)
{
  GtkWidget *area;

  choose_play (fixture);
  g_assert_false (gtk_widget_get_mapped (get (fixture, "reading-chosen")));
  gtk_widget_grab_focus (get (fixture, "characteristic"));
  g_assert_true (gtk_widget_child_focus (GTK_WIDGET (fixture->window), GTK_DIR_TAB_FORWARD));
  area = gtk_root_get_focus (GTK_ROOT (fixture->window));
  g_assert_true (gtk_widget_is_ancestor (area, get (fixture, "chart"))); /* Tab leads from the choice to the chart */
  g_assert_true (window_test_press (area, GDK_KEY_Home, 0));
  g_assert_true (window_test_press (area, GDK_KEY_space, 0));
  window_test_wait (has_chosen, &(Said){ fixture, "1 unit chosen" }, "one unit");
  g_assert_true (window_test_press (area, GDK_KEY_Right, GDK_SHIFT_MASK));
  window_test_wait (has_chosen, &(Said){ fixture, "2 units chosen" }, "two units");
  g_assert_true (window_test_press (area, GDK_KEY_space, 0));
  window_test_wait (has_chosen, &(Said){ fixture, "1 unit chosen" }, "the second taken away");
  view_key (fixture, GDK_KEY_3);
  window_test_wait_label (fixture->window, "words", "interval of the share");
  window_test_wait (has_chosen, &(Said){ fixture, "1 unit chosen" }, "the choice of before");
  g_assert_true (window_test_press (area, GDK_KEY_Escape, 0));
  g_assert_false (gtk_widget_get_mapped (get (fixture, "reading-chosen")));
}

#define ADD(path, test) g_test_add ("/window/drawn/" path, Fixture, NULL, set_up, test, window_test_tear_down)

int
main (int argc, char **argv)
{
  window_test_init_apart (&argc, &argv);
  ADD ("keys-change-what-is-drawn", test_views);
  ADD ("the-wall-opens-one-chart", test_wall);
  ADD ("chosen-marks-name-their-units", test_choose);
  return window_test_run_apart ();
}
