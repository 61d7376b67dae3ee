/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "import-page.h"

#include <glib/gi18n.h>

#include "choice.h"
#include "column-heads.h"
#include "import-asking.h"
#include "import-filter.h"
#include "import-place.h"
#include "import-refused.h"
#include "import-settings.h"
#include "keyboard.h"
#include "look-source.h"
#include "table.h"
#include "unparent.h"
#include "wrap.h"

#define ASK_PROGRESS_MS 100

struct _FettleImportPage
{
  GtkBox parent_instance;

  FettleSitting      *sitting;
  ExchangeLook       *look;
  ExchangeLookAnswer *answer; /* NULL: being asked, stopped, or not to be asked */
  FettleLookSource   *source;
  FettleImportAsking *asking;
  guint               progress_wait; /* source */
  gboolean            kept;   /* rows that were refused: not to be lost */
  GCancellable       *reading;
  char               *note; /* what is said while nothing is wrong; NULL: nothing */

  GtkLabel          *title;
  GtkLabel          *understood;
  GtkWidget         *offers;
  GtkWidget         *paste;
  GtkWidget         *all;
  FettleWrap        *settings_place;
  FettleWrap        *filter_place;
  FettleColumnHeads *heads;
  GtkScrolledWindow *scroll;
  FettleTable       *table;
  GtkLabel          *row_words;
  GtkWidget         *foot;
  GtkLabel          *said;
  GtkProgressBar    *progress;
  GtkWidget         *stop;
  GtkWidget         *save;
  GtkWidget         *away;
  GtkButton         *take;

  FettleImportSettings *settings;
  FettleImportFilter   *filter;
};

static void fettle_import_page_page_init (FettlePageInterface *iface);
static void ask (FettleImportPage *self);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleImportPage, fettle_import_page, GTK_TYPE_BOX,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_import_page_page_init))

static gboolean
is_storing (FettleImportPage *self)
{
  return self->asking != NULL && fettle_import_asking_is_storing (self->asking);
}

/* A widget that goes while it has the keyboard keeps blinking in GTK 4.8: the keyboard goes first. */
static void
leave_for (FettleImportPage *self, GtkWidget *to)
{
  GtkWidget *focus = fettle_keyboard_focus (GTK_WIDGET (self));

  if (focus != NULL && gtk_widget_is_ancestor (focus, GTK_WIDGET (self)))
    gtk_widget_grab_focus (to);
}

/* ---- showing ---- */

static void
show_row (FettleImportPage *self)
{
  g_autofree char *words = NULL;
  guint row = 0;

  fettle_table_get_row (self->table, &row);
  words = self->source != NULL ? fettle_look_source_dup_words (self->source, row) : g_strdup ("");
  gtk_label_set_label (self->row_words, words);
}

static guint
count_to_store (FettleImportPage *self)
{
  if (self->answer == NULL)
    return 0;
  return exchange_look_answer_count (self->answer, EXCHANGE_LOOK_NEW) + exchange_look_answer_count (self->answer, EXCHANGE_LOOK_CHANGED);
}

static void
show_foot (FettleImportPage *self)
{
  guint n = count_to_store (self), refused = self->answer != NULL ? exchange_look_answer_count (self->answer, EXCHANGE_LOOK_REFUSED) : 0;
  gboolean asking = self->asking != NULL;
  g_autofree char *label = n > 0 ? g_strdup_printf (ngettext ("Take In %u Row", "Take In %u Rows", n), n) : g_strdup (_("Take In"));
  gboolean stopped = self->answer == NULL && !asking;

  if (stopped)
    {
      g_free (label);
      label = g_strdup (_("Look at Them Again"));
    }
  gtk_button_set_label (self->take, label);
  gtk_widget_set_sensitive (GTK_WIDGET (self->take), stopped || (n > 0 && !asking));
  gtk_widget_set_visible (self->save, refused > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->progress), asking);
  gtk_widget_set_visible (self->stop, asking);
  gtk_widget_set_sensitive (self->away, !is_storing (self));
  fettle_import_settings_set_sensitive (self->settings, !is_storing (self));
}

