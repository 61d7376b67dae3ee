/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Counting pieces at a step before units have serials, a tap at a time: each goes at once into the row of that step, day,
 * person and round, so that nothing is lost and each can be undone by itself.
 */

#include "book-edit.h"

G_BEGIN_DECLS

/**
 * BookTallyKind:
 * @BOOK_TALLY_GOOD: good at the first try
 * @BOOK_TALLY_REWORKED: good after rework
 * @BOOK_TALLY_WAITING: waits for rework
 * @BOOK_TALLY_SCRAPPED: scrapped
 * @BOOK_TALLY_WAITING_GOOD: one that waited, on whichever day, is good after rework
 * @BOOK_TALLY_WAITING_SCRAPPED: one that waited is scrapped
 */
typedef enum
{
  BOOK_TALLY_GOOD,
  BOOK_TALLY_REWORKED,
  BOOK_TALLY_WAITING,
  BOOK_TALLY_SCRAPPED,
  BOOK_TALLY_WAITING_GOOD,
  BOOK_TALLY_WAITING_SCRAPPED,
  BOOK_N_TALLY_KINDS
} BookTallyKind;

BookEdit *book_tally_count (gint64        step,
                            gint64        round,
                            BookTallyKind kind,
                            int           n) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_tally_blame (gint64        tally,
                            gint64        issue,
                            int           n) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
