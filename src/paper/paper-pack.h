/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The decision pack: what an owner has to know to decide about a gate, on paper, and what somebody needs a year later to see
 * what was known. The first page answers; the rest is the evidence. It is made from the dossier (present-dossier.h), as the
 * Release page and the frozen document are. Names of those who build and inspect are not in it; who decides, signs, waives,
 * excuses or voids is.
 */

#include "paper-document.h"
#include "store-db.h"

G_BEGIN_DECLS

#define PAPER_PACK_MOST_PAGES 20

/**
 * PaperPackAsk:
 * @model: key
 * @through: key of the round looked through; 0: the newest
 * @gate: key of the gate to be decided about; 0: the first that nobody decided about, else the last
 * @today: the day that it bears, ISO 8601
 * @book: UUID of the book
 * @size: %PAPER_A4, %PAPER_LETTER or %PAPER_SIZE_OF_BOOK
 * @progress: (nullable): told how far it is, in the thread that writes
 * @progress_data: for @progress
 *
 * What the pack is about.
 */
typedef struct
{
  gint64      model;
  gint64      through;
  gint64      gate;
  const char *today;
  const char *book;
  int         size;
  void      (*progress) (guint64 done, guint64 total, gpointer data);
  gpointer    progress_data;
} PaperPackAsk;

PaperDocument *paper_pack_document (StoreDb            *db,
                                    const PaperPackAsk *ask,
                                    GCancellable       *cancellable,
                                    GError            **error) G_GNUC_WARN_UNUSED_RESULT;
GBytes        *paper_pack_write    (StoreDb            *db,
                                    const PaperPackAsk *ask,
                                    GCancellable       *cancellable,
                                    GError            **error) G_GNUC_WARN_UNUSED_RESULT;
char          *paper_pack_name     (const char         *model,
                                    const char         *today,
                                    const char         *ending) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
