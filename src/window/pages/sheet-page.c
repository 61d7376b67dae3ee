/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "sheet-page.h"

#include <glib/gi18n.h>

#include "book-choices.h"
#include "exchange-cell.h"
#include "exchange-sheet-store.h"
#include "exchange-sheet-words.h"
#include "choice.h"
#include "early-key.h"
#include "keyboard.h"
#include "sheet-columns.h"
#include "sheet-source.h"
#include "table.h"
#include "tip.h"
#include "today.h"
#include "typed.h"
#include "unparent.h"

struct _FettleSheetPage
{
  GtkBox parent_instance;

  FettleSitting     *sitting;
  ExchangeSheet     *sheet;
  FettleSheetSource *source;
  gboolean           showing; /* controls are being filled: their signals are ours */
  gboolean           storing; /* a thread has the sheet: nothing may be set */

  GtkLabel           *title;
  GtkLabel           *understood;
  GtkWidget          *paste;
  GtkWidget          *all;
  GtkWidget          *foot;
  GtkEditable        *model;
  GtkEditable        *round;
  GtkDropDown        *kind;
  GtkEditable        *date;
  FettleSheetColumns *columns;
  GtkWidget          *remarks_title;
  GtkListBox         *remarks;
  GtkLabel           *row_what;
  GtkDropDown        *row_role;
  FettleTable        *table;
  GtkLabel           *said;
  GtkWidget          *cancel;
  GtkButton          *store;
};

static void fettle_sheet_page_page_init (FettlePageInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleSheetPage, fettle_sheet_page, GTK_TYPE_BOX,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_sheet_page_page_init))

/* ---- showing what was understood ---- */

static void
show_remarks (FettleSheetPage *self)
{
  GtkWidget *child;
  guint n = exchange_sheet_count_remarks (self->sheet);

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->remarks))) != NULL)
    gtk_list_box_remove (self->remarks, child);
  for (guint pass = 0; pass < 2; pass++) /* what was not understood comes first */
    for (guint i = 0; i < n; i++)
      {
        const ExchangeSheetRemark *remark = exchange_sheet_get_remark (self->sheet, i);
        g_autofree char *words = NULL;
        GtkWidget *label;

        if ((remark->kind == EXCHANGE_REMARK_PROBLEM) != (pass == 0))
          continue;
        words = exchange_words_remark (remark);
        label = gtk_label_new (words);
        gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
        gtk_label_set_wrap (GTK_LABEL (label), TRUE);
        gtk_widget_add_css_class (label, pass == 0 ? "open" : "plain");
        gtk_list_box_append (self->remarks, label);
        g_object_set_data (G_OBJECT (gtk_widget_get_parent (label)), "remark", GUINT_TO_POINTER (i + 1));
      }
  gtk_widget_set_visible (self->remarks_title, n > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->remarks), n > 0);
}

static void
show_row (FettleSheetPage *self)
{
  guint row;
  const ExchangeSheetRow *kind;

  if (self->sheet == NULL || !fettle_table_get_row (self->table, &row))
    return;
  kind = exchange_sheet_get_row (self->sheet, row);
  self->showing = TRUE;
  gtk_drop_down_set_selected (self->row_role, kind->role);
  gtk_label_set_label (self->row_what, kind->reason);
  self->showing = FALSE;
}

/* A field that goes while it has the keyboard keeps blinking in GTK 4.8: the keyboard goes first. */
static void
leave_for (FettleSheetPage *self, GtkWidget *to)
{
  GtkWidget *focus = fettle_keyboard_focus (GTK_WIDGET (self));

  if (focus != NULL && gtk_widget_is_ancestor (focus, GTK_WIDGET (self)))
    gtk_widget_grab_focus (to);
}

static void
show_store (FettleSheetPage *self)
{
  g_autofree char *label = exchange_words_store (self->sheet);

  gtk_button_set_label (self->store, label);
  gtk_widget_set_sensitive (GTK_WIDGET (self->store),
                            !self->storing && exchange_sheet_count_readings (self->sheet) > 0 &&
                                gtk_editable_get_text (self->model)[0] != '\0' &&
                                gtk_editable_get_text (self->round)[0] != '\0');
  gtk_widget_set_sensitive (self->all, !self->storing);
}

static void
show_understood (FettleSheetPage *self)
{
  g_autofree char *words = exchange_words_understood (self->sheet);

  gtk_label_set_label (self->understood, words);
  fettle_sheet_columns_understood (self->columns);
  fettle_sheet_source_understood (self->source);
  show_remarks (self);
  show_row (self);
  show_store (self);
}

