/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-standing.h"

#include <glib/gi18n-lib.h>

/**
 * present_standing_since:
 * @present: where the model stands
 * @from: key of an earlier round
 *
 * What stood at the end of an earlier round, to be read beside the headline when a span of rounds is looked at. The
 * earlier standing is the one of the course: by the rules of today, not what was known then.
 *
 * Returns: (transfer full) (nullable): a sentence; %NULL when @from is not an earlier round of the course
 */
char *
present_standing_since (const PresentStanding *present, gint64 from)
{
  const GPtrArray *course = present->data->course;

  for (guint i = 0; i < course->len; i++)
    {
      const InsightCoursePoint *point = g_ptr_array_index (course, i);

      if (point->round != from || from == present->data->round)
        continue;
      if (point->all.percent < 0)
        return g_strdup_printf (_("At the end of round %s nothing was asked for yet."), point->label);
      return g_strdup_printf (_("At the end of round %s: %u of %u met, evidence gathered %d of 100."), point->label,
                              point->all.met, point->all.total, point->all.percent);
    }
  return NULL;
}
