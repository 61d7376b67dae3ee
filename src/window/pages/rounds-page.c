/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The page keeps the detail of the selected round through every answer: cells and sections are written, nothing that is
 * typed goes away.
 */
#include "config.h"

#include "rounds-page.h"

#include <glib/gi18n.h>

#include "ledger.h"
#include "reveal.h"
#include "round-detail.h"
#include "round-form.h"
#include "rounds-answer.h"
#include "unparent.h"

struct _FettleRoundsPage
{
  GtkWidget parent_instance;

  GtkWidget    *scroll;
  GtkWidget    *content;
  GtkWidget    *plan;
  GtkLabel     *lead;
  GtkBox       *form_place;
  GtkWidget    *empty;
  GtkBox       *table;
  FettleLedger *ledger;

  FettleSitting      *sitting;
  FettleSpan          span;
  FettleRoundsAnswer *answer; /* shown */
  GPtrArray          *rows;   /* PresentRoundRow */
  GCancellable       *asking;
  gint64              open;  /* key of the open round; 0: none */
  gboolean            focus_open; /* with the next answer */
  gboolean            wants_form; /* likewise */
};

static void fettle_rounds_page_page_init (FettlePageInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleRoundsPage, fettle_rounds_page, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_rounds_page_page_init))

static const PresentRoundRow *
row_at (const GPtrArray *rows, guint row)
{
  return g_ptr_array_index (rows, row);
}

static int
find_row (FettleRoundsPage *self, gint64 round)
{
  for (guint i = 0; self->rows != NULL && i < self->rows->len; i++)
    if (row_at (self->rows, i)->id == round)
      return (int) i;
  return -1;
}

/* ---- table ---- */

static GtkWidget *
make_detail (guint row, gpointer user_data)
{
  FettleRoundsPage *self = FETTLE_ROUNDS_PAGE (user_data);

  self->open = row_at (self->rows, row)->id;
  return fettle_round_detail_new (self->sitting, self->span.model, self->answer, self->open);
}

static void
on_row_activated (FettleRoundsPage *self, guint row)
{
  GtkWidget *detail = fettle_ledger_get_detail (self->ledger);

  if (detail != NULL)
    gtk_widget_child_focus (detail, GTK_DIR_TAB_FORWARD);
}

static void
write_row (FettleRoundsPage *self, guint i, gboolean is_new)
{
  const PresentRoundRow *row = row_at (self->rows, i);
  g_autofree char *state = g_strdup_printf ("%s %s", row->sign, row->state);
  const char *cells[] = { row->label, row->kind, row->units, state, row->days, row->verdict, row->cost };

  if (is_new)
    fettle_ledger_add (self->ledger, cells, row->words, NULL);
  else
    fettle_ledger_change (self->ledger, i, cells, row->words, NULL);
}

