/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart-private.h"

#include <math.h>

#define REACH 9.0     /* how far from a mark a pointer still finds it */
#define LEAST 40.0    /* below this width or height nothing is drawn */
#define MOST  32000.0 /* nor beyond this */

/* A chart of @kind without marks' texts yet; takes over @data, which @kind clears and frees. */
Chart *
chart_new (const ChartKind *kind, gpointer data, guint n_marks)
{
  Chart *chart = g_new0 (Chart, 1);

  chart->kind = kind;
  chart->data = data;
  chart->strings = g_string_chunk_new (1024);
  chart->n_marks = n_marks;
  chart->keys = g_new0 (gint64, MAX (n_marks, 1));
  chart->words = g_new0 (const char *, MAX (n_marks, 1));
  chart->rounds = g_new0 (guint, MAX (n_marks, 1));
  chart->order = g_new (guint, MAX (n_marks, 1));
  chart->place = g_new (guint, MAX (n_marks, 1));
  chart->focus = -1;
  return chart;
}

/**
 * chart_free:
 * @chart: (nullable) (transfer full): a chart
 *
 * Frees a chart and its copy of the data.
 */
void
chart_free (Chart *chart)
{
  if (chart == NULL)
    return;

  chart->kind->clear (chart->data);
  chart_scene_free (chart->scene);
  chart_texts_free (chart->texts);
  g_string_chunk_free (chart->strings);
  g_free (chart->keys);
  g_free (chart->words);
  g_free (chart->rounds);
  g_free (chart->order);
  g_free (chart->place);
  g_free (chart->chosen);
  g_free (chart->sans);
  g_free (chart->serif);
  g_free (chart->title);
  g_free (chart->created);
  g_free (chart);
}

/* A copy of @text that lives as long as the chart; %NULL for none. */
const char *
chart_keep (Chart *chart, const char *text)
{
  return text != NULL ? g_string_chunk_insert (chart->strings, text) : NULL;
}

void
chart_set_mark (Chart *chart, guint mark, guint round, gint64 key, const char *words)
{
  chart->rounds[mark] = round;
  chart->keys[mark] = key;
  chart->words[mark] = chart_keep (chart, words);
}

/* Puts the marks in order of their rounds, within a round as they were given. Rounds are counted, not sorted.
 */
void
chart_order_marks (Chart *chart, guint n_rounds)
{
  g_autofree guint *next = g_new0 (guint, n_rounds + 1);

  for (guint i = 0; i < chart->n_marks; i++)
    if (chart->rounds[i] < n_rounds)
      next[chart->rounds[i] + 1]++;
  for (guint r = 0; r < n_rounds; r++)
    next[r + 1] += next[r];
  for (guint i = 0; i < chart->n_marks; i++)
    {
      chart->place[i] = next[chart->rounds[i]]++;
      chart->order[chart->place[i]] = i;
    }
}

/* The layout no longer holds. */
void
chart_changed (Chart *chart)
{
  g_clear_pointer (&chart->scene, chart_scene_free);
}

static gboolean
still_holds (Chart *chart, double width, double height, const ChartTheme *theme)
{
  return chart->scene != NULL && chart->scene->width == width && chart->scene->height == height
         && chart->size == theme->size && g_strcmp0 (chart->sans, theme->sans) == 0
         && g_strcmp0 (chart->serif, theme->serif) == 0;
}

/**
 * chart_layout:
 * @chart: a chart
 * @width: of the drawing; anything, also 0
 * @height: of the drawing
 * @theme: fonts
 *
 * Lays the chart out for a size, unless it is so already. chart_draw() does this itself; call it where marks
 * are asked for before the first drawing. Below 40 dots in either direction the layout is empty.
 */
void
chart_layout (Chart *chart, double width, double height, const ChartTheme *theme)
{
  g_return_if_fail (chart != NULL);
  g_return_if_fail (theme != NULL);

  if (still_holds (chart, width, height, theme))
    return;

  chart_changed (chart);
  chart->scene = chart_scene_new (width, height, theme, chart->n_marks);
  chart->size = theme->size;
  g_free (chart->sans);
  chart->sans = g_strdup (theme->sans);
  g_free (chart->serif);
  chart->serif = g_strdup (theme->serif);
  if (width >= LEAST && height >= LEAST && width <= MOST && height <= MOST)
    chart->kind->lay (chart, chart->scene);
  chart->scene->theme = NULL; /* the caller's; laid out is laid out */
}

