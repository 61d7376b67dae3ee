/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A strict reader and a canonical writer of RFC 4180 text. The reader streams: it holds one line of the file and
 * one row, whatever the size of the file, and knows the line on which each field begins.
 */

#include <glib.h>

G_BEGIN_DECLS

typedef struct _ExchangeCsv ExchangeCsv;

/**
 * ExchangeCsvField:
 * @text: UTF-8, NUL terminated, without the quotes; valid until the next row is read
 * @length: bytes of @text
 * @line: the line of the file on which the field begins, from 1
 */
typedef struct
{
  const char *text;
  gsize       length;
  guint       line;
} ExchangeCsvField;

/**
 * ExchangeCsvRow:
 * @fields: the fields in order
 * @n_fields: their number, at least 1; not always that of the header
 * @line: the line of the file on which the row begins, from 1
 */
typedef struct
{
  const ExchangeCsvField *fields;
  guint                   n_fields;
  guint                   line;
} ExchangeCsvRow;

ExchangeCsv *exchange_csv_open (const char *path, GError **error) G_GNUC_WARN_UNUSED_RESULT;
ExchangeCsv *exchange_csv_open_text (const char *name, const char *text, gsize length,
                                     GError **error) G_GNUC_WARN_UNUSED_RESULT;
void         exchange_csv_free (ExchangeCsv *csv);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchangeCsv, exchange_csv_free)

/* What the header says: the separator, and the columns by index from 0. */
char        exchange_csv_get_separator (const ExchangeCsv *csv);
guint       exchange_csv_count_columns (const ExchangeCsv *csv);
const char *exchange_csv_get_column (const ExchangeCsv *csv, guint column);
double      exchange_csv_get_share (const ExchangeCsv *csv);
gboolean exchange_csv_next (ExchangeCsv *csv, const ExchangeCsvRow **row, GError **error) G_GNUC_WARN_UNUSED_RESULT;

void exchange_csv_write_field (GString *out, const char *text, gsize length, char separator);

G_END_DECLS
