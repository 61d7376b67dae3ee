/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "present-round.h"

#include "book-evidence.h"
#include "present-issue.h"
#include "present-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
row_free (gpointer data)
{
  PresentRoundRow *row = data;

  g_free (row->kind);
  g_free (row->units);
  g_free (row->state);
  g_free (row->days);
  g_free (row->verdict);
  g_free (row->cost);
  g_free (row->words);
  g_free (row);
}

/**
 * present_round_date:
 * @date: one of the dates of a round, in order
 *
 * Returns: what it is called
 */
const char *
present_round_date (guint date)
{
  static const char *const names[INSIGHT_N_ROUND_DATES] = {
    N_("Opened"), N_("Design fixed"), N_("Parts ready"), N_("Built"), N_("Tested"), N_("Decided"),
  };

  g_return_val_if_fail (date < INSIGHT_N_ROUND_DATES, "");

  return _(names[date]);
}

static char *
label_of (const BookChoice *choices, gint64 code)
{
  const BookChoice *choice = code != 0 ? book_choice_by_code (choices, code) : NULL;

  return g_strdup (choice != NULL ? book_choice_label (choice) : "");
}

static char *
filled (const char *sentence, const char *place, const char *with)
{
  GString *text = g_string_new (sentence);

  g_string_replace (text, place, with, 0);
  return g_string_free (text, FALSE);
}

static char *
state_of (const InsightRound *round)
{
  static const char *const since[INSIGHT_N_ROUND_DATES] = {
    N_("opened {date}"), N_("design fixed {date}"), N_("parts ready {date}"), N_("built {date}"), N_("tested {date}"), N_("decided {date}"),
  };

  for (guint i = INSIGHT_N_ROUND_DATES; i-- > 0;)
    if (round->dates[i][0] != '\0')
      return filled (_(since[i]), "{date}", round->dates[i]);
  return g_strdup (_("planned"));
}

static const char *
sign_of (InsightRoundState state)
{
  return state == INSIGHT_ROUND_DECIDED ? "●" : state == INSIGHT_ROUND_UNDER_WAY ? "◐" : "○";
}

static char *
units_of (const InsightRound *round)
{
  if (round->planned_units == 0)
    return g_strdup_printf ("%u", round->units->len);
  /* Translators: units built, and units planned */
  return g_strdup_printf (_("%u of %u"), round->units->len, round->planned_units);
}

static PresentRoundRow *
row_new (const InsightRound *round, guint index)
{
  PresentRoundRow *row = g_new0 (PresentRoundRow, 1);

  row->index = index;
  row->id = round->id;
  row->label = round->label;
  row->kind = label_of (book_round_kinds, round->kind);
  row->units = units_of (round);
  row->state = state_of (round);
  row->days = round->dates[0][0] != '\0' ? g_strdup_printf ("%u", round->days) : g_strdup ("");
  row->verdict = label_of (book_round_verdicts, round->verdict);
  row->cost = isnan (round->cost) ? g_strdup ("") : present_number (round->cost, 0);
  row->sign = sign_of (round->state);
  /* Translators: a round for a screen reader: label, kind, units, state, verdict */
  row->words = *row->verdict != '\0'
                   ? g_strdup_printf (_("%s, %s, units: %s, %s, %s"), row->label, row->kind, row->units, row->state, row->verdict)
                   : g_strdup_printf (_("%s, %s, units: %s, %s"), row->label, row->kind, row->units, row->state);
  return row;
}

/**
 * present_round_rows:
 * @rounds: the rounds of a model; must outlive the rows
 *
 * Returns: (transfer full) (element-type PresentRoundRow): the newest first
 */
GPtrArray *
present_round_rows (const InsightRounds *rounds)
{
  GPtrArray *rows = g_ptr_array_new_with_free_func (row_free);

  for (guint i = rounds->rounds->len; i-- > 0;)
    g_ptr_array_add (rows, row_new (&g_array_index (rounds->rounds, InsightRound, i), i));
  return rows;
}

