/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The models of a book and the rounds of a model: what lists and the round strip show.
 */

#include "book.h"

G_BEGIN_DECLS

typedef struct
{
  gint64   id;
  char    *code;
  char    *name;
  char    *caution; /* (nullable) */
  gboolean archived;
  guint    n_rounds;
} BookModel;

/* Dates are ISO 8601; %NULL where not known. */
typedef struct
{
  gint64           id;
  char            *label;
  BookRoundKind    kind;
  char            *question;
  char            *opened;
  char            *design_fixed;
  char            *parts_ready;
  char            *built;
  char            *tested;
  char            *decided;
  BookRoundVerdict verdict; /* 0: none yet */
  guint            planned_units;
  guint            n_units; /* products, without loose parts */
} BookRound;

void       book_model_free  (BookModel  *model);
void       book_round_free  (BookRound  *round);
GPtrArray *book_models_list (StoreDb    *db,
                             GError    **error) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray *book_models_running (StoreDb *db,
                             gint64      except,
                             gint64      bench,
                             GError    **error) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray *book_rounds_list (StoreDb    *db,
                             gint64      model,
                             GError    **error) G_GNUC_WARN_UNUSED_RESULT;
void       book_rounds_days (const BookRound *from,
                             const BookRound *to,
                             const char     **first,
                             const char     **last);
gboolean   book_model_find  (StoreDb    *db,
                             const char *code,
                             gint64     *model,
                             GError    **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
