/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What was said about the gates of a model: opinions, waivers and decisions, those that were withdrawn too, with who stands
 * for them and who entered them.
 *
 * Texts live as long as the list and are never %NULL; a key is 0 where there is none; a date is ISO 8601, "" for none.
 */

#include "book-choices.h"
#include "book-fields.h"
#include "book.h"

G_BEGIN_DECLS

typedef struct
{
  gint64      id;
  int         position;
  const char *name;
} BookGateListGate;

/**
 * BookGateDeed:
 * @record: sign-off, waiver or decision
 * @gate: index
 * @criterion: key, of a waiver
 * @code: visible key of the criterion, of a waiver
 * @no: running number
 * @opinion: of a sign-off; 0 when it withdraws
 * @verdict: of a decision; 0 when it withdraws
 * @at_most: units; 0: no such bound
 * @conditions: in words
 * @reason: in words
 * @person: initials of who stands for it
 * @name: of the same, "" when not kept
 * @date: of the deed
 * @until: of a waiver
 * @evidence: SHA-256 of what was frozen, of a decision
 * @withdraws: key of the earlier one
 * @withdrawn: index of the later one that withdraws it; -1: none
 * @superseded: index of a later opinion of the same person, or decision about the same gate; -1: none
 * @entered_by: initials of who entered it, "" for nobody by name
 * @entered: moment of its entry
 */
typedef struct
{
  BookRecordId        record;
  gint64              id;
  int                 gate;
  gint64              criterion;
  const char         *code;
  int                 no;
  BookOpinion         opinion;
  BookDecisionVerdict verdict;
  int                 at_most;
  const char         *conditions;
  const char         *reason;
  const char         *person;
  const char         *name;
  const char         *date;
  const char         *until;
  const char         *evidence;
  gint64              withdraws;
  int                 withdrawn;
  int                 superseded;
  const char         *entered_by;
  const char         *entered;
} BookGateDeed;

/* @gates in their order; @deeds by kind, gate, date, number. */
typedef struct
{
  BookGateListGate *gates;
  guint             n_gates;
  BookGateDeed     *deeds;
  guint             n_deeds;

  GStringChunk     *strings; /*< private >*/
} BookGateList;

BookGateList       *book_gate_list_read  (StoreDb            *db,
                                          gint64              model,
                                          GError            **error) G_GNUC_WARN_UNUSED_RESULT;
void                book_gate_list_free  (BookGateList       *list);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookGateList, book_gate_list_free)

/* What a decision froze, proven against its digest; NULL: nothing was frozen, or with @error it cannot be read. */
GBytes             *book_gate_deed_evidence (StoreDb            *db,
                                             const BookGateDeed *deed,
                                             GError            **error) G_GNUC_WARN_UNUSED_RESULT;
/* The decision that stands about a gate (an index of gates); %NULL: none. */
const BookGateDeed *book_gate_list_decision (const BookGateList *list,
                                             guint               gate);
/* Whether it stands: neither withdrawn nor withdrawing, nor said anew. */
gboolean            book_gate_deed_stands   (const BookGateDeed *deed);

G_END_DECLS
