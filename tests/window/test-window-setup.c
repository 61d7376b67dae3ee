/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Set-up page on a book: kinds and their counts, rows added, changed and deleted by keys, undo, and looking for something. */
#include "config.h"

#include <string.h>

#include "book-setup.h"
#include "choice-editor.h"
#include "record-form.h"
#include "table-private.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

typedef WindowTestFixture Fixture;

static GtkWidget *
get (Fixture *fixture, const char *name)
{
  return window_test_get (window_test_page (fixture->window), name);
}

static FettleTable *
table (Fixture *fixture)
{
  return FETTLE_TABLE (get (fixture, "setup-table"));
}

static void
settle (Fixture *fixture)
{
  window_test_settle ();
  window_test_wait_answers (fixture->window);
}

static void
wait_rows (Fixture *fixture, guint n)
{
  window_test_wait_rows (fixture->window, "setup-table", n);
  settle (fixture);
}

static void
choose_kind (Fixture *fixture, const char *kind)
{
  GtkListBox *list = GTK_LIST_BOX (get (fixture, "setup-kinds"));

  gtk_list_box_select_row (list, GTK_LIST_BOX_ROW (window_test_get (GTK_WIDGET (list), kind)));
  settle (fixture);
}

static void
act (Fixture *fixture, const char *what)
{
  window_test_act (fixture->window, "win.setup", what);
  settle (fixture);
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  window_test_set_up (fixture, "setup");
  settle (fixture);
}

static char *
words (Fixture *fixture, guint row)
{
  return fettle_table_source_describe (table (fixture)->source, row, 0);
}

static const char *
label (Fixture *fixture, const char *name)
{
  return gtk_label_get_label (GTK_LABEL (get (fixture, name)));
}

static void
type (Fixture *fixture, const char *form, const char *field, const char *text)
{
  window_test_type (window_test_get (get (fixture, "setup-detail"), form), field, text);
  window_test_settle ();
}

static void
save (Fixture *fixture, const char *form)
{
  fettle_record_form_save (FETTLE_RECORD_FORM (window_test_get (get (fixture, "setup-detail"), form)));
  settle (fixture);
}

/* A row by the keys of the page, with its code, unless it has none, and its name. */
static void
add (Fixture *fixture, const char *form, const char *code, const char *name)
{
  guint before = fettle_table_n_rows (table (fixture));

  act (fixture, "add");
  if (code != NULL)
    type (fixture, form, "code", code);
  type (fixture, form, "name", name);
  save (fixture, form);
  wait_rows (fixture, before + 1);
}

static void
test_kinds (Fixture *fixture, gconstpointer data)
{
  guint n;
  const BookSetupKind *kinds = book_setup_kinds (&n);

  for (guint i = 0; i < n; i++)
    {
      const BookRecord *record = book_record (kinds[i].record);

      choose_kind (fixture, record->name);
      g_assert_true (fettle_table_n_rows (table (fixture)) > 0 || table (fixture)->placeholder != NULL);
      g_assert_cmpuint (strlen (label (fixture, "setup-purpose")), >, 20);
      if (record->id == BOOK_RECORD_CRITERION_TERM)
        g_assert_nonnull (strstr (label (fixture, "setup-purpose"), "99.99")); /* of safety, where nobody says otherwise */
      g_assert_nonnull (window_test_find (get (fixture, "setup-detail"), record->name));
      window_test_count_named (get (fixture, "setup-page"));
    }
}

static void
test_added (Fixture *fixture, gconstpointer data)
{
  g_autofree char *added = NULL;
  guint before;

  choose_kind (fixture, "supplier");
  before = fettle_table_n_rows (table (fixture));
  add (fixture, "supplier", NULL, "Wire works north");
  added = words (fixture, table (fixture)->row);
  g_assert_nonnull (strstr (added, "Wire works north"));
  g_assert_true (gtk_widget_has_focus (GTK_WIDGET (table (fixture)))); /* and on by keys */
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo", NULL);
  wait_rows (fixture, before);
}

