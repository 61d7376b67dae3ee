/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A day: typed as 2026-03-31 or in the order of the country, moved by Up and Down, or picked from a calendar that opens
 * below. How the day reads in words stands beside it, so that a day and month that were changed over are seen.
 */

#include "editor.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_DATE_EDITOR (fettle_date_editor_get_type ())
G_DECLARE_FINAL_TYPE (FettleDateEditor, fettle_date_editor, FETTLE, DATE_EDITOR, GtkWidget)

GtkWidget *fettle_date_editor_new (gboolean with_time) G_GNUC_WARN_UNUSED_RESULT;

/* What was typed as an ISO 8601 date; NULL when it is no date. */
char      *fettle_date_read       (const char *typed) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
