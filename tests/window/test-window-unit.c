/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Unit page: reached from a reading, it tells how a unit was built and what happened to it, and leads on. */
#include "config.h"

#include <string.h>

#include "ledger.h"
#include "table-private.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

/* Two units of one part in two lots, one of them built otherwise than planned, altered and set aside. */
static const WindowTestFile files[] = {
  { "person.csv", "initials,role\nEH,lead\n" },
  { "model.csv", "code,name\nM,Model\n" },
  { "part.csv", "number,name,source\nSP,Spring,bought\n" },
  { "revision.csv", "part,label,state,date\nSP,A,released,2026-01-01\n" },
  { "lot.csv", "part,number\nSP,7\nSP,8\n" },
  { "round.csv", "model,label,kind,opened,built\nM,P1,prototype,2026-02-01,2026-02-10\n" },
  { "round_part.csv", "model,round,part,revision,lot\nM,P1,SP,A,7\n" },
  { "unit.csv", "model,round,serial,assembled_on\nM,P1,U1,2026-02-10\nM,P1,U2,2026-02-10\n" },
  { "unit_part.csv", "model,round,unit,part,lot\nM,P1,U2,SP,8\n" },
  { "characteristic.csv", "model,code,name,kind,unit,decimals,class\nM,PL,Play,measured,mm,2,function\n" },
  { "limit.csv", "model,characteristic,from_date,upper\nM,PL,2026-01-01,0.5\n" },
  { "reading.csv", "model,round,unit,characteristic,value,taken\nM,P1,U1,PL,0.31,2026-02-11T09:00\n"
                   "M,P1,U2,PL,0.72,2026-02-11T09:05\n" },
  { "issue.csv", "model,no,title,class\nM,1,Too much play,function\n" },
  { "finding.csv", "model,issue,no,round,unit,disposition,person,date,reason\nM,1,1,P1,U2,rework,EH,2026-02-12,bolt tightened\n" },
  { "unit_event.csv", "model,round,unit,date,kind,issue,reason,person\nM,P1,U2,2026-02-12,altered,1,bolt tightened,EH\n"
                      "M,P1,U2,2026-02-13,set aside,,bent,EH\n" },
  { NULL, NULL }
};

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

typedef struct
{
  Fixture    *fixture;
  const char *title;
} Titled;

static gboolean
is_titled (gpointer data)
{
  Titled *titled = data;
  GtkWidget *title = window_test_find (window_test_page (titled->fixture->window), "title");

  return title != NULL && g_strcmp0 (gtk_label_get_label (GTK_LABEL (title)), titled->title) == 0;
}

static void
wait_title (Fixture *fixture, const char *title)
{
  window_test_wait (is_titled, &(Titled){ fixture, title }, title);
  window_test_settle ();
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  window_test_set_up_of (fixture, files, "readings");
  window_test_wait_rows (fixture->window, "readings-table", 2);
}

/* From a reading to its unit, by keys. */
static void
go_to_unit (Fixture *fixture, guint row, const char *title)
{
  FettleTable *table = FETTLE_TABLE (get (fixture, "readings-table"));

  fettle_table_go (table, row);
  gtk_widget_grab_focus (GTK_WIDGET (table));
  g_assert_true (window_test_shortcut (GTK_WIDGET (table), GDK_KEY_u, GDK_CONTROL_MASK));
  wait_title (fixture, title);
}

static void
test_as_planned (Fixture *fixture, gconstpointer data)
{
  go_to_unit (fixture, 0, "Unit U1 of round P1");
  g_assert_cmpstr (label (fixture, "words"), ==, "Built on 2026-02-10. It is built as its round was planned.");
  g_assert_false (gtk_widget_get_mapped (get (fixture, "events")));
  g_assert_true (gtk_widget_get_mapped (get (fixture, "parts")));
  g_assert_true (gtk_widget_get_mapped (get (fixture, "readings")));
}

