/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What goes through a file chooser. Apart from the other tests, since GTK's chooser keeps memory of GIO's until the end,
 * which cannot be told from a leak of ours there (chooser.supp).
 */
#include "config.h"

#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

static gboolean
copy_said (gpointer data)
{
  GtkWidget *message = window_test_get (data, "message");

  return gtk_widget_get_mapped (message) && strstr (gtk_label_get_label (GTK_LABEL (message)), "copy") != NULL;
}

static gboolean
welcome_shown (gpointer data)
{
  FettleWindow *window = data;
  GtkWidget *offer = window_test_find (GTK_WIDGET (window), "win.import");

  return fettle_window_get_sitting (window) != NULL && offer != NULL && gtk_widget_get_mapped (offer);
}

/* Answers the chooser that is open. */
static void
respond (const char *path)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr(GObject) window = g_list_model_get_item (windows, i);

      if (GTK_IS_FILE_CHOOSER_DIALOG (window))
        {
          g_autoptr(GFile) file = g_file_new_for_path (path);
          g_autoptr(GFile) folder = g_file_get_parent (file);
          g_autofree char *name = g_file_get_basename (file);

          gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (window), folder, NULL);
          window_test_settle ();
          gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (window), name);
          window_test_settle ();
          gtk_dialog_response (GTK_DIALOG (window), GTK_RESPONSE_ACCEPT);
          return;
        }
    }
  g_error ("no file chooser is open");
}

static void
test_copy (void)
{
  g_autofree char *folder = g_dir_make_tmp ("fettle-window-XXXXXX", NULL);
  g_autofree char *book = window_test_make_book (folder);
  g_autofree char *path = g_build_filename (folder, "other.fettle", NULL);
  FettleWindow *window = window_test_open (book, "standing");

  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), "win.save-copy", NULL));
  window_test_settle ();
  respond (path);
  window_test_wait (copy_said, window, "the copy");
  g_assert_true (g_file_test (path, G_FILE_TEST_EXISTS));
  window_test_close (window);

  window = window_test_open (path, "standing"); /* and it is a book */
  g_assert_nonnull (fettle_window_get_sitting (window));
  window_test_close (window);
  window_test_remove (folder);
}

static gboolean
letter_said (gpointer data)
{
  GtkWidget *message = window_test_get (data, "message");

  return gtk_widget_get_mapped (message) && strstr (gtk_label_get_label (GTK_LABEL (message)), "The letter to the designer is in") != NULL;
}

static void
test_letter (void)
{
  g_autofree char *folder = g_dir_make_tmp ("fettle-window-XXXXXX", NULL);
  g_autofree char *book = window_test_make_book (folder);
  g_autofree char *typed = g_build_filename (folder, "letter", NULL);
  g_autofree char *made = g_build_filename (folder, "letter.pdf", NULL);
  g_autofree char *bytes = NULL;
  FettleWindow *window = window_test_open (book, "standing");

  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), "win.letter", NULL));
  window_test_settle ();
  respond (typed);
  window_test_wait (letter_said, window, "the letter");
  g_assert_true (g_file_get_contents (made, &bytes, NULL, NULL));
  g_assert_true (g_str_has_prefix (bytes, "%PDF-"));
  window_test_close (window);
  window_test_remove (folder);
}

static gboolean
supplier_letter_said (gpointer data)
{
  GtkWidget *message = window_test_get (data, "message");

  return gtk_widget_get_mapped (message) && strstr (gtk_label_get_label (GTK_LABEL (message)), "The letter to the supplier is in") != NULL;
}

static gboolean
nothing_of_his_said (gpointer data)
{
  GtkWidget *message = window_test_get (data, "message");

  return gtk_widget_get_mapped (message) && strstr (gtk_label_get_label (GTK_LABEL (message)), "came from 'Sallow Plating'") != NULL;
}

/* The key of a supplier by the menu that offers him. */
static gint64
offered (FettleWindow *window, const char *label)
{
  GtkWidget *button = window_test_get (GTK_WIDGET (window), "menu");
  GMenuModel *menu;

  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), "win.suppliers", NULL));
  window_test_settle ();
  menu = gtk_menu_button_get_menu_model (GTK_MENU_BUTTON (button));
  gtk_menu_button_popdown (GTK_MENU_BUTTON (button));
  for (int i = 0; i < g_menu_model_get_n_items (menu); i++)
    {
      g_autofree char *shown = NULL;
      gint64 key = 0;

      g_assert_true (g_menu_model_get_item_attribute (menu, i, G_MENU_ATTRIBUTE_LABEL, "s", &shown));
      if (g_str_equal (shown, label) && g_menu_model_get_item_attribute (menu, i, G_MENU_ATTRIBUTE_TARGET, "x", &key))
        return key;
    }
  return 0;
}

