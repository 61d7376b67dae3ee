/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What can be wrong with files that come in or go out.
 */

#include <glib.h>

G_BEGIN_DECLS

#define EXCHANGE_ERROR (exchange_error_quark ())

/**
 * ExchangeError:
 * @EXCHANGE_ERROR_UNREADABLE: a file or folder cannot be opened, read or written
 * @EXCHANGE_ERROR_CONTENT: what a file holds is not what its form asks for; the message says line and column
 * @EXCHANGE_ERROR_ROWS: rows are wrong and nothing was stored; the report lists them
 * @EXCHANGE_ERROR_UNDERSTOOD: a measuring sheet needs a correction before it can be stored
 * @EXCHANGE_ERROR_PATH: a path names no file that can be imported; wrong usage of the program
 */
typedef enum
{
  EXCHANGE_ERROR_UNREADABLE,
  EXCHANGE_ERROR_CONTENT,
  EXCHANGE_ERROR_ROWS,
  EXCHANGE_ERROR_UNDERSTOOD,
  EXCHANGE_ERROR_PATH
} ExchangeError;

GQuark exchange_error_quark (void);

G_END_DECLS
