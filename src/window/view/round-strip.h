/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The rounds of a model across the top of every page: one round, or a from and a to, is chosen here. By mouse: click,
 * drag or Shift+click. By keyboard: Left, Right, Home, End choose one; with Shift they move one end of a span; Escape
 * goes back to the newest round. Drawn by chart-strip.h, whose marks are the rounds.
 */

#include <gtk/gtk.h>

#include "chart-strip.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_ROUND_STRIP (fettle_round_strip_get_type ())
G_DECLARE_FINAL_TYPE (FettleRoundStrip, fettle_round_strip, FETTLE, ROUND_STRIP, GtkWidget)

/**
 * FettleRoundStrip::span-changed:
 *
 * A person chose other rounds; not emitted for changes by the program.
 */

GtkWidget *fettle_round_strip_new        (void) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_round_strip_take_chart (FettleRoundStrip *self,
                                          Chart            *chart);
void       fettle_round_strip_set_span   (FettleRoundStrip *self,
                                          gint64            from,
                                          gint64            to);
gint64     fettle_round_strip_get_from   (FettleRoundStrip *self);
gint64     fettle_round_strip_get_to     (FettleRoundStrip *self);
void       fettle_round_strip_set_legend (FettleRoundStrip *self,
                                          gboolean          shown);

G_END_DECLS
