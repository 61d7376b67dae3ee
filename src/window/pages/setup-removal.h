/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Deleting a row of the set-up: what would go along is named first, and why it cannot go; what stands alone goes at once,
 * since it can be undone.
 */

#include <gtk/gtk.h>

#include "book-fields.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_SETUP_REMOVAL (fettle_setup_removal_get_type ())
G_DECLARE_FINAL_TYPE (FettleSetupRemoval, fettle_setup_removal, FETTLE, SETUP_REMOVAL, GtkWidget)

/**
 * FettleSetupRemoval::closed:
 *
 * It is done or given up: whoever shows it takes the keyboard back.
 */

GtkWidget *fettle_setup_removal_new   (FettleSitting      *sitting) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_setup_removal_begin (FettleSetupRemoval *self,
                                       BookRecordId        record,
                                       gint64              id);
/* Gives up unless it is about this record. */
void       fettle_setup_removal_keep  (FettleSetupRemoval *self,
                                       gint64              id);

G_END_DECLS
