/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Rows of a table that are dragged to another place: the action 'setup.move' of its page is told by how many rows. */

#include "table.h"

G_BEGIN_DECLS

void fettle_setup_drag_set_up  (FettleTable *table);
void fettle_setup_drag_enable  (FettleTable *table,
                                gboolean     enable);

G_END_DECLS
