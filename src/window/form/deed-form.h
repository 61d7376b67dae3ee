/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The few fields that a deed needs (who, when, why), with the button that does it: all of them are stored at once by one
 * command. Return in a line or Ctrl+Return does it, Escape leaves; what is typed is kept among the drafts until then.
 */

#include <gtk/gtk.h>

#include "book-edit.h"
#include "book-fields.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_DEED_FORM (fettle_deed_form_get_type ())
G_DECLARE_FINAL_TYPE (FettleDeedForm, fettle_deed_form, FETTLE, DEED_FORM, GtkWidget)

/**
 * FettleDeedForm::done:
 *
 * It is in the book.
 */

/**
 * FettleDeedForm::closed:
 *
 * It is done, or a person left. Whoever shows the form hides it and takes the keyboard back.
 */

/* Makes the command of what is filled in (fettle_deed_form_dup_text()); %NULL: not now, and it said why (fettle_deed_form_say()). */
typedef BookEdit *(*FettleDeedMake) (FettleDeedForm *form,
                                     gpointer        user_data);

GtkWidget *fettle_deed_form_new      (FettleSitting     *sitting,
                                      BookRecordId       record,
                                      const char *const *fields,
                                      const char        *label,
                                      FettleDeedMake     make,
                                      gpointer           user_data) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_deed_form_preset   (FettleDeedForm    *self,
                                      const char        *field,
                                      const char        *text,
                                      const char        *shown);
void       fettle_deed_form_say      (FettleDeedForm    *self,
                                      const char        *sentence);
void       fettle_deed_form_begin    (FettleDeedForm    *self,
                                      const char        *place,
                                      gint64             model);
char      *fettle_deed_form_dup_text (FettleDeedForm    *self,
                                      const char        *field) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_deed_form_focus    (FettleDeedForm    *self,
                                      const char        *field);
void       fettle_deed_form_do       (FettleDeedForm    *self);

G_END_DECLS
