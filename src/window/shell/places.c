/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "places.h"

#define MOST_PLACES 100

struct _FettlePlaces
{
  GPtrArray *behind; /* FettlePlace, the last left last */
  GPtrArray *ahead;  /* the nearest last */
};

static void
watch_focus (FettlePlace *place)
{
  if (place->focus != NULL)
    g_object_add_weak_pointer (G_OBJECT (place->focus), (gpointer *) &place->focus);
}

FettlePlace *
fettle_place_copy (const FettlePlace *place)
{
  FettlePlace *copy = g_memdup2 (place, sizeof *place);

  copy->way = g_strdup (place->way);
  watch_focus (copy);
  return copy;
}

void
fettle_place_free (FettlePlace *place)
{
  if (place == NULL)
    return;
  if (place->focus != NULL)
    g_object_remove_weak_pointer (G_OBJECT (place->focus), (gpointer *) &place->focus);
  g_free (place->way);
  g_free (place);
}

static void
free_place (gpointer data)
{
  fettle_place_free (data);
}

gboolean
fettle_place_is_same (const FettlePlace *a, const FettlePlace *b)
{
  return a->kind == b->kind && a->span.model == b->span.model && a->span.from == b->span.from && a->span.to == b->span.to
         && g_strcmp0 (a->record, b->record) == 0 && a->key == b->key && a->view == b->view;
}

FettlePlaces *
fettle_places_new (void)
{
  FettlePlaces *self = g_new0 (FettlePlaces, 1);

  self->behind = g_ptr_array_new_with_free_func (free_place);
  self->ahead = g_ptr_array_new_with_free_func (free_place);
  return self;
}

void
fettle_places_free (FettlePlaces *self)
{
  g_ptr_array_unref (self->behind);
  g_ptr_array_unref (self->ahead);
  g_free (self);
}

void
fettle_places_clear (FettlePlaces *self)
{
  g_ptr_array_set_size (self->behind, 0);
  g_ptr_array_set_size (self->ahead, 0);
}

static gboolean
differs_by_rounds_alone (const FettlePlace *a, const FettlePlace *b)
{
  FettlePlace other = *a;

  other.span = b->span;
  return a->span.model == b->span.model && fettle_place_is_same (&other, b);
}

/* A place is kept once however often one leaves it; the keyboard was last where it was last. */
static void
push (GPtrArray *places, const FettlePlace *place)
{
  if (places->len > 0 && fettle_place_is_same (places->pdata[places->len - 1], place))
    g_ptr_array_remove_index (places, places->len - 1);
  if (places->len == MOST_PLACES)
    g_ptr_array_remove_index (places, 0);
  g_ptr_array_add (places, fettle_place_copy (place));
}

void
fettle_places_leave (FettlePlaces *self, const FettlePlace *place, gboolean for_rounds)
{
  /* Whoever walks along the rounds comes back to where the walk began. */
  if (!for_rounds || self->behind->len == 0 || !differs_by_rounds_alone (self->behind->pdata[self->behind->len - 1], place))
    push (self->behind, place);
  g_ptr_array_set_size (self->ahead, 0);
}

/* Going where one is already would be a key without effect. */
static FettlePlace *
step (GPtrArray *from, GPtrArray *to, const FettlePlace *now)
{
  while (from->len > 0 && fettle_place_is_same (from->pdata[from->len - 1], now))
    g_ptr_array_remove_index (from, from->len - 1);
  if (from->len == 0)
    return NULL;
  push (to, now);
  return g_ptr_array_steal_index (from, from->len - 1);
}

FettlePlace *
fettle_places_back (FettlePlaces *self, const FettlePlace *now)
{
  return step (self->behind, self->ahead, now);
}

FettlePlace *
fettle_places_forward (FettlePlaces *self, const FettlePlace *now)
{
  return step (self->ahead, self->behind, now);
}

gboolean
fettle_places_can_back (FettlePlaces *self)
{
  return self->behind->len > 0;
}

gboolean
fettle_places_can_forward (FettlePlaces *self)
{
  return self->ahead->len > 0;
}
