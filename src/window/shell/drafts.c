/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "drafts.h"

#include <glib/gstdio.h>
#include <json-glib/json-glib.h>

#define PAUSE_MS 150 /* from the first keystroke that is not in the file to its writing: sooner than from the last */
#define MOST_BYTES (4 * 1024 * 1024) /* some long texts */
#define FILE_VERSION 1

/*
 * A draft is known by its field and by who typed it. @is_live: it was typed or taken up in this run, so it stands in
 * the window: whoever writes from then on, it is his. What was only read from the disk waits for the one who typed it.
 */
typedef struct
{
  gint64   person;
  char    *field;
  char    *text;
  gboolean is_live;
} Draft;

struct _FettleDrafts
{
  GObject parent_instance;

  char      *path;
  GPtrArray *drafts; /* of Draft: some dozens at most */
  gint64     person;
  guint      wait; /* source: something is not in the file yet */
  gboolean   writing;
  gboolean   is_restored;
};

enum
{
  SIGNAL_RESTORED,
  SIGNAL_TYPED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleDrafts, fettle_drafts, G_TYPE_OBJECT)

static void start_waiting (FettleDrafts *self);

static void
draft_free (gpointer data)
{
  Draft *draft = data;

  g_free (draft->field);
  g_free (draft->text);
  g_free (draft);
}

static Draft *
draft_new (gint64 person, const char *field, const char *text, gboolean is_live)
{
  Draft *draft = g_new0 (Draft, 1);

  draft->person = person;
  draft->field = g_strdup (field);
  draft->text = g_strdup (text);
  draft->is_live = is_live;
  return draft;
}

static gpointer
draft_copy (gconstpointer data, gpointer unused)
{
  const Draft *draft = data;

  return draft_new (draft->person, draft->field, draft->text, draft->is_live);
}

/* What was typed before anybody said who he is, is everybody's. */
static gboolean
is_for (const Draft *draft, gint64 person)
{
  return draft->person == person || draft->person == 0;
}

static Draft *
find (FettleDrafts *self, gint64 person, const char *field)
{
  Draft *found = NULL;

  for (guint i = 0; i < self->drafts->len; i++)
    {
      Draft *draft = g_ptr_array_index (self->drafts, i);

      if (g_str_equal (draft->field, field) && is_for (draft, person) && (found == NULL || draft->person == person))
        found = draft;
    }
  return found;
}

/* ---- the file ---- */

typedef struct
{
  char      *path;
  GPtrArray *drafts; /* none: there is nothing to keep */
} Writing;

static void
writing_free (gpointer data)
{
  Writing *writing = data;

  g_free (writing->path);
  g_ptr_array_unref (writing->drafts);
  g_free (writing);
}

static char *
file_text (const GPtrArray *drafts, gsize *length)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();
  g_autoptr(JsonGenerator) generator = json_generator_new ();
  g_autoptr(JsonNode) root = NULL;

  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "version");
  json_builder_add_int_value (builder, FILE_VERSION);
  json_builder_set_member_name (builder, "typed");
  json_builder_begin_array (builder);
  for (guint i = 0; i < drafts->len; i++)
    {
      const Draft *draft = g_ptr_array_index (drafts, i);

      json_builder_begin_object (builder);
      json_builder_set_member_name (builder, "person");
      json_builder_add_int_value (builder, draft->person);
      json_builder_set_member_name (builder, "field");
      json_builder_add_string_value (builder, draft->field);
      json_builder_set_member_name (builder, "text");
      json_builder_add_string_value (builder, draft->text);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  root = json_builder_get_root (builder);
  json_generator_set_root (generator, root);
  json_generator_set_pretty (generator, TRUE);
  return json_generator_to_data (generator, length);
}

/*
 * The file is replaced as a whole and is on the disk when this ends: a crash leaves the one before or this one. A draft
 * that cannot be kept costs no more than what it was kept for: the field still has it.
 */
static void
write_work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Writing *writing = data;
  g_autofree char *folder = g_path_get_dirname (writing->path);
  g_autofree char *text = NULL;
  g_autoptr(GError) error = NULL;
  gsize length;

  if (writing->drafts->len == 0)
    {
      g_unlink (writing->path);
      g_task_return_boolean (task, TRUE);
      return;
    }
  text = file_text (writing->drafts, &length);
  if (g_mkdir_with_parents (folder, 0700) != 0
      || !g_file_set_contents_full (writing->path, text, (gssize) length,
                                    G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, 0600, &error))
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

