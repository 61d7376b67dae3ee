/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Plain text for a terminal: wrapped sentences and aligned tables within a width, counted in columns (a wide
 * character takes two, a combining one none). No colours; control characters are shown, never sent.
 */

#include <glib.h>

G_BEGIN_DECLS

#define PRESENT_TEXT_WIDTH 100

typedef enum
{
  PRESENT_ALIGN_LEFT,
  PRESENT_ALIGN_RIGHT
} PresentAlign;

typedef struct _PresentTable PresentTable;

guint         present_text_columns     (const char         *text);
char         *present_text_escape      (const char         *text) G_GNUC_WARN_UNUSED_RESULT;
char         *present_text_wrap        (const char         *text,
                                        guint               width,
                                        const char         *first,
                                        const char         *rest) G_GNUC_WARN_UNUSED_RESULT;
void          present_text_add         (GString            *out,
                                        const char         *text,
                                        guint               width,
                                        const char         *first,
                                        const char         *rest);

PresentTable *present_table_new        (void) G_GNUC_WARN_UNUSED_RESULT;
void          present_table_free       (PresentTable       *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PresentTable, present_table_free)
void          present_table_add_column (PresentTable       *table,
                                        const char         *head,
                                        PresentAlign        align);
void          present_table_add_row    (PresentTable       *table,
                                        const char * const *cells);
char         *present_table_to_text    (PresentTable       *table,
                                        guint               width) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
