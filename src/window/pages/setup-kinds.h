/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The kinds of records that a model is set up from, as a list with how many there are of each.
 */

#include <gtk/gtk.h>

#include "book-setup.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_SETUP_KINDS (fettle_setup_kinds_get_type ())
G_DECLARE_FINAL_TYPE (FettleSetupKinds, fettle_setup_kinds, FETTLE, SETUP_KINDS, GtkWidget)

/**
 * FettleSetupKinds::chosen:
 * @record: #BookRecordId of the kind that a person chose
 */

/**
 * FettleSetupKinds::entered:
 *
 * Enter was pressed on the chosen kind: on with its rows.
 */

GtkWidget   *fettle_setup_kinds_new        (void) G_GNUC_WARN_UNUSED_RESULT;
/* Counts by book_setup_kinds(); with words in @filter kinds without any are left out unless their name has the words. */
void         fettle_setup_kinds_set_counts (FettleSetupKinds *self,
                                            const guint      *counts,
                                            const char       *filter);
void         fettle_setup_kinds_choose     (FettleSetupKinds *self,
                                            BookRecordId      record);
/* Of the rows in view the next, or the one before. */
void         fettle_setup_kinds_step       (FettleSetupKinds *self,
                                            int               step);
/* The kind that is called so; else the first in view that has rows, else one whose name has the words; BOOK_RECORD_NONE: none. */
BookRecordId fettle_setup_kinds_first      (FettleSetupKinds *self,
                                            const char       *filter);
/* Whether @filter is the name of that kind; or, unless @wholly, a part of its name that no row of it has. */
gboolean     fettle_setup_kinds_is_named   (FettleSetupKinds *self,
                                            BookRecordId      record,
                                            const char       *filter,
                                            gboolean          wholly);

G_END_DECLS
