/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Paper for the bench: about what is chosen on the page in view, else about the round chosen on the strip, to a printer or into
 * a file (window-making.c).
 */
#include "config.h"

#include "window-private.h"

#include <glib/gi18n.h>

#include "paper-bench.h"
#include "today.h"
#include "window-making.h"

/* What can be put on paper: about which record, and by which word actions name it. */
static const struct
{
  const char    *word;
  const char    *record;
  const char    *label; /* NULL: the paper's title */
  PaperBenchKind kind;
} papers[] = {
  { "unit-card", "unit", NULL, PAPER_BENCH_UNIT_CARD },
  { "change-notice", "change", NULL, PAPER_BENCH_CHANGE_NOTICE },
  { "issue-card", "issue", NULL, PAPER_BENCH_ISSUE_CARD },
  { "build-list", "round", NULL, PAPER_BENCH_BUILD_LIST },
  { "measuring-sheet", "round", NULL, PAPER_BENCH_MEASURING_SHEET },
  { "unit-cards", "round", N_("Cards of All Units"), PAPER_BENCH_UNIT_CARD },
  { "tally-sheet", "round", NULL, PAPER_BENCH_TALLY_SHEET },
};

typedef struct
{
  PaperBenchAsk ask;
  char         *today;
} Ask;

static void
ask_free (gpointer data)
{
  Ask *ask = data;

  g_free (ask->today);
  g_free (ask);
}

/* The record of that name that is chosen; of rounds, when the page has none, the one of the strip. 0: none. */
static gint64
chosen_key (FettleWindow *self, const char *wanted)
{
  const char *record = NULL;
  gint64 key = 0;

  if (self->page >= 0 && self->pages[self->page] != NULL && fettle_page_get_place (FETTLE_PAGE (self->pages[self->page]), &record, &key)
      && g_str_equal (record, wanted))
    return key;
  return g_str_equal (wanted, "round") ? self->span.to : 0;
}

/* Fills in what a word asks for; FALSE when nothing fitting is chosen. */
static gboolean
fill_ask (FettleWindow *self, const char *word, PaperBenchAsk *ask)
{
  for (guint i = 0; i < G_N_ELEMENTS (papers); i++)
    if (g_str_equal (papers[i].word, word))
      {
        gint64 key = chosen_key (self, papers[i].record);

        *ask = (PaperBenchAsk) { .kind = papers[i].kind, .model = self->span.model, .size = PAPER_SIZE_OF_BOOK };
        if (g_str_equal (papers[i].record, "round"))
          ask->round = key;
        else if (g_str_equal (papers[i].record, "unit"))
          ask->unit = key;
        else if (g_str_equal (papers[i].record, "change"))
          ask->change = key;
        else
          ask->issue = key;
        return key != 0;
      }
  return FALSE;
}

static PaperDocument *
draw (StoreDb *db, gpointer ask, FettleMaking *making, GCancellable *cancellable, GError **error)
{
  return paper_bench_document (db, &((Ask *) ask)->ask, cancellable, error);
}

/* @path: (transfer full) (nullable): to a printer when there is none. */
static void
make (FettleWindow *self, const PaperBenchAsk *bench, char *path)
{
  Ask *ask = g_new0 (Ask, 1);

  ask->ask = *bench;
  ask->today = fettle_today ();
  ask->ask.today = ask->today;
  fettle_window_make (self, fettle_making_new (paper_bench_title (bench->kind), draw, ask, ask_free), path);
}

static void
path_chosen (FettleWindow *self, GListModel *files)
{
  char *path;

  if (self->sitting == NULL || self->writing != NULL)
    return;
  path = fettle_window_output_path (self, FETTLE_OUTPUT_PDF, files);
  if (path != NULL)
    make (self, self->paper, path);
}

/**
 * fettle_window_ask_paper:
 * @self: a window
 * @word: which paper, as its menu names it
 * @into_file: save it as PDF; else print it
 */
void
fettle_window_ask_paper (FettleWindow *self, const char *word, gboolean into_file)
{
  const FettleModel *model = fettle_window_get_model (self);
  PaperBenchAsk ask;

  if (model == NULL || self->writing != NULL)
    return;
  if (!fill_ask (self, word, &ask))
    {
      fettle_window_say (self, _("Choose first what the paper is about: a round, a unit, an issue or a change."), NULL, NULL);
      return;
    }
  if (into_file)
    {
      g_autofree char *today = fettle_today ();
      g_autofree char *name = paper_bench_file_name (ask.kind, model->code, NULL, today);

      g_free (self->paper);
      self->paper = g_memdup2 (&ask, sizeof ask);
      fettle_window_ask_output (self, FETTLE_OUTPUT_PDF, paper_bench_title (ask.kind), name, path_chosen);
    }
  else
    make (self, &ask, NULL);
}

static void
append_part (FettleWindow *self, GMenu *menu, const char *heading, const char *action)
{
  g_autoptr(GMenu) part = g_menu_new ();

  for (guint i = 0; i < G_N_ELEMENTS (papers); i++)
    {
      g_autofree char *label = NULL;
      g_autoptr(GMenuItem) item = NULL;

      if (chosen_key (self, papers[i].record) == 0)
        continue;
      label = g_strdup_printf ("%s…", papers[i].label != NULL ? _(papers[i].label) : paper_bench_title (papers[i].kind));
      item = g_menu_item_new (label, NULL);
      g_menu_item_set_action_and_target (item, action, "s", papers[i].word);
      g_menu_append_item (part, item);
    }
  if (g_menu_model_get_n_items (G_MENU_MODEL (part)) > 0)
    g_menu_append_section (menu, heading, G_MENU_MODEL (part));
}

/**
 * fettle_window_paper_menu:
 * @self: a window
 *
 * Returns: (transfer full): what can be put on paper from where the window is now, the chosen thing's own first
 */
GMenu *
fettle_window_paper_menu (FettleWindow *self)
{
  GMenu *menu = g_menu_new ();

  if (self->sitting != NULL)
    {
      append_part (self, menu, _("Print"), "win.print-paper");
      append_part (self, menu, _("Save as PDF"), "win.save-paper");
    }
  if (g_menu_model_get_n_items (G_MENU_MODEL (menu)) == 0)
    g_menu_append (menu, _("Nothing is chosen yet"), "win.nothing");
  return menu;
}
