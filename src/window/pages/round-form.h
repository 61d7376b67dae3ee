/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A round that is planned: as a copy of the last one, with the agreed changes that are ticked, or from scratch.
 */

#include <gtk/gtk.h>

#include "rounds-answer.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_ROUND_FORM (fettle_round_form_get_type ())
G_DECLARE_FINAL_TYPE (FettleRoundForm, fettle_round_form, FETTLE, ROUND_FORM, GtkWidget)

/* FettleRoundForm::saved (id): it is in the book. FettleRoundForm::closed: a person is done with it. */

GtkWidget *fettle_round_form_new (FettleSitting      *sitting,
                                  gint64              model,
                                  FettleRoundsAnswer *answer) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