static void
drop_sheet (FettleSheetPage *self)
{
  fettle_sheet_columns_set_sheet (self->columns, NULL);
  fettle_table_set_source (self->table, NULL);
  g_clear_object (&self->source);
  g_clear_pointer (&self->sheet, exchange_sheet_free);
}

static void
show_no_sheet (FettleSheetPage *self)
{
  leave_for (self, self->cancel);
  drop_sheet (self);
  gtk_label_set_label (self->title, _("A measuring sheet"));
  gtk_label_set_label (self->understood, _("Copy a sheet in your spreadsheet, units down and characteristics across, "
                                           "and paste it here; or drop a file on the window."));
  gtk_widget_set_visible (self->paste, TRUE);
  leave_for (self, self->paste);
  gtk_widget_set_visible (self->all, FALSE);
  gtk_widget_set_visible (self->foot, FALSE);
}

static void
take_sheet (FettleSheetPage *self, ExchangeSheet *sheet)
{
  const ExchangeSheetTitle *title = exchange_sheet_get_title (sheet);
  g_autofree char *today = fettle_today ();
  g_autofree char *name = g_path_get_basename (exchange_sheet_get_name (sheet));

  leave_for (self, self->cancel);
  drop_sheet (self);
  self->sheet = sheet;
  self->source = fettle_sheet_source_new (sheet);
  fettle_sheet_columns_set_sheet (self->columns, sheet);
  fettle_table_set_source (self->table, FETTLE_TABLE_SOURCE (self->source));

  gtk_label_set_label (self->title, name);
  fettle_tip_set (GTK_WIDGET (self->title), exchange_sheet_get_name (sheet));
  fettle_typed_set (self->model, title->model != NULL ? title->model : "");
  fettle_typed_set (self->round, title->round != NULL ? title->round : "");
  fettle_typed_set (self->date, title->date != NULL ? title->date : today);
  gtk_label_set_label (self->said, "");
  gtk_widget_set_visible (self->paste, FALSE);
  gtk_widget_set_visible (self->all, TRUE);
  gtk_widget_set_visible (self->foot, TRUE);
  show_understood (self);
  gtk_widget_grab_focus (GTK_WIDGET (self->model));
}

/* ---- where a sheet comes from ---- */

/* While a thread stores the sheet, no other takes its place: what was read meanwhile is not taken. */
static gboolean
is_storing (FettleSheetPage *self)
{
  if (self->storing)
    fettle_sitting_say (self->sitting, _("The sheet before is still being stored: paste the next one after that."), NULL, NULL);
  return self->storing;
}

static void
on_pasted (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleSheetPage) self = data;
  g_autoptr(GError) error = NULL;
  g_autofree char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (object), result, &error);
  ExchangeSheet *sheet = NULL;

  if (self->sitting == NULL || is_storing (self))
    return;
  if (text != NULL)
    sheet = exchange_sheet_read_text (_("Pasted sheet"), text, strlen (text), &error);
  if (sheet != NULL)
    take_sheet (self, sheet);
  else if (text == NULL)
    fettle_sitting_say (self->sitting, _("The clipboard holds no text: copy the sheet in your spreadsheet first."), NULL, NULL);
  else
    fettle_sitting_say (self->sitting, error->message, NULL, NULL);
}

static void
on_paste (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleSheetPage *self = FETTLE_SHEET_PAGE (widget);

  if (!is_storing (self))
    gdk_clipboard_read_text_async (gtk_widget_get_clipboard (widget), NULL, on_pasted, g_object_ref (self));
}

static void
read_file_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GError *error = NULL;
  ExchangeSheet *sheet = exchange_sheet_read_file (data, &error);

  if (sheet != NULL)
    g_task_return_pointer (task, sheet, (GDestroyNotify) exchange_sheet_free);
  else
    g_task_return_error (task, error);
}

static void
on_file_read (GObject *object, GAsyncResult *result, gpointer data)
{
  FettleSheetPage *self = FETTLE_SHEET_PAGE (object);
  g_autoptr(GError) error = NULL;
  ExchangeSheet *sheet = g_task_propagate_pointer (G_TASK (result), &error);

  if (self->sitting == NULL || is_storing (self))
    g_clear_pointer (&sheet, exchange_sheet_free);
  else if (sheet != NULL)
    take_sheet (self, sheet);
  else
    fettle_sitting_say (self->sitting, error->message, NULL, NULL);
}

static void
on_take_file (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleSheetPage *self = FETTLE_SHEET_PAGE (widget);
  g_autoptr(GTask) task = NULL;

  if (is_storing (self))
    return;
  task = g_task_new (self, NULL, on_file_read, NULL);
  g_task_set_source_tag (task, on_take_file);
  g_task_set_task_data (task, g_variant_dup_string (parameter, NULL), g_free);
  g_task_run_in_thread (task, read_file_thread);
}

