/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

gboolean fettle_chart_next_focus (GtkWidget *page);

G_END_DECLS
