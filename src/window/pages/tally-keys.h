/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The keys of the Tally page: those that count, ten at once, the last tap undone, and one for each open issue. By touch, by
 * the number pad and from the menu they activate the same actions of the page: tally.count (i), tally.ten (i), tally.undo,
 * tally.issue (i), tally.new-issue.
 */

#include <gtk/gtk.h>

#include "book-tally.h"
#include "insight-tally.h"

G_BEGIN_DECLS

typedef struct _FettleTallyKeys FettleTallyKeys;

FettleTallyKeys *fettle_tally_keys_new      (GtkGrid            *grid,
                                             GtkGrid            *issues) G_GNUC_WARN_UNUSED_RESULT;
void             fettle_tally_keys_free     (FettleTallyKeys    *self);
void             fettle_tally_keys_show     (FettleTallyKeys    *self,
                                             const InsightTally *tally);
void             fettle_tally_keys_show_ten (FettleTallyKeys    *self,
                                             BookTallyKind       kind);
void             fettle_tally_keys_focus    (FettleTallyKeys    *self);

const char      *fettle_tally_keys_label    (BookTallyKind       kind);
void             fettle_tally_keys_bind     (GtkWidgetClass     *page);
void             fettle_tally_keys_act      (GtkWidget          *page,
                                             const char         *word);

G_END_DECLS
