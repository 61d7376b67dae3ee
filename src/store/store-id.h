/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Keys of rows: a random origin of 30 bits above a counter of 33 bits. Copies of a file write under origins of their
 * own, so their keys never collide, and rows of one origin stay in the order in which they were made.
 */

#include <glib.h>

G_BEGIN_DECLS

#define STORE_ID_COUNTER_BITS 33
#define STORE_ID_ORIGIN_MOST  ((G_GINT64_CONSTANT (1) << 30) - 1)
#define STORE_ID_COUNTER_MOST ((G_GINT64_CONSTANT (1) << STORE_ID_COUNTER_BITS) - 1)

/**
 * store_id_make:
 * @origin: 1 to %STORE_ID_ORIGIN_MOST
 * @counter: 1 to %STORE_ID_COUNTER_MOST
 *
 * Returns: the key, always positive
 */
static inline gint64
store_id_make (gint64 origin, gint64 counter)
{
  return (gint64) (((guint64) origin << STORE_ID_COUNTER_BITS) | (guint64) counter);
}

static inline gint64
store_id_origin (gint64 id)
{
  return (gint64) ((guint64) id >> STORE_ID_COUNTER_BITS);
}

static inline gint64
store_id_counter (gint64 id)
{
  return id & STORE_ID_COUNTER_MOST;
}

G_END_DECLS
