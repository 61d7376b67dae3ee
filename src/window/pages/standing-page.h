/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Where the model stands: sentences first, then each criterion, then the evidence gathered through the rounds.
 */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_STANDING_PAGE (fettle_standing_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleStandingPage, fettle_standing_page, FETTLE, STANDING_PAGE, GtkWidget)

/**
 * FettleStandingPage::shown:
 *
 * An answer is on the page completely.
 */

GtkWidget *fettle_standing_page_new      (FettleSitting      *sitting) G_GNUC_WARN_UNUSED_RESULT;
gboolean   fettle_standing_page_is_shown (FettleStandingPage *self);

G_END_DECLS
