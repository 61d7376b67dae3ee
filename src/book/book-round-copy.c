/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-round.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-change-carry-private.h"
#include "book-texts-private.h"

/*
 * Method. A copy takes kind and number of units, what goes in by part and revision, and which unit is for which test. Lots
 * are not taken: which delivery goes in is not known before it is there. Serials go on as the labels do: P3-07 of round P3
 * is P4-07 of round P4; serials that do not hold the label run on where those of the earlier round ended. Where the round
 * was split by a change that was given up since, only the old state is taken; a change that is put in takes all units.
 */

typedef struct
{
  gint64     last;
  BookTexts *texts;
  GArray    *changes; /* gint64 */
} Copy;

static void
copy_free (gpointer data)
{
  Copy *copy = data;

  book_texts_free (copy->texts);
  g_array_unref (copy->changes);
  g_free (copy);
}

/**
 * book_round_label_after:
 * @label: label of a round
 *
 * Returns: (transfer full): what the next one would be called: a number or a letter at the end goes on
 */
char *
book_round_label_after (const char *label)
{
  gsize length = strlen (label);
  gsize digits = length;
  char last = length > 0 ? label[length - 1] : '\0';

  while (digits > 0 && g_ascii_isdigit (label[digits - 1]))
    digits--;
  if (digits < length && length - digits <= 9)
    {
      guint64 number = g_ascii_strtoull (label + digits, NULL, 10) + 1;

      return g_strdup_printf ("%.*s%0*" G_GUINT64_FORMAT, (int) digits, label, (int) (length - digits), number);
    }
  if (g_ascii_isalpha (last) && g_ascii_tolower (last) != 'z' && (length == 1 || !g_ascii_isalpha (label[length - 2])))
    return g_strdup_printf ("%.*s%c", (int) length - 1, label, last + 1);
  return g_strdup_printf ("%s 2", label);
}

/**
 * book_round_serial_in:
 * @serial: serial of a unit of a round
 * @from_label: label of that round
 * @to_label: label of another one
 * @further: by how much a running number goes on where the serial does not hold the label
 *
 * Returns: (transfer full): the serial of the unit in its place in the other round
 */
char *
book_round_serial_in (const char *serial, const char *from_label, const char *to_label, gint64 further)
{
  const char *place = *from_label != '\0' ? strstr (serial, from_label) : NULL;
  gsize length = strlen (serial);
  gsize digits = length;

  /* 'P1' is in 'P1-07' and in 'WP1-07', not in 'P12-07'. */
  if (place != NULL)
    {
      const char *end = place + strlen (from_label);

      if (g_ascii_isalnum (*end))
        place = NULL;
      else
        return g_strdup_printf ("%.*s%s%s", (int) (place - serial), serial, to_label, end);
    }
  while (digits > 0 && g_ascii_isdigit (serial[digits - 1]))
    digits--;
  if (digits == length || length - digits > 15)
    return g_strdup_printf ("%s-%s", to_label, serial);
  return g_strdup_printf ("%.*s%0*" G_GINT64_FORMAT, (int) digits, serial, (int) (length - digits),
                          (gint64) g_ascii_strtoll (serial + digits, NULL, 10) + further);
}

static gboolean
read_ids (StoreDb *db, const char *sql, gint64 key, GArray *ids, GError **error)
{
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, key);
  return store_db_add_integers (db, statement, _("The last round could not be read"), ids, error);
}

/* How many running numbers the units of a round take, built ones and those that are planned for tests. */
static gboolean
count_numbers (StoreDb *db, gint64 round, gint64 *further, GError **error)
{
  static const char sql[] =
    "SELECT max((SELECT count(*) FROM unit WHERE round = ?1 AND part IS NULL), "
    "(SELECT count(DISTINCT serial) FROM round_test WHERE round = ?1), "
    "coalesce((SELECT planned_units FROM round WHERE id = ?1), 0))";
  g_autoptr(GArray) found = g_array_new (FALSE, FALSE, sizeof (gint64));

  *further = 0;
  if (!read_ids (db, sql, round, found, error))
    return FALSE;
  if (found->len > 0)
    *further = g_array_index (found, gint64, 0);
  return TRUE;
}

/* Labels of both rounds, and how serials go on. */
typedef struct
{
  StoreDb *db;
  gint64   from;
  gint64   to;
  char    *from_label;
  char    *to_label;
  gint64   further;
} Names;

static void
names_clear (Names *names)
{
  g_free (names->from_label);
  g_free (names->to_label);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Names, names_clear)

