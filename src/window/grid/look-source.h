/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Rows that are looked at before they are taken in, as a table: what becomes of each, its cells, which can be mended, and
 * why it is refused or what it changes.
 */

#include "exchange-look.h"
#include "table-source.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_LOOK_SOURCE (fettle_look_source_get_type ())
G_DECLARE_FINAL_TYPE (FettleLookSource, fettle_look_source, FETTLE, LOOK_SOURCE, GObject)

#define FETTLE_LOOK_ALL (-1)

/**
 * FettleLookSource::mended:
 *
 * A cell was typed into: the rows are to be asked about again.
 */

FettleLookSource *fettle_look_source_new         (ExchangeLook             *look) G_GNUC_WARN_UNUSED_RESULT;
/* @answer: (nullable): what is known of the rows; it must outlive the source or the next call. With @stay the rows that are
   shown stay, whatever became of them: one of them is being typed into. */
void              fettle_look_source_take        (FettleLookSource         *self,
                                                  const ExchangeLookAnswer *answer,
                                                  gboolean                  stay);
/* Shows the rows of one ExchangeLookState, or FETTLE_LOOK_ALL. */
void              fettle_look_source_set_filter  (FettleLookSource         *self,
                                                  int                       filter);
/* Where a row of the look is shown; FALSE while it is not. */
gboolean          fettle_look_source_find_row    (FettleLookSource         *self,
                                                  guint                     look_row,
                                                  guint                    *row);
/* While the rows are being stored nothing can be typed. */
void              fettle_look_source_set_frozen  (FettleLookSource         *self,
                                                  gboolean                  frozen);
/* What the row is and what is said about it; "" for no such row. */
char             *fettle_look_source_dup_words   (FettleLookSource         *self,
                                                  guint                     row) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
