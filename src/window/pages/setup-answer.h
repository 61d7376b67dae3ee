/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the Set-up page asks the book: counts of all kinds, the rows of one, and what would go along with a record.
 */

#include "book-setup.h"
#include "store-reader.h"

G_BEGIN_DECLS

typedef struct
{
  gint64       model;
  BookRecordId kind;
  char        *words; /* "" for all */
  gboolean     all;   /* they name the kind: its rows whatever is in them */
} FettleSetupAsk;

FettleSetupAsk *fettle_setup_ask_new  (gint64        model,
                                       BookRecordId  kind,
                                       const char   *words,
                                       gboolean      all) G_GNUC_WARN_UNUSED_RESULT;
void            fettle_setup_ask_free (gpointer      data);
gpointer        fettle_setup_ask_work (StoreDb      *db,
                                       gpointer      data,
                                       GCancellable *cancellable,
                                       GError      **error);

/**
 * FettleSetupGoing:
 * @key: of the record, as people read it
 * @goes_with: (nullable): what would be deleted with it
 * @refusal: (nullable): why it cannot be deleted
 */
typedef struct
{
  BookRecordId record;
  gint64       id;
  char        *key;
  char        *goes_with;
  char        *refusal;
} FettleSetupGoing;

FettleSetupGoing *fettle_setup_going_new  (BookRecordId      record,
                                           gint64            id) G_GNUC_WARN_UNUSED_RESULT;
void              fettle_setup_going_free (gpointer          data);
/* Of what stands in the question, which stays its own. */
gpointer          fettle_setup_going_work (StoreDb          *db,
                                           gpointer          data,
                                           GCancellable     *cancellable,
                                           GError          **error);

G_END_DECLS
