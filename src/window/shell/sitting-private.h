/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the files of the sitting share: questions (sitting.c), writing (sitting-write.c), undo and redo (sitting-undo.c). */

#include "patience.h"
#include "sitting.h"

G_BEGIN_DECLS

struct _FettleSitting
{
  GObject parent_instance;

  Book         *book;
  StoreReader  *reader;
  StoreWatch   *watch;
  FettleDrafts *drafts; /* NULL until asked for */
  gint64        sitting;
  gint64        person;
  gint64        place; /* entries of the journal when last looked */
  gint64        undo;  /* action that undo would take; 0: none */
  gint64        redo;
  char         *undo_words; /* the sentence of @undo; NULL: none */
  char         *redo_words;
  gboolean      undo_never; /* @undo is an opinion, waiver or decision, which stays */
  gboolean      undo_to_come; /* an edit is under way, or not looked at yet: it will be there to undo */
  gboolean      redo_to_come; /* the same of an undo */
  guint         asked; /* questions without an answer */
  guint         writing; /* edits and reversals under way */
  GQueue        wishes;  /* of undo, redo and undo of one action that wait until it is known what the ones before left */
  gboolean      reading; /* nothing is written */
  gboolean      looking;
  gboolean      look_again;
  FettlePatience *patience; /* commands that wait until the book can be written */
  GPtrArray    *visits;      /* of FettleVisit */
  FettleVisit  *reversing;   /* the visit that is taken back or done again whole; NULL: none */
  gboolean      redoing;     /* ... done again */
  guint         reversed;    /* ... how many values so far */
  gboolean      changed;     /* ... and the pages have not heard of it yet */
};

/* sitting.c */
void fettle_sitting_tell_changed      (FettleSitting *self);
void fettle_sitting_tell_stored       (FettleSitting *self);

const char *fettle_sitting_reading_sentence (void);

/* sitting-write.c */
FettlePatience *fettle_sitting_patience_new (FettleSitting *self);

/* sitting-undo.c */
void fettle_sitting_fulfil            (FettleSitting *self);
void fettle_sitting_end_visits        (FettleSitting *self);
void fettle_sitting_expect            (FettleSitting *self,
                                       gboolean       redo);
char *fettle_sitting_read_words       (StoreDb       *db,
                                       gint64         action);

G_END_DECLS
