/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a model stands, in words: headline, sentences by section, a row for each criterion. */

#include "config.h"

#include "present-standing.h"

#include "present-criterion.h"
#include "present-reason.h"
#include "present-text.h"

#include <glib/gi18n-lib.h>

static void
free_line (gpointer data)
{
  PresentLine *line = data;

  g_free (line->text);
  g_free (line);
}

static void
free_section (gpointer data)
{
  PresentSection *section = data;

  g_ptr_array_unref (section->lines);
  g_free (section);
}

static void
add_line (PresentSection *section, char *text, int criterion, gint64 characteristic, gint64 id)
{
  PresentLine *line = g_new0 (PresentLine, 1);

  line->text = text;
  line->criterion = criterion;
  line->characteristic = characteristic;
  line->id = id;
  g_ptr_array_add (section->lines, line);
}

/**
 * present_standing_headline:
 * @total: criteria
 * @met: of these
 * @block: of these
 * @no_safety: none is about safety
 *
 * Returns: (transfer full): '31 of 34 met, 3 block'
 */
char *
present_standing_headline (guint total, guint met, guint block, gboolean no_safety)
{
  if (total == 0)
    return g_strdup (_("No criterion yet"));
  /* Without a safety criterion nobody may read 'met' as more than it is. */
  if (no_safety)
    return g_strdup_printf (ngettext ("No safety criterion yet; %u criterion blocks",
                                      "No safety criterion yet; %u criteria block",
                                      block),
                            block);
  if (block == 0)
    return g_strdup_printf (_("%u of %u met, none blocks"), met, total);
  /* Translators: met criteria, all criteria, criteria that block; the last count decides the plural */
  return g_strdup_printf (ngettext ("%u of %u met, %u blocks", "%u of %u met, %u block", block), met, total, block);
}

static char *
span (const InsightStanding *standing)
{
  if (standing->round == 0)
    return g_strdup_printf (_("There is no round yet; as of %s."), standing->today);
  if (standing->round_open)
    return g_strdup_printf (_("Through round %s, which is open; as of %s."), standing->round_label, standing->end);
  return g_strdup_printf (_("Through round %s, which was decided on %s."), standing->round_label, standing->end);
}

static char *
score (const InsightStanding *standing)
{
  const char *const names[INSIGHT_N_CLASSES] = { _("safety"), _("function"), _("appearance") };
  g_autoptr(GString) classes = g_string_new (NULL);

  if (standing->score.percent < 0)
    return g_strdup (_("No evidence is asked for yet."));
  for (guint i = 0; i < INSIGHT_N_CLASSES; i++)
    if (standing->classes[i].percent >= 0)
      g_string_append_printf (classes,
                              "%s%s %d",
                              classes->len == 0 ? "" : ", ",
                              names[i],
                              standing->classes[i].percent);
  /* Translators: the readiness score, 0 to 100, and in brackets that of each class */
  return g_strdup_printf (_("Evidence gathered: %d of 100 (%s)"), standing->score.percent, classes->str);
}

/* The remark of the first of @codes that is among the reasons. */
static const char *
find_remark (const PresentCriterion *criterion, const InsightReasonCode *codes, guint n_codes)
{
  const GPtrArray *reasons = criterion->data->reasons;

  for (guint k = 0; k < n_codes; k++)
    for (guint i = 0; i < reasons->len; i++)
      if (((InsightReason *) reasons->pdata[i])->code == codes[k])
        return criterion->remarks->pdata[i];
  return NULL;
}

/* What keeps a criterion from being met although its figure may look good, the hardest first; else why nothing counts. */
static const char *
find_hindrance (const PresentCriterion *criterion)
{
  static const InsightReasonCode hindrances[] = {
    INSIGHT_REASON_NO_ROUND, INSIGHT_REASON_NO_CHARACTERISTIC, INSIGHT_REASON_LIMITS_MISSING,
    INSIGHT_REASON_GUARD_TOO_WIDE, INSIGHT_REASON_DISPOSITION,
    INSIGHT_REASON_SECOND_PERSON, INSIGHT_REASON_PLAN_INCOMPLETE, INSIGHT_REASON_NOT_TESTED_YET, INSIGHT_REASON_BELOW_SIX,
    INSIGHT_REASON_LOTS_THIRD, INSIGHT_REASON_COUNT_NOT_SAFETY, INSIGHT_REASON_NO_VARIATION, INSIGHT_REASON_NOT_COMPUTED,
    INSIGHT_REASON_LOTS_DECIDED, INSIGHT_REASON_RUN_DAYS, INSIGHT_REASON_NO_TARGET, INSIGHT_REASON_LIFE_CYCLES,
    INSIGHT_REASON_LIFE_SHAPE, INSIGHT_REASON_NO_TOLERANCE, INSIGHT_REASON_WAIVED
  };
  static const InsightReasonCode nothing_counts[] = {
    INSIGHT_REASON_WIDENED_SAFETY, INSIGHT_REASON_OLDER_LIMIT, INSIGHT_REASON_GAUGE_OUT, INSIGHT_REASON_OTHER_STATE,
    INSIGHT_REASON_KIND_EARLY
  };
  const char *remark = find_remark (criterion, hindrances, G_N_ELEMENTS (hindrances));

  if (remark == NULL && criterion->data->n == 0)
    return find_remark (criterion, nothing_counts, G_N_ELEMENTS (nothing_counts));
  return remark;
}

