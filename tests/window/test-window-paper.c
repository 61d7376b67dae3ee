/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Paper for the bench from the window: what each page offers, a file through the chooser, the printing dialog, and a print-out. */
#include "config.h"

#include <string.h>

#include "paper-flow.h"
#include "paper-print.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

typedef WindowTestFixture Fixture;

static void
open_on (Fixture *fixture, const char *page)
{
  window_test_set_up (fixture, page);
  window_test_settle ();
}

/* The words that a section's items hand to its action, in order. */
static char *
words_of (GMenuModel *menu, int section)
{
  g_autoptr(GMenuModel) part = g_menu_model_get_item_link (menu, section, G_MENU_LINK_SECTION);
  GString *words = g_string_new (NULL);

  for (int i = 0; i < g_menu_model_get_n_items (part); i++)
    {
      g_autoptr(GVariant) target = g_menu_model_get_item_attribute_value (part, i, G_MENU_ATTRIBUTE_TARGET, G_VARIANT_TYPE_STRING);

      g_string_append_printf (words, "%s%s", i > 0 ? " " : "", g_variant_get_string (target, NULL));
    }
  return g_string_free (words, FALSE);
}

static void
check_offered (FettleWindow *window, const char *expected)
{
  g_autoptr(GMenu) menu = fettle_window_paper_menu (window);

  g_assert_cmpint (g_menu_model_get_n_items (G_MENU_MODEL (menu)), ==, 2);
  for (int section = 0; section < 2; section++)
    {
      g_autofree char *words = words_of (G_MENU_MODEL (menu), section);

      g_assert_cmpstr (words, ==, expected);
    }
}

#define OF_ROUND "build-list measuring-sheet unit-cards tally-sheet"

static void
test_each_page_offers_what_is_chosen (void)
{
  static const struct
  {
    const char *page, *record, *expected;
  } pages[] = {
    { "rounds", "round", OF_ROUND },
    { "unit", "unit", "unit-card " OF_ROUND },
    { "standing", NULL, OF_ROUND },
  };

  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      Fixture fixture;
      GtkWidget *page;

      open_on (&fixture, pages[i].page);
      page = window_test_page (fixture.window);
      if (g_strcmp0 (pages[i].record, "unit") == 0)
        {
          /* any key will do: what is offered depends on what the page is about */
          gtk_widget_activate_action (page, "win.show-unit", "x", (gint64) 1);
          window_test_settle ();
        }
      check_offered (fixture.window, pages[i].expected);
      if (pages[i].record != NULL)
        {
          GtkWidget *button = window_test_get (window_test_page (fixture.window), "paper");

          g_assert_cmpstr (gtk_actionable_get_action_name (GTK_ACTIONABLE (button)), ==, "win.paper");
        }
      window_test_tear_down (&fixture, NULL);
    }
}

static void
test_the_menu_opens_by_its_key (void)
{
  Fixture fixture;
  GtkMenuButton *button;

  open_on (&fixture, "rounds");
  button = fixture.window->menu_button;
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (fixture.window), "win.paper", NULL));
  window_test_settle ();
  g_assert_true (gtk_widget_get_mapped (GTK_WIDGET (gtk_menu_button_get_popover (button))));
  g_assert_cmpint (g_menu_model_get_n_items (gtk_menu_button_get_menu_model (button)), ==, 2);
  gtk_menu_button_popdown (button);
  window_test_settle ();
  /* and the next time it is the whole menu again */
  gtk_menu_button_popup (button);
  window_test_settle ();
  g_assert_cmpint (g_menu_model_get_n_items (gtk_menu_button_get_menu_model (button)), >, 2);
  gtk_menu_button_popdown (button);
  window_test_tear_down (&fixture, NULL);
}

static GtkWidget *
find_toplevel (const char *type)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr(GtkWidget) window = g_list_model_get_item (windows, i);

      if (g_str_equal (G_OBJECT_TYPE_NAME (window), type))
        return window; /* kept by GTK */
    }
  return NULL;
}

