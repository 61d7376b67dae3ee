/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-error-private.h"

#ifndef __clang__
/* GLib gives no private part for an error of another domain, which is asked before; the analyser does not follow that. */
#pragma GCC diagnostic ignored "-Wanalyzer-null-dereference"
#endif

/* Errors of the book, which remember the field that is to blame. */

typedef struct
{
  const BookField *field; /* static */
  char            *now;
} BookErrorPrivate;

static void
book_error_private_init (BookErrorPrivate *private)
{
}

static void
book_error_private_copy (const BookErrorPrivate *from, BookErrorPrivate *to)
{
  to->field = from->field;
  to->now = g_strdup (from->now);
}

static void
book_error_private_clear (BookErrorPrivate *private)
{
  g_free (private->now);
}

/* GLib lays the private part before the error, aligned as any allocation; the other compiler cannot see that. */
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wcast-align"
G_DEFINE_EXTENDED_ERROR (BookError, book_error)
#pragma GCC diagnostic pop

/**
 * book_error_field:
 * @error: (nullable): any error
 *
 * Returns: (nullable): the name of the field that is to blame; %NULL where there is no single one
 */
const char *
book_error_field (const GError *error)
{
  const BookField *field = error != NULL && error->domain == BOOK_ERROR ? book_error_get_private (error)->field : NULL;

  return field != NULL ? field->name : NULL;
}

/**
 * book_error_now:
 * @error: (nullable): any error
 *
 * Returns: (nullable): with %BOOK_ERROR_CHANGED what the field holds now, as a form writes it; %NULL: nothing
 */
const char *
book_error_now (const GError *error)
{
  return error != NULL && error->domain == BOOK_ERROR ? book_error_get_private (error)->now : NULL;
}

void
book_error_blame (GError *error, const BookField *field)
{
  if (error != NULL && error->domain == BOOK_ERROR)
    book_error_get_private (error)->field = field;
}

void
book_error_tell_now (GError *error, const char *now)
{
  BookErrorPrivate *private;

  if (error == NULL || error->domain != BOOK_ERROR)
    return;
  private = book_error_get_private (error);
  g_free (private->now);
  private->now = g_strdup (now);
}

gboolean
book_error_refuse (GError **error, BookError code, const BookField *field, const char *sentence)
{
  GError *problem = g_error_new_literal (BOOK_ERROR, code, sentence);

  book_error_blame (problem, field);
  g_propagate_error (error, problem);
  return FALSE;
}
