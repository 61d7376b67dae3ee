/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What was frozen has to be read by every later program. The kept document (tests/data/frozen-evidence-1.json) was written by
 * 'release --json' and is never made anew: a program that cannot read it any more is wrong, not the document.
 */
#include "config.h"

#include <math.h>
#include <string.h>

#include "present-freeze.h"

#define KEPT "dd592a04143f21e5bc15627bbd663453c40b5cc2405a5eb915552e194f8c0188"

static char *
read_kept (gsize *length)
{
  g_autoptr(GError) error = NULL;
  char *text;

  g_file_get_contents (g_getenv ("FETTLE_FROZEN"), &text, length, &error);
  g_assert_no_error (error);
  return text;
}

static void
test_kept (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PresentFrozen) frozen = NULL;
  g_autoptr(GBytes) document = NULL;
  g_autofree char *sum = NULL;
  const PresentFrozenCriterion *first, *second;
  gsize length;
  char *text = read_kept (&length);

  document = g_bytes_new_take (text, length);
  sum = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, document);
  g_assert_cmpstr (sum, ==, KEPT);
  frozen = present_frozen_read (document, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (frozen->gate, ==, "Release");
  g_assert_cmpstr (frozen->today, ==, "2026-03-10");
  g_assert_cmpstr (frozen->headline, ==, "1 of 2 met, 1 blocks");
  g_assert_cmpint (frozen->place, ==, 1);
  g_assert_cmpuint (strlen (frozen->head), ==, 64);
  g_assert_cmpuint (frozen->criteria->len, ==, 2);
  first = frozen->criteria->pdata[0];
  second = frozen->criteria->pdata[1];
  if (!g_str_equal (first->code, "C1"))
    {
      first = frozen->criteria->pdata[1];
      second = frozen->criteria->pdata[0];
    }
  /* twenty-two without a failure: 1 - share^22; NIST/SEMATECH Handbook 7.2.4.1, the exact binomial */
  g_assert_cmpstr (first->state, ==, "met");
  g_assert_cmpint (first->n, ==, 22);
  g_assert_cmpfloat_with_epsilon (first->confidence, 1.0 - pow (0.90, 22), 1e-9);
  g_assert_cmpstr (second->code, ==, "C2");
  g_assert_cmpstr (second->state, !=, "met");
  g_assert_cmpfloat_with_epsilon (second->confidence, 1.0 - pow (0.95, 22), 1e-9);
}

/* What is cut off, is something else, or is of a newer program is refused with a sentence. */
static void
test_refused (void)
{
  static const char *const changes[][2] = {
    { "\"fettle-evidence\"", "\"something-else\"" },
    { "\"version\": 1,\n  \"program\"", "\"version\": 999,\n  \"program\"" },
  };
  gsize length;
  g_autofree char *text = read_kept (&length);
  g_autoptr(GBytes) half = g_bytes_new (text, length / 2);
  g_autoptr(GError) error = NULL;

  g_assert_null (present_frozen_read (half, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA);
  for (guint i = 0; i < G_N_ELEMENTS (changes); i++)
    {
      g_autoptr(GString) other = g_string_new_len (text, (gssize) length);
      g_autoptr(GBytes) bytes = NULL;
      g_autoptr(GError) refused = NULL;

      g_assert_cmpuint (g_string_replace (other, changes[i][0], changes[i][1], 1), ==, 1);
      bytes = g_bytes_new (other->str, other->len);
      g_assert_null (present_frozen_read (bytes, &refused));
      g_assert_error (refused, G_IO_ERROR, G_IO_ERROR_INVALID_DATA);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/present/frozen/a-kept-document-stays-readable", test_kept);
  g_test_add_func ("/present/frozen/what-is-no-such-document-is-refused", test_refused);
  return g_test_run ();
}
