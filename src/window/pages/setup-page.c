/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The form follows the current row of the table while nothing new is typed; it is made once for each kind and outlives
 * every answer. What is added becomes the current row with the answer that has it.
 */
#include "config.h"

#include "setup-page.h"

#include <glib/gi18n.h>

#include "early-key.h"
#include "present-setup.h"
#include "setup-answer.h"
#include "setup-deed.h"
#include "setup-form.h"
#include "setup-keys.h"
#include "setup-kinds.h"
#include "setup-limits.h"
#include "setup-order.h"
#include "setup-removal.h"
#include "setup-table.h"
#include "setup-terms.h"
#include "table.h"
#include "tip.h"
#include "unparent.h"

struct _FettleSetupPage
{
  GtkWidget parent_instance;

  GtkEditable      *filter;
  FettleSetupKinds *kinds;
  GtkLabel         *title;
  GtkWidget        *up;
  GtkWidget        *down;
  GtkWidget        *deed_button;
  GtkWidget        *remove;
  GtkWidget        *add;
  GtkLabel         *purpose;
  GtkBox           *asked_place;
  FettleTable      *table;
  GtkWidget        *detail;
  GtkBox           *extra_place;
  GtkBox           *form_place;

  FettleSitting    *sitting;
  gint64            model;
  BookRecordId      kind;
  BookRecordId      shown_kind; /* of the rows in the table; BOOK_RECORD_NONE: none yet */
  FettleTextSource *source;
  BookSetup        *setup;      /* with these rows; NULL: none yet */
  gint64            last[BOOK_N_RECORDS + 1]; /* the row that was looked at last, by kind */
  FettleRecordForm *form;       /* of shown_kind */
  gboolean          adding;     /* the form holds a new record */
  gint64            wanted;     /* becomes the current row with the next answer; 0: none */
  gboolean          led;        /* the kind was found by what is typed, and another may come as that goes on */
  gboolean          named;      /* what is typed names the kind: all its rows are shown */
  gboolean          wants_table; /* the keyboard goes into the table with the next answer */
  gboolean          wants_add;  /* a new record is begun with it */
  FettleSetupLimits *limits;    /* of the characteristic that is current, or whose limits are */
  FettleSetupTerms *terms;   /* of the criterion that is current */
  FettleSetupRemoval *removal;
  FettleSetupDeed  *deed;
  GCancellable     *asking;
};

static void fettle_setup_page_page_init (FettlePageInterface *iface);
static void ask (FettleSetupPage *self);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleSetupPage, fettle_setup_page, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_setup_page_page_init))

/* ---- the form ---- */

static gint64
current_key (FettleSetupPage *self)
{
  guint row;

  return self->source != NULL && fettle_table_get_row (self->table, &row)
             ? fettle_table_source_get_key (FETTLE_TABLE_SOURCE (self->source), row) : 0;
}

static guint
count_rows (FettleSetupPage *self)
{
  return self->setup != NULL ? self->setup->rows->len : 0;
}

static void
show_limits (FettleSetupPage *self)
{
  guint row;
  gint64 characteristic = 0;

  if (self->shown_kind == BOOK_RECORD_CHARACTERISTIC)
    characteristic = current_key (self);
  else if (self->shown_kind == BOOK_RECORD_LIMIT && fettle_table_get_row (self->table, &row) && row < count_rows (self))
    characteristic = ((const BookSetupRow *) self->setup->rows->pdata[row])->belongs_to;
  fettle_setup_limits_show (self->limits, self->adding ? 0 : characteristic);
  fettle_setup_terms_show (self->terms, self->shown_kind == BOOK_RECORD_CRITERION && !self->adding ? current_key (self) : 0);
}

/* The current row in the form, unless that holds a new record. */
static void
show_row (FettleSetupPage *self)
{
  gint64 key = current_key (self);

  gtk_widget_set_sensitive (self->remove, key != 0 && !self->adding);
  if (key != 0)
    self->last[self->shown_kind] = key;
  fettle_setup_removal_keep (self->removal, key);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "setup.move", key != 0 && !self->adding && fettle_setup_order_has (self->shown_kind));
  show_limits (self);
  if (self->adding || self->form == NULL)
    return;
  gtk_widget_set_visible (self->detail, key != 0 && !fettle_setup_deed_is_open (self->deed));
  if (key != 0 && fettle_record_form_get_id (self->form) != key)
    fettle_record_form_show (self->form, key);
}

