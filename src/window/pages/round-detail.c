/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "round-detail.h"

#include <glib/gi18n.h>
#include <string.h>

#include "deed-form.h"
#include "record-form.h"
#include "reveal.h"
#include "round-forecast.h"
#include "round-tests.h"
#include "sentence.h"
#include "tip.h"
#include "today.h"
#include "unparent.h"
#include "wrap.h"

struct _FettleRoundDetail
{
  GtkWidget parent_instance;

  FettleSitting      *sitting;
  FettleRoundsAnswer *answer;
  gint64              model;
  gint64              round;
  GtkWidget          *box;
  GtkWidget          *story;
  GtkWidget          *buttons[FETTLE_N_ROUND_DEEDS];
  GtkWidget          *form_place;
  GtkWidget          *came_from;
  GtkWidget          *forecast;
  GtkWidget          *forecast_heading;
  GtkWidget          *parts;
  GtkWidget          *waits;
  GtkWidget          *waits_heading;
  GtkWidget          *tests;
  GtkWidget          *units;
  GtkWidget          *units_heading;
};

const char *const fettle_round_deeds[FETTLE_N_ROUND_DEEDS] = {
  [FETTLE_ROUND_EDIT] = "edit",         [FETTLE_ROUND_PART] = "part", [FETTLE_ROUND_REACH] = "reach",
  [FETTLE_ROUND_REACH_ON] = "reach-on", [FETTLE_ROUND_WAIT] = "wait", [FETTLE_ROUND_END_WAIT] = "end-wait",
  [FETTLE_ROUND_DECIDE] = "decide",
};

G_DEFINE_FINAL_TYPE (FettleRoundDetail, fettle_round_detail, GTK_TYPE_WIDGET)

static const InsightRound *
round_of (FettleRoundDetail *self)
{
  return fettle_rounds_find (self->answer, self->round);
}

/* ---- a form below the buttons ---- */

static void
close_form (FettleRoundDetail *self)
{
  GtkWidget *back = self->came_from;

  self->came_from = NULL;
  if (back != NULL && gtk_widget_get_mapped (back))
    gtk_widget_grab_focus (back); /* before the form goes */
  else
    gtk_widget_grab_focus (self->buttons[FETTLE_ROUND_EDIT]);
  fettle_unparent_children (self->form_place);
}

static void
show_form (FettleRoundDetail *self, GtkWidget *form, GtkWidget *came_from)
{
  fettle_unparent_children (self->form_place);
  self->came_from = came_from;
  gtk_box_append (GTK_BOX (self->form_place), form);
  g_signal_connect_object (form, "closed", G_CALLBACK (close_form), self, G_CONNECT_SWAPPED);
  fettle_reveal (self->form_place);
}

static void
on_done (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleRoundDetail) self G_GNUC_UNUSED = data;
  g_autoptr(GError) error = NULL;

  if (!fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error))
    fettle_sitting_say_error (FETTLE_SITTING (source), error);
}

static void
run (FettleRoundDetail *self, BookEdit *edit)
{
  fettle_sitting_edit (self->sitting, edit, on_done, g_object_ref (self));
}

static char *
place_of (FettleRoundDetail *self, const char *deed)
{
  return g_strdup_printf ("round-%s-%" G_GINT64_FORMAT, deed, self->round);
}

/* ---- what goes in ---- */

static void
begin_part (FettleRoundDetail *self, gint64 row, GtkWidget *came_from)
{
  static const char *const fields[] = { "part", "revision", "lot", "units", "first_serial", "step", NULL };
  FettleRecordForm *form = FETTLE_RECORD_FORM (fettle_record_form_new (self->sitting, BOOK_RECORD_ROUND_PART, fields));

  gtk_widget_set_name (GTK_WIDGET (form), "part-form");
  show_form (self, GTK_WIDGET (form), came_from);
  if (row != 0)
    fettle_record_form_show (form, row);
  else
    {
      fettle_record_form_preset_key (form, "round", self->round);
      fettle_record_form_begin (form, self->round);
    }
  fettle_record_form_focus (form, row != 0 ? "revision" : "part");
}

