/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A document on paper: pages onto which texts, lines, drawings and pictures are placed, then written as one PDF. Measures
 * are points (1/72 inch) from the top left corner of a page. Nothing is drawn before all is placed, so that each page can
 * say how many there are.
 */

#include <cairo.h>
#include <gio/gio.h>
#include <pango/pango.h>

#include "chart.h"

G_BEGIN_DECLS

#define PAPER_POINTS_A_DOT 0.75 /* charts count 96 dots an inch */

#define PAPER_ERROR (paper_error_quark ())

/**
 * PaperError:
 * @PAPER_ERROR_DRAW: the drawing library refused
 * @PAPER_ERROR_INPUT: what is asked for cannot be put on paper; the sentence says why
 */
typedef enum
{
  PAPER_ERROR_DRAW,
  PAPER_ERROR_INPUT
} PaperError;

GQuark paper_error_quark (void);

typedef enum
{
  PAPER_A4,
  PAPER_LETTER,
  PAPER_A5
} PaperSize;

#define PAPER_SIZE_OF_BOOK (-1) /* in place of one: what the book's setting 'paper' says */

/**
 * PaperShape:
 * @size: of the paper
 * @landscape: lying on its long side
 * @margin: left and right
 * @letters: how large they are: 1 for what is read at a desk
 *
 * What pages look like.
 */
typedef struct
{
  PaperSize size;
  gboolean  landscape;
  double    margin;
  double    letters;
} PaperShape;

/**
 * PaperTone:
 * @PAPER_INK: black
 * @PAPER_FAINT: dark grey, for what is said beside
 * @PAPER_RULE: grey, for lines
 * @PAPER_BAND: light grey, for grounds
 */
typedef enum
{
  PAPER_INK,
  PAPER_FAINT,
  PAPER_RULE,
  PAPER_BAND
} PaperTone;

typedef struct _PaperDocument PaperDocument;

PaperDocument *paper_document_new         (PaperSize         size,
                                           const char       *title,
                                           const char       *subject,
                                           const char       *date) G_GNUC_WARN_UNUSED_RESULT;
PaperDocument *paper_document_new_shaped  (const PaperShape *shape,
                                           const char       *title,
                                           const char       *subject,
                                           const char       *date) G_GNUC_WARN_UNUSED_RESULT;
void           paper_document_free        (PaperDocument    *document);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PaperDocument, paper_document_free)

void           paper_document_set_heads   (PaperDocument    *document,
                                           const char       *left,
                                           const char       *right,
                                           const char       *foot);
void           paper_document_begin_part  (PaperDocument    *document,
                                           const char       *left,
                                           const char       *right);
void           paper_document_get_shape   (PaperDocument    *document,
                                           PaperShape       *shape);
double         paper_document_margin      (PaperDocument    *document);
double         paper_document_width       (PaperDocument    *document);
double         paper_document_height      (PaperDocument    *document);
guint          paper_document_count_pages (PaperDocument    *document);
PangoContext  *paper_document_context     (PaperDocument    *document);
guint          paper_document_add_page    (PaperDocument    *document);

void           paper_place_line_of_text   (PaperDocument    *document,
                                           guint             page,
                                           PangoLayout      *layout,
                                           int               line,
                                           PaperTone         tone,
                                           double            x,
                                           double            baseline);
void           paper_place_rule           (PaperDocument    *document,
                                           guint             page,
                                           PaperTone         tone,
                                           double            width,
                                           double            x0,
                                           double            y0,
                                           double            x1,
                                           double            y1);
void           paper_place_box            (PaperDocument    *document,
                                           guint             page,
                                           PaperTone         tone,
                                           double            width,
                                           double            x,
                                           double            y,
                                           double            w,
                                           double            h);
void           paper_place_chart          (PaperDocument    *document,
                                           guint             page,
                                           Chart            *chart,
                                           double            x,
                                           double            y,
                                           double            w,
                                           double            h);
void           paper_place_picture        (PaperDocument    *document,
                                           guint             page,
                                           cairo_surface_t  *picture,
                                           double            x,
                                           double            y,
                                           double            w,
                                           double            h);
void           paper_place_bars           (PaperDocument    *document,
                                           guint             page,
                                           const char       *modules,
                                           double            x,
                                           double            y,
                                           double            module,
                                           double            h);
void           paper_place_target         (PaperDocument    *document,
                                           guint             page,
                                           const char       *name,
                                           double            y);
void           paper_place_link           (PaperDocument    *document,
                                           guint             page,
                                           const char       *name,
                                           double            x,
                                           double            y,
                                           double            w,
                                           double            h);
void           paper_document_outline     (PaperDocument    *document,
                                           guint             page,
                                           guint             level,
                                           const char       *text,
                                           double            y);

GBytes        *paper_document_to_pdf      (PaperDocument    *document,
                                           GCancellable     *cancellable,
                                           GError          **error) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray     *paper_document_to_sheets   (PaperDocument    *document) G_GNUC_WARN_UNUSED_RESULT;
char          *paper_document_dump        (PaperDocument    *document) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
