/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A form for any record, made from its description (book-fields.h): which fields it shows is said by name, the rest
 * follows. A record that is in the book is stored field by field, each when it is left; a new one as a whole. Ctrl+Return
 * stores what there is and closes, Escape takes back what is typed in a field, and then closes. What is typed and not
 * stored is kept among the drafts of the sitting and is back in its field when the form is shown again.
 *
 *   FettleRecordForm *form = FETTLE_RECORD_FORM (fettle_record_form_new (sitting, BOOK_RECORD_ISSUE, names));
 *
 *   fettle_record_form_preset_key (form, "found_round", round);
 *   fettle_record_form_begin (form, model);      or fettle_record_form_show (form, issue);
 */

#include <gtk/gtk.h>

#include "book-fields.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_RECORD_FORM (fettle_record_form_get_type ())
G_DECLARE_FINAL_TYPE (FettleRecordForm, fettle_record_form, FETTLE, RECORD_FORM, GtkWidget)

/**
 * FettleRecordForm::saved:
 * @id: key of the record
 *
 * Something was stored: a new record, or fields of one that was there.
 */

/**
 * FettleRecordForm::closed:
 *
 * A person is done with the form, or gave it up, or the record is no longer in the book. Whoever shows it hides it and
 * takes the keyboard back.
 */

GtkWidget *fettle_record_form_new        (FettleSitting      *sitting,
                                          BookRecordId        record,
                                          const char *const  *fields) G_GNUC_WARN_UNUSED_RESULT;

/* What a new record begins with, also in fields that are not shown; before fettle_record_form_begin(). */
void       fettle_record_form_preset     (FettleRecordForm   *self,
                                          const char         *field,
                                          const char         *text);
void       fettle_record_form_preset_key (FettleRecordForm   *self,
                                          const char         *field,
                                          gint64              key);
void       fettle_record_form_set_within (FettleRecordForm   *self,
                                          const char         *field,
                                          gint64              parent);

/* Offers what belongs to this model, where the record does not say yet to which one it belongs. */
void       fettle_record_form_set_model  (FettleRecordForm   *self,
                                          gint64              model);

/*
 * Makes the form store a record of the book as a whole, by Enter or Ctrl+Return: a step that is done at once, such as the
 * cause of an issue. @text: what an empty field begins with, as if typed; NULL: nothing.
 */
void       fettle_record_form_propose    (FettleRecordForm   *self,
                                          const char         *field,
                                          const char         *text);

/* Makes the command that stores it, in place of book_edit_record(). @texts: of the fields shown that are stored. */
typedef BookEdit *(*FettleRecordFormCommand) (gint64             id,
                                              const char *const *names,
                                              const char *const *texts,
                                              const char *const *expected,
                                              gpointer           user_data);
void       fettle_record_form_set_command (FettleRecordForm        *self,
                                           FettleRecordFormCommand  command,
                                           gpointer                 user_data);
/* What the button says, such as 'Contained'. */
void       fettle_record_form_set_label   (FettleRecordForm        *self,
                                           const char              *label);

void       fettle_record_form_begin      (FettleRecordForm   *self,
                                          gint64              parent);
void       fettle_record_form_show       (FettleRecordForm   *self,
                                          gint64              id);
gint64     fettle_record_form_get_id     (FettleRecordForm   *self);
void       fettle_record_form_save       (FettleRecordForm   *self);
void       fettle_record_form_focus      (FettleRecordForm   *self,
                                          const char         *field);
/* Whether an earlier form of a new record of @parent was left with something typed in it. */
gboolean   fettle_record_form_has_draft  (FettleSitting      *sitting,
                                          BookRecordId        record,
                                          gint64              parent);

G_END_DECLS
