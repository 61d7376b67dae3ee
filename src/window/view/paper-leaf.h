/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A page that was set and drawn elsewhere, as it will be printed: black on white in every look, as wide as there is room. */

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FETTLE_TYPE_PAPER_LEAF (fettle_paper_leaf_get_type ())
G_DECLARE_FINAL_TYPE (FettlePaperLeaf, fettle_paper_leaf, FETTLE, PAPER_LEAF, GtkWidget)

/* @sheet: of paper_document_to_sheets(); referred to. @width, @height: of the paper in points. @label: what it is called. */
GtkWidget *fettle_paper_leaf_new (cairo_surface_t *sheet,
                                  double           width,
                                  double           height,
                                  const char      *label) G_GNUC_WARN_UNUSED_RESULT;

void       fettle_paper_leaf_set_near   (FettlePaperLeaf *self,
                                         gboolean         near);
/* Whether it can be seen already. */
gboolean   fettle_paper_leaf_is_painted (FettlePaperLeaf *self);

G_END_DECLS
