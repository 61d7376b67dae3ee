/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "drafts.h"

#include <glib/gstdio.h>

#define PAUSE_MS 150 /* from the first keystroke that is not in the file to its writing */
#define MOST_BYTES (4 * 1024 * 1024) /* some long texts */

struct _FettleDrafts
{
  GObject parent_instance;

  char       *path;
  GHashTable *texts; /* field -> what was typed */
  guint       wait;  /* source: something is not in the file yet */
  gboolean    writing;
  gboolean    is_restored;
};

enum
{
  SIGNAL_RESTORED,
  SIGNAL_TYPED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleDrafts, fettle_drafts, G_TYPE_OBJECT)

static const char group[] = "typed";

static void start_waiting (FettleDrafts *self);

/* ---- the file ---- */

typedef struct
{
  char *path;
  char *text; /* NULL: there is nothing to keep */
} Writing;

static void
writing_free (gpointer data)
{
  Writing *writing = data;

  g_free (writing->path);
  g_free (writing->text);
  g_free (writing);
}

/* A draft that cannot be kept costs no more than what it was kept for: the cell still has it. */
static void
write_work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Writing *writing = data;
  g_autofree char *folder = g_path_get_dirname (writing->path);
  g_autoptr(GError) error = NULL;

  if (writing->text == NULL)
    g_unlink (writing->path);
  else if (g_mkdir_with_parents (folder, 0700) != 0
           || !g_file_set_contents_full (writing->path, writing->text, -1, G_FILE_SET_CONTENTS_CONSISTENT, 0600, &error))
    g_debug ("what is typed could not be kept: %s", error != NULL ? error->message : folder);
  g_task_return_boolean (task, TRUE);
}

static void
on_written (GObject *object, GAsyncResult *result, gpointer data)
{
  FettleDrafts *self = FETTLE_DRAFTS (object);

  self->writing = FALSE;
}

static void
release_program (GObject *object, GAsyncResult *result, gpointer data)
{
  if (g_application_get_default () != NULL)
    g_application_release (g_application_get_default ());
}

static char *
file_text (FettleDrafts *self)
{
  g_autoptr(GKeyFile) file = g_key_file_new ();
  GHashTableIter iter;
  gpointer field, text;

  if (g_hash_table_size (self->texts) == 0)
    return NULL;
  g_hash_table_iter_init (&iter, self->texts);
  while (g_hash_table_iter_next (&iter, &field, &text))
    g_key_file_set_string (file, group, field, text);
  return g_key_file_to_data (file, NULL, NULL);
}

/* @last: the object ends, so nobody but the program itself can wait for the file. */
static void
start_writing (FettleDrafts *self, gboolean last)
{
  g_autoptr(GTask) task = NULL;
  Writing *writing = g_new0 (Writing, 1);

  writing->path = g_strdup (self->path);
  writing->text = file_text (self);
  if (last && g_application_get_default () != NULL)
    g_application_hold (g_application_get_default ());
  self->writing = !last;
  task = g_task_new (last ? NULL : self, NULL, last ? release_program : on_written, NULL);
  g_task_set_source_tag (task, start_writing);
  g_task_set_task_data (task, writing, writing_free);
  g_task_run_in_thread (task, write_work);
}

static gboolean
on_pause (gpointer data)
{
  FettleDrafts *self = data;

  if (self->writing)
    return G_SOURCE_CONTINUE;
  self->wait = 0;
  start_writing (self, FALSE);
  return G_SOURCE_REMOVE;
}

static void
start_waiting (FettleDrafts *self)
{
  if (self->wait == 0)
    self->wait = g_timeout_add (PAUSE_MS, on_pause, self);
}

/* ---- reading what was kept ---- */

static void
read_work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  g_autoptr(GKeyFile) file = g_key_file_new ();
  g_autofree char *text = NULL;
  gsize length;

  if (g_file_get_contents (data, &text, &length, NULL) && length <= MOST_BYTES
      && g_key_file_load_from_data (file, text, length, G_KEY_FILE_NONE, NULL))
    g_task_return_pointer (task, g_steal_pointer (&file), (GDestroyNotify) g_key_file_unref);
  else
    g_task_return_pointer (task, NULL, NULL);
}

static void
on_read (GObject *object, GAsyncResult *result, gpointer data)
{
  FettleDrafts *self = FETTLE_DRAFTS (object);
  g_autoptr(GKeyFile) file = g_task_propagate_pointer (G_TASK (result), NULL);
  g_auto (GStrv) fields = file != NULL ? g_key_file_get_keys (file, group, NULL, NULL) : NULL;

  for (guint i = 0; fields != NULL && fields[i] != NULL; i++)
    {
      g_autofree char *text = g_key_file_get_string (file, group, fields[i], NULL);

      /* What was typed meanwhile is newer. */
      if (text != NULL && !g_hash_table_contains (self->texts, fields[i]))
        g_hash_table_insert (self->texts, g_steal_pointer (&fields[i]), g_steal_pointer (&text));
    }
  self->is_restored = TRUE;
  if (g_hash_table_size (self->texts) > 0)
    g_signal_emit (self, signals[SIGNAL_RESTORED], 0);
}

