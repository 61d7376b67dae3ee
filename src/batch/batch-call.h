/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One call of the program: its options, where results go, how it ends. Every verb is one file with one #BatchVerb.
 */

#include "book-fields.h"

#include <gio/gio.h>
#include <json-glib/json-glib.h>
#include <stdio.h>

G_BEGIN_DECLS

/**
 * BatchStatus:
 * @BATCH_DONE: all went as asked
 * @BATCH_ATTENTION: something needs attention: rows rejected, a check failed, nothing to undo
 * @BATCH_USAGE: the call itself is wrong
 * @BATCH_BOOK: the book cannot be used
 *
 * The exit status.
 */
typedef enum
{
  BATCH_DONE = 0,
  BATCH_ATTENTION = 1,
  BATCH_USAGE = 2,
  BATCH_BOOK = 3
} BatchStatus;

typedef struct _BatchVerb BatchVerb;

/**
 * BatchCall:
 * @out: results, and nothing else; standard output of the process belongs to libraries that print warnings
 * @out_errno: why results could not be written; 0: they could
 * @verb: what is asked for
 * @arguments: what was given beside options
 * @book: (nullable): path of the book
 * @model: (nullable): code of a model
 * @through: (nullable): label of a round
 * @today: an ISO 8601 date, checked
 * @person: (nullable): initials of who writes
 * @json: one JSON document instead of text
 * @cancellable: cancelled by Ctrl-C where the verb writes
 * @progress_shown: a line of progress stands on the terminal
 */
typedef struct
{
  FILE            *out;
  int              out_errno;
  const BatchVerb *verb;
  char           **arguments;
  guint            n_arguments;
  char            *book;
  char            *model;
  char            *through;
  char            *today;
  char            *person;
  gboolean         json;
  GCancellable    *cancellable;
  gboolean         progress_shown;
  gint64           progress_time;
} BatchCall;

/**
 * BatchVerb:
 * @name: of the verb
 * @arguments: what it takes, for the help: 'PATH…'
 * @summary: one line, not yet translated
 * @description: (nullable): more for its own help, not yet translated
 * @least: arguments needed
 * @most: arguments taken
 * @prints: it makes paper, on which figures are written as in the window
 * @stops: Ctrl-C cancels it and it ends by itself; otherwise the process just ends
 * @options: (nullable): its own options
 * @run: does it
 */
struct _BatchVerb
{
  const char         *name;
  const char         *arguments;
  const char         *summary;
  const char         *description;
  guint               least;
  guint               most;
  gboolean            prints;
  gboolean            stops;
  const GOptionEntry *options;
  BatchStatus (*run) (BatchCall *call);
};

void              batch_write          (BatchCall           *call,
                                        const char          *text);
void              batch_write_text     (BatchCall           *call,
                                        char                *text);
void              batch_write_json     (BatchCall           *call,
                                        JsonNode            *node);
void              batch_say            (BatchCall           *call,
                                        const char          *format,
                                        ...) G_GNUC_PRINTF (2, 3);
BatchStatus       batch_fail           (BatchCall           *call,
                                        const GError        *error);
BatchStatus       batch_usage          (BatchCall           *call,
                                        const char          *format,
                                        ...) G_GNUC_PRINTF (2, 3) G_GNUC_WARN_UNUSED_RESULT;
void              batch_clear_progress (BatchCall           *call);
void              batch_progress       (guint64              done,
                                        guint64              total,
                                        gpointer             call);
const char       *batch_nearest        (const char          *word,
                                        const char * const  *words);
const BookRecord *batch_record         (BatchCall           *call,
                                        const char          *name,
                                        BatchStatus         *status);

G_END_DECLS
