/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * All models side by side, in words, and the courses of two of them as one drawing.
 */

#include "chart.h"
#include "insight-shelf.h"
#include "present-sheet.h"

G_BEGIN_DECLS

/**
 * PresentShelf:
 * @headline: how many models there are, how many have a round open, and what is open about safety
 * @notes: (element-type utf8): how the figures are meant
 * @models: a row a model; rows lead to models
 */
typedef struct
{
  char         *headline;
  GPtrArray    *notes;
  PresentSheet *models;
} PresentShelf;

PresentShelf *present_shelf_new     (const InsightShelf *const *shelves,
                                     guint                      n) G_GNUC_WARN_UNUSED_RESULT;
void          present_shelf_free    (PresentShelf              *present);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentShelf, present_shelf_free)

char         *present_shelf_name    (const InsightShelf        *shelf) G_GNUC_WARN_UNUSED_RESULT;
Chart        *present_chart_courses (const InsightShelf        *one,
                                     const InsightShelf        *other,
                                     gboolean                   by_days,
                                     gboolean                   with_title) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
