/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A fresh book in a temporary folder for each test, and records written down as words: tests say what a book holds in
 * the way its files would.
 */

#include "book-record.h"

typedef struct
{
  char        *folder;
  char        *path;
  Book        *book;
  gint64       person;
  StoreOptions options;
} Shelf;

void shelf_open  (Shelf *shelf);
void shelf_close (Shelf *shelf);

StoreDb *shelf_db (Shelf *shelf);

/* Lines of 'record field=text field=text …' written in one action; texts end at ' |' or the line's end. Dies if refused. */
void shelf_write (Shelf      *shelf,
                  const char *lines);
/* The same; returns the sentence of the refusal, or NULL if it was stored. */
char *shelf_refuse (Shelf      *shelf,
                    const char *lines);
/* The id of a record by key text; dies if there is none. */
gint64 shelf_id (Shelf       *shelf,
                 BookRecordId record,
                 const char  *key);
/* What a field holds, as files write it. */
char *shelf_get (Shelf       *shelf,
                 BookRecordId record,
                 const char  *key,
                 const char  *field);
/* A model HF with rounds P1 and P2, a unit in each, a measured LE (limit 1.2) and a checked LV characteristic. */
void shelf_fill (Shelf *shelf);

gint64 shelf_integer (Shelf      *shelf,
                      const char *sql);
