/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Text, tables, drawings and pictures set one below the other, from page to page. A heading never stands alone at the
 * foot of a page; a paragraph breaks between its lines, leaving no single line behind.
 */

#include "paper-document.h"
#include "paper-style.h"

G_BEGIN_DECLS

#define PAPER_ANSWER_LINE 19.0 /* of paper_flow_answer(), for handwriting */

typedef struct _PaperFlow PaperFlow;

PaperFlow     *paper_flow_new       (PaperDocument    *document) G_GNUC_WARN_UNUSED_RESULT;
PaperFlow     *paper_flow_new_in_parts (PaperDocument *document) G_GNUC_WARN_UNUSED_RESULT;
void           paper_flow_free      (PaperFlow        *flow);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PaperFlow, paper_flow_free)

PaperDocument *paper_flow_document  (PaperFlow        *flow);
double         paper_flow_left      (PaperFlow        *flow);
double         paper_flow_width     (PaperFlow        *flow);
guint          paper_flow_page      (PaperFlow        *flow);
double         paper_flow_y         (PaperFlow        *flow);
double         paper_flow_room      (PaperFlow        *flow);
void           paper_flow_new_page  (PaperFlow        *flow);
void           paper_flow_begin_part (PaperFlow       *flow,
                                     const char       *left,
                                     const char       *right);
void           paper_flow_need      (PaperFlow        *flow,
                                     double            height);
void           paper_flow_move      (PaperFlow        *flow,
                                     double            height);
void           paper_flow_space     (PaperFlow        *flow,
                                     double            height);

void           paper_flow_title     (PaperFlow        *flow,
                                     const char       *text);
void           paper_flow_heading   (PaperFlow        *flow,
                                     guint             level,
                                     const char       *text,
                                     const char       *target,
                                     double            with);
void           paper_flow_paragraph (PaperFlow        *flow,
                                     PaperTextStyle    style,
                                     PaperTone         tone,
                                     double            indent,
                                     const char       *text);
void           paper_flow_link      (PaperFlow        *flow,
                                     const char       *text,
                                     const char       *target);
void           paper_flow_note      (PaperFlow        *flow,
                                     const char       *text);
void           paper_flow_small_note (PaperFlow       *flow,
                                     const char       *text);
void           paper_flow_answer    (PaperFlow        *flow,
                                     const char       *label,
                                     guint             lines);

/**
 * PaperFigure:
 * @chart: (nullable) (transfer full): a drawing, or:
 * @picture: (nullable) (transfer none): a picture, which keeps its shape
 * @height: of a drawing; the most a picture may take
 * @caption: (nullable): below it
 *
 * Something to be looked at.
 */
typedef struct
{
  Chart           *chart;
  cairo_surface_t *picture;
  double           height;
  const char      *caption;
} PaperFigure;

void           paper_flow_figures   (PaperFlow         *flow,
                                     const PaperFigure *figures,
                                     guint              n,
                                     guint              columns);

/**
 * PaperColumn:
 * @head: what stands above it
 * @share: of the width, relative to the others
 * @is_number: set flush right
 *
 * A column of a table.
 */
typedef struct
{
  const char *head;
  double      share;
  gboolean    is_number;
} PaperColumn;

void           paper_flow_table     (PaperFlow          *flow,
                                     const PaperColumn  *columns,
                                     guint               n_columns,
                                     const char *const  *cells,
                                     guint               n_rows);
void           paper_flow_table_leading (PaperFlow      *flow,
                                     const PaperColumn  *columns,
                                     guint               n_columns,
                                     const char *const  *cells,
                                     const char *const  *leads,
                                     guint               n_links,
                                     guint               n_rows);
double         paper_flow_table_least (PaperFlow        *flow,
                                     const PaperColumn  *columns,
                                     guint               n_columns,
                                     const char *const  *cells,
                                     cairo_surface_t *const *pictures,
                                     double              picture_height);
void           paper_flow_table_pictures (PaperFlow     *flow,
                                     const PaperColumn  *columns,
                                     guint               n_columns,
                                     const char *const  *cells,
                                     cairo_surface_t *const *pictures,
                                     guint               n_rows,
                                     double              picture_height);

G_END_DECLS
