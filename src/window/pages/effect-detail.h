/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One characteristic before and after: its sentence, what has to be said beside it, and the method on demand. The units
 * themselves are dots in the drawing of the page.
 */

#include <gtk/gtk.h>

#include "present-compare.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_EFFECT_DETAIL (fettle_effect_detail_get_type ())
G_DECLARE_FINAL_TYPE (FettleEffectDetail, fettle_effect_detail, FETTLE, EFFECT_DETAIL, GtkWidget)

GtkWidget *fettle_effect_detail_new (const PresentEffect *effect) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
