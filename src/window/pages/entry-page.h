/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The readings of a round entered in a grid: units down, characteristics across. */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_ENTRY_PAGE (fettle_entry_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleEntryPage, fettle_entry_page, FETTLE, ENTRY_PAGE, GtkBox)

GtkWidget *fettle_entry_page_new (FettleSitting *sitting) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