/* Goes through the dialog that asks where something is written: into the fixture's folder, under @name without its ending. */
static void
answer_dialog (Fixture *fixture, const char *action, const char *what, const char *name)
{
  g_autoptr(GFile) folder = g_file_new_for_path (fixture->folder);
  GtkWidget *chooser;

  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (fixture->window), action, "s", what));
  window_test_settle ();
  chooser = find_toplevel ("GtkFileChooserDialog");
  g_assert_nonnull (chooser);
  gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (chooser), folder, NULL);
  window_test_settle ();
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (chooser), name);
  window_test_settle ();
  gtk_dialog_response (GTK_DIALOG (chooser), GTK_RESPONSE_ACCEPT);
}

static void
assert_begins (Fixture *fixture, const char *name, const char *begin)
{
  g_autofree char *made = g_build_filename (fixture->folder, name, NULL), *bytes = NULL;

  g_assert_true (g_file_get_contents (made, &bytes, NULL, NULL));
  g_assert_true (g_str_has_prefix (bytes, begin));
}

static void
test_a_sheet_is_saved_as_pdf (void)
{
  Fixture fixture;

  open_on (&fixture, "rounds");
  answer_dialog (&fixture, "win.save-paper", "measuring-sheet", "sheet"); /* the ending is added */
  window_test_wait_said (fixture.window, "it is in 'sheet.pdf'");
  assert_begins (&fixture, "sheet.pdf", "%PDF-");
  window_test_tear_down (&fixture, NULL);
}

/* A workbook is a ZIP archive (ECMA-376 part 2), which begins with a local file header (APPNOTE 4.3.7). */
static void
test_a_workbook_is_saved (void)
{
  Fixture fixture;

  open_on (&fixture, "release");
  answer_dialog (&fixture, "win.pack", "workbook", "figures");
  window_test_wait_said (fixture.window, "it is in 'figures.xlsx'");
  assert_begins (&fixture, "figures.xlsx", "PK\003\004");
  window_test_tear_down (&fixture, NULL);
}

static gboolean
is_on_its_way (gpointer data)
{
  return FETTLE_WINDOW (data)->writing != NULL;
}

/* What is stopped is not there, not even in part. */
static void
test_a_stopped_one_is_not_there (void)
{
  static const char *const what[] = { "workbook", "save" };
  static const char *const names[] = { "stopped.xlsx", "stopped.pdf" };
  Fixture fixture;

  open_on (&fixture, "release");
  for (guint i = 0; i < G_N_ELEMENTS (what); i++)
    {
      g_autofree char *made = g_build_filename (fixture.folder, names[i], NULL);

      answer_dialog (&fixture, "win.pack", what[i], "stopped");
      window_test_wait (is_on_its_way, fixture.window, "the beginning");
      g_assert_true (gtk_widget_activate_action (GTK_WIDGET (fixture.window), "win.stop-letter", NULL));
      window_test_wait_said (fixture.window, "The paper was stopped, and nothing was printed or written.");
      g_assert_false (g_file_test (made, G_FILE_TEST_EXISTS));
    }
  window_test_tear_down (&fixture, NULL);
}

static gboolean
dialog_is_there (gpointer data)
{
  return find_toplevel ("GtkPrintUnixDialog") != NULL;
}

static gboolean
dialog_is_gone (gpointer data)
{
  return find_toplevel ("GtkPrintUnixDialog") == NULL;
}

