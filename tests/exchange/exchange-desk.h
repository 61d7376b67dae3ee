/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A fresh folder with a book and files beside it, for each test. */

#include "exchange-export.h"
#include "exchange-import.h"

G_BEGIN_DECLS

typedef struct
{
  char        *folder;
  char        *files; /* what is put lies here */
  StoreOptions options;
  Book        *book;
  guint        n_exports;
} Desk;

void desk_open (Desk *desk, gconstpointer unused);
void desk_close (Desk *desk, gconstpointer unused);
/* Another, empty book in the place of the present one. */
void desk_change_book (Desk *desk);

/* Writes `files/NAME`. */
void desk_put (Desk *desk, const char *name, const char *text);
void desk_put_bytes (Desk *desk, const char *name, const char *bytes, gsize length);
/* Takes all files away. */
void desk_clear (Desk *desk);
/* A model A with round P1, units U1 and U2, characteristics W (measured, mm) and L (checked), persons KB and LN. */
void desk_put_base (Desk *desk);

/* Imports `files`: the problems a line each with the folder cut away, then the error, then what was counted. */
char *desk_import (Desk *desk, const ExchangeImportOptions *options);
/* Imports, asserting that nothing is wrong. */
void desk_do (Desk *desk);
/* What an export holds: each file that has rows, its name in front. */
char *desk_dump (Desk *desk);
/* An export's folder. */
char *desk_export (Desk *desk);
char *desk_read (Desk *desk, const char *name);

G_END_DECLS