/* What is refused stays typed, and says why beside the field. */
static void
test_refused (Fixture *fixture, gconstpointer data)
{
  guint before;

  choose_kind (fixture, "characteristic");
  before = fettle_table_n_rows (table (fixture));
  act (fixture, "add");
  save (fixture, "characteristic");
  g_assert_cmpuint (fettle_table_n_rows (table (fixture)), ==, before);
  type (fixture, "characteristic", "code", "NEW");
  type (fixture, "characteristic", "name", "Something new");
  save (fixture, "characteristic");
  wait_rows (fixture, before + 1);
}

static void
test_deleted (Fixture *fixture, gconstpointer data)
{
  guint before;

  choose_kind (fixture, "characteristic");
  before = fettle_table_n_rows (table (fixture));
  add (fixture, "characteristic", "ZZZ", "Goes again");
  window_test_press (GTK_WIDGET (table (fixture)), GDK_KEY_Delete, 0); /* nothing goes along: it goes at once */
  wait_rows (fixture, before);
  g_assert_false (gtk_widget_get_visible (get (fixture, "setup-going")));
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo", NULL);
  wait_rows (fixture, before + 1);
}

/* A model with rounds and readings names them, and stays until somebody says so. */
static void
test_named (Fixture *fixture, gconstpointer data)
{
  choose_kind (fixture, "gauge");
  choose_kind (fixture, "characteristic");
  fettle_table_go (table (fixture), 0);
  act (fixture, "remove");
  g_assert_true (gtk_widget_get_visible (get (fixture, "setup-going")));
  g_test_message ("%s", label (fixture, "setup-going-words"));
  g_assert_cmpuint (strlen (label (fixture, "setup-going-words")), >, 20);
  g_signal_emit_by_name (get (fixture, "setup-going-keep"), "clicked");
  settle (fixture);
  g_assert_false (gtk_widget_get_visible (get (fixture, "setup-going")));
}

/* What a criterion asks for stands beside it in words, and is asked for otherwise by the fields of its kind alone. */
static void
test_terms (Fixture *fixture, gconstpointer data)
{
  GtkWidget *form, *share;

  choose_kind (fixture, "gate");
  if (fettle_table_n_rows (table (fixture)) == 0)
    add (fixture, "gate", NULL, "Release");
  choose_kind (fixture, "criterion");
  act (fixture, "add");
  type (fixture, "criterion", "code", "ZT");
  window_test_choose (window_test_get (get (fixture, "setup-detail"), "kind"), 1); /* checked */
  save (fixture, "criterion");
  window_test_wait_label (fixture->window, "terms-heading", "What ZT asks for");
  g_test_message ("%s", label (fixture, "terms-now"));
  g_assert_nonnull (strstr (label (fixture, "terms-now"), "There are no terms of its own yet."));
  g_signal_emit_by_name (get (fixture, "terms-change"), "clicked");
  settle (fixture);
  form = get (fixture, "terms-form");
  share = window_test_get (form, "share");
  g_assert_nonnull (window_test_find (form, "plan_units"));
  g_assert_null (window_test_find (form, "shape_low")); /* of a life test */
  g_assert_null (window_test_find (form, "cycles"));
  window_test_type (form, "share", "0.95");
  window_test_type (form, "confidence", "0.9");
  window_test_type (form, "plan_units", "30");
  window_test_type (form, "plan_failures", "0");
  g_assert_true (window_test_shortcut (share, GDK_KEY_Return, GDK_CONTROL_MASK));
  window_test_wait_label (fixture->window, "terms-now", "At least 95 in 100 units must conform. Wanted is a confidence of 90");
  g_assert_nonnull (strstr (label (fixture, "terms-now"), "units 30, of which may fail 0."));
  window_test_wait_undo (fixture->window);
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo", NULL);
  window_test_wait_label (fixture->window, "terms-now", "There are no terms of its own yet.");
}

