/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A serial as bars that a scanner reads: Code 128 (ISO/IEC 15417).
 */

#include "paper-flow.h"

G_BEGIN_DECLS

#define PAPER_CODE_MODULE_LEAST 0.709 /* points: 0.25 mm, which the scanners of a shop read from any printer */
#define PAPER_CODE_MODULE_MOST  1.134 /* 0.4 mm: wider reads no better, and takes room */
#define PAPER_CODE_QUIET        10    /* modules left white on either side, by the standard */
#define PAPER_CODE_HEIGHT       31.0  /* points, 11 mm */

char    *paper_code_modules (const char *text) G_GNUC_WARN_UNUSED_RESULT;
gboolean paper_place_code   (PaperFlow  *flow,
                             const char *text,
                             double      right,
                             double      y,
                             double      width);

G_END_DECLS
