/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Rows that are dropped, chosen or pasted: read in a thread, and shown as rows of records or as a measuring sheet, whichever
 * they are. Heads that name fields make records; else what has readings is a sheet.
 */
#include "config.h"

#include "window-private.h"

#include <glib/gi18n.h>
#include <string.h>

#include "exchange-sheet.h"
#include "import-page.h"
#include "record-source.h"
#include "table.h"

typedef struct
{
  char             *path; /* NULL: @text was pasted */
  char             *text;
  const BookRecord *likely;
  ExchangeLook     *look;
  gboolean          is_sheet;
} Reading;

static void
reading_free (gpointer data)
{
  Reading *reading = data;

  g_free (reading->path);
  g_free (reading->text);
  exchange_look_free (reading->look);
  g_free (reading);
}

static gboolean
has_readings (const Reading *reading)
{
  g_autoptr(ExchangeSheet) sheet = reading->path != NULL ? exchange_sheet_read_file (reading->path, NULL)
                                                         : exchange_sheet_read_text ("", reading->text, strlen (reading->text), NULL);

  return sheet != NULL && exchange_sheet_count_readings (sheet) > 0;
}

/* A file that is called after a record holds such. */
static gboolean
is_called_after_record (const char *path)
{
  g_autofree char *base = path != NULL ? g_path_get_basename (path) : g_strdup ("");

  base[strcspn (base, ".")] = '\0';
  return book_record_find (base) != NULL;
}

static void
read_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Reading *reading = data;
  GError *error = NULL;

  if (reading->path != NULL)
    reading->look = exchange_look_read_file (reading->path, reading->likely, &error);
  else
    reading->look = exchange_look_read_text (_("Pasted rows"), reading->text, strlen (reading->text), reading->likely, &error);
  if (reading->look == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  reading->is_sheet = !exchange_look_is_sure (reading->look) && !is_called_after_record (reading->path) && has_readings (reading);
  g_task_return_boolean (task, TRUE);
}

static void
on_read (GObject *source, GAsyncResult *result, gpointer data)
{
  FettleWindow *self = FETTLE_WINDOW (source);
  Reading *reading = g_task_get_task_data (G_TASK (result));
  g_autoptr(GError) error = NULL;
  int kind;

  if (self->sitting == NULL)
    return;
  if (!g_task_propagate_boolean (G_TASK (result), &error))
    {
      fettle_window_say (self, error->message, NULL, NULL);
      return;
    }
  kind = fettle_page_kind_find (reading->is_sheet ? "sheet" : "import");
  fettle_window_show_page (self, kind);
  if (!reading->is_sheet)
    fettle_import_page_take (FETTLE_IMPORT_PAGE (self->pages[kind]), g_steal_pointer (&reading->look));
  else if (reading->path != NULL)
    gtk_widget_activate_action (self->pages[kind], "sheet.take-file", "s", reading->path);
  else
    gtk_widget_activate_action (self->pages[kind], "sheet.paste", NULL);
}

/* What rows are that do not say it: those of the table that has the keyboard, else what the page in view is about. */
static const BookRecord *
likely_record (FettleWindow *self)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));
  const FettlePageKind *kinds = fettle_page_kinds (NULL);

  for (; focus != NULL; focus = gtk_widget_get_parent (focus))
    if (FETTLE_IS_TABLE (focus))
      {
        FettleTableSource *source = fettle_table_get_source (FETTLE_TABLE (focus));

        if (FETTLE_IS_RECORD_SOURCE (source))
          return fettle_record_source_get_record (FETTLE_RECORD_SOURCE (source));
        break;
      }
  return self->page >= 0 && kinds[self->page].records != NULL ? book_record_find (kinds[self->page].records[0]) : NULL;
}

