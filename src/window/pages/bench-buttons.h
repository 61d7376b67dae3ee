/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What can be done with the unit at hand, as buttons that name their keys; each is an action of the Bench page. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *fettle_bench_buttons_new (void) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
