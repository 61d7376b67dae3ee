/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Which day it is.
 */

#include <glib.h>

G_BEGIN_DECLS

/* The day that ages count from, ISO 8601: the local date, or FETTLE_TODAY where a test or a picture must not change. */
char *fettle_today (void) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
