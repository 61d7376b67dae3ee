/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a drop-down of strings lacks: names for the parts inside it, and a search by any part of a name. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

void fettle_choice_set_up     (GtkDropDown   *choice,
                               const char    *label);
void fettle_choice_set_names  (GtkDropDown   *choice,
                               GListModel    *names);
void fettle_choice_show_names (GtkDropDown   *choice,
                               GtkStringList *names,
                               guint          selected);

G_END_DECLS
