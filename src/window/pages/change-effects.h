/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a change that was carried out did to the readings of the characteristics that it touches: the round from which it
 * holds, its groups against each other where that is split, else against the round before. Asked for by itself, and empty
 * until it is known.
 */

#include <gtk/gtk.h>

#include "changes-answer.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_CHANGE_EFFECTS (fettle_change_effects_get_type ())
G_DECLARE_FINAL_TYPE (FettleChangeEffects, fettle_change_effects, FETTLE, CHANGE_EFFECTS, GtkBox)

GtkWidget *fettle_change_effects_new (FettleSitting       *sitting,
                                      gint64               model,
                                      FettleChangesAnswer *answer,
                                      guint                index) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
