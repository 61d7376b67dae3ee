/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "setup-form.h"

#include "book-setup.h"
#include "today.h"

static gboolean
is_of_model (const BookRecord *record)
{
  const BookField *parent = record->parent != NULL ? book_field_find (record, record->parent) : NULL;

  return parent != NULL && parent->refers == BOOK_RECORD_MODEL;
}

/**
 * fettle_setup_form_new:
 * @sitting: the window's
 * @record: what kind
 * @model: of which references are offered
 *
 * All that a person types: without the model, and without the place in an order, which is changed by moving.
 *
 * Returns: (transfer floating): the form
 */
FettleRecordForm *
fettle_setup_form_new (FettleSitting *sitting, const BookRecord *record, gint64 model)
{
  const BookField *columns[BOOK_MAX_FIELDS];
  g_autoptr(GPtrArray) names = g_ptr_array_new ();
  guint n = book_setup_columns (record, columns);
  FettleRecordForm *form;

  for (guint i = 0; i < n; i++)
    if (g_strcmp0 (columns[i]->name, record->ordinal) != 0)
      g_ptr_array_add (names, (char *) columns[i]->name);
  g_ptr_array_add (names, NULL);
  form = FETTLE_RECORD_FORM (fettle_record_form_new (sitting, record->id, (const char *const *) names->pdata));
  fettle_record_form_set_model (form, model);
  return form;
}

/**
 * fettle_setup_form_begin:
 * @form: from fettle_setup_form_new()
 * @record: its kind
 * @model: the model in view
 * @last: (array fixed-size=45): key of the row that was looked at last, by kind
 * @person: who writes; 0: nobody by name
 *
 * A new record begins on this day, belongs to what was looked at last, and is written by who writes.
 */
void
fettle_setup_form_begin (FettleRecordForm *form, const BookRecord *record, gint64 model, const gint64 last[BOOK_N_RECORDS + 1],
                         gint64 person)
{
  g_autofree char *today = fettle_today ();

  for (guint i = 0; i < record->n_fields; i++)
    {
      const BookField *field = &record->fields[i];

      if (field->kind == BOOK_KIND_DATE && field->required && record->id != BOOK_RECORD_HOLIDAY)
        fettle_record_form_preset (form, field->name, today);
      else if (field->kind == BOOK_KIND_REFERENCE && field->required && field->refers != BOOK_RECORD_MODEL && last[field->refers] != 0)
        fettle_record_form_preset_key (form, field->name, last[field->refers]);
      else if (record->id == BOOK_RECORD_CRITERION_TERM && field->refers == BOOK_RECORD_PERSON)
        fettle_record_form_preset_key (form, field->name, person);
    }
  fettle_record_form_begin (form, is_of_model (record) ? model : 0);
  fettle_record_form_focus (form, NULL);
}
