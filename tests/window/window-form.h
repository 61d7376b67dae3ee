/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A form of a record in a frame of its own, beside a window on a small book: what tests of forms, of what is typed and not
 * stored, and of bad input begin with.
 */

#include "record-form.h"
#include "window-book.h"

G_BEGIN_DECLS

typedef struct
{
  WindowTestFixture base;
  GtkWindow        *frame; /* holds the form */
  FettleRecordForm *form;  /* NULL: none is open */
  gint64            model; /* the one in view */
  gint64            saved; /* the record that was stored last */
  guint             n_saved;
  guint             n_closed;
} WindowForm;

/* The window by itself, on the book that @self names; as set-up with a new book; and the end of all of it. */
void           window_form_open_window (WindowForm        *self);
void           window_form_set_up      (WindowForm        *self,
                                        gconstpointer      data);
void           window_form_tear_down   (WindowForm        *self,
                                        gconstpointer      data);

FettleSitting *window_form_sitting     (WindowForm        *self);

/* A form that shows nothing yet. @fields: which, NULL-terminated, or NULL for all. */
void           window_form_make        (WindowForm        *self,
                                        BookRecordId       record,
                                        const char *const *fields);
/* A form of a new record of @parent, and of one of the book; they wait for the keyboard in @focus, NULL for the first field. */
void           window_form_begin       (WindowForm        *self,
                                        BookRecordId       record,
                                        const char *const *fields,
                                        gint64             parent,
                                        const char        *focus);
void           window_form_show        (WindowForm        *self,
                                        BookRecordId       record,
                                        const char *const *fields,
                                        gint64             id,
                                        const char        *focus);
/* The form goes without being left, as in a crash. */
void           window_form_drop        (WindowForm        *self);

GtkWidget     *window_form_get         (WindowForm        *self,
                                        const char        *name);
/* Types into a field, with the keyboard in it: it is not left. */
void           window_form_type        (WindowForm        *self,
                                        const char        *field,
                                        const char        *text);
/* The sentence below a field; "" while none is shown. */
const char    *window_form_wrong       (WindowForm        *self,
                                        const char        *field);
/* Waits until the record is stored, and counts anew. */
void           window_form_wait_saved  (WindowForm        *self);

G_END_DECLS
