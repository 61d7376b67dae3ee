/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Bench page as a maker uses it: a scanned serial, deeds by one key and in one line, measuring, one's own bench. */
#include "config.h"

#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

#include <string.h>

/* Three units before the inspection, one of them come back; today is 2026-11-25, a Wednesday. */
static const WindowTestFile files[] = {
  { "person.csv", "initials,role\nTK,maker\nLN,inspector\n" },
  { "model.csv", "code,name\nM,Model\n" },
  { "bench.csv", "name\nFitting bench\nInspection table\n" },
  { "step.csv", "model,position,name,kind,bench\nM,10,Fit,own,Fitting bench\nM,20,Inspect,inspection,Inspection table\n" },
  { "round.csv", "model,label,kind,opened,design_fixed,built\nM,A,pilot,2026-10-01,2026-10-05,2026-11-20\n" },
  { "unit.csv", "model,round,serial,assembled_on\nM,A,A-01,2026-11-20\nM,A,A-02,2026-11-20\nM,A,A-03,2026-11-20\n" },
  { "characteristic.csv", "model,code,name,kind,unit,decimals,class,step\nM,PL,Play,measured,mm,2,function,20\n"
                          "M,ZH,Holds,checked,,,function,20\n" },
  { "limit.csv", "model,characteristic,from_date,upper\nM,PL,2026-01-01,0.5\n" },
  { "issue.csv", "model,no,title,class\nM,1,Lever sticks,function\n" },
  { "unit_event.csv", "model,round,unit,date,step,kind,issue,reason\nM,A,A-01,2026-11-20,10,passed,,\nM,A,A-02,2026-11-20,10,passed,,\n"
                      "M,A,A-03,2026-11-20,10,passed,,\nM,A,A-03,2026-11-23,20,sent back,1,sticks when cold\n" },
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
  window_test_set_up_of (fixture, files, "bench");
  window_test_choose_person (fixture->window, "LN");
  wait_said (fixture, "bench-lead", "3 units wait");
}

/* As a keyboard-wedge scanner does, wherever the keyboard is: each sign as a key, then Enter. */
static void
scan (Fixture *fixture, const char *text)
{
  gtk_widget_grab_focus (get (fixture, "bench-choice"));
  for (const char *at = text; *at != '\0'; at++)
    if (gtk_widget_get_focus_child (get (fixture, "bench-line")) == NULL)
      g_assert_true (window_test_press (GTK_WIDGET (fixture->window), gdk_unicode_to_keyval ((guint32) *at), 0));
    else
      {
        int position = -1;

        gtk_editable_insert_text (GTK_EDITABLE (get (fixture, "bench-line")), at, 1, &position);
      }
  g_signal_emit_by_name (get (fixture, "bench-line"), "activate");
  window_test_settle ();
}

static void
press (Fixture *fixture, const char *deed)
{
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.at-bench", "s", deed);
  window_test_settle ();
}

static void
test_says (Fixture *fixture, gconstpointer data)
{
  wait_said (fixture, "bench-lead", "The longest has waited for 3 working days. 4 readings are to be taken.");
  g_assert_true (gtk_widget_get_mapped (get (fixture, "bench-waiting")));
  g_assert_true (gtk_widget_get_mapped (get (fixture, "bench-measure")));
  g_assert_true (gtk_widget_get_mapped (get (fixture, "bench-returns")));
  g_assert_false (gtk_widget_get_mapped (get (fixture, "bench-hand")));
  g_assert_cmpuint (window_test_count_named (page (fixture)), >, 3);
}

/* The first paper that is offered, as its action names it. */
static char *
first_paper (Fixture *fixture)
{
  g_autoptr(GMenu) menu = fettle_window_paper_menu (fixture->window);
  g_autoptr(GMenuModel) section = g_menu_model_get_item_link (G_MENU_MODEL (menu), 0, G_MENU_LINK_SECTION);
  char *word = NULL;

  g_assert_true (g_menu_model_get_item_attribute (section, 0, G_MENU_ATTRIBUTE_TARGET, "s", &word));
  return word;
}

