/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "insight-wall.h"
#include "paper-discretion.h"
#include "paper-flow.h"
#include "paper-pack.h"
#include "paper-sheet.h"
#include "present-dossier.h"

G_BEGIN_DECLS

/* A section, for the table of contents: it is known after the pages were set once. */
typedef struct
{
  const char *title;
  const char *target;
  guint       page;
} PackSection;

/* How much is said; the next step says less, until it fits. */
typedef struct
{
  guint  columns;      /* of charts side by side */
  double chart_height;
  guint  charts;       /* of characteristics, at most */
  guint  rows;         /* of a long table, at most; 0: all */
} PackMeasure;

typedef struct
{
  const PaperPackAsk *ask;
  PaperSize           size;
  PresentDossier     *dossier;
  PaperDiscretion    *makers;
  GBytes             *document; /* what a decision now would freeze */
  guint               gate;     /* index in the dossier's gates; G_MAXUINT: there is none */
  const PresentGate  *words;    /* of that gate (nullable) */
  const PackMeasure  *measure;
  GHashTable         *leads;    /* from keys of criteria to the targets of their charts */
  GArray             *sections; /* of the pages set before; of the present ones while they are set */
  GArray             *setting;
} Pack;

/* All of it from @ask on; to be cleared also after a failure. */
gboolean pack_read  (Pack *pack, StoreDb *db, GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
void     pack_clear (Pack *pack);

void pack_section     (Pack *pack, PaperFlow *flow, const char *title, const char *target, double with);
void pack_sheet       (Pack *pack, PaperFlow *flow, const PresentSheet *sheet);
/* The same with names of all who stand in it. */
void pack_sheet_named (Pack *pack, PaperFlow *flow, const PresentSheet *sheet);
void pack_sentence    (Pack *pack, PaperFlow *flow, PaperTextStyle style, PaperTone tone, const char *text);
void pack_lines       (Pack *pack, PaperFlow *flow, GPtrArray *lines);
void pack_chart       (PaperFlow *flow, Chart *chart, double height);
/* As high as its rows. */
void pack_rows_chart  (PaperFlow *flow, Chart *chart);

void pack_set_first   (Pack *pack, PaperFlow *flow);
void pack_set_gates   (Pack *pack, PaperFlow *flow);
void pack_set_issues  (Pack *pack, PaperFlow *flow);
void pack_list_charts (Pack *pack);
void pack_set_charts  (Pack *pack, PaperFlow *flow);
void pack_set_runs    (Pack *pack, PaperFlow *flow);
void pack_set_times   (Pack *pack, PaperFlow *flow);
void pack_set_methods (Pack *pack, PaperFlow *flow);

G_END_DECLS
