/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Which record somebody chose last on a page, kept beside the user's settings: one's bench is chosen once.
 */

#include <glib.h>

G_BEGIN_DECLS

/* @what: a setting of pairs of keys, mostly a person and a record. Keys are of one book: others are not mixed up. */
gint64 fettle_remembered_get (const char *what,
                              gint64      person);
void   fettle_remembered_set (const char *what,
                              gint64      person,
                              gint64      record);

G_END_DECLS