/**
 * chart_draw:
 * @chart: a chart
 * @cr: where to draw, from (0, 0)
 * @width: of the drawing
 * @height: of the drawing
 * @theme: colours and fonts
 *
 * Draws the chart. It paints no ground: the page or the sheet below is the caller's. Everything lies within the
 * size.
 */
void
chart_draw (Chart *chart, cairo_t *cr, double width, double height, const ChartTheme *theme)
{
  g_return_if_fail (chart != NULL);
  g_return_if_fail (cr != NULL);
  g_return_if_fail (theme != NULL);

  chart_layout (chart, width, height, theme);
  chart_ink_paint (chart->scene, cr, theme);
  if (chart->n_chosen > 0)
    chart_ink_choice (chart->scene, cr, theme, chart->chosen);
  if (chart->focus >= 0)
    chart_ink_focus (chart->scene, cr, theme, (guint) chart->focus);
}

/**
 * chart_own_height:
 * @chart: a chart
 * @theme: fonts
 *
 * Returns: the height in which all of it has room, where its kind has one (rows, effects, the strip); 0 for a kind that
 *   fills any height
 */
double
chart_own_height (Chart *chart, const ChartTheme *theme)
{
  g_return_val_if_fail (chart != NULL && theme != NULL, 0.0);

  return chart->height != NULL ? chart->height (chart, theme) : 0.0;
}

/**
 * chart_layout_dump:
 * @chart: a chart
 *
 * Returns: (transfer full): the layout as text, an item a line; empty before the first layout
 */
char *
chart_layout_dump (Chart *chart)
{
  g_return_val_if_fail (chart != NULL, g_strdup (""));

  return chart->scene != NULL ? chart_scene_dump (chart->scene) : g_strdup ("");
}

/**
 * chart_count_marks:
 * @chart: a chart
 *
 * Returns: how many marks (readings, rounds) it was given
 */
guint
chart_count_marks (Chart *chart)
{
  g_return_val_if_fail (chart != NULL, 0);

  return chart->n_marks;
}

/**
 * chart_hit:
 * @chart: a chart that was laid out
 * @x: a place
 * @y: a place
 *
 * Finds the mark at a place: the block that holds it, or the nearest mark within a few dots.
 *
 * Returns: the mark, or -1
 */
int
chart_hit (Chart *chart, double x, double y)
{
  int found = -1;
  double nearest = REACH * REACH;

  g_return_val_if_fail (chart != NULL, -1);

  if (chart->scene == NULL || !(x >= 0.0 && y >= 0.0 && x <= chart->scene->width && y <= chart->scene->height))
    return -1;

  for (guint i = 0; i < chart->scene->n_spots; i++)
    {
      const ChartSpot *spot = &chart->scene->spots[i];
      double dx = MAX (fabs (x - spot->x) - spot->half_width, 0.0);
      double dy = MAX (fabs (y - spot->y) - spot->half_height, 0.0);
      double far = dx * dx + dy * dy;

      if (chart->scene->blocks ? far == 0.0 : far < nearest) /* false where a spot is NAN */
        {
          nearest = far;
          found = (int) i;
        }
    }
  return found;
}

static gboolean
is_shown (Chart *chart, guint mark)
{
  return chart->scene == NULL || !isnan (chart->scene->spots[mark].x);
}

/* From @place on in @direction to the first mark that is shown; -1 when there is none. */
static int
walk (Chart *chart, gint64 place, int direction)
{
  for (; place >= 0 && place < chart->n_marks; place += direction)
    if (is_shown (chart, chart->order[place]))
      return (int) chart->order[place];
  return -1;
}

static int
walk_rounds (Chart *chart, guint from, int direction)
{
  gint64 place = chart->place[from];
  guint round = chart->rounds[from];
  int found;

  while (place >= 0 && place < chart->n_marks
         && (chart->rounds[chart->order[place]] == round || !is_shown (chart, chart->order[place])))
    place += direction;
  if (place < 0 || place >= chart->n_marks || direction > 0)
    return walk (chart, place, direction);

  /* Backwards this is the last mark of the round before: go on to its first. */
  round = chart->rounds[chart->order[place]];
  found = (int) chart->order[place];
  for (; place >= 0 && chart->rounds[chart->order[place]] == round; place--)
    if (is_shown (chart, chart->order[place]))
      found = (int) chart->order[place];
  return found;
}

