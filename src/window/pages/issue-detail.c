/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "issue-detail.h"

#include <glib/gi18n.h>

#include "attachments.h"
#include "beside.h"
#include "book-issue.h"
#include "issue-form.h"
#include "issues-answer.h"
#include "pair.h"
#include "reveal.h"
#include "sentence.h"
#include "tip.h"
#include "unparent.h"
#include "wrap.h"

#define LEAST_CHARS 24
#define MOST_CHARS 100 /* a longer line is hard to read */
#define COLUMN_WIDTH 340

struct _FettleIssueDetail
{
  GtkWidget parent_instance;

  FettleSitting *sitting;
  gint64         model;
  gint64         issue;
  GArray        *findings; /* keys, in the order shown */
  GArray        *changes;  /* keys, in the order shown */
  GCancellable  *asking;

  GtkWidget         *box;
  GtkWidget         *close;
  GtkWidget         *reopen;
  GtkLabel          *facts;
  GtkBox            *story;
  GtkBox            *form_place;
  GtkWidget         *form; /* NULL: none is open */
  char              *form_what;
  char              *wanted; /* goes on once it is known who writes */
  GtkListBox        *finding_list;
  GtkWidget         *finding_empty;
  GtkListBox        *change_list;
  GtkWidget         *change_empty;
  FettleAttachments *attachments;
  GtkLabel          *dates;
  GtkLabel          *figures;
  GtkLabel          *method;
  GtkWidget         *method_open;
};

G_DEFINE_FINAL_TYPE (FettleIssueDetail, fettle_issue_detail, GTK_TYPE_WIDGET)

/* ---- words ---- */

static void
add_text (GtkBox *box, const char *text, const char *classes)
{
  if (text != NULL && text[0] != '\0')
    gtk_box_append (box, fettle_sentence_new (text, classes));
}

static GtkWidget *
make_heading (const char *text)
{
  return g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0f, "css-classes", (const char *[]){ "section", NULL }, NULL);
}

static void
show_story (FettleIssueDetail *self, const PresentIssueDetail *present)
{
  fettle_unparent_children (self->story);
  add_text (self->story, present->sentence, "lead");
  add_text (self->story, present->before_after, "num");
  for (guint i = 0; i < present->missing->len; i++)
    {
      const char *text = g_ptr_array_index (present->missing, i);
      GtkWidget *sign = g_object_new (GTK_TYPE_LABEL, "label", "○", "yalign", 0.0f, "width-request", 16, "css-classes",
                                      (const char *[]){ "dim", NULL }, NULL);

      gtk_box_append (self->story, fettle_beside_new (sign, fettle_sentence_new (text, NULL), 8));
    }
  add_text (self->story, present->cause, NULL);
  add_text (self->story, present->counted, "dim");
}

static void
empty_list (GtkListBox *list)
{
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (list, 0)) != NULL)
    gtk_list_box_remove (list, GTK_WIDGET (row));
}

static void
add_row (GtkListBox *list, const char *text)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0f, "wrap", TRUE, "width-chars", LEAST_CHARS,
                                   "max-width-chars", MOST_CHARS, NULL);

  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  gtk_list_box_append (list, row);
}

static int
focused_row (GtkListBox *list)
{
  GtkWidget *row = gtk_widget_get_focus_child (GTK_WIDGET (list));

  return row != NULL ? gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (row)) : -1;
}

static void
focus_row (GtkListBox *list, int at)
{
  GtkListBoxRow *row = at >= 0 ? gtk_list_box_get_row_at_index (list, at) : NULL;

  if (row != NULL)
    gtk_widget_grab_focus (GTK_WIDGET (row));
}

static void
show_findings (FettleIssueDetail *self, const InsightIssue *issue, const PresentIssueDetail *present)
{
  int focused = focused_row (self->finding_list);

  empty_list (self->finding_list);
  g_array_set_size (self->findings, 0);
  for (guint i = 0; i < issue->findings->len; i++)
    {
      const InsightIssueFinding *finding = g_ptr_array_index (issue->findings, i);

      g_array_append_val (self->findings, finding->id);
      add_row (self->finding_list, g_ptr_array_index (present->findings, i));
    }
  gtk_widget_set_visible (GTK_WIDGET (self->finding_list), issue->findings->len > 0);
  gtk_widget_set_visible (self->finding_empty, issue->findings->len == 0);
  focus_row (self->finding_list, focused);
}

