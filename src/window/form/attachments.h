/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The photographs and files of one record, as small pictures: dropped on them, pasted, chosen, or taken from the folder
 * into which a camera puts its pictures, newest first. What comes in is made smaller unless originals are to be kept.
 */

#include <gtk/gtk.h>

#include "book-fields.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_ATTACHMENTS (fettle_attachments_get_type ())
G_DECLARE_FINAL_TYPE (FettleAttachments, fettle_attachments, FETTLE, ATTACHMENTS, GtkWidget)

GtkWidget *fettle_attachments_new     (FettleSitting     *sitting,
                                       BookRecordId       record,
                                       gint64             owner) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_attachments_take    (FettleAttachments *self,
                                       GFile             *file);
void       fettle_attachments_paste   (FettleAttachments *self);
void       fettle_attachments_choose  (FettleAttachments *self);
/* Files dropped anywhere on @area are taken, too. */
void       fettle_attachments_drop_on (FettleAttachments *self,
                                       GtkWidget         *area);

G_END_DECLS
