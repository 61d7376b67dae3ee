/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Tables in boxes, to be written into by hand: a least height of rows, lines between columns, the head again on each page.
 */

#include "paper-flow.h"

G_BEGIN_DECLS

#define PAPER_FORM_ROW 23.0 /* 8 mm: a line of handwriting */

/**
 * PaperFormColumn:
 * @code: (nullable): strong, above the head
 * @head: what stands above it
 * @share: of the width, relative to the others
 * @is_number: its cells are set flush right
 * @is_strong: its cells are what a row is looked for by
 *
 * A column of a form.
 */
typedef struct
{
  const char *code;
  const char *head;
  double      share;
  gboolean    is_number;
  gboolean    is_strong;
} PaperFormColumn;

void   paper_flow_form       (PaperFlow             *flow,
                              const PaperFormColumn *columns,
                              guint                  n_columns,
                              const char *const     *cells,
                              guint                  n_rows,
                              double                 row_height);
double paper_flow_form_width (PaperFlow             *flow,
                              const char            *text) G_GNUC_WARN_UNUSED_RESULT;
double paper_flow_form_least (PaperFlow             *flow,
                              const PaperFormColumn *columns,
                              guint                  n_columns,
                              const char *const     *cells,
                              double                 row_height) G_GNUC_WARN_UNUSED_RESULT;
void   paper_flow_ticks      (PaperFlow             *flow,
                              double                 x,
                              double                 y,
                              double                 width,
                              guint                  lines);
guint  paper_flow_count_ticks (double                width);

G_END_DECLS
