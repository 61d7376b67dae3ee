/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The buttons of the Rows page that say how many rows are new, changed, equal or refused, and show these alone.
 */

#include "exchange-look.h"
#include "wrap.h"

G_BEGIN_DECLS

/* @chosen: told which rows a person wants to see: an ExchangeLookState, or FETTLE_LOOK_ALL. */
typedef struct
{
  GtkToggleButton *buttons[EXCHANGE_LOOK_N_STATES + 1]; /* all, then by state */
  gboolean         is_set; /* the buttons are being set: their signals are ours */
  void           (*chosen) (int state, gpointer data);
  gpointer         data;
} FettleImportFilter;

/* To be freed with g_free(); the buttons belong to @place. */
FettleImportFilter *fettle_import_filter_new      (FettleWrap               *place) G_GNUC_WARN_UNUSED_RESULT;
/* @answer: (nullable): what is known of the rows. */
void                fettle_import_filter_show     (FettleImportFilter       *self,
                                                   const ExchangeLook       *look,
                                                   const ExchangeLookAnswer *answer);
/* Chooses all rows again, without telling. */
void                fettle_import_filter_show_all (FettleImportFilter       *self);

G_END_DECLS
