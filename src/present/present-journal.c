/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-journal.h"

#include <glib/gi18n-lib.h>

#include "book-record.h"

static const char *const action_headings[PRESENT_N_ACTION_COLUMNS] = {
  [PRESENT_ACTION_DAY] = N_("Day"),         [PRESENT_ACTION_TIME] = N_("Time"),   [PRESENT_ACTION_PERSON] = N_("By"),
  [PRESENT_ACTION_WHAT] = N_("What was done"), [PRESENT_ACTION_STATE] = N_("State"),
};

static const char *const line_headings[PRESENT_N_LINE_COLUMNS] = {
  [PRESENT_LINE_RECORD] = N_("Record"), [PRESENT_LINE_OP] = "",
  [PRESENT_LINE_FIELD] = N_("Field"),   [PRESENT_LINE_BEFORE] = N_("Before"),
  [PRESENT_LINE_AFTER] = N_("After"),
};

/* Translated heading of a column. */
const char *
present_action_heading (PresentActionColumn column)
{
  return action_headings[column][0] != '\0' ? _(action_headings[column]) : "";
}

/* Translated heading of a column; "" for that which needs none. */
const char *
present_line_heading (PresentLineColumn column)
{
  return line_headings[column][0] != '\0' ? _(line_headings[column]) : "";
}

/* The journal counts in UTC, a person by the clock on the wall. */
static char *
local (const BookHistoryAction *action, const char *format)
{
  g_autoptr(GTimeZone) utc = g_time_zone_new_utc ();
  g_autoptr(GDateTime) time = g_date_time_new_from_iso8601 (action->time, utc);
  g_autoptr(GDateTime) here = time != NULL ? g_date_time_to_local (time) : NULL;

  return here != NULL ? g_date_time_format (here, format) : g_strdup (action->time);
}

static char *
day_of (const BookHistoryAction *action, const BookHistoryAction *before)
{
  g_autofree char *day = local (action, "%Y-%m-%d");
  g_autofree char *other = before != NULL ? local (before, "%Y-%m-%d") : NULL;

  return g_strdup (g_strcmp0 (day, other) == 0 ? "" : day);
}

/**
 * present_action_cell:
 * @action: an action of the journal
 * @before: (nullable): the one in the row above
 * @column: a column
 *
 * Returns: (transfer full): the text of the cell
 */
char *
present_action_cell (const BookHistoryAction *action, const BookHistoryAction *before, PresentActionColumn column)
{
  switch (column)
    {
    case PRESENT_ACTION_DAY:
      return day_of (action, before);
    case PRESENT_ACTION_TIME:
      return local (action, "%H:%M");
    case PRESENT_ACTION_PERSON:
      return g_strdup (action->person != NULL ? action->person : "–");
    case PRESENT_ACTION_WHAT:
      return g_strdup (action->sentence);
    case PRESENT_ACTION_STATE:
      return g_strdup (action->erased ? _("content erased") : action->undone ? _("taken back since") : "");
    case PRESENT_N_ACTION_COLUMNS:
      break;
    }
  g_return_val_if_reached (g_strdup (""));
}

static const char *
op_word (StoreOp op)
{
  switch (op)
    {
    case STORE_INSERT:
      return _("added");
    case STORE_UPDATE:
      return _("changed");
    case STORE_DELETE:
      return _("removed");
    }
  g_return_val_if_reached ("");
}

/**
 * present_line_cell:
 * @line: a field that was changed
 * @before: (nullable): the one in the row above
 * @column: a column
 *
 * Returns: (transfer full): the text of the cell
 */
char *
present_line_cell (const BookHistoryLine *line, const BookHistoryLine *before, PresentLineColumn column)
{
  gboolean again = before != NULL && before->record == line->record && before->id == line->id && before->op == line->op;

  switch (column)
    {
    case PRESENT_LINE_RECORD:
      return again ? g_strdup ("") : g_strdup_printf ("%s %s", book_record_label (line->record), line->key);
    case PRESENT_LINE_OP:
      return g_strdup (again ? "" : op_word (line->op));
    case PRESENT_LINE_FIELD:
      return g_strdup (line->field != NULL ? book_field_label (line->field) : "");
    case PRESENT_LINE_BEFORE:
      return g_strdup (line->before != NULL ? line->before : line->op == STORE_UPDATE ? "–" : "");
    case PRESENT_LINE_AFTER:
      return g_strdup (line->after != NULL ? line->after : line->op == STORE_UPDATE ? "–" : "");
    case PRESENT_N_LINE_COLUMNS:
      break;
    }
  g_return_val_if_reached (g_strdup (""));
}