static gboolean
same_rounds (const GPtrArray *a, const GPtrArray *b)
{
  if (a == NULL || a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    if (row_at (a, i)->id != row_at (b, i)->id)
      return FALSE;
  return TRUE;
}

/* A round that is still planned or under way is what somebody comes for. */
static gint64
first_open (FettleRoundsPage *self)
{
  const InsightRound *round = fettle_rounds_find (self->answer, self->span.to);

  return round != NULL && round->next <= BOOK_ROUND_TESTED ? round->id : 0;
}

static void
show_table (FettleRoundsPage *self, gboolean same)
{
  gint64 open = self->open != 0 ? self->open : first_open (self);
  GtkWidget *detail;

  if (!same)
    fettle_ledger_clear (self->ledger);
  for (guint i = 0; i < self->rows->len; i++)
    write_row (self, i, !same);
  detail = same ? fettle_ledger_get_detail (self->ledger) : NULL;
  if (detail != NULL)
    {
      fettle_round_detail_take (FETTLE_ROUND_DETAIL (detail), self->answer);
      if (!self->focus_open)
        return;
    }
  self->open = 0;
  if (open != 0 && find_row (self, open) >= 0)
    fettle_ledger_select (self->ledger, find_row (self, open), self->focus_open);
  self->focus_open = FALSE;
}

/* ---- a new round ---- */

static void
on_form_saved (FettleRoundsPage *self, gint64 round)
{
  self->open = round; /* the book has changed, so that an answer is on its way */
  self->focus_open = TRUE;
}

static void
on_form_closed (FettleRoundsPage *self)
{
  gtk_widget_set_visible (self->plan, TRUE);
  if (!self->focus_open)
    gtk_widget_grab_focus (self->plan);
  fettle_unparent_children (self->form_place);
  gtk_widget_set_visible (GTK_WIDGET (self->form_place), FALSE);
}

static void
show_form (FettleRoundsPage *self)
{
  GtkWidget *form;

  self->wants_form = FALSE;
  if (gtk_widget_get_first_child (GTK_WIDGET (self->form_place)) != NULL)
    return;
  gtk_widget_set_visible (GTK_WIDGET (self->form_place), TRUE);
  gtk_widget_set_visible (self->plan, FALSE);
  form = fettle_round_form_new (self->sitting, self->span.model, self->answer);
  g_signal_connect_object (form, "saved", G_CALLBACK (on_form_saved), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (form, "closed", G_CALLBACK (on_form_closed), self, G_CONNECT_SWAPPED);
  gtk_box_append (self->form_place, form);
  fettle_reveal (GTK_WIDGET (self->form_place));
}

static void
on_plan (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleRoundsPage *self = FETTLE_ROUNDS_PAGE (widget);

  if (self->answer != NULL)
    show_form (self);
  else
    self->wants_form = TRUE;
}

/* What is done with the open round; of none that is open with the newest. */
static void
on_act (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleRoundsPage *self = FETTLE_ROUNDS_PAGE (widget);
  const char *what = g_variant_get_string (parameter, NULL);
  GtkWidget *detail;

  if (fettle_ledger_get_selected (self->ledger) < 0 && self->rows != NULL && self->rows->len > 0)
    fettle_ledger_select (self->ledger, 0, TRUE);
  detail = fettle_ledger_get_detail (self->ledger);
  for (guint i = 0; detail != NULL && i < FETTLE_N_ROUND_DEEDS; i++)
    if (g_str_equal (fettle_round_deeds[i], what))
      fettle_round_detail_do (FETTLE_ROUND_DETAIL (detail), i);
}

/* ---- asking and showing ---- */

static void
take_answer (FettleRoundsPage *self, FettleRoundsAnswer *answer)
{
  g_autofree char *lead = present_rounds_headline (answer->rounds);
  GPtrArray *rows = present_round_rows (answer->rounds);
  gboolean same = same_rounds (self->rows, rows);

  g_clear_pointer (&self->rows, g_ptr_array_unref);
  self->rows = rows;
  g_clear_pointer (&self->answer, fettle_rounds_answer_unref);
  self->answer = answer;
  gtk_label_set_label (self->lead, lead);
  show_table (self, same);
  gtk_widget_set_visible (GTK_WIDGET (self->table), rows->len > 0);
  gtk_widget_set_visible (self->empty, rows->len == 0);
  gtk_widget_set_visible (self->content, TRUE);
  if (self->wants_form)
    show_form (self);
}

static void
on_answer (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleRoundsPage) self = FETTLE_ROUNDS_PAGE (user_data);
  g_autoptr(GError) error = NULL;
  FettleRoundsAnswer *answer = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (answer == NULL)
    {
      fettle_sitting_say_error (FETTLE_SITTING (source), error);
      return;
    }
  if (self->sitting == NULL)
    fettle_rounds_answer_unref (answer);
  else
    take_answer (self, answer);
}

static void
ask (FettleRoundsPage *self)
{
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->span.model == 0)
    return;

  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_rounds_ask_work, fettle_rounds_ask_new (self->span.model, 0, FALSE), fettle_rounds_ask_free,
                      fettle_rounds_answer_unref, self->asking, on_answer, g_object_ref (self));
}

/* ---- as a page ---- */

static void
fettle_rounds_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleRoundsPage *self = FETTLE_ROUNDS_PAGE (page);
  gboolean same = self->span.model == span->model;
  gboolean moved = same && self->span.to != span->to;

  self->span = *span;
  if (moved && find_row (self, span->to) >= 0 && span->to != self->open)
    fettle_ledger_select (self->ledger, find_row (self, span->to), FALSE);
  if (!same)
    {
      self->open = 0;
      g_clear_pointer (&self->rows, g_ptr_array_unref);
      if (gtk_widget_get_first_child (GTK_WIDGET (self->form_place)) != NULL)
        on_form_closed (self);
      ask (self);
    }
}

static void
fettle_rounds_page_refresh (FettlePage *page)
{
  ask (FETTLE_ROUNDS_PAGE (page));
}

static gboolean
fettle_rounds_page_show_record (FettlePage *page, const char *record, gint64 key)
{
  FettleRoundsPage *self = FETTLE_ROUNDS_PAGE (page);

  if (!g_str_equal (record, "round"))
    return FALSE;

  self->open = key; /* opened with the next answer, if it is not there yet */
  if (find_row (self, key) >= 0)
    fettle_ledger_select (self->ledger, find_row (self, key), TRUE);
  else
    self->focus_open = TRUE;
  return TRUE;
}

