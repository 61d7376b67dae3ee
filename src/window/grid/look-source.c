/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "look-source.h"

#include <glib/gi18n.h>

#include "sheet-source.h"

#define LETTERS_LEAST 17 /* so that the choice above has room */
#define LETTERS_MOST 26
#define STATE_LETTERS 9
#define WORDS_LETTERS 44
#define ROWS_MEASURED 200

enum
{
  SIGNAL_MENDED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

struct _FettleLookSource
{
  GObject parent_instance;

  ExchangeLook             *look;   /* the page's, which drops this source before it */
  const ExchangeLookAnswer *answer; /* the page's; NULL: not known */
  GArray                   *columns; /* of FettleTableColumn: the state, the cells, the words */
  GPtrArray                *titles;
  GArray                   *rows; /* of guint: rows of the look that are shown, in order */
  int                       filter;
  gboolean                  frozen;
};

static void fettle_look_source_table_init (FettleTableSourceInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleLookSource, fettle_look_source, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_TABLE_SOURCE, fettle_look_source_table_init))

static const char *
state_word (ExchangeLookState state)
{
  static const char *const words[EXCHANGE_LOOK_N_STATES] = {
    [EXCHANGE_LOOK_NEW] = N_("new"),
    [EXCHANGE_LOOK_CHANGED] = N_("changed"),
    [EXCHANGE_LOOK_EQUAL] = N_("equal"),
    [EXCHANGE_LOOK_REFUSED] = N_("refused"),
  };

  return _(words[state]);
}

static guint
look_row (FettleLookSource *self, guint row)
{
  return g_array_index (self->rows, guint, row);
}

static const FettleTableColumn *
fettle_look_source_columns (FettleTableSource *source, guint *n_columns)
{
  FettleLookSource *self = FETTLE_LOOK_SOURCE (source);

  *n_columns = self->columns->len;
  return (const FettleTableColumn *) (void *) self->columns->data;
}

static guint
fettle_look_source_n_rows (FettleTableSource *source)
{
  return FETTLE_LOOK_SOURCE (source)->rows->len;
}

static FettleTableTone
tone_of (FettleLookSource *self, guint at, guint column)
{
  ExchangeLookState state;

  if (self->answer == NULL || exchange_look_get_column (self->look, column) < 0)
    return exchange_look_get_column (self->look, column) < 0 ? FETTLE_TONE_FAINT : FETTLE_TONE_INK;
  state = exchange_look_answer_state (self->answer, at);
  if (exchange_look_answer_is_wrong (self->look, self->answer, at, column))
    return FETTLE_TONE_OPEN;
  if (exchange_look_answer_old (self->look, self->answer, at, column) != NULL)
    return FETTLE_TONE_TYPED;
  return state == EXCHANGE_LOOK_EQUAL ? FETTLE_TONE_FAINT : FETTLE_TONE_INK;
}

static char *
fettle_look_source_dup_text (FettleTableSource *source, guint row, guint column, FettleTableTone *tone, gboolean *pending)
{
  FettleLookSource *self = FETTLE_LOOK_SOURCE (source);
  guint at = look_row (self, row);
  gboolean is_refused = self->answer != NULL && exchange_look_answer_state (self->answer, at) == EXCHANGE_LOOK_REFUSED;

  if (column == 0)
    {
      *tone = is_refused ? FETTLE_TONE_OPEN : FETTLE_TONE_INK;
      return g_strdup (self->answer != NULL ? state_word (exchange_look_answer_state (self->answer, at)) : "…");
    }
  if (column + 1 == self->columns->len)
    {
      *tone = is_refused ? FETTLE_TONE_OPEN : FETTLE_TONE_FAINT;
      return self->answer != NULL ? exchange_look_answer_words (self->look, self->answer, at) : g_strdup ("");
    }
  *tone = tone_of (self, at, column - 1);
  return g_strdup (exchange_look_get_cell (self->look, at, column - 1));
}

static gboolean
fettle_look_source_editable (FettleTableSource *source, guint row, guint column)
{
  FettleLookSource *self = FETTLE_LOOK_SOURCE (source);

  return !self->frozen && column > 0 && column + 1 < self->columns->len;
}

