/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Forms made from the description of a record: each kind of field, errors, storing, drafts, and two who write at once. */
#include "config.h"

#include <string.h>

#include "book-record.h"
#include "choice-editor.h"
#include "date-editor.h"
#include "form-field.h"
#include "window-form.h"
#include "window-look.h"
#include "window-private.h"

typedef WindowForm Fixture;

static void
press (Fixture *fixture, const char *field, guint key, GdkModifierType modifiers)
{
  g_assert_true (window_test_shortcut (window_form_get (fixture, field), key, modifiers));
  window_test_settle ();
}

static void
check_book (Fixture *fixture, BookRecordId record, gint64 id, const char *field, const char *expected)
{
  g_autofree char *text = window_test_read_field (fixture->base.window, record, id, field);

  g_assert_cmpstr (text, ==, expected);
}

static void
begin_issue (Fixture *fixture)
{
  window_form_begin (fixture, BOOK_RECORD_ISSUE, NULL, fixture->model, NULL);
}

static void
wait_text (Fixture *fixture, const char *field, const char *text)
{
  window_test_wait_text (GTK_WIDGET (fixture->form), field, text);
}

static gint64
add_issue (Fixture *fixture, const char *title)
{
  begin_issue (fixture);
  window_form_type (fixture, "title", title);
  window_test_choose (window_form_get (fixture, "class"), 2);
  press (fixture, "title", GDK_KEY_Return, GDK_CONTROL_MASK);
  window_form_wait_saved (fixture);
  window_form_drop (fixture);
  fixture->n_closed = 0;
  return fixture->saved;
}

static void
show_issue (Fixture *fixture, gint64 id)
{
  window_form_show (fixture, BOOK_RECORD_ISSUE, NULL, id, "title");
}

/* ---- a new record ---- */

static void
test_new (Fixture *fixture, gconstpointer data)
{
  GtkTextBuffer *cause;

  begin_issue (fixture);
  g_assert_true (gtk_widget_has_focus (gtk_window_get_focus (fixture->frame)));
  g_assert_cmpstr (gtk_label_get_label (GTK_LABEL (window_form_get (fixture, "help"))), !=, ""); /* of the field with the keyboard */
  window_form_type (fixture, "title", "Lever sticks");
  window_test_choose (window_form_get (fixture, "class"), 1); /* after 'choose' */
  window_form_type (fixture, "found_on", "3.4.2026");
  window_form_type (fixture, "tolerated_share", "0,05");
  gtk_check_button_set_active (GTK_CHECK_BUTTON (window_form_get (fixture, "seen_in_life_test")), TRUE);
  cause = gtk_text_view_get_buffer (GTK_TEXT_VIEW (window_form_get (fixture, "cause")));
  gtk_text_buffer_set_text (cause, "ramp\ntoo rough", -1);
  press (fixture, "title", GDK_KEY_Return, GDK_CONTROL_MASK);
  window_form_wait_saved (fixture);

  g_assert_cmpuint (fixture->n_closed, ==, 1);
  check_book (fixture, BOOK_RECORD_ISSUE, fixture->saved, "title", "Lever sticks");
  check_book (fixture, BOOK_RECORD_ISSUE, fixture->saved, "class", "safety");
  check_book (fixture, BOOK_RECORD_ISSUE, fixture->saved, "found_on", "2026-04-03");
  check_book (fixture, BOOK_RECORD_ISSUE, fixture->saved, "tolerated_share", "0.05");
  check_book (fixture, BOOK_RECORD_ISSUE, fixture->saved, "seen_in_life_test", "yes");
  check_book (fixture, BOOK_RECORD_ISSUE, fixture->saved, "cause", "ramp\ntoo rough");
  check_book (fixture, BOOK_RECORD_ISSUE, fixture->saved, "no", "1");
}