static gboolean
fettle_rounds_page_get_place (FettlePage *page, const char **record, gint64 *key)
{
  FettleRoundsPage *self = FETTLE_ROUNDS_PAGE (page);
  int row = self->rows == NULL ? -1 : fettle_ledger_get_selected (self->ledger);

  if (row < 0 || (guint) row >= self->rows->len)
    return FALSE;
  *record = "round";
  *key = row_at (self->rows, (guint) row)->id;
  return TRUE;
}

/* The grid speaks about the round on the strip, so that is chosen there first. */
static void
on_enter (FettleRoundsPage *self)
{
  const char *record;
  gint64 key;

  if (fettle_rounds_page_get_place (FETTLE_PAGE (self), &record, &key))
    gtk_widget_activate_action (GTK_WIDGET (self), "win.round-on-the-way", "x", key);
  gtk_widget_activate_action (GTK_WIDGET (self), "win.page", "s", "entry");
}

static void
fettle_rounds_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_rounds_page_set_span;
  iface->refresh = fettle_rounds_page_refresh;
  iface->show_record = fettle_rounds_page_show_record;
  iface->get_place = fettle_rounds_page_get_place;
}

/* One goes on with the list. */
static gboolean
fettle_rounds_page_grab_focus (GtkWidget *widget)
{
  FettleRoundsPage *self = FETTLE_ROUNDS_PAGE (widget);

  return self->ledger != NULL && fettle_ledger_begin (self->ledger, widget);
}

static void
fettle_rounds_page_dispose (GObject *object)
{
  FettleRoundsPage *self = FETTLE_ROUNDS_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_ROUNDS_PAGE);
  fettle_unparent_children (self);
  self->ledger = NULL;
  g_clear_pointer (&self->rows, g_ptr_array_unref);
  g_clear_pointer (&self->answer, fettle_rounds_answer_unref);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_rounds_page_parent_class)->dispose (object);
}

static void
fettle_rounds_page_class_init (FettleRoundsPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_rounds_page_dispose;
  widget_class->grab_focus = fettle_rounds_page_grab_focus;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/rounds-page.ui");
  gtk_widget_class_install_action (widget_class, "rounds.plan", NULL, on_plan);
  gtk_widget_class_install_action (widget_class, "rounds.act", "s", on_act);
  gtk_widget_class_bind_template_callback (widget_class, on_enter);
  gtk_widget_class_bind_template_child (widget_class, FettleRoundsPage, plan);
  gtk_widget_class_bind_template_child (widget_class, FettleRoundsPage, scroll);
  gtk_widget_class_bind_template_child (widget_class, FettleRoundsPage, content);
  gtk_widget_class_bind_template_child (widget_class, FettleRoundsPage, lead);
  gtk_widget_class_bind_template_child (widget_class, FettleRoundsPage, form_place);
  gtk_widget_class_bind_template_child (widget_class, FettleRoundsPage, empty);
  gtk_widget_class_bind_template_child (widget_class, FettleRoundsPage, table);
}

static void
fettle_rounds_page_init (FettleRoundsPage *self)
{
  const FettleLedgerColumn columns[] = {
    { _("Round"), FALSE, FALSE, 0 },         { _("Kind"), FALSE, FALSE, 2 },    { _("Units"), TRUE, FALSE, 0 },
    { _("Where it stands"), FALSE, TRUE, 0 }, { _("Working days"), TRUE, FALSE, 1 }, { _("Verdict"), FALSE, FALSE, 0 },
    { _("Cost"), TRUE, FALSE, 3 },
  };

  gtk_widget_init_template (GTK_WIDGET (self));
  self->ledger = FETTLE_LEDGER (fettle_ledger_new (columns, G_N_ELEMENTS (columns), _("Rounds")));
  gtk_widget_set_name (GTK_WIDGET (self->ledger), "rounds-table");
  gtk_widget_set_hexpand (GTK_WIDGET (self->ledger), TRUE);
  gtk_box_append (self->table, GTK_WIDGET (self->ledger));
  fettle_ledger_set_detail (self->ledger, make_detail, self);
  g_signal_connect_swapped (self->ledger, "activated", G_CALLBACK (on_row_activated), self);
}

/**
 * fettle_rounds_page_new:
 * @sitting: whose book
 *
 * Returns: the page, empty until a span is set
 */
GtkWidget *
fettle_rounds_page_new (FettleSitting *sitting)
{
  FettleRoundsPage *self = g_object_new (FETTLE_TYPE_ROUNDS_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}

/**
 * fettle_rounds_page_is_shown:
 * @self: the page
 *
 * Returns: whether an answer is on the page
 */
gboolean
fettle_rounds_page_is_shown (FettleRoundsPage *self)
{
  g_return_val_if_fail (FETTLE_IS_ROUNDS_PAGE (self), FALSE);

  return self->answer != NULL;
}
