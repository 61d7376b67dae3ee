/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Rows of records as people have them, a CSV file or a block from a spreadsheet, looked at before anything is stored: which
 * column gives which field, and for each row whether it is new, changes a record, is in the book already, or is refused
 * and why. What judges the rows is the import itself, so that what the look says is what taking in does.
 *
 * The look belongs to one thread. A question is a copy of what it says at that time, and is asked in another.
 */

#include "book.h"
#include "exchange-cell.h"

G_BEGIN_DECLS

#define EXCHANGE_LOOK_MOST_ROWS 500000

typedef struct _ExchangeLook ExchangeLook;
typedef struct _ExchangeLookQuestion ExchangeLookQuestion;
typedef struct _ExchangeLookAnswer ExchangeLookAnswer;

/**
 * ExchangeLookState:
 * @EXCHANGE_LOOK_NEW: the book has no such record
 * @EXCHANGE_LOOK_CHANGED: the book has it with other values
 * @EXCHANGE_LOOK_EQUAL: the book has it
 * @EXCHANGE_LOOK_REFUSED: it cannot be stored as it is
 */
typedef enum
{
  EXCHANGE_LOOK_NEW,
  EXCHANGE_LOOK_CHANGED,
  EXCHANGE_LOOK_EQUAL,
  EXCHANGE_LOOK_REFUSED
} ExchangeLookState;
#define EXCHANGE_LOOK_N_STATES 4

/**
 * ExchangeLookField:
 * @name: of the column in files
 * @label: what people call it, translated
 * @leaf: what its cells hold; never a reference
 * @field: the field of the record that it gives, or gives a part of
 * @is_last: of the columns that give @field
 */
typedef struct
{
  const char      *name;
  char            *label;
  const BookField *leaf;
  const BookField *field;
  gboolean         is_last;
} ExchangeLookField;

/* The rows; @likely: what kind of record they are when their heads do not say otherwise, or %NULL. */
ExchangeLook *exchange_look_read_text (const char       *name,
                                       const char       *text,
                                       gsize             length,
                                       const BookRecord *likely,
                                       GError          **error) G_GNUC_WARN_UNUSED_RESULT;
ExchangeLook *exchange_look_read_file (const char       *path,
                                       const BookRecord *likely,
                                       GError          **error) G_GNUC_WARN_UNUSED_RESULT;
void          exchange_look_free      (ExchangeLook     *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchangeLook, exchange_look_free)

/* Whether rows of a record can be taken in: those whose files lie beside the file cannot. */
gboolean          exchange_look_can_take      (const BookRecord   *record);

const char       *exchange_look_get_name      (const ExchangeLook *self);
guint             exchange_look_count_rows    (const ExchangeLook *self);
guint             exchange_look_count_columns (const ExchangeLook *self);
guint             exchange_look_get_line      (const ExchangeLook *self,
                                               guint               row);
/* Whether the heads alone say that these are records, not a measuring sheet. */
gboolean          exchange_look_is_sure       (const ExchangeLook *self);

/* What was recognised, and how it is mended. Setting a record matches the columns anew. */
const BookRecord *exchange_look_get_record    (const ExchangeLook *self);
void              exchange_look_set_record    (ExchangeLook       *self,
                                               const BookRecord   *record);
gboolean          exchange_look_get_has_head  (const ExchangeLook *self);
void              exchange_look_set_has_head  (ExchangeLook       *self,
                                               gboolean            has_head);
char              exchange_look_get_decimal_sign (const ExchangeLook *self);
void              exchange_look_set_decimal_sign (ExchangeLook    *self,
                                               char                decimal_sign);
ExchangeDateOrder exchange_look_get_date_order (const ExchangeLook *self);
void              exchange_look_set_date_order (ExchangeLook      *self,
                                               ExchangeDateOrder   order);

guint                    exchange_look_count_fields (const ExchangeLook *self);
const ExchangeLookField *exchange_look_get_field    (const ExchangeLook *self,
                                                     guint               field);
/* The head of a column, "" without one; and which field it gives, -1 where it is left out. */
const char       *exchange_look_get_head      (const ExchangeLook *self,
                                               guint               column);
int               exchange_look_get_column    (const ExchangeLook *self,
                                               guint               column);
void              exchange_look_set_column    (ExchangeLook       *self,
                                               guint               column,
                                               int                 field);