static void
test_required (Fixture *fixture, gconstpointer data)
{
  begin_issue (fixture);
  g_assert_cmpstr (window_form_wrong (fixture, "title"), ==, "");
  press (fixture, "title", GDK_KEY_Return, GDK_CONTROL_MASK);
  g_assert_cmpstr (window_form_wrong (fixture, "title"), !=, "");
  g_assert_cmpstr (window_form_wrong (fixture, "class"), !=, "");
  g_assert_cmpuint (fixture->n_saved, ==, 0);
  g_assert_cmpuint (fixture->n_closed, ==, 0);

  window_form_type (fixture, "title", "Rattles");
  g_assert_cmpstr (window_form_wrong (fixture, "title"), ==, ""); /* what is right now is no longer called wrong */
}

/* ---- errors ---- */

static void
test_wrong (Fixture *fixture, gconstpointer data)
{
  begin_issue (fixture);
  window_form_type (fixture, "found_on", "2026-02-31");
  g_assert_cmpstr (window_form_wrong (fixture, "found_on"), ==, ""); /* not while it is typed */
  gtk_widget_grab_focus (window_form_get (fixture, "seen_load"));
  window_test_settle ();
  g_assert_nonnull (strstr (window_form_wrong (fixture, "found_on"), "2026-02-31"));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (window_form_get (fixture, "found_on"))), ==, "2026-02-31");

  window_form_type (fixture, "seen_load", "12x");
  gtk_widget_grab_focus (window_form_get (fixture, "title"));
  window_test_settle ();
  g_assert_nonnull (strstr (window_form_wrong (fixture, "seen_load"), "12x"));
  window_form_type (fixture, "tolerated_share", "1.5");
  gtk_widget_grab_focus (window_form_get (fixture, "title"));
  window_test_settle ();
  g_assert_nonnull (strstr (window_form_wrong (fixture, "tolerated_share"), "share"));
}

static gboolean
is_refused (gpointer data)
{
  return window_form_wrong (data, "contained")[0] != '\0';
}

static gboolean
has_keyboard (Fixture *fixture, const char *field)
{
  GtkWidget *focus = gtk_window_get_focus (fixture->frame), *control = window_form_get (fixture, field);

  return focus == control || (focus != NULL && gtk_widget_is_ancestor (focus, control));
}

static void
test_blamed (Fixture *fixture, gconstpointer data)
{
  gint64 issue = add_issue (fixture, "Gap at the spine");

  /* A rule of the book: a day that has not come yet. */
  show_issue (fixture, issue);
  window_form_type (fixture, "contained", "2027-01-01");
  gtk_widget_grab_focus (window_form_get (fixture, "title"));
  window_test_wait (is_refused, fixture, "the refusal");
  check_book (fixture, BOOK_RECORD_ISSUE, issue, "contained", "");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (window_form_get (fixture, "contained"))), ==, "2027-01-01");
  g_assert_false (has_keyboard (fixture, "contained")); /* who went on goes on */
}

/* Whoever waits for the whole form is brought to the field to blame. */
static void
test_blamed_as_a_whole (Fixture *fixture, gconstpointer data)
{
  begin_issue (fixture);
  window_form_type (fixture, "title", "Gap at the spine");
  window_test_choose (window_form_get (fixture, "class"), 1);
  window_form_type (fixture, "contained", "2027-01-01");
  gtk_widget_grab_focus (window_form_get (fixture, "title"));
  press (fixture, "title", GDK_KEY_Return, GDK_CONTROL_MASK);
  window_test_wait (is_refused, fixture, "the refusal");
  g_assert_true (has_keyboard (fixture, "contained"));
  g_assert_cmpuint (fixture->n_closed, ==, 0);
}

/* ---- a record of the book ---- */

