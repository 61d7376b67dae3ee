/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Who is there: the pages that come first, and that whoever reviews changes nothing by accident and loses nothing typed. */
#include "config.h"

#include "book-edit.h"
#include "book-record.h"
#include "roles.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

#include <string.h>

typedef WindowTestFixture Fixture;

static void
set_up (Fixture *fixture, gconstpointer data)
{
  window_test_set_up (fixture, "standing");
  window_test_edit (fixture->window, book_edit_add_person ("OW", BOOK_ROLE_OWNER, NULL));
  window_test_edit (fixture->window, book_edit_add_person ("DE", BOOK_ROLE_DESIGNER, NULL));
  window_test_edit (fixture->window, book_edit_add_person ("MA", BOOK_ROLE_MAKER, NULL));
  window_test_settle ();
}

static FettleSitting *
sitting (Fixture *fixture)
{
  return fettle_window_get_sitting (fixture->window);
}

static GtkWidget *
get (Fixture *fixture, const char *name)
{
  return window_test_get (GTK_WIDGET (fixture->window), name);
}

typedef struct
{
  Fixture    *fixture;
  const char *initials;
} Wanted;

static gboolean
is_known (gpointer data)
{
  const Wanted *wanted = data;

  return window_test_find_person (wanted->fixture->window, wanted->initials) != NULL;
}

static void
choose (Fixture *fixture, const char *initials)
{
  Wanted wanted = { fixture, initials };

  window_test_wait (is_known, &wanted, "the person");
  window_test_choose_person (fixture->window, initials);
}

static const char *
page_at (Fixture *fixture, int position)
{
  guint n;
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (get (fixture, "pages")), position);

  return row == NULL ? NULL : fettle_page_kinds (&n)[GPOINTER_TO_INT (g_object_get_data (G_OBJECT (row), "kind"))].name;
}

static const char *
said (Fixture *fixture)
{
  GtkWidget *message = get (fixture, "message");

  return gtk_widget_get_mapped (message) ? gtk_label_get_label (GTK_LABEL (message)) : "";
}

/* ---- pages ---- */

static void
test_pages (Fixture *fixture, gconstpointer data)
{
  static const struct
  {
    const char *initials;
    BookRole    role;
  } persons[] = { { "AB", BOOK_ROLE_LEAD }, { "DE", BOOK_ROLE_DESIGNER }, { "OW", BOOK_ROLE_OWNER }, { "MA", BOOK_ROLE_MAKER },
                  { "CD", BOOK_ROLE_INSPECTOR } };
  guint n, n_listed = 0;
  const FettlePageKind *kinds = fettle_page_kinds (&n);

  for (guint i = 0; i < n; i++)
    n_listed += kinds[i].in_list;
  for (gsize p = 0; p < G_N_ELEMENTS (persons); p++)
    {
      const char *const *first = fettle_role_pages (persons[p].role);
      g_autoptr(GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
      int at = 0;

      choose (fixture, persons[p].initials);
      for (guint i = 0; first[i] != NULL; i++)
        if (fettle_page_kind_find (first[i]) >= 0)
          g_assert_cmpstr (page_at (fixture, at++), ==, first[i]);
      g_assert_cmpint (at, >, 1);
      /* A line, then all others; every page once. */
      g_assert_nonnull (gtk_list_box_row_get_header (gtk_list_box_get_row_at_index (GTK_LIST_BOX (get (fixture, "pages")), at)));
      for (at = 0; page_at (fixture, at) != NULL; at++)
        g_assert_true (g_hash_table_add (seen, (gpointer) page_at (fixture, at)));
      g_assert_cmpuint (g_hash_table_size (seen), ==, n_listed);
      /* The page in view stays, and each key leads where it always did. */
      g_assert_cmpstr (gtk_widget_get_name (window_test_page (fixture->window)), ==, "standing");
      g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_3, GDK_ALT_MASK));
      window_test_settle ();
      g_assert_cmpstr (gtk_widget_get_name (window_test_page (fixture->window)), ==, "issues");
      g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_1, GDK_ALT_MASK));
      window_test_settle ();
    }
}

/* ---- reading ---- */

typedef struct
{
  gboolean done;
  gboolean stored;
  char    *refusal;
} Tried;

static void
on_tried (GObject *source, GAsyncResult *result, gpointer data)
{
  Tried *tried = data;
  g_autoptr(GError) error = NULL;

  tried->stored = fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error);
  tried->refusal = error == NULL ? NULL : g_strdup (error->message);
  tried->done = TRUE;
}

