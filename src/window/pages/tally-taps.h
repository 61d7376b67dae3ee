/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Taps of the tally on their way to the disk, and back: each is an action of its own, those of one step in a row are a visit,
 * which is undone as one once the person has gone on to something else.
 */

#include "sitting.h"

G_BEGIN_DECLS

typedef struct _FettleTallyTaps FettleTallyTaps;

/* What came of a tap, for the one who tapped. */
typedef void (*FettleTallyTapsTell) (const char *sentence,
                                     gpointer    data);

/* @data: an object, which is kept while taps are under way. */
FettleTallyTaps *fettle_tally_taps_new     (FettleSitting      *sitting,
                                            FettleTallyTapsTell tell,
                                            GObject            *data) G_GNUC_WARN_UNUSED_RESULT;
/* The page goes: what is under way is still stored, and nothing is told of it. */
void             fettle_tally_taps_end     (FettleTallyTaps    *taps);

/* @said: (transfer full): what is told once it is stored; @where: the step, as in '10 Mill'. */
void             fettle_tally_taps_store   (FettleTallyTaps    *taps,
                                            BookEdit           *edit,
                                            const char         *where,
                                            char               *said);
/* The last tap back, after those that are under way; FALSE: something else was done since, and it was told. */
gboolean         fettle_tally_taps_undo    (FettleTallyTaps    *taps);
/* The person goes on to something else. */
void             fettle_tally_taps_leave   (FettleTallyTaps    *taps);
/* The book has told what can be undone. */
void             fettle_tally_taps_refresh (FettleTallyTaps    *taps);

G_END_DECLS
