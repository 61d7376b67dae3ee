/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The letter to a supplier: what came from him, what became of it, what failed of it and how, what the readings say by his lots,
 * how long was waited for him, what is asked, and room for answers. Two to five pages. It names no person, no cost, no other
 * supplier and no other model.
 */

#include <gio/gio.h>

#include "paper-document.h"
#include "store-db.h"

G_BEGIN_DECLS

/**
 * PaperSupplierAsk:
 * @model: key
 * @supplier: key
 * @today: the day that the letter bears, ISO 8601
 * @size: of the paper
 * @progress: (nullable): told how far it is, in the thread that writes
 * @progress_data: for @progress
 *
 * What the letter is about.
 */
typedef struct
{
  gint64      model;
  gint64      supplier;
  const char *today;
  PaperSize   size;
  void      (*progress) (guint64 done, guint64 total, gpointer data);
  gpointer    progress_data;
} PaperSupplierAsk;

GBytes *paper_supplier_write (StoreDb                *db,
                              const PaperSupplierAsk *ask,
                              GCancellable           *cancellable,
                              GError                **error) G_GNUC_WARN_UNUSED_RESULT;
char   *paper_supplier_name  (const char             *model,
                              const char             *supplier,
                              const char             *today) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