static void
test_left (Fixture *fixture, gconstpointer data)
{
  gint64 issue = add_issue (fixture, "Blade rubs");

  show_issue (fixture, issue);
  window_form_type (fixture, "title", "Blade rubs in the handle");
  g_assert_cmpuint (fixture->n_saved, ==, 0);
  gtk_widget_grab_focus (window_form_get (fixture, "seen_load"));
  window_form_wait_saved (fixture);
  check_book (fixture, BOOK_RECORD_ISSUE, issue, "title", "Blade rubs in the handle");
  g_assert_cmpuint (fixture->n_closed, ==, 0);

  /* Nothing new: nothing is stored. */
  gtk_widget_grab_focus (window_form_get (fixture, "title"));
  gtk_widget_grab_focus (window_form_get (fixture, "seen_load"));
  window_test_settle ();
  g_assert_cmpuint (fixture->n_saved, ==, 0);

  window_test_choose (window_form_get (fixture, "class"), 3); /* a choice is complete when it is made */
  window_form_wait_saved (fixture);
  check_book (fixture, BOOK_RECORD_ISSUE, issue, "class", "appearance");

  g_assert_false (window_test_press (window_form_get (fixture, "class"), GDK_KEY_x, 0)); /* no choice begins so */
  g_assert_false (window_test_press (window_form_get (fixture, "class"), GDK_KEY_f, GDK_CONTROL_MASK));
  g_assert_true (window_test_press (window_form_get (fixture, "class"), GDK_KEY_F, GDK_SHIFT_MASK));
  g_assert_cmpuint (fettle_choice_editor_get_selected (FETTLE_CHOICE_EDITOR (window_form_get (fixture, "class"))), ==, 2);
}

static void
test_escape (Fixture *fixture, gconstpointer data)
{
  gint64 issue = add_issue (fixture, "Blade rubs");

  show_issue (fixture, issue);
  window_form_type (fixture, "title", "Nonsense");
  press (fixture, "title", GDK_KEY_Escape, 0);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (window_form_get (fixture, "title"))), ==, "Blade rubs");
  g_assert_cmpuint (fixture->n_closed, ==, 0);
  press (fixture, "title", GDK_KEY_Escape, 0);
  g_assert_cmpuint (fixture->n_closed, ==, 1);
  check_book (fixture, BOOK_RECORD_ISSUE, issue, "title", "Blade rubs");
}

static void
write_title (Fixture *fixture, gint64 issue, const char *title)
{
  window_test_edit (fixture->base.window, book_edit_field (BOOK_RECORD_ISSUE, issue, "title", title));
  window_test_settle ();
}

static gboolean
shows_both (gpointer data)
{
  GtkWidget *field = gtk_widget_get_ancestor (window_form_get (data, "title"), g_type_from_name ("FettleFormField"));
  GtkWidget *both = window_test_find (field, "both"); /* in the field that was typed in */

  return both != NULL && gtk_widget_get_mapped (both);
}

static void
test_both (Fixture *fixture, gconstpointer data)
{
  gint64 issue = add_issue (fixture, "Blade rubs");
  GtkWidget *both;

  show_issue (fixture, issue);
  write_title (fixture, issue, "Blade touches");
  wait_text (fixture, "title", "Blade touches"); /* nothing is typed: it is simply shown */

  window_form_type (fixture, "title", "Mine");
  write_title (fixture, issue, "Theirs");
  window_test_wait (shows_both, fixture, "both values");
  both = window_form_get (fixture, "both");
  g_assert_nonnull (strstr (gtk_label_get_label (GTK_LABEL (both)), "Theirs"));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (window_form_get (fixture, "title"))), ==, "Mine");
  gtk_widget_grab_focus (window_form_get (fixture, "seen_load"));
  window_test_settle ();
  check_book (fixture, BOOK_RECORD_ISSUE, issue, "title", "Theirs"); /* leaving the field overwrites nobody */

  g_signal_emit_by_name (window_test_get (gtk_widget_get_parent (gtk_widget_get_parent (both)), "keep-mine"), "clicked");
  window_form_wait_saved (fixture);
  check_book (fixture, BOOK_RECORD_ISSUE, issue, "title", "Mine");
  g_assert_false (gtk_widget_get_mapped (both));
}

static gboolean
is_closed (gpointer data)
{
  return ((Fixture *) data)->n_closed > 0;
}

