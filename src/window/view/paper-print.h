/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Pages that were set and drawn elsewhere, on their way to a printer. */

#include <gtk/gtk.h>

#include "paper-document.h"

G_BEGIN_DECLS

GtkPrintOperation *fettle_paper_print_new (const char       *name,
                                           GPtrArray        *sheets,
                                           const PaperShape *shape) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