static void
show_understood (FettleImportPage *self)
{
  guint n = exchange_look_count_rows (self->look), matched = 0;
  g_autofree char *rows = g_strdup_printf (ngettext ("%u row", "%u rows", n), n);
  g_autofree char *columns = NULL;
  g_autofree char *words = NULL;

  for (guint i = 0; i < exchange_look_count_columns (self->look); i++)
    matched += exchange_look_get_column (self->look, i) >= 0;
  columns = g_strdup_printf (ngettext ("%u of %u column is taken", "%u of %u columns are taken",
                                       exchange_look_count_columns (self->look)),
                             matched, exchange_look_count_columns (self->look));
  /* Translators: '120 rows; 5 of 6 columns are taken. …' */
  words = g_strdup_printf (_("%s; %s. Nothing is stored until it is taken in."), rows, columns);
  gtk_label_set_label (self->understood, words);
}

static void
show (FettleImportPage *self)
{
  show_understood (self);
  fettle_import_filter_show (self->filter, self->look, self->answer);
  show_row (self);
  show_foot (self);
}

static void
drop_look (FettleImportPage *self)
{
  g_clear_pointer (&self->asking, fettle_import_asking_end);
  g_clear_handle_id (&self->progress_wait, g_source_remove);
  fettle_table_set_source (self->table, NULL);
  fettle_import_settings_set_look (self->settings, NULL);
  g_clear_object (&self->source);
  g_clear_pointer (&self->answer, exchange_look_answer_free);
  g_clear_pointer (&self->look, exchange_look_free);
  g_clear_pointer (&self->note, g_free);
  self->kept = FALSE;
}

static void
show_no_rows (FettleImportPage *self)
{
  leave_for (self, self->away);
  drop_look (self);
  fettle_sitting_tell_undo_changed (self->sitting);
  gtk_label_set_label (self->title, _("Rows to take in"));
  gtk_label_set_label (self->understood, _("Copy rows with their heads in your spreadsheet and paste them here or on any table, or drop a "
                                           "CSV file on the window. You see what becomes of each row before anything is stored."));
  gtk_widget_set_visible (self->offers, TRUE);
  leave_for (self, self->paste);
  gtk_widget_set_visible (self->all, FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self->row_words), FALSE);
  gtk_widget_set_visible (self->foot, FALSE);
}

/* ---- asking ---- */

static gboolean
on_progress (gpointer data)
{
  FettleImportPage *self = data;

  if (self->asking != NULL)
    gtk_progress_bar_set_fraction (self->progress, fettle_import_asking_get_share (self->asking));
  return G_SOURCE_CONTINUE;
}

static void
end_asking (FettleImportPage *self)
{
  g_clear_pointer (&self->asking, fettle_import_asking_end);
  g_clear_handle_id (&self->progress_wait, g_source_remove);
}

static void
begin_asking (FettleImportPage *self, gboolean store, FettleImportAnswered answered)
{
  end_asking (self);
  gtk_progress_bar_set_fraction (self->progress, 0.0);
  self->asking = fettle_import_asking_new (self->sitting, self->look, store, answered, self);
  self->progress_wait = g_timeout_add (ASK_PROGRESS_MS, on_progress, self);
}

/* The source lets go of the answer before it is freed. */
static void
take_answer (FettleImportPage *self, ExchangeLookAnswer *answer)
{
  ExchangeLookAnswer *before = self->answer;

  self->answer = answer;
  fettle_look_source_take (self->source, answer, answer != NULL && fettle_table_is_editing (self->table));
  g_clear_pointer (&before, exchange_look_answer_free);
}

static void
on_answered (ExchangeLookAnswer *answer, const GError *error, gpointer data)
{
  FettleImportPage *self = data;

  end_asking (self);
  if (answer != NULL)
    take_answer (self, answer);
  else if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    gtk_label_set_label (self->said, _("Stopped: it is not known what becomes of the rows."));
  else
    gtk_label_set_label (self->said, error->message);
  show (self);
}