static void
test_printing_asks_the_system (void)
{
  Fixture fixture;

  open_on (&fixture, "rounds");
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (fixture.window), "win.print-paper", "s", "build-list"));
  window_test_wait (dialog_is_there, NULL, "the printing dialog");
  gtk_dialog_response (GTK_DIALOG (find_toplevel ("GtkPrintUnixDialog")), GTK_RESPONSE_CANCEL);
  window_test_wait (dialog_is_gone, NULL, "its end");
  /* nothing is left behind in the bar, and another one can be asked for */
  g_assert_false (gtk_widget_get_mapped (window_test_get (GTK_WIDGET (fixture.window), "message")));
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (fixture.window), "win.print-paper", "s", "build-list"));
  window_test_wait (dialog_is_there, NULL, "the printing dialog again");
  gtk_dialog_response (GTK_DIALOG (find_toplevel ("GtkPrintUnixDialog")), GTK_RESPONSE_CANCEL);
  window_test_wait (dialog_is_gone, NULL, "its end");
  window_test_tear_down (&fixture, NULL);
}

static void
test_what_is_not_chosen_is_asked_for (void)
{
  Fixture fixture;
  GtkWidget *message;

  open_on (&fixture, "standing");
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (fixture.window), "win.print-paper", "s", "issue-card"));
  window_test_settle ();
  message = window_test_get (GTK_WIDGET (fixture.window), "message");
  g_assert_nonnull (strstr (gtk_label_get_label (GTK_LABEL (message)), "Choose first what the paper is about"));
  window_test_tear_down (&fixture, NULL);
}

/* What is printed has as many pages as what was set, of the same size and lying the same way. ISO 216: 148 x 210 mm. */
static void
test_a_print_out_keeps_pages_and_size (void)
{
  g_autofree char *folder = g_dir_make_tmp ("fettle-window-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "print.pdf", NULL);
  const PaperShape shape = { PAPER_A5, FALSE, 28.0, 1.1 };
  PaperDocument *document = paper_document_new_shaped (&shape, "Test", NULL, "2026-05-03");
  PaperFlow *flow = paper_flow_new (document);
  g_autoptr(GPtrArray) sheets = NULL;
  g_autoptr(GtkPrintOperation) operation = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *out = NULL;
  const char *const pdfinfo[] = { "pdfinfo", path, NULL };

  paper_flow_title (flow, "First");
  paper_flow_new_page (flow);
  paper_flow_title (flow, "Second");
  sheets = paper_document_to_sheets (document);
  paper_flow_free (flow);
  paper_document_free (document); /* sheets stand by themselves */
  operation = fettle_paper_print_new ("Test", sheets, &shape);
  gtk_print_operation_set_allow_async (operation, FALSE);
  gtk_print_operation_set_export_filename (operation, path);
  g_assert_cmpint (gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_EXPORT, NULL, &error), ==, GTK_PRINT_OPERATION_RESULT_APPLY);
  g_assert_no_error (error);
  g_assert_true (g_spawn_sync (NULL, (char **) pdfinfo, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, NULL, NULL, &error));
  g_assert_no_error (error);
  g_test_message ("%s", out);
  g_assert_nonnull (strstr (out, "Pages:           2"));
  g_assert_nonnull (strstr (out, "419.5")); /* points */
  g_assert_nonnull (strstr (out, "595.2"));
  window_test_remove (folder);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add_func ("/window/paper/each-page-offers-what-is-chosen", test_each_page_offers_what_is_chosen);
  g_test_add_func ("/window/paper/the-menu-opens-by-its-key", test_the_menu_opens_by_its_key);
  g_test_add_func ("/window/paper/a-sheet-is-saved-as-pdf", test_a_sheet_is_saved_as_pdf);
  g_test_add_func ("/window/paper/a-workbook-is-saved", test_a_workbook_is_saved);
  g_test_add_func ("/window/paper/a-stopped-one-is-not-there", test_a_stopped_one_is_not_there);
  g_test_add_func ("/window/paper/printing-asks-the-system", test_printing_asks_the_system);
  g_test_add_func ("/window/paper/what-is-not-chosen-is-asked-for", test_what_is_not_chosen_is_asked_for);
  g_test_add_func ("/window/paper/a-print-out-keeps-pages-and-size", test_a_print_out_keeps_pages_and_size);
  return g_test_run ();
}
