/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The inside of an action: one transaction of the writer thread.
 */

#include "store-history.h"
#include "store-origin-private.h"
#include "store-pack-private.h"
#include "store-private.h"
#include "store-touch-private.h"

G_BEGIN_DECLS

struct _StoreAction
{
  Store              *store;
  StoreDb            *db;
  const StoreIntent  *intent;
  GCancellable       *cancellable;

  gint64              id;
  StoreActionKind     kind;
  gint64              reverses;
  gint64              person;
  char               *time;
  char               *message;
  char               *arguments;
  gboolean            keep;
  gboolean            discard; /* roll back even though the work succeeded */

  sqlite3_session    *session; /* records the present entry */
  StoreTouch         *touch;   /* of the present entry */
  GQueue              drafts;  /* EntryDraft: closed entries, oldest first */
  guint               unpacked; /* how many at the end of them are not stored yet */
  gpointer            context; /* of the profile's hooks */
  gboolean            context_begun;

  StoreOrigin         origin;
  gint64              place; /* of the last entry of the file, without this action's */
  guint8              head[STORE_DIGEST_LENGTH];
  StoreReceipt        receipt;
};

/* Runs @work as one action from BEGIN to COMMIT. On failure the file is as before and @receipt is zero. */
gboolean store_action_run (Store             *store,
                           StoreDb           *db,
                           const StoreIntent *intent,
                           StoreWork          work,
                           gpointer           data,
                           StoreReceipt      *receipt,
                           GCancellable      *cancellable,
                           GError           **error);

G_END_DECLS
