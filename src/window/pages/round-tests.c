/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "round-tests.h"

#include <glib/gi18n.h>

#include "choice.h"
#include "tip.h"
#include "unparent.h"

#define MOST_ROWS    200
#define MOST_COLUMNS 12

/* One characteristic across. */
typedef struct
{
  gint64 id;
  char  *code;
  char  *name;
} Column;

struct _FettleRoundTests
{
  GtkWidget parent_instance;

  FettleSitting *sitting;
  GtkWidget     *box;
  GtkWidget     *grid;
  GtkWidget     *more;   /* chooses a characteristic to add */
  gint64         round;
  GPtrArray     *serials; /* char * */
  GArray        *columns; /* Column */
  GArray        *others;  /* Column: that can be added */
  gboolean       setting;
};

G_DEFINE_FINAL_TYPE (FettleRoundTests, fettle_round_tests, GTK_TYPE_WIDGET)

static void
column_clear (gpointer data)
{
  g_free (((Column *) data)->code);
  g_free (((Column *) data)->name);
}

static void
add_column (GArray *columns, const InsightRoundTestable *one)
{
  Column column = { one->id, g_strdup (one->code), g_strdup (one->name) };

  g_array_append_val (columns, column);
}

static int
find_column (const GArray *columns, gint64 id)
{
  for (guint i = 0; i < columns->len; i++)
    if (g_array_index (columns, Column, i).id == id)
      return (int) i;
  return -1;
}

/* ---- cells ---- */

static void
on_stored (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleRoundTests) self G_GNUC_UNUSED = data;
  g_autoptr(GError) error = NULL;

  if (!fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error))
    fettle_sitting_say_error (FETTLE_SITTING (source), error);
}

static const char *
sign_of (BookRoundTest test)
{
  static const char *const signs[] = { "·", "●", "✕", "→" };

  return signs[test];
}

static const char *
words_of (BookRoundTest test)
{
  switch (test)
    {
    case BOOK_ROUND_TEST_NONE:
      return _("not planned");
    case BOOK_ROUND_TEST_TESTED:
      return _("tested");
    case BOOK_ROUND_TEST_DESTROYED:
      return _("destroyed");
    case BOOK_ROUND_TEST_LENT:
      return _("lent");
    }
  return "";
}

static void
set_cell (FettleRoundTests *self, GtkWidget *cell, guint row, guint column, BookRoundTest test, const char *more)
{
  const Column *one = &g_array_index (self->columns, Column, column);
  /* Translators: serial, name of a characteristic, and what is planned */
  g_autofree char *words = g_strdup_printf (_("%s, %s: %s"), (const char *) self->serials->pdata[row], one->name,
                                            more != NULL ? more : words_of (test));

  gtk_button_set_label (GTK_BUTTON (cell), sign_of (test));
  fettle_tip_set (cell, words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (cell), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  g_object_set_data (G_OBJECT (cell), "test", GUINT_TO_POINTER (test));
}

static void
on_press (GtkWidget *cell, FettleRoundTests *self)
{
  BookRoundTest test = (GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (cell), "test")) + 1) % 4;
  guint row = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (cell), "row"));
  guint column = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (cell), "column"));

  set_cell (self, cell, row, column, test, NULL);
  fettle_sitting_edit (self->sitting,
                       book_round_set_test (self->round, self->serials->pdata[row], g_array_index (self->columns, Column, column).id, test),
                       on_stored, g_object_ref (self));
}

static void
build (FettleRoundTests *self)
{
  fettle_unparent_children (self->grid);
  for (guint c = 0; c < self->columns->len; c++)
    {
      const Column *one = &g_array_index (self->columns, Column, c);
      GtkWidget *head = g_object_new (GTK_TYPE_LABEL, "label", one->code, "css-classes",
                                      (const char *[]){ "dim", "small", NULL }, NULL);

      fettle_tip_set (head, one->name);
      gtk_grid_attach (GTK_GRID (self->grid), head, (int) c + 1, 0, 1, 1);
    }
  for (guint r = 0; r < self->serials->len && self->columns->len > 0; r++)
    {
      GtkWidget *serial = g_object_new (GTK_TYPE_LABEL, "label", self->serials->pdata[r], "xalign", 0.0f, NULL);

      gtk_grid_attach (GTK_GRID (self->grid), serial, 0, (int) r + 1, 1, 1);
      for (guint c = 0; c < self->columns->len; c++)
        {
          GtkWidget *cell = g_object_new (GTK_TYPE_BUTTON, "name", "test-cell", "css-classes", (const char *[]){ "quiet", NULL }, NULL);

          g_object_set_data (G_OBJECT (cell), "row", GUINT_TO_POINTER (r));
          g_object_set_data (G_OBJECT (cell), "column", GUINT_TO_POINTER (c));
          g_signal_connect (cell, "clicked", G_CALLBACK (on_press), self);
          set_cell (self, cell, r, c, BOOK_ROUND_TEST_NONE, NULL);
          gtk_grid_attach (GTK_GRID (self->grid), cell, (int) c + 1, (int) r + 1, 1, 1);
        }
    }
}