static void
test_differs (Fixture *fixture, gconstpointer data)
{
  const char *words;

  go_to_unit (fixture, 1, "Unit U2 of round P1");
  words = label (fixture, "words");
  g_test_message ("%s", words);
  g_assert_nonnull (strstr (words, "It differs from the plan of its round in 1 part or step."));
  g_assert_nonnull (strstr (words, "It was altered on 2026-02-12 for issue 1, Too much play, and is of another state of design since."));
  g_assert_nonnull (strstr (words, "What is read after that counts for no criterion."));
  g_assert_nonnull (strstr (words, "It was set aside on 2026-02-13 (bent), and counts for no criterion since."));
  g_assert_true (gtk_widget_get_mapped (get (fixture, "events")));
  g_assert_true (gtk_widget_get_mapped (get (fixture, "issues")));
  g_assert_cmpuint (window_test_count_named (window_test_page (fixture->window)), >=, 4);
}

static void
test_leads_to_lot_and_back (Fixture *fixture, gconstpointer data)
{
  go_to_unit (fixture, 1, "Unit U2 of round P1");
  g_signal_emit_by_name (get (fixture, "parts"), "activated", 0);
  wait_title (fixture, "Lot SP/8");
  g_assert_cmpstr (label (fixture, "words"), ==, "1 unit holds Lot SP/8. An issue was found on 1 of them.");
  g_assert_false (gtk_widget_get_mapped (get (fixture, "readings")));
  g_signal_emit_by_name (get (fixture, "holders"), "activated", 0);
  wait_title (fixture, "Unit U2 of round P1");
}

static gboolean
is_on_readings (gpointer data)
{
  Fixture *fixture = data;
  guint row;

  return g_str_equal (gtk_widget_get_name (window_test_page (fixture->window)), "readings")
         && fettle_table_get_row (FETTLE_TABLE (get (fixture, "readings-table")), &row) && row == 1;
}

static void
test_leads_on (Fixture *fixture, gconstpointer data)
{
  go_to_unit (fixture, 1, "Unit U2 of round P1");
  g_assert_true (window_test_shortcut (get (fixture, "history"), GDK_KEY_h, GDK_CONTROL_MASK));
  wait_title (fixture, "History of Unit M/P1/U2");
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.page", "s", "unit");
  wait_title (fixture, "Unit U2 of round P1");
  g_signal_emit_by_name (get (fixture, "to-readings"), "clicked");
  window_test_wait (is_on_readings, fixture, "the unit's reading");
}

static void
test_set_aside (Fixture *fixture, gconstpointer data)
{
  GtkToggleButton *aside;
  GtkWidget *reason;

  go_to_unit (fixture, 0, "Unit U1 of round P1");
  aside = GTK_TOGGLE_BUTTON (get (fixture, "aside"));
  gtk_toggle_button_set_active (aside, TRUE); /* nobody has said who writes */
  g_assert_false (gtk_toggle_button_get_active (aside));
  fettle_sitting_set_person (fettle_window_get_sitting (fixture->window), fixture->window->facts->persons[0].key);
  gtk_toggle_button_set_active (aside, TRUE);
  g_assert_true (gtk_widget_get_visible (get (fixture, "unit-form")));
  window_test_settle ();
  reason = get (fixture, "reason");
  window_test_type (get (fixture, "unit-form"), "reason", "fell off the bench");
  g_assert_true (window_test_shortcut (reason, GDK_KEY_Return, GDK_CONTROL_MASK));
  window_test_wait_label (fixture->window, "words", "(fell off the bench), and counts for no criterion since.");
  window_test_settle ();
  g_assert_false (gtk_widget_get_visible (get (fixture, "unit-form")));
  g_assert_false (gtk_toggle_button_get_active (aside));
}

typedef struct
{
  GtkWidget  *root;
  const char *words;
} Words;

static gboolean
has_words (gpointer data)
{
  const Words *words = data;

  return window_test_has_words (words->root, words->words, 0);
}

