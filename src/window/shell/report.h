/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * For measuring the start from outside: with FETTLE_REPORT=shown in the environment the program prints 'shown' when
 * the first frame with a complete page is on the screen, and ends.
 */

#include "window.h"

G_BEGIN_DECLS

void fettle_report_watch (FettleWindow *window);

G_END_DECLS
