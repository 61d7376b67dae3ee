/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Every page of the list on a usual model, on one without anything and on one with a single reading, wide and narrow: it
 * becomes complete, says something, names its controls, cuts no text without saying it elsewhere, and no text lies on
 * another.
 */
#include "config.h"

#include <string.h>

#include "chart-view.h"
#include "window-book.h"
#include "window-look.h"

#define LEAST_WIDTH 800
#define LEAST_HEIGHT 560

static const struct
{
  int width, height;
} sizes[] = { { 1280, 800 }, { 1000, 640 } };

typedef struct
{
  GtkWidget *page;
  GPtrArray *labels; /* GtkLabel: mapped, within the page */
  guint      words;
} Look;

static gboolean
is_not_asking (gpointer data)
{
  return !fettle_sitting_is_asking (fettle_window_get_sitting (FETTLE_WINDOW (data)));
}

static void
take_label (GtkWidget *widget, gpointer data)
{
  Look *look = data;

  if (!GTK_IS_LABEL (widget) || !gtk_widget_get_mapped (widget) || *gtk_label_get_label (GTK_LABEL (widget)) == '\0')
    return;
  g_ptr_array_add (look->labels, widget);
  look->words += (guint) strlen (gtk_label_get_text (GTK_LABEL (widget)));
}

/* A label that ends in dots tells the rest in its tooltip, or in that of what it stands in. */
static gboolean
tells_the_rest (GtkWidget *label, GtkWidget *page)
{
  for (GtkWidget *each = label; each != NULL && each != page; each = gtk_widget_get_parent (each))
    if (gtk_widget_get_has_tooltip (each) || GTK_IS_DROP_DOWN (each) || GTK_IS_LIST_BOX (each))
      return TRUE;
  return FALSE;
}

static void
check_label (const Look *look, GtkLabel *label, const char *where)
{
  graphene_rect_t bounds;

  if (pango_layout_is_ellipsized (gtk_label_get_layout (label)) && !tells_the_rest (GTK_WIDGET (label), look->page))
    g_test_fail_printf ("%s: \"%s\" is cut", where, gtk_label_get_text (label));
  if (!gtk_widget_compute_bounds (GTK_WIDGET (label), look->page, &bounds))
    return;
  if (bounds.origin.x < -1.0f || bounds.origin.x + bounds.size.width > (float) gtk_widget_get_width (look->page) + 1.0f)
    g_test_fail_printf ("%s: \"%s\" leaves the page", where, gtk_label_get_text (label));
}

/* What is scrolled out of sight lies on nothing. */
static gboolean
seen_bounds (GtkWidget *label, GtkWidget *page, graphene_rect_t *bounds)
{
  if (!gtk_widget_compute_bounds (label, page, bounds))
    return FALSE;
  for (GtkWidget *each = gtk_widget_get_parent (label); each != NULL && each != page; each = gtk_widget_get_parent (each))
    {
      graphene_rect_t sight;

      if (GTK_IS_VIEWPORT (each)
          && (!gtk_widget_compute_bounds (each, page, &sight) || !graphene_rect_intersection (bounds, &sight, bounds)))
        return FALSE;
    }
  return TRUE;
}

static void
check_pairs (const Look *look, const char *where)
{
  for (guint i = 0; i < look->labels->len; i++)
    for (guint k = i + 1; k < look->labels->len; k++)
      {
        GtkWidget *one = look->labels->pdata[i], *other = look->labels->pdata[k];
        graphene_rect_t a, b, both;

        if (gtk_widget_is_ancestor (one, other) || gtk_widget_is_ancestor (other, one)
            || !seen_bounds (one, look->page, &a) || !seen_bounds (other, look->page, &b)
            || !graphene_rect_intersection (&a, &b, &both))
          continue;
        if (both.size.width > 1.5f && both.size.height > 1.5f)
          g_test_fail_printf ("%s: \"%s\" lies on \"%s\"", where, gtk_label_get_text (GTK_LABEL (one)),
                              gtk_label_get_text (GTK_LABEL (other)));
      }
}

/* The way down to what wants that much, for whoever has to mend it. */
static char *
widest (GtkWidget *widget)
{
  GString *way = g_string_new (NULL);

  while (widget != NULL)
    {
      GtkWidget *most = NULL;
      int wanted = 0;

      g_string_append_printf (way, " %s", gtk_widget_get_name (widget));
      for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
        {
          int width;

          gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &width, NULL, NULL, NULL);
          if (gtk_widget_get_mapped (child) && width > wanted)
            {
              wanted = width;
              most = child;
            }
        }
      widget = most;
    }
  return g_string_free (way, FALSE);
}

