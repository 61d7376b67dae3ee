/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One process for all windows: a second start hands its command line to the first. Everything that is not needed for
 * the first frame is made when it is first asked for.
 */
#include "config.h"

#include "application.h"

#include <glib/gi18n.h>

#include "look.h"
#include "page.h"
#include "report.h"
#include "window.h"

struct _FettleApplication
{
  GtkApplication parent_instance;

  GSettings *settings;
};

G_DEFINE_FINAL_TYPE (FettleApplication, fettle_application, GTK_TYPE_APPLICATION)

/* Every action of the menu that has a key, in the order of the menu. ui/shortcuts.ui shows the same; a test compares. */
static const struct
{
  const char *action;
  const char *accels[3];
} shortcuts[] = {
  { "win.begin", { "<Control>n" } }, /* shown beside 'New Book', and beside 'Add a Row' where that is meant */
  { "win.open", { "<Control>o" } },
  { "win.save-copy", { "<Control><Shift>s" } },
  { "win.paste-rows", { "<Control><Alt>v" } }, /* wherever the keyboard is; Ctrl+V outside fields and grids */
  { "win.import", { "<Control>i" } },
  { "win.new-model", { "<Control><Shift>m" } },
  { "win.letter", { "<Control>l" } },
  { "win.suppliers", { "<Control><Shift>l" } },
  { "win.paper", { "<Control><Shift>p" } },
  { "win.paste-sheet", { "<Control><Shift>v" } },
  { "win.at-bench::passed", { "F2" } },
  { "win.at-bench::sent-back", { "F3" } },
  { "win.at-bench::reworked", { "F4" } },
  { "win.at-bench::altered", { "F5" } },
  { "win.at-bench::scrapped", { "F6" } },
  { "win.at-bench::measure", { "F7" } },
  { "win.at-bench::next", { "<Control>Page_Down" } },
  { "win.at-bench::previous", { "<Control>Page_Up" } },
  { "win.raise-issue", { "<Control>e" } },
  { "win.issue::edit", { "F2" } },
  { "win.issue::find", { "F3" } },
  { "win.issue::contain", { "F4" } },
  { "win.issue::cause", { "F5" } },
  { "win.issue::close", { "F6" } },
  { "win.issue::decide", { "F7" } },
  { "win.issue::excuse", { "<Shift>F7" } },
  { "win.issue::reopen", { "<Shift>F6" } },
  { "win.issue::attach", { "F8" } },
  { "win.unit::event", { "F2" } },
  { "win.unit::built", { "F3" } },
  { "win.unit::aside", { "F4" } },
  { "win.unit::serial", { "F5" } },
  { "win.undo", { "<Control>z" } },
  { "win.redo", { "<Control><Shift>z", "<Control>y" } },
  { "win.find", { "<Control>k", "<Control>f" } },
  { "win.back", { "<Alt>Left" } },
  { "win.forward", { "<Alt>Right" } },
  { "win.propose-change", { "<Control>g" } },
  { "win.change::edit", { "F2" } },
  { "win.change::add", { "F3" } },
  { "win.change::agree", { "F4" } },
  { "win.change::carry-out", { "F5" } },
  { "win.change::withdraw", { "F6" } },
  { "win.plan-round", { "<Control>b" } },
  { "win.on-round::edit", { "F2" } },
  { "win.on-round::part", { "F3" } },
  { "win.on-round::reach", { "F4" } },
  { "win.on-round::reach-on", { "<Shift>F4" } },
  { "win.on-round::wait", { "F5" } },
  { "win.on-round::end-wait", { "F6" } },
  { "win.on-round::decide", { "F7" } },
  { "win.pilot::count", { "F3" } },
  { "win.pilot::store", { "F4" } },
  { "win.wait::today", { "F6" } },
  { "win.wait::on", { "<Shift>F6" } },
  { "win.release::opinion", { "F3" } },
  { "win.release::waive", { "F4" } },
  { "win.release::withdraw", { "F6" } },
  { "win.release::decide", { "F7" } },
  { "win.pack::show", { "<Control><Shift>d" } },
  { "win.on-pack::save", { "F3" } },
  { "win.on-pack::print", { "F4" } },
  { "win.on-pack::workbook", { "F5" } },
  { "win.setup::add", { "F3" } },
  { "win.setup::edit", { "F2" } },
  { "win.setup::filter", { "F4" } },
  { "win.setup::deed", { "F5" } },
  { "win.choose-model", { "<Control>m" } },
  { "win.choose-person", { "<Control>p" } },
  { "win.write", { "F9" } },
  { "win.go-strip", { "<Control>r" } },
  { "win.go-chart", { "<Control>j" } },
  { "win.legend", { "<Control><Shift>k" } },
  { "win.menu", { "F10" } },
  { "win.shortcuts", { "<Control>question", "F1" } },
  { "win.close", { "<Control>w" } },
  { "app.quit", { "<Control>q" } },
};

