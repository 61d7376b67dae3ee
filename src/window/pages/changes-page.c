/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The page lays out what src/present says and hands commands of the book to the sitting. What is typed must outlive a
 * refresh: where an answer says nothing new, the rows stay as they are, and with them an open form.
 */
#include "config.h"

#include "changes-page.h"

#include <glib/gi18n.h>

#include "beside.h"
#include "change-detail.h"
#include "change-form.h"
#include "changes-answer.h"
#include "ledger.h"
#include "present-change.h"
#include "reveal.h"
#include "unparent.h"

#define TEXT_LEAST_CHARS 24
#define TEXT_MOST_CHARS  100

struct _FettleChangesPage
{
  GtkWidget parent_instance;

  GtkWidget    *scroll;
  GtkWidget    *content;
  GtkWidget    *propose;
  GtkLabel     *lead;
  GtkBox       *form_place;
  GtkWidget    *empty;
  GtkBox       *table;
  GtkWidget    *unexplained_heading;
  GtkListBox   *unexplained;
  FettleLedger *ledger;

  FettleSitting  *sitting;
  FettleSpan      span;
  FettleChangesAnswer *answer; /* shown */
  GPtrArray      *rows;   /* PresentChangeRow, in the order of the table */
  char           *shown;  /* all that the table says, to see whether an answer brings anything new */
  GCancellable   *asking;
  gint64          open;   /* key of the open change, 0: none */
  gboolean        focus_open; /* with the next answer */
  gboolean        wants_form; /* with the next answer */
  gboolean        stale;      /* an answer came while a form was open */

  FettleChangeForm *form; /* NULL until it is first wanted */
};

static void fettle_changes_page_page_init (FettlePageInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleChangesPage, fettle_changes_page, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_changes_page_page_init))

static void ask (FettleChangesPage *self);

static const PresentChangeRow *
row_at (FettleChangesPage *self, guint row)
{
  return g_ptr_array_index (self->rows, row);
}

static int
find_row (FettleChangesPage *self, gint64 change)
{
  for (guint i = 0; self->rows != NULL && i < self->rows->len; i++)
    if (row_at (self, i)->id == change)
      return (int) i;
  return -1;
}

/* ---- table ---- */

static void
on_idle (FettleChangesPage *self)
{
  if (self->stale)
    ask (self);
}

/* Nobody's form goes away under the fingers: the answer waits until it is closed. */
static gboolean
is_busy (FettleChangesPage *self)
{
  GtkWidget *detail = self->ledger != NULL ? fettle_ledger_get_detail (self->ledger) : NULL;

  return detail != NULL && fettle_change_detail_is_busy (FETTLE_CHANGE_DETAIL (detail));
}

static GtkWidget *
make_detail (guint row, gpointer user_data)
{
  FettleChangesPage *self = FETTLE_CHANGES_PAGE (user_data);

  GtkWidget *detail = fettle_change_detail_new (self->sitting, &self->span, self->answer, row_at (self, row)->index);

  self->open = row_at (self, row)->id;
  g_signal_connect_object (detail, "idle", G_CALLBACK (on_idle), self, G_CONNECT_SWAPPED);
  return detail;
}

static void
on_row_activated (FettleChangesPage *self, guint row)
{
  GtkWidget *detail = fettle_ledger_get_detail (self->ledger);

  if (detail != NULL)
    gtk_widget_child_focus (detail, GTK_DIR_TAB_FORWARD);
}

static void
show_table (FettleChangesPage *self)
{
  gint64 open = self->open;

  fettle_ledger_clear (self->ledger);
  for (guint i = 0; i < self->rows->len; i++)
    {
      const PresentChangeRow *row = row_at (self, i);
      g_autofree char *state = g_strdup_printf ("%s %s", row->sign, row->state);
      const char *cells[] = { row->no, row->title, row->items, row->proposed, row->from, row->issues, state };

      fettle_ledger_add (self->ledger, cells, row->words, row->needs_person ? "open" : NULL);
    }
  self->open = 0;
  if (open != 0 && find_row (self, open) >= 0)
    fettle_ledger_select (self->ledger, find_row (self, open), self->focus_open);
  self->focus_open = FALSE;
}

static void
show_unexplained (FettleChangesPage *self)
{
  GtkListBoxRow *row;
  gboolean any = self->answer->changes->unexplained->len > 0;

  while ((row = gtk_list_box_get_row_at_index (self->unexplained, 0)) != NULL)
    gtk_list_box_remove (self->unexplained, GTK_WIDGET (row));
  for (guint i = 0; i < self->answer->changes->unexplained->len; i++)
    {
      g_autofree char *text = present_unexplained (&g_array_index (self->answer->changes->unexplained, InsightUnexplained, i));
      GtkWidget *sign = g_object_new (GTK_TYPE_LABEL, "label", "○", "yalign", 0.0f, "width-request", 16, "css-classes",
                                      (const char *[]){ "dim", NULL }, NULL);
      GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0f, "wrap", TRUE, "hexpand", TRUE,
                                       "width-chars", TEXT_LEAST_CHARS, "max-width-chars", TEXT_MOST_CHARS, NULL);
      GtkWidget *line = gtk_list_box_row_new ();

      gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (line), fettle_beside_new (sign, label, 8));
      gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (line), FALSE);
      gtk_accessible_update_property (GTK_ACCESSIBLE (line), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
      gtk_list_box_append (self->unexplained, line);
    }
  gtk_widget_set_visible (self->unexplained_heading, any);
  gtk_widget_set_visible (GTK_WIDGET (self->unexplained), any);
}