typedef struct
{
  Fixture *fixture;
  gint64   model;
} Undone;

static gboolean
is_not_archived (gpointer data)
{
  const Undone *undone = data;
  g_autofree char *archived = window_test_read_field (undone->fixture->window, BOOK_RECORD_MODEL, undone->model, "archived");

  return g_str_equal (archived, "no");
}

/* A model that is put away stays with all it holds; one that is deleted names what goes along; both are undone. */
static void
test_model_away (Fixture *fixture, gconstpointer data)
{
  gint64 model;
  guint before, row;
  g_autofree char *archived = NULL;

  choose_kind (fixture, "model");
  before = fettle_table_n_rows (table (fixture));
  add (fixture, "model", "ZZ", "Begun by mistake");
  model = window_test_find_record (fixture->window, BOOK_RECORD_MODEL, "ZZ");
  g_assert_cmpint (model, !=, 0);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (window_test_get (get (fixture, "setup-detail"), "archived")), TRUE);
  save (fixture, "model");
  archived = window_test_read_field (fixture->window, BOOK_RECORD_MODEL, model, "archived");
  g_assert_cmpstr (archived, ==, "yes");
  act (fixture, "remove"); /* nothing goes along */
  wait_rows (fixture, before);
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo", NULL);
  wait_rows (fixture, before + 1);
  window_test_wait_undo (fixture->window);
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo", NULL);
  window_test_wait_redo (fixture->window);
  window_test_wait (is_not_archived, &(Undone){ fixture, model }, "the model as it was");
  g_free (archived);
  archived = window_test_read_field (fixture->window, BOOK_RECORD_MODEL, model, "archived");
  g_assert_cmpstr (archived, ==, "no");
  settle (fixture);
  g_assert_true (fettle_table_source_find (table (fixture)->source, window_test_find_record (fixture->window, BOOK_RECORD_MODEL, "M2"), &row));
  fettle_table_go (table (fixture), row);
  act (fixture, "remove");
  g_test_message ("%s", label (fixture, "setup-going-words"));
  g_assert_true (gtk_widget_get_visible (get (fixture, "setup-going")));
  g_assert_cmpuint (fettle_table_n_rows (table (fixture)), ==, before + 1);
}

static void
test_looked_for (Fixture *fixture, gconstpointer data)
{
  choose_kind (fixture, "characteristic");
  add (fixture, "characteristic", "Q7", "Quince rattle");
  choose_kind (fixture, "holiday");
  gtk_editable_set_text (GTK_EDITABLE (get (fixture, "setup-filter")), "quince");
  wait_rows (fixture, 1); /* the kind that has it comes by itself */
  g_assert_cmpstr (label (fixture, "setup-title"), ==, "Characteristics");
  g_assert_false (gtk_widget_get_visible (window_test_get (get (fixture, "setup-kinds"), "holiday")));
  g_signal_emit_by_name (get (fixture, "setup-filter"), "stop-search");
  settle (fixture);
  g_assert_true (gtk_widget_get_visible (window_test_get (get (fixture, "setup-kinds"), "holiday")));
}

/* Who types the name of a kind comes to it and sees its rows, on whatever way there other rows had the letters. */
static void
test_kind_by_name (Fixture *fixture, gconstpointer data)
{
  GtkEditable *filter = GTK_EDITABLE (get (fixture, "setup-filter"));
  int end = 3;

  choose_kind (fixture, "supplier");
  add (fixture, "supplier", NULL, "Those with revisions");
  choose_kind (fixture, "holiday");
  gtk_editable_set_text (filter, "suppliers"); /* which no supplier is called */
  wait_rows (fixture, 1);
  g_assert_cmpstr (label (fixture, "setup-title"), ==, "Suppliers");

  gtk_editable_set_text (filter, "");
  choose_kind (fixture, "holiday");
  gtk_editable_set_text (filter, "rev");
  window_test_wait_label (fixture->window, "setup-title", "Suppliers");
  gtk_editable_insert_text (filter, "isions", -1, &end);
  window_test_wait_label (fixture->window, "setup-title", "Revisions");
}

