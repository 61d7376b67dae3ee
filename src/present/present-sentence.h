/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Sentences with named places, as tables hold them. A place is `{count0}`, `{name1}`, `{names}` …: the kind of the
 * argument and its index. Translators see the whole sentence and can put the places in any order.
 *
 *   {nameI}        a name; 'none' when it is empty
 *   {names}        all names with commas between; of a long list the first, and how many there are
 *   {triples}      names by threes as 'a (b: c)'
 *   {countI}       a count
 *   {valueI}       a number with the unit and decimals of what is spoken about
 *   {numberI}      a number as it is, without a unit
 *   {smallI}       a number with the unit and two digits
 *   {limitsI}      the numbers I and I + 1 as limits
 *   {confidenceI}  a number as a percentage rounded down
 *   {apartI}       the number I of the first two, as percentages rounded down with the decimals that tell them apart
 *   {wantedI}      a number as a percentage rounded up, for a confidence asked for
 *   {shareI}       a number as '95 in 100'
 *   {failsI}       a number as '1 in 20'
 */

#include <glib.h>

G_BEGIN_DECLS

/* Marks a pair for translation inside a table; po/ knows the word. */
#define N_PLURAL(one, many) one, many

typedef enum
{
  PRESENT_ALWAYS,
  PRESENT_WITH_COUNT, /* its count is above 0 */
  PRESENT_WITH_NAMES, /* there is a name */
  PRESENT_NO_NAMES,   /* there is none */
  PRESENT_WITH_NAME1, /* the second name is not empty */
  PRESENT_NO_NAME1,   /* it is */
  PRESENT_APART,      /* the first two numbers can be told apart as percentages */
  PRESENT_NOT_APART   /* they cannot */
} PresentWhen;

/**
 * PresentSentence:
 * @one: the sentence; of a pair that for one; %NULL ends a list
 * @many: of a pair that for several, else %NULL
 * @count: index of the count that chooses
 * @when: whether it is said
 */
typedef struct
{
  const char *one;
  const char *many;
  guint       count;
  PresentWhen when;
} PresentSentence;

#define PRESENT_MOST_SENTENCES 3

/* What fills the places. @names may be %NULL. @decimals -1: as many as needed. */
typedef struct
{
  const char * const *names;
  const gint64       *counts;
  const double       *numbers;
  guint               n_counts;
  guint               n_numbers;
  const char         *unit;
  int                 decimals;
} PresentArguments;

char *present_sentences (const PresentSentence  *sentences,
                         const PresentArguments *arguments) G_GNUC_WARN_UNUSED_RESULT;
char *present_names     (const char * const     *names) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
