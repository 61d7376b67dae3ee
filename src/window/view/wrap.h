/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Widgets one after the other at their natural widths, in as many lines as that takes: a row of buttons that may be
 * narrow, or in a language of long words.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_WRAP (fettle_wrap_get_type ())
G_DECLARE_FINAL_TYPE (FettleWrap, fettle_wrap, FETTLE, WRAP, GtkWidget)

GtkWidget *fettle_wrap_new (int         gap) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_wrap_add (FettleWrap *self,
                            GtkWidget  *child);

G_END_DECLS
