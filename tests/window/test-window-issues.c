/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Issues page: raising, what is done about an issue by one key each, lists, and what others write meanwhile. */
#include "config.h"

#include "book-record.h"
#include "ledger.h"
#include "table-private.h"
#include "window-issues.h"

typedef WindowTestFixture Fixture;

static FettleSitting *
sitting (Fixture *fixture)
{
  return fettle_window_get_sitting (fixture->window);
}

static FettleLedger *
table (Fixture *fixture)
{
  return FETTLE_LEDGER (window_issues_get (fixture, "issues-table"));
}

/* Another window on the same book. */
static void
open_again (Fixture *fixture)
{
  fixture->window = window_test_open (fixture->book, "issues");
  window_issues_wait_shown (fixture);
}

/* ---- the book ---- */

static gint64
find (Fixture *fixture, BookRecordId record, const char *key)
{
  return window_test_find_record (fixture->window, record, key);
}

static char *
in_book (Fixture *fixture, BookRecordId record, const char *key, const char *field)
{
  g_autoptr(GError) error = NULL;
  gint64 id = find (fixture, record, key);
  g_autoptr(BookRow) row = id != 0 ? book_record_read (window_test_db (fixture->window), book_record (record), id, &error) : NULL;
  const BookField *described = book_field_find (book_record (record), field);
  const BookValue *value;

  if (row == NULL)
    return g_strdup ("(no such record)");
  value = book_row_get (row, field);
  if (described->kind == BOOK_KIND_REFERENCE && !book_value_is_empty (value))
    return book_record_key_text (window_test_db (fixture->window), book_record (described->refers), value->integer, BOOK_KEY_TEXT_SHORT, &error);
  return described->kind == BOOK_KIND_REFERENCE ? g_strdup ("") : book_value_print (described, value);
}

typedef struct
{
  Fixture     *fixture;
  BookRecordId record;
  const char  *key;
  const char  *field;
  const char  *text;
} Expected;

static gboolean
holds (gpointer data)
{
  Expected *expected = data;
  g_autofree char *text = in_book (expected->fixture, expected->record, expected->key, expected->field);

  return g_str_equal (text, expected->text);
}

static void
wait_book (Fixture *fixture, BookRecordId record, const char *key, const char *field, const char *text)
{
  window_test_wait (holds, &(Expected){ fixture, record, key, field, text }, text);
  window_test_settle ();
}

static void
wait_told (Fixture *fixture, const char *name, const char *text)
{
  window_test_wait_seen (fixture->window, name, text);
}

static void
wait_text (Fixture *fixture, const char *field, const char *text)
{
  window_test_wait_text (window_test_page (fixture->window), field, text);
}

/* ---- raising ---- */

static void
test_empty (Fixture *fixture, gconstpointer data)
{
  g_assert_true (gtk_widget_get_mapped (window_issues_get (fixture, "issues-empty")));
  g_assert_false (gtk_widget_get_mapped (window_issues_get (fixture, "issues-filters")));
  g_assert_false (gtk_widget_get_mapped (window_issues_get (fixture, "issues-chart")));
  g_signal_emit_by_name (window_issues_get (fixture, "raise-first"), "clicked");
  window_issues_wait_focus_in (fixture, "new-issue");
  g_assert_false (gtk_widget_get_mapped (window_issues_get (fixture, "issues-empty")));
}

static void
test_raised (Fixture *fixture, gconstpointer data)
{
  window_issues_raise (fixture, "Lock slips", 1);
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "title", "Lock slips");
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "class", "safety");
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "found_round", "A"); /* the round in view */
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "found_on", "2026-11-25");
  g_assert_cmpint (fettle_ledger_get_selected (table (fixture)), ==, 0);
  g_assert_true (gtk_widget_get_mapped (window_issues_get (fixture, "issue-detail")));
  g_assert_true (gtk_widget_get_mapped (window_issues_get (fixture, "issues-chart")));
}

static gboolean
has_reading_rows (gpointer data)
{
  GtkWidget *found = window_test_find (window_test_page (((Fixture *) data)->window), "readings-table");

  return found != NULL && fettle_table_n_rows (FETTLE_TABLE (found)) > 0;
}

