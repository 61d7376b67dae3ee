/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <json-glib/json-glib.h>

char *calc_ask_text (const char *lines, gssize length, int *status);
JsonObject *calc_ask (const char *question);
void calc_check_answers (const char *lines, gsize length);
