/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was understood of a measuring sheet, and what was stored of it. */

#include "config.h"

#include "batch-sheet-answer.h"

#include "present-json.h"
#include "present-number.h"
#include "present-text.h"

#include <glib/gi18n.h>
#include <stdio.h>

static char *
limits_of (const ExchangeSheetColumn *column)
{
  return present_limits (column->lower, column->upper, (int) column->decimals, NULL);
}

static void
append_columns (GString *out, const ExchangeSheet *sheet)
{
  g_autoptr(PresentTable) table = present_table_new ();
  g_autofree char *text = NULL;

  present_table_add_column (table, _("column"), PRESENT_ALIGN_LEFT);
  present_table_add_column (table, _("holds"), PRESENT_ALIGN_LEFT);
  present_table_add_column (table, _("name"), PRESENT_ALIGN_LEFT);
  present_table_add_column (table, _("unit"), PRESENT_ALIGN_LEFT);
  present_table_add_column (table, _("limits"), PRESENT_ALIGN_LEFT);
  present_table_add_column (table, _("readings"), PRESENT_ALIGN_RIGHT);
  for (guint i = 0; i < exchange_sheet_count_columns (sheet); i++)
    {
      const ExchangeSheetColumn *column = exchange_sheet_get_column (sheet, i);
      g_autofree char *place = exchange_sheet_place (-1, (int) i);
      g_autofree char *limits = limits_of (column);
      g_autofree char *values = g_strdup_printf ("%u", column->n_values);
      const gboolean has_readings = column->role == EXCHANGE_COLUMN_MEASURED || column->role == EXCHANGE_COLUMN_CHECKED;
      const char *const cells[] = {
        place, exchange_column_role_label (column->role), column->name, column->unit, limits, has_readings ? values : ""
      };

      present_table_add_row (table, cells);
    }
  text = present_table_to_text (table, PRESENT_TEXT_WIDTH);
  g_string_append (out, text);
}

static void
append_rows (GString *out, const ExchangeSheet *sheet)
{
  g_string_append_printf (out, "\n%s\n", _("Rows that hold no readings"));
  for (guint i = 0; i < exchange_sheet_count_rows (sheet); i++)
    {
      const ExchangeSheetRow *row = exchange_sheet_get_row (sheet, i);
      g_autofree char *line = NULL;
      g_autofree char *wrapped = NULL;

      if (row->role == EXCHANGE_ROW_DATA)
        continue;
      line = g_strdup_printf (_("line %u: %s (%s)"), row->line, exchange_row_role_label (row->role), row->reason);
      wrapped = present_text_wrap (line, PRESENT_TEXT_WIDTH, "- ", "  ");
      g_string_append (out, wrapped);
    }
}

static char *
remark_line (const ExchangeSheetRemark *remark)
{
  if (*remark->place == '\0')
    return g_strdup (remark->text);
  return g_strdup_printf ("%s: %s", remark->place, remark->text);
}

static void
append_remarks (GString *out, const ExchangeSheet *sheet, ExchangeRemarkKind kind, const char *heading)
{
  gboolean any = FALSE;

  for (guint i = 0; i < exchange_sheet_count_remarks (sheet); i++)
    {
      const ExchangeSheetRemark *remark = exchange_sheet_get_remark (sheet, i);
      g_autofree char *line = remark_line (remark);
      g_autofree char *wrapped = present_text_wrap (line, PRESENT_TEXT_WIDTH, "- ", "  ");

      if (remark->kind != kind)
        continue;
      if (!any)
        g_string_append_printf (out, "\n%s\n", heading);
      any = TRUE;
      g_string_append (out, wrapped);
    }
}

static void
append_stored (GString *out, const ExchangeSheetStored *stored)
{
  const struct
  {
    const char *words;
    guint       count;
  } counts[] = {
    { _("characteristics"), stored->characteristics }, { _("limits"), stored->limits }, { _("units"), stored->units },
    { _("readings"), stored->readings }, { _("readings that the book had already"), stored->equal },
    { _("criteria"), stored->criteria }, { _("people"), stored->people },
  };

  g_string_append_printf (out, "\n%s\n", stored->receipt.action == 0 ? _("Nothing new was stored") : _("Stored"));
  if (stored->new_model)
    g_string_append_printf (out, "%s\n", _("- a new model"));
  if (stored->new_round)
    g_string_append_printf (out, "%s\n", _("- a new round"));
  for (guint i = 0; i < G_N_ELEMENTS (counts); i++)
    if (counts[i].count > 0)
      g_string_append_printf (out, "- %s: %u\n", counts[i].words, counts[i].count);
}

