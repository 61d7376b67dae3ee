/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * All records of one model that evidence is made from, as plain arrays: read in one go, in one read transaction, so
 * that everything that is computed from them speaks of one state of the book.
 *
 * A reference is the index of the record in its array, -1 for none; a name ending in `_id` is a key. Strings live as
 * long as the whole and are never %NULL. A day is counted from 0001-01-01 as day 1; 0 is 'not known', which in a
 * `from` means 'always'. A real that is empty in the book is NAN, or an infinity for a limit.
 */

#include <gio/gio.h>

#include "book-choices.h"
#include "book-day.h"

G_BEGIN_DECLS

typedef struct _StoreDb StoreDb;
typedef struct _BookEvidence BookEvidence;

typedef struct
{
  gint64      id;
  const char *initials;
  BookRole    role;
} BookEvidencePerson;

typedef struct
{
  gint64      id;
  const char *name;
} BookEvidenceSupplier;

typedef struct
{
  gint64      id;
  const char *name;
  int         machines;
  double      people;
  double      hours_week; /* NAN: the shop's working week */
  double      uptime;     /* share of the hours */
  double      share_free; /* share of the hours that new models may take */
} BookEvidenceBench;

/* In order: opened (else the first date known), then as entered. */
typedef struct
{
  gint64           id;
  const char      *label;
  const char      *question;
  BookRoundKind    kind;
  BookRoundVerdict verdict; /* 0: none yet */
  int              planned_units;
  BookDay          opened;
  BookDay          design_fixed;
  BookDay          parts_ready;
  BookDay          built;
  BookDay          tested;
  BookDay          decided;
  BookDay          planned_design_fixed;
  BookDay          planned_parts_ready;
  BookDay          planned_built;
  BookDay          planned_tested;
  BookDay          planned_decided;
  double           cost; /* NAN: not written down */
} BookEvidenceRound;

/* By round, no. */
typedef struct
{
  gint64         id;
  int            round;
  int            no;
  BookWaitReason reason;
  const char    *what;
  int            supplier;
  BookDay        from;
  BookDay        to; /* 0: lasts */
} BookEvidenceWait;

/* Parts that a round of the model plans, a unit holds, or a characteristic depends on. */
typedef struct
{
  gint64      id;
  const char *number;
  const char *name;
  BookSource  source;
  int         supplier;
  double      lead_days; /* NAN: not known */
  double      quantity;  /* a unit */
  double      price;     /* of one; NAN: not known */
} BookEvidencePart;

typedef struct
{
  gint64            id;
  int               part;
  const char       *label;
  BookRevisionState state;
  BookDay           date;
} BookEvidenceRevision;

/* A delivery of a part, or a batch of a step: the other one is -1. */
typedef struct
{
  gint64         id;
  int            part;
  int            step;
  const char    *number;
  BookLotVerdict verdict; /* 0: none */
  int            supplier;
  BookDay        received;
  double         quantity; /* NAN: not written down */
} BookEvidenceLot;

typedef struct
{
  gint64       id;
  int          position;
  const char  *name;
  BookStepKind kind;
  int          bench;
  int          batch; /* pieces set up for, or sent out, at once; 0: not said */
  double       setup_min;
  double       cycle_min;
  double       rework_min;
  double       queue_days; /* waiting before it, or at a supplier */
  double       price;      /* of a piece at an outside step */
} BookEvidenceStep;

/* Pieces counted at a step before units have serials. By step's position, day, no. */
typedef struct
{
  gint64  id;
  int     step;
  int     round;
  int     no;
  BookDay day;
  int     n_in;
  int     good_first;
  int     reworked_good;
  int     waiting;
  int     scrapped;
  double  minutes; /* NAN: not written down, as the next two */
  double  setup_min;
  double  rework_min;
  gint64  person; /* key of who counted */
} BookEvidenceTally;

/* What took pieces away from good first. By tally. */
typedef struct
{
  int tally;
  int issue;
  int units;
} BookEvidenceTallyLoss;