static void
test_gone (Fixture *fixture, gconstpointer data)
{
  gint64 issue = add_issue (fixture, "Blade rubs");

  show_issue (fixture, issue);
  fettle_sitting_undo (window_form_sitting (fixture));
  window_test_wait (is_closed, fixture, "the form closes");
  g_assert_cmpstr (fettle_message_bar_get_said (fixture->base.window->message_bar), !=, NULL);
}

/* ---- references and days ---- */

static gboolean
has_rows (gpointer data)
{
  Fixture *fixture = data;
  GtkWidget *list = window_test_find (GTK_WIDGET (fixture->form), "references");

  return list != NULL && gtk_list_box_get_row_at_index (GTK_LIST_BOX (list), 0) != NULL;
}

static gboolean
has_one_row (gpointer data)
{
  Fixture *fixture = data;
  GtkListBox *list = GTK_LIST_BOX (window_form_get (fixture, "references"));

  GtkListBoxRow *second = gtk_list_box_get_row_at_index (list, 1);

  return gtk_list_box_get_row_at_index (list, 0) != NULL && second != NULL
         && g_str_equal (gtk_widget_get_name (GTK_WIDGET (second)), "reference-add");
}

static gboolean
is_chosen (gpointer data)
{
  return window_test_has_words (gtk_button_get_child (GTK_BUTTON (window_form_get (data, "found_round"))), "P2", 0);
}

static void
test_reference (Fixture *fixture, gconstpointer data)
{
  static const char *const fields[] = { "title", "class", "found_round", NULL };
  GtkWidget *button, *search;
  g_autoptr(GError) error = NULL;
  g_autoptr(BookRow) row = NULL;
  g_autofree char *key = NULL;

  window_form_begin (fixture, BOOK_RECORD_ISSUE, fields, fixture->model, NULL);
  window_form_type (fixture, "title", "Seen in the second round");
  window_test_choose (window_form_get (fixture, "class"), 1);
  button = window_form_get (fixture, "found_round");
  g_signal_emit_by_name (button, "clicked");
  window_test_wait (has_rows, fixture, "the rounds");
  window_test_settle ();
  search = window_form_get (fixture, "reference-search");
  gtk_editable_set_text (GTK_EDITABLE (search), "p2");
  g_signal_emit_by_name (search, "activate"); /* Enter before the list is there */
  window_test_wait (is_chosen, fixture, "the round is chosen");
  window_test_settle ();
  g_signal_emit_by_name (button, "clicked");
  gtk_editable_set_text (GTK_EDITABLE (window_form_get (fixture, "reference-search")), "P3");
  window_test_wait (has_one_row, fixture, "one round");
  gtk_popover_popdown (GTK_POPOVER (gtk_widget_get_ancestor (search, GTK_TYPE_POPOVER)));
  window_test_settle ();
  press (fixture, "title", GDK_KEY_Return, GDK_CONTROL_MASK);
  window_form_wait_saved (fixture);

  row = window_test_read_record (fixture->base.window, BOOK_RECORD_ISSUE, fixture->saved);
  key = book_record_key_text (window_test_db (fixture->base.window), book_record (BOOK_RECORD_ROUND),
                              book_row_get (row, "found_round")->integer, BOOK_KEY_TEXT_EXACT, &error);
  g_assert_cmpstr (key, ==, "M2/P2");
}

static void
test_days (void)
{
  static const struct
  {
    const char *typed;
    const char *iso;
  } days[] = {
    { "2026-03-31", "2026-03-31" }, { " 2026-3-5 ", "2026-03-05" }, { "31.3.2026", "2026-03-31" }, { "14 Mar 2026", "2026-03-14" },
    { "2026-02-30", NULL },         { "tomorrow", NULL },           { "", NULL },                  { "2026-03-31 or so", NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (days); i++)
    {
      g_autofree char *iso = fettle_date_read (days[i].typed);

      g_assert_cmpstr (iso, ==, days[i].iso);
    }
}

static void
test_day_keys (Fixture *fixture, gconstpointer data)
{
  GtkWidget *day;

  begin_issue (fixture);
  day = window_form_get (fixture, "found_on");
  g_assert_true (window_test_press (day, GDK_KEY_Down, 0)); /* an empty one begins with today */
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (day)), ==, "2026-11-25");
  g_assert_true (window_test_press (day, GDK_KEY_Down, 0));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (day)), ==, "2026-11-24");
  gtk_editable_set_text (GTK_EDITABLE (day), "2026-03-01");
  g_assert_true (window_test_press (day, GDK_KEY_Down, 0));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (day)), ==, "2026-02-28");
  g_assert_true (window_test_press (day, GDK_KEY_Up, 0));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (day)), ==, "2026-03-01");
}

