/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-attach.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-attach-private.h"
#include "book-edit-private.h"
#include "store-content.h"

#define GUESS_BYTES 4096 /* enough for what a file begins with */

/**
 * book_attachment_free:
 * @attachment: (transfer full) (nullable): one that was listed
 */
void
book_attachment_free (BookAttachment *attachment)
{
  if (attachment == NULL)
    return;
  g_free (attachment->name);
  g_free (attachment->mime_type);
  g_free (attachment->sha256);
  g_free (attachment->link);
  g_free (attachment);
}

/**
 * book_file_name:
 * @name: a name or path as a program or another system gives it
 *
 * What is kept of it: the last part, so that writing the file out again never leaves the folder that was chosen. A
 * backslash separates too, since names come from other systems; control characters become '_'.
 *
 * Returns: (transfer full) (nullable): %NULL when nothing is left ('..', 'photos/')
 */
char *
book_file_name (const char *name)
{
  const char *last = name;
  g_autofree char *valid = NULL;

  for (const char *c = name; *c != '\0'; c++)
    if (*c == '/' || *c == '\\')
      last = c + 1;
  if (*last == '\0' || g_str_equal (last, ".") || g_str_equal (last, ".."))
    return NULL;
  valid = g_utf8_make_valid (last, -1);
  for (char *c = valid; *c != '\0'; c++)
    if (g_ascii_iscntrl (*c))
      *c = '_';
  return g_steal_pointer (&valid);
}

static char *
guess_type (const char *name, GBytes *bytes)
{
  gsize length = 0;
  const guchar *data = g_bytes_get_data (bytes, &length);
  g_autofree char *type = g_content_type_guess (name, data, MIN (length, GUESS_BYTES), NULL);

  return g_content_type_get_mime_type (type);
}

static void
put (BookValue *values, const char *field, BookValue value)
{
  int i = book_field_index (book_record (BOOK_RECORD_ATTACHMENT), field);

  g_assert (i >= 0 && i < BOOK_MAX_FIELDS);
  values[i] = value;
}

/* The value lives as long as @text. */
static gboolean
put_text (BookValue *values, const char *field, const char *text, GError **error)
{
  BookValue value;

  if (!book_value_parse (book_field_find (book_record (BOOK_RECORD_ATTACHMENT), field), text, -1, FALSE, &value, error))
    return FALSE;
  put (values, field, value);
  return TRUE;
}

/* What is known of a file: its texts, which the values refer to. */
typedef struct
{
  char *name;
  char *type;
  char *sha256;
} FileTexts;

static gboolean
put_file (StoreAction *action, const BookAttachable *what, BookValue *values, FileTexts *texts, GError **error)
{
  texts->name = book_file_name (what->name);
  if (texts->name == NULL)
    {
      g_set_error (error, BOOK_ERROR, BOOK_ERROR_VALUE, _("'%s' is no name of a file: choose a file."), what->name);
      return FALSE;
    }
  texts->type = what->mime_type != NULL ? g_strdup (what->mime_type) : guess_type (texts->name, what->bytes);
  if (!store_content_add (action, what->bytes, &texts->sha256, error))
    return FALSE;
  put (values, "sha256", book_value_text (texts->sha256, -1));
  put (values, "size", book_value_integer ((gint64) g_bytes_get_size (what->bytes)));
  return put_text (values, "name", texts->name, error) && (texts->type == NULL || put_text (values, "mime_type", texts->type, error));
}

static gboolean
insert (StoreAction *action, BookValue *values, const BookAttachable *what, FileTexts *texts, gint64 *id, GError **error)
{
  if (what->bytes != NULL && !put_file (action, what, values, texts, error))
    return FALSE;
  if (what->link != NULL && (!put_text (values, "link", what->link, error) || !put_text (values, "name", what->name, error)))
    return FALSE;
  return book_record_insert (action, book_record (BOOK_RECORD_ATTACHMENT), values, id, error);
}

