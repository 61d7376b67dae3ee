/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Which comparison a call asks for: options that several verbs share.
 */

#include "batch-call.h"
#include "book-evidence.h"
#include "present-compare.h"

G_BEGIN_DECLS

/* Labels of rounds and groups, number of a part or name of a step; %NULL what was not given. */
typedef struct
{
  char *from;
  char *to;
  char *round;
  char *by;
  char *old_label;
  char *new_label;
} BatchCompareOptions;

/* Rows of a verb's options, filled into @given, a static struct. */
#define BATCH_COMPARE_ENTRIES(given)                                                                                          \
  { "from", 0, 0, G_OPTION_ARG_STRING, &(given).from, N_("The earlier round"), N_("ROUND") },                                 \
  { "to", 0, 0, G_OPTION_ARG_STRING, &(given).to, N_("The later round"), N_("ROUND") },                                       \
  { "round", 0, 0, G_OPTION_ARG_STRING, &(given).round, N_("The round whose units make two groups"), N_("ROUND") },           \
  { "by", 0, 0, G_OPTION_ARG_STRING, &(given).by, N_("Part whose revisions, else lots, divide it; or a step with lots"), N_("PART") }, \
  { "old", 0, 0, G_OPTION_ARG_STRING, &(given).old_label, N_("Revision or lot of the first group, of more than two"), N_("LABEL") }, \
  { "new", 0, 0, G_OPTION_ARG_STRING, &(given).new_label, N_("Revision or lot of the second group"), N_("LABEL") }

gboolean           batch_compare_check (BatchCall                 *call,
                                        const BatchCompareOptions *given,
                                        BatchStatus               *status) G_GNUC_WARN_UNUSED_RESULT;
PresentComparison *batch_compare       (BatchCall                 *call,
                                        const BookEvidence        *evidence,
                                        const BatchCompareOptions *given,
                                        BatchStatus               *status) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
