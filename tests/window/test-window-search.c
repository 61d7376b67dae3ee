/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ctrl+K: what is found for what is typed, the keys that choose, where each kind of record leads, and the way back. */
#include "config.h"

#include "book-edit.h"
#include "find-hits.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

#include <string.h>

typedef WindowTestFixture Fixture;

static char *demo; /* the book that all tests look into and none writes to */

static void
set_up (Fixture *fixture, gconstpointer data)
{
  fixture->window = window_test_open (demo, "standing");
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  window_test_close (fixture->window);
}

static GtkWidget *
get (Fixture *fixture, const char *name)
{
  return window_test_get (GTK_WIDGET (fixture->window), name);
}

static gboolean
has_answer (gpointer data)
{
  FettleWindow *self = ((Fixture *) data)->window;

  return self->find_wait == 0 && self->finding == NULL && gtk_widget_get_mapped (self->find_panel);
}

static void
type (Fixture *fixture, const char *words)
{
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.find", NULL);
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "find")), words);
  window_test_wait (has_answer, fixture, "what was found");
}

static const char *
told (Fixture *fixture)
{
  return gtk_label_get_label (fixture->window->find_told);
}

static const FettleFound *
chosen (Fixture *fixture)
{
  return g_object_get_data (G_OBJECT (gtk_list_box_get_selected_row (fixture->window->find_list)), "found");
}

static int
chosen_index (Fixture *fixture)
{
  return gtk_list_box_row_get_index (gtk_list_box_get_selected_row (fixture->window->find_list));
}

static gboolean
press (Fixture *fixture, guint key)
{
  return window_test_press (get (fixture, "find"), key, 0);
}

/* ---- what is shown ---- */

static void
test_groups (Fixture *fixture, gconstpointer data)
{
  const FettleFinding *finding;
  const BookRecord *before = NULL;
  g_autoptr(GHashTable) kinds = g_hash_table_new (NULL, NULL);

  type (fixture, "lock");
  finding = fixture->window->find_finding;
  g_assert_cmpuint (finding->found->len, >, 5);
  g_test_message ("%s", told (fixture));
  g_assert_true (strstr (told (fixture), "'lock'") != NULL);

  /* Each kind once, under its name. */
  for (int i = 0; gtk_list_box_get_row_at_index (fixture->window->find_list, i) != NULL; i++)
    {
      GtkListBoxRow *row = gtk_list_box_get_row_at_index (fixture->window->find_list, i);
      const FettleFound *found = g_object_get_data (G_OBJECT (row), "found");
      GtkWidget *head = gtk_list_box_row_get_header (row);

      if (found->hit->record != before)
        {
          g_assert_true (g_hash_table_add (kinds, (gpointer) found->hit->record));
          g_assert_nonnull (head);
          g_assert_cmpstr (gtk_label_get_label (GTK_LABEL (head)), ==, book_record_plural (found->hit->record));
        }
      else
        g_assert_null (head);
      before = found->hit->record;
    }
  g_assert_cmpuint (g_hash_table_size (kinds), >, 1);
}

static void
test_nothing (Fixture *fixture, gconstpointer data)
{
  type (fixture, "xylophone");
  g_test_message ("%s", told (fixture));
  g_assert_true (g_str_has_prefix (told (fixture), "Nothing was found for 'xylophone'."));
  g_assert_nonnull (strstr (told (fixture), "notes"));
  g_assert_false (gtk_widget_get_mapped (fixture->window->find_scroll));
  g_signal_emit_by_name (get (fixture, "find"), "activate"); /* leads nowhere */
  window_test_wait_page (fixture->window, "standing");
}

/* ---- keys ---- */

static void
test_arrows (Fixture *fixture, gconstpointer data)
{
  const FettleFinding *finding;

  type (fixture, "lock");
  finding = fixture->window->find_finding;
  g_assert_true (chosen (fixture) == finding->found->pdata[0]);
  g_assert_true (press (fixture, GDK_KEY_Down));
  g_assert_true (chosen (fixture) == finding->found->pdata[1]);
  g_assert_true (press (fixture, GDK_KEY_Up));
  g_assert_true (press (fixture, GDK_KEY_Up));
  g_assert_true (chosen (fixture) == finding->found->pdata[0]);
  for (guint i = 0; i < 20; i++)
    g_assert_true (press (fixture, GDK_KEY_Page_Down));
  g_assert_null (gtk_list_box_get_row_at_index (fixture->window->find_list, chosen_index (fixture) + 1));
  /* The keyboard stays where the words are. */
  g_assert_true (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (fixture->window)), get (fixture, "find")));
}

/* Many of a kind do not hide the other kinds: a few are listed, and the others on Enter. */
static void
test_few_of_a_kind (Fixture *fixture, gconstpointer data)
{
  const FettleFound *first;
  int n = 0;

  type (fixture, "lock slipped");
  while (g_object_get_data (G_OBJECT (gtk_list_box_get_selected_row (fixture->window->find_list)), "rest") == NULL)
    {
      int before = chosen_index (fixture);

      g_assert_true (press (fixture, GDK_KEY_Down));
      g_assert_cmpint (chosen_index (fixture), >, before); /* there is such a row */
      n++;
    }
  first = chosen (fixture);
  g_signal_emit_by_name (get (fixture, "find"), "activate");
  g_assert_true (gtk_widget_get_mapped (fixture->window->find_panel));
  g_assert_cmpint (chosen_index (fixture), ==, n); /* the first of those that came */
  g_assert_true (chosen (fixture) != first && chosen (fixture)->hit->record == first->hit->record);
  g_assert_null (g_object_get_data (G_OBJECT (gtk_list_box_get_selected_row (fixture->window->find_list)), "rest"));
}

