/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a check of the book found, in words: for the command line and the History page alike. */

#include <glib.h>

G_BEGIN_DECLS

char *present_check_words   (guint       n_findings,
                             gboolean    replayed) G_GNUC_WARN_UNUSED_RESULT;
char *present_check_journal (gint64      place,
                             const char *head) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
