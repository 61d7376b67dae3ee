/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a change starts from: the newest revision of a part, a setting and limits in force.
 */

#include "book-record.h"

G_BEGIN_DECLS

/* Fills what is empty of old_revision and old; @old keeps the text. */
gboolean book_change_old        (StoreDb     *db,
                                 const char  *today,
                                 BookValue   *item,
                                 char       **old,
                                 GError     **error) G_GNUC_WARN_UNUSED_RESULT;
/* The row of a setting or limit in force; 0: none. */
gboolean book_setting_in_force  (StoreDb     *db,
                                 gint64       step,
                                 const char  *name,
                                 gsize        length,
                                 const char  *day,
                                 gint64      *id,
                                 GError     **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean book_limit_in_force    (StoreDb     *db,
                                 gint64       characteristic,
                                 const char  *day,
                                 gint64      *id,
                                 GError     **error) G_GNUC_WARN_UNUSED_RESULT;
/* How limits are written in the fields old and new: '≥ 1.2 mm', '1.2 … 1.6 mm'. */
char    *book_limits_words      (const BookValue *lower,
                                 const BookValue *upper,
                                 const BookValue *unit) G_GNUC_WARN_UNUSED_RESULT;
char    *book_setting_words     (const BookValue *value,
                                 const BookValue *unit) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
