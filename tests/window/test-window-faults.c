/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bad input in every kind of field, a book that cannot be written, and a program that is killed while somebody types. */
#include "config.h"

#include <signal.h>
#include <sqlite3.h>
#include <string.h>
#include <unistd.h>

#include <glib/gstdio.h>
#include <json-glib/json-glib.h>

#include "attachments.h"
#include "book-record.h"
#include "fault-vfs.h"
#include "file-tray.h"
#include "window-form.h"
#include "window-look.h"
#include "window-private.h"

#define KNIFE "\xf0\x9f\x94\xaa"
#define HEBREW "\xd7\xa9\xd7\x9c\xd7\x95\xd7\x9d \xe2\x80\x8f(12)"

typedef WindowForm Fixture;

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  fault_vfs_disarm ();
  window_form_tear_down (fixture, data);
}

static char *
dup_typed (Fixture *fixture, const char *field)
{
  GtkWidget *control = window_form_get (fixture, field);
  GtkTextIter from, to;

  if (!GTK_IS_TEXT_VIEW (control))
    return g_strdup (gtk_editable_get_text (GTK_EDITABLE (control)));
  gtk_text_buffer_get_bounds (gtk_text_view_get_buffer (GTK_TEXT_VIEW (control)), &from, &to);
  return gtk_text_buffer_get_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (control)), &from, &to, FALSE);
}

/* ---- bad input ---- */

/* A field of each kind, what is typed into it, and the sentence. "#200" is that many letters. */
static const struct
{
  const char  *path;
  BookRecordId record;
  const char  *field;
  const char  *typed;
  const char  *says;
} inputs[] = {
  { "text-empty-but-needed", BOOK_RECORD_CHARACTERISTIC, "name", "", "It is empty, but must be filled in." },
  { "text-too-long", BOOK_RECORD_CHARACTERISTIC, "name", "#121", "The text has 121 characters, and 120 are allowed: shorten it." },
  { "text-with-a-control-character", BOOK_RECORD_CHARACTERISTIC, "name", "Pl\x07" "ay", "'Pl\\u0007ay' holds a control character: take it out." },
  { "long-text-too-long", BOOK_RECORD_ISSUE, "cause", "#20001", "The text has " },
  { "whole-number-of-another-kind", BOOK_RECORD_CHARACTERISTIC, "decimals", "two", "'two' is not a whole number: write digits, such as 12." },
  { "whole-number-out-of-bounds", BOOK_RECORD_CHARACTERISTIC, "decimals", "99", "99 is too large: it must be at most 6." },
  { "number-of-another-kind", BOOK_RECORD_ISSUE, "seen_load", KNIFE, "'" KNIFE "' is not a number: write digits, such as 12.5." },
  { "number-beyond-all-bounds", BOOK_RECORD_ISSUE, "seen_load", "1e400", "'1e400' is not a number: write digits, such as 12.5." },
  { "number-right-to-left", BOOK_RECORD_ISSUE, "seen_load", HEBREW, "'\xd7\xa9" },
  { "share-out-of-bounds", BOOK_RECORD_ISSUE, "tolerated_share", "1,5", "1.5 " },
  { "date-that-does-not-exist", BOOK_RECORD_ISSUE, "found_on", "31.2.2026", "'31.2.2026' is not a date that exists: write it like 2026-03-31." },
  { "date-of-another-kind", BOOK_RECORD_ISSUE, "found_on", "soon", "'soon' is not a date that exists: write it like 2026-03-31." },
  { "date-in-emoji", BOOK_RECORD_ISSUE, "found_on", KNIFE, "'" KNIFE "' is not a date that exists: write it like 2026-03-31." },
  { "date-right-to-left", BOOK_RECORD_ISSUE, "found_on", HEBREW, "'\xd7\xa9" },
  { "whole-number-in-emoji", BOOK_RECORD_CHARACTERISTIC, "decimals", KNIFE, "'" KNIFE "' is not a whole number: write digits, such as 12." },
  { "share-of-another-kind", BOOK_RECORD_ISSUE, "tolerated_share", "most", "'most' is not a " },
  { "share-right-to-left", BOOK_RECORD_ISSUE, "tolerated_share", HEBREW, "'\xd7\xa9" },
  { "money-of-another-kind", BOOK_RECORD_PART, "price", "free", "'free' is not a number: write digits, such as 12.5." },
  { "money-out-of-bounds", BOOK_RECORD_PART, "price", "-1", "-1 is " },
  { "money-too-long", BOOK_RECORD_PART, "price", "#400", "'xxx" },
  { "moment-in-emoji", BOOK_RECORD_READING, "taken", KNIFE, "'" KNIFE "' is not a date or time that exists" },
  { "moment-that-does-not-exist", BOOK_RECORD_READING, "taken", "2026-03-31 25:00", "'2026-03-31 25:00' is not a date or time that exists" },
};

