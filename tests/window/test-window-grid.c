/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The keys of a grid as a table of state, key and state, on a source of texts that is made up here. */
#include "config.h"

#include "look.h"
#include "table-private.h"
#include "window-test.h"

#define ROWS    60
#define COLUMNS 5 /* the first stays at the left */
#define LOCKED  3 /* row 2 has nothing to type here */

/* ---- a source ---- */

#define TEST_TYPE_TEXTS (test_texts_get_type ())
G_DECLARE_FINAL_TYPE (TestTexts, test_texts, TEST, TEXTS, GObject)

struct _TestTexts
{
  GObject parent_instance;

  char *cells[ROWS][COLUMNS];
  guint puts;
  guint clears;
};

static void test_texts_source_init (FettleTableSourceInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (TestTexts, test_texts, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_TABLE_SOURCE, test_texts_source_init))

static const FettleTableColumn *
texts_columns (FettleTableSource *source, guint *n)
{
  static const FettleTableColumn columns[COLUMNS]
      = { { "Unit", 6, FALSE, FALSE, 0 }, { "A", 8, TRUE, FALSE, 0 }, { "B", 8, TRUE, FALSE, 0 }, { "C", 8, TRUE, FALSE, 0 }, { "D", 8, TRUE, FALSE, 0 } };

  *n = COLUMNS;
  return columns;
}

static guint
texts_n_rows (FettleTableSource *source)
{
  return ROWS;
}

static char *
texts_text (FettleTableSource *source, guint row, guint column, FettleTableTone *tone, gboolean *pending)
{
  const char *text = TEST_TEXTS (source)->cells[row][column];

  return column == 0 ? g_strdup_printf ("U%u", row + 1) : g_strdup (text != NULL ? text : "");
}

static gboolean
texts_editable (FettleTableSource *source, guint row, guint column)
{
  return column > 0 && !(row == 2 && column == LOCKED);
}

static char *
texts_commit (FettleTableSource *source, guint row, guint column, const char *text)
{
  TestTexts *self = TEST_TEXTS (source);

  if (g_str_equal (text, "x"))
    return g_strdup ("'x' is no number.");
  g_free (self->cells[row][column]);
  self->cells[row][column] = g_strdup (text);
  return NULL;
}

static char *
texts_describe (FettleTableSource *source, guint row, guint column)
{
  return g_strdup_printf ("row %u column %u", row, column);
}

static char *
texts_put (FettleTableSource *source, guint row, guint column, const char *const *texts, guint n_rows, guint n_columns)
{
  TEST_TEXTS (source)->puts++;
  for (guint i = 0; i < n_rows * n_columns; i++)
    if (texts[i] != NULL)
      g_free (texts_commit (source, row + i / n_columns, column + i % n_columns, texts[i]));
  return NULL;
}

static char *
texts_clear (FettleTableSource *source, guint row, guint column, guint n_rows, guint n_columns)
{
  TEST_TEXTS (source)->clears += n_rows * n_columns;
  return NULL;
}

static void
test_texts_source_init (FettleTableSourceInterface *iface)
{
  iface->columns = texts_columns;
  iface->n_rows = texts_n_rows;
  iface->dup_text = texts_text;
  iface->editable = texts_editable;
  iface->commit = texts_commit;
  iface->describe = texts_describe;
  iface->put = texts_put;
  iface->clear = texts_clear;
}

static void
test_texts_finalize (GObject *object)
{
  TestTexts *self = TEST_TEXTS (object);

  for (guint row = 0; row < ROWS; row++)
    for (guint column = 0; column < COLUMNS; column++)
      g_free (self->cells[row][column]);
  G_OBJECT_CLASS (test_texts_parent_class)->finalize (object);
}

static void
test_texts_class_init (TestTextsClass *class)
{
  G_OBJECT_CLASS (class)->finalize = test_texts_finalize;
}

static void
test_texts_init (TestTexts *self)
{
}

/* ---- the grid ---- */

typedef struct
{
  GtkWidget   *window;
  FettleTable *table;
  TestTexts   *texts;
} Grid;

static void
open_grid (Grid *grid)
{
  GtkWidget *scrolled = gtk_scrolled_window_new ();

  grid->window = gtk_window_new ();
  gtk_widget_add_css_class (grid->window, "fettle");
  grid->table = FETTLE_TABLE (fettle_table_new ());
  grid->texts = g_object_new (TEST_TYPE_TEXTS, NULL);
  fettle_table_set_grid (grid->table, 1);
  fettle_table_set_source (grid->table, FETTLE_TABLE_SOURCE (grid->texts));
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), GTK_WIDGET (grid->table));
  gtk_window_set_child (GTK_WINDOW (grid->window), scrolled);
  gtk_window_set_default_size (GTK_WINDOW (grid->window), 420, 360);
  gtk_window_present (GTK_WINDOW (grid->window));
  window_test_settle ();
  gtk_widget_grab_focus (GTK_WIDGET (grid->table));
}

