/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange-picture.h"

#include "book-attach.h"
#include "exchange-error.h"
#include "store-content.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/*
 * Method. The size of a file is asked before it is read, and no more is read than may be stored. A picture is fed to the
 * unpacker piece by piece; as soon as its head has told how large it is, a picture of too many dots is given up, before
 * memory is taken for it, and a JPEG is unpacked at a fraction of its size. Between pieces it can be cancelled.
 */

#define PIECE_BYTES  65536
#define KEPT_BYTES   (1024 * 1024) /* a picture that is small in dots and bytes stays as it is */
#define JPEG_QUALITY "88"
#define NAME_MOST    180 /* bytes; a few are left for another ending */

/**
 * exchange_picture_free:
 * @picture: (transfer full) (nullable): one that was taken in
 */
void
exchange_picture_free (ExchangePicture *picture)
{
  if (picture == NULL)
    return;
  g_clear_pointer (&picture->bytes, g_bytes_unref);
  g_free (picture->name);
  g_free (picture->mime_type);
  g_free (picture);
}

static gboolean
refuse_bytes (const char *name, GError **error)
{
  g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT,
               _("'%s' is larger than %d MiB: make it smaller, or attach a link to it."), name, STORE_CONTENT_MOST / 1024 / 1024);
  return FALSE;
}

static gboolean
refuse_unreadable (const char *name, const GError *failure, GError **error)
{
  if (g_error_matches (failure, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    g_propagate_error (error, g_error_copy (failure));
  else
    g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE, _("'%s' cannot be read: %s"), name, failure->message);
  return FALSE;
}

/* What the head of a picture said, and what was made of it. */
typedef struct
{
  int      side; /* the longer side is made at most this */
  int      width;
  int      height;
  gboolean has_size;
  gboolean is_too_large;
} Head;

static void
on_size_prepared (GdkPixbufLoader *loader, int width, int height, gpointer data)
{
  Head *head = data;
  int longer = MAX (width, height);

  head->has_size = TRUE;
  head->width = width;
  head->height = height;
  if (width < 1 || height < 1 || (gint64) width * height > EXCHANGE_PICTURE_DOTS)
    {
      head->is_too_large = TRUE;
      gdk_pixbuf_loader_set_size (loader, 0, 0); /* unpackers give up at this */
    }
  else if (longer > head->side)
    {
      double scale = (double) head->side / longer;

      gdk_pixbuf_loader_set_size (loader, MAX (1, (int) lround (width * scale)), MAX (1, (int) lround (height * scale)));
    }
}

/* Feeds all of it; FALSE when the unpacker gave up or it was cancelled. The loader is closed in any case. */
static gboolean
feed (GdkPixbufLoader *loader, GBytes *bytes, const Head *head, GCancellable *cancellable, GError **error)
{
  gsize length = 0;
  const guchar *data = g_bytes_get_data (bytes, &length);

  for (gsize at = 0; at < length && !head->is_too_large; at += PIECE_BYTES)
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error)
          || !gdk_pixbuf_loader_write (loader, data + at, MIN (PIECE_BYTES, length - at), error))
        {
          gdk_pixbuf_loader_close (loader, NULL);
          return FALSE;
        }
    }
  return gdk_pixbuf_loader_close (loader, error) && !g_cancellable_set_error_if_cancelled (cancellable, error);
}

static char *
type_of (GdkPixbufLoader *loader)
{
  GdkPixbufFormat *format = gdk_pixbuf_loader_get_format (loader);
  g_auto(GStrv) types = format != NULL ? gdk_pixbuf_format_get_mime_types (format) : NULL;

  return types != NULL && types[0] != NULL ? g_strdup (types[0]) : NULL;
}

static void
refuse_picture (const char *name, const Head *head, GError **error)
{
  if (head->is_too_large)
    g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT,
                 _("'%s' is a picture of %d by %d dots, and more than %d million cannot be taken in: make it smaller."), name,
                 head->width, head->height, EXCHANGE_PICTURE_DOTS / 1000000);
  else if (head->has_size)
    g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT,
                 _("The picture '%s' is damaged or not complete: take another copy of it."), name);
  else
    g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT,
                 _("'%s' is no picture: choose a photograph, such as a JPEG or PNG file."), name);
}

/*
 * Whether a JPEG goes on to its end: the unpacker takes half a copy for a picture whose rest is grey. From marker to
 * marker (ITU T.81, annex B): segments tell their length; after a scan's head come coded bytes, in which 0xff stands only
 * before 0 and before restart marks. What follows the end (a film, on some telephones) does not matter.
 */
