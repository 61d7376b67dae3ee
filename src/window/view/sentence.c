/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "sentence.h"

#include "unparent.h"

#define LEAST_CHARS 24
#define MOST_CHARS  100 /* a longer line is hard to read */

/**
 * fettle_sentence_new:
 * @words: what it says
 * @classes: (nullable): its style classes, a blank between two
 *
 * Returns: (transfer floating): the label
 */
GtkWidget *
fettle_sentence_new (const char *words, const char *classes)
{
  g_auto(GStrv) list = g_strsplit (classes != NULL ? classes : "", " ", -1);

  return g_object_new (GTK_TYPE_LABEL, "label", words, "xalign", 0.0f, "wrap", TRUE, "selectable", TRUE, "can-focus", FALSE,
                       "width-chars", LEAST_CHARS, "max-width-chars", MOST_CHARS, "halign", GTK_ALIGN_START, "css-classes", list,
                       NULL);
}

/**
 * fettle_sentences_add:
 * @box: where they stand, one below the other
 * @sentences: (element-type utf8): what is said below what stands there
 * @classes: (nullable): of each, as for fettle_sentence_new()
 */
void
fettle_sentences_add (GtkBox *box, GPtrArray *sentences, const char *classes)
{
  g_return_if_fail (GTK_IS_BOX (box));

  for (guint i = 0; i < sentences->len; i++)
    gtk_box_append (box, fettle_sentence_new (g_ptr_array_index (sentences, i), classes));
}

/* In the place of all that stood in the box. */
void
fettle_sentences_show (GtkBox *box, GPtrArray *sentences, const char *classes)
{
  g_return_if_fail (GTK_IS_BOX (box));

  fettle_unparent_children (box);
  fettle_sentences_add (box, sentences, classes);
}
