/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cells that a person mends, one over the other, and how they are taken back. See exchange-look-private.h. */
#include "config.h"

#include "exchange-look-private.h"

#include "exchange-sheet.h"

#include <glib/gi18n-lib.h>

#define MOST_LETTERS 24 /* of a cell, in a sentence about it */

static void
mend_clear (gpointer data)
{
  ExchangeLookMend *mend = data;

  g_free (mend->before);
  g_free (mend->after);
}

GArray *
exchange_look_mends_new (void)
{
  GArray *mends = g_array_new (FALSE, FALSE, sizeof (ExchangeLookMend));

  g_array_set_clear_func (mends, mend_clear);
  return mends;
}

void
exchange_look_forget_mends (ExchangeLook *self)
{
  g_array_set_size (self->mends, 0);
  self->n_mends = 0;
}

static gpointer
place_of (const ExchangeLook *self, guint row, guint column)
{
  gsize place = (gsize) exchange_look_text_row (self, row) * self->text->grid->n_columns + column;

  return GSIZE_TO_POINTER (place + 1);
}

/* Row and column of the text that a place means. */
static guint
text_place (const ExchangeLook *self, gpointer place, guint *column)
{
  gsize at = GPOINTER_TO_SIZE (place) - 1;

  *column = (guint) (at % self->text->grid->n_columns);
  return (guint) (at / self->text->grid->n_columns);
}

/* The row of the look that has a place; the number of rows where none has: it gives the heads now. */
static guint
find_row (const ExchangeLook *self, gpointer place, guint *column)
{
  guint at = text_place (self, place, column);
  guint row = 0;

  while (row < self->rows->len && exchange_look_text_row (self, row) != at)
    row++;
  return row;
}

const char *
exchange_look_get_cell (const ExchangeLook *self, guint row, guint column)
{
  const char *mended = g_hash_table_lookup (self->edits, place_of (self, row, column));

  return mended != NULL ? mended : exchange_grid_cell (self->text->grid, exchange_look_text_row (self, row), column);
}

/* What was taken back before is gone, as after any typing. */
void
exchange_look_set_cell (ExchangeLook *self, guint row, guint column, const char *text)
{
  const char *before = exchange_look_get_cell (self, row, column);
  ExchangeLookMend mend;

  if (g_str_equal (before, text))
    return;
  mend = (ExchangeLookMend){ place_of (self, row, column), g_strdup (before), g_strdup (text) };
  g_array_set_size (self->mends, self->n_mends);
  g_array_append_val (self->mends, mend);
  self->n_mends++;
  g_hash_table_insert (self->edits, mend.place, g_strdup (text));
}

static const ExchangeLookMend *
next_mend (const ExchangeLook *self, gboolean again)
{
  if (again ? self->n_mends == self->mends->len : self->n_mends == 0)
    return NULL;
  return &g_array_index (self->mends, ExchangeLookMend, again ? self->n_mends : self->n_mends - 1);
}

gboolean
exchange_look_can_reverse (const ExchangeLook *self, gboolean again)
{
  return next_mend (self, again) != NULL;
}

char *
exchange_look_dup_reversal (const ExchangeLook *self, gboolean again)
{
  const ExchangeLookMend *mend = next_mend (self, again);
  g_autofree char *text = NULL, *letter = NULL;
  const char *head, *end;
  guint column, line;

  if (mend == NULL)
    return NULL;
  line = self->text->grid->lines[text_place (self, mend->place, &column)];
  head = exchange_look_get_head (self, column);
  letter = *head != '\0' ? g_strdup (head) : exchange_sheet_place (-1, (int) column);
  if (*mend->after == '\0')
    /* Translators: what was done to a cell: the head of its column, and the line it stands in */
    return g_strdup_printf (_("cell emptied under %s in line %u"), letter, line);
  end = g_utf8_strlen (mend->after, -1) > MOST_LETTERS ? g_utf8_offset_to_pointer (mend->after, MOST_LETTERS) : NULL;
  text = end != NULL ? g_strdup_printf ("%.*s…", (int) (end - mend->after), mend->after) : g_strdup (mend->after);
  /* Translators: what was typed into a cell, the head of its column, and the line it stands in */
  return g_strdup_printf (_("'%s' under %s in line %u"), text, letter, line);
}

gboolean
exchange_look_reverse (ExchangeLook *self, gboolean again, guint *row, guint *column)
{
  const ExchangeLookMend *mend = next_mend (self, again);

  if (mend == NULL)
    return FALSE;
  g_hash_table_insert (self->edits, mend->place, g_strdup (again ? mend->after : mend->before));
  self->n_mends = again ? self->n_mends + 1 : self->n_mends - 1;
  *row = find_row (self, mend->place, column);
  return TRUE;
}
