/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a person's role means for the window: which pages come first, and whether one looks rather than writes. */

#include <glib.h>

#include "book-choices.h"

G_BEGIN_DECLS

const char *const *fettle_role_pages   (BookRole role);
gboolean           fettle_role_reviews (BookRole role);

G_END_DECLS