static void
test_followed (Fixture *fixture, gconstpointer data)
{
  FettleRecordForm *form;

  choose_kind (fixture, "characteristic");
  g_assert_cmpuint (fettle_table_n_rows (table (fixture)), >, 1);
  window_test_press (GTK_WIDGET (table (fixture)), GDK_KEY_Down, 0);
  settle (fixture);
  form = FETTLE_RECORD_FORM (window_test_get (get (fixture, "setup-detail"), "characteristic"));
  g_assert_cmpint (fettle_record_form_get_id (form), ==, fettle_table_source_get_key (table (fixture)->source, 1));
}

static gboolean
shows_gap (gpointer data)
{
  return strstr (label (data, "limit-heading"), "GAP") != NULL;
}

static gboolean
says_limits (gpointer data)
{
  return strstr (label (data, "limit-now"), "0.1") != NULL;
}

/* A measured characteristic without limits, in view. */
static void
add_gap (Fixture *fixture)
{
  choose_kind (fixture, "characteristic");
  act (fixture, "add");
  type (fixture, "characteristic", "code", "GAP");
  type (fixture, "characteristic", "name", "Gap of the liner");
  type (fixture, "characteristic", "unit", "mm");
  save (fixture, "characteristic");
  window_test_wait (shows_gap, fixture, "the new characteristic");
}

/* Typed as on the drawing, said back, stored by Enter, and undone. */
static void
test_limits (Fixture *fixture, gconstpointer data)
{
  GtkWidget *entry;
  g_autofree char *before = NULL;

  add_gap (fixture);
  entry = get (fixture, "limit-text");
  before = g_strdup (label (fixture, "limit-now"));
  gtk_editable_set_text (GTK_EDITABLE (entry), "0.3 about");
  g_assert_false (gtk_widget_get_sensitive (get (fixture, "limit-store")));
  g_signal_emit_by_name (entry, "activate");
  g_assert_nonnull (strstr (label (fixture, "limit-echo"), "not understood"));
  gtk_editable_set_text (GTK_EDITABLE (entry), "0.5..-0.5");
  g_assert_nonnull (strstr (label (fixture, "limit-echo"), "larger number was typed first"));
  gtk_editable_set_text (GTK_EDITABLE (entry), "0.3 +0.1 -0.2");
  g_test_message ("%s", label (fixture, "limit-echo"));
  g_assert_nonnull (strstr (label (fixture, "limit-echo"), "0.40"));
  g_signal_emit_by_name (entry, "activate");
  window_test_wait (says_limits, fixture, "the limits");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, "");
  settle (fixture);
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo", NULL);
  window_test_wait_label (fixture->window, "limit-now", before);
  settle (fixture);
  g_assert_cmpstr (label (fixture, "limit-now"), ==, before);
}

/* What is left of the width goes to a column that is there in a small window too: else the last one is cut off beside empty room. */
static void
test_growing (Fixture *fixture, gconstpointer data)
{
  guint n_kinds;
  const BookSetupKind *kinds = book_setup_kinds (&n_kinds);

  for (guint i = 0; i < n_kinds; i++)
    {
      guint n, growing = 0;
      const FettleTableColumn *columns;

      choose_kind (fixture, book_record (kinds[i].record)->name);
      columns = fettle_table_source_columns (table (fixture)->source, &n);
      for (guint k = 0; k < n; k++)
        if (columns[k].grows)
          {
            growing++;
            g_assert_cmpint (columns[k].least_width, <=, 560);
          }
      g_assert_cmpuint (growing, ==, 1);
    }
}

