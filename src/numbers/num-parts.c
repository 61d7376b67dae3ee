/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "num-parts.h"

#include <pthread.h>
#include <stdbool.h>
#include <unistd.h>

#define PARTS_MOST 16

typedef struct
{
  size_t first;
  size_t end;
  NumPartFunc func;
  void *data;
  pthread_t thread;
  bool started;
} Part;

static void *
run (void *data)
{
  const Part *part = data;

  part->func (part->first, part->end, part->data);
  return NULL;
}

/**
 * num_in_parts:
 * @n: how many pieces
 * @least: fewer than this are not worth a thread; at least 1
 * @func: does some of them
 * @data: for @func; what is not kept by piece has to be locked
 *
 * Returns when all are done. Where no thread can be had, the pieces are done here.
 */
void
num_in_parts (size_t n, size_t least, NumPartFunc func, void *data)
{
  long processors = sysconf (_SC_NPROCESSORS_ONLN);
  size_t count = processors > 1 ? (size_t) processors : 1;
  Part parts[PARTS_MOST];

  count = count < PARTS_MOST ? count : PARTS_MOST;
  count = n / least < count ? n / least : count;
  if (count < 2)
    {
      func (0, n, data);
      return;
    }
  for (size_t i = 0; i < count; i++)
    {
      parts[i] = (Part){ .first = n * i / count, .end = n * (i + 1) / count, .func = func, .data = data };
      parts[i].started = i > 0 && pthread_create (&parts[i].thread, NULL, run, &parts[i]) == 0;
    }
  for (size_t i = 0; i < count; i++) /* the first is ours */
    if (!parts[i].started)
      run (&parts[i]);
  for (size_t i = 0; i < count; i++)
    if (parts[i].started)
      pthread_join (parts[i].thread, NULL);
}
