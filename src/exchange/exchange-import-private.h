/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Method. An import has two halves. The first needs no book: every file is read once, its cells become values, and the
 * cells that refer to another record become one text each, kept once however many rows carry it. The second is the work
 * of one action, record by record in the order in which they refer to one another: each distinct text is looked up once;
 * rows are matched with the book by their visible key in one pass over the smaller side; good rows are written. A wrong
 * row is noted and the rest still looked at, so that all wrong rows are told at once; what refers to a wrong row is wrong.
 *
 * A row's values lie side by side in two arrays, eight bytes and a type each: a BookValue takes five times as much, which
 * at a million rows decides whether the import fits into memory.
 */

#include "book-keys.h"
#include "book-record.h"
#include "book-rules.h"
#include "exchange-csv.h"
#include "exchange-import.h"
#include "exchange-pool-private.h"

G_BEGIN_DECLS

#define EXCHANGE_READ_PERMILLE 300 /* of the whole, by time: reading takes about a third */
#define EXCHANGE_REASON_COLUMN "rejected_because" /* the last column of FILE.rejected.csv; passed over when read */

/* Types of cells beside those of SQLite. */
#define EXCHANGE_CELL_ABSENT_COLUMN 0 /* the file has no such column: STORE_UNCHANGED */
#define EXCHANGE_CELL_REFERENCE 100   /* bits: an ExchangeText of the joined key cells */

typedef union
{
  gint64        integer;
  double        real;
  ExchangeText *text;
  guint64       bits;
} ExchangeBits;

typedef enum
{
  EXCHANGE_ROW_NEW,
  EXCHANGE_ROW_EQUAL,
  EXCHANGE_ROW_CHANGES,
  EXCHANGE_ROW_REJECTED
} ExchangeRowState;

/**
 * ExchangeImportRows:
 * @name: what sentences call the text
 * @record: what its rows are
 * @n_columns: how many columns each row has
 * @columns: their names, as a file would have them
 * @n_rows: how many rows
 * @fill: gives a row; what it holds must last until the next is asked for
 * @changed: (nullable): told of each field in which a row differs from the book, with what the book has
 * @refused: told of each thing that is wrong with a row; the column by its name in files, or %NULL
 * @judged: told at the end what became of each row
 * @data: for the functions, which run in the thread of the import or of the writer
 *
 * Rows that lie in memory, in the place of files. Nothing is wrong with the whole of them: where a column is missing that
 * new rows need, the new rows are refused. Rows without the number that their record counts by are those of the book
 * that are equal, else new ones behind them; a file's would be the first, second and so on. No file of rejected rows is
 * written.
 */
typedef struct
{
  const char        *name;
  const BookRecord  *record;
  guint              n_columns;
  const char *const *columns;
  guint              n_rows;
  void (*fill) (guint row, ExchangeCsvRow *filled, gpointer data);
  void (*changed) (guint row, const BookField *field, const char *old_text, gpointer data);
  void (*refused) (guint row, const char *column, const char *what, gpointer data);
  void (*judged) (guint row, ExchangeRowState state, gpointer data);
  gpointer           data;
} ExchangeImportRows;

/* How a field is found in a file. Columns are -1 where the file has none. */
typedef struct
{
  guint         n_columns;
  BookCsvColumn columns[BOOK_MAX_KEY];
  int           at[BOOK_MAX_KEY];
  int           otherwise[BOOK_MAX_KEY];
  gboolean      is_present;
  gboolean      in_key;
  gboolean      is_ordinal;
} ExchangeFieldPlan;

typedef struct
{
  ExchangeImportFile *report;
  const char         *path;
  guint64             bytes;
  gint                kept_at; /* column of the field kept outside the table, or -1 */
  ExchangeFieldPlan   plans[BOOK_MAX_FIELDS];
  gboolean            lacks_required; /* a required column is absent: no new rows from this file */
  guint               first_row;      /* its rows in the table */
  guint               n_rows;
} ExchangeSource;

