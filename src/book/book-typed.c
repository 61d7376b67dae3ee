/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-edit.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-search.h"
#include "book-text-private.h"
#include "book-values.h"

/* What people and gauges write into the cell of a reading. */

static gboolean
is_one_of (const char *text, const char *const *words)
{
  return g_strv_contains (words, text);
}

static gboolean
parse_checked (const char *text, const char *as_typed, BookTyped *typed, GError **error)
{
  static const char *const passed[] = { "passed", "pass", "p", "ok", "good", "yes", "y", "+", "1", NULL };
  static const char *const failed[] = { "failed", "fail", "f", "nok", "bad", "no", "n", "-", "0", NULL };
  g_autofree char *own_passed = book_search_fold (book_choice_label (book_choice_by_code (book_marks, BOOK_MARK_PASSED)), -1);
  g_autofree char *own_failed = book_search_fold (book_choice_label (book_choice_by_code (book_marks, BOOK_MARK_FAILED)), -1);
  g_autofree char *shown = NULL;

  if (is_one_of (text, passed) || g_str_equal (text, own_passed))
    typed->mark = BOOK_MARK_PASSED;
  else if (is_one_of (text, failed) || g_str_equal (text, own_failed))
    typed->mark = BOOK_MARK_FAILED;
  else
    {
      shown = book_text_quote (as_typed, strlen (as_typed));
      g_set_error (error, BOOK_ERROR, BOOK_ERROR_VALUE, _("%s is neither passed nor failed: type p or f."), shown);
      return FALSE;
    }
  return TRUE;
}

static gboolean
parse_measured (const char *text, const char *as_typed, BookTyped *typed, GError **error)
{
  const BookField *field = book_field_find (book_record (BOOK_RECORD_READING), "value");
  BookValue value;

  typed->mark = *text == '>' ? BOOK_MARK_ABOVE : *text == '<' ? BOOK_MARK_BELOW : BOOK_MARK_MEASURED;
  if (typed->mark != BOOK_MARK_MEASURED)
    text++;
  if (*text == '\0')
    {
      g_autofree char *shown = book_text_quote (as_typed, strlen (as_typed));

      g_set_error (error, BOOK_ERROR, BOOK_ERROR_VALUE, _("%s is not a number: write digits, such as 12.5."), shown);
      return FALSE;
    }
  if (!book_value_parse (field, text, -1, TRUE, &value, error))
    return FALSE;
  typed->has_value = TRUE;
  typed->value = value.real;
  return TRUE;
}

/**
 * book_typed_parse:
 * @kind: of the characteristic
 * @text: what was typed
 * @typed: (out): what it means
 * @error: return location: one sentence
 *
 * A measured value is a number with point or comma, with '>' or '<' before it where the gauge's range ended there. A
 * check is passed or failed, in one of the words and signs that people use for it.
 *
 * Returns: whether it can be a reading; empty text cannot
 */
gboolean
book_typed_parse (BookCharacteristicKind kind, const char *text, BookTyped *typed, GError **error)
{
  g_autofree char *folded = g_strstrip (book_search_fold (text, -1));

  *typed = (BookTyped){ 0 };
  if (*folded == '\0')
    {
      g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_VALUE,
                           _("A reading is not emptied: undo it, or void it with a reason."));
      return FALSE;
    }
  return kind == BOOK_CHARACTERISTIC_CHECKED ? parse_checked (folded, text, typed, error)
                                             : parse_measured (folded, text, typed, error);
}
