/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-unit.h"

#include <glib/gi18n-lib.h>

#include "book-edit-private.h"
#include "book-texts-private.h"

typedef struct
{
  gint64        unit;
  BookEventKind kind;
  BookTexts    *texts;
} Event;

static void
event_free (gpointer data)
{
  Event *event = data;

  book_texts_free (event->texts);
  g_free (event);
}

/* Files may hold units that left without a word; whoever says it now says why. */
static gboolean
check_why (const BookRecord *events, BookEventKind kind, const BookValue *values, GError **error)
{
  return (kind != BOOK_EVENT_SENT_BACK && kind != BOOK_EVENT_SCRAPPED)
         || !book_value_is_empty (&values[book_field_index (events, "issue")])
         || !book_value_is_empty (&values[book_field_index (events, "reason")])
         || book_error_refuse (error, BOOK_ERROR_VALUE, book_field_find (events, "issue"), _("Say why: name the issue, or write the reason."));
}

static gboolean
add_event (BookEdit *edit, StoreAction *action, GError **error)
{
  const BookRecord *events = book_record (BOOK_RECORD_UNIT_EVENT);
  Event *event = edit->data;
  BookValue values[BOOK_MAX_FIELDS];

  book_values_begin (events, values);
  book_values_set (events, values, "unit", book_value_integer (event->unit));
  book_values_set (events, values, "kind", book_value_integer (event->kind));
  if (!book_texts_take (event->texts, store_action_db (action), 0, edit->today, values, error))
    return FALSE;
  if (book_value_is_empty (&values[book_field_index (events, "date")]))
    book_values_set (events, values, "date", book_value_text (edit->today, -1));
  if (book_value_is_empty (&values[book_field_index (events, "person")]))
    book_values_set (events, values, "person", book_edit_person (action));
  if (!check_why (events, event->kind, values, error))
    return FALSE;
  edit->id = 0;
  if (!book_edit_store (action, events, values, &edit->id, error))
    return FALSE;
  book_edit_tell (action, edit->message, BOOK_RECORD_UNIT, event->unit);
  return TRUE;
}

static const char *
message_of (BookEventKind kind)
{
  switch (kind)
    {
    case BOOK_EVENT_ALTERED:
      return "unit-altered";
    case BOOK_EVENT_SET_ASIDE:
      return "unit-set-aside";
    case BOOK_EVENT_SCRAPPED:
      return "unit-scrapped";
    case BOOK_EVENT_SENT_BACK:
      return "unit-sent-back";
    case BOOK_EVENT_REWORKED:
      return "unit-reworked";
    case BOOK_EVENT_PASSED:
      return "unit-passed";
    case BOOK_EVENT_BUILT:
    case BOOK_EVENT_CONSUMED:
    case BOOK_EVENT_LENT:
    case BOOK_EVENT_RETURNED:
      break;
    }
  return "unit-event";
}

/**
 * book_unit_add_event:
 * @unit: a unit
 * @kind: what happened
 * @fields: (nullable) (array zero-terminated=1): more about it, as in book_edit_record(): step, issue, minutes, reason
 * @texts: (nullable): for each of @fields
 *
 * It happened today and was done by who writes, if nothing else is said. Altering wants a reason, setting aside a
 * reason and a name, sending back and scrapping an issue or a reason.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_unit_add_event (gint64 unit, BookEventKind kind, const char *const *fields, const char *const *texts)
{
  Event *event = g_new0 (Event, 1);

  event->unit = unit;
  event->kind = kind;
  event->texts = book_texts_new (BOOK_RECORD_UNIT_EVENT, fields, texts, NULL);
  return book_edit_new_dated (add_event, message_of (kind), event, event_free);
}

/**
 * book_unit_event_at:
 * @edit: from book_unit_add_event()
 * @step: key of the step at which it happened; 0: it stays not said
 *
 * The step by its key rather than as text.
 */
void
book_unit_event_at (BookEdit *edit, gint64 step)
{
  if (step != 0)
    book_texts_refer (((Event *) edit->data)->texts, "step", step);
}

/**
 * book_unit_set_aside:
 * @unit: a unit
 * @on: (nullable): the day; %NULL: today
 * @reason: why
 *
 * The honest way to take a unit out: it counts no longer, by name and with a reason, and stays visible.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_unit_set_aside (gint64 unit, const char *on, const char *reason)
{
  const char *const fields[] = { "date", "reason", NULL };
  const char *const texts[] = { on, reason, NULL };

  /* An empty date is no date of the form: today's is filled in then. */
  return book_unit_add_event (unit, BOOK_EVENT_SET_ASIDE, on != NULL && *on != '\0' ? fields : fields + 1,
                              on != NULL && *on != '\0' ? texts : texts + 1);
}

typedef struct
{
  gint64 unit;
  gint64 part;
  gint64 step;
  gint64 revision;
  gint64 lot;
} BuiltIn;

static BookValue
reference (gint64 id)
{
  return id != 0 ? book_value_integer (id) : BOOK_VALUE_EMPTY;
}

static gboolean
build_in (StoreAction *action, gpointer data, gint64 *id, GError **error)
{
  const BookRecord *parts = book_record (BOOK_RECORD_UNIT_PART);
  const BuiltIn *built = data;
  const BookValue key[] = { book_value_integer (built->unit), reference (built->part), reference (built->step) };
  BookValue values[BOOK_MAX_FIELDS];

  book_edit_tell (action, "unit-as-built", BOOK_RECORD_UNIT, built->unit);
  if (!book_record_find_id (store_action_db (action), parts, key, id, error))
    return FALSE;
  if (built->revision == 0 && built->lot == 0)
    return *id == 0 || book_record_delete (action, parts, *id, error);
  book_values_begin (parts, values);
  for (guint i = 0; i < G_N_ELEMENTS (key); i++)
    book_values_set (parts, values, parts->key[i], key[i]);
  book_values_set (parts, values, "revision", reference (built->revision));
  book_values_set (parts, values, "lot", reference (built->lot));
  return book_edit_store (action, parts, values, id, error);
}

/**
 * book_unit_build_in:
 * @unit: a unit
 * @part: the part built in; 0: an outside step
 * @step: the outside step done; 0: a part
 * @revision: the state of design built in; 0: none
 * @lot: the delivery or batch; 0: not known
 *
 * Says what was built in where it differs from the round's plan. Revision and lot count together, so give the plan's
 * where only one differs; without both the plan holds again.
 *
 * Returns: (transfer full): the command
 */
BookEdit *
book_unit_build_in (gint64 unit, gint64 part, gint64 step, gint64 revision, gint64 lot)
{
  const BuiltIn built = { unit, part, step, revision, lot };

  return book_edit_new (build_in, "unit-as-built", g_memdup2 (&built, sizeof built), g_free);
}
