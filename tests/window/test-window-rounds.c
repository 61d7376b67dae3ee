/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Rounds page on a small book of invented figures: from an agreed change to a round that is planned, built and decided. */
#include "config.h"

#include <string.h>

#include "ledger.h"
#include "record-form.h"
#include "rounds-page.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

typedef WindowTestFixture Fixture;

static GtkWidget *
page (Fixture *fixture)
{
  return window_test_page (fixture->window);
}

static GtkWidget *
get (Fixture *fixture, const char *name)
{
  return window_test_get (page (fixture), name);
}

static gboolean
is_shown (gpointer data)
{
  FettlePage *shown = fettle_window_get_page (((Fixture *) data)->window);

  return FETTLE_IS_ROUNDS_PAGE (shown) && fettle_rounds_page_is_shown (FETTLE_ROUNDS_PAGE (shown));
}

/* One round of ten units that all pass; a change was agreed for the next round. */
static void
set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GString) units = g_string_new ("model,round,serial\n");
  g_autoptr(GString) readings = g_string_new ("model,round,unit,characteristic,mark,taken\n");

  for (guint u = 1; u <= 10; u++)
    {
      g_string_append_printf (units, "M1,P1,P1-%02u\n", u);
      g_string_append_printf (readings, "M1,P1,P1-%02u,LV,passed,2026-02-10\n", u);
    }
  window_test_set_up_of (fixture, (const WindowTestFile[]){
    { "person.csv", "initials,role\nAB,lead\n" },
    { "supplier.csv", "name\nHardening shop\n" },
    { "model.csv", "code,name\nM1,Test piece\nM2,Empty\n" },
    { "part.csv", "number,name,source\nL-20,Lever,made\nS-30,Spring,bought\n" },
    { "revision.csv", "part,label,state,date\nL-20,A,released,2026-01-05\nS-30,A,released,2026-01-05\nS-30,B,draft,2026-03-05\n" },
    { "round.csv", "model,label,kind,question,planned_units,opened,design_fixed,parts_ready,built,tested,decided,verdict\n"
                   "M1,P1,prototype,Does it stick?,10,2026-01-05,2026-01-15,2026-02-01,2026-02-06,2026-02-13,2026-02-16,another round\n" },
    { "round_part.csv", "model,round,part,revision\nM1,P1,L-20,A\nM1,P1,S-30,A\n" },
    { "characteristic.csv", "model,code,name,kind,class,destructive\nM1,LV,Lever sticks,checked,appearance,no\n"
                            "M1,UN,Ultimate load,checked,appearance,yes\n" },
    { "depends.csv", "model,characteristic,part\nM1,LV,L-20\n" },
    { "gate.csv", "model,position,name\nM1,1,Release\n" },
    { "criterion.csv", "model,gate,code,kind,characteristic,blocking\nM1,1,C1,checked,LV,yes\nM1,1,C2,checked,UN,no\n" },
    { "change.csv", "model,no,title,proposed_by,proposed_on,agreed_by,agreed_on\nM1,1,Stronger spring,AB,2026-02-17,AB,2026-02-18\n" },
    { "change_item.csv", "model,change,no,part,old_revision,new_revision\nM1,1,1,S-30,A,B\n" },
    { "unit.csv", units->str },
    { "reading.csv", readings->str },
    { NULL, NULL } }, "rounds");
  window_test_wait (is_shown, fixture, "rounds");
  window_test_settle ();
}

static void
wait_says (Fixture *fixture, const char *name, const char *text)
{
  window_test_wait_seen (fixture->window, name, text);
}

static void
do_action (Fixture *fixture, const char *action, const char *target)
{
  window_test_act (fixture->window, action, target);
  window_test_settle ();
}

static void
press (Fixture *fixture, guint key, GdkModifierType modifiers)
{
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), key, modifiers));
  window_test_settle ();
}

static gboolean
form_is_there (gpointer data)
{
  return window_test_find (page (data), "round-form") != NULL || window_test_find (page (data), "store") != NULL;
}

static void
write_question (Fixture *fixture, const char *text)
{
  window_test_type (page (fixture), "question", text);
  window_test_settle ();
}

