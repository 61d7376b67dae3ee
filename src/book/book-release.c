/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-release.h"

#include <glib/gi18n-lib.h>

#include "book-choices.h"
#include "book-edit-private.h"
#include "book-texts-private.h"
#include "store-content.h"

/*
 * Opinions, exceptions and decisions are stored once and for good, so that whoever reads them a year later sees what was
 * said then. Therefore much is asked of them here that could be mended later elsewhere.
 */

typedef struct
{
  BookRecordId record;
  gint64       parent;     /* gate or criterion */
  gint64       withdraws;
  BookTexts   *texts;
  GPtrArray   *conditions; /* BookTexts of todos */
  gboolean     by_lines;   /* they were written as lines of the text */
  GBytes      *evidence;
  BookVersion  seen;
} Deed;

static void
deed_free (gpointer data)
{
  Deed *deed = data;

  book_texts_free (deed->texts);
  g_clear_pointer (&deed->conditions, g_ptr_array_unref);
  g_clear_pointer (&deed->evidence, g_bytes_unref);
  g_free (deed);
}

static BookEdit *
deed_new (BookEditDatedWork work, const char *message, BookRecordId record, gint64 parent, const char *const *fields,
          const char *const *texts)
{
  Deed *deed = g_new0 (Deed, 1);

  deed->record = record;
  deed->parent = parent;
  deed->texts = book_texts_new (record, fields, texts, NULL);
  return book_edit_new_dated (work, message, deed, deed_free);
}

static BookValue *
at (const BookRecord *record, BookValue *values, const char *field)
{
  return &values[book_field_index (record, field)];
}

/* What was written, with today and whoever writes where nothing was; the name is asked for. */
static gboolean
take (BookEdit *edit, StoreAction *action, const char *sentence, BookValue *values, GError **error)
{
  Deed *deed = edit->data;
  const BookRecord *record = book_record (deed->record);
  const BookValue *person;

  book_values_begin (record, values);
  book_values_set (record, values, deed->record == BOOK_RECORD_WAIVER ? "criterion" : "gate", book_value_integer (deed->parent));
  if (deed->withdraws != 0)
    book_values_set (record, values, "withdraws", book_value_integer (deed->withdraws));
  if (!book_texts_take (deed->texts, store_action_db (action), 0, edit->today, values, error))
    return FALSE;
  if (book_value_is_empty (at (record, values, "date")))
    book_values_set (record, values, "date", book_value_text (edit->today, 10));
  person = at (record, values, "person");
  return book_edit_name (action, record, "person", book_value_is_empty (person) ? 0 : person->integer, sentence,
                         at (record, values, "person"), error);
}

static gboolean
finish (BookEdit *edit, StoreAction *action, BookValue *values, GError **error)
{
  Deed *deed = edit->data;

  edit->id = 0;
  if (!book_edit_store (action, book_record (deed->record), values, &edit->id, error))
    return FALSE;
  book_edit_tell (action, edit->message, deed->record, edit->id);
  return TRUE;
}

static gboolean
sign (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *signoffs = book_record (BOOK_RECORD_SIGNOFF);
  BookValue values[BOOK_MAX_FIELDS];

  if (!take (edit, action, _("An opinion is noted only by name: choose first whose it is."), values, error))
    return FALSE;
  if (book_value_is_empty (at (signoffs, values, "opinion")))
    return book_error_refuse (error, BOOK_ERROR_VALUE, book_field_find (signoffs, "opinion"),
                              _("Choose the opinion: in favour, in favour with conditions, or against."));
  return finish (edit, action, values, error);
}

/**
 * book_release_sign:
 * @gate: a gate
 * @fields: (array zero-terminated=1): opinion, conditions, person, date, reason
 * @texts: for each of @fields
 *
 * Notes what a person thinks of passing a gate. Refused without a name, without an opinion, and in favour with conditions
 * without any. A later opinion of the same person stands in place of the earlier one, which stays to be seen.
 *
 * Returns: (transfer full): the command; its record is the sign-off
 */
BookEdit *
book_release_sign (gint64 gate, const char *const *fields, const char *const *texts)
{
  return deed_new (sign, "gate-signed", BOOK_RECORD_SIGNOFF, gate, fields, texts);
}

