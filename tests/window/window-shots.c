/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * window-shots FOLDER [BOOK [MODEL]]: pictures of every page for eyes, light and dark, wide and narrow. Asserts nothing
 * about them. A folder of CSV files is imported first; without a book: the small one of the tests. FETTLE_SHOTS names
 * one page where only that is wanted, FETTLE_SHOTS_AS the initials of who is there. FETTLE_SHOTS_PLAIN takes each page only
 * as it opens, which a book without models or readings can show too.
 */
#include "config.h"

#include "window-shots.h"

#include <glib/gi18n.h>
#include <locale.h>

#include "look.h"
#include "present-number.h"
#include "window-look.h"
#include "window-private.h"

static const struct
{
  const char *name;
  int         width;
  int         height;
} sizes[] = { { "wide", 1280, 800 }, { "narrow", 1000, 640 }, { "small", 800, 560 } };

void
window_shots_take (FettleWindow *window, const char *folder, const char *what, const char *size, gboolean dark)
{
  g_autofree char *name = g_strdup_printf ("%s-%s-%s.png", what, size, dark ? "dark" : "light");
  g_autofree char *path = g_build_filename (folder, name, NULL);

  window_test_settle ();
  g_usleep (200000);
  window_test_settle ();
  if (fettle_window_get_sitting (window) != NULL)
    window_test_wait_answers (window);
  if (!window_test_picture (GTK_WIDGET (window), path))
    g_printerr ("%s: nothing was drawn\n", path);
}

void
window_shots_scroll (GtkWidget *page, double share)
{
  GtkWidget *scroll = window_test_find (page, "GtkScrolledWindow");
  GtkAdjustment *adjustment;

  if (scroll == NULL)
    return;
  adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scroll));
  gtk_adjustment_set_value (adjustment, share * (gtk_adjustment_get_upper (adjustment) - gtk_adjustment_get_page_size (adjustment)));
}

static gboolean
is_wanted (const char *page)
{
  const char *only = g_getenv ("FETTLE_SHOTS");

  return only == NULL || g_str_equal (only, page);
}

static void
shoot_pages (FettleWindow *window, const char *folder, const char *size, gboolean dark)
{
  guint n;
  const FettlePageKind *kinds = fettle_page_kinds (&n);

  for (guint i = 0; i < n; i++)
    if (is_wanted (kinds[i].name))
      window_shots_of_page (window, kinds[i].name, folder, size, dark);
}

/* Rows of readings before they are taken in: invented ones of a unit of the demo. */
static void
shoot_import (FettleWindow *window, const char *folder, const char *size, gboolean dark)
{
  static const char rows[] = "Round\tUnit\tCharacteristic\tValue\tTaken\tPerson\tRemark\n"
                             "P3\tP3-01\tSP\t0,31\t12.10.2026\t\tfirst of the day\n"
                             "P3\tP3-01\tOF\t11,2\t12.10.2026\t\t\n"
                             "P3\tP3-02\tSP\t0,31x\t12.10.2026\t\t\n"
                             "P3\tP3-99\tSP\t0,30\t12.10.2026\t\tlabel fell off\n"
                             "P3\tP3-03\tSP\t0,29\t31.9.2026\t\t\n"
                             "P3\tP3-04\tSP\t0,28\t12.10.2026\t\t\n";

  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (window)), rows);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.paste-rows", NULL);
  for (guint i = 0; i < 10; i++)
    {
      g_usleep (100000);
      window_test_settle ();
    }
  window_shots_take (window, folder, "import-filled", size, dark);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (window_test_get (GTK_WIDGET (window), "filter-refused")), TRUE);
  window_shots_take (window, folder, "import-refused", size, dark);
  g_signal_emit_by_name (window_test_get (GTK_WIDGET (window), "away"), "clicked");
}