/* What was known of the rows holds until the answer comes, unless other columns are taken. */
static void
ask (FettleImportPage *self)
{
  g_autofree char *lacks = exchange_look_lacks (self->look);

  gtk_label_set_label (self->said, lacks != NULL ? lacks : self->note != NULL ? self->note : "");
  if (lacks != NULL)
    {
      end_asking (self);
      take_answer (self, NULL);
    }
  else
    begin_asking (self, FALSE, on_answered);
  show (self);
}

static void
on_mended (FettleImportPage *self)
{
  fettle_sitting_tell_undo_changed (self->sitting);
  ask (self);
}

static void
on_settled (FettleImportPage *self)
{
  if (self->look == NULL)
    return;
  end_asking (self);
  take_answer (self, NULL);
  fettle_sitting_tell_undo_changed (self->sitting); /* where the mended cells are: the heads may be a row now */
  ask (self);
}

static void
on_stop (FettleImportPage *self)
{
  if (self->asking != NULL)
    fettle_import_asking_cancel (self->asking);
}

static void
on_filter (int state, gpointer data)
{
  FettleImportPage *self = data;

  if (self->source == NULL)
    return;
  fettle_look_source_set_filter (self->source, state);
  show_row (self);
}

static void
show_all (FettleImportPage *self)
{
  fettle_import_filter_show_all (self->filter);
  fettle_look_source_set_filter (self->source, FETTLE_LOOK_ALL);
}

static void
on_moved (FettleImportPage *self, guint row, FettleTable *table)
{
  show_row (self);
}

/* ---- mended cells taken back ---- */

static char *
fettle_import_page_dup_reversal (FettlePage *page, gboolean redo)
{
  FettleImportPage *self = FETTLE_IMPORT_PAGE (page);

  return self->look != NULL ? exchange_look_dup_reversal (self->look, redo) : NULL;
}

/* A cell that is being typed into is finished first, so that what was typed is the next to be taken back. */
static gboolean
fettle_import_page_reverse (FettlePage *page, gboolean redo)
{
  FettleImportPage *self = FETTLE_IMPORT_PAGE (page);
  gboolean was_editing = fettle_table_is_editing (self->table);
  guint look_row, column, row;

  if (self->look == NULL)
    return FALSE;
  if (is_storing (self))
    {
      if (!exchange_look_can_reverse (self->look, redo))
        return FALSE;
      fettle_sitting_say (self->sitting, _("The rows are still being stored: what was mended in them stays."), NULL, NULL);
      return TRUE;
    }
  fettle_table_finish (self->table);
  if (!exchange_look_reverse (self->look, redo, &look_row, &column))
    return was_editing;
  if (!fettle_look_source_find_row (self->source, look_row, &row))
    show_all (self);
  else
    fettle_table_source_rows_changed (FETTLE_TABLE_SOURCE (self->source));
  if (fettle_look_source_find_row (self->source, look_row, &row))
    fettle_table_go_to_cell (self->table, row, column + 1);
  on_mended (self);
  return TRUE;
}

/* ---- taking in ---- */

static void
keep_refused (FettleImportPage *self, guint refused)
{
  g_free (self->note);
  self->note = g_strdup_printf (ngettext ("%u refused row is kept here: mend it and take it in.",
                                          "%u refused rows are kept here: mend them and take them in.", refused),
                                refused);
  exchange_look_keep_refused (self->look, self->answer);
  self->kept = TRUE;
  fettle_sitting_tell_undo_changed (self->sitting);
  take_answer (self, NULL);
  show_all (self);
  ask (self);
  gtk_widget_grab_focus (GTK_WIDGET (self->table));
}

static void
on_stored (ExchangeLookAnswer *answer, const GError *error, gpointer data)
{
  FettleImportPage *self = data;
  g_autofree char *words = NULL;
  guint refused;

  end_asking (self);
  fettle_look_source_set_frozen (self->source, FALSE);
  if (answer == NULL)
    {
      gtk_label_set_label (self->said, g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) ? _("Stopped: nothing was stored.") : error->message);
      show (self);
      return;
    }
  take_answer (self, answer);
  words = fettle_import_asking_words (answer);
  refused = exchange_look_answer_count (answer, EXCHANGE_LOOK_REFUSED);
  if (refused > 0)
    keep_refused (self, refused);
  else
    show_no_rows (self);
  fettle_sitting_look (self->sitting);
  fettle_sitting_say (self->sitting, words, _("Undo"), "win.undo-book");
}