static void
close_grid (Grid *grid)
{
  gtk_window_destroy (GTK_WINDOW (grid->window));
  window_test_settle ();
  g_object_unref (grid->texts);
}

#define SHIFT GDK_SHIFT_MASK
#define CTRL  GDK_CONTROL_MASK
#define END   (ROWS - 1)

/*
 * @typed: what is being typed before the key; NULL: moving. @mends: begun with F2, so that arrows stay in the cell.
 * @taken: the key means something to the grid; else it goes on. @rows, @columns: what is selected after.
 */
typedef struct
{
  guint           row;
  guint           column;
  gboolean        right;
  const char     *typed;
  gboolean        mends;
  guint           key;
  GdkModifierType state;
  gboolean        taken;
  guint           to_row;
  guint           to_column;
  gboolean        editing;
  guint           rows;
  guint           columns;
} Step;

static const Step steps[] = {
  /* moving: arrows stop at the edges */
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Up, 0, TRUE, 4, 2, FALSE, 1, 1 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Down, 0, TRUE, 6, 2, FALSE, 1, 1 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Left, 0, TRUE, 5, 1, FALSE, 1, 1 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Right, 0, TRUE, 5, 3, FALSE, 1, 1 },
  { 0, 1, FALSE, NULL, FALSE, GDK_KEY_Up, 0, TRUE, 0, 1, FALSE, 1, 1 },
  { 0, 1, FALSE, NULL, FALSE, GDK_KEY_Left, 0, TRUE, 0, 1, FALSE, 1, 1 }, /* never into what stays at the left */
  { END, 4, FALSE, NULL, FALSE, GDK_KEY_Down, 0, TRUE, END, 4, FALSE, 1, 1 },
  { END, 4, FALSE, NULL, FALSE, GDK_KEY_Right, 0, TRUE, END, 4, FALSE, 1, 1 },
  /* with Ctrl to the edge */
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Up, CTRL, TRUE, 0, 2, FALSE, 1, 1 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Down, CTRL, TRUE, END, 2, FALSE, 1, 1 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Left, CTRL, TRUE, 5, 1, FALSE, 1, 1 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Right, CTRL, TRUE, 5, 4, FALSE, 1, 1 },
  /* Home and End along the row, with Ctrl the first and last cell */
  { 5, 3, FALSE, NULL, FALSE, GDK_KEY_Home, 0, TRUE, 5, 1, FALSE, 1, 1 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_End, 0, TRUE, 5, 4, FALSE, 1, 1 },
  { 5, 3, FALSE, NULL, FALSE, GDK_KEY_Home, CTRL, TRUE, 0, 1, FALSE, 1, 1 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_End, CTRL, TRUE, END, 4, FALSE, 1, 1 },
  /* with Shift what is selected grows */
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Down, SHIFT, TRUE, 6, 2, FALSE, 2, 1 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Left, SHIFT, TRUE, 5, 1, FALSE, 1, 2 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_End, CTRL | SHIFT, TRUE, END, 4, FALSE, END - 4, 3 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_a, CTRL, TRUE, 0, 1, FALSE, ROWS, 4 },
  /* Tab goes along the row and on to the next; past the last cell it leaves, as does Ctrl+Tab anywhere */
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Tab, 0, TRUE, 5, 3, FALSE, 1, 1 },
  { 5, 4, FALSE, NULL, FALSE, GDK_KEY_Tab, 0, TRUE, 6, 1, FALSE, 1, 1 },
  { 5, 1, FALSE, NULL, FALSE, GDK_KEY_ISO_Left_Tab, SHIFT, TRUE, 4, 4, FALSE, 1, 1 },
  { END, 4, FALSE, NULL, FALSE, GDK_KEY_Tab, 0, FALSE, END, 4, FALSE, 1, 1 },
  { 0, 1, FALSE, NULL, FALSE, GDK_KEY_ISO_Left_Tab, SHIFT, FALSE, 0, 1, FALSE, 1, 1 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Tab, CTRL, FALSE, 5, 2, FALSE, 1, 1 },
  { 5, 2, FALSE, "1", FALSE, GDK_KEY_Tab, CTRL, FALSE, 5, 2, TRUE, 1, 1 },
  { 2, 2, FALSE, NULL, FALSE, GDK_KEY_Tab, 0, TRUE, 2, 4, FALSE, 1, 1 }, /* over what cannot be typed into */
  /* Enter goes down, or right; from the end to the next column, or row; with Shift back */
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Return, 0, TRUE, 6, 2, FALSE, 1, 1 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Return, SHIFT, TRUE, 4, 2, FALSE, 1, 1 },
  { END, 2, FALSE, NULL, FALSE, GDK_KEY_Return, 0, TRUE, 0, 3, FALSE, 1, 1 },
  { 1, LOCKED, FALSE, NULL, FALSE, GDK_KEY_Return, 0, TRUE, 3, LOCKED, FALSE, 1, 1 },
  { 5, 2, TRUE, NULL, FALSE, GDK_KEY_Return, 0, TRUE, 5, 3, FALSE, 1, 1 },
  { 5, 4, TRUE, NULL, FALSE, GDK_KEY_KP_Enter, 0, TRUE, 6, 1, FALSE, 1, 1 },
  { END, 4, FALSE, NULL, FALSE, GDK_KEY_Return, 0, TRUE, END, 4, FALSE, 1, 1 },
  /* typing writes over, F2 mends, Escape takes back */
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_7, 0, TRUE, 5, 2, TRUE, 1, 1 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_greater, SHIFT, TRUE, 5, 2, TRUE, 1, 1 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_F2, 0, TRUE, 5, 2, TRUE, 1, 1 },
  { 2, LOCKED, FALSE, NULL, FALSE, GDK_KEY_7, 0, FALSE, 2, LOCKED, FALSE, 1, 1 },
  { 5, 2, FALSE, "7", FALSE, GDK_KEY_Escape, 0, TRUE, 5, 2, FALSE, 1, 1 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Escape, 0, FALSE, 5, 2, FALSE, 1, 1 },
  /* while typing: a value and Enter, as a caliper types it; arrows leave the cell, unless it is being mended */
  { 5, 2, FALSE, "7", FALSE, GDK_KEY_Return, 0, TRUE, 6, 2, FALSE, 1, 1 },
  { 5, 2, TRUE, "7", FALSE, GDK_KEY_Return, 0, TRUE, 5, 3, FALSE, 1, 1 },
  { 5, 2, FALSE, "7", FALSE, GDK_KEY_Tab, 0, TRUE, 5, 3, FALSE, 1, 1 },
  { 5, 2, FALSE, "7", FALSE, GDK_KEY_Down, 0, TRUE, 6, 2, FALSE, 1, 1 },
  { 5, 2, FALSE, "7", FALSE, GDK_KEY_Left, 0, TRUE, 5, 1, FALSE, 1, 1 },
  { 5, 2, FALSE, "7", FALSE, GDK_KEY_Home, 0, TRUE, 5, 1, FALSE, 1, 1 },
  { 5, 2, FALSE, "7", TRUE, GDK_KEY_Left, 0, FALSE, 5, 2, TRUE, 1, 1 },
  { 5, 2, FALSE, "7", TRUE, GDK_KEY_End, 0, FALSE, 5, 2, TRUE, 1, 1 },
  { 5, 2, FALSE, "7", TRUE, GDK_KEY_Down, 0, TRUE, 6, 2, FALSE, 1, 1 },
  { 5, 2, FALSE, "x", FALSE, GDK_KEY_Return, 0, TRUE, 5, 2, TRUE, 1, 1 }, /* what cannot be taken stays, and so does one */
  { 5, 2, FALSE, "x", FALSE, GDK_KEY_Down, 0, TRUE, 5, 2, TRUE, 1, 1 },
  /* others keep their keys */
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Left, GDK_ALT_MASK, FALSE, 5, 2, FALSE, 1, 1 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_Page_Down, CTRL, FALSE, 5, 2, FALSE, 1, 1 },
  { 5, 2, FALSE, NULL, FALSE, GDK_KEY_s, CTRL, FALSE, 5, 2, FALSE, 1, 1 },
};

