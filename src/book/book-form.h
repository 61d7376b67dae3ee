/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One record as the texts of a form, and what a reference in it can choose. book_edit_record() takes the texts back.
 */

#include "book-record.h"

G_BEGIN_DECLS

/**
 * BookFormField:
 * @field: which
 * @text: as book_edit_record() reads it: the words of files, the decimal point, a reference by its exact key text; ""
 *   when empty
 * @shown: as people read it: labels of choices, references without the model and with their name; "" when empty
 * @refers: of a reference: the key of what it refers to; 0: none
 */
typedef struct
{
  const BookField *field;
  char            *text;
  char            *shown;
  gint64           refers;
} BookFormField;

/**
 * BookForm:
 * @record: what kind
 * @id: its key; 0: not in the book yet
 * @model: of which model; 0: shared, or not known yet
 * @key: its visible key, shown; "" for one that is not in the book yet
 * @n_fields: length of @fields
 * @fields: (array length=n_fields): in the order of the description; last a field kept outside the record, if any
 */
typedef struct
{
  const BookRecord *record;
  gint64            id;
  gint64            model;
  char             *key;
  guint             n_fields;
  BookFormField    *fields;
} BookForm;

BookForm      *book_form_read  (StoreDb          *db,
                                const BookRecord *record,
                                gint64            id,
                                GError          **error) G_GNUC_WARN_UNUSED_RESULT;
BookForm      *book_form_new   (StoreDb          *db,
                                const BookRecord *record,
                                gint64            parent,
                                GError          **error) G_GNUC_WARN_UNUSED_RESULT;
void           book_form_free  (BookForm         *form);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookForm, book_form_free)

/* A field by name; %NULL if the record has none such. */
BookFormField *book_form_find  (BookForm         *form,
                                const char       *field);
/* Fills a field in; @value as the book stores it. */
gboolean       book_form_set   (BookForm         *form,
                                StoreDb          *db,
                                const char       *field,
                                const BookValue  *value,
                                GError          **error) G_GNUC_WARN_UNUSED_RESULT;

/**
 * BookOption:
 * @id: key of the record
 * @text: its exact key text, which a reference takes
 * @label: its short key, and its name where it has one
 */
typedef struct
{
  gint64 id;
  char  *text;
  char  *label;
} BookOption;

void       book_option_free  (BookOption       *option);
GPtrArray *book_options_list (StoreDb          *db,
                              const BookRecord *record,
                              gint64            model,
                              gint64            within,
                              const char       *words,
                              guint             most,
                              GError          **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean   book_option_find  (StoreDb          *db,
                              const BookRecord *record,
                              gint64            model,
                              gint64            within,
                              const char       *text,
                              gint64           *id,
                              GError          **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
