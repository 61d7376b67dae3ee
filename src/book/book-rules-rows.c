/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-rules-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/*
 * What the fields of one row must say together. One function a kind of record that has such a rule.
 */

typedef struct
{
  BookRules        *rules;
  const BookRecord *record;
  const BookValue  *values;
  const BookField  *blamed;
} Row;

/* Readings come by the million: their fields are found by number. book_rules_check_row() holds these to the description. */
enum
{
  READING_UNIT,
  READING_CHARACTERISTIC,
  READING_ATTEMPT,
  READING_N,
  READING_STEP,
  READING_VALUE,
  READING_MARK,
  READING_VOIDED,
  READING_REASON,
  READING_TAKEN,
  READING_PERSON,
  READING_GAUGE
};

static const BookValue *
at (const Row *row, const char *field)
{
  int i = book_field_index (row->record, field);

  g_assert (i >= 0);
  return &row->values[i];
}

static gboolean
has (const Row *row, const char *field)
{
  return !book_value_is_empty (at (row, field));
}

static gboolean
refuse (Row *row, const char *field, const char *sentence, GError **error)
{
  row->blamed = book_field_find (row->record, field);
  g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_VALUE, sentence);
  return FALSE;
}

/* Of @fields, which ends in NULL, @least to @most must be filled in. */
static gboolean
count_filled (Row *row, const char *const *fields, guint least, guint most, GError **error)
{
  g_autoptr(GString) names = g_string_new (NULL);
  guint n = 0;

  for (guint i = 0; fields[i] != NULL; i++)
    {
      n += has (row, fields[i]);
      g_string_append_printf (names, "%s%s", i > 0 ? ", " : "", book_field_label (book_field_find (row->record, fields[i])));
    }
  if (n >= least && n <= most)
    return TRUE;

  row->blamed = book_field_find (row->record, fields[0]);
  if (least == 1 && most == 1)
    g_set_error (error, BOOK_ERROR, BOOK_ERROR_VALUE, _("Exactly one of these must be filled in: %s."), names->str);
  else if (least == 0)
    g_set_error (error, BOOK_ERROR, BOOK_ERROR_VALUE, _("At most one of these can be filled in: %s."), names->str);
  else
    g_set_error (error, BOOK_ERROR, BOOK_ERROR_VALUE, _("At least one of these must be filled in: %s."), names->str);
  return FALSE;
}

#define EXACTLY_ONE(row, error, ...) count_filled (row, (const char *const[]){ __VA_ARGS__, NULL }, 1, 1, error)
#define AT_MOST_ONE(row, error, ...) count_filled (row, (const char *const[]){ __VA_ARGS__, NULL }, 0, 1, error)
#define AT_LEAST_ONE(row, error, ...) \
  count_filled (row, (const char *const[]){ __VA_ARGS__, NULL }, 1, G_MAXUINT, error)

/* ISO 8601 dates compare as texts; of moments the day counts. */
static int
compare_days (const BookValue *a, const BookValue *b)
{
  return memcmp (a->text, b->text, 10);
}

/* Of @fields, which ends in NULL, those that are filled in must follow one another. */
static gboolean
in_order (Row *row, const char *const *fields, GError **error)
{
  const char *last = NULL;

  for (guint i = 0; fields[i] != NULL; i++)
    {
      if (!has (row, fields[i]))
        continue;
      if (last != NULL && compare_days (at (row, last), at (row, fields[i])) > 0)
        {
          row->blamed = book_field_find (row->record, fields[i]);
          g_set_error (error, BOOK_ERROR, BOOK_ERROR_VALUE, _("The date lies before '%s': correct one of the two."),
                       book_field_label (book_field_find (row->record, last)));
          return FALSE;
        }
      last = fields[i];
    }
  return TRUE;
}

#define IN_ORDER(row, error, ...) in_order (row, (const char *const[]){ __VA_ARGS__, NULL }, error)

static gboolean
needs (Row *row, const char *field, const char *needed, GError **error)
{
  if (!has (row, field) || has (row, needed))
    return TRUE;
  row->blamed = book_field_find (row->record, needed);
  g_set_error (error, BOOK_ERROR, BOOK_ERROR_VALUE, _("It is empty, but must be filled in where '%s' is."),
               book_field_label (book_field_find (row->record, field)));
  return FALSE;
}

static gboolean
check_part_or_step (Row *row, GError **error)
{
  return EXACTLY_ONE (row, error, "part", "step");
}

static gboolean
check_as_built (Row *row, GError **error)
{
  return EXACTLY_ONE (row, error, "part", "step") && needs (row, "revision", "part", error);
}

