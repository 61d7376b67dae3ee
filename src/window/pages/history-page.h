/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The journal: what was done, by whom and when, field by field; any action can be taken back from here, two days
 * compared, and the whole journal checked. show_record takes any record: the page then tells its history alone.
 */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_HISTORY_PAGE (fettle_history_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleHistoryPage, fettle_history_page, FETTLE, HISTORY_PAGE, GtkBox)

GtkWidget *fettle_history_page_new (FettleSitting *sitting) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
