/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange-watch.h"

#include "exchange-error.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define SETTLE_MS 300 /* a camera writes a file in many pieces: look when it is quiet */
#define ATTRIBUTES                                                                                                     \
  G_FILE_ATTRIBUTE_STANDARD_NAME "," G_FILE_ATTRIBUTE_STANDARD_DISPLAY_NAME "," G_FILE_ATTRIBUTE_STANDARD_TYPE         \
  "," G_FILE_ATTRIBUTE_STANDARD_SIZE "," G_FILE_ATTRIBUTE_STANDARD_IS_HIDDEN                                           \
  "," G_FILE_ATTRIBUTE_STANDARD_FAST_CONTENT_TYPE "," G_FILE_ATTRIBUTE_TIME_MODIFIED "," G_FILE_ATTRIBUTE_TIME_MODIFIED_USEC

/**
 * exchange_found_free:
 * @found: (transfer full) (nullable): a picture that was found
 */
void
exchange_found_free (ExchangeFound *found)
{
  if (found == NULL)
    return;
  g_clear_object (&found->file);
  g_free (found->name);
  g_free (found->mime_type);
  g_free (found);
}

static int
compare_newest (gconstpointer a, gconstpointer b)
{
  const ExchangeFound *one = *(ExchangeFound *const *) a;
  const ExchangeFound *other = *(ExchangeFound *const *) b;

  if (one->modified != other->modified)
    return one->modified > other->modified ? -1 : 1;
  return strcmp (other->name, one->name); /* cameras count upward */
}

/* Pictures by their names alone: no file is opened. Empty and hidden ones are still being written. */
static ExchangeFound *
found_new (GFile *folder, GFileInfo *info)
{
  const char *content_type = g_file_info_get_attribute_string (info, G_FILE_ATTRIBUTE_STANDARD_FAST_CONTENT_TYPE);
  g_autofree char *type = content_type != NULL ? g_content_type_get_mime_type (content_type) : NULL;
  ExchangeFound *found;

  if (g_file_info_get_file_type (info) != G_FILE_TYPE_REGULAR || g_file_info_get_is_hidden (info)
      || g_file_info_get_size (info) == 0 || type == NULL || !g_str_has_prefix (type, "image/"))
    return NULL;
  found = g_new0 (ExchangeFound, 1);
  found->file = g_file_get_child (folder, g_file_info_get_name (info));
  found->name = g_strdup (g_file_info_get_display_name (info));
  found->mime_type = g_steal_pointer (&type);
  found->size = g_file_info_get_size (info);
  found->modified = (gint64) g_file_info_get_attribute_uint64 (info, G_FILE_ATTRIBUTE_TIME_MODIFIED) * G_USEC_PER_SEC
                    + g_file_info_get_attribute_uint32 (info, G_FILE_ATTRIBUTE_TIME_MODIFIED_USEC);
  return found;
}

/**
 * exchange_pictures_list:
 * @folder: a folder
 * @most: how many are wanted; 0: all
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Lists the pictures that lie in a folder, not below it. Blocks; not for the main thread of a window.
 *
 * Returns: (transfer full) (nullable) (element-type ExchangeFound): newest first; %EXCHANGE_ERROR_UNREADABLE
 */
GPtrArray *
exchange_pictures_list (GFile *folder, guint most, GCancellable *cancellable, GError **error)
{
  g_autoptr(GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) exchange_found_free);
  g_autoptr(GError) failure = NULL;
  g_autoptr(GFileEnumerator) files
      = g_file_enumerate_children (folder, ATTRIBUTES, G_FILE_QUERY_INFO_NONE, cancellable, &failure);
  GFileInfo *info = NULL;

  while (files != NULL && g_file_enumerator_iterate (files, &info, NULL, cancellable, &failure) && info != NULL)
    {
      ExchangeFound *found = found_new (folder, info);

      if (found != NULL)
        g_ptr_array_add (list, found);
    }
  if (g_error_matches (failure, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      g_propagate_error (error, g_steal_pointer (&failure));
      return NULL;
    }
  if (failure != NULL)
    {
      g_autofree char *shown = g_file_get_parse_name (folder);

      g_set_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE, _("The folder '%s' cannot be read: choose another. (%s)"), shown,
                   failure->message);
      return NULL;
    }
  g_ptr_array_sort (list, compare_newest);
  if (most > 0 && list->len > most)
    g_ptr_array_set_size (list, (int) most);
  return g_steal_pointer (&list);
}

