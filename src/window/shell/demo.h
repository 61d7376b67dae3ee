/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The demo: an invented workshop's files, installed beside the program or in the source tree, imported into a book of
 * the user's own.
 */

#include "application.h"
#include "window.h"

G_BEGIN_DECLS

gboolean fettle_demo_is_there (void);
void     fettle_demo_open     (FettleApplication *application,
                               FettleWindow      *beside);

G_END_DECLS