static gboolean
waive (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *waivers = book_record (BOOK_RECORD_WAIVER);
  BookValue values[BOOK_MAX_FIELDS];

  if (!take (edit, action, _("A criterion is waived only by name: choose first who waives it."), values, error))
    return FALSE;
  if (book_value_is_empty (at (waivers, values, "until")))
    return book_error_refuse (error, BOOK_ERROR_VALUE, book_field_find (waivers, "until"),
                              _("A waiver ends: write the last day on which it holds."));
  return finish (edit, action, values, error);
}

/**
 * book_release_waive:
 * @criterion: a criterion
 * @fields: (array zero-terminated=1): reason, until, person, date
 * @texts: for each of @fields
 *
 * Takes a criterion out of what blocks, until a day; its state stays what it is. Refused without a name, a reason or an
 * end.
 *
 * Returns: (transfer full): the command; its record is the waiver
 */
BookEdit *
book_release_waive (gint64 criterion, const char *const *fields, const char *const *texts)
{
  return deed_new (waive, "criterion-waived", BOOK_RECORD_WAIVER, criterion, fields, texts);
}

/* Only an owner decides. */
static gboolean
may_decide (StoreDb *db, gint64 person, GError **error)
{
  const BookRecord *decisions = book_record (BOOK_RECORD_DECISION);
  g_autoptr(BookRow) row = book_record_read (db, book_record (BOOK_RECORD_PERSON), person, error);

  if (row == NULL)
    return FALSE;
  return book_row_get (row, "role")->integer == BOOK_ROLE_OWNER
         || book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (decisions, "person"),
                               _("The owner decides: choose a person whose role is owner."));
}

static gboolean
is_as_seen (StoreDb *db, gint64 gate, const BookVersion *seen, GError **error)
{
  g_autoptr(BookRow) row = book_record_read (db, book_record (BOOK_RECORD_GATE), gate, error);
  BookVersion now;

  if (row == NULL || !book_version_read (db, book_row_get (row, "model")->integer, &now, error))
    return FALSE;
  return (now.model == seen->model && now.shared == seen->shared)
         || book_error_refuse (error, BOOK_ERROR_REFUSED, NULL,
                               _("Something was entered since the evidence was put together: look at it again, then decide."));
}

/* Each says what, who and until when. */
static gboolean
conditions_are_whole (const Deed *deed, GError **error)
{
  static const char *const required[] = { "what", "person", "due" };

  for (guint i = 0; i < deed->conditions->len; i++)
    for (guint k = 0; k < G_N_ELEMENTS (required); k++)
      {
        const char *text = book_texts_get (deed->conditions->pdata[i], required[k]);

        if (text == NULL || *text == '\0')
          return book_error_refuse (error, BOOK_ERROR_VALUE,
                                    deed->by_lines ? book_field_find (book_record (BOOK_RECORD_DECISION), "conditions")
                                                   : book_field_find (book_record (BOOK_RECORD_TODO), required[k]),
                                    _("A condition says what is to be done, by whom, and until when: write all three."));
      }
  return TRUE;
}

/* Each line of the text: 'what; who; until when'. */
static gboolean
take_lines (Deed *deed, GError **error)
{
  static const char *const fields[] = { "what", "person", "due", NULL };
  const char *text = book_texts_get (deed->texts, "conditions");
  g_auto(GStrv) lines = g_strsplit (text != NULL ? text : "", "\n", -1);

  for (guint i = 0; lines[i] != NULL; i++)
    {
      g_auto(GStrv) parts = g_strsplit (lines[i], ";", -1);

      if (*g_strstrip (lines[i]) == '\0')
        continue;
      if (g_strv_length (parts) != 3)
        {
          g_autofree char *sentence = g_strdup_printf (_("Line %u does not say a condition: write what is to be done; who; until when, with a "
                                                         "semicolon between."), i + 1);

          return book_error_refuse (error, BOOK_ERROR_VALUE, book_field_find (book_record (BOOK_RECORD_DECISION), "conditions"), sentence);
        }
      for (guint k = 0; k < 3; k++)
        g_strstrip (parts[k]);
      g_ptr_array_add (deed->conditions, book_texts_new (BOOK_RECORD_TODO, fields, (const char *const *) parts, NULL));
      deed->by_lines = TRUE;
    }
  return TRUE;
}

