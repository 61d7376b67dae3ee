/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Life tests of one characteristic: what they support, Weibull paper, growth, ways of failing, what would prove it; and a grid
 * in which tests are entered, the last row for the next one.
 */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_LIFE_PAGE (fettle_life_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleLifePage, fettle_life_page, FETTLE, LIFE_PAGE, GtkBox)

GtkWidget *fettle_life_page_new (FettleSitting *sitting) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
