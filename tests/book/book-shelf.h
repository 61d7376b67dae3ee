/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A fresh book in a temporary folder for each test, and records written down as words: tests say what a book holds in
 * the way its files would.
 */

#include "book-edit.h"
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

/* Runs a command by the shelf's person, on a day that is 2026-03-10, and dies if it is refused; gives back its record. */
#define SHELF_TODAY   "2026-03-10"
#define SHELF_SITTING 7
gint64 shelf_run (Shelf    *shelf,
                  BookEdit *edit);
/* Runs a command that must be refused with this sentence, beside this field (NULL: no single one). */
void   shelf_run_refused (Shelf      *shelf,
                          BookEdit   *edit,
                          const char *field,
                          const char *sentence);
/* The same by @person. */
void   shelf_run_refused_to (Shelf      *shelf,
                             BookEdit   *edit,
                             gint64      person,
                             const char *field,
                             const char *sentence);
/* What history says of the last action. */
void   shelf_last_sentence (Shelf      *shelf,
                            const char *expected);
/* Undoes the last action of the shelf's sitting. */
void   shelf_undo (Shelf *shelf);

/* Holds the index of words against the texts that it was made of. */
void   shelf_check_words (Shelf *shelf);

/* The digest of every journaled table and of what is derived from them. */
char  *shelf_digest (Shelf *shelf) G_GNUC_WARN_UNUSED_RESULT;

/* A list of texts that ends in NULL. */
#define STRINGS(...) ((const char *const[]){ __VA_ARGS__, NULL })

gint64 shelf_integer (Shelf      *shelf,
                      const char *sql);
