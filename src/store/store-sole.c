/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * The one writer of a file that does not lie on a local disk.
 *
 * Method. Over a network the locks that SQLite takes for each transaction are slow and not always kept, so there one
 * program is the writer from its first write until it closes the file; others read. It holds a lock on a file beside,
 * 'NAME-writer', which says where it runs. The kernel gives the lock up when the program ends, however it ends; a file
 * that was left behind without a lock is taken over.
 */

#define _GNU_SOURCE /* F_OFD_SETLK: a lock of this open file, not of the whole program */

#include "config.h"

#include "store-private.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define POLL_MS   50
#define NAME_MOST 256

static char *
lock_path (Store *store)
{
  return g_strconcat (store->path, "-writer", NULL);
}

/* Whether the open file is still the one of that name: its last holder may have taken it away meanwhile. */
static gboolean
is_current (int fd, const char *path)
{
  struct stat ours, theirs;

  return fstat (fd, &ours) == 0 && stat (path, &theirs) == 0 && ours.st_ino == theirs.st_ino && ours.st_dev == theirs.st_dev;
}

static void
write_name (int fd)
{
  g_autofree char *text = g_strdup_printf ("%s, %s", g_get_host_name (), g_get_user_name ());

  /* Only for the sentence that others read. */
  if (ftruncate (fd, 0) != 0 || pwrite (fd, text, strlen (text), 0) < 0)
    g_debug ("The writer's name was not written: %s", g_strerror (errno));
}

static char *
read_name (const char *path)
{
  char text[NAME_MOST + 1];
  int fd = g_open (path, O_RDONLY | O_CLOEXEC, 0);
  ssize_t length = fd < 0 ? -1 : read (fd, text, NAME_MOST);

  if (fd >= 0)
    g_close (fd, NULL);
  return length > 0 ? g_utf8_make_valid (text, length) : g_strdup (_("another place"));
}

typedef enum
{
  TAKEN,
  HELD,
  AGAIN,
  FAILED
} Attempt;

static Attempt
attempt (Store *store, const char *path, GError **error)
{
  struct flock lock = { .l_type = F_WRLCK, .l_whence = SEEK_SET };
  int fd = g_open (path, O_RDWR | O_CREAT | O_CLOEXEC, 0666);

  if (fd < 0)
    {
      store_fail_errno (errno, path, error);
      return FAILED;
    }
  if (fcntl (fd, F_OFD_SETLK, &lock) != 0)
    {
      int number = errno;

      g_close (fd, NULL);
      if (number == EAGAIN || number == EACCES)
        return HELD;
      store_fail_errno (number, path, error);
      return FAILED;
    }
  if (!is_current (fd, path))
    {
      g_close (fd, NULL);
      return AGAIN;
    }
  write_name (fd);
  store->sole_fd = fd;
  return TAKEN;
}

/**
 * store_sole_take:
 * @store: a store
 * @cancellable: (nullable): stops the wait
 * @error: return location: %STORE_ERROR_LOCKED while another program is the writer
 *
 * Makes this program the writer of a file that is not on a local disk, until store_sole_give_up(). Nothing is done for
 * other files, or the second time.
 *
 * Returns: whether this program may write
 */
gboolean
store_sole_take (Store *store, GCancellable *cancellable, GError **error)
{
  g_autofree char *path = NULL;
  g_autofree char *name = NULL;
  g_autofree char *shown = NULL;

  if (!store->remote || store->sole_fd >= 0)
    return TRUE;

  path = lock_path (store);
  for (guint waited = 0; waited <= store->busy_ms; waited += POLL_MS)
    {
      switch (attempt (store, path, error))
        {
        case TAKEN:
          return TRUE;
        case FAILED:
          return FALSE;
        case AGAIN:
          continue;
        case HELD:
          break;
        }
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      g_usleep (POLL_MS * 1000);
    }
  name = read_name (path);
  shown = g_filename_display_name (store->path);
  /* Translators: the second is a computer and a person, as in 'bench-3, ada' */
  g_set_error (error, STORE_ERROR, STORE_ERROR_LOCKED,
               _("'%s' does not lie on a local disk, where only one program writes, and that is at: %s. Close it there, then "
                 "repeat."), shown, name);
  return FALSE;
}

/* Lets others write: with the last close. */
void
store_sole_give_up (Store *store)
{
  g_autofree char *path = NULL;

  if (store->sole_fd < 0)
    return;
  path = lock_path (store);
  g_unlink (path); /* before the lock goes, else it could be another's already */
  g_close (store->sole_fd, NULL);
  store->sole_fd = -1;
}
