/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Release page as the owner uses it: what blocks, a waiver, an opinion, the decision with conditions, then and now. */

#include "config.h"

#include "book-edit.h"
#include "book-release.h"
#include "editor.h"
#include "ledger.h"
#include "window-private.h"
#include "window-test.h"

#include <glib/gstdio.h>
#include <string.h>

static char *folder;
static guint n_books;

static void
write_file (const char *name, const char *text)
{
  g_autofree char *path = g_build_filename (folder, "files", name, NULL);

  g_assert_true (g_file_set_contents (path, text, -1, NULL));
}

/* A pilot round of @passed units that pass a check about safety, for which the owner set a share of 0.9 at 0.9: 22 do. */
static char *
make_book (guint passed)
{
  g_autofree char *files = g_build_filename (folder, "files", NULL);
  g_autofree char *name = g_strdup_printf ("release-%u.fettle", ++n_books);
  g_autoptr(GString) units = g_string_new ("model,round,serial\n"), readings = g_string_new ("model,round,unit,characteristic,mark,taken\n");
  char *path = g_build_filename (folder, name, NULL);

  g_assert_cmpint (g_mkdir_with_parents (files, 0700), ==, 0);
  for (guint i = 1; i <= passed; i++)
    {
      g_string_append_printf (units, "M1,A,A-%02u\n", i);
      g_string_append_printf (readings, "M1,A,A-%02u,LH,passed,2026-02-10\n", i);
    }
  write_file ("model.csv", "code,name\nM1,First\n");
  write_file ("person.csv", "initials,role\nOW,owner\nLE,lead\n");
  write_file ("round.csv", "model,label,kind,opened,design_fixed,built,tested\nM1,A,pilot,2026-01-05,2026-01-12,2026-02-02,2026-02-20\n");
  write_file ("characteristic.csv", "model,code,name,kind,class\nM1,LH,Lock holds,checked,safety\n");
  write_file ("gate.csv", "model,position,name\nM1,1,Release\n");
  write_file ("criterion.csv", "model,code,gate,kind,characteristic,strict\nM1,C1,1,checked,LH,no\n");
  write_file ("criterion_term.csv", "model,criterion,from_date,share,confidence,person\nM1,C1,2025-12-01,0.9,0.9,OW\n");
  write_file ("unit.csv", units->str);
  write_file ("reading.csv", readings->str);
  window_test_import (path, files);
  return path;
}

typedef struct
{
  GtkWidget  *page;
  const char *label;
  const char *words;
} Wanted;

static gboolean
is_said (gpointer data)
{
  const Wanted *wanted = data;
  GtkWidget *label = window_test_find (wanted->page, wanted->label);

  return label != NULL && gtk_widget_get_mapped (label) && strstr (gtk_label_get_label (GTK_LABEL (label)), wanted->words) != NULL;
}

static void
wait_for (GtkWidget *page, const char *label, const char *words)
{
  Wanted wanted = { page, label, words };

  window_test_wait (is_said, &wanted, words);
  window_test_settle ();
}

static GtkWidget *
open_page (const char *path, FettleWindow **window, const char *words)
{
  GtkWidget *page;

  *window = window_test_open (path, "release");
  page = GTK_WIDGET (fettle_window_get_page (*window));
  wait_for (page, "release-headline", words);
  return page;
}

typedef struct
{
  const char *words;
  guint       found;
} Search;

static void
look_at (GtkWidget *widget, gpointer data)
{
  Search *search = data;

  if (GTK_IS_LABEL (widget) && gtk_widget_get_mapped (widget) && strstr (gtk_label_get_label (GTK_LABEL (widget)), search->words) != NULL)
    search->found++;
}

/* Whether something below @name says so. */
static gboolean
shows (GtkWidget *page, const char *name, const char *words)
{
  GtkWidget *root = window_test_find (page, name);
  Search search = { words, 0 };

  if (root != NULL)
    window_test_each (root, look_at, &search);
  return search.found > 0;
}

static void
test_blocks (void)
{
  g_autofree char *path = make_book (21);
  FettleWindow *window;
  GtkWidget *page = open_page (path, &window, "Release: not ready. 0 of 1 criteria are met.");

  g_assert_true (shows (page, "release-stops", "1 criterion blocks: C1."));
  g_assert_true (shows (page, "release-criteria", "C1 Lock holds"));
  g_assert_true (shows (page, "release-criteria", "1 unit"));
  g_assert_false (gtk_widget_get_sensitive (window_test_get (page, "release-waive"))); /* nothing is chosen */
  g_assert_false (gtk_widget_get_sensitive (window_test_get (page, "release-withdraw")));
  g_assert_nonnull (strstr (gtk_label_get_label (GTK_LABEL (window_test_get (page, "caution"))), "not a safety certificate"));
  wait_for (page, "release-forecast", "With fewer than three" + 5);
  g_assert_cmpuint (window_test_count_named (page), >, 4);
  window_test_close (window);
}

