/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Sentences on a page: a label that wraps, never so wide that a line is hard to read, and whose words can be selected and
 * copied without being a stop of the Tab key.
 */

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *fettle_sentence_new   (const char *words,
                                  const char *classes) G_GNUC_WARN_UNUSED_RESULT;
void       fettle_sentences_add  (GtkBox     *box,
                                  GPtrArray  *sentences,
                                  const char *classes);
void       fettle_sentences_show (GtkBox     *box,
                                  GPtrArray  *sentences,
                                  const char *classes);

G_END_DECLS
