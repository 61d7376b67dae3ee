/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Where one was: a way through pages that can be gone back and forward again, as one turns the leaves of a folder. Knows
 * nothing of widgets but the one that had the keyboard.
 */

#include <gtk/gtk.h>

#include "page.h"

G_BEGIN_DECLS

/**
 * FettlePlace:
 * @kind: row of fettle_page_kinds(); -1: the first page
 * @span: model and rounds; @span.to 0: those that the model opens with
 * @record: (nullable): what kind of record is selected, a name that lives as long as the program
 * @key: its key
 * @focus: (nullable): had the keyboard, while it lives
 * @way: (nullable): to it from its page (way.h), should it no longer live
 * @viewed: the page was seen there, in its @view
 * @in_history: the page of history shows @record, rather than the page of its kind
 */
typedef struct
{
  int         kind;
  FettleSpan  span;
  const char *record;
  gint64      key;
  GtkWidget  *focus;
  char       *way;
  gboolean    viewed;
  guint       view;
  gboolean    in_history;
} FettlePlace;

FettlePlace *fettle_place_copy       (const FettlePlace *place) G_GNUC_WARN_UNUSED_RESULT;
void         fettle_place_free       (FettlePlace       *place);
/* Whether both are the same page, rounds and record, wherever the keyboard is. */
gboolean     fettle_place_is_same    (const FettlePlace *a,
                                      const FettlePlace *b);

typedef struct _FettlePlaces FettlePlaces;

FettlePlaces *fettle_places_new      (void) G_GNUC_WARN_UNUSED_RESULT;
void          fettle_places_free     (FettlePlaces      *self);
void          fettle_places_clear    (FettlePlaces      *self);
/* One leaves @place for somewhere else, or for other rounds of it: what was ahead is no longer on the way. */
void          fettle_places_leave    (FettlePlaces      *self,
                                      const FettlePlace *place,
                                      gboolean           for_rounds);
/* One goes back or forward from @now; gives where to, or NULL. The caller frees it. */
FettlePlace  *fettle_places_back     (FettlePlaces      *self,
                                      const FettlePlace *now) G_GNUC_WARN_UNUSED_RESULT;
FettlePlace  *fettle_places_forward  (FettlePlaces      *self,
                                      const FettlePlace *now) G_GNUC_WARN_UNUSED_RESULT;
gboolean      fettle_places_can_back    (FettlePlaces   *self);
gboolean      fettle_places_can_forward (FettlePlaces   *self);

G_END_DECLS
