/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The letter to the designer, who is often outside the shop and without this program: what changed between two rounds
 * and why, what the readings say about it, where the issues stand, what is asked of the designer, and room for answers.
 * Two to five pages. It names no person, no cost, no supplier and no other model.
 */

#include <gio/gio.h>

#include "paper-document.h"
#include "store-db.h"

G_BEGIN_DECLS

#define PAPER_LETTER_LEAST_PAGES 2
#define PAPER_LETTER_MOST_PAGES  5

/**
 * PaperLetterAsk:
 * @model: key
 * @from: key of the earlier round; 0: the one before @to
 * @to: key of the later round; 0: the newest round with a built unit
 * @today: the day that the letter bears, ISO 8601
 * @size: of the paper
 * @progress: (nullable): told how far it is, in the thread that writes
 * @progress_data: for @progress
 *
 * What the letter is about.
 */
typedef struct
{
  gint64      model;
  gint64      from;
  gint64      to;
  const char *today;
  PaperSize   size;
  void      (*progress) (guint64 done, guint64 total, gpointer data);
  gpointer    progress_data;
} PaperLetterAsk;

GBytes  *paper_letter_write (StoreDb              *db,
                             const PaperLetterAsk *ask,
                             GCancellable         *cancellable,
                             GError              **error) G_GNUC_WARN_UNUSED_RESULT;
char    *paper_letter_name  (const char           *model,
                             const char           *today) G_GNUC_WARN_UNUSED_RESULT;
gboolean paper_save         (GBytes               *pdf,
                             const char           *path,
                             GError              **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
