/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-release.h"

#include "book-choices.h"
#include "present-reason.h"
#include "present-sentence.h"
#include "present-text.h"

#include <glib/gi18n-lib.h>

/* Of a %NULL-terminated array. */
static char *
names_of (GPtrArray *names)
{
  return present_names ((const char *const *) names->pdata);
}

static char *
stop_words (const InsightStop *stop)
{
  g_autofree char *names = names_of (stop->names);

  switch (stop->code)
    {
    case INSIGHT_STOP_NO_CRITERIA:
      return g_strdup (_("Nothing is asked for at this gate: enter its criteria."));
    case INSIGHT_STOP_CRITERIA:
      return g_strdup_printf (ngettext ("%u criterion blocks: %s.", "%u criteria block: %s.", stop->names->len), stop->names->len, names);
    case INSIGHT_STOP_NO_SAFETY:
      return g_strdup (_("No criterion is about safety, so nobody may say that the criteria are met."));
    case INSIGHT_STOP_SAFETY_ISSUE:
      return g_strdup_printf (ngettext ("%u issue about safety is not shown by units to be solved: %s.",
                                        "%u issues about safety are not shown by units to be solved: %s.", stop->names->len),
                              stop->names->len, names);
    case INSIGHT_STOP_DISPOSITION:
      return g_strdup_printf (ngettext ("Of %u unit outside a limit nobody decided what becomes of it: %s.",
                                        "Of %u units outside a limit nobody decided what becomes of them: %s.", stop->names->len),
                              stop->names->len, names);
    case INSIGHT_STOP_OTHER_STATE:
      return g_strdup_printf (_("Measured on another state of design only: %s."), names);
    case INSIGHT_N_STOPS:
      break;
    }
  return g_strdup ("");
}

gboolean
present_decision_releases (const BookGateDeed *decision)
{
  return decision->verdict == BOOK_DECISION_RELEASE || decision->verdict == BOOK_DECISION_RELEASE_AT_MOST
         || decision->verdict == BOOK_DECISION_RELEASE_WITH_CONDITIONS;
}

/* What is released goes on being measured: what would stand against it now is said, and that it was decided stands beside it. */
static char *
gate_headline (const InsightGate *gate, const BookGateDeed *decided)
{
  if (!gate->may_say_met && decided != NULL && present_decision_releases (decided))
    return g_strdup_printf (_("%s: by what is known now it would not be ready. %u of %u criteria are met."), gate->name, gate->met, gate->total);
  if (!gate->may_say_met)
    return g_strdup_printf (_("%s: not ready. %u of %u criteria are met."), gate->name, gate->met, gate->total);
  if (gate->met < gate->total)
    return g_strdup_printf (_("%s: nothing blocks. %u of %u criteria are met; the others do not block, or are waived."), gate->name, gate->met,
                            gate->total);
  return g_strdup_printf (ngettext ("%s: its %u criterion is met.", "%s: all %u criteria are met.", gate->total), gate->name, gate->total);
}

/* What is missing, in units or in things to be done; nothing where neither tells. */
static char *
missing_words (const InsightCriterion *criterion)
{
  if (criterion->state == INSIGHT_MET)
    return g_strdup ("");
  if (criterion->method == INSIGHT_METHOD_COUNT)
    return criterion->n > criterion->done
               ? g_strdup_printf (ngettext ("%u to be done", "%u to be done", criterion->n - criterion->done), criterion->n - criterion->done)
               : g_strdup ("");
  if (criterion->units_needed < 0)
    return g_strdup (_("not units"));
  if (criterion->units_needed == 0)
    return g_strdup (insight_criterion_find_reason (criterion, INSIGHT_REASON_LOTS_THIRD) != NULL ? _("a third lot") : "");
  return g_strdup_printf (ngettext ("%d unit", "%d units", (gulong) criterion->units_needed), criterion->units_needed);
}

/* With what it means for the gate: that it blocks, or that somebody took it out of what blocks, and until when. */
static char *
state_words (const PresentCriterion *criterion)
{
  const InsightReason *waived = insight_criterion_find_reason (criterion->data, INSIGHT_REASON_WAIVED);
  const char *until = waived != NULL ? waived->names[1] : NULL;

  if (criterion->data->blocks)
    return g_strdup_printf (_("%s, blocks"), criterion->state);
  if (waived == NULL)
    return g_strdup (criterion->state);
  /* Translators: state of a criterion, and the last day of its waiver */
  return until != NULL && *until != '\0' ? g_strdup_printf (_("%s, waived until %s"), criterion->state, until)
                                          : g_strdup_printf (_("%s, waived"), criterion->state);
}

