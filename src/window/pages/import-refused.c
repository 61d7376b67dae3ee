/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "import-refused.h"

#include <glib/gi18n.h>
#include <string.h>

/* What such a file is called unless somebody says otherwise. */
char *
fettle_import_refused_name (const ExchangeLook *look)
{
  const char *name = exchange_look_get_name (look);

  return g_strdup_printf ("%.*s.refused.csv", (int) strcspn (name, "."), name);
}

static void
on_replaced (GObject *file, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleSitting) sitting = data;
  g_autoptr(GError) error = NULL;
  g_autofree char *name = g_file_get_basename (G_FILE (file));
  g_autofree char *words = NULL;

  if (g_file_replace_contents_finish (G_FILE (file), result, NULL, &error))
    words = g_strdup_printf (_("What was refused is in '%s', each row with the reason."), name);
  else
    words = g_strdup_printf (_("'%s' could not be written: %s"), name, error->message);
  fettle_sitting_say (sitting, words, NULL, NULL);
}

/**
 * fettle_import_refused_save:
 * @sitting: says what became of it
 * @look: rows
 * @answer: of them
 * @path: of a file that is made or replaced
 */
void
fettle_import_refused_save (FettleSitting *sitting, const ExchangeLook *look, const ExchangeLookAnswer *answer, const char *path)
{
  g_autoptr(GFile) file = g_file_new_for_path (path);
  char *text = exchange_look_print_refused (look, answer);
  g_autoptr(GBytes) bytes = g_bytes_new_take (text, strlen (text));

  g_file_replace_contents_bytes_async (file, bytes, NULL, FALSE, G_FILE_CREATE_NONE, NULL, on_replaced, g_object_ref (sitting));
}
