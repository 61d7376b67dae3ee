/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Gauge studies: calibrations, how much of the tolerance each gauge takes up, checks with known bad pieces, and a grid in
 * which a person types what he measures, without seeing what others found.
 */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_GAUGE_PAGE (fettle_gauge_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleGaugePage, fettle_gauge_page, FETTLE, GAUGE_PAGE, GtkWidget)

GtkWidget *fettle_gauge_page_new (FettleSitting *sitting) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