static void
store (Fixture *fixture)
{
  g_signal_emit_by_name (get (fixture, "store"), "clicked");
  window_test_settle ();
}

/* The last round with its change, by two keys and one text. */
static void
plan (Fixture *fixture)
{
  press (fixture, GDK_KEY_b, GDK_CONTROL_MASK);
  window_test_wait (form_is_there, fixture, "form");
  g_usleep (300000);
  window_test_settle ();
  write_question (fixture, "Does the spring last?");
  g_assert_true (window_test_shortcut (get (fixture, "question"), GDK_KEY_Return, GDK_CONTROL_MASK));
  wait_says (fixture, "rounds-table", "planned");
  wait_says (fixture, "round-detail", "Does the spring last?");
}

/* ---- tests ---- */

static void
test_list (Fixture *fixture, gconstpointer data)
{
  wait_says (fixture, "rounds-lead", "1 round. All are decided.");
  wait_says (fixture, "rounds-table", "10 of 10");
  wait_says (fixture, "rounds-table", "● decided 2026-02-16");
  fettle_ledger_select (FETTLE_LEDGER (get (fixture, "rounds-table")), 0, TRUE);
  wait_says (fixture, "round-detail", "Does it stick?");
  wait_says (fixture, "round-detail", "It took 30 working days."); /* date -d: 42 days after the 5th of January, 30 of them Monday to Friday */
  wait_says (fixture, "forecast-notes", "At its end 0 of 2 criteria were met");
  wait_says (fixture, "round-parts", "S-30 Spring A");
  wait_says (fixture, "round-units", "P1-07");
  g_assert_false (gtk_widget_get_visible (get (fixture, "reach")));
  window_test_count_named (page (fixture));
}

static void
test_plan (Fixture *fixture, gconstpointer data)
{
  plan (fixture);
  wait_says (fixture, "round-parts", "S-30 Spring B"); /* the change is put in */
  wait_says (fixture, "round-parts", "L-20 Lever A");
  wait_says (fixture, "rounds-table", "0 of 10");
  wait_says (fixture, "rounds-lead", "Not decided: P2.");
  do_action (fixture, "win.undo", NULL);
  wait_says (fixture, "rounds-lead", "1 round. All are decided.");
}

static void
test_draft (Fixture *fixture, gconstpointer data)
{
  do_action (fixture, "win.plan-round", NULL);
  window_test_wait (form_is_there, fixture, "form");
  g_usleep (300000);
  window_test_settle ();
  write_question (fixture, "Half a question");
  g_signal_emit_by_name (get (fixture, "leave"), "clicked");
  window_test_settle ();
  g_assert_null (window_test_find (page (fixture), "round-form"));
  do_action (fixture, "win.plan-round", NULL);
  window_test_wait (form_is_there, fixture, "form");
  g_usleep (300000);
  window_test_settle ();
  {
    GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (get (fixture, "question")));
    g_autofree char *text = NULL;

    g_object_get (buffer, "text", &text, NULL);
    g_assert_cmpstr (text, ==, "Half a question");
  }
}

/* Ten units passed and the lever stays as it was: 22 in all without a failure reach 0.90 and 0.90. */
static void
test_typing_units (Fixture *fixture, gconstpointer data)
{
  GtkWidget *units;

  plan (fixture);
  wait_says (fixture, "forecast-headline", "With 10 units: 0 of 2 criteria about units can be met.");
  units = get (fixture, "forecast-units");
  gtk_editable_set_text (GTK_EDITABLE (units), "12");
  wait_says (fixture, "forecast-headline", "With 12 units: 1 of 2 criteria about units can be met.");
  wait_says (fixture, "forecast-table", "● LV Lever sticks");
  wait_says (fixture, "forecast-table", "\n67"); /* R: exp (lbeta (.5, 22.5) - lbeta (.5, 10.5)) is 0.679 */
  gtk_editable_set_text (GTK_EDITABLE (units), "1");
  gtk_editable_set_text (GTK_EDITABLE (units), "11");
  wait_says (fixture, "forecast-headline", "With 11 units: 0 of 2 criteria about units can be met.");
}

