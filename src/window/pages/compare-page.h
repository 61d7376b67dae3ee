/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Everything between two rounds, or two groups of one: what differs, old beside new with the reason and the pictures of
 * both, and what the readings say about it.
 */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_COMPARE_PAGE (fettle_compare_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleComparePage, fettle_compare_page, FETTLE, COMPARE_PAGE, GtkWidget)

GtkWidget *fettle_compare_page_new      (FettleSitting     *sitting) G_GNUC_WARN_UNUSED_RESULT;
gboolean   fettle_compare_page_is_shown (FettleComparePage *self);

G_END_DECLS
