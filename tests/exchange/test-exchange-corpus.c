/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a fuzzer is asked, without the fuzzer: each kept input as it is, then changed at random places by a fixed key.
 * Linked with one of fuzz-csv.c and fuzz-sheet.c; the name of the corpus is the argument after the options.
 */
#include <gio/gio.h>
#include <stdint.h>
#include <string.h>

#define RUNS 3000
#define SHOWN_MOST 300 /* letters of an input that the log shows */

int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);

/* A line of the corpus, in which \xHH stands for a byte. */
static GByteArray *
from_line (const char *line)
{
  GByteArray *bytes = g_byte_array_new ();

  for (const char *at = line; *at != '\0'; at++)
    {
      guint8 byte = (guint8) *at;

      if (*at == '\\')
        {
          g_assert_true (at[1] == 'x' && g_ascii_isxdigit (at[2]) && g_ascii_isxdigit (at[3]));
          byte = (guint8) (g_ascii_xdigit_value (at[2]) << 4 | g_ascii_xdigit_value (at[3]));
          at += 3;
        }
      g_byte_array_append (bytes, &byte, 1);
    }
  return bytes;
}

/* Into memory of its own size, so that the sanitizers see a byte read beyond it. */
static void
ask (const guint8 *data, guint size)
{
  g_autofree guint8 *copy = g_memdup2 (data, size);
  GString *shown = g_string_new (NULL);

  for (guint i = 0; i < size && shown->len < SHOWN_MOST; i++)
    if (g_ascii_isprint (data[i]) && data[i] != '\\')
      g_string_append_c (shown, (char) data[i]);
    else
      g_string_append_printf (shown, "\\x%02x", data[i]);
  g_test_message ("%s", shown->str); /* the last one told is the one that breaks */
  g_string_free (shown, TRUE);
  LLVMFuzzerTestOneInput (copy, size);
}

static guint
below (GRand *random, guint bound)
{
  return bound == 0 ? 0 : (guint) g_rand_int_range (random, 0, (gint32) bound);
}

/* Overwrites a byte, takes a piece out, or puts in a piece of another input. */
static void
mutate (GByteArray *bytes, const GByteArray *other, GRand *random)
{
  guint place = below (random, bytes->len);
  guint size = 1 + below (random, 16);

  switch (below (random, 3))
    {
    case 0:
      if (bytes->len > 0)
        bytes->data[place] = (guint8) below (random, 256);
      break;
    case 1:
      g_byte_array_remove_range (bytes, place, MIN (size, bytes->len - place));
      break;
    default:
      {
        guint from = below (random, other->len);
        g_autoptr(GByteArray) rest = g_byte_array_new ();

        if (place < bytes->len)
          g_byte_array_append (rest, bytes->data + place, bytes->len - place);
        g_byte_array_set_size (bytes, place);
        if (from < other->len)
          g_byte_array_append (bytes, other->data + from, MIN (size, other->len - from));
        if (rest->len > 0)
          g_byte_array_append (bytes, rest->data, rest->len);
      }
    }
}

static void
test_corpus (gconstpointer name)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", (const char *) name, NULL);
  g_autoptr(GPtrArray) inputs = g_ptr_array_new_with_free_func ((GDestroyNotify) g_byte_array_unref);
  g_autoptr(GRand) random = g_rand_new_with_seed (17);
  g_autoptr(GError) error = NULL;
  g_autofree char *all = NULL;
  g_auto(GStrv) lines = NULL;

  g_file_get_contents (path, &all, NULL, &error);
  g_assert_no_error (error);
  lines = g_strsplit (all, "\n", -1);
  for (guint i = 0; lines[i] != NULL && (lines[i + 1] != NULL || lines[i][0] != '\0'); i++)
    g_ptr_array_add (inputs, from_line (lines[i]));
  g_assert_cmpuint (inputs->len, >, 10);

  for (guint i = 0; i < RUNS; i++)
    {
      const GByteArray *kept = inputs->pdata[i % inputs->len];
      g_autoptr(GByteArray) bytes = g_byte_array_new ();

      g_byte_array_append (bytes, kept->data, kept->len);
      if (i >= inputs->len)
        for (guint k = 1 + below (random, 4); k > 0; k--)
          mutate (bytes, inputs->pdata[below (random, inputs->len)], random);
      ask (bytes->data, bytes->len);
    }
}

int
main (int argc, char **argv)
{
  g_autofree char *path = NULL, *name = NULL;

  g_test_init (&argc, &argv, NULL);
  g_assert_cmpint (argc, ==, 2);
  path = g_strdup_printf ("/exchange/%s/answers-whatever-bytes-it-gets", argv[1]);
  name = g_strdup_printf ("%s-corpus.txt", argv[1]);
  g_test_add_data_func (path, name, test_corpus);
  return g_test_run ();
}