/* A unit at hand has its card to be printed, and is at hand again for who comes back. */
static void
test_card (Fixture *fixture, gconstpointer data)
{
  g_autofree char *without = first_paper (fixture), *with = NULL;

  g_assert_cmpstr (without, ==, "build-list");
  scan (fixture, "A-03");
  wait_said (fixture, "bench-unit", "Unit A-03 of round A");
  with = first_paper (fixture);
  g_assert_cmpstr (with, ==, "unit-card");
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.page", "s", "standing");
  window_test_wait_page (fixture->window, "standing");
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.back", NULL);
  window_test_wait_page (fixture->window, "bench");
  wait_said (fixture, "bench-unit", "Unit A-03 of round A");
}

static void
test_a_scanned_serial (Fixture *fixture, gconstpointer data)
{
  scan (fixture, "a-03");
  wait_said (fixture, "bench-unit", "Unit A-03 of round A");
  wait_said (fixture, "bench-place", "It waits for step 10 Fit since 2026-11-23, for 2 working days: came back: issue 1, Lever sticks: sticks when cold.");
  wait_said (fixture, "bench-place", "It was found at 'Inspect'.");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get (fixture, "bench-line"))), ==, "");

  scan (fixture, "A-99");
  wait_said (fixture, "bench-said", "No unit of this model has the serial 'A-99'.");
  wait_said (fixture, "bench-unit", "Unit A-03 of round A"); /* still at hand */
}

/* Passed takes one key, and another one takes it back; the next comes to hand. */
static void
test_passed (Fixture *fixture, gconstpointer data)
{
  press (fixture, "passed");
  wait_said (fixture, "bench-said", "Choose a unit first");
  press (fixture, "next");
  wait_said (fixture, "bench-unit", "Unit A-03 of round A");
  press (fixture, "next");
  wait_said (fixture, "bench-unit", "Unit A-01 of round A");
  press (fixture, "passed");
  wait_said (fixture, "bench-said", "Passed: A-01. Ctrl+Z takes it back.");
  wait_said (fixture, "bench-lead", "2 units wait");
  wait_said (fixture, "bench-unit", "Unit A-02 of round A");
  fettle_sitting_undo (fettle_window_get_sitting (fixture->window));
  wait_said (fixture, "bench-lead", "3 units wait");
  press (fixture, "next");
  wait_said (fixture, "bench-said", "There is no further unit");
  press (fixture, "previous");
  wait_said (fixture, "bench-unit", "Unit A-01 of round A");

  scan (fixture, "A-01 passed");
  wait_said (fixture, "bench-lead", "2 units wait");
  scan (fixture, "A-01");
  press (fixture, "passed");
  wait_said (fixture, "bench-said", "A-01 waits for no step (through all steps)");
}

/* 'Altered' in one line; what cannot be stored stays typed, with its reason. */
static void
test_one_line (Fixture *fixture, gconstpointer data)
{
  scan (fixture, "A-02");
  scan (fixture, "altered: issue 1");
  wait_said (fixture, "bench-said", "Write what was done, and why.");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get (fixture, "bench-line"))), ==, "altered: issue 1");
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "bench-line")), "");
  scan (fixture, "altered: ramp stoned 0.1, issue 1");
  wait_said (fixture, "bench-said", "Altered: A-02. Ctrl+Z takes it back.");
  wait_said (fixture, "bench-unit", "Unit A-02 of round A");
  gtk_widget_activate_action (page (fixture), "bench.unit", NULL);
  wait_said (fixture, "words", "It was altered on");
}

/* What the line stored is the book's: Ctrl+Z in the empty line takes back that, not the letters; nor those of an earlier serial. */
static void
test_line_undone (Fixture *fixture, gconstpointer data)
{
  scan (fixture, "A-02");
  scan (fixture, "altered: ramp stoned 0.1, issue 1");
  wait_said (fixture, "bench-said", "Altered: A-02. Ctrl+Z takes it back.");
  g_assert_nonnull (gtk_widget_get_focus_child (get (fixture, "bench-line")));
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo", NULL);
  window_test_wait_said (fixture->window, "Taken back: ");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get (fixture, "bench-line"))), ==, "");
}

