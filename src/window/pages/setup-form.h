/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The record form as the Set-up page uses it: all that a person types of a kind, and what a new record begins with. */

#include "record-form.h"

G_BEGIN_DECLS

FettleRecordForm *fettle_setup_form_new   (FettleSitting    *sitting,
                                           const BookRecord *record,
                                           gint64            model);
/* @last: the row that was looked at last, by kind; @person: who writes. */
void              fettle_setup_form_begin (FettleRecordForm *form,
                                           const BookRecord *record,
                                           gint64            model,
                                           const gint64      last[BOOK_N_RECORDS + 1],
                                           gint64            person);

G_END_DECLS
