/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Rows of texts that are only read: what a page was told, as a FettleTable shows it. For rows that are read from the
 * book as they come into view there is FettleReadingSource.
 */

#include "table-source.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_TEXT_SOURCE (fettle_text_source_get_type ())
G_DECLARE_FINAL_TYPE (FettleTextSource, fettle_text_source, FETTLE, TEXT_SOURCE, GObject)

FettleTextSource *fettle_text_source_new   (const FettleTableColumn *columns,
                                            guint                    n_columns) G_GNUC_WARN_UNUSED_RESULT;
void              fettle_text_source_set_units (FettleTextSource    *self,
                                            const char *const       *units);
void              fettle_text_source_clear (FettleTextSource        *self);
void              fettle_text_source_add   (FettleTextSource        *self,
                                            gint64                   key,
                                            FettleTableTone          tone,
                                            const char *const       *cells);
void              fettle_text_source_show  (FettleTextSource        *self);

G_END_DECLS
