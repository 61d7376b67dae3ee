/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-issue.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-edit-private.h"
#include "book-texts-private.h"

typedef struct
{
  gint64     model;
  gint64     reading; /* 0: from scratch */
  gint64     issue;   /* of a finding that is added */
  BookTexts *texts;
  BookTexts *finding; /* NULL: none */
} Raise;

static void
raise_free (gpointer data)
{
  Raise *raise = data;

  book_texts_free (raise->texts);
  book_texts_free (raise->finding);
  g_free (raise);
}

/* Where a field of @from holds something, @field of @values does too. */
static void
copy (const BookRow *from, const char *from_field, const BookRecord *record, BookValue *values, const char *field)
{
  const BookValue *value = book_row_get (from, from_field);

  if (!book_value_is_empty (value))
    book_values_set (record, values, field, *value);
}

/* What a reading says about the issue and the finding that it shows; its rows are kept, since texts point into them. */
typedef struct
{
  BookRow *reading;
  BookRow *characteristic;
  BookRow *unit;
  BookRow *round;
} Shown;

static void
shown_clear (Shown *shown)
{
  book_row_free (shown->reading);
  book_row_free (shown->characteristic);
  book_row_free (shown->unit);
  book_row_free (shown->round);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Shown, shown_clear)

static gboolean
read_shown (Shown *shown, StoreDb *db, gint64 reading, GError **error)
{
  return (shown->reading = book_record_read (db, book_record (BOOK_RECORD_READING), reading, error)) != NULL
         && (shown->characteristic = book_record_read (db, book_record (BOOK_RECORD_CHARACTERISTIC),
                                                       book_row_get (shown->reading, "characteristic")->integer, error)) != NULL
         && (shown->unit = book_record_read (db, book_record (BOOK_RECORD_UNIT), book_row_get (shown->reading, "unit")->integer,
                                             error)) != NULL
         && (shown->round = book_record_read (db, book_record (BOOK_RECORD_ROUND), book_row_get (shown->unit, "round")->integer,
                                              error)) != NULL;
}

/* The texts stay valid as long as @shown and @today. */
static gboolean
fill_from_reading (Shown *shown, StoreDb *db, gint64 reading, const char *today, BookValue *issue, BookValue *finding,
                   GError **error)
{
  const BookRecord *issues = book_record (BOOK_RECORD_ISSUE);
  const BookRecord *findings = book_record (BOOK_RECORD_FINDING);
  const BookValue *taken;

  if (!read_shown (shown, db, reading, error))
    return FALSE;
  if (book_row_get (shown->reading, "voided")->integer != 0)
    {
      g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_REFUSED,
                           _("The reading is voided, so it shows nothing: choose another, or enter the issue by itself."));
      return FALSE;
    }
  taken = book_row_get (shown->reading, "taken");
  book_values_set (issues, issue, "model", *book_row_get (shown->round, "model"));
  book_values_set (issues, issue, "class", *book_row_get (shown->characteristic, "class"));
  book_values_set (issues, issue, "found_round", book_value_integer (shown->round->id));
  book_values_set (issues, issue, "characteristic", book_value_integer (shown->characteristic->id));
  book_values_set (issues, issue, "found_on",
                   book_value_is_empty (taken) ? book_value_text (today, 10) : book_value_text (taken->text, 10));
  copy (shown->characteristic, "step", issues, issue, "found_step");
  copy (shown->reading, "step", issues, issue, "found_step");
  book_values_set (findings, finding, "unit", book_value_integer (shown->unit->id));
  copy (shown->characteristic, "step", findings, finding, "found_at");
  copy (shown->reading, "step", findings, finding, "found_at");
  return TRUE;
}

/**
 * book_issue_draft:
 * @db: any connection
 * @reading: a reading
 * @today: ISO 8601
 * @issue: (out) (transfer full): the issue
 * @finding: (out) (transfer full): its first finding
 * @error: return location
 *
 * Unit, characteristic, class, round, step and day are filled in. The title is left to the caller: what it says is how the
 * reading stands against its limits, which is not judged here.
 *
 * Returns: whether the reading is there and counts
 */
