/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart-choice.h"

#include "chart-private.h"

#include <math.h>

static gboolean
is_mark (Chart *chart, int mark)
{
  return mark >= 0 && (guint) mark < chart->n_marks;
}

/**
 * chart_choice_has:
 * @chart: a chart
 * @mark: a mark
 *
 * Returns: whether it is chosen
 */
gboolean
chart_choice_has (Chart *chart, int mark)
{
  g_return_val_if_fail (chart != NULL, FALSE);

  return chart->chosen != NULL && is_mark (chart, mark) && chart->chosen[mark];
}

/**
 * chart_choice_count:
 * @chart: a chart
 *
 * Returns: how many marks are chosen
 */
guint
chart_choice_count (Chart *chart)
{
  g_return_val_if_fail (chart != NULL, 0);

  return chart->n_chosen;
}

/**
 * chart_choice_set:
 * @chart: a chart
 * @mark: a mark; others are not looked at
 * @chosen: whether it is chosen from now on
 */
void
chart_choice_set (Chart *chart, int mark, gboolean chosen)
{
  g_return_if_fail (chart != NULL);

  if (!is_mark (chart, mark) || chart_choice_has (chart, mark) == (chosen != FALSE))
    return;
  if (chart->chosen == NULL)
    chart->chosen = g_new0 (guint8, chart->n_marks);
  chart->chosen[mark] = chosen != FALSE;
  if (chosen)
    chart->n_chosen++;
  else
    chart->n_chosen--;
}

/**
 * chart_choice_clear:
 * @chart: a chart
 *
 * Returns: whether any mark was chosen
 */
gboolean
chart_choice_clear (Chart *chart)
{
  gboolean any;

  g_return_val_if_fail (chart != NULL, FALSE);

  any = chart->n_chosen > 0;
  g_clear_pointer (&chart->chosen, g_free);
  chart->n_chosen = 0;
  return any;
}

static gboolean
is_shown (Chart *chart, guint mark)
{
  return chart->scene == NULL || !isnan (chart->scene->spots[mark].x);
}

/**
 * chart_choice_between:
 * @chart: a chart
 * @from: a mark
 * @to: another, before or after it
 *
 * Chooses both and all that are drawn between them, in the order in which keys walk the marks.
 */
void
chart_choice_between (Chart *chart, int from, int to)
{
  guint first, last;

  g_return_if_fail (chart != NULL);

  if (!is_mark (chart, from) || !is_mark (chart, to))
    return;
  first = chart->place[from];
  last = chart->place[to];
  if (first > last)
    {
      first = chart->place[to];
      last = chart->place[from];
    }
  for (guint i = first; i <= last; i++)
    if (is_shown (chart, chart->order[i]))
      chart_choice_set (chart, (int) chart->order[i], TRUE);
}

/**
 * chart_choice_box:
 * @chart: a chart that was laid out
 * @x0: a corner
 * @y0: likewise
 * @x1: the corner across
 * @y1: likewise
 *
 * Chooses the marks whose middle lies within.
 *
 * Returns: how many lie within
 */
guint
chart_choice_box (Chart *chart, double x0, double y0, double x1, double y1)
{
  const double left = MIN (x0, x1), right = MAX (x0, x1), top = MIN (y0, y1), bottom = MAX (y0, y1);
  guint n = 0;

  g_return_val_if_fail (chart != NULL, 0);

  for (guint i = 0; chart->scene != NULL && i < chart->n_marks; i++)
    {
      const ChartSpot *spot = &chart->scene->spots[i];

      if (!(spot->x >= left && spot->x <= right && spot->y >= top && spot->y <= bottom)) /* also where a spot is NAN */
        continue;
      chart_choice_set (chart, (int) i, TRUE);
      n++;
    }
  return n;
}

/**
 * chart_choice_keys:
 * @chart: a chart
 *
 * Returns: (transfer full) (element-type gint64): keys of the chosen marks, in the order in which keys walk them
 */
GArray *
chart_choice_keys (Chart *chart)
{
  GArray *keys = g_array_new (FALSE, FALSE, sizeof (gint64));

  g_return_val_if_fail (chart != NULL, keys);

  for (guint i = 0; chart->n_chosen > 0 && i < chart->n_marks; i++)
    if (chart->chosen[chart->order[i]])
      g_array_append_val (keys, chart->keys[chart->order[i]]);
  return keys;
}

/**
 * chart_choice_take:
 * @chart: a new drawing
 * @from: the one before
 *
 * Chooses the marks of the same keys as those that are chosen in @from.
 */
void
chart_choice_take (Chart *chart, Chart *from)
{
  g_autoptr(GHashTable) keys = NULL;

  g_return_if_fail (chart != NULL && from != NULL);

  if (from->n_chosen == 0)
    return;
  keys = g_hash_table_new (g_int64_hash, g_int64_equal);
  for (guint i = 0; i < from->n_marks; i++)
    if (from->chosen[i])
      g_hash_table_add (keys, &from->keys[i]);
  for (guint i = 0; i < chart->n_marks; i++)
    if (g_hash_table_contains (keys, &chart->keys[i]))
      chart_choice_set (chart, (int) i, TRUE);
}
