/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Everything that a model is set up from, kind by kind: a list of kinds, the rows of one, and the form of the row that is
 * chosen. Rows and forms follow the description; what a kind has beyond them stands in setup-extra.h.
 */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_SETUP_PAGE (fettle_setup_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleSetupPage, fettle_setup_page, FETTLE, SETUP_PAGE, GtkWidget)

GtkWidget *fettle_setup_page_new (FettleSitting *sitting) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
