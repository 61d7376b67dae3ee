/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stdio.h>

int batch_calc (FILE *in, FILE *out);
