/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "sheet-source.h"

#include <glib/gi18n.h>
#include <string.h>

#define LETTERS_LEAST 9 /* so that the heading fits */
#define LETTERS_MOST 18
#define ROLE_LETTERS 12

struct _FettleSheetSource
{
  GObject parent_instance;

  ExchangeSheet *sheet;   /* the page's, which drops this source before it */
  GArray        *columns; /* of FettleTableColumn; the first says what each row was taken for */
  GPtrArray     *titles;
  GHashTable    *marked; /* places with a problem: row * columns + column, plus one */
};

static void fettle_sheet_source_table_init (FettleTableSourceInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleSheetSource, fettle_sheet_source, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_TABLE_SOURCE, fettle_sheet_source_table_init))

static const FettleTableColumn *
fettle_sheet_source_columns (FettleTableSource *source, guint *n_columns)
{
  FettleSheetSource *self = FETTLE_SHEET_SOURCE (source);

  *n_columns = self->columns->len;
  return (const FettleTableColumn *) (void *) self->columns->data;
}

static guint
fettle_sheet_source_n_rows (FettleTableSource *source)
{
  return exchange_sheet_count_rows (FETTLE_SHEET_SOURCE (source)->sheet);
}

static gpointer
place (FettleSheetSource *self, guint row, guint column)
{
  return GUINT_TO_POINTER (row * exchange_sheet_count_columns (self->sheet) + column + 1);
}

static char *
fettle_sheet_source_dup_text (FettleTableSource *source, guint row, guint column, FettleTableTone *tone, gboolean *pending)
{
  FettleSheetSource *self = FETTLE_SHEET_SOURCE (source);
  const ExchangeSheetRow *kind = exchange_sheet_get_row (self->sheet, row);

  if (column == 0)
    {
      *tone = FETTLE_TONE_FAINT;
      return g_strdup (exchange_row_role_label (kind->role));
    }
  if (g_hash_table_contains (self->marked, place (self, row, column - 1)))
    *tone = FETTLE_TONE_OPEN;
  else if (kind->role != EXCHANGE_ROW_DATA ||
           exchange_sheet_get_column (self->sheet, column - 1)->role == EXCHANGE_COLUMN_LEFT_OUT)
    *tone = FETTLE_TONE_FAINT;
  return g_strdup (exchange_sheet_get_cell (self->sheet, row, column - 1));
}

static gboolean
fettle_sheet_source_editable (FettleTableSource *source, guint row, guint column)
{
  return FALSE;
}

static char *
fettle_sheet_source_commit (FettleTableSource *source, guint row, guint column, const char *text)
{
  return g_strdup (_("The sheet itself is not changed here."));
}

static char *
fettle_sheet_source_describe (FettleTableSource *source, guint row, guint column)
{
  FettleSheetSource *self = FETTLE_SHEET_SOURCE (source);
  const ExchangeSheetRow *kind = exchange_sheet_get_row (self->sheet, row);
  g_autofree char *where = column > 0 ? exchange_sheet_place ((int) row, (int) column - 1) : NULL;

  if (column == 0)
    return g_strdup_printf ("%s: %s", exchange_row_role_label (kind->role), kind->reason);
  return g_strdup_printf ("%s: %s", where, exchange_sheet_get_cell (self->sheet, row, column - 1));
}

static void
fettle_sheet_source_table_init (FettleTableSourceInterface *iface)
{
  iface->columns = fettle_sheet_source_columns;
  iface->n_rows = fettle_sheet_source_n_rows;
  iface->dup_text = fettle_sheet_source_dup_text;
  iface->editable = fettle_sheet_source_editable;
  iface->commit = fettle_sheet_source_commit;
  iface->describe = fettle_sheet_source_describe;
}

static void
fettle_sheet_source_finalize (GObject *object)
{
  FettleSheetSource *self = FETTLE_SHEET_SOURCE (object);

  g_array_unref (self->columns);
  g_ptr_array_unref (self->titles);
  g_hash_table_unref (self->marked);

  G_OBJECT_CLASS (fettle_sheet_source_parent_class)->finalize (object);
}

static void
fettle_sheet_source_class_init (FettleSheetSourceClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = fettle_sheet_source_finalize;
}

static void
fettle_sheet_source_init (FettleSheetSource *self)
{
  self->columns = g_array_new (FALSE, TRUE, sizeof (FettleTableColumn));
  self->titles = g_ptr_array_new_with_free_func (g_free);
  self->marked = g_hash_table_new (NULL, NULL);
}

/* Wide enough for most of a column's readings; a head may be cut. */
static guint
letters_of (ExchangeSheet *sheet, guint column)
{
  guint most = LETTERS_LEAST;

  for (guint row = 0; row < MIN (exchange_sheet_count_rows (sheet), 200); row++)
    if (exchange_sheet_get_row (sheet, row)->role != EXCHANGE_ROW_TITLE)
      most = MAX (most, (guint) g_utf8_strlen (exchange_sheet_get_cell (sheet, row, column), -1));
  return MIN (most, LETTERS_MOST);
}

static void
add_column (FettleSheetSource *self, char *title, guint letters, gboolean number)
{
  FettleTableColumn column = { title, letters, number, FALSE, 0 };

  g_ptr_array_add (self->titles, title);
  g_array_append_val (self->columns, column);
}

/**
 * fettle_sheet_source_understood:
 * @self: a source
 *
 * The sheet was understood anew: columns, rows and problems are asked for again.
 */
void
fettle_sheet_source_understood (FettleSheetSource *self)
{
  g_array_set_size (self->columns, 0);
  g_ptr_array_set_size (self->titles, 0);
  g_hash_table_remove_all (self->marked);

  add_column (self, g_strdup (_("Row is")), ROLE_LETTERS, FALSE);
  for (guint i = 0; i < exchange_sheet_count_columns (self->sheet); i++)
    add_column (self, fettle_sheet_letter (i), letters_of (self->sheet, i),
                exchange_sheet_get_column (self->sheet, i)->role == EXCHANGE_COLUMN_MEASURED);
  for (guint i = 0; i < exchange_sheet_count_remarks (self->sheet); i++)
    {
      const ExchangeSheetRemark *remark = exchange_sheet_get_remark (self->sheet, i);

      if (remark->kind == EXCHANGE_REMARK_PROBLEM && remark->row >= 0 && remark->column >= 0)
        g_hash_table_add (self->marked, place (self, (guint) remark->row, (guint) remark->column));
    }
  fettle_table_source_reset (FETTLE_TABLE_SOURCE (self));
}

/**
 * fettle_sheet_source_new:
 * @sheet: the sheet, which must outlive what is shown of it
 *
 * Returns: (transfer full): the sheet as a table
 */
FettleSheetSource *
fettle_sheet_source_new (ExchangeSheet *sheet)
{
  FettleSheetSource *self = g_object_new (FETTLE_TYPE_SHEET_SOURCE, NULL);

  self->sheet = sheet;
  fettle_sheet_source_understood (self);
  return self;
}

/**
 * fettle_sheet_letter:
 * @column: from 0
 *
 * Returns: (transfer full): what a spreadsheet calls the column: 'C'
 */
char *
fettle_sheet_letter (guint column)
{
  char *place = exchange_sheet_place (0, (int) column); /* 'C1' */

  place[strcspn (place, "0123456789")] = '\0';
  return place;
}
