/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The migrations of data/schema, compiled in.
 */

#include <glib.h>

G_BEGIN_DECLS

#define BOOK_N_MIGRATIONS 1

const char *const *book_schema_migrations (void);

G_END_DECLS
