/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window-look.h"

#include <string.h>

#include "table-private.h"
#include "window-private.h"

GtkWidget *
window_test_page (FettleWindow *window)
{
  return GTK_WIDGET (fettle_window_get_page (window));
}

typedef struct
{
  FettleWindow *window;
  const char   *name;
} Page;

static gboolean
is_in_view (gpointer data)
{
  const Page *page = data;

  return g_strcmp0 (gtk_widget_get_name (window_test_page (page->window)), page->name) == 0 && page->window->coming == NULL
         && !fettle_sitting_is_asking (fettle_window_get_sitting (page->window));
}

void
window_test_wait_page (FettleWindow *window, const char *name)
{
  window_test_settle ();
  window_test_wait (is_in_view, &(Page){ window, name }, name);
  window_test_settle ();
}

/* ---- words ---- */

/* The page may change while it is waited, so that it is looked for anew each time. */
typedef struct
{
  FettleWindow *window;
  const char   *name;
  const char   *words;
} Wanted;

static gboolean
is_labelled (gpointer data)
{
  const Wanted *wanted = data;
  GtkWidget *label = window_test_find (window_test_page (wanted->window), wanted->name);
  gboolean seen = label != NULL && gtk_widget_get_mapped (label);

  if (wanted->words == NULL)
    return !seen;
  return seen && strstr (gtk_label_get_label (GTK_LABEL (label)), wanted->words) != NULL;
}

void
window_test_wait_label (FettleWindow *window, const char *name, const char *words)
{
  window_test_wait (is_labelled, &(Wanted){ window, name, words }, words != NULL ? words : name);
}

static void
append_label (GtkWidget *widget, gpointer data)
{
  if (GTK_IS_LABEL (widget) && gtk_widget_get_mapped (widget))
    g_string_append_printf (data, "%s\n", gtk_label_get_label (GTK_LABEL (widget)));
}

gboolean
window_test_is_seen (FettleWindow *window, const char *name, const char *words)
{
  GtkWidget *widget = window_test_find (window_test_page (window), name);
  g_autoptr(GString) labels = g_string_new (NULL);

  if (widget != NULL)
    window_test_each (widget, append_label, labels);
  return strstr (labels->str, words) != NULL;
}

static gboolean
is_seen (gpointer data)
{
  const Wanted *wanted = data;

  return window_test_is_seen (wanted->window, wanted->name, wanted->words);
}

static gboolean
is_unseen (gpointer data)
{
  return !is_seen (data);
}

void
window_test_wait_seen (FettleWindow *window, const char *name, const char *words)
{
  window_test_wait (is_seen, &(Wanted){ window, name, words }, words);
  window_test_settle ();
}

void
window_test_wait_unseen (FettleWindow *window, const char *name, const char *words)
{
  window_test_wait (is_unseen, &(Wanted){ window, name, words }, words);
  window_test_settle ();
}

typedef struct
{
  const char     *words;
  WindowTestWords how;
  gboolean        found;
} Search;

static void
look_at (GtkWidget *widget, gpointer data)
{
  Search *search = data;
  const char *text;

  if (!GTK_IS_LABEL (widget) || ((search->how & WINDOW_TEST_SEEN) != 0 && !gtk_widget_get_mapped (widget)))
    return;
  text = gtk_label_get_label (GTK_LABEL (widget));
  search->found |= (search->how & WINDOW_TEST_WHOLE) != 0 ? g_str_equal (text, search->words) : strstr (text, search->words) != NULL;
}

gboolean
window_test_has_words (GtkWidget *root, const char *words, WindowTestWords how)
{
  Search search = { words, how, FALSE };

  window_test_each (root, look_at, &search);
  return search.found;
}

typedef struct
{
  GtkWidget  *root;
  const char *field;
  const char *text;
} Standing;

static gboolean
stands (gpointer data)
{
  const Standing *standing = data;

  return g_str_equal (gtk_editable_get_text (GTK_EDITABLE (window_test_get (standing->root, standing->field))), standing->text);
}

void
window_test_wait_text (GtkWidget *root, const char *field, const char *text)
{
  window_test_wait (stands, &(Standing){ root, field, text }, text);
  window_test_settle ();
}

const char *
window_test_said (FettleWindow *window)
{
  const char *sentence = fettle_message_bar_get_said (window->message_bar);

  return sentence != NULL ? sentence : "";
}

static gboolean
says (gpointer data)
{
  const Wanted *wanted = data;
  const char *said = window_test_said (wanted->window);

  return wanted->words != NULL ? strstr (said, wanted->words) != NULL : said[0] != '\0';
}

void
window_test_wait_said (FettleWindow *window, const char *words)
{
  window_test_wait (says, &(Wanted){ window, NULL, words }, words != NULL ? words : "a sentence in the bar");
}

/* ---- tables ---- */

char *
window_test_cell (FettleTable *table, guint row, guint column)
{
  FettleTableTone tone = FETTLE_TONE_INK;
  gboolean pending = FALSE;

  return fettle_table_source_dup_text (table->source, row, column, &tone, &pending);
}

typedef struct
{
  FettleWindow *window;
  const char   *name;
  guint         n;
} Rows;

static gboolean
has_n_rows (gpointer data)
{
  const Rows *rows = data;

  return fettle_table_n_rows (FETTLE_TABLE (window_test_get (window_test_page (rows->window), rows->name))) == rows->n;
}

void
window_test_wait_rows (FettleWindow *window, const char *name, guint n)
{
  window_test_wait (has_n_rows, &(Rows){ window, name, n }, "the rows");
  window_test_settle ();
}

/* ---- answers and deeds ---- */

static gboolean
is_answered (gpointer window)
{
  return !fettle_sitting_is_asking (fettle_window_get_sitting (window));
}

static gboolean
can_undo (gpointer window)
{
  return fettle_sitting_can_undo (fettle_window_get_sitting (window));
}

static gboolean
can_redo (gpointer window)
{
  return fettle_sitting_can_redo (fettle_window_get_sitting (window));
}

void
window_test_wait_answers (FettleWindow *window)
{
  window_test_wait (is_answered, window, "the book's answers");
  window_test_settle ();
}

void
window_test_wait_undo (FettleWindow *window)
{
  window_test_wait (can_undo, window, "undo");
}

void
window_test_wait_redo (FettleWindow *window)
{
  window_test_wait (can_redo, window, "redo");
}
