/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Our own widgets alone, without a book: every type can be made, keeps its properties and ends; then what each does.
 */
#include "config.h"

#include "beside.h"
#include "chart-score.h"
#include "chart-table.h"
#include "chart-view.h"
#include "ledger.h"
#include "look.h"
#include "message-bar.h"
#include "pair.h"
#include "round-strip.h"
#include "sheet-view.h"
#include "tip.h"
#include "warm.h"
#include "welcome-page.h"
#include "window-look.h"

/* ---- sweeps ---- */

static GType
type_at (guint i)
{
  switch (i)
    {
    case 0: return FETTLE_TYPE_CHART_VIEW;
    case 1: return FETTLE_TYPE_MESSAGE_BAR;
    case 2: return FETTLE_TYPE_ROUND_STRIP;
    case 3: return FETTLE_TYPE_WELCOME_PAGE;
    case 4: return FETTLE_TYPE_BESIDE;
    default: return G_TYPE_INVALID;
    }
}

static void
test_finalized (void)
{
  for (guint i = 0; type_at (i) != G_TYPE_INVALID; i++)
    {
      GObject *object = g_object_ref_sink (g_object_new (type_at (i), NULL));

      g_test_message ("%s", G_OBJECT_TYPE_NAME (object));
      g_assert_finalize_object (object);
    }
}

static void
count (guint *n)
{
  (*n)++;
}

static void
test_notify (void)
{
  for (guint i = 0; type_at (i) != G_TYPE_INVALID; i++)
    {
      GObject *object = g_object_ref_sink (g_object_new (type_at (i), NULL));
      guint n_specs = 0;
      g_autofree GParamSpec **specs = g_object_class_list_properties (G_OBJECT_GET_CLASS (object), &n_specs);

      for (guint j = 0; j < n_specs; j++)
        {
          g_autofree char *signal = g_strconcat ("notify::", specs[j]->name, NULL);
          g_auto (GValue) value = G_VALUE_INIT;
          guint notified = 0;

          if (specs[j]->owner_type != type_at (i))
            continue;
          g_object_get_property (object, specs[j]->name, &value);
          g_assert_true (g_param_value_defaults (specs[j], &value));
          if (!G_VALUE_HOLDS_BOOLEAN (&value))
            continue;
          g_signal_connect_swapped (object, signal, G_CALLBACK (count), &notified);
          g_object_set_property (object, specs[j]->name, &value);
          g_assert_cmpuint (notified, ==, 0);
          g_value_set_boolean (&value, !g_value_get_boolean (&value));
          g_object_set_property (object, specs[j]->name, &value);
          g_assert_cmpuint (notified, ==, 1);
        }
      g_assert_finalize_object (object);
    }
}

/* ---- round strip ---- */

static Chart *
strip_of (guint n)
{
  ChartStripRound rounds[4] = { 0 };
  static const char *const names[] = { "P1", "P2", "P3", "A" };
  ChartStrip strip = { .empty = "none", .rounds = rounds, .n_rounds = n };

  for (guint i = 0; i < n; i++)
    {
      rounds[i].name = names[i];
      rounds[i].words = names[i];
      rounds[i].key = 100 + (gint64) i;
      for (guint phase = 0; phase < CHART_N_PHASES; phase++)
        rounds[i].days[phase] = 5 + phase;
    }
  return chart_strip_new (&strip);
}

static void
check_span (FettleRoundStrip *strip, gint64 from, gint64 to)
{
  g_assert_cmpint (fettle_round_strip_get_from (strip), ==, from);
  g_assert_cmpint (fettle_round_strip_get_to (strip), ==, to);
}