static gboolean
store_conditions (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *todos = book_record (BOOK_RECORD_TODO);
  Deed *deed = edit->data;
  BookValue values[BOOK_MAX_FIELDS];

  for (guint i = 0; i < deed->conditions->len; i++)
    {
      gint64 todo = 0;

      book_values_begin (todos, values);
      book_values_set (todos, values, "about_record", book_value_integer (BOOK_RECORD_DECISION));
      book_values_set (todos, values, "about", book_value_integer (edit->id));
      if (!book_texts_take (deed->conditions->pdata[i], store_action_db (action), 0, edit->today, values, error)
          || !book_edit_store (action, todos, values, &todo, error))
        {
          if (deed->by_lines && error != NULL)
            book_error_blame (*error, book_field_find (book_record (BOOK_RECORD_DECISION), "conditions"));
          return FALSE;
        }
    }
  return TRUE;
}

/* The conditions as one text that stays with the decision, whatever becomes of what is to be done. */
static char *
conditions_text (Deed *deed)
{
  const char *own = book_texts_get (deed->texts, "conditions");
  GString *text = g_string_new (own != NULL ? own : "");

  for (guint i = 0; !deed->by_lines && i < deed->conditions->len; i++)
    {
      const BookTexts *condition = deed->conditions->pdata[i];

      if (text->len > 0)
        g_string_append_c (text, '\n');
      g_string_append_printf (text, "%s (%s, %s)", book_texts_get (condition, "what"), book_texts_get (condition, "person"),
                              book_texts_get (condition, "due"));
    }
  return g_string_free (text, FALSE);
}

static gboolean
is_conditional (const Deed *deed)
{
  const char *verdict = book_texts_get (deed->texts, "verdict");
  const BookChoice *choice = book_choice_by_code (book_decision_verdicts, BOOK_DECISION_RELEASE_WITH_CONDITIONS);

  return g_strcmp0 (verdict, choice->text) == 0;
}

static gboolean
write_decision (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *decisions = book_record (BOOK_RECORD_DECISION);
  StoreDb *db = store_action_db (action);
  Deed *deed = edit->data;
  g_autofree char *conditions = NULL;
  g_autofree char *sha256 = NULL;
  BookValue values[BOOK_MAX_FIELDS];

  conditions = conditions_text (deed);
  if (!take (edit, action, _("It is decided only by name: choose first who decides."), values, error)
      || !may_decide (db, at (decisions, values, "person")->integer, error))
    return FALSE;
  if (book_value_is_empty (at (decisions, values, "verdict")))
    return book_error_refuse (error, BOOK_ERROR_VALUE, book_field_find (decisions, "verdict"),
                              _("Choose what is decided: release, another round, or stop."));
  if (!is_as_seen (db, deed->parent, &deed->seen, error)
      || !book_edit_text (decisions, "conditions", conditions, at (decisions, values, "conditions"), error)
      || !store_content_add (action, deed->evidence, &sha256, error))
    return FALSE;
  book_values_set (decisions, values, "evidence", book_value_text (sha256, -1));
  return finish (edit, action, values, error) && store_conditions (edit, action, error);
}

static gboolean
decide (BookEdit *edit, StoreAction *action, GError **error)
{
  Deed *deed = edit->data;

  if (deed->conditions->len == 0 && is_conditional (deed) && !take_lines (deed, error))
    return FALSE;
  return conditions_are_whole (deed, error) && write_decision (edit, action, error);
}

/**
 * book_release_decide:
 * @gate: a gate
 * @fields: (array zero-terminated=1): verdict, at_most_units, conditions, person, date, reason
 * @texts: for each of @fields
 * @evidence: what is known, frozen: at most %STORE_CONTENT_MOST
 * @seen: the version of the model that @evidence was computed of
 *
 * Decides about a gate. The conditions of a release with conditions are things to do: given by book_release_condition(), else
 * as lines of the text, 'what; who; until when'. Refused without a name, by anybody but an owner, without a verdict, at most without a number of
 * units, with conditions without any, and when something was entered after @seen.
 *
 * Returns: (transfer full): the command; its record is the decision
 */
