/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The window on a book: pages, rounds, model, person, undo, search, files, names for those who do not see it.
 */
#include "config.h"

#include <glib/gstdio.h>
#include <string.h>

#include "book-edit.h"
#include "ledger.h"
#include "look.h"
#include "round-strip.h"
#include "message-bar.h"
#include "tip.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

typedef WindowTestFixture Fixture;

static gboolean
is_gone (gpointer data)
{
  return *(gpointer *) data == NULL;
}

/* Whatever was done, the book is given back with its window. */
static void
tear_down (Fixture *fixture, gconstpointer data)
{
  FettleSitting *sitting = fettle_window_get_sitting (fixture->window);

  g_object_add_weak_pointer (G_OBJECT (sitting), (gpointer *) &sitting);
  window_test_tear_down (fixture, data);
  window_test_wait (is_gone, &sitting, "the end of the sitting");
}

static GtkWidget *
get (Fixture *fixture, const char *name)
{
  return window_test_get (GTK_WIDGET (fixture->window), name);
}

static const char *
said (Fixture *fixture)
{
  GtkWidget *message = get (fixture, "message");

  return gtk_widget_get_mapped (message) ? gtk_label_get_label (GTK_LABEL (message)) : NULL;
}

static gboolean
something_said (gpointer data)
{
  return said (data) != NULL;
}

/* ---- what is seen ---- */

static void
test_standing (Fixture *fixture, gconstpointer data)
{
  const char *headline = gtk_label_get_label (GTK_LABEL (get (fixture, "headline")));

  g_test_message ("%s", headline);
  g_assert_cmpstr (gtk_label_get_label (GTK_LABEL (get (fixture, "where"))), ==, "test");
  g_assert_nonnull (strstr (gtk_window_get_title (GTK_WINDOW (fixture->window)), "Test piece two"));
  g_assert_cmpint (fettle_window_get_span (fixture->window)->to, !=, 0);
  g_assert_true (gtk_widget_get_mapped (get (fixture, "strip")));

  fettle_ledger_select (FETTLE_LEDGER (get (fixture, "criteria")), 0, TRUE);
  window_test_settle ();
  g_assert_true (gtk_widget_get_mapped (get (fixture, "units")));
}

static void
test_units (Fixture *fixture, gconstpointer data)
{
  fettle_ledger_select (FETTLE_LEDGER (get (fixture, "criteria")), 0, TRUE);
  window_test_settle ();
  g_signal_emit_by_name (get (fixture, "units"), "clicked");
  window_test_wait_page (fixture->window, "readings");
}

static void
test_rounds (Fixture *fixture, gconstpointer data)
{
  GtkWidget *strip = get (fixture, "strip");
  gint64 newest = fettle_window_get_span (fixture->window)->to;
  g_autofree char *before = g_strdup (gtk_label_get_label (GTK_LABEL (get (fixture, "lead"))));

  g_assert_true (window_test_press (strip, GDK_KEY_Left, 0));
  g_assert_cmpint (fettle_window_get_span (fixture->window)->to, !=, newest);
  g_usleep (200000);
  window_test_settle ();
  g_assert_cmpstr (gtk_label_get_label (GTK_LABEL (get (fixture, "lead"))), !=, before);

  /* A span adds what stood at its beginning. */
  g_assert_null (strstr (gtk_label_get_label (GTK_LABEL (get (fixture, "lead"))), "At the end of round P2"));
  g_assert_true (window_test_press (strip, GDK_KEY_Left, GDK_SHIFT_MASK));
  g_assert_nonnull (strstr (gtk_label_get_label (GTK_LABEL (get (fixture, "lead"))), "At the end of round P2"));
}

static gboolean
other_model (gpointer data)
{
  return strstr (gtk_window_get_title (GTK_WINDOW (((Fixture *) data)->window)), "Test piece one") != NULL;
}

static gboolean
has_no_strip (gpointer data)
{
  return !gtk_widget_get_mapped (get (data, "strip"));
}

static void
test_model (Fixture *fixture, gconstpointer data)
{
  const FettleFacts *facts = fixture->window->facts;

  g_assert_cmpuint (facts->n_models, ==, 2);
  g_assert_cmpstr (facts->models[0].code, ==, "M2"); /* the newest first */
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.model", "x", facts->models[1].key));
  window_test_wait (other_model, fixture, "the other model");
  /* It has no round, so there is no strip; the page says what there is to say. */
  window_test_wait (has_no_strip, fixture, "that the strip goes");
}

