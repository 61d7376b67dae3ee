/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What happened to a unit, written in one line as people say it: 'altered: ramp stoned 0.1, issue 12'. A line that names
 * no event is a serial, as a scanner types it.
 */

#include "book-edit.h"

G_BEGIN_DECLS

/**
 * BookUnitLine:
 * @is_event: something happened; otherwise only @serial is there
 * @serial: typed before the event, or alone; "" without one
 * @kind: what happened
 * @issue: as typed after 'issue', ""
 * @back_to: step as typed after 'to', "": only where it was sent back
 * @minutes: as typed before 'min', ""
 * @reason: the rest, ""
 */
typedef struct
{
  gboolean      is_event;
  char         *serial;
  BookEventKind kind;
  char         *issue;
  char         *back_to;
  char         *minutes;
  char         *reason;
} BookUnitLine;

BookUnitLine *book_unit_line_parse (const char         *text) G_GNUC_WARN_UNUSED_RESULT;
void          book_unit_line_free  (BookUnitLine       *line);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BookUnitLine, book_unit_line_free)

BookEdit     *book_unit_line_edit  (const BookUnitLine *line,
                                    gint64              unit,
                                    gint64              step) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