static gboolean
is_first_round (gpointer data)
{
  FettleTable *readings = FETTLE_TABLE (window_issues_get (data, "readings-table"));
  g_autofree char *words = fettle_table_n_rows (readings) > 2 ? fettle_table_source_describe (readings->source, 2, 0) : NULL;

  return words != NULL && g_str_has_prefix (words, "P1-03");
}

/* Ctrl+E on a reading of the strength in the first round. */
static void
raise_from_row (Fixture *fixture, guint row)
{
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.page", "s", "readings");
  window_test_wait (has_reading_rows, fixture, "readings");
  window_test_settle ();
  gtk_drop_down_set_selected (GTK_DROP_DOWN (window_issues_get (fixture, "characteristic")), 3);
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.round", "x", find (fixture, BOOK_RECORD_ROUND, "M2/P1"));
  window_test_wait (is_first_round, fixture, "the first round");
  window_test_settle ();
  fettle_table_go (FETTLE_TABLE (window_issues_get (fixture, "readings-table")), row);
  window_test_settle ();
  gtk_widget_grab_focus (window_issues_get (fixture, "readings-table"));
  window_issues_press (fixture, GDK_KEY_e, GDK_CONTROL_MASK);
  window_issues_wait_focus_in (fixture, "new-issue");
}

/* The unit of the first round that is below its limit: 188 N, from 200 on. */
static void
test_from_reading (Fixture *fixture, gconstpointer data)
{
  raise_from_row (fixture, 2);
  wait_told (fixture, "new-issue", "P1-03");
  wait_text (fixture, "title", "Strength: outside its limits");
  gtk_editable_set_text (GTK_EDITABLE (window_issues_get (fixture, "title")), "Too weak");
  window_test_choose (window_issues_get (fixture, "class"), 1);
  window_issues_press (fixture, GDK_KEY_Return, GDK_CONTROL_MASK);
  wait_book (fixture, BOOK_RECORD_FINDING, "M2/1/1", "unit", "P1/P1-03");
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "characteristic", "ST");
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "found_round", "P1");
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "found_on", "2026-02-10"); /* the day it was measured */
  wait_told (fixture, "findings", "P1-03");
}

/* One that lies within its limits is called by what was measured and where: nothing is wrong with it. */
static void
test_from_reading_inside (Fixture *fixture, gconstpointer data)
{
  raise_from_row (fixture, 0);
  wait_told (fixture, "new-issue", "P1-01");
  wait_text (fixture, "title", "Strength, unit P1-01");
  window_test_choose (window_issues_get (fixture, "class"), 1);
  window_issues_press (fixture, GDK_KEY_Return, GDK_CONTROL_MASK);
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "title", "Strength, unit P1-01");
  wait_book (fixture, BOOK_RECORD_FINDING, "M2/1/1", "unit", "P1/P1-01");
}

/* ---- one key each ---- */

static void
test_contained (Fixture *fixture, gconstpointer data)
{
  window_issues_raise (fixture, "Lock slips", 1);
  window_test_edit (fixture->window,
                    book_edit_field (BOOK_RECORD_ISSUE, find (fixture, BOOK_RECORD_ISSUE, "M2/1"), "found_on", "2026-11-20"));
  window_issues_press (fixture, GDK_KEY_F4, 0);
  window_issues_wait_focus_in (fixture, "issue-form");
  wait_text (fixture, "contained", "2026-11-25");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (window_issues_get (fixture, "contained"))), ==, "2026-11-25");
  g_assert_true (window_test_press (window_issues_get (fixture, "contained"), GDK_KEY_Down, 0)); /* a day earlier */
  g_signal_emit_by_name (window_issues_get (fixture, "contained"), "activate");
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "contained", "2026-11-24");
  window_issues_wait_gone (fixture, "issue-form");
  window_issues_wait_focus_in (fixture, "issues-table"); /* the keyboard is back at the issue */
}

static void
test_cause (Fixture *fixture, gconstpointer data)
{
  window_issues_raise (fixture, "Lock slips", 1);
  window_issues_press (fixture, GDK_KEY_F5, 0);
  window_issues_wait_focus_in (fixture, "issue-form");
  window_test_type (window_test_page (fixture->window), "cause", "Nose too blunt");
  window_test_choose (window_issues_get (fixture, "cause_basis"), 3);
  window_issues_press (fixture, GDK_KEY_Return, GDK_CONTROL_MASK);
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "cause", "Nose too blunt");
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "cause_basis", "switched on and off");
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "cause_known", "2026-11-25");
  wait_told (fixture, "issue-story", "Nose too blunt");

  window_test_wait_undo (fixture->window);
  window_issues_press (fixture, GDK_KEY_z, GDK_CONTROL_MASK); /* all of it at once */
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "cause", "");
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "cause_known", "");
}