/**
 * book_attach:
 * @action: an action
 * @record: what kind of record it belongs to
 * @owner: which
 * @what: a file or a link
 * @id: (out) (optional): key of the attachment
 * @error: return location
 *
 * Attaches within an action that does more than that.
 *
 * Returns: whether it is attached; %STORE_ERROR_TOO_LARGE, %BOOK_ERROR_VALUE
 */
gboolean
book_attach (StoreAction *action, BookRecordId record, gint64 owner, const BookAttachable *what, gint64 *id, GError **error)
{
  const BookRecord *attachment = book_record (BOOK_RECORD_ATTACHMENT);
  const BookValue key[BOOK_MAX_KEY] = { book_value_integer (record), book_value_integer (owner) };
  BookValue values[BOOK_MAX_FIELDS];
  FileTexts texts = { NULL, NULL, NULL };
  gint64 no, made = 0;
  gboolean good;

  g_assert ((what->bytes != NULL) != (what->link != NULL));
  if (!book_record_next_ordinal (store_action_db (action), attachment, key, &no, error))
    return FALSE;
  for (guint i = 0; i < attachment->n_fields; i++)
    values[i] = book_value_fallback (&attachment->fields[i]);
  put (values, "no", book_value_integer (no));
  put (values, "owner_record", key[0]);
  put (values, "owner", key[1]);
  put (values, "kind", book_value_integer (what->kind));
  good = insert (action, values, what, &texts, &made, error);
  if (id != NULL)
    *id = made;
  g_free (texts.name);
  g_free (texts.type);
  g_free (texts.sha256);
  return good;
}

BookAttachable *
book_attachables_copy (const BookAttachable *what, guint n)
{
  BookAttachable *copy = g_new0 (BookAttachable, n + 1);

  for (guint i = 0; i < n; i++)
    copy[i] = (BookAttachable) {
      .kind = what[i].kind,
      .name = g_strdup (what[i].name),
      .mime_type = g_strdup (what[i].mime_type),
      .bytes = what[i].bytes != NULL ? g_bytes_ref (what[i].bytes) : NULL,
      .link = g_strdup (what[i].link),
    };
  return copy;
}

void
book_attachables_free (BookAttachable *what, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      g_free ((char *) what[i].name);
      g_free ((char *) what[i].mime_type);
      g_free ((char *) what[i].link);
      g_clear_pointer (&what[i].bytes, g_bytes_unref);
    }
  g_free (what);
}

typedef struct
{
  BookRecordId    record;
  gint64          owner;
  BookAttachable *what;
  guint           n;
} Attaching;

static void
attaching_free (gpointer data)
{
  Attaching *attaching = data;

  book_attachables_free (attaching->what, attaching->n);
  g_free (attaching);
}

static gboolean
attach (StoreAction *action, gpointer data, gint64 *id, GError **error)
{
  const Attaching *attaching = data;

  for (guint i = 0; i < attaching->n; i++)
    if (!book_attach (action, attaching->record, attaching->owner, &attaching->what[i], id, error))
      return FALSE;
  book_edit_tell (action, "attached", attaching->record, attaching->owner);
  return TRUE;
}

