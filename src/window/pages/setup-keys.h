/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Enter goes into the form of the row, Delete takes the row away, Alt with an arrow moves it: by the actions of the page. */
void fettle_setup_keys_set_up (GtkWidget *table);

G_END_DECLS
