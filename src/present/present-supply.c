/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-supply.h"

#include "present-chart-private.h"
#include "present-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* What is told of, and how what people wrote is told. */
typedef struct
{
  const InsightSupply *supply;
  PresentTell          tell;
  gpointer             data;
} Telling;

static char *
told (const Telling *telling, const char *text)
{
  return telling->tell (text, telling->data);
}

static char *
thing_name (const InsightSupply *supply, guint thing)
{
  const InsightSupplyThing *one = &supply->things[thing];

  return one->part >= 0 ? g_strdup_printf ("%s %s", supply->e->parts[one->part].number, supply->e->parts[one->part].name)
                        : g_strdup (supply->e->steps[one->step].name);
}

static const BookEvidenceLot *
lot_of (const InsightSupply *supply, guint lot)
{
  return &supply->e->lots[supply->lots[lot].lot];
}

static const char *
label_of (const BookChoice *choices, gint64 code)
{
  const BookChoice *choice = book_choice_by_code (choices, code);

  return choice != NULL ? book_choice_label (choice) : "";
}

/* Label of the newest revision of a part that was not withdrawn; "" for a step. */
static const char *
newest_revision (const BookEvidence *e, int part)
{
  const BookEvidenceRevision *newest = NULL;

  for (guint i = 0; i < e->n_revisions; i++)
    if (e->revisions[i].part == part && part >= 0 && e->revisions[i].state == BOOK_REVISION_RELEASED
        && (newest == NULL || e->revisions[i].date >= newest->date))
      newest = &e->revisions[i];
  return newest != NULL ? newest->label : "";
}