static void
on_saved (FettleSetupPage *self, gint64 id)
{
  if (!self->adding)
    return;
  self->adding = FALSE;
  self->wanted = id; /* the book has changed, so that an answer is on its way */
}

/* Done with a row: back to the table, with the row still in the form. */
static void
on_closed (FettleSetupPage *self)
{
  gint64 key = current_key (self);

  if ((gtk_widget_get_state_flags (GTK_WIDGET (self->form)) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0 || self->adding)
    gtk_widget_grab_focus (count_rows (self) > 0 || self->wanted != 0 ? GTK_WIDGET (self->table) : self->add);
  self->adding = FALSE;
  show_limits (self);
  gtk_widget_set_sensitive (self->remove, key != 0);
  gtk_widget_set_visible (self->detail, key != 0);
  if (key != 0)
    fettle_record_form_show (self->form, key);
}

static void
begin_new (FettleSetupPage *self)
{
  self->wants_add = FALSE;
  if (self->form == NULL)
    return;
  fettle_setup_removal_keep (self->removal, 0);
  fettle_setup_deed_close (self->deed);
  self->adding = TRUE;
  show_limits (self);
  gtk_widget_set_sensitive (self->remove, FALSE);
  gtk_widget_set_visible (self->detail, TRUE);
  fettle_setup_form_begin (self->form, book_record (self->shown_kind), self->model, self->last, fettle_sitting_get_person (self->sitting));
}

/* ---- asking and showing ---- */

static void
show_placeholder (FettleSetupPage *self, const char *words)
{
  if (*words == '\0')
    fettle_table_set_placeholder (self->table, present_setup_begin (self->shown_kind));
  else
    fettle_table_set_placeholder (self->table, _("No row of this kind has these words."));
}

/* What a window gives the keyboard when the page comes into view is its first widget; rows are what somebody comes for. */
static gboolean
is_just_shown (FettleSetupPage *self)
{
  return (gtk_widget_get_state_flags (GTK_WIDGET (self->filter)) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0
         && *gtk_editable_get_text (self->filter) == '\0';
}

/* What can be done with a row of the kind beyond adding, changing and deleting. */
static void
show_deeds (FettleSetupPage *self)
{
  const char *label = fettle_setup_deed_label (self->shown_kind);

  fettle_setup_removal_keep (self->removal, 0);
  fettle_setup_deed_close (self->deed);
  gtk_widget_set_visible (self->deed_button, label != NULL);
  gtk_button_set_label (GTK_BUTTON (self->deed_button), label != NULL ? label : "");
  fettle_tip_set (self->deed_button, self->shown_kind == BOOK_RECORD_MODEL
                                           ? _("Take over the set-up of an earlier model (F5)")
                                           : _("It is the same as another one: make one of both (F5)"));
  gtk_widget_set_visible (self->up, fettle_setup_order_has (self->shown_kind));
  gtk_widget_set_visible (self->down, fettle_setup_order_has (self->shown_kind));
  fettle_setup_order_enable (self->table, fettle_setup_order_has (self->shown_kind));
}

static void
show_purpose (FettleSetupPage *self)
{
  /* A criterion has its own terms beside it, and needs the room for its form. */
  g_autofree char *defaults = self->shown_kind == BOOK_RECORD_CRITERION ? NULL : present_setup_defaults (self->shown_kind);
  g_autofree char *words = defaults != NULL ? g_strdup_printf ("%s\n%s", present_setup_purpose (self->shown_kind), defaults) : NULL;

  gtk_label_set_label (self->purpose, words != NULL ? words : present_setup_purpose (self->shown_kind));
}

static void
show_kind (FettleSetupPage *self, const BookSetup *setup)
{
  const BookRecord *record = book_record (self->kind);

  if (self->shown_kind != self->kind)
    {
      self->wants_table = self->wants_table || (self->shown_kind == BOOK_RECORD_NONE && is_just_shown (self));
      self->shown_kind = self->kind;
      self->adding = FALSE;
      gtk_label_set_label (self->title, record->id == BOOK_RECORD_STEP ? _("Route") : book_record_plural (record));
      show_purpose (self);
      fettle_unparent_children (self->form_place);
      self->form = fettle_setup_form_new (self->sitting, record, self->model);
      g_signal_connect_object (self->form, "saved", G_CALLBACK (on_saved), self, G_CONNECT_SWAPPED);
      g_signal_connect_object (self->form, "closed", G_CALLBACK (on_closed), self, G_CONNECT_SWAPPED);
      gtk_box_append (self->form_place, GTK_WIDGET (self->form));
      g_clear_object (&self->source);
      show_deeds (self);
    }
  if (self->source != NULL && count_rows (self) > 0)
    fettle_setup_table_fill (self->source, setup);
  else
    {
      g_clear_object (&self->source);
      self->source = fettle_setup_table_new (record, setup);
      fettle_table_set_source (self->table, FETTLE_TABLE_SOURCE (self->source));
      if (self->wanted == 0)
        self->wanted = self->last[record->id];
    }
}

static void
take_answer (FettleSetupPage *self, BookSetup *setup)
{
  const char *words = gtk_editable_get_text (self->filter);
  BookRecordId found;
  guint row;

  fettle_setup_kinds_set_counts (self->kinds, setup->counts, words);
  found = fettle_setup_kinds_first (self->kinds, words);
  if (*words != '\0' && (setup->rows->len == 0 || (self->led && fettle_setup_kinds_is_named (self->kinds, found, words, TRUE)))
      && found != BOOK_RECORD_NONE && (found != self->kind || !self->named) && self->wanted == 0 && !self->adding)
    {
      self->kind = found;
      self->led = TRUE;
      self->named = fettle_setup_kinds_is_named (self->kinds, found, words, FALSE);
      fettle_setup_kinds_choose (self->kinds, self->kind);
      book_setup_free (setup);
      ask (self);
      return;
    }
  fettle_setup_kinds_choose (self->kinds, self->kind);
  show_kind (self, setup);
  book_setup_free (self->setup);
  self->setup = setup;
  show_placeholder (self, words);
  if (self->wanted != 0 && fettle_table_source_find (FETTLE_TABLE_SOURCE (self->source), self->wanted, &row))
    fettle_table_go (self->table, row);
  self->wanted = 0;
  show_row (self);
  if (self->wants_add)
    begin_new (self);
  else if (self->wants_table)
    gtk_widget_grab_focus (count_rows (self) > 0 ? GTK_WIDGET (self->table) : self->add);
  self->wants_table = FALSE;
}

static void
on_answer (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleSetupPage) self = FETTLE_SETUP_PAGE (user_data);
  g_autoptr(GError) error = NULL;
  BookSetup *setup = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (setup == NULL)
    fettle_sitting_say_error (FETTLE_SITTING (source), error);
  else if (self->sitting != NULL)
    take_answer (self, setup);
  else
    book_setup_free (setup);
}

static void
ask (FettleSetupPage *self)
{
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_setup_ask_work,
                      fettle_setup_ask_new (self->model, self->kind, gtk_editable_get_text (self->filter), self->named), fettle_setup_ask_free,
                      (GDestroyNotify) book_setup_free, self->asking, on_answer, g_object_ref (self));
}

