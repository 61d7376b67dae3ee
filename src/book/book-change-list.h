/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The changes of a model as people wrote them, with the names of what they refer to. What follows from them for the
 * evidence is asked of the arrays of book-evidence.h; the two are read in one transaction and meet by keys.
 *
 * Texts live as long as the list and are never %NULL; a key is 0 where there is none; a date is ISO 8601, "" for none.
 */

#include "book.h"

G_BEGIN_DECLS

/* One old-to-new. @carried_out: the new revision is planned or built, the setting or limit is written by the change. */
typedef struct
{
  gint64      id;
  int         change; /* index */
  int         no;
  gint64      part;
  gint64      step;
  gint64      characteristic;
  gint64      old_revision;
  gint64      new_revision;
  const char *number; /* of the part, or code of the characteristic, or position of the step */
  const char *name;   /* of the part, characteristic or step */
  const char *setting;
  const char *old_label; /* of @old_revision */
  const char *new_label; /* of @new_revision, else the one that carrying out will make */
  const char *old;       /* in words */
  const char *new;
  double      value;     /* new value of the setting; NAN for none */
  double      nominal;   /* new limits; NAN for none */
  double      lower;
  double      upper;
  const char *unit;      /* of the setting or characteristic */
  int         decimals;  /* of the characteristic; -1: as many as needed */
  gboolean    carried_out;
} BookChangeListItem;

typedef struct
{
  int         change; /* index */
  gint64      issue;
  int         no;
  const char *title;
} BookChangeListIssue;

/* What somebody said about a characteristic that the change touches. */
typedef struct
{
  int         change; /* index */
  gint64      characteristic;
  gboolean    carried_over; /* else to be measured again */
  const char *reason;
  const char *person;
  const char *second_person;
} BookChangeListEffect;

/* A drawing, a mail, a picture. */
typedef struct
{
  int         change; /* index */
  gint64      id;
  const char *name;
  const char *mime_type;
  const char *sha256; /* "" for a link */
  const char *link;
} BookChangeListAttachment;

typedef struct
{
  gint64      id;
  int         no;
  const char *title;
  const char *reason;
  const char *expected_effect;
  const char *proposed_by;
  const char *proposed_on;
  const char *entered_by;
  const char *agreed_by;
  const char *agreed_on;
  gint64      from_round;
  const char *from_label;
  const char *from_serial;
  const char *withdrawn;
  const char *withdrawn_reason;
  const char *carried_out;
} BookChangeListChange;

#define BOOK_CHANGE_LIST_TABLES(X)               \
  X (BookChangeListChange, changes)              \
  X (BookChangeListItem, items)                  \
  X (BookChangeListIssue, issues)                \
  X (BookChangeListEffect, effects)              \
  X (BookChangeListAttachment, attachments)

/* Changes by their number; the rest by change, then in its own order. */
typedef struct
{
  GStringChunk *strings;

  /* For each table TYPE *NAME and guint n_NAME. */
#define BOOK_CHANGE_LIST_MEMBER(type, name) type *name; guint n_##name;
  BOOK_CHANGE_LIST_TABLES (BOOK_CHANGE_LIST_MEMBER)
#undef BOOK_CHANGE_LIST_MEMBER
} BookChangeList;

BookChangeList *book_change_list_read (StoreDb        *db,
                                       gint64          model,
                                       GError        **error) G_GNUC_WARN_UNUSED_RESULT;
BookChangeList *book_change_list_new  (void) G_GNUC_WARN_UNUSED_RESULT;
void            book_change_list_free (BookChangeList *list);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookChangeList, book_change_list_free)

G_END_DECLS
