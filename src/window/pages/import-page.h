/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Rows of records from a file or a spreadsheet, looked at before they are taken in: which column gives which field, what
 * becomes of each row, and what was refused, kept here to be mended.
 */

#include "exchange-look.h"
#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_IMPORT_PAGE (fettle_import_page_get_type ())
G_DECLARE_FINAL_TYPE (FettleImportPage, fettle_import_page, FETTLE, IMPORT_PAGE, GtkBox)

GtkWidget *fettle_import_page_new       (FettleSitting    *sitting) G_GNUC_WARN_UNUSED_RESULT;
/* Shows other rows (transfer full). FALSE, and said why, while those before are being stored or were mended. */
gboolean   fettle_import_page_take      (FettleImportPage *self,
                                         ExchangeLook     *look);
gboolean   fettle_import_page_has_rows  (FettleImportPage *self);

G_END_DECLS