static GtkWidget *
find_inside (GtkWidget *widget, GType type)
{
  GtkWidget *found = G_TYPE_CHECK_INSTANCE_TYPE (widget, type) ? widget : NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL; child = gtk_widget_get_next_sibling (child))
    found = find_inside (child, type);
  return found;
}

static gboolean
is_mapped (gpointer data)
{
  return gtk_widget_get_mapped (data);
}

static gboolean
is_gone (gpointer data)
{
  return !gtk_widget_get_mapped (data);
}

static void
test_day_picked (Fixture *fixture, gconstpointer data)
{
  static const struct
  {
    guint       key;
    const char *day;
  } walk[] = { { GDK_KEY_Left, "2026-02-28" },    { GDK_KEY_Right, "2026-03-01" },     { GDK_KEY_Down, "2026-03-08" },
               { GDK_KEY_Up, "2026-03-01" },      { GDK_KEY_Page_Up, "2026-02-01" },   { GDK_KEY_Right, "2026-02-02" },
               { GDK_KEY_Page_Down, "2026-03-02" } };
  g_autoptr(GDateTime) shown = NULL;
  GtkWidget *day, *calendar;

  g_test_summary ("Alt+Down opens a calendar at the day that stands there; the keys move it, Return takes it, Escape gives back.");
  begin_issue (fixture);
  day = window_form_get (fixture, "found_on");
  gtk_widget_grab_focus (day);
  gtk_editable_set_text (GTK_EDITABLE (day), "2026-03-01");
  g_assert_null (find_inside (GTK_WIDGET (fixture->form), GTK_TYPE_CALENDAR)); /* a form has many dates and one hand */
  g_assert_true (window_test_press (day, GDK_KEY_Down, GDK_ALT_MASK));
  calendar = find_inside (GTK_WIDGET (fixture->form), GTK_TYPE_CALENDAR);
  g_assert_nonnull (calendar);
  window_test_wait (is_mapped, calendar, "the calendar");
  shown = gtk_calendar_get_date (GTK_CALENDAR (calendar));
  g_assert_cmpint (g_date_time_get_month (shown), ==, 3);
  g_assert_cmpint (g_date_time_get_day_of_month (shown), ==, 1);
  for (guint i = 0; i < G_N_ELEMENTS (walk); i++)
    {
      g_assert_true (window_test_press (calendar, walk[i].key, 0));
      g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (day)), ==, walk[i].day);
    }
  g_assert_true (window_test_press (calendar, GDK_KEY_Return, 0));
  window_test_wait (is_gone, calendar, "the calendar to close");
  g_assert_true (gtk_widget_is_ancestor (gtk_root_get_focus (gtk_widget_get_root (day)), day));
  g_signal_emit_by_name (day, "icon-press", GTK_ENTRY_ICON_SECONDARY); /* and it opens again, by the mouse */
  window_test_wait (is_mapped, calendar, "the calendar again");
  g_assert_true (window_test_press (calendar, GDK_KEY_Right, 0));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (day)), ==, "2026-03-03");
  g_assert_true (window_test_press (calendar, GDK_KEY_Escape, 0));
  window_test_wait (is_gone, calendar, "the calendar to close");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (day)), ==, "2026-03-02");
  gtk_editable_set_text (GTK_EDITABLE (day), "");
  g_assert_true (window_test_press (day, GDK_KEY_Down, GDK_ALT_MASK));
  window_test_wait (is_mapped, calendar, "the calendar for an empty day");
  g_assert_true (window_test_press (calendar, GDK_KEY_Return, 0));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (day)), ==, "2026-11-25"); /* today */
}

