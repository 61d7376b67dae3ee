/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What rows were recognised as, each to be mended: the kind of record, how numbers and dates are written, which column
 * gives which field, and what all rows have that no column gives.
 */

#include "column-heads.h"
#include "exchange-look.h"
#include "wrap.h"

G_BEGIN_DECLS

/* @settled: told when something was mended. */
typedef struct
{
  ExchangeLook      *look; /* the page's; NULL: none */
  FettleWrap        *place;
  GPtrArray         *fixed; /* of GtkWidget, in @place: what all rows have */
  FettleColumnHeads *heads;
  GPtrArray         *records; /* of BookRecord, as in the choice */
  GtkDropDown       *record;
  GtkDropDown       *sign;
  GtkDropDown       *dates;
  GtkCheckButton    *has_head;
  GPtrArray         *columns; /* of GtkDropDown, above each column */
  gboolean           showing; /* controls are being filled: their signals are ours */
  char              *model;
  char              *round;
  void             (*settled) (gpointer data);
  gpointer           data;
} FettleImportSettings;

FettleImportSettings *fettle_import_settings_new       (FettleWrap           *place,
                                                        FettleColumnHeads    *heads) G_GNUC_WARN_UNUSED_RESULT;
void                  fettle_import_settings_free      (FettleImportSettings *self);
/* @look: (nullable): which must outlive what is shown of it. */
void                  fettle_import_settings_set_look  (FettleImportSettings *self,
                                                        ExchangeLook         *look);
/* What rows have that do not say their model or round; (nullable) both. */
void                  fettle_import_settings_set_place (FettleImportSettings *self,
                                                        const char           *model,
                                                        const char           *round);
void                  fettle_import_settings_set_sensitive (FettleImportSettings *self,
                                                        gboolean              sensitive);

G_END_DECLS
