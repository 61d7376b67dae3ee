/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Text to value and back, by the field. Files and people type the same texts; only labels are translated.
 */

#include "book-fields.h"
#include "book-number.h"
#include "store-row.h"

#include <string.h>

G_BEGIN_DECLS

/*
 * A value of a field as the book stores it: SQLITE_NULL (empty), SQLITE_INTEGER, SQLITE_FLOAT, SQLITE_TEXT, or
 * STORE_UNCHANGED where a value is left alone. @text is borrowed; @length counts, a zero byte at its end is not promised.
 */
typedef StoreValue BookValue;

#define BOOK_VALUE_EMPTY ((BookValue) { .type = SQLITE_NULL })
#define BOOK_VALUE_UNCHANGED ((BookValue) { .type = STORE_UNCHANGED })

static inline BookValue
book_value_integer (gint64 integer)
{
  return (BookValue) { .type = SQLITE_INTEGER, .integer = integer };
}

static inline BookValue
book_value_real (double real)
{
  return (BookValue) { .type = SQLITE_FLOAT, .real = real };
}

static inline BookValue
book_value_text (const char *text, gssize length)
{
  if (text == NULL)
    return BOOK_VALUE_EMPTY;
  return (BookValue) { .type = SQLITE_TEXT, .text = text, .length = length >= 0 ? (gsize) length : strlen (text) };
}

static inline gboolean
book_value_is_empty (const BookValue *value)
{
  return value->type == SQLITE_NULL;
}

gboolean book_value_parse  (const BookField *field,
                            const char      *text,
                            gssize           length,
                            gboolean         decimal_comma,
                            BookValue       *value,
                            GError         **error) G_GNUC_WARN_UNUSED_RESULT;
BookValue book_value_fallback (const BookField *field);
gboolean book_value_check  (const BookField *field,
                            const BookValue *value,
                            GError         **error) G_GNUC_WARN_UNUSED_RESULT;
int      book_value_compare (const BookValue *a,
                            const BookValue *b);
void     book_value_append (GString         *text,
                            const BookField *field,
                            const BookValue *value);
char    *book_value_print  (const BookField *field,
                            const BookValue *value) G_GNUC_WARN_UNUSED_RESULT;
char    *book_value_show   (const BookField *field,
                            const BookValue *value) G_GNUC_WARN_UNUSED_RESULT;

gboolean    book_date_is_valid  (const char *text,
                                 gsize       length);
gboolean    book_moment_is_valid (const char *text,
                                 gsize       length);
const char *book_nearest_word   (const char        *word,
                                 const char *const *words);

G_END_DECLS