static PresentSheet *
things_sheet (const InsightSupply *supply)
{
  PresentSheet *sheet = present_sheet_new (_("What came from you"));

  present_sheet_add_column (sheet, _("part or step"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("newest revision"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, _("lots"), TRUE, FALSE, 0);
  for (guint i = 0; i < supply->n_things; i++)
    present_sheet_add_row (sheet, NULL, 0, FALSE,
                           PRESENT_CELLS (thing_name (supply, i), g_strdup (newest_revision (supply->e, supply->things[i].part)),
                                          g_strdup_printf ("%u", supply->things[i].lots)));
  return sheet;
}

static PresentSheet *
lots_sheet (const InsightSupply *supply)
{
  PresentSheet *sheet = present_sheet_new (_("Lots, and what became of them"));

  present_sheet_add_column (sheet, _("part or step"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("lot"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("received"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("pieces"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("units built with it"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("verdict"), FALSE, FALSE, 0);
  for (guint i = 0; i < supply->n_lots; i++)
    {
      const BookEvidenceLot *lot = lot_of (supply, i);

      present_sheet_add_row (sheet, NULL, 0, lot->verdict == BOOK_LOT_REJECTED,
                             PRESENT_CELLS (thing_name (supply, supply->lots[i].thing), g_strdup (lot->number), book_day_format (lot->received),
                                            isnan (lot->quantity) ? g_strdup ("") : present_number (lot->quantity, -1),
                                            g_strdup_printf ("%u", supply->lots[i].units),
                                            g_strdup (lot->verdict != 0 ? label_of (book_lot_verdicts, (gint64) lot->verdict) : _("none yet"))));
    }
  return sheet;
}

static PresentSheet *
faults_sheet (const Telling *telling)
{
  const InsightSupply *supply = telling->supply;
  const BookEvidence *e = supply->e;
  PresentSheet *sheet = present_sheet_new (_("What failed of it, and how"));

  present_sheet_add_column (sheet, _("lot"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("what was found"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("pieces"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("what became of them"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("on"), FALSE, FALSE, 1);
  for (guint i = 0; i < supply->n_faults; i++)
    {
      const InsightSupplyFault *fault = &supply->faults[i];
      const BookEvidenceFinding *finding = &e->findings[fault->finding];
      const BookEvidenceIssue *issue = &e->issues[fault->issue];
      g_autofree char *title = told (telling, issue->title), *reason = told (telling, finding->reason);

      present_sheet_add_row (sheet, NULL, 0, issue->closed == 0,
                             PRESENT_CELLS (g_strdup (lot_of (supply, (guint) fault->lot)->number),
                                            *reason != '\0' ? g_strdup_printf ("%s: %s", title, reason) : g_strdup (title),
                                            finding->inspected > 0 ? g_strdup_printf (_("%d of %d"), finding->affected, finding->inspected)
                                                                   : g_strdup (""),
                                            g_strdup (label_of (book_dispositions, (gint64) finding->disposition)),
                                            book_day_format (finding->day)));
    }
  return sheet;
}

static PresentSheet *
waits_sheet (const Telling *telling)
{
  const InsightSupply *supply = telling->supply;
  const BookEvidence *e = supply->e;
  PresentSheet *sheet = present_sheet_new (_("How long we waited, longest first"));

  present_sheet_add_column (sheet, _("for"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("round"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, _("from"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("to"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("working days"), TRUE, FALSE, 0);
  for (guint i = 0; i < supply->n_waits; i++)
    {
      const BookEvidenceWait *wait = &e->waits[supply->waits[i].wait];

      present_sheet_add_row (sheet, NULL, 0, wait->to == 0,
                             PRESENT_CELLS (told (telling, wait->what), g_strdup (e->rounds[wait->round].label), book_day_format (wait->from),
                                            wait->to != 0 ? book_day_format (wait->to) : g_strdup (_("still")),
                                            g_strdup_printf ("%u", supply->waits[i].days)));
    }
  return sheet;
}

/* ---- readings ---- */

static char *
limits_of (const InsightSeries *series)
{
  const InsightSeriesLimit *limit = series->now >= 0 ? &series->limits[series->now] : NULL;

  return limit != NULL ? present_limits (limit->lower, limit->upper, series->decimals, series->unit) : g_strdup ("");
}

static char *
readings_sentence (const InsightSupply *supply, const InsightSupplyReadings *readings)
{
  const InsightSeries *series = readings->series;
  g_autofree char *limits = limits_of (series);
  g_autofree char *thing = thing_name (supply, readings->thing);
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, ngettext ("By %u lot of %s.", "By %u lots of %s.", readings->n_groups), readings->n_groups, thing);
  if (*limits != '\0')
    g_string_append_printf (text, _(" Limits: %s."), limits);
  if (readings->others)
    g_string_append_printf (text, " %s", _("It depends on other parts or steps too, so that lots may differ without yours being the reason."));
  return g_string_free (text, FALSE);
}

static PresentSheet *
readings_sheet (const InsightSupply *supply, const InsightSupplyReadings *readings)
{
  const InsightSeries *series = readings->series;
  const gboolean checked = series->kind == BOOK_CHARACTERISTIC_CHECKED;
  PresentSheet *sheet = present_sheet_new (series->name);

  present_sheet_add_column (sheet, _("lot"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("units"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, checked ? _("failed") : _("outside"), TRUE, FALSE, 0);
  if (!checked)
    {
      present_sheet_add_column (sheet, _("mean"), TRUE, FALSE, 0);
      present_sheet_add_column (sheet, _("standard deviation"), TRUE, FALSE, 1);
      present_sheet_add_column (sheet, _("least to most"), TRUE, FALSE, 1);
    }
  for (guint i = 0; i < readings->n_groups; i++)
    {
      const InsightSupplyGroup *group = &readings->groups[i];
      const char *lot = lot_of (supply, group->lot)->number;
      const int more = series->decimals < 0 ? -1 : series->decimals + 1;

      if (checked)
        present_sheet_add_row (sheet, NULL, 0, group->failed > 0,
                               PRESENT_CELLS (g_strdup (lot), g_strdup_printf ("%u", group->n), g_strdup_printf ("%u", group->failed)));
      else
        present_sheet_add_row (sheet, NULL, 0, group->failed > 0,
                               PRESENT_CELLS (g_strdup (lot), g_strdup_printf ("%u", group->n), g_strdup_printf ("%u", group->failed),
                                              isnan (group->mean) ? g_strdup ("") : present_value (group->mean, more, series->unit),
                                              isnan (group->sd) ? g_strdup ("") : present_value (group->sd, more, series->unit),
                                              isnan (group->least) ? g_strdup ("")
                                                                   : present_interval (group->least, group->most, series->decimals, series->unit)));
    }
  return sheet;
}

static void
readings_free (gpointer data)
{
  PresentSupplyReadings *readings = data;

  g_free (readings->title);
  g_free (readings->sentence);
  present_sheet_free (readings->sheet);
  g_free (readings);
}

/**
 * present_chart_supply:
 * @supply: the answer
 * @readings: one of its characteristics, measured or checked
 *
 * Returns: (transfer full): each unit's value as a mark, lot beside lot; of checks the failed share of each lot
 */
Chart *
present_chart_supply (const InsightSupply *supply, const InsightSupplyReadings *readings)
{
  const InsightSeries *series = readings->series;
  g_autofree ChartRound *lots = g_new0 (ChartRound, readings->n_groups + 1);
  g_autofree ChartReading *marks = g_new0 (ChartReading, series->n_marks + 1);
  g_autoptr(GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  const InsightSeriesLimit *now = series->now >= 0 ? &series->limits[series->now] : NULL;
  const ChartLimit limit = { 0.0, now != NULL ? now->lower : (double) NAN, now != NULL ? now->upper : (double) NAN };
  guint n = 0;

  for (guint i = 0; i < readings->n_groups; i++)
    {
      const InsightSupplyGroup *group = &readings->groups[i];
      const gboolean checked = series->kind == BOOK_CHARACTERISTIC_CHECKED;

      g_ptr_array_add (words, g_strdup_printf (_("n %u"), group->n));
      lots[i].name = lot_of (supply, group->lot)->number;
      lots[i].count = words->pdata[words->len - 1];
      lots[i].mean = checked ? (double) group->failed / group->n : group->mean;
      lots[i].low = lots[i].high = NAN;
    }
  for (guint i = 0; i < series->n_marks; i++)
    if (readings->of_marks[i] >= 0)
      {
        marks[n].round = (guint) readings->of_marks[i];
        marks[n].value = series->marks[i].value;
        /* Whether it counts for a criterion is not the supplier's question. */
        marks[n].flags = present_reading_flags (&series->marks[i]) & ~(ChartReadingFlags) CHART_READING_UNCOUNTED;
        marks[n++].key = series->marks[i].reading;
      }
  if (series->kind == BOOK_CHARACTERISTIC_CHECKED)
    {
      const ChartChecked data = { .scale_words = _("failed, %"), .empty = _("No unit was checked yet."), .tolerated = NAN, .rounds = lots,
                                  .n_rounds = readings->n_groups, .readings = marks, .n_readings = n };

      return chart_checked_new (&data);
    }
  else
    {
      const ChartCharacteristic data = { .unit = *series->unit != '\0' ? series->unit : NULL, .empty = _("No unit was measured yet."),
                                         .decimals = series->decimals, .rounds = lots, .n_rounds = readings->n_groups, .readings = marks,
                                         .n_readings = n, .limits = &limit, .n_limits = now != NULL ? 1 : 0 };

      return chart_characteristic_new (&data);
    }
}

/* ---- the whole ---- */

static char *
headline (const InsightSupply *supply)
{
  GString *text = g_string_new (NULL);
  guint rejected = 0, days = 0;

  for (guint i = 0; i < supply->n_lots; i++)
    rejected += lot_of (supply, i)->verdict == BOOK_LOT_REJECTED;
  for (guint i = 0; i < supply->n_waits; i++)
    days += supply->waits[i].days;
  g_string_append_printf (text, ngettext ("We received %u lot from you.", "We received %u lots from you.", supply->n_lots), supply->n_lots);
  if (rejected > 0)
    g_string_append_printf (text, ngettext (" %u of them was rejected.", " %u of them were rejected.", rejected), rejected);
  if (supply->n_waits > 0)
    g_string_append_printf (text, ngettext (" Our waits for you took %u working day in all.", " Our waits for you took %u working days in all.", days), days);
  return g_string_free (text, FALSE);
}

static gboolean
has_fault (const InsightSupply *supply, guint lot)
{
  for (guint i = 0; i < supply->n_faults; i++)
    if (supply->faults[i].lot == (int) lot)
      return TRUE;
  return FALSE;
}

static void
ask_about_lots (const Telling *telling, GPtrArray *questions)
{
  const InsightSupply *supply = telling->supply;
  const BookEvidence *e = supply->e;

  for (guint i = 0; i < supply->n_faults; i++)
    {
      const InsightSupplyFault *fault = &supply->faults[i];
      const BookEvidenceIssue *issue = &e->issues[fault->issue];
      g_autofree char *title = told (telling, issue->title);

      if (issue->closed == 0)
        g_ptr_array_add (questions, g_strdup_printf (_("Lot %s: “%s”. What is the cause, and what will keep it from coming again?"),
                                                     lot_of (supply, (guint) fault->lot)->number, title));
    }
  for (guint i = 0; i < supply->n_lots; i++)
    if (lot_of (supply, i)->verdict == BOOK_LOT_REJECTED && !has_fault (supply, i))
      g_ptr_array_add (questions, g_strdup_printf (_("Lot %s was rejected. What is the cause, and what will keep it from coming again?"),
                                                   lot_of (supply, i)->number));
}

static void
ask_about_waits (const Telling *telling, GPtrArray *questions)
{
  const InsightSupply *supply = telling->supply;
  for (guint i = 0; i < supply->n_waits; i++)
    {
      const BookEvidenceWait *wait = &supply->e->waits[supply->waits[i].wait];
      g_autofree char *since = book_day_format (wait->from), *what = told (telling, wait->what);

      if (wait->to == 0)
        g_ptr_array_add (questions, g_strdup_printf (_("Since %s we wait for: %s. On which day will it be here?"), since, what));
    }
}

/* 'S-38 (4 of 20), S-40 (4 of 20)', or the names of lots without a failure. */
static char *
lots_words (const InsightSupply *supply, const InsightSupplyReadings *readings, gboolean failing)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < readings->n_groups; i++)
    {
      const InsightSupplyGroup *group = &readings->groups[i];

      if ((group->failed > 0) != failing)
        continue;
      if (text->len > 0)
        g_string_append (text, ", ");
      if (failing)
        g_string_append_printf (text, _("%s (%u of %u)"), lot_of (supply, group->lot)->number, group->failed, group->n);
      else
        g_string_append (text, lot_of (supply, group->lot)->number);
    }
  return g_string_free (text, FALSE);
}

/* Where units with one lot failed, and none with another. */
static void
ask_about_readings (const InsightSupply *supply, GPtrArray *questions)
{
  for (guint i = 0; i < supply->n_readings; i++)
    {
      g_autofree char *with = lots_words (supply, &supply->readings[i], TRUE), *without = lots_words (supply, &supply->readings[i], FALSE);

      if (*with != '\0' && *without != '\0')
        g_ptr_array_add (questions,
                         g_strdup_printf (_("“%s”: units failed with lots: %s; none with lots: %s. Do you know of anything that differs between them?"),
                                          supply->readings[i].series->name, with, without));
    }
}

/**
 * present_supply_new:
 * @supply: what one supplier brought in; borrowed
 * @tell: called for each text that somebody wrote
 * @data: handed to it
 *
 * Returns: (transfer full): the same in words
 */
PresentSupply *
present_supply_new (const InsightSupply *supply, PresentTell tell, gpointer data)
{
  const Telling telling = { supply, tell, data };
  PresentSupply *present = g_new0 (PresentSupply, 1);

  present->data = supply;
  present->name = supply->supplier >= 0 ? supply->e->suppliers[supply->supplier].name : "";
  present->headline = headline (supply);
  present->things = things_sheet (supply);
  present->lots = lots_sheet (supply);
  present->faults = faults_sheet (&telling);
  present->waits = waits_sheet (&telling);
  present->readings = g_ptr_array_new_with_free_func (readings_free);
  present->questions = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < supply->n_readings; i++)
    {
      PresentSupplyReadings *readings = g_new0 (PresentSupplyReadings, 1);

      readings->data = &supply->readings[i];
      readings->title = g_strdup (supply->readings[i].series->name);
      readings->sentence = readings_sentence (supply, &supply->readings[i]);
      readings->sheet = readings_sheet (supply, &supply->readings[i]);
      present->is_safety |= supply->readings[i].series->klass == BOOK_CLASS_SAFETY;
      g_ptr_array_add (present->readings, readings);
    }
  ask_about_lots (&telling, present->questions);
  ask_about_waits (&telling, present->questions);
  ask_about_readings (supply, present->questions);
  return present;
}

void
present_supply_free (PresentSupply *present)
{
  if (present == NULL)
    return;
  g_free (present->headline);
  present_sheet_free (present->things);
  present_sheet_free (present->lots);
  present_sheet_free (present->faults);
  present_sheet_free (present->waits);
  g_ptr_array_unref (present->readings);
  g_ptr_array_unref (present->questions);
  g_free (present);
}
