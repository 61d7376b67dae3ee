/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A folder into which a camera, telephone or scanner puts pictures: what lies in it, newest first, told again whenever
 * that changes.
 */

#include <gio/gio.h>

G_BEGIN_DECLS

/**
 * ExchangeFound:
 * @file: where
 * @name: as shown, UTF-8
 * @mime_type: by its name and kind
 * @size: in bytes
 * @modified: microseconds since 1970
 *
 * A picture that lies in a folder.
 */
typedef struct
{
  GFile *file;
  char  *name;
  char  *mime_type;
  gint64 size;
  gint64 modified;
} ExchangeFound;

void           exchange_found_free    (ExchangeFound  *found);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchangeFound, exchange_found_free)

GPtrArray     *exchange_pictures_list (GFile          *folder,
                                       guint           most,
                                       GCancellable   *cancellable,
                                       GError        **error) G_GNUC_WARN_UNUSED_RESULT;

typedef struct _ExchangeWatch ExchangeWatch;

/* Told in the main context of the caller. @found: (nullable): pictures, newest first; %NULL with @error when the folder
 * cannot be read (it is gone: a card that was taken out). */
typedef void (*ExchangeWatchFunc) (GPtrArray    *found,
                                   const GError *error,
                                   gpointer      data);

ExchangeWatch *exchange_watch_new     (GFile            *folder,
                                       guint             most,
                                       ExchangeWatchFunc changed,
                                       gpointer          data) G_GNUC_WARN_UNUSED_RESULT;
void           exchange_watch_free    (ExchangeWatch    *watch);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchangeWatch, exchange_watch_free)

G_END_DECLS
