/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A form split by concern: record-form.c is the widget and what a person does with it, record-form-read.c asks the book and
 * fills the fields, record-form-store.c writes.
 */

#include "book-form.h"
#include "form-field.h"
#include "record-form.h"

G_BEGIN_DECLS

/* What a field begins with. @text NULL: the record of @key. */
typedef struct
{
  char  *field;
  char  *text; /* NULL: a key */
  gint64 key;
} FettlePreset;

struct _FettleRecordForm
{
  GtkWidget parent_instance;

  FettleSitting    *sitting;
  const BookRecord *record;
  gint64            id;     /* 0: a new record */
  gint64            parent; /* of a new one */
  gint64            model;  /* of what is offered, where the record does not say */
  gboolean          is_open;
  gboolean          is_fresh;   /* the next answer is the first of this record */
  gboolean          close_next; /* what is being stored is the last */
  gboolean          storing;
  gboolean          is_whole;   /* a record of the book is stored as a new one is */
  char             *label;      /* of the button; NULL: the usual */
  GArray           *proposals;  /* FettlePreset */
  FettleRecordFormCommand command; /* NULL: the usual */
  gpointer          command_data;
  char             *focus;      /* field that gets the keyboard when the answer is there; "": the first to fill in */
  BookForm         *form;       /* as last read; NULL: not yet */
  GArray           *presets;    /* FettlePreset */
  GHashTable       *within;     /* name of a field -> key of a parent */
  GPtrArray        *fields;     /* FettleFormField, owned by the grid */
  GCancellable     *asking;

  GtkWidget *restored;
  GtkWidget *grid;
  GtkLabel  *help;
  GtkLabel  *said;
  GtkWidget *cancel;
  GtkWidget *store;
};

/* record-form.c */
FettleFormField *fettle_record_form_find       (FettleRecordForm *self,
                                                const char       *name);
void             fettle_record_form_tell       (FettleRecordForm *self,
                                                const char       *sentence);
void             fettle_record_form_close      (FettleRecordForm *self);
void             fettle_record_form_tell_saved (FettleRecordForm *self,
                                                gint64            id);
char            *fettle_record_form_place      (const BookRecord *record,
                                                gint64            id,
                                                gint64            parent) G_GNUC_WARN_UNUSED_RESULT;

/* record-form-read.c */
void             fettle_record_form_ask        (FettleRecordForm *self);
void             fettle_record_form_restore    (FettleRecordForm *self);
void             fettle_record_form_focus_wanted (FettleRecordForm *self);

/* record-form-store.c */
/* Whether a field says something else than what was read. */
gboolean         fettle_record_form_has_changes (FettleRecordForm *self);
void             fettle_record_form_left       (FettleRecordForm *self,
                                                FettleFormField  *field);
void             fettle_record_form_entered    (FettleRecordForm *self,
                                                FettleFormField  *field);

G_END_DECLS
