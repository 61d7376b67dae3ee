/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The Tally page: pieces counted at a step before units have serials, by large keys for touch, number pad and mouse. Each
 * tap is in the book at once, and undone by one key.
 */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_TALLY_PAGE (fettle_tally_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleTallyPage, fettle_tally_page, FETTLE, TALLY_PAGE, GtkBox)

GtkWidget *fettle_tally_page_new (FettleSitting *sitting) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
