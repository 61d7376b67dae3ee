/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The terms of a criterion: what it asks for on a day, and which of its fields mean anything for its kind of evidence.
 */

#include "book.h"
#include "book-choices.h"

G_BEGIN_DECLS

/**
 * BookTermsNow:
 * @criterion: its key
 * @code: of the criterion
 * @kind: of evidence
 * @row: key of the row in force; 0: none
 * @from: ISO 8601, since when it holds; "": there is none
 * @share: that must conform, NAN: as the class asks; likewise the others
 * @plan_units: of a declared plan; 0: none
 * @plan_failures: of them at most
 *
 * What a criterion asks for on a day.
 */
typedef struct
{
  gint64            criterion;
  char             *code;
  BookCriterionKind kind;
  gint64            row;
  char             *from;
  double            share;
  double            target;
  double            confidence;
  double            cycles;
  double            load;
  double            shape_low;
  double            shape_high;
  guint             plan_units;
  guint             plan_failures;
} BookTermsNow;

BookTermsNow      *book_terms_now      (StoreDb          *db,
                                        gint64            criterion,
                                        const char       *today,
                                        GError          **error) G_GNUC_WARN_UNUSED_RESULT;
void               book_terms_now_free (BookTermsNow     *now);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookTermsNow, book_terms_now_free)

/* Names of the fields of a row of terms that the kind asks for, in their order: NULL-terminated, static. */
const char *const *book_terms_fields   (BookCriterionKind kind);

G_END_DECLS
