/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Pictures of the window for eyes, as files WHAT-SIZE-light.png or -dark.png in a folder. */

#include "window-book.h"
#include "window-private.h"

/* The window as it is, once all that was asked is answered. */
void window_shots_take    (FettleWindow *window, const char *folder, const char *what, const char *size, gboolean dark);
/* Scrolls a page: 0 is its top, 1 its end. */
void window_shots_scroll  (GtkWidget *page, double share);
/* Goes to a page, and takes it with all that is to be seen of it. */
void window_shots_of_page (FettleWindow *window, const char *name, const char *folder, const char *size, gboolean dark);
