/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The form that takes a reading out of the evidence: what it is and why, below a button that opens it. A void carries a
 * name: while nobody is chosen it waits and opens as soon as somebody is. The reason is kept among the drafts.
 */

#include <gtk/gtk.h>

#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_READING_VOID (fettle_reading_void_get_type ())
G_DECLARE_FINAL_TYPE (FettleReadingVoid, fettle_reading_void, FETTLE, READING_VOID, GtkBox)

/**
 * FettleReadingVoid::leave:
 *
 * The form closes: the keyboard has to go elsewhere.
 */

/* @open: the button, pressed while the form is open. */
void fettle_reading_void_set_up      (FettleReadingVoid *self,
                                      FettleSitting     *sitting,
                                      GtkToggleButton   *open);
/* @reading: 0 where none is chosen that can be voided: then the form closes; @words: (nullable): what it is. */
void fettle_reading_void_set_reading (FettleReadingVoid *self,
                                      gint64             reading,
                                      const char        *words);

G_END_DECLS
