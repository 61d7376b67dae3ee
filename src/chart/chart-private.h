/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a chart is inside. A kind fills a scene from its own copy of the data; everything else is the same for
 * all.
 */

#include "chart.h"
#include "chart-scene-private.h"

G_BEGIN_DECLS

typedef struct
{
  const char *name;
  gboolean    on_paper; /* stands on the page itself, not on a sheet */
  void (*lay) (Chart *chart, ChartScene *scene);
  void (*clear) (gpointer data);
} ChartKind;

/* The sentence and the table of a chart: chart-table.c. */
typedef struct _ChartTexts ChartTexts;

/*
 * order[] lists the marks as they stand from left to right, place[] is its inverse: mark order[place[m]] is
 * m. The scene is the layout for its own size and for the fonts named beside it; NULL after a change of the
 * data.
 */
struct _Chart
{
  const ChartKind *kind;
  gpointer         data;
  GStringChunk    *strings;

  guint            n_marks;
  gint64          *keys;
  const char     **words;
  guint           *rounds;
  guint           *order;
  guint           *place;
  int              focus;
  guint8          *chosen; /* by mark; NULL: none is (chart-choice.h) */
  guint            n_chosen;
  gboolean         worst_first; /* or a list from the top: keys begin with its first mark, not with its newest */

  ChartScene      *scene;
  double           size;
  char            *sans;
  char            *serif;

  char            *title;
  char            *created;
  ChartTexts      *texts; /* NULL: none yet */
  double (*height) (Chart *chart, const ChartTheme *theme); /* NULL: the kind fills any */
};

Chart      *chart_new         (const ChartKind *kind,
                               gpointer         data,
                               guint            n_marks) G_GNUC_WARN_UNUSED_RESULT;
const char *chart_keep        (Chart           *chart,
                               const char      *text);
void        chart_set_mark    (Chart           *chart,
                               guint            mark,
                               guint            round,
                               gint64           key,
                               const char      *words);
void        chart_order_marks (Chart           *chart,
                               guint            n_rounds);
void        chart_changed     (Chart           *chart);
void        chart_texts_free  (ChartTexts      *texts);

G_END_DECLS
