/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What is done with the chosen row and another one of its kind: a model takes over the set-up of an earlier one, and two
 * suppliers, parts, persons or gauges that are the same become one.
 */

#include <gtk/gtk.h>

#include "book-setup.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_SETUP_DEED (fettle_setup_deed_get_type ())
G_DECLARE_FINAL_TYPE (FettleSetupDeed, fettle_setup_deed, FETTLE, SETUP_DEED, GtkWidget)

/**
 * FettleSetupDeed::closed:
 *
 * It is done, or given up.
 */

GtkWidget  *fettle_setup_deed_new   (FettleSitting   *sitting) G_GNUC_WARN_UNUSED_RESULT;
/* What the deed for a kind of record is called; NULL where there is none. */
const char *fettle_setup_deed_label (BookRecordId     kind);
/* @key: the chosen row; @setup: with the rows of @kind. */
void        fettle_setup_deed_begin (FettleSetupDeed *self,
                                     BookRecordId     kind,
                                     gint64           key,
                                     const BookSetup *setup);
gboolean    fettle_setup_deed_is_open (FettleSetupDeed *self);
void        fettle_setup_deed_close (FettleSetupDeed *self);

G_END_DECLS
