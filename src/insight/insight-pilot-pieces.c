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

static gboolean
has_piece (const GArray *pieces, gint64 id, gboolean tally)
{
  for (guint i = pieces->len; i > 0; i--) /* most often the last */
    {
      const InsightPilotPiece *piece = &g_array_index (pieces, InsightPilotPiece, i - 1);

      if (piece->id == id && piece->tally == tally)
        return TRUE;
    }
  return FALSE;
}

void
insight_pilot_add_unit (GArray *pieces, const BookEvidence *e, int unit)
{
  InsightPilotPiece piece = { e->units[unit].id, FALSE, NULL };

  if (has_piece (pieces, piece.id, FALSE))
    return;
  piece.name = g_strdup (e->units[unit].serial);
  g_array_append_val (pieces, piece);
}

void
insight_pilot_add_tally (GArray *pieces, const BookEvidence *e, guint tally)
{
  InsightPilotPiece piece = { e->tallies[tally].id, TRUE, NULL };

  if (has_piece (pieces, piece.id, TRUE))
    return;
  piece.name = book_day_format (e->tallies[tally].day);
  g_array_append_val (pieces, piece);
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