/* The name, the sentence, and what matters most beside it. */
static char *
criterion_line (const PresentCriterion *criterion)
{
  const char *remark = criterion->data->state == INSIGHT_MET ? NULL : find_hindrance (criterion);

  if (remark == NULL)
    return g_strdup_printf ("%s: %s", criterion->name, criterion->sentence);
  return g_strdup_printf ("%s: %s %s", criterion->name, criterion->sentence, remark);
}

static void
fill_criteria (PresentSection *section, PresentStanding *self)
{
  for (guint i = 0; i < self->criteria->len; i++)
    {
      const PresentCriterion *criterion = self->criteria->pdata[i];
      const InsightCriterion *data = criterion->data;
      const PresentSectionKind kind = data->state == INSIGHT_MET ? PRESENT_SECTION_MET
                                      : data->blocks             ? PRESENT_SECTION_BLOCKS
                                                                 : PRESENT_SECTION_OPEN;

      if (kind == section->kind)
        add_line (section, criterion_line (criterion), (int) i, data->characteristic, data->id);
    }
}

/* What a gap is about. */
static const char *
gap_record (InsightGapCode code)
{
  static const char *const records[INSIGHT_N_GAPS] = {
    [INSIGHT_GAP_SAFETY] = "characteristic", [INSIGHT_GAP_PART] = "part",           [INSIGHT_GAP_HAZARD] = "hazard",
    [INSIGHT_GAP_ISSUE] = "issue",           [INSIGHT_GAP_DOCUMENT] = "document",   [INSIGHT_GAP_CRITERION] = "criterion",
    [INSIGHT_GAP_CHANGE] = "revision",
  };

  return records[code];
}

static void
fill_gaps (PresentSection *section, const InsightStanding *standing)
{
  if (standing->no_safety)
    add_line (section,
              g_strdup (_("No criterion is about safety, so it cannot be said that the model is ready in this respect.")),
              -1,
              0,
              0);
  for (guint i = 0; i < standing->gaps->len; i++)
    {
      const InsightGap *gap = standing->gaps->pdata[i];
      PresentLine *line;

      add_line (section, present_gap (gap), -1, gap->code == INSIGHT_GAP_SAFETY ? gap->id : 0, gap->id);
      line = section->lines->pdata[section->lines->len - 1];
      line->record = gap_record (gap->code);
    }
}

static void
fill_steps (PresentSection *section, PresentStanding *self)
{
  const InsightStanding *standing = self->data;

  for (guint i = 0; i < standing->steps->len; i++)
    {
      const InsightStep *step = standing->steps->pdata[i];
      const PresentCriterion *criterion = self->criteria->pdata[step->criterion];
      g_autofree char *words = present_step (step, standing);

      add_line (section,
                g_strdup_printf ("%s: %s", criterion->name, words),
                (int) step->criterion,
                step->characteristic,
                criterion->data->id);
    }
  if (section->lines->len == 0 && standing->n_total == 0)
    add_line (section, g_strdup (_("Say what must be shown: give the model a gate and its first criterion.")), -1, 0, 0);
}

static const char *
heading (PresentSectionKind kind, gboolean no_safety)
{
  switch (kind)
    {
    case PRESENT_SECTION_BLOCKS:
      return _("What blocks");
    case PRESENT_SECTION_OPEN:
      return _("Not met, but not blocking");
    case PRESENT_SECTION_NOT_LOOKED_AT:
      return _("Not looked at");
    case PRESENT_SECTION_NEXT:
      return _("Next steps");
    case PRESENT_SECTION_MET:
      return no_safety ? _("Reached so far, without a safety criterion") : _("What is met");
    }
  return "";
}

static void
add_section (PresentStanding *self, PresentSectionKind kind)
{
  PresentSection *section = g_new0 (PresentSection, 1);

  section->kind = kind;
  section->heading = heading (kind, self->data->no_safety);
  section->lines = g_ptr_array_new_with_free_func (free_line);
  if (kind == PRESENT_SECTION_NOT_LOOKED_AT)
    fill_gaps (section, self->data);
  else if (kind == PRESENT_SECTION_NEXT)
    fill_steps (section, self);
  else
    fill_criteria (section, self);

  if (section->lines->len == 0)
    free_section (section);
  else
    g_ptr_array_add (self->sections, section);
}

