/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page that fills a round in: by keys as a caliper types, by blocks, with what is asked, warned of, counted and undone. */
#include "config.h"

#include <string.h>

#include "book-edit.h"
#include "entry-source.h"
#include "facts.h"
#include "table-private.h"
#include "tip.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

#define FIRST 2 /* column of LE, after the unit and what it lacks */
#define LOCK  3

static const WindowTestFile files[] = {
  { "person.csv", "initials,role\nQX,inspector\n" },
  { "gauge.csv", "name,resolution\nCaliper 1,0.01\nCaliper 2,0.01\n" },
  { "gauge_calibration.csv", "gauge,date,due,in_order\nCaliper 1,2026-10-01,2027-10-01,yes\nCaliper 2,2025-10-01,2026-10-01,yes\n" },
  { "model.csv", "code,name\nM1,Test piece\nM2,Nothing built yet\n" },
  { "round.csv", "model,label,kind,opened\nM1,P3,prototype,2026-11-01\n" },
  { "characteristic.csv", "model,code,name,kind,unit,decimals,class,shape,gauge\nM1,LE,Lever,measured,mm,2,function,normal,Caliper 1\n"
                          "M1,LK,Lock,checked,,,function,unknown,\n" },
  { "limit.csv", "model,characteristic,from_date,lower,upper\nM1,LE,2026-10-01,12.4,12.6\n" },
  { "unit.csv", "model,round,serial\nM1,P3,P3-1\nM1,P3,P3-2\nM1,P3,P3-3\nM1,P3,P3-4\n" },
  { NULL, NULL }
};

typedef struct
{
  WindowTestFixture base;
  FettleSitting    *sitting;
  GtkWidget        *page;
  FettleTable      *table;
} Entry;

static void
wait_for (Entry *entry, const char *label, const char *words)
{
  window_test_wait_label (entry->base.window, label, words);
}

static void
open_entry (Entry *entry)
{
  window_test_set_up_of (&entry->base, files, "entry");
  entry->sitting = fettle_window_get_sitting (entry->base.window);
  entry->page = window_test_page (entry->base.window);
  entry->table = FETTLE_TABLE (window_test_get (entry->page, "entry-table"));
  fettle_sitting_set_person (entry->sitting, entry->base.window->facts->persons[0].key);
  wait_for (entry, "entry-missing", "8 readings are missing");
  window_test_settle ();
  gtk_widget_grab_focus (GTK_WIDGET (entry->table));
  fettle_table_go_to_cell (entry->table, 0, FIRST);
}

static void
press (Entry *entry, guint key, GdkModifierType state)
{
  window_test_press (GTK_WIDGET (entry->table), key, state);
}

/* As a caliper does: figures, then Enter. */
static void
type (Entry *entry, const char *text)
{
  press (entry, gdk_unicode_to_keyval ((guint) text[0]), 0);
  gtk_editable_set_text (GTK_EDITABLE (entry->table->text), text);
  press (entry, GDK_KEY_Return, 0);
}

static void
assert_cell (Entry *entry, guint row, guint column, const char *text, const char *mark)
{
  g_autofree char *shown = window_test_cell (entry->table, row, column);
  g_autofree char *sign = fettle_table_source_dup_mark (entry->table->source, row, column);

  g_assert_cmpstr (shown, ==, text);
  g_assert_cmpstr (sign, ==, mark);
}

