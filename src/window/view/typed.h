/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the program writes into a field is no typing: Ctrl+Z there means what was typed after it, and then the book.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

void fettle_typed_set (GtkEditable *field,
                       const char  *text);

G_END_DECLS
