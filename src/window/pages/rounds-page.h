/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The rounds of a model: planned, followed and decided here, in place. The newest stands first.
 */

#include <gtk/gtk.h>

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_ROUNDS_PAGE (fettle_rounds_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleRoundsPage, fettle_rounds_page, FETTLE, ROUNDS_PAGE, GtkWidget)

GtkWidget *fettle_rounds_page_new      (FettleSitting    *sitting);
gboolean   fettle_rounds_page_is_shown (FettleRoundsPage *self);

G_END_DECLS