/* A column of values, then the checks: seen at once against the limits, by sign and words, counted by unit and column. */
static void
test_typed (void)
{
  Entry entry;
  g_autofree char *words = NULL;

  open_entry (&entry);
  type (&entry, "12.5");
  type (&entry, "12,71");
  type (&entry, "12.31");
  assert_cell (&entry, 1, FIRST, "12.71", "▲"); /* before the writer is done */
  assert_cell (&entry, 2, FIRST, "12.31", "▼");
  assert_cell (&entry, 0, FIRST, "12.50", NULL);
  type (&entry, ">12.6");
  type (&entry, "p"); /* from the end of a column to the top of the next */
  type (&entry, "f");
  wait_for (&entry, "entry-missing", "2 readings are missing. Of P3-3: 1; of LK: 2.");
  window_test_settle ();
  assert_cell (&entry, 3, FIRST, ">12.60", "▲");
  assert_cell (&entry, 0, LOCK, "passed", NULL);
  assert_cell (&entry, 1, LOCK, "failed", "✕");
  assert_cell (&entry, 1, 1, "", NULL);
  assert_cell (&entry, 2, 1, "1", NULL);
  fettle_table_go_to_cell (entry.table, 1, FIRST);
  words = fettle_table_source_describe (entry.table->source, 1, FIRST);
  g_assert_cmpstr (words, ==, "P3-2, LE Lever: 12.71 mm, above the upper limit 12.60 mm");
  wait_for (&entry, "entry-words", "above the upper limit");

  type (&entry, "abc"); /* stays, and says why */
  wait_for (&entry, "entry-said", "abc");
  g_assert_true (fettle_table_is_editing (entry.table));
  press (&entry, GDK_KEY_Escape, 0);
  assert_cell (&entry, 1, FIRST, "12.71", "▲");
  window_test_tear_down (&entry.base, NULL);
}

static gboolean
is_settled (gpointer data)
{
  Entry *entry = data;
  FettleTableTone tone;
  gboolean pending = FALSE;
  g_autofree char *shown = fettle_table_source_dup_text (entry->table->source, 0, FIRST, &tone, &pending);

  return !pending && strcmp (shown, "12.50") == 0;
}

/* Something else is begun in a cell whose value is on its way, and let go again: the value is in the book, and no longer on its way. */
static void
test_begun_again (void)
{
  Entry entry;
  gint64 unit;
  g_autofree char *refusal = NULL;

  open_entry (&entry);
  unit = fettle_table_source_get_key (entry.table->source, 0);
  refusal = fettle_table_source_commit (entry.table->source, 0, FIRST, "12.5");
  g_assert_null (refusal);
  fettle_table_source_keep_typed (entry.table->source, unit, FIRST, "12.55");
  fettle_table_source_keep_typed (entry.table->source, unit, FIRST, NULL);
  wait_for (&entry, "entry-missing", "7 readings are missing");
  window_test_wait (is_settled, &entry, "the value no longer on its way");
  window_test_tear_down (&entry.base, NULL);
}

/* What is no value is refused in one sentence, and stays in its cell as it was typed. */
static void
test_wrong_values (void)
{
  g_autofree char *sevens = g_strnfill (3000, '7');
  const char *const texts[] = { "12.x", "2026-02-30", sevens };
  Entry entry;

  open_entry (&entry);
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      GtkLabel *told = GTK_LABEL (window_test_get (entry.page, "entry-said"));

      fettle_table_go_to_cell (entry.table, 0, FIRST);
      type (&entry, texts[i]);
      g_assert_true (fettle_table_is_editing (entry.table));
      g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry.table->text)), ==, texts[i]);
      g_test_message ("%s", gtk_label_get_label (told));
      g_assert_true (gtk_widget_get_mapped (GTK_WIDGET (told)));
      g_assert_cmpuint (strlen (gtk_label_get_label (told)), >, 10);
      g_assert_cmpuint (strlen (gtk_label_get_label (told)), <, 300);
      press (&entry, GDK_KEY_Escape, 0);
    }
  window_test_tear_down (&entry.base, NULL);
}

/* The question does not stop the flow: the value is kept, the next one is typed, and then it is answered. */
static void
test_slip (void)
{
  Entry entry;

  open_entry (&entry);
  type (&entry, "1.25");
  type (&entry, "12.5");
  wait_for (&entry, "entry-question", "P3-1, LE: is 1.25 right?");
  assert_cell (&entry, 0, FIRST, "1.25", "?");
  wait_for (&entry, "entry-missing", "6 readings are missing");
  window_test_settle ();
  g_signal_emit_by_name (window_test_get (entry.page, "entry-other"), "clicked");
  wait_for (&entry, "entry-question", NULL);
  window_test_settle ();
  assert_cell (&entry, 0, FIRST, "12.50", NULL);

  type (&entry, "1.24");
  wait_for (&entry, "entry-question", "P3-3, LE: is 1.24 right?");
  g_signal_emit_by_name (window_test_get (entry.page, "entry-right"), "clicked");
  wait_for (&entry, "entry-question", NULL);
  window_test_settle ();
  assert_cell (&entry, 2, FIRST, "1.24", "▼"); /* kept, and no longer asked about */
  window_test_tear_down (&entry.base, NULL);
}

