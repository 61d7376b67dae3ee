/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-tally.h"

#include <glib/gi18n-lib.h>

#include "book-edit-private.h"
#include "store-db.h"

typedef struct
{
  gint64        step;
  gint64        round;
  BookTallyKind kind;
  int           n;
} Count;

/* The field that a kind adds to; what waited moves from 'waiting' to it. */
static const char *const count_fields[BOOK_N_TALLY_KINDS] = {
  [BOOK_TALLY_GOOD] = "good_first",       [BOOK_TALLY_REWORKED] = "reworked_good",
  [BOOK_TALLY_WAITING] = "waiting",       [BOOK_TALLY_SCRAPPED] = "scrapped",
  [BOOK_TALLY_WAITING_GOOD] = "reworked_good", [BOOK_TALLY_WAITING_SCRAPPED] = "scrapped",
};

static const char *const messages[BOOK_N_TALLY_KINDS] = {
  [BOOK_TALLY_GOOD] = "tally-good",       [BOOK_TALLY_REWORKED] = "tally-reworked",
  [BOOK_TALLY_WAITING] = "tally-waiting", [BOOK_TALLY_SCRAPPED] = "tally-scrapped",
  [BOOK_TALLY_WAITING_GOOD] = "tally-waiting-good", [BOOK_TALLY_WAITING_SCRAPPED] = "tally-waiting-scrapped",
};

/* The first column of the first row, 0 without one; @found (nullable): whether there is one. */
static gboolean
ask (StoreDb *db, const char *sql, const gint64 *keys, guint n_keys, const char *date, gint64 *value, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean more;

  *value = 0;
  if (statement == NULL)
    return FALSE;
  for (guint i = 0; i < n_keys; i++)
    sqlite3_bind_int64 (statement, (int) i + 1, keys[i]);
  if (date != NULL)
    sqlite3_bind_text (statement, (int) n_keys + 1, date, -1, SQLITE_TRANSIENT);
  if (!store_db_next (db, statement, _("The tallies could not be read"), &more, error))
    return FALSE;
  if (more)
    *value = sqlite3_column_int64 (statement, 0);
  return TRUE;
}

static gboolean
refuse (const char *field, const char *sentence, GError **error)
{
  return book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (book_record (BOOK_RECORD_TALLY), field), sentence);
}

static gboolean
check_place (StoreDb *db, const Count *count, GError **error)
{
  static const char same[] = "SELECT 1 FROM step s JOIN round r ON r.model = s.model WHERE s.id = ?1 AND r.id = ?2";
  static const char decided[] = "SELECT 1 FROM round WHERE id = ?1 AND decided IS NOT NULL";
  /* The events that count at a step: built, passed, sent back, reworked, scrapped, set aside. */
  static const char serials[] = "SELECT 1 FROM unit u JOIN unit_event v ON v.unit = u.id WHERE u.round = ?2 AND v.step = ?1"
                                " AND v.kind IN (1, 2, 3, 4, 6, 10)";
  const gint64 keys[] = { count->step, count->round };
  gint64 found;

  if (!ask (db, same, keys, 2, NULL, &found, error))
    return FALSE;
  if (found == 0)
    return refuse ("step", _("Step and round are not of one model: choose both of the same."), error);
  if (!ask (db, decided, keys + 1, 1, NULL, &found, error))
    return FALSE;
  if (found != 0)
    return refuse ("round", _("The round is decided: choose the one that is running."), error);
  if (!ask (db, serials, keys, 2, NULL, &found, error))
    return FALSE;
  return found == 0
         || refuse ("step", _("The units of this round have serials at this step and are counted by what happens to them; a tally "
                              "would count them twice. Say of each unit what happened, on the Bench page."),
                    error);
}

static gint64
integer (const BookRow *row, const char *field)
{
  return book_row_get (row, field)->integer;
}

/* Of a row that is there: only the counts change. */
static void
keep_rest (const BookRecord *record, BookValue *values)
{
  const BookValue unchanged = { .type = STORE_UNCHANGED };

  book_values_fill (record, values, unchanged);
}

