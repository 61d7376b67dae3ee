/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A VFS for tests, named "fault": passes everything on to the default one, counts operations, and lets the n-th of them
 * go wrong. One for the whole process; any thread may use the files.
 */

#include <glib.h>

G_BEGIN_DECLS

#define FAULT_VFS "fault"

/**
 * FaultKind:
 * @FAULT_ERROR: the operation reports an I/O error and does nothing
 * @FAULT_SHORT: a write stores only its first half, then reports an I/O error; other operations as @FAULT_ERROR
 * @FAULT_FULL: writes report a full disk; other operations are not counted
 * @FAULT_READ_ONLY: as @FAULT_FULL, of a disk that was made read-only
 * @FAULT_POWER: the power fails: this and every later change fails, and fault_vfs_power_off() undoes what was written
 *   since the last sync
 */
typedef enum
{
  FAULT_ERROR,
  FAULT_SHORT,
  FAULT_FULL,
  FAULT_READ_ONLY,
  FAULT_POWER
} FaultKind;

/* Which operations are counted. */
typedef enum
{
  FAULT_AT_OPEN = 1 << 0,
  FAULT_AT_WRITE = 1 << 1,
  FAULT_AT_SYNC = 1 << 2,
  FAULT_AT_TRUNCATE = 1 << 3,
  FAULT_AT_DELETE = 1 << 4,
  FAULT_AT_READ = 1 << 5,
  FAULT_AT_SHM = 1 << 6, /* mapping shared memory */
  FAULT_AT_CHANGES = FAULT_AT_WRITE | FAULT_AT_SYNC | FAULT_AT_TRUNCATE | FAULT_AT_DELETE,
  FAULT_AT_ALL = (1 << 7) - 1, /* of the disk */
  FAULT_AT_MEMORY = 1 << 7     /* SQLite takes memory; after fault_vfs_take_memory() */
} FaultAt;

/* Makes the VFS known to SQLite; may be called again. */
void     fault_vfs_register  (void);
/* First thing in main(): SQLite takes its memory through us, so that this can fail too. */
void     fault_vfs_take_memory (void);

/**
 * fault_vfs_arm:
 * @kind: what goes wrong
 * @at: at which operations
 * @nth: which of them, from 1; 0: none, only count
 * @repeat: whether all later ones go wrong too
 *
 * Forgets everything before, and begins to count.
 */
void     fault_vfs_arm       (FaultKind kind,
                              FaultAt   at,
                              guint     nth,
                              gboolean  repeat);
/* Operations counted since arming. */
guint    fault_vfs_count     (void);
/* Whether the fault came. */
gboolean fault_vfs_struck    (void);
/* From now on nothing goes wrong, and nothing is counted. */
void     fault_vfs_disarm    (void);

/**
 * fault_vfs_power_off:
 * @rand: (nullable): picks which of the writes since the last sync of their file are lost; %NULL: all of them
 *
 * After a @FAULT_POWER and when all files are closed: leaves what the disk holds now.
 */
void     fault_vfs_power_off (GRand *rand);

G_END_DECLS
