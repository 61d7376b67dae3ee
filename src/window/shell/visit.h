/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Values typed one after the other into one grid, each stored by itself, that are undone as one once the person has gone
 * on to something else. While the visit goes on, undo takes back the last value.
 */

#include <glib.h>

G_BEGIN_DECLS

/* What was typed, to stand after 'Undo:' @n: how many; @where: of which round or characteristic. */
typedef char *(*FettleVisitWords) (guint       n,
                                   const char *where);

typedef struct _FettleVisit FettleVisit;

FettleVisit *fettle_visit_new       (FettleVisitWords words,
                                     const char      *where) G_GNUC_WARN_UNUSED_RESULT;
void         fettle_visit_free      (FettleVisit     *visit);

/* An action of the journal that stored @n values of the visit. */
void         fettle_visit_add       (FettleVisit     *visit,
                                     gint64           action,
                                     guint            n);
gboolean     fettle_visit_has       (FettleVisit     *visit,
                                     gint64           action);
/* @by took @action back, or did it again. */
void         fettle_visit_reversed  (FettleVisit     *visit,
                                     gint64           action,
                                     gint64           by,
                                     gboolean         redo);

void         fettle_visit_end       (FettleVisit     *visit);
gboolean     fettle_visit_is_over   (FettleVisit     *visit);

/* Values of the visit that stand in the book, and those that undo took back. */
guint        fettle_visit_count     (FettleVisit     *visit,
                                     gboolean         undone);
char        *fettle_visit_dup_words (FettleVisit     *visit,
                                     guint            n) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