static void
test_strip_keys (void)
{
  GtkWidget *widget = g_object_ref_sink (fettle_round_strip_new ());
  FettleRoundStrip *strip = FETTLE_ROUND_STRIP (widget);
  guint told = 0;

  check_span (strip, 0, 0);
  g_assert_false (window_test_press (widget, GDK_KEY_Left, 0));
  fettle_round_strip_take_chart (strip, strip_of (4));
  g_signal_connect_swapped (strip, "span-changed", G_CALLBACK (count), &told);
  check_span (strip, 103, 103); /* the newest */

  g_assert_true (window_test_press (widget, GDK_KEY_Left, 0));
  check_span (strip, 102, 102);
  g_assert_true (window_test_press (widget, GDK_KEY_Left, GDK_SHIFT_MASK));
  check_span (strip, 101, 102);
  g_assert_true (window_test_press (widget, GDK_KEY_Home, GDK_SHIFT_MASK));
  check_span (strip, 100, 102);
  g_assert_cmpuint (told, ==, 3);
  window_test_press (widget, GDK_KEY_Home, GDK_SHIFT_MASK); /* nothing changes, nobody is told */
  g_assert_cmpuint (told, ==, 3);
  g_assert_true (window_test_press (widget, GDK_KEY_End, 0));
  check_span (strip, 103, 103);
  window_test_press (widget, GDK_KEY_Home, 0);
  g_assert_true (window_test_press (widget, GDK_KEY_Escape, 0));
  check_span (strip, 103, 103);
  g_assert_false (window_test_press (widget, GDK_KEY_Left, GDK_CONTROL_MASK));
  g_assert_finalize_object (widget);
}

static void
test_strip_follows (void)
{
  GtkWidget *widget = g_object_ref_sink (fettle_round_strip_new ());
  FettleRoundStrip *strip = FETTLE_ROUND_STRIP (widget);

  fettle_round_strip_take_chart (strip, strip_of (3));
  check_span (strip, 102, 102);
  fettle_round_strip_take_chart (strip, strip_of (4));
  check_span (strip, 103, 103); /* who looks at the newest goes on doing so */
  fettle_round_strip_set_span (strip, 100, 101);
  fettle_round_strip_take_chart (strip, strip_of (4));
  check_span (strip, 100, 101); /* another choice stays */
  fettle_round_strip_set_span (strip, 7, 8);
  check_span (strip, 103, 103); /* unknown rounds become the newest */
  g_assert_finalize_object (widget);
}

/* ---- chart view ---- */

static Chart *
score_of (void)
{
  const ChartScoreRound rounds[] = {
    { .name = "P1", .score = 20, .key = 11, .words = "P1: 20" },
    { .name = "P2", .score = 60, .key = 12, .words = "P2: 60", .current = TRUE },
  };
  const ChartScore score = { .empty = "none", .rounds = rounds, .n_rounds = 2 };

  return chart_score_new (&score);
}

static void
keep_key (gint64 *kept, gint64 key)
{
  *kept = key;
}

static void
test_chart_keys (void)
{
  GtkWidget *window = gtk_window_new ();
  GtkWidget *view = fettle_chart_view_new ();
  GtkWidget *area = window_test_get (view, "chart");
  GtkLabel *status = GTK_LABEL (window_test_get (view, "chart-status"));
  gint64 activated = 0;

  gtk_window_set_child (GTK_WINDOW (window), view);
  g_assert_false (window_test_press (area, GDK_KEY_Right, 0)); /* nothing to walk yet */
  fettle_chart_view_take_chart (FETTLE_CHART_VIEW (view), score_of ());
  g_signal_connect_swapped (view, "mark-activated", G_CALLBACK (keep_key), &activated);
  gtk_window_present (GTK_WINDOW (window));
  window_test_settle ();

  g_assert_true (window_test_press (area, GDK_KEY_Home, 0));
  g_assert_cmpstr (gtk_label_get_label (status), ==, "P1: 20");
  window_test_press (area, GDK_KEY_Right, 0);
  g_assert_cmpstr (gtk_label_get_label (status), ==, "P2: 60");
  g_assert_true (window_test_press (area, GDK_KEY_Return, 0));
  g_assert_cmpint (activated, ==, 12);

  fettle_chart_view_take_chart (FETTLE_CHART_VIEW (view), score_of ());
  g_assert_cmpstr (gtk_label_get_label (status), ==, "P2: 60"); /* the focus stays by key */
  g_assert_true (window_test_press (area, GDK_KEY_Escape, 0));
  g_assert_cmpstr (gtk_label_get_label (status), ==, "");
  fettle_chart_view_focus_key (FETTLE_CHART_VIEW (view), 11);
  g_assert_cmpstr (gtk_label_get_label (status), ==, "P1: 20");
  gtk_window_destroy (GTK_WINDOW (window));
  window_test_settle ();
}

static Chart *
score_with_table (const char *value)
{
  static const ChartTableColumn columns[] = { { "Round", FALSE }, { "Score", TRUE } };
  Chart *chart = score_of ();

  chart_set_summary (chart, "It rose from 20 to 60.");
  chart_table_begin (chart, columns, G_N_ELEMENTS (columns));
  chart_table_add (chart, (const char *const[]){ "P1", "20" });
  chart_table_add (chart, (const char *const[]){ "P2", value });
  return chart;
}