/**
 * batch_sheet_text:
 * @sheet: what was read
 * @stored: (nullable): what was stored of it; %NULL: nothing, on purpose
 *
 * Returns: (transfer full): for a terminal
 */
char *
batch_sheet_text (const ExchangeSheet *sheet, const ExchangeSheetStored *stored)
{
  GString *out = g_string_new (NULL);
  const ExchangeSheetTitle *title = exchange_sheet_get_title (sheet);

  if (title->model != NULL)
    g_string_append_printf (out, _("Model: %s\n"), title->model);
  if (title->round != NULL)
    g_string_append_printf (out, _("Round: %s\n"), title->round);
  if (title->date != NULL)
    g_string_append_printf (out, _("Day: %s\n"), title->date);
  if (title->person != NULL)
    g_string_append_printf (out, _("Measured by: %s\n"), title->person);
  g_string_append_printf (out, _("Units: %u\n"), exchange_sheet_count_units (sheet));
  g_string_append_printf (out, _("Readings: %u\n\n"), exchange_sheet_count_readings (sheet));
  append_columns (out, sheet);
  append_rows (out, sheet);
  append_remarks (out, sheet, EXCHANGE_REMARK_GUESS, _("Guessed"));
  append_remarks (out, sheet, EXCHANGE_REMARK_PROBLEM, _("Not understood, so not stored"));
  if (stored != NULL)
    append_stored (out, stored);
  else
    g_string_append_printf (out, "\n%s\n", _("Nothing was stored: this was a dry run."));
  return g_string_free (out, FALSE);
}

/**
 * batch_sheet_say_problems:
 * @sheet: what was read
 *
 * Lists on standard error what was not understood.
 */
void
batch_sheet_say_problems (const ExchangeSheet *sheet)
{
  for (guint i = 0; i < exchange_sheet_count_remarks (sheet); i++)
    {
      const ExchangeSheetRemark *remark = exchange_sheet_get_remark (sheet, i);
      g_autofree char *line = remark_line (remark);
      g_autofree char *escaped = present_text_escape (line);

      if (remark->kind == EXCHANGE_REMARK_PROBLEM)
        fprintf (stderr, "%s: %s\n", exchange_sheet_get_name (sheet), escaped);
    }
}

/* Words of a document are for programs, so they do not follow the language. */
static const char *
column_word (ExchangeColumnRole role)
{
  static const char *const words[EXCHANGE_N_COLUMN_ROLES] = {
    [EXCHANGE_COLUMN_LEFT_OUT] = "left-out", [EXCHANGE_COLUMN_SERIAL] = "serial", [EXCHANGE_COLUMN_MEASURED] = "measured",
    [EXCHANGE_COLUMN_CHECKED] = "checked", [EXCHANGE_COLUMN_DATE] = "date", [EXCHANGE_COLUMN_PERSON] = "person",
    [EXCHANGE_COLUMN_ATTEMPT] = "attempt", [EXCHANGE_COLUMN_REPEAT] = "repeat", [EXCHANGE_COLUMN_REMARK] = "remark"
  };

  return words[role];
}

static const char *
row_word (ExchangeRowRole role)
{
  static const char *const words[EXCHANGE_N_ROW_ROLES] = {
    [EXCHANGE_ROW_LEFT_OUT] = "left-out", [EXCHANGE_ROW_TITLE] = "title", [EXCHANGE_ROW_GROUP] = "group",
    [EXCHANGE_ROW_NAME] = "name", [EXCHANGE_ROW_CODE] = "code", [EXCHANGE_ROW_UNIT] = "unit", [EXCHANGE_ROW_CLASS] = "class",
    [EXCHANGE_ROW_LIMITS] = "limits", [EXCHANGE_ROW_NOMINAL] = "nominal", [EXCHANGE_ROW_LOWER] = "lower",
    [EXCHANGE_ROW_UPPER] = "upper", [EXCHANGE_ROW_DATA] = "data", [EXCHANGE_ROW_SUMMARY] = "summary"
  };

  return words[role];
}

