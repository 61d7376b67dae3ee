/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The version of each model, and the last answers about it, kept in the book so that it opens at once.
 */

#include "book.h"

G_BEGIN_DECLS

/**
 * BookVersion:
 * @model: counts the commits that touched the model
 * @shared: counts the commits that touched what all models share
 */
typedef struct
{
  gint64 model;
  gint64 shared;
} BookVersion;

/**
 * BookQuestion:
 * @model: about which model
 * @version: at which version
 * @question: a short word: `standing`
 * @through: a round; 0: the whole story
 * @today: ISO 8601 date
 */
typedef struct
{
  gint64      model;
  BookVersion version;
  const char *question;
  gint64      through;
  const char *today;
} BookQuestion;

gboolean book_version_read  (StoreDb            *db,
                             gint64              model,
                             BookVersion        *version,
                             GError            **error) G_GNUC_WARN_UNUSED_RESULT;
/* How far the journal goes: number of entries, place hash of the last one (hexadecimal). */
gboolean book_head_read     (StoreDb            *db,
                             gint64             *place,
                             char              **head,
                             GError            **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_identity_read (StoreDb            *db,
                             char              **uuid,
                             GError            **error) G_GNUC_WARN_UNUSED_RESULT;
/* Whether the journal still has that place hash at that place, as it was kept elsewhere. */
gboolean book_head_holds    (StoreDb            *db,
                             gint64              place,
                             const char         *head,
                             gboolean           *holds,
                             GError            **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_written_by    (StoreDb            *db,
                             guint              *origins,
                             gint64             *place,
                             char              **day,
                             GError            **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_answer_get    (StoreDb            *db,
                             const BookQuestion *question,
                             GBytes            **answer,
                             GError            **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_answer_put    (StoreAction        *action,
                             const BookQuestion *question,
                             GBytes             *answer,
                             GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void     book_answer_keep   (Book               *book,
                             const BookQuestion *question,
                             GBytes             *answer);

G_END_DECLS
