/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wrapping and tables: nothing wider than asked for, nothing lost, no control character sent. */

#include "config.h"

#include "present-text.h"

#include <string.h>

static void
check_width (const char *text, guint width)
{
  g_auto(GStrv) lines = g_strsplit (text, "\n", -1);

  for (guint i = 0; lines[i] != NULL; i++)
    {
      if (present_text_columns (lines[i]) > width)
        g_test_message ("too wide: %s", lines[i]);
      g_assert_cmpuint (present_text_columns (lines[i]), <=, width);
    }
}

static void
test_escape (void)
{
  g_autofree char *text = present_text_escape ("red \x1b[31m\tand\nso on \xff\xe2\x80\xae");

  g_assert_cmpstr (text, ==, "red \\u001b[31m\\tand\\nso on \xef\xbf\xbd\\u202e");
}

static void
test_columns (void)
{
  g_assert_cmpuint (present_text_columns ("mm"), ==, 2);
  g_assert_cmpuint (present_text_columns ("\xc3\xa9\xe6\xbc\xa2"), ==, 3); /* e acute, a wide character */
  g_assert_cmpuint (present_text_columns ("e\xcc\x81"), ==, 1);             /* e and a combining acute */
}

static void
test_wrap (void)
{
  g_autofree char *text = present_text_wrap ("The lock holds on all units that were tried.", 24, "- ", "  ");
  g_autofree char *word = present_text_wrap ("aaaaaaaaaaaaaaaaaaaaaaaa", 10, "", "");

  g_assert_cmpstr (text, ==, "- The lock holds on all\n  units that were tried.\n");
  g_assert_cmpstr (word, ==, "aaaaaaaaaa\naaaaaaaaaa\naaaa\n");
}

static void
test_table (void)
{
  g_autoptr(PresentTable) table = present_table_new ();
  g_autofree char *text = NULL;

  present_table_add_column (table, "criterion", PRESENT_ALIGN_LEFT);
  present_table_add_column (table, "n", PRESENT_ALIGN_RIGHT);
  present_table_add_row (table, (const char *[]){ "lock holds", "60" });
  present_table_add_row (table, (const char *[]){ "play", NULL });
  text = present_table_to_text (table, 100);
  g_assert_cmpstr (text, ==,
                   "criterion    n\n"
                   "----------  --\n"
                   "lock holds  60\n"
                   "play\n");
}

static void
test_table_shrinks (void)
{
  g_autoptr(PresentTable) table = present_table_new ();
  g_autofree char *text = NULL;

  present_table_add_column (table, "code", PRESENT_ALIGN_LEFT);
  present_table_add_column (table, "what it says", PRESENT_ALIGN_LEFT);
  present_table_add_column (table, "n", PRESENT_ALIGN_RIGHT);
  present_table_add_row (table, (const char *[]){ "L1", "a sentence much longer than the whole table may be", "60" });
  text = present_table_to_text (table, 30);
  check_width (text, 30);
  g_assert_nonnull (strstr (text, "60"));
  g_assert_nonnull (strstr (text, "may be"));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/present/text/control-characters-are-shown", test_escape);
  g_test_add_func ("/present/text/columns-follow-the-terminal", test_columns);
  g_test_add_func ("/present/text/sentences-wrap-at-spaces", test_wrap);
  g_test_add_func ("/present/text/tables-are-aligned", test_table);
  g_test_add_func ("/present/text/tables-shrink-to-the-width", test_table_shrinks);
  return g_test_run ();
}
