/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE /* memmem() */
#include "config.h"

#include "paper-pdf.h"

#include <stdlib.h>
#include <string.h>

#define ENTRY_LENGTH 20 /* bytes of an entry of the table of objects (ISO 32000-1, 7.5.4) */
#define TAIL_LENGTH  64 /* bytes that hold the last mention of the table */
#define FREE_ENTRY   "0000000000 65535 f"

/* Where the table of objects begins, by the number at the end of the file; NULL: it is of another form. */
static char *
find_table (GByteArray *pdf, guint *n_entries)
{
  char *text = (char *) pdf->data;
  gsize tail = MIN (pdf->len, TAIL_LENGTH);
  char *start = memmem (text + pdf->len - tail, tail, "startxref\n", strlen ("startxref\n"));
  guint64 offset = start != NULL ? g_ascii_strtoull (start + strlen ("startxref\n"), NULL, 10) : 0;
  char *table, *end;

  if (offset == 0 || offset + 16 > pdf->len || strncmp (text + offset, "xref\n0 ", 7) != 0)
    return NULL;
  *n_entries = (guint) strtoul (text + offset + 7, &end, 10);
  table = *end == '\n' ? end + 1 : NULL;
  return table != NULL && table + (gsize) *n_entries * ENTRY_LENGTH <= text + pdf->len ? table : NULL;
}

static gboolean
has_object (GByteArray *pdf, const char *entry, guint number)
{
  g_autofree char *head = g_strdup_printf ("%u 0 obj", number);
  guint64 offset = g_ascii_strtoull (entry, NULL, 10);

  return offset + strlen (head) <= pdf->len && strncmp ((const char *) pdf->data + offset, head, strlen (head)) == 0;
}

/* In the lists of links, which are objects that begin with a bracket on a line of its own. */
static void
blank_references (GByteArray *pdf, guint number)
{
  g_autofree char *wanted = g_strdup_printf ("\n  %u 0 R\n", number);
  const char *end = (const char *) pdf->data + pdf->len;
  char *at = (char *) pdf->data;

  while ((at = memmem (at, (gsize) (end - at), " 0 obj\n[\n", 9)) != NULL)
    {
      char *close = memmem (at, (gsize) (end - at), "]", 1);
      char *found = close != NULL ? memmem (at, (gsize) (close - at), wanted, strlen (wanted)) : NULL;

      if (found != NULL)
        memset (found + 1, ' ', strlen (wanted) - 2);
      at += 9;
    }
}

void
paper_pdf_mend (GByteArray *pdf)
{
  guint n_entries = 0;
  char *table;

  g_byte_array_append (pdf, (const guint8 *) "", 1); /* ends what is searched as a text; taken away below */
  table = find_table (pdf, &n_entries);
  for (guint i = 1; table != NULL && i < n_entries; i++)
    {
      char *entry = table + (gsize) i * ENTRY_LENGTH;

      if (entry[17] != 'n' || has_object (pdf, entry, i))
        continue;
      memcpy (entry, FREE_ENTRY, strlen (FREE_ENTRY));
      blank_references (pdf, i);
    }
  g_byte_array_set_size (pdf, pdf->len - 1);
}