/* ---- what stands beside it ---- */

/* @words: (transfer full): what is said where there is something to say. */
static void
add_fact (GString *facts, const char *value, char *words)
{
  if (value[0] != '\0' && facts->len > 0)
    g_string_append (facts, " · ");
  if (value[0] != '\0')
    g_string_append (facts, words);
  g_free (words);
}

static const char *
shown (BookForm *form, const char *field)
{
  return book_form_find (form, field)->shown;
}

static void
show_facts (FettleIssueDetail *self, BookForm *form)
{
  g_autoptr(GString) facts = g_string_new (NULL);

  add_fact (facts, shown (form, "class"), g_strdup (shown (form, "class")));
  add_fact (facts, shown (form, "found_round"), g_strdup_printf (_("found in round %s"), shown (form, "found_round")));
  add_fact (facts, shown (form, "found_on"), g_strdup_printf (_("on %s"), shown (form, "found_on")));
  add_fact (facts, shown (form, "found_step"), g_strdup_printf (_("at step %s"), shown (form, "found_step")));
  add_fact (facts, shown (form, "characteristic"), g_strdup_printf (_("shown by %s"), shown (form, "characteristic")));
  add_fact (facts, shown (form, "seen_load"), g_strdup_printf (_("load %s"), shown (form, "seen_load")));
  add_fact (facts, shown (form, "seen_cycles"), g_strdup_printf (_("after %s cycles"), shown (form, "seen_cycles")));
  add_fact (facts, shown (form, "owner"), g_strdup_printf (_("looked after by %s"), shown (form, "owner")));
  add_fact (facts, shown (form, "closed"), g_strdup_printf (_("closed on %s"), shown (form, "closed")));
  gtk_label_set_label (self->facts, facts->str);
}

static void
on_beside (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleIssueDetail) self = data;
  g_autoptr(FettleIssueAnswer) answer = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, NULL);
  int focused;

  /* A failure is said by the page, which asks the same book. */
  if (answer == NULL || self->box == NULL)
    return;
  focused = focused_row (self->change_list);
  show_facts (self, answer->form);
  empty_list (self->change_list);
  g_array_set_size (self->changes, 0);
  for (guint i = 0; i < answer->changes->len; i++)
    {
      const FettleIssueChange *change = &g_array_index (answer->changes, FettleIssueChange, i);

      g_array_append_val (self->changes, change->id);
      add_row (self->change_list, change->words);
    }
  gtk_widget_set_visible (GTK_WIDGET (self->change_list), answer->changes->len > 0);
  gtk_widget_set_visible (self->change_empty, answer->changes->len == 0);
  focus_row (self->change_list, focused);
}

static void
ask (FettleIssueDetail *self)
{
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_issue_ask_work, fettle_issue_ask_new (self->model, self->issue), g_free,
                      fettle_issue_answer_free, self->asking, on_beside, g_object_ref (self));
}

void
fettle_issue_detail_take (FettleIssueDetail *self, const InsightIssue *issue)
{
  g_autoptr(PresentIssueDetail) present = NULL;

  g_return_if_fail (FETTLE_IS_ISSUE_DETAIL (self));

  present = present_issue_detail_new (issue);
  gtk_widget_set_visible (self->close, issue->closed[0] == '\0');
  gtk_widget_set_visible (self->reopen, issue->closed[0] != '\0');
  show_story (self, present);
  show_findings (self, issue, present);
  gtk_label_set_label (self->dates, present->dates);
  gtk_widget_set_visible (GTK_WIDGET (self->dates), present->dates[0] != '\0');
  gtk_label_set_label (self->figures, present->figures);
  gtk_widget_set_visible (GTK_WIDGET (self->figures), present->figures[0] != '\0');
  gtk_label_set_label (self->method, present->method);
  gtk_widget_set_visible (self->method_open, present->method[0] != '\0');
  ask (self);
}

gint64
fettle_issue_detail_get_id (FettleIssueDetail *self)
{
  g_return_val_if_fail (FETTLE_IS_ISSUE_DETAIL (self), 0);

  return self->issue;
}