static void
on_look (GSimpleAction *action, GVariant *value, gpointer user_data)
{
  FettleApplication *self = FETTLE_APPLICATION (user_data);

  g_simple_action_set_state (action, value);
  g_settings_set_value (self->settings, "look", value);
  fettle_look_choose ((FettleLook) g_settings_get_enum (self->settings, "look"));
}

static void
on_about (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  gtk_show_about_dialog (gtk_application_get_active_window (GTK_APPLICATION (user_data)),
                         "program-name", "Fettle",
                         "version", PACKAGE_VERSION,
                         "comments", _("From prototype to release, with evidence."),
                         "license-type", GTK_LICENSE_GPL_3_0,
                         "logo-icon-name", FETTLE_APP_ID,
                         NULL);
}

static void
on_quit (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  GtkWindow *window;

  /* Closing the windows, rather than quitting, lets each book be left as one file. */
  while ((window = gtk_application_get_active_window (GTK_APPLICATION (user_data))) != NULL)
    gtk_window_destroy (window);
}

static void
add_actions (FettleApplication *self)
{
  static const GActionEntry entries[] = {
    { .name = "about", .activate = on_about },
    { .name = "quit", .activate = on_quit },
  };
  g_autoptr(GVariant) look = g_settings_get_value (self->settings, "look");
  g_autoptr(GSimpleAction) action = g_simple_action_new_stateful ("look", G_VARIANT_TYPE_STRING, look);
  guint n_kinds;
  const FettlePageKind *kinds = fettle_page_kinds (&n_kinds);

  g_action_map_add_action_entries (G_ACTION_MAP (self), entries, G_N_ELEMENTS (entries), self);
  g_signal_connect (action, "change-state", G_CALLBACK (on_look), self);
  g_action_map_add_action (G_ACTION_MAP (self), G_ACTION (action));

  for (gsize i = 0; i < G_N_ELEMENTS (shortcuts); i++)
    gtk_application_set_accels_for_action (GTK_APPLICATION (self), shortcuts[i].action, shortcuts[i].accels);
  for (guint i = 0; i < n_kinds; i++)
    if (kinds[i].accel != NULL)
      {
        g_autofree char *name = g_strdup_printf ("win.page::%s", kinds[i].name);

        gtk_application_set_accels_for_action (GTK_APPLICATION (self), name,
                                               (const char *[]){ kinds[i].accel, NULL });
      }
}

static void
fettle_application_startup (GApplication *application)
{
  FettleApplication *self = FETTLE_APPLICATION (application);

  G_APPLICATION_CLASS (fettle_application_parent_class)->startup (application);

  self->settings = g_settings_new (FETTLE_APP_ID);
  fettle_look_load (gdk_display_get_default ());
  fettle_look_choose ((FettleLook) g_settings_get_enum (self->settings, "look"));
  add_actions (self);
}

static FettleWindow *
find_window (FettleApplication *self, const char *path)
{
  for (GList *item = gtk_application_get_windows (GTK_APPLICATION (self)); item != NULL; item = item->next)
    if (FETTLE_IS_WINDOW (item->data) && g_strcmp0 (fettle_window_get_path (item->data), path) == 0)
      return item->data;
  return NULL;
}

static void
open_path (FettleApplication *self, const char *path, gboolean create, GtkWindow *beside, const FettleWish *wish)
{
  FettleWindow *window = path == NULL ? NULL : find_window (self, path);

  if (window == NULL)
    {
      if (beside != NULL && FETTLE_IS_WINDOW (beside) && fettle_window_get_path (FETTLE_WINDOW (beside)) == NULL)
        window = FETTLE_WINDOW (beside);
      else
        window = fettle_window_new (GTK_APPLICATION (self));
      fettle_window_open (window, path, create, wish);
      fettle_report_watch (window);
    }
  fettle_window_present_soon (window);
}

static void
fettle_application_activate (GApplication *application)
{
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (application));

  if (window != NULL)
    gtk_window_present (window);
  else
    open_path (FETTLE_APPLICATION (application), NULL, FALSE, NULL, NULL);
}

