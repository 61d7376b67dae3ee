/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Back and forward: page, model, rounds, record and keyboard are as they were, whatever led away. */
#include "config.h"

#include "keyboard.h"
#include "ledger.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

typedef WindowTestFixture Fixture;

static FettleWindow *window; /* all tests look into one, and none writes to its book */

static GtkWidget *
get (Fixture *fixture, const char *name)
{
  return window_test_get (GTK_WIDGET (fixture->window), name);
}

static void
show_page (Fixture *fixture, const char *page)
{
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.page", "s", page);
  window_test_wait_page (fixture->window, page);
}

/* Each begins on the first page, with nowhere to go back to. */
static void
set_up (Fixture *fixture, gconstpointer data)
{
  fixture->window = window;
  show_page (fixture, "standing");
  fettle_places_clear (window->places);
}

static void
check_place (Fixture *fixture, const char *record, gint64 key)
{
  const char *shown;
  gint64 id;

  fettle_page_get_place (fettle_window_get_page (fixture->window), &shown, &id);
  g_assert_cmpstr (shown, ==, record);
  g_assert_cmpint (id, ==, key);
}

/* ---- the list of places by itself ---- */

static FettlePlace
place_at (int kind, gint64 to, gint64 key)
{
  return (FettlePlace){ .kind = kind, .span = { 1, to, to }, .record = key != 0 ? "issue" : NULL, .key = key };
}

static int
step_back (FettlePlaces *places, const FettlePlace *now)
{
  FettlePlace *place = fettle_places_back (places, now);
  int kind = place == NULL ? -1 : place->kind;

  fettle_place_free (place);
  return kind;
}

static void
test_list (void)
{
  FettlePlaces *places = fettle_places_new ();
  FettlePlace a = place_at (1, 5, 0), b = place_at (2, 5, 0), c = place_at (3, 5, 7), d = place_at (3, 5, 8), walked = place_at (1, 6, 0);
  FettlePlace *place;

  g_assert_false (fettle_places_can_back (places));
  g_assert_null (fettle_places_back (places, &a));
  fettle_places_leave (places, &a, FALSE);
  fettle_places_leave (places, &a, FALSE); /* once */
  fettle_places_leave (places, &b, FALSE);
  fettle_places_leave (places, &c, FALSE); /* another record of the same page is another place */
  place = fettle_places_back (places, &d);
  g_assert_true (fettle_place_is_same (place, &c));
  fettle_place_free (place);
  g_assert_cmpint (step_back (places, &c), ==, 2);
  place = fettle_places_forward (places, &b);
  g_assert_true (fettle_place_is_same (place, &c));
  fettle_place_free (place);
  g_assert_cmpint (step_back (places, &c), ==, 2);
  g_assert_cmpint (step_back (places, &b), ==, 1);
  g_assert_cmpint (step_back (places, &a), ==, -1);
  fettle_places_leave (places, &a, FALSE); /* somewhere else: nothing is ahead */
  g_assert_false (fettle_places_can_forward (places));

  /* A walk along the rounds is one step back. */
  fettle_places_leave (places, &walked, TRUE);
  place = fettle_places_back (places, &b);
  g_assert_true (fettle_place_is_same (place, &a));
  fettle_place_free (place);
  fettle_places_free (places);
}

/* ---- in the window ---- */

static void
test_pages (Fixture *fixture, gconstpointer data)
{
  show_page (fixture, "issues");
  show_page (fixture, "rounds");
  window_test_act (fixture->window, "win.back", NULL);
  window_test_wait_page (fixture->window, "issues");
  window_test_act (fixture->window, "win.back", NULL);
  window_test_wait_page (fixture->window, "standing");
  g_assert_false (fettle_places_can_back (fixture->window->places));
  window_test_act (fixture->window, "win.forward", NULL);
  window_test_wait_page (fixture->window, "issues");
  window_test_act (fixture->window, "win.forward", NULL);
  window_test_wait_page (fixture->window, "rounds");
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_Left, GDK_ALT_MASK));
  window_test_wait_page (fixture->window, "issues");
}