/* By step, name, from. */
typedef struct
{
  int         step;
  const char *name;
  BookDay     from;
  double      value;
  int         change;
  const char *unit;
} BookEvidenceSetting;

/* The plan of a round, in the order of entry: a part or a step. */
typedef struct
{
  int         round;
  int         part;
  int         step;
  int         revision;
  int         lot;
  int         units; /* 0: all */
  const char *first_serial;
  gint64      id;
} BookEvidencePlan;

typedef struct
{
  gint64                 id;
  const char            *code;
  const char            *name;
  const char            *unit;
  BookCharacteristicKind kind;
  BookClass              klass;
  BookPerUnit            per_unit;
  BookShape              shape;
  int                    decimals;
  gboolean               fitted;
  gboolean               destructive;
  int                    step; /* the deciding one */
  int                    gauge;
  guint                  first_reading; /* its readings: [first_reading, end_reading) */
  guint                  end_reading;
  guint                  trials;      /* of gauge studies of it */
  guint                  bad_trials;  /* of these on pieces known to be bad */
} BookEvidenceCharacteristic;

/* By characteristic, from. A row that was changed stands once for each saying that was narrower, the present one last. */
typedef struct
{
  gint64  id;
  int     characteristic;
  BookDay from;
  double  nominal;
  double  lower;
  double  upper;
  int     change;
  BookDay entered; /* of one that is wider than one before it: when it was last written; else 0 */
} BookEvidenceLimit;

typedef struct
{
  int characteristic;
  int part;
  int step;
} BookEvidenceDepends;

/* By round, then serial with digits read as numbers: the order of build. */
typedef struct
{
  gint64      id;
  int         round;
  const char *serial;
  int         part; /* -1: the product */
  BookDay     assembled;
  int         assembled_at; /* bench */
} BookEvidenceUnit;

/* By unit. */
typedef struct
{
  int    unit;
  int    part;
  int    step;
  int    revision;
  int    lot;
  gint64 id;
} BookEvidenceUnitPart;

/* By unit, no. */
typedef struct
{
  int           unit;
  int           no;
  BookDay       day;
  int           second; /* of the day; -1: not known */
  int           step;
  BookEventKind kind;
  int           issue;
  int           person;
  const char   *reason;
  double        minutes; /* NAN: not written down */
  int           back_to; /* step that a unit sent back goes to; -1: not said */
} BookEvidenceEvent;

/* By characteristic, unit, attempt, n. */
typedef struct
{
  gint64  id;
  double  value;
  guint32 unit;
  BookDay day;
  gint32  second; /* of the day; -1: not known */
  guint16 attempt;
  guint16 n;
  gint16  step;   /* -1: the deciding one */
  gint16  gauge;  /* -1: the usual one */
  guint8  mark;   /* BookMark */
  guint8  voided;
} BookEvidenceReading;

typedef struct
{
  gint64      id;
  const char *name;
  double      resolution;
} BookEvidenceGauge;

/* By gauge, day. */
typedef struct
{
  int         gauge;
  BookDay     day;
  BookDay     due; /* 0: none */
  gboolean    in_order;
  int         excused_by; /* who lets the readings before it count although it was not in order; -1: nobody */
  BookDay     excused_on;
  const char *reason;
} BookEvidenceCalibration;

/* A measurement in a gauge study. By characteristic, gauge, day. */
typedef struct
{
  int         characteristic;
  int         gauge;
  gint64      person_id;
  const char *piece;
  int         trial;
  BookDay     day;
  double      value;
  gint64      id;
} BookEvidenceTrial;

/* A check of a piece known to be bad. */
typedef struct
{
  int         characteristic;
  gint64      person_id;
  BookDay     day;
  gboolean    caught;
  int         gauge;
  const char *piece;
  int         trial;
} BookEvidenceBadTrial;

typedef struct
{
  gint64      id;
  int         position;
  const char *name;
} BookEvidenceGate;

