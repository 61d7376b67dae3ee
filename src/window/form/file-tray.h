/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Files on their way into the book: dropped, pasted or chosen, made smaller where they are pictures, listed by name until
 * a command attaches them. A form that holds one lets it take what is dropped or pasted anywhere in it.
 */

#include <gtk/gtk.h>

#include "book-attach.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_FILE_TRAY (fettle_file_tray_get_type ())
G_DECLARE_FINAL_TYPE (FettleFileTray, fettle_file_tray, FETTLE, FILE_TRAY, GtkWidget)

/**
 * FettleFileTray::changed:
 *
 * A file came or went, or is no longer being read.
 */

GtkWidget      *fettle_file_tray_new     (FettleSitting      *sitting,
                                          const char         *label,
                                          BookAttachmentKind  kind) G_GNUC_WARN_UNUSED_RESULT;
void            fettle_file_tray_serve   (FettleFileTray     *self,
                                          GtkWidget          *form);
void            fettle_file_tray_take    (FettleFileTray     *self,
                                          GFile              *file);
void            fettle_file_tray_choose  (FettleFileTray     *self);
void            fettle_file_tray_clear   (FettleFileTray     *self);

/* Whether files are still being read: a form waits with storing until 'changed'. */
gboolean        fettle_file_tray_is_busy (FettleFileTray     *self);
/* What there is, for book_edit_attach() and its kin; valid until the tray changes. */
BookAttachable *fettle_file_tray_list    (FettleFileTray     *self,
                                          guint              *n) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
