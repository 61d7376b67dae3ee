/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Where units and minutes go in a run, how many a month can be made, what one costs, and what if; counts are entered here.
 */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_PILOT_PAGE (fettle_pilot_page_get_type ())
G_DECLARE_FINAL_TYPE (FettlePilotPage, fettle_pilot_page, FETTLE, PILOT_PAGE, GtkWidget)

GtkWidget *fettle_pilot_page_new (FettleSitting *sitting) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
