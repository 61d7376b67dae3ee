/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What was found for the words that somebody typed, each with the record to go to: where no page shows the record itself,
 * what it belongs to, else its history.
 */

#include "book-search.h"
#include "store-reader.h"

G_BEGIN_DECLS

/**
 * FettleFound:
 * @hit: what was found (owned)
 * @record: name of the record to go to
 * @id: its key
 * @in_history: no page shows it: its history does
 */
typedef struct
{
  BookHit    *hit;
  const char *record;
  gint64      id;
  gboolean    in_history;
} FettleFound;

/**
 * FettleFinding:
 * @words: what was typed
 * @found: (element-type FettleFound): by kind, the kind of the best first
 * @more: there is more than that
 */
typedef struct
{
  char      *words;
  GPtrArray *found;
  gboolean   more;
} FettleFinding;

typedef struct
{
  char  *words;
  gint64 model; /* present */
} FettleFindAsk;

void     fettle_find_ask_free (gpointer       data);
void     fettle_finding_free  (gpointer       data);
/* A StoreReadWork of a FettleFindAsk that answers with a FettleFinding. */
gpointer fettle_find_work     (StoreDb       *db,
                               gpointer       data,
                               GCancellable  *cancellable,
                               GError       **error);

G_END_DECLS