static gboolean
is_whole_jpeg (GBytes *bytes)
{
  gsize length = 0;
  const guchar *data = g_bytes_get_data (bytes, &length);
  gsize at = 2;

  while (at + 2 <= length)
    {
      if (data[at] != 0xff || data[at + 1] == 0xff || data[at + 1] == 0 || (data[at + 1] & 0xf8) == 0xd0)
        at += data[at] == 0xff && data[at + 1] != 0xff ? 2 : 1; /* coded, or filled up */
      else if (data[at + 1] == 0xd9)
        return TRUE;
      else if (at + 4 > length)
        return FALSE;
      else
        at += 2 + (gsize) (data[at + 2] << 8 | data[at + 3]);
    }
  return FALSE;
}

static gboolean
is_jpeg (GBytes *bytes)
{
  gsize length = 0;
  const guchar *data = g_bytes_get_data (bytes, &length);

  return length > 3 && data[0] == 0xff && data[1] == 0xd8 && data[2] == 0xff;
}

/* Unpacks, upright. @loader: (out): knows the form. */
static GdkPixbuf *
unpack (GBytes *bytes, const char *name, Head *head, GdkPixbufLoader **loader, GCancellable *cancellable, GError **error)
{
  g_autoptr(GError) failure = NULL;
  GdkPixbuf *pixbuf = NULL;

  *loader = gdk_pixbuf_loader_new ();
  g_signal_connect (*loader, "size-prepared", G_CALLBACK (on_size_prepared), head);
  if (feed (*loader, bytes, head, cancellable, &failure) && !head->is_too_large && (!is_jpeg (bytes) || is_whole_jpeg (bytes)))
    pixbuf = gdk_pixbuf_loader_get_pixbuf (*loader);
  if (pixbuf != NULL)
    return gdk_pixbuf_apply_embedded_orientation (pixbuf);
  if (g_error_matches (failure, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    g_propagate_error (error, g_steal_pointer (&failure));
  else
    refuse_picture (name, head, error);
  return NULL;
}

/* Whether a file of this name should be a picture that can be unpacked: then it is not taken for something else. */
static gboolean
claims_to_be_picture (const char *name)
{
  g_autofree char *content_type = g_content_type_guess (name, NULL, 0, NULL);
  g_autofree char *type = g_content_type_get_mime_type (content_type);
  GSList *formats = gdk_pixbuf_get_formats ();
  gboolean claims = FALSE;

  for (GSList *at = formats; at != NULL && type != NULL && !claims; at = at->next)
    {
      g_auto(GStrv) types = gdk_pixbuf_format_get_mime_types (at->data);

      claims = g_strv_contains ((const char *const *) types, type);
    }
  g_slist_free (formats);
  return claims;
}

static char *
with_ending (const char *name, const char *ending)
{
  const char *dot = strrchr (name, '.');
  gsize length = dot != NULL && dot != name ? (gsize) (dot - name) : strlen (name);
  g_autofree char *stem = g_strndup (name, MIN (length, NAME_MOST));
  g_autofree char *whole = g_utf8_make_valid (stem, -1);

  return g_strconcat (whole, ending, NULL);
}

static gboolean
is_turned (GdkPixbufLoader *loader)
{
  const char *orientation = gdk_pixbuf_get_option (gdk_pixbuf_loader_get_pixbuf (loader), "orientation");

  return orientation != NULL && !g_str_equal (orientation, "1");
}

/* Packs anew: what the camera wrote beside the picture (place, owner) is not taken along. */
static gboolean
pack (ExchangePicture *picture, GdkPixbuf *pixbuf, const char *name, GError **error)
{
  gboolean is_clear = gdk_pixbuf_get_has_alpha (pixbuf);
  g_autoptr(GError) failure = NULL;
  char *buffer = NULL;
  gsize length = 0;

  if (!(is_clear ? gdk_pixbuf_save_to_buffer (pixbuf, &buffer, &length, "png", &failure, NULL)
                 : gdk_pixbuf_save_to_buffer (pixbuf, &buffer, &length, "jpeg", &failure, "quality", JPEG_QUALITY, NULL)))
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT, _("The picture '%s' could not be made smaller: %s"), name,
                   failure->message);
      return FALSE;
    }
  picture->bytes = g_bytes_new_take (buffer, length);
  picture->name = with_ending (name, is_clear ? ".png" : ".jpg");
  picture->mime_type = g_strdup (is_clear ? "image/png" : "image/jpeg");
  picture->is_smaller = TRUE;
  return TRUE;
}