/* Who comes to the page types a serial there next, and a scanner finds the line from the list of pages as well. */
static void
test_line_reached (Fixture *fixture, gconstpointer data)
{
  GtkWidget *window = GTK_WIDGET (fixture->window);

  gtk_widget_activate_action (window, "win.page", "s", "standing");
  window_test_settle ();
  g_assert_false (window_test_press (window, GDK_KEY_A, 0));
  gtk_widget_activate_action (window, "win.page", "s", "bench");
  window_test_settle ();
  g_assert_nonnull (gtk_widget_get_focus_child (get (fixture, "bench-line")));
  gtk_widget_grab_focus (window_test_get (window, "pages"));
  g_assert_null (gtk_widget_get_focus_child (get (fixture, "bench-line")));
  g_assert_true (window_test_press (window, GDK_KEY_A, 0));
  g_assert_nonnull (gtk_widget_get_focus_child (get (fixture, "bench-line")));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get (fixture, "bench-line"))), ==, "A");
}

static gboolean
has_no_form (gpointer data)
{
  return !gtk_widget_get_mapped (get (data, "bench-form"));
}

/* Sent back, to where and for which issue; it leaves this bench and waits at the other. */
static void
test_sent_back (Fixture *fixture, gconstpointer data)
{
  scan (fixture, "A-01");
  press (fixture, "sent-back");
  g_signal_emit_by_name (window_test_get (get (fixture, "bench-form"), "do"), "clicked");
  window_test_settle ();
  g_assert_true (gtk_widget_get_mapped (get (fixture, "bench-form"))); /* no reason yet */
  window_test_choose_reference (get (fixture, "bench-form"), "issue", "1");
  g_signal_emit_by_name (window_test_get (get (fixture, "bench-form"), "do"), "clicked");
  window_test_wait (has_no_form, fixture, "that it is stored");
  scan (fixture, "A-01");
  wait_said (fixture, "bench-place", "It waits for step 10 Fit");
  wait_said (fixture, "bench-place", "came back: issue 1, Lever sticks.");
}

/* Values one after the other, as a caliper types them; a wrong one is not stored, one outside is said at once. */
static void
test_measure (Fixture *fixture, gconstpointer data)
{
  GtkWidget *entry;

  scan (fixture, "A-01");
  wait_said (fixture, "bench-wanted", "To be measured: PL Play, ZH Holds.");
  press (fixture, "measure");
  wait_said (fixture, "measure-prompt", "PL Play");
  entry = get (fixture, "measure-value");
  gtk_editable_set_text (GTK_EDITABLE (entry), "wide");
  g_signal_emit_by_name (entry, "activate");
  window_test_settle ();
  g_assert_true (gtk_widget_get_mapped (get (fixture, "measure-said")));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, "wide");
  gtk_editable_set_text (GTK_EDITABLE (entry), "0,72");
  g_signal_emit_by_name (entry, "activate");
  wait_said (fixture, "measure-said", "Stored, and outside its limits: PL 0,72.");
  wait_said (fixture, "measure-prompt", "ZH Holds");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, "");
  gtk_editable_set_text (GTK_EDITABLE (entry), "failed");
  g_signal_emit_by_name (entry, "activate");
  window_test_settle ();
  wait_said (fixture, "bench-lead", "2 readings are to be taken.");
  wait_said (fixture, "bench-said", "Stored, and it failed: ZH failed."); /* after the last one, too */
  g_assert_false (gtk_widget_get_mapped (get (fixture, "bench-form")));
  g_assert_false (gtk_widget_get_mapped (get (fixture, "bench-wanted")));
  fettle_sitting_undo (fettle_window_get_sitting (fixture->window));
  wait_said (fixture, "bench-wanted", "To be measured: ZH Holds.");
}