/* ---- the form of a new change ---- */

static void
on_form_saved (FettleChangesPage *self, gint64 change)
{
  self->open = change; /* the book has changed, so that an answer is on its way */
  self->focus_open = TRUE;
}

static void
on_form_closed (FettleChangesPage *self)
{
  if (!self->focus_open)
    gtk_widget_grab_focus (self->propose);
  gtk_widget_set_visible (GTK_WIDGET (self->form_place), FALSE);
  gtk_widget_set_visible (self->propose, TRUE);
}

static void
show_form (FettleChangesPage *self)
{
  self->wants_form = FALSE;
  if (self->form == NULL)
    {
      self->form = FETTLE_CHANGE_FORM (fettle_change_form_new (self->sitting));
      g_signal_connect_object (self->form, "saved", G_CALLBACK (on_form_saved), self, G_CONNECT_SWAPPED);
      g_signal_connect_object (self->form, "closed", G_CALLBACK (on_form_closed), self, G_CONNECT_SWAPPED);
      gtk_box_append (self->form_place, GTK_WIDGET (self->form));
    }
  gtk_widget_set_visible (GTK_WIDGET (self->form_place), TRUE);
  gtk_widget_set_visible (self->propose, FALSE);
  fettle_change_form_begin (self->form, self->span.model, self->answer);
  fettle_reveal (GTK_WIDGET (self->form_place));
}

static void
on_propose (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleChangesPage *self = FETTLE_CHANGES_PAGE (widget);

  if (self->answer != NULL)
    show_form (self);
  else
    self->wants_form = TRUE;
}

/* What is done with the open change; of none that is open with the first. */
static void
on_act (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleChangesPage *self = FETTLE_CHANGES_PAGE (widget);
  const char *what = g_variant_get_string (parameter, NULL);
  GtkWidget *detail;

  if (fettle_ledger_get_selected (self->ledger) < 0 && self->rows != NULL && self->rows->len > 0)
    fettle_ledger_select (self->ledger, 0, TRUE);
  detail = fettle_ledger_get_detail (self->ledger);
  for (guint i = 0; detail != NULL && i < FETTLE_N_CHANGE_DEEDS; i++)
    if (g_str_equal (fettle_change_deeds[i], what))
      fettle_change_detail_do (FETTLE_CHANGE_DETAIL (detail), i);
}

/* ---- asking and showing ---- */

static void
show_answer (FettleChangesPage *self)
{
  g_autofree char *lead = present_changes_headline (self->answer->changes);
  gboolean any = self->answer->changes->changes->len > 0;
  char *shown;

  g_clear_pointer (&self->rows, g_ptr_array_unref);
  self->rows = present_change_rows (self->answer->changes, self->answer->standing);
  shown = present_changes_words (self->answer->changes, self->answer->standing);
  gtk_label_set_label (self->lead, lead);
  if (g_strcmp0 (shown, self->shown) != 0 || self->focus_open)
    {
      show_table (self);
      show_unexplained (self);
    }
  g_free (self->shown);
  self->shown = shown;
  gtk_widget_set_visible (GTK_WIDGET (self->table), any);
  gtk_widget_set_visible (self->empty, !any);
  gtk_widget_set_visible (self->content, TRUE);
  if (self->form != NULL)
    fettle_change_form_take_answer (self->form, self->answer);
  if (self->wants_form)
    show_form (self);
}

static void
on_answer (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleChangesPage) self = FETTLE_CHANGES_PAGE (user_data);
  g_autoptr(GError) error = NULL;
  FettleChangesAnswer *answer = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (answer == NULL)
    {
      fettle_sitting_say_error (FETTLE_SITTING (source), error);
      return;
    }
  self->stale = self->sitting != NULL && is_busy (self);
  if (self->sitting == NULL || self->stale)
    {
      fettle_changes_answer_unref (answer);
      return;
    }
  g_clear_pointer (&self->answer, fettle_changes_answer_unref);
  self->answer = answer;
  show_answer (self);
}

static void
ask (FettleChangesPage *self)
{
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->span.model == 0)
    return;

  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_changes_ask_work, fettle_changes_ask_new (self->span.model),
                      fettle_changes_ask_free, fettle_changes_answer_unref, self->asking, on_answer, g_object_ref (self));
}

/* ---- as a page ---- */

static void
fettle_changes_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleChangesPage *self = FETTLE_CHANGES_PAGE (page);
  gboolean same = self->span.model == span->model;

  self->span = *span;
  if (!same)
    {
      self->open = 0;
      if (self->form != NULL && fettle_change_form_is_open (self->form))
        fettle_change_form_leave (self->form);
      ask (self);
    }
}

