/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Lead time: where the days went, what was waited for, what is open for how long, and how long the next round will be.
 */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_LEADTIME_PAGE (fettle_leadtime_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleLeadtimePage, fettle_leadtime_page, FETTLE, LEADTIME_PAGE, GtkWidget)

GtkWidget *fettle_leadtime_page_new (FettleSitting *sitting) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
