/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A book with all that evidence is made from. */

#include "book-evidence.h"
#include "book-shelf.h"

/* Opens a shelf with a model M; with @other_model also a model X, whose records must not be seen. */
void          evidence_shelf_fill (Shelf *shelf, gboolean other_model);
BookEvidence *evidence_shelf_load (Shelf *shelf);
