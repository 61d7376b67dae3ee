/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the window's own thread works until a frame is drawn, and how to wait for one. */

#include <gtk/gtk.h>

#include "sitting.h"

G_BEGIN_DECLS

/* Seconds that the calling thread worked: neither the disk, which another one waits for, nor the pause until a frame is due. */
double bench_worked             (void);
/* The same of the calibration loop. */
double bench_worked_calibration (void);

void   bench_wait_for_frame     (GtkWidget     *window);
/* Until nothing is asked and the last answer was drawn: keys come one by one, not into the answer of the one before. */
void   bench_settle             (GtkWidget     *window,
                                 FettleSitting *sitting);

G_END_DECLS