/* What is on its way is no longer missing, but undone only once it is stored. */
static gboolean
undoes_six (gpointer data)
{
  const Entry *entry = data;
  g_autofree char *all = fettle_sitting_dup_undo_words (entry->sitting, FALSE);
  const char *tip = fettle_tip_get (window_test_get (GTK_WIDGET (entry->base.window), "undo"));

  return g_strcmp0 (all, "6 readings in P3") == 0 && tip != NULL && strstr (tip, "Undo: 6 readings in P3") != NULL;
}

static void
test_visit (void)
{
  Entry entry;
  g_autofree char *one = NULL, *again = NULL;

  open_entry (&entry);
  type (&entry, "12.5");
  type (&entry, "12.51");
  type (&entry, "12.52");
  wait_for (&entry, "entry-missing", "5 readings are missing");
  window_test_settle ();
  one = fettle_sitting_dup_undo_words (entry.sitting, FALSE);
  g_assert_cmpstr (one, !=, "3 readings in P3"); /* while the visit goes on: the last value */
  fettle_sitting_undo (entry.sitting);
  wait_for (&entry, "entry-missing", "6 readings are missing");
  window_test_settle ();
  fettle_table_go_to_cell (entry.table, 2, FIRST);
  fettle_table_paste_text (entry.table, "12.55\tp\n12.56\tf\n");
  wait_for (&entry, "entry-missing", "2 readings are missing");
  window_test_settle ();

  gtk_widget_grab_focus (window_test_get (entry.page, "entry-rightward"));
  window_test_wait (undoes_six, &entry, "all of the visit, in the words of its button, too");
  fettle_sitting_undo (entry.sitting);
  wait_for (&entry, "entry-missing", "8 readings are missing");
  window_test_settle ();
  again = fettle_sitting_dup_undo_words (entry.sitting, TRUE);
  g_assert_cmpstr (again, ==, "6 readings in P3");
  fettle_sitting_redo (entry.sitting);
  wait_for (&entry, "entry-missing", "2 readings are missing");
  window_test_tear_down (&entry.base, NULL);
}

/* In as a spreadsheet writes it, and out again; what cannot be taken stays in its cell. */
static void
test_block (void)
{
  Entry entry;
  g_autofree char *typed = NULL, *copied = NULL;

  open_entry (&entry);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (entry.page), "12.5\tp\r\n12,51\tmaybe\r\n<12\tf\r\n");
  press (&entry, GDK_KEY_v, GDK_CONTROL_MASK);
  wait_for (&entry, "entry-said", "1 cell was not taken");
  wait_for (&entry, "entry-missing", "3 readings are missing");
  window_test_settle ();
  typed = fettle_table_source_dup_typed (entry.table->source, fettle_table_source_get_key (entry.table->source, 1), LOCK);
  g_assert_cmpstr (typed, ==, "maybe");
  press (&entry, GDK_KEY_Home, GDK_CONTROL_MASK);
  press (&entry, GDK_KEY_Right, GDK_SHIFT_MASK);
  press (&entry, GDK_KEY_Down, GDK_SHIFT_MASK);
  press (&entry, GDK_KEY_Down, GDK_SHIFT_MASK);
  press (&entry, GDK_KEY_c, GDK_CONTROL_MASK);
  copied = window_test_dup_clipboard (entry.page);
  g_assert_cmpstr (copied, ==, "12.50\tpassed\n12.51\t\n<12.00\tfailed\n");

  /* Passed, down a selection, as one deed. */
  fettle_table_go_to_cell (entry.table, 1, LOCK);
  press (&entry, GDK_KEY_Escape, 0); /* what could not be taken */
  press (&entry, GDK_KEY_Down, GDK_SHIFT_MASK | GDK_CONTROL_MASK);
  press (&entry, GDK_KEY_p, 0);
  press (&entry, GDK_KEY_Return, GDK_CONTROL_MASK);
  wait_for (&entry, "entry-missing", "1 reading is missing");
  window_test_settle ();
  assert_cell (&entry, 1, LOCK, "passed", NULL);
  assert_cell (&entry, 3, LOCK, "passed", NULL);
  window_test_tear_down (&entry.base, NULL);
}