static void
test_input (Fixture *fixture, gconstpointer data)
{
  gsize i = GPOINTER_TO_SIZE (data);
  const char *fields[] = { inputs[i].field, "title", NULL };
  g_autofree char *text = inputs[i].typed[0] == '#' ? g_strnfill (g_ascii_strtoull (inputs[i].typed + 1, NULL, 10), 'x')
                                                    : g_strdup (inputs[i].typed);
  g_autofree char *typed = NULL;

  g_test_summary ("Not said while it is typed; said beside the field when it is left; it stays as it was typed.");
  if (book_field_find (book_record (inputs[i].record), "title") == NULL)
    fields[1] = inputs[i].record == BOOK_RECORD_READING ? "reason" : inputs[i].record == BOOK_RECORD_PART ? "name" : "unit";
  window_form_begin (fixture, inputs[i].record, fields,
                     inputs[i].record == BOOK_RECORD_READING || inputs[i].record == BOOK_RECORD_PART ? 0 : fixture->model, fields[0]);
  window_form_type (fixture, fields[0], "1");
  window_form_type (fixture, fields[0], text);
  g_assert_cmpstr (window_form_wrong (fixture, fields[0]), ==, "");
  if (text[0] == '\0') /* one that was never filled in is said when all is stored */
    fettle_record_form_save (fixture->form);
  else
    gtk_widget_grab_focus (window_form_get (fixture, fields[1]));
  window_test_settle ();
  g_test_message ("%.120s", window_form_wrong (fixture, fields[0]));
  g_assert_true (g_str_has_prefix (window_form_wrong (fixture, fields[0]), inputs[i].says));
  typed = dup_typed (fixture, fields[0]);
  g_assert_cmpstr (typed, ==, text);
  g_assert_cmpuint (fixture->n_saved, ==, 0);
  /* Mended, it is no longer called wrong. */
  window_form_type (fixture, fields[0], strstr (inputs[i].path, "date") != NULL || strstr (inputs[i].path, "moment") != NULL ? "2026-03-31" : "0.5");
  if (strstr (inputs[i].path, "whole") != NULL)
    window_form_type (fixture, fields[0], "3");
  g_assert_cmpstr (window_form_wrong (fixture, fields[0]), ==, "");
}

/* Kinds of field of which nothing wrong can be typed. */
static const struct
{
  BookKind kind;
  const char   *reason;
} without[] = {
  { BOOK_KIND_BOOLEAN, "it is yes or no" },
  { BOOK_KIND_CHOICE, "only what is in its list; empty is tested by itself" },
  { BOOK_KIND_REFERENCE, "only what is in its list, or a new one with a form of its own; empty is tested by itself" },
  { BOOK_KIND_RECORD, "no person types it: it goes with what a thing to do or an attachment is about" },
  { BOOK_KIND_ANY, "the same" },
  { BOOK_KIND_CONTENT, "a file, which is tested by itself" },
};

static gboolean
is_covered (BookKind kind)
{
  for (gsize i = 0; i < G_N_ELEMENTS (without); i++)
    if (without[i].kind == kind)
      return TRUE;
  for (gsize i = 0; i < G_N_ELEMENTS (inputs); i++)
    if (book_field_find (book_record (inputs[i].record), inputs[i].field)->kind == kind)
      return TRUE;
  return FALSE;
}

static void
test_every_kind (void)
{
  g_test_summary ("A kind of field that is added has wrong input in the table, or is left out with a reason.");
  for (guint id = 1; id <= BOOK_N_RECORDS; id++)
    for (guint i = 0; i < book_record (id)->n_fields; i++)
      {
        const BookField *field = &book_record (id)->fields[i];

        if (!is_covered (field->kind))
          g_test_message ("No wrong input for the kind of %s.%s", book_record (id)->name, field->name);
        g_assert_true (is_covered (field->kind));
      }
}

