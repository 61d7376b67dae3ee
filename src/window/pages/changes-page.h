/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What was changed, why, who agreed, and what it did to the readings. A change is proposed, agreed, carried out or
 * withdrawn here, in place: nothing opens a window of its own.
 */

#include <gtk/gtk.h>

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_CHANGES_PAGE (fettle_changes_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleChangesPage, fettle_changes_page, FETTLE, CHANGES_PAGE, GtkWidget)

GtkWidget *fettle_changes_page_new      (FettleSitting     *sitting) G_GNUC_WARN_UNUSED_RESULT;
gboolean   fettle_changes_page_is_shown (FettleChangesPage *self);

G_END_DECLS
