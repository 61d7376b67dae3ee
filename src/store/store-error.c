/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store-error.h"

G_DEFINE_QUARK (store-error-quark, store_error)
