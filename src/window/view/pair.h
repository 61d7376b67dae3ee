/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Two columns where there is room for two, else one below the other.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_PAIR (fettle_pair_get_type ())
G_DECLARE_FINAL_TYPE (FettlePair, fettle_pair, FETTLE, PAIR, GtkWidget)

GtkWidget *fettle_pair_new (GtkWidget *first,
                            GtkWidget *second,
                            int        least) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
