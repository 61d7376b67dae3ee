/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * Each file of the shim carries the real one behind it. For a power failure, every write since the last sync of its file
 * is remembered with what stood there before, so that any of them can be taken back.
 */

#include "fault-vfs.h"

#include <sqlite3.h>

#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

typedef struct
{
  sqlite3_file base;
  char        *path; /* NULL: a temporary file */
  sqlite3_file real[];
} FaultFile;

/* A write that a power failure may undo. */
typedef struct
{
  char         *path;
  sqlite3_int64 offset;
  GBytes       *before; /* what stood there; shorter than the write where the file ended */
  gsize         length;
} Unsynced;

static struct
{
  GMutex     mutex; /* guards all of this */
  gboolean   armed;
  FaultKind  kind;
  FaultAt    at;
  guint      nth;
  gboolean   repeat;
  guint      count;
  gboolean   struck;
  GPtrArray *unsynced; /* Unsynced, oldest first */
} faults;

static sqlite3_vfs *base_vfs;

static void
unsynced_free (gpointer data)
{
  Unsynced *unsynced = data;

  g_free (unsynced->path);
  g_bytes_unref (unsynced->before);
  g_free (unsynced);
}

/* Counts an operation; says whether it goes wrong. */
static gboolean
strikes (FaultAt at)
{
  gboolean strike = FALSE;

  g_mutex_lock (&faults.mutex);
  if (faults.armed && faults.kind == FAULT_POWER && faults.struck)
    strike = (at & (FAULT_AT_CHANGES | FAULT_AT_OPEN)) != 0;
  else if (faults.armed && (faults.at & at) != 0)
    {
      faults.count++;
      strike = faults.nth > 0 && (faults.count == faults.nth || (faults.repeat && faults.count > faults.nth));
      faults.struck |= strike;
    }
  g_mutex_unlock (&faults.mutex);
  return strike;
}

static int
code_for (int code)
{
  return faults.kind == FAULT_FULL ? SQLITE_FULL : faults.kind == FAULT_READ_ONLY ? SQLITE_READONLY : code;
}

static sqlite3_file *
real_of (sqlite3_file *file)
{
  return ((FaultFile *) file)->real;
}

#define REAL(file) real_of (file)->pMethods

static int
on_close (sqlite3_file *file)
{
  FaultFile *self = (FaultFile *) file;
  int code = REAL (file)->xClose (self->real);

  g_clear_pointer (&self->path, g_free);
  return code;
}

static int
on_read (sqlite3_file *file, void *bytes, int length, sqlite3_int64 offset)
{
  if (strikes (FAULT_AT_READ))
    return SQLITE_IOERR_READ;
  return REAL (file)->xRead (real_of (file), bytes, length, offset);
}

/* Remembers what a write is about to cover. */
static void
remember (FaultFile *self, int length, sqlite3_int64 offset)
{
  Unsynced *unsynced;
  guint8 *before;
  sqlite3_int64 size = 0;
  gsize there;

  if (self->path == NULL)
    return;
  self->real->pMethods->xFileSize (self->real, &size);
  there = offset >= size ? 0 : (gsize) MIN (length, size - offset);
  before = g_malloc (MAX (there, 1));
  if (there > 0)
    self->real->pMethods->xRead (self->real, before, (int) there, offset);

  unsynced = g_new0 (Unsynced, 1);
  unsynced->path = g_strdup (self->path);
  unsynced->offset = offset;
  unsynced->length = (gsize) length;
  unsynced->before = g_bytes_new_take (before, there);
  g_mutex_lock (&faults.mutex);
  g_ptr_array_add (faults.unsynced, unsynced);
  g_mutex_unlock (&faults.mutex);
}

static void
forget (const char *path)
{
  g_mutex_lock (&faults.mutex);
  for (guint i = faults.unsynced->len; i-- > 0;)
    if (g_strcmp0 (((Unsynced *) faults.unsynced->pdata[i])->path, path) == 0)
      g_ptr_array_remove_index (faults.unsynced, i);
  g_mutex_unlock (&faults.mutex);
}

