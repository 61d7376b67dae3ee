/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One round opened: its question and dates, the deeds that are open to it now, what it can show or what it answered, what
 * goes in, what it waits for, which unit is for which test, and its units. An answer of the book is written into what
 * stands there, so that an open form and the keyboard stay.
 */

#include <gtk/gtk.h>

#include "page.h"
#include "rounds-answer.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_ROUND_DETAIL (fettle_round_detail_get_type ())
G_DECLARE_FINAL_TYPE (FettleRoundDetail, fettle_round_detail, FETTLE, ROUND_DETAIL, GtkWidget)

/**
 * FettleRoundDeed:
 * @FETTLE_ROUND_EDIT: its own fields, also dates that were forgotten
 * @FETTLE_ROUND_PART: one more row of what goes in
 * @FETTLE_ROUND_REACH: the next date is reached today
 * @FETTLE_ROUND_REACH_ON: it was reached on another day
 * @FETTLE_ROUND_WAIT: it waits for something
 * @FETTLE_ROUND_END_WAIT: the oldest wait ended today
 * @FETTLE_ROUND_DECIDE: the verdict, with what it cost
 */
typedef enum
{
  FETTLE_ROUND_EDIT,
  FETTLE_ROUND_PART,
  FETTLE_ROUND_REACH,
  FETTLE_ROUND_REACH_ON,
  FETTLE_ROUND_WAIT,
  FETTLE_ROUND_END_WAIT,
  FETTLE_ROUND_DECIDE,
  FETTLE_N_ROUND_DEEDS
} FettleRoundDeed;

/* Their names in actions: win.on-round::reach. */
extern const char *const fettle_round_deeds[FETTLE_N_ROUND_DEEDS];

GtkWidget *fettle_round_detail_new    (FettleSitting      *sitting,
                                       gint64              model,
                                       FettleRoundsAnswer *answer,
                                       gint64              round) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_round_detail_take   (FettleRoundDetail  *self,
                                       FettleRoundsAnswer *answer);
void       fettle_round_detail_do     (FettleRoundDetail  *self,
                                       FettleRoundDeed     deed);

G_END_DECLS