/**
 * book_edit_attach:
 * @record: what kind of record it belongs to
 * @owner: which
 * @what: (array length=n): files and links; copied, bytes are referred to
 * @n: how many, at least 1
 *
 * All of them in one action, undone together. The key of book_edit_run() is that of the last.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_edit_attach (BookRecordId record, gint64 owner, const BookAttachable *what, guint n)
{
  Attaching *attaching = g_new0 (Attaching, 1);

  attaching->record = record;
  attaching->owner = owner;
  attaching->n = n;
  attaching->what = book_attachables_copy (what, n);
  return book_edit_new (attach, "attached", attaching, attaching_free);
}

static gboolean
detach (StoreAction *action, gpointer data, gint64 *id, GError **error)
{
  const BookRecord *attachment = book_record (BOOK_RECORD_ATTACHMENT);
  g_autoptr(BookRow) row = NULL;

  *id = *(const gint64 *) data;
  row = book_record_read (store_action_db (action), attachment, *id, error);
  if (row == NULL)
    return FALSE;
  book_edit_tell (action, "detached", (BookRecordId) book_row_get (row, "owner_record")->integer,
                  book_row_get (row, "owner")->integer);
  return book_record_delete (action, attachment, *id, error);
}

/**
 * book_edit_detach:
 * @attachment: an attachment
 *
 * Takes an attachment away. Its bytes stay in the book, so that undo brings it back.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_edit_detach (gint64 attachment)
{
  return book_edit_new (detach, "detached", g_memdup2 (&attachment, sizeof attachment), g_free);
}

/* Media types that are shown as pictures: not each 'image/…' is one (drawings of machines are 'image/vnd.dxf'). */
static gboolean
is_shown (const char *mime_type)
{
  static const char *const types[] = { "image/jpeg", "image/png", "image/gif", "image/bmp", "image/tiff", "image/webp",
                                       "image/svg+xml", NULL };

  return g_strv_contains (types, mime_type);
}

static char *
dup_column (StoreStatement *statement, int column)
{
  const char *text = (const char *) sqlite3_column_text (statement, column);

  return g_strdup (text != NULL ? text : "");
}

/**
 * book_attachments_list:
 * @db: any connection
 * @record: what kind of record
 * @owner: which
 * @error: return location
 *
 * Returns: (transfer full) (nullable) (element-type BookAttachment): what belongs to the record, in order
 */
GPtrArray *
book_attachments_list (StoreDb *db, BookRecordId record, gint64 owner, GError **error)
{
  static const char sql[] = "SELECT id, no, kind, name, mime_type, sha256, size, link FROM attachment"
                            " WHERE owner_record = ?1 AND owner = ?2 ORDER BY no";
  g_autoptr(GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) book_attachment_free);
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean row;

  if (statement == NULL)
    return NULL;
  sqlite3_bind_int64 (statement, 1, record);
  sqlite3_bind_int64 (statement, 2, owner);
  while (store_db_next (db, statement, _("The attachments could not be read"), &row, error))
    {
      BookAttachment *attachment;

      if (!row)
        return g_steal_pointer (&list);
      attachment = g_new0 (BookAttachment, 1);
      g_ptr_array_add (list, attachment);
      attachment->id = sqlite3_column_int64 (statement, 0);
      attachment->no = sqlite3_column_int64 (statement, 1);
      attachment->kind = (BookAttachmentKind) sqlite3_column_int (statement, 2);
      attachment->name = dup_column (statement, 3);
      attachment->mime_type = dup_column (statement, 4);
      attachment->sha256 = dup_column (statement, 5);
      attachment->size = sqlite3_column_int64 (statement, 6);
      attachment->link = dup_column (statement, 7);
      attachment->is_picture = *attachment->sha256 != '\0' && is_shown (attachment->mime_type);
    }
  return NULL;
}

/* The record that a file belongs to, for sentences: 'Issue HF/3'. */
static char *
owner_of (StoreDb *db, BookRecordId record, gint64 owner)
{
  const BookRecord *kind = book_record (record);
  g_autofree char *key = book_record_key_text (db, kind, owner, BOOK_KEY_TEXT_SHOWN, NULL);

  return g_strdup_printf ("%s %s", book_record_label (kind), key != NULL ? key : "");
}

/**
 * book_attachment_read:
 * @db: any connection
 * @attachment: an attachment
 * @name: (out) (optional) (transfer full): its file name
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the bytes; %BOOK_ERROR_MISSING for a link, %STORE_ERROR_MISSING or _DAMAGED with a
 *   sentence that names file and owner
 */
