/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Texts of others within sentences of ours.
 */

#include <glib.h>

G_BEGIN_DECLS

char *book_text_quote (const char *text,
                       gsize       length) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