static gboolean
read_names (Names *names, GError **error)
{
  const BookRecord *rounds = book_record (BOOK_RECORD_ROUND);
  g_autoptr(BookRow) from = book_record_read (names->db, rounds, names->from, error);
  g_autoptr(BookRow) to = from != NULL ? book_record_read (names->db, rounds, names->to, error) : NULL;

  if (to == NULL)
    return FALSE;
  names->from_label = g_strdup (book_row_get (from, "label")->text);
  names->to_label = g_strdup (book_row_get (to, "label")->text);
  return count_numbers (names->db, names->from, &names->further, error);
}

/* What a change that was given up brought in, and what was there before; 0: nothing. */
static gboolean
before_withdrawn (StoreDb *db, gint64 revision, gint64 *before, GError **error)
{
  static const char sql[] =
    "SELECT i.old_revision FROM change_item i JOIN change c ON c.id = i.change WHERE i.new_revision = ?1 "
    "AND c.withdrawn IS NOT NULL AND i.old_revision IS NOT NULL AND NOT EXISTS (SELECT 1 FROM change_item o JOIN change d "
    "ON d.id = o.change WHERE o.new_revision = ?1 AND d.withdrawn IS NULL AND d.agreed_on IS NOT NULL) ORDER BY c.id DESC";
  g_autoptr(GArray) found = g_array_new (FALSE, FALSE, sizeof (gint64));

  *before = 0;
  if (!read_ids (db, sql, revision, found, error))
    return FALSE;
  if (found->len > 0)
    *before = g_array_index (found, gint64, 0);
  return TRUE;
}

/* One row of the new plan: rows of one part and revision, that came of several lots, are one. */
typedef struct
{
  BookValue part;
  BookValue step;
  gint64    revision;
  gint64    units; /* 0: all */
  char     *first_serial; /* NULL: none */
} PlanRow;

static void
plan_row_clear (gpointer data)
{
  g_free (((PlanRow *) data)->first_serial);
}

static guint
count_rows_of (const GArray *rows, const PlanRow *like)
{
  guint n = 0;

  for (guint i = 0; i < rows->len; i++)
    n += store_value_equal (&g_array_index (rows, PlanRow, i).part, &like->part)
         && store_value_equal (&g_array_index (rows, PlanRow, i).step, &like->step);
  return n;
}

static gboolean
add_plan_row (Names *names, const BookRow *row, GArray *rows, GError **error)
{
  const BookValue *revision = book_row_get (row, "revision");
  const BookValue *units = book_row_get (row, "units");
  const BookValue *serial = book_row_get (row, "first_serial");
  PlanRow one = { .part = *book_row_get (row, "part"), .step = *book_row_get (row, "step") };
  gint64 before;

  one.revision = revision->type == SQLITE_INTEGER ? revision->integer : 0;
  one.units = units->type == SQLITE_INTEGER ? units->integer : 0;
  if (one.revision != 0)
    {
      if (!before_withdrawn (names->db, one.revision, &before, error))
        return FALSE;
      if (before != 0)
        one.revision = before;
    }
  for (guint i = 0; i < rows->len; i++)
    {
      PlanRow *other = &g_array_index (rows, PlanRow, i);

      if (!store_value_equal (&other->part, &one.part) || !store_value_equal (&other->step, &one.step)
          || other->revision != one.revision)
        continue;
      other->units = other->units > 0 && one.units > 0 ? other->units + one.units : 0;
      return TRUE;
    }
  if (!book_value_is_empty (serial))
    one.first_serial = book_round_serial_in (serial->text, names->from_label, names->to_label, names->further);
  g_array_append_val (rows, one);
  /* cppcheck-suppress memleak ; the array has it now */
  return TRUE;
}