/* From a criterion to its readings and back: the criterion is open and has the keyboard. */
static void
test_record_and_keyboard (Fixture *fixture, gconstpointer data)
{
  GtkWidget *page = window_test_page (fixture->window);
  FettleLedger *ledger = FETTLE_LEDGER (get (fixture, "criteria"));
  GtkWidget *focus;
  const char *record;
  gint64 key;

  fettle_ledger_select (ledger, 2, TRUE);
  window_test_settle ();
  focus = gtk_window_get_focus (GTK_WINDOW (fixture->window));
  g_assert_true (gtk_widget_is_ancestor (focus, page));
  g_assert_true (fettle_page_get_place (FETTLE_PAGE (page), &record, &key));
  g_assert_cmpstr (record, ==, "criterion");
  g_signal_emit_by_name (ledger, "activated", 2);
  window_test_wait_page (fixture->window, "readings");
  g_assert_false (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (fixture->window)), page));
  window_test_act (fixture->window, "win.back", NULL);
  window_test_wait_page (fixture->window, "standing");
  check_place (fixture, "criterion", key);
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (fixture->window)) == focus);
}

/* Issue, change, another issue: the same page holds two places. */
static void
test_same_page_twice (Fixture *fixture, gconstpointer data)
{
  FettleLedger *ledger;
  const char *record;
  gint64 first, second;

  show_page (fixture, "issues");
  ledger = FETTLE_LEDGER (get (fixture, "issues-table"));
  fettle_ledger_select (ledger, 1, TRUE);
  window_test_settle ();
  g_assert_true (fettle_page_get_place (fettle_window_get_page (fixture->window), &record, &second));
  fettle_ledger_select (ledger, 0, TRUE);
  window_test_settle ();
  g_assert_true (fettle_page_get_place (fettle_window_get_page (fixture->window), &record, &first));
  g_assert_cmpint (first, !=, second);

  show_page (fixture, "changes");
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.show-record", "(sx)", "issue", second);
  window_test_wait_page (fixture->window, "issues");
  check_place (fixture, "issue", second);
  window_test_act (fixture->window, "win.back", NULL);
  window_test_wait_page (fixture->window, "changes");
  window_test_act (fixture->window, "win.back", NULL);
  window_test_wait_page (fixture->window, "issues");
  check_place (fixture, "issue", first);
  g_assert_true (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (fixture->window)), GTK_WIDGET (ledger)));
  window_test_act (fixture->window, "win.forward", NULL);
  window_test_act (fixture->window, "win.forward", NULL);
  window_test_wait_page (fixture->window, "issues");
  check_place (fixture, "issue", second);
}

static gint64
round_at (Fixture *fixture, guint back)
{
  GtkWidget *strip = get (fixture, "strip");

  for (guint i = 0; i < back; i++)
    g_assert_true (window_test_press (strip, GDK_KEY_Left, 0));
  window_test_settle ();
  return fettle_window_get_span (fixture->window)->to;
}

static void
test_rounds (Fixture *fixture, gconstpointer data)
{
  gint64 newest = fettle_window_get_span (fixture->window)->to;
  gint64 walked = round_at (fixture, 2);

  g_assert_cmpint (walked, !=, newest);
  show_page (fixture, "issues");
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.round", "x", newest);
  show_page (fixture, "rounds");
  window_test_act (fixture->window, "win.back", NULL);
  window_test_wait_page (fixture->window, "issues");
  g_assert_cmpint (fettle_window_get_span (fixture->window)->to, ==, newest);
  window_test_act (fixture->window, "win.back", NULL);
  window_test_wait_page (fixture->window, "issues");
  g_assert_cmpint (fettle_window_get_span (fixture->window)->to, ==, walked);
  window_test_act (fixture->window, "win.back", NULL);
  window_test_wait_page (fixture->window, "standing");
  g_assert_cmpint (fettle_window_get_span (fixture->window)->to, ==, walked);
  window_test_act (fixture->window, "win.back", NULL); /* two steps along the strip are one */
  window_test_wait_page (fixture->window, "standing");
  g_assert_cmpint (fettle_window_get_span (fixture->window)->to, ==, newest);
}