/* By gate, code. */
typedef struct
{
  gint64            id;
  const char       *code;
  int               gate;
  BookCriterionKind kind;
  int               characteristic;
  int               issue;
  gboolean          blocking;
  gboolean          strict;      /* what the book says, else by class */
  BookCountsFrom    counts_from; /* what the book says, else by class and kind */
  BookClass         klass;       /* of what it is about, else function */
  const char       *not_looked_at;
} BookEvidenceCriterion;

/* By criterion, from. */
typedef struct
{
  gint64      id;
  int         criterion;
  BookDay     from;
  double      share;
  double      target;
  double      confidence;
  int         plan_units;    /* 0: no plan */
  int         plan_failures;
  int         person;
  double      cycles; /* of a life; NAN: not said, as the next three */
  double      load;
  double      shape_low;
  double      shape_high;
} BookEvidenceTerm;

/**
 * BookBoundaryKind:
 * @BOOK_BOUNDARY_TERM: a term with a plan was last written
 * @BOOK_BOUNDARY_LIMIT: a limit wider than one before it was last written
 * @BOOK_BOUNDARY_ROUND: a round was decided: when that was entered on the day decided, else the end of that day; not
 *   before the round was entered
 */
typedef enum
{
  BOOK_BOUNDARY_TERM,
  BOOK_BOUNDARY_LIMIT,
  BOOK_BOUNDARY_ROUND
} BookBoundaryKind;

/*
 * A point in the journal, in keys of one origin, which run from @low to @high: those below @before were given out before
 * it, those from @first on after it. A key in between belongs to the same action.
 */
typedef struct
{
  BookBoundaryKind kind;
  int              record; /* index of the term, limit or round */
  gint64           low;
  gint64           high;
  gint64           before;
  gint64           first;
} BookEvidenceBoundary;

typedef struct
{
  int         criterion;
  BookDay     day;
  BookDay     until; /* 0: for good */
  int         person;
  const char *reason;
} BookEvidenceWaiver;

typedef struct
{
  gint64      id;
  int         no;
  const char *title;
  BookDay     day;       /* agreed, else proposed */
  BookDay     withdrawn; /* 0: not */
  BookDay     proposed;
  BookDay     agreed;
  const char *reason;
  const char *withdrawn_reason;
  const char *expected;    /* effect */
  const char *from_serial; /* the first unit with it, where a round is split */
  int         proposed_by;
  int         agreed_by;
  int         from_round;
} BookEvidenceChange;

/* What a change takes from old to new: revisions of a part, a setting of a step or the limits of a characteristic. */
typedef struct
{
  int         change;
  int         part;
  int         old_revision;
  int         new_revision;
  int         step;
  int         characteristic;
  const char *setting;
  const char *old; /* in words */
  const char *now; /* likewise: the new */
  double      value; /* the new one of a setting; NAN where it is told in words alone */
  double      lower; /* new limits; NAN for none, or told in words */
  double      upper;
} BookEvidenceItem;

/* A carrying over of a characteristic: effects that say 'measure again' are not here. */
typedef struct
{
  int         change;
  int         characteristic;
  const char *reason;
  int         person;
  int         second_person;
} BookEvidenceCarry;

typedef struct
{
  int change;
  int issue;
} BookEvidenceChangeIssue;

typedef struct
{
  gint64           id;
  int              no;
  const char      *title;
  BookClass        klass;
  int              found_round;
  BookDay          found;
  int              seen_by;
  gboolean         seen_in_life_test;
  double           tolerated;
  BookDay          closed;
  BookIssueOutcome outcome; /* 0: none */
  int              outcome_by;
  int              found_step;
  double           seen_load;   /* at which it appeared; NAN */
  double           seen_cycles; /* likewise */
  const char      *cause;
  BookCauseBasis   cause_basis; /* 0: none */
  int              owner;
  BookDay          contained;
  BookDay          cause_known;
} BookEvidenceIssue;

