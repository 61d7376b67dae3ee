/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The page on which the owner decides: a gate with what it asks for, what blocks, what has to be known beside the figures,
 * who said what, when it will be ready; and after a decision, what was known then beside what is known now.
 */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_RELEASE_PAGE (fettle_release_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleReleasePage, fettle_release_page, FETTLE, RELEASE_PAGE, GtkWidget)

GtkWidget *fettle_release_page_new       (FettleSitting     *sitting) G_GNUC_WARN_UNUSED_RESULT;
gboolean   fettle_release_page_has_gates (FettleReleasePage *self);

G_END_DECLS
