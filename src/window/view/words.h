/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A label that takes room only while it says something. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

void fettle_words_show (GtkLabel   *label,
                        const char *words);

G_END_DECLS
