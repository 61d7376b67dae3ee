/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The grid in which a round is filled in: what a key costs until its frame is drawn. */

#include <stdio.h>

#include "page.h"

G_BEGIN_DECLS

void bench_grid (FILE             *answers,
                 FettleSitting    *sitting,
                 const FettleSpan *span);

G_END_DECLS