static void
test_models (Fixture *fixture, gconstpointer data)
{
  const FettleSpan before = *fettle_window_get_span (fixture->window);
  gint64 round = round_at (fixture, 1), other = 0, issue;
  const char *record;

  show_page (fixture, "issues");
  fettle_ledger_select (FETTLE_LEDGER (get (fixture, "issues-table")), 1, TRUE);
  window_test_settle ();
  g_assert_true (fettle_page_get_place (fettle_window_get_page (fixture->window), &record, &issue));
  for (guint i = 0; i < fixture->window->facts->n_models; i++)
    if (fixture->window->facts->models[i].key != before.model)
      other = fixture->window->facts->models[i].key;
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.show-record", "(sx)", "model", other);
  window_test_wait_page (fixture->window, "standing");
  g_assert_cmpint (fettle_window_get_span (fixture->window)->model, ==, other);

  window_test_act (fixture->window, "win.back", NULL);
  window_test_wait_page (fixture->window, "issues");
  g_assert_cmpint (fettle_window_get_span (fixture->window)->model, ==, before.model);
  g_assert_cmpint (fettle_window_get_span (fixture->window)->to, ==, round);
  check_place (fixture, "issue", issue);
}

/* Every page in turn, with what its first row leads to: back and back again, each is as it was. */
static void
test_every_page (Fixture *fixture, gconstpointer data)
{
  guint n;
  const FettlePageKind *kinds = fettle_page_kinds (&n);
  const char *before = "standing";

  for (guint i = 0; i < n; i++)
    {
      const char *shown, *again;
      gint64 key, same;

      if (!kinds[i].in_list || g_str_equal (kinds[i].name, "standing"))
        continue;
      show_page (fixture, kinds[i].name);
      fettle_page_get_place (fettle_window_get_page (fixture->window), &shown, &key);
      window_test_act (fixture->window, "win.back", NULL);
      window_test_wait_page (fixture->window, before);
      window_test_act (fixture->window, "win.forward", NULL);
      window_test_wait_page (fixture->window, kinds[i].name);
      fettle_page_get_place (fettle_window_get_page (fixture->window), &again, &same);
      g_assert_cmpstr (shown, ==, again);
      g_assert_cmpint (key, ==, same);
      before = kinds[i].name;
    }
}

/* Enter on a criterion leads to what it counts, whatever it counts; its failing units to themselves; and back. */
static void
test_criteria_lead (Fixture *fixture, gconstpointer data)
{
  FettleLedger *ledger = FETTLE_LEDGER (get (fixture, "criteria"));
  g_autoptr(GHashTable) pages = g_hash_table_new (g_str_hash, g_str_equal);
  guint n_failing = 0;

  for (guint row = 0; row < 23; row++) /* of the demo */
    {
      GtkWidget *failing;

      fettle_ledger_select (ledger, (int) row, TRUE);
      window_test_wait_answers (fixture->window);
      failing = window_test_find (GTK_WIDGET (ledger), "failing-unit");
      if (failing != NULL && n_failing++ == 0)
        {
          g_signal_emit_by_name (failing, "clicked");
          window_test_wait_page (fixture->window, "unit");
          window_test_act (fixture->window, "win.back", NULL);
          window_test_wait_page (fixture->window, "standing");
        }
      g_signal_emit_by_name (ledger, "activated", row);
      g_hash_table_add (pages, (gpointer) gtk_widget_get_name (window_test_page (fixture->window)));
      g_assert_cmpstr (gtk_widget_get_name (window_test_page (fixture->window)), !=, "standing");
      window_test_act (fixture->window, "win.back", NULL);
      g_assert_cmpstr (gtk_widget_get_name (window_test_page (fixture->window)), ==, "standing");
    }
  g_assert_cmpuint (n_failing, >, 0);
  g_assert_cmpuint (g_hash_table_size (pages), >=, 4);
}

