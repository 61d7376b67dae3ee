/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "unit-form.h"

#include <glib/gi18n.h>

#include "book-unit.h"
#include "today.h"

static const char *const aside_fields[] = { "date", "reason", NULL };
static const char *const serial_fields[] = { "serial", NULL };
static const char *const event_fields[] = { "kind", "date", "step", "issue", "minutes", "reason", NULL };
static const char *const part_fields[] = { "revision", "lot", NULL };
static const char *const step_fields[] = { "lot", NULL };

/* A new event is stored through its own command, which asks for a name and a reason where they are due. */
static BookEdit *
set_aside (gint64 id, const char *const *names, const char *const *texts, const char *const *expected, gpointer unit)
{
  return book_unit_add_event (*(const gint64 *) unit, BOOK_EVENT_SET_ASIDE, names, texts);
}

static GtkWidget *
event_form (FettleSitting *sitting, gint64 unit, const char *const *fields)
{
  GtkWidget *form = fettle_record_form_new (sitting, BOOK_RECORD_UNIT_EVENT, fields);
  g_autofree char *today = fettle_today ();

  fettle_record_form_preset_key (FETTLE_RECORD_FORM (form), "unit", unit);
  fettle_record_form_preset_key (FETTLE_RECORD_FORM (form), "person", fettle_sitting_get_person (sitting));
  fettle_record_form_preset (FETTLE_RECORD_FORM (form), "date", today);
  return form;
}

/**
 * fettle_unit_form_aside:
 * @sitting: of the page
 * @unit: key of a unit
 *
 * Returns: (transfer floating): the form that sets the unit aside, with day and reason
 */
GtkWidget *
fettle_unit_form_aside (FettleSitting *sitting, gint64 unit)
{
  GtkWidget *form = event_form (sitting, unit, aside_fields);
  gint64 *key = g_memdup2 (&unit, sizeof unit);

  g_object_set_data_full (G_OBJECT (form), "unit", key, g_free);
  fettle_record_form_set_command (FETTLE_RECORD_FORM (form), set_aside, key);
  fettle_record_form_set_label (FETTLE_RECORD_FORM (form), _("Set Aside"));
  fettle_record_form_begin (FETTLE_RECORD_FORM (form), unit);
  return form;
}

/**
 * fettle_unit_form_event:
 * @sitting: of the page
 * @unit: key of a unit
 *
 * Returns: (transfer floating): the form for what happened to the unit
 */
GtkWidget *
fettle_unit_form_event (FettleSitting *sitting, gint64 unit)
{
  GtkWidget *form = event_form (sitting, unit, event_fields);

  fettle_record_form_begin (FETTLE_RECORD_FORM (form), unit);
  return form;
}

/**
 * fettle_unit_form_part:
 * @sitting: of the page
 * @unit: key of a unit
 * @row: key of the unit's own row about the part; 0: the plan alone speaks
 * @part: key of the part; 0: a step
 * @step: key of the step; 0: a part
 * @revision: key of the revision built in as far as known; 0
 * @lot: key of the lot; 0
 *
 * Returns: (transfer floating): the form that says what was built in
 */
GtkWidget *
fettle_unit_form_part (FettleSitting *sitting, gint64 unit, gint64 row, gint64 part, gint64 step, gint64 revision, gint64 lot)
{
  GtkWidget *form = fettle_record_form_new (sitting, BOOK_RECORD_UNIT_PART, part != 0 ? part_fields : step_fields);

  if (part != 0)
    {
      fettle_record_form_set_within (FETTLE_RECORD_FORM (form), "revision", part);
      fettle_record_form_set_within (FETTLE_RECORD_FORM (form), "lot", part);
    }
  else
    fettle_record_form_set_within (FETTLE_RECORD_FORM (form), "lot", step);
  if (row != 0)
    {
      fettle_record_form_show (FETTLE_RECORD_FORM (form), row);
      return form;
    }
  fettle_record_form_preset_key (FETTLE_RECORD_FORM (form), "unit", unit);
  fettle_record_form_preset_key (FETTLE_RECORD_FORM (form), "part", part);
  fettle_record_form_preset_key (FETTLE_RECORD_FORM (form), "step", step);
  fettle_record_form_preset_key (FETTLE_RECORD_FORM (form), "revision", revision);
  fettle_record_form_preset_key (FETTLE_RECORD_FORM (form), "lot", lot);
  fettle_record_form_begin (FETTLE_RECORD_FORM (form), unit);
  return form;
}

static BookEdit *
correct_serial (gint64 id, const char *const *names, const char *const *texts, const char *const *expected, gpointer data)
{
  return book_unit_correct_serial (id, names[0] != NULL ? texts[0] : NULL, names[0] != NULL && expected != NULL ? expected[0] : NULL);
}

/**
 * fettle_unit_form_serial:
 * @sitting: of the page
 * @unit: key of a unit
 *
 * Returns: (transfer floating): the form that puts right a serial that was typed wrong
 */
GtkWidget *
fettle_unit_form_serial (FettleSitting *sitting, gint64 unit)
{
  GtkWidget *form = fettle_record_form_new (sitting, BOOK_RECORD_UNIT, serial_fields);

  fettle_record_form_set_command (FETTLE_RECORD_FORM (form), correct_serial, NULL);
  fettle_record_form_show (FETTLE_RECORD_FORM (form), unit);
  return form;
}