static void
test_closed (Fixture *fixture, gconstpointer data)
{
  window_issues_raise (fixture, "Lock slips", 1);
  window_issues_press (fixture, GDK_KEY_F6, 0); /* by name: it asks who writes, and goes on */
  g_assert_null (window_test_find (GTK_WIDGET (fixture->window), "outcome"));
  fettle_sitting_set_person (sitting (fixture), fixture->window->facts->persons[0].key);
  window_issues_wait_focus_in (fixture, "issue-form");
  window_test_choose (window_issues_get (fixture, "outcome"), 3);
  window_issues_press (fixture, GDK_KEY_Return, GDK_CONTROL_MASK);
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "outcome", "not reproduced");
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "closed", "2026-11-25");
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "outcome_by", "AB");
  window_issues_wait_gone (fixture, "do-close");
  g_signal_emit_by_name (window_issues_get (fixture, "do-reopen"), "clicked");
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "closed", "");
  window_issues_wait_gone (fixture, "do-reopen");
}

static void
test_escape (Fixture *fixture, gconstpointer data)
{
  window_issues_raise (fixture, "Lock slips", 1);
  window_issues_press (fixture, GDK_KEY_F4, 0);
  window_issues_wait_focus_in (fixture, "issue-form");
  window_issues_press (fixture, GDK_KEY_Escape, 0);
  window_issues_wait_gone (fixture, "issue-form");
  wait_book (fixture, BOOK_RECORD_ISSUE, "M2/1", "contained", "");
  g_assert_cmpint (fettle_ledger_get_selected (table (fixture)), ==, 0); /* the issue itself stays open */
}

static void
test_finding (Fixture *fixture, gconstpointer data)
{
  window_issues_raise (fixture, "Lock slips", 1);
  fettle_sitting_set_person (sitting (fixture), fixture->window->facts->persons[0].key);
  window_issues_press (fixture, GDK_KEY_F7, 0);
  g_assert_cmpstr (window_test_said (fixture->window), !=, ""); /* nothing to decide about yet */

  window_issues_press (fixture, GDK_KEY_F3, 0);
  window_issues_wait_focus_in (fixture, "issue-form");
  gtk_editable_set_text (GTK_EDITABLE (window_issues_get (fixture, "affected")), "2");
  gtk_editable_set_text (GTK_EDITABLE (window_issues_get (fixture, "inspected")), "30");
  window_issues_press (fixture, GDK_KEY_Return, GDK_CONTROL_MASK);
  wait_book (fixture, BOOK_RECORD_FINDING, "M2/1/1", "affected", "2");
  wait_told (fixture, "findings", "30");
  window_issues_wait_gone (fixture, "issue-form");

  /* The search leads to a finding by its issue. */
  fettle_ledger_select (table (fixture), -1, FALSE);
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.show-record", "(sx)", "finding",
                              find (fixture, BOOK_RECORD_FINDING, "M2/1/1"));
  window_issues_wait_focus_in (fixture, "issues-table");
  g_assert_cmpint (fettle_ledger_get_selected (table (fixture)), ==, 0);

  window_issues_press (fixture, GDK_KEY_F7, 0);
  window_issues_wait_focus_in (fixture, "issue-form");
  window_test_choose (window_issues_get (fixture, "disposition"), 2);
  window_test_type (window_test_page (fixture->window), "reason", "burr taken off");
  window_issues_press (fixture, GDK_KEY_Return, GDK_CONTROL_MASK);
  wait_book (fixture, BOOK_RECORD_FINDING, "M2/1/1", "disposition", "rework");
  wait_book (fixture, BOOK_RECORD_FINDING, "M2/1/1", "person", "AB");
  wait_book (fixture, BOOK_RECORD_FINDING, "M2/1/1", "date", "2026-11-25");
  wait_book (fixture, BOOK_RECORD_FINDING, "M2/1/1", "reason", "burr taken off");
}

/* ---- the list ---- */

