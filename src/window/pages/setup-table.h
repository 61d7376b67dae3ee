/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The rows of any kind of record as the source of a FettleTable, columns made from the description and as wide as what
 * stands in them.
 */

#include "book-setup.h"
#include "text-source.h"

G_BEGIN_DECLS

/* @setup: of which the rows are of @record. */
FettleTextSource *fettle_setup_table_new  (const BookRecord *record,
                                           const BookSetup  *setup) G_GNUC_WARN_UNUSED_RESULT;
void              fettle_setup_table_fill (FettleTextSource *source,
                                           const BookSetup  *setup);

G_END_DECLS
