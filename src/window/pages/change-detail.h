/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One change opened: its story, what it takes from old to new, what must be measured again and what is carried over, its
 * drawings, and what can be done with it now.
 */

#include <gtk/gtk.h>

#include "insight-change.h"
#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_CHANGE_DETAIL (fettle_change_detail_get_type ())
G_DECLARE_FINAL_TYPE (FettleChangeDetail, fettle_change_detail, FETTLE, CHANGE_DETAIL, GtkWidget)

GtkWidget *fettle_change_detail_new (FettleSitting        *sitting,
                                     const FettleSpan     *span,
                                     const InsightChanges *changes,
                                     guint                 index) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