static gint64
key_of (GtkWidget *button)
{
  return *(gint64 *) g_object_get_data (G_OBJECT (button), "key");
}

static void
on_edit_part (GtkWidget *button, FettleRoundDetail *self)
{
  begin_part (self, key_of (button), button);
}

static void
on_remove_part (GtkWidget *button, FettleRoundDetail *self)
{
  run (self, book_edit_delete (BOOK_RECORD_ROUND_PART, key_of (button)));
}

static GtkWidget *
make_button (FettleRoundDetail *self, const char *label, const char *name, const char *words, gint64 key, GCallback pressed)
{
  GtkWidget *button = g_object_new (GTK_TYPE_BUTTON, "label", label, "name", name, "valign", GTK_ALIGN_START, "css-classes",
                                    (const char *[]){ "quiet", NULL }, NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  g_object_set_data_full (G_OBJECT (button), "key", g_memdup2 (&key, sizeof key), g_free);
  g_signal_connect (button, "clicked", pressed, self);
  return button;
}

static void
show_parts (FettleRoundDetail *self, const InsightRound *round)
{
  fettle_unparent_children (self->parts);
  for (guint i = 0; i < round->parts->len; i++)
    {
      const InsightRoundPart *part = &g_array_index (round->parts, InsightRoundPart, i);
      g_autofree char *name = present_round_part (part);
      g_autofree char *units = present_round_part_units (part);
      g_autofree char *edit_words = g_strdup_printf (_("Edit %s"), name);
      g_autofree char *remove_words = g_strdup_printf (_("Remove %s"), name);
      GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", name, "xalign", 0.0f, "wrap", TRUE, "max-width-chars", 40, NULL);
      GtkWidget *who = g_object_new (GTK_TYPE_LABEL, "label", units, "xalign", 0.0f, "css-classes", (const char *[]){ "dim", NULL }, NULL);
      GtkGrid *grid = GTK_GRID (self->parts);

      gtk_grid_attach (grid, label, 0, (int) i, 1, 1);
      gtk_grid_attach (grid, who, 1, (int) i, 1, 1);
      if (round->state == INSIGHT_ROUND_DECIDED) /* its plan says what went in */
        continue;
      gtk_grid_attach (grid, make_button (self, _("Edit…"), "edit-part", edit_words, part->id, G_CALLBACK (on_edit_part)), 2, (int) i, 1, 1);
      gtk_grid_attach (grid, make_button (self, _("Remove"), "remove-part", remove_words, part->id, G_CALLBACK (on_remove_part)), 3, (int) i,
                       1, 1);
    }
  if (round->parts->len == 0)
    gtk_grid_attach (GTK_GRID (self->parts),
                     fettle_sentence_new (_("Nothing is planned to go in yet: what the round before took counts."), "dim"), 0, 0, 1, 1);
}

/* ---- waits ---- */

static void
on_end_wait (GtkWidget *button, FettleRoundDetail *self)
{
  run (self, book_round_end_wait (key_of (button), NULL));
}

static void
on_edit_wait (GtkWidget *button, FettleRoundDetail *self)
{
  static const char *const fields[] = { "reason", "what", "supplier", "from_date", "to_date", NULL };
  FettleRecordForm *form = FETTLE_RECORD_FORM (fettle_record_form_new (self->sitting, BOOK_RECORD_WAIT, fields));

  show_form (self, GTK_WIDGET (form), button);
  fettle_record_form_show (form, key_of (button));
  fettle_record_form_focus (form, NULL);
}

static void
show_waits (FettleRoundDetail *self, const InsightRound *round)
{
  fettle_unparent_children (self->waits);
  for (guint i = 0; i < round->waits->len; i++)
    {
      const InsightRoundWait *wait = &g_array_index (round->waits, InsightRoundWait, i);
      g_autofree char *text = present_round_wait (wait);
      g_autofree char *end_words = g_strdup_printf (_("End today: %s"), text);
      g_autofree char *edit_words = g_strdup_printf (_("Edit %s"), text);
      GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

      gtk_box_append (GTK_BOX (line), fettle_sentence_new (text, wait->to[0] == '\0' ? "open" : "dim"));
      if (wait->to[0] == '\0')
        gtk_box_append (GTK_BOX (line), make_button (self, _("Ended Today"), "end-wait-row", end_words, wait->id, G_CALLBACK (on_end_wait)));
      gtk_box_append (GTK_BOX (line), make_button (self, _("Edit…"), "edit-wait", edit_words, wait->id, G_CALLBACK (on_edit_wait)));
      gtk_box_append (GTK_BOX (self->waits), line);
    }
  gtk_widget_set_visible (self->waits_heading, round->waits->len > 0);
}

static gint64
oldest_wait (const InsightRound *round)
{
  for (guint i = 0; i < round->waits->len; i++)
    if (g_array_index (round->waits, InsightRoundWait, i).to[0] == '\0')
      return g_array_index (round->waits, InsightRoundWait, i).id;
  return 0;
}

/* ---- units and story ---- */

static void
show_units (FettleRoundDetail *self, const InsightRound *round)
{
  fettle_unparent_children (self->units);
  for (guint i = 0; i < round->units->len; i++)
    {
      const InsightRoundUnit *unit = &g_array_index (round->units, InsightRoundUnit, i);
      GtkWidget *button = g_object_new (GTK_TYPE_BUTTON, "label", unit->serial, "name", "unit-link", "action-name", "win.show-unit",
                                        "action-target", g_variant_new_int64 (unit->id), "css-classes", (const char *[]){ "quiet", NULL }, NULL);

      fettle_tip_set (button, unit->differs[0] != '\0' ? unit->differs : _("As the plan of the round"));
      fettle_wrap_add (FETTLE_WRAP (self->units), button);
    }
  gtk_widget_set_visible (self->units_heading, round->units->len > 0);
}

static void
show_story (FettleRoundDetail *self, const InsightRound *round)
{
  g_autoptr(GPtrArray) story = present_round_story (round);

  fettle_unparent_children (self->story);
  for (guint i = 0; i < story->len; i++)
    gtk_box_append (GTK_BOX (self->story), fettle_sentence_new (g_ptr_array_index (story, i), i == 0 ? "lead" : NULL));
}

/* ---- deeds ---- */

static gboolean
can_do (FettleRoundDetail *self, FettleRoundDeed deed)
{
  const InsightRound *round = round_of (self);

  switch (deed)
    {
    case FETTLE_ROUND_EDIT:
      return TRUE;
    case FETTLE_ROUND_PART:
    case FETTLE_ROUND_WAIT:
      return round->state != INSIGHT_ROUND_DECIDED;
    case FETTLE_ROUND_REACH:
    case FETTLE_ROUND_REACH_ON:
      return round->next < BOOK_ROUND_DECIDED;
    case FETTLE_ROUND_END_WAIT:
      return oldest_wait (round) != 0;
    case FETTLE_ROUND_DECIDE:
      return round->next == BOOK_ROUND_DECIDED;
    case FETTLE_N_ROUND_DEEDS:
      break;
    }
  return FALSE;
}

static void
show_deeds (FettleRoundDetail *self, const InsightRound *round)
{
  static const char *const reach[BOOK_ROUND_DECIDED] = {
    N_("Opened Today"), N_("Design Fixed Today"), N_("Parts Ready Today"), N_("Built Today"), N_("Tested Today"),
  };

  for (guint i = 0; i < FETTLE_N_ROUND_DEEDS; i++)
    gtk_widget_set_visible (self->buttons[i], can_do (self, i));
  if (round->next < BOOK_ROUND_DECIDED)
    gtk_button_set_label (GTK_BUTTON (self->buttons[FETTLE_ROUND_REACH]), _(reach[round->next]));
}

static BookEdit *
make_reach (FettleDeedForm *form, gpointer data)
{
  FettleRoundDetail *self = data;
  const guint next = round_of (self)->next;
  g_autofree char *on = fettle_deed_form_dup_text (form, book_round_date_field (next));

  return book_round_reach (self->round, next, on);
}

static void
begin_reach (FettleRoundDetail *self)
{
  const guint next = round_of (self)->next;
  const char *const fields[] = { book_round_date_field (next), NULL };
  FettleDeedForm *form = FETTLE_DEED_FORM (fettle_deed_form_new (self->sitting, BOOK_RECORD_ROUND, fields, present_round_date (next),
                                                                 make_reach, self));
  g_autofree char *today = fettle_today ();
  g_autofree char *place = place_of (self, fields[0]);

  show_form (self, GTK_WIDGET (form), self->buttons[FETTLE_ROUND_REACH_ON]);
  fettle_deed_form_preset (form, fields[0], today, "");
  fettle_deed_form_begin (form, place, self->model);
  fettle_deed_form_focus (form, fields[0]);
}

static BookEdit *
make_wait (FettleDeedForm *form, gpointer data)
{
  static const char *const fields[] = { "reason", "what", "supplier", "from_date", NULL };
  g_autofree char *reason = fettle_deed_form_dup_text (form, "reason");
  g_autofree char *what = fettle_deed_form_dup_text (form, "what");
  g_autofree char *supplier = fettle_deed_form_dup_text (form, "supplier");
  g_autofree char *from = fettle_deed_form_dup_text (form, "from_date");

  return book_round_begin_wait (((FettleRoundDetail *) data)->round, fields, (const char *const[]){ reason, what, supplier, from, NULL });
}

static void
begin_wait (FettleRoundDetail *self)
{
  static const char *const fields[] = { "reason", "what", "supplier", "from_date", NULL };
  FettleDeedForm *form = FETTLE_DEED_FORM (fettle_deed_form_new (self->sitting, BOOK_RECORD_WAIT, fields, _("Begin to Wait"), make_wait, self));
  g_autofree char *today = fettle_today ();
  g_autofree char *place = place_of (self, "wait");

  show_form (self, GTK_WIDGET (form), self->buttons[FETTLE_ROUND_WAIT]);
  fettle_deed_form_preset (form, "from_date", today, "");
  fettle_deed_form_begin (form, place, self->model);
}

static BookEdit *
make_decide (FettleDeedForm *form, gpointer data)
{
  g_autofree char *verdict = fettle_deed_form_dup_text (form, "verdict");
  g_autofree char *cost = fettle_deed_form_dup_text (form, "cost");
  g_autofree char *on = fettle_deed_form_dup_text (form, "decided");
  const BookChoice *choice = book_choice_by_text (book_round_verdicts, verdict);

  return book_round_decide (((FettleRoundDetail *) data)->round, choice != NULL ? (BookRoundVerdict) choice->code : 0, cost, on);
}

static void
begin_decide (FettleRoundDetail *self)
{
  static const char *const fields[] = { "verdict", "decided", "cost", NULL };
  FettleDeedForm *form = FETTLE_DEED_FORM (fettle_deed_form_new (self->sitting, BOOK_RECORD_ROUND, fields, _("Decide"), make_decide, self));
  g_autofree char *today = fettle_today ();
  g_autofree char *place = place_of (self, "decide");

  show_form (self, GTK_WIDGET (form), self->buttons[FETTLE_ROUND_DECIDE]);
  fettle_deed_form_preset (form, "decided", today, "");
  fettle_deed_form_begin (form, place, self->model);
}

static void
begin_edit (FettleRoundDetail *self)
{
  static const char *const fields[] = { "label", "kind", "planned_units", "cost", "question", "opened", "design_fixed", "parts_ready", "built",
                                        "tested", "decided", "verdict", "planned_design_fixed", "planned_parts_ready", "planned_built",
                                        "planned_tested", "planned_decided", NULL };
  FettleRecordForm *form = FETTLE_RECORD_FORM (fettle_record_form_new (self->sitting, BOOK_RECORD_ROUND, fields));

  gtk_widget_set_name (GTK_WIDGET (form), "round-edit-form");
  show_form (self, GTK_WIDGET (form), self->buttons[FETTLE_ROUND_EDIT]);
  fettle_record_form_show (form, self->round);
  fettle_record_form_focus (form, "planned_units");
}

/**
 * fettle_round_detail_do:
 * @self: an opened round
 * @deed: what is to be done with it
 *
 * Opens the form of a deed; what is true of today needs none and is done at once, for it can be taken back.
 */
void
fettle_round_detail_do (FettleRoundDetail *self, FettleRoundDeed deed)
{
  g_return_if_fail (FETTLE_IS_ROUND_DETAIL (self));

  if (!can_do (self, deed))
    return;
  switch (deed)
    {
    case FETTLE_ROUND_EDIT:
      begin_edit (self);
      break;
    case FETTLE_ROUND_PART:
      begin_part (self, 0, self->buttons[FETTLE_ROUND_PART]);
      break;
    case FETTLE_ROUND_REACH:
      run (self, book_round_reach (self->round, round_of (self)->next, NULL));
      break;
    case FETTLE_ROUND_REACH_ON:
      begin_reach (self);
      break;
    case FETTLE_ROUND_WAIT:
      begin_wait (self);
      break;
    case FETTLE_ROUND_END_WAIT:
      run (self, book_round_end_wait (oldest_wait (round_of (self)), NULL));
      break;
    case FETTLE_ROUND_DECIDE:
      begin_decide (self);
      break;
    case FETTLE_N_ROUND_DEEDS:
      break;
    }
}

static void
add_deeds (FettleRoundDetail *self)
{
  static const struct
  {
    const char *label;
    const char *tooltip;
  } deeds[FETTLE_N_ROUND_DEEDS] = {
    [FETTLE_ROUND_EDIT] = { N_("Edit…"), N_("Its question, units, dates and cost (F2)") },
    [FETTLE_ROUND_PART] = { N_("Add a Part…"), N_("What goes in, by revision and lot; several rows of one part split the round (F3)") },
    [FETTLE_ROUND_REACH] = { N_("Reached Today"), N_("Notes today as the day of the next date (F4)") },
    [FETTLE_ROUND_REACH_ON] = { N_("On Another Day…"), N_("Notes an earlier day for it (Shift+F4)") },
    [FETTLE_ROUND_WAIT] = { N_("Wait…"), N_("Notes that it waits for something (F5)") },
    [FETTLE_ROUND_END_WAIT] = { N_("End the Wait"), N_("Notes that the oldest wait ended today (F6)") },
    [FETTLE_ROUND_DECIDE] = { N_("Decide…"), N_("The verdict, and what it cost (F7)") },
  };
  GtkWidget *line = fettle_wrap_new (8);

  gtk_widget_set_margin_top (line, 6);
  for (guint i = 0; i < FETTLE_N_ROUND_DEEDS; i++)
    {
      gboolean primary = i == FETTLE_ROUND_REACH || i == FETTLE_ROUND_DECIDE;

      self->buttons[i] = g_object_new (GTK_TYPE_BUTTON, "label", _(deeds[i].label), "name", fettle_round_deeds[i], "action-name", "win.on-round",
                                       "action-target", g_variant_new_string (fettle_round_deeds[i]), "css-classes",
                                       (const char *[]){ primary ? "primary" : "plain", NULL }, NULL);
      fettle_tip_set (self->buttons[i], _(deeds[i].tooltip));
      fettle_wrap_add (FETTLE_WRAP (line), self->buttons[i]);
    }
  gtk_box_append (GTK_BOX (self->box), line);
  self->form_place = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "margin-top", 6, NULL);
  gtk_box_append (GTK_BOX (self->box), self->form_place);
}

