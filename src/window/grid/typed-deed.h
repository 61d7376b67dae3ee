/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Values typed or pasted into a grid on their way into the book, as one deed. Each is known by the name of its draft, which
 * is kept until the value is stored; what is no value stays there too, and is told.
 */

#include "book-edit.h"
#include "sitting.h"
#include "table-source.h"
#include "visit.h"

G_BEGIN_DECLS

typedef struct _FettleTypedDeed FettleTypedDeed;

/**
 * FettleTypedEnded:
 * @source: the grid
 * @draft: of a value
 * @text: of it, as it was typed; the draft may hold another one by now
 * @stored: it is in the book
 * @id: of the record that was made, where the deed had this value alone; else 0
 */
typedef void (*FettleTypedEnded) (FettleTableSource *source,
                                  const char        *draft,
                                  const char        *text,
                                  gboolean           stored,
                                  gint64             id);

FettleTypedDeed *fettle_typed_deed_new         (FettleTableSource *source,
                                                FettleDrafts      *drafts,
                                                FettleTypedEnded   ended) G_GNUC_WARN_UNUSED_RESULT;
void             fettle_typed_deed_free        (FettleTypedDeed   *deed);
void             fettle_typed_deed_add         (FettleTypedDeed   *deed,
                                                const char        *draft,
                                                const char        *text);
void             fettle_typed_deed_refuse      (FettleTypedDeed   *deed,
                                                const char        *draft,
                                                const char        *text,
                                                const GError      *error);
char            *fettle_typed_deed_dup_refused (FettleTypedDeed   *deed) G_GNUC_WARN_UNUSED_RESULT;
void             fettle_typed_deed_store       (FettleTypedDeed   *deed,
                                                FettleSitting     *sitting,
                                                FettleVisit       *visit,
                                                BookEdit          *edit);

G_END_DECLS