static gboolean
is_tried (gpointer data)
{
  return ((Tried *) data)->done;
}

static gboolean
try (Fixture *fixture, const char *initials)
{
  Tried tried = { FALSE, FALSE, NULL };
  gboolean stored;

  fettle_sitting_edit (sitting (fixture), book_edit_add_person (initials, BOOK_ROLE_MAKER, NULL), on_tried, &tried);
  window_test_wait (is_tried, &tried, "the command");
  window_test_settle ();
  stored = tried.stored;
  if (!stored)
    g_assert_true (strstr (tried.refusal, "F9") != NULL);
  g_free (tried.refusal);
  return stored;
}

static void
test_reviewers_read (Fixture *fixture, gconstpointer data)
{
  static const struct
  {
    const char *initials;
    gboolean    reads;
  } persons[] = { { "AB", FALSE }, { "DE", TRUE }, { "MA", FALSE }, { "OW", TRUE }, { "CD", FALSE } };

  for (gsize i = 0; i < G_N_ELEMENTS (persons); i++)
    {
      char initials[] = { 'X', (char) ('A' + i), '\0' };
      g_autofree char *state = NULL;
      gint64 before = window_test_count_records (fixture->window, BOOK_RECORD_PERSON);

      choose (fixture, persons[i].initials);
      g_assert_true (fettle_sitting_is_reading (sitting (fixture)) == persons[i].reads);
      /* In words in the head and on the button. */
      state = g_strdup_printf (persons[i].reads ? "%s reads" : "%s writes", persons[i].initials);
      g_assert_true (g_str_has_suffix (gtk_label_get_label (GTK_LABEL (get (fixture, "where"))), state));
      g_assert_cmpstr (gtk_menu_button_get_label (GTK_MENU_BUTTON (get (fixture, "person-button"))), ==, state);
      if (persons[i].reads)
        g_assert_nonnull (strstr (said (fixture), "F9"));
      g_assert_true (try (fixture, initials) == !persons[i].reads);
      g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_PERSON), ==, before + !persons[i].reads);
    }
}

/* A key begins to write, and the same key goes back to reading. */
static void
test_a_key_writes (Fixture *fixture, gconstpointer data)
{
  gint64 before;

  choose (fixture, "OW");
  before = window_test_count_records (fixture->window, BOOK_RECORD_PERSON);
  g_assert_false (try (fixture, "XA"));
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_F9, 0));
  g_assert_false (fettle_sitting_is_reading (sitting (fixture)));
  g_assert_true (g_str_has_suffix (gtk_label_get_label (GTK_LABEL (get (fixture, "where"))), "OW writes"));
  g_assert_true (try (fixture, "XA"));
  g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_PERSON), ==, before + 1);
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_F9, 0));
  g_assert_false (try (fixture, "XB"));
}

/* What was written before is not taken back by accident either. */
static void
test_nothing_is_undone_by_reading (Fixture *fixture, gconstpointer data)
{
  gint64 before;

  g_assert_true (try (fixture, "XA"));
  before = window_test_count_records (fixture->window, BOOK_RECORD_PERSON);
  choose (fixture, "DE");
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo", NULL);
  window_test_settle ();
  g_assert_cmpint (window_test_count_records (fixture->window, BOOK_RECORD_PERSON), ==, before);
  g_assert_nonnull (strstr (said (fixture), "F9"));
}

/* ---- typing while reading ---- */

static gboolean
has_draft (gpointer data)
{
  g_auto(GStrv) drafts = fettle_drafts_list (fettle_sitting_get_drafts (sitting (data)));

  return drafts[0] != NULL;
}

static void
test_typing_stays (Fixture *fixture, gconstpointer data)
{
  g_autofree char *before = NULL;
  GtkWidget *focus;

  choose (fixture, "DE");
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.page", "s", "readings");
  window_test_wait_page (fixture->window, "readings");
  gtk_widget_grab_focus (get (fixture, "readings-table"));
  fettle_message_bar_hide (fixture->window->message_bar);
  g_assert_true (window_test_press (get (fixture, "readings-table"), GDK_KEY_F2, 0));
  window_test_settle ();
  focus = gtk_window_get_focus (GTK_WINDOW (fixture->window));
  g_assert_true (GTK_IS_TEXT (focus));
  before = g_strdup (gtk_editable_get_text (GTK_EDITABLE (focus)));
  g_signal_emit_by_name (focus, "insert-at-cursor", "9");
  window_test_wait (has_draft, fixture, "the draft");
  g_assert_nonnull (strstr (said (fixture), "F9")); /* at the first letter */

  /* Enter stores nothing, and the cell keeps what was typed. */
  g_signal_emit_by_name (focus, "activate");
  window_test_settle ();
  g_usleep (200000);
  window_test_settle ();
  g_assert_true (has_draft (fixture));
}

