/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a document holds before it is drawn: paper-document.c places, paper-document-draw.c draws. */

#include "paper-document.h"

G_BEGIN_DECLS

typedef enum
{
  PAPER_ITEM_TEXT,
  PAPER_ITEM_RULE,
  PAPER_ITEM_BOX,
  PAPER_ITEM_CHART,
  PAPER_ITEM_PICTURE,
  PAPER_ITEM_BARS,
  PAPER_ITEM_TARGET,
  PAPER_ITEM_LINK
} PaperItemKind;

typedef struct
{
  PaperItemKind    kind;
  PaperTone        tone;
  double           x, y, w, h; /* of a rule: its ends; of a text: start and baseline */
  double           width;
  PangoLayout     *layout;
  int              line;
  Chart           *chart;
  cairo_surface_t *picture;
  char            *name; /* of bars: their modules */
} PaperItem;

/* Pages that belong together, with numbers and heads of their own: a card of many. */
typedef struct
{
  guint first; /* page */
  char *left;
  char *right;
} PaperPart;

typedef struct
{
  guint  page;
  guint  level;
  char  *text;
  double y;
} PaperEntry;

struct _PaperDocument
{
  double        width;
  double        height;
  PaperShape    shape;
  char         *title;
  char         *subject;
  char         *date;
  char         *foot;
  PangoContext *context;
  GArray       *parts; /* of PaperPart; never empty */
  GPtrArray    *pages; /* of GArray of PaperItem */
  GArray       *outline;
};

G_END_DECLS