static gboolean
sentences_shown (gpointer data)
{
  GtkWidget *sentences;

  window_test_settle ();
  sentences = window_test_find (page (data), "forecast-sentences");
  return sentences != NULL && gtk_widget_get_mapped (sentences);
}

static gboolean
sentences_hidden (gpointer data)
{
  return !sentences_shown (data);
}

/* The sentences of a criterion are there for the keyboard, and stay open while the number of units changes. */
static void
test_sentences_on_demand (Fixture *fixture, gconstpointer data)
{
  GtkWidget *button, *sentences;

  plan (fixture);
  wait_says (fixture, "forecast-headline", "With 10 units: 0 of 2 criteria about units can be met.");
  button = get (fixture, "forecast-criterion");
  sentences = get (fixture, "forecast-sentences");
  g_assert_false (gtk_widget_get_mapped (sentences));
  wait_says (fixture, "forecast-criterion", "▸"); /* seen to open */
  gtk_test_accessible_assert_property (button, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, gtk_label_get_label (GTK_LABEL (sentences)));
  g_assert_true (gtk_widget_grab_focus (button));
  gtk_widget_activate (button); /* as Return does */
  window_test_wait (sentences_shown, fixture, "the sentences");
  wait_says (fixture, "forecast-criterion", "▾");
  g_assert_nonnull (strstr (gtk_label_get_label (GTK_LABEL (sentences)), "If none of them fails, the confidence is"));
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "forecast-units")), "9");
  wait_says (fixture, "forecast-headline", "With 9 units: 0 of 2 criteria about units can be met.");
  sentences = get (fixture, "forecast-sentences");
  g_assert_true (gtk_widget_get_mapped (sentences));
  g_assert_nonnull (strstr (gtk_label_get_label (GTK_LABEL (sentences)), "9 units of the round count for it."));
  button = get (fixture, "forecast-criterion");
  g_assert_true (gtk_widget_has_focus (button)); /* the keyboard stays, though the figures are new */
  gtk_widget_activate (button);
  window_test_wait (sentences_hidden, fixture, "no sentences");
}

static void
test_tests_by_keys (Fixture *fixture, gconstpointer data)
{
  GtkWidget *cell;

  plan (fixture);
  gtk_expander_set_expanded (GTK_EXPANDER (get (fixture, "tests-expander")), TRUE);
  window_test_settle ();
  cell = get (fixture, "test-cell"); /* P2-01, the ultimate load, which destroys */
  g_signal_emit_by_name (cell, "clicked");
  window_test_settle ();
  g_signal_emit_by_name (cell, "clicked");
  wait_says (fixture, "round-tests", "✕");
  wait_says (fixture, "round-tests", "P2-10");
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "forecast-units")), "13");
  wait_says (fixture, "forecast-headline", "With 13 units: 1 of 2"); /* one is destroyed, twelve count */
  do_action (fixture, "win.undo", NULL);
  wait_says (fixture, "round-tests", "●");
}

/* Ctrl+Z in a form that is not stored yet means what is typed there, never a deed of elsewhere. */
static void
test_typed_in_new (Fixture *fixture, gconstpointer data)
{
  GtkWidget *what;

  plan (fixture);
  do_action (fixture, "win.on-round", "wait");
  wait_says (fixture, "round-form", "");
  what = get (fixture, "what");
  gtk_widget_grab_focus (what);
  window_test_act (fixture->window, "win.undo", NULL);
  window_test_wait_said (fixture->window, "Nothing that was typed here is left to take back");
  g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_ROUND), ==, 2);
  window_test_act (fixture->window, "win.undo-book", NULL); /* the button of that sentence */
  window_test_wait_said (fixture->window, "Taken back");
}

