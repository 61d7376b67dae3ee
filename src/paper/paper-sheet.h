/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A table in words (present-sheet.h) set on pages: columns as wide as what they hold, those without anything left out, and
 * where there is no room those first that a narrow window leaves out first.
 */

#include "paper-discretion.h"
#include "paper-flow.h"
#include "present-sheet.h"

G_BEGIN_DECLS

/**
 * PaperSheetWay:
 * @level: of the heading that its title makes; 0: without
 * @target: (nullable): name for links that lead to it
 * @discretion: (nullable): what is taken out of its cells
 * @leads: (nullable) (element-type gint64 utf8): from the key of a row's record to the target that the row leads to
 * @most: rows at most, the rest is counted; 0: all
 *
 * How a sheet is set.
 */
typedef struct
{
  guint                  level;
  const char            *target;
  const PaperDiscretion *discretion;
  GHashTable            *leads;
  guint                  most;
} PaperSheetWay;

void paper_flow_sheet (PaperFlow           *flow,
                       const PresentSheet  *sheet,
                       const PaperSheetWay *way);

G_END_DECLS