static void
choose_kind (FettleSetupPage *self, BookRecordId kind)
{
  if (self->kind == kind)
    return;
  self->kind = kind;
  self->led = self->named = FALSE;
  self->wanted = 0;
  ask (self);
}

static void
on_kind (FettleSetupPage *self, guint record)
{
  choose_kind (self, (BookRecordId) record);
}

static void
on_kind_entered (FettleSetupPage *self)
{
  gtk_widget_grab_focus (count_rows (self) > 0 ? GTK_WIDGET (self->table) : self->add);
}

static void
on_moved (FettleSetupPage *self)
{
  if (self->sitting != NULL)
    show_row (self);
}

/* ---- looking for something ---- */

static void
on_filter (FettleSetupPage *self)
{
  self->led = self->led && *gtk_editable_get_text (self->filter) != '\0';
  self->named = FALSE;
  if (self->sitting != NULL)
    ask (self);
}

static void
on_filter_entered (FettleSetupPage *self)
{
  self->wants_table = TRUE; /* once what was typed last is found */
  ask (self);
}

static void
on_stop_filter (FettleSetupPage *self)
{
  gtk_editable_set_text (self->filter, "");
  gtk_widget_grab_focus (GTK_WIDGET (self->table));
}

/* ---- what is done by keys and the menu ---- */

