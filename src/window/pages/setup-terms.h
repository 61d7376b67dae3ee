/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The terms of a criterion: what it asks for now in words, and a form for what it asks for from today on, with the fields
 * that its kind of evidence asks for and no others.
 */

#include "sitting.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_SETUP_TERMS (fettle_setup_terms_get_type ())
G_DECLARE_FINAL_TYPE (FettleSetupTerms, fettle_setup_terms, FETTLE, SETUP_TERMS, GtkWidget)

GtkWidget *fettle_setup_terms_new  (FettleSitting    *sitting) G_GNUC_WARN_UNUSED_RESULT;
/* @criterion: 0: none, which hides it. */
void       fettle_setup_terms_show (FettleSetupTerms *self,
                                    gint64            criterion);

G_END_DECLS