/* Types into a field of the form that is shown. */
static void
fill (GtkWidget *page, const char *field, const char *text)
{
  GtkWidget *form = window_test_get (page, "release-form"), *editor = window_test_get (form, field);

  if (GTK_IS_DROP_DOWN (editor))
    gtk_drop_down_set_selected (GTK_DROP_DOWN (editor), (guint) g_ascii_strtoull (text, NULL, 10));
  else if (GTK_IS_TEXT_VIEW (editor))
    gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (editor)), text, -1);
  else if (GTK_IS_EDITABLE (editor))
    gtk_editable_set_text (GTK_EDITABLE (editor), text);
  else /* a reference, which is searched for */
    {
      FettleEditor *reference = FETTLE_EDITOR (gtk_widget_get_ancestor (editor, FETTLE_TYPE_EDITOR));

      fettle_editor_set_text (reference, text, text);
      fettle_editor_tell_changed (reference);
    }
}

static gboolean
is_gone (gpointer data)
{
  return window_test_find (data, "release-form") == NULL;
}

static void
do_it (GtkWidget *page)
{
  g_signal_emit_by_name (window_test_get (window_test_get (page, "release-form"), "do"), "clicked");
  window_test_wait (is_gone, page, "the form to be done");
}

static void
act (FettleWindow *window, const char *what)
{
  gtk_widget_activate_action (GTK_WIDGET (window), "win.release", "s", what);
  window_test_settle ();
}

static void
test_waives (void)
{
  g_autofree char *path = make_book (10);
  FettleWindow *window;
  GtkWidget *page = open_page (path, &window, "Release: not ready.");

  fettle_ledger_select (FETTLE_LEDGER (window_test_get (page, "release-criteria")), 0, TRUE);
  window_test_settle ();
  g_assert_true (gtk_widget_get_sensitive (window_test_get (page, "release-waive")));
  act (window, "waive");
  fill (page, "reason", "small batch");
  fill (page, "until", "2099-12-31");
  fill (page, "person", "OW");
  do_it (page);
  wait_for (page, "release-headline", "Release: nothing blocks. 0 of 1 criteria are met");
  g_assert_true (shows (page, "release-waivers", "small batch"));
  g_assert_true (shows (page, "release-remarks", "small batch"));
  window_test_close (window);
}

static gboolean
has_evidence (gpointer data)
{
  const Wanted *wanted = data;

  return shows (wanted->page, "release-assumptions", "")
         || strlen (gtk_label_get_label (GTK_LABEL (window_test_get (wanted->page, "release-forecast")))) > 0;
}

/* The owner decides with two conditions: things to do, and what was known stays. */
static void
test_decides (void)
{
  g_autofree char *path = make_book (22);
  FettleWindow *window;
  GtkWidget *page = open_page (path, &window, "Release: its 1 criterion is met.");
  Wanted wanted = { page, NULL, NULL };

  window_test_wait (has_evidence, &wanted, "what a decision freezes");
  act (window, "opinion");
  fill (page, "opinion", "1");
  fill (page, "person", "LE");
  do_it (page);
  wait_for (page, "release-headline", "Release: its 1 criterion is met.");
  window_test_wait (has_evidence, &wanted, "what a decision freezes");
  window_test_settle ();
  g_usleep (200000);
  window_test_settle ();
  g_assert_true (shows (page, "release-opinions", "LE"));

  act (window, "decide");
  fill (page, "verdict", "3");
  fill (page, "conditions", "Third lot measured; LE; 2099-04-01\nInstructions approved; OW; 2099-05-01");
  fill (page, "person", "OW");
  do_it (page);
  wait_for (page, "release-decided", "Release with conditions");
  g_assert_true (shows (page, "release-decisions", "Third lot measured; LE; 2099-04-01"));
  g_assert_true (shows (page, "release-beside", "C1: Lock holds"));
  window_test_close (window);
}

int
main (int argc, char *argv[])
{
  int status;

  window_test_init (&argc, &argv);
  folder = g_dir_make_tmp ("fettle-release-XXXXXX", NULL);
  g_test_add_func ("/window/release/says-what-blocks-and-what-is-missing", test_blocks);
  g_test_add_func ("/window/release/a-waiver-unblocks-and-is-named", test_waives);
  g_test_add_func ("/window/release/the-owner-decides-with-conditions", test_decides);
  status = g_test_run ();
  window_test_remove (folder);
  g_free (folder);
  return status;
}
