/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-pilot-private.h"

/*
 * The units and tallies that the figures of a run are made of, so that each figure leads to its records.
 */

static void
clear_piece (gpointer data)
{
  g_free (((InsightPilotPiece *) data)->name);
}

GArray *
insight_pilot_pieces_new (void)
{
  GArray *pieces = g_array_new (FALSE, FALSE, sizeof (InsightPilotPiece));

  g_array_set_clear_func (pieces, clear_piece);
  return pieces;
}

/* Whoever lists pieces goes through them by unit and by tally, so that one that is there already is the last. NULL: it is. */
static InsightPilotPiece *
add_piece (GArray *pieces, gint64 id, gboolean tally)
{
  InsightPilotPiece piece = { id, tally, NULL };

  if (pieces->len > 0)
    {
      const InsightPilotPiece *last = &g_array_index (pieces, InsightPilotPiece, pieces->len - 1);

      if (last->id == id && last->tally == tally)
        return NULL;
    }
  g_array_append_val (pieces, piece);
  return &g_array_index (pieces, InsightPilotPiece, pieces->len - 1);
}

void
insight_pilot_add_unit (GArray *pieces, const BookEvidence *e, int unit)
{
  InsightPilotPiece *piece = add_piece (pieces, e->units[unit].id, FALSE);

  if (piece != NULL)
    piece->name = g_strdup (e->units[unit].serial);
}

void
insight_pilot_add_tally (GArray *pieces, const BookEvidence *e, guint tally)
{
  InsightPilotPiece *piece = add_piece (pieces, e->tallies[tally].id, TRUE);

  if (piece != NULL)
    piece->name = book_day_format (e->tallies[tally].day);
}

/* What was counted at each step, as insight_pilot_count_steps() counts it. */
void
insight_pilot_list_pieces (const BookEvidence *e, int round, BookDay end, InsightPilot *pilot)
{
  for (guint s = 0; s < pilot->n_steps; s++)
    pilot->steps[s].pieces = insight_pilot_pieces_new ();
  for (guint i = 0; i < e->n_events; i++)
    if (insight_event_is_at_step (&e->events[i]) && e->events[i].day <= end && e->units[e->events[i].unit].round == round)
      insight_pilot_add_unit (pilot->steps[e->events[i].step].pieces, e, e->events[i].unit);
  for (guint i = 0; i < e->n_tallies; i++)
    if (e->tallies[i].round == round && e->tallies[i].step >= 0 && e->tallies[i].day <= end
        && pilot->steps[e->tallies[i].step].source == INSIGHT_PILOT_TALLY)
      insight_pilot_add_tally (pilot->steps[e->tallies[i].step].pieces, e, i);
}