BookEdit *
book_release_decide (gint64 gate, const char *const *fields, const char *const *texts, GBytes *evidence,
                     const BookVersion *seen)
{
  BookEdit *edit;
  Deed *deed;

  g_return_val_if_fail (evidence != NULL && seen != NULL, NULL);

  edit = deed_new (decide, "gate-decided", BOOK_RECORD_DECISION, gate, fields, texts);
  deed = edit->data;
  deed->evidence = g_bytes_ref (evidence);
  deed->seen = *seen;
  deed->conditions = g_ptr_array_new_with_free_func ((GDestroyNotify) book_texts_free);
  return edit;
}

/**
 * book_release_condition:
 * @edit: from book_release_decide()
 * @what: what is to be done
 * @person: initials of whoever does it
 * @due: the day, ISO 8601
 *
 * Adds a condition, which becomes something to do about the decision.
 */
void
book_release_condition (BookEdit *edit, const char *what, const char *person, const char *due)
{
  const char *const fields[] = { "what", "person", "due", NULL };
  const char *const texts[] = { what, person, due, NULL };

  g_return_if_fail (edit->work == decide);

  g_ptr_array_add (((Deed *) edit->data)->conditions, book_texts_new (BOOK_RECORD_TODO, fields, texts, NULL));
}

/* Whether a later one takes @id back already. */
static gboolean
is_withdrawn (StoreDb *db, const BookRecord *record, gint64 id, gboolean *withdrawn, GError **error)
{
  g_autofree char *sql = g_strdup_printf ("SELECT EXISTS (SELECT 1 FROM %s WHERE withdraws = ?1)", record->name);
  g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
  gboolean found;

  if (statement == NULL)
    return FALSE;
  sqlite3_bind_int64 (statement, 1, id);
  if (!store_db_next (db, statement, _("The book could not be read"), &found, error))
    return FALSE;
  *withdrawn = found && sqlite3_column_int (statement, 0) != 0;
  return TRUE;
}

static gboolean
withdraw (BookEdit *edit, StoreAction *action, GError **error)
{
  Deed *deed = edit->data;
  const BookRecord *record = book_record (deed->record);
  StoreDb *db = store_action_db (action);
  g_autoptr(BookRow) row = book_record_read (db, record, deed->withdraws, error);
  BookValue values[BOOK_MAX_FIELDS];
  gboolean withdrawn;

  if (row == NULL || !is_withdrawn (db, record, deed->withdraws, &withdrawn, error))
    return FALSE;
  if (withdrawn || !book_value_is_empty (book_row_get (row, "withdraws")))
    return book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (record, "withdraws"),
                              _("It is withdrawn already: note a new one instead."));
  deed->parent = book_row_get (row, deed->record == BOOK_RECORD_WAIVER ? "criterion" : "gate")->integer;
  if (!take (edit, action, _("It is withdrawn only by name: choose first who withdraws it."), values, error))
    return FALSE;
  if (book_value_is_empty (at (record, values, "reason")))
    return book_error_refuse (error, BOOK_ERROR_VALUE, book_field_find (record, "reason"),
                              _("It is withdrawn only with a reason: write why."));
  if (deed->record == BOOK_RECORD_DECISION && !may_decide (db, at (record, values, "person")->integer, error))
    return FALSE;
  return finish (edit, action, values, error);
}

/**
 * book_release_withdraw:
 * @record: %BOOK_RECORD_SIGNOFF, %BOOK_RECORD_WAIVER or %BOOK_RECORD_DECISION
 * @id: which
 * @fields: (array zero-terminated=1): reason, person, date
 * @texts: for each of @fields
 *
 * Takes it back by a later one. Refused without a name or a reason, and where it is withdrawn already; a decision is
 * withdrawn by an owner.
 *
 * Returns: (transfer full): the command; its record is the later one
 */
BookEdit *
book_release_withdraw (BookRecordId record, gint64 id, const char *const *fields, const char *const *texts)
{
  const char *message = record == BOOK_RECORD_SIGNOFF  ? "signoff-withdrawn"
                        : record == BOOK_RECORD_WAIVER ? "waiver-withdrawn"
                                                       : "decision-withdrawn";
  BookEdit *edit;

  g_return_val_if_fail (record == BOOK_RECORD_SIGNOFF || record == BOOK_RECORD_WAIVER || record == BOOK_RECORD_DECISION, NULL);

  edit = deed_new (withdraw, message, record, 0, fields, texts);
  ((Deed *) edit->data)->withdraws = id;
  return edit;
}
