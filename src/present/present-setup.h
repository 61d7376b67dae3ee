/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a model is set up from, in words: what belongs into each kind of record, how to begin with it, and what goes along
 * when something is deleted.
 */

#include "book-limit.h"
#include "book-setup.h"
#include "book-terms.h"

G_BEGIN_DECLS

/* One sentence: what the records of a kind are for. Static. */
const char *present_setup_purpose   (BookRecordId  record);
/* One sentence: how to begin where there is none of them yet. Static. */
const char *present_setup_begin     (BookRecordId  record);
/* @counts: of book_record_goes_with(). NULL where nothing goes along. */
char       *present_setup_goes_with (const guint   counts[BOOK_N_RECORDS + 1]) G_GNUC_WARN_UNUSED_RESULT;

/* Limits as they are understood; NAN where one is missing. */
char       *present_setup_limits    (double        nominal,
                                     double        lower,
                                     double        upper,
                                     int           decimals,
                                     const char   *unit) G_GNUC_WARN_UNUSED_RESULT;
/* What is in force. */
char       *present_setup_limits_now (const BookLimitNow *now) G_GNUC_WARN_UNUSED_RESULT;

/* What a criterion asks for by its own terms, sentence by sentence. */
char       *present_setup_terms_now (const BookTermsNow *now) G_GNUC_WARN_UNUSED_RESULT;

/* What the classes ask for, where a criterion says nothing; NULL for kinds that are no criteria. */
char       *present_setup_defaults  (BookRecordId  record) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
