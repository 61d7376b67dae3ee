/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Texts of an import, each kept once: two cells with the same text share one entry, so that equality is that of
 * pointers and what was found out about a text (which row it refers to) is found out once, not once a row.
 */

#include <glib.h>

G_BEGIN_DECLS

typedef struct _ExchangePool ExchangePool;

/**
 * ExchangeText:
 * @hash: of the text
 * @length: its bytes
 * @state: the user's; 0 at first
 * @id: the user's; 0 at first
 * @text: ends in a zero byte, which is not counted; may hold further zero bytes
 */
typedef struct
{
  guint32 hash;
  guint32 length;
  gint    state;
  gint64  id;
  char    text[];
} ExchangeText;

ExchangePool *exchange_pool_new (void);
void          exchange_pool_free (ExchangePool *pool);
ExchangeText *exchange_pool_intern (ExchangePool *pool, const char *text, gsize length);
ExchangeText *exchange_pool_add (ExchangePool *pool, const char *text, gsize length);
ExchangeText *exchange_pool_find (const ExchangePool *pool, const char *text, gsize length);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchangePool, exchange_pool_free)

/* Spreads the bits of @value; for hash tables of whole numbers. */
static inline guint64
exchange_mix (guint64 value)
{
  value *= G_GUINT64_CONSTANT (0x9e3779b97f4a7c15); /* 2^64 divided by the golden ratio: Fibonacci hashing, Knuth */
  return value ^ (value >> 32);
}

G_END_DECLS