/* ---- the keyboard is where it was ---- */

static void
collect_ledgers (GtkWidget *widget, gpointer data)
{
  if (FETTLE_IS_LEDGER (widget) && gtk_widget_get_mapped (widget))
    g_ptr_array_add (data, widget);
}

/* Buttons that lead to a record. */
static void
collect_leads (GtkWidget *widget, gpointer data)
{
  if (GTK_IS_BUTTON (widget) && gtk_widget_get_mapped (widget)
      && (g_object_get_data (G_OBJECT (widget), "source") != NULL
          || g_strcmp0 (gtk_actionable_get_action_name (GTK_ACTIONABLE (widget)), "win.show-record") == 0))
    g_ptr_array_add (data, widget);
}

/* The way to what has the keyboard: names and places of the widgets it is in. Another widget may have come in its place. */
static char *
dup_focus (Fixture *fixture)
{
  g_autoptr(GString) way = g_string_new (NULL);

  for (GtkWidget *each = gtk_window_get_focus (GTK_WINDOW (fixture->window)); each != NULL; each = gtk_widget_get_parent (each))
    {
      g_autofree char *step = NULL;
      guint at = 0;

      for (GtkWidget *before = each; (before = gtk_widget_get_prev_sibling (before)) != NULL;)
        at++;
      step = g_strdup_printf ("/%s %u", gtk_widget_get_name (each), at);
      g_string_prepend (way, step);
    }
  return g_strdup (way->str);
}

/* If @widget's @signal leads to another page: back, and the keyboard is where it was. */
static gboolean
follow (Fixture *fixture, const char *page, GtkWidget *widget, const char *signal, guint row)
{
  g_autofree char *before = dup_focus (fixture);
  g_autofree char *after = NULL;
  const char *led;

  g_signal_emit_by_name (widget, signal, row);
  window_test_settle ();
  led = gtk_widget_get_name (window_test_page (fixture->window));
  if (g_str_equal (led, page))
    return FALSE;
  window_test_wait_page (fixture->window, led);
  window_test_act (fixture->window, "win.back", NULL);
  window_test_wait_page (fixture->window, page);
  after = dup_focus (fixture);
  g_assert_cmpstr (after, ==, before);
  return TRUE;
}

/* The first row, and the last button below it. */
static guint
follow_table (Fixture *fixture, const char *page, FettleLedger *ledger)
{
  g_autoptr(GPtrArray) buttons = g_ptr_array_new ();
  guint n;

  fettle_ledger_select (ledger, 0, TRUE);
  window_test_wait_answers (fixture->window);
  n = follow (fixture, page, GTK_WIDGET (ledger), "activated", 0);
  if (fettle_ledger_get_detail (ledger) == NULL)
    return n;
  window_test_each (fettle_ledger_get_detail (ledger), collect_leads, buttons);
  if (buttons->len == 0)
    return n;
  gtk_widget_grab_focus (g_ptr_array_index (buttons, buttons->len - 1));
  return n + follow (fixture, page, g_ptr_array_index (buttons, buttons->len - 1), "clicked", 0);
}

/* Tables of the pages that have them: what a row or a button below it leads to, and back to it. */
static void
test_links (Fixture *fixture, gconstpointer data)
{
  static const char *const pages[] = { "standing", "pilot", "leadtime", "shelf" };
  guint n = 0;

  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      g_autoptr(GPtrArray) ledgers = g_ptr_array_new ();

      show_page (fixture, pages[i]);
      window_test_each (window_test_page (fixture->window), collect_ledgers, ledgers);
      for (guint j = 0; j < ledgers->len; j++)
        n += follow_table (fixture, pages[i], g_ptr_array_index (ledgers, j));
    }
  g_assert_cmpuint (n, >=, 14);
}