static void
take_keyboard (FettleSetupPage *self, GtkWidget *asked)
{
  if ((gtk_widget_get_state_flags (asked) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0)
    gtk_widget_grab_focus (GTK_WIDGET (self->table));
}

static void
on_deed_closed (FettleSetupPage *self)
{
  take_keyboard (self, GTK_WIDGET (self->deed));
  gtk_widget_set_visible (self->detail, self->adding || current_key (self) != 0);
}

static void
begin_removal (FettleSetupPage *self)
{
  gint64 key = current_key (self);

  if (key == 0 || self->adding)
    return;
  fettle_setup_deed_close (self->deed);
  fettle_setup_removal_begin (self->removal, self->shown_kind, key);
}

static void
begin_deed (FettleSetupPage *self)
{
  gint64 key = current_key (self);

  if (key == 0 || self->adding || fettle_setup_deed_label (self->shown_kind) == NULL)
    return;
  fettle_setup_removal_keep (self->removal, 0);
  gtk_widget_set_visible (self->detail, FALSE); /* a small window has no room for both */
  fettle_setup_deed_begin (self->deed, self->shown_kind, key, self->setup);
}

static void
on_move (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleSetupPage *self = FETTLE_SETUP_PAGE (widget);
  gint64 key = current_key (self);

  if (key != 0 && fettle_setup_order_has (self->shown_kind))
    fettle_setup_order_move (self->sitting, self->shown_kind, key, g_variant_get_int32 (parameter));
}

static void
edit_row (FettleSetupPage *self)
{
  if (self->form != NULL && gtk_widget_get_visible (self->detail))
    gtk_widget_child_focus (GTK_WIDGET (self->form), GTK_DIR_TAB_FORWARD);
}

static void
on_act (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleSetupPage *self = FETTLE_SETUP_PAGE (widget);
  const char *what = g_variant_get_string (parameter, NULL);

  if (g_str_equal (what, "new-model"))
    {
      gtk_editable_set_text (self->filter, "");
      choose_kind (self, BOOK_RECORD_MODEL);
      what = "add";
    }
  if (g_str_equal (what, "add"))
    {
      if (self->shown_kind == self->kind)
        begin_new (self);
      else
        self->wants_add = TRUE;
    }
  else if (g_str_equal (what, "edit"))
    edit_row (self);
  else if (g_str_equal (what, "remove"))
    begin_removal (self);
  else if (g_str_equal (what, "deed"))
    begin_deed (self);
  else if (g_str_equal (what, "filter"))
    gtk_widget_grab_focus (GTK_WIDGET (self->filter));
}

static void
on_step_key (GtkWidget *widget, int step, gboolean shift)
{
  if (!shift)
    fettle_setup_kinds_step (FETTLE_SETUP_PAGE (widget)->kinds, step);
}

/* ---- as a page ---- */

static void
fettle_setup_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleSetupPage *self = FETTLE_SETUP_PAGE (page);

  if (self->model == span->model && self->shown_kind != BOOK_RECORD_NONE)
    return;
  if (self->model != span->model)
    {
      for (guint i = 0; i <= BOOK_N_RECORDS; i++)
        self->last[i] = 0;
      self->last[BOOK_RECORD_MODEL] = span->model;
      self->shown_kind = BOOK_RECORD_NONE; /* forms and rows of the other model go */
    }
  self->model = span->model;
  if (self->model == 0)
    self->kind = BOOK_RECORD_MODEL;
  ask (self);
}

static void
fettle_setup_page_refresh (FettlePage *page)
{
  ask (FETTLE_SETUP_PAGE (page));
}

static gboolean
fettle_setup_page_show_record (FettlePage *page, const char *record, gint64 key)
{
  FettleSetupPage *self = FETTLE_SETUP_PAGE (page);
  const BookRecord *found = book_record_find (record);
  guint n;
  const BookSetupKind *kinds = book_setup_kinds (&n);

  for (guint i = 0; i < n; i++)
    if (found != NULL && kinds[i].record == found->id)
      {
        gtk_editable_set_text (self->filter, "");
        self->kind = found->id;
        self->wanted = key;
        self->wants_table = TRUE;
        ask (self);
        return TRUE;
      }
  return FALSE;
}

