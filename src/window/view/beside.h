/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One widget at its natural width, another beside it with the rest. Use it instead of a horizontal GtkBox wherever text
 * that wraps is inside: the box searches for its height by asking each child how wide it would be for many heights, and
 * each label searches again; a page of sentences then takes longer to measure than all the rest of the start.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_BESIDE (fettle_beside_get_type ())
G_DECLARE_FINAL_TYPE (FettleBeside, fettle_beside, FETTLE, BESIDE, GtkWidget)

/* Properties 'first', 'second' (widgets, owned) and 'spacing' (pixels), for templates. */
GtkWidget *fettle_beside_new (GtkWidget *first,
                              GtkWidget *second,
                              int        spacing) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
