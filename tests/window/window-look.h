/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What a person would see or hear of: words on the page in view, rows of its tables, what is said in the bar, and what can be
 * undone. Waiting fails as window_test_wait() does, and names what it waited for.
 */

#include "table.h"
#include "window-test.h"

G_BEGIN_DECLS

GtkWidget  *window_test_page         (FettleWindow    *window);
/* Waits until the page of that name is in view with all that it asked for. */
void        window_test_wait_page    (FettleWindow    *window,
                                      const char      *name);

/* ---- words ---- */

/* Waits until the label @name of the page in view is seen with @words in it; NULL: until it is not seen. */
void        window_test_wait_label   (FettleWindow    *window,
                                      const char      *name,
                                      const char      *words);

/* Whether the labels that are seen within the widget @name of the page in view, one a line, have @words in them. */
gboolean    window_test_is_seen      (FettleWindow    *window,
                                      const char      *name,
                                      const char      *words);
/* Wait for that, or for its end, and let the page settle. */
void        window_test_wait_seen    (FettleWindow    *window,
                                      const char      *name,
                                      const char      *words);
void        window_test_wait_unseen  (FettleWindow    *window,
                                      const char      *name,
                                      const char      *words);

typedef enum
{
  WINDOW_TEST_SEEN  = 1 << 0, /* not one that is hidden */
  WINDOW_TEST_WHOLE = 1 << 1, /* a label that says nothing else */
} WindowTestWords;

/* Whether a label below @root has @words in it. */
gboolean    window_test_has_words    (GtkWidget       *root,
                                      const char      *words,
                                      WindowTestWords  how);

/* Waits until that text stands in the field, and lets the page settle. */
void        window_test_wait_text    (GtkWidget       *root,
                                      const char      *field,
                                      const char      *text);

/* What stands in the bar; "" while nothing does. */
const char *window_test_said         (FettleWindow    *window);
/* Waits until something stands there with @words in it; NULL: anything. */
void        window_test_wait_said    (FettleWindow    *window,
                                      const char      *words);

/* ---- tables ---- */

/* What the table would draw there. */
char       *window_test_cell         (FettleTable     *table,
                                      guint            row,
                                      guint            column) G_GNUC_WARN_UNUSED_RESULT;
/* Waits until the table @name of the page in view has @n rows, and lets the page settle. */
void        window_test_wait_rows    (FettleWindow    *window,
                                      const char      *name,
                                      guint            n);

/* ---- answers and deeds ---- */

/* Waits until all that was asked of the book is answered and shown. */
void        window_test_wait_answers (FettleWindow    *window);
void        window_test_wait_undo    (FettleWindow    *window);
void        window_test_wait_redo    (FettleWindow    *window);

G_END_DECLS