/* ---- the object ---- */

static void
fettle_drafts_dispose (GObject *object)
{
  FettleDrafts *self = FETTLE_DRAFTS (object);

  if (self->wait != 0)
    {
      g_clear_handle_id (&self->wait, g_source_remove);
      start_writing (self, TRUE);
    }
  G_OBJECT_CLASS (fettle_drafts_parent_class)->dispose (object);
}

static void
fettle_drafts_finalize (GObject *object)
{
  FettleDrafts *self = FETTLE_DRAFTS (object);

  g_free (self->path);
  g_hash_table_unref (self->texts);
  G_OBJECT_CLASS (fettle_drafts_parent_class)->finalize (object);
}

static void
fettle_drafts_class_init (FettleDraftsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = fettle_drafts_dispose;
  G_OBJECT_CLASS (klass)->finalize = fettle_drafts_finalize;
  signals[SIGNAL_TYPED] = g_signal_new ("typed", FETTLE_TYPE_DRAFTS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_RESTORED] = g_signal_new ("restored", FETTLE_TYPE_DRAFTS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                           G_TYPE_NONE, 0);
}

static void
fettle_drafts_init (FettleDrafts *self)
{
  self->texts = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
}

/**
 * fettle_drafts_new:
 * @book: path of a book
 *
 * Begins to read what was kept for it.
 *
 * Returns: (transfer full): drafts of the book
 */
FettleDrafts *
fettle_drafts_new (const char *book)
{
  FettleDrafts *self = g_object_new (FETTLE_TYPE_DRAFTS, NULL);
  g_autofree char *name = g_compute_checksum_for_string (G_CHECKSUM_SHA256, book, -1);
  g_autoptr(GTask) task = NULL;

  self->path = g_build_filename (g_get_user_state_dir (), "fettle", "typed", name, NULL);
  task = g_task_new (self, NULL, on_read, NULL);
  g_task_set_source_tag (task, fettle_drafts_new);
  g_task_set_task_data (task, g_strdup (self->path), g_free);
  g_task_run_in_thread (task, read_work);
  return self;
}

/**
 * fettle_drafts_keep:
 * @self: drafts
 * @field: letters, figures and hyphens
 * @text: (nullable): what stands in it; %NULL: it is stored, or was taken back
 *
 * Keeps what is typed, from now on also on the disk.
 */
void
fettle_drafts_keep (FettleDrafts *self, const char *field, const char *text)
{
  g_return_if_fail (FETTLE_IS_DRAFTS (self));

  if (g_strcmp0 (text, g_hash_table_lookup (self->texts, field)) == 0)
    return;
  if (text != NULL)
    g_hash_table_insert (self->texts, g_strdup (field), g_strdup (text));
  else
    g_hash_table_remove (self->texts, field);
  start_waiting (self);
  if (text != NULL)
    g_signal_emit (self, signals[SIGNAL_TYPED], 0);
}

/**
 * fettle_drafts_get:
 * @self: drafts
 * @field: a field
 *
 * Returns: (nullable): what was typed into it and not stored
 */
const char *
fettle_drafts_get (FettleDrafts *self, const char *field)
{
  g_return_val_if_fail (FETTLE_IS_DRAFTS (self), NULL);

  return g_hash_table_lookup (self->texts, field);
}

/**
 * fettle_drafts_list:
 * @self: drafts
 *
 * Returns: (transfer full) (array zero-terminated=1): the fields that hold something
 */
char **
fettle_drafts_list (FettleDrafts *self)
{
  g_autoptr(GPtrArray) fields = g_ptr_array_new ();
  GHashTableIter iter;
  gpointer field;

  g_return_val_if_fail (FETTLE_IS_DRAFTS (self), NULL);

  g_hash_table_iter_init (&iter, self->texts);
  while (g_hash_table_iter_next (&iter, &field, NULL))
    g_ptr_array_add (fields, g_strdup (field));
  g_ptr_array_add (fields, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&fields), FALSE);
}

/**
 * fettle_drafts_is_restored:
 * @self: drafts
 *
 * Returns: whether what the last window kept has been read
 */
gboolean
fettle_drafts_is_restored (FettleDrafts *self)
{
  g_return_val_if_fail (FETTLE_IS_DRAFTS (self), FALSE);

  return self->is_restored;
}