/* ---- writing ---- */

static gboolean
has_person (gpointer data)
{
  return fettle_sitting_get_person (fettle_window_get_sitting (((Fixture *) data)->window)) != 0;
}

static void
test_person_undo (Fixture *fixture, gconstpointer data)
{
  GtkWidget *entry;

  g_assert_false (gtk_widget_get_sensitive (get (fixture, "undo")));
  gtk_widget_grab_focus (get (fixture, "strip"));
  g_assert_false (fettle_sitting_need_person (fettle_window_get_sitting (fixture->window)));
  window_test_settle ();
  entry = get (fixture, "new-person"); /* the choice has opened */
  g_assert_false (gtk_widget_has_focus (get (fixture, "strip")));
  gtk_editable_set_text (GTK_EDITABLE (entry), "XY");
  g_signal_emit_by_name (get (fixture, "add-person"), "clicked");
  window_test_wait (has_person, fixture, "the person");
  window_test_wait_undo (fixture->window);
  window_test_settle ();
  g_assert_true (gtk_root_get_focus (GTK_ROOT (fixture->window)) == get (fixture, "strip")); /* the keyboard is where it was */
  g_assert_cmpstr (gtk_menu_button_get_label (GTK_MENU_BUTTON (get (fixture, "person-button"))), ==, "XY writes");
  g_assert_true (gtk_widget_get_sensitive (get (fixture, "undo")));

  window_test_act (fixture->window, "win.choose-person", NULL); /* once more, with the new list */
  window_test_settle ();
  g_assert_nonnull (gtk_list_box_get_row_at_index (GTK_LIST_BOX (get (fixture, "persons")), 2));
  gtk_menu_button_popdown (GTK_MENU_BUTTON (get (fixture, "person-button")));
  window_test_settle ();

  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_z, GDK_CONTROL_MASK));
  window_test_wait_redo (fixture->window);
  window_test_wait (something_said, fixture, "what was undone");
  g_test_message ("%s", said (fixture));
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_z, GDK_CONTROL_MASK | GDK_SHIFT_MASK));
  window_test_wait_undo (fixture->window);
  window_test_settle ();
}

static void
on_said (FettleSitting *sitting, const char *sentence, const char *label, const char *action, gpointer user_data)
{
  g_ptr_array_add (user_data, g_strdup (sentence));
}

static gboolean
two_said (gpointer data)
{
  return ((GPtrArray *) data)->len == 2;
}

/* Who closes a message by the keyboard goes on where they work, not at the next button of the heading. */
static void
test_message_closed (Fixture *fixture, gconstpointer data)
{
  GtkWidget *close, *focus;

  fettle_window_say (fixture->window, "A sentence.", NULL, NULL);
  window_test_settle ();
  close = get (fixture, "message-close");
  gtk_widget_grab_focus (close);
  g_signal_emit_by_name (close, "clicked");
  window_test_settle ();
  g_assert_null (said (fixture));
  focus = gtk_window_get_focus (GTK_WINDOW (fixture->window));
  g_assert_nonnull (focus);
  g_assert_true (gtk_widget_is_ancestor (focus, window_test_page (fixture->window)));
}

/* Ctrl+Z at once after the very first edit: there is nothing to undo yet, but there will be. */
static void
test_undo_before_it_is_stored (Fixture *fixture, gconstpointer data)
{
  FettleSitting *own = fettle_window_get_sitting (fixture->window);
  g_autofree char *words = NULL;

  g_assert_false (gtk_widget_get_sensitive (get (fixture, "undo")));
  fettle_sitting_edit (own, book_edit_add_person ("XY", BOOK_ROLE_MAKER, NULL), NULL, NULL);
  g_assert_true (gtk_widget_get_sensitive (get (fixture, "undo")));
  window_test_act (fixture->window, "win.undo", NULL);
  window_test_wait (something_said, fixture, "what was undone");
  g_assert_cmpstr (said (fixture), ==, "Taken back: Added a person: Person XY");
  window_test_wait_redo (fixture->window);
  window_test_settle ();
  g_assert_false (gtk_widget_get_sensitive (get (fixture, "undo")));
  words = fettle_sitting_dup_undo_words (own, TRUE);
  g_assert_nonnull (strstr (words, "Added a person"));
  g_assert_nonnull (strstr (fettle_tip_get (get (fixture, "redo")), words));
}