/**
 * present_rounds_headline:
 * @rounds: the rounds of a model
 *
 * Returns: (transfer full): how many there are, and what is open
 */
char *
present_rounds_headline (const InsightRounds *rounds)
{
  GString *open = g_string_new (NULL);
  g_autofree char *count = g_strdup_printf (ngettext ("%u round.", "%u rounds.", rounds->rounds->len), rounds->rounds->len);
  guint waits = 0;

  for (guint i = 0; i < rounds->rounds->len; i++)
    {
      const InsightRound *round = &g_array_index (rounds->rounds, InsightRound, i);

      if (round->state != INSIGHT_ROUND_DECIDED)
        g_string_append_printf (open, "%s%s", open->len > 0 ? ", " : "", round->label);
      for (guint k = 0; k < round->waits->len; k++)
        waits += g_array_index (round->waits, InsightRoundWait, k).to[0] == '\0';
    }
  if (rounds->rounds->len == 0)
    g_string_assign (open, _("No round is planned yet."));
  else if (open->len == 0)
    g_string_printf (open, _("%s All are decided."), count);
  else
    {
      g_autofree char *names = g_strdup (open->str);

      g_string_printf (open, _("%s Not decided: %s."), count, names);
    }
  if (waits > 0)
    g_string_append_printf (open, ngettext (" %u wait lasts.", " %u waits last.", waits), waits);
  return g_string_free (open, FALSE);
}

/* ---- one round ---- */

static void
add_dates (GPtrArray *story, const InsightRound *round)
{
  g_autoptr(GString) reached = g_string_new (NULL);

  for (guint i = 0; i < INSIGHT_N_ROUND_DATES; i++)
    {
      if (round->dates[i][0] == '\0' && round->planned[i][0] == '\0')
        continue;
      g_string_append (reached, reached->len > 0 ? "; " : "");
      if (round->dates[i][0] == '\0')
        g_string_append_printf (reached, _("%s: planned for %s"), present_round_date (i), round->planned[i]);
      else if (round->planned[i][0] == '\0')
        g_string_append_printf (reached, "%s: %s", present_round_date (i), round->dates[i]);
      else
        g_string_append_printf (reached, _("%s: %s (planned for %s)"), present_round_date (i), round->dates[i], round->planned[i]);
    }
  if (reached->len > 0)
    g_ptr_array_add (story, g_strdup_printf ("%s.", reached->str));
}

/**
 * present_round_story:
 * @round: a round
 *
 * Returns: (transfer full) (element-type utf8): sentences
 */
GPtrArray *
present_round_story (const InsightRound *round)
{
  GPtrArray *story = g_ptr_array_new_with_free_func (g_free);

  if (round->question[0] != '\0')
    g_ptr_array_add (story, g_strdup (round->question));
  else
    g_ptr_array_add (story, g_strdup (_("No question is written down: what must the round answer?")));
  add_dates (story, round);
  if (round->dates[0][0] != '\0')
    g_ptr_array_add (story, g_strdup_printf (ngettext ("It took %u working day so far.", "It took %u working days so far.", round->days),
                                             round->days));
  if (round->state == INSIGHT_ROUND_DECIDED && story->len > 0 && round->dates[0][0] != '\0')
    {
      g_ptr_array_remove_index (story, story->len - 1);
      g_ptr_array_add (story, g_strdup_printf (ngettext ("It took %u working day.", "It took %u working days.", round->days), round->days));
    }
  if (round->late)
    g_ptr_array_add (story, g_strdup_printf (_("'%s' was planned for %s and is not reached yet."), present_round_date (round->next),
                                             round->planned[round->next]));
  if (round->beside[0] != '\0')
    g_ptr_array_add (story, g_strdup_printf (round->state == INSIGHT_ROUND_DECIDED ? _("It ran beside: %s.") : _("It runs beside: %s."), round->beside));
  return story;
}