static gboolean
is_row (Fixture *fixture, int row, const char *text)
{
  GtkWidget *list = window_test_find (GTK_WIDGET (table (fixture)), "GtkListBox");
  GtkListBoxRow *found = gtk_list_box_get_row_at_index (GTK_LIST_BOX (list), row);

  if (found == NULL)
    return text == NULL;
  return text != NULL && window_test_has_words (GTK_WIDGET (found), text, WINDOW_TEST_SEEN);
}

static void
test_list (Fixture *fixture, gconstpointer data)
{
  window_issues_raise (fixture, "Blade rubs", 3);
  window_issues_raise (fixture, "Lock slips", 1);
  g_assert_true (is_row (fixture, 0, "Blade rubs"));
  g_assert_true (is_row (fixture, 1, "Lock slips"));

  gtk_drop_down_set_selected (GTK_DROP_DOWN (window_issues_get (fixture, "issues-order")), 2); /* by class: safety first */
  window_test_settle ();
  g_assert_true (is_row (fixture, 0, "Lock slips"));
  g_assert_cmpint (fettle_ledger_get_selected (table (fixture)), ==, 0); /* the same issue is open */

  gtk_editable_set_text (GTK_EDITABLE (window_issues_get (fixture, "issues-search")), "BLADE");
  window_test_settle ();
  g_assert_true (is_row (fixture, 0, "Blade rubs"));
  g_assert_true (is_row (fixture, 1, NULL));
  gtk_editable_set_text (GTK_EDITABLE (window_issues_get (fixture, "issues-search")), "nothing like that");
  window_test_settle ();
  g_assert_true (gtk_widget_get_mapped (window_issues_get (fixture, "issues-nothing")));
  gtk_editable_set_text (GTK_EDITABLE (window_issues_get (fixture, "issues-search")), "");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (window_issues_get (fixture, "issues-class")), 1);
  window_test_settle ();
  g_assert_true (is_row (fixture, 0, "Lock slips"));
  g_assert_true (is_row (fixture, 1, NULL));

  gtk_drop_down_set_selected (GTK_DROP_DOWN (window_issues_get (fixture, "issues-state")), 6); /* closed: none */
  window_test_settle ();
  g_assert_true (gtk_widget_get_mapped (window_issues_get (fixture, "issues-nothing")));

  /* Led to from elsewhere: it is shown whatever was chosen above. */
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.show-record", "(sx)", "issue",
                              find (fixture, BOOK_RECORD_ISSUE, "M2/1"));
  window_issues_wait_focus_in (fixture, "issues-table");
  g_assert_true (is_row (fixture, fettle_ledger_get_selected (table (fixture)), "Blade rubs"));
}

/* Another window adds an issue and renames this one, while a form is open and typed into. */
static void
test_form_stays (Fixture *fixture, gconstpointer data)
{
  static const char *const names[] = { "model", "title", "class", NULL };
  static const char *const texts[] = { "M2", "From elsewhere", "function", NULL };
  GtkTextBuffer *cause;
  GtkTextIter start, end;
  g_autofree char *text = NULL;

  window_issues_raise (fixture, "Lock slips", 1);
  window_issues_press (fixture, GDK_KEY_F5, 0);
  window_issues_wait_focus_in (fixture, "issue-form");
  cause = gtk_text_view_get_buffer (GTK_TEXT_VIEW (window_issues_get (fixture, "cause")));
  gtk_text_buffer_set_text (cause, "Half a thou", -1);

  window_test_edit (fixture->window, book_edit_record (BOOK_RECORD_ISSUE, 0, names, texts, NULL));
  wait_told (fixture, "issues-table", "From elsewhere");
  window_test_edit (fixture->window,
                    book_edit_field (BOOK_RECORD_ISSUE, find (fixture, BOOK_RECORD_ISSUE, "M2/1"), "title", "Lock slides"));
  wait_told (fixture, "issues-table", "Lock slides");

  g_assert_true (gtk_text_view_get_buffer (GTK_TEXT_VIEW (window_issues_get (fixture, "cause"))) == cause);
  gtk_text_buffer_get_bounds (cause, &start, &end);
  text = gtk_text_buffer_get_text (cause, &start, &end, FALSE);
  g_assert_cmpstr (text, ==, "Half a thou");
  window_issues_wait_focus_in (fixture, "issue-form");
}