/* What a field that no column gives has in all rows; "" for nothing. */
const char       *exchange_look_get_fixed     (const ExchangeLook *self,
                                               guint               field);
void              exchange_look_set_fixed     (ExchangeLook       *self,
                                               guint               field,
                                               const char         *text);
/* Whether every row needs a field that no column gives; what stands in exchange_look_get_fixed() gives it. */
gboolean          exchange_look_needs         (const ExchangeLook *self,
                                               guint               field);
/* The sentence about what must be mended before anything can be judged; %NULL for nothing. */
char             *exchange_look_lacks         (const ExchangeLook *self) G_GNUC_WARN_UNUSED_RESULT;

const char       *exchange_look_get_cell      (const ExchangeLook *self,
                                               guint               row,
                                               guint               column);
void              exchange_look_set_cell      (ExchangeLook       *self,
                                               guint               row,
                                               guint               column,
                                               const char         *text);

/* Mended cells are taken back newest first, and put again with @again; the fields of all rows are not among them. */
gboolean          exchange_look_can_reverse   (const ExchangeLook *self,
                                               gboolean            again);
/* What the next one is, as in ''P3' under Round in line 4'; NULL: there is none. */
char             *exchange_look_dup_reversal  (const ExchangeLook *self,
                                               gboolean            again) G_GNUC_WARN_UNUSED_RESULT;
/* Takes it, and tells where; @row is the number of rows where the cell is among the heads now. */
gboolean          exchange_look_reverse       (ExchangeLook       *self,
                                               gboolean            again,
                                               guint              *row,
                                               guint              *column);

/**
 * exchange_look_ask:
 * @book: a book
 * @question: from exchange_look_question_new()
 * @progress: (nullable): told from this thread or the writer's, in thousandths
 * @progress_data: for @progress
 * @cancellable: (nullable): stops with nothing stored
 * @error: return location
 *
 * Judges all rows, and with @store of the question stores those that are new or changed, as one action. Blocks; never to
 * be called from a window's main thread.
 *
 * Returns: (transfer full) (nullable): what became of each row
 */
ExchangeLookQuestion *exchange_look_question_new  (const ExchangeLook   *self,
                                                   gint64                person,
                                                   gint64                sitting,
                                                   gboolean              store) G_GNUC_WARN_UNUSED_RESULT;
void                  exchange_look_question_free (ExchangeLookQuestion *question);
ExchangeLookAnswer   *exchange_look_ask           (Book                 *book,
                                                   const ExchangeLookQuestion *question,
                                                   StoreProgress         progress,
                                                   gpointer              progress_data,
                                                   GCancellable         *cancellable,
                                                   GError              **error) G_GNUC_WARN_UNUSED_RESULT;
void                  exchange_look_answer_free   (ExchangeLookAnswer   *answer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchangeLookQuestion, exchange_look_question_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchangeLookAnswer, exchange_look_answer_free)

guint             exchange_look_answer_count      (const ExchangeLookAnswer *answer,
                                                   ExchangeLookState         state);
ExchangeLookState exchange_look_answer_state      (const ExchangeLookAnswer *answer,
                                                   guint                     row);
gboolean          exchange_look_answer_is_stored  (const ExchangeLookAnswer *answer);
/* What the book has in the field that a column gives, where the row changes it; else %NULL. */
const char       *exchange_look_answer_old        (const ExchangeLook       *self,
                                                   const ExchangeLookAnswer *answer,
                                                   guint                     row,
                                                   guint                     column);
/* Whether something is wrong with what a column gives. */
gboolean          exchange_look_answer_is_wrong   (const ExchangeLook       *self,
                                                   const ExchangeLookAnswer *answer,
                                                   guint                     row,
                                                   guint                     column);
/* A row in words: why it was refused, or each field from old to new; "" where there is nothing to say. */
char             *exchange_look_answer_words      (const ExchangeLook       *self,
                                                   const ExchangeLookAnswer *answer,
                                                   guint                     row) G_GNUC_WARN_UNUSED_RESULT;

/* Only the rows that were refused stay, as they were mended, which is not taken back any more: the book comes first now. */
void              exchange_look_keep_refused      (ExchangeLook             *self,
                                                   const ExchangeLookAnswer *answer);
/* The refused rows as CSV, as they stand, with the reason in a last column. */
char             *exchange_look_print_refused     (const ExchangeLook       *self,
                                                   const ExchangeLookAnswer *answer) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