/* 'HF-30 Spring C, lot S-31' */
char *
present_round_part (const InsightRoundPart *part)
{
  g_autoptr(GString) text = g_string_new (part->number);

  g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", part->name);
  if (part->revision[0] != '\0')
    g_string_append_printf (text, " %s", part->revision);
  if (part->lot[0] != '\0')
    g_string_append_printf (text, _(", lot %s"), part->lot);
  return g_strdup (text->str);
}

/* 'all units', '5 units from P3-06' */
char *
present_round_part_units (const InsightRoundPart *part)
{
  g_autofree char *units = NULL;

  if (part->units == 0 && part->first_serial[0] == '\0')
    return g_strdup (_("all units"));
  if (part->units == 0)
    return g_strdup_printf (_("from %s on"), part->first_serial);
  units = g_strdup_printf (ngettext ("%u unit", "%u units", part->units), part->units);
  /* Translators: '5 units' from a serial on */
  return part->first_serial[0] != '\0' ? g_strdup_printf (_("%s from %s on"), units, part->first_serial) : g_steal_pointer (&units);
}

char *
present_round_wait (const InsightRoundWait *wait)
{
  g_autofree char *reason = label_of (book_wait_reasons, wait->reason);
  g_autoptr(GString) text = g_string_new (reason);

  if (wait->what[0] != '\0')
    g_string_append_printf (text, ": %s", wait->what);
  if (wait->supplier[0] != '\0')
    g_string_append_printf (text, " (%s)", wait->supplier);
  if (wait->to[0] == '\0')
    g_string_append_printf (text, ngettext (", since %2$s, %1$u working day", ", since %2$s, %1$u working days", wait->days), wait->days, wait->from);
  else
    g_string_append_printf (text, ngettext (", %2$s to %3$s, %1$u working day", ", %2$s to %3$s, %1$u working days", wait->days), wait->days,
                            wait->from, wait->to);
  return g_strdup (text->str);
}

/* What is planned for one unit: 'tested, 3000 cycles', 'destroyed'. */
char *
present_round_test (const InsightRoundTest *test)
{
  g_autoptr(GString) text = g_string_new (test->destroyed ? _("destroyed") : test->lent ? _("lent") : _("tested"));

  if (!isnan (test->cycles) && test->cycles > 0)
    {
      g_autofree char *cycles = present_number (test->cycles, 0);

      g_string_append_printf (text, _(", %s cycles"), cycles);
    }
  if (!isnan (test->load) && test->load > 0)
    {
      g_autofree char *load = present_number (test->load, -1);

      g_string_append_printf (text, _(", load %s"), load);
    }
  return g_strdup (text->str);
}

/* ---- the answer ---- */

static void
add_names (GPtrArray *answer, const char *sentence, char **names)
{
  g_autofree char *joined = g_strjoinv (", ", names);

  if (names[0] != NULL)
    g_ptr_array_add (answer, filled (sentence, "{names}", joined));
}

static char *
fix_words (const InsightRoundFix *fix)
{
  g_autofree char *confidence = present_confidence (fix->confidence, NAN);

  if (fix->n == 0)
    return g_strdup_printf (_("Issue %d '%s': no unit with the change speaks about it yet."), fix->no, fix->title);
  if (fix->failed > 0)
    return g_strdup_printf (ngettext ("Issue %d '%s' came back: on %u of %u unit with the change.",
                                      "Issue %d '%s' came back: on %u of %u units with the change.", fix->n),
                            fix->no, fix->title, fix->failed, fix->n);
  if (fix->state == INSIGHT_ISSUE_PROVEN)
    return g_strdup_printf (ngettext ("Issue %d '%s' is solved at %s confidence: not seen on %u unit with the change.",
                                      "Issue %d '%s' is solved at %s confidence: not seen on %u units with the change.", fix->n),
                            fix->no, fix->title, confidence, fix->n);
  return g_strdup_printf (ngettext ("Issue %d '%s' was not seen again on %u unit with the change, which is too few to tell.",
                                    "Issue %d '%s' was not seen again on %u units with the change, which is too few to tell.", fix->n),
                          fix->no, fix->title, fix->n);
}

