/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * How the descriptions are written down: one line a field. Arguments after the help sentence set members by name.
 */

#include "config.h"

#include <glib/gi18n-lib.h>
#include "book-fields.h"

#define TEXT(name_, length_, label_, help_, ...)                                                              \
  { .name = name_, .label = label_, .help = help_, .kind = BOOK_KIND_TEXT, .max_length = length_, __VA_ARGS__ }
#define LONG_TEXT(name_, label_, help_, ...)                                                                  \
  { .name = name_, .label = label_, .help = help_, .kind = BOOK_KIND_LONG_TEXT, .max_length = 4000, __VA_ARGS__ }
#define INTEGER(name_, min_, max_, label_, help_, ...)                                                        \
  { .name = name_, .label = label_, .help = help_, .kind = BOOK_KIND_INTEGER, .min = min_, .max = max_, __VA_ARGS__ }
#define REAL(name_, min_, max_, decimals_, label_, help_, ...)                                                \
  { .name = name_, .label = label_, .help = help_, .kind = BOOK_KIND_REAL, .min = min_, .max = max_,          \
    .decimals = decimals_, __VA_ARGS__ }
#define SHARE(name_, label_, help_, ...)                                                                      \
  { .name = name_, .label = label_, .help = help_, .kind = BOOK_KIND_SHARE, .min = 0.0, .max = 1.0,           \
    .decimals = 4, .open_min = TRUE, __VA_ARGS__ }
#define MONEY(name_, label_, help_, ...)                                                                      \
  { .name = name_, .label = label_, .help = help_, .kind = BOOK_KIND_MONEY, .min = 0.0, .max = 1e9,           \
    .decimals = 2, __VA_ARGS__ }
#define DATE(name_, label_, help_, ...)                                                                       \
  { .name = name_, .label = label_, .help = help_, .kind = BOOK_KIND_DATE, __VA_ARGS__ }
#define MOMENT(name_, label_, help_, ...)                                                                     \
  { .name = name_, .label = label_, .help = help_, .kind = BOOK_KIND_MOMENT, __VA_ARGS__ }
#define BOOLEAN(name_, label_, help_, ...)                                                                    \
  { .name = name_, .label = label_, .help = help_, .kind = BOOK_KIND_BOOLEAN, __VA_ARGS__ }
#define CHOICE(name_, choices_, label_, help_, ...)                                                           \
  { .name = name_, .label = label_, .help = help_, .kind = BOOK_KIND_CHOICE, .choices = choices_, __VA_ARGS__ }
#define REFERENCE(name_, refers_, label_, help_, ...)                                                         \
  { .name = name_, .label = label_, .help = help_, .kind = BOOK_KIND_REFERENCE, .refers = refers_, __VA_ARGS__ }
#define CONTENT(name_, label_, help_, ...)                                                                    \
  { .name = name_, .label = label_, .help = help_, .kind = BOOK_KIND_CONTENT, .max_length = 64, __VA_ARGS__ }

#define RECORD(id_, name_, label_, plural_, fields_, ...)                                                     \
  { .id = id_, .name = name_, .label = label_, .plural = plural_, .fields = fields_,                          \
    .n_fields = G_N_ELEMENTS (fields_), __VA_ARGS__ }

#define REQUIRED .required = TRUE
#define KEY(n_, ...) .n_key = n_, .key = { __VA_ARGS__ }

#define BOOK_COUNT_MAX 1000000000.0 /* of counts: units, cycles, minutes */
#define BOOK_REAL_MAX  1e12         /* of measured values, either side of zero */

/* One array a subject, in its own file; book-fields.c joins them. */
extern const BookRecord book_records_shop[];
extern const guint      book_n_records_shop;
extern const BookRecord book_records_model[];
extern const guint      book_n_records_model;
extern const BookRecord book_records_round[];
extern const guint      book_n_records_round;
extern const BookRecord book_records_issue[];
extern const guint      book_n_records_issue;
extern const BookRecord book_records_gate[];
extern const guint      book_n_records_gate;