static int
on_write (sqlite3_file *file, const void *bytes, int length, sqlite3_int64 offset)
{
  FaultFile *self = (FaultFile *) file;

  if (strikes (FAULT_AT_WRITE))
    {
      if (faults.kind == FAULT_SHORT)
        REAL (file)->xWrite (self->real, bytes, length / 2, offset);
      return code_for (SQLITE_IOERR_WRITE);
    }
  if (faults.armed && faults.kind == FAULT_POWER)
    remember (self, length, offset);
  return REAL (file)->xWrite (self->real, bytes, length, offset);
}

static int
on_truncate (sqlite3_file *file, sqlite3_int64 size)
{
  if (strikes (FAULT_AT_TRUNCATE))
    return SQLITE_IOERR_TRUNCATE;
  return REAL (file)->xTruncate (real_of (file), size);
}

static int
on_sync (sqlite3_file *file, int flags)
{
  FaultFile *self = (FaultFile *) file;
  int code;

  if (strikes (FAULT_AT_SYNC))
    return SQLITE_IOERR_FSYNC;
  code = REAL (file)->xSync (self->real, flags);
  if (code == SQLITE_OK && faults.armed && faults.kind == FAULT_POWER)
    forget (self->path);
  return code;
}

static int
on_file_size (sqlite3_file *file, sqlite3_int64 *size)
{
  return REAL (file)->xFileSize (real_of (file), size);
}

static int
on_lock (sqlite3_file *file, int level)
{
  return REAL (file)->xLock (real_of (file), level);
}

static int
on_unlock (sqlite3_file *file, int level)
{
  return REAL (file)->xUnlock (real_of (file), level);
}

static int
on_check_lock (sqlite3_file *file, int *held)
{
  return REAL (file)->xCheckReservedLock (real_of (file), held);
}

static int
on_control (sqlite3_file *file, int op, void *argument)
{
  return REAL (file)->xFileControl (real_of (file), op, argument);
}

static int
on_sector_size (sqlite3_file *file)
{
  return REAL (file)->xSectorSize (real_of (file));
}

static int
on_characteristics (sqlite3_file *file)
{
  return REAL (file)->xDeviceCharacteristics (real_of (file));
}

static int
on_shm_map (sqlite3_file *file, int page, int size, int extend, void volatile **memory)
{
  if (strikes (FAULT_AT_SHM))
    {
      *memory = NULL;
      return SQLITE_IOERR_SHMMAP;
    }
  return REAL (file)->xShmMap (real_of (file), page, size, extend, memory);
}

static int
on_shm_lock (sqlite3_file *file, int offset, int n, int flags)
{
  return REAL (file)->xShmLock (real_of (file), offset, n, flags);
}

static void
on_shm_barrier (sqlite3_file *file)
{
  REAL (file)->xShmBarrier (real_of (file));
}

static int
on_shm_unmap (sqlite3_file *file, int delete_it)
{
  return REAL (file)->xShmUnmap (real_of (file), delete_it);
}

static const sqlite3_io_methods methods = {
  .iVersion = 2,
  .xClose = on_close,
  .xRead = on_read,
  .xWrite = on_write,
  .xTruncate = on_truncate,
  .xSync = on_sync,
  .xFileSize = on_file_size,
  .xLock = on_lock,
  .xUnlock = on_unlock,
  .xCheckReservedLock = on_check_lock,
  .xFileControl = on_control,
  .xSectorSize = on_sector_size,
  .xDeviceCharacteristics = on_characteristics,
  .xShmMap = on_shm_map,
  .xShmLock = on_shm_lock,
  .xShmBarrier = on_shm_barrier,
  .xShmUnmap = on_shm_unmap,
};

static int
on_open (sqlite3_vfs *vfs, sqlite3_filename name, sqlite3_file *file, int flags, int *flags_out)
{
  FaultFile *self = (FaultFile *) file;
  int code;

  self->base.pMethods = NULL;
  self->path = NULL;
  if (strikes (FAULT_AT_OPEN))
    return SQLITE_CANTOPEN;
  code = base_vfs->xOpen (base_vfs, name, self->real, flags, flags_out);
  if (code == SQLITE_OK)
    {
      self->base.pMethods = &methods;
      self->path = g_strdup (name);
    }
  return code;
}

