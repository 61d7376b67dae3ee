/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The forms of what is done about an issue: each shows the fields of one step and stores them as one action.
 */

#include "record-form.h"

G_BEGIN_DECLS

/**
 * fettle_issue_form_new:
 * @sitting: the window's
 * @what: 'edit', 'find', 'finding', 'contain', 'cause', 'close', 'decide' or 'excuse'
 * @issue: key of the issue
 * @finding: key of a finding, for 'finding', 'decide' and 'excuse'
 * @heading: (out): what the form is for
 *
 * Returns: (transfer floating): an open form
 */
GtkWidget *fettle_issue_form_new   (FettleSitting *sitting,
                                    const char    *what,
                                    gint64         issue,
                                    gint64         finding,
                                    const char   **heading) G_GNUC_WARN_UNUSED_RESULT;

/* A form for an issue that is not in the book yet; begun by who shows it. @reading: (nullable): key of the reading whose unit
 * is its first finding; kept by the caller as long as the form. */
GtkWidget *fettle_issue_form_raise (FettleSitting *sitting,
                                    const gint64  *reading) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
