/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Importing `RECORD.csv` files: all files of one call in one action, in the order in which records refer to one
 * another. Strict: one wrong row and nothing is stored, and all wrong rows are listed.
 */

#include "book.h"

G_BEGIN_DECLS

/**
 * ExchangeImportOptions:
 * @keep_good: store the good rows; write the others to `FILE.rejected.csv` with the reason in a last column
 * @update: a row whose key is in the book with other values changes it
 * @dry_run: do everything but store it; no file is written either
 * @person: key of who imports; 0: nobody by name
 * @initials: (nullable): of who imports, where the book has nobody yet: the files bring the person
 * @sitting: from store_new_sitting(); 0: none
 * @progress: (nullable): told from the writer thread, in thousandths
 * @progress_data: for @progress
 * @most_problems: how many wrong rows are listed; 0: a thousand
 */
typedef struct
{
  gboolean      keep_good;
  gboolean      update;
  gboolean      dry_run;
  gint64        person;
  const char   *initials;
  gint64        sitting;
  StoreProgress progress;
  gpointer      progress_data;
  guint         most_problems;
} ExchangeImportOptions;

/**
 * ExchangeImportFile:
 * @path: the file
 * @record: what its rows are
 * @rows: rows read
 * @inserted: new rows
 * @updated: rows that changed one of the book
 * @equal: rows that the book has already
 * @rejected: wrong rows
 * @rejected_path: (nullable): where they were written
 */
typedef struct
{
  char             *path;
  const BookRecord *record;
  guint             rows;
  guint             inserted;
  guint             updated;
  guint             equal;
  guint             rejected;
  char             *rejected_path;
} ExchangeImportFile;

/**
 * ExchangeImportReport:
 * @files: (element-type ExchangeImportFile): in the order in which they were given
 * @problems: (element-type utf8): `FILE:LINE: column: what is wrong`, the first of them
 * @n_problems: how many there are in all
 * @stored: something was stored
 * @receipt: what was stored
 */
typedef struct
{
  GPtrArray   *files;
  GPtrArray   *problems;
  guint        n_problems;
  gboolean     stored;
  StoreReceipt receipt;
} ExchangeImportReport;

void exchange_import_report_free (ExchangeImportReport *report);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchangeImportReport, exchange_import_report_free)

gboolean exchange_import (Book                        *book,
                          const char *const           *paths,
                          const ExchangeImportOptions *options,
                          ExchangeImportReport       **report,
                          GCancellable                *cancellable,
                          GError                     **error);

G_END_DECLS