/* The keys come before the first undo is stored: each takes back, and names, an action of its own. */
static void
test_undo_twice (Fixture *fixture, gconstpointer data)
{
  FettleSitting *own = fettle_window_get_sitting (fixture->window);
  g_autoptr(GPtrArray) sentences = g_ptr_array_new_with_free_func (g_free);
  gulong handler;

  window_test_edit (fixture->window, book_edit_add_person ("XY", BOOK_ROLE_MAKER, NULL));
  window_test_edit (fixture->window, book_edit_add_person ("XZ", BOOK_ROLE_MAKER, NULL));
  window_test_wait_undo (fixture->window);
  window_test_settle ();
  handler = g_signal_connect (own, "say", G_CALLBACK (on_said), sentences);
  fettle_sitting_undo (own);
  fettle_sitting_undo (own);
  window_test_wait (two_said, sentences, "both");
  window_test_settle ();
  g_signal_handler_disconnect (own, handler);
  g_assert_true (g_str_has_prefix (sentences->pdata[0], "Taken back"));
  g_assert_true (g_str_has_prefix (sentences->pdata[1], "Taken back"));
  g_assert_cmpstr (sentences->pdata[0], !=, sentences->pdata[1]);
  g_assert_true (fettle_sitting_can_redo (own));
}

static void
on_second (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(GError) error = NULL;

  *(FettleSitting **) user_data = fettle_sitting_open_finish (result, &error);
  g_assert_no_error (error);
}

static gboolean
is_set (gpointer data)
{
  return *(gpointer *) data != NULL;
}

static gboolean
refusal_said (gpointer data)
{
  return said (data) != NULL && strstr (said (data), "in the way") != NULL;
}

/* Somebody else, in a window of their own, goes on with what this window made. */
static void
test_undo_refused (Fixture *fixture, gconstpointer data)
{
  FettleSitting *own = fettle_window_get_sitting (fixture->window), *other = NULL;
  gint64 person;

  fettle_sitting_need_person (own);
  window_test_settle ();
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "new-person")), "XY");
  g_signal_emit_by_name (get (fixture, "add-person"), "clicked");
  window_test_wait (has_person, fixture, "the person");
  window_test_wait_undo (fixture->window);
  person = fettle_sitting_get_person (own);

  fettle_sitting_open_async (fixture->book, FALSE, NULL, on_second, &other);
  window_test_wait (is_set, &other, "the second sitting");
  fettle_sitting_edit (other, book_edit_field (BOOK_RECORD_PERSON, person, "role", "owner"), NULL, NULL);
  g_usleep (300000);
  window_test_settle ();

  window_test_act (fixture->window, "win.undo", NULL);
  window_test_wait (refusal_said, fixture, "the refusal");
  g_test_message ("%s", said (fixture));
  g_assert_cmpint (fettle_sitting_get_person (own), ==, person);
  g_object_unref (other);
  window_test_settle ();
}

/* ---- search ---- */

static gboolean
hits_shown (gpointer data)
{
  GtkWidget *hits = window_test_find (GTK_WIDGET (((Fixture *) data)->window), "hits");

  return hits != NULL && gtk_widget_get_mapped (hits);
}

static void
test_find_leads (Fixture *fixture, gconstpointer data)
{
  GtkWidget *entry = get (fixture, "find");
  GtkListBoxRow *row;

  window_test_act (fixture->window, "win.find", NULL);
  gtk_editable_set_text (GTK_EDITABLE (entry), "strength");
  window_test_wait (hits_shown, fixture, "hits");
  row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (get (fixture, "hits")), 0);
  g_assert_nonnull (row);
  g_signal_emit_by_name (entry, "activate");
  window_test_wait_page (fixture->window, "readings");
}

/* ---- files ---- */

static gboolean
is_looked_at (gpointer data)
{
  GtkWidget *equal = window_test_find (GTK_WIDGET (((Fixture *) data)->window), "filter-equal");

  return equal != NULL && g_str_equal (gtk_button_get_label (GTK_BUTTON (equal)), "Equal 2");
}

