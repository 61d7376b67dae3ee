/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A key that a widget takes before the widgets inside it do: GTK's text view makes a line of each Return. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Ctrl+Page Up and Ctrl+Page Down, which GTK's scroller takes for itself, with Shift or without. */
typedef void (*FettleEarlyStep) (GtkWidget *widget,
                                 int        step,
                                 gboolean   shift);

void fettle_early_step (GtkWidget      *widget,
                        FettleEarlyStep func);
void fettle_early_key (GtkWidget       *widget,
                       const char      *trigger,
                       GtkShortcutFunc  func);

G_END_DECLS