static PresentSheet *
criteria_sheet (const InsightGate *gate, const PresentStanding *standing)
{
  PresentSheet *sheet = present_sheet_new (_("Criteria"));

  present_sheet_add_column (sheet, "", FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("criterion"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("n"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("reached"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("wanted"), TRUE, FALSE, 2);
  present_sheet_add_column (sheet, _("lots"), TRUE, FALSE, 5);
  present_sheet_add_column (sheet, _("looks"), TRUE, FALSE, 4);
  present_sheet_add_column (sheet, _("attempt"), TRUE, FALSE, 3);
  present_sheet_add_column (sheet, _("missing"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("state"), FALSE, FALSE, 0);
  for (guint i = 0; i < gate->criteria->len; i++)
    {
      const PresentCriterion *criterion = standing->criteria->pdata[g_array_index (gate->criteria, guint, i)];
      const InsightCriterion *data = criterion->data;

      present_sheet_add_row (sheet, "criterion", data->id, data->blocks,
                             PRESENT_CELLS (g_strdup (criterion->sign), g_strdup (criterion->name), g_strdup (criterion->n),
                                            g_strdup (criterion->confidence), g_strdup (criterion->wanted),
                                            data->lots > 0 ? g_strdup_printf ("%u", data->lots) : g_strdup (""),
                                            data->looks > 0 ? g_strdup_printf ("%u", data->looks) : g_strdup (""),
                                            data->looks > 0 ? g_strdup_printf ("%u", data->attempts) : g_strdup (""),
                                            missing_words (data),
                                            state_words (criterion)));
      present_sheet_set_item (sheet, data->id);
    }
  return sheet;
}

/**
 * present_decision_words:
 * @decision: a decision, or one that withdraws another
 *
 * Returns: (transfer full): what was decided: 'Release of at most 200 units'
 */
char *
present_decision_words (const BookGateDeed *decision)
{
  const BookChoice *choice = book_choice_by_code (book_decision_verdicts, (int) decision->verdict);

  if (decision->withdraws != 0)
    return g_strdup (_("Withdraws an earlier one"));
  if (decision->verdict == BOOK_DECISION_RELEASE_AT_MOST)
    return g_strdup_printf (ngettext ("Release of at most %d unit", "Release of at most %d units", (gulong) decision->at_most), decision->at_most);
  return g_strdup (choice != NULL ? book_choice_label (choice) : "");
}

static char *
opinion_words (const BookGateDeed *deed)
{
  const BookChoice *choice = book_choice_by_code (book_opinions, (int) deed->opinion);

  return g_strdup (deed->withdraws != 0 ? _("Withdraws an earlier one") : choice != NULL ? book_choice_label (choice) : "");
}

/* Conditions, reason, and what became of it. */
static char *
deed_note (const BookGateDeed *deed)
{
  GString *text = g_string_new (deed->conditions);

  if (*deed->reason != '\0')
    g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", deed->reason);
  if (deed->withdrawn >= 0)
    g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", _("Withdrawn by a later one."));
  else if (deed->superseded >= 0)
    g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", _("A later one stands in its place."));
  return g_string_free (text, FALSE);
}

static const char *
who (const BookGateDeed *deed)
{
  return *deed->name != '\0' ? deed->name : deed->person;
}

static PresentSheet *
deeds_sheet (const BookGateList *list, int gate, BookRecordId record, const char *title, const char *head, char *(*words) (const BookGateDeed *))
{
  PresentSheet *sheet = present_sheet_new (title);
  const char *name = book_record (record)->name;

  present_sheet_add_column (sheet, _("on"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, _("who"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, head, FALSE, FALSE, 0);
  present_sheet_add_column (sheet, "", FALSE, TRUE, 0);
  for (guint i = list->n_deeds; i > 0; i--)
    {
      const BookGateDeed *deed = &list->deeds[i - 1];

      if (deed->record != record || deed->gate != gate)
        continue;
      present_sheet_add_row (sheet, name, deed->id, FALSE,
                             PRESENT_CELLS (g_strdup (deed->date), g_strdup (who (deed)), words (deed), deed_note (deed)));
      present_sheet_set_item (sheet, deed->id);
    }
  return sheet;
}

static PresentSheet *
waivers_sheet (const BookGateList *list)
{
  PresentSheet *sheet = present_sheet_new (_("Waivers"));

  present_sheet_add_column (sheet, _("criterion"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("on"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, _("until"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("who"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, "", FALSE, TRUE, 0);
  for (guint i = 0; i < list->n_deeds; i++)
    {
      const BookGateDeed *deed = &list->deeds[i];

      if (deed->record != BOOK_RECORD_WAIVER)
        continue;
      present_sheet_add_row (sheet, "waiver", deed->id, book_gate_deed_stands (deed),
                             PRESENT_CELLS (g_strdup (deed->code), g_strdup (deed->date), g_strdup (deed->until), g_strdup (who (deed)),
                                            deed_note (deed)));
      present_sheet_set_item (sheet, deed->id);
    }
  return sheet;
}

/* What somebody entered under another's name. A call of the command line has no name, and takes over what a file says. */
static PresentSheet *
signed_for_sheet (const BookGateList *list)
{
  PresentSheet *sheet = present_sheet_new (_("Entered by somebody else"));

  present_sheet_add_column (sheet, _("record"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("stands for it"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("entered by"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("entered on"), FALSE, TRUE, 1);
  for (guint i = 0; i < list->n_deeds; i++)
    {
      const BookGateDeed *deed = &list->deeds[i];
      const BookRecord *record = book_record (deed->record);

      if (!g_str_equal (deed->entered_by, deed->person))
        present_sheet_add_row (sheet, record->name, deed->id, TRUE,
                               PRESENT_CELLS (g_strdup_printf ("%s %d", book_record_label (record), deed->no), g_strdup (deed->person),
                                              *deed->entered_by != '\0' ? g_strdup (deed->entered_by) : g_strdup (_("nobody by name")),
                                              g_strndup (deed->entered, 10)));
    }
  return sheet;
}

/* Few codes by themselves, many as a number. */
static char *
codes_words (GPtrArray *codes)
{
  if (codes->len > 3)
    return g_strdup_printf (ngettext ("%u criterion", "%u criteria", codes->len), codes->len);
  return names_of (codes);
}

/* What is to be said of several criteria in the same words is said once; the row leads to the first of them. */
static PresentSheet *
remarks_sheet (const InsightRelease *release, const PresentStanding *standing)
{
  PresentSheet *sheet = present_sheet_new (_("What has to be known beside the figures"));
  g_autoptr(GPtrArray) sentences = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(GPtrArray) codes = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  g_autoptr(GArray) keys = g_array_new (FALSE, FALSE, sizeof (gint64));

  present_sheet_add_column (sheet, _("criterion"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, "", FALSE, TRUE, 0);
  for (guint i = 0; i < release->remarks->len; i++)
    {
      const InsightRemark *remark = &g_array_index (release->remarks, InsightRemark, i);
      const InsightCriterion *criterion = ((const PresentCriterion *) standing->criteria->pdata[remark->criterion])->data;
      char *sentence = present_reason (remark->reason, criterion->unit, criterion->decimals);
      guint at;

      if (g_ptr_array_find_with_equal_func (sentences, sentence, g_str_equal, &at))
        g_free (sentence);
      else
        {
          at = sentences->len;
          g_ptr_array_add (sentences, sentence);
          g_ptr_array_add (codes, g_ptr_array_new_null_terminated (0, g_free, TRUE));
          g_array_append_val (keys, criterion->id);
        }
      g_ptr_array_add (codes->pdata[at], g_strdup (criterion->code));
    }
  for (guint i = 0; i < sentences->len; i++)
    present_sheet_add_row (sheet, "criterion", g_array_index (keys, gint64, i), FALSE,
                           PRESENT_CELLS (codes_words (codes->pdata[i]), g_strdup (sentences->pdata[i])));
  return sheet;
}

static char *
afterwards_what (const BookAfterwards *one)
{
  if (one->field != NULL && one->n > 1)
    return g_strdup_printf (ngettext ("%s of %u reading of: %s", "%s of %u readings of: %s", one->n), book_field_label (one->field), one->n, one->code);
  if (one->field != NULL)
    return g_strdup_printf ("%s %s: %s", book_record_label (one->record), one->code, book_field_label (one->field));
  if (one->op == STORE_INSERT)
    return g_strdup_printf (_("%s %s: added"), book_record_label (one->record), one->code);
  return g_strdup_printf (_("%s %s: taken away"), book_record_label (one->record), one->code);
}

static PresentSheet *
afterwards_sheet (GPtrArray *list)
{
  PresentSheet *sheet = present_sheet_new (_("Changed after the first value was there"));

  present_sheet_add_column (sheet, _("on"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("who"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, _("what"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("before"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("after"), FALSE, FALSE, 0);
  for (guint i = 0; list != NULL && i < list->len; i++)
    {
      const BookAfterwards *one = list->pdata[i];

      present_sheet_add_row (sheet, one->op == STORE_DELETE ? NULL : one->record->name, one->op == STORE_DELETE ? 0 : one->id, FALSE,
                             PRESENT_CELLS (g_strndup (one->time, 10), g_strdup (one->person), afterwards_what (one), g_strdup (one->before),
                                            g_strdup (one->after)));
    }
  return sheet;
}

static void
gate_free (gpointer data)
{
  PresentGate *gate = data;

  g_free (gate->headline);
  g_ptr_array_unref (gate->stops);
  present_sheet_free (gate->criteria);
  present_sheet_free (gate->opinions);
  present_sheet_free (gate->decisions);
  g_free (gate);
}

static PresentGate *
gate_new (const InsightGate *data, int number, const PresentStanding *standing, const BookGateList *list)
{
  PresentGate *gate = g_new0 (PresentGate, 1);

  gate->data = data;
  gate->stops = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < data->stops->len; i++)
    g_ptr_array_add (gate->stops, stop_words (data->stops->pdata[i]));
  gate->criteria = criteria_sheet (data, standing);
  gate->opinions = deeds_sheet (list, number, BOOK_RECORD_SIGNOFF, _("Opinions"), _("opinion"), opinion_words);
  gate->decisions = deeds_sheet (list, number, BOOK_RECORD_DECISION, _("Decisions"), _("decision"), present_decision_words);
  gate->decided = number >= 0 ? book_gate_list_decision (list, (guint) number) : NULL;
  gate->headline = gate_headline (data, gate->decided);
  return gate;
}

/**
 * present_release_new:
 * @release: the gates; borrowed
 * @standing: where the model stands, in words
 * @list: what was said about the gates; borrowed
 * @afterwards: (element-type BookAfterwards) (nullable): what was changed once values were there
 *
 * Returns: (transfer full): the same in words
 */
PresentRelease *
present_release_new (const InsightRelease *release, const PresentStanding *standing, const BookGateList *list, GPtrArray *afterwards)
{
  PresentRelease *present = g_new0 (PresentRelease, 1);

  present->gates = g_ptr_array_new_with_free_func (gate_free);
  for (guint i = 0; i < release->gates->len; i++)
    {
      const InsightGate *gate = release->gates->pdata[i];
      int number = -1;

      for (guint k = 0; k < list->n_gates; k++)
        if (list->gates[k].id == gate->id)
          number = (int) k;
      g_ptr_array_add (present->gates, gate_new (gate, number, standing, list));
    }
  present->remarks = remarks_sheet (release, standing);
  present->afterwards = afterwards_sheet (afterwards);
  present->signed_for = signed_for_sheet (list);
  present->waivers = waivers_sheet (list);
  return present;
}

guint
present_release_find_gate (const PresentRelease *release, gint64 gate)
{
  guint open = G_MAXUINT;

  for (guint i = 0; i < release->gates->len; i++)
    {
      const PresentGate *one = release->gates->pdata[i];

      if (gate != 0 && one->data->id == gate)
        return i;
      if (open == G_MAXUINT && one->decided == NULL)
        open = i;
    }
  return open != G_MAXUINT ? open : release->gates->len - 1;
}

void
present_release_free (PresentRelease *present)
{
  if (present == NULL)
    return;

  g_ptr_array_unref (present->gates);
  present_sheet_free (present->remarks);
  present_sheet_free (present->afterwards);
  present_sheet_free (present->signed_for);
  present_sheet_free (present->waivers);
  g_free (present);
}

/**
 * present_release_to_text:
 * @present: the gates in words
 * @gate: which of them
 * @standing: where the model stands, in words
 * @width: in columns
 *
 * Returns: (transfer full): for a terminal
 */
char *
present_release_to_text (const PresentRelease *present, guint gate, const PresentStanding *standing, guint width)
{
  const PresentGate *shown = present->gates->pdata[gate];
  const PresentSheet *const sheets[] = { shown->criteria, present->remarks, present->afterwards, present->waivers,
                                         shown->opinions, shown->decisions, present->signed_for };
  GString *text = g_string_new (NULL);

  present_text_add (text, shown->headline, width, "", "");
  present_text_add (text, standing->span, width, "", "");
  for (guint i = 0; i < shown->stops->len; i++)
    present_text_add (text, shown->stops->pdata[i], width, "- ", "  ");
  for (guint i = 0; i < G_N_ELEMENTS (sheets); i++)
    present_sheet_add_text (sheets[i], text, width);
  g_string_append_c (text, '\n');
  present_text_add (text, standing->caution, width, "", "");
  return g_string_free (text, FALSE);
}