static void
test_nothing_chosen (Fixture *fixture, gconstpointer data)
{
  static const char *const fields[] = { "gauge", "date", "in_order", NULL };
  static const char *const issue_fields[] = { "title", "class", NULL };

  g_test_summary ("A reference, a day and a choice that are needed and were left out are said beside each of them.");
  window_form_begin (fixture, BOOK_RECORD_GAUGE_CALIBRATION, fields, 0, "date");
  fettle_record_form_save (fixture->form);
  window_test_settle ();
  g_assert_cmpstr (window_form_wrong (fixture, "gauge"), ==, "It is empty, but must be filled in.");
  g_assert_cmpstr (window_form_wrong (fixture, "date"), ==, "It is empty, but must be filled in.");
  g_assert_cmpuint (fixture->n_saved, ==, 0);
  window_form_drop (fixture);
  window_form_begin (fixture, BOOK_RECORD_ISSUE, issue_fields, fixture->model, "title");
  window_form_type (fixture, "title", "Rattles");
  fettle_record_form_save (fixture->form);
  window_test_settle ();
  g_assert_cmpstr (window_form_wrong (fixture, "class"), ==, "It is empty, but must be filled in.");
  g_assert_cmpuint (fixture->n_saved, ==, 0);
}

/* ---- files ---- */

#define LIMIT (32 * 1024 * 1024)

/* A file without anything in it takes no room on most disks, however long it is. */
static GFile *
make_file (Fixture *fixture, const char *name, goffset length)
{
  g_autofree char *path = g_build_filename (fixture->base.folder, name, NULL);
  FILE *file = g_fopen (path, "w");

  g_assert_nonnull (file);
  g_assert_cmpint (ftruncate (fileno (file), length), ==, 0);
  g_assert_cmpint (fclose (file), ==, 0);
  return g_file_new_for_path (path);
}

static GtkWidget *
frame (Fixture *fixture, GtkWidget *child)
{
  fixture->frame = GTK_WINDOW (gtk_window_new ());
  gtk_window_set_child (fixture->frame, child);
  gtk_window_present (fixture->frame);
  window_test_settle ();
  return child;
}

typedef struct
{
  GtkWidget  *root;
  const char *words;
} Words;

static gboolean
has_words (gpointer data)
{
  const Words *words = data;

  return window_test_has_words (words->root, words->words, WINDOW_TEST_SEEN);
}

static void
test_file_in_form (Fixture *fixture, gconstpointer data)
{
  GtkWidget *tray = frame (fixture, fettle_file_tray_new (window_form_sitting (fixture), "Files", BOOK_ATTACHMENT_OTHER));
  g_autoptr(GFile) most = make_file (fixture, "most.bin", LIMIT), more = make_file (fixture, "more.bin", LIMIT + 1);
  guint n;

  g_test_summary ("A file of 32 MiB waits in a form to be stored; one of a byte more is refused in a sentence, and the other stays.");
  fettle_file_tray_take (FETTLE_FILE_TRAY (tray), most);
  window_test_wait (has_words, &(Words){ tray, "most.bin" }, "the file at the limit");
  fettle_file_tray_take (FETTLE_FILE_TRAY (tray), more);
  window_test_wait (has_words, &(Words){ tray, "'more.bin' is larger than 32 MiB: make it smaller, or attach a link to it." }, "the refusal");
  g_free (fettle_file_tray_list (FETTLE_FILE_TRAY (tray), &n));
  g_assert_cmpuint (n, ==, 1);
  gtk_window_destroy (g_steal_pointer (&fixture->frame));
}

static GtkEventController *
drop_target (GtkWidget *widget)
{
  g_autoptr(GListModel) controllers = gtk_widget_observe_controllers (widget);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr(GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_DROP_TARGET (controller))
        return controller;
    }
  g_assert_not_reached ();
}

static gboolean
has_attached (gpointer data)
{
  return window_test_count_records (((Fixture *) data)->base.window, BOOK_RECORD_ATTACHMENT) == 1;
}

