/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a form says when something is back in its fields that was typed before and not stored, with a way to forget it. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Hidden until there is something to say. @forget is called with @form first, swapped. */
GtkWidget *fettle_restored_line_new (GCallback forget,
                                     gpointer  form) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
