/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Tally page as an inspector uses it: by the number pad and by touch, every tap stored, undone, named by an issue. */
#include "config.h"

#include "form-field.h"
#include "large-key.h"
#include "table-private.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

#include <string.h>

/* A round that runs; at its first step nothing has a serial, at the second a unit passed. */
static const WindowTestFile files[] = {
  { "person.csv", "initials,role\nTK,maker\nLN,inspector\n" },
  { "model.csv", "code,name\nM,Model\n" },
  { "bench.csv", "name\nMilling bench\n" },
  { "step.csv", "model,position,name,kind,bench\nM,10,Mill,own,Milling bench\nM,20,Fit,own,Milling bench\n" },
  { "round.csv", "model,label,kind,opened\nM,A,pilot,2026-10-01\n" },
  { "unit.csv", "model,round,serial\nM,A,A-01\n" },
  { "unit_event.csv", "model,round,unit,date,step,kind\nM,A,A-01,2026-11-20,20,passed\n" },
  { "issue.csv", "model,no,title,class\nM,1,Slot too wide,function\nM,2,Burr at the edge,appearance\n" },
  { NULL, NULL }
};

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

static void
wait_said (Fixture *fixture, const char *name, const char *words)
{
  window_test_wait_label (fixture->window, name, words);
  window_test_settle ();
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  window_test_set_up_of (fixture, files, "tally");
  window_test_choose_person (fixture->window, "LN");
  wait_said (fixture, "tally-lead", "Nothing was counted here today.");
}

static void
press (Fixture *fixture, guint keyval)
{
  g_assert_true (window_test_shortcut (get (fixture, "tally-good"), keyval, 0));
}

static void
click (Fixture *fixture, const char *name)
{
  g_signal_emit_by_name (get (fixture, name), "clicked");
  window_test_settle ();
}

/* By the number pad: digits count, plus and minus by ten, Backspace takes back tap after tap. */
static void
test_number_pad (Fixture *fixture, gconstpointer data)
{
  press (fixture, GDK_KEY_KP_1);
  press (fixture, GDK_KEY_KP_1);
  press (fixture, GDK_KEY_KP_Add);
  wait_said (fixture, "tally-lead", "12 pieces were counted here today.");
  press (fixture, GDK_KEY_4);
  wait_said (fixture, "tally-lead", "13 pieces");
  wait_said (fixture, "tally-yield", "of 13 pieces were good the first time");
  wait_said (fixture, "tally-why", "1 piece of yours of today has no issue yet");
  press (fixture, GDK_KEY_KP_Subtract);
  wait_said (fixture, "tally-said", "Fewer were counted here today than are to be taken back.");
  press (fixture, GDK_KEY_BackSpace);
  wait_said (fixture, "tally-lead", "12 pieces");
  press (fixture, GDK_KEY_BackSpace);
  wait_said (fixture, "tally-lead", "2 pieces");
  press (fixture, GDK_KEY_BackSpace);
  press (fixture, GDK_KEY_BackSpace);
  wait_said (fixture, "tally-lead", "Nothing was counted here today.");
  press (fixture, GDK_KEY_BackSpace);
  wait_said (fixture, "tally-said", "The last thing done in this window was no tap");
}

/* Taps faster than the disk: none is lost, and an undo waits for them. */
static void
test_fast_taps (Fixture *fixture, gconstpointer data)
{
  for (guint i = 0; i < 8; i++)
    press (fixture, GDK_KEY_1);
  press (fixture, GDK_KEY_2);
  press (fixture, GDK_KEY_BackSpace);
  wait_said (fixture, "tally-lead", "8 pieces were counted here today.");
}

static gboolean
nothing_waits (gpointer data)
{
  return !gtk_widget_get_mapped (get (data, "tally-waiting-good"));
}

/* By touch: every key is large enough, with its issue named after the tap. */
static void
test_touch (Fixture *fixture, gconstpointer data)
{
  static const char *const names[] = { "tally-good", "tally-reworked", "tally-waiting", "tally-scrapped", "tally-more",
                                       "tally-less", "tally-undo", "tally-issue-0", "tally-issue-2" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_assert_cmpint (gtk_widget_get_allocated_width (get (fixture, names[i])), >=, FETTLE_LARGE_KEY_LEAST);
      g_assert_cmpint (gtk_widget_get_allocated_height (get (fixture, names[i])), >=, FETTLE_LARGE_KEY_LEAST);
    }
  g_assert_false (gtk_widget_get_mapped (get (fixture, "tally-waiting-good")));
  click (fixture, "tally-issue-0");
  wait_said (fixture, "tally-said", "tap first what became of the piece");
  click (fixture, "tally-waiting");
  wait_said (fixture, "tally-lead", "1 waits for rework.");
  click (fixture, "tally-issue-0"); /* the newest first: burr */
  wait_said (fixture, "tally-said", "Burr at the edge: 1 piece.");
  wait_said (fixture, "tally-why", "What took pieces away");
  g_assert_true (gtk_widget_get_mapped (get (fixture, "tally-waiting-good")));
  click (fixture, "tally-waiting-good");
  wait_said (fixture, "tally-said", "One That Waited Is Good: 1 more.");
  window_test_wait (nothing_waits, fixture, "that nothing waits");
  g_assert_false (gtk_widget_get_mapped (get (fixture, "tally-waiting-good")));
  click (fixture, "tally-undo");
  wait_said (fixture, "tally-lead", "1 waits for rework.");
  click (fixture, "tally-undo");
  wait_said (fixture, "tally-why", "1 piece of yours of today has no issue yet");
  g_assert_cmpuint (window_test_count_named (page (fixture)), >, 9);
}

