/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-freeze.h"

#include "present-json.h"
#include "present-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define FORMAT_VERSION 1 /* raised only when an older reader would take a document for something else */

struct _PresentFreeze
{
  JsonBuilder *builder;
};

static void
add_head (JsonBuilder *builder, const PresentFreezeHead *head, const PresentStanding *standing)
{
  present_json_text (builder, "format", PRESENT_FREEZE_FORMAT);
  present_json_count (builder, "version", FORMAT_VERSION);
  present_json_text (builder, "program", head->program);
  present_json_text (builder, "book", head->book);
  present_json_count (builder, "journal_entries", head->place);
  present_json_text (builder, "journal_head", head->head);
  present_json_count (builder, "model_version", head->model_version);
  present_json_count (builder, "shared_version", head->shared_version);
  present_json_key (builder, "draws_keyed_by", head->model);
  present_json_text (builder, "model", standing->data->model_code);
  present_json_text (builder, "gate", head->gate);
  present_json_text (builder, "today", standing->data->today);
}

/**
 * present_freeze_new:
 * @head: what the document is about
 * @standing: where the model stands: every criterion with its figures, reasons and the keys of its units
 *
 * Returns: (transfer full): a document that more can be added to; end it with present_freeze_end()
 */
PresentFreeze *
present_freeze_new (const PresentFreezeHead *head, const PresentStanding *standing)
{
  PresentFreeze *freeze = g_new0 (PresentFreeze, 1);

  freeze->builder = json_builder_new ();
  json_builder_begin_object (freeze->builder);
  add_head (freeze->builder, head, standing);
  present_freeze_add (freeze, "standing", present_json_standing (standing));
  return freeze;
}

/**
 * present_freeze_add:
 * @freeze: a document
 * @name: of the member
 * @node: (transfer full): what it holds
 */
void
present_freeze_add (PresentFreeze *freeze, const char *name, JsonNode *node)
{
  json_builder_set_member_name (freeze->builder, name);
  json_builder_add_value (freeze->builder, node);
}

/**
 * present_freeze_add_sheet:
 * @freeze: a document
 * @name: of the member
 * @sheet: a table in words; each row becomes a list of texts
 */
void
present_freeze_add_sheet (PresentFreeze *freeze, const char *name, const PresentSheet *sheet)
{
  JsonBuilder *builder = freeze->builder;

  present_json_list (builder, name);
  for (guint i = 0; i < sheet->rows->len; i++)
    {
      const PresentSheetRow *row = &g_array_index (sheet->rows, PresentSheetRow, i);

      json_builder_begin_array (builder);
      for (guint k = 0; row->cells[k] != NULL; k++)
        json_builder_add_string_value (builder, row->cells[k]);
      json_builder_end_array (builder);
    }
  json_builder_end_array (builder);
}

/**
 * present_freeze_end:
 * @freeze: (transfer full): a document
 *
 * Returns: (transfer full): its bytes
 */
GBytes *
present_freeze_end (PresentFreeze *freeze)
{
  JsonNode *root;
  char *text;

  json_builder_end_object (freeze->builder);
  root = json_builder_get_root (freeze->builder);
  text = present_json_print (root);
  json_node_unref (root);
  g_object_unref (freeze->builder);
  g_free (freeze);
  return g_bytes_new_take (text, strlen (text));
}

static void
criterion_free (gpointer data)
{
  PresentFrozenCriterion *criterion = data;

  g_free (criterion->code);
  g_free (criterion->name);
  g_free (criterion->asks);
  g_free (criterion->state);
  g_free (criterion->words);
  g_free (criterion);
}

static char *
text_of (JsonObject *object, const char *name)
{
  JsonNode *node = json_object_get_member (object, name);
  const char *text = node != NULL && JSON_NODE_HOLDS_VALUE (node) ? json_node_get_string (node) : NULL;

  return g_strdup (text != NULL ? text : "");
}

static double
number_of (JsonObject *object, const char *name)
{
  JsonNode *node = json_object_get_member (object, name);

  return node != NULL && JSON_NODE_HOLDS_VALUE (node) ? json_node_get_double (node) : (double) NAN;
}

static gint64
count_of (JsonObject *object, const char *name)
{
  JsonNode *node = json_object_get_member (object, name);

  return node != NULL && JSON_NODE_HOLDS_VALUE (node) ? json_node_get_int (node) : 0;
}