/* The least window that is promised holds every page, also after all others were shown. */
static void
check_least (FettleWindow *window, const char *where)
{
  GtkWidget *content = gtk_window_get_child (GTK_WINDOW (window)), *bar = gtk_window_get_titlebar (GTK_WINDOW (window));
  int width, bar_height, height;

  gtk_widget_measure (content, GTK_ORIENTATION_HORIZONTAL, -1, &width, NULL, NULL, NULL);
  gtk_widget_measure (content, GTK_ORIENTATION_VERTICAL, MAX (width, LEAST_WIDTH), &height, NULL, NULL, NULL);
  gtk_widget_measure (bar, GTK_ORIENTATION_VERTICAL, -1, &bar_height, NULL, NULL, NULL);
  if (width > LEAST_WIDTH || height + bar_height > LEAST_HEIGHT)
    {
      g_autofree char *way = widest (content);

      g_test_fail_printf ("%s: the window wants %d x %d, by%s", where, width, height + bar_height, way);
    }
}

/* Of nothing nothing can be chosen. */
static void
check_choice (GtkWidget *widget, gpointer where)
{
  GListModel *names = GTK_IS_DROP_DOWN (widget) ? gtk_drop_down_get_model (GTK_DROP_DOWN (widget)) : NULL;

  if (GTK_IS_DROP_DOWN (widget) && gtk_widget_get_mapped (widget) && (names == NULL || g_list_model_get_n_items (names) == 0))
    g_test_fail_printf ("%s: %s has nothing to choose", (const char *) where, gtk_widget_get_name (widget));
}

static void
check_page (FettleWindow *window, const FettlePageKind *kind, const char *model, guint size)
{
  int patience = g_getenv ("FETTLE_BENCH_DATA") != NULL ? 4000 : 0; /* a build with sanitizers forecasts for minutes */
  g_autofree char *where = g_strdup_printf ("%s of %s at %dx%d", kind->name, model, sizes[size].width, sizes[size].height);
  Look look = { NULL, g_ptr_array_new (), 0 };

  gtk_widget_activate_action (GTK_WIDGET (window), "win.page", "s", kind->name);
  for (; patience > 0 && !is_not_asking (window); patience--)
    {
      g_usleep (50000);
      while (g_main_context_iteration (NULL, FALSE))
        ;
    }
  window_test_wait (is_not_asking, window, where);
  window_test_settle ();
  window_test_wait (is_not_asking, window, where);
  window_test_settle ();
  look.page = window_test_page (window);
  window_test_each (look.page, take_label, &look);
  if (look.words < 20)
    g_test_fail_printf ("%s says nothing", where);
  for (guint i = 0; i < look.labels->len; i++)
    check_label (&look, look.labels->pdata[i], where);
  check_pairs (&look, where);
  check_least (window, where);
  g_test_message ("%s", where);
  window_test_count_named (look.page);
  window_test_each (look.page, check_choice, where);
  g_ptr_array_unref (look.labels);
}

static void
check_model (const char *path, const char *model)
{
  guint n;
  const FettlePageKind *kinds = fettle_page_kinds (&n);

  for (guint size = 0; size < G_N_ELEMENTS (sizes); size++)
    {
      FettleWindow *window = fettle_window_new (window_test_program ());
      FettleWish wish = { (char *) model, NULL, NULL };

      gtk_window_set_default_size (GTK_WINDOW (window), sizes[size].width, sizes[size].height);
      fettle_window_open (window, path, FALSE, &wish);
      gtk_window_present (GTK_WINDOW (window));
      window_test_wait_standing (window);
      for (guint i = 0; i < n; i++)
        if (kinds[i].in_list)
          check_page (window, &kinds[i], model, size);
      window_test_close (window);
    }
}

static void
run (const char *const *arguments)
{
  g_autoptr(GError) error = NULL;
  int status;

  g_spawn_sync (NULL, (char **) arguments, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDOUT_TO_DEV_NULL, NULL, NULL, NULL, NULL, &status, &error);
  g_assert_no_error (error);
  g_assert_true (g_spawn_check_wait_status (status, &error));
}

static void
test_usual (void)
{
  g_autofree char *folder = g_dir_make_tmp ("fettle-pages-XXXXXX", NULL);
  g_autofree char *path = window_test_make_book (folder);

  check_model (path, "M2");
  window_test_remove (folder);
}

static void
test_empty (void)
{
  g_autofree char *folder = g_dir_make_tmp ("fettle-pages-XXXXXX", NULL);
  g_autofree char *path = window_test_make_book_of (folder, window_test_few);

  check_model (path, "EMPTY");
  window_test_remove (folder);
}

static void
test_one_reading (void)
{
  g_autofree char *folder = g_dir_make_tmp ("fettle-pages-XXXXXX", NULL);
  g_autofree char *path = window_test_make_book_of (folder, window_test_few);

  check_model (path, "ONE");
  window_test_remove (folder);
}

/* The demo's models in all their stages. */
static void
test_demo (void)
{
  static const char *const models[] = { "HF", "WT", "DU" };
  g_autofree char *folder = g_dir_make_tmp ("fettle-pages-XXXXXX", NULL);
  g_autofree char *path = window_test_make_demo (folder);

  for (guint i = 0; i < G_N_ELEMENTS (models); i++)
    check_model (path, models[i]);
  window_test_remove (folder);
}

/*
 * A book of the benches, one model of 100 units and 10,000 readings: pages of many rows, units and days. Takes minutes, so only where
 * FETTLE_BENCH_DATA names the program that makes its data (the suite 'slow').
 */