static void
test_chart_table (void)
{
  GtkWidget *window = gtk_window_new ();
  GtkWidget *view = fettle_chart_view_new ();
  GtkWidget *area = window_test_get (view, "chart");
  GListModel *rows;

  gtk_window_set_child (GTK_WINDOW (window), view);
  gtk_window_set_default_size (GTK_WINDOW (window), 500, 400);
  window_test_shortcut (view, GDK_KEY_t, GDK_CONTROL_MASK); /* without a chart nothing happens */
  g_assert_null (window_test_find (view, "chart-table"));
  fettle_chart_view_take_chart (FETTLE_CHART_VIEW (view), score_with_table ("60"));
  gtk_window_present (GTK_WINDOW (window));
  window_test_settle ();

  g_assert_true (window_test_shortcut (view, GDK_KEY_t, GDK_CONTROL_MASK));
  window_test_settle ();
  g_assert_false (gtk_widget_get_visible (area));
  rows = G_LIST_MODEL (gtk_column_view_get_model (GTK_COLUMN_VIEW (window_test_get (view, "chart-table"))));
  g_assert_cmpuint (g_list_model_get_n_items (rows), ==, 2);
  g_assert_true (window_test_has_words (view, "60", WINDOW_TEST_WHOLE));
  g_assert_nonnull (gtk_window_get_focus (GTK_WINDOW (window)));
  g_assert_true (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (window)), view));

  fettle_chart_view_take_chart (FETTLE_CHART_VIEW (view), score_with_table ("61")); /* stays a table */
  window_test_settle ();
  g_assert_false (gtk_widget_get_visible (area));
  g_assert_true (window_test_has_words (view, "61", WINDOW_TEST_WHOLE));

  g_assert_true (window_test_shortcut (view, GDK_KEY_t, GDK_CONTROL_MASK));
  window_test_settle ();
  g_assert_true (gtk_widget_get_visible (area));
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (window)) == area);
  g_assert_null (window_test_find (view, "chart-table"));
  gtk_window_destroy (GTK_WINDOW (window));
  window_test_settle ();
}

static void
test_chart_copy (void)
{
  GtkWidget *window = gtk_window_new ();
  GtkWidget *view = fettle_chart_view_new ();
  GdkContentProvider *content;
  g_auto (GValue) text = G_VALUE_INIT;

  gtk_window_set_child (GTK_WINDOW (window), view);
  fettle_chart_view_take_chart (FETTLE_CHART_VIEW (view), score_with_table ("60"));
  gtk_window_present (GTK_WINDOW (window));
  window_test_settle ();

  g_assert_true (window_test_shortcut (view, GDK_KEY_c, GDK_CONTROL_MASK | GDK_SHIFT_MASK));
  content = gdk_clipboard_get_content (gtk_widget_get_clipboard (view));
  g_value_init (&text, G_TYPE_STRING);
  g_assert_true (gdk_content_provider_get_value (content, &text, NULL));
  g_assert_cmpstr (g_value_get_string (&text), ==, "Round\tScore\nP1\t20\nP2\t60\n");

  g_assert_true (window_test_shortcut (view, GDK_KEY_c, GDK_CONTROL_MASK));
  content = gdk_clipboard_get_content (gtk_widget_get_clipboard (view));
  {
    g_auto (GValue) picture = G_VALUE_INIT;

    g_value_init (&picture, GDK_TYPE_TEXTURE);
    g_assert_true (gdk_content_provider_get_value (content, &picture, NULL));
    g_assert_cmpint (gdk_texture_get_width (g_value_get_object (&picture)), ==,
                     2 * gtk_widget_get_width (window_test_get (view, "chart")));
  }
  gtk_window_destroy (GTK_WINDOW (window));
  window_test_settle ();
}

/* ---- message bar, pair, ledger ---- */

