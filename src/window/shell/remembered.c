/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "remembered.h"

#include <gio/gio.h>

#include "application.h"

/**
 * fettle_remembered_get:
 * @what: name of a setting of type a{xx}
 * @person: who; 0: nobody by name
 *
 * Returns: the record that was chosen last; 0: none
 */
gint64
fettle_remembered_get (const char *what, gint64 person)
{
  g_autoptr(GSettings) settings = g_settings_new (FETTLE_APP_ID);
  g_autoptr(GVariant) pairs = g_settings_get_value (settings, what);
  GVariantIter iter;
  gint64 who, record;

  g_variant_iter_init (&iter, pairs);
  while (g_variant_iter_next (&iter, "{xx}", &who, &record))
    if (who == person)
      return record;
  return 0;
}

/**
 * fettle_remembered_set:
 * @what: name of a setting of type a{xx}
 * @person: who; 0: nobody by name
 * @record: the key of what was chosen; 0: nothing
 */
void
fettle_remembered_set (const char *what, gint64 person, gint64 record)
{
  g_autoptr(GSettings) settings = g_settings_new (FETTLE_APP_ID);
  g_autoptr(GVariant) pairs = g_settings_get_value (settings, what);
  GVariantBuilder builder;
  GVariantIter iter;
  gint64 who, kept;

  g_variant_builder_init (&builder, G_VARIANT_TYPE ("a{xx}"));
  g_variant_iter_init (&iter, pairs);
  while (g_variant_iter_next (&iter, "{xx}", &who, &kept))
    if (who != person)
      g_variant_builder_add (&builder, "{xx}", who, kept);
  if (record != 0)
    g_variant_builder_add (&builder, "{xx}", person, record);
  g_settings_set_value (settings, what, g_variant_builder_end (&builder));
}
