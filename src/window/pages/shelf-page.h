/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * All models side by side, and the courses of two of them. Enter opens a model.
 */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_SHELF_PAGE (fettle_shelf_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleShelfPage, fettle_shelf_page, FETTLE, SHELF_PAGE, GtkWidget)

GtkWidget *fettle_shelf_page_new (FettleSitting *sitting) G_GNUC_WARN_UNUSED_RESULT;

/* Whether every model has been read. */
gboolean   fettle_shelf_page_is_shown (FettleShelfPage *self);

G_END_DECLS
