/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * GLib keeps the names behind quarks in a table that others read without a lock. At the 2048th name it takes a larger one
 * and leaves the old where it is, since somebody may still read it: a leak check sees 16 kB that nobody holds. Which test
 * goes over that number depends on how many kinds of widgets it has shown. This one block is forgiven, and nothing else.
 */

#include <glib.h>

G_BEGIN_DECLS

/* Early, while the first table is in use. */
void window_quarks_forgive (void);

G_END_DECLS
