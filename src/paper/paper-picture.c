/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-picture.h"

#include "exchange-picture.h"
#include "paper-document.h"

#include <glib/gi18n-lib.h>

/* On white, without what is see-through: cairo's own order of bytes in a word. */
static cairo_surface_t *
to_surface (GdkPixbuf *pixbuf)
{
  int width = gdk_pixbuf_get_width (pixbuf), height = gdk_pixbuf_get_height (pixbuf);
  int channels = gdk_pixbuf_get_n_channels (pixbuf), stride = gdk_pixbuf_get_rowstride (pixbuf);
  const guint8 *from = gdk_pixbuf_read_pixels (pixbuf);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  guint8 *to = cairo_image_surface_get_data (surface);
  int to_stride = cairo_image_surface_get_stride (surface);

  if (cairo_surface_status (surface) != CAIRO_STATUS_SUCCESS)
    return surface;
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      {
        const guint8 *dot = from + (gsize) y * (gsize) stride + (gsize) x * (gsize) channels;
        guint alpha = channels == 4 ? dot[3] : 255;
        guint32 *word = (guint32 *) (gpointer) (to + (gsize) y * (gsize) to_stride + (gsize) x * 4);
        guint32 packed = 0;

        for (guint i = 0; i < 3; i++)
          packed = packed << 8 | (dot[i] * alpha + 255 * (255 - alpha) + 127) / 255;
        *word = packed;
      }
  cairo_surface_mark_dirty (surface);
  return surface;
}

/* Photographs as JPEG, which takes a tenth of the room. */
static void
attach_jpeg (cairo_surface_t *surface, GdkPixbuf *pixbuf)
{
  char *buffer = NULL;
  gsize length = 0;

  if (!gdk_pixbuf_get_has_alpha (pixbuf) && gdk_pixbuf_save_to_buffer (pixbuf, &buffer, &length, "jpeg", NULL, "quality", "85", NULL)
      && cairo_surface_set_mime_data (surface, CAIRO_MIME_TYPE_JPEG, (const unsigned char *) buffer, length, g_free, buffer)
             == CAIRO_STATUS_SUCCESS)
    return;
  g_free (buffer);
}

/**
 * paper_picture_new:
 * @bytes: an attached picture
 * @name: its name, for sentences
 * @side: dots that its longer side needs at most
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Returns: (transfer full) (nullable): an image surface for paper_place_picture()
 */
cairo_surface_t *
paper_picture_new (GBytes *bytes, const char *name, int side, GCancellable *cancellable, GError **error)
{
  g_autoptr(GdkPixbuf) pixbuf = exchange_picture_decode (bytes, name, side, cancellable, error);
  cairo_surface_t *surface;

  if (pixbuf == NULL)
    return NULL;
  surface = to_surface (pixbuf);
  if (cairo_surface_status (surface) != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, PAPER_ERROR, PAPER_ERROR_DRAW, _("The picture '%s' could not be drawn: %s."), name,
                   cairo_status_to_string (cairo_surface_status (surface)));
      cairo_surface_destroy (surface);
      return NULL;
    }
  attach_jpeg (surface, pixbuf);
  return surface;
}

/**
 * paper_picture_read:
 * @db: any connection
 * @attachment: a picture
 * @side: dots that its longer side needs at most
 * @picture: (out) (nullable): as of paper_picture_new(); %NULL when it is missing or damaged: the paper says so, and `check`
 *   names it
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Returns: %FALSE only when it was stopped
 */
gboolean
paper_picture_read (StoreDb *db, const BookAttachment *attachment, int side, cairo_surface_t **picture, GCancellable *cancellable,
                    GError **error)
{
  g_autoptr(GError) failure = NULL;
  g_autoptr(GBytes) bytes = book_attachment_read (db, attachment->id, NULL, &failure);

  *picture = bytes != NULL ? paper_picture_new (bytes, attachment->name, side, cancellable, &failure) : NULL;
  if (g_error_matches (failure, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      g_propagate_error (error, g_steal_pointer (&failure));
      return FALSE;
    }
  if (*picture == NULL)
    g_debug ("%s", failure->message);
  return TRUE;
}
