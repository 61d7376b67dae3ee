/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The decision pack: looked at on a page of its own, saved, or printed to be signed. */
#include "config.h"

#include "window-private.h"

#include <glib/gi18n.h>

#include "paper-pack.h"
#include "paper-workbook.h"
#include "today.h"
#include "window-making.h"

typedef struct
{
  PaperPackAsk ask;
  char        *today;
  char        *book;
} Ask;

static void
ask_free (gpointer data)
{
  Ask *ask = data;

  g_free (ask->today);
  g_free (ask->book);
  g_free (ask);
}

static PaperDocument *
draw (StoreDb *db, gpointer data, FettleMaking *making, GCancellable *cancellable, GError **error)
{
  PaperPackAsk ask = ((Ask *) data)->ask;

  ask.progress = fettle_making_tell;
  ask.progress_data = making;
  return paper_pack_document (db, &ask, cancellable, error);
}

static GBytes *
write_workbook (StoreDb *db, gpointer data, FettleMaking *making, GCancellable *cancellable, GError **error)
{
  PaperPackAsk ask = ((Ask *) data)->ask;

  ask.progress = fettle_making_tell;
  ask.progress_data = making;
  return paper_workbook_write (db, &ask, cancellable, error);
}

/* @path: (transfer full) (nullable): to a printer when there is none. */
static void
make (FettleWindow *self, FettleOutput output, char *path)
{
  Ask *ask = g_new0 (Ask, 1);

  ask->today = fettle_today ();
  ask->book = g_strdup (store_get_uuid (book_get_store (fettle_sitting_get_book (self->sitting))));
  ask->ask = (PaperPackAsk) { .model = self->span.model, .through = self->span.to, .today = ask->today, .book = ask->book,
                              .size = PAPER_SIZE_OF_BOOK };
  fettle_window_make (self, output == FETTLE_OUTPUT_WORKBOOK ? fettle_making_new_file (_("Workbook"), write_workbook, ask, ask_free)
                                                             : fettle_making_new (_("Decision pack"), draw, ask, ask_free), path);
}

static void
write_to (FettleWindow *self, FettleOutput output, GListModel *files)
{
  char *path;

  if (self->sitting == NULL || self->writing != NULL)
    return;
  path = fettle_window_output_path (self, output, files);
  if (path != NULL)
    make (self, output, path);
}

static void
path_chosen (FettleWindow *self, GListModel *files)
{
  write_to (self, FETTLE_OUTPUT_PDF, files);
}

static void
workbook_chosen (FettleWindow *self, GListModel *files)
{
  write_to (self, FETTLE_OUTPUT_WORKBOOK, files);
}

static void
ask_where (FettleWindow *self, const FettleModel *model, FettleOutput output, const char *title, const char *ending, FettleChosen chosen)
{
  g_autofree char *today = fettle_today ();
  g_autofree char *name = paper_pack_name (model->code, today, ending);

  fettle_window_ask_output (self, output, title, name, chosen);
}

/**
 * fettle_window_pack:
 * @self: a window
 * @what: 'show', 'save', 'workbook' or 'print'
 */
void
fettle_window_pack (FettleWindow *self, const char *what)
{
  const FettleModel *model = fettle_window_get_model (self);

  if (model == NULL)
    return;
  if (g_str_equal (what, "show"))
    gtk_widget_activate_action (GTK_WIDGET (self), "win.page", "s", "pack");
  else if (self->writing != NULL)
    fettle_window_say (self, _("Something is being written already: wait until it is there, or stop it."), _("Stop"), "win.stop-letter");
  else if (g_str_equal (what, "save"))
    ask_where (self, model, FETTLE_OUTPUT_PDF, _("Decision Pack"), "pdf", path_chosen);
  else if (g_str_equal (what, "workbook"))
    ask_where (self, model, FETTLE_OUTPUT_WORKBOOK, _("Workbook"), "xlsx", workbook_chosen);
  else
    make (self, FETTLE_OUTPUT_PDF, NULL);
}