static GtkWidget *
first_source (Fixture *fixture, const char *table, int row)
{
  FettleLedger *ledger = FETTLE_LEDGER (get (fixture, table));
  g_autoptr(GPtrArray) buttons = g_ptr_array_new ();

  fettle_ledger_select (ledger, row, TRUE);
  window_test_each (fettle_ledger_get_detail (ledger), collect_leads, buttons);
  g_assert_cmpuint (buttons->len, >, 0);
  return g_ptr_array_index (buttons, 0);
}

/* What had the keyboard is gone, since the page spoke of another model meanwhile: what came in its place has it. */
static void
test_made_anew (Fixture *fixture, gconstpointer data)
{
  gint64 before = fettle_window_get_span (fixture->window)->model, other = 0;
  g_autofree char *was = NULL, *is = NULL;
  GtkWidget *button;

  for (guint i = 0; i < fixture->window->facts->n_models; i++)
    if (fixture->window->facts->models[i].key != before)
      other = fixture->window->facts->models[i].key;
  show_page (fixture, "pilot");
  button = first_source (fixture, "pilot-steps", 1);
  g_object_add_weak_pointer (G_OBJECT (button), (gpointer *) &button);
  gtk_widget_grab_focus (button);
  was = dup_focus (fixture);
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.show-record", "(sx)", "model", other);
  window_test_wait_page (fixture->window, "standing");
  show_page (fixture, "pilot");
  window_test_act (fixture->window, "win.back", NULL);
  window_test_wait_page (fixture->window, "standing");
  window_test_act (fixture->window, "win.back", NULL);
  window_test_wait_page (fixture->window, "pilot");
  g_assert_null (button);
  g_assert_cmpint (fettle_window_get_span (fixture->window)->model, ==, before);
  is = dup_focus (fixture);
  g_assert_cmpstr (is, ==, was);
}

/* What was said stays until something is pressed and one goes on; what offers something stays longer. */
static void
test_said_goes (Fixture *fixture, gconstpointer data)
{
  GtkWidget *widget = GTK_WIDGET (fixture->window);

  fettle_window_say (fixture->window, "It was so.", NULL, NULL);
  show_page (fixture, "rounds");
  g_assert_cmpstr (window_test_said (fixture->window), ==, "It was so.");
  window_test_press (widget, GDK_KEY_Shift_L, 0);
  show_page (fixture, "standing");
  g_assert_cmpstr (window_test_said (fixture->window), ==, "");
  fettle_window_say (fixture->window, "It was so.", "Open", "win.open");
  window_test_press (widget, GDK_KEY_Shift_L, 0);
  show_page (fixture, "rounds");
  g_assert_cmpstr (window_test_said (fixture->window), ==, "It was so.");
  show_page (fixture, "standing");
}

/* What has the keyboard is on the page, and within what is seen of it. */
static void
check_keyboard_is_seen (FettleWindow *shown)
{
  GtkWidget *page = window_test_page (shown), *focus = NULL;
  graphene_rect_t bounds;

  for (guint i = 0; i < 20; i++) /* a few frames */
    {
      window_test_settle ();
      g_usleep (20000);
    }
  focus = gtk_window_get_focus (GTK_WINDOW (shown));
  g_assert_true (gtk_widget_is_ancestor (focus, page));
  g_assert_true (gtk_widget_compute_bounds (focus, page, &bounds));
  g_assert_cmpfloat (bounds.origin.y, <, gtk_widget_get_height (page));
  g_assert_cmpfloat (bounds.origin.y + bounds.size.height, >, 0);
}

