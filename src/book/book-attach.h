/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Photographs, drawings, reports and links that belong to a record: any record can have them. The bytes are kept once by
 * their SHA-256 (store-content.h); the row of the attachment is a record like all others and is undone like them.
 */

#include "book-edit.h"

G_BEGIN_DECLS

/**
 * BookAttachable:
 * @kind: what it shows
 * @name: name of the file, of which the last part is kept; a title where it is a link
 * @mime_type: (nullable): guessed from name and bytes when left out
 * @bytes: (nullable): the file, at most %STORE_CONTENT_MOST bytes; %NULL for a link
 * @link: (nullable): where it is, when it is not to be stored
 *
 * What is to be attached: either @bytes or @link.
 */
typedef struct
{
  BookAttachmentKind kind;
  const char        *name;
  const char        *mime_type;
  GBytes            *bytes;
  const char        *link;
} BookAttachable;

/**
 * BookAttachment:
 * @id: key
 * @no: running number within its owner
 * @kind: what it shows
 * @name: file name or title
 * @mime_type: "" when not known
 * @sha256: "" for a link
 * @size: in bytes; 0 for a link
 * @link: "" for a stored file
 * @is_picture: a stored file that can be shown as a picture
 *
 * One attachment as listed.
 */
typedef struct
{
  gint64             id;
  gint64             no;
  BookAttachmentKind kind;
  char              *name;
  char              *mime_type;
  char              *sha256;
  gint64             size;
  char              *link;
  gboolean           is_picture;
} BookAttachment;

void       book_attachment_free  (BookAttachment       *attachment);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookAttachment, book_attachment_free)

BookEdit  *book_edit_attach      (BookRecordId          record,
                                  gint64                owner,
                                  const BookAttachable *what,
                                  guint                 n) G_GNUC_WARN_UNUSED_RESULT;
BookEdit  *book_edit_detach      (gint64                attachment) G_GNUC_WARN_UNUSED_RESULT;
gboolean   book_attach           (StoreAction          *action,
                                  BookRecordId          record,
                                  gint64                owner,
                                  const BookAttachable *what,
                                  gint64               *id,
                                  GError              **error) G_GNUC_WARN_UNUSED_RESULT;

GPtrArray *book_attachments_list (StoreDb              *db,
                                  BookRecordId          record,
                                  gint64                owner,
                                  GError              **error) G_GNUC_WARN_UNUSED_RESULT;
GBytes    *book_attachment_read  (StoreDb              *db,
                                  gint64                attachment,
                                  char                **name,
                                  GError              **error) G_GNUC_WARN_UNUSED_RESULT;
char      *book_file_name        (const char           *name) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