static void
test_message (void)
{
  GtkWidget *bar = g_object_ref_sink (fettle_message_bar_new ());

  g_assert_null (fettle_message_bar_get_said (FETTLE_MESSAGE_BAR (bar)));
  fettle_message_bar_say (FETTLE_MESSAGE_BAR (bar), "One.", "Open", "win.open");
  fettle_message_bar_say (FETTLE_MESSAGE_BAR (bar), "Two.", NULL, NULL);
  g_assert_cmpstr (fettle_message_bar_get_said (FETTLE_MESSAGE_BAR (bar)), ==, "Two.");
  g_assert_false (gtk_widget_get_visible (window_test_get (bar, "message-action")));
  g_signal_emit_by_name (window_test_get (bar, "message-close"), "clicked");
  g_assert_null (fettle_message_bar_get_said (FETTLE_MESSAGE_BAR (bar)));
  g_assert_finalize_object (bar);
}

static void
test_pair (void)
{
  GtkWidget *first = gtk_label_new ("first"), *second = gtk_label_new ("second");
  GtkWidget *pair = g_object_ref_sink (fettle_pair_new (first, second, 200));
  int one, wide, narrow;

  gtk_widget_measure (first, GTK_ORIENTATION_VERTICAL, -1, NULL, &one, NULL, NULL);
  gtk_widget_measure (pair, GTK_ORIENTATION_VERTICAL, 600, NULL, &wide, NULL, NULL);
  gtk_widget_measure (pair, GTK_ORIENTATION_VERTICAL, 300, NULL, &narrow, NULL, NULL);
  g_assert_cmpint (wide, ==, one);
  g_assert_cmpint (narrow, >=, 2 * one);
  gtk_widget_set_visible (second, FALSE);
  gtk_widget_measure (pair, GTK_ORIENTATION_VERTICAL, 300, NULL, &narrow, NULL, NULL);
  g_assert_cmpint (narrow, ==, one);
  g_assert_finalize_object (pair);
}

/* The first keeps its width, the second is measured for what is left, and a hidden one takes nothing. */
static void
test_beside (void)
{
  GtkWidget *first = gtk_label_new ("sign");
  GtkWidget *second = g_object_new (GTK_TYPE_LABEL, "label", "a sentence of some words that has to wrap", "wrap", TRUE, NULL);
  GtkWidget *beside = g_object_ref_sink (fettle_beside_new (first, second, 10));
  int width, wrapped, expected;

  gtk_widget_measure (first, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &width, NULL, NULL);
  gtk_widget_measure (second, GTK_ORIENTATION_VERTICAL, 150 - width - 10, NULL, &expected, NULL, NULL);
  gtk_widget_measure (beside, GTK_ORIENTATION_VERTICAL, 150, NULL, &wrapped, NULL, NULL);
  g_assert_cmpint (wrapped, ==, expected);
  gtk_widget_set_visible (first, FALSE);
  gtk_widget_measure (second, GTK_ORIENTATION_VERTICAL, 150, NULL, &expected, NULL, NULL);
  gtk_widget_measure (beside, GTK_ORIENTATION_VERTICAL, 150, NULL, &wrapped, NULL, NULL);
  g_assert_cmpint (wrapped, ==, expected);
  g_assert_finalize_object (beside);
}

static GtkWidget *
make_detail (guint row, gpointer data)
{
  g_autofree char *name = g_strdup_printf ("detail-%u", row);
  GtkWidget *label = gtk_label_new (name);

  gtk_widget_set_name (label, name);
  return label;
}

static void
test_ledger (void)
{
  const FettleLedgerColumn columns[] = { { "Name", FALSE, TRUE, 0 }, { "n", TRUE, FALSE, 0 } };
  GtkWidget *window = gtk_window_new ();
  GtkWidget *widget = fettle_ledger_new (columns, 2, "things");
  FettleLedger *ledger = FETTLE_LEDGER (widget);

  gtk_window_set_child (GTK_WINDOW (window), widget);
  fettle_ledger_set_detail (ledger, make_detail, NULL);
  fettle_ledger_add (ledger, (const char *[]){ "one", "1" }, "one, 1", NULL);
  fettle_ledger_add (ledger, (const char *[]){ "two", "2" }, "two, 2", "open");
  g_assert_cmpint (fettle_ledger_get_selected (ledger), ==, -1);
  fettle_ledger_select (ledger, 1, FALSE);
  g_assert_nonnull (window_test_find (widget, "detail-1"));
  fettle_ledger_select (ledger, 0, FALSE);
  g_assert_null (window_test_find (widget, "detail-1")); /* one row is open at a time */
  g_assert_nonnull (window_test_find (widget, "detail-0"));
  fettle_ledger_clear (ledger);
  g_assert_null (window_test_find (widget, "detail-0"));
  g_assert_cmpint (fettle_ledger_get_selected (ledger), ==, -1);
  gtk_window_destroy (GTK_WINDOW (window));
  window_test_settle ();
}

