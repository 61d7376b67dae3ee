/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Shelf page on a book of two invented models: rows, courses side by side, the way to a model, and what a refresh keeps. */
#include "config.h"

#include "chart-view.h"
#include "ledger.h"
#include "shelf-page.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

typedef WindowTestFixture Fixture;

static const WindowTestFile files[] = {
  { "model.csv", "code,name,archived\nM1,Test piece,no\nM2,Other piece,no\nM3,Put away,yes\n" },
  { "round.csv", "model,label,kind,opened,design_fixed,parts_ready,built,tested,decided,verdict\n"
                 "M1,P1,prototype,2026-01-05,2026-01-15,2026-02-02,2026-02-06,2026-02-13,2026-02-16,go on\n"
                 "M1,A,pilot,2026-03-02,2026-03-06,,,,,\n"
                 "M2,P1,prototype,2025-01-06,2025-01-15,2025-02-03,2025-02-07,2025-02-14,2025-02-17,go on\n" },
  { "issue.csv", "model,no,title,class,found_on\nM2,1,Slips,safety,2025-02-10\n" },
  { NULL, NULL }
};

static GtkWidget *
get (Fixture *fixture, const char *name)
{
  return window_test_get (window_test_page (fixture->window), name);
}

static gboolean
is_shown (gpointer data)
{
  FettlePage *shown = fettle_window_get_page (((Fixture *) data)->window);

  return FETTLE_IS_SHELF_PAGE (shown) && fettle_shelf_page_is_shown (FETTLE_SHELF_PAGE (shown));
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  window_test_set_up_of (fixture, files, "shelf");
  window_test_wait (is_shown, fixture, "the shelf");
  window_test_settle ();
}

static void
test_rows (Fixture *fixture, gconstpointer data)
{
  GtkWidget *page = window_test_page (fixture->window);

  g_assert_true (window_test_has_words (page, "There are 2 models. A round is open in 1 of them. 1 safety issue is open.", WINDOW_TEST_SEEN));
  g_assert_true (window_test_has_words (page, "M1  Test piece", WINDOW_TEST_SEEN));
  g_assert_true (window_test_has_words (page, "M2  Other piece", WINDOW_TEST_SEEN));
  g_assert_false (window_test_has_words (page, "Put away", WINDOW_TEST_SEEN));
  g_assert_true (window_test_has_words (page, "No criterion yet", WINDOW_TEST_SEEN));
  g_assert_false (gtk_widget_get_visible (get (fixture, "shelf-progress")));
}

/* By round and by working days; both lists can be chosen by keys, and a refresh keeps what is chosen. */
static void
test_courses (Fixture *fixture, gconstpointer data)
{
  GtkDropDown *one = GTK_DROP_DOWN (get (fixture, "shelf-one")), *other = GTK_DROP_DOWN (get (fixture, "shelf-other"));
  GtkCheckButton *by_days = GTK_CHECK_BUTTON (get (fixture, "shelf-by-days"));
  guint first = gtk_drop_down_get_selected (one);

  g_assert_true (gtk_widget_get_mapped (get (fixture, "shelf-chart")));
  g_assert_cmpuint (first, !=, gtk_drop_down_get_selected (other));
  gtk_check_button_set_active (by_days, TRUE);
  gtk_drop_down_set_selected (one, 1 - first);
  gtk_drop_down_set_selected (other, first);
  window_test_settle ();
  fettle_page_refresh (fettle_window_get_page (fixture->window));
  window_test_settle ();
  window_test_wait (is_shown, fixture, "the shelf");
  window_test_settle ();
  g_assert_cmpuint (gtk_drop_down_get_selected (one), ==, 1 - first);
  g_assert_cmpuint (gtk_drop_down_get_selected (other), ==, first);
  g_assert_true (gtk_check_button_get_active (by_days));
}

static gboolean
is_other_model (gpointer data)
{
  FettleWindow *window = ((Fixture *) data)->window;
  const FettleModel *model = fettle_window_get_model (window);

  return model != NULL && g_str_equal (model->code, "M2");
}

static gboolean
is_elsewhere (gpointer data)
{
  return !FETTLE_IS_SHELF_PAGE (fettle_window_get_page (((Fixture *) data)->window));
}

static void
test_open (Fixture *fixture, gconstpointer data)
{
  FettleLedger *ledger = FETTLE_LEDGER (get (fixture, "shelf-models"));

  g_assert_false (is_other_model (fixture));
  g_signal_emit_by_name (ledger, "activated", 1);
  window_test_wait (is_other_model, fixture, "the other model");
  window_test_wait (is_elsewhere, fixture, "the page of the other model"); /* once its rounds are read */
  window_test_wait_standing (fixture->window);
}

int
main (int argc, char *argv[])
{
  window_test_init (&argc, &argv);
  g_test_add ("/window/shelf/shows-every-model-that-is-not-put-away", Fixture, NULL, set_up, test_rows, window_test_tear_down);
  g_test_add ("/window/shelf/two-courses-stay-chosen-through-a-refresh", Fixture, NULL, set_up, test_courses, window_test_tear_down);
  g_test_add ("/window/shelf/enter-opens-a-model", Fixture, NULL, set_up, test_open, window_test_tear_down);
  return g_test_run ();
}
