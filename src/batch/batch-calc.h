/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stdio.h>

/* The calculator: answers every line of @in by one on @out; the exit status. */
int batch_calc (FILE *in, FILE *out);