static double
left_of (GtkWidget *widget, GtkWidget *root, const char *text)
{
  graphene_rect_t bounds;
  double left = -1.0;

  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL && left < 0.0; child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_LABEL (child) && g_str_equal (gtk_label_get_label (GTK_LABEL (child)), text))
      {
        g_assert_true (gtk_widget_compute_bounds (child, widget, &bounds));
        left = bounds.origin.x;
      }
    else
      left = left_of (widget, child, text);
  return left;
}

/* A later row that is wider moves the head too; the borders of head and rows may differ by some dots. */
static void
test_ledger_widths (void)
{
  const FettleLedgerColumn columns[] = { { "Name", FALSE, TRUE, 0 }, { "Says", FALSE, FALSE, 0 } };
  GtkWidget *window = gtk_window_new ();
  GtkWidget *widget = fettle_ledger_new (columns, 2, "things");
  FettleLedger *ledger = FETTLE_LEDGER (widget);
  double before, after;

  gtk_window_set_default_size (GTK_WINDOW (window), 600, 300);
  gtk_window_set_child (GTK_WINDOW (window), widget);
  fettle_ledger_add (ledger, (const char *[]){ "one", "short" }, "one, short", NULL);
  gtk_window_present (GTK_WINDOW (window));
  window_test_settle ();
  before = left_of (widget, widget, "Says");
  g_assert_cmpfloat_with_epsilon (left_of (widget, widget, "short") - before, 0.0, 3.0);
  fettle_ledger_add (ledger, (const char *[]){ "two", "much wider than that" }, "two, much wider than that", NULL);
  window_test_settle ();
  after = left_of (widget, widget, "Says");
  g_assert_cmpfloat (after, <, before - 20.0);
  g_assert_cmpfloat_with_epsilon (left_of (widget, widget, "short") - after, 0.0, 3.0);
  g_assert_cmpfloat_with_epsilon (left_of (widget, widget, "much wider than that") - after, 0.0, 3.0);
  fettle_ledger_change (ledger, 1, (const char *[]){ "two", "less" }, "two, less", NULL);
  window_test_settle ();
  after = left_of (widget, widget, "Says");
  g_assert_cmpfloat_with_epsilon (after - before, 0.0, 3.0);
  g_assert_cmpfloat_with_epsilon (left_of (widget, widget, "less") - after, 0.0, 3.0);
  gtk_window_destroy (GTK_WINDOW (window));
  window_test_settle ();
}

/* A row made of 30 units, one of 13 and one of none. */
static PresentSheet *
sheet_of_many (void)
{
  static const guint n[] = { 30, 13, 0 };
  PresentSheet *sheet = present_sheet_new ("Yield by step");

  present_sheet_add_column (sheet, "Step", FALSE, TRUE, 0);
  present_sheet_add_column (sheet, "Pieces", TRUE, FALSE, 0);
  for (guint row = 0; row < G_N_ELEMENTS (n); row++)
    {
      present_sheet_add_row (sheet, NULL, 0, FALSE, PRESENT_CELLS (g_strdup_printf ("Step %u", row + 1), g_strdup_printf ("%u", n[row])));
      for (guint i = 0; i < n[row]; i++)
        present_sheet_add_source (sheet, "unit", 1 + i, g_strdup_printf ("P1-%03u", 1 + i));
    }
  return sheet;
}

static guint
count_buttons (GtkWidget *view)
{
  guint n = 0;

  for (GtkWidget *each = gtk_widget_get_first_child (window_test_get (view, "sheet-sources")); each != NULL;
       each = gtk_widget_get_next_sibling (each))
    n += GTK_IS_BUTTON (each);
  return n;
}

/* For eyes, where FETTLE_WIDGET_PICTURES names a folder. */
static void
take_picture (GtkWidget *window, const char *name)
{
  const char *folder = g_getenv ("FETTLE_WIDGET_PICTURES");
  g_autofree char *path = folder != NULL ? g_build_filename (folder, name, NULL) : NULL;

  window_test_settle ();
  if (path != NULL)
    g_assert_true (window_test_picture (window, path));
}

