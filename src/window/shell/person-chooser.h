/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Who writes in this window: the book's persons by initials, and a line to add one.
 */

#include <gtk/gtk.h>

#include "facts.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_PERSON_CHOOSER (fettle_person_chooser_get_type ())
G_DECLARE_FINAL_TYPE (FettlePersonChooser, fettle_person_chooser, FETTLE, PERSON_CHOOSER, GtkPopover)

GtkWidget *fettle_person_chooser_new (FettleSitting     *sitting,
                                      const FettleFacts *facts) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
