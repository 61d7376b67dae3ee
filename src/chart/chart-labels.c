/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart-labels.h"

#include <math.h>
#include <string.h>

typedef struct
{
  guint first; /* of the labels in order */
  guint n;
  double length; /* of all its labels with the gaps between them */
  double sum;    /* of where the block's start should be, over its labels */
} Block;

static int
compare_wanted (gconstpointer a, gconstpointer b, gpointer labels)
{
  const ChartLabel *one = (const ChartLabel *) labels + *(const guint *) a;
  const ChartLabel *other = (const ChartLabel *) labels + *(const guint *) b;

  if (one->wanted != other->wanted)
    return one->wanted < other->wanted ? -1 : 1;
  return *(const guint *) a < *(const guint *) b ? -1 : 1;
}

static double
block_start (const Block *block, double low, double high)
{
  return CLAMP (block->sum / block->n, low, MAX (low, high - block->length));
}

/* Leaves out the last of the highest rank until the rest fits. Returns how many are left, their indices in
 * @order. */
static guint
choose (ChartLabel *labels, guint n, double room, double gap, guint *order)
{
  guint kept = n;
  double length = 0.0;

  for (guint i = 0; i < n; i++)
    {
      order[i] = i;
      length += labels[i].size + (i > 0 ? gap : 0.0);
    }
  while (kept > 0 && length > room)
    {
      guint worst = 0;

      for (guint i = 1; i < kept; i++)
        if (labels[order[i]].rank >= labels[order[worst]].rank)
          worst = i;
      length -= labels[order[worst]].size + (kept > 1 ? gap : 0.0);
      labels[order[worst]].placed = FALSE;
      memmove (order + worst, order + worst + 1, (kept - worst - 1) * sizeof *order);
      kept--;
    }
  return kept;
}

/**
 * chart_labels_spread:
 * @labels: (array length=n): labels; @at and @placed are set
 * @n: how many
 * @low: where the line begins
 * @high: where it ends
 * @gap: least distance between two labels
 *
 * Places labels along a line, each as near as possible to where it should be, in the order of these places,
 * none on another and all inside the ends. What does not fit is left out by rank. Method: labels that touch are
 * pooled to a block whose place is the mean of what its labels want (the pool-adjacent-violators idea of
 * isotonic regression).
 */
void
chart_labels_spread (ChartLabel *labels, guint n, double low, double high, double gap)
{
  g_autofree guint *order = g_new (guint, MAX (n, 1));
  g_autofree Block *blocks = g_new (Block, MAX (n, 1));
  guint kept = choose (labels, n, high - low, gap, order);
  guint n_blocks = 0;

  g_qsort_with_data (order, (int) kept, sizeof *order, compare_wanted, labels);
  for (guint i = 0; i < kept; i++)
    {
      const ChartLabel *label = &labels[order[i]];
      Block block = { i, 1, label->size, label->wanted - label->size / 2.0 };

      while (n_blocks > 0)
        {
          const Block *before = &blocks[n_blocks - 1];

          if (block_start (before, low, high) + before->length + gap <= block_start (&block, low, high))
            break;
          /* The later labels' starts lie the earlier block's length further: take that off before averaging. */
          block.sum = before->sum + block.sum - block.n * (before->length + gap);
          block.length += before->length + gap;
          block.first = before->first;
          block.n += before->n;
          n_blocks--;
        }
      blocks[n_blocks++] = block;
    }

  for (guint b = 0; b < n_blocks; b++)
    {
      double at = block_start (&blocks[b], low, high);

      for (guint i = 0; i < blocks[b].n; i++)
        {
          ChartLabel *label = &labels[order[blocks[b].first + i]];

          label->at = at + label->size / 2.0;
          label->placed = TRUE;
          at += label->size + gap;
        }
    }
}

static gboolean
fits (const ChartLabel *labels, guint n, double gap)
{
  double end = -INFINITY;

  for (guint i = 0; i < n; i++)
    {
      if (!labels[i].placed)
        continue;
      if (labels[i].at - labels[i].size / 2.0 < end + gap)
        return FALSE;
      end = labels[i].at + labels[i].size / 2.0;
    }
  return TRUE;
}

/**
 * chart_labels_thin:
 * @labels: (array length=n): labels in rising order of @wanted; @at and @placed are set
 * @n: how many
 * @low: where the line begins
 * @high: where it ends
 * @gap: least distance between two labels
 * @keep: one that should stay, or -1
 *
 * Labels that must stay at their places (of columns): every one, or every second, third … counted from the
 * last, until none lies on another. A label that would reach over an end is moved inside; one wider than the
 * line is left out.
 */
void
chart_labels_thin (ChartLabel *labels, guint n, double low, double high, double gap, int keep)
{
  for (guint i = 0; i < n; i++)
    labels[i].at = CLAMP (labels[i].wanted,
                          low + labels[i].size / 2.0,
                          MAX (low + labels[i].size / 2.0, high - labels[i].size / 2.0));

  for (guint stride = 1; stride <= MAX (n, 1); stride++)
    {
      for (guint i = 0; i < n; i++)
        labels[i].placed = (n - 1 - i) % stride == 0 && labels[i].size <= high - low;
      if (fits (labels, n, gap))
        break;
    }

  if (keep < 0 || (guint) keep >= n || labels[keep].placed || labels[keep].size > high - low)
    return;
  labels[keep].placed = TRUE;
  for (guint i = 0; i < n; i++)
    if (i != (guint) keep
        && fabs (labels[i].at - labels[keep].at) < (labels[i].size + labels[keep].size) / 2.0 + gap)
      labels[i].placed = FALSE;
}

/**
 * chart_labels_pick:
 * @labels: (array length=n): labels in any order; @at and @placed are set
 * @n: how many, some dozens
 * @low: where the line begins
 * @high: where it ends
 * @gap: least distance between two labels
 *
 * Labels that must stay at their places, where these are uneven (of a logarithmic scale): those of the lowest rank first,
 * the others where there is still room between them. What would reach over an end is left out.
 */
void
chart_labels_pick (ChartLabel *labels, guint n, double low, double high, double gap)
{
  guint last = 0;

  for (guint i = 0; i < n; i++)
    {
      labels[i].at = labels[i].wanted;
      labels[i].placed = FALSE;
      last = MAX (last, labels[i].rank);
    }
  for (guint rank = 0; rank <= last; rank++)
    for (guint i = 0; i < n; i++)
      {
        double half = labels[i].size / 2.0;
        gboolean room = labels[i].rank == rank && labels[i].at - half >= low && labels[i].at + half <= high;

        for (guint k = 0; room && k < n; k++)
          room = !labels[k].placed || fabs (labels[k].at - labels[i].at) >= half + labels[k].size / 2.0 + gap;
        labels[i].placed = labels[i].placed || room;
      }
}