/* Second readings, later attempts, notes, and a void with its reason; the next value of a voided one is another repeat. */
static void
test_repeats (void)
{
  Entry entry;
  g_autofree char *held = NULL;

  open_entry (&entry);
  type (&entry, "12.5; burr on the edge");
  wait_for (&entry, "entry-missing", "7 readings are missing");
  window_test_settle ();
  assert_cell (&entry, 0, FIRST, "12.50", "*");
  fettle_table_go_to_cell (entry.table, 0, FIRST);
  wait_for (&entry, "entry-words", "burr on the edge");
  press (&entry, GDK_KEY_F2, 0);
  held = g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry.table->text)));
  g_assert_cmpstr (held, ==, "12.50; burr on the edge");
  press (&entry, GDK_KEY_Escape, 0);

  gtk_spin_button_set_value (GTK_SPIN_BUTTON (window_test_get (entry.page, "entry-repeat")), 2);
  wait_for (&entry, "entry-words", "1 other reading");
  window_test_settle ();
  assert_cell (&entry, 0, FIRST, "", NULL);
  type (&entry, "12.55");
  window_test_settle ();
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (window_test_get (entry.page, "entry-repeat")), 1);
  window_test_settle ();
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (window_test_get (entry.page, "entry-attempt")), 2);
  fettle_table_go_to_cell (entry.table, 0, FIRST);
  wait_for (&entry, "entry-words", "2 other readings");
  window_test_settle ();
  type (&entry, "12.45");
  window_test_settle ();
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (window_test_get (entry.page, "entry-attempt")), 1);
  fettle_table_go_to_cell (entry.table, 0, FIRST);
  wait_for (&entry, "entry-words", "2 other readings; burr");
  window_test_settle ();

  press (&entry, GDK_KEY_Delete, 0);
  wait_for (&entry, "entry-void-what", "1 reading");
  g_signal_emit_by_name (window_test_get (entry.page, "entry-void-reason"), "activate");
  wait_for (&entry, "entry-said", "only with a reason");
  gtk_editable_set_text (GTK_EDITABLE (window_test_get (entry.page, "entry-void-reason")), "wrong unit");
  g_signal_emit_by_name (window_test_get (entry.page, "entry-void-reason"), "activate");
  wait_for (&entry, "entry-void-what", NULL);
  window_test_settle ();
  assert_cell (&entry, 0, FIRST, "12.55", NULL); /* the second that stood is the first now */
  fettle_sitting_undo (entry.sitting);
  wait_for (&entry, "entry-words", "burr on the edge"); /* the cell is told of again once the records are read again */
  window_test_settle ();
  assert_cell (&entry, 0, FIRST, "12.50", "*");
  window_test_tear_down (&entry.base, NULL);
}

/*
 * What is shown of attempt and repeat is what the grid shows: while a value cannot be left, they stay; and a void that was
 * begun for the readings of one attempt is none of another's.
 */