gboolean
book_issue_draft (StoreDb *db, gint64 reading, const char *today, BookForm **issue, BookForm **finding, GError **error)
{
  static const char *const issue_fields[] = { "model", "class", "found_round", "characteristic", "found_on", "found_step" };
  static const char *const finding_fields[] = { "unit", "found_at" };
  const BookRecord *issues = book_record (BOOK_RECORD_ISSUE);
  const BookRecord *findings = book_record (BOOK_RECORD_FINDING);
  g_autoptr(BookForm) first = NULL;
  g_autoptr(BookForm) second = NULL;
  g_auto(Shown) shown = { 0 };
  BookValue values[BOOK_MAX_FIELDS];
  BookValue more[BOOK_MAX_FIELDS];

  book_values_begin (issues, values);
  book_values_begin (findings, more);
  if (!fill_from_reading (&shown, db, reading, today, values, more, error)
      || (first = book_form_new (db, issues, book_row_get (shown.round, "model")->integer, error)) == NULL
      || (second = book_form_new (db, findings, 0, error)) == NULL)
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (issue_fields); i++)
    if (!book_form_set (first, db, issue_fields[i], &values[book_field_index (issues, issue_fields[i])], error))
      return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (finding_fields); i++)
    if (!book_form_set (second, db, finding_fields[i], &more[book_field_index (findings, finding_fields[i])], error))
      return FALSE;
  first->model = second->model = book_row_get (shown.round, "model")->integer;
  *issue = g_steal_pointer (&first);
  *finding = g_steal_pointer (&second);
  return TRUE;
}

static gboolean
is_blank (const BookRecord *record, const BookValue *values, const char *field)
{
  return book_value_is_empty (&values[book_field_index (record, field)]);
}

/* An issue found on a unit was found in the unit's round, if nothing else is said. */
static gboolean
fill_round (StoreDb *db, const BookValue *finding, BookValue *issue, GError **error)
{
  const BookValue *unit = &finding[book_field_index (book_record (BOOK_RECORD_FINDING), "unit")];
  g_autoptr(BookRow) row = NULL;

  if (book_value_is_empty (unit) || !is_blank (book_record (BOOK_RECORD_ISSUE), issue, "found_round"))
    return TRUE;
  row = book_record_read (db, book_record (BOOK_RECORD_UNIT), unit->integer, error);
  if (row == NULL)
    return FALSE;
  book_values_set (book_record (BOOK_RECORD_ISSUE), issue, "found_round", *book_row_get (row, "round"));
  return TRUE;
}

