/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The commands about one unit: what happened to it, and what was built into it.
 */

#include "book-edit.h"

G_BEGIN_DECLS

BookEdit *book_unit_set_aside (gint64             unit,
                               const char        *on,
                               const char        *reason) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_unit_add_event (gint64             unit,
                               BookEventKind      kind,
                               const char *const *fields,
                               const char *const *texts) G_GNUC_WARN_UNUSED_RESULT;
void      book_unit_event_at  (BookEdit          *edit,
                               gint64             step);
BookEdit *book_unit_build_in  (gint64             unit,
                               gint64             part,
                               gint64             step,
                               gint64             revision,
                               gint64             lot) G_GNUC_WARN_UNUSED_RESULT;
BookEdit *book_unit_correct_serial (gint64        unit,
                               const char        *serial,
                               const char        *expected) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