static void
on_take (FettleImportPage *self)
{
  if (self->look == NULL || !fettle_table_finish (self->table))
    return;
  if (self->answer == NULL && self->asking == NULL)
    {
      ask (self);
      return;
    }
  if (self->asking != NULL || count_to_store (self) == 0 || !fettle_sitting_may_write (self->sitting))
    return;
  gtk_label_set_label (self->said, "");
  fettle_look_source_set_frozen (self->source, TRUE);
  begin_asking (self, TRUE, on_stored);
  leave_for (self, GTK_WIDGET (self->table));
  show (self);
}

static void
on_away (FettleImportPage *self)
{
  if (!is_storing (self))
    show_no_rows (self);
}

/* ---- what was refused, as a file ---- */

static void
on_save (FettleImportPage *self)
{
  g_autofree char *name = fettle_import_refused_name (self->look);

  gtk_widget_activate_action (GTK_WIDGET (self), "win.save-refused", "s", name);
}

/* From the window, which asks where: a path. */
static void
on_save_to (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleImportPage *self = FETTLE_IMPORT_PAGE (widget);

  if (self->answer != NULL)
    fettle_import_refused_save (self->sitting, self->look, self->answer, g_variant_get_string (parameter, NULL));
}

/* ---- rows that come ---- */

gboolean
fettle_import_page_has_rows (FettleImportPage *self)
{
  return self->look != NULL;
}

gboolean
fettle_import_page_take (FettleImportPage *self, ExchangeLook *look)
{
  if (is_storing (self) || self->kept || (self->look != NULL && exchange_look_can_reverse (self->look, FALSE)))
    {
      exchange_look_free (look);
      fettle_sitting_say (self->sitting,
                          is_storing (self) ? _("The rows before are still being stored: bring the next ones after that.")
                                            : _("Mended rows wait here: take them in, save them or put them away first."),
                          NULL, NULL);
      return FALSE;
    }
  leave_for (self, self->away);
  drop_look (self);
  self->look = look;
  fettle_import_settings_set_look (self->settings, look);
  self->source = fettle_look_source_new (look);
  g_signal_connect_swapped (self->source, "mended", G_CALLBACK (on_mended), self);
  fettle_table_set_source (self->table, FETTLE_TABLE_SOURCE (self->source));
  show_all (self);
  gtk_label_set_label (self->title, exchange_look_get_name (look));
  gtk_widget_set_visible (self->offers, FALSE);
  gtk_widget_set_visible (self->all, TRUE);
  gtk_widget_set_visible (GTK_WIDGET (self->row_words), TRUE);
  gtk_widget_set_visible (self->foot, TRUE);
  ask (self);
  gtk_widget_grab_focus (GTK_WIDGET (self->table));
  return TRUE;
}

/* ---- as a page ---- */

static void
on_place (GObject *source, GAsyncResult *result, gpointer data)
{
  FettleImportPage *self = data;
  g_autoptr(GError) error = NULL;
  FettleImportPlace *place = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (place == NULL)
    return; /* cancelled, and the page may be gone */
  fettle_import_settings_set_place (self->settings, place->model, place->round);
  fettle_import_place_free (place);
}

static void
fettle_import_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleImportPage *self = FETTLE_IMPORT_PAGE (page);

  g_cancellable_cancel (self->reading);
  g_clear_object (&self->reading);
  self->reading = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_import_place_read, fettle_import_place_ask (span->model, span->to), fettle_import_place_free,
                      fettle_import_place_free, self->reading, on_place, self);
}

/* Somebody wrote: what becomes of the rows may be another thing now. */
static void
fettle_import_page_refresh (FettlePage *page)
{
  FettleImportPage *self = FETTLE_IMPORT_PAGE (page);

  if (self->look != NULL && self->asking == NULL && self->answer != NULL)
    ask (self);
}