/* ---- correcting ---- */

static void
on_corrected (FettleSheetPage *self)
{
  show_understood (self);
}

static void
on_refused (FettleSheetPage *self, const char *sentence)
{
  gtk_label_set_label (self->said, sentence != NULL ? sentence : "");
}

static void
on_target_changed (FettleSheetPage *self)
{
  if (self->sheet != NULL)
    show_store (self);
}

static void
on_moved (FettleSheetPage *self, guint row, FettleTable *table)
{
  show_row (self);
}

static void
on_row_role (FettleSheetPage *self)
{
  guint row;

  if (self->showing || self->sheet == NULL || !fettle_table_get_row (self->table, &row))
    return;
  exchange_sheet_set_row_role (self->sheet, row, gtk_drop_down_get_selected (self->row_role));
  show_understood (self);
}

static void
on_remark (FettleSheetPage *self, GtkListBoxRow *line)
{
  guint at = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (line), "remark"));
  const ExchangeSheetRemark *remark = at > 0 ? exchange_sheet_get_remark (self->sheet, at - 1) : NULL;

  if (remark == NULL || remark->row < 0)
    return;
  fettle_table_go (self->table, (guint) remark->row);
  gtk_widget_grab_focus (GTK_WIDGET (self->table));
}

static void
on_cancel (FettleSheetPage *self)
{
  if (!self->storing)
    show_no_sheet (self);
}

/* ---- storing ---- */

typedef struct
{
  char               *model;
  char               *round;
  char               *date;
  char               *today;
  ExchangeSheetTarget target;
  ExchangeSheetStored stored;
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;

  g_free (job->model);
  g_free (job->round);
  g_free (job->date);
  g_free (job->today);
  g_free (job);
}

static void
store_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  FettleSheetPage *self = source; /* while storing, the main thread leaves the sheet alone */
  Job *job = data;
  GError *error = NULL;

  if (exchange_sheet_store (fettle_sitting_get_book (self->sitting), self->sheet, &job->target, &job->stored, cancellable, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
on_stored (GObject *object, GAsyncResult *result, gpointer data)
{
  FettleSheetPage *self = FETTLE_SHEET_PAGE (object);
  Job *job = g_task_get_task_data (G_TASK (result));
  g_autoptr(GError) error = NULL;
  g_autofree char *sentence = NULL;

  self->storing = FALSE;
  if (self->sitting == NULL)
    return;
  if (!g_task_propagate_boolean (G_TASK (result), &error))
    {
      gtk_label_set_label (self->said, error->message);
      show_store (self);
      return;
    }
  sentence = exchange_words_stored (&job->stored);
  show_no_sheet (self);
  fettle_sitting_look (self->sitting);
  gtk_widget_activate_action (GTK_WIDGET (self), "win.model", "x", job->stored.model);
  gtk_widget_activate_action (GTK_WIDGET (self), "win.page", "s", "readings");
  fettle_sitting_say (self->sitting, sentence, _("Undo"), "win.undo-book");
}

/* The day as the sheet itself might write it: 24.11.2026 too. @date is NULL for none; FALSE when it is no day. */
static gboolean
take_date (FettleSheetPage *self, char **date)
{
  g_autofree char *typed = g_strstrip (g_strdup (gtk_editable_get_text (self->date)));
  g_autofree char *sentence = NULL;
  const char *rest = typed;
  gboolean is_doubtful;
  char iso[17];

  if (typed[0] == '\0')
    return TRUE;
  if (exchange_date_scan (&rest, EXCHANGE_DATE_DAY_FIRST, iso, &is_doubtful) && *rest == '\0')
    {
      *date = g_strdup (iso);
      return TRUE;
    }
  sentence = g_strdup_printf (_("'%s' is no day: write it as 2026-01-31."), typed);
  gtk_label_set_label (self->said, sentence);
  gtk_widget_grab_focus (GTK_WIDGET (self->date));
  return FALSE;
}

static void
on_store (FettleSheetPage *self)
{
  g_autoptr(GTask) task = NULL;
  g_autofree char *date = NULL;
  Job *job;

  if (self->storing || self->sheet == NULL || !fettle_sitting_may_write (self->sitting) || !fettle_sheet_columns_finish (self->columns) || !take_date (self, &date))
    return;

  job = g_new0 (Job, 1);
  job->model = g_strstrip (g_strdup (gtk_editable_get_text (self->model)));
  job->round = g_strstrip (g_strdup (gtk_editable_get_text (self->round)));
  job->date = g_steal_pointer (&date);
  job->today = fettle_today ();
  job->target = (ExchangeSheetTarget){
    .model = job->model,
    .round = job->round,
    .kind = (BookRoundKind) book_round_kinds[gtk_drop_down_get_selected (self->kind)].code,
    .date = job->date,
    .today = job->today,
    .writer = fettle_sitting_get_person (self->sitting),
    .sitting = fettle_sitting_get_key (self->sitting),
    .allow_problems = TRUE, /* they stand on the page, and the button says how many readings there are */
  };
  self->storing = TRUE;
  leave_for (self, self->cancel);
  show_store (self);
  task = g_task_new (self, NULL, on_stored, NULL);
  g_task_set_source_tag (task, on_store);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, store_thread);
}

/* ---- as a page ---- */

static void
fettle_sheet_page_set_span (FettlePage *page, const FettleSpan *span)
{
  /* A sheet brings its own model and round. */
}

static void
fettle_sheet_page_refresh (FettlePage *page)
{
}

static void
fettle_sheet_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_sheet_page_set_span;
  iface->refresh = fettle_sheet_page_refresh;
}