static void
keep (ExchangePicture *picture, GBytes *bytes, const char *name, char *type)
{
  picture->bytes = g_bytes_ref (bytes);
  picture->name = g_strdup (name);
  picture->mime_type = type;
}

static ExchangePicture *
take (GBytes *bytes, const char *name, ExchangeTake how, GCancellable *cancellable, GError **error)
{
  g_autoptr(ExchangePicture) picture = g_new0 (ExchangePicture, 1);
  g_autoptr(GdkPixbufLoader) loader = NULL;
  g_autoptr(GdkPixbuf) pixbuf = NULL;
  g_autoptr(GError) failure = NULL;
  Head head = { .side = EXCHANGE_PICTURE_SIDE };
  GdkPixbufFormat *format;

  pixbuf = unpack (bytes, name, &head, &loader, cancellable, &failure);
  if (pixbuf == NULL && how == EXCHANGE_TAKE_ANY && !head.has_size
      && !g_error_matches (failure, G_IO_ERROR, G_IO_ERROR_CANCELLED) && !claims_to_be_picture (name))
    {
      keep (picture, bytes, name, NULL);
      return g_steal_pointer (&picture);
    }
  if (pixbuf == NULL)
    {
      g_propagate_error (error, g_steal_pointer (&failure));
      return NULL;
    }

  format = gdk_pixbuf_loader_get_format (loader);
  picture->width = gdk_pixbuf_get_width (pixbuf);
  picture->height = gdk_pixbuf_get_height (pixbuf);
  if (how == EXCHANGE_TAKE_ORIGINAL || gdk_pixbuf_format_is_scalable (format)
      || (MAX (head.width, head.height) <= EXCHANGE_PICTURE_SIDE && g_bytes_get_size (bytes) <= KEPT_BYTES && !is_turned (loader)))
    {
      gboolean lies = is_turned (loader) && head.width != head.height
                      && (head.width > head.height) != (picture->width > picture->height);

      keep (picture, bytes, name, type_of (loader));
      picture->width = lies ? head.height : head.width;
      picture->height = lies ? head.width : head.height;
      return g_steal_pointer (&picture);
    }
  return pack (picture, pixbuf, name, error) ? g_steal_pointer (&picture) : NULL;
}

/* A name for sentences and for keeping: the last part of a path. */
static char *
base_of (const char *name)
{
  g_autofree char *base = book_file_name (name);

  return base != NULL ? g_steal_pointer (&base) : g_strdup (_("picture"));
}

/**
 * exchange_picture_take_bytes:
 * @bytes: what was pasted or dropped
 * @name: a name for it; only its last part is used
 * @take: what is done with it
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Takes in a picture or file. A picture with a longer side above %EXCHANGE_PICTURE_SIDE, of more than a mebibyte, or
 * lying on its side is packed anew as JPEG (PNG where it is see-through), without what a camera notes about place and
 * owner. Blocks; not for the main thread of a window.
 *
 * Returns: (transfer full) (nullable): what is to be attached; %EXCHANGE_ERROR_CONTENT with a sentence
 */
ExchangePicture *
exchange_picture_take_bytes (GBytes *bytes, const char *name, ExchangeTake how, GCancellable *cancellable, GError **error)
{
  g_autofree char *base = base_of (name);

  if (g_bytes_get_size (bytes) > STORE_CONTENT_MOST)
    {
      refuse_bytes (base, error);
      return NULL;
    }
  return take (bytes, base, how, cancellable, error);
}

/* Asks for the size before anything is read, and reads no more than may be kept, should the file grow meanwhile. */
static GBytes *
read_file (GFile *file, const char *name, GCancellable *cancellable, GError **error)
{
  g_autoptr(GError) failure = NULL;
  g_autoptr(GFileInputStream) stream = NULL;
  g_autoptr(GFileInfo) info = g_file_query_info (file, G_FILE_ATTRIBUTE_STANDARD_SIZE "," G_FILE_ATTRIBUTE_STANDARD_TYPE,
                                                 G_FILE_QUERY_INFO_NONE, cancellable, &failure);
  g_autoptr(GByteArray) all = NULL;
  gsize size, got = 0;

  if (info == NULL)
    {
      refuse_unreadable (name, failure, error);
      return NULL;
    }
  if (g_file_info_get_file_type (info) != G_FILE_TYPE_REGULAR)
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE, _("'%s' is no file: choose a file."), name);
      return NULL;
    }
  if (g_file_info_get_size (info) > STORE_CONTENT_MOST)
    {
      refuse_bytes (name, error);
      return NULL;
    }
  size = (gsize) g_file_info_get_size (info);
  stream = g_file_read (file, cancellable, &failure);
  if (stream != NULL)
    {
      all = g_byte_array_new ();
      g_byte_array_set_size (all, (guint) size + 1); /* one more tells that it grew */
      g_input_stream_read_all (G_INPUT_STREAM (stream), all->data, size + 1, &got, cancellable, &failure);
    }
  if (failure != NULL)
    {
      refuse_unreadable (name, failure, error);
      return NULL;
    }
  if (got > size)
    {
      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE, _("'%s' is still being written: try again in a moment."), name);
      return NULL;
    }
  g_byte_array_set_size (all, (guint) got);
  return g_byte_array_free_to_bytes (g_steal_pointer (&all));
}