static void
test_another_attempt (void)
{
  Entry entry;
  GtkSpinButton *attempt;

  open_entry (&entry);
  attempt = GTK_SPIN_BUTTON (window_test_get (entry.page, "entry-attempt"));
  type (&entry, "12.5");
  wait_for (&entry, "entry-missing", "7 readings are missing");
  fettle_table_go_to_cell (entry.table, 1, FIRST);
  type (&entry, "12.x");
  g_assert_true (window_test_press (entry.page, GDK_KEY_Page_Down, GDK_CONTROL_MASK | GDK_SHIFT_MASK));
  g_assert_cmpint (gtk_spin_button_get_value_as_int (attempt), ==, 1);
  press (&entry, GDK_KEY_Escape, 0);
  window_test_settle ();

  fettle_table_go_to_cell (entry.table, 0, FIRST);
  press (&entry, GDK_KEY_Delete, 0);
  wait_for (&entry, "entry-void-what", "1 reading");
  gtk_editable_set_text (GTK_EDITABLE (window_test_get (entry.page, "entry-void-reason")), "wrong unit");
  g_assert_true (window_test_press (entry.page, GDK_KEY_Page_Down, GDK_CONTROL_MASK | GDK_SHIFT_MASK));
  wait_for (&entry, "entry-said", "Nothing was voided");
  wait_for (&entry, "entry-void-what", NULL);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (window_test_get (entry.page, "entry-void-reason"))), ==, "");
  g_assert_true (window_test_press (entry.page, GDK_KEY_Page_Up, GDK_CONTROL_MASK | GDK_SHIFT_MASK));
  window_test_settle ();
  assert_cell (&entry, 0, FIRST, "12.50", NULL);
  g_assert_true (window_test_press (entry.page, GDK_KEY_Page_Down, GDK_CONTROL_MASK));
  g_assert_cmpint (gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (window_test_get (entry.page, "entry-repeat"))), ==, 2);
  window_test_tear_down (&entry.base, NULL);
}

/* A void is of the readings that were chosen, whatever stands in their place once its reason is written. */
static void
test_voided_meanwhile (void)
{
  Entry entry;
  const InsightEntry *shown;

  open_entry (&entry);
  type (&entry, "12.5");
  wait_for (&entry, "entry-missing", "7 readings are missing");
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (window_test_get (entry.page, "entry-repeat")), 2);
  fettle_table_go_to_cell (entry.table, 0, FIRST);
  wait_for (&entry, "entry-words", "1 other reading");
  type (&entry, "12.55");
  window_test_settle ();
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (window_test_get (entry.page, "entry-repeat")), 1);
  window_test_settle ();

  fettle_table_go_to_cell (entry.table, 0, FIRST);
  press (&entry, GDK_KEY_Delete, 0);
  wait_for (&entry, "entry-void-what", "1 reading");
  shown = fettle_entry_source_get_entry (FETTLE_ENTRY_SOURCE (entry.table->source));
  fettle_sitting_edit (entry.sitting, book_edit_void (insight_entry_cell (shown, 0, 0)->reading, "typed twice"), NULL, NULL);
  window_test_settle ();
  assert_cell (&entry, 0, FIRST, "12.55", NULL);
  gtk_editable_set_text (GTK_EDITABLE (window_test_get (entry.page, "entry-void-reason")), "wrong unit");
  g_signal_emit_by_name (window_test_get (entry.page, "entry-void-reason"), "activate");
  wait_for (&entry, "entry-said", "voided already");
  window_test_settle ();
  assert_cell (&entry, 0, FIRST, "12.55", NULL);
  window_test_tear_down (&entry.base, NULL);
}

/* Chosen once a sitting; an overdue one is warned of where it is used, and stored with the reading. */
static void
test_gauge (void)
{
  Entry entry;
  GtkDropDown *gauges;

  open_entry (&entry);
  wait_for (&entry, "entry-warning", NULL);
  gauges = GTK_DROP_DOWN (window_test_get (entry.page, "entry-gauge"));
  gtk_drop_down_set_selected (gauges, 2); /* after the usual ones and Caliper 1 */
  wait_for (&entry, "entry-warning", "'Caliper 2' is not in order: it was due on 2026-10-01");
  fettle_table_go_to_cell (entry.table, 0, LOCK);
  wait_for (&entry, "entry-warning", NULL); /* a check is made with no gauge */
  fettle_table_go_to_cell (entry.table, 0, FIRST);
  type (&entry, "12.5");
  wait_for (&entry, "entry-missing", "7 readings are missing");
  window_test_tear_down (&entry.base, NULL);
}