static void
test_keys (void)
{
  Grid grid;

  open_grid (&grid);
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      const Step *step = &steps[i];
      guint row, column, rows, columns;
      gboolean taken;

      g_test_message ("step %u", i);
      fettle_table_take_back (grid.table);
      fettle_table_set_rightward (grid.table, step->right);
      fettle_table_go_to_cell (grid.table, step->row, step->column);
      if (step->typed != NULL)
        {
          g_assert_true (fettle_table_begin (grid.table, step->mends ? NULL : step->typed));
          gtk_editable_set_text (GTK_EDITABLE (grid.table->text), step->typed);
        }
      taken = window_test_press (GTK_WIDGET (grid.table), step->key, step->state);
      g_assert_cmpint (taken, ==, step->taken);
      g_assert_true (fettle_table_get_cell (grid.table, &row, &column));
      g_assert_cmpuint (row, ==, step->to_row);
      g_assert_cmpuint (column, ==, step->to_column);
      g_assert_cmpint (fettle_table_is_editing (grid.table), ==, step->editing);
      fettle_table_get_block (grid.table, &row, &column, &rows, &columns);
      g_assert_cmpuint (rows, ==, step->rows);
      g_assert_cmpuint (columns, ==, step->columns);
    }
  fettle_table_take_back (grid.table);
  close_grid (&grid);
}

