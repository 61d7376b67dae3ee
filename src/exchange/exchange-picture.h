/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Taking in photographs and other files: looked at before they are read, refused in a sentence, made smaller unless the
 * original is to be kept. What was taken in is then attached by book_edit_attach().
 */

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <gio/gio.h>

G_BEGIN_DECLS

#define EXCHANGE_PICTURE_SIDE 1600      /* dots of the longer side of a picture that was made smaller */
#define EXCHANGE_PICTURE_DOTS 100000000 /* more are not unpacked: they would take the memory of the machine */

/**
 * ExchangeTake:
 * @EXCHANGE_TAKE_PICTURE: it must be a picture; made smaller where it is larger than %EXCHANGE_PICTURE_SIDE
 * @EXCHANGE_TAKE_ORIGINAL: it must be a picture; kept byte by byte
 * @EXCHANGE_TAKE_ANY: a picture as %EXCHANGE_TAKE_PICTURE, any other file byte by byte
 *
 * What is done with a file.
 */
typedef enum
{
  EXCHANGE_TAKE_PICTURE,
  EXCHANGE_TAKE_ORIGINAL,
  EXCHANGE_TAKE_ANY
} ExchangeTake;

/**
 * ExchangePicture:
 * @bytes: what is to be stored
 * @name: its file name, without folders; with another ending when the form changed
 * @mime_type: (nullable): its media type
 * @width: in dots, upright; 0 when it is no picture
 * @height: as @width
 * @is_smaller: it is not the original any more
 *
 * A file that was taken in.
 */
typedef struct
{
  GBytes  *bytes;
  char    *name;
  char    *mime_type;
  int      width;
  int      height;
  gboolean is_smaller;
} ExchangePicture;

void             exchange_picture_free              (ExchangePicture    *picture);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchangePicture, exchange_picture_free)

ExchangePicture *exchange_picture_take_file         (GFile              *file,
                                                     ExchangeTake        take,
                                                     GCancellable       *cancellable,
                                                     GError            **error) G_GNUC_WARN_UNUSED_RESULT;
ExchangePicture *exchange_picture_take_bytes        (GBytes             *bytes,
                                                     const char         *name,
                                                     ExchangeTake        take,
                                                     GCancellable       *cancellable,
                                                     GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void             exchange_picture_take_file_async   (GFile              *file,
                                                     ExchangeTake        take,
                                                     GCancellable       *cancellable,
                                                     GAsyncReadyCallback done,
                                                     gpointer            user_data);
void             exchange_picture_take_bytes_async  (GBytes             *bytes,
                                                     const char         *name,
                                                     ExchangeTake        take,
                                                     GCancellable       *cancellable,
                                                     GAsyncReadyCallback done,
                                                     gpointer            user_data);
ExchangePicture *exchange_picture_take_finish       (GAsyncResult       *result,
                                                     GError            **error) G_GNUC_WARN_UNUSED_RESULT;

GdkPixbuf       *exchange_picture_decode            (GBytes             *bytes,
                                                     const char         *name,
                                                     int                 side,
                                                     GCancellable       *cancellable,
                                                     GError            **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