static gboolean
check_round (Row *row, GError **error)
{
  return IN_ORDER (row, error, "opened", "design_fixed", "parts_ready", "built", "tested", "decided")
         && IN_ORDER (row, error, "planned_design_fixed", "planned_parts_ready", "planned_built", "planned_tested",
                      "planned_decided")
         && needs (row, "verdict", "decided", error);
}

static gboolean
check_wait (Row *row, GError **error)
{
  return IN_ORDER (row, error, "from_date", "to_date");
}

static gboolean
check_limit (Row *row, GError **error)
{
  double lower = store_value_real (at (row, "lower"), -G_MAXDOUBLE);
  double upper = store_value_real (at (row, "upper"), G_MAXDOUBLE);
  double nominal = store_value_real (at (row, "nominal"), lower);
  gint64 kind;

  if (lower >= upper)
    return refuse (row, "upper", _("The upper limit must be greater than the lower one."), error);
  if (nominal < lower || nominal > upper)
    return refuse (row, "nominal", _("The nominal value must lie within the limits."), error);
  if (!book_rules_kind_of (row->rules, at (row, "characteristic")->integer, &kind, error))
    return FALSE;
  return kind != BOOK_CHARACTERISTIC_MEASURED || AT_LEAST_ONE (row, error, "lower", "upper");
}

static gboolean
check_reading (Row *row, GError **error)
{
  const BookValue *values = row->values;
  gint64 mark = values[READING_MARK].integer;
  gboolean has_value = !book_value_is_empty (&values[READING_VALUE]);
  gint64 kind;

  if (!book_rules_kind_of (row->rules, values[READING_CHARACTERISTIC].integer, &kind, error))
    return FALSE;
  if (kind == BOOK_CHARACTERISTIC_CHECKED)
    {
      if (mark != BOOK_MARK_PASSED && mark != BOOK_MARK_FAILED)
        return refuse (row, "mark", _("The characteristic is checked, not measured: write passed or failed."), error);
      if (has_value)
        return refuse (row, "value", _("The characteristic is checked, not measured: leave the value empty."), error);
    }
  else if (kind == BOOK_CHARACTERISTIC_MEASURED)
    {
      if (mark == BOOK_MARK_PASSED || mark == BOOK_MARK_FAILED)
        return refuse (row, "mark", _("The characteristic is measured, not checked: write measured, above or below."),
                       error);
      if (!has_value)
        return refuse (row, "value", _("The characteristic is measured: write the value."), error);
    }
  if (values[READING_VOIDED].integer != 0)
    {
      if (book_value_is_empty (&values[READING_REASON]))
        return refuse (row, "reason", _("A reading is voided only with a reason: write why."), error);
      if (book_value_is_empty (&values[READING_PERSON]))
        return refuse (row, "person", _("A reading is voided only by name: write who."), error);
    }
  return TRUE;
}

static gboolean
check_unit_event (Row *row, GError **error)
{
  gint64 kind = at (row, "kind")->integer;

  if ((kind == BOOK_EVENT_ALTERED || kind == BOOK_EVENT_SET_ASIDE) && !has (row, "reason"))
    return refuse (row, "reason", _("Write what was done, and why."), error);
  if (kind == BOOK_EVENT_SET_ASIDE && !has (row, "person"))
    return refuse (row, "person", _("A unit is set aside only by name: write who."), error);
  if (kind != BOOK_EVENT_SENT_BACK && has (row, "back_to"))
    return refuse (row, "back_to", _("Only what was sent back goes to another step: leave it empty."), error);
  return TRUE;
}

static gboolean
check_issue (Row *row, GError **error)
{
  return needs (row, "outcome", "closed", error) && needs (row, "closed", "outcome", error)
         && IN_ORDER (row, error, "found_on", "contained") && IN_ORDER (row, error, "found_on", "cause_known")
         && IN_ORDER (row, error, "found_on", "closed");
}

static gboolean
check_finding (Row *row, GError **error)
{
  if (!needs (row, "affected", "inspected", error) || !needs (row, "inspected", "affected", error)
      || !EXACTLY_ONE (row, error, "unit", "lot", "affected"))
    return FALSE;
  if (has (row, "affected") && at (row, "affected")->integer > at (row, "inspected")->integer)
    return refuse (row, "affected", _("More are affected than were inspected."), error);
  if (at (row, "excused")->integer != 0 && !has (row, "reason"))
    return refuse (row, "reason", _("A unit is excused only with a reason: write why."), error);
  if (at (row, "excused")->integer != 0 && !has (row, "person"))
    return refuse (row, "person", _("A unit is excused only by name: write who."), error);
  return TRUE;
}

