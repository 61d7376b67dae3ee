/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * Sentences for what the file system and SQLite say. SQLite's own words go to the debug log, not to a person.
 */

#include "config.h"

#include "store-private.h"

#include <glib/gi18n-lib.h>

#include <errno.h>
#include <unistd.h>

G_DEFINE_QUARK (store-error-quark, store_error)

/* Sets @error for errno @number about @path; always FALSE. */
gboolean
store_fail_errno (int number, const char *path, GError **error)
{
  g_autofree char *shown = g_filename_display_name (path);

  switch (number)
    {
    case ENOENT:
    case ENOTDIR:
      g_set_error (error, STORE_ERROR, STORE_ERROR_MISSING,
                   _("There is no '%s': check the name and the folder."), shown);
      break;
    case EEXIST:
      g_set_error (error, STORE_ERROR, STORE_ERROR_EXISTS,
                   _("'%s' is there already: choose another name, or open it."), shown);
      break;
    case EACCES:
    case EPERM:
    case EROFS:
      g_set_error (error, STORE_ERROR, STORE_ERROR_READ_ONLY,
                   _("'%s' or its folder may not be written: copy the file to a folder of yours and open it there."), shown);
      break;
    case ENOSPC:
    case EDQUOT:
      g_set_error (error, STORE_ERROR, STORE_ERROR_FULL,
                   _("The disk of '%s' is full: free some space, then repeat; nothing was stored."), shown);
      break;
    default:
      g_set_error (error, STORE_ERROR, STORE_ERROR_IO,
                   _("'%s' could not be reached: look whether its disk is still connected (%s)."),
                   shown, g_strerror (number));
      break;
    }
  return FALSE;
}

/* Sets @error for SQLite result @code on @db; always FALSE. */
gboolean
store_db_fail_code (StoreDb *db, int code, const char *what, GError **error)
{
  const char *where = db->shown;
  const char *said = db->handle != NULL ? sqlite3_errmsg (db->handle) : sqlite3_errstr (code);

  g_debug ("%s: result %d, %s", what, code, said);

  switch (code & 0xff)
    {
    case SQLITE_INTERRUPT:
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED,
                   _("%s: it was stopped, and '%s' is as it was before."), what, where);
      break;
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      if (g_cancellable_is_cancelled (db->cancellable))
        g_set_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED,
                     _("%s: it was stopped, and '%s' is as it was before."), what, where);
      else
        g_set_error (error, STORE_ERROR, STORE_ERROR_LOCKED,
                     _("%s: another program is writing to '%s'; wait until it is done, then repeat."), what, where);
      break;
    case SQLITE_FULL:
      g_set_error (error, STORE_ERROR, STORE_ERROR_FULL,
                   _("%s: the disk of '%s' is full; free some space, then repeat."), what, where);
      break;
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_AUTH:
      g_set_error (error, STORE_ERROR, STORE_ERROR_READ_ONLY,
                   _("%s: '%s' or its folder may not be written; copy the file to a folder of yours and open it there."),
                   what, where);
      break;
    case SQLITE_CANTOPEN:
    case SQLITE_IOERR:
      g_set_error (error, STORE_ERROR, STORE_ERROR_IO,
                   _("%s: the disk of '%s' failed; look whether it is connected and has space, then repeat."), what, where);
      break;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
      g_set_error (error, STORE_ERROR, STORE_ERROR_DAMAGED,
                   _("%s: '%s' is damaged; open the latest copy of it instead."), what, where);
      break;
    case SQLITE_CONSTRAINT:
      if (code == SQLITE_CONSTRAINT_FOREIGNKEY)
        g_set_error (error, STORE_ERROR, STORE_ERROR_RULE,
                     _("%s: a record refers to one that is not there in '%s'; name an existing one."), what, where);
      else
        g_set_error (error, STORE_ERROR, STORE_ERROR_RULE,
                     _("%s: a value does not fit its column in '%s'; correct it (%s)."), what, where, said);
      break;
    case SQLITE_NOMEM:
      g_set_error (error, STORE_ERROR, STORE_ERROR_FAILED,
                   _("%s: there was not enough memory for '%s'; close other programs, then repeat."), what, where);
      break;
    default:
      g_set_error (error, STORE_ERROR, STORE_ERROR_FAILED,
                   _("%s: '%s' could not do it; please report this (%s)."), what, where, said);
      break;
    }
  return FALSE;
}

gboolean
store_db_fail (StoreDb *db, const char *what, GError **error)
{
  int code = sqlite3_extended_errcode (db->handle);

  /* A file that cannot be opened because of its folder's permissions has a better sentence than a failing disk. */
  if ((code & 0xff) == SQLITE_CANTOPEN)
    {
      g_autofree char *folder = g_path_get_dirname (db->path);

      if (access (folder, W_OK) != 0 || access (db->path, R_OK) != 0)
        code = errno == EACCES || errno == EROFS || errno == EPERM ? SQLITE_READONLY : code;
    }
  return store_db_fail_code (db, code, what, error);
}