static void
fettle_import_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_import_page_set_span;
  iface->refresh = fettle_import_page_refresh;
  iface->dup_reversal = fettle_import_page_dup_reversal;
  iface->reverse = fettle_import_page_reverse;
}

static void
fettle_import_page_dispose (GObject *object)
{
  FettleImportPage *self = FETTLE_IMPORT_PAGE (object);

  if (self->sitting != NULL)
    {
      drop_look (self);
      fettle_column_heads_set_table (self->heads, NULL, NULL);
    }
  g_cancellable_cancel (self->reading);
  g_clear_object (&self->reading);
  g_clear_object (&self->sitting);
  g_clear_pointer (&self->settings, fettle_import_settings_free);
  g_clear_pointer (&self->filter, g_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), FETTLE_TYPE_IMPORT_PAGE);
  fettle_unparent_children (self);

  G_OBJECT_CLASS (fettle_import_page_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, FettleImportPage, title);
  gtk_widget_class_bind_template_child (widget_class, FettleImportPage, understood);
  gtk_widget_class_bind_template_child (widget_class, FettleImportPage, offers);
  gtk_widget_class_bind_template_child (widget_class, FettleImportPage, paste);
  gtk_widget_class_bind_template_child (widget_class, FettleImportPage, all);
  gtk_widget_class_bind_template_child_full (widget_class, "settings", FALSE, G_STRUCT_OFFSET (FettleImportPage, settings_place));
  gtk_widget_class_bind_template_child_full (widget_class, "filters", FALSE, G_STRUCT_OFFSET (FettleImportPage, filter_place));
  gtk_widget_class_bind_template_child (widget_class, FettleImportPage, heads);
  gtk_widget_class_bind_template_child (widget_class, FettleImportPage, scroll);
  gtk_widget_class_bind_template_child (widget_class, FettleImportPage, table);
  gtk_widget_class_bind_template_child (widget_class, FettleImportPage, row_words);
  gtk_widget_class_bind_template_child (widget_class, FettleImportPage, foot);
  gtk_widget_class_bind_template_child (widget_class, FettleImportPage, said);
  gtk_widget_class_bind_template_child (widget_class, FettleImportPage, progress);
  gtk_widget_class_bind_template_child (widget_class, FettleImportPage, stop);
  gtk_widget_class_bind_template_child (widget_class, FettleImportPage, save);
  gtk_widget_class_bind_template_child (widget_class, FettleImportPage, away);
  gtk_widget_class_bind_template_child (widget_class, FettleImportPage, take);
}

static void
fettle_import_page_class_init (FettleImportPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = fettle_import_page_dispose;

  g_type_ensure (FETTLE_TYPE_COLUMN_HEADS);
  g_type_ensure (FETTLE_TYPE_TABLE);
  g_type_ensure (FETTLE_TYPE_WRAP);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/import-page.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, on_moved);
  gtk_widget_class_bind_template_callback (widget_class, on_stop);
  gtk_widget_class_bind_template_callback (widget_class, on_save);
  gtk_widget_class_bind_template_callback (widget_class, on_away);
  gtk_widget_class_bind_template_callback (widget_class, on_take);

  gtk_widget_class_install_action (widget_class, "import.save-to", "s", on_save_to);
}

static void
fettle_import_page_init (FettleImportPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->filter = fettle_import_filter_new (self->filter_place);
  self->filter->chosen = on_filter;
  self->filter->data = self;
  fettle_column_heads_set_table (self->heads, self->table, gtk_scrolled_window_get_hadjustment (self->scroll));
  self->settings = fettle_import_settings_new (self->settings_place, self->heads);
  self->settings->settled = (void (*) (gpointer)) on_settled;
  self->settings->data = self;
}

/**
 * fettle_import_page_new:
 * @sitting: the window's
 *
 * Returns: (transfer floating): the page, without rows
 */
GtkWidget *
fettle_import_page_new (FettleSitting *sitting)
{
  FettleImportPage *self = g_object_new (FETTLE_TYPE_IMPORT_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  show_no_rows (self);
  return GTK_WIDGET (self);
}
