/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What all verbs share: writing results, saying what is wrong, progress on a terminal. */

#include "config.h"

#include "batch-call.h"

#include "chart-output.h"
#include "exchange-error.h"
#include "insight-standing.h"
#include "present-json.h"
#include "present-text.h"
#include "store-error.h"

#include <errno.h>
#include <glib/gi18n.h>
#include <string.h>
#include <unistd.h>

#define PROGRESS_MS 200 /* between two drawings of the progress */

/**
 * batch_clear_progress:
 * @call: the call
 *
 * Takes the line of progress off the terminal, before something else is written there.
 */
void
batch_clear_progress (BatchCall *call)
{
  if (call->progress_shown)
    fputs ("\r\033[K", stderr);
  call->progress_shown = FALSE;
}

/**
 * batch_write:
 * @call: the call
 * @text: a result
 *
 * Writes to where results go. A reader that went away (a closed pipe) is found at the end of the call.
 */
void
batch_write (BatchCall *call, const char *text)
{
  batch_clear_progress (call);
  if (call->out_errno == 0 && fputs (text, call->out) < 0)
    call->out_errno = errno;
}

/**
 * batch_write_text:
 * @call: the call
 * @text: (transfer full): the result
 */
void
batch_write_text (BatchCall *call, char *text)
{
  batch_write (call, text);
  g_free (text);
}

/**
 * batch_write_json:
 * @call: the call
 * @node: (transfer full): the result, written as one document
 */
void
batch_write_json (BatchCall *call, JsonNode *node)
{
  batch_write_text (call, present_json_print (node));
  json_node_unref (node);
}

static void
say (BatchCall *call, const char *sentence)
{
  g_autofree char *escaped = present_text_escape (sentence);

  batch_clear_progress (call);
  fprintf (stderr, "fettle-batch: %s\n", escaped);
}

static void say_formatted (BatchCall *call, const char *format, va_list arguments) G_GNUC_PRINTF (2, 0);

static void
say_formatted (BatchCall *call, const char *format, va_list arguments)
{
  g_autofree char *sentence = g_strdup_vprintf (format, arguments);

  say (call, sentence);
}

/**
 * batch_say:
 * @call: the call
 * @format: a sentence for standard error
 *
 * Tells a person something that is not a result.
 */
void
batch_say (BatchCall *call, const char *format, ...)
{
  va_list arguments;

  va_start (arguments, format);
  say_formatted (call, format, arguments);
  va_end (arguments);
}

/**
 * batch_usage:
 * @call: the call
 * @format: what is wrong with the call
 *
 * Returns: %BATCH_USAGE
 */
BatchStatus
batch_usage (BatchCall *call, const char *format, ...)
{
  va_list arguments;

  va_start (arguments, format);
  say_formatted (call, format, arguments);
  va_end (arguments);
  return BATCH_USAGE;
}

static BatchStatus
status_of_store (gint code)
{
  switch ((StoreError) code)
    {
    case STORE_ERROR_MISSING:
    case STORE_ERROR_EXISTS:
    case STORE_ERROR_NOT_A_BOOK:
    case STORE_ERROR_NEWER:
    case STORE_ERROR_LOCKED:
    case STORE_ERROR_DAMAGED:
    case STORE_ERROR_FULL:
    case STORE_ERROR_READ_ONLY:
    case STORE_ERROR_IO:
    case STORE_ERROR_FAILED:
      return BATCH_BOOK;
    case STORE_ERROR_CONFLICT:
    case STORE_ERROR_RULE:
    case STORE_ERROR_NOTHING:
    case STORE_ERROR_ERASED:
    case STORE_ERROR_TOO_LARGE:
      return BATCH_ATTENTION;
    }
  return BATCH_BOOK;
}

