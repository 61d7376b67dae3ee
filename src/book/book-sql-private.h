/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Statements that follow from a description. Each text is made once and lives as long as the program, so that its
 * address can be the key of a connection's cache of statements.
 */

#include "book-fields.h"

G_BEGIN_DECLS

typedef enum
{
  BOOK_SQL_READ,         /* all columns of ?1 */
  BOOK_SQL_KEY,          /* the key columns of ?1 */
  BOOK_SQL_EACH,         /* all columns of all rows by id */
  BOOK_SQL_EACH_BY_KEY,  /* all columns of all rows by visible key */
  BOOK_SQL_EACH_KEY,     /* id and key columns of all rows by id */
  BOOK_SQL_COUNT,
  BOOK_SQL_COUNT_OF,     /* rows of the model ?1 and of none, by references upwards */
  BOOK_SQL_FIND,         /* ids of the key ?1, ?2, … */
  BOOK_SQL_ORDINAL,      /* the greatest ordinal within the key ?1, ?2, …; the ordinal's own place is not used */
  BOOK_SQL_INSERT,       /* id and all columns */
  BOOK_SQL_UPDATE,       /* id and all columns */
  BOOK_SQL_DELETE,       /* ?1 */
  BOOK_SQL_TWICE,        /* another row with the key of ?1 */
  BOOK_SQL_TWICE_ANY,    /* a row whose key another row has */
  BOOK_N_SQL
} BookSql;

const char *book_sql          (const BookRecord *record,
                               BookSql           which);
const char *book_sql_children (const BookRecord *child,
                               guint             field);

G_END_DECLS