static void
test_supplier_letter (void)
{
  static const WindowTestFile files[] = {
    { "model.csv", "code,name\nM1,Lever knife\n" },
    { "round.csv", "model,label,kind,opened,built\nM1,P1,prototype,2026-01-05,2026-02-05\n" },
    { "supplier.csv", "name\nFernhill_Springs\nSallow Plating\n" },
    { "part.csv", "number,name,source\nL-20,Lever,bought\n" },
    { "revision.csv", "part,label,state,date\nL-20,A,released,2026-01-05\n" },
    { "lot.csv", "part,number,supplier,received,quantity,verdict\nL-20,L-1,Fernhill_Springs,2026-01-20,20,accepted\n" },
    { "round_part.csv", "model,round,part,revision,lot\nM1,P1,L-20,A,L-1\n" },
    { NULL, NULL },
  };
  g_autofree char *folder = g_dir_make_tmp ("fettle-window-XXXXXX", NULL);
  g_autofree char *book = window_test_make_book_of (folder, files);
  g_autofree char *typed = g_build_filename (folder, "supplier", NULL);
  g_autofree char *made = g_build_filename (folder, "supplier.pdf", NULL);
  g_autofree char *bytes = NULL;
  FettleWindow *window;
  gint64 his, other;

  window = window_test_open (book, "standing");
  his = offered (window, "Fernhill__Springs…");
  other = offered (window, "Sallow Plating…");
  g_assert_cmpint (his, !=, 0);
  g_assert_cmpint (other, !=, 0);

  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), "win.supplier-letter", "x", his));
  window_test_settle ();
  respond (typed);
  window_test_wait (supplier_letter_said, window, "the letter to a supplier");
  g_assert_true (g_file_get_contents (made, &bytes, NULL, NULL));
  g_assert_true (g_str_has_prefix (bytes, "%PDF-"));

  /* Who has nothing to do with the model gets no letter. */
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), "win.supplier-letter", "x", other));
  window_test_settle ();
  respond (typed);
  window_test_wait (nothing_of_his_said, window, "why there is none");
  window_test_close (window);
  window_test_remove (folder);
}

static void
test_new (void)
{
  g_autofree char *folder = g_dir_make_tmp ("fettle-window-XXXXXX", NULL);
  g_autofree char *typed = g_build_filename (folder, "shop", NULL);
  g_autofree char *made = g_build_filename (folder, "shop.fettle", NULL);
  FettleWindow *window = window_test_open (NULL, NULL);

  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), "win.new", NULL));
  window_test_settle ();
  respond (typed);
  window_test_wait (welcome_shown, window, "the page of an empty book");
  g_assert_cmpstr (fettle_window_get_path (window), ==, made);
  g_assert_true (g_file_test (made, G_FILE_TEST_EXISTS));

  /* The first step can be taken although there is no model to speak about yet. */
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), "win.paste-sheet", NULL));
  window_test_settle ();
  g_assert_cmpstr (gtk_widget_get_name (window_test_page (window)), ==, "sheet");
  g_assert_true (gtk_widget_get_mapped (window_test_page (window)));
  window_test_close (window);
  window_test_remove (folder);
}

static gboolean
has_model (gpointer data)
{
  return fettle_window_get_span (data)->model != 0;
}

/* Who has neither sheet nor file types the first model into a form, and comes back from there without having made one. */
static void
test_first_model (void)
{
  g_autofree char *folder = g_dir_make_tmp ("fettle-window-XXXXXX", NULL);
  g_autofree char *typed = g_build_filename (folder, "third", NULL);
  FettleWindow *window = window_test_open (NULL, NULL);
  GtkWidget *page;

  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), "win.new", NULL));
  window_test_settle ();
  respond (typed);
  window_test_wait (welcome_shown, window, "the page of an empty book");
  window_test_act (window, "win.new-model", NULL);
  window_test_wait_answers (window);
  g_assert_cmpstr (gtk_widget_get_name (window_test_page (window)), ==, "setup");
  g_assert_true (window_test_shortcut (GTK_WIDGET (window), GDK_KEY_Left, GDK_ALT_MASK));
  window_test_settle ();
  g_assert_true (welcome_shown (window));

  g_assert_true (window_test_shortcut (GTK_WIDGET (window), GDK_KEY_m, GDK_CONTROL_MASK | GDK_SHIFT_MASK));
  window_test_wait_answers (window);
  page = window_test_page (window);
  window_test_type (page, "code", "T1");
  window_test_type (page, "name", "Test knife");
  g_assert_true (window_test_shortcut (window_test_get (page, "name"), GDK_KEY_Return, GDK_CONTROL_MASK));
  window_test_wait (has_model, window, "the model");
  window_test_wait_answers (window);
  g_assert_cmpint (window_test_find_record (window, BOOK_RECORD_MODEL, "T1"), ==, fettle_window_get_span (window)->model);
  g_assert_cmpstr (gtk_widget_get_name (window_test_page (window)), ==, "setup"); /* its parts are next */
  g_assert_true (gtk_widget_get_mapped (GTK_WIDGET (window->page_list)));
  window_test_act (window, "win.undo", NULL);
  window_test_wait (welcome_shown, window, "the page of an empty book once more");
  window_test_close (window);
  window_test_remove (folder);
}

/* Where no rows are kept, Ctrl+N asks where a new book goes. */
static void
test_new_by_key (void)
{
  g_autofree char *folder = g_dir_make_tmp ("fettle-window-XXXXXX", NULL);
  g_autofree char *typed = g_build_filename (folder, "other", NULL);
  FettleWindow *window = window_test_open (NULL, NULL);

  g_assert_true (window_test_shortcut (GTK_WIDGET (window), GDK_KEY_n, GDK_CONTROL_MASK));
  window_test_settle ();
  respond (typed);
  window_test_wait (welcome_shown, window, "the page of an empty book");
  g_assert_nonnull (strstr (fettle_window_get_path (window), "other.fettle"));
  window_test_close (window);
  window_test_remove (folder);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add_func ("/window/chooser/a-copy-is-saved-and-opens", test_copy);
  g_test_add_func ("/window/chooser/the-letter-to-the-designer-is-written", test_letter);
  g_test_add_func ("/window/chooser/a-letter-to-a-supplier-is-written", test_supplier_letter);
  g_test_add_func ("/window/chooser/a-new-book-offers-the-first-step", test_new);
  g_test_add_func ("/window/chooser/a-new-book-by-its-key", test_new_by_key);
  g_test_add_func ("/window/chooser/the-first-model-is-typed-into-a-form", test_first_model);
  return g_test_run ();
}