struct _ExchangeWatch
{
  GFile            *folder;
  guint             most;
  ExchangeWatchFunc changed;
  gpointer          data;
  GFileMonitor     *monitor; /* (nullable): where the system cannot watch, it is looked once */
  GCancellable     *cancellable;
  GMainContext     *context;
  GSource          *settle;
};

typedef struct
{
  GFile *folder;
  guint  most;
} Look;

static void
look_free (gpointer data)
{
  Look *look = data;

  g_object_unref (look->folder);
  g_free (look);
}

static void
look_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Look *look = data;
  GError *error = NULL;
  GPtrArray *list = exchange_pictures_list (look->folder, look->most, cancellable, &error);

  if (list != NULL)
    g_task_return_pointer (task, list, (GDestroyNotify) g_ptr_array_unref);
  else
    g_task_return_error (task, error);
}

static void
looked (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) list = g_task_propagate_pointer (G_TASK (result), &error);
  ExchangeWatch *watch = data;

  /* Cancelled: the watch is gone. */
  if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    watch->changed (list, error, watch->data);
}

static void
look (ExchangeWatch *watch)
{
  Look *request = g_new0 (Look, 1);
  g_autoptr(GTask) task = NULL;

  g_cancellable_cancel (watch->cancellable);
  g_object_unref (watch->cancellable);
  watch->cancellable = g_cancellable_new ();
  task = g_task_new (NULL, watch->cancellable, looked, watch);
  request->folder = g_object_ref (watch->folder);
  request->most = watch->most;
  g_task_set_source_tag (task, look);
  g_task_set_task_data (task, request, look_free);
  g_task_run_in_thread (task, look_in_thread);
}

static void
stop_settling (ExchangeWatch *watch)
{
  if (watch->settle == NULL)
    return;
  g_source_destroy (watch->settle);
  g_clear_pointer (&watch->settle, g_source_unref);
}

static gboolean
on_settled (gpointer data)
{
  ExchangeWatch *watch = data;

  stop_settling (watch);
  look (watch);
  return G_SOURCE_REMOVE;
}

static void
on_event (GFileMonitor *monitor, GFile *file, GFile *other, GFileMonitorEvent event, gpointer data)
{
  ExchangeWatch *watch = data;

  stop_settling (watch);
  watch->settle = g_timeout_source_new (SETTLE_MS);
  g_source_set_callback (watch->settle, on_settled, watch, NULL);
  g_source_attach (watch->settle, watch->context);
}

/**
 * exchange_watch_new:
 * @folder: a folder
 * @most: how many pictures are wanted; 0: all
 * @changed: told once soon, and whenever the folder changed and is quiet again
 * @data: for @changed
 *
 * Watches a folder. The list is made in a thread of its own.
 *
 * Returns: (transfer full): to be ended with exchange_watch_free(), after which @changed is not called any more
 */
ExchangeWatch *
exchange_watch_new (GFile *folder, guint most, ExchangeWatchFunc changed, gpointer data)
{
  ExchangeWatch *watch = g_new0 (ExchangeWatch, 1);

  watch->folder = g_object_ref (folder);
  watch->most = most;
  watch->changed = changed;
  watch->data = data;
  watch->context = g_main_context_ref_thread_default ();
  watch->cancellable = g_cancellable_new ();
  watch->monitor = g_file_monitor_directory (folder, G_FILE_MONITOR_WATCH_MOVES, NULL, NULL);
  if (watch->monitor != NULL)
    g_signal_connect (watch->monitor, "changed", G_CALLBACK (on_event), watch);
  look (watch);
  return watch;
}

/**
 * exchange_watch_free:
 * @watch: (transfer full) (nullable): a watch
 */
void
exchange_watch_free (ExchangeWatch *watch)
{
  if (watch == NULL)
    return;
  g_cancellable_cancel (watch->cancellable);
  stop_settling (watch);
  if (watch->monitor != NULL)
    {
      g_signal_handlers_disconnect_by_data (watch->monitor, watch);
      g_file_monitor_cancel (watch->monitor);
      g_object_unref (watch->monitor);
    }
  g_object_unref (watch->cancellable);
  g_object_unref (watch->folder);
  g_main_context_unref (watch->context);
  g_free (watch);
}