static void
count_both (GtkWidget *widget, gpointer data)
{
  if (g_str_equal (gtk_widget_get_name (widget), "both") && gtk_widget_get_mapped (widget))
    (*(guint *) data)++;
}

/* How often a form says that somebody else wrote, too. */
static guint
count_conflicts (Fixture *fixture)
{
  guint n = 0;

  window_test_each (get (fixture, "setup-detail"), count_both, &n);
  return n;
}

/* Yes and no are what the book has until somebody says otherwise; what is left open there is not answered by looking at it. */
static void
test_untouched (Fixture *fixture, gconstpointer data)
{
  GtkWidget *active, *strict;

  choose_kind (fixture, "person");
  active = window_test_get (window_test_get (get (fixture, "setup-detail"), "person"), "active");
  g_assert_true (gtk_check_button_get_active (GTK_CHECK_BUTTON (active)));
  g_assert_cmpuint (count_conflicts (fixture), ==, 0);
  act (fixture, "add");
  g_assert_true (gtk_check_button_get_active (GTK_CHECK_BUTTON (active)));
  g_assert_cmpuint (count_conflicts (fixture), ==, 0);
  choose_kind (fixture, "criterion");
  g_assert_cmpuint (count_conflicts (fixture), ==, 0);
  strict = window_test_get (window_test_get (get (fixture, "setup-detail"), "criterion"), "strict");
  g_assert_cmpuint (fettle_choice_editor_get_selected (FETTLE_CHOICE_EDITOR (strict)), ==, 0);
  gtk_widget_grab_focus (strict);
  window_test_settle ();
  gtk_widget_grab_focus (GTK_WIDGET (table (fixture)));
  settle (fixture);
  g_assert_false (fettle_sitting_can_undo (fettle_window_get_sitting (fixture->window))); /* nothing was stored */
}

/* What is far too long is refused in a sentence, and stays in the field to the last letter. */
static void
test_limits_too_long (Fixture *fixture, gconstpointer data)
{
  g_autofree char *text = g_strnfill (5000, '7');
  GtkWidget *entry;

  add_gap (fixture);
  entry = get (fixture, "limit-text");
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  g_signal_emit_by_name (entry, "activate");
  g_assert_true (gtk_widget_has_css_class (entry, "wrong"));
  g_test_message ("%s", label (fixture, "limit-echo"));
  g_assert_cmpuint (strlen (label (fixture, "limit-echo")), >, 10);
  g_assert_cmpuint (strlen (label (fixture, "limit-echo")), <, 300);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, text);
  gtk_editable_set_text (GTK_EDITABLE (entry), "");
}

/* The key that makes a book elsewhere adds a row where rows are kept. */
static void
test_key (Fixture *fixture, gconstpointer data)
{
  guint before;

  choose_kind (fixture, "supplier");
  before = fettle_table_n_rows (table (fixture));
  g_assert_true (window_test_shortcut (GTK_WIDGET (fixture->window), GDK_KEY_n, GDK_CONTROL_MASK));
  settle (fixture);
  g_assert_null (fixture->window->chooser); /* nobody is asked where a book goes */
  type (fixture, "supplier", "name", "By one key");
  save (fixture, "supplier");
  wait_rows (fixture, before + 1);
}

/* ---- order, taking over, one of two ---- */

static gboolean
is_first (gpointer data)
{
  g_autofree char *first = words (data, 0);

  return strstr (first, "Rivet the last one") != NULL;
}