static void
tab (FettleWindow *shown)
{
  GtkWidget *pane = fettle_keyboard_pane (window_test_page (shown));

  if (pane == NULL || gtk_window_get_focus (GTK_WINDOW (shown)) != pane || !window_test_press (pane, GDK_KEY_Tab, 0))
    gtk_widget_child_focus (GTK_WIDGET (shown), GTK_DIR_TAB_FORWARD);
}

/*
 * Whoever goes to a page by its key goes on there: something has the keyboard that one can see, and Tab leads on in the page. A
 * window of its own, since what a page shows for the first time it shows late.
 */
static void
test_keyboard_goes_along (gconstpointer path)
{
  Fixture fixture = { .window = window_test_open (path, "bench") };
  guint n;
  const FettlePageKind *kinds = fettle_page_kinds (&n);

  for (guint i = 0; i < n; i++)
    if (kinds[i].in_list && !g_str_equal (kinds[i].name, "bench"))
      {
        g_test_message ("%s", kinds[i].name);
        show_page (&fixture, kinds[i].name);
        check_keyboard_is_seen (fixture.window);
        tab (fixture.window);
        if (!g_str_equal (kinds[i].name, "shelf")) /* of one model it has one row */
          g_assert_true (fettle_keyboard_is_in (window_test_page (fixture.window)));
        gtk_window_set_focus (GTK_WINDOW (fixture.window), GTK_WIDGET (fixture.window->find_entry));
      }
  window_test_close (fixture.window);
}

/* Return on a criterion where its page was never seen: the keyboard is on that criterion. */
static void
test_keyboard_goes_to_record (gconstpointer path)
{
  Fixture fixture = { .window = window_test_open (path, "release") };
  gint64 criterion = window_test_find_record (fixture.window, BOOK_RECORD_CRITERION, "HF/C1");
  GtkWidget *page;

  g_assert_cmpint (criterion, !=, 0);
  gtk_widget_activate_action (GTK_WIDGET (fixture.window), "win.show-record", "(sx)", "criterion", criterion);
  window_test_wait_page (fixture.window, "standing");
  page = window_test_page (fixture.window);
  g_assert_true (GTK_IS_LIST_BOX_ROW (gtk_window_get_focus (GTK_WINDOW (fixture.window))));
  g_assert_true (fettle_keyboard_is_in (page));
  check_place (&fixture, "criterion", criterion);
  window_test_close (fixture.window);
}

int
main (int argc, char **argv)
{
  g_autofree char *folder = NULL, *demo = NULL;
  int status;

  window_test_init (&argc, &argv);
  folder = g_dir_make_tmp ("fettle-places-XXXXXX", NULL);
  g_assert_nonnull (folder);
  demo = window_test_make_demo (folder);
  window = window_test_open (demo, "standing");

  g_test_add_func ("/window/places/a-list-goes-back-and-forward", test_list);
  g_test_add_data_func ("/window/places/the-keyboard-goes-along", demo, test_keyboard_goes_along);
  g_test_add_data_func ("/window/places/the-keyboard-goes-to-the-record", demo, test_keyboard_goes_to_record);
#define ADD(name, test) g_test_add ("/window/places/" name, Fixture, NULL, set_up, test, NULL)
  ADD ("pages-are-gone-back-through", test_pages);
  ADD ("record-and-keyboard-are-where-they-were", test_record_and_keyboard);
  ADD ("one-page-holds-several-places", test_same_page_twice);
  ADD ("rounds-are-as-they-were", test_rounds);
  ADD ("models-are-as-they-were", test_models);
  ADD ("every-page-comes-back", test_every_page);
  ADD ("every-criterion-leads-to-what-it-counts", test_criteria_lead);
  ADD ("whatever-leads-away-has-the-keyboard-again", test_links);
  ADD ("what-was-made-anew-has-the-keyboard-again", test_made_anew);
  ADD ("what-was-said-stays-until-one-goes-on", test_said_goes);
#undef ADD
  status = g_test_run ();
  window_test_close (window);
  window_test_remove (folder);
  return status;
}
