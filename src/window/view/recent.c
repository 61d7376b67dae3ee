/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "recent.h"

#include <gtk/gtk.h>

static void
recent_free (gpointer data)
{
  FettleRecent *recent = data;

  g_free (recent->path);
  g_free (recent->name);
  g_free (recent);
}

static int
compare_visited (gconstpointer a, gconstpointer b)
{
  return g_date_time_compare (gtk_recent_info_get_visited (*(GtkRecentInfo **) b),
                              gtk_recent_info_get_visited (*(GtkRecentInfo **) a));
}

GPtrArray *
fettle_recent_list (guint most)
{
  g_autolist(GtkRecentInfo) items = gtk_recent_manager_get_items (gtk_recent_manager_get_default ());
  g_autoptr(GPtrArray) found = g_ptr_array_new ();
  GPtrArray *books = g_ptr_array_new_with_free_func (recent_free);

  for (GList *item = items; item != NULL; item = item->next)
    if (g_strcmp0 (gtk_recent_info_get_mime_type (item->data), FETTLE_BOOK_TYPE) == 0
        && gtk_recent_info_is_local (item->data) && gtk_recent_info_exists (item->data))
      g_ptr_array_add (found, item->data);
  g_ptr_array_sort (found, compare_visited);
  for (guint i = 0; i < MIN (found->len, most); i++)
    {
      FettleRecent *recent = g_new0 (FettleRecent, 1);

      recent->path = g_filename_from_uri (gtk_recent_info_get_uri (g_ptr_array_index (found, i)), NULL, NULL);
      recent->name = g_filename_display_basename (recent->path);
      g_ptr_array_add (books, recent);
    }
  return books;
}

void
fettle_recent_add (const char *path)
{
  g_autofree char *uri = g_filename_to_uri (path, NULL, NULL);
  g_autofree char *name = g_filename_display_basename (path);
  char type[] = FETTLE_BOOK_TYPE, program[] = "fettle", command[] = "fettle %f";
  gboolean wanted = TRUE;
  GtkRecentData data = { .display_name = name, .mime_type = type, .app_name = program, .app_exec = command };

  /* Who does not want programs to remember files has said so to the desktop. */
  g_object_get (gtk_settings_get_default (), "gtk-recent-files-enabled", &wanted, NULL);
  if (uri != NULL && wanted)
    gtk_recent_manager_add_full (gtk_recent_manager_get_default (), uri, &data);
}
