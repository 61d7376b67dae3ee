/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The folder into which a camera or telephone puts its pictures, newest first, told again as they come. Which folder it is
 * belongs to the person's settings.
 */

#include <gtk/gtk.h>

#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_CAMERA_FOLDER (fettle_camera_folder_get_type ())
G_DECLARE_FINAL_TYPE (FettleCameraFolder, fettle_camera_folder, FETTLE, CAMERA_FOLDER, GtkWidget)

/**
 * FettleCameraFolder::chosen:
 * @file: a picture that a person wants
 */

GtkWidget *fettle_camera_folder_new (FettleSitting *sitting) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