static void
test_drop (Fixture *fixture, gconstpointer data)
{
  g_autofree char *path = g_build_filename (fixture->folder, "files", "person.csv", NULL);

  window_test_drop_file (GTK_WIDGET (fixture->window), path);
  window_test_wait (is_looked_at, fixture, "what becomes of the rows");
  g_assert_cmpstr (gtk_button_get_label (GTK_BUTTON (get (fixture, "filter-equal"))), ==, "Equal 2");
}

static void
test_not_a_book (void)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("fettle-window-XXXXXX", &error);
  g_autofree char *path = g_build_filename (folder, "letter.fettle", NULL);
  Fixture fixture = { 0 };

  g_assert_true (g_file_set_contents (path, "Dear reader,", -1, NULL));
  fixture.window = window_test_open (path, NULL);
  window_test_wait (something_said, &fixture, "the refusal");
  g_test_message ("%s", said (&fixture));
  g_assert_null (fettle_window_get_path (fixture.window));
  g_assert_true (gtk_widget_get_mapped (get (&fixture, "welcome")));
  window_test_close (fixture.window);
  window_test_remove (folder);
}

/* ---- keys, names, end ---- */

static void
test_shortcuts (Fixture *fixture, gconstpointer data)
{
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_2, GDK_ALT_MASK));
  window_test_settle ();
  g_assert_cmpstr (gtk_widget_get_name (window_test_page (fixture->window)), ==, "readings");
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_1, GDK_ALT_MASK));
  window_test_settle ();
  g_assert_cmpstr (gtk_widget_get_name (window_test_page (fixture->window)), ==, "standing");
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_r, GDK_CONTROL_MASK));
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (fixture->window)) == get (fixture, "strip"));
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_f, GDK_CONTROL_MASK));
  g_assert_true (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (fixture->window)), get (fixture, "find")));
}

/* The list of keys opens at those of the page in view; a section of several leaves would stand in another order. */
static void
test_shortcuts_of_page (Fixture *fixture, gconstpointer data)
{
  static const char *const expected[][2] = { { "standing", "book" }, { "issues", "issues" }, { "rounds", "rounds" }, { "setup", "release" } };
  GListModel *windows = gtk_window_get_toplevels ();

  for (gsize i = 0; i < G_N_ELEMENTS (expected); i++)
    {
      GtkWidget *shown = NULL;
      g_autofree char *section = NULL;

      window_test_act (fixture->window, "win.page", expected[i][0]);
      window_test_wait_page (fixture->window, expected[i][0]);
      window_test_act (fixture->window, "win.shortcuts", NULL);
      window_test_settle ();
      for (guint w = 0; shown == NULL && w < g_list_model_get_n_items (windows); w++)
        {
          g_autoptr(GtkWidget) each = g_list_model_get_item (windows, w);

          shown = GTK_IS_SHORTCUTS_WINDOW (each) ? each : NULL;
        }
      g_assert_nonnull (shown);
      g_object_get (shown, "section-name", &section, NULL);
      g_assert_cmpstr (section, ==, expected[i][1]);
      gtk_window_destroy (GTK_WINDOW (shown));
      window_test_settle ();
    }
}

static gboolean
menu_is_open (gpointer data)
{
  GtkPopover *popover = gtk_menu_button_get_popover (GTK_MENU_BUTTON (get (data, "menu")));

  return popover != NULL && gtk_widget_get_mapped (GTK_WIDGET (popover));
}

static gboolean
strip_has_keyboard (gpointer data)
{
  return gtk_window_get_focus (GTK_WINDOW (((Fixture *) data)->window)) == get (data, "strip");
}

/* A menu that a key opened and that is left again gives the keyboard back. */
static void
test_menu_gives_back (Fixture *fixture, gconstpointer data)
{
  static const struct
  {
    guint           key;
    GdkModifierType modifiers;
  } keys[] = { { GDK_KEY_F10, 0 }, { GDK_KEY_p, GDK_CONTROL_MASK | GDK_SHIFT_MASK } };

  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      gtk_widget_grab_focus (get (fixture, "strip"));
      g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), keys[i].key, keys[i].modifiers));
      window_test_wait (menu_is_open, fixture, "the menu");
      g_assert_false (strip_has_keyboard (fixture));
      gtk_menu_button_popdown (GTK_MENU_BUTTON (get (fixture, "menu")));
      window_test_wait (strip_has_keyboard, fixture, "the keyboard at the strip again");
    }
}

