/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Days as numbers and the order of serials. A day is counted from 0001-01-01 as day 1; 0 is 'not known'.
 */

#include <glib.h>

G_BEGIN_DECLS

typedef gint32 BookDay;

BookDay book_day_parse      (const char *text,
                             int        *second);
char   *book_day_format     (BookDay     day) G_GNUC_WARN_UNUSED_RESULT;
int     book_day_weekday    (BookDay     day);
int     book_serial_compare (const char *a,
                             const char *b);

G_END_DECLS