static void
read_rows (FettleWindow *self, const char *path, char *text)
{
  Reading *reading = g_new0 (Reading, 1);
  g_autoptr(GTask) task = g_task_new (self, NULL, on_read, NULL);

  reading->path = g_strdup (path);
  reading->text = text;
  reading->likely = likely_record (self);
  g_task_set_source_tag (task, read_rows);
  g_task_set_task_data (task, reading, reading_free);
  g_task_run_in_thread (task, read_thread);
}

void
fettle_window_take_rows_file (FettleWindow *self, const char *path)
{
  read_rows (self, path, NULL);
}

/* ---- pasting ---- */

static void
say_no_rows (FettleWindow *self)
{
  fettle_window_say (self, _("The clipboard holds no rows: copy them with their heads in your spreadsheet first."), NULL, NULL);
}

static void
on_pasted (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleWindow) self = data;
  char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (object), result, NULL);

  if (self->sitting == NULL)
    {
      g_free (text);
      return;
    }
  if (text != NULL && strpbrk (text, "\t\n") != NULL)
    {
      read_rows (self, NULL, text);
      return;
    }
  g_free (text);
  say_no_rows (self);
}

/* A picture, such as a copied chart, is not read for its text: GTK keeps what it asked for then. */
static gboolean
holds_text (GdkClipboard *clipboard)
{
  GdkContentFormats *formats = gdk_clipboard_get_formats (clipboard);

  return gdk_content_formats_contain_gtype (formats, G_TYPE_STRING) || gdk_content_formats_contain_mime_type (formats, "text/plain")
         || gdk_content_formats_contain_mime_type (formats, "text/plain;charset=utf-8");
}

static void
on_paste (GtkWidget *widget, const char *action, GVariant *parameter)
{
  GdkClipboard *clipboard = gtk_widget_get_clipboard (widget);

  if (holds_text (clipboard))
    gdk_clipboard_read_text_async (clipboard, NULL, on_pasted, g_object_ref (FETTLE_WINDOW (widget)));
  else
    say_no_rows (FETTLE_WINDOW (widget));
}

static gboolean
on_paste_key (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  return gtk_widget_activate_action (widget, "win.paste-rows", NULL);
}

/* After all others: what is typed into pastes for itself, and so does a table that takes blocks of cells. */
void
fettle_window_set_up_paste (FettleWindow *self)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();

  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys),
                                        gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_v, GDK_CONTROL_MASK),
                                                          gtk_callback_action_new (on_paste_key, NULL, NULL)));
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_BUBBLE);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

/* ---- what was refused ---- */

static void
save_chosen (FettleWindow *self, GListModel *files)
{
  g_autoptr(GFile) file = g_list_model_get_item (files, 0);
  g_autofree char *path = g_file_get_path (file);
  int kind = fettle_page_kind_find ("import");

  if (path == NULL)
    fettle_window_say (self, _("This place is not on this machine: choose a folder of it."), NULL, NULL);
  else if (self->pages != NULL && self->pages[kind] != NULL)
    gtk_widget_activate_action (self->pages[kind], "import.save-to", "s", path);
}

static void
on_save_refused (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleWindow *self = FETTLE_WINDOW (widget);
  static const char *const patterns[] = { "*.csv", NULL };
  GtkFileChooserNative *chooser = fettle_window_choose_file (self, _("Save What Was Refused"), GTK_FILE_CHOOSER_ACTION_SAVE,
                                                             _("_Save"), save_chosen);

  if (chooser == NULL)
    return;
  fettle_window_add_filter (chooser, _("Tables (CSV, text)"), patterns);
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (chooser), g_variant_get_string (parameter, NULL));
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

static void
on_try_again (GtkWidget *widget, const char *action, GVariant *parameter)
{
  fettle_sitting_try_again (FETTLE_WINDOW (widget)->sitting);
}

void
fettle_window_install_rows_actions (GtkWidgetClass *class)
{
  gtk_widget_class_install_action (class, "win.paste-rows", NULL, on_paste);
  gtk_widget_class_install_action (class, "win.save-refused", "s", on_save_refused);
  gtk_widget_class_install_action (class, "win.try-again", NULL, on_try_again);
}