/* @last: the object ends, so nobody but the program itself can wait for the file. */
static void
start_writing (FettleDrafts *self, gboolean last)
{
  g_autoptr(GTask) task = NULL;
  Writing *writing = g_new0 (Writing, 1);

  writing->path = g_strdup (self->path);
  writing->drafts = g_ptr_array_copy (self->drafts, draft_copy, NULL);
  g_ptr_array_set_free_func (writing->drafts, draft_free);
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

static Draft *
read_draft (JsonNode *node)
{
  JsonObject *object = node != NULL && JSON_NODE_HOLDS_OBJECT (node) ? json_node_get_object (node) : NULL;
  const char *field = object != NULL ? json_object_get_string_member_with_default (object, "field", NULL) : NULL;
  const char *text = object != NULL ? json_object_get_string_member_with_default (object, "text", NULL) : NULL;

  if (field == NULL || text == NULL)
    return NULL;
  return draft_new (json_object_get_int_member_with_default (object, "person", 0), field, text, FALSE);
}

/* What is not understood, from another version or half a disk, is left: it is written over with the next key. */
static void
read_work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  g_autoptr(JsonParser) parser = json_parser_new ();
  g_autoptr(GPtrArray) drafts = g_ptr_array_new_with_free_func (draft_free);
  g_autofree char *text = NULL;
  JsonNode *root = NULL, *typed = NULL;
  gsize length;

  if (g_file_get_contents (data, &text, &length, NULL) && length <= MOST_BYTES
      && json_parser_load_from_data (parser, text, (gssize) length, NULL))
    root = json_parser_get_root (parser);
  if (root != NULL && JSON_NODE_HOLDS_OBJECT (root))
    typed = json_object_get_member (json_node_get_object (root), "typed");
  for (guint i = 0; typed != NULL && JSON_NODE_HOLDS_ARRAY (typed) && i < json_array_get_length (json_node_get_array (typed)); i++)
    {
      Draft *draft = read_draft (json_array_get_element (json_node_get_array (typed), i));

      if (draft != NULL)
        g_ptr_array_add (drafts, draft);
    }
  g_task_return_pointer (task, g_steal_pointer (&drafts), (GDestroyNotify) g_ptr_array_unref);
}

static void
tell_restored (FettleDrafts *self)
{
  for (guint i = 0; i < self->drafts->len; i++)
    if (is_for (g_ptr_array_index (self->drafts, i), self->person))
      {
        g_signal_emit (self, signals[SIGNAL_RESTORED], 0);
        return;
      }
}

static void
on_read (GObject *object, GAsyncResult *result, gpointer data)
{
  FettleDrafts *self = FETTLE_DRAFTS (object);
  g_autoptr(GPtrArray) drafts = g_task_propagate_pointer (G_TASK (result), NULL);

  for (guint i = 0; drafts != NULL && i < drafts->len; i++)
    {
      const Draft *draft = g_ptr_array_index (drafts, i);

      /* What was typed meanwhile is newer. */
      if (find (self, draft->person, draft->field) == NULL)
        g_ptr_array_add (self->drafts, draft_copy (draft, NULL));
    }
  self->is_restored = TRUE;
  tell_restored (self);
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
  g_ptr_array_unref (self->drafts);
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
  self->drafts = g_ptr_array_new_with_free_func (draft_free);
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
  Draft *draft;

  g_return_if_fail (FETTLE_IS_DRAFTS (self));

  draft = find (self, self->person, field);
  if (draft == NULL && text == NULL)
    return;
  if (draft != NULL && g_strcmp0 (text, draft->text) == 0)
    {
      draft->is_live = TRUE;
      return;
    }
  if (text == NULL)
    while ((draft = find (self, self->person, field)) != NULL)
      g_ptr_array_remove_fast (self->drafts, draft);
  else if (draft == NULL)
    g_ptr_array_add (self->drafts, draft_new (self->person, field, text, TRUE));
  else
    {
      g_free (draft->text);
      draft->text = g_strdup (text);
      draft->person = self->person;
      draft->is_live = TRUE;
    }
  start_waiting (self);
  if (text != NULL)
    g_signal_emit (self, signals[SIGNAL_TYPED], 0);
}

void
fettle_drafts_keep_for_all (FettleDrafts *self, const char *field, const char *text)
{
  gint64 person;

  g_return_if_fail (FETTLE_IS_DRAFTS (self));

  person = self->person;
  self->person = 0;
  fettle_drafts_keep (self, field, text);
  self->person = person;
}

/**
 * fettle_drafts_get:
 * @self: drafts
 * @field: a field
 *
 * Returns: (nullable): what the one who writes typed into it and did not store
 */
const char *
fettle_drafts_get (FettleDrafts *self, const char *field)
{
  Draft *draft;

  g_return_val_if_fail (FETTLE_IS_DRAFTS (self), NULL);

  draft = find (self, self->person, field);
  if (draft == NULL)
    return NULL;
  draft->is_live = TRUE;
  return draft->text;
}

/**
 * fettle_drafts_list:
 * @self: drafts
 *
 * Returns: (transfer full) (array zero-terminated=1): the fields that hold something of the one who writes
 */
char **
fettle_drafts_list (FettleDrafts *self)
{
  g_autoptr(GStrvBuilder) fields = g_strv_builder_new ();

  g_return_val_if_fail (FETTLE_IS_DRAFTS (self), NULL);

  for (guint i = 0; i < self->drafts->len; i++)
    {
      Draft *draft = g_ptr_array_index (self->drafts, i);

      if (find (self, self->person, draft->field) == draft)
        g_strv_builder_add (fields, draft->field);
    }
  return g_strv_builder_end (fields);
}

/**
 * fettle_drafts_set_person:
 * @self: drafts
 * @person: who writes from now on; 0: nobody by name
 *
 * What stands in the window becomes his; what he typed before a crash is told as restored.
 */
void
fettle_drafts_set_person (FettleDrafts *self, gint64 person)
{
  g_return_if_fail (FETTLE_IS_DRAFTS (self));

  if (self->person == person)
    return;
  for (guint i = 0; i < self->drafts->len; i++)
    {
      Draft *draft = g_ptr_array_index (self->drafts, i);

      if (draft->is_live && draft->person == self->person && self->person != 0)
        {
          draft->person = person;
          start_waiting (self);
        }
    }
  self->person = person;
  if (self->is_restored)
    tell_restored (self);
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