static void
test_dates_and_waits (Fixture *fixture, gconstpointer data)
{
  static const char *const dates[] = { "opened", "design fixed", "parts ready", "built", "tested" };

  plan (fixture);
  for (guint i = 0; i < G_N_ELEMENTS (dates); i++)
    {
      do_action (fixture, "win.on-round", "reach");
      wait_says (fixture, "rounds-table", dates[i]);
    }
  do_action (fixture, "win.undo", NULL);
  wait_says (fixture, "rounds-table", "built");
  do_action (fixture, "win.on-round", "wait");
  g_usleep (300000);
  window_test_settle ();
  window_test_choose (get (fixture, "reason"), 1);
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "what")), "springs");
  window_test_settle ();
  g_signal_emit_by_name (get (fixture, "do"), "clicked");
  wait_says (fixture, "round-waits", "springs");
  wait_says (fixture, "rounds-lead", "1 wait lasts.");
  do_action (fixture, "win.on-round", "end-wait");
  wait_says (fixture, "round-waits", "0 working days");
  do_action (fixture, "win.on-round", "reach");
  wait_says (fixture, "rounds-table", "tested");
  do_action (fixture, "win.on-round", "decide");
  g_usleep (300000);
  window_test_settle ();
  window_test_choose (get (fixture, "verdict"), 1);
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "cost")), "1200");
  window_test_settle ();
  g_signal_emit_by_name (get (fixture, "do"), "clicked");
  wait_says (fixture, "rounds-lead", "All are decided.");
  wait_says (fixture, "rounds-table", "1200");
}

static gboolean
has_part_form (gpointer data)
{
  return window_test_find (page (data), "part-form") != NULL || window_test_find (page (data), "round_part") != NULL;
}

static gboolean
has_no_part_form (gpointer data)
{
  return !has_part_form (data);
}

/* The form of a row comes and goes by keys; a row can be taken out and comes back. */
static void
test_parts (Fixture *fixture, gconstpointer data)
{
  plan (fixture);
  do_action (fixture, "win.on-round", "part");
  window_test_wait (has_part_form, fixture, "the form of a part");
  window_test_settle ();
  g_signal_emit_by_name (get (fixture, "leave"), "clicked");
  window_test_wait (has_no_part_form, fixture, "no form");
  g_signal_emit_by_name (get (fixture, "remove-part"), "clicked"); /* of the lever, which stands first */
  window_test_wait_unseen (fixture->window, "round-parts", "L-20 Lever A");
  do_action (fixture, "win.undo", NULL);
  wait_says (fixture, "round-parts", "L-20 Lever A");
}

static void
test_empty (Fixture *fixture, gconstpointer data)
{
  gint64 model = 0;

  for (guint i = 0; i < fixture->window->facts->n_models; i++)
    if (g_str_equal (fixture->window->facts->models[i].code, "M2"))
      model = fixture->window->facts->models[i].key;
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.model", "x", model));
  wait_says (fixture, "rounds-empty", "Here stand the rounds");
  wait_says (fixture, "rounds-lead", "No round is planned yet.");
  do_action (fixture, "win.plan-round", NULL);
  window_test_wait (form_is_there, fixture, "form");
  g_usleep (300000);
  window_test_settle ();
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "label")), "M1");
  window_test_choose (get (fixture, "kind"), 1);
  window_test_settle ();
  store (fixture);
  wait_says (fixture, "rounds-table", "planned");
  wait_says (fixture, "forecast-headline", "No criterion asks about units yet");
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
#define ADD(path, test) g_test_add ("/window/rounds/" path, Fixture, NULL, set_up, test, window_test_tear_down)
  ADD ("a-finished-round-says-what-it-answered", test_list);
  ADD ("the-last-round-is-copied-with-its-change-and-taken-back", test_plan);
  ADD ("what-is-typed-waits-in-the-form", test_draft);
  ADD ("figures-follow-the-number-that-is-typed", test_typing_units);
  ADD ("sentences-of-a-criterion-open-for-the-keyboard", test_sentences_on_demand);
  ADD ("tests-are-planned-unit-by-unit", test_tests_by_keys);
  ADD ("undo-in-a-new-form-means-what-is-typed", test_typed_in_new);
  ADD ("dates-are-reached-and-waits-ended-by-one-key", test_dates_and_waits);
  ADD ("what-goes-in-is-taken-out-and-comes-back", test_parts);
  ADD ("a-model-without-rounds-says-what-goes-here", test_empty);
#undef ADD
  return g_test_run ();
}
