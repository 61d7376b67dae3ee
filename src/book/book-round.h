/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The commands about rounds: planning one, copying the last one, its dates, its waits, its verdict. A day may be earlier
 * than today, never later, and %NULL is today. Fields and texts are as in book_edit_record(). Single rows of a plan are
 * records as any other (book_edit_record() and book_edit_delete() of %BOOK_RECORD_ROUND_PART).
 */

#include "book-edit.h"
#include "book-form.h"

G_BEGIN_DECLS

/* The dates of a round in the order in which they are reached. */
typedef enum
{
  BOOK_ROUND_OPENED,
  BOOK_ROUND_DESIGN_FIXED,
  BOOK_ROUND_PARTS_READY,
  BOOK_ROUND_BUILT,
  BOOK_ROUND_TESTED,
  BOOK_ROUND_DECIDED,
  BOOK_N_ROUND_DATES
} BookRoundDate;

/* Name of the field that holds it. */
const char *book_round_date_field  (BookRoundDate      date);

/**
 * BookRoundTest:
 * @BOOK_ROUND_TEST_NONE: the unit is not planned for the test
 * @BOOK_ROUND_TEST_TESTED: it is tested and stays as it is
 * @BOOK_ROUND_TEST_DESTROYED: the test uses it up
 * @BOOK_ROUND_TEST_LENT: it leaves the shop for the test
 */
typedef enum
{
  BOOK_ROUND_TEST_NONE,
  BOOK_ROUND_TEST_TESTED,
  BOOK_ROUND_TEST_DESTROYED,
  BOOK_ROUND_TEST_LENT
} BookRoundTest;

BookEdit *book_round_plan         (gint64             model,
                                   const char *const *fields,
                                   const char *const *texts) G_GNUC_WARN_UNUSED_RESULT;
/* More of the same plan, before it is run. */
void      book_round_plan_part    (BookEdit          *edit,
                                   const char *const *fields,
                                   const char *const *texts);
void      book_round_plan_test    (BookEdit          *edit,
                                   const char *const *fields,
                                   const char *const *texts);

/* A new round like an earlier one; the changes named are carried out and put into its plan. */
BookEdit *book_round_copy         (gint64             last,
                                   const char *const *fields,
                                   const char *const *texts) G_GNUC_WARN_UNUSED_RESULT;
void      book_round_copy_change  (BookEdit          *edit,
                                   gint64             change);

/* An agreed change that a copy of a round can put in. */
typedef struct
{
  gint64   id;
  int      no;
  char    *title;
  gboolean carried_out; /* else copying does it */
} BookRoundOffer;

/* What copying starts from: the round that would be copied, the new one as a form, and the changes that it can put in. */
typedef struct
{
  gint64     last; /* 0: no round yet */
  char      *last_label;
  BookForm  *form;
  GPtrArray *offers; /* BookRoundOffer */
} BookRoundDraft;

BookRoundDraft *book_round_draft  (StoreDb           *db,
                                   gint64             model,
                                   GError           **error) G_GNUC_WARN_UNUSED_RESULT;
void      book_round_draft_free   (BookRoundDraft    *draft);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookRoundDraft, book_round_draft_free)

/* 'P3' gives 'P4', 'A' gives 'B'; and a serial of one round as it would be in another. */
char     *book_round_label_after  (const char        *label) G_GNUC_WARN_UNUSED_RESULT;
char     *book_round_serial_in    (const char        *serial,
                                   const char        *from_label,
                                   const char        *to_label,
                                   gint64             further) G_GNUC_WARN_UNUSED_RESULT;

BookEdit *book_round_set_test     (gint64             round,
                                   const char        *serial,
                                   gint64             characteristic,
                                   BookRoundTest      test) G_GNUC_WARN_UNUSED_RESULT;

BookEdit *book_round_reach        (gint64             round,
                                   BookRoundDate      date,
                                   const char        *on) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_round_decide       (gint64             round,
                                   BookRoundVerdict   verdict,
                                   const char        *cost,
                                   const char        *on) G_GNUC_WARN_UNUSED_RESULT;

BookEdit *book_round_begin_wait   (gint64             round,
                                   const char *const *fields,
                                   const char *const *texts) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_round_end_wait     (gint64             wait,
                                   const char        *on) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