/* The look is an action of the program, kept in its settings. */
static void
test_look (Fixture *fixture, gconstpointer data)
{
  GSettings *settings = fettle_application_get_settings (FETTLE_APPLICATION (window_test_program ()));
  g_autofree char *kept = NULL;

  g_action_group_activate_action (G_ACTION_GROUP (window_test_program ()), "look", g_variant_new_string ("dark"));
  window_test_settle ();
  g_assert_true (fettle_look_is_dark ());
  kept = g_settings_get_string (settings, "look");
  g_assert_cmpstr (kept, ==, "dark");
  g_action_group_activate_action (G_ACTION_GROUP (window_test_program ()), "look", g_variant_new_string ("light"));
  window_test_settle ();
  g_assert_false (fettle_look_is_dark ());
}

/* Every key of the menu stands in the list of shortcuts, and every key of the list does something. */
static void
test_shortcut_list (void)
{
  GtkApplication *program = window_test_program ();
  g_autoptr(GBytes) bytes = g_resources_lookup_data ("/org/fettle/Fettle/shortcuts.ui", 0, NULL);
  g_autofree char *text = g_strndup (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
  g_auto (GStrv) actions = gtk_application_list_action_descriptions (program);

  for (guint i = 0; actions[i] != NULL; i++)
    {
      g_auto (GStrv) accels = gtk_application_get_accels_for_action (program, actions[i]);

      for (guint j = 0; accels[j] != NULL; j++)
        {
          g_autofree char *written = g_markup_escape_text (accels[j], -1);

          if (g_str_has_prefix (actions[i], "win.page::")) /* listed as a range, see below */
            continue;
          g_test_message ("%s: %s", actions[i], accels[j]);
          g_assert_nonnull (strstr (text, written));
        }
    }
}

/* Pages with a digit are listed by ranges; those with a letter by themselves; no two have the same. */
static void
test_page_keys (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GBytes) bytes = g_resources_lookup_data ("/org/fettle/Fettle/shortcuts.ui", 0, NULL);
  g_autofree char *text = g_strndup (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
  static const char *const ranges[] = { "&lt;Alt&gt;1...4<", "&lt;Alt&gt;5...8<", "&lt;Alt&gt;9 &lt;Alt&gt;0<" };
  g_autoptr(GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  gboolean zero = FALSE;
  guint n, last = 0;
  const FettlePageKind *kinds = fettle_page_kinds (&n);

  for (guint i = 0; i < n; i++)
    {
      guint key;
      GdkModifierType modifiers;

      g_assert_true (kinds[i].accel != NULL || !kinds[i].in_list); /* one that is not in the list may have a key too */
      if (kinds[i].accel == NULL)
        continue;
      g_assert_true (gtk_accelerator_parse (kinds[i].accel, &key, &modifiers));
      g_assert_true (g_hash_table_add (seen, gtk_accelerator_name (key, modifiers)));
      if (modifiers == GDK_ALT_MASK)
        {
          g_assert_true (key >= GDK_KEY_0 && key <= GDK_KEY_9);
          last = MAX (last, key - GDK_KEY_0);
          zero |= key == GDK_KEY_0;
        }
      else
        {
          g_autofree char *name = gtk_accelerator_name (key, modifiers), *escaped = g_markup_escape_text (name, -1),
                          *listed = g_strdup_printf (">%s<", escaped);

          g_assert_cmpint (modifiers, ==, GDK_ALT_MASK | GDK_SHIFT_MASK);
          g_assert_nonnull (strstr (text, listed));
        }
      g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), key, modifiers));
      window_test_settle ();
      g_assert_cmpstr (gtk_widget_get_name (window_test_page (fixture->window)), ==, kinds[i].name);
    }
  g_assert_true (last == 9 && zero);
  for (guint i = 0; i < G_N_ELEMENTS (ranges); i++)
    g_assert_nonnull (strstr (text, ranges[i]));
}