static void
test_bench (void)
{
  const char *generator = g_getenv ("FETTLE_BENCH_DATA"), *batch = g_getenv ("FETTLE_BATCH");
  g_autofree char *folder = NULL, *shop = NULL, *readings = NULL, *book = NULL;

  if (generator == NULL)
    {
      g_test_skip ("FETTLE_BENCH_DATA is not set");
      return;
    }
  folder = g_dir_make_tmp ("fettle-bench-XXXXXX", NULL);
  shop = g_build_filename (folder, "small", "shop", NULL);
  readings = g_build_filename (folder, "small", "readings", "reading.csv", NULL);
  book = g_build_filename (folder, "bench.fettle", NULL);
  run ((const char *[]){ "python3", generator, folder, NULL });
  run ((const char *[]){ batch, "new", book, NULL });
  run ((const char *[]){ batch, "import", shop, "--book", book, NULL });
  run ((const char *[]){ batch, "import", readings, "--book", book, NULL });
  check_model (book, "S01");
  window_test_remove (folder);
}

/* ---- charts by keys ---- */

static void
collect_charts (GtkWidget *widget, gpointer data)
{
  if (FETTLE_IS_CHART_VIEW (widget) && gtk_widget_get_mapped (widget))
    g_ptr_array_add (data, widget);
}

/* The line below a chart, in which a mark is told. */
static char *
dup_told (GtkWidget *view)
{
  return g_strdup (gtk_label_get_label (GTK_LABEL (gtk_widget_get_last_child (view))));
}

/* It takes the keyboard, arrow keys tell marks one after another, and Ctrl+T shows a table, with the keyboard, and takes it away. */
static void
read_chart (GtkWidget *view, const char *page)
{
  g_autofree char *first = NULL, *last = NULL;
  GtkWidget *window = GTK_WIDGET (gtk_widget_get_root (view)), *area = gtk_widget_get_first_child (view), *table;

  g_test_message ("%s", page);
  g_assert_true (gtk_widget_grab_focus (area));
  g_assert_true (window_test_press (area, GDK_KEY_Home, 0) || window_test_press (view, GDK_KEY_Home, 0));
  first = dup_told (view);
  g_assert_cmpstr (first, !=, "");
  g_assert_true (window_test_press (area, GDK_KEY_End, 0) || window_test_press (view, GDK_KEY_End, 0));
  last = dup_told (view);
  g_assert_cmpstr (first, !=, last);

  g_assert_true (window_test_shortcut (view, GDK_KEY_t, GDK_CONTROL_MASK));
  window_test_settle ();
  table = window_test_get (view, "chart-table");
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (gtk_column_view_get_model (GTK_COLUMN_VIEW (table)))), >, 0);
  g_assert_true (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (window)), view));
  g_assert_true (window_test_shortcut (view, GDK_KEY_t, GDK_CONTROL_MASK));
  window_test_settle ();
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (window)) == area);
}

/* Every chart that a page of the demo shows by itself is gone to by one key after the other and read without seeing it. */
static void
test_charts (void)
{
  static const struct { const char *name; guint n; } pages[] = {
    { "standing", 1 }, { "readings", 1 }, { "issues", 1 }, { "compare", 1 }, { "pilot", 3 }, { "leadtime", 1 }, { "life", 2 }, { "shelf", 1 },
  };
  g_autofree char *folder = g_dir_make_tmp ("fettle-charts-XXXXXX", NULL), *demo = window_test_make_demo (folder);
  FettleWindow *window = window_test_open (demo, "standing");

  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      g_autoptr(GPtrArray) charts = g_ptr_array_new ();

      gtk_widget_activate_action (GTK_WIDGET (window), "win.page", "s", pages[i].name);
      window_test_wait_page (window, pages[i].name);
      window_test_each (window_test_page (window), collect_charts, charts);
      g_assert_cmpuint (charts->len, >=, pages[i].n);
      gtk_window_set_focus (GTK_WINDOW (window), GTK_WIDGET (window_test_get (GTK_WIDGET (window), "strip"))); /* from elsewhere to the first */
      for (guint j = 0; j < charts->len; j++)
        {
          gtk_widget_activate_action (GTK_WIDGET (window), "win.go-chart", NULL);
          g_assert_true (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (window)), g_ptr_array_index (charts, j)));
          read_chart (g_ptr_array_index (charts, j), pages[i].name);
        }
      gtk_widget_activate_action (GTK_WIDGET (window), "win.go-chart", NULL);
      g_assert_true (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (window)), g_ptr_array_index (charts, 0)));
    }
  window_test_close (window);
  window_test_remove (folder);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add_func ("/window/pages/a-usual-model", test_usual);
  g_test_add_func ("/window/pages/a-model-without-anything", test_empty);
  g_test_add_func ("/window/pages/a-model-with-one-reading", test_one_reading);
  g_test_add_func ("/window/pages/the-demo", test_demo);
  g_test_add_func ("/window/pages/a-book-of-the-benches", test_bench);
  g_test_add_func ("/window/pages/charts-are-read-by-keys", test_charts);
  return g_test_run ();
}
