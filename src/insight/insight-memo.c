/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-memo.h"

#include <string.h>

#define DIGEST     32 /* bytes of SHA-256 */
#define WHOLE_MOST 16 /* numbers that stand in a key as they are */
#define KEPT_MOST  (4u << 20) /* bytes of keys and answers; beyond it all are let go and what is asked next is drawn */

static GMutex      lock;    /* pages ask from threads */
static GHashTable *answers; /* GBytes to GBytes */
static gsize       kept;    /* bytes */

/**
 * insight_memo_key:
 * @question: what is asked
 * @model: key of the model, and with @id of the draws
 * @id: of the criterion; 0: the question is not about one
 * @draws: how many; 0: it is not drawn
 *
 * Returns: (transfer full): a key, to which its makings are added in a fixed order
 */
GByteArray *
insight_memo_key (InsightMemoQuestion question, gint64 model, gint64 id, guint draws)
{
  GByteArray *key = g_byte_array_new ();

  insight_memo_integer (key, question);
  insight_memo_integer (key, model);
  insight_memo_integer (key, id);
  insight_memo_integer (key, draws);
  return key;
}

/**
 * insight_memo_integer:
 * @key: a key
 * @value: added to it
 */
void
insight_memo_integer (GByteArray *key, gint64 value)
{
  g_byte_array_append (key, (const guint8 *) &value, sizeof value);
}

/**
 * insight_memo_numbers:
 * @key: a key
 * @values: (array length=n): added to it with their number; many of them by their SHA-256, so that a key stays small
 * @n: how many
 */
void
insight_memo_numbers (GByteArray *key, const double *values, gsize n)
{
  const guint8 *bytes = (const guint8 *) values;
  g_autoptr(GChecksum) checksum = NULL;
  guint8 digest[DIGEST];
  gsize length = sizeof digest;

  insight_memo_integer (key, (gint64) n);
  if (n > 0 && n <= WHOLE_MOST)
    g_byte_array_append (key, bytes, (guint) (n * sizeof *values));
  if (n <= WHOLE_MOST)
    return;
  checksum = g_checksum_new (G_CHECKSUM_SHA256);
  g_checksum_update (checksum, bytes, (gssize) (n * sizeof *values));
  g_checksum_get_digest (checksum, digest, &length);
  g_byte_array_append (key, digest, (guint) length);
}

/**
 * insight_memo_find:
 * @key: complete
 * @answer: (out) (array length=n): what was kept
 * @n: figures of the answer
 *
 * Returns: whether it was asked before
 */
gboolean
insight_memo_find (const GByteArray *key, double *answer, gsize n)
{
  g_autoptr(GBytes) wanted = g_bytes_new_static (key->data, key->len);
  gboolean is_known;
  GBytes *found;

  g_mutex_lock (&lock);
  found = answers != NULL ? g_hash_table_lookup (answers, wanted) : NULL;
  is_known = found != NULL && g_bytes_get_size (found) == n * sizeof *answer;
  if (is_known)
    memcpy (answer, g_bytes_get_data (found, NULL), n * sizeof *answer);
  g_mutex_unlock (&lock);
  return is_known;
}

/**
 * insight_memo_keep:
 * @key: complete; copied
 * @answer: (array length=n): the answer; copied
 * @n: its figures
 */
void
insight_memo_keep (const GByteArray *key, const double *answer, gsize n)
{
  g_mutex_lock (&lock);
  kept += key->len + n * sizeof *answer;
  if (kept > KEPT_MOST)
    {
      g_clear_pointer (&answers, g_hash_table_unref);
      kept = key->len + n * sizeof *answer;
    }
  if (answers == NULL)
    answers = g_hash_table_new_full (g_bytes_hash, g_bytes_equal, (GDestroyNotify) g_bytes_unref, (GDestroyNotify) g_bytes_unref);
  g_hash_table_replace (answers, g_bytes_new (key->data, key->len), g_bytes_new (answer, n * sizeof *answer));
  g_mutex_unlock (&lock);
}

/**
 * insight_memo_forget:
 *
 * Lets go of all: what is asked next is drawn. For tests, which compare both.
 */
void
insight_memo_forget (void)
{
  g_mutex_lock (&lock);
  g_clear_pointer (&answers, g_hash_table_unref);
  kept = 0;
  g_mutex_unlock (&lock);
}
