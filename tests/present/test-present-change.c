/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Changes in words: each state with a word and a shape of its own, each row whole, each touched characteristic named. */

#include "config.h"

#include "present-change.h"

#include <math.h>
#include <string.h>

static void
test_states_differ (void)
{
  for (int a = 0; a < INSIGHT_N_CHANGE_STATES; a++)
    {
      g_assert_cmpstr (present_change_state_words (a), !=, "");
      for (int b = 0; b < a; b++)
        {
          g_assert_cmpstr (present_change_state_words (a), !=, present_change_state_words (b));
          g_assert_cmpstr (present_change_state_sign (a), !=, present_change_state_sign (b));
        }
    }
}

static void
check_touch (const InsightChangeTouch *touch, InsightChangeState state, const char *expected)
{
  g_autofree char *said = present_change_touch (touch, state);

  g_assert_cmpstr (said, ==, expected);
}

static void
test_touches (void)
{
  InsightChangeTouch touch = { .name = "Load at slip", .klass = BOOK_CLASS_SAFETY, .kind = INSIGHT_TOUCH_AGAIN, .units = 1,
                               .reason = "the flank stays.", .person = "EH", .second_person = "MO" };

  check_touch (&touch, INSIGHT_CHANGE_PROPOSED, "Load at slip is measured again: 1 unit no longer counts.");
  touch.units = 60;
  check_touch (&touch, INSIGHT_CHANGE_AGREED, "Load at slip is measured again: 60 units no longer count.");
  check_touch (&touch, INSIGHT_CHANGE_CARRIED_OUT, "Load at slip is measured again.");
  touch.units = 0;
  check_touch (&touch, INSIGHT_CHANGE_PROPOSED, "Load at slip is measured again; nothing that counts was measured yet.");
  touch.kind = INSIGHT_TOUCH_CARRIED;
  check_touch (&touch, INSIGHT_CHANGE_PROPOSED, "Load at slip is carried over by EH and MO: the flank stays.");
  touch.klass = BOOK_CLASS_FUNCTION;
  check_touch (&touch, INSIGHT_CHANGE_PROPOSED, "Load at slip is carried over by EH: the flank stays.");
  touch.kind = INSIGHT_TOUCH_LACKS_SECOND;
  touch.reason = "the flank stays";
  check_touch (&touch, INSIGHT_CHANGE_PROPOSED,
               "Load at slip is about safety: EH would carry it over (the flank stays), but it is measured again until a second "
               "person agrees.");
  touch.kind = INSIGHT_TOUCH_JUDGED_ANEW;
  check_touch (&touch, INSIGHT_CHANGE_PROPOSED, "Load at slip keeps its readings; they are judged by the new limits.");
}

static void
check_item (const BookChangeListItem *item, const char *name, const char *labels, const char *words)
{
  g_autofree char *said_name = present_item_name (item);
  g_autofree char *said_labels = present_item_labels (item);
  g_autofree char *said_words = present_item_words (item);

  g_assert_cmpstr (said_name, ==, name);
  g_assert_cmpstr (said_labels, ==, labels);
  g_assert_cmpstr (said_words, ==, words);
}

static void
test_items (void)
{
  const BookChangeListItem revision = { .part = 1, .number = "L-20", .name = "Lever", .setting = "", .old_label = "C",
                                        .new_label = "D", .old = "radius 0.3 mm", .new = "radius 0.6 mm", .value = NAN,
                                        .nominal = NAN, .lower = NAN, .upper = NAN, .unit = "", .decimals = -1 };
  const BookChangeListItem setting = { .step = 1, .number = "30", .name = "Harden", .setting = "temperature", .old_label = "",
                                       .new_label = "", .old = "220 °C", .new = "", .value = 205, .nominal = NAN, .lower = NAN,
                                       .upper = NAN, .unit = "°C", .decimals = -1 };
  const BookChangeListItem limit = { .characteristic = 1, .number = "OF", .name = "Opening force", .setting = "",
                                     .old_label = "", .new_label = "", .old = "9 to 16 N", .new = "", .value = NAN,
                                     .nominal = NAN, .lower = 9, .upper = 17, .unit = "N", .decimals = 0 };
  const BookChangeListItem open = { .part = 1, .number = "L-20", .name = "Lever", .setting = "", .old_label = "C",
                                    .new_label = "", .old = "", .new = "plated", .value = NAN, .nominal = NAN, .lower = NAN,
                                    .upper = NAN, .unit = "", .decimals = -1 };
  const BookChangeListItem nothing = { .part = 1, .number = "L-20", .name = "Lever", .setting = "", .old_label = "",
                                       .new_label = "", .old = "", .new = "", .value = NAN, .nominal = NAN, .lower = NAN,
                                       .upper = NAN, .unit = "", .decimals = -1 };

  check_item (&revision, "L-20 Lever", "C → D", "radius 0.3 mm → radius 0.6 mm");
  check_item (&setting, "Harden: temperature", "220 °C → 205 °C", "");
  check_item (&limit, "Limits of OF Opening force", "9 to 16 N → 9 to 17 N", "");
  check_item (&open, "L-20 Lever", "C → plated", "");
  check_item (&nothing, "L-20 Lever", "– → –", "");
}

static void
test_unexplained (void)
{
  InsightUnexplained one = { .kind = INSIGHT_SUBJECT_PART, .number = "L-20", .name = "Lever", .setting = "", .old = "A",
                             .new = "B", .round = "P2" };
  g_autofree char *revision = present_unexplained (&one);
  g_autofree char *first = (one.old = "", present_unexplained (&one));
  g_autofree char *limit = (one.kind = INSIGHT_SUBJECT_LIMIT, one.day = book_day_parse ("2026-03-05", NULL),
                            present_unexplained (&one));

  g_assert_cmpstr (revision, ==, "L-20 Lever was fitted in revision B instead of A in round P2, and no change says why.");
  g_assert_cmpstr (first, ==, "L-20 Lever was fitted in revision B in round P2, and no change says why.");
  g_assert_cmpstr (limit, ==, "L-20 Lever has other limits from 2026-03-05 on, and no change says why.");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/present/change/states-differ-in-word-and-shape", test_states_differ);
  g_test_add_func ("/present/change/names-what-is-measured-again-and-what-is-carried-over", test_touches);
  g_test_add_func ("/present/change/tells-old-and-new-of-each-item", test_items);
  g_test_add_func ("/present/change/names-what-no-change-leads-to", test_unexplained);
  return g_test_run ();
}