/* Where something is typed: a wrong number in a cell, a reason for voiding, a measuring sheet and its end. */
static void
shoot_typing (FettleWindow *window, const char *folder, const char *size, gboolean dark)
{
  g_autofree char *sheet = g_build_filename (g_getenv ("FETTLE_DEMO_DIR") != NULL ? g_getenv ("FETTLE_DEMO_DIR") : ".", "..",
                                             "sheet.csv", NULL);
  GtkWidget *page, *table;

  gtk_widget_activate_action (GTK_WIDGET (window), "win.page", "s", "readings");
  window_test_settle ();
  page = window_test_page (window);
  table = window_test_get (page, "readings-table");
  window_test_press (table, GDK_KEY_Down, 0);
  window_test_press (table, GDK_KEY_F2, 0);
  gtk_editable_set_text (GTK_EDITABLE (window_test_get (page, "cell")), "0.1x");
  window_test_press (table, GDK_KEY_Return, 0);
  window_shots_take (window, folder, "readings-wrong", size, dark);
  window_test_press (table, GDK_KEY_Escape, 0);

  if (fettle_sitting_get_person (fettle_window_get_sitting (window)) == 0)
    fettle_sitting_set_person (fettle_window_get_sitting (window), window->facts->persons[0].key);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (window_test_get (page, "void")), TRUE);
  window_shots_take (window, folder, "readings-void", size, dark);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (window_test_get (page, "void")), FALSE);

  if (!g_file_test (sheet, G_FILE_TEST_EXISTS))
    return;
  gtk_widget_activate_action (GTK_WIDGET (window), "win.import-file", "s", sheet);
  g_usleep (300000);
  window_shots_take (window, folder, "sheet-filled", size, dark);
  page = window_test_page (window);
  window_shots_scroll (page, 0.6);
  window_shots_take (window, folder, "sheet-middle", size, dark);
  window_shots_scroll (page, 1.0);
  window_shots_take (window, folder, "sheet-end", size, dark);
  g_signal_emit_by_name (window_test_get (page, "cancel"), "clicked");
}

/* Popovers are surfaces of their own: each is pictured alone. */
static void
shoot_popover (FettleWindow *window, const char *folder, const char *button, const char *what, gboolean dark)
{
  GtkMenuButton *menu_button = GTK_MENU_BUTTON (window_test_get (GTK_WIDGET (window), button));
  g_autofree char *name = g_strdup_printf ("%s-%s.png", what, dark ? "dark" : "light");
  g_autofree char *path = g_build_filename (folder, name, NULL);

  gtk_menu_button_popup (menu_button);
  g_usleep (300000);
  window_test_settle ();
  window_test_picture (GTK_WIDGET (gtk_menu_button_get_popover (menu_button)), path);
  gtk_menu_button_popdown (menu_button);
  window_test_settle ();
}

/* What is found for a word, and what is said where nothing is. */
static void
shoot_find (FettleWindow *window, const char *folder, const char *size, gboolean dark)
{
  static const char *const words[] = { "lock", "xylophone" };
  GtkWidget *entry = window_test_get (GTK_WIDGET (window), "find");

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    {
      g_autofree char *name = g_strdup_printf ("find-%s-%s-%s.png", i == 0 ? "hits" : "nothing", size, dark ? "dark" : "light");
      g_autofree char *path = g_build_filename (folder, name, NULL);

      gtk_widget_activate_action (GTK_WIDGET (window), "win.find", NULL);
      gtk_editable_set_text (GTK_EDITABLE (entry), words[i]);
      g_usleep (300000);
      window_test_settle ();
      g_usleep (300000);
      window_test_settle ();
      window_test_picture (GTK_WIDGET (window), path);
    }
  gtk_editable_set_text (GTK_EDITABLE (entry), "");
}

