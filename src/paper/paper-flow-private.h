/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "paper-flow.h"

G_BEGIN_DECLS

double paper_place_lines (PaperDocument *document,
                          guint          page,
                          PangoLayout   *layout,
                          int            first,
                          int            end,
                          PaperTone      tone,
                          double         x,
                          double         y);

G_END_DECLS