/* All rows of one record, of all files of the call. */
typedef struct
{
  const BookRecord *record;
  GPtrArray        *sources; /* of ExchangeSource */
  guint             n_rows;
  guint             n_allocated;
  ExchangeBits     *bits;    /* n_rows times n_fields */
  guint8           *types;   /* n_rows times n_fields */
  guint32          *lines;
  guint8           *states;  /* ExchangeRowState */
  gint64           *ids;     /* of the matching or inserted row; 0 */
  ExchangeText    **kept;    /* (nullable): values of the field kept outside */
  int               key_fields[BOOK_MAX_KEY];
  gboolean          has_own; /* some field refers to the record itself */
  guint32          *buckets; /* rows by key, plus 1; 0 is free */
  gsize             n_buckets;
  GHashTable       *rejected_keys; /* joined key cells to `FILE:LINE` */
} ExchangeTable;

typedef struct
{
  guint source_order; /* of the file within the call */
  guint line;
  char *text; /* the whole sentence */
} ExchangeProblem;

typedef struct
{
  const ExchangeImportOptions *options;
  const ExchangeImportRows    *rows; /* (nullable): instead of files */
  ExchangeImportReport        *report;
  ExchangeTable               *tables[BOOK_N_RECORDS + 1]; /* by record; NULL: no file of it */
  BookKeys                    *keys[BOOK_N_RECORDS + 1];
  ExchangePool *pool; /* of references: few, looked at for every row, so kept apart from the others */
  ExchangePool                *texts;    /* of values */
  gboolean                     with_rules; /* ask the rules of each row; see exchange_import() */
  GArray                      *problems; /* of ExchangeProblem; bounded */
  GHashTable                  *reasons;  /* only with keep_good: source and row to the sentence */
  guint                        n_problems;
  guint                        n_rejected;
  guint                        n_file_problems; /* of whole files: nothing is stored even with keep_good */
  guint64                      total_bytes; /* of all files */
  guint64                      read_bytes;  /* of those read to their end */
  guint                        total_rows;
  guint                        done_rows;
  guint                        written_rows;
  GCancellable                *cancellable;
  StoreAction                 *action; /* in the second half */
  StoreDb                     *db;
  BookRules                   *rules;
} ExchangeImport;

gboolean exchange_import_rows (Book *book, const ExchangeImportRows *rows, const ExchangeImportOptions *options,
                               ExchangeImportReport **report, GCancellable *cancellable, GError **error);

gboolean exchange_import_find_files (ExchangeImport *import, const char *const *paths, GError **error);
gboolean exchange_import_read (ExchangeImport *import, ExchangeTable *table, ExchangeSource *source, GError **error);
gboolean exchange_import_table (ExchangeImport *import, ExchangeTable *table, GError **error);
gboolean exchange_import_match (ExchangeImport *import, ExchangeTable *table, GError **error);
gboolean exchange_import_number (ExchangeImport *import, ExchangeTable *table, guint ordinal, GError **error);
gboolean exchange_import_store_contents (ExchangeImport *import, ExchangeTable *table, guint row, GError **error);
guint32 *exchange_import_order (const ExchangeTable *table, guint *n) G_GNUC_WARN_UNUSED_RESULT;
gboolean exchange_import_write_rejected (ExchangeImport *import, GError **error);
void     exchange_import_remove_rejected (ExchangeImport *import);

/* Tells how far the second half is, and asks whether to go on. */
gboolean exchange_import_tell (ExchangeImport *import, GError **error);

/* Notes that @row is wrong; @column may be NULL. The sentence without place and column. */
void exchange_import_reject (ExchangeImport *import, ExchangeTable *table, guint row, const char *column,
                             const char *what);
void exchange_import_problem (ExchangeImport *import, ExchangeSource *source, guint line, const char *column,
                              const char *what);

ExchangeSource *exchange_table_source (const ExchangeTable *table, guint row);
BookValue       exchange_table_value (const ExchangeTable *table, guint row, guint field);
char *exchange_table_print (StoreDb *db, const ExchangeTable *table, guint row, guint field) G_GNUC_WARN_UNUSED_RESULT;

/* The state of an ExchangeText of a reference. */
typedef enum
{
  EXCHANGE_REFERENCE_OPEN,
  EXCHANGE_REFERENCE_FOUND,
  EXCHANGE_REFERENCE_MISSING
} ExchangeReferenceState;

gboolean exchange_import_resolve (ExchangeImport *import, const BookField *field, ExchangeText *text, GError **error);
char *exchange_import_why_missing (ExchangeImport *import, const BookRecord *record, const BookField *field,
                                   const ExchangeText *text, const char **column);
BookKeys *exchange_import_keys (ExchangeImport *import, const BookRecord *record, GError **error);

G_END_DECLS
