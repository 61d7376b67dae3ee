/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One field of a form: label, editor, and below it in words what is wrong, or what the book has when somebody else wrote
 * there meanwhile. It knows what the book holds and keeps what is typed beyond that among the drafts. What is wrong stays
 * as typed, and is said when the field is left, not while it is typed into.
 */

#include "book-form.h"
#include "sitting.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_FORM_FIELD (fettle_form_field_get_type ())
G_DECLARE_FINAL_TYPE (FettleFormField, fettle_form_field, FETTLE, FORM_FIELD, GtkWidget)

/**
 * FettleFormField::changed:
 *
 * A person typed or chose something.
 */

/**
 * FettleFormField::reached:
 *
 * The keyboard came into it.
 */

/**
 * FettleFormField::left:
 *
 * The field was left, or something was picked from its list: the form may store it.
 */

/**
 * FettleFormField::entered:
 *
 * Enter was pressed in its line.
 */

GtkWidget       *fettle_form_field_new        (FettleSitting   *sitting,
                                               const BookField *field) G_GNUC_WARN_UNUSED_RESULT;
const BookField *fettle_form_field_get_field  (FettleFormField *self);

/* Names its draft; from now on what is typed is kept. NULL: it is not. */
void             fettle_form_field_set_place  (FettleFormField *self,
                                               const char      *place);
/* Puts back what an earlier form of this place kept; whether there was something. */
gboolean         fettle_form_field_restore    (FettleFormField *self);
void             fettle_form_field_set_offer  (FettleFormField *self,
                                               gint64           model,
                                               gint64           within);

/* What the book holds now. Where something else was typed meanwhile, both are shown. */
void             fettle_form_field_take       (FettleFormField *self,
                                               const char      *text,
                                               const char      *shown);
/* Stands as if typed where the book has nothing. */
void             fettle_form_field_propose    (FettleFormField *self,
                                               const char      *text);
/* Back to what the book holds, and no draft. */
void             fettle_form_field_revert     (FettleFormField *self);
/* What @text was has been stored. */
void             fettle_form_field_stored     (FettleFormField *self,
                                               const char      *text);

char            *fettle_form_field_dup_text   (FettleFormField *self) G_GNUC_WARN_UNUSED_RESULT;
/* What the book held when it was last asked. */
const char      *fettle_form_field_get_base   (FettleFormField *self);
gboolean         fettle_form_field_is_changed (FettleFormField *self);
gboolean         fettle_form_field_is_asking  (FettleFormField *self);
gboolean         fettle_form_field_check      (FettleFormField *self);
/* Says what is wrong; NULL: nothing. */
void             fettle_form_field_tell       (FettleFormField *self,
                                               const char      *sentence);
void             fettle_form_field_focus      (FettleFormField *self);

G_END_DECLS
