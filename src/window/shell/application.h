/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The program: its options, its windows, its shortcuts, the look.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_APPLICATION (fettle_application_get_type ())
G_DECLARE_FINAL_TYPE (FettleApplication, fettle_application, FETTLE, APPLICATION, GtkApplication)

GtkApplication *fettle_application_new          (GApplicationFlags  flags) G_GNUC_WARN_UNUSED_RESULT;
void            fettle_application_open         (FettleApplication *self,
                                                 const char        *path,
                                                 gboolean           create,
                                                 GtkWindow         *beside);
GSettings      *fettle_application_get_settings (FettleApplication *self);

G_END_DECLS
