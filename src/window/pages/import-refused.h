/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Rows that were refused as a file, each with the reason, to be mended elsewhere. */

#include "exchange-look.h"
#include "sitting.h"

G_BEGIN_DECLS

char *fettle_import_refused_name (const ExchangeLook       *look) G_GNUC_WARN_UNUSED_RESULT;
void  fettle_import_refused_save (FettleSitting            *sitting,
                                  const ExchangeLook       *look,
                                  const ExchangeLookAnswer *answer,
                                  const char               *path);

G_END_DECLS