static int
on_delete (sqlite3_vfs *vfs, const char *name, int sync_folder)
{
  int code;

  if (strikes (FAULT_AT_DELETE))
    return SQLITE_IOERR_DELETE;
  code = base_vfs->xDelete (base_vfs, name, sync_folder);
  if (code == SQLITE_OK && faults.armed && faults.kind == FAULT_POWER)
    forget (name);
  return code;
}

static sqlite3_mem_methods real_memory;

static void *
on_malloc (int size)
{
  return strikes (FAULT_AT_MEMORY) ? NULL : real_memory.xMalloc (size);
}

static void *
on_realloc (void *old, int size)
{
  return strikes (FAULT_AT_MEMORY) ? NULL : real_memory.xRealloc (old, size);
}

void
fault_vfs_take_memory (void)
{
  sqlite3_mem_methods ours;

  g_assert_cmpint (sqlite3_config (SQLITE_CONFIG_GETMALLOC, &real_memory), ==, SQLITE_OK);
  ours = real_memory;
  ours.xMalloc = on_malloc;
  ours.xRealloc = on_realloc;
  g_assert_cmpint (sqlite3_config (SQLITE_CONFIG_MALLOC, &ours), ==, SQLITE_OK);
}

void
fault_vfs_register (void)
{
  static sqlite3_vfs shim;

  if (base_vfs != NULL)
    return;
  base_vfs = sqlite3_vfs_find (NULL);
  shim = *base_vfs; /* all but these two functions are the default's own; they take its data from the copy */
  shim.pNext = NULL;
  shim.zName = FAULT_VFS;
  shim.szOsFile = (int) sizeof (FaultFile) + base_vfs->szOsFile;
  shim.xOpen = on_open;
  shim.xDelete = on_delete;
  g_assert_cmpint (sqlite3_vfs_register (&shim, 0), ==, SQLITE_OK);
  faults.unsynced = g_ptr_array_new_with_free_func (unsynced_free);
}

void
fault_vfs_arm (FaultKind kind, FaultAt at, guint nth, gboolean repeat)
{
  g_mutex_lock (&faults.mutex);
  faults.armed = TRUE;
  faults.kind = kind;
  faults.at = kind == FAULT_FULL || kind == FAULT_READ_ONLY ? at & FAULT_AT_WRITE : at;
  faults.nth = nth;
  faults.repeat = repeat;
  faults.count = 0;
  faults.struck = FALSE;
  g_ptr_array_set_size (faults.unsynced, 0);
  g_mutex_unlock (&faults.mutex);
}

guint
fault_vfs_count (void)
{
  return faults.count;
}

gboolean
fault_vfs_struck (void)
{
  return faults.struck;
}

void
fault_vfs_disarm (void)
{
  g_mutex_lock (&faults.mutex);
  faults.armed = FALSE;
  g_mutex_unlock (&faults.mutex);
}

/* Puts back what stood under a write; where the file ended, zeros are left. */
static void
take_back (const Unsynced *unsynced)
{
  gsize there;
  const void *before = g_bytes_get_data (unsynced->before, &there);
  g_autofree guint8 *bytes = g_malloc0 (unsynced->length);
  int fd = g_open (unsynced->path, O_WRONLY | O_CLOEXEC, 0);

  if (fd < 0) /* deleted since */
    return;
  if (there > 0)
    memcpy (bytes, before, there);
  g_assert_cmpint (pwrite (fd, bytes, unsynced->length, unsynced->offset), ==, (gssize) unsynced->length);
  g_close (fd, NULL);
}

void
fault_vfs_power_off (GRand *rand)
{
  for (guint i = faults.unsynced->len; i-- > 0;)
    if (rand == NULL || g_rand_boolean (rand))
      take_back (faults.unsynced->pdata[i]);
  g_ptr_array_set_size (faults.unsynced, 0);
  fault_vfs_disarm ();
}
