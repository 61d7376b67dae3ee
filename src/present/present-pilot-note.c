/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-pilot-private.h"

void
present_note_add (GPtrArray *notes, GPtrArray *facts, const char *code, guint count, char *const *names, char *sentence)
{
  PresentFact *fact = g_new (PresentFact, 1);

  *fact = (PresentFact){ code, names != NULL ? g_strdupv ((char **) names) : g_new0 (char *, 1), count };
  g_ptr_array_add (notes, sentence);
  g_ptr_array_add (facts, fact);
}

void
present_fact_free (gpointer data)
{
  PresentFact *fact = data;

  g_strfreev (fact->names);
  g_free (fact);
}
