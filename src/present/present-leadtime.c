/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-leadtime.h"

#include "present-number.h"
#include "present-text.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/**
 * present_phase_words:
 * @phase: of a round
 *
 * Returns: its name
 */
const char *
present_phase_words (InsightPhase phase)
{
  switch (phase)
    {
    case INSIGHT_PHASE_DESIGN:
      return _("design");
    case INSIGHT_PHASE_WAIT:
      return _("waiting");
    case INSIGHT_PHASE_MAKE:
      return _("making");
    case INSIGHT_PHASE_TEST:
      return _("testing");
    case INSIGHT_PHASE_DECIDE:
      return _("deciding");
    case INSIGHT_N_PHASES:
      break;
    }
  return "";
}

/* Days have half ones where something ended on its first day. */
static char *
days (double value)
{
  if (isnan (value))
    return g_strdup ("");
  return present_number (value, fabs (value - round (value)) > 0.01 ? 1 : 0);
}

static char *
days_or_nothing (double value)
{
  return value > 0.0 ? days (value) : g_strdup ("");
}

static char *
range (double low, double high)
{
  g_autofree char *first = days (low), *last = days (high);

  if (*first == '\0' && *last == '\0')
    return g_strdup ("");
  if (*last == '\0')
    return g_strdup_printf (_("%s or more"), first);
  return g_str_equal (first, last) ? g_strdup (first) : g_strdup_printf (_("%s to %s"), first, last);
}

