/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What is asked of the file system around SQLite: is this ours, is it local, and making a file appear whole or not.
 */

#include "store-private.h"

G_BEGIN_DECLS

/* Refuses what is no such file, by its first bytes and without touching it. */
gboolean store_file_check_header (const char         *path,
                                  const StoreProfile *profile,
                                  GError            **error) G_GNUC_WARN_UNUSED_RESULT;
/* Whether the file lies on a file system where locks and shared memory cannot be relied on. */
gboolean store_file_is_remote    (const char *path);
/* An empty file beside @path, under a name of its own, to be filled and given to store_file_publish(). */
char    *store_file_begin        (const char *path,
                                  GError    **error) G_GNUC_WARN_UNUSED_RESULT;
/* Gives the file its name, if nothing has that name, and makes that durable. */
gboolean store_file_publish      (const char *draft,
                                  const char *path,
                                  GError    **error) G_GNUC_WARN_UNUSED_RESULT;
/* Removes a draft with what SQLite left beside it. */
void     store_file_abandon      (const char *draft);
/* Copies the file of a connection as it stands to @path, where nothing may be. */
gboolean store_file_copy         (StoreDb      *db,
                                  const char   *path,
                                  const char   *vfs,
                                  GCancellable *cancellable,
                                  GError      **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