static void
read_criterion (G_GNUC_UNUSED JsonArray *array, G_GNUC_UNUSED guint i, JsonNode *node, gpointer data)
{
  PresentFrozen *frozen = data;
  JsonObject *object;
  PresentFrozenCriterion *criterion;
  g_autofree char *about = NULL;

  if (!JSON_NODE_HOLDS_OBJECT (node))
    return;
  object = json_node_get_object (node);
  criterion = g_new0 (PresentFrozenCriterion, 1);
  criterion->code = text_of (object, "code");
  about = text_of (object, "about");
  criterion->name = *about != '\0' ? g_strdup_printf ("%s: %s", criterion->code, about) : g_strdup (criterion->code);
  criterion->asks = text_of (object, "asks");
  criterion->state = text_of (object, "state");
  criterion->words = text_of (object, "state_words");
  criterion->n = count_of (object, "n");
  criterion->failed = count_of (object, "failed");
  criterion->confidence = number_of (object, "confidence");
  criterion->wanted = number_of (object, "wanted");
  g_ptr_array_add (frozen->criteria, criterion);
}

static JsonObject *
object_of (JsonObject *object, const char *name)
{
  JsonNode *node = object != NULL ? json_object_get_member (object, name) : NULL;

  return node != NULL && JSON_NODE_HOLDS_OBJECT (node) ? json_node_get_object (node) : NULL;
}

/* A figure with its interval: NAME, NAME_low, NAME_high. */
static void
read_interval (JsonObject *object, const char *name, double of[3])
{
  g_autofree char *low = g_strconcat (name, "_low", NULL), *high = g_strconcat (name, "_high", NULL);

  of[0] = object != NULL ? number_of (object, name) : (double) NAN;
  of[1] = object != NULL ? number_of (object, low) : (double) NAN;
  of[2] = object != NULL ? number_of (object, high) : (double) NAN;
}

static void
read_run (PresentFrozenRun *run, JsonObject *pilot)
{
  JsonObject *rate = object_of (pilot, "rate"), *cost = object_of (pilot, "cost");
  double final[3];

  run->round = pilot != NULL ? text_of (pilot, "round") : g_strdup ("");
  read_interval (pilot, "rolled", run->rolled);
  read_interval (pilot, "final", final);
  run->final[0] = final[1];
  run->final[1] = final[2];
  read_interval (rate, "month", run->month);
  run->plan = rate != NULL ? number_of (rate, "plan") : (double) NAN;
  read_interval (cost, "unit", run->cost);
}

static gboolean
refuse (GError **error, const char *sentence)
{
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA, sentence);
  return FALSE;
}

static gboolean
take (PresentFrozen *frozen, JsonNode *root, GError **error)
{
  JsonObject *object, *standing;
  JsonNode *node;
  g_autofree char *format = NULL;

  if (root == NULL || !JSON_NODE_HOLDS_OBJECT (root))
    return refuse (error, _("What was frozen is not a document of evidence: it begins with something else."));
  object = json_node_get_object (root);
  format = text_of (object, "format");
  if (!g_str_equal (format, PRESENT_FREEZE_FORMAT))
    return refuse (error, _("What was frozen is not a document of evidence: it names another format."));
  if (count_of (object, "version") > FORMAT_VERSION)
    return refuse (error, _("What was frozen was written by a newer program: open the book with that."));
  frozen->program = text_of (object, "program");
  frozen->book = text_of (object, "book");
  frozen->head = text_of (object, "journal_head");
  frozen->place = count_of (object, "journal_entries");
  frozen->today = text_of (object, "today");
  frozen->gate = text_of (object, "gate");
  standing = object_of (object, "standing");
  read_run (&frozen->run, object_of (object, "pilot"));
  frozen->headline = standing != NULL ? text_of (standing, "headline") : g_strdup ("");
  frozen->span = standing != NULL ? text_of (standing, "span") : g_strdup ("");
  node = standing != NULL ? json_object_get_member (standing, "criteria") : NULL;
  if (node != NULL && JSON_NODE_HOLDS_ARRAY (node))
    json_array_foreach_element (json_node_get_array (node), read_criterion, frozen);
  return TRUE;
}

/**
 * present_frozen_read:
 * @document: what was frozen
 * @error: return location
 *
 * Members that are not known are left alone, those that are missing are empty.
 *
 * Returns: (transfer full) (nullable): what was known then; %G_IO_ERROR_INVALID_DATA
 */