static void
add_columns (JsonBuilder *builder, const ExchangeSheet *sheet)
{
  present_json_list (builder, "columns");
  for (guint i = 0; i < exchange_sheet_count_columns (sheet); i++)
    {
      const ExchangeSheetColumn *column = exchange_sheet_get_column (sheet, i);

      json_builder_begin_object (builder);
      present_json_text (builder, "role", column_word (column->role));
      present_json_text (builder, "reason", column->reason);
      present_json_text (builder, "name", column->name);
      present_json_text (builder, "code", column->code);
      present_json_text (builder, "unit", column->unit);
      present_json_text (builder, "class", column->class_word);
      present_json_text (builder, "limit_text", column->limit_text);
      present_json_number (builder, "nominal", column->nominal);
      present_json_number (builder, "lower", column->lower);
      present_json_number (builder, "upper", column->upper);
      present_json_count (builder, "decimals", column->decimals);
      present_json_count (builder, "repeat", column->repeat);
      present_json_count (builder, "values", column->n_values);
      present_json_count (builder, "notes", column->n_notes);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_rows (JsonBuilder *builder, const ExchangeSheet *sheet)
{
  present_json_list (builder, "rows");
  for (guint i = 0; i < exchange_sheet_count_rows (sheet); i++)
    {
      const ExchangeSheetRow *row = exchange_sheet_get_row (sheet, i);

      json_builder_begin_object (builder);
      present_json_count (builder, "line", row->line);
      present_json_text (builder, "role", row_word (row->role));
      present_json_text (builder, "reason", row->reason);
      present_json_text (builder, "serial", row->serial);
      present_json_text (builder, "date", row->date);
      present_json_text (builder, "person", row->person);
      present_json_text (builder, "remark", row->remark);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_remarks (JsonBuilder *builder, const ExchangeSheet *sheet)
{
  present_json_list (builder, "remarks");
  for (guint i = 0; i < exchange_sheet_count_remarks (sheet); i++)
    {
      const ExchangeSheetRemark *remark = exchange_sheet_get_remark (sheet, i);

      json_builder_begin_object (builder);
      present_json_text (builder, "kind", remark->kind == EXCHANGE_REMARK_GUESS ? "guess" : "problem");
      present_json_text (builder, "place", remark->place);
      present_json_text (builder, "sentence", remark->text);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_stored (JsonBuilder *builder, const ExchangeSheetStored *stored)
{
  json_builder_set_member_name (builder, "stored");
  if (stored == NULL)
    {
      json_builder_add_null_value (builder);
      return;
    }
  json_builder_begin_object (builder);
  present_json_key (builder, "action", stored->receipt.action);
  present_json_flag (builder, "new_model", stored->new_model);
  present_json_flag (builder, "new_round", stored->new_round);
  present_json_count (builder, "characteristics", stored->characteristics);
  present_json_count (builder, "limits", stored->limits);
  present_json_count (builder, "units", stored->units);
  present_json_count (builder, "readings", stored->readings);
  present_json_count (builder, "equal", stored->equal);
  present_json_count (builder, "criteria", stored->criteria);
  present_json_count (builder, "people", stored->people);
  json_builder_end_object (builder);
}

/**
 * batch_sheet_json:
 * @sheet: what was read
 * @stored: (nullable): what was stored of it; %NULL: nothing, on purpose
 *
 * Returns: (transfer full): one document
 */
char *
batch_sheet_json (const ExchangeSheet *sheet, const ExchangeSheetStored *stored)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();
  const ExchangeSheetTitle *title = exchange_sheet_get_title (sheet);

  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  present_json_text (builder, "model", title->model);
  present_json_text (builder, "round", title->round);
  present_json_text (builder, "date", title->date);
  present_json_text (builder, "person", title->person);
  present_json_count (builder, "units", exchange_sheet_count_units (sheet));
  present_json_count (builder, "readings", exchange_sheet_count_readings (sheet));
  present_json_count (builder, "problems", exchange_sheet_count_problems (sheet));
  add_columns (builder, sheet);
  add_rows (builder, sheet);
  add_remarks (builder, sheet);
  add_stored (builder, stored);
  return present_json_end (builder);
}
