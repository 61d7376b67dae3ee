/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "exchange-error.h"

G_DEFINE_QUARK (exchange-error-quark, exchange_error)