static void
fettle_sheet_page_dispose (GObject *object)
{
  FettleSheetPage *self = FETTLE_SHEET_PAGE (object);

  if (self->sitting != NULL)
    drop_sheet (self);
  g_clear_object (&self->sitting);
  gtk_widget_dispose_template (GTK_WIDGET (self), FETTLE_TYPE_SHEET_PAGE);
  fettle_unparent_children (self);

  G_OBJECT_CLASS (fettle_sheet_page_parent_class)->dispose (object);
}

static void
fettle_sheet_page_class_init (FettleSheetPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = fettle_sheet_page_dispose;

  g_type_ensure (FETTLE_TYPE_SHEET_COLUMNS);
  g_type_ensure (FETTLE_TYPE_TABLE);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/sheet-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, title);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, understood);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, paste);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, all);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, foot);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, model);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, round);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, kind);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, date);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, columns);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, remarks_title);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, remarks);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, row_what);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, row_role);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, table);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, said);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, cancel);
  gtk_widget_class_bind_template_child (widget_class, FettleSheetPage, store);
  gtk_widget_class_bind_template_callback (widget_class, on_corrected);
  gtk_widget_class_bind_template_callback (widget_class, on_refused);
  gtk_widget_class_bind_template_callback (widget_class, on_target_changed);
  gtk_widget_class_bind_template_callback (widget_class, on_moved);
  gtk_widget_class_bind_template_callback (widget_class, on_row_role);
  gtk_widget_class_bind_template_callback (widget_class, on_remark);
  gtk_widget_class_bind_template_callback (widget_class, on_cancel);
  gtk_widget_class_bind_template_callback (widget_class, on_store);

  gtk_widget_class_install_action (widget_class, "sheet.paste", NULL, on_paste);
  gtk_widget_class_install_action (widget_class, "sheet.take-file", "s", on_take_file);
}

static gboolean
on_store_key (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  FettleSheetPage *self = FETTLE_SHEET_PAGE (widget);

  if (gtk_widget_is_sensitive (GTK_WIDGET (self->store)))
    on_store (self);
  return TRUE;
}

static void
fettle_sheet_page_init (FettleSheetPage *self)
{
  g_autoptr(GtkStringList) kinds = gtk_string_list_new (NULL);
  g_autoptr(GtkStringList) roles = gtk_string_list_new (NULL);

  self->showing = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  for (const BookChoice *choice = book_round_kinds; choice->text != NULL; choice++)
    gtk_string_list_append (kinds, _(choice->label));
  gtk_drop_down_set_model (self->kind, G_LIST_MODEL (kinds));
  for (guint i = 0; book_round_kinds[i].text != NULL; i++)
    if (book_round_kinds[i].code == BOOK_ROUND_PROTOTYPE)
      gtk_drop_down_set_selected (self->kind, i);
  for (guint i = 0; i < EXCHANGE_N_ROW_ROLES; i++)
    gtk_string_list_append (roles, exchange_row_role_label (i));
  gtk_drop_down_set_model (self->row_role, G_LIST_MODEL (roles));
  fettle_early_key (GTK_WIDGET (self), "<Control>Return|<Control>KP_Enter", on_store_key);
  fettle_choice_set_up (self->kind, _("Kind of round"));
  fettle_choice_set_up (self->row_role, _("What the row holds"));
  self->showing = FALSE;
}

/**
 * fettle_sheet_page_new:
 * @sitting: the window's
 *
 * Returns: (transfer floating): the page, without a sheet
 */
GtkWidget *
fettle_sheet_page_new (FettleSitting *sitting)
{
  FettleSheetPage *self = g_object_new (FETTLE_TYPE_SHEET_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}
