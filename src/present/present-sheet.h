/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A table in words, whoever shows it: the window as a ledger, the command line as aligned text, the clipboard as text with
 * tabs. A row may lead to a record.
 */

#include <glib.h>

G_BEGIN_DECLS

/**
 * PresentSheetColumn:
 * @head: of the column, translated
 * @figures: right-aligned
 * @expand: takes the room that is left, and wraps (one column at most)
 * @weight: 0: always shown; where there is no room for all, the greatest is left out first
 */
typedef struct
{
  char    *head;
  gboolean figures;
  gboolean expand;
  guint    weight;
} PresentSheetColumn;

/**
 * PresentSheetSource:
 * @record: static name of a record that a row's figures are made of
 * @key: of it
 * @words: how it is called there
 */
typedef struct
{
  const char *record;
  gint64      key;
  char       *words;
} PresentSheetSource;

/**
 * PresentSheetRow:
 * @cells: (array zero-terminated=1): as many as there are columns
 * @record: (nullable): name of the record that the row leads to
 * @key: of it; 0: none
 * @item: what the row is of where several lead to one record, such as a wait of a round; 0: the record itself
 * @open: needs a person
 * @words: the row as one sentence, for those who do not see it
 * @sources: (nullable) (element-type PresentSheetSource): the records that its figures are made of, where that is not the
 *   one it leads to alone
 */
typedef struct
{
  char      **cells;
  const char *record;
  gint64      key;
  gint64      item;
  gboolean    open;
  char       *words;
  GArray     *sources;
} PresentSheetRow;

typedef struct
{
  char   *title;
  GArray *columns; /* PresentSheetColumn */
  GArray *rows;    /* PresentSheetRow */
} PresentSheet;

PresentSheet *present_sheet_new        (const char         *title) G_GNUC_WARN_UNUSED_RESULT;
void          present_sheet_free       (PresentSheet       *sheet);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentSheet, present_sheet_free)
void          present_sheet_add_column (PresentSheet       *sheet,
                                        const char         *head,
                                        gboolean            figures,
                                        gboolean            expand,
                                        guint               weight);
void          present_sheet_add_row    (PresentSheet       *sheet,
                                        const char         *record,
                                        gint64              key,
                                        gboolean            open,
                                        char              **cells);
void          present_sheet_set_item   (PresentSheet       *sheet,
                                        gint64              item);
void          present_sheet_add_source (PresentSheet       *sheet,
                                        const char         *record,
                                        gint64              key,
                                        char               *words);
char         *present_sheet_to_text    (const PresentSheet *sheet,
                                        guint               width) G_GNUC_WARN_UNUSED_RESULT;
void          present_sheet_add_text   (const PresentSheet *sheet,
                                        GString            *out,
                                        guint               width);
char         *present_sheet_to_tabs    (const PresentSheet *sheet) G_GNUC_WARN_UNUSED_RESULT;

/* A list of texts that is taken over: present_sheet_add_row (…, PRESENT_CELLS (a, b, c)). */
#define PRESENT_CELLS(...) present_cells_take ((char *[]){ __VA_ARGS__, NULL })
char        **present_cells_take       (char              **cells) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