/* Any text may stand in a cell: what is wrong with it is said when the rows are asked about again. */
static char *
fettle_look_source_commit (FettleTableSource *source, guint row, guint column, const char *text)
{
  FettleLookSource *self = FETTLE_LOOK_SOURCE (source);
  g_autofree char *tidy = g_strstrip (g_strdup (text));

  exchange_look_set_cell (self->look, look_row (self, row), column - 1, tidy);
  g_signal_emit (self, signals[SIGNAL_MENDED], 0);
  return NULL;
}

static char *
fettle_look_source_describe (FettleTableSource *source, guint row, guint column)
{
  FettleLookSource *self = FETTLE_LOOK_SOURCE (source);
  g_autofree char *words = fettle_look_source_dup_words (self, row);

  if (column == 0 || column + 1 == self->columns->len)
    return g_steal_pointer (&words);
  /* Translators: the name of a column, a cell, and what is said about its row */
  return g_strdup_printf (_("%s: %s. %s"), (const char *) self->titles->pdata[column],
                          exchange_look_get_cell (self->look, look_row (self, row), column - 1), words);
}

static gint64
fettle_look_source_get_key (FettleTableSource *source, guint row)
{
  FettleLookSource *self = FETTLE_LOOK_SOURCE (source);

  return row < self->rows->len ? (gint64) exchange_look_get_line (self->look, look_row (self, row)) + 1 : 0;
}

static gboolean
fettle_look_source_find (FettleTableSource *source, gint64 key, guint *row)
{
  FettleLookSource *self = FETTLE_LOOK_SOURCE (source);
  guint low = 0, high = self->rows->len;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;

      if (fettle_look_source_get_key (source, middle) < key)
        low = middle + 1;
      else
        high = middle;
    }
  *row = low;
  return fettle_look_source_get_key (source, low) == key;
}

static void
fettle_look_source_table_init (FettleTableSourceInterface *iface)
{
  iface->columns = fettle_look_source_columns;
  iface->n_rows = fettle_look_source_n_rows;
  iface->dup_text = fettle_look_source_dup_text;
  iface->editable = fettle_look_source_editable;
  iface->commit = fettle_look_source_commit;
  iface->describe = fettle_look_source_describe;
  iface->get_key = fettle_look_source_get_key;
  iface->find = fettle_look_source_find;
}

static void
fettle_look_source_finalize (GObject *object)
{
  FettleLookSource *self = FETTLE_LOOK_SOURCE (object);

  g_array_unref (self->columns);
  g_ptr_array_unref (self->titles);
  g_array_unref (self->rows);

  G_OBJECT_CLASS (fettle_look_source_parent_class)->finalize (object);
}

static void
fettle_look_source_class_init (FettleLookSourceClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = fettle_look_source_finalize;

  signals[SIGNAL_MENDED] = g_signal_new ("mended", FETTLE_TYPE_LOOK_SOURCE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                         G_TYPE_NONE, 0);
}

static void
fettle_look_source_init (FettleLookSource *self)
{
  self->columns = g_array_new (FALSE, TRUE, sizeof (FettleTableColumn));
  self->titles = g_ptr_array_new_with_free_func (g_free);
  self->rows = g_array_new (FALSE, FALSE, sizeof (guint));
  self->filter = FETTLE_LOOK_ALL;
}

static guint
letters_of (ExchangeLook *look, guint column)
{
  guint most = LETTERS_LEAST;

  for (guint row = 0; row < MIN (exchange_look_count_rows (look), ROWS_MEASURED); row++)
    most = MAX (most, (guint) g_utf8_strlen (exchange_look_get_cell (look, row, column), -1));
  return MIN (most, LETTERS_MOST);
}

static void
add_column (FettleLookSource *self, char *title, guint letters, gboolean number, gboolean grows)
{
  FettleTableColumn column = { title, letters, number, grows, 0 };

  g_ptr_array_add (self->titles, title);
  g_array_append_val (self->columns, column);
}