/* ---- forms ---- */

static void
on_form_closed (FettleIssueDetail *self)
{
  GtkWidget *row = gtk_widget_get_ancestor (GTK_WIDGET (self), GTK_TYPE_LIST_BOX_ROW);
  gboolean had_focus = (gtk_widget_get_state_flags (GTK_WIDGET (self->form_place)) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0;

  if (self->form == NULL)
    return;
  if (had_focus && row != NULL)
    gtk_widget_grab_focus (row); /* before the field goes */
  g_signal_handlers_disconnect_by_data (self->form, self);
  fettle_unparent_children (self->form_place);
  self->form = NULL;
  gtk_widget_set_visible (GTK_WIDGET (self->form_place), FALSE);
}

static void
open_form (FettleIssueDetail *self, const char *what, gint64 finding)
{
  const char *heading;

  if (self->form != NULL && finding == 0 && g_strcmp0 (self->form_what, what) == 0)
    {
      fettle_record_form_focus (FETTLE_RECORD_FORM (self->form), NULL);
      return;
    }
  on_form_closed (self);
  g_free (self->form_what);
  self->form_what = g_strdup (what);
  self->form = fettle_issue_form_new (self->sitting, what, self->issue, finding, &heading);
  gtk_box_append (self->form_place, make_heading (heading));
  gtk_box_append (self->form_place, self->form);
  g_signal_connect_swapped (self->form, "closed", G_CALLBACK (on_form_closed), self);
  gtk_widget_set_visible (GTK_WIDGET (self->form_place), TRUE);
  fettle_record_form_focus (FETTLE_RECORD_FORM (self->form), NULL);
  fettle_reveal (GTK_WIDGET (self->form_place));
}

/* The finding that has the keyboard, else the newest: a person decides where they look. */
static gint64
finding_meant (FettleIssueDetail *self)
{
  int focused = focused_row (self->finding_list);

  if (self->findings->len == 0)
    return 0;
  return g_array_index (self->findings, gint64, focused >= 0 ? (guint) focused : self->findings->len - 1);
}

static gboolean
is_by_name (const char *what)
{
  return g_str_equal (what, "close") || g_str_equal (what, "decide") || g_str_equal (what, "excuse");
}

static void
on_reopened (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(GError) error = NULL;

  if (!fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error))
    fettle_sitting_say_error (FETTLE_SITTING (source), error);
}

void
fettle_issue_detail_act (FettleIssueDetail *self, const char *what)
{
  g_return_if_fail (FETTLE_IS_ISSUE_DETAIL (self));

  g_clear_pointer (&self->wanted, g_free);
  if (is_by_name (what) && fettle_sitting_get_person (self->sitting) == 0)
    {
      self->wanted = g_strdup (what);
      fettle_sitting_need_person (self->sitting);
    }
  else if (g_str_equal (what, "attach"))
    fettle_attachments_choose (self->attachments);
  else if (g_str_equal (what, "paste"))
    fettle_attachments_paste (self->attachments);
  else if (g_str_equal (what, "history"))
    gtk_widget_activate_action (GTK_WIDGET (self), "win.show-history", "(sx)", "issue", self->issue);
  else if (g_str_equal (what, "reopen"))
    fettle_sitting_edit (self->sitting, book_issue_reopen (self->issue), on_reopened, NULL);
  else if (!g_str_equal (what, "decide") && !g_str_equal (what, "excuse"))
    open_form (self, what, 0);
  else if (finding_meant (self) != 0)
    open_form (self, what, finding_meant (self));
  else
    fettle_sitting_say (self->sitting, _("Nothing was found yet that could be decided about: add a finding first (F3)."), NULL, NULL);
}

static void
on_person_changed (FettleIssueDetail *self)
{
  g_autofree char *wanted = g_steal_pointer (&self->wanted);

  if (wanted != NULL && fettle_sitting_get_person (self->sitting) != 0)
    fettle_issue_detail_act (self, wanted);
}

static void
on_finding_activated (FettleIssueDetail *self, GtkListBoxRow *row)
{
  open_form (self, "finding", g_array_index (self->findings, gint64, (guint) gtk_list_box_row_get_index (row)));
}

