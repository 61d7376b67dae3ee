/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One unit: as built, what happened to it, its issues, its readings. Or, for a lot or a revision, the units that hold it.
 * It stands in no list: search and other pages lead here.
 */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_UNIT_PAGE (fettle_unit_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleUnitPage, fettle_unit_page, FETTLE, UNIT_PAGE, GtkBox)

GtkWidget *fettle_unit_page_new (FettleSitting *sitting) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