GBytes *
book_attachment_read (StoreDb *db, gint64 attachment, char **name, GError **error)
{
  g_autoptr(BookRow) row = book_record_read (db, book_record (BOOK_RECORD_ATTACHMENT), attachment, error);
  g_autoptr(GError) failure = NULL;
  g_autoptr(GBytes) bytes = NULL;
  g_autofree char *owner = NULL;
  const BookValue *sha256;

  if (row == NULL)
    return NULL;
  sha256 = book_row_get (row, "sha256");
  if (sha256->type != SQLITE_TEXT)
    {
      g_set_error (error, BOOK_ERROR, BOOK_ERROR_MISSING, _("'%s' is a link, and no file is stored for it."),
                   book_row_get (row, "name")->text);
      return NULL;
    }
  bytes = store_content_read (db, sha256->text, &failure);
  if (bytes != NULL)
    {
      if (name != NULL)
        *name = g_strdup (book_row_get (row, "name")->text);
      return g_steal_pointer (&bytes);
    }
  owner = owner_of (db, (BookRecordId) book_row_get (row, "owner_record")->integer, book_row_get (row, "owner")->integer);
  if (g_error_matches (failure, STORE_ERROR, STORE_ERROR_MISSING))
    g_set_error (error, STORE_ERROR, STORE_ERROR_MISSING, _("The file '%s' of '%s' is missing from the book: attach it again."),
                 book_row_get (row, "name")->text, owner);
  else if (g_error_matches (failure, STORE_ERROR, STORE_ERROR_DAMAGED))
    g_set_error (error, STORE_ERROR, STORE_ERROR_DAMAGED,
                 _("The file '%s' of '%s' is not as it was attached: attach it again."), book_row_get (row, "name")->text, owner);
  else
    g_propagate_error (error, g_steal_pointer (&failure));
  return NULL;
}

static gboolean
tell_attachments (StoreDb *db, StoreContentFunc func, gpointer data, GError **error)
{
  static const char sql[] = "SELECT id, owner_record, owner, name, sha256 FROM attachment WHERE sha256 IS NOT NULL";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean ok, row;

  if (statement == NULL)
    return FALSE;
  while ((ok = store_db_next (db, statement, _("The attachments could not be read"), &row, error)) && row)
    {
      gint64 record = sqlite3_column_int64 (statement, 1);
      g_autofree char *name = dup_column (statement, 3);
      g_autofree char *sha256 = dup_column (statement, 4);
      g_autofree char *owner = NULL;
      g_autofree char *who = NULL;

      if (record >= 1 && record <= BOOK_N_RECORDS)
        owner = owner_of (db, (BookRecordId) record, sqlite3_column_int64 (statement, 2));
      /* Translators: the name of a file and the record that it belongs to: 'lock.jpg' of 'Issue HF/3' */
      who = g_strdup_printf (_("'%s' of '%s'"), name, owner != NULL ? owner : "");
      func (sha256, who, "attachment", sqlite3_column_int64 (statement, 0), "sha256", data);
    }
  return ok;
}

static gboolean
tell_decisions (StoreDb *db, StoreContentFunc func, gpointer data, GError **error)
{
  static const char sql[] = "SELECT id, evidence FROM decision WHERE evidence IS NOT NULL";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean ok, row;

  if (statement == NULL)
    return FALSE;
  while ((ok = store_db_next (db, statement, _("The decisions could not be read"), &row, error)) && row)
    {
      gint64 id = sqlite3_column_int64 (statement, 0);
      g_autofree char *sha256 = dup_column (statement, 1);
      g_autofree char *owner = owner_of (db, BOOK_RECORD_DECISION, id);
      /* Translators: frozen evidence and the decision that it belongs to: evidence of 'Decision HF/1/1' */
      g_autofree char *who = g_strdup_printf (_("evidence of '%s'"), owner);

      func (sha256, who, "decision", id, "evidence", data);
    }
  return ok;
}

gboolean
book_contents_tell (StoreDb *db, StoreContentFunc func, gpointer data, GError **error)
{
  return tell_attachments (db, func, data, error) && tell_decisions (db, func, data, error);
}