PresentFrozen *
present_frozen_read (GBytes *document, GError **error)
{
  g_autoptr(PresentFrozen) frozen = g_new0 (PresentFrozen, 1);
  g_autoptr(JsonParser) parser = json_parser_new_immutable ();
  gsize length;
  const char *text = g_bytes_get_data (document, &length);

  frozen->criteria = g_ptr_array_new_with_free_func (criterion_free);
  if (!json_parser_load_from_data (parser, text, (gssize) length, NULL))
    {
      refuse (error, _("What was frozen is not a document of evidence: it cannot be read."));
      return NULL;
    }
  if (!take (frozen, json_parser_get_root (parser), error))
    return NULL;
  frozen->root = json_parser_steal_root (parser);
  return g_steal_pointer (&frozen);
}

void
present_frozen_free (PresentFrozen *frozen)
{
  if (frozen == NULL)
    return;

  g_free (frozen->program);
  g_free (frozen->book);
  g_free (frozen->head);
  g_free (frozen->today);
  g_free (frozen->gate);
  g_free (frozen->headline);
  g_free (frozen->span);
  g_free (frozen->run.round);
  g_ptr_array_unref (frozen->criteria);
  g_clear_pointer (&frozen->root, json_node_unref);
  g_free (frozen);
}

static const PresentCriterion *
find_now (const PresentStanding *now, const char *code)
{
  for (guint i = 0; i < now->criteria->len; i++)
    {
      const PresentCriterion *criterion = now->criteria->pdata[i];

      if (g_str_equal (criterion->data->code, code))
        return criterion;
    }
  return NULL;
}

static gboolean
was_asked (const PresentFrozen *frozen, const char *code)
{
  for (guint i = 0; i < frozen->criteria->len; i++)
    if (g_str_equal (((const PresentFrozenCriterion *) frozen->criteria->pdata[i])->code, code))
      return TRUE;
  return FALSE;
}

/**
 * present_frozen_beside:
 * @frozen: what was known then
 * @now: where the model stands now
 *
 * Returns: (transfer full): each criterion, then and now; what is asked for only then or only now says so
 */
PresentSheet *
present_frozen_beside (const PresentFrozen *frozen, const PresentStanding *now)
{
  PresentSheet *sheet = present_sheet_new (_("Known then, known now"));

  present_sheet_add_column (sheet, _("criterion"), FALSE, TRUE, 0);
  present_sheet_add_column (sheet, _("n then"), TRUE, FALSE, 3);
  present_sheet_add_column (sheet, _("reached then"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("state then"), FALSE, FALSE, 0);
  present_sheet_add_column (sheet, _("n now"), TRUE, FALSE, 3);
  present_sheet_add_column (sheet, _("reached now"), TRUE, FALSE, 1);
  present_sheet_add_column (sheet, _("state now"), FALSE, FALSE, 0);
  for (guint i = 0; i < frozen->criteria->len; i++)
    {
      const PresentFrozenCriterion *then = frozen->criteria->pdata[i];
      const PresentCriterion *criterion = find_now (now, then->code);
      gboolean differs = criterion == NULL || !g_str_equal (then->state, insight_state_name (criterion->data->state));

      present_sheet_add_row (sheet, criterion != NULL ? "criterion" : NULL, criterion != NULL ? criterion->data->id : 0, differs,
                             PRESENT_CELLS (g_strdup (then->name), g_strdup_printf ("%" G_GINT64_FORMAT, then->n),
                                            isnan (then->confidence) ? g_strdup ("") : present_confidence (then->confidence, then->wanted),
                                            g_strdup (then->words), g_strdup (criterion != NULL ? criterion->n : ""),
                                            g_strdup (criterion != NULL ? criterion->confidence : ""),
                                            g_strdup (criterion != NULL ? criterion->state : _("asked for no more"))));
    }
  for (guint i = 0; i < now->criteria->len; i++)
    {
      const PresentCriterion *criterion = now->criteria->pdata[i];

      if (!was_asked (frozen, criterion->data->code))
        present_sheet_add_row (sheet, "criterion", criterion->data->id, TRUE,
                               PRESENT_CELLS (g_strdup (criterion->name), g_strdup (""), g_strdup (""), g_strdup (_("not asked for")),
                                              g_strdup (criterion->n), g_strdup (criterion->confidence), g_strdup (criterion->state)));
    }
  return sheet;
}
