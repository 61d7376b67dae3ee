/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What cairo 1.16 leaves in a PDF with links: it numbers each link once while it looks at a page and once more while it draws
 * it. The first number stays in the page's list of links and in the table of objects, but no object bears it, so that a strict
 * reader calls the file damaged.
 */

#include <glib.h>

G_BEGIN_DECLS

/* Blanks such numbers and marks them as free, byte for byte in place; leaves a file of another form as it is. */
void paper_pdf_mend (GByteArray *pdf);

G_END_DECLS
