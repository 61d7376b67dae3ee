/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A key large enough for a finger in a glove: what it does, the key of the number pad that does the same, and a figure.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_LARGE_KEY (fettle_large_key_get_type ())
G_DECLARE_FINAL_TYPE (FettleLargeKey, fettle_large_key, FETTLE, LARGE_KEY, GtkButton)

#define FETTLE_LARGE_KEY_LEAST 64 /* pixels, either way */

GtkWidget *fettle_large_key_new        (const char     *label,
                                        const char     *key) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_large_key_set_label  (FettleLargeKey *self,
                                        const char     *label);
void       fettle_large_key_set_figure (FettleLargeKey *self,
                                        const char     *figure);

G_END_DECLS