static gboolean
is_named (gpointer data)
{
  return window_test_find (data, "reference-search") != NULL;
}

static void
test_built_otherwise (Fixture *fixture, gconstpointer data)
{
  GtkWidget *lot, *search, *form;

  go_to_unit (fixture, 0, "Unit U1 of round P1");
  fettle_sitting_set_person (fettle_window_get_sitting (fixture->window), fixture->window->facts->persons[0].key);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (get (fixture, "built-otherwise")), TRUE);
  window_test_settle ();
  g_assert_cmpint (fettle_ledger_get_selected (FETTLE_LEDGER (get (fixture, "parts"))), ==, 0);
  form = get (fixture, "unit-form");
  lot = window_test_get (form, "lot");
  /* What the plan says is filled in, so that only what differs is chosen. */
  window_test_wait (has_words, &(Words){ lot, "7" }, "the planned lot");
  g_signal_emit_by_name (lot, "clicked");
  window_test_wait (is_named, lot, "the list of lots");
  search = window_test_get (lot, "reference-search");
  gtk_editable_set_text (GTK_EDITABLE (search), "8");
  g_signal_emit_by_name (search, "activate");
  window_test_wait (has_words, &(Words){ lot, "8" }, "the other lot");
  window_test_settle ();
  g_assert_true (window_test_shortcut (lot, GDK_KEY_Return, GDK_CONTROL_MASK));
  window_test_wait_label (fixture->window, "words", "differs from the plan of its round in 1 part");
}

/* A serial that another unit has is refused beside the field; the right one is told by the page, history, and undone. */
static void
test_corrected (Fixture *fixture, gconstpointer data)
{
  GtkWidget *serial, *form;

  go_to_unit (fixture, 0, "Unit U1 of round P1");
  fettle_sitting_set_person (fettle_window_get_sitting (fixture->window), fixture->window->facts->persons[0].key);
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.unit", "s", "serial");
  form = get (fixture, "unit-form");
  g_assert_true (gtk_widget_get_visible (form));
  window_test_wait_text (form, "serial", "U1");
  serial = window_test_get (form, "serial");
  window_test_type (form, "serial", "U2");
  g_assert_true (window_test_shortcut (serial, GDK_KEY_Return, GDK_CONTROL_MASK));
  window_test_wait_seen (fixture->window, "unit-form", "Another unit of the round has the serial 'U2'");
  window_test_type (form, "serial", "U10");
  g_assert_true (window_test_shortcut (serial, GDK_KEY_Return, GDK_CONTROL_MASK));
  wait_title (fixture, "Unit U10 of round P1");
  g_assert_true (gtk_widget_get_mapped (get (fixture, "readings"))); /* they are the unit's still */
  window_test_settle ();
  g_assert_true (window_test_shortcut (get (fixture, "history"), GDK_KEY_h, GDK_CONTROL_MASK));
  wait_title (fixture, "History of Unit M/P1/U10");
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo", NULL);
  wait_title (fixture, "History of Unit M/P1/U1");
}

#define ADD(path, test) g_test_add (path, Fixture, NULL, set_up, test, window_test_tear_down)

int
main (int argc, char **argv)
{
  window_test_init_apart (&argc, &argv);
  ADD ("/window/unit/is-as-planned", test_as_planned);
  ADD ("/window/unit/differs-was-altered-and-set-aside", test_differs);
  ADD ("/window/unit/leads-to-its-lot-and-back", test_leads_to_lot_and_back);
  ADD ("/window/unit/leads-to-history-and-readings", test_leads_on);
  ADD ("/window/unit/is-set-aside-by-name-and-reason", test_set_aside);
  ADD ("/window/unit/is-built-otherwise", test_built_otherwise);
  ADD ("/window/unit/a-wrong-serial-is-corrected", test_corrected);
  return window_test_run_apart ();
}