/* Whoever only reads is told that a value is not stored, until writing is begun. */
static void
test_reading_only (void)
{
  Entry entry;

  open_entry (&entry);
  fettle_sitting_set_reading (entry.sitting, TRUE);
  type (&entry, "12.5");
  wait_for (&entry, "entry-said", "You are reading");
  fettle_sitting_set_reading (entry.sitting, FALSE);
  wait_for (&entry, "entry-said", NULL);
  window_test_tear_down (&entry.base, NULL);
}

/* The switch is remembered for the next page. */
static void
test_rightward (void)
{
  Entry entry;
  guint row, column;

  open_entry (&entry);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (window_test_get (entry.page, "entry-rightward")), TRUE);
  type (&entry, "12.5");
  g_assert_true (fettle_table_get_cell (entry.table, &row, &column));
  g_assert_cmpuint (row, ==, 0);
  g_assert_cmpuint (column, ==, LOCK);
  type (&entry, "p");
  g_assert_true (fettle_table_get_cell (entry.table, &row, &column));
  g_assert_cmpuint (row, ==, 1);
  g_assert_cmpuint (column, ==, FIRST);
  window_test_settle ();
  window_test_tear_down (&entry.base, NULL);
  open_entry (&entry);
  g_assert_true (gtk_check_button_get_active (GTK_CHECK_BUTTON (window_test_get (entry.page, "entry-rightward"))));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (window_test_get (entry.page, "entry-rightward")), FALSE);
  window_test_tear_down (&entry.base, NULL);
}

/* ---- an issue ---- */

/* Waits until the form of a new issue is on the other page, and returns that page. */
static GtkWidget *
raised (Entry *entry, const char *words)
{
  window_test_wait_page (entry->base.window, "issues");
  window_test_wait_seen (entry->base.window, "new-issue", words);
  return window_test_page (entry->base.window);
}

static gboolean
has_finding (gpointer data)
{
  return window_test_find_record (((Entry *) data)->base.window, BOOK_RECORD_FINDING, "M1/1/1") != 0;
}

static BookRow *
read_row (Entry *entry, BookRecordId record, const char *key)
{
  return window_test_read_record (entry->base.window, record, window_test_find_record (entry->base.window, record, key));
}

/* Ctrl+E takes along what the cell shows to be wrong, stored or only typed, with its unit; of anything else it takes nothing. */
static void
test_issue (void)
{
  Entry entry;
  GtkWidget *page;
  g_autoptr(BookRow) finding = NULL;
  g_autoptr(BookRow) issue = NULL;

  open_entry (&entry);
  type (&entry, "12.5");
  press (&entry, GDK_KEY_1, 0);
  gtk_editable_set_text (GTK_EDITABLE (entry.table->text), "12.71"); /* not even finished */
  g_assert_true (window_test_shortcut (GTK_WIDGET (entry.table), GDK_KEY_e, GDK_CONTROL_MASK));
  page = raised (&entry, "P3-2");
  window_test_wait_text (page, "title", "Lever: outside its limits");
  g_assert_true (window_test_shortcut (window_test_get (page, "title"), GDK_KEY_Return, GDK_CONTROL_MASK));
  window_test_wait (has_finding, &entry, "the finding");
  window_test_wait_unseen (entry.base.window, "new-issue", "A new issue");
  finding = read_row (&entry, BOOK_RECORD_FINDING, "M1/1/1");
  issue = read_row (&entry, BOOK_RECORD_ISSUE, "M1/1");
  g_assert_cmpint (book_row_get (finding, "unit")->integer, ==, window_test_find_record (entry.base.window, BOOK_RECORD_UNIT, "M1/P3/P3-2"));
  g_assert_cmpint (book_row_get (issue, "characteristic")->integer, ==,
                   window_test_find_record (entry.base.window, BOOK_RECORD_CHARACTERISTIC, "M1/LE"));

  /* Inside its limits. */
  window_test_act (entry.base.window, "win.page", "entry");
  window_test_wait_page (entry.base.window, "entry");
  fettle_table_go_to_cell (entry.table, 0, FIRST);
  g_assert_true (window_test_shortcut (GTK_WIDGET (entry.table), GDK_KEY_e, GDK_CONTROL_MASK));
  page = raised (&entry, "A new issue");
  g_assert_false (window_test_is_seen (entry.base.window, "new-issue", "P3-1"));
  window_test_wait_text (page, "title", "");
  window_test_tear_down (&entry.base, NULL);
}

