/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Beside a chart: the units whose marks were chosen in it, what they have in common, and each of them. Hidden while nothing is
 * chosen.
 */

#include <gtk/gtk.h>

#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_READING_CHOSEN (fettle_reading_chosen_get_type ())
G_DECLARE_FINAL_TYPE (FettleReadingChosen, fettle_reading_chosen, FETTLE, READING_CHOSEN, GtkBox)

/**
 * FettleReadingChosen::told:
 * @words: what is chosen, in one sentence
 *
 * The answer is there.
 */

/**
 * FettleReadingChosen::clear:
 *
 * Nothing is to be chosen any more.
 */

/**
 * FettleReadingChosen::leave:
 *
 * The keyboard goes back to the chart.
 */

void fettle_reading_chosen_set_sitting (FettleReadingChosen *self,
                                        FettleSitting       *sitting);
void fettle_reading_chosen_look_at     (FettleReadingChosen *self,
                                        gint64               model,
                                        gint64               characteristic,
                                        gint64               to);
void fettle_reading_chosen_show        (FettleReadingChosen *self,
                                        GArray              *readings);

G_END_DECLS