static void
test_kept (Fixture *fixture, gconstpointer data)
{
  window_issues_press (fixture, GDK_KEY_e, GDK_CONTROL_MASK);
  window_issues_wait_focus_in (fixture, "new-issue");
  gtk_editable_set_text (GTK_EDITABLE (window_issues_get (fixture, "title")), "Half a th");
  window_issues_press (fixture, GDK_KEY_Escape, 0);
  g_assert_true (gtk_widget_get_mapped (window_issues_get (fixture, "issues-kept")));
  window_test_close (fixture->window);
  open_again (fixture);
  wait_told (fixture, "issues-kept", "kept");
  g_signal_emit_by_name (window_issues_get (fixture, "go-on"), "clicked");
  window_issues_wait_focus_in (fixture, "new-issue");
  wait_text (fixture, "title", "Half a th");
  g_signal_emit_by_name (window_issues_get (fixture, "forget"), "clicked");
  window_test_settle ();
}

/* ---- the frame ---- */

static void
check_name (GtkWidget *widget, gpointer data)
{
  if ((GTK_IS_ENTRY (widget) || GTK_IS_TEXT_VIEW (widget) || GTK_IS_DROP_DOWN (widget) || GTK_IS_LIST_BOX (widget))
      && gtk_widget_get_mapped (widget))
    {
      if (!gtk_test_accessible_has_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL))
        g_error ("a control has no name: %s %s", G_OBJECT_TYPE_NAME (widget), gtk_widget_get_name (widget));
    }
}

static void
test_names (Fixture *fixture, gconstpointer data)
{
  window_issues_raise (fixture, "Lock slips", 1);
  window_issues_press (fixture, GDK_KEY_F2, 0);
  window_issues_wait_focus_in (fixture, "issue-form");
  window_test_each (window_test_page (fixture->window), check_name, NULL);
}

static void
test_keys_elsewhere (Fixture *fixture, gconstpointer data)
{
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.page", "s", "standing");
  window_test_settle ();
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.issue", "s", "contain");
  window_test_settle ();
  g_assert_cmpstr (window_test_said (fixture->window), ==, ""); /* on its own page it would ask for an issue */
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.page", "s", "issues");
  window_test_settle ();
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.issue", "s", "contain");
  window_test_settle ();
  g_assert_cmpstr (window_test_said (fixture->window), !=, "");
}

static void
test_closed_often (Fixture *fixture, gconstpointer data)
{
  window_issues_raise (fixture, "Lock slips", 1);
  for (int i = 0; i < 10; i++)
    {
      GtkWidget *page;

      gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.show-record", "(sx)", "issue",
                                  find (fixture, BOOK_RECORD_ISSUE, "M2/1"));
      window_issues_wait_focus_in (fixture, "issues-table");
      window_issues_press (fixture, i % 2 == 0 ? GDK_KEY_F2 : GDK_KEY_F3, 0);
      page = window_test_page (fixture->window);
      g_object_add_weak_pointer (G_OBJECT (page), (gpointer *) &page);
      window_test_close (fixture->window); /* while the form asks */
      window_test_settle ();
      g_assert_null (page);
      open_again (fixture);
    }
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
#define ADD(path, test) g_test_add ("/window/issues/" path, Fixture, NULL, window_issues_set_up, test, window_test_tear_down)
  ADD ("an-empty-page-offers-the-first-step", test_empty);
  ADD ("raises-by-keys-and-shows-what-was-raised", test_raised);
  ADD ("raises-from-a-reading-with-its-unit", test_from_reading);
  ADD ("raises-from-a-reading-within-its-limits-without-a-judgement", test_from_reading_inside);
  ADD ("contains-with-one-key-and-an-earlier-day", test_contained);
  ADD ("stores-a-cause-as-one-action", test_cause);
  ADD ("closes-by-name", test_closed);
  ADD ("escape-leaves-a-step-undone", test_escape);
  ADD ("finds-and-decides-with-name-and-reason", test_finding);
  ADD ("lists-by-state-class-age-and-words", test_list);
  ADD ("a-form-stays-while-others-write", test_form_stays);
  ADD ("offers-a-begun-issue-again", test_kept);
  ADD ("names-every-control", test_names);
  ADD ("leaves-its-keys-to-other-pages", test_keys_elsewhere);
  ADD ("closes-ten-times-and-leaves-nothing", test_closed_often);
#undef ADD
  return g_test_run ();
}
