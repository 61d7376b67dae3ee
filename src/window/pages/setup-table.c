/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "setup-table.h"

#define LETTERS_LEAST 4
#define LETTERS_MOST  26
#define GROWING_MOST  14 /* of the column that takes what is left of the width */
#define LETTER_WIDTH  8  /* about, in pixels: from it follows which columns a narrow table leaves out */
#define HEAD_LETTER   7
#define CELL_SIDES    24
#define NARROW_WIDTH  560 /* of the table in a small window */

static gboolean
is_number (const BookField *field)
{
  switch (field->kind)
    {
    case BOOK_KIND_INTEGER:
    case BOOK_KIND_REAL:
    case BOOK_KIND_SHARE:
    case BOOK_KIND_MONEY:
      return TRUE;
    case BOOK_KIND_TEXT:
    case BOOK_KIND_LONG_TEXT:
    case BOOK_KIND_DATE:
    case BOOK_KIND_MOMENT:
    case BOOK_KIND_BOOLEAN:
    case BOOK_KIND_CHOICE:
    case BOOK_KIND_REFERENCE:
    case BOOK_KIND_RECORD:
    case BOOK_KIND_ANY:
    case BOOK_KIND_CONTENT:
      return FALSE;
    }
  g_assert_not_reached ();
}

static guint
widest (const BookSetup *setup, guint column)
{
  glong most = LETTERS_LEAST;

  for (guint i = 0; i < setup->rows->len; i++)
    most = MAX (most, g_utf8_strlen (((const BookSetupRow *) setup->rows->pdata[i])->cells[column], -1));
  return (guint) MIN (most, LETTERS_MOST);
}

/* About, in pixels. */
static int
width_of (const FettleTableColumn *column)
{
  return MAX ((int) column->letters * LETTER_WIDTH, (int) g_utf8_strlen (column->title, -1) * HEAD_LETTER) + CELL_SIDES;
}

/* The column that can use more room than it has: the widest of the texts that a small window still shows. */
static guint
find_growing (const BookField *const *fields, const FettleTableColumn *columns, guint n)
{
  guint best = 0;
  int before = 0;

  for (guint i = 0; i < n && before + GROWING_MOST * LETTER_WIDTH + CELL_SIDES <= NARROW_WIDTH; before += width_of (&columns[i++]))
    if ((fields[i]->kind == BOOK_KIND_TEXT || fields[i]->kind == BOOK_KIND_LONG_TEXT || fields[i]->kind == BOOK_KIND_REFERENCE)
        && (columns[i].letters > columns[best].letters || is_number (fields[best])))
      best = i;
  return best;
}

/**
 * fettle_setup_table_new:
 * @record: what kind
 * @setup: with its rows
 *
 * Returns: (transfer full): a source with these rows; columns stay as wide as these need
 */
FettleTextSource *
fettle_setup_table_new (const BookRecord *record, const BookSetup *setup)
{
  const BookField *fields[BOOK_MAX_FIELDS];
  FettleTableColumn columns[BOOK_MAX_FIELDS];
  guint n = book_setup_columns (record, fields), growing;
  const char *units[BOOK_MAX_FIELDS];
  gboolean any = FALSE;
  FettleTextSource *source;
  int all = 0;

  for (guint i = 0; i < n; i++)
    {
      columns[i] = (FettleTableColumn){ .title = book_field_label (fields[i]), .letters = widest (setup, i),
                                        .number = is_number (fields[i]) };
      units[i] = book_field_unit (fields[i]) != NULL ? book_field_unit (fields[i]) : "";
      any |= units[i][0] != '\0';
    }
  growing = find_growing (fields, columns, n);
  columns[growing].grows = TRUE;
  columns[growing].letters = MIN (columns[growing].letters, GROWING_MOST);
  for (guint i = 0; i < n; i++)
    {
      all += width_of (&columns[i]);
      columns[i].least_width = i == 0 ? 0 : all;
    }
  source = fettle_text_source_new (columns, n);
  if (any)
    fettle_text_source_set_units (source, units);
  fettle_setup_table_fill (source, setup);
  return source;
}

void
fettle_setup_table_fill (FettleTextSource *source, const BookSetup *setup)
{
  fettle_text_source_clear (source);
  for (guint i = 0; i < setup->rows->len; i++)
    {
      const BookSetupRow *row = setup->rows->pdata[i];

      fettle_text_source_add (source, row->id, FETTLE_TONE_INK, (const char *const *) row->cells);
    }
  fettle_text_source_show (source);
}
