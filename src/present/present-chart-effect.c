/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What changes did, as a drawing. */

#include "config.h"

#include "present-compare.h"

#include "chart-effect.h"
#include "present-chart.h"
#include "present-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>

typedef struct
{
  GPtrArray *texts; /* owned, until the chart has made its copies */
  GPtrArray *units; /* arrays of ChartEffectUnit */
} Making;

static gboolean
is_share (const InsightEffect *effect)
{
  return effect->kind == BOOK_CHARACTERISTIC_CHECKED || effect->method == INSIGHT_EFFECT_SHARES;
}

static const char *
unit_words (Making *making, const InsightEffect *effect, const InsightEffectUnit *unit)
{
  g_autofree char *value = present_value (unit->value, effect->decimals, effect->unit);

  if (unit->mark == BOOK_MARK_ABOVE || unit->mark == BOOK_MARK_BELOW)
    g_ptr_array_add (making->texts, g_strdup_printf (unit->mark == BOOK_MARK_ABOVE ? _("%s: above %s, %s") : _("%s: below %s, %s"),
                                                     unit->serial, value, unit->date));
  else
    g_ptr_array_add (making->texts, g_strdup_printf ("%s: %s, %s", unit->serial, value, unit->date));
  return making->texts->pdata[making->texts->len - 1];
}

static ChartEffectSide
make_side (Making *making, const InsightEffect *effect, const InsightEffectGroup *group, const char *figure)
{
  ChartEffectSide side = { group->label, figure, group->mean, NULL, 0 };
  ChartEffectUnit *units;

  if (is_share (effect))
    {
      side.mean = group->n > 0 ? (double) group->failed / group->n : (double) NAN;
      return side;
    }
  units = g_new0 (ChartEffectUnit, group->n + 1);
  for (guint i = 0; i < group->n; i++)
    units[i] = (ChartEffectUnit){ group->units[i].value,
                                  group->units[i].verdict == INSIGHT_OUTSIDE || group->units[i].verdict == INSIGHT_UNDECIDABLE,
                                  group->units[i].reading, unit_words (making, effect, &group->units[i]) };
  g_ptr_array_add (making->units, units);
  side.units = units;
  side.n = group->n;
  return side;
}

/* A row an effect, as the page has it. */
static Chart *
say (Chart *chart, const PresentComparison *present)
{
  g_autoptr(PresentSheet) sheet = present_sheet_new (present->title);

  present_sheet_add_column (sheet, _("Characteristic"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("Compared"), FALSE, FALSE, 1);
  present_sheet_add_column (sheet, present->before_head, TRUE, FALSE, 0);
  present_sheet_add_column (sheet, present->after_head, TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("Difference"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("95 % interval"), TRUE, FALSE, 0);
  present_sheet_add_column (sheet, _("What may be said"), FALSE, TRUE, 0);
  for (guint i = 0; i < present->effects->len; i++)
    {
      const PresentEffect *words = present->effects->pdata[i];

      present_sheet_add_row (sheet, NULL, 0, FALSE,
                             PRESENT_CELLS (g_strdup (words->name), g_strdup (words->way), g_strdup (words->before),
                                            g_strdup (words->after), g_strdup (words->difference), g_strdup (words->interval),
                                            g_strdup (words->sentence)));
    }
  return present_chart_say (chart, present->headline, sheet);
}

/**
 * present_chart_effect:
 * @present: a comparison in words
 * @with_title: whether the heading stands on the drawing
 *
 * Marks have the key of the characteristic (the difference) or of the reading that decided (a unit).
 *
 * Returns: (transfer full): a row for each effect, in their order
 */
Chart *
present_chart_effect (const PresentComparison *present, gboolean with_title)
{
  g_autoptr(GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(GPtrArray) units = g_ptr_array_new_with_free_func (g_free);
  Making making = { texts, units };
  g_autofree ChartEffectRow *rows = g_new0 (ChartEffectRow, present->effects->len + 1);
  const ChartEffect data = { .title = with_title ? present->title : NULL,
                             .legend = _("old units above, new ones below, then the difference with its 95 % interval"),
                             .empty = _("Nothing was measured that depends on what changed."),
                             .rows = rows, .n_rows = present->effects->len };

  for (guint i = 0; i < present->effects->len; i++)
    {
      const PresentEffect *words = present->effects->pdata[i];
      const InsightEffect *effect = words->data;

      rows[i].name = words->name;
      rows[i].note = words->way;
      rows[i].before = make_side (&making, effect, &effect->before, words->before);
      rows[i].after = make_side (&making, effect, &effect->after, words->after);
      rows[i].low = effect->low;
      rows[i].high = effect->high;
      rows[i].told_apart = effect->told_apart;
      rows[i].key = effect->characteristic;
      rows[i].words = words->sentence;
      if (*words->difference != '\0')
        {
          g_ptr_array_add (texts, *words->interval == '\0' ? g_strdup_printf (_("%s, no interval"), words->difference)
                                                           : g_strdup_printf ("%s (%s)", words->difference, words->interval));
          rows[i].figure = texts->pdata[texts->len - 1];
        }
    }
  return say (chart_effect_new (&data), present);
}
