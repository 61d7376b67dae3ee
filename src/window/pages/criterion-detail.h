/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One criterion opened: its sentence, figures, what has to be said beside it, the method on demand, and its units.
 */

#include <gtk/gtk.h>

#include "page.h"
#include "present-standing.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_CRITERION_DETAIL (fettle_criterion_detail_get_type ())
G_DECLARE_FINAL_TYPE (FettleCriterionDetail, fettle_criterion_detail, FETTLE, CRITERION_DETAIL, GtkWidget)

GtkWidget *fettle_criterion_detail_new (FettleSitting          *sitting,
                                        const FettleSpan       *span,
                                        const PresentCriterion *criterion) G_GNUC_WARN_UNUSED_RESULT;

void       fettle_criterion_go         (GtkWidget              *widget,
                                        const PresentCriterion *criterion);

G_END_DECLS
