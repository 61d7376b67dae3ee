/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-shelf.h"

#include "present-leadtime.h"
#include "present-number.h"
#include "present-standing.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/**
 * present_shelf_name:
 * @shelf: a model
 *
 * Returns: (transfer full): 'HF  Hawfinch, folding pruning saw'
 */
char *
present_shelf_name (const InsightShelf *shelf)
{
  return g_strdup_printf ("%s  %s", shelf->code, shelf->name);
}

static char *
round_words (const InsightShelf *shelf)
{
  const InsightRoundDays *last = shelf->n_rounds > 0 ? &shelf->rounds[shelf->n_rounds - 1] : NULL;

  if (last == NULL)
    return g_strdup (_("no round yet"));
  if (last->open)
    return g_strdup_printf (_("%s, %s"), last->label, present_phase_words (last->phase));
  return g_strdup_printf (_("%s, decided"), last->label);
}

static char *
figure (double value)
{
  return isnan (value) ? g_strdup ("") : present_number (value, 0);
}

static void
add_model (PresentSheet *sheet, const InsightShelf *shelf)
{
  g_autofree char *rounds = present_number (shelf->n_rounds, 0);

  present_sheet_add_row (
      sheet, "model", shelf->model, shelf->open_safety > 0,
      PRESENT_CELLS (present_shelf_name (shelf),
                     shelf->known ? present_standing_headline (shelf->criteria, shelf->met, shelf->block, shelf->no_safety)
                                  : g_strdup (_("not known")),
                     g_steal_pointer (&rounds), round_words (shelf), present_number (shelf->total, 0), figure (shelf->month),
                     present_interval (shelf->interval.low, shelf->interval.high, 0, NULL), figure (shelf->demand),
                     present_number (shelf->open_safety, 0)));
}

static char *
headline (const InsightShelf *const *shelves, guint n)
{
  GString *words = g_string_new (NULL);
  guint open = 0, safety = 0;

  for (guint i = 0; i < n; i++)
    {
      open += shelves[i]->open;
      safety += shelves[i]->open_safety;
    }
  g_string_append_printf (words, ngettext ("There is %u model.", "There are %u models.", n), n);
  g_string_append_c (words, ' ');
  if (open == 0)
    g_string_append (words, _("No round is open."));
  else if (n == 1)
    g_string_append (words, _("A round of it is open."));
  else
    g_string_append_printf (words, ngettext ("A round is open in %u of them.", "A round is open in %u of them.", open), open);
  g_string_append_c (words, ' ');
  if (safety == 0)
    g_string_append (words, _("No safety issue is open."));
  else
    g_string_append_printf (words, ngettext ("%u safety issue is open.", "%u safety issues are open.", safety), safety);
  return g_string_free (words, FALSE);
}

/**
 * present_shelf_new:
 * @shelves: (array length=n): the models
 * @n: how many
 *
 * Returns: (transfer full): the same in words
 */
PresentShelf *
present_shelf_new (const InsightShelf *const *shelves, guint n)
{
  PresentShelf *self = g_new0 (PresentShelf, 1);

  self->headline = headline (shelves, n);
  self->notes = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (self->notes, g_strdup (_("A month: good ones that the benches could make by the newest run that was counted, and "
                                            "between which figures that lies, at 90 % confidence.")));
  self->models = present_sheet_new (_("Models"));
  present_sheet_add_column (self->models, _("model"), FALSE, TRUE, 0);
  present_sheet_add_column (self->models, _("standing"), FALSE, FALSE, 1);
  present_sheet_add_column (self->models, _("rounds"), TRUE, FALSE, 6);
  present_sheet_add_column (self->models, _("now"), FALSE, FALSE, 3);
  present_sheet_add_column (self->models, _("working days"), TRUE, FALSE, 2);
  present_sheet_add_column (self->models, _("a month"), TRUE, FALSE, 4);
  present_sheet_add_column (self->models, _("between"), TRUE, FALSE, 7);
  present_sheet_add_column (self->models, _("wanted"), TRUE, FALSE, 5);
  present_sheet_add_column (self->models, _("open safety issues"), TRUE, FALSE, 2);
  for (guint i = 0; i < n; i++)
    add_model (self->models, shelves[i]);
  return self;
}

void
present_shelf_free (PresentShelf *present)
{
  if (present == NULL)
    return;

  g_free (present->headline);
  g_ptr_array_unref (present->notes);
  present_sheet_free (present->models);
  g_free (present);
}