static void
shoot_rest (FettleWindow *window, const char *folder, gboolean dark)
{
  g_autofree char *keys_name = g_strdup_printf ("shortcuts-%s.png", dark ? "dark" : "light");
  g_autofree char *keys_path = g_build_filename (folder, keys_name, NULL);
  GListModel *windows = gtk_window_get_toplevels ();

  shoot_popover (window, folder, "menu", "menu", dark);
  shoot_popover (window, folder, "model-button", "models", dark);
  shoot_popover (window, folder, "person-button", "persons", dark);

  gtk_widget_activate_action (GTK_WIDGET (window), "win.shortcuts", NULL);
  g_usleep (300000);
  window_test_settle ();
  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr(GtkWidget) each = g_list_model_get_item (windows, i);

      if (!GTK_IS_SHORTCUTS_WINDOW (each))
        continue;
      window_test_picture (each, keys_path);
      gtk_window_destroy (GTK_WINDOW (each));
      break;
    }
  gtk_widget_activate_action (GTK_WIDGET (window), "win.legend", NULL);
  fettle_window_say (window, "Taken back: 24 readings were typed for round B.", "Redo", "win.redo-book");
  window_test_press (window_test_get (GTK_WIDGET (window), "strip"), GDK_KEY_Left, GDK_SHIFT_MASK);
  window_test_press (window_test_get (GTK_WIDGET (window), "strip"), GDK_KEY_Left, GDK_SHIFT_MASK);
  g_usleep (300000);
  window_shots_take (window, folder, "span", "wide", dark);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.legend", NULL);
}

static gboolean
has_book (gpointer window)
{
  return fettle_window_get_sitting (window) != NULL;
}

static gboolean
knows_model (gpointer window)
{
  return ((FettleWindow *) window)->span_known;
}

int
main (int argc, char **argv)
{
  g_autofree char *made = NULL;
  const char *folder, *book;

  setlocale (LC_ALL, "");
  if (g_getenv ("FETTLE_LOCALE_DIR") != NULL)
    {
      bindtextdomain (GETTEXT_PACKAGE, g_getenv ("FETTLE_LOCALE_DIR"));
      bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
      textdomain (GETTEXT_PACKAGE);
    }
  g_setenv ("GSETTINGS_BACKEND", "memory", TRUE);
  window_test_init (&argc, &argv);
  present_number_set_local (TRUE);
  folder = argc > 1 ? argv[1] : "shots";
  g_mkdir_with_parents (folder, 0755);
  book = argc > 2 ? argv[2] : NULL;
  if (book == NULL || g_file_test (book, G_FILE_TEST_IS_DIR))
    {
      g_autofree char *place = g_dir_make_tmp ("fettle-shots-XXXXXX", NULL);

      if (book == NULL)
        made = window_test_make_book (place);
      else
        window_test_import (made = g_build_filename (place, "hawfinch" BOOK_SUFFIX, NULL), book);
      book = made;
    }

  for (gboolean dark = FALSE; dark <= TRUE; dark++)
    for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
      {
        FettleWindow *window;
        FettleWish wish = { argc > 3 ? argv[3] : NULL, "standing", g_getenv ("FETTLE_SHOTS_AS") };

        window_test_program ();
        fettle_look_choose (dark ? FETTLE_LOOK_DARK : FETTLE_LOOK_LIGHT);
        window = fettle_window_new (window_test_program ());
        gtk_window_set_default_size (GTK_WINDOW (window), sizes[i].width, sizes[i].height);
        gtk_window_present (GTK_WINDOW (window));
        fettle_window_open (window, NULL, FALSE, NULL);
        window_shots_take (window, folder, "welcome", sizes[i].name, dark);
        if (g_strcmp0 (book, "none") != 0)
          {
            gboolean plain = g_getenv ("FETTLE_SHOTS_PLAIN") != NULL;

            fettle_window_open (window, book, FALSE, &wish);
            if (!plain)
              window_test_wait_standing (window);
            else if (argc > 3)
              window_test_wait (knows_model, window, "the model");
            else
              {
                window_test_wait (has_book, window, "the book");
                window_test_wait_answers (window);
              }
            shoot_pages (window, folder, sizes[i].name, dark);
            if (plain)
              {
                window_test_close (window);
                continue;
              }
            if (is_wanted ("typing"))
              shoot_typing (window, folder, sizes[i].name, dark);
            if (is_wanted ("find"))
              shoot_find (window, folder, sizes[i].name, dark);
            if (is_wanted ("import"))
              shoot_import (window, folder, sizes[i].name, dark);
            if (i == 0 && is_wanted ("rest"))
              shoot_rest (window, folder, dark);
          }
        window_test_close (window);
      }
  return 0;
}
