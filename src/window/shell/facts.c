/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "facts.h"

#include <stdlib.h>
#include <string.h>

#include "book-models.h"
#include "book-record.h"

static const char *
choice_label (const BookField *field, const BookValue *value)
{
  if (book_value_is_empty (value))
    return "";
  for (const BookChoice *choice = field->choices; choice->text != NULL; choice++)
    if (choice->code == value->integer)
      return g_dgettext (GETTEXT_PACKAGE, choice->label);
  return "";
}

typedef struct
{
  FettleFacts *facts;
  GArray      *persons;
  GArray      *suppliers;
  GArray      *rounds;
} Reading;

static gboolean
take_supplier (const BookRow *row, gpointer data, GError **error)
{
  Reading *reading = data;
  const BookValue *name = book_row_get (row, "name");
  FettleSupplier supplier = { row->id, g_string_chunk_insert_len (reading->facts->strings, name->text, (gssize) name->length) };

  g_array_append_val (reading->suppliers, supplier);
  return TRUE;
}

static gboolean
take_person (const BookRow *row, gpointer data, GError **error)
{
  Reading *reading = data;
  const BookValue *initials = book_row_get (row, "initials"), *active = book_row_get (row, "active");
  FettlePerson person = { .key = row->id };

  if (!book_value_is_empty (active) && active->integer == 0)
    return TRUE;

  person.initials = g_string_chunk_insert_len (reading->facts->strings, initials->text, (gssize) initials->length);
  person.role = g_string_chunk_insert (reading->facts->strings,
                                       choice_label (book_field_find (row->record, "role"), book_row_get (row, "role")));
  if (!book_value_is_empty (book_row_get (row, "role")))
    person.role_code = (BookRole) book_row_get (row, "role")->integer;
  g_array_append_val (reading->persons, person);
  return TRUE;
}

/* With its rounds, and the newest of their days: when a model was last worked on. */
static gboolean
read_model (StoreDb *db, const BookModel *model, FettleModel *read, const Reading *reading, GError **error)
{
  GStringChunk *strings = reading->facts->strings;
  g_autoptr(GPtrArray) rounds = book_rounds_list (db, model->id, error);
  const char *newest = "";

  if (rounds == NULL)
    return FALSE;

  for (guint i = 0; i < rounds->len; i++)
    {
      const BookRound *round = g_ptr_array_index (rounds, i);
      const char *const days[] = { round->opened, round->design_fixed, round->parts_ready, round->built, round->tested,
                                   round->decided };

      for (gsize day = 0; day < G_N_ELEMENTS (days); day++)
        if (days[day] != NULL && strcmp (days[day], newest) > 0)
          newest = days[day];
      g_array_append_val (reading->rounds, round->id);
    }
  read->key = model->id;
  read->code = g_string_chunk_insert (strings, model->code);
  read->name = g_string_chunk_insert (strings, model->name);
  read->newest = g_string_chunk_insert (strings, newest);
  read->archived = model->archived;
  return TRUE;
}

static int
compare_models (const void *a, const void *b)
{
  const FettleModel *first = a, *second = b;
  int newer = strcmp (second->newest, first->newest);

  if (first->archived != second->archived)
    return first->archived ? 1 : -1;
  if (newer != 0)
    return newer;
  return first->key < second->key ? 1 : -1;
}

gpointer
fettle_facts_read (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  g_autoptr(FettleFacts) facts = g_new0 (FettleFacts, 1);
  g_autoptr(GPtrArray) models = book_models_list (db, error);
  g_autoptr(GArray) persons = g_array_new (FALSE, FALSE, sizeof (FettlePerson));
  g_autoptr(GArray) suppliers = g_array_new (FALSE, FALSE, sizeof (FettleSupplier));
  g_autoptr(GArray) rounds = g_array_new (FALSE, FALSE, sizeof (gint64));
  Reading reading = { facts, persons, suppliers, rounds };

  facts->strings = g_string_chunk_new (256);
  if (models == NULL || !book_record_each_by_key (db, book_record (BOOK_RECORD_PERSON), take_person, &reading, error)
      || !book_record_each_by_key (db, book_record (BOOK_RECORD_SUPPLIER), take_supplier, &reading, error))
    return NULL;

  facts->models = g_new0 (FettleModel, models->len);
  for (guint i = 0; i < models->len; i++)
    {
      const BookModel *model = g_ptr_array_index (models, i);

      if (!read_model (db, model, &facts->models[i], &reading, error))
        return NULL;
      facts->n_models++;
    }
  if (facts->n_models > 1)
    qsort (facts->models, facts->n_models, sizeof *facts->models, compare_models);
  facts->n_persons = persons->len;
  facts->persons = (FettlePerson *) (gpointer) g_array_free (g_steal_pointer (&persons), FALSE);
  facts->n_suppliers = suppliers->len;
  facts->suppliers = (FettleSupplier *) (gpointer) g_array_free (g_steal_pointer (&suppliers), FALSE);
  facts->n_rounds = rounds->len;
  facts->rounds = (gint64 *) (gpointer) g_array_free (g_steal_pointer (&rounds), FALSE);
  return g_steal_pointer (&facts);
}

gboolean
fettle_facts_has_round (const FettleFacts *facts, gint64 key)
{
  for (guint i = 0; i < facts->n_rounds; i++)
    if (facts->rounds[i] == key)
      return TRUE;
  return FALSE;
}

void
fettle_facts_free (FettleFacts *facts)
{
  if (facts == NULL)
    return;

  g_free (facts->models);
  g_free (facts->persons);
  g_free (facts->suppliers);
  g_free (facts->rounds);
  g_string_chunk_free (facts->strings);
  g_free (facts);
}