static void
test_choice_picked (Fixture *fixture, gconstpointer data)
{
  GtkWidget *choice, *list, *inside;

  g_test_summary ("A list opens at what is chosen; a letter goes to what begins with it, Return takes it, and the keyboard comes back.");
  begin_issue (fixture);
  choice = window_form_get (fixture, "class");
  gtk_widget_grab_focus (choice);
  g_assert_null (find_inside (choice, GTK_TYPE_LIST_BOX)); /* a form has many choices and one hand */
  g_assert_true (window_test_press (choice, GDK_KEY_Down, GDK_ALT_MASK));
  list = find_inside (choice, GTK_TYPE_LIST_BOX);
  g_assert_nonnull (list);
  window_test_wait (is_mapped, list, "the list");
  g_assert_cmpint (gtk_list_box_row_get_index (gtk_list_box_get_selected_row (GTK_LIST_BOX (list))), ==, 0);
  g_assert_true (window_test_press (list, GDK_KEY_x, 0)); /* nothing begins so, and the page does not get it */
  g_assert_true (window_test_press (list, GDK_KEY_a, 0));
  inside = gtk_root_get_focus (gtk_widget_get_root (choice));
  g_assert_true (GTK_IS_LIST_BOX_ROW (inside));
  g_assert_cmpint (gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (inside)), ==, 3);
  g_assert_cmpuint (fettle_choice_editor_get_selected (FETTLE_CHOICE_EDITOR (choice)), ==, 0); /* not taken yet */
  g_signal_emit_by_name (inside, "activate");
  window_test_wait (is_gone, list, "the list to close");
  g_assert_cmpuint (fettle_choice_editor_get_selected (FETTLE_CHOICE_EDITOR (choice)), ==, 3);
  g_assert_true (gtk_widget_is_ancestor (gtk_root_get_focus (gtk_widget_get_root (choice)), choice));
}

/* ---- drafts ---- */

static void
test_draft (Fixture *fixture, gconstpointer data)
{
  begin_issue (fixture);
  window_form_type (fixture, "title", "Half a th");
  press (fixture, "title", GDK_KEY_Escape, 0); /* leaves a new record as it is, and keeps it */
  g_assert_cmpuint (fixture->n_closed, ==, 1);
  window_form_drop (fixture);
  g_assert_true (fettle_record_form_has_draft (window_form_sitting (fixture), BOOK_RECORD_ISSUE, fixture->model));
  g_assert_false (fettle_record_form_has_draft (window_form_sitting (fixture), BOOK_RECORD_ISSUE, fixture->model + 1));

  /* The program ends and is started again. */
  window_test_close (fixture->base.window);
  window_form_open_window (fixture);
  begin_issue (fixture);
  wait_text (fixture, "title", "Half a th");
  g_assert_true (gtk_widget_get_mapped (window_form_get (fixture, "restored")));
  g_signal_emit_by_name (window_form_get (fixture, "forget"), "clicked");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (window_form_get (fixture, "title"))), ==, "");
  g_assert_false (fettle_record_form_has_draft (window_form_sitting (fixture), BOOK_RECORD_ISSUE, fixture->model));
}

static void
test_stored_draft (Fixture *fixture, gconstpointer data)
{
  add_issue (fixture, "Complete");
  g_assert_false (fettle_record_form_has_draft (window_form_sitting (fixture), BOOK_RECORD_ISSUE, fixture->model));
}

/* ---- every record ---- */

static void
check_name (GtkWidget *widget, gpointer data)
{
  if (GTK_IS_ENTRY (widget) || GTK_IS_TEXT_VIEW (widget))
    g_assert_true (gtk_test_accessible_has_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL));
}

static void
collect_field (GtkWidget *widget, gpointer data)
{
  if (FETTLE_IS_FORM_FIELD (widget))
    g_ptr_array_add (data, widget);
}

