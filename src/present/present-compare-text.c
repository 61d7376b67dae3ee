/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A comparison for a terminal. */

#include "config.h"

#include "present-compare.h"

#include "present-text.h"

#include <glib/gi18n-lib.h>

static void
append_change (GString *out, const PresentCompareChange *change, guint width)
{
  present_text_add (out, change->line_by, width, "      ", "        ");
  if (*change->reason != '\0')
    {
      g_autofree char *reason = g_strdup_printf (_("Reason: %s"), change->reason);

      present_text_add (out, reason, width, "        ", "        ");
    }
  if (*change->expected != '\0')
    {
      g_autofree char *expected = g_strdup_printf (_("Expected: %s"), change->expected);

      present_text_add (out, expected, width, "        ", "        ");
    }
  for (guint i = 0; i < change->remarks->len; i++)
    present_text_add (out, change->remarks->pdata[i], width, "        - ", "          ");
}

static void
append_differences (GString *out, const PresentComparison *present, guint width)
{
  if (present->differences->len == 0)
    return;
  g_string_append_printf (out, "\n%s\n", _("What differs"));
  for (guint i = 0; i < present->differences->len; i++)
    {
      const PresentDifference *difference = present->differences->pdata[i];
      /* Translators: what, old, new */
      g_autofree char *line = g_strdup_printf (_("%s: %s → %s"), difference->what, difference->before, difference->after);

      if (difference->first)
        present_text_add (out, difference->group, width, "", "  ");
      present_text_add (out, line, width, "  ", "    ");
      for (guint k = 0; k < difference->changes->len; k++)
        append_change (out, difference->changes->pdata[k], width);
      for (guint k = 0; k < difference->remarks->len; k++)
        present_text_add (out, difference->remarks->pdata[k], width, "    - ", "      ");
    }
}

static void
append_unseen (GString *out, const PresentComparison *present, guint width)
{
  if (present->unseen->len == 0)
    return;
  g_string_append_printf (out, "\n%s\n", _("Said to begin here, but not seen on the units"));
  for (guint i = 0; i < present->unseen->len; i++)
    append_change (out, present->unseen->pdata[i], width);
}

static void
append_table (GString *out, const PresentComparison *present, guint width)
{
  g_autoptr(PresentTable) table = present_table_new ();
  g_autofree char *text = NULL;

  present_table_add_column (table, "", PRESENT_ALIGN_LEFT);
  present_table_add_column (table, _("characteristic"), PRESENT_ALIGN_LEFT);
  present_table_add_column (table, _("compared"), PRESENT_ALIGN_LEFT);
  present_table_add_column (table, _("before"), PRESENT_ALIGN_RIGHT);
  present_table_add_column (table, _("after"), PRESENT_ALIGN_RIGHT);
  present_table_add_column (table, _("difference"), PRESENT_ALIGN_RIGHT);
  present_table_add_column (table, _("95 % interval"), PRESENT_ALIGN_RIGHT);
  for (guint i = 0; i < present->effects->len; i++)
    {
      const PresentEffect *effect = present->effects->pdata[i];
      const char *const cells[] = { effect->sign, effect->name, effect->way, effect->before, effect->after, effect->difference,
                                    effect->interval };

      present_table_add_row (table, cells);
    }
  text = present_table_to_text (table, width);
  g_string_append_printf (out, "\n%s\n%s", _("What the readings say"), text);
  present_text_add (out, _("● told apart   ◐ may be chance   ○ no interval"), width, "", "");
}

static void
append_effects (GString *out, const PresentComparison *present, guint width, gboolean methods)
{
  if (present->effects->len == 0)
    return;
  append_table (out, present, width);
  g_string_append_c (out, '\n');
  for (guint i = 0; i < present->effects->len; i++)
    {
      const PresentEffect *effect = present->effects->pdata[i];

      if (i == 0 || ((PresentEffect *) present->effects->pdata[i - 1])->data->characteristic != effect->data->characteristic)
        present_text_add (out, effect->name, width, "", "  ");
      present_text_add (out, effect->sentence, width, "  ", "  ");
      for (guint k = 0; k < effect->remarks->len; k++)
        present_text_add (out, effect->remarks->pdata[k], width, "  - ", "    ");
      if (methods && *effect->method != '\0')
        present_text_add (out, effect->method, width, "  - ", "    ");
    }
}

/**
 * present_comparison_to_text:
 * @present: a comparison in words
 * @width: columns of the terminal
 * @methods: also say how each interval was found
 *
 * Returns: (transfer full): what differs with its changes, the table of effects, a sentence for each, the notes
 */
char *
present_comparison_to_text (const PresentComparison *present, guint width, gboolean methods)
{
  GString *out = g_string_new (NULL);
  g_autofree char *model = g_strdup_printf ("%s %s", present->data->model_code, present->data->model_name);
  g_autofree char *end = g_strdup_printf (_("As of %s."), present->data->end);

  present_text_add (out, model, width, "", "  ");
  present_text_add (out, present->title, width, "", "  ");
  present_text_add (out, present->headline, width, "", "  ");
  present_text_add (out, end, width, "", "  ");
  append_differences (out, present, width);
  append_unseen (out, present, width);
  append_effects (out, present, width, methods);
  if (present->notes->len > 0)
    g_string_append_c (out, '\n');
  for (guint i = 0; i < present->notes->len; i++)
    present_text_add (out, present->notes->pdata[i], width, "- ", "  ");
  if (present->caution != NULL)
    {
      g_string_append_c (out, '\n');
      present_text_add (out, present->caution, width, "", "");
    }
  return g_string_free (out, FALSE);
}
