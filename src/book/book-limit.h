/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The limits of a characteristic as one thing that is set from a day on.
 */

#include "book-edit.h"

G_BEGIN_DECLS

/**
 * BookLimitNow:
 * @characteristic: its key
 * @code: of the characteristic
 * @unit: of its values; "" for none
 * @decimals: digits after the point that are shown
 * @measured: its values are numbers, so that limits have a meaning
 * @from: day from which the limits hold; "" when there are none
 * @nominal: NAN when none is set
 * @lower: NAN when there is none
 * @upper: NAN when there is none
 */
typedef struct
{
  gint64   characteristic;
  char    *code;
  char    *unit;
  int      decimals;
  gboolean measured;
  char    *from;
  double   nominal;
  double   lower;
  double   upper;
} BookLimitNow;

BookLimitNow *book_limit_now      (StoreDb       *db,
                                   gint64         characteristic,
                                   const char    *today,
                                   GError       **error) G_GNUC_WARN_UNUSED_RESULT;
void          book_limit_now_free (BookLimitNow  *now);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookLimitNow, book_limit_now_free)

BookEdit     *book_limit_set      (gint64         characteristic,
                                   const char    *from,
                                   double         nominal,
                                   double         lower,
                                   double         upper) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
