/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Carrying out a change as a part of a larger action.
 */

#include "book-edit-private.h"

G_BEGIN_DECLS

/*
 * Puts a change into the plan of @round, all units of it: carries it out today where nobody has yet, and names the round as
 * its first where it names none.
 */
gboolean book_change_put_into (BookEdit    *edit,
                               StoreAction *action,
                               gint64       change,
                               gint64       round,
                               GError     **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
