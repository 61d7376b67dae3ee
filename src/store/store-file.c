/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE /* renameat2() */

#include "config.h"

#include "store-file-private.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/vfs.h>
#include <unistd.h>

/* The database header: https://www.sqlite.org/fileformat2.html, section 1.3. */
#define HEADER_LENGTH     100
#define AT_USER_VERSION   60
#define AT_APPLICATION_ID 68

#define PAGES_PER_STEP 2048 /* of a copy, between two looks at the cancellable */

static guint32
read_big_endian (const guint8 *bytes)
{
  guint32 value;

  memcpy (&value, bytes, sizeof value);
  return GUINT32_FROM_BE (value);
}

static gboolean
not_a_book (const char *path, const StoreProfile *profile, GError **error)
{
  g_autofree char *shown = g_filename_display_name (path);

  /* Translators: the second is what it should be, as in 'a Fettle book' */
  g_set_error (error, STORE_ERROR, STORE_ERROR_NOT_A_BOOK, _("'%s' is not %s: choose another file."), shown, profile->kind);
  return FALSE;
}

gboolean
store_file_check_header (const char *path, const StoreProfile *profile, GError **error)
{
  g_autofree char *shown = g_filename_display_name (path);
  guint8 header[HEADER_LENGTH];
  struct stat info;
  ssize_t length;
  int fd, number;

  if (stat (path, &info) != 0)
    return store_fail_errno (errno, path, error);
  if (S_ISDIR (info.st_mode))
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_NOT_A_BOOK, _("'%s' is a folder: choose a file in it."), shown);
      return FALSE;
    }
  if (!S_ISREG (info.st_mode))
    return not_a_book (path, profile, error);
  if (info.st_size == 0)
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_NOT_A_BOOK, _("'%s' is empty: choose another file."), shown);
      return FALSE;
    }

  fd = g_open (path, O_RDONLY | O_CLOEXEC, 0);
  if (fd < 0)
    return store_fail_errno (errno, path, error);
  length = read (fd, header, sizeof header);
  number = errno;
  g_close (fd, NULL);
  if (length < 0)
    return store_fail_errno (number, path, error);

  if (length < HEADER_LENGTH || memcmp (header, "SQLite format 3", 16) != 0)
    return not_a_book (path, profile, error);
  if (read_big_endian (header + AT_APPLICATION_ID) != profile->application_id)
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_NOT_A_BOOK,
                   _("'%s' is the database of another program: choose another file."), shown);
      return FALSE;
    }
  if (read_big_endian (header + AT_USER_VERSION) > profile->n_migrations)
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_NEWER,
                   _("'%s' was written by a newer version of this program: install that version to open it."), shown);
      return FALSE;
    }
  return TRUE;
}

gboolean
store_file_is_remote (const char *path)
{
  /* File system types from statfs(2) and linux/magic.h; FUSE is among them because most of what it brings is remote. */
  static const guint32 remote[] = {
    0x6969,     /* NFS */
    0x517b,     /* SMB */
    0xff534d42, /* CIFS */
    0xfe534d42, /* SMB2 */
    0x65735546, /* FUSE */
    0x01021997, /* 9P */
    0x5346414f, /* AFS of OpenAFS */
    0x6b414653, /* AFS of the kernel */
    0x00c36400, /* Ceph */
    0x73757245, /* Coda */
    0x7461636f, /* OCFS2 */
    0x01161970, /* GFS2 */
    0x0bd00bd0, /* Lustre */
    0x786f4256, /* shared folder of a virtual machine */
  };
  struct statfs info;

  if (statfs (path, &info) != 0)
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (remote); i++)
    if ((guint32) info.f_type == remote[i])
      return TRUE;
  return FALSE;
}

char *
store_file_begin (const char *path, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *base = g_path_get_basename (path);
  g_autofree char *name = g_strdup_printf (".%s.XXXXXX", base);
  g_autofree char *draft = g_build_filename (folder, name, NULL);
  struct stat info;
  int fd;

  if (lstat (path, &info) == 0)
    {
      store_fail_errno (EEXIST, path, error);
      return NULL;
    }
  fd = g_mkstemp_full (draft, O_RDWR | O_CLOEXEC, 0666);
  if (fd < 0)
    {
      store_fail_errno (errno, path, error);
      return NULL;
    }
  g_close (fd, NULL);
  return g_steal_pointer (&draft);
}

/* Makes a changed entry of the folder survive a power failure; file systems that cannot do it do not matter here. */
static void
sync_folder (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  int fd = g_open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);

  if (fd < 0)
    return;
  if (fsync (fd) != 0)
    g_debug ("Syncing a folder: %s", g_strerror (errno));
  g_close (fd, NULL);
}

gboolean
store_file_publish (const char *draft, const char *path, GError **error)
{
  int done = renameat2 (AT_FDCWD, draft, AT_FDCWD, path, RENAME_NOREPLACE);

  if (done != 0 && (errno == EINVAL || errno == ENOSYS)) /* a file system without it */
    {
      struct stat info;

      if (lstat (path, &info) == 0)
        errno = EEXIST;
      else
        done = rename (draft, path);
    }
  if (done != 0)
    return store_fail_errno (errno, path, error);
  sync_folder (path);
  return TRUE;
}

void
store_file_abandon (const char *draft)
{
  static const char endings[][9] = { "", "-journal", "-wal", "-shm" };

  for (guint i = 0; i < G_N_ELEMENTS (endings); i++)
    {
      g_autofree char *name = g_strconcat (draft, endings[i], NULL);

      g_unlink (name);
    }
}

static gboolean
copy_pages (StoreDb *from, StoreDb *to, GCancellable *cancellable, GError **error)
{
  sqlite3_backup *backup = sqlite3_backup_init (to->handle, "main", from->handle, "main");
  int code;

  if (backup == NULL)
    return store_db_fail (to, _("The copy could not be made"), error);
  do
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        {
          sqlite3_backup_finish (backup);
          return FALSE;
        }
      code = sqlite3_backup_step (backup, PAGES_PER_STEP);
    }
  while (code == SQLITE_OK);
  sqlite3_backup_finish (backup);
  if (code != SQLITE_DONE)
    return store_db_fail_code (to, code, _("The copy could not be made"), error);
  return TRUE;
}

gboolean
store_file_copy (StoreDb *db, const char *path, const char *vfs, GCancellable *cancellable, GError **error)
{
  g_autofree char *draft = store_file_begin (path, error);
  gboolean ok;

  if (draft == NULL)
    return FALSE;
  {
    g_autoptr(StoreDb) copy = store_db_open (draft, db->profile, SQLITE_OPEN_READWRITE, vfs, db->busy_ms, error);

    if (copy != NULL)
      store_db_show_as (copy, path);
    ok = copy != NULL && copy_pages (db, copy, cancellable, error);
  }
  if (ok && store_file_publish (draft, path, error))
    return TRUE;
  store_file_abandon (draft);
  return FALSE;
}
