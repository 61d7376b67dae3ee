/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A characteristic through the rounds: each unit against the limits, and the readings, which are corrected here. */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_READINGS_PAGE (fettle_readings_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleReadingsPage, fettle_readings_page, FETTLE, READINGS_PAGE, GtkBox)

GtkWidget *fettle_readings_page_new (FettleSitting *sitting) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