static BatchStatus
status_of (const GError *error)
{
  if (error->domain == STORE_ERROR)
    return status_of_store (error->code);
  if (error->domain == G_OPTION_ERROR || g_error_matches (error, EXCHANGE_ERROR, EXCHANGE_ERROR_PATH) ||
      g_error_matches (error, CHART_OUTPUT_ERROR, CHART_OUTPUT_ERROR_KIND) ||
      g_error_matches (error, CHART_OUTPUT_ERROR, CHART_OUTPUT_ERROR_SIZE) ||
      error->domain == INSIGHT_ERROR) /* a round, a date or a characteristic that was asked for */
    return BATCH_USAGE;
  return BATCH_ATTENTION;
}

/**
 * batch_fail:
 * @call: the call
 * @error: what went wrong
 *
 * Says it on standard error.
 *
 * Returns: the exit status that belongs to it
 */
BatchStatus
batch_fail (BatchCall *call, const GError *error)
{
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    say (call, _("Stopped as asked: nothing was stored."));
  else
    say (call, error->message);
  return status_of (error);
}

/**
 * batch_progress:
 * @done: how much is done
 * @total: of how much; 0: unknown
 * @call: (type BatchCall): the call
 *
 * Shows how far the work is, on a terminal only. Called from the thread that works, never two at a time.
 */
void
batch_progress (guint64 done, guint64 total, gpointer call)
{
  BatchCall *self = call;
  const gint64 now = g_get_monotonic_time ();

  if (!isatty (STDERR_FILENO) || now - self->progress_time < PROGRESS_MS * G_TIME_SPAN_MILLISECOND)
    return;
  self->progress_time = now;
  self->progress_shown = TRUE;
  if (total > 0)
    fprintf (stderr, "\r%3u %%\033[K", (guint) (MIN (done, total) * 100 / total));
  else
    fprintf (stderr, "\r%" G_GUINT64_FORMAT "\033[K", done);
  fflush (stderr);
}

/* Levenshtein's distance, bytewise: words here are short and ASCII. */
static gsize
distance (const char *a, const char *b)
{
  const gsize length = strlen (b);
  g_autofree gsize *row = g_new (gsize, length + 1);

  for (gsize j = 0; j <= length; j++)
    row[j] = j;
  for (gsize i = 0; a[i] != '\0'; i++)
    {
      gsize diagonal = row[0];

      row[0] = i + 1;
      for (gsize j = 0; j < length; j++)
        {
          const gsize above = row[j + 1];

          row[j + 1] = MIN (MIN (above, row[j]) + 1, diagonal + (a[i] == b[j] ? 0 : 1));
          diagonal = above;
        }
    }
  return row[length];
}

/**
 * batch_nearest:
 * @word: what was typed
 * @words: (array zero-terminated=1): what could have been meant
 *
 * Returns: (nullable): the most similar of @words; %NULL when none is similar
 */
const char *
batch_nearest (const char *word, const char * const *words)
{
  const char *nearest = NULL;
  gsize least = MAX (strlen (word) / 2, 1) + 1;

  if (strlen (word) > 64)
    return NULL;
  for (guint i = 0; words[i] != NULL; i++)
    {
      const gsize d = distance (word, words[i]);

      if (d < least)
        {
          least = d;
          nearest = words[i];
        }
    }
  return nearest;
}

/**
 * batch_record:
 * @call: the call
 * @name: what was typed
 * @status: (out): the exit status when there is no such record
 *
 * Returns: (nullable): the kind of record of that name; otherwise a sentence was written
 */
const BookRecord *
batch_record (BatchCall *call, const char *name, BatchStatus *status)
{
  const BookRecord *record = book_record_find (name);
  const char *names[BOOK_N_RECORDS + 1] = { NULL };
  const char *nearest;

  if (record != NULL)
    return record;
  for (guint i = 0; i < BOOK_N_RECORDS; i++)
    names[i] = book_record ((BookRecordId) (i + 1))->name;
  nearest = batch_nearest (name, names);
  *status = nearest == NULL ? batch_usage (call, _("There is no record '%s': 'fettle-batch fields' lists all."), name)
                            : batch_usage (call, _("There is no record '%s': did you mean '%s'?"), name, nearest);
  return NULL;
}