/**
 * fettle_round_detail_take:
 * @self: an opened round
 * @answer: what the book says now; the round is in it
 *
 * Writes what is new into what stands there.
 */
void
fettle_round_detail_take (FettleRoundDetail *self, FettleRoundsAnswer *answer)
{
  const InsightRound *round;
  gboolean finished;

  g_return_if_fail (FETTLE_IS_ROUND_DETAIL (self));

  fettle_rounds_answer_ref (answer);
  g_clear_pointer (&self->answer, fettle_rounds_answer_unref);
  self->answer = answer;
  round = round_of (self);
  if (round == NULL)
    return;
  finished = round->dates[BOOK_ROUND_TESTED][0] != '\0' || round->dates[BOOK_ROUND_DECIDED][0] != '\0';
  gtk_label_set_label (GTK_LABEL (self->forecast_heading), finished ? _("What it answered") : _("What it can show"));
  show_story (self, round);
  show_deeds (self, round);
  show_parts (self, round);
  show_waits (self, round);
  show_units (self, round);
  fettle_round_tests_show (FETTLE_ROUND_TESTS (self->tests), answer->rounds, round);
  fettle_round_forecast_ask (FETTLE_ROUND_FORECAST (self->forecast), self->model, round);
}

/* ---- as a widget ---- */