static gboolean
check_change (Row *row, GError **error)
{
  return needs (row, "agreed_on", "agreed_by", error) && needs (row, "agreed_by", "agreed_on", error)
         && needs (row, "from_serial", "from_round", error)
         && IN_ORDER (row, error, "proposed_on", "agreed_on", "carried_out") && IN_ORDER (row, error, "proposed_on", "withdrawn")
         && needs (row, "carried_out", "agreed_on", error) && needs (row, "withdrawn", "withdrawn_reason", error)
         && AT_MOST_ONE (row, error, "carried_out", "withdrawn");
}

static gboolean
check_change_item (Row *row, GError **error)
{
  return EXACTLY_ONE (row, error, "part", "step", "characteristic") && needs (row, "step", "setting", error)
         && needs (row, "setting", "step", error) && needs (row, "old_revision", "part", error)
         && needs (row, "new_revision", "part", error) && needs (row, "new_label", "part", error)
         && needs (row, "value", "step", error) && needs (row, "nominal", "characteristic", error)
         && needs (row, "lower", "characteristic", error) && needs (row, "upper", "characteristic", error);
}

static gboolean
check_change_effect (Row *row, GError **error)
{
  if (at (row, "effect")->integer == BOOK_EFFECT_CARRIED_OVER)
    {
      gboolean is_safety;

      if (!has (row, "reason"))
        return refuse (row, "reason", _("Older readings are carried over only with a reason: write why."), error);
      if (!has (row, "person"))
        return refuse (row, "person", _("Older readings are carried over only by name: write who."), error);
      if (!book_rules_is_safety (row->rules, at (row, "characteristic")->integer, &is_safety, error))
        return FALSE;
      if (is_safety && !has (row, "second_person"))
        return refuse (row, "second_person", _("The characteristic is about safety: a second person must agree."), error);
    }
  if (has (row, "second_person") && store_value_equal (at (row, "person"), at (row, "second_person")))
    return refuse (row, "second_person", _("The second person must be another one."), error);
  return TRUE;
}

static gboolean
check_tally (Row *row, GError **error)
{
  gint64 out = at (row, "good_first")->integer + at (row, "reworked_good")->integer + at (row, "waiting")->integer
               + at (row, "scrapped")->integer;

  return out <= at (row, "units_in")->integer
         || refuse (row, "units_in", _("More pieces came out than went in: count again."), error);
}

static gboolean
check_gauge_calibration (Row *row, GError **error)
{
  if (has (row, "excused_by") && at (row, "in_order")->integer != 0)
    return refuse (row, "excused_by", _("There is nothing to excuse, since the gauge was in order."), error);
  return IN_ORDER (row, error, "date", "due") && IN_ORDER (row, error, "date", "excused_on")
         && needs (row, "excused_by", "excused_on", error) && needs (row, "excused_by", "reason", error)
         && needs (row, "excused_on", "excused_by", error) && needs (row, "reason", "excused_by", error);
}

static gboolean
check_gauge_trial (Row *row, GError **error)
{
  return EXACTLY_ONE (row, error, "value", "verdict");
}

static gboolean
check_criterion (Row *row, GError **error)
{
  return AT_MOST_ONE (row, error, "characteristic", "issue");
}

static gboolean
check_criterion_term (Row *row, GError **error)
{
  if (!AT_MOST_ONE (row, error, "share", "target") || !needs (row, "plan_units", "plan_failures", error)
      || !needs (row, "plan_failures", "plan_units", error) || !needs (row, "shape_low", "shape_high", error)
      || !needs (row, "shape_high", "shape_low", error))
    return FALSE;
  if (has (row, "plan_units") && at (row, "plan_failures")->integer >= at (row, "plan_units")->integer)
    return refuse (row, "plan_failures", _("The plan must allow fewer failures than it has units."), error);
  if (has (row, "shape_low") && at (row, "shape_low")->real > at (row, "shape_high")->real)
    return refuse (row, "shape_high", _("The greatest shape must not be less than the least."), error);
  return TRUE;
}

static gboolean
check_signoff (Row *row, GError **error)
{
  if (has (row, "opinion") && at (row, "opinion")->integer == BOOK_OPINION_AGREE_WITH_CONDITIONS && !has (row, "conditions"))
    return refuse (row, "conditions", _("Write under which conditions."), error);
  return AT_LEAST_ONE (row, error, "opinion", "withdraws") && needs (row, "withdraws", "reason", error);
}

static gboolean
check_waiver (Row *row, GError **error)
{
  return AT_LEAST_ONE (row, error, "until", "withdraws") && IN_ORDER (row, error, "date", "until");
}

