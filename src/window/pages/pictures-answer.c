/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "pictures-answer.h"

#include "book-attach.h"
#include "exchange-picture.h"

struct _FettlePicturesAsk
{
  BookRecordId record;
  gint64      *owners;
  guint        n_owners;
  int          side; /* of the longer side, in dots */
};

FettlePicturesAsk *
fettle_pictures_ask_new (BookRecordId record, const gint64 *owners, guint n_owners, int side)
{
  FettlePicturesAsk *ask = g_new0 (FettlePicturesAsk, 1);

  ask->record = record;
  ask->owners = g_memdup2 (owners, n_owners * sizeof *owners);
  ask->n_owners = n_owners;
  ask->side = side;
  return ask;
}

void
fettle_pictures_ask_free (gpointer data)
{
  FettlePicturesAsk *ask = data;

  g_free (ask->owners);
  g_free (ask);
}

void
fettle_attached_free (gpointer data)
{
  FettleAttached *attached = data;

  g_free (attached->name);
  g_clear_object (&attached->texture);
  g_free (attached);
}

/* A picture that cannot be shown is listed by its name; `check` of the command line says what is wrong with it. */
static GdkTexture *
read_texture (StoreDb *db, const BookAttachment *attachment, int side, GCancellable *cancellable)
{
  g_autofree char *name = NULL;
  g_autoptr(GBytes) bytes = attachment->is_picture ? book_attachment_read (db, attachment->id, &name, NULL) : NULL;
  g_autoptr(GdkPixbuf) pixbuf = bytes != NULL ? exchange_picture_decode (bytes, name, side, cancellable, NULL) : NULL;

  return pixbuf != NULL ? gdk_texture_new_for_pixbuf (pixbuf) : NULL;
}

gpointer
fettle_pictures_ask_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const FettlePicturesAsk *ask = data;
  g_autoptr(GPtrArray) answer = g_ptr_array_new_with_free_func (fettle_attached_free);

  for (guint i = 0; i < ask->n_owners; i++)
    {
      g_autoptr(GPtrArray) list = book_attachments_list (db, ask->record, ask->owners[i], error);

      if (list == NULL)
        return NULL;
      for (guint k = 0; k < list->len; k++)
        {
          const BookAttachment *attachment = g_ptr_array_index (list, k);
          FettleAttached *attached = g_new0 (FettleAttached, 1);

          attached->owner = ask->owners[i];
          attached->id = attachment->id;
          attached->name = g_strdup (attachment->name);
          attached->texture = read_texture (db, attachment, ask->side, cancellable);
          g_ptr_array_add (answer, attached);
        }
    }
  return g_steal_pointer (&answer);
}