static gboolean
raise_issue (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *issues = book_record (BOOK_RECORD_ISSUE);
  const BookRecord *findings = book_record (BOOK_RECORD_FINDING);
  StoreDb *db = store_action_db (action);
  Raise *raise = edit->data;
  g_auto(Shown) shown = { 0 };
  BookValue values[BOOK_MAX_FIELDS];
  BookValue finding[BOOK_MAX_FIELDS];
  gint64 finding_id = 0;
  gboolean has_finding = raise->reading != 0 || raise->finding != NULL;

  book_values_begin (issues, values);
  book_values_begin (findings, finding);
  if (raise->reading != 0)
    {
      if (!fill_from_reading (&shown, db, raise->reading, edit->today, values, finding, error))
        return FALSE;
    }
  else
    book_values_set (issues, values, "model", book_value_integer (raise->model));
  if (!book_texts_take (raise->texts, db, 0, edit->today, values, error))
    return FALSE;
  if (is_blank (issues, values, "found_on"))
    book_values_set (issues, values, "found_on", book_value_text (edit->today, -1));

  /* The issue is there before its finding, whose unit is looked for within the issue's model. */
  if (raise->finding == NULL && has_finding && !fill_round (db, finding, values, error))
    return FALSE;
  edit->id = 0;
  if (!book_edit_store (action, issues, values, &edit->id, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_ISSUE, edit->id);
  if (!has_finding)
    return TRUE;
  book_values_set (findings, finding, "issue", book_value_integer (edit->id));
  if (raise->finding != NULL && !book_texts_take (raise->finding, db, 0, edit->today, finding, error))
    return FALSE;
  if (!book_edit_store (action, findings, finding, &finding_id, error))
    return FALSE;
  if (is_blank (issues, values, "found_round"))
    {
      if (!fill_round (db, finding, values, error))
        return FALSE;
      return book_record_update (action, issues, edit->id, values, error);
    }
  return TRUE;
}

static BookEdit *
raise_new (gint64 model, gint64 reading, const char *const *fields, const char *const *texts, const char *const *finding_fields,
           const char *const *finding_texts)
{
  Raise *raise = g_new0 (Raise, 1);

  raise->model = model;
  raise->reading = reading;
  raise->texts = book_texts_new (BOOK_RECORD_ISSUE, fields, texts, NULL);
  if (finding_fields != NULL)
    raise->finding = book_texts_new (BOOK_RECORD_FINDING, finding_fields, finding_texts, NULL);
  return book_edit_new_dated (raise_issue, "issue-raised", raise, raise_free);
}

/**
 * book_issue_raise:
 * @model: of which model
 * @fields: (array zero-terminated=1): what is known of the issue
 * @texts: for each of @fields
 * @finding_fields: (nullable) (array zero-terminated=1): what is known of where it was seen first; %NULL: nothing
 * @finding_texts: (nullable): for each of @finding_fields
 *
 * Raises an issue from scratch, with its first finding, in one action. It was found today and in the round of the unit,
 * if nothing else is said. Errors blame a field of the issue, or of the finding where that has it and the issue has not.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_issue_raise (gint64 model, const char *const *fields, const char *const *texts, const char *const *finding_fields,
                  const char *const *finding_texts)
{
  return raise_new (model, 0, fields, texts, finding_fields, finding_texts);
}

/**
 * book_issue_raise_from:
 * @reading: a reading
 * @fields: (array zero-terminated=1): the title, and what is to differ from book_issue_draft()
 * @texts: for each of @fields
 * @finding_fields: (nullable) (array zero-terminated=1): likewise of the finding
 * @finding_texts: (nullable): for each of @finding_fields
 *
 * Raises an issue from a reading, with the unit as its first finding.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_issue_raise_from (gint64 reading, const char *const *fields, const char *const *texts, const char *const *finding_fields,
                       const char *const *finding_texts)
{
  return raise_new (0, reading, fields, texts, finding_fields, finding_texts);
}

static gboolean
add_finding (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *findings = book_record (BOOK_RECORD_FINDING);
  Raise *raise = edit->data;
  BookValue values[BOOK_MAX_FIELDS];

  book_values_begin (findings, values);
  book_values_set (findings, values, "issue", book_value_integer (raise->issue));
  edit->id = 0;
  if (!book_texts_take (raise->finding, store_action_db (action), 0, edit->today, values, error)
      || !book_edit_store (action, findings, values, &edit->id, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_ISSUE, raise->issue);
  return TRUE;
}

/**
 * book_issue_add_finding:
 * @issue: an issue
 * @fields: (array zero-terminated=1): where it was seen: a unit, a lot, or how many of how many; found and caused at
 * @texts: for each of @fields
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_issue_add_finding (gint64 issue, const char *const *fields, const char *const *texts)
{
  Raise *raise = g_new0 (Raise, 1);

  raise->issue = issue;
  raise->finding = book_texts_new (BOOK_RECORD_FINDING, fields, texts, NULL);
  return book_edit_new_dated (add_finding, "finding-added", raise, raise_free);
}

/* A step in the life of an issue or a decision about a finding. */
typedef struct
{
  char  *on;
  char  *text; /* cause, reason */
  gint64 code; /* basis, outcome, disposition */
  gint64 by;
} Deed;

static void
deed_free (gpointer data)
{
  Deed *deed = data;

  g_free (deed->on);
  g_free (deed->text);
  g_free (deed);
}

static BookEdit *
deed_new (BookEditDatedWork work, const char *message, gint64 id, const char *on, const char *text, gint64 code, gint64 by)
{
  Deed *deed = g_new0 (Deed, 1);
  BookEdit *edit = book_edit_new_dated (work, message, deed, deed_free);

  deed->on = g_strdup (on);
  deed->text = g_strdup (text);
  deed->code = code;
  deed->by = by;
  edit->id = id;
  return edit;
}

/* A choice that a person made; 0: none yet, which the rules refuse where one is wanted. */
static BookValue
chosen (const Deed *deed)
{
  return deed->code != 0 ? book_value_integer (deed->code) : BOOK_VALUE_EMPTY;
}

static gboolean
store_deed (BookEdit *edit, StoreAction *action, const BookRecord *record, BookValue *values, GError **error)
{
  if (!book_edit_store (action, record, values, &edit->id, error))
    return FALSE;
  book_edit_tell (action, edit->message, record->id, edit->id);
  return TRUE;
}

static gboolean
contain (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *issues = book_record (BOOK_RECORD_ISSUE);
  Deed *deed = edit->data;
  BookValue values[BOOK_MAX_FIELDS];

  book_values_fill (issues, values, BOOK_VALUE_UNCHANGED);
  return book_edit_day (edit, issues, "contained", deed->on, &values[book_field_index (issues, "contained")], error)
         && store_deed (edit, action, issues, values, error);
}

/**
 * book_issue_contain:
 * @issue: an issue
 * @on: (nullable): the day from which it could no longer reach anybody
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_issue_contain (gint64 issue, const char *on)
{
  return deed_new (contain, "issue-contained", issue, on, NULL, 0, 0);
}

static gboolean
know_cause (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *issues = book_record (BOOK_RECORD_ISSUE);
  BookValue values[BOOK_MAX_FIELDS];
  BookValue *cause = &values[book_field_index (issues, "cause")];
  Deed *deed = edit->data;
  g_autoptr(BookRow) row = book_record_read (store_action_db (action), issues, edit->id, error);

  if (row == NULL)
    return FALSE;
  book_values_fill (issues, values, BOOK_VALUE_UNCHANGED);
  if (!book_edit_text (issues, "cause", deed->text, cause, error)
      || !book_edit_day (edit, issues, "cause_known", deed->on, &values[book_field_index (issues, "cause_known")], error))
    return FALSE;
  if (book_value_is_empty (cause))
    *cause = *book_row_get (row, "cause");
  if (book_value_is_empty (cause))
    return book_error_refuse (error, BOOK_ERROR_VALUE, book_field_find (issues, "cause"), _("Write why it happens."));
  book_values_set (issues, values, "cause_basis", chosen (deed));
  return store_deed (edit, action, issues, values, error);
}

/**
 * book_issue_know_cause:
 * @issue: an issue
 * @cause: (nullable): why it happens; %NULL or "": as written already
 * @basis: how that is known; 0: not said
 * @on: (nullable): the day on which it was known
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_issue_know_cause (gint64 issue, const char *cause, BookCauseBasis basis, const char *on)
{
  return deed_new (know_cause, "issue-cause-known", issue, on, cause, basis, 0);
}

static gboolean
close_issue (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *issues = book_record (BOOK_RECORD_ISSUE);
  BookValue values[BOOK_MAX_FIELDS];
  Deed *deed = edit->data;

  book_values_fill (issues, values, BOOK_VALUE_UNCHANGED);
  if (!book_edit_day (edit, issues, "closed", deed->on, &values[book_field_index (issues, "closed")], error)
      || !book_edit_name (action, issues, "outcome_by", deed->by, _("An issue is closed only by name: choose first who closes it."),
                          &values[book_field_index (issues, "outcome_by")], error))
    return FALSE;
  book_values_set (issues, values, "outcome", chosen (deed));
  return store_deed (edit, action, issues, values, error);
}

/**
 * book_issue_close:
 * @issue: an issue
 * @outcome: how it ends; 0 is refused, as not chosen yet
 * @by: who closes it
 * @on: (nullable): the day
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_issue_close (gint64 issue, BookIssueOutcome outcome, gint64 by, const char *on)
{
  return deed_new (close_issue, "issue-closed", issue, on, NULL, outcome, by);
}

static gboolean
reopen (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *issues = book_record (BOOK_RECORD_ISSUE);
  g_autoptr(BookRow) row = book_record_read (store_action_db (action), issues, edit->id, error);
  BookValue values[BOOK_MAX_FIELDS];

  if (row == NULL)
    return FALSE;
  if (book_value_is_empty (book_row_get (row, "closed")))
    return book_error_refuse (error, BOOK_ERROR_REFUSED, book_field_find (issues, "closed"), _("The issue is open already."));
  book_values_fill (issues, values, BOOK_VALUE_UNCHANGED);
  book_values_set (issues, values, "closed", BOOK_VALUE_EMPTY);
  book_values_set (issues, values, "outcome", BOOK_VALUE_EMPTY);
  book_values_set (issues, values, "outcome_by", BOOK_VALUE_EMPTY);
  return store_deed (edit, action, issues, values, error);
}

/**
 * book_issue_reopen:
 * @issue: a closed issue
 *
 * Opens it again; history shows how it had been closed.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_issue_reopen (gint64 issue)
{
  return deed_new (reopen, "issue-reopened", issue, NULL, NULL, 0, 0);
}

/* Who decided, when and why: a decision about a finding has all three. */
static gboolean
fill_decision (BookEdit *edit, StoreAction *action, BookValue *values, GError **error)
{
  const BookRecord *findings = book_record (BOOK_RECORD_FINDING);
  BookValue *reason = &values[book_field_index (findings, "reason")];
  Deed *deed = edit->data;

  if (!book_edit_day (edit, findings, "date", deed->on, &values[book_field_index (findings, "date")], error)
      || !book_edit_name (action, findings, "person", deed->by, _("This is decided only by name: choose first who decides."),
                          &values[book_field_index (findings, "person")], error)
      || !book_edit_text (findings, "reason", deed->text, reason, error))
    return FALSE;
  return !book_value_is_empty (reason)
         || book_error_refuse (error, BOOK_ERROR_VALUE, book_field_find (findings, "reason"),
                               _("This is decided only with a reason: write why."));
}

static gboolean
dispose (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *findings = book_record (BOOK_RECORD_FINDING);
  BookValue values[BOOK_MAX_FIELDS];
  Deed *deed = edit->data;

  book_values_fill (findings, values, BOOK_VALUE_UNCHANGED);
  book_values_set (findings, values, "disposition", chosen (deed));
  if (deed->code == 0)
    return book_error_refuse (error, BOOK_ERROR_VALUE, book_field_find (findings, "disposition"),
                              _("Choose what is done with it."));
  return fill_decision (edit, action, values, error) && store_deed (edit, action, findings, values, error);
}

/**
 * book_finding_dispose:
 * @finding: a finding
 * @disposition: what is done with the unit or lot; 0 is refused, as not chosen yet
 * @by: who decides
 * @on: (nullable): the day
 * @reason: why
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_finding_dispose (gint64 finding, BookDisposition disposition, gint64 by, const char *on, const char *reason)
{
  return deed_new (dispose, "finding-decided", finding, on, reason, disposition, by);
}

static gboolean
excuse (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *findings = book_record (BOOK_RECORD_FINDING);
  BookValue values[BOOK_MAX_FIELDS];

  book_values_fill (findings, values, BOOK_VALUE_UNCHANGED);
  book_values_set (findings, values, "excused", book_value_integer (1));
  return fill_decision (edit, action, values, error) && store_deed (edit, action, findings, values, error);
}

/**
 * book_finding_excuse:
 * @finding: a finding on a unit
 * @by: who says so
 * @on: (nullable): the day
 * @reason: why
 *
 * Takes the unit out of the evidence; it is counted and named wherever figures stand.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_finding_excuse (gint64 finding, gint64 by, const char *on, const char *reason)
{
  return deed_new (excuse, "finding-excused", finding, on, reason, 0, by);
}
