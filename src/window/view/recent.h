/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Books opened lately, as the desktop remembers them for all programs.
 */

#include <glib.h>

G_BEGIN_DECLS

#define FETTLE_BOOK_TYPE "application/x-fettle-book"

typedef struct
{
  char *path;
  char *name; /* as shown */
} FettleRecent;

/* (element-type FettleRecent): the newest first, those that still exist. */
GPtrArray *fettle_recent_list (guint       most) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_recent_add  (const char *path);

G_END_DECLS
