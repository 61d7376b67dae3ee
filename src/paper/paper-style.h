/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Letters on paper: serif for headings, sans for all else, as on the screen; black, and readable on a grey printer.
 */

#include <pango/pango.h>

G_BEGIN_DECLS

#define PAPER_MARGIN 51.0 /* left and right, 18 mm: leaves a column that the eye can follow, and room for a hole punch */

/**
 * PaperTextStyle:
 * @PAPER_TEXT_BODY: ordinary
 * @PAPER_TEXT_STRONG: the same, semi-bold
 * @PAPER_TEXT_SMALL: for remarks, captions, heads of tables
 * @PAPER_TEXT_TITLE: name of the document
 * @PAPER_TEXT_HEADING: of a section
 * @PAPER_TEXT_SUBHEADING: below a section
 */
typedef enum
{
  PAPER_TEXT_BODY,
  PAPER_TEXT_STRONG,
  PAPER_TEXT_SMALL,
  PAPER_TEXT_TITLE,
  PAPER_TEXT_HEADING,
  PAPER_TEXT_SUBHEADING
} PaperTextStyle;

PangoContext *paper_style_context (double         letters) G_GNUC_WARN_UNUSED_RESULT;
PangoLayout  *paper_style_layout  (PangoContext  *context,
                                   PaperTextStyle style,
                                   const char    *text,
                                   double         width) G_GNUC_WARN_UNUSED_RESULT;
double        paper_style_height  (PangoLayout   *layout);

G_END_DECLS
