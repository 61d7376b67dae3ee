/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Work that falls into independent pieces, done by all processors: such as draws, each of which has its own place in the stream. */

#include <stddef.h>

/* Does pieces @first to @end - 1; several calls run at once, in threads of their own. */
typedef void (*NumPartFunc) (size_t first, size_t end, void *data);

void num_in_parts (size_t n, size_t least, NumPartFunc func, void *data);