static void
test_file_dropped (Fixture *fixture, gconstpointer data)
{
  GtkWidget *files = frame (fixture, fettle_attachments_new (window_form_sitting (fixture), BOOK_RECORD_MODEL, fixture->model));
  GFile *both[] = { make_file (fixture, "more.bin", LIMIT + 1), make_file (fixture, "note.bin", 12) };
  GSList second = { both[1], NULL }, first = { both[0], &second };
  GValue value = G_VALUE_INIT;
  gboolean taken = FALSE;

  g_test_summary ("Of two files that are dropped the one beyond the limit is refused in a sentence, and the other is stored.");
  g_value_init (&value, GDK_TYPE_FILE_LIST);
  g_value_take_boxed (&value, gdk_file_list_new_from_list (&first));
  g_signal_emit_by_name (drop_target (files), "drop", &value, 0.0, 0.0, &taken);
  g_assert_true (taken);
  window_test_wait_said (fixture->base.window, "'more.bin' is larger than 32 MiB: make it smaller, or attach a link to it.");
  window_test_wait (has_attached, fixture, "the other file");
  g_value_unset (&value);
  g_object_unref (both[0]);
  g_object_unref (both[1]);
  gtk_window_destroy (g_steal_pointer (&fixture->frame));
  window_test_settle ();
}

static void
test_scripts (Fixture *fixture, gconstpointer data)
{
  static const char *const fields[] = { "title", "class", "cause", NULL };
  g_autofree char *title = NULL, *cause = NULL;

  g_test_summary ("Emoji and right-to-left text are stored as they were typed, also in lines.");
  window_form_begin (fixture, BOOK_RECORD_ISSUE, fields, fixture->model, "title");
  window_form_type (fixture, "title", KNIFE " " HEBREW);
  window_test_choose (window_form_get (fixture, "class"), 2);
  window_form_type (fixture, "cause", HEBREW "\n" KNIFE "\n\xd8\xb3\xd9\x83\xd9\x8a\xd9\x86");
  fettle_record_form_save (fixture->form);
  window_form_wait_saved (fixture);
  title = window_test_read_field (fixture->base.window, BOOK_RECORD_ISSUE, fixture->saved, "title");
  cause = window_test_read_field (fixture->base.window, BOOK_RECORD_ISSUE, fixture->saved, "cause");
  g_assert_cmpstr (title, ==, KNIFE " " HEBREW);
  g_assert_cmpstr (cause, ==, HEBREW "\n" KNIFE "\n\xd8\xb3\xd9\x83\xd9\x8a\xd9\x86");
}

/* ---- a book that cannot be written ---- */

static gboolean
is_written_again (gpointer data)
{
  return g_str_equal (window_test_said (((Fixture *) data)->base.window), "The book can be written again: what waited is stored.");
}

/* Types a title and leaves the field. */
static void
type_title (Fixture *fixture)
{
  static const char *const fields[] = { "title", "class", NULL };

  window_form_begin (fixture, BOOK_RECORD_ISSUE, fields, fixture->model, "title");
  window_form_type (fixture, "title", "Rattles");
  window_test_choose (window_form_get (fixture, "class"), 2);
  fettle_record_form_save (fixture->form);
  window_form_wait_saved (fixture);
  window_form_drop (fixture);
  window_form_show (fixture, BOOK_RECORD_ISSUE, fields, fixture->saved, "title");
}

/* The text stays, the bar says what is wrong, and it is stored without anybody typing again. */
static void
check_patience (Fixture *fixture, const char *says, void (*mend) (gpointer), gpointer data)
{
  g_autofree char *before = NULL, *after = NULL;

  window_form_type (fixture, "title", "Rattles " KNIFE);
  gtk_widget_grab_focus (window_form_get (fixture, "class"));
  window_test_wait_said (fixture->base.window, "tried again by itself");
  g_test_message ("%s", window_test_said (fixture->base.window));
  g_assert_nonnull (strstr (window_test_said (fixture->base.window), says));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (window_form_get (fixture, "title"))), ==, "Rattles " KNIFE);
  before = window_test_read_field (fixture->base.window, BOOK_RECORD_ISSUE, fixture->saved, "title");
  g_assert_cmpstr (before, ==, "Rattles");
  mend (data);
  window_test_wait (is_written_again, fixture, "the book is written again");
  window_test_settle ();
  after = window_test_read_field (fixture->base.window, BOOK_RECORD_ISSUE, fixture->saved, "title");
  g_assert_cmpstr (after, ==, "Rattles " KNIFE);
}

static void
mend_fault (gpointer data)
{
  fault_vfs_disarm ();
}

static void
test_full (Fixture *fixture, gconstpointer data)
{
  type_title (fixture);
  fault_vfs_arm (FAULT_FULL, FAULT_AT_WRITE, 1, TRUE);
  check_patience (fixture, "full", mend_fault, NULL);
}

