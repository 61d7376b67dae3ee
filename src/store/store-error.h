/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What can be wrong with a journaled file or its disk. Codes exist only where a caller acts differently; the message is
 * always one sentence that says what, where and what to do. A cancelled call gives %G_IO_ERROR_CANCELLED.
 */

#include <glib.h>

G_BEGIN_DECLS

#define STORE_ERROR (store_error_quark ())

/**
 * StoreError:
 * @STORE_ERROR_MISSING: no such file, or no such content, action or record
 * @STORE_ERROR_EXISTS: a file of that name is there already
 * @STORE_ERROR_NOT_A_BOOK: a directory, an empty file, no database, or another program's
 * @STORE_ERROR_NEWER: written by a newer version of the program; left untouched
 * @STORE_ERROR_LOCKED: another program is writing, and went on longer than the busy wait
 * @STORE_ERROR_DAMAGED: the file contradicts itself
 * @STORE_ERROR_FULL: the disk is full
 * @STORE_ERROR_READ_ONLY: the file or its folder may not be written
 * @STORE_ERROR_IO: the disk failed to read or write
 * @STORE_ERROR_CONFLICT: rows were changed since: undo is refused
 * @STORE_ERROR_RULE: a rule of the records, or a reference between them, does not hold
 * @STORE_ERROR_NOTHING: there is nothing to undo or redo
 * @STORE_ERROR_ERASED: the payload that is asked for was erased
 * @STORE_ERROR_TOO_LARGE: beyond a stated size
 * @STORE_ERROR_FAILED: anything else; a mistake in this program, mostly
 */
typedef enum
{
  STORE_ERROR_MISSING,
  STORE_ERROR_EXISTS,
  STORE_ERROR_NOT_A_BOOK,
  STORE_ERROR_NEWER,
  STORE_ERROR_LOCKED,
  STORE_ERROR_DAMAGED,
  STORE_ERROR_FULL,
  STORE_ERROR_READ_ONLY,
  STORE_ERROR_IO,
  STORE_ERROR_CONFLICT,
  STORE_ERROR_RULE,
  STORE_ERROR_NOTHING,
  STORE_ERROR_ERASED,
  STORE_ERROR_TOO_LARGE,
  STORE_ERROR_FAILED
} StoreError;

GQuark store_error_quark (void);

G_END_DECLS