static gboolean
begin_row (const Count *count, StoreAction *action, BookEdit *edit, GError **error)
{
  const BookRecord *record = book_record (BOOK_RECORD_TALLY);
  BookValue values[BOOK_MAX_FIELDS];

  if (count->n < 0)
    return refuse (count_fields[count->kind], _("Nothing was counted here today that could be taken back."), error);
  book_values_begin (record, values);
  book_values_set (record, values, "step", book_value_integer (count->step));
  book_values_set (record, values, "date", book_value_text (edit->today, 10));
  book_values_set (record, values, "person", book_edit_person (action));
  book_values_set (record, values, "round", book_value_integer (count->round));
  book_values_set (record, values, "units_in", book_value_integer (count->n));
  book_values_set (record, values, "good_first", book_value_integer (0));
  book_values_set (record, values, count_fields[count->kind], book_value_integer (count->n));
  return book_edit_store (action, record, values, &edit->id, error);
}

/* What the issues of a tally account for may not be more than what was not good. */
static gboolean
check_losses (StoreDb *db, gint64 tally, gint64 more, gint64 not_good, const char *sentence, GError **error)
{
  static const char sql[] = "SELECT coalesce(sum(units), 0) FROM tally_loss WHERE tally = ?1";
  gint64 named;

  if (!ask (db, sql, &tally, 1, NULL, &named, error))
    return FALSE;
  return named + more <= not_good
         || book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (book_record (BOOK_RECORD_TALLY_LOSS), "units"), sentence);
}

static gint64
not_good (const BookRow *row)
{
  return integer (row, "reworked_good") + integer (row, "waiting") + integer (row, "scrapped");
}

/* Pieces that went in beforehand come out first; what comes out beyond them went in too. */
static gboolean
add_to_row (const Count *count, StoreAction *action, BookEdit *edit, GError **error)
{
  const BookRecord *record = book_record (BOOK_RECORD_TALLY);
  g_autoptr(BookRow) row = book_record_read (store_action_db (action), record, edit->id, error);
  BookValue values[BOOK_MAX_FIELDS];
  gint64 now, out, in;

  if (row == NULL)
    return FALSE;
  now = integer (row, count_fields[count->kind]) + count->n;
  out = integer (row, "good_first") + not_good (row) + count->n;
  in = integer (row, "units_in");
  if (now < 0)
    return refuse (count_fields[count->kind], _("Fewer were counted here today than are to be taken back."), error);
  if (count->n < 0 && count->kind != BOOK_TALLY_GOOD
      && !check_losses (store_action_db (action), edit->id, 0, not_good (row) + count->n,
                        _("An issue is named for them already: undo that first."), error))
    return FALSE;
  keep_rest (record, values);
  book_values_set (record, values, count_fields[count->kind], book_value_integer (now));
  book_values_set (record, values, "units_in", book_value_integer (count->n < 0 ? MAX (in + count->n, out) : MAX (in, out)));
  return book_edit_store (action, record, values, &edit->id, error);
}

static gboolean
move_waiting (const Count *count, StoreAction *action, BookEdit *edit, GError **error)
{
  static const char sql[] = "SELECT id FROM tally WHERE step = ?1 AND round = ?2 AND waiting >= ?3 ORDER BY date, no, id LIMIT 1";
  const BookRecord *record = book_record (BOOK_RECORD_TALLY);
  const gint64 keys[] = { count->step, count->round, count->n };
  g_autoptr(BookRow) row = NULL;
  BookValue values[BOOK_MAX_FIELDS];

  if (!ask (store_action_db (action), sql, keys, G_N_ELEMENTS (keys), NULL, &edit->id, error))
    return FALSE;
  if (edit->id == 0)
    return refuse ("waiting", _("Nothing waits for rework at this step."), error);
  row = book_record_read (store_action_db (action), record, edit->id, error);
  if (row == NULL)
    return FALSE;
  keep_rest (record, values);
  book_values_set (record, values, "waiting", book_value_integer (integer (row, "waiting") - count->n));
  book_values_set (record, values, count_fields[count->kind],
                   book_value_integer (integer (row, count_fields[count->kind]) + count->n));
  return book_edit_store (action, record, values, &edit->id, error);
}

static void
tell (StoreAction *action, const char *message, BookRecordId record, gint64 id, int n)
{
  GVariantBuilder builder;

  g_variant_builder_init (&builder, G_VARIANT_TYPE (STORE_ARGUMENTS));
  g_variant_builder_add (&builder, "(sx)", book_record (record)->name, id);
  g_variant_builder_add (&builder, "(sx)", "count", (gint64) n);
  store_action_message (action, message, g_variant_builder_end (&builder));
}