/**
 * present_round_answer:
 * @answer: what a round answered
 *
 * Returns: (transfer full) (element-type utf8): sentences
 */
GPtrArray *
present_round_answer (const InsightRoundAnswer *answer)
{
  GPtrArray *all = g_ptr_array_new_with_free_func (g_free);

  if (answer->total > 0)
    g_ptr_array_add (all, g_strdup_printf (_("At its end %u of %u criteria were met, at the end of the round before %u."), answer->met, answer->total,
                                           answer->met_before));
  add_names (all, _("Met since then: {names}."), answer->newly_met);
  add_names (all, _("Met before and not any more: {names}."), answer->no_longer_met);
  add_names (all, _("The measurements speak against: {names}."), answer->against);
  for (guint i = 0; i < answer->fixes->len; i++)
    g_ptr_array_add (all, fix_words (answer->fixes->pdata[i]));
  if (answer->found > 0)
    g_ptr_array_add (all, g_strdup_printf (ngettext ("%u issue was found in it.", "%u issues were found in it.", answer->found), answer->found));
  if (!isnan (answer->rolled))
    {
      g_autofree char *rolled = present_confidence (answer->rolled, NAN);
      g_autofree char *low = present_confidence (answer->rolled_low, NAN);
      g_autofree char *high = present_confidence (answer->rolled_high, NAN);

      g_ptr_array_add (all, g_strdup_printf (ngettext ("%2$s of the units went through %1$u step good the first time (90 %% interval: %3$s to %4$s).",
                                                       "%2$s of the units went through %1$u steps good the first time (90 %% interval: %3$s to %4$s).",
                                                       answer->steps), answer->steps, rolled, low, high));
    }
  return all;
}

/**
 * present_rounds_words:
 * @rounds: the rounds of a model
 *
 * Returns: (transfer full): all that is said about them
 */
char *
present_rounds_words (const InsightRounds *rounds)
{
  g_autoptr(GPtrArray) rows = present_round_rows (rounds);
  GString *words = g_string_new (NULL);

  for (guint i = 0; i < rows->len; i++)
    {
      const PresentRoundRow *row = rows->pdata[i];
      const InsightRound *round = &g_array_index (rounds->rounds, InsightRound, row->index);
      g_autoptr(GPtrArray) story = present_round_story (round);

      g_string_append_printf (words, "%s %s %s\n", row->words, row->days, row->cost);
      for (guint k = 0; k < story->len; k++)
        g_string_append_printf (words, "%s\n", (const char *) story->pdata[k]);
      for (guint k = 0; k < round->parts->len; k++)
        {
          const InsightRoundPart *part = &g_array_index (round->parts, InsightRoundPart, k);
          g_autofree char *name = present_round_part (part);
          g_autofree char *units = present_round_part_units (part);

          g_string_append_printf (words, "%s %s\n", name, units);
        }
      for (guint k = 0; k < round->waits->len; k++)
        {
          g_autofree char *wait = present_round_wait (&g_array_index (round->waits, InsightRoundWait, k));

          g_string_append_printf (words, "%s\n", wait);
        }
      for (guint k = 0; k < round->tests->len; k++)
        {
          const InsightRoundTest *test = &g_array_index (round->tests, InsightRoundTest, k);
          g_autofree char *said = present_round_test (test);

          g_string_append_printf (words, "%s %s %s\n", test->serial, test->code, said);
        }
      for (guint k = 0; k < round->units->len; k++)
        g_string_append_printf (words, "%s\n", g_array_index (round->units, InsightRoundUnit, k).serial);
    }
  return g_string_free (words, FALSE);
}
