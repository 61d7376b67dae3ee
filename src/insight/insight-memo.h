/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * Answers that take long, drawn or integrated, by everything that they were made of. Draws are keyed, so the same makings
 * give the same answer, and whoever asks again, another page or another round's look, need not wait for it. A key names its question and holds
 * each figure that takes part; one forgotten would answer a changed question with the old answer.
 */

typedef enum
{
  INSIGHT_MEMO_YIELD,
  INSIGHT_MEMO_RATE,
  INSIGHT_MEMO_GAUGE,
  INSIGHT_MEMO_CONFORMANCE
} InsightMemoQuestion;

GByteArray *insight_memo_key     (InsightMemoQuestion question,
                                  gint64              model,
                                  gint64              id,
                                  guint               draws) G_GNUC_WARN_UNUSED_RESULT;
void        insight_memo_integer (GByteArray         *key,
                                  gint64              value);
void        insight_memo_numbers (GByteArray         *key,
                                  const double       *values,
                                  gsize               n);
gboolean    insight_memo_find    (const GByteArray   *key,
                                  double             *answer,
                                  gsize               n);
void        insight_memo_keep    (const GByteArray   *key,
                                  const double       *answer,
                                  gsize               n);
void        insight_memo_forget  (void);

G_END_DECLS
