/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The forms of the Unit page: each is a record form that knows its unit, shown and closed by the page.
 */

#include "record-form.h"

G_BEGIN_DECLS

GtkWidget *fettle_unit_form_aside (FettleSitting *sitting,
                                   gint64         unit) G_GNUC_WARN_UNUSED_RESULT;
GtkWidget *fettle_unit_form_event (FettleSitting *sitting,
                                   gint64         unit) G_GNUC_WARN_UNUSED_RESULT;
GtkWidget *fettle_unit_form_part  (FettleSitting *sitting,
                                   gint64         unit,
                                   gint64         row,
                                   gint64         part,
                                   gint64         step,
                                   gint64         revision,
                                   gint64         lot) G_GNUC_WARN_UNUSED_RESULT;
GtkWidget *fettle_unit_form_serial (FettleSitting *sitting,
                                   gint64         unit) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
