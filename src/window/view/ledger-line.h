/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One line of a FettleLedger, head or row: labels in columns whose widths all lines of the table share. Where there is
 * no room for all, columns of lesser weight are left out, the same ones in every line.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_LEDGER_LINE (fettle_ledger_line_get_type ())
G_DECLARE_FINAL_TYPE (FettleLedgerLine, fettle_ledger_line, FETTLE, LEDGER_LINE, GtkWidget)

/* A column as all lines share it. @weight 0: always shown; the greatest is left out first. */
typedef struct
{
  gboolean figures;
  gboolean expand;
  guint    weight;
  int      width; /* of the widest cell */
} FettleLedgerShared;

/* @shared: a GArray of FettleLedgerShared, owned by the table and referenced by its lines. */
GtkWidget *fettle_ledger_line_new  (GArray            *shared,
                                    const char *const *cells) G_GNUC_WARN_UNUSED_RESULT;
GtkWidget *fettle_ledger_line_cell (FettleLedgerLine  *self,
                                    guint              column);

G_END_DECLS