/* By Alt+Up one row, by dragging any number, and each is one undo. */
static void
test_order (Fixture *fixture, gconstpointer data)
{
  GValue row = G_VALUE_INIT;
  guint last;

  choose_kind (fixture, "step");
  add (fixture, "step", NULL, "Saw it out");
  add (fixture, "step", NULL, "Grind it flat");
  add (fixture, "step", NULL, "Rivet the last one");
  last = fettle_table_n_rows (table (fixture)) - 1;
  fettle_table_go (table (fixture), last);
  window_test_press (GTK_WIDGET (table (fixture)), GDK_KEY_Up, GDK_ALT_MASK);
  settle (fixture);
  g_assert_cmpuint (table (fixture)->row, ==, last - 1); /* the row stays chosen where it went */
  g_value_init (&row, G_TYPE_UINT);
  g_value_set_uint (&row, last - 1);
  window_test_drop (GTK_WIDGET (table (fixture)), &row, 20.0, fettle_table_line (table (fixture)) * 1.5);
  window_test_wait (is_first, fixture, "the row on top");
  settle (fixture);
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo", NULL);
  settle (fixture);
  settle (fixture);
  g_assert_false (is_first (fixture));
}

static void
test_taken_over (Fixture *fixture, gconstpointer data)
{
  guint before;

  choose_kind (fixture, "characteristic");
  before = fettle_table_n_rows (table (fixture));
  choose_kind (fixture, "model");
  g_assert_cmpuint (fettle_table_n_rows (table (fixture)), >, 1);
  add (fixture, "model", "NX", "The next one");
  act (fixture, "deed");
  g_assert_true (gtk_widget_get_visible (get (fixture, "setup-deed")));
  g_signal_emit_by_name (get (fixture, "setup-deed-do"), "clicked");
  g_assert_nonnull (strstr (label (fixture, "setup-deed-said"), "Choose"));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "setup-deed-other")), 1); /* after 'choose': one without any set-up */
  g_signal_emit_by_name (get (fixture, "setup-deed-do"), "clicked");
  settle (fixture);
  settle (fixture);
  g_assert_nonnull (strstr (label (fixture, "setup-deed-said"), "nothing to take over"));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "setup-deed-other")), 2);
  gtk_widget_grab_focus (get (fixture, "setup-deed-do"));
  g_signal_emit_by_name (get (fixture, "setup-deed-do"), "clicked");
  settle (fixture);
  settle (fixture);
  g_test_message ("%s", label (fixture, "setup-deed-said"));
  g_assert_false (gtk_widget_get_visible (get (fixture, "setup-deed")));
  g_assert_true (gtk_widget_has_focus (GTK_WIDGET (table (fixture))));
  choose_kind (fixture, "characteristic");
  g_assert_cmpuint (fettle_table_n_rows (table (fixture)), ==, before); /* those of the model in view */
}

static void
test_one_of_two (Fixture *fixture, gconstpointer data)
{
  guint before;

  choose_kind (fixture, "supplier");
  before = fettle_table_n_rows (table (fixture));
  add (fixture, "supplier", NULL, "Aa springs");
  add (fixture, "supplier", NULL, "Ab springs");
  fettle_table_go (table (fixture), 0);
  settle (fixture);
  act (fixture, "deed");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "setup-deed-other")), before > 0 ? 1 : 0); /* after 'choose', where there are several */
  gtk_widget_grab_focus (get (fixture, "setup-deed-do"));
  g_signal_emit_by_name (get (fixture, "setup-deed-do"), "clicked");
  wait_rows (fixture, before + 1);
  g_assert_true (gtk_widget_has_focus (GTK_WIDGET (table (fixture))));
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo", NULL);
  wait_rows (fixture, before + 2);
}

static GtkWidget *
message_action (Fixture *fixture)
{
  return window_test_get (GTK_WIDGET (fixture->window), "message-action");
}

