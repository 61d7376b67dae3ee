/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "words.h"

/**
 * fettle_words_show:
 * @label: a label
 * @words: (nullable): what it says; %NULL or empty: nothing
 *
 * Says it, and hides the label that has nothing to say.
 */
void
fettle_words_show (GtkLabel *label, const char *words)
{
  gboolean any = words != NULL && *words != '\0';

  g_return_if_fail (GTK_IS_LABEL (label));

  gtk_label_set_label (label, any ? words : "");
  gtk_widget_set_visible (GTK_WIDGET (label), any);
}
