/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Emptying a widget: of ours when it is disposed, a box before it is filled anew.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

void fettle_unparent_children (gpointer widget);

G_END_DECLS
