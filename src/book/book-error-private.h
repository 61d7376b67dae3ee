/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Saying of an error which field is to blame, so that a form puts the sentence beside it.
 */

#include "book.h"

G_BEGIN_DECLS

/* Both do nothing where @error is NULL or not of BOOK_ERROR. */
void book_error_blame    (GError          *error,
                          const BookField *field);
void book_error_tell_now (GError          *error,
                          const char      *now);

/* Sets @error to a sentence about @field; always FALSE. */
gboolean book_error_refuse (GError          **error,
                            BookError         code,
                            const BookField  *field,
                            const char       *sentence);

G_END_DECLS