static gboolean
copy_parts (Names *names, StoreAction *action, GError **error)
{
  static const char sql[] = "SELECT id FROM round_part WHERE round = ?1 ORDER BY id";
  const BookRecord *plans = book_record (BOOK_RECORD_ROUND_PART);
  g_autoptr(GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr(GArray) rows = g_array_new (FALSE, FALSE, sizeof (PlanRow));

  g_array_set_clear_func (rows, plan_row_clear);
  if (!read_ids (names->db, sql, names->from, ids, error))
    return FALSE;
  for (guint i = 0; i < ids->len; i++)
    {
      g_autoptr(BookRow) row = book_record_read (names->db, plans, g_array_index (ids, gint64, i), error);

      if (row == NULL || !add_plan_row (names, row, rows, error))
        return FALSE;
    }
  for (guint i = 0; i < rows->len; i++)
    {
      PlanRow *row = &g_array_index (rows, PlanRow, i);
      gboolean is_split = count_rows_of (rows, row) > 1;
      BookValue values[BOOK_MAX_FIELDS];
      gint64 id = 0;

      book_values_begin (plans, values);
      book_values_set (plans, values, "round", book_value_integer (names->to));
      book_values_set (plans, values, "part", row->part);
      book_values_set (plans, values, "step", row->step);
      if (row->revision != 0)
        book_values_set (plans, values, "revision", book_value_integer (row->revision));
      if (is_split && row->units > 0)
        book_values_set (plans, values, "units", book_value_integer (row->units));
      if (is_split && row->first_serial != NULL)
        book_values_set (plans, values, "first_serial", book_value_text (row->first_serial, -1));
      if (!book_edit_store (action, plans, values, &id, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
copy_tests (Names *names, StoreAction *action, GError **error)
{
  static const char sql[] = "SELECT id FROM round_test WHERE round = ?1 ORDER BY id";
  const BookRecord *tests = book_record (BOOK_RECORD_ROUND_TEST);
  g_autoptr(GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  if (!read_ids (names->db, sql, names->from, ids, error))
    return FALSE;
  for (guint i = 0; i < ids->len; i++)
    {
      g_autoptr(BookRow) row = book_record_read (names->db, tests, g_array_index (ids, gint64, i), error);
      g_autofree char *serial = NULL;
      BookValue values[BOOK_MAX_FIELDS];
      gint64 id = 0;

      if (row == NULL)
        return FALSE;
      for (guint f = 0; f < tests->n_fields; f++)
        values[f] = row->values[f];
      serial = book_round_serial_in (book_row_get (row, "serial")->text, names->from_label, names->to_label, names->further);
      book_values_set (tests, values, "round", book_value_integer (names->to));
      book_values_set (tests, values, "serial", book_value_text (serial, -1));
      if (!book_edit_store (action, tests, values, &id, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
copy_round (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *rounds = book_record (BOOK_RECORD_ROUND);
  Copy *copy = edit->data;
  StoreDb *db = store_action_db (action);
  g_autoptr(BookRow) last = book_record_read (db, rounds, copy->last, error);
  g_auto(Names) names = { .db = db, .from = copy->last };
  g_autofree char *label = NULL;
  BookValue values[BOOK_MAX_FIELDS];

  if (last == NULL)
    return FALSE;
  label = book_round_label_after (book_row_get (last, "label")->text);
  book_values_begin (rounds, values);
  book_values_set (rounds, values, "model", *book_row_get (last, "model"));
  book_values_set (rounds, values, "label", book_value_text (label, -1));
  book_values_set (rounds, values, "kind", *book_row_get (last, "kind"));
  book_values_set (rounds, values, "planned_units", *book_row_get (last, "planned_units"));
  edit->id = 0;
  if (!book_texts_take (copy->texts, db, 0, edit->today, values, error) || !book_edit_store (action, rounds, values, &edit->id, error))
    return FALSE;
  names.to = edit->id;
  if (!read_names (&names, error) || !copy_parts (&names, action, error) || !copy_tests (&names, action, error))
    return FALSE;
  for (guint i = 0; i < copy->changes->len; i++)
    if (!book_change_put_into (edit, action, g_array_index (copy->changes, gint64, i), names.to, error))
      return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_ROUND, edit->id);
  return TRUE;
}

/**
 * book_round_copy:
 * @last: the round to copy
 * @fields: (array zero-terminated=1): what is to be different: label, kind, question, planned units and dates
 * @texts: for each of @fields
 *
 * Plans a round like another one: same kind and number of units, what goes in by part and revision, which unit is for which
 * test; serials go on. Lots and dates are left open. book_round_copy_change() puts changes in.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_round_copy (gint64 last, const char *const *fields, const char *const *texts)
{
  Copy *copy = g_new0 (Copy, 1);

  copy->last = last;
  copy->texts = book_texts_new (BOOK_RECORD_ROUND, fields, texts, NULL);
  copy->changes = g_array_new (FALSE, FALSE, sizeof (gint64));
  return book_edit_new_dated (copy_round, "round-copied", copy, copy_free);
}

/**
 * book_round_copy_change:
 * @edit: from book_round_copy()
 * @change: an agreed change; they are put in one after the other
 *
 * Puts a change into the new round: where nobody has carried it out yet, that is done today, with its revisions, settings
 * and limits, and the round becomes its first; all units of the round get its revisions.
 */
void
book_round_copy_change (BookEdit *edit, gint64 change)
{
  g_return_if_fail (edit->work == copy_round);

  g_array_append_val (((Copy *) edit->data)->changes, change);
}

static void
offer_free (gpointer data)
{
  BookRoundOffer *offer = data;

  g_free (offer->title);
  g_free (offer);
}

void
book_round_draft_free (BookRoundDraft *draft)
{
  if (draft == NULL)
    return;
  g_free (draft->last_label);
  g_clear_pointer (&draft->form, book_form_free);
  g_ptr_array_unref (draft->offers);
  g_free (draft);
}

/*
 * Agreed and not given up: those that nobody carried out and that wait for no other round, those that split the last round,
 * and those that were carried out since its design was fixed and went into no plan.
 */
static gboolean
list_offers (StoreDb *db, gint64 model, gint64 last, GPtrArray *offers, GError **error)
{
  static const char sql[] =
    "SELECT c.id, c.no, c.title, c.carried_out IS NOT NULL FROM change c, round r WHERE c.model = ?1 AND r.id = ?2 "
    "AND c.agreed_on IS NOT NULL AND c.withdrawn IS NULL AND ((c.from_round IS NULL AND (c.carried_out IS NULL "
    "OR c.carried_out >= coalesce(r.design_fixed, r.opened, '9'))) OR (c.from_round = r.id AND (c.from_serial IS NOT NULL "
    "OR c.carried_out IS NULL))) ORDER BY c.agreed_on, c.no";
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean more, ok;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, model);
  sqlite3_bind_int64 (statement, 2, last);
  while ((ok = store_db_next (db, statement, _("The changes could not be read"), &more, error)) && more)
    {
      BookRoundOffer *offer = g_new0 (BookRoundOffer, 1);

      offer->id = sqlite3_column_int64 (statement, 0);
      offer->no = sqlite3_column_int (statement, 1);
      offer->title = g_strdup ((const char *) sqlite3_column_text (statement, 2));
      offer->carried_out = sqlite3_column_int (statement, 3) != 0;
      g_ptr_array_add (offers, offer);
    }
  return ok;
}

static gboolean
fill_draft (BookRoundDraft *draft, StoreDb *db, GError **error)
{
  static const char *const taken[] = { "kind", "planned_units" };
  g_autoptr(BookRow) last = book_record_read (db, book_record (BOOK_RECORD_ROUND), draft->last, error);
  g_autofree char *label = NULL;
  BookValue value;

  if (last == NULL)
    return FALSE;
  draft->last_label = g_strdup (book_row_get (last, "label")->text);
  label = book_round_label_after (draft->last_label);
  value = book_value_text (label, -1);
  if (!book_form_set (draft->form, db, "label", &value, error))
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (taken); i++)
    if (!book_value_is_empty (book_row_get (last, taken[i]))
        && !book_form_set (draft->form, db, taken[i], book_row_get (last, taken[i]), error))
      return FALSE;
  return TRUE;
}

/**
 * book_round_draft:
 * @db: a connection in a read transaction
 * @model: a model
 * @error: return location
 *
 * Reads the last round of the model (in the order in which they were opened; planned ones come last), the next one as a form
 * for a person to complete, and the agreed changes that it can put in.
 *
 * Returns: (transfer full) (nullable): the draft; without a round yet its form is empty; %NULL with @error set
 */
BookRoundDraft *
book_round_draft (StoreDb *db, gint64 model, GError **error)
{
  static const char sql[] =
    "SELECT id FROM round WHERE model = ?1 "
    "ORDER BY coalesce(opened, design_fixed, parts_ready, built, tested, decided, '9') DESC, id DESC LIMIT 1";
  g_autoptr(BookRoundDraft) draft = g_new0 (BookRoundDraft, 1);
  g_autoptr(GArray) found = g_array_new (FALSE, FALSE, sizeof (gint64));

  draft->offers = g_ptr_array_new_with_free_func (offer_free);
  draft->form = book_form_new (db, book_record (BOOK_RECORD_ROUND), model, error);
  if (draft->form == NULL || !read_ids (db, sql, model, found, error))
    return NULL;
  if (found->len > 0)
    {
      draft->last = g_array_index (found, gint64, 0);
      if (!fill_draft (draft, db, error) || !list_offers (db, model, draft->last, draft->offers, error))
        return NULL;
    }
  return g_steal_pointer (&draft);
}