/* ---- columns ---- */

static void
fill_choice (FettleRoundTests *self)
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);

  gtk_string_list_append (names, _("Add a test of…"));
  for (guint i = 0; i < self->others->len; i++)
    {
      const Column *one = &g_array_index (self->others, Column, i);
      g_autofree char *name = g_strdup_printf ("%s %s", one->code, one->name);

      gtk_string_list_append (names, name);
    }
  self->setting = TRUE;
  fettle_choice_set_names (GTK_DROP_DOWN (self->more), G_LIST_MODEL (names));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->more), 0);
  self->setting = FALSE;
  gtk_widget_set_visible (self->more, self->others->len > 0 && self->columns->len < MOST_COLUMNS && self->serials->len > 0);
}


static void
on_add (FettleRoundTests *self)
{
  guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->more));
  Column *one;
  Column column;

  if (self->setting || chosen == 0 || chosen == GTK_INVALID_LIST_POSITION || chosen > self->others->len)
    return;
  one = &g_array_index (self->others, Column, chosen - 1);
  column = (Column){ one->id, g_strdup (one->code), g_strdup (one->name) };
  g_array_append_val (self->columns, column);
  g_array_remove_index (self->others, chosen - 1);
  build (self);
  fill_choice (self);
}

/* ---- a round ---- */

static int
find_serial (const GPtrArray *serials, const char *serial)
{
  for (guint i = 0; i < serials->len; i++)
    if (g_str_equal (serials->pdata[i], serial))
      return (int) i;
  return -1;
}

static int
compare_serials (gconstpointer a, gconstpointer b)
{
  return book_serial_compare (*(const char *const *) a, *(const char *const *) b);
}

/* Built units, units that are named for tests, and as many as are planned, in the way serials are written here. */
static GPtrArray *
list_serials (const InsightRound *round)
{
  GPtrArray *serials = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < round->units->len && serials->len < MOST_ROWS; i++)
    g_ptr_array_add (serials, g_strdup (g_array_index (round->units, InsightRoundUnit, i).serial));
  for (guint i = 0; i < round->tests->len && serials->len < MOST_ROWS; i++)
    if (find_serial (serials, g_array_index (round->tests, InsightRoundTest, i).serial) < 0)
      g_ptr_array_add (serials, g_strdup (g_array_index (round->tests, InsightRoundTest, i).serial));
  for (guint i = 1; i <= round->planned_units && serials->len < MIN (round->planned_units, MOST_ROWS); i++)
    {
      g_autofree char *serial = g_strdup_printf ("%s-%02u", round->label, i);

      if (find_serial (serials, serial) < 0)
        g_ptr_array_add (serials, g_steal_pointer (&serial));
    }
  g_ptr_array_sort (serials, compare_serials);
  return serials;
}

static void
fill_cells (FettleRoundTests *self, const InsightRound *round)
{
  for (guint r = 0; r < self->serials->len; r++)
    for (guint c = 0; c < self->columns->len; c++)
      {
        GtkWidget *cell = gtk_grid_get_child_at (GTK_GRID (self->grid), (int) c + 1, (int) r + 1);
        BookRoundTest test = BOOK_ROUND_TEST_NONE;
        g_autofree char *more = NULL;

        for (guint i = 0; i < round->tests->len; i++)
          {
            const InsightRoundTest *row = &g_array_index (round->tests, InsightRoundTest, i);

            if (row->characteristic != g_array_index (self->columns, Column, c).id || !g_str_equal (row->serial, self->serials->pdata[r]))
              continue;
            test = row->destroyed ? BOOK_ROUND_TEST_DESTROYED : row->lent ? BOOK_ROUND_TEST_LENT : BOOK_ROUND_TEST_TESTED;
            g_free (more);
            more = present_round_test (row);
          }
        set_cell (self, cell, r, c, test, more);
      }
}