/* Of many records a few are shown, and all of them when they are asked for; they stay so when the rows are made anew. */
static void
test_many_sources (void)
{
  GtkWidget *window = gtk_window_new (), *view = fettle_sheet_view_new ("sheet");
  g_autoptr(PresentSheet) sheet = sheet_of_many ();
  FettleLedger *ledger;
  GtkWidget *focus;

  gtk_widget_add_css_class (window, "fettle");
  gtk_window_set_default_size (GTK_WINDOW (window), 640, 480);
  gtk_window_set_child (GTK_WINDOW (window), view);
  fettle_sheet_view_set (FETTLE_SHEET_VIEW (view), sheet);
  gtk_window_present (GTK_WINDOW (window));
  ledger = FETTLE_LEDGER (window_test_get (view, "sheet"));
  fettle_ledger_select (ledger, 1, TRUE);
  g_assert_cmpuint (count_buttons (view), ==, 13); /* one more needs no more room than the button for it */
  fettle_ledger_select (ledger, 0, TRUE);
  g_assert_cmpuint (count_buttons (view), ==, 13);
  take_picture (window, "sources-few.png");
  focus = window_test_get (view, "sheet-all-sources");
  g_assert_cmpstr (gtk_button_get_label (GTK_BUTTON (focus)), ==, "All 30…");
  gtk_widget_grab_focus (focus);
  g_signal_emit_by_name (focus, "clicked");
  window_test_settle ();
  g_assert_cmpuint (count_buttons (view), ==, 30);
  g_assert_null (window_test_find (view, "sheet-all-sources"));
  focus = gtk_window_get_focus (GTK_WINDOW (window));
  g_assert_cmpstr (fettle_tip_get (focus), ==, "P1-013"); /* the first that was not there before */
  take_picture (window, "sources-all.png");

  fettle_sheet_view_set (FETTLE_SHEET_VIEW (view), sheet);
  g_assert_cmpuint (count_buttons (view), ==, 30);
  g_assert_cmpstr (fettle_tip_get (gtk_window_get_focus (GTK_WINDOW (window))), ==, "P1-013");
  gtk_window_destroy (GTK_WINDOW (window));
  window_test_settle ();
}

/* The style sheets have no mistake (a mistake warns, and warnings are fatal), and both looks can be changed to. */
static void
test_look (void)
{
  fettle_look_load (gdk_display_get_default ());
  fettle_look_choose (FETTLE_LOOK_DARK);
  g_assert_true (fettle_look_is_dark ());
  g_assert_cmpint (fettle_look_chart (), ==, CHART_LOOK_DARK);
  fettle_look_choose (FETTLE_LOOK_LIGHT);
  g_assert_false (fettle_look_is_dark ());
}

/* Whoever goes before all fonts are loaded goes; so does whoever asks once more. */
static void
test_warm (void)
{
  for (int i = 0; i < 2; i++)
    {
      GtkWidget *window = gtk_window_new ();

      g_object_ref (window);
      fettle_warm_fonts (window);
      gtk_window_destroy (GTK_WINDOW (window));
      window_test_settle ();
      g_assert_finalize_object (window);
    }
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  fettle_look_load (gdk_display_get_default ());
  g_test_add_func ("/window/widgets/are-finalized", test_finalized);
  g_test_add_func ("/window/widgets/notify-once-and-only-on-change", test_notify);
  g_test_add_func ("/window/strip/keys-choose-rounds", test_strip_keys);
  g_test_add_func ("/window/strip/follows-the-newest-round", test_strip_follows);
  g_test_add_func ("/window/chart/keys-walk-the-marks", test_chart_keys);
  g_test_add_func ("/window/chart/its-data-stand-as-a-table-in-its-place", test_chart_table);
  g_test_add_func ("/window/chart/is-copied-as-picture-or-as-table", test_chart_copy);
  g_test_add_func ("/window/message/the-last-sentence-stands", test_message);
  g_test_add_func ("/window/pair/stacks-when-narrow", test_pair);
  g_test_add_func ("/window/beside/measures-what-is-left", test_beside);
  g_test_add_func ("/window/ledger/opens-one-row", test_ledger);
  g_test_add_func ("/window/ledger/a-wider-row-moves-the-head-too", test_ledger_widths);
  g_test_add_func ("/window/sheet/of-many-records-a-few-are-shown", test_many_sources);
  g_test_add_func ("/window/look/style-sheets-are-clean", test_look);
  g_test_add_func ("/window/look/loading-fonts-keeps-no-window", test_warm);
  return g_test_run ();
}
