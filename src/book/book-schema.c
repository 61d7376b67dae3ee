/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-schema.h"

#include <gio/gio.h>
#include "book-resources.h"

#define SCHEMA_FOLDER "/org/fettle/Fettle/schema/"

/**
 * book_schema_migrations:
 *
 * Returns: (array length=BOOK_N_MIGRATIONS): the SQL of each schema, from 1, valid for as long as the program runs
 */
const char *const *
book_schema_migrations (void)
{
  static const char *migrations[BOOK_N_MIGRATIONS + 1];
  static gsize ready = 0;

  if (g_once_init_enter (&ready))
    {
      GResource *resource = book_schema_get_resource ();

      for (guint i = 0; i < BOOK_N_MIGRATIONS; i++)
        {
          g_autofree char *path = g_strdup_printf (SCHEMA_FOLDER "%04u.sql", i + 1);
          g_autoptr(GBytes) bytes = g_resource_lookup_data (resource, path, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);

          g_assert (bytes != NULL);
          /* Uncompressed resources end in a zero byte and live in the program itself. */
          migrations[i] = g_bytes_get_data (bytes, NULL);
        }
      g_once_init_leave (&ready, 1);
    }
  return migrations;
}