static void
test_escape (Fixture *fixture, gconstpointer data)
{
  GtkWidget *strip = get (fixture, "strip");

  gtk_widget_grab_focus (strip);
  type (fixture, "lock");
  g_assert_true (press (fixture, GDK_KEY_Escape));
  g_assert_false (gtk_widget_get_visible (fixture->window->find_panel));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get (fixture, "find"))), ==, "");
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (fixture->window)) == strip);
}

/* Enter right after the last letter: nobody waits for a list to be drawn. */
static void
test_enter_before_the_answer (Fixture *fixture, gconstpointer data)
{
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.find", NULL);
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "find")), "issue 1");
  g_signal_emit_by_name (get (fixture, "find"), "activate");
  window_test_wait_page (fixture->window, "issues");
  g_assert_false (gtk_widget_get_visible (fixture->window->find_panel));
}

static void
test_leaving_closes (Fixture *fixture, gconstpointer data)
{
  type (fixture, "lock");
  gtk_widget_grab_focus (get (fixture, "strip"));
  window_test_settle ();
  g_assert_false (gtk_widget_get_visible (fixture->window->find_panel));
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (fixture->window)) == get (fixture, "strip"));
}

/* ---- where it leads ---- */

static void
test_kinds_lead_to_their_pages (Fixture *fixture, gconstpointer data)
{
  static const struct
  {
    const char *words, *kind, *page;
  } rows[] = {
    { "issue 1", "issue", "issues" },
    { "change 1", "change", "changes" },
    { "round P3", "round", "rounds" },
    { "unit P3-04", "unit", "readings" },
    { "characteristic LE", "characteristic", "readings" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      type (fixture, rows[i].words);
      g_assert_cmpuint (fixture->window->find_finding->found->len, >, 0);
      g_assert_cmpstr (chosen (fixture)->hit->record->name, ==, rows[i].kind);
      g_signal_emit_by_name (get (fixture, "find"), "activate");
      window_test_wait_page (fixture->window, rows[i].page);
      /* Who looks for something goes on with it. */
      g_assert_nonnull (gtk_widget_get_focus_child (get (fixture, "stack")));
    }
}

/* Every record that can be found leads somewhere: to a page that says it shows the kind, or to its history. */
static void
test_everything_leads_somewhere (Fixture *fixture, gconstpointer data)
{
  static const char letters[] = "abcdefghijklmnopqrstuvwxyz0123456789";
  g_autoptr(GHashTable) kinds = g_hash_table_new (NULL, NULL);

  for (const char *letter = letters; *letter != '\0'; letter++)
    {
      char words[] = { *letter, '\0' };

      type (fixture, words);
      for (guint i = 0; i < fixture->window->find_finding->found->len; i++)
        {
          const FettleFound *found = fixture->window->find_finding->found->pdata[i];

          g_assert_cmpint (found->id, !=, 0);
          g_assert_nonnull (found->record);
          if (g_hash_table_add (kinds, (gpointer) found->hit->record))
            g_test_message ("%s leads to %s%s", found->hit->record->name, found->record, found->in_history ? " (history)" : "");
        }
    }
  g_assert_cmpuint (g_hash_table_size (kinds), >, 8);
}

static void
test_another_model (Fixture *fixture, gconstpointer data)
{
  gint64 before = fettle_window_get_span (fixture->window)->model;
  const FettleFacts *facts = fixture->window->facts;
  const FettleModel *other = NULL;
  g_autofree char *words = NULL;

  for (guint i = 0; i < facts->n_models; i++)
    if (facts->models[i].key != before)
      other = &facts->models[i];
  g_assert_nonnull (other);
  words = g_strdup_printf ("model %s", other->code);
  type (fixture, words);
  g_signal_emit_by_name (get (fixture, "find"), "activate");
  window_test_wait_page (fixture->window, "standing");
  g_assert_cmpint (fettle_window_get_span (fixture->window)->model, !=, before);
}

int
main (int argc, char **argv)
{
  g_autofree char *folder = NULL;
  int status;

  window_test_init (&argc, &argv);
  folder = g_dir_make_tmp ("fettle-search-XXXXXX", NULL);
  g_assert_nonnull (folder);
  demo = window_test_make_demo (folder);

#define ADD(name, test) g_test_add ("/window/search/" name, Fixture, NULL, set_up, test, tear_down)
  ADD ("shows-each-kind-under-its-name", test_groups);
  ADD ("says-where-it-looked-when-nothing-is-found", test_nothing);
  ADD ("is-walked-by-arrows", test_arrows);
  ADD ("lists-a-few-of-a-kind-then-all", test_few_of_a_kind);
  ADD ("escape-gives-the-keyboard-back", test_escape);
  ADD ("enter-does-not-wait-for-the-list", test_enter_before_the_answer);
  ADD ("closes-when-the-keyboard-goes-elsewhere", test_leaving_closes);
  ADD ("leads-to-the-page-of-each-kind", test_kinds_lead_to_their_pages);
  ADD ("leads-somewhere-whatever-is-found", test_everything_leads_somewhere);
  ADD ("leads-to-another-model", test_another_model);
#undef ADD
  status = g_test_run ();
  window_test_remove (folder);
  g_free (demo);
  return status;
}
