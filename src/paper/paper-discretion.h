/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What does not leave the shop in a letter: people, suppliers, other models, sums of money. Records of these kinds are
 * simply not asked; this takes them out of what people wrote in their own words.
 */

#include "book-evidence.h"
#include "book.h"

G_BEGIN_DECLS

typedef struct _PaperDiscretion PaperDiscretion;

PaperDiscretion *paper_discretion_read  (StoreDb               *db,
                                         const BookEvidence    *evidence,
                                         GError               **error) G_GNUC_WARN_UNUSED_RESULT;
PaperDiscretion *paper_discretion_read_makers (StoreDb         *db,
                                         const BookEvidence    *evidence,
                                         GError               **error) G_GNUC_WARN_UNUSED_RESULT;
PaperDiscretion *paper_discretion_read_supplier (StoreDb       *db,
                                         const BookEvidence    *evidence,
                                         gint64                 supplier,
                                         GError               **error) G_GNUC_WARN_UNUSED_RESULT;
void             paper_discretion_free  (PaperDiscretion       *discretion);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PaperDiscretion, paper_discretion_free)

char            *paper_discretion_apply (const PaperDiscretion *discretion,
                                         const char            *text) G_GNUC_WARN_UNUSED_RESULT;
char            *paper_discretion_check (const PaperDiscretion *discretion,
                                         const char            *text) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
