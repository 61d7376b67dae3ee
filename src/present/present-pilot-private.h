/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Notes of a pilot's and a rate's answer, each with the code that scripts know it by.
 */

#include "present-pilot.h"

G_BEGIN_DECLS

/* @names: (nullable); @sentence is taken over. */
void present_note_add  (GPtrArray   *notes,
                        GPtrArray   *facts,
                        const char  *code,
                        guint        count,
                        char *const *names,
                        char        *sentence);
void present_fact_free (gpointer     fact);

gboolean present_rate_is_pace (const InsightRate *rate,
                               guint              line);

G_END_DECLS
