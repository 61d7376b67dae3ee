/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Figures as text. A confidence is rounded down and a failing share up, so that no rounding makes a claim
 * stronger than it is. The command line writes a point and an ASCII minus whatever the locale; the window, and
 * a verb that makes paper, asks once, at its start, for the locale's decimal sign and a true minus.
 */

#include <glib.h>

G_BEGIN_DECLS

void  present_number_set_local (gboolean    local);
char *present_number           (double      value,
                                int         decimals) G_GNUC_WARN_UNUSED_RESULT;
char *present_value            (double      value,
                                int         decimals,
                                const char *unit) G_GNUC_WARN_UNUSED_RESULT;
char *present_small_value    (double      value,
                                const char *unit) G_GNUC_WARN_UNUSED_RESULT;
char *present_interval         (double      low,
                                double      high,
                                int         decimals,
                                const char *unit) G_GNUC_WARN_UNUSED_RESULT;
char *present_limits           (double      lower,
                                double      upper,
                                int         decimals,
                                const char *unit) G_GNUC_WARN_UNUSED_RESULT;
char *present_confidence       (double      reached,
                                double      wanted) G_GNUC_WARN_UNUSED_RESULT;
void  present_confidence_pair (double     one,
                                double      other,
                                char      **one_text,
                                char      **other_text);
char *present_wanted           (double      wanted) G_GNUC_WARN_UNUSED_RESULT;
char *present_failing_share    (double      share) G_GNUC_WARN_UNUSED_RESULT;
char *present_percent          (double      share,
                                int         decimals) G_GNUC_WARN_UNUSED_RESULT;
char *present_percent_range    (double      low,
                                double      high) G_GNUC_WARN_UNUSED_RESULT;
char *present_share_in         (double      share) G_GNUC_WARN_UNUSED_RESULT;
char *present_fails_in         (double      tolerated) G_GNUC_WARN_UNUSED_RESULT;
void  present_chance           (double      chance,
                                guint      *times,
                                guint      *in);

G_END_DECLS