/* By issue, no. */
typedef struct
{
  int             issue;
  int             unit; /* -1: a lot, or counts */
  BookDisposition disposition; /* 0: none */
  BookDay         day; /* decided on */
  gboolean        excused;
  int             person;
  const char     *reason;
  gint64          id;
  int             no;
  int             lot;       /* -1: none */
  int             affected;  /* of units without serials; 0 of 0: not counted */
  int             inspected;
  int             found_at;  /* step */
  int             caused_at; /* step */
  gboolean        in_field;
} BookEvidenceFinding;

/* By day, no: the first test of a unit comes first. */
typedef struct
{
  gint64      id;
  int         no;
  BookDay     day;
  int         unit; /* -1: of another model */
  int         characteristic;
  double      load; /* NAN: not written down */
  double      cycles;
  BookLifeEnd ended;
  int         issue; /* that ended it */
} BookEvidenceLifeTest;

/* What a unit is tested for, by the plan of its round. */
typedef struct
{
  int         round;
  const char *serial;
  int         unit; /* -1: not built yet */
  int         characteristic;
  double      load;   /* NAN: not said */
  double      cycles; /* likewise */
  gboolean    destroyed;
  gboolean    lent;
} BookEvidenceTest;

typedef struct
{
  gint64            id;
  int               no;
  const char       *title;
  BookDocumentState state;
  BookDay           day;
} BookEvidenceDocument;

typedef struct
{
  gint64      id;
  int         no;
  const char *what;
  int         characteristic;
  gboolean    has_document;
} BookEvidenceHazard;

/* The opinions that stand: those withdrawn by a later one are not here. */
typedef struct
{
  int         gate;
  int         person;
  BookOpinion opinion;
  BookDay     day;
} BookEvidenceSignoff;

#define BOOK_EVIDENCE_TABLES(X)                          \
  X (BookEvidencePerson, persons)                        \
  X (BookEvidenceSupplier, suppliers)                    \
  X (BookEvidenceBench, benches)                         \
  X (BookEvidenceRound, rounds)                          \
  X (BookEvidenceWait, waits)                            \
  X (BookEvidencePart, parts)                            \
  X (BookEvidenceRevision, revisions)                    \
  X (BookEvidenceLot, lots)                              \
  X (BookEvidenceStep, steps)                            \
  X (BookEvidenceTally, tallies)                         \
  X (BookEvidenceTallyLoss, tally_losses)                \
  X (BookEvidenceSetting, settings)                      \
  X (BookEvidencePlan, plans)                            \
  X (BookEvidenceCharacteristic, characteristics)        \
  X (BookEvidenceLimit, limits)                          \
  X (BookEvidenceDepends, depends)                       \
  X (BookEvidenceUnit, units)                            \
  X (BookEvidenceUnitPart, unit_parts)                   \
  X (BookEvidenceEvent, events)                          \
  X (BookEvidenceReading, readings)                      \
  X (BookEvidenceGauge, gauges)                          \
  X (BookEvidenceCalibration, calibrations)              \
  X (BookEvidenceTrial, trials)                          \
  X (BookEvidenceBadTrial, bad_trials)                   \
  X (BookEvidenceGate, gates)                            \
  X (BookEvidenceCriterion, criteria)                    \
  X (BookEvidenceTerm, terms)                            \
  X (BookEvidenceBoundary, boundaries)                   \
  X (BookEvidenceWaiver, waivers)                        \
  X (BookEvidenceChange, changes)                        \
  X (BookEvidenceItem, items)                            \
  X (BookEvidenceCarry, carries)                         \
  X (BookEvidenceChangeIssue, change_issues)             \
  X (BookEvidenceIssue, issues)                          \
  X (BookEvidenceFinding, findings)                      \
  X (BookEvidenceLifeTest, life_tests)                   \
  X (BookEvidenceTest, tests)                            \
  X (BookEvidenceDocument, documents)                    \
  X (BookEvidenceHazard, hazards)                        \
  X (BookEvidenceSignoff, signoffs)                      \
  X (BookDay, holidays)

