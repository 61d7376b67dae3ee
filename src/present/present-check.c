/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-check.h"

#include <glib/gi18n-lib.h>

/**
 * present_check_words:
 * @n_findings: how many things do not hold
 * @replayed: whether the journal was applied anew
 *
 * Returns: (transfer full): one sentence
 */
char *
present_check_words (guint n_findings, gboolean replayed)
{
  if (n_findings > 0)
    return g_strdup_printf (ngettext ("%u thing does not hold:", "%u things do not hold:", n_findings), n_findings);
  return g_strdup (replayed ? _("All holds, and the journal gives the same records.") : _("All holds."));
}

/**
 * present_check_journal:
 * @place: number of entries
 * @head: digest of the last place, hexadecimal
 *
 * Returns: (transfer full): what to keep elsewhere, since a book alone cannot show that all of it was rewritten
 */
char *
present_check_journal (gint64 place, const char *head)
{
  g_autofree char *entries = g_strdup_printf ("%" G_GINT64_FORMAT, place);

  return g_strdup_printf (_("Entries in the journal: %s; its head: %s"), entries, head);
}
