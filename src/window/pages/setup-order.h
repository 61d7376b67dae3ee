/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Rows whose order means something: steps and gates. They are moved by keys and buttons, or dragged: the action
 * 'setup.move' of the page is told by how many rows.
 */

#include "book-fields.h"
#include "sitting.h"
#include "table.h"

G_BEGIN_DECLS

gboolean fettle_setup_order_has    (BookRecordId   kind);
void     fettle_setup_order_move   (FettleSitting *sitting,
                                    BookRecordId   kind,
                                    gint64         key,
                                    int            by);

void     fettle_setup_order_set_up (FettleTable   *table);
void     fettle_setup_order_enable (FettleTable   *table,
                                    gboolean       enable);

G_END_DECLS
