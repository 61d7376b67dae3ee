/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Makes a small journaled file with every kind of entry, for a reader in another language: store-tray-main PATH STATE. */

#include "store-tray.h"

#include "store-undo.h"

static gboolean
fill (StoreAction *action, gpointer data, GError **error)
{
  static const char sql[] = "INSERT INTO item VALUES (?1, (SELECT min(id) FROM box), 1, 0.5, 'größe', NULL)";

  store_action_message (action, "items-filled", g_variant_new_parsed ("[('box', int64 7), ('count', int64 40)]"));
  for (guint i = 0; i < 40; i++)
    {
      g_autoptr(StoreStatement) statement = store_db_statement (store_action_db (action), sql, error);

      if (statement == NULL)
        return FALSE;
      sqlite3_bind_int64 (statement, 1, store_action_new_id (action));
      if (!store_db_run (store_action_db (action), statement, "The item could not be stored", error) ||
          (i == 19 && !store_action_split (action, error)))
        return FALSE;
    }
  return TRUE;
}

int
main (int argc, char **argv)
{
  StoreOptions options = { .state_folder = argc > 2 ? argv[2] : NULL };
  StoreIntent intent = { .action = "items", .person = 5, .sitting = store_new_sitting () };
  g_autoptr(GError) error = NULL;
  g_autoptr(Store) store = NULL;

  if (argc != 3)
    return 2;
  store = store_create (argv[1], &tray_profile, &options, &error);
  if (store == NULL || !store_write (store, &intent, tray_run_sql, (gpointer) "INSERT INTO box VALUES (%id, 'a', NULL)", NULL, NULL, &error) ||
      !store_write (store, &intent, fill, NULL, NULL, NULL, &error) ||
      !store_undo (store, &intent, 0, NULL, NULL, NULL, &error) || !store_redo (store, &intent, 0, NULL, NULL, NULL, &error))
    {
      g_printerr ("%s\n", error->message);
      return 1;
    }
  return 0;
}
