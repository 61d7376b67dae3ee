/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-letter-private.h"

#include "chart-effect.h"

#include <glib/gi18n-lib.h>

/*
 * What the readings say: the dots of both rounds, then a sentence for each characteristic. Those about safety come first,
 * then those that can be told apart; the rest is said to be left out, by name.
 */

#define PLACE_LEAST  60.0
#define CHART_FULL   400.0 /* points */
#define CHART_FOOT   24.0  /* dots below the last mark */

static int
compare_effects (gconstpointer a, gconstpointer b)
{
  const PresentEffect *one = *(PresentEffect *const *) a;
  const PresentEffect *other = *(PresentEffect *const *) b;
  gboolean one_safety = one->data->klass == BOOK_CLASS_SAFETY, other_safety = other->data->klass == BOOK_CLASS_SAFETY;

  if (one_safety != other_safety)
    return one_safety ? -1 : 1;
  if (one->data->told_apart != other->data->told_apart)
    return one->data->told_apart ? -1 : 1;
  return g_strcmp0 (one->data->code, other->data->code);
}

/* In the order in which they are told, and by names that say something outside the shop. */
void
letter_order_effects (PresentComparison *comparison)
{
  g_ptr_array_sort (comparison->effects, compare_effects);
  for (guint i = 0; i < comparison->effects->len; i++)
    {
      PresentEffect *effect = comparison->effects->pdata[i];

      g_free (effect->name);
      /* Translators: a characteristic, and the round in which two groups of units are compared */
      effect->name = effect->data->way == INSIGHT_EFFECT_SPLIT
                       ? g_strdup_printf (_("%s, within %s"), effect->data->name, effect->data->round_label)
                       : g_strdup (effect->data->name);
    }
}

/* How many effects have this remark. */
static guint
count_remark (GPtrArray *effects, const char *remark)
{
  guint n = 0;

  for (guint i = 0; i < effects->len; i++)
    n += g_ptr_array_find_with_equal_func (((PresentEffect *) effects->pdata[i])->remarks, remark, g_str_equal, NULL);
  return n;
}

/* What has to be said beside most effects is said once, for all. */
static gboolean
is_common (GPtrArray *effects, const char *remark)
{
  return effects->len >= 3 && count_remark (effects, remark) * 2 > effects->len;
}

static void
set_effect (const Letter *letter, PaperFlow *flow, const PresentEffect *effect, GPtrArray *effects)
{
  g_autofree char *name = g_strdup_printf ("%s %s", effect->sign, effect->name);
  g_autofree char *head = letter_sentence (letter, name);
  g_autofree char *sentence = letter_sentence (letter, effect->sentence);

  paper_flow_need (flow, PLACE_LEAST);
  paper_flow_paragraph (flow, PAPER_TEXT_STRONG, PAPER_INK, 0.0, head);
  paper_flow_space (flow, -4.0);
  paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, sentence);
  for (guint i = 0; i < effect->remarks->len; i++)
    {
      g_autofree char *remark = NULL;

      if (is_common (effects, effect->remarks->pdata[i]))
        continue;
      remark = letter_sentence (letter, effect->remarks->pdata[i]);
      paper_flow_space (flow, -3.0);
      paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_FAINT, 10.0, remark);
    }
}

static void
set_common_remarks (const Letter *letter, PaperFlow *flow, GPtrArray *effects)
{
  g_autoptr(GHashTable) said = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < effects->len; i++)
    {
      const PresentEffect *effect = effects->pdata[i];

      for (guint j = 0; j < effect->remarks->len; j++)
        {
          g_autofree char *remark = NULL;
          g_autofree char *told = NULL;

          if (!is_common (effects, effect->remarks->pdata[j]) || !g_hash_table_add (said, effect->remarks->pdata[j]))
            continue;
          remark = letter_sentence (letter, effect->remarks->pdata[j]);
          /* Translators: %s is a whole sentence that holds for most of the comparisons above */
          told = g_strdup_printf (_("In most of these comparisons: %s"), remark);
          paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_FAINT, 0.0, told);
        }
    }
}

/* Which characteristics nothing can be said about, and what else belongs to the whole. */
static void
set_notes (const Letter *letter, PaperFlow *flow)
{
  for (guint i = 0; i < letter->comparison->notes->len; i++)
    {
      g_autofree char *note = letter_sentence (letter, letter->comparison->notes->pdata[i]);

      paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_FAINT, 0.0, note);
    }
}

/*
 * How tall the drawing is, in points. Rows with all their figures when these take no more than a good half of a page, else the
 * plainer rows that a chart chooses by itself when it has less room; where these end is told by their marks.
 */
static double
chart_height (Chart *chart, double width)
{
  const ChartTheme *theme = chart_theme (CHART_LOOK_PRINT);
  double height = chart_effect_height (chart, theme) * PAPER_POINTS_A_DOT;
  double lowest = 0.0, x, y;

  if (height <= CHART_FULL)
    return height;
  chart_layout (chart, width / PAPER_POINTS_A_DOT, CHART_FULL / PAPER_POINTS_A_DOT, theme);
  for (guint i = 0; i < chart_count_marks (chart); i++)
    if (chart_mark_position (chart, (int) i, &x, &y))
      lowest = MAX (lowest, y);
  return MIN ((lowest + CHART_FOOT) * PAPER_POINTS_A_DOT, CHART_FULL);
}

static void
set_left_out (PaperFlow *flow, const GPtrArray *effects, guint first)
{
  g_autoptr(GString) names = g_string_new (NULL);
  g_autofree char *sentence = NULL;

  for (guint i = first; i < effects->len; i++)
    g_string_append_printf (names, "%s%s (%s)", i > first ? ", " : "", ((PresentEffect *) effects->pdata[i])->name,
                            ((PresentEffect *) effects->pdata[i])->told);
  if (names->len == 0)
    return;
  sentence = g_strdup_printf (_("Compared too, and without words here for want of room: %s."), names->str);
  paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, sentence);
}

void
letter_set_effects (const Letter *letter, PaperFlow *flow, const LetterMeasure *measure)
{
  GPtrArray *effects = letter->comparison->effects;
  PaperFigure figure = { 0 };

  if (effects->len > 0)
    {
      figure.chart = present_chart_effect (letter->comparison, FALSE);
      figure.height = chart_height (figure.chart, paper_flow_width (flow));
    }
  paper_flow_heading (flow, 1, _("What the readings say"), "readings", MAX (figure.height, PLACE_LEAST));
  if (figure.chart != NULL)
    paper_flow_figures (flow, &figure, 1, 1);
  else
    paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0,
                          _("No characteristic that depends on what changed was read in both rounds, so there is nothing to compare."));
  for (guint i = 0; i < effects->len && i < measure->effects; i++)
    set_effect (letter, flow, effects->pdata[i], effects);
  set_left_out (flow, effects, MIN (measure->effects, effects->len));
  set_common_remarks (letter, flow, effects);
  set_notes (letter, flow);
}