static void
on_change_activated (FettleIssueDetail *self, GtkListBoxRow *row)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.show-record", "(sx)", "change",
                              g_array_index (self->changes, gint64, (guint) gtk_list_box_row_get_index (row)));
}

static void
on_button (FettleIssueDetail *self, GtkWidget *button)
{
  fettle_issue_detail_act (self, g_object_get_data (G_OBJECT (button), "what"));
}

/* ---- as a widget ---- */

static void
fettle_issue_detail_dispose (GObject *object)
{
  FettleIssueDetail *self = FETTLE_ISSUE_DETAIL (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->form != NULL)
    g_signal_handlers_disconnect_by_data (self->form, self);
  self->form = NULL;
  if (self->sitting != NULL)
    g_signal_handlers_disconnect_by_data (self->sitting, self);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_issue_detail_parent_class)->dispose (object);
}

static void
fettle_issue_detail_finalize (GObject *object)
{
  FettleIssueDetail *self = FETTLE_ISSUE_DETAIL (object);

  g_free (self->form_what);
  g_free (self->wanted);
  g_array_unref (self->findings);
  g_array_unref (self->changes);
  G_OBJECT_CLASS (fettle_issue_detail_parent_class)->finalize (object);
}

static void
fettle_issue_detail_class_init (FettleIssueDetailClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_issue_detail_dispose;
  G_OBJECT_CLASS (class)->finalize = fettle_issue_detail_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static GtkWidget *
make_buttons (FettleIssueDetail *self)
{
  static const struct
  {
    const char *what;
    const char *label;
    const char *tooltip;
  } buttons[] = {
    { "contain", N_("Contained"), N_("It can no longer reach anybody, since a day (F4)") },
    { "cause", N_("Cause Known"), N_("Why it happens, and how that is known (F5)") },
    { "close", N_("Close"), N_("How it ended, and when (F6)") },
    { "find", N_("Add a Finding"), N_("Where it was seen: on a unit, in a lot, or counted (F3)") },
    { "reopen", N_("Reopen"), N_("It is not over after all") },
    { "decide", N_("Decide"), N_("What is done with a unit or lot that shows it, by name and with a reason (F7)") },
    { "edit", N_("Change"), N_("All that is written about the issue (F2)") },
    { "history", N_("History"), N_("Who wrote what about it, and when") },
  };
  GtkWidget *line = fettle_wrap_new (8);

  for (gsize i = 0; i < G_N_ELEMENTS (buttons); i++)
    {
      g_autofree char *name = g_strconcat ("do-", buttons[i].what, NULL);
      GtkWidget *button = g_object_new (GTK_TYPE_BUTTON, "label", _(buttons[i].label), "name", name, "css-classes",
                                        (const char *[]){ "plain", NULL }, NULL);

      fettle_tip_set (button, _(buttons[i].tooltip));
      g_object_set_data (G_OBJECT (button), "what", (char *) buttons[i].what);
      g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_button), self);
      fettle_wrap_add (FETTLE_WRAP (line), button);
      if (g_str_equal (buttons[i].what, "close"))
        self->close = button;
      else if (g_str_equal (buttons[i].what, "reopen"))
        self->reopen = button;
    }
  return line;
}

static GtkListBox *
make_list (const char *name, const char *label, GCallback activated, FettleIssueDetail *self)
{
  GtkListBox *list = g_object_new (GTK_TYPE_LIST_BOX, "selection-mode", GTK_SELECTION_NONE, "name", name, "css-classes",
                                   (const char *[]){ "points", NULL }, NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (list), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_signal_connect_swapped (list, "row-activated", activated, self);
  return list;
}

static GtkWidget *
make_columns (FettleIssueDetail *self)
{
  GtkWidget *left = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4), *right = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);

  self->finding_list = make_list ("findings", _("Findings"), G_CALLBACK (on_finding_activated), self);
  self->finding_empty = fettle_sentence_new (_("None yet: on which units was it seen, or on how many of those looked at?"), "dim");
  self->change_list = make_list ("issue-changes", _("Changes that should solve it"), G_CALLBACK (on_change_activated), self);
  self->change_empty = fettle_sentence_new (_("None yet. Without a change, nothing that is measured later speaks of a fix."), "dim");
  self->attachments = FETTLE_ATTACHMENTS (fettle_attachments_new (self->sitting, BOOK_RECORD_ISSUE, self->issue));
  gtk_box_append (GTK_BOX (left), make_heading (_("Findings")));
  gtk_box_append (GTK_BOX (left), GTK_WIDGET (self->finding_list));
  gtk_box_append (GTK_BOX (left), self->finding_empty);
  gtk_box_append (GTK_BOX (left), make_heading (_("Changes That Should Solve It")));
  gtk_box_append (GTK_BOX (left), GTK_WIDGET (self->change_list));
  gtk_box_append (GTK_BOX (left), self->change_empty);
  gtk_box_append (GTK_BOX (right), make_heading (_("Photographs and Files")));
  gtk_box_append (GTK_BOX (right), GTK_WIDGET (self->attachments));
  return fettle_pair_new (left, right, COLUMN_WIDTH);
}