static void
fettle_setup_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_setup_page_set_span;
  iface->refresh = fettle_setup_page_refresh;
  iface->show_record = fettle_setup_page_show_record;
}

static void
fettle_setup_page_dispose (GObject *object)
{
  FettleSetupPage *self = FETTLE_SETUP_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->form != NULL)
    g_signal_handlers_disconnect_by_data (self->form, self);
  self->form = NULL;
  if (self->table != NULL)
    fettle_table_set_source (self->table, NULL);
  g_clear_object (&self->source);
  g_clear_pointer (&self->setup, book_setup_free);
  g_clear_object (&self->sitting);
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_SETUP_PAGE);
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_setup_page_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, FettleSetupPage, filter);
  gtk_widget_class_bind_template_child (widget_class, FettleSetupPage, kinds);
  gtk_widget_class_bind_template_child (widget_class, FettleSetupPage, title);
  gtk_widget_class_bind_template_child (widget_class, FettleSetupPage, up);
  gtk_widget_class_bind_template_child (widget_class, FettleSetupPage, down);
  gtk_widget_class_bind_template_child (widget_class, FettleSetupPage, deed_button);
  gtk_widget_class_bind_template_child (widget_class, FettleSetupPage, remove);
  gtk_widget_class_bind_template_child (widget_class, FettleSetupPage, add);
  gtk_widget_class_bind_template_child (widget_class, FettleSetupPage, purpose);
  gtk_widget_class_bind_template_child (widget_class, FettleSetupPage, asked_place);
  gtk_widget_class_bind_template_child (widget_class, FettleSetupPage, table);
  gtk_widget_class_bind_template_child (widget_class, FettleSetupPage, detail);
  gtk_widget_class_bind_template_child (widget_class, FettleSetupPage, extra_place);
  gtk_widget_class_bind_template_child (widget_class, FettleSetupPage, form_place);
}

static void
fettle_setup_page_class_init (FettleSetupPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_setup_page_dispose;
  g_type_ensure (FETTLE_TYPE_TABLE);
  g_type_ensure (FETTLE_TYPE_SETUP_KINDS);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_install_action (widget_class, "setup.act", "s", on_act);
  gtk_widget_class_install_action (widget_class, "setup.move", "i", on_move);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/setup-page.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, on_filter);
  gtk_widget_class_bind_template_callback (widget_class, on_stop_filter);
  gtk_widget_class_bind_template_callback (widget_class, on_filter_entered);
  gtk_widget_class_bind_template_callback (widget_class, on_kind);
  gtk_widget_class_bind_template_callback (widget_class, on_kind_entered);
  gtk_widget_class_bind_template_callback (widget_class, on_moved);
}

static void
fettle_setup_page_init (FettleSetupPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->kind = BOOK_RECORD_CHARACTERISTIC;
  gtk_widget_set_visible (self->detail, FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->table), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Records of this kind"), -1);
  fettle_setup_keys_set_up (GTK_WIDGET (self->table));
  fettle_early_step (GTK_WIDGET (self), on_step_key);
  fettle_setup_order_set_up (self->table);
}

/**
 * fettle_setup_page_new:
 * @sitting: whose book
 *
 * Returns: (transfer floating): the page, empty until a span is set
 */
GtkWidget *
fettle_setup_page_new (FettleSitting *sitting)
{
  FettleSetupPage *self = g_object_new (FETTLE_TYPE_SETUP_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  self->removal = FETTLE_SETUP_REMOVAL (fettle_setup_removal_new (sitting));
  self->deed = FETTLE_SETUP_DEED (fettle_setup_deed_new (sitting));
  gtk_box_append (self->asked_place, GTK_WIDGET (self->removal));
  gtk_box_append (self->asked_place, GTK_WIDGET (self->deed));
  g_signal_connect_object (self->removal, "closed", G_CALLBACK (take_keyboard), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->deed, "closed", G_CALLBACK (on_deed_closed), self, G_CONNECT_SWAPPED);
  self->limits = FETTLE_SETUP_LIMITS (fettle_setup_limits_new (sitting));
  gtk_box_append (self->extra_place, GTK_WIDGET (self->limits));
  self->terms = FETTLE_SETUP_TERMS (fettle_setup_terms_new (sitting));
  gtk_box_append (self->extra_place, GTK_WIDGET (self->terms));
  return GTK_WIDGET (self);
}