/**
 * exchange_picture_take_file:
 * @file: a file
 * @take: what is done with it
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * As exchange_picture_take_bytes(). A file of more than %STORE_CONTENT_MOST bytes is refused without being read.
 *
 * Returns: (transfer full) (nullable): what is to be attached; %EXCHANGE_ERROR_CONTENT or _UNREADABLE with a sentence
 */
ExchangePicture *
exchange_picture_take_file (GFile *file, ExchangeTake how, GCancellable *cancellable, GError **error)
{
  g_autofree char *given = g_file_get_basename (file);
  g_autofree char *name = base_of (given != NULL ? given : "");
  g_autoptr(GBytes) bytes = read_file (file, name, cancellable, error);

  return bytes != NULL ? take (bytes, name, how, cancellable, error) : NULL;
}

typedef struct
{
  GFile       *file;  /* or: */
  GBytes      *bytes;
  char        *name;
  ExchangeTake how;
} Request;

static void
request_free (gpointer data)
{
  Request *request = data;

  g_clear_object (&request->file);
  g_clear_pointer (&request->bytes, g_bytes_unref);
  g_free (request->name);
  g_free (request);
}

static void
take_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Request *request = data;
  GError *error = NULL;
  ExchangePicture *picture = request->file != NULL
                                 ? exchange_picture_take_file (request->file, request->how, cancellable, &error)
                                 : exchange_picture_take_bytes (request->bytes, request->name, request->how, cancellable, &error);

  if (picture != NULL)
    g_task_return_pointer (task, picture, (GDestroyNotify) exchange_picture_free);
  else
    g_task_return_error (task, error);
}

static void
start (Request *request, GCancellable *cancellable, GAsyncReadyCallback done, gpointer user_data)
{
  g_autoptr(GTask) task = g_task_new (NULL, cancellable, done, user_data);

  g_task_set_source_tag (task, exchange_picture_take_file_async);
  g_task_set_task_data (task, request, request_free);
  g_task_run_in_thread (task, take_in_thread);
}

/* As exchange_picture_take_file(), in a thread of its own; ended by exchange_picture_take_finish(). */
void
exchange_picture_take_file_async (GFile *file, ExchangeTake how, GCancellable *cancellable, GAsyncReadyCallback done,
                                  gpointer user_data)
{
  Request *request = g_new0 (Request, 1);

  request->file = g_object_ref (file);
  request->how = how;
  start (request, cancellable, done, user_data);
}

/* As exchange_picture_take_bytes(), in a thread of its own; ended by exchange_picture_take_finish(). */
void
exchange_picture_take_bytes_async (GBytes *bytes, const char *name, ExchangeTake how, GCancellable *cancellable,
                                   GAsyncReadyCallback done, gpointer user_data)
{
  Request *request = g_new0 (Request, 1);

  request->bytes = g_bytes_ref (bytes);
  request->name = g_strdup (name);
  request->how = how;
  start (request, cancellable, done, user_data);
}

/**
 * exchange_picture_take_finish:
 * @result: what the callback was given
 * @error: return location
 *
 * Returns: (transfer full) (nullable): what is to be attached
 */
ExchangePicture *
exchange_picture_take_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}

/**
 * exchange_picture_decode:
 * @bytes: an attached picture
 * @name: its name, for sentences
 * @side: dots that its longer side shall have at most
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Unpacks a picture, upright, to be shown. Blocks; not for the main thread of a window.
 *
 * Returns: (transfer full) (nullable): the dots; %EXCHANGE_ERROR_CONTENT when it is none, or of too many dots
 */
GdkPixbuf *
exchange_picture_decode (GBytes *bytes, const char *name, int side, GCancellable *cancellable, GError **error)
{
  g_autoptr(GdkPixbufLoader) loader = NULL;
  Head head = { .side = side };

  return unpack (bytes, name, &head, &loader, cancellable, error);
}
