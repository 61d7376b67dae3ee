/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A workbook is filled sheet by sheet, row by row, cell by cell from the left: paper-workbook-cells.c knows the file,
 * the other parts know what stands in it.
 */

#include "paper-pack-private.h"
#include "paper-workbook.h"

G_BEGIN_DECLS

#define SHEETS_NARROW 40.0 /* letters of a column of texts, at most */
#define SHEETS_WIDE   90.0

typedef struct _Sheets Sheets;

/* @most: letters that the column is wide, at most; what is longer is wrapped. */
typedef struct
{
  const char *head;
  double      most;
} SheetsColumn;

Sheets   *sheets_new     (const Pack *pack);
void      sheets_free    (Sheets *sheets);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Sheets, sheets_free)
GBytes   *sheets_close   (Sheets *sheets,
                            GError                **error) G_GNUC_WARN_UNUSED_RESULT;

const Pack           *sheets_pack    (const Sheets *sheets);
const PresentDossier *sheets_dossier (const Sheets *sheets);

/* Begins a sheet; a name that a sheet cannot have is shortened. What was begun before is finished. */
void      sheets_begin   (Sheets *sheets,
                            const char             *name,
                            const SheetsColumn   *columns,
                            guint                   n);
#define sheets_begin_of(sheets, name, columns) sheets_begin (sheets, name, columns, G_N_ELEMENTS (columns))

/* Each of them fills the next cell of the row; what is not known stays empty. */
void      sheets_text    (Sheets *sheets, const char *text);   /* of ours, or a name that may be told */
void      sheets_own     (Sheets *sheets, const char *text);   /* what people wrote, or a sentence that may quote it */
void      sheets_yes     (Sheets *sheets, gboolean yes);
void      sheets_count   (Sheets *sheets, gint64 count);
void      sheets_number  (Sheets *sheets, double value, int decimals); /* decimals -1: as many as it has */
void      sheets_share   (Sheets *sheets, double share);
void      sheets_reached (Sheets *sheets, double reached, double wanted); /* never shown as reached when it is not */
void      sheets_date    (Sheets *sheets, const char *date);   /* ISO 8601; a moment with its time */
void      sheets_day     (Sheets *sheets, BookDay day, int second); /* @second of the day; -1: a date */
void      sheets_skip    (Sheets *sheets, guint cells);
void      sheets_row     (Sheets *sheets);                     /* ends the row */

/* A table that is words by nature, as a sheet @name; a cell that is a date becomes one. @named: it tells who stands for something. */
void      sheets_sheet   (Sheets *sheets, const char *name, const PresentSheet *sheet, gboolean named);

const char *sheets_cell (const PresentSheet *sheet, guint row, guint column) G_GNUC_WARN_UNUSED_RESULT;

void      sheets_add_gates    (Sheets *sheets);
void      sheets_add_issues   (Sheets *sheets);
gboolean  sheets_add_readings (Sheets *sheets, GCancellable *cancellable, GError **error) G_GNUC_WARN_UNUSED_RESULT;
void      sheets_add_units    (Sheets *sheets);
void      sheets_add_studies  (Sheets *sheets);
void      sheets_add_runs     (Sheets *sheets);
void      sheets_add_times    (Sheets *sheets);
void      sheets_add_forecast (Sheets *sheets);
void      sheets_add_journal  (Sheets *sheets);

G_END_DECLS