static void
check_tab (Fixture *fixture)
{
  g_autoptr(GPtrArray) fields = g_ptr_array_new ();
  GtkWidget *frame = GTK_WIDGET (fixture->frame);

  window_test_each (GTK_WIDGET (fixture->form), collect_field, fields);
  g_assert_cmpuint (fields->len, >, 0);
  gtk_window_set_focus (fixture->frame, NULL);
  for (guint i = 0; i < fields->len; i++)
    {
      GtkWidget *focus;

      g_assert_true (gtk_widget_child_focus (frame, GTK_DIR_TAB_FORWARD));
      focus = gtk_window_get_focus (fixture->frame);
      if (!gtk_widget_is_ancestor (focus, fields->pdata[i]))
        g_error ("after field %u the keyboard is not at %s", i, fettle_form_field_get_field (fields->pdata[i])->name);
    }
  for (guint i = fields->len - 1; i-- > 0;)
    {
      g_assert_true (gtk_widget_child_focus (frame, GTK_DIR_TAB_BACKWARD));
      if (!gtk_widget_is_ancestor (gtk_window_get_focus (fixture->frame), fields->pdata[i]))
        g_error ("Shift+Tab does not go back to %s", fettle_form_field_get_field (fields->pdata[i])->name);
    }
}

static void
test_tab (Fixture *fixture, gconstpointer data)
{
  static const BookRecordId records[] = { BOOK_RECORD_ISSUE, BOOK_RECORD_ROUND, BOOK_RECORD_CHANGE, BOOK_RECORD_LIFE_TEST };

  g_test_summary ("Tab goes through the fields one after the other, however high each of them is, and Shift+Tab back.");
  for (guint i = 0; i < G_N_ELEMENTS (records); i++)
    {
      window_form_make (fixture, records[i], NULL);
      fettle_record_form_begin (fixture->form, 0);
      window_test_settle ();
      check_tab (fixture);
      window_form_drop (fixture);
    }
}

/* Whatever the description says: a form of it opens, has a name for each control, and goes again. */
static void
test_all (Fixture *fixture, gconstpointer data)
{
  for (guint i = 1; i <= BOOK_N_RECORDS; i++)
    {
      window_form_make (fixture, (BookRecordId) i, NULL);
      fettle_record_form_begin (fixture->form, 0);
      window_test_settle ();
      window_test_each (GTK_WIDGET (fixture->form), check_name, NULL);
      g_object_add_weak_pointer (G_OBJECT (fixture->form), (gpointer *) &fixture->form);
      window_test_destroy (fixture->frame);
      g_assert_null (fixture->form);
    }
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
#define ADD(path, test) g_test_add ("/window/form/" path, Fixture, NULL, window_form_set_up, test, window_form_tear_down)
  ADD ("adds-a-record-with-every-kind-of-field", test_new);
  ADD ("names-what-is-needed-when-it-is-stored", test_required);
  ADD ("says-what-is-wrong-when-a-field-is-left", test_wrong);
  ADD ("puts-what-the-book-refuses-beside-its-field", test_blamed);
  ADD ("brings-whoever-waits-to-the-field-to-blame", test_blamed_as_a_whole);
  ADD ("stores-a-field-when-it-is-left", test_left);
  ADD ("escape-takes-back-then-closes", test_escape);
  ADD ("shows-both-when-somebody-else-wrote", test_both);
  ADD ("closes-when-the-record-is-gone", test_gone);
  ADD ("finds-a-reference-by-typing", test_reference);
  ADD ("moves-a-day-by-the-arrows", test_day_keys);
  ADD ("picks-a-day-from-a-calendar", test_day_picked);
  ADD ("picks-a-choice-from-its-list", test_choice_picked);
  ADD ("offers-again-what-was-typed", test_draft);
  ADD ("keeps-nothing-of-what-is-stored", test_stored_draft);
  ADD ("goes-by-tab-from-field-to-field", test_tab);
  ADD ("opens-for-every-record", test_all);
#undef ADD
  g_test_add_func ("/window/form/reads-days-as-people-write-them", test_days);
  return g_test_run ();
}