/* A check that failed, and a cell in which nothing is read. */
static void
test_issue_of_a_check (void)
{
  Entry entry;
  GtkWidget *page;

  open_entry (&entry);
  fettle_table_go_to_cell (entry.table, 2, LOCK);
  type (&entry, "f");
  wait_for (&entry, "entry-missing", "7 readings are missing");
  window_test_settle ();
  g_assert_true (window_test_shortcut (GTK_WIDGET (entry.table), GDK_KEY_e, GDK_CONTROL_MASK)); /* the cell below */
  page = raised (&entry, "A new issue");
  window_test_wait_text (page, "title", "");
  window_test_act (entry.base.window, "win.page", "entry");
  window_test_wait_page (entry.base.window, "entry");
  fettle_table_go_to_cell (entry.table, 2, LOCK);
  g_assert_true (window_test_shortcut (GTK_WIDGET (entry.table), GDK_KEY_e, GDK_CONTROL_MASK));
  page = raised (&entry, "P3-3");
  window_test_wait_text (page, "title", "Lock: failed");
  window_test_tear_down (&entry.base, NULL);
}

static gboolean
is_empty (gpointer data)
{
  return fettle_table_source_n_rows (fettle_table_get_source (((Entry *) data)->table)) == 0;
}

/* What is typed there would be stored in the round that was shown before. */
static void
test_model_without_rounds (void)
{
  Entry entry;
  gint64 model;

  open_entry (&entry);
  model = window_test_find_record (entry.base.window, BOOK_RECORD_MODEL, "M2");
  gtk_widget_activate_action (GTK_WIDGET (entry.base.window), "win.model", "x", model);
  window_test_wait (is_empty, &entry, "a table of nothing");
  window_test_settle ();
  g_assert_cmpstr (gtk_label_get_label (GTK_LABEL (window_test_get (entry.page, "entry-title"))), ==, "Enter readings");
  g_assert_cmpstr (gtk_label_get_label (GTK_LABEL (window_test_get (entry.page, "entry-missing"))), ==, "");
  window_test_tear_down (&entry.base, NULL);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add_func ("/window/entry/values-are-judged-and-counted-as-they-are-typed", test_typed);
  g_test_add_func ("/window/entry/a-cell-begun-again-and-let-go-holds-its-value", test_begun_again);
  g_test_add_func ("/window/entry/what-is-no-value-is-refused-and-kept", test_wrong_values);
  g_test_add_func ("/window/entry/a-slipped-point-is-asked-about-without-stopping", test_slip);
  g_test_add_func ("/window/entry/a-visit-is-undone-as-one", test_visit);
  g_test_add_func ("/window/entry/a-block-comes-in-and-goes-out", test_block);
  g_test_add_func ("/window/entry/repeats-attempts-notes-and-voids", test_repeats);
  g_test_add_func ("/window/entry/another-attempt-is-other-readings", test_another_attempt);
  g_test_add_func ("/window/entry/voids-what-was-chosen", test_voided_meanwhile);
  g_test_add_func ("/window/entry/who-begins-to-write-is-not-told-otherwise", test_reading_only);
  g_test_add_func ("/window/entry/an-overdue-gauge-warns", test_gauge);
  g_test_add_func ("/window/entry/an-issue-takes-along-what-is-outside", test_issue);
  g_test_add_func ("/window/entry/an-issue-takes-along-a-check-that-failed", test_issue_of_a_check);
  g_test_add_func ("/window/entry/enter-goes-right-when-wanted-and-stays-so", test_rightward);
  g_test_add_func ("/window/entry/a-model-without-rounds-shows-none-of-another", test_model_without_rounds);
  return g_test_run ();
}
