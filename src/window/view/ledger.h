/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A table of some dozens of rows whose selected row opens to show more. Columns are as wide as their widest cell, one
 * takes the rest; a narrow table leaves some out. For thousands of rows use a column view.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_LEDGER (fettle_ledger_get_type ())
G_DECLARE_FINAL_TYPE (FettleLedger, fettle_ledger, FETTLE, LEDGER, GtkWidget)

/**
 * FettleLedgerColumn:
 * @head: of the column
 * @figures: right-aligned tabular figures
 * @expand: takes the room that is left, and wraps
 * @weight: 0: always shown; where there is no room for all, the greatest is left out first
 */
typedef struct
{
  const char *head;
  gboolean    figures;
  gboolean    expand;
  guint       weight;
} FettleLedgerColumn;

/* Makes what the selected row shows below its cells. */
typedef GtkWidget *(*FettleLedgerDetail) (guint    row,
                                          gpointer user_data);

/**
 * FettleLedger::selected:
 *
 * Another row is selected, or none.
 */

/**
 * FettleLedger::activated:
 * @row: index of the row on which Enter was pressed or that was clicked twice
 */

GtkWidget *fettle_ledger_new        (const FettleLedgerColumn *columns,
                                     guint                     n_columns,
                                     const char               *label) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_ledger_set_detail (FettleLedger             *self,
                                     FettleLedgerDetail        make,
                                     gpointer                  user_data);
void       fettle_ledger_clear      (FettleLedger             *self);
void       fettle_ledger_add        (FettleLedger             *self,
                                     const char *const        *cells,
                                     const char               *words,
                                     const char               *css_class);
void       fettle_ledger_name       (FettleLedger             *self,
                                     guint                     row,
                                     const char               *name);
void       fettle_ledger_change     (FettleLedger             *self,
                                     guint                     row,
                                     const char *const        *cells,
                                     const char               *words,
                                     const char               *css_class);
int        fettle_ledger_get_selected (FettleLedger           *self);
GtkWidget *fettle_ledger_get_detail   (FettleLedger           *self);
void       fettle_ledger_select     (FettleLedger             *self,
                                     int                       row,
                                     gboolean                  focus);
gboolean   fettle_ledger_begin      (FettleLedger             *self,
                                     GtkWidget                *page);

G_END_DECLS
