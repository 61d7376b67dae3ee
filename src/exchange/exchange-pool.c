/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange-pool-private.h"

#include <string.h>

#define BLOCK_BYTES (256 * 1024)

struct _ExchangePool
{
  ExchangeText **slots; /* a power of two, at most two thirds full; probed one after another */
  gsize          n_slots;
  gsize          n_texts;
  GPtrArray     *blocks;
  char          *free;
  gsize          n_free;
};

static guint32
hash_text (const char *text, gsize length)
{
  guint64 hash = length;

  while (length >= 8)
    {
      guint64 word;

      memcpy (&word, text, 8);
      hash = exchange_mix (hash ^ word);
      text += 8;
      length -= 8;
    }
  if (length > 0)
    {
      guint64 word = 0;

      memcpy (&word, text, length);
      hash = exchange_mix (hash ^ word);
    }
  return (guint32) exchange_mix (hash);
}

ExchangePool *
exchange_pool_new (void)
{
  ExchangePool *self = g_new0 (ExchangePool, 1);

  self->n_slots = 1024;
  self->slots = g_new0 (ExchangeText *, self->n_slots);
  self->blocks = g_ptr_array_new_with_free_func (g_free);
  return self;
}

void
exchange_pool_free (ExchangePool *self)
{
  if (self == NULL)
    return;
  g_free (self->slots);
  g_ptr_array_unref (self->blocks);
  g_free (self);
}

static gsize
find_slot (const ExchangePool *self, const char *text, gsize length, guint32 hash)
{
  gsize slot = hash & (self->n_slots - 1);

  while (self->slots[slot] != NULL
         && !(self->slots[slot]->hash == hash && self->slots[slot]->length == length
              && memcmp (self->slots[slot]->text, text, length) == 0))
    slot = (slot + 1) & (self->n_slots - 1);
  return slot;
}

static void
grow (ExchangePool *self)
{
  ExchangeText **old = self->slots;
  gsize n_old = self->n_slots;

  self->n_slots *= 2;
  self->slots = g_new0 (ExchangeText *, self->n_slots);
  for (gsize i = 0; i < n_old; i++)
    {
      gsize slot;

      if (old[i] == NULL)
        continue;
      slot = old[i]->hash & (self->n_slots - 1);
      while (self->slots[slot] != NULL)
        slot = (slot + 1) & (self->n_slots - 1);
      self->slots[slot] = old[i];
    }
  g_free (old);
}

static ExchangeText *
allocate (ExchangePool *self, gsize length)
{
  gsize size = (sizeof (ExchangeText) + length + 1 + 7) & ~(gsize) 7;
  ExchangeText *text;

  if (size > self->n_free)
    {
      self->n_free = MAX (size, BLOCK_BYTES);
      self->free = g_malloc (self->n_free);
      g_ptr_array_add (self->blocks, self->free);
    }
  text = (ExchangeText *) (void *) self->free;
  self->free += size;
  self->n_free -= size;
  return text;
}

static ExchangeText *
fill (ExchangeText *entry, const char *text, gsize length, guint32 hash)
{
  entry->hash = hash;
  entry->length = (guint32) length;
  entry->state = 0;
  entry->id = 0;
  memcpy (entry->text, text, length);
  entry->text[length] = '\0';
  return entry;
}

/**
 * exchange_pool_add:
 * @pool: a pool
 * @text: a text; may hold zero bytes
 * @length: its bytes
 *
 * Keeps a text without looking whether it is there already: for texts that differ in most rows and are compared by
 * none, where the look would only miss the cache.
 *
 * Returns: (transfer none): an entry of its own, which exchange_pool_find() does not find
 */
ExchangeText *
exchange_pool_add (ExchangePool *self, const char *text, gsize length)
{
  return fill (allocate (self, length), text, length, 0);
}

/**
 * exchange_pool_intern:
 * @pool: a pool
 * @text: a text; may hold zero bytes
 * @length: its bytes
 *
 * Returns: (transfer none): the one entry of that text; made when there is none
 */
ExchangeText *
exchange_pool_intern (ExchangePool *self, const char *text, gsize length)
{
  guint32 hash = hash_text (text, length);
  gsize slot = find_slot (self, text, length, hash);
  ExchangeText *entry = self->slots[slot];

  if (entry != NULL)
    return entry;
  entry = fill (allocate (self, length), text, length, hash);
  self->slots[slot] = entry;
  if (++self->n_texts * 3 > self->n_slots * 2)
    grow (self);
  return entry;
}

/* Returns: (nullable): the entry of that text */
ExchangeText *
exchange_pool_find (const ExchangePool *self, const char *text, gsize length)
{
  return self->slots[find_slot (self, text, length, hash_text (text, length))];
}
