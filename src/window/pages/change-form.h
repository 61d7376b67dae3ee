/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A change written down as one: what and why, by whom, the issues it answers, what is old and new, and the drawing or
 * mail it came with. It is stored by one command, so that one undo takes all of it back.
 */

#include <gtk/gtk.h>

#include "changes-answer.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_CHANGE_FORM (fettle_change_form_get_type ())
G_DECLARE_FINAL_TYPE (FettleChangeForm, fettle_change_form, FETTLE, CHANGE_FORM, GtkWidget)

/**
 * FettleChangeForm::saved:
 * @id: key of the change
 *
 * The change is in the book.
 */

/**
 * FettleChangeForm::closed:
 *
 * It was stored, or a person left; what was typed then is kept for the next time.
 */

GtkWidget *fettle_change_form_new     (FettleSitting        *sitting) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_change_form_begin   (FettleChangeForm     *self,
                                       gint64                model,
                                       FettleChangesAnswer  *answer);
void       fettle_change_form_take_answer (FettleChangeForm  *self,
                                       FettleChangesAnswer  *answer);
void       fettle_change_form_leave   (FettleChangeForm     *self);
void       fettle_change_form_save    (FettleChangeForm     *self);
gboolean   fettle_change_form_is_open (FettleChangeForm     *self);

G_END_DECLS
