/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Readings for a FettleTable: keys in order, rows read by key 128 at a time as they come into view, at most 32 such pages
 * kept. What is typed is shown as pending until the writer has stored it, and among the drafts until then.
 */

#include "drafts.h"
#include "insight-series.h"
#include "sitting.h"
#include "table-source.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_READING_SOURCE (fettle_reading_source_get_type ())
G_DECLARE_FINAL_TYPE (FettleReadingSource, fettle_reading_source, FETTLE, READING_SOURCE, GObject)

FettleReadingSource *fettle_reading_source_new      (FettleSitting       *sitting,
                                                     FettleDrafts        *drafts) G_GNUC_WARN_UNUSED_RESULT;
void                 fettle_reading_source_take     (FettleReadingSource *self,
                                                     GArray              *keys,
                                                     InsightSeries       *series);
gint64               fettle_reading_source_get_key  (FettleReadingSource *self,
                                                     guint                row);
gboolean             fettle_reading_source_find     (FettleReadingSource *self,
                                                     gint64               key,
                                                     guint               *row);
gint64               fettle_reading_source_get_unit (FettleReadingSource *self,
                                                     guint                row);
gboolean             fettle_reading_source_find_unit (FettleReadingSource *self,
                                                      gint64               unit,
                                                      guint               *row);
gint64               fettle_reading_source_find_typed (FettleReadingSource *self);
gboolean             fettle_reading_source_is_voided (FettleReadingSource *self,
                                                      guint                row);
char                *fettle_reading_source_dup_words (FettleReadingSource *self,
                                                      guint                row) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