/**
 * chart_step:
 * @chart: a chart
 * @from: the present mark, or -1 for none yet
 * @step: where to
 *
 * Walks the marks as the arrow keys do. At an end it stays; from nowhere it goes to the last mark, since the
 * newest is what one looks for (to the first with %CHART_STEP_FIRST, and where the worst stands first).
 *
 * Returns: the mark, or -1 when there is none to be seen
 */
int
chart_step (Chart *chart, int from, ChartStep step)
{
  int found = -1;

  g_return_val_if_fail (chart != NULL, -1);

  if (step == CHART_STEP_FIRST)
    return walk (chart, 0, 1);
  if (from < 0 && step != CHART_STEP_LAST && chart->worst_first)
    return walk (chart, 0, 1);
  if (step == CHART_STEP_LAST || from < 0 || (guint) from >= chart->n_marks)
    return walk (chart, (gint64) chart->n_marks - 1, -1);

  switch (step)
    {
    case CHART_STEP_NEXT:
      found = walk (chart, (gint64) chart->place[from] + 1, 1);
      break;
    case CHART_STEP_PREVIOUS:
      found = walk (chart, (gint64) chart->place[from] - 1, -1);
      break;
    case CHART_STEP_NEXT_ROUND:
      found = walk_rounds (chart, (guint) from, 1);
      break;
    case CHART_STEP_PREVIOUS_ROUND:
      found = walk_rounds (chart, (guint) from, -1);
      break;
    case CHART_STEP_FIRST:
    case CHART_STEP_LAST:
      break;
    }
  return found >= 0 ? found : from;
}

/**
 * chart_find_key:
 * @chart: a chart
 * @key: a key that was given with a mark
 *
 * Returns: the first mark with this key, or -1
 */
int
chart_find_key (Chart *chart, gint64 key)
{
  g_return_val_if_fail (chart != NULL, -1);

  for (guint i = 0; i < chart->n_marks; i++)
    if (chart->keys[i] == key)
      return (int) i;
  return -1;
}

/**
 * chart_mark_position:
 * @chart: a chart that was laid out
 * @mark: a mark
 * @x: (out): its middle
 * @y: (out): its middle
 *
 * Returns: whether the mark is drawn
 */
gboolean
chart_mark_position (Chart *chart, int mark, double *x, double *y)
{
  g_return_val_if_fail (chart != NULL, FALSE);

  if (chart->scene == NULL || mark < 0 || (guint) mark >= chart->n_marks || isnan (chart->scene->spots[mark].x))
    return FALSE;
  *x = chart->scene->spots[mark].x;
  *y = chart->scene->spots[mark].y;
  return TRUE;
}

/**
 * chart_mark_text:
 * @chart: a chart
 * @mark: a mark
 *
 * Returns: (nullable) (transfer none): the words that were given with it
 */
const char *
chart_mark_text (Chart *chart, int mark)
{
  g_return_val_if_fail (chart != NULL, NULL);

  return mark >= 0 && (guint) mark < chart->n_marks ? chart->words[mark] : NULL;
}

/**
 * chart_mark_key:
 * @chart: a chart
 * @mark: a mark
 *
 * Returns: the key that was given with it; 0 for no such mark
 */
gint64
chart_mark_key (Chart *chart, int mark)
{
  g_return_val_if_fail (chart != NULL, 0);

  return mark >= 0 && (guint) mark < chart->n_marks ? chart->keys[mark] : 0;
}

/**
 * chart_set_focus:
 * @chart: a chart
 * @mark: a mark, or -1 for none
 *
 * Chooses the mark that is drawn with a ring (in the strip: an outline).
 */
void
chart_set_focus (Chart *chart, int mark)
{
  g_return_if_fail (chart != NULL);

  chart->focus = mark >= 0 && (guint) mark < chart->n_marks ? mark : -1;
}

/**
 * chart_get_focus:
 * @chart: a chart
 *
 * Returns: the mark with the ring, or -1
 */
int
chart_get_focus (Chart *chart)
{
  g_return_val_if_fail (chart != NULL, -1);

  return chart->focus;
}