/**
 * present_standing_new:
 * @standing: where the model stands; a reference is taken
 * @caution_added: (nullable): what the model adds to the caution
 *
 * Returns: (transfer full): the same in words
 */
PresentStanding *
present_standing_new (InsightStanding *standing, const char *caution_added)
{
  PresentStanding *self = g_new0 (PresentStanding, 1);

  self->data = insight_standing_ref (standing);
  self->headline = present_standing_headline (standing->n_total, standing->n_met, standing->n_block, standing->no_safety);
  self->span = span (standing);
  self->score = score (standing);
  self->criteria = g_ptr_array_new_with_free_func ((GDestroyNotify) present_criterion_free);
  for (guint i = 0; i < standing->criteria->len; i++)
    g_ptr_array_add (self->criteria, present_criterion_new (standing, i));

  self->sections = g_ptr_array_new_with_free_func (free_section);
  for (PresentSectionKind kind = PRESENT_SECTION_BLOCKS; kind <= PRESENT_SECTION_MET; kind++)
    add_section (self, kind);

  self->caution = present_caution_with (caution_added);
  return self;
}

void
present_standing_free (PresentStanding *self)
{
  g_ptr_array_unref (self->criteria);
  g_ptr_array_unref (self->sections);
  g_free (self->headline);
  g_free (self->span);
  g_free (self->score);
  g_free (self->caution);
  insight_standing_unref (self->data);
  g_free (self);
}

static void
append_table (GString *out, PresentStanding *self, guint width)
{
  g_autoptr(PresentTable) table = present_table_new ();
  g_autofree char *text = NULL;

  present_table_add_column (table, "", PRESENT_ALIGN_LEFT);
  present_table_add_column (table, _("criterion"), PRESENT_ALIGN_LEFT);
  present_table_add_column (table, _("limits"), PRESENT_ALIGN_LEFT);
  present_table_add_column (table, _("n"), PRESENT_ALIGN_RIGHT);
  present_table_add_column (table, _("result"), PRESENT_ALIGN_RIGHT);
  present_table_add_column (table, _("confidence"), PRESENT_ALIGN_RIGHT);
  present_table_add_column (table, _("wanted"), PRESENT_ALIGN_RIGHT);
  present_table_add_column (table, _("state"), PRESENT_ALIGN_LEFT);
  for (guint i = 0; i < self->criteria->len; i++)
    {
      const PresentCriterion *c = self->criteria->pdata[i];
      const char *const cells[] = { c->sign, c->name, c->limits, c->n, c->result, c->confidence, c->wanted, c->state };

      present_table_add_row (table, cells);
    }
  text = present_table_to_text (table, width);
  g_string_append_printf (out, "\n%s\n%s", _("Criteria"), text);
}

static void
append_remarks (GString *out, PresentStanding *self, guint width)
{
  g_string_append_printf (out, "\n%s\n", _("Figures and remarks"));
  for (guint i = 0; i < self->criteria->len; i++)
    {
      const PresentCriterion *c = self->criteria->pdata[i];

      present_text_add (out, c->name, width, "", "  ");
      present_text_add (out, c->figures, width, "  ", "    ");
      for (guint r = 0; r < c->remarks->len; r++)
        present_text_add (out, c->remarks->pdata[r], width, "  - ", "    ");
    }
}

/**
 * present_standing_to_text:
 * @self: a standing in words
 * @width: columns of the terminal
 *
 * Returns: (transfer full): sentences, then the table, then figures and remarks, then the caution
 */
char *
present_standing_to_text (PresentStanding *self, guint width)
{
  GString *out = g_string_new (NULL);
  g_autofree char *title = g_strdup_printf ("%s %s", self->data->model_code, self->data->model_name);

  present_text_add (out, title, width, "", "  ");
  present_text_add (out, self->headline, width, "", "  ");
  present_text_add (out, self->score, width, "", "  ");
  present_text_add (out, self->span, width, "", "  ");
  for (guint i = 0; i < self->sections->len; i++)
    {
      const PresentSection *section = self->sections->pdata[i];

      g_string_append_printf (out, "\n%s\n", section->heading);
      for (guint l = 0; l < section->lines->len; l++)
        present_text_add (out, ((PresentLine *) section->lines->pdata[l])->text, width, "- ", "  ");
    }
  if (self->criteria->len > 0)
    {
      append_table (out, self, width);
      append_remarks (out, self, width);
    }
  g_string_append_c (out, '\n');
  present_text_add (out, self->caution, width, "", "");
  return g_string_free (out, FALSE);
}