/* What the bar offers to take back is what it speaks about: after the next deed it offers nothing. */
static void
test_offer_withdrawn (Fixture *fixture, gconstpointer data)
{
  guint before;

  choose_kind (fixture, "supplier");
  before = fettle_table_n_rows (table (fixture));
  add (fixture, "supplier", NULL, "Aa springs");
  wait_rows (fixture, before + 1);
  fettle_table_go (table (fixture), 0);
  settle (fixture);
  act (fixture, "remove");
  wait_rows (fixture, before);
  g_assert_true (gtk_widget_get_mapped (message_action (fixture)));
  g_assert_cmpstr (gtk_button_get_label (GTK_BUTTON (message_action (fixture))), ==, "Undo");
  gtk_widget_grab_focus (message_action (fixture));

  add (fixture, "supplier", NULL, "Ab springs");
  wait_rows (fixture, before + 1);
  settle (fixture);
  g_assert_nonnull (strstr (window_test_said (fixture->window), "deleted"));
  g_assert_false (gtk_widget_get_visible (message_action (fixture)));

  /* What is done again is offered until something else is done. */
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo-book", NULL);
  wait_rows (fixture, before);
  settle (fixture);
  g_assert_true (gtk_widget_get_mapped (message_action (fixture)));
  g_assert_cmpstr (gtk_button_get_label (GTK_BUTTON (message_action (fixture))), ==, "Redo");
  add (fixture, "supplier", NULL, "Ac springs");
  wait_rows (fixture, before + 1);
  settle (fixture);
  g_assert_false (gtk_widget_get_visible (message_action (fixture)));
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add ("/window/setup/every-kind-has-rows-or-says-how-to-begin", Fixture, NULL, set_up, test_kinds, window_test_tear_down);
  g_test_add ("/window/setup/a-row-is-added-by-keys-and-undone", Fixture, NULL, set_up, test_added, window_test_tear_down);
  g_test_add ("/window/setup/what-lacks-something-is-not-stored", Fixture, NULL, set_up, test_refused, window_test_tear_down);
  g_test_add ("/window/setup/what-stands-alone-is-deleted-at-once-and-undone", Fixture, NULL, set_up, test_deleted, window_test_tear_down);
  g_test_add ("/window/setup/a-deletion-names-what-goes-along", Fixture, NULL, set_up, test_named, window_test_tear_down);
  g_test_add ("/window/setup/a-model-is-put-away-or-deleted-and-comes-back", Fixture, NULL, set_up, test_model_away, window_test_tear_down);
  g_test_add ("/window/setup/a-criterion-says-what-it-asks-for", Fixture, NULL, set_up, test_terms, window_test_tear_down);
  g_test_add ("/window/setup/what-is-looked-for-shows-its-kind", Fixture, NULL, set_up, test_looked_for, window_test_tear_down);
  g_test_add ("/window/setup/the-name-of-a-kind-shows-its-rows", Fixture, NULL, set_up, test_kind_by_name, window_test_tear_down);
  g_test_add ("/window/setup/the-form-follows-the-row", Fixture, NULL, set_up, test_followed, window_test_tear_down);
  g_test_add ("/window/setup/limits-are-typed-as-on-the-drawing", Fixture, NULL, set_up, test_limits, window_test_tear_down);
  g_test_add ("/window/setup/limits-too-long-are-refused-and-kept", Fixture, NULL, set_up, test_limits_too_long, window_test_tear_down);
  g_test_add ("/window/setup/what-nobody-touched-stays", Fixture, NULL, set_up, test_untouched, window_test_tear_down);
  g_test_add ("/window/setup/the-column-that-grows-is-shown", Fixture, NULL, set_up, test_growing, window_test_tear_down);
  g_test_add ("/window/setup/one-key-adds-a-row", Fixture, NULL, set_up, test_key, window_test_tear_down);
  g_test_add ("/window/setup/steps-move-by-keys-and-by-dragging", Fixture, NULL, set_up, test_order, window_test_tear_down);
  g_test_add ("/window/setup/a-model-takes-over-from-another", Fixture, NULL, set_up, test_taken_over, window_test_tear_down);
  g_test_add ("/window/setup/two-that-are-the-same-become-one", Fixture, NULL, set_up, test_one_of_two, window_test_tear_down);
  g_test_add ("/window/setup/an-offer-of-undo-goes-with-the-next-deed", Fixture, NULL, set_up, test_offer_withdrawn, window_test_tear_down);
  return g_test_run ();
}