static void
fettle_changes_page_refresh (FettlePage *page)
{
  ask (FETTLE_CHANGES_PAGE (page));
}

static gboolean
fettle_changes_page_show_record (FettlePage *page, const char *record, gint64 key)
{
  FettleChangesPage *self = FETTLE_CHANGES_PAGE (page);

  if (!g_str_equal (record, "change"))
    return FALSE;

  self->open = key; /* opened with the next answer, if it is not there yet */
  if (find_row (self, key) >= 0)
    fettle_ledger_select (self->ledger, find_row (self, key), TRUE);
  else
    self->focus_open = TRUE;
  return TRUE;
}

static gboolean
fettle_changes_page_get_place (FettlePage *page, const char **record, gint64 *key)
{
  FettleChangesPage *self = FETTLE_CHANGES_PAGE (page);
  int row = self->rows == NULL ? -1 : fettle_ledger_get_selected (self->ledger);

  if (row < 0 || (guint) row >= self->rows->len)
    return FALSE;
  *record = "change";
  *key = row_at (self, (guint) row)->id;
  return TRUE;
}

static void
fettle_changes_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_changes_page_set_span;
  iface->refresh = fettle_changes_page_refresh;
  iface->show_record = fettle_changes_page_show_record;
  iface->get_place = fettle_changes_page_get_place;
}

/* One goes on with the list. */
static gboolean
fettle_changes_page_grab_focus (GtkWidget *widget)
{
  FettleChangesPage *self = FETTLE_CHANGES_PAGE (widget);

  return self->ledger != NULL && fettle_ledger_begin (self->ledger, widget);
}

static void
fettle_changes_page_dispose (GObject *object)
{
  FettleChangesPage *self = FETTLE_CHANGES_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_CHANGES_PAGE);
  fettle_unparent_children (self);
  self->ledger = NULL;
  self->form = NULL;
  g_clear_pointer (&self->rows, g_ptr_array_unref);
  g_clear_pointer (&self->shown, g_free);
  g_clear_pointer (&self->answer, fettle_changes_answer_unref);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_changes_page_parent_class)->dispose (object);
}

static void
fettle_changes_page_class_init (FettleChangesPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_changes_page_dispose;
  widget_class->grab_focus = fettle_changes_page_grab_focus;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/changes-page.ui");
  gtk_widget_class_install_action (widget_class, "changes.propose", NULL, on_propose);
  gtk_widget_class_install_action (widget_class, "changes.act", "s", on_act);
  gtk_widget_class_bind_template_child (widget_class, FettleChangesPage, propose);
  gtk_widget_class_bind_template_child (widget_class, FettleChangesPage, scroll);
  gtk_widget_class_bind_template_child (widget_class, FettleChangesPage, content);
  gtk_widget_class_bind_template_child (widget_class, FettleChangesPage, lead);
  gtk_widget_class_bind_template_child (widget_class, FettleChangesPage, form_place);
  gtk_widget_class_bind_template_child (widget_class, FettleChangesPage, empty);
  gtk_widget_class_bind_template_child (widget_class, FettleChangesPage, table);
  gtk_widget_class_bind_template_child (widget_class, FettleChangesPage, unexplained_heading);
  gtk_widget_class_bind_template_child (widget_class, FettleChangesPage, unexplained);
}

static void
fettle_changes_page_init (FettleChangesPage *self)
{
  const FettleLedgerColumn columns[] = {
    { _("No"), TRUE, FALSE, 0 },
    { _("What is changed"), FALSE, TRUE, 0 },
    { _("From old to new"), FALSE, FALSE, 1 },
    { _("Proposed"), FALSE, FALSE, 3 },
    { _("From round"), FALSE, FALSE, 2 },
    { _("Issues"), FALSE, FALSE, 4 },
    { _("State"), FALSE, FALSE, 0 },
  };

  gtk_widget_init_template (GTK_WIDGET (self));
  self->ledger = FETTLE_LEDGER (fettle_ledger_new (columns, G_N_ELEMENTS (columns), _("Changes")));
  gtk_widget_set_name (GTK_WIDGET (self->ledger), "changes-table");
  gtk_widget_set_hexpand (GTK_WIDGET (self->ledger), TRUE);
  gtk_box_append (self->table, GTK_WIDGET (self->ledger));
  fettle_ledger_set_detail (self->ledger, make_detail, self);
  g_signal_connect_swapped (self->ledger, "activated", G_CALLBACK (on_row_activated), self);
}

/**
 * fettle_changes_page_new:
 * @sitting: whose book
 *
 * Returns: the page, empty until a span is set
 */
GtkWidget *
fettle_changes_page_new (FettleSitting *sitting)
{
  FettleChangesPage *self = g_object_new (FETTLE_TYPE_CHANGES_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}

/**
 * fettle_changes_page_is_shown:
 * @self: the page
 *
 * Returns: whether an answer is on the page
 */
gboolean
fettle_changes_page_is_shown (FettleChangesPage *self)
{
  g_return_val_if_fail (FETTLE_IS_CHANGES_PAGE (self), FALSE);

  return self->answer != NULL;
}