/* ---- at the start of a sitting ---- */

/* Whoever wrote last on this computer goes on with one key; somebody else chooses. */
static void
test_begins_again (Fixture *fixture, gconstpointer data)
{
  FettleWindow *again;

  choose (fixture, "MA");
  again = window_test_open (fixture->book, "standing");
  window_test_wait_said (again, "Who writes? MA did last on this computer");
  g_assert_null (fettle_window_get_person (again)); /* nobody is taken for granted */
  gtk_widget_activate_action (GTK_WIDGET (again), "win.write", NULL);
  window_test_settle ();
  g_assert_cmpstr (fettle_window_get_person (again)->initials, ==, "MA");
  g_assert_false (fettle_sitting_is_reading (fettle_window_get_sitting (again)));
  window_test_close (again);

  choose (fixture, "OW");
  again = window_test_open (fixture->book, "standing");
  window_test_wait_said (again, "Who writes? OW did last");
  gtk_widget_activate_action (GTK_WIDGET (again), "win.write", NULL);
  window_test_settle ();
  g_assert_cmpstr (fettle_window_get_person (again)->initials, ==, "OW");
  g_assert_true (fettle_sitting_is_reading (fettle_window_get_sitting (again))); /* an owner reads until a key says otherwise */
  gtk_widget_activate_action (GTK_WIDGET (again), "win.write", NULL);
  g_assert_false (fettle_sitting_is_reading (fettle_window_get_sitting (again)));
  window_test_close (again);

  /* Somebody else is chosen: nothing is offered any more, and the key is about reading and writing. */
  again = window_test_open (fixture->book, "standing");
  window_test_wait_said (again, "Who writes? OW did last");
  fettle_sitting_set_person (fettle_window_get_sitting (again), window_test_find_person (again, "MA")->key);
  window_test_settle ();
  g_assert_cmpstr (window_test_said (again), ==, "");
  gtk_widget_activate_action (GTK_WIDGET (again), "win.write", NULL);
  g_assert_cmpstr (fettle_window_get_person (again)->initials, ==, "MA");
  g_assert_true (fettle_sitting_is_reading (fettle_window_get_sitting (again)));
  window_test_close (again);
}

/* Initials of nobody are told, and nobody writes under them; those of somebody choose that one. */
static void
test_asked_for (Fixture *fixture, gconstpointer data)
{
  static const char *const initials[] = { "ZZ", "MA" };

  for (guint i = 0; i < G_N_ELEMENTS (initials); i++)
    {
      FettleWindow *window = fettle_window_new (window_test_program ());
      FettleWish wish = { NULL, "standing", (char *) initials[i] };

      fettle_window_open (window, fixture->book, FALSE, &wish);
      gtk_window_present (GTK_WINDOW (window));
      window_test_wait_standing (window);
      window_test_settle ();
      if (i == 0)
        {
          g_assert_cmpstr (window_test_said (window), ==, "The book has nobody with the initials 'ZZ': say who writes.");
          g_assert_null (fettle_window_get_person (window));
        }
      else
        g_assert_cmpstr (fettle_window_get_person (window)->initials, ==, "MA");
      window_test_close (window);
    }
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);

#define ADD(name, test) g_test_add ("/window/roles/" name, Fixture, NULL, set_up, test, window_test_tear_down)
  ADD ("begin-with-their-pages", test_pages);
  ADD ("who-wrote-last-goes-on-by-one-key", test_begins_again);
  ADD ("who-reviews-reads", test_reviewers_read);
  ADD ("a-key-begins-to-write", test_a_key_writes);
  ADD ("reading-undoes-nothing", test_nothing_is_undone_by_reading);
  ADD ("what-is-typed-while-reading-stays", test_typing_stays);
  ADD ("initials-of-nobody-are-told", test_asked_for);
#undef ADD
  return g_test_run ();
}
