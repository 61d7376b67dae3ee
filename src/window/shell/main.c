/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <locale.h>

#include "application.h"
#include "present-number.h"

int
main (int argc, char **argv)
{
  const char *uninstalled = g_getenv ("FETTLE_LOCALE_DIR");
  g_autoptr(GtkApplication) application = NULL;

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, uninstalled != NULL ? uninstalled : FETTLE_LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  present_number_set_local (TRUE);

  application = fettle_application_new (G_APPLICATION_HANDLES_COMMAND_LINE);
  return g_application_run (G_APPLICATION (application), argc, argv);
}
