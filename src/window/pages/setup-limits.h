/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The limits of a characteristic in one field, typed as they stand on the drawing and said back in words before they are
 * stored from today on.
 */

#include "sitting.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_SETUP_LIMITS (fettle_setup_limits_get_type ())
G_DECLARE_FINAL_TYPE (FettleSetupLimits, fettle_setup_limits, FETTLE, SETUP_LIMITS, GtkWidget)

GtkWidget *fettle_setup_limits_new   (FettleSitting     *sitting) G_GNUC_WARN_UNUSED_RESULT;
/* @characteristic: 0: none, which hides it. */
void       fettle_setup_limits_show  (FettleSetupLimits *self,
                                      gint64             characteristic);
void       fettle_setup_limits_focus (FettleSetupLimits *self);

G_END_DECLS