static void
test_read_only (Fixture *fixture, gconstpointer data)
{
  type_title (fixture);
  fault_vfs_arm (FAULT_READ_ONLY, FAULT_AT_WRITE, 1, TRUE);
  check_patience (fixture, "written", mend_fault, NULL);
}

static void
mend_lock (gpointer data)
{
  g_assert_cmpint (sqlite3_exec (data, "ROLLBACK", NULL, NULL, NULL), ==, SQLITE_OK);
}

static void
test_locked (Fixture *fixture, gconstpointer data)
{
  sqlite3 *other = NULL;

  type_title (fixture);
  g_assert_cmpint (sqlite3_open (fixture->base.book, &other), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (other, "BEGIN IMMEDIATE", NULL, NULL, NULL), ==, SQLITE_OK);
  check_patience (fixture, "another program", mend_lock, other);
  g_assert_cmpint (sqlite3_close (other), ==, SQLITE_OK);
}

/* What waits when the window goes is in its field again the next time. */
static void
test_full_and_closed (Fixture *fixture, gconstpointer data)
{
  static const char *const fields[] = { "title", NULL };

  type_title (fixture);
  fault_vfs_arm (FAULT_FULL, FAULT_AT_WRITE, 1, TRUE);
  window_form_type (fixture, "title", "Rattles badly");
  gtk_widget_grab_focus (window_form_get (fixture, "class"));
  window_test_wait_said (fixture->base.window, "tried again by itself");
  window_form_drop (fixture);
  window_test_close (fixture->base.window);
  fault_vfs_disarm ();
  window_form_open_window (fixture);
  window_form_show (fixture, BOOK_RECORD_ISSUE, fields, fixture->saved, "title");
  g_usleep (200000);
  window_test_settle ();
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (window_form_get (fixture, "title"))), ==, "Rattles badly");
}

/* ---- killed while somebody types ---- */

#define LETTERS "the quick brown fox jumps over the lazy dog and then goes on along the river until night falls"

/* The child: types a letter a turn, tells of each, and waits for an order at every tenth. */
static int
type_until_killed (const char *book)
{
  static const char *const fields[] = { "title", "cause", NULL };
  Fixture fixture = { .base.book = (char *) book };
  char order[8];

  window_form_open_window (&fixture);
  window_form_begin (&fixture, BOOK_RECORD_ISSUE, fields, fixture.model, "title");
  for (gsize i = 1; i <= strlen (LETTERS); i++)
    {
      g_autofree char *typed = g_strndup (LETTERS, i);

      window_form_type (&fixture, "title", typed);
      g_main_context_iteration (NULL, FALSE);
      g_usleep (3000);
      g_print ("%zu\n", i);
      for (gboolean wait = i % 10 == 0; wait;)
        {
          GPollFD in = { 0, G_IO_IN, 0 };

          g_main_context_iteration (NULL, FALSE);
          wait = g_poll (&in, 1, 5) == 0;
          if (!wait && fgets (order, sizeof order, stdin) == NULL)
            return 1;
        }
    }
  for (;;)
    g_main_context_iteration (NULL, TRUE);
}

/* What the drafts of the folder hold of the title: NULL while there are none. Half a file fails the test. */
static char *
kept_title (const char *state)
{
  g_autofree char *folder = g_build_filename (state, "fettle", "typed", NULL);
  g_autoptr(GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autoptr(JsonParser) parser = json_parser_new ();
      g_autoptr(GError) error = NULL;
      JsonArray *typed;

      if (strchr (name, '.') != NULL) /* the one that was being written */
        continue;
      g_assert_true (json_parser_load_from_file (parser, path, &error));
      g_assert_no_error (error);
      typed = json_object_get_array_member (json_node_get_object (json_parser_get_root (parser)), "typed");
      for (guint i = 0; i < json_array_get_length (typed); i++)
        {
          JsonObject *draft = json_array_get_object_element (typed, i);

          if (g_str_has_suffix (json_object_get_string_member (draft, "field"), "-title"))
            return g_strdup (json_object_get_string_member (draft, "text"));
        }
    }
  return NULL;
}

