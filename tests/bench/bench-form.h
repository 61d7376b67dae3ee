/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Forms of records: what each costs until it is drawn, and whether what is typed there is kept without a frame missed. */

#include <stdio.h>

#include "page.h"

G_BEGIN_DECLS

void bench_forms  (FILE             *answers,
                   FettleSitting    *sitting,
                   const FettleSpan *span);
void bench_drafts (FILE             *answers,
                   FettleSitting    *sitting,
                   const FettleSpan *span);

G_END_DECLS