static PresentSheet *
rounds_sheet (const InsightRoundDays *rounds, guint n, const char *title, const char *record)
{
  PresentSheet *sheet = present_sheet_new (title);

  present_sheet_add_column (sheet, _("round"), FALSE, FALSE, 0);
  for (guint p = 0; p < INSIGHT_N_PHASES; p++)
    present_sheet_add_column (sheet, present_phase_words (p), TRUE, FALSE, p == INSIGHT_PHASE_WAIT ? 1 : 2);
  present_sheet_add_column (sheet, _("working days"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, "", FALSE, TRUE, 3);
  for (guint r = 0; r < n; r++)
    {
      const InsightRoundDays *round = &rounds[r];

      if (!(round->total > 0.0) && !round->open)
        continue;
      present_sheet_add_row (sheet, record, round->id, round->open,
                             PRESENT_CELLS (g_strdup (round->label), days_or_nothing (round->days[INSIGHT_PHASE_DESIGN]),
                                            days_or_nothing (round->days[INSIGHT_PHASE_WAIT]),
                                            days_or_nothing (round->days[INSIGHT_PHASE_MAKE]),
                                            days_or_nothing (round->days[INSIGHT_PHASE_TEST]),
                                            days_or_nothing (round->days[INSIGHT_PHASE_DECIDE]), days (round->total),
                                            round->open ? g_strdup_printf (_("open: %s"), present_phase_words (round->phase))
                                                        : g_strdup ("")));
    }
  return sheet;
}

/* How long one of the times took, by name: what a median is made of. */
static char *
time_words (const InsightTime *time, const char *record)
{
  g_autofree char *took = days (time->days), *name = NULL;

  if (g_str_equal (record, "issue"))
    name = g_strdup_printf (_("issue %d: %s"), time->no, time->name);
  else if (g_str_equal (record, "wait") && *time->name == '\0')
    name = g_strdup (_("wait"));
  else
    name = g_strdup (time->name);
  /* Translators: what took so many working days; the second is still running */
  return g_strdup_printf (time->ended ? _("%s, %s") : _("%s, %s so far"), name, took);
}

/* @record: what the times are of: of a wait its round is shown, where it can be ended. */
static void
add_spread (PresentSheet *sheet, const char *what, const char *record, const InsightSpread *spread)
{
  if (spread->n == 0)
    return;
  present_sheet_add_row (sheet, NULL, 0, FALSE,
                         PRESENT_CELLS (g_strdup (what), g_strdup_printf ("%u", spread->n),
                                        g_strdup_printf ("%u", spread->n - spread->ended), days (spread->median),
                                        range (spread->interval.low, spread->interval.high), range (spread->least, spread->most),
                                        days (spread->sum)));
  for (guint i = 0; spread->times != NULL && i < spread->times->len; i++)
    {
      const InsightTime *time = &g_array_index (spread->times, InsightTime, i);

      present_sheet_add_source (sheet, time->round != 0 ? "round" : record, time->round != 0 ? time->round : time->id,
                                time_words (time, record));
    }
}

static void
add_spread_columns (PresentSheet *sheet, const char *head)
{
  present_sheet_add_column (sheet, head, FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("n"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("open"), TRUE, FALSE, 2);
  present_sheet_add_column (sheet, _("median"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("between"), TRUE, FALSE, 3);
  present_sheet_add_column (sheet, _("least to most"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("all days"), TRUE, FALSE, 2);
}

static PresentSheet *
medians_sheet (const InsightLeadtime *leadtime)
{
  PresentSheet *sheet = present_sheet_new (_("How long things take, in working days"));

  add_spread_columns (sheet, "");
  add_spread (sheet, _("a round"), "round", &leadtime->rounds_spread);
  for (guint p = 0; p < INSIGHT_N_PHASES; p++)
    {
      g_autofree char *what = g_strdup_printf (_("%s, a round"), present_phase_words (p));

      add_spread (sheet, what, "round", &leadtime->phases[p]);
    }
  add_spread (sheet, _("an issue, found to contained"), "issue", &leadtime->stages[INSIGHT_STAGE_CONTAINED]);
  add_spread (sheet, _("an issue, found to cause known"), "issue", &leadtime->stages[INSIGHT_STAGE_CAUSE]);
  add_spread (sheet, _("an issue, found to closed as solved"), "issue", &leadtime->stages[INSIGHT_STAGE_CLOSED]);
  return sheet;
}

/**
 * present_wait_words:
 * @reason: of a wait
 *
 * Returns: it in words; "" for none
 */
const char *
present_wait_words (BookWaitReason reason)
{
  const BookChoice *choice = book_choice_by_code (book_wait_reasons, (int) reason);

  return choice == NULL ? "" : book_choice_label (choice);
}

static PresentSheet *
groups_sheet (GArray *groups, const char *title, const char *head)
{
  PresentSheet *sheet = present_sheet_new (title);

  add_spread_columns (sheet, head);
  for (guint i = 0; i < groups->len; i++)
    {
      const InsightWaitGroup *group = &g_array_index (groups, InsightWaitGroup, i);

      add_spread (sheet, group->supplier != 0 ? group->name : present_wait_words (group->reason), "wait", &group->spread);
    }
  return sheet;
}

static void
add_open (PresentSheet *sheet, const InsightOpen *open)
{
  g_autofree char *what = NULL;

  switch (open->kind)
    {
    case INSIGHT_OPEN_ROUND:
      what = g_strdup_printf (_("round %s: %s"), open->name, present_phase_words (open->phase));
      break;
    case INSIGHT_OPEN_WAIT:
      what = *open->name == '\0' ? g_strdup (_("wait")) : g_strdup_printf (_("wait: %s"), open->name);
      break;
    case INSIGHT_OPEN_ISSUE:
      what = g_strdup_printf (_("issue %d: %s"), open->no, open->name);
      break;
    }
  /* A wait leads to its round, where it can be ended. */
  present_sheet_add_row (sheet, open->round != 0 ? "round" : "issue", open->round != 0 ? open->round : open->id, open->kind == INSIGHT_OPEN_WAIT,
                         PRESENT_CELLS (g_steal_pointer (&what), g_strdup (open->since), days (open->days)));
  if (open->kind == INSIGHT_OPEN_WAIT)
    present_sheet_set_item (sheet, open->id);
}

static PresentSheet *
open_sheet (const InsightLeadtime *leadtime)
{
  PresentSheet *sheet = present_sheet_new (_("Open now, longest first"));

  present_sheet_add_column (sheet, "", FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("since"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, _("working days"), TRUE, FALSE, 0);
  for (guint i = 0; i < leadtime->n_open; i++)
    add_open (sheet, &leadtime->open[i]);
  return sheet;
}

static PresentSheet *
earlier_sheet (const InsightLeadtime *leadtime)
{
  PresentSheet *sheet = present_sheet_new (_("What earlier models took"));

  present_sheet_add_column (sheet, _("model"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, "", FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("rounds"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("working days"), TRUE, FALSE, 0);
  for (guint i = 0; i < leadtime->n_earlier; i++)
    {
      const InsightEarlier *earlier = &leadtime->earlier[i];
      GString *course = g_string_new (NULL);

      for (guint r = 0; r < earlier->n_rounds; r++)
        {
          g_autofree char *total = days (earlier->rounds[r].total);

          g_string_append_printf (course, "%s%s %s", r > 0 ? ", " : "", earlier->rounds[r].label, total);
        }
      present_sheet_add_row (sheet, "model", earlier->model, FALSE,
                             PRESENT_CELLS (g_strdup_printf ("%s %s", earlier->code, earlier->name), g_string_free (course, FALSE),
                                            g_strdup_printf ("%u", earlier->n_rounds), days (earlier->total)));
    }
  return sheet;
}

/* Who was waited for most; "" where nobody was, or two alike. */
static char *
most_waited_for (GArray *by_supplier)
{
  const InsightWaitGroup *most = by_supplier->len > 0 ? &g_array_index (by_supplier, InsightWaitGroup, 0) : NULL;
  g_autofree char *sum = NULL;

  if (most == NULL || !(most->spread.sum > 0.0)
      || (by_supplier->len > 1 && !(g_array_index (by_supplier, InsightWaitGroup, 1).spread.sum < most->spread.sum)))
    return g_strdup ("");
  sum = days (most->spread.sum);
  /* Translators: follows another sentence, so that it begins with a space; name of a supplier, number of days, of waits */
  return g_strdup_printf (ngettext (" The supplier waited for most is '%s': %s working days in %u wait.",
                                    " The supplier waited for most is '%s': %s working days in %u waits.", most->spread.n),
                          most->name, sum, most->spread.n);
}

static char *
headline (const InsightLeadtime *leadtime)
{
  g_autofree char *total = days (leadtime->total);
  g_autofree char *most = NULL, *sentence = NULL, *share = NULL;

  if (!(leadtime->total > 0.0))
    return g_strdup (_("No round has two dates yet: enter when it was opened and when its design was fixed."));
  share = present_number (100.0 * leadtime->largest_share, 0);
  sentence = g_strdup_printf (ngettext ("%u round took %s working days so far; the largest part went into %s (%s %%).",
                                        "%u rounds took %s working days so far; the largest part went into %s (%s %%).", leadtime->n_rounds),
                              leadtime->n_rounds, total, present_phase_words (leadtime->largest), share);
  most = most_waited_for (leadtime->by_supplier);
  return g_strconcat (sentence, most, NULL);
}

static char *
next_words (const InsightLeadtime *leadtime)
{
  g_autofree char *next = days (round (leadtime->next));
  g_autofree char *between = range (floor (leadtime->next_range.low), ceil (leadtime->next_range.high));
  g_autofree char *known = range (leadtime->rounds_spread.least, leadtime->rounds_spread.most);

  if (*next != '\0')
    return g_strdup_printf (ngettext ("Going by %u decided round, the next one takes about %s working days; four in five such rounds would take %s.",
                                      "Going by %u decided rounds, the next one takes about %s working days; four in five such rounds would take %s.",
                                      leadtime->decided),
                            leadtime->decided, next, between);
  if (leadtime->decided == 0)
    return g_strdup (_("No round is decided yet, so nothing can be said about the next one."));
  return g_strdup_printf (ngettext ("With %u decided round only its length can be told: %s working days.",
                                    "With %u decided rounds only their range can be told: %s working days.", leadtime->decided),
                          leadtime->decided, known);
}

static GPtrArray *
notes (const InsightLeadtime *leadtime)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (g_free);

  if (leadtime->rounds_spread.n > 0 && leadtime->rounds_spread.ended < INSIGHT_LEADTIME_INTERVAL)
    g_ptr_array_add (list, g_strdup (_("Below six ended ones there is no interval of a median, only the least and the most.")));
  if (!isnan (leadtime->solved_share))
    {
      g_autofree char *solved = present_number (floor (100.0 * leadtime->solved_share), 0);
      g_autofree char *other = present_number (round (100.0 * leadtime->other_ends), 0);

      g_ptr_array_add (list, g_strdup_printf (_("%s in 100 closed issues ended otherwise than solved; by the end of the record %s in 100 issues are solved."),
                                              other, solved));
    }
  g_ptr_array_add (list, g_strdup (_("Working days by the shop's week and holidays; days that a round waited are not in its other phases; what is still open counts as at least so long.")));
  return list;
}

/**
 * present_leadtime_new:
 * @leadtime: the answer; borrowed
 *
 * Returns: (transfer full): the same in words
 */
PresentLeadtime *
present_leadtime_new (const InsightLeadtime *leadtime)
{
  PresentLeadtime *present = g_new0 (PresentLeadtime, 1);

  present->data = leadtime;
  present->headline = headline (leadtime);
  present->next = next_words (leadtime);
  present->notes = notes (leadtime);
  present->rounds = rounds_sheet (leadtime->rounds, leadtime->n_rounds, _("By round and phase"), "round");
  present->medians = medians_sheet (leadtime);
  present->suppliers = groups_sheet (leadtime->by_supplier, _("Waits by supplier"), _("supplier"));
  present->reasons = groups_sheet (leadtime->by_reason, _("Waits by reason"), _("reason"));
  present->open = open_sheet (leadtime);
  present->earlier = earlier_sheet (leadtime);
  return present;
}

void
present_leadtime_free (PresentLeadtime *present)
{
  if (present == NULL)
    return;

  g_free (present->headline);
  g_free (present->next);
  g_ptr_array_unref (present->notes);
  present_sheet_free (present->rounds);
  present_sheet_free (present->medians);
  present_sheet_free (present->suppliers);
  present_sheet_free (present->reasons);
  present_sheet_free (present->open);
  present_sheet_free (present->earlier);
  g_free (present);
}

/**
 * present_leadtime_to_text:
 * @present: in words
 * @width: in columns
 *
 * Returns: (transfer full): for a terminal
 */
char *
present_leadtime_to_text (const PresentLeadtime *present, guint width)
{
  const PresentSheet *const sheets[] = { present->rounds, present->suppliers, present->reasons, present->medians, present->open,
                                         present->earlier };
  GString *text = g_string_new (NULL);

  present_text_add (text, present->headline, width, "", "");
  present_text_add (text, present->next, width, "", "");
  for (guint i = 0; i < G_N_ELEMENTS (sheets); i++)
    present_sheet_add_text (sheets[i], text, width);
  g_string_append_c (text, '\n');
  for (guint i = 0; i < present->notes->len; i++)
    present_text_add (text, present->notes->pdata[i], width, "", "");
  return g_string_free (text, FALSE);
}
