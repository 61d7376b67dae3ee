/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A round for a FettleTable that is filled in: units down, characteristics across. A value is judged and shown as soon as it
 * is typed, stored by itself, and undone with all of its visit; '12.5; burr' is a value with a note.
 */

#include "insight-entry.h"
#include "sitting.h"
#include "table-source.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_ENTRY_SOURCE (fettle_entry_source_get_type ())
G_DECLARE_FINAL_TYPE (FettleEntrySource, fettle_entry_source, FETTLE, ENTRY_SOURCE, GObject)

#define FETTLE_ENTRY_FROZEN 2 /* the unit, and how much of it is missing */

/**
 * FettleEntrySource::refused:
 * @sentence: why a value is not in the book
 */

/**
 * FettleEntrySource::asked:
 *
 * There is a question about a value, another one, or none any more: fettle_entry_source_dup_question().
 */

/**
 * FettleEntrySource::void-wanted:
 *
 * Readings are to be voided: the page asks for the reason.
 */

FettleEntrySource  *fettle_entry_source_new           (FettleSitting     *sitting) G_GNUC_WARN_UNUSED_RESULT;
void                fettle_entry_source_take          (FettleEntrySource *self,
                                                       InsightEntry      *entry,
                                                       GHashTable        *notes);
const InsightEntry *fettle_entry_source_get_entry     (FettleEntrySource *self);
void                fettle_entry_source_set_gauge     (FettleEntrySource *self,
                                                       gint64             gauge);
void                fettle_entry_source_leave         (FettleEntrySource *self);
char               *fettle_entry_source_dup_note      (FettleEntrySource *self,
                                                       guint              row,
                                                       guint              column) G_GNUC_WARN_UNUSED_RESULT;
char               *fettle_entry_source_dup_missing   (FettleEntrySource *self,
                                                       guint              row,
                                                       guint              column) G_GNUC_WARN_UNUSED_RESULT;
char               *fettle_entry_source_dup_warning   (FettleEntrySource *self,
                                                       guint              column) G_GNUC_WARN_UNUSED_RESULT;
char               *fettle_entry_source_dup_question  (FettleEntrySource *self,
                                                       char             **other) G_GNUC_WARN_UNUSED_RESULT;
void                fettle_entry_source_answer        (FettleEntrySource *self,
                                                       gboolean           right);
GArray             *fettle_entry_source_dup_stored    (FettleEntrySource *self,
                                                       guint              row,
                                                       guint              column,
                                                       guint              n_rows,
                                                       guint              n_columns) G_GNUC_WARN_UNUSED_RESULT;
gint64              fettle_entry_source_get_outside   (FettleEntrySource *self,
                                                       guint              row,
                                                       guint              column,
                                                       gboolean          *waits);
void                fettle_entry_source_void          (FettleEntrySource *self,
                                                       GArray            *keys,
                                                       const char        *reason);

G_END_DECLS
