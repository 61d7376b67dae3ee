/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is typed and not stored: whose it is, what the book had, and records that are made without leaving a form. */
#include "config.h"

#include <string.h>

#include "book-edit.h"
#include "book-record.h"
#include "drafts.h"
#include "window-form.h"
#include "window-private.h"

typedef WindowForm Fixture;

/* @issue 0: a new one. */
static void
open_issue (Fixture *fixture, gint64 issue)
{
  static const char *const fields[] = { "title", "class", "found_round", "owner", NULL };

  if (issue != 0)
    window_form_show (fixture, BOOK_RECORD_ISSUE, fields, issue, "title");
  else
    window_form_begin (fixture, BOOK_RECORD_ISSUE, fields, fixture->model, "title");
}

static gint64
add_issue (Fixture *fixture, const char *title)
{
  open_issue (fixture, 0);
  window_form_type (fixture, "title", title);
  window_test_choose (window_form_get (fixture, "class"), 2);
  fettle_record_form_save (fixture->form);
  window_form_wait_saved (fixture);
  window_form_drop (fixture);
  fixture->n_closed = 0;
  return fixture->saved;
}

/* The window ends without the form being left: what a crash leaves is the file of drafts. */
static void
crash (Fixture *fixture)
{
  window_form_drop (fixture);
  window_test_close (fixture->base.window);
  window_test_settle ();
  window_form_open_window (fixture);
}

/*
 * As a crash in the middle of a field of a record that is there: leaving it would store it. So the file is kept as it is
 * while somebody types, and the book gets back what it had.
 */
static void
crash_in_field (Fixture *fixture, gint64 issue, const char *now_in_book)
{
  static const char *const fields[] = { "title", NULL };
  const char *const texts[] = { now_in_book, NULL };
  g_autofree char *name = g_compute_checksum_for_string (G_CHECKSUM_SHA256, fixture->base.book, -1);
  g_autofree char *path = g_build_filename (g_get_user_state_dir (), "fettle", "typed", name, NULL);
  g_autofree char *text = NULL;

  for (guint i = 0; i < 200 && (text == NULL || strstr (text, "Rattles always") == NULL); i++)
    {
      g_usleep (20000);
      window_test_settle ();
      g_clear_pointer (&text, g_free);
      g_file_get_contents (path, &text, NULL, NULL);
    }
  g_assert_nonnull (text);
  window_form_drop (fixture);
  g_usleep (200000);
  window_test_edit (fixture->base.window, book_edit_record (BOOK_RECORD_ISSUE, issue, fields, texts, NULL));
  window_test_close (fixture->base.window);
  window_test_settle ();
  g_usleep (300000); /* the window's own file is gone by then */
  window_test_settle ();
  g_assert_true (g_file_set_contents (path, text, -1, NULL));
  window_form_open_window (fixture);
}

static const char *
title (Fixture *fixture)
{
  return gtk_editable_get_text (GTK_EDITABLE (window_form_get (fixture, "title")));
}

/* ---- whose it is ---- */

static void
sit_down (Fixture *fixture, const char *initials)
{
  fettle_sitting_set_person (window_form_sitting (fixture), window_test_find_record (fixture->base.window, BOOK_RECORD_PERSON, initials));
}

static void
test_person (Fixture *fixture, gconstpointer data)
{
  g_test_summary ("What somebody typed before a crash is offered to the same person, and to nobody else.");
  sit_down (fixture, "AB");
  open_issue (fixture, 0);
  window_form_type (fixture, "title", "Spring is lame");
  crash (fixture);

  sit_down (fixture, "CD");
  open_issue (fixture, 0);
  g_usleep (200000);
  window_test_settle ();
  g_assert_cmpstr (title (fixture), ==, "");
  window_form_type (fixture, "title", "Another matter");
  crash (fixture);

  sit_down (fixture, "AB");
  open_issue (fixture, 0);
  g_usleep (200000);
  window_test_settle ();
  g_assert_cmpstr (title (fixture), ==, "Spring is lame");
  g_assert_true (gtk_widget_get_mapped (window_form_get (fixture, "restored")));
  window_form_drop (fixture);
  sit_down (fixture, "CD");
  open_issue (fixture, 0);
  window_test_settle ();
  /* What AB took up again stood in the window when CD sat down: it is a draft of the window now; CD's own is there, too. */
  g_assert_cmpstr (title (fixture), !=, "");
}

static void
test_person_comes (Fixture *fixture, gconstpointer data)
{
  g_test_summary ("Who says later who he is finds what he typed in the form that is open already.");
  sit_down (fixture, "AB");
  open_issue (fixture, 0);
  window_form_type (fixture, "title", "Spring is lame");
  crash (fixture);
  open_issue (fixture, 0);
  g_usleep (200000);
  window_test_settle ();
  g_assert_cmpstr (title (fixture), ==, "");
  sit_down (fixture, "AB");
  window_test_settle ();
  g_assert_cmpstr (title (fixture), ==, "Spring is lame");
}

