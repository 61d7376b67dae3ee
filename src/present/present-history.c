/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The journal for a terminal or a script. */

#include "config.h"

#include "present-history.h"

#include "present-json.h"
#include "present-text.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>

struct _PresentHistory
{
  GString     *text;    /* for a terminal, else NULL */
  JsonBuilder *builder; /* for a script, else NULL */
};

/**
 * present_history_new:
 * @as_json: one JSON document instead of text
 *
 * Returns: (transfer full): begun, without an action
 */
PresentHistory *
present_history_new (gboolean as_json)
{
  PresentHistory *self = g_new0 (PresentHistory, 1);

  if (!as_json)
    {
      self->text = g_string_new (NULL);
      return self;
    }
  self->builder = json_builder_new ();
  json_builder_begin_object (self->builder);
  present_json_count (self->builder, "version", PRESENT_JSON_VERSION);
  present_json_list (self->builder, "actions");
  return self;
}

void
present_history_free (PresentHistory *self)
{
  if (self->text != NULL)
    g_string_free (self->text, TRUE);
  g_clear_object (&self->builder);
  g_free (self);
}

static const char *
kind_word (StoreActionKind kind)
{
  switch (kind)
    {
    case STORE_DO:
      return "do";
    case STORE_UNDO:
      return "undo";
    case STORE_REDO:
      return "redo";
    }
  return "";
}

static const char *
op_word (StoreOp op)
{
  switch (op)
    {
    case STORE_INSERT:
      return "added";
    case STORE_UPDATE:
      return "changed";
    case STORE_DELETE:
      return "removed";
    }
  return "";
}

static void
add_json_line (JsonBuilder *builder, const BookHistoryLine *line)
{
  json_builder_begin_object (builder);
  present_json_text (builder, "record", line->record->name);
  present_json_text (builder, "key", line->key);
  present_json_key (builder, "id", line->id);
  present_json_text (builder, "op", op_word (line->op));
  present_json_text (builder, "field", line->field == NULL ? NULL : line->field->name);
  present_json_text (builder, "before", line->before);
  present_json_text (builder, "after", line->after);
  json_builder_end_object (builder);
}

static void
add_json (JsonBuilder *builder, const BookHistoryAction *action, GPtrArray *lines, guint64 n_records)
{
  json_builder_begin_object (builder);
  present_json_key (builder, "key", action->id);
  present_json_text (builder, "kind", kind_word (action->kind));
  present_json_flag (builder, "undone", action->undone);
  present_json_flag (builder, "erased", action->erased);
  present_json_count (builder, "place", action->place);
  present_json_text (builder, "time", action->time);
  present_json_text (builder, "person", action->person);
  present_json_text (builder, "sentence", action->sentence);
  present_json_count (builder, "records", (gint64) n_records);
  present_json_list (builder, "lines");
  for (guint i = 0; lines != NULL && i < lines->len; i++)
    add_json_line (builder, lines->pdata[i]);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

static char *
change_words (const BookHistoryLine *line)
{
  const char *label = line->field == NULL ? "" : book_field_label (line->field);

  if (line->before == NULL)
    return g_strdup_printf (_("%s: %s"), label, line->after == NULL ? "" : line->after);
  if (line->after == NULL)
    /* Translators: a field that was emptied, and what it held */
    return g_strdup_printf (_("%s: %s → empty"), label, line->before);
  return g_strdup_printf (_("%s: %s → %s"), label, line->before, line->after);
}

/* A record once, its fields below it. */
static void
append_lines (GString *out, GPtrArray *lines, guint64 n_records)
{
  const BookHistoryLine *last = NULL;
  guint64 shown = 0;

  for (guint i = 0; i < lines->len; i++)
    {
      const BookHistoryLine *line = lines->pdata[i];
      g_autofree char *change = change_words (line);

      if (last == NULL || last->record != line->record || last->id != line->id)
        {
          const char *what = line->op == STORE_INSERT ? _("added") : line->op == STORE_DELETE ? _("removed") : _("changed");
          g_autofree char *head = g_strdup_printf (_("%s %s: %s"), book_record_label (line->record), line->key, what);

          present_text_add (out, head, PRESENT_TEXT_WIDTH, "  ", "    ");
          shown++;
        }
      present_text_add (out, change, PRESENT_TEXT_WIDTH, "    ", "      ");
      last = line;
    }
  if (n_records > shown)
    {
      const guint64 left = n_records - shown;
      g_autofree char *more = g_strdup_printf (ngettext ("and %" PRIu64 " more record",
                                                         "and %" PRIu64 " more records",
                                                         left),
                                               left);

      present_text_add (out, more, PRESENT_TEXT_WIDTH, "  ", "  ");
    }
}

static void
append_text (GString *out, const BookHistoryAction *action, GPtrArray *lines, guint64 n_records)
{
  g_autofree char *head = g_strdup_printf ("%s  %s  %s%s%s (%" G_GINT64_FORMAT ")",
                                           action->time,
                                           action->person == NULL ? "–" : action->person,
                                           action->sentence,
                                           action->undone ? " " : "",
                                           action->undone ? _("[undone since]") : "",
                                           action->id);

  present_text_add (out, head, PRESENT_TEXT_WIDTH, "", "  ");
  if (action->erased)
    present_text_add (out, _("What it changed was erased."), PRESENT_TEXT_WIDTH, "  ", "  ");
  if (lines != NULL)
    append_lines (out, lines, n_records);
}

/**
 * present_history_add:
 * @self: a history
 * @action: the next action
 * @lines: (nullable) (element-type BookHistoryLine): its fields; %NULL when they were erased
 * @n_records: how many records it changed, shown or not
 */
void
present_history_add (PresentHistory *self, const BookHistoryAction *action, GPtrArray *lines, guint64 n_records)
{
  if (self->builder != NULL)
    add_json (self->builder, action, lines, n_records);
  else
    append_text (self->text, action, lines, n_records);
}

/**
 * present_history_difference:
 * @lines: (element-type BookHistoryLine): from book_history_compare()
 * @n_records: how many records differ, told or not
 * @as_json: one JSON document instead of text
 *
 * Returns: (transfer full): what a book differs by between two days
 */
char *
present_history_difference (GPtrArray *lines, guint64 n_records, gboolean as_json)
{
  g_autoptr(GString) text = g_string_new (NULL);
  g_autoptr(JsonBuilder) builder = NULL;

  if (!as_json)
    {
      append_lines (text, lines, n_records);
      if (text->len == 0)
        present_text_add (text, _("The records are the same."), PRESENT_TEXT_WIDTH, "", "");
      return g_string_free (g_steal_pointer (&text), FALSE);
    }
  builder = json_builder_new ();
  json_builder_begin_object (builder);
  present_json_count (builder, "version", PRESENT_JSON_VERSION);
  present_json_count (builder, "records", (gint64) n_records);
  present_json_list (builder, "lines");
  for (guint i = 0; i < lines->len; i++)
    add_json_line (builder, lines->pdata[i]);
  json_builder_end_array (builder);
  return present_json_end (builder);
}

/**
 * present_history_end:
 * @self: a history; no action can be added afterwards
 *
 * Returns: (transfer full): the text
 */
char *
present_history_end (PresentHistory *self)
{
  if (self->builder == NULL)
    return g_string_free (g_steal_pointer (&self->text), FALSE);
  json_builder_end_array (self->builder);
  return present_json_end (self->builder);
}