/* One's bench is chosen once, and comes back with its person. */
static void
test_own_bench (Fixture *fixture, gconstpointer data)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "bench-choice")), 2);
  wait_said (fixture, "bench-lead", "2 units wait at 'Inspection table'.");
  window_test_choose_person (fixture->window, "TK");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "bench-choice")), 1);
  wait_said (fixture, "bench-lead", "1 unit waits at 'Fitting bench'.");
  window_test_choose_person (fixture->window, "LN");
  wait_said (fixture, "bench-lead", "2 units wait at 'Inspection table'.");
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (get (fixture, "bench-choice"))), ==, 2);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "bench-choice")), 0);
  wait_said (fixture, "bench-lead", "3 units wait at all benches.");
}

/* The same shop, and two units of another model that nothing happened to yet, and one of a third. */
static void
set_up_with_others (Fixture *fixture, gconstpointer data)
{
  static const WindowTestFile others[] = {
    { "model.csv", "N,Newer\nO,Older\n" },
    { "step.csv", "N,10,Assemble,own,Fitting bench\nO,10,Assemble,own,Fitting bench\n" },
    { "round.csv", "N,P1,prototype,2026-09-01,2026-09-05,\nO,P1,prototype,2026-08-01,2026-08-05,2026-08-20\n" },
    { "unit.csv", "N,P1,N-1,\nN,P1,N-2,\nO,P1,O-1,\n" },
  };
  WindowTestFile both[G_N_ELEMENTS (files)];
  g_autoptr(GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);

  for (gsize i = 0; i < G_N_ELEMENTS (files); i++)
    {
      both[i] = files[i];
      for (gsize k = 0; files[i].name != NULL && k < G_N_ELEMENTS (others); k++)
        if (g_str_equal (files[i].name, others[k].name))
          {
            g_ptr_array_add (texts, g_strconcat (files[i].text, others[k].text, NULL));
            both[i].text = g_ptr_array_index (texts, texts->len - 1);
          }
    }
  window_test_set_up_of (fixture, both, "bench");
}

static void
choose_model (Fixture *fixture, const char *code)
{
  gint64 model = window_test_find_record (fixture->window, BOOK_RECORD_MODEL, code);

  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.model", "x", model);
  window_test_settle ();
}

/* What waits of other models is not listed, but said, with how many there are and how to come to them. */
static void
test_other_models (Fixture *fixture, gconstpointer data)
{
  choose_model (fixture, "M");
  wait_said (fixture, "bench-lead", "3 units wait at all benches");
  wait_said (fixture, "bench-elsewhere", "These are units of M. Here wait also units of other models, which Ctrl+M chooses: N (2), O (1).");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "bench-choice")), 2); /* the inspection table: nothing of theirs */
  wait_said (fixture, "bench-lead", "2 units wait at 'Inspection table'");
  g_assert_false (gtk_widget_get_mapped (get (fixture, "bench-elsewhere")));
  choose_model (fixture, "N");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "bench-choice")), 0);
  wait_said (fixture, "bench-elsewhere", "These are units of N. Here wait also units of other models, which Ctrl+M chooses: M (3), O (1).");
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
#define ADD(name, function) g_test_add ("/window/bench/" name, Fixture, NULL, set_up, function, window_test_tear_down)
  ADD ("says-what-waits-what-to-measure-and-what-came-back", test_says);
  ADD ("a-scanned-serial-comes-to-hand", test_a_scanned_serial);
  ADD ("a-unit-at-hand-has-its-card", test_card);
  ADD ("passed-takes-one-key", test_passed);
  ADD ("altered-in-one-line", test_one_line);
  ADD ("ctrl-z-takes-back-what-the-line-stored", test_line_undone);
  ADD ("a-serial-finds-the-line-from-anywhere", test_line_reached);
  ADD ("sent-back-to-where-and-why", test_sent_back);
  ADD ("values-one-after-the-other", test_measure);
  ADD ("ones-bench-is-chosen-once", test_own_bench);
  g_test_add ("/window/bench/what-waits-of-other-models-is-said", Fixture, NULL, set_up_with_others, test_other_models, window_test_tear_down);
  return g_test_run ();
}