static gboolean
is_number (FettleLookSource *self, guint column)
{
  int field = exchange_look_get_column (self->look, column);
  BookKind kind = field >= 0 ? exchange_look_get_field (self->look, (guint) field)->leaf->kind : BOOK_KIND_TEXT;

  return kind == BOOK_KIND_INTEGER || kind == BOOK_KIND_REAL || kind == BOOK_KIND_SHARE || kind == BOOK_KIND_MONEY;
}

static void
list_columns (FettleLookSource *self)
{
  g_array_set_size (self->columns, 0);
  g_ptr_array_set_size (self->titles, 0);
  add_column (self, g_strdup (_("Row is")), STATE_LETTERS, FALSE, FALSE);
  for (guint i = 0; i < exchange_look_count_columns (self->look); i++)
    {
      const char *head = exchange_look_get_head (self->look, i);

      add_column (self, *head != '\0' ? g_strdup (head) : fettle_sheet_letter (i), letters_of (self->look, i), is_number (self, i),
                  FALSE);
    }
  add_column (self, g_strdup (_("Because")), WORDS_LETTERS, FALSE, TRUE);
}

static void
list_rows (FettleLookSource *self)
{
  guint n = exchange_look_count_rows (self->look);

  g_array_set_size (self->rows, 0);
  for (guint row = 0; row < n; row++)
    if (self->filter == FETTLE_LOOK_ALL || self->answer == NULL
        || exchange_look_answer_state (self->answer, row) == (ExchangeLookState) self->filter)
      g_array_append_val (self->rows, row);
}

static int
compare_rows (gconstpointer a, gconstpointer b)
{
  guint left = *(const guint *) a, right = *(const guint *) b;

  return left < right ? -1 : left > right;
}

void
fettle_look_source_take (FettleLookSource *self, const ExchangeLookAnswer *answer, gboolean stay)
{
  self->answer = answer;
  if (stay)
    {
      fettle_table_source_rows_changed (FETTLE_TABLE_SOURCE (self));
      return;
    }
  list_columns (self);
  list_rows (self);
  fettle_table_source_reset (FETTLE_TABLE_SOURCE (self));
}

void
fettle_look_source_set_filter (FettleLookSource *self, int filter)
{
  self->filter = filter;
  list_rows (self);
  fettle_table_source_reset (FETTLE_TABLE_SOURCE (self));
}

gboolean
fettle_look_source_find_row (FettleLookSource *self, guint look_row, guint *row)
{
  return g_array_binary_search (self->rows, &look_row, compare_rows, row);
}

void
fettle_look_source_set_frozen (FettleLookSource *self, gboolean frozen)
{
  self->frozen = frozen;
}

char *
fettle_look_source_dup_words (FettleLookSource *self, guint row)
{
  g_autofree char *words = NULL;
  guint at;

  if (row >= self->rows->len)
    return g_strdup ("");
  at = look_row (self, row);
  if (self->answer == NULL)
    return g_strdup_printf (_("Line %u"), exchange_look_get_line (self->look, at));
  words = exchange_look_answer_words (self->look, self->answer, at);
  if (*words == '\0')
    /* Translators: a line of a file and what becomes of it: 'Line 12, equal' */
    return g_strdup_printf (_("Line %u, %s"), exchange_look_get_line (self->look, at),
                            state_word (exchange_look_answer_state (self->answer, at)));
  /* Translators: a line of a file, what becomes of it, and why: 'Line 12, refused. Unit: there is no unit …' */
  return g_strdup_printf (_("Line %u, %s. %s"), exchange_look_get_line (self->look, at),
                          state_word (exchange_look_answer_state (self->answer, at)), words);
}

/**
 * fettle_look_source_new:
 * @look: the rows, which must outlive what is shown of them
 *
 * Returns: (transfer full): the rows as a table
 */
FettleLookSource *
fettle_look_source_new (ExchangeLook *look)
{
  FettleLookSource *self = g_object_new (FETTLE_TYPE_LOOK_SOURCE, NULL);

  self->look = look;
  list_columns (self);
  list_rows (self);
  return self;
}
