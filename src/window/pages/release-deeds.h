/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What people do at a gate: note an opinion, waive the chosen criterion, decide, withdraw what is chosen. Buttons, and below
 * them the form of one.
 */

#include <gtk/gtk.h>

#include "book-fields.h"
#include "release-answer.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_RELEASE_DEEDS (fettle_release_deeds_get_type ())
G_DECLARE_FINAL_TYPE (FettleReleaseDeeds, fettle_release_deeds, FETTLE, RELEASE_DEEDS, GtkWidget)

/**
 * FettleReleaseDeeds::closed:
 *
 * A form is done or left: whoever shows the page takes the keyboard back.
 */

/**
 * FettleReleaseDeeds::awaits-evidence:
 *
 * A decision waits for what is frozen with it.
 */

GtkWidget *fettle_release_deeds_new          (FettleSitting      *sitting) G_GNUC_WARN_UNUSED_RESULT;

/* The gate that is looked at; 0: there is none. */
void       fettle_release_deeds_set_gate     (FettleReleaseDeeds *self,
                                              gint64              model,
                                              gint64              gate);
/* What is known, with what a decision about the gate of that index freezes once it is put together. */
void       fettle_release_deeds_set_answer   (FettleReleaseDeeds *self,
                                              FettleReleaseAnswer *answer,
                                              guint               gate);
/* The criterion that is chosen; 0: none. */
void       fettle_release_deeds_set_criterion (FettleReleaseDeeds *self,
                                              gint64              criterion,
                                              const char         *code);
/* The opinion, waiver or decision that is chosen; key 0: none. */
void       fettle_release_deeds_set_deed     (FettleReleaseDeeds *self,
                                              BookRecordId        record,
                                              gint64              id);

/* 'opinion', 'waive', 'decide', 'withdraw': by key and menu. */
void       fettle_release_deeds_act          (FettleReleaseDeeds *self,
                                              const char         *what);

G_END_DECLS