struct _BookEvidence
{
  gint64        model_id;
  const char   *code;
  const char   *name;
  const char   *caution;        /* what the model adds to the caution; "": nothing */
  double        monthly_demand;
  BookDay       target_release; /* 0: none */
  double        hourly_cost;    /* of an hour at a bench; NAN: not set */
  double        week[7];        /* working hours, Monday first */
  GStringChunk *strings;

  /* For each table TYPE *NAME and guint n_NAME. */
#define BOOK_EVIDENCE_MEMBER(type, name) type *name; guint n_##name;
  BOOK_EVIDENCE_TABLES (BOOK_EVIDENCE_MEMBER)
#undef BOOK_EVIDENCE_MEMBER
};

/* Index of the row with @key among rows of @size bytes that hold theirs at @offset; -1: none. */
static inline int
book_evidence_index (const void *rows, guint n, gsize size, gsize offset, gint64 key)
{
  for (guint i = 0; i < n; i++)
    if (*(const gint64 *) (gconstpointer) ((const char *) rows + i * size + offset) == key)
      return (int) i;
  return -1;
}

/* Index of the row with @key in a table: book_evidence_find (e, rounds, id); -1: none. Looks at one after the other: where many
 * are looked for, a hash table serves better. */
#define book_evidence_find(e, table, key) \
  book_evidence_index ((e)->table, (e)->n_##table, sizeof *(e)->table, __builtin_offsetof (__typeof__ (*(e)->table), id), key)

/* Whether the row with @key was made before, or after, what @boundary stands for. */
static inline gboolean
book_boundary_is_before (const BookEvidenceBoundary *boundary, gint64 key)
{
  return key >= boundary->low && key <= boundary->high && key < boundary->before;
}

static inline gboolean
book_boundary_is_after (const BookEvidenceBoundary *boundary, gint64 key)
{
  return key >= boundary->first && key <= boundary->high;
}

/**
 * BookEvidenceParts:
 * @BOOK_EVIDENCE_ROUNDS: the model, what the shop shares, rounds and waits
 * @BOOK_EVIDENCE_RECORDS: all records but the readings
 * @BOOK_EVIDENCE_READINGS: the readings too
 * @BOOK_EVIDENCE_ENTRIES: the records, and what the journal knows of the order of entry: boundaries, and limits as they
 *   stood before
 * @BOOK_EVIDENCE_ALL: everything
 */
typedef enum
{
  BOOK_EVIDENCE_ROUNDS = 1 << 0,
  BOOK_EVIDENCE_RECORDS = BOOK_EVIDENCE_ROUNDS | 1 << 1,
  BOOK_EVIDENCE_READINGS = BOOK_EVIDENCE_RECORDS | 1 << 2,
  BOOK_EVIDENCE_ENTRIES = BOOK_EVIDENCE_RECORDS | 1 << 3,
  BOOK_EVIDENCE_ALL = BOOK_EVIDENCE_READINGS | BOOK_EVIDENCE_ENTRIES
} BookEvidenceParts;

BookEvidence *book_evidence_load_parts    (StoreDb    *db,
                                           gint64      model,
                                           BookEvidenceParts parts,
                                           GError    **error) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray    *book_evidence_load_others   (StoreDb    *db,
                                           gint64      model,
                                           GCancellable *cancellable,
                                           GError    **error) G_GNUC_WARN_UNUSED_RESULT;
BookEvidence *book_evidence_load          (StoreDb    *db,
                                           gint64      model,
                                           GError    **error) G_GNUC_WARN_UNUSED_RESULT;
BookEvidence *book_evidence_new           (void) G_GNUC_WARN_UNUSED_RESULT;
void          book_evidence_free          (BookEvidence *evidence);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookEvidence, book_evidence_free)


G_END_DECLS