static gboolean
same_serials (const GPtrArray *a, const GPtrArray *b)
{
  if (a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    if (!g_str_equal (a->pdata[i], b->pdata[i]))
      return FALSE;
  return TRUE;
}

static gboolean
is_tested (const InsightRound *round, gint64 characteristic)
{
  for (guint i = 0; i < round->tests->len; i++)
    if (g_array_index (round->tests, InsightRoundTest, i).characteristic == characteristic)
      return TRUE;
  return FALSE;
}

/**
 * fettle_round_tests_show:
 * @self: a table
 * @rounds: all rounds, for what can be tested
 * @round: the one that is shown
 *
 * Shows what is planned. Of the round that is shown already only the cells are written, so that the keyboard stays.
 */
void
fettle_round_tests_show (FettleRoundTests *self, const InsightRounds *rounds, const InsightRound *round)
{
  g_autoptr(GPtrArray) serials = list_serials (round);
  gboolean anew = self->round != round->id || !same_serials (self->serials, serials);

  g_return_if_fail (FETTLE_IS_ROUND_TESTS (self));

  if (self->round != round->id)
    {
      g_array_set_size (self->columns, 0);
      g_array_set_size (self->others, 0);
    }
  self->round = round->id;
  for (guint i = 0; i < rounds->testables->len; i++)
    {
      const InsightRoundTestable *one = &g_array_index (rounds->testables, InsightRoundTestable, i);
      gboolean shown = is_tested (round, one->id) || one->destructive;
      int other = find_column (self->others, one->id);

      if (find_column (self->columns, one->id) >= 0)
        continue;
      if (shown && self->columns->len < MOST_COLUMNS)
        {
          add_column (self->columns, one);
          anew = TRUE;
          if (other >= 0)
            g_array_remove_index (self->others, (guint) other);
        }
      else if (other < 0)
        add_column (self->others, one);
    }
  if (anew)
    {
      g_ptr_array_unref (self->serials);
      self->serials = g_steal_pointer (&serials);
      build (self);
    }
  fill_choice (self);
  fill_cells (self, round);
}

/* ---- as a widget ---- */

static void
fettle_round_tests_dispose (GObject *object)
{
  FettleRoundTests *self = FETTLE_ROUND_TESTS (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_round_tests_parent_class)->dispose (object);
}

static void
fettle_round_tests_finalize (GObject *object)
{
  FettleRoundTests *self = FETTLE_ROUND_TESTS (object);

  g_ptr_array_unref (self->serials);
  g_array_unref (self->columns);
  g_array_unref (self->others);
  G_OBJECT_CLASS (fettle_round_tests_parent_class)->finalize (object);
}

static void
fettle_round_tests_class_init (FettleRoundTestsClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_round_tests_dispose;
  G_OBJECT_CLASS (class)->finalize = fettle_round_tests_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
fettle_round_tests_init (FettleRoundTests *self)
{
  static const char *const none[] = { NULL };
  GtkWidget *legend = g_object_new (GTK_TYPE_LABEL, "label", _("● tested   ✕ destroyed   → lent   · not planned"), "xalign", 0.0f,
                                    "css-classes", (const char *[]){ "dim", NULL }, NULL);
  GtkWidget *scroll;

  self->serials = g_ptr_array_new_with_free_func (g_free);
  self->columns = g_array_new (FALSE, FALSE, sizeof (Column));
  g_array_set_clear_func (self->columns, column_clear);
  self->others = g_array_new (FALSE, FALSE, sizeof (Column));
  g_array_set_clear_func (self->others, column_clear);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_box_append (GTK_BOX (self->box), legend);
  self->grid = g_object_new (GTK_TYPE_GRID, "column-spacing", 8, "name", "round-tests", NULL);
  scroll = g_object_new (GTK_TYPE_SCROLLED_WINDOW, "vscrollbar-policy", GTK_POLICY_NEVER, "child", self->grid, NULL);
  gtk_box_append (GTK_BOX (self->box), scroll);
  self->more = gtk_drop_down_new_from_strings (none);
  gtk_widget_set_name (self->more, "add-test");
  gtk_widget_set_halign (self->more, GTK_ALIGN_START);
  fettle_choice_set_up (GTK_DROP_DOWN (self->more), _("Add a test"));
  g_signal_connect_object (self->more, "notify::selected", G_CALLBACK (on_add), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (self->box), self->more);
}

/**
 * fettle_round_tests_new:
 * @sitting: to write
 *
 * Returns: the table, empty until a round is shown
 */
GtkWidget *
fettle_round_tests_new (FettleSitting *sitting)
{
  FettleRoundTests *self = g_object_new (FETTLE_TYPE_ROUND_TESTS, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}