/* All that was typed before the last order is on the disk, and what is there is what was typed first. */
static void
kill_after (const char *book, const char *state, guint orders, guint more)
{
  g_autoptr(GSubprocessLauncher) launcher = g_subprocess_launcher_new (G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_STDIN_PIPE);
  g_autoptr(GSubprocess) child = NULL;
  g_autoptr(GDataInputStream) lines = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *kept = NULL;

  g_subprocess_launcher_setenv (launcher, "FETTLE_TYPES_INTO", book, TRUE);
  g_subprocess_launcher_setenv (launcher, "XDG_STATE_HOME", state, TRUE);
  child = g_subprocess_launcher_spawn (launcher, &error, "/proc/self/exe", NULL);
  g_assert_no_error (error);
  lines = g_data_input_stream_new (g_subprocess_get_stdout_pipe (child));
  for (guint i = 1; i <= orders * 10 + more; i++)
    {
      g_autofree char *line = NULL;

      do
        {
          g_free (line);
          line = g_data_input_stream_read_line (lines, NULL, NULL, &error);
          g_assert_no_error (error);
          g_assert_nonnull (line);
        }
      while (g_ascii_strtoull (line, NULL, 10) != i);
      if (i % 10 != 0)
        continue;
      for (guint wait = 0; wait < 400 && (kept == NULL || strlen (kept) < i); wait++)
        {
          g_usleep (25000);
          g_free (kept);
          kept = kept_title (state);
        }
      g_assert_cmpstr (kept, !=, NULL);
      g_assert_cmpuint (strlen (kept), ==, i); /* it was synced while nobody typed */
      g_assert_true (g_output_stream_write_all (g_subprocess_get_stdin_pipe (child), "go\n", 3, NULL, NULL, NULL));
      g_output_stream_flush (g_subprocess_get_stdin_pipe (child), NULL, NULL);
    }
  g_subprocess_send_signal (child, SIGKILL);
  g_subprocess_wait (child, NULL, NULL);
  g_free (kept);
  kept = kept_title (state);
  g_test_message ("killed after %u letters: %zu kept", orders * 10 + more, strlen (kept));
  g_assert_cmpuint (strlen (kept), >=, orders * 10);
  g_assert_true (g_str_has_prefix (LETTERS, kept));
}

static void
test_killed (void)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("fettle-killed-XXXXXX", &error);
  g_autofree char *book = NULL;

  g_test_summary ("A program killed while somebody types leaves a whole file with all but the last letters.");
  g_assert_no_error (error);
  book = window_test_make_book (folder);
  for (guint i = 0; i < 4; i++)
    {
      g_autofree char *name = g_strdup_printf ("state-%u", i);
      g_autofree char *state = g_build_filename (folder, name, NULL);

      kill_after (book, state, i + 1, 1 + 3 * i % 9);
    }
  window_test_remove (folder);
}

int
main (int argc, char **argv)
{
  fault_vfs_register ();
  sqlite3_vfs_register (sqlite3_vfs_find (FAULT_VFS), 1);
  window_test_init (&argc, &argv);
  if (g_getenv ("FETTLE_TYPES_INTO") != NULL)
    return type_until_killed (g_getenv ("FETTLE_TYPES_INTO"));

  for (gsize i = 0; i < G_N_ELEMENTS (inputs); i++)
    {
      g_autofree char *path = g_strconcat ("/window/faults/", inputs[i].path, "-is-said-beside-the-field", NULL);

      g_test_add (path, Fixture, GSIZE_TO_POINTER (i), window_form_set_up, test_input, tear_down);
    }
#define ADD(path, test) g_test_add ("/window/faults/" path, Fixture, NULL, window_form_set_up, test, tear_down)
  ADD ("what-is-needed-and-not-chosen-is-said", test_nothing_chosen);
  ADD ("a-file-beyond-the-limit-is-refused-in-a-form", test_file_in_form);
  ADD ("a-file-beyond-the-limit-is-refused-when-dropped", test_file_dropped);
  ADD ("emoji-and-right-to-left-text-are-stored", test_scripts);
  ADD ("a-full-disk-is-waited-for", test_full);
  ADD ("a-read-only-book-is-waited-for", test_read_only);
  ADD ("a-locked-book-is-waited-for", test_locked);
  ADD ("what-waited-is-back-in-the-next-window", test_full_and_closed);
#undef ADD
  g_test_add_func ("/window/faults/no-kind-of-field-is-left-out", test_every_kind);
  g_test_add_func ("/window/faults/killed-while-typing", test_killed);
  return g_test_run ();
}
