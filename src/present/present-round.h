/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The rounds of a model in words: one row each, its story, and its answer in figures.
 */

#include "insight-round.h"

G_BEGIN_DECLS

/**
 * PresentRoundRow:
 * @index: of the round in the answer
 * @id: its key
 * @label: 'P3'
 * @kind: 'prototype'
 * @units: '8 of 10': built of planned
 * @state: 'built since 2026-07-09'
 * @days: working days, "" where it was not opened
 * @verdict: 'another round', ""
 * @cost: "" where none is written down
 * @sign: the state as a shape
 * @words: all of it in one sentence, for a screen reader
 */
typedef struct
{
  guint       index;
  gint64      id;
  const char *label;
  char       *kind;
  char       *units;
  char       *state;
  char       *days;
  char       *verdict;
  char       *cost;
  const char *sign;
  char       *words;
} PresentRoundRow;

GPtrArray *present_round_rows     (const InsightRounds      *rounds) G_GNUC_WARN_UNUSED_RESULT;
char      *present_rounds_headline (const InsightRounds     *rounds) G_GNUC_WARN_UNUSED_RESULT;
/* All that is said, to see whether two answers say the same. */
char      *present_rounds_words   (const InsightRounds      *rounds) G_GNUC_WARN_UNUSED_RESULT;

/* Whole sentences: what it was for, where it stands, what ran beside it. */
GPtrArray *present_round_story    (const InsightRound       *round) G_GNUC_WARN_UNUSED_RESULT;
const char *present_round_date    (guint                     date);
char      *present_round_part     (const InsightRoundPart   *part) G_GNUC_WARN_UNUSED_RESULT;
char      *present_round_part_units (const InsightRoundPart *part) G_GNUC_WARN_UNUSED_RESULT;
char      *present_round_wait     (const InsightRoundWait   *wait) G_GNUC_WARN_UNUSED_RESULT;
char      *present_round_test     (const InsightRoundTest   *test) G_GNUC_WARN_UNUSED_RESULT;
/* (element-type utf8): what the round answered. */
GPtrArray *present_round_answer   (const InsightRoundAnswer *answer) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