static int
fettle_application_command_line (GApplication *application, GApplicationCommandLine *line)
{
  GVariantDict *options = g_application_command_line_get_options_dict (line);
  g_autofree char **names = NULL; /* the strings belong to the dictionary */
  FettleWish wish = { NULL, NULL, NULL };

  g_variant_dict_lookup (options, "model", "&s", &wish.model);
  g_variant_dict_lookup (options, "page", "&s", &wish.page);
  g_variant_dict_lookup (options, "as", "&s", &wish.person);
  if (wish.page != NULL && fettle_page_kind_find (wish.page) < 0)
    {
      g_application_command_line_printerr (line, _("There is no page '%s'.\n"), wish.page);
      return 2;
    }
  g_variant_dict_lookup (options, G_OPTION_REMAINING, "^a&ay", &names);

  if (names == NULL || names[0] == NULL)
    g_application_activate (application);
  for (guint i = 0; names != NULL && names[i] != NULL; i++)
    {
      g_autoptr(GFile) file = g_application_command_line_create_file_for_arg (line, names[i]);
      g_autofree char *path = g_file_get_path (file);

      if (path == NULL)
        {
          g_application_command_line_printerr (line, _("%s is not on this machine: copy the book to a folder first.\n"),
                                               names[i]);
          return 2;
        }
      open_path (FETTLE_APPLICATION (application), path, FALSE,
                 gtk_application_get_active_window (GTK_APPLICATION (application)), &wish);
    }
  return 0;
}

static void
fettle_application_finalize (GObject *object)
{
  g_clear_object (&FETTLE_APPLICATION (object)->settings);
  G_OBJECT_CLASS (fettle_application_parent_class)->finalize (object);
}

static int
fettle_application_handle_local_options (GApplication *application, GVariantDict *options)
{
  gboolean version = FALSE;

  if (g_variant_dict_lookup (options, "version", "b", &version) && version)
    {
      g_print ("fettle %s\n", PACKAGE_VERSION);
      return 0;
    }
  return -1; /* go on */
}

static void
fettle_application_class_init (FettleApplicationClass *class)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = fettle_application_finalize;
  application_class->startup = fettle_application_startup;
  application_class->activate = fettle_application_activate;
  application_class->command_line = fettle_application_command_line;
  application_class->handle_local_options = fettle_application_handle_local_options;
}

static void
fettle_application_init (FettleApplication *self)
{
  static const GOptionEntry options[] = {
    { "model", 0, 0, G_OPTION_ARG_STRING, NULL, N_("Show the model of this code"), N_("CODE") },
    { "page", 0, 0, G_OPTION_ARG_STRING, NULL, N_("Show this page"), N_("NAME") },
    { "as", 0, 0, G_OPTION_ARG_STRING, NULL, N_("Who writes"), N_("INITIALS") },
    { "version", 0, 0, G_OPTION_ARG_NONE, NULL, N_("Print the version"), NULL },
    { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, NULL, NULL, N_("[BOOK…]") },
    G_OPTION_ENTRY_NULL
  };

  g_application_add_main_option_entries (G_APPLICATION (self), options);
  g_application_set_option_context_summary (G_APPLICATION (self),
                                            _("Opens books of a workshop's models, from prototype to release."));
}

/**
 * fettle_application_new:
 * @flags: %G_APPLICATION_HANDLES_COMMAND_LINE, for tests also %G_APPLICATION_NON_UNIQUE
 *
 * Returns: (transfer full): the program
 */
GtkApplication *
fettle_application_new (GApplicationFlags flags)
{
  return g_object_new (FETTLE_TYPE_APPLICATION, "application-id", FETTLE_APP_ID, "flags", flags, NULL);
}

/**
 * fettle_application_open:
 * @self: the program
 * @path: (nullable): of a book; %NULL shows the first page
 * @create: make the book
 * @beside: (nullable): a window, which is used if it has no book
 *
 * Shows a book: in the window that has it, in @beside, or in a new one.
 */
void
fettle_application_open (FettleApplication *self, const char *path, gboolean create, GtkWindow *beside)
{
  g_return_if_fail (FETTLE_IS_APPLICATION (self));

  open_path (self, path, create, beside, NULL);
}

/**
 * fettle_application_get_settings:
 * @self: the program, started
 *
 * Returns: (transfer none): the settings of the desktop's user
 */
GSettings *
fettle_application_get_settings (FettleApplication *self)
{
  g_return_val_if_fail (FETTLE_IS_APPLICATION (self), NULL);

  return self->settings;
}
