/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "store.h"

G_BEGIN_DECLS

/* A hook of the profile: which records keep which stored files. */
gboolean book_contents_tell (StoreDb         *db,
                             StoreContentFunc func,
                             gpointer         data,
                             GError         **error);

G_END_DECLS
