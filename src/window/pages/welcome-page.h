/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The first page, without a book or with an empty one: what Fettle is for, and the first step.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_WELCOME_PAGE (fettle_welcome_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleWelcomePage, fettle_welcome_page, FETTLE, WELCOME_PAGE, GtkWidget)

GtkWidget *fettle_welcome_page_new          (void) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_welcome_page_set_has_book (FettleWelcomePage *self,
                                             gboolean           has_book);

G_END_DECLS
