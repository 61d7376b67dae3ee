/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Tolerance classes of the ISO code system for sizes, such as H7 or g6 (ISO 286-1:2010): the limit deviations that a class
 * stands for at a nominal size.
 */

#include <glib.h>

G_BEGIN_DECLS

#define EXCHANGE_FIT_SIZE_MOST 120.0 /* mm; what is larger is not held here */

/**
 * ExchangeFitResult:
 * @EXCHANGE_FIT_OK: the class stands for limits at this size
 * @EXCHANGE_FIT_NO_CLASS: the text is no class: one or two letters and a grade
 * @EXCHANGE_FIT_NOT_HELD: a letter or grade that is not held here, or not meant for this size
 * @EXCHANGE_FIT_SIZE: no size, or one beyond what is held here
 */
typedef enum
{
  EXCHANGE_FIT_OK,
  EXCHANGE_FIT_NO_CLASS,
  EXCHANGE_FIT_NOT_HELD,
  EXCHANGE_FIT_SIZE
} ExchangeFitResult;

ExchangeFitResult exchange_fit_read  (const char *text,
                                      double      size,
                                      double     *lower,
                                      double     *upper);
/* The standard tolerance in micrometres; 0 where none is held. */
double            exchange_fit_grade (int         grade,
                                      double      size);

G_END_DECLS
