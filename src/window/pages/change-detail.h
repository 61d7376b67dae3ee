/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One change opened: what it takes from old to new, its story, what must be measured again and what is carried over, its
 * drawings, and the deeds that are open to it now, each in a form below.
 */

#include <gtk/gtk.h>

#include "changes-answer.h"
#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_CHANGE_DETAIL (fettle_change_detail_get_type ())
G_DECLARE_FINAL_TYPE (FettleChangeDetail, fettle_change_detail, FETTLE, CHANGE_DETAIL, GtkWidget)

/**
 * FettleChangeDeed:
 * @FETTLE_CHANGE_AGREE: somebody agrees, and says from when it holds
 * @FETTLE_CHANGE_CARRY_OUT: revisions, settings and limits are written, the plan of its round takes them
 * @FETTLE_CHANGE_WITHDRAW: it is given up, with a reason
 * @FETTLE_CHANGE_EDIT: its own fields
 * @FETTLE_CHANGE_ADD: one more old-to-new, while nobody has agreed
 */
typedef enum
{
  FETTLE_CHANGE_AGREE,
  FETTLE_CHANGE_CARRY_OUT,
  FETTLE_CHANGE_WITHDRAW,
  FETTLE_CHANGE_EDIT,
  FETTLE_CHANGE_ADD,
  FETTLE_N_CHANGE_DEEDS
} FettleChangeDeed;

/* Their names in actions: win.change::agree. */
extern const char *const fettle_change_deeds[FETTLE_N_CHANGE_DEEDS];

/**
 * FettleChangeDetail::idle:
 *
 * The form that was open is closed: an answer may now write the rows anew.
 */

GtkWidget *fettle_change_detail_new    (FettleSitting       *sitting,
                                        const FettleSpan    *span,
                                        FettleChangesAnswer *answer,
                                        guint                index) G_GNUC_WARN_UNUSED_RESULT;
/* Whether a form is open in it. */
gboolean   fettle_change_detail_is_busy (FettleChangeDetail *self);
gboolean   fettle_change_detail_can_do (FettleChangeDetail  *self,
                                        FettleChangeDeed     deed);
void       fettle_change_detail_do     (FettleChangeDetail  *self,
                                        FettleChangeDeed     deed);

G_END_DECLS
