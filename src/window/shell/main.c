/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <fcntl.h>
#include <glib/gi18n.h>
#include <locale.h>
#include <stdio.h>
#include <unistd.h>

#include "application.h"
#include "present-number.h"

/* The library of distributions warns on standard output, where only what was asked for belongs: that leads nowhere. */
static FILE *answers;

static void
print_answer (const char *text)
{
  fputs (text, answers);
  fflush (answers);
}

static void
set_up_output (void)
{
  int kept = dup (STDOUT_FILENO);
  int nowhere = open ("/dev/null", O_WRONLY | O_CLOEXEC);

  answers = kept < 0 ? NULL : fdopen (kept, "w");
  if (answers != NULL && nowhere >= 0)
    {
      dup2 (nowhere, STDOUT_FILENO);
      g_set_print_handler (print_answer);
    }
  if (nowhere > STDERR_FILENO)
    close (nowhere);
}

/* In the build folder the settings' description lies beside the program; installed, the desktop finds its own. */
static void
find_settings (void)
{
  g_autofree char *program = g_file_read_link ("/proc/self/exe", NULL);
  g_autofree char *folder = program == NULL ? NULL : g_path_get_dirname (program);
  g_autofree char *data = folder == NULL ? NULL : g_build_filename (folder, "..", "..", "data", NULL);
  g_autofree char *schemas = data == NULL ? NULL : g_build_filename (data, "gschemas.compiled", NULL);

  if (schemas != NULL && g_file_test (schemas, G_FILE_TEST_EXISTS))
    g_setenv ("GSETTINGS_SCHEMA_DIR", data, FALSE);
}

int
main (int argc, char **argv)
{
  const char *uninstalled = g_getenv ("FETTLE_LOCALE_DIR");
  g_autoptr(GtkApplication) application = NULL;

  set_up_output ();
  find_settings ();
  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, uninstalled != NULL ? uninstalled : FETTLE_LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  present_number_set_local (TRUE);

  application = fettle_application_new (G_APPLICATION_HANDLES_COMMAND_LINE);
  return g_application_run (G_APPLICATION (application), argc, argv);
}