/* ---- what the book had ---- */

static void
test_changed_meanwhile (Fixture *fixture, gconstpointer data)
{
  gint64 issue = add_issue (fixture, "Rattles");

  g_test_summary ("When the record changed between typing and coming back, both values are shown.");
  open_issue (fixture, issue);
  window_form_type (fixture, "title", "Rattles always");
  crash_in_field (fixture, issue, "Rattles when cold");
  open_issue (fixture, issue);
  g_usleep (200000);
  window_test_settle ();
  g_assert_cmpstr (title (fixture), ==, "Rattles always");
  g_assert_true (gtk_widget_get_mapped (window_form_get (fixture, "both")));
  g_assert_cmpstr (gtk_label_get_label (GTK_LABEL (window_form_get (fixture, "both"))), ==, "Somebody else wrote here meanwhile: 'Rattles when cold'.");
}

static void
test_unchanged_meanwhile (Fixture *fixture, gconstpointer data)
{
  gint64 issue = add_issue (fixture, "Rattles");

  open_issue (fixture, issue);
  window_form_type (fixture, "title", "Rattles always");
  crash_in_field (fixture, issue, "Rattles");
  open_issue (fixture, issue);
  g_usleep (200000);
  window_test_settle ();
  g_assert_cmpstr (title (fixture), ==, "Rattles always");
  g_assert_null (window_test_find (GTK_WIDGET (fixture->form), "both"));
}

/* ---- a new one in place ---- */

static gboolean
offers_new (gpointer data)
{
  return window_test_find (GTK_WIDGET (((Fixture *) data)->form), "reference-add") != NULL;
}

static gboolean
has_inner_form (gpointer data)
{
  GtkWidget *initials = window_test_find (GTK_WIDGET (((Fixture *) data)->form), "initials");

  return initials != NULL && gtk_widget_get_mapped (initials) && gtk_widget_is_sensitive (initials)
         && gtk_editable_get_text (GTK_EDITABLE (initials))[0] != '\0';
}

static gboolean
is_chosen (gpointer data)
{
  GtkWidget *initials = window_test_find (GTK_WIDGET (((Fixture *) data)->form), "initials");

  return initials == NULL || !gtk_widget_get_mapped (initials);
}

static void
test_new_in_place (Fixture *fixture, gconstpointer data)
{
  g_autoptr(BookRow) row = NULL;
  GtkWidget *control, *search;

  g_test_summary ("A person who is not in the list is added where he is chosen; Ctrl+Return stores the inner form first.");
  open_issue (fixture, 0);
  window_form_type (fixture, "title", "Latch is stiff");
  window_test_choose (window_form_get (fixture, "class"), 2);
  control = window_form_get (fixture, "owner");
  g_signal_emit_by_name (control, "clicked");
  window_test_settle ();
  search = window_form_get (fixture, "reference-search");
  gtk_editable_set_text (GTK_EDITABLE (search), "EF");
  window_test_wait (offers_new, fixture, "the offer");
  window_test_settle ();
  g_signal_emit_by_name (search, "activate"); /* nothing else is called so */
  window_test_wait (has_inner_form, fixture, "the form of the new person");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (window_form_get (fixture, "initials"))), ==, "EF");
  gtk_widget_grab_focus (window_form_get (fixture, "initials"));
  g_assert_true (window_test_shortcut (window_form_get (fixture, "initials"), GDK_KEY_Return, GDK_CONTROL_MASK));
  window_test_wait (is_chosen, fixture, "the new person");
  window_test_settle ();
  g_assert_cmpuint (fixture->n_saved, ==, 0); /* the issue waits */
  g_assert_cmpstr (title (fixture), ==, "Latch is stiff");
  for (guint i = 0; i < 20; i++)
    {
      g_usleep (20000);
      window_test_settle ();
    }
  fettle_record_form_save (fixture->form);
  window_form_wait_saved (fixture);
  row = window_test_read_record (fixture->base.window, BOOK_RECORD_ISSUE, fixture->saved);
  g_assert_cmpint (book_row_get (row, "owner")->integer, ==, window_test_find_record (fixture->base.window, BOOK_RECORD_PERSON, "EF"));
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
#define ADD(path, test) g_test_add ("/window/entering/" path, Fixture, NULL, window_form_set_up, test, window_form_tear_down)
  ADD ("is-offered-again-to-the-same-person", test_person);
  ADD ("is-offered-when-the-person-comes", test_person_comes);
  ADD ("shows-both-when-the-record-changed-meanwhile", test_changed_meanwhile);
  ADD ("shows-one-when-nothing-changed", test_unchanged_meanwhile);
  ADD ("adds-a-new-record-where-it-is-chosen", test_new_in_place);
#undef ADD
  return g_test_run ();
}