/* Several of one tap are named at once; the digit of the issue does it. */
static void
test_ten_of_one_issue (Fixture *fixture, gconstpointer data)
{
  press (fixture, GDK_KEY_4);
  press (fixture, GDK_KEY_plus);
  wait_said (fixture, "tally-why", "11 pieces of yours");
  press (fixture, GDK_KEY_8);
  wait_said (fixture, "tally-said", "Slot too wide: 10 pieces.");
  wait_said (fixture, "tally-why", "1 piece of yours");
  press (fixture, GDK_KEY_8); /* the keys of the issues stay while one counts */
  wait_said (fixture, "tally-said", "Slot too wide: 1 piece.");
}

/* Where units have serials a tally would count twice: it is said, and there are no keys. */
static void
test_serials (Fixture *fixture, gconstpointer data)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "tally-step")), 1);
  wait_said (fixture, "tally-lead", "At step 20 Fit the units of round A have serials");
  g_assert_false (gtk_widget_get_mapped (get (fixture, "tally-keys")));
  press (fixture, GDK_KEY_1);
  window_test_settle ();
  g_assert_false (fettle_sitting_can_undo (fettle_window_get_sitting (fixture->window)));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "tally-step")), 0);
  wait_said (fixture, "tally-lead", "Nothing was counted here today.");
}

static void
by_menu (Fixture *fixture, const char *word)
{
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.tally", "s", word));
  window_test_settle ();
}

/* What the keys do, the menu does. */
static void
test_by_menu (Fixture *fixture, gconstpointer data)
{
  by_menu (fixture, "good");
  wait_said (fixture, "tally-lead", "1 piece was counted");
  by_menu (fixture, "more");
  wait_said (fixture, "tally-lead", "11 pieces");
  by_menu (fixture, "less");
  wait_said (fixture, "tally-lead", "1 piece");
  by_menu (fixture, "undo");
  wait_said (fixture, "tally-lead", "11 pieces");
  by_menu (fixture, "waiting");
  wait_said (fixture, "tally-lead", "12 pieces");
  by_menu (fixture, "waiting-scrapped");
  wait_said (fixture, "tally-said", "One That Waited Is Scrapped: 1 more.");
  by_menu (fixture, "new-issue");
  g_assert_true (gtk_widget_get_mapped (get (fixture, "new-issue")));
}

typedef struct
{
  GtkWidget  *form;
  const char *field;
} Wrong;

static gboolean
is_refused (gpointer data)
{
  const Wrong *wrong = data;
  GtkWidget *field = gtk_widget_get_ancestor (window_test_get (wrong->form, wrong->field), FETTLE_TYPE_FORM_FIELD);

  return gtk_widget_has_css_class (field, "wrong");
}

/* What is no number of minutes is refused beside its field, and stays as it was typed. */
static void
test_wrong_minutes (Fixture *fixture, gconstpointer data)
{
  g_autofree char *nines = g_strnfill (2000, '9');
  const char *const texts[] = { "1o", "2026-02-30", "-4", nines };

  press (fixture, GDK_KEY_1);
  wait_said (fixture, "tally-lead", "1 piece");
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      GtkWidget *form = get (fixture, "tally-minutes"), *entry = window_test_get (form, "minutes");
      Wrong wrong = { form, "minutes" };

      gtk_widget_grab_focus (entry);
      gtk_editable_set_text (GTK_EDITABLE (entry), texts[i]);
      gtk_widget_grab_focus (window_test_get (form, "setup_minutes"));
      window_test_wait (is_refused, &wrong, texts[i]);
      g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, texts[i]);
    }
}

