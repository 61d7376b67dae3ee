/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What the decision pack says, as a workbook to reckon on with: a sheet a subject, every number as a number with its own
 * decimals, every day as a date, and nothing that is computed when the file is opened. A text that begins like a formula
 * stays a text. It names nobody who builds or inspects.
 */

#include "paper-discretion.h"
#include "paper-document.h"
#include "present-dossier.h"

G_BEGIN_DECLS

/**
 * PaperWorkbookAsk:
 * @gate: index of the gate that the first sheets are about; beyond the last where there is none
 * @book: UUID of the book
 * @makers: (nullable): what is taken out of texts that people wrote
 * @size: of the paper that it is printed on
 * @progress: (nullable): told how far it is, in the thread that writes
 * @progress_data: for @progress
 *
 * How a workbook is made of a dossier.
 */
typedef struct
{
  guint                  gate;
  const char            *book;
  const PaperDiscretion *makers;
  PaperSize              size;
  void                 (*progress) (guint64 done, guint64 total, gpointer data);
  gpointer               progress_data;
} PaperWorkbookAsk;

GBytes *paper_workbook_write (const PresentDossier   *dossier,
                              const PaperWorkbookAsk *ask,
                              GCancellable           *cancellable,
                              GError                **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
