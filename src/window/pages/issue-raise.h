/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The place where an issue is written down that is not in the book yet: from scratch, or from a reading, which gives it
 * its unit, characteristic, step, round and day.
 */

#include <gtk/gtk.h>

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_ISSUE_RAISE (fettle_issue_raise_get_type ())
G_DECLARE_FINAL_TYPE (FettleIssueRaise, fettle_issue_raise, FETTLE, ISSUE_RAISE, GtkWidget)

/**
 * FettleIssueRaise::raised:
 * @issue: its key
 *
 * It is in the book.
 */

/**
 * FettleIssueRaise::closing:
 *
 * The form is about to go: whoever shows it takes the keyboard, if it is in there.
 */

/**
 * FettleIssueRaise::toggled:
 *
 * A form was opened or closed.
 */

GtkWidget *fettle_issue_raise_new     (FettleSitting    *sitting) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_issue_raise_begin   (FettleIssueRaise *self,
                                       const FettleSpan *span);
void       fettle_issue_raise_from    (FettleIssueRaise *self,
                                       const FettleSpan *span,
                                       gint64            reading);
void       fettle_issue_raise_close   (FettleIssueRaise *self);
gboolean   fettle_issue_raise_is_open (FettleIssueRaise *self);

G_END_DECLS
