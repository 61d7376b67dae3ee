/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The command line: a verb, its arguments, options anywhere.
 */

#include "batch-call.h"

G_BEGIN_DECLS

gboolean batch_options_parse (BatchCall   *call,
                              int          argc,
                              char       **argv,
                              BatchStatus *status);

G_END_DECLS
