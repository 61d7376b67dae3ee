/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What was changed, added or taken away, of what is asked for and of what was measured, after the first value was there.
 * The journal knows it, whatever the records say now: a criterion made easier in its row, one that was deleted and made
 * anew, a reading typed over, a shape chosen when the values were seen. What was found is a value too: an issue made less grave.
 */

#include "book-evidence.h"
#include "book-fields.h"
#include "store-row.h"

G_BEGIN_DECLS

/**
 * BookAfterwards:
 * @record: criterion, terms of one, characteristic, reading or issue
 * @id: of the row
 * @op: added, changed or taken away
 * @field: that was changed; %NULL of rows added or taken away
 * @characteristic: index that it is about; -1: none, or no longer there
 * @code: of the criterion or characteristic, number of the issue, "" when not known
 * @before: as shown; "" for nothing
 * @after: likewise
 * @n: how many readings, where @record is reading; else 1
 * @person: initials of who did it, "" for nobody by name
 * @time: ISO 8601
 */
typedef struct
{
  const BookRecord *record;
  gint64            id;
  StoreOp           op;
  const BookField  *field;
  int               characteristic;
  char             *code;
  char             *before;
  char             *after;
  guint             n;
  char             *person;
  char             *time;

  gint64            place; /*< private >: of its entry */
} BookAfterwards;

/* (element-type BookAfterwards): in the order of the journal. */
GPtrArray *book_afterwards_list (StoreDb            *db,
                                 const BookEvidence *evidence,
                                 GCancellable       *cancellable,
                                 GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void       book_afterwards_free (BookAfterwards     *afterwards);

G_END_DECLS
