/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "today.h"

char *
fettle_today (void)
{
  const char *fixed = g_getenv ("FETTLE_TODAY");
  g_autoptr(GDateTime) now = NULL;

  if (fixed != NULL)
    return g_strdup (fixed);
  now = g_date_time_new_now_local ();
  return g_date_time_format (now, "%Y-%m-%d");
}