static gboolean
count_pieces (BookEdit *edit, StoreAction *action, GError **error)
{
  static const char sql[] = "SELECT id FROM tally WHERE step = ?1 AND round = ?2 AND person = ?3 AND date = ?4"
                            " ORDER BY no DESC LIMIT 1";
  const Count *count = edit->data;
  const gint64 keys[] = { count->step, count->round, store_action_get_person (action) };
  gboolean is_move = count->kind >= BOOK_TALLY_WAITING_GOOD;

  if (keys[2] <= 0)
    return refuse ("person", _("A tally carries the name of who counts: choose who writes."), error);
  if (count->n == 0 || (is_move && count->n < 0))
    return refuse (count_fields[count->kind], _("Count at least one piece."), error);
  if (!check_place (store_action_db (action), count, error)
      || !ask (store_action_db (action), sql, keys, G_N_ELEMENTS (keys), edit->today, &edit->id, error))
    return FALSE;
  if (!(is_move          ? move_waiting (count, action, edit, error)
        : edit->id == 0 ? begin_row (count, action, edit, error)
                        : add_to_row (count, action, edit, error)))
    return FALSE;
  tell (action, count->n < 0 ? "tally-less" : messages[count->kind], BOOK_RECORD_TALLY, edit->id, ABS (count->n));
  return TRUE;
}

/**
 * book_tally_count:
 * @step: what was done
 * @round: of the same model, not decided
 * @kind: what became of the pieces
 * @n: how many; below zero takes back what who writes counted today
 *
 * Goes into the row of the step, today, who writes and the round, which is made by the first tap. What waited is moved
 * within the oldest row that has so many waiting. Refused where the units of the round have events at the step.
 *
 * Returns: (transfer full): the command, which gives the tally
 */
BookEdit *
book_tally_count (gint64 step, gint64 round, BookTallyKind kind, int n)
{
  const Count count = { step, round, kind, n };

  g_return_val_if_fail (kind < BOOK_N_TALLY_KINDS, NULL);

  return book_edit_new_dated (count_pieces, messages[kind], g_memdup2 (&count, sizeof count), g_free);
}

typedef struct
{
  gint64 tally;
  gint64 issue;
  int    n;
} Blame;

static gboolean
blame (BookEdit *edit, StoreAction *action, GError **error)
{
  static const char sql[] = "SELECT units FROM tally_loss WHERE id = ?1";
  const BookRecord *losses = book_record (BOOK_RECORD_TALLY_LOSS);
  const Blame *one = edit->data;
  const BookValue key[] = { book_value_integer (one->tally), book_value_integer (one->issue) };
  g_autoptr(BookRow) tally = book_record_read (store_action_db (action), book_record (BOOK_RECORD_TALLY), one->tally, error);
  BookValue values[BOOK_MAX_FIELDS];
  gint64 units = 0;

  edit->id = 0;
  if (tally == NULL
      || !check_losses (store_action_db (action), one->tally, one->n, not_good (tally),
                        _("All that was not good has its issue already: count what it took away first."), error)
      || !book_record_find_id (store_action_db (action), losses, key, &edit->id, error)
      || (edit->id != 0 && !ask (store_action_db (action), sql, &edit->id, 1, NULL, &units, error)))
    return FALSE;
  book_values_begin (losses, values);
  book_values_set (losses, values, "tally", key[0]);
  book_values_set (losses, values, "issue", key[1]);
  book_values_set (losses, values, "units", book_value_integer (units + one->n));
  if (!book_edit_store (action, losses, values, &edit->id, error))
    return FALSE;
  tell (action, "tally-blamed", BOOK_RECORD_TALLY_LOSS, edit->id, one->n);
  return TRUE;
}

/**
 * book_tally_blame:
 * @tally: what was counted
 * @issue: what took pieces away from good at the first try
 * @n: how many more
 *
 * Returns: (transfer full): the command, which gives the loss
 */
BookEdit *
book_tally_blame (gint64 tally, gint64 issue, int n)
{
  const Blame one = { tally, issue, n };

  return book_edit_new_dated (blame, "tally-blamed", g_memdup2 (&one, sizeof one), g_free);
}