/* The arrows belong to the fields and lists inside, never to the table around. */
static gboolean
on_key (FettleIssueDetail *self, guint keyval, guint keycode, GdkModifierType modifiers)
{
  switch (keyval)
    {
    case GDK_KEY_Up:
    case GDK_KEY_Down:
    case GDK_KEY_Page_Up:
    case GDK_KEY_Page_Down:
    case GDK_KEY_Home:
    case GDK_KEY_End:
      return GDK_EVENT_STOP;
    default:
      return GDK_EVENT_PROPAGATE;
    }
}

static void
build (FettleIssueDetail *self)
{
  GtkWidget *foot = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->facts));
  gtk_box_append (GTK_BOX (self->box), make_buttons (self));
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->form_place));
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->story));
  gtk_box_append (GTK_BOX (self->box), make_columns (self));
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->dates));
  gtk_box_append (GTK_BOX (foot), GTK_WIDGET (self->figures));
  self->method_open = g_object_new (GTK_TYPE_TOGGLE_BUTTON, "label", _("How It Is Computed"), "name", "method", "css-classes",
                                    (const char *[]){ "quiet", NULL }, NULL);
  gtk_box_append (GTK_BOX (foot), self->method_open);
  gtk_box_append (GTK_BOX (self->box), foot);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->method));
  g_object_bind_property (self->method_open, "active", self->method, "visible", G_BINDING_SYNC_CREATE);
}

static void
fettle_issue_detail_init (FettleIssueDetail *self)
{
  GtkEventController *key = gtk_event_controller_key_new ();

  self->findings = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->changes = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->facts = GTK_LABEL (fettle_sentence_new ("", "dim"));
  gtk_widget_set_name (GTK_WIDGET (self->facts), "issue-facts");
  self->story = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "spacing", 4, "name", "issue-story", NULL);
  self->form_place = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "spacing", 4, "visible", FALSE, "name",
                                   "issue-form", "css-classes", (const char *[]){ "form-place", NULL }, NULL);
  self->dates = GTK_LABEL (fettle_sentence_new ("", "dim num"));
  self->figures = GTK_LABEL (fettle_sentence_new ("", "dim num"));
  self->method = GTK_LABEL (fettle_sentence_new ("", "dim"));
  gtk_widget_set_hexpand (GTK_WIDGET (self->figures), TRUE);
  gtk_widget_set_name (GTK_WIDGET (self), "issue-detail");
  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), key);
}

/**
 * fettle_issue_detail_new:
 * @sitting: to be asked, and to write
 * @model: key
 * @issue: what is known of it; not kept
 *
 * Returns: (transfer floating): the detail of an issue
 */
GtkWidget *
fettle_issue_detail_new (FettleSitting *sitting, gint64 model, const InsightIssue *issue)
{
  FettleIssueDetail *self = g_object_new (FETTLE_TYPE_ISSUE_DETAIL, NULL);

  self->sitting = g_object_ref (sitting);
  self->model = model;
  self->issue = issue->id;
  g_signal_connect_swapped (sitting, "person-changed", G_CALLBACK (on_person_changed), self);
  build (self);
  fettle_attachments_drop_on (self->attachments, GTK_WIDGET (self));
  fettle_issue_detail_take (self, issue);
  return GTK_WIDGET (self);
}
