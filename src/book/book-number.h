/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Decimal numbers as files carry them, whatever the locale: what is printed reads back equal, bit by bit.
 */

#include <glib.h>

G_BEGIN_DECLS

gboolean book_number_parse  (const char *text,
                             gsize       length,
                             gboolean    decimal_comma,
                             double     *number);
char    *book_number_dup    (double      number) G_GNUC_WARN_UNUSED_RESULT;
void     book_number_append (GString    *text,
                             double      number);

G_END_DECLS
