/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* One more old-to-new of a change to which nobody has agreed yet. */

#include <gtk/gtk.h>

#include "changes-answer.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_CHANGE_ITEM_FORM (fettle_change_item_form_get_type ())
G_DECLARE_FINAL_TYPE (FettleChangeItemForm, fettle_change_item_form, FETTLE, CHANGE_ITEM_FORM, GtkWidget)

/**
 * FettleChangeItemForm::closed:
 *
 * It is stored, or a person left; what was typed then is kept for the next time.
 */

GtkWidget *fettle_change_item_form_new   (FettleSitting        *sitting,
                                          FettleChangesAnswer  *answer,
                                          gint64                change) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_change_item_form_begin (FettleChangeItemForm *self);
void       fettle_change_item_form_save  (FettleChangeItemForm *self);

G_END_DECLS
