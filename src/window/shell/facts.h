/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the frame of a window shows of a book: its models, its rounds, its persons, its suppliers, and whether there is anything in it. Read
 * in the reader thread in one go; four short lists, whatever the book holds.
 */

#include <gio/gio.h>

#include "book-choices.h"
#include "store-reader.h"

G_BEGIN_DECLS

/* Texts belong to the facts. @newest: the newest day of its rounds, "" without one. */
typedef struct
{
  gint64      key;
  const char *code;
  const char *name;
  const char *newest;
  gboolean    archived;
} FettleModel;

/* @role is shown beside the initials, translated; "" for none. @role_code is 0 then. */
typedef struct
{
  gint64      key;
  const char *initials;
  const char *role;
  BookRole    role_code;
} FettlePerson;

typedef struct
{
  gint64      key;
  const char *name;
} FettleSupplier;

typedef struct
{
  FettleModel  *models; /* not archived first, those last worked on first */
  guint         n_models;
  FettlePerson *persons; /* active, by initials */
  guint         n_persons;
  FettleSupplier *suppliers; /* by name */
  guint         n_suppliers;
  gint64       *rounds; /* keys of the rounds of all models */
  guint         n_rounds;
  GStringChunk *strings;
} FettleFacts;

/* A StoreReadWork without data. */
gpointer fettle_facts_read (StoreDb      *db,
                            gpointer      data,
                            GCancellable *cancellable,
                            GError      **error);
void     fettle_facts_free (FettleFacts  *facts);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FettleFacts, fettle_facts_free)

/* Whether the book has the round of that key. */
gboolean fettle_facts_has_round (const FettleFacts *facts,
                                 gint64             key);

G_END_DECLS