/* Minutes go into the row of the day, once there is one; a new issue is written in place and named. */
static void
test_minutes_and_a_new_issue (Fixture *fixture, gconstpointer data)
{
  g_assert_false (gtk_widget_get_mapped (get (fixture, "tally-minutes")));
  press (fixture, GDK_KEY_4);
  wait_said (fixture, "tally-why", "1 piece of yours");
  g_assert_true (gtk_widget_get_mapped (get (fixture, "tally-minutes")));
  g_assert_nonnull (window_test_find (get (fixture, "tally-minutes"), "minutes"));
  press (fixture, GDK_KEY_0);
  window_test_settle ();
  g_assert_true (gtk_widget_get_mapped (get (fixture, "new-issue")));
  gtk_editable_set_text (GTK_EDITABLE (window_test_get (get (fixture, "new-issue"), "title")), "Cracked at the bore");
  window_test_choose (window_test_get (get (fixture, "new-issue"), "class"), 1);
  g_assert_true (window_test_shortcut (window_test_get (get (fixture, "new-issue"), "title"), GDK_KEY_Return, GDK_CONTROL_MASK));
  wait_said (fixture, "tally-why", "What took pieces away");
  wait_said (fixture, "tally-said", "The new issue: 1 piece.");
}

/* Round and step come back with the person who chose them. */
static void
test_remembers (Fixture *fixture, gconstpointer data)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "tally-step")), 1);
  wait_said (fixture, "tally-lead", "At step 20 Fit");
  window_test_choose_person (fixture->window, "TK");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "tally-step")), 0);
  wait_said (fixture, "tally-lead", "Nothing was counted");
  window_test_choose_person (fixture->window, "LN");
  wait_said (fixture, "tally-lead", "At step 20 Fit");
}

static char *
undo_words (Fixture *fixture)
{
  return fettle_sitting_dup_undo_words (fettle_window_get_sitting (fixture->window), FALSE);
}

static void
go (Fixture *fixture, const char *name)
{
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.page", "s", name);
  window_test_wait_page (fixture->window, name);
  window_test_wait_answers (fixture->window);
  window_test_settle ();
}

static void
tap_four (Fixture *fixture)
{
  press (fixture, GDK_KEY_1);
  press (fixture, GDK_KEY_1);
  press (fixture, GDK_KEY_4);
  wait_said (fixture, "tally-lead", "3 pieces");
  wait_said (fixture, "tally-why", "1 piece of yours");
  press (fixture, GDK_KEY_7);
  wait_said (fixture, "tally-why", "What took pieces away");
}

/* While the page is in view undo takes the last tap; afterwards all of the visit, and Backspace on the page the last one still. */
static void
test_visit (Fixture *fixture, gconstpointer data)
{
  g_autofree char *one = NULL, *all = NULL;

  tap_four (fixture);
  window_test_wait_undo (fixture->window);
  one = undo_words (fixture);
  g_assert_nonnull (g_strrstr (one, "Named the issue of 1 piece"));
  go (fixture, "shelf");
  all = undo_words (fixture);
  g_assert_cmpstr (all, ==, "4 taps of the tally at 10 Mill");
  go (fixture, "tally");
  press (fixture, GDK_KEY_BackSpace);
  wait_said (fixture, "tally-why", "1 piece of yours");
  wait_said (fixture, "tally-lead", "3 pieces");
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo", NULL);
  wait_said (fixture, "tally-lead", "Nothing was counted here today.");
}

/* History tells it as one line, and takes it back as one. */
static void
test_history (Fixture *fixture, gconstpointer data)
{
  FettleTable *actions;
  guint before;

  tap_four (fixture);
  go (fixture, "history");
  actions = FETTLE_TABLE (get (fixture, "actions"));
  before = fettle_table_n_rows (actions);
  window_test_wait_label (fixture->window, "heading", "Tallied by 4 taps: Tally M/10/");
  g_signal_emit_by_name (get (fixture, "undo-this"), "clicked");
  window_test_wait_said (fixture->window, "Taken back: Tallied by 4 taps");
  window_test_wait_answers (fixture->window);
  g_assert_cmpuint (fettle_table_n_rows (actions), >, before);
  go (fixture, "tally");
  wait_said (fixture, "tally-lead", "Nothing was counted here today.");
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
#define ADD(name, function) g_test_add ("/window/tally/" name, Fixture, NULL, set_up, function, window_test_tear_down)
  ADD ("by-the-number-pad", test_number_pad);
  ADD ("taps-faster-than-the-disk", test_fast_taps);
  ADD ("by-touch", test_touch);
  ADD ("ten-of-one-issue", test_ten_of_one_issue);
  ADD ("refuses-where-units-have-serials", test_serials);
  ADD ("minutes-and-a-new-issue", test_minutes_and_a_new_issue);
  ADD ("by-the-menu", test_by_menu);
  ADD ("minutes-that-are-none-are-refused-and-kept", test_wrong_minutes);
  ADD ("round-and-step-are-chosen-once", test_remembers);
  ADD ("a-visit-is-undone-as-one", test_visit);
  ADD ("a-visit-is-one-line-of-history", test_history);
  return g_test_run ();
}