/* A page is what is in view, so it is held against the view rather than a number. */
static void
test_pages (void)
{
  Grid grid;
  guint row, column;

  open_grid (&grid);
  fettle_table_go_to_cell (grid.table, 0, 2);
  g_assert_true (window_test_press (GTK_WIDGET (grid.table), GDK_KEY_Page_Down, 0));
  g_assert_true (fettle_table_get_cell (grid.table, &row, &column));
  g_assert_cmpuint (row, ==, fettle_table_page_rows (grid.table));
  g_assert_cmpuint (row, >, 3);
  g_assert_cmpuint (row, <, ROWS / 2);
  g_assert_true (window_test_press (GTK_WIDGET (grid.table), GDK_KEY_Page_Up, 0));
  g_assert_true (fettle_table_get_cell (grid.table, &row, &column));
  g_assert_cmpuint (row, ==, 0);
  close_grid (&grid);
}

static void
test_fill (void)
{
  Grid grid;
  guint row, column;

  open_grid (&grid);
  /* Ctrl+D: down from the first row of the selection. */
  grid.texts->cells[4][1] = g_strdup ("pass");
  fettle_table_go_to_cell (grid.table, 4, 1);
  for (guint i = 0; i < 5; i++)
    window_test_press (GTK_WIDGET (grid.table), GDK_KEY_Down, SHIFT);
  g_assert_true (window_test_press (GTK_WIDGET (grid.table), GDK_KEY_d, CTRL));
  for (guint i = 5; i < 10; i++)
    g_assert_cmpstr (grid.texts->cells[i][1], ==, "pass");
  g_assert_null (grid.texts->cells[10][1]);
  g_assert_cmpuint (grid.texts->puts, ==, 1); /* one deed */

  /* Ctrl+Enter: what is typed, into all that is selected. */
  fettle_table_go_to_cell (grid.table, 20, 2);
  window_test_press (GTK_WIDGET (grid.table), GDK_KEY_Down, SHIFT);
  window_test_press (GTK_WIDGET (grid.table), GDK_KEY_Right, SHIFT);
  window_test_press (GTK_WIDGET (grid.table), GDK_KEY_p, 0);
  g_assert_true (window_test_press (GTK_WIDGET (grid.table), GDK_KEY_Return, CTRL));
  g_assert_cmpstr (grid.texts->cells[20][2], ==, "p");
  g_assert_cmpstr (grid.texts->cells[21][3], ==, "p");
  g_assert_cmpuint (grid.texts->puts, ==, 2);

  /* One value pasted goes into all that is selected, a block from the corner on. */
  fettle_table_go_to_cell (grid.table, 30, 1);
  window_test_press (GTK_WIDGET (grid.table), GDK_KEY_Down, SHIFT);
  fettle_table_paste_text (grid.table, "5\n");
  g_assert_cmpstr (grid.texts->cells[30][1], ==, "5");
  g_assert_cmpstr (grid.texts->cells[31][1], ==, "5");
  fettle_table_go_to_cell (grid.table, 40, 1);
  fettle_table_paste_text (grid.table, "1\t\"a \"\"b\"\"\"\r\n\t4\r\n");
  g_assert_cmpstr (grid.texts->cells[40][2], ==, "a \"b\"");
  g_assert_null (grid.texts->cells[41][1]); /* an empty cell of the block leaves what is there alone */
  g_assert_cmpstr (grid.texts->cells[41][2], ==, "4");
  g_assert_true (fettle_table_get_cell (grid.table, &row, &column));
  g_assert_cmpuint (row, ==, 40);

  window_test_press (GTK_WIDGET (grid.table), GDK_KEY_Delete, 0);
  g_assert_cmpuint (grid.texts->clears, ==, 4); /* what was pasted is still selected */
  close_grid (&grid);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  fettle_look_load (gdk_display_get_default ());
  g_test_add_func ("/window/grid/each-key-leads-from-state-to-state", test_keys);
  g_test_add_func ("/window/grid/a-page-is-what-is-in-view", test_pages);
  g_test_add_func ("/window/grid/fills-and-pastes-as-one-deed", test_fill);
  return g_test_run ();
}
