/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The changes of a model and what they mean for the evidence: in which state each is, what must be measured again and
 * what is carried over, what was fitted or altered without one, and what a new one may begin from.
 */

#include "book-change-list.h"
#include "book-evidence.h"

G_BEGIN_DECLS

/**
 * InsightChangeState:
 * @INSIGHT_CHANGE_PROPOSED: written down, nobody has agreed yet
 * @INSIGHT_CHANGE_AGREED: agreed, and something of it is not in the book's plan, settings or limits yet
 * @INSIGHT_CHANGE_CARRIED_OUT: agreed, and all of it is
 * @INSIGHT_CHANGE_WITHDRAWN: given up
 */
typedef enum
{
  INSIGHT_CHANGE_PROPOSED,
  INSIGHT_CHANGE_AGREED,
  INSIGHT_CHANGE_CARRIED_OUT,
  INSIGHT_CHANGE_WITHDRAWN,
  INSIGHT_N_CHANGE_STATES
} InsightChangeState;

/**
 * InsightChangeTouchKind:
 * @INSIGHT_TOUCH_AGAIN: depends on what is changed: older readings no longer count
 * @INSIGHT_TOUCH_CARRIED: somebody said by name and with a reason that they do; for safety a second person too
 * @INSIGHT_TOUCH_LACKS_SECOND: said so by one person, but it is about safety: measured again until a second one agrees
 * @INSIGHT_TOUCH_JUDGED_ANEW: only its limits change: the readings stay and are judged by the new ones
 */
typedef enum
{
  INSIGHT_TOUCH_AGAIN,
  INSIGHT_TOUCH_CARRIED,
  INSIGHT_TOUCH_LACKS_SECOND,
  INSIGHT_TOUCH_JUDGED_ANEW
} InsightChangeTouchKind;

/**
 * InsightChangeTouch:
 * @characteristic: key
 * @code: visible key
 * @name: as people call it
 * @klass: safety needs a second person
 * @kind: what becomes of its readings
 * @units: units of the rounds from the prototypes on whose readings count for today's state of design
 * @reason: "" when it is measured again
 * @person: initials of who carries it over
 * @second_person: initials of who agrees
 *
 * One characteristic that a change touches.
 */
typedef struct
{
  gint64                 characteristic;
  const char            *code;
  const char            *name;
  BookClass              klass;
  InsightChangeTouchKind kind;
  guint                  units;
  const char            *reason;
  const char            *person;
  const char            *second_person;
} InsightChangeTouch;

/**
 * InsightChange:
 * @data: as it was written
 * @state: what has become of it
 * @items: index of its first item in the list; @n_items of them
 * @touches: (element-type InsightChangeTouch): characteristics it touches, by code; those about safety first
 * @after_the_fact: it was agreed after a unit with its new revision was built
 * @built: label of the round of that unit, "" without one
 */
typedef struct
{
  const BookChangeListChange *data;
  InsightChangeState          state;
  guint                       items, n_items;
  guint                       issues, n_issues;
  guint                       attachments, n_attachments;
  GArray                     *touches;
  gboolean                    after_the_fact;
  const char                 *built;
} InsightChange;

typedef enum
{
  INSIGHT_SUBJECT_PART,
  INSIGHT_SUBJECT_SETTING,
  INSIGHT_SUBJECT_LIMIT
} InsightSubjectKind;

/**
 * InsightSubject:
 * @kind: what is changed
 * @key: of the part, step or characteristic
 * @number: number of the part or code of the characteristic, "" for a setting
 * @name: of the part, step or characteristic
 * @setting: name of the setting, else ""
 * @revision: key of the revision as it is planned or built last, 0 for none
 * @label: of that revision
 * @next: label that a new revision may get
 * @value: of the setting in force
 * @lower: limit in force, -INFINITY for none
 * @upper: limit in force, INFINITY for none
 * @nominal: NAN for none
 * @unit: of the value or the limits
 * @decimals: of these, -1: as many as needed
 *
 * Something that a change can be about, as it stands today.
 */
typedef struct
{
  InsightSubjectKind kind;
  gint64             key;
  const char        *number;
  const char        *name;
  const char        *setting;
  gint64             revision;
  const char        *label;
  const char        *next;
  double             value;
  double             lower;
  double             upper;
  double             nominal;
  const char        *unit;
  int                decimals;
} InsightSubject;

/**
 * InsightUnexplained:
 * @kind: a revision that was fitted or planned, a setting or a limit that was altered
 * @name: of the part, step or characteristic; @number and @setting as in #InsightSubject
 * @old: revision before, "" for none known; of settings and limits ""
 * @new: the revision; of settings and limits ""
 * @round: label of the first round with it; of settings and limits ""
 * @day: from which a setting or limit holds
 *
 * What no change in the book leads to.
 */
typedef struct
{
  InsightSubjectKind kind;
  gint64             key;
  const char        *number;
  const char        *name;
  const char        *setting;
  const char        *old;
  const char        *new;
  const char        *round;
  BookDay            day;
} InsightUnexplained;

/* A round from which a change can begin. */
typedef struct
{
  gint64      key;
  const char *label;
} InsightChoice;

/**
 * InsightChanges:
 * @list: the changes as written; owned
 * @changes: (element-type InsightChange): in the order of @list
 * @counts: how many are in each state
 * @unexplained: (element-type InsightUnexplained):
 * @subjects: (element-type InsightSubject): parts, then settings, then limits
 * @rounds: (element-type InsightChoice): rounds from which a change can begin: those of which no unit is built yet
 * @last_round: (nullable): label of the newest round
 */
typedef struct
{
  BookChangeList *list;
  GArray         *changes;
  guint           counts[INSIGHT_N_CHANGE_STATES];
  GArray         *unexplained;
  GArray         *subjects;
  GArray         *rounds;
  const char     *last_round;
} InsightChanges;

InsightChanges *insight_changes_new  (BookChangeList       *list,
                                      const BookEvidence   *evidence,
                                      const char           *today) G_GNUC_WARN_UNUSED_RESULT;
void            insight_changes_free (InsightChanges       *changes);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (InsightChanges, insight_changes_free)

int             insight_changes_find (const InsightChanges *changes,
                                      gint64                change);
char           *insight_next_label   (const char           *label) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