static gboolean
check_decision (Row *row, GError **error)
{
  gint64 verdict = has (row, "verdict") ? at (row, "verdict")->integer : 0;

  if (verdict == BOOK_DECISION_RELEASE_WITH_CONDITIONS && !has (row, "conditions"))
    return refuse (row, "conditions", _("Write under which conditions."), error);
  if (verdict == BOOK_DECISION_RELEASE_AT_MOST && !has (row, "at_most_units"))
    return refuse (row, "at_most_units", _("Write how many units may be made at most."), error);
  if (verdict != BOOK_DECISION_RELEASE_AT_MOST && has (row, "at_most_units"))
    return refuse (row, "at_most_units", _("A number of units belongs to 'Release of at most' alone."), error);
  return AT_LEAST_ONE (row, error, "verdict", "withdraws") && needs (row, "withdraws", "reason", error);
}

static gboolean
check_todo (Row *row, GError **error)
{
  return needs (row, "about", "about_record", error) && needs (row, "about_record", "about", error);
}

static gboolean
check_attachment (Row *row, GError **error)
{
  const BookValue *name = at (row, "name");

  /* Files are written out under their names: none may lead out of the folder that was chosen. */
  if (has (row, "sha256") && name->type == SQLITE_TEXT
      && (memchr (name->text, '/', name->length) != NULL || memchr (name->text, '\\', name->length) != NULL
          || (name->length == 1 && name->text[0] == '.') || (name->length == 2 && memcmp (name->text, "..", 2) == 0)))
    return refuse (row, "name", _("The name of a file has no '/' and no '\\', and is not '..': write only its own name."), error);
  return EXACTLY_ONE (row, error, "sha256", "link") && needs (row, "sha256", "size", error)
         && needs (row, "size", "sha256", error);
}

static gboolean (*const checks[BOOK_N_RECORDS + 1]) (Row *row, GError **error) = {
  [BOOK_RECORD_LOT] = check_part_or_step,
  [BOOK_RECORD_DEPENDS] = check_part_or_step,
  [BOOK_RECORD_ROUND_PART] = check_as_built,
  [BOOK_RECORD_UNIT_PART] = check_as_built,
  [BOOK_RECORD_ROUND] = check_round,
  [BOOK_RECORD_WAIT] = check_wait,
  [BOOK_RECORD_LIMIT] = check_limit,
  [BOOK_RECORD_READING] = check_reading,
  [BOOK_RECORD_UNIT_EVENT] = check_unit_event,
  [BOOK_RECORD_ISSUE] = check_issue,
  [BOOK_RECORD_FINDING] = check_finding,
  [BOOK_RECORD_CHANGE] = check_change,
  [BOOK_RECORD_CHANGE_ITEM] = check_change_item,
  [BOOK_RECORD_CHANGE_EFFECT] = check_change_effect,
  [BOOK_RECORD_TALLY] = check_tally,
  [BOOK_RECORD_GAUGE_CALIBRATION] = check_gauge_calibration,
  [BOOK_RECORD_GAUGE_TRIAL] = check_gauge_trial,
  [BOOK_RECORD_CRITERION] = check_criterion,
  [BOOK_RECORD_CRITERION_TERM] = check_criterion_term,
  [BOOK_RECORD_SIGNOFF] = check_signoff,
  [BOOK_RECORD_WAIVER] = check_waiver,
  [BOOK_RECORD_DECISION] = check_decision,
  [BOOK_RECORD_TODO] = check_todo,
  [BOOK_RECORD_ATTACHMENT] = check_attachment,
};

static void
hold_numbers_to_the_description (void)
{
  static gsize held = 0;

  if (g_once_init_enter (&held))
    {
      const BookRecord *reading = book_record (BOOK_RECORD_READING);

      g_assert (book_field_index (reading, "characteristic") == READING_CHARACTERISTIC);
      g_assert (book_field_index (reading, "value") == READING_VALUE);
      g_assert (book_field_index (reading, "mark") == READING_MARK);
      g_assert (book_field_index (reading, "voided") == READING_VOIDED);
      g_assert (book_field_index (reading, "reason") == READING_REASON);
      g_assert (book_field_index (reading, "person") == READING_PERSON);
      g_once_init_leave (&held, 1);
    }
}

/*
 * book_rules_check_row:
 * @rules: rules
 * @record: what kind
 * @values: (array): all values of a row, each good by itself
 * @field: (out): which field is to blame
 * @error: return location
 *
 * Returns: whether they say something that can be
 */
gboolean
book_rules_check_row (BookRules *rules, const BookRecord *record, const BookValue *values, const BookField **field,
                      GError **error)
{
  Row row = { rules, record, values, NULL };

  if (checks[record->id] == NULL)
    return TRUE;
  hold_numbers_to_the_description ();
  if (checks[record->id] (&row, error))
    return TRUE;
  *field = row.blamed;
  return FALSE;
}
