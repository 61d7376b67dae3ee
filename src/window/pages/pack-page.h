/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The decision pack as it will be printed, one page below the other. It follows the book while it is in view. */

#include "page.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_PACK_PAGE (fettle_pack_page_get_type ())
G_DECLARE_FINAL_TYPE (FettlePackPage, fettle_pack_page, FETTLE, PACK_PAGE, GtkWidget)

GtkWidget *fettle_pack_page_new (FettleSitting *sitting) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
