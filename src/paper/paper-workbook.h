/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the decision pack says, as a workbook to reckon on with: a sheet a subject, every number as a number with its own
 * decimals, every day as a date, and nothing that is computed when the file is opened. A text that begins like a formula
 * stays a text. It names nobody who builds or inspects.
 */

#include "paper-pack.h"

G_BEGIN_DECLS

GBytes *paper_workbook_write (StoreDb            *db,
                              const PaperPackAsk *ask,
                              GCancellable       *cancellable,
                              GError            **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
