/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a person has typed into fields and not stored yet, kept beside the user's settings so that a crash costs at most
 * the last moments of typing; it is offered again to the same person alone. One small JSON file a book, replaced as a whole
 * and synced in a thread less than 300 ms after the last key; none when nothing is kept. The sitting has the
 * only one of its book (fettle_sitting_get_drafts()): cells of tables, forms and reasons keep theirs under names of their own.
 */

#include <gio/gio.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_DRAFTS (fettle_drafts_get_type ())
G_DECLARE_FINAL_TYPE (FettleDrafts, fettle_drafts, FETTLE, DRAFTS, GObject)

/**
 * FettleDrafts::restored:
 *
 * What the last window on this book kept has been read, or its person has come: fettle_drafts_get() answers. Not told when
 * there is nothing; who comes later asks fettle_drafts_is_restored().
 */

/**
 * FettleDrafts::typed:
 *
 * Something was typed that is not stored.
 */

FettleDrafts *fettle_drafts_new   (const char   *book) G_GNUC_WARN_UNUSED_RESULT;
void          fettle_drafts_keep  (FettleDrafts *self,
                                   const char   *field,
                                   const char   *text);
/* The same for whoever writes: what is planned rather than typed into a field. */
void          fettle_drafts_keep_for_all (FettleDrafts *self,
                                   const char   *field,
                                   const char   *text);
const char   *fettle_drafts_get   (FettleDrafts *self,
                                   const char   *field);
char        **fettle_drafts_list  (FettleDrafts *self) G_GNUC_WARN_UNUSED_RESULT;
void          fettle_drafts_set_person (FettleDrafts *self,
                                   gint64        person);
gboolean      fettle_drafts_is_restored (FettleDrafts *self);

G_END_DECLS