static GtkWidget *
add_heading (FettleRoundDetail *self, const char *text)
{
  GtkWidget *heading = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0f, "margin-top", 10, "css-classes",
                                     (const char *[]){ "section", NULL }, NULL);

  gtk_box_append (GTK_BOX (self->box), heading);
  return heading;
}

static void
fettle_round_detail_dispose (GObject *object)
{
  FettleRoundDetail *self = FETTLE_ROUND_DETAIL (object);

  self->came_from = NULL;
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->answer, fettle_rounds_answer_unref);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_round_detail_parent_class)->dispose (object);
}

static void
fettle_round_detail_class_init (FettleRoundDetailClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_round_detail_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
fettle_round_detail_init (FettleRoundDetail *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_widget_set_name (GTK_WIDGET (self), "round-detail");
}

/**
 * fettle_round_detail_new:
 * @sitting: to be asked, and to write
 * @model: key
 * @answer: the rounds of the model
 * @round: key of one of them
 *
 * Returns: what a selected row of the rounds shows below its cells
 */
GtkWidget *
fettle_round_detail_new (FettleSitting *sitting, gint64 model, FettleRoundsAnswer *answer, gint64 round)
{
  FettleRoundDetail *self = g_object_new (FETTLE_TYPE_ROUND_DETAIL, NULL);
  GtkWidget *expander = g_object_new (GTK_TYPE_EXPANDER, "label", _("Which unit for which test"), "name", "tests-expander", "margin-top", 10, NULL);

  self->sitting = g_object_ref (sitting);
  self->model = model;
  self->round = round;
  self->story = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  gtk_box_append (GTK_BOX (self->box), self->story);
  add_deeds (self);
  self->forecast_heading = add_heading (self, "");
  self->forecast = fettle_round_forecast_new (sitting);
  gtk_box_append (GTK_BOX (self->box), self->forecast);
  add_heading (self, _("What goes in"));
  self->parts = g_object_new (GTK_TYPE_GRID, "column-spacing", 14, "name", "round-parts", NULL);
  gtk_box_append (GTK_BOX (self->box), self->parts);
  self->waits_heading = add_heading (self, _("Waits"));
  self->waits = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "name", "round-waits", NULL);
  gtk_box_append (GTK_BOX (self->box), self->waits);
  self->tests = fettle_round_tests_new (sitting);
  gtk_expander_set_child (GTK_EXPANDER (expander), self->tests);
  gtk_box_append (GTK_BOX (self->box), expander);
  self->units_heading = add_heading (self, _("Units as built"));
  self->units = fettle_wrap_new (2);
  gtk_widget_set_name (self->units, "round-units");
  gtk_box_append (GTK_BOX (self->box), self->units);
  fettle_round_detail_take (self, answer);
  return GTK_WIDGET (self);
}
