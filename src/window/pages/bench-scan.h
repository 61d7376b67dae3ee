/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A scanner types wherever the keyboard is: while @page is in view, what is typed in its window and no field takes goes into
 * @line, an entry. */
void fettle_bench_scan_into (GtkWidget *page,
                             GtkWidget *line);

G_END_DECLS
