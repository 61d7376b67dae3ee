/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What earlier rounds would have said, and from what that is told. */
#include "config.h"

#include <string.h>

#include "present-forecast.h"

/* The last cell of the only row. */
static void
assert_source (InsightForecastPast past, const char *expected)
{
  InsightForecastInput input = { .today = (char *) "2026-07-01", .begin = (char *) "2026-07-01", .begin_round = (char *) "" };
  InsightForecastSettings settings = { .waits = -1 };
  InsightForecast forecast = { .status = NUM_TOO_FEW };
  g_autoptr(GArray) list = g_array_new (FALSE, FALSE, sizeof past);
  g_autoptr(PresentForecast) words = NULL;
  g_autofree char *text = NULL;

  past.round = (char *) "P1";
  past.decided = (char *) "2026-02-14";
  past.dates[0] = past.dates[1] = (char *) "2026-05-04";
  past.met = (char *) "";
  g_array_append_val (list, past);
  words = present_forecast_new (&input, &settings, &forecast, NULL, list);
  text = present_forecast_to_text (words, 1000);
  if (strstr (text, expected) == NULL)
    g_error ("'%s' is not in: %s", expected, text);
  if (past.unread)
    g_assert_null (strstr (text, "nothing was recorded"));
}

static void
test_source (void)
{
  assert_source ((InsightForecastPast){ .recorded = TRUE }, "by what was recorded then");
  assert_source ((InsightForecastPast){ .recorded = FALSE }, "nothing was recorded then: by what had happened");
  assert_source ((InsightForecastPast){ .unread = TRUE }, "the journal of this book is too long to be gone through here, so by what had happened: "
                                                          "'fettle-batch forecast --earlier' goes through it");
  assert_source ((InsightForecastPast){ .unread = TRUE, .late = TRUE }, "by what had happened, some of it entered later: 'fettle-batch forecast");
  assert_source ((InsightForecastPast){ .unread = TRUE, .status = NUM_TOO_FEW }, "nothing could be foreseen (the journal of this book is too long");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/present/forecast/a-journal-too-long-is-not-told-as-nothing-recorded", test_source);
  return g_test_run ();
}