static void
check_name (GtkWidget *widget, gpointer data)
{
  GtkAccessibleRole role = gtk_accessible_get_accessible_role (GTK_ACCESSIBLE (widget));
  guint *n = data;

  if (!(GTK_IS_EDITABLE (widget) || GTK_IS_BUTTON (widget) || GTK_IS_MENU_BUTTON (widget) || GTK_IS_DROP_DOWN (widget)
        || role == GTK_ACCESSIBLE_ROLE_IMG))
    return;
  if (GTK_IS_TEXT (widget) || !gtk_widget_get_mapped (widget) || GTK_IS_IMAGE (widget)
      || gtk_widget_get_ancestor (widget, GTK_TYPE_WINDOW_CONTROLS) != NULL)
    return;
  /* The toggle inside a menu button or drop-down speaks for its parent. */
  if (GTK_IS_MENU_BUTTON (gtk_widget_get_parent (widget)) || GTK_IS_DROP_DOWN (gtk_widget_get_parent (widget)))
    return;
  (*n)++;
  if (GTK_IS_BUTTON (widget) && gtk_button_get_label (GTK_BUTTON (widget)) != NULL)
    return;
  if (GTK_IS_MENU_BUTTON (widget) && gtk_menu_button_get_label (GTK_MENU_BUTTON (widget)) != NULL)
    return;
  if (!gtk_test_accessible_has_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL))
    g_test_fail_printf ("%s '%s' has no name", G_OBJECT_TYPE_NAME (widget), gtk_widget_get_name (widget));
}

static void
test_names (Fixture *fixture, gconstpointer data)
{
  guint n = 0;

  window_test_each (GTK_WIDGET (fixture->window), check_name, &n);
  g_assert_cmpuint (n, >, 6);
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_2, GDK_ALT_MASK));
  g_usleep (200000);
  window_test_settle ();
  window_test_each (GTK_WIDGET (fixture->window), check_name, &n);
}

static void
test_ends (Fixture *fixture, gconstpointer data)
{
  for (int i = 0; i < 10; i++)
    {
      FettleWindow *window = window_test_open (i % 2 == 0 ? NULL : fixture->book, i % 4 == 1 ? "standing" : "readings");
      FettleSitting *sitting = fettle_window_get_sitting (window);

      g_object_add_weak_pointer (G_OBJECT (window), (gpointer *) &window);
      if (sitting != NULL)
        g_object_add_weak_pointer (G_OBJECT (sitting), (gpointer *) &sitting);
      window_test_close (window);
      g_usleep (100000);
      window_test_settle ();
      g_assert_null (window);
      g_assert_null (sitting);
    }
}

#define ADD(path, test) g_test_add (path, Fixture, "standing", window_test_set_up, test, tear_down)

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  ADD ("/window/frame/shows-the-standing-of-the-newest-model", test_standing);
  ADD ("/window/frame/a-figure-leads-to-its-units", test_units);
  ADD ("/window/frame/a-chosen-round-changes-what-is-said", test_rounds);
  ADD ("/window/frame/the-model-is-chosen", test_model);
  ADD ("/window/frame/a-person-is-chosen-once-and-undone", test_person_undo);
  ADD ("/window/frame/an-undo-waits-for-the-first-edit", test_undo_before_it_is_stored);
  ADD ("/window/frame/a-second-undo-waits-for-the-first", test_undo_twice);
  ADD ("/window/frame/undo-names-what-is-in-the-way", test_undo_refused);
  ADD ("/window/frame/a-closed-message-gives-the-keyboard-to-the-page", test_message_closed);
  ADD ("/window/frame/search-leads-to-the-record", test_find_leads);
  ADD ("/window/files/a-dropped-file-is-looked-at-first", test_drop);
  g_test_add_func ("/window/files/another-file-is-refused-with-a-sentence", test_not_a_book);
  ADD ("/window/keys/shortcuts-act", test_shortcuts);
  ADD ("/window/keys/the-list-opens-at-the-page-in-view", test_shortcuts_of_page);
  ADD ("/window/keys/a-menu-gives-the-keyboard-back", test_menu_gives_back);
  g_test_add_func ("/window/keys/all-are-listed", test_shortcut_list);
  ADD ("/window/keys/each-page-has-its-own", test_page_keys);
  ADD ("/window/frame/the-look-is-chosen-and-kept", test_look);
  ADD ("/window/names/every-control-has-one", test_names);
  ADD ("/window/frame/ends-without-a-trace", test_ends);
  return g_test_run ();
}
