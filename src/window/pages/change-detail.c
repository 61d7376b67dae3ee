/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "change-detail.h"

#include <glib/gi18n.h>

#include "attachments.h"
#include "beside.h"
#include "book-change.h"
#include "change-effects.h"
#include "change-item-form.h"
#include "deed-form.h"
#include "present-change.h"
#include "record-form.h"
#include "reveal.h"
#include "sentence.h"
#include "tip.h"
#include "today.h"
#include "unparent.h"

#define ITEM_CHARS  34

struct _FettleChangeDetail
{
  GtkWidget parent_instance;

  FettleSitting       *sitting;
  FettleSpan           span;
  FettleChangesAnswer *answer;
  guint                index;
  gint64               change;
  gint64               characteristic; /* whose carrying over is being written down */
  GtkWidget           *box;
  GtkWidget           *form_place;
  GtkWidget           *deeds[FETTLE_N_CHANGE_DEEDS]; /* buttons */
  GtkWidget           *came_from; /* gets the keyboard back */
};

const char *const fettle_change_deeds[FETTLE_N_CHANGE_DEEDS] = {
  [FETTLE_CHANGE_AGREE] = "agree",
  [FETTLE_CHANGE_CARRY_OUT] = "carry-out",
  [FETTLE_CHANGE_WITHDRAW] = "withdraw",
  [FETTLE_CHANGE_EDIT] = "edit",
  [FETTLE_CHANGE_ADD] = "add",
};

enum { IDLE, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleChangeDetail, fettle_change_detail, GTK_TYPE_WIDGET)

static void begin_carry_over (FettleChangeDetail *self, GtkWidget *button, gint64 characteristic);

static void
add_text (FettleChangeDetail *self, const char *text, const char *classes)
{
  gtk_box_append (GTK_BOX (self->box), fettle_sentence_new (text, classes));
}

static void
add_story (FettleChangeDetail *self)
{
  g_autoptr(GPtrArray) story = present_change_story (self->answer->changes, self->index, self->answer->standing);

  for (guint i = 0; i < story->len; i++)
    add_text (self, g_ptr_array_index (story, i), NULL);
}

/* ---- from old to new ---- */

static void
attach (GtkGrid *grid, int column, int row, const char *text, const char *const *classes)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0f, "yalign", 0.0f, "wrap", TRUE,
                                   "max-width-chars", ITEM_CHARS, "css-classes", classes, NULL);

  gtk_grid_attach (grid, label, column, row, 1, 1);
}

static void
add_items (FettleChangeDetail *self, const InsightChanges *changes, const InsightChange *change)
{
  GtkWidget *grid = g_object_new (GTK_TYPE_GRID, "column-spacing", 18, "row-spacing", 2, "margin-top", 6, "margin-bottom", 4,
                                  "name", "items", NULL);

  for (guint i = 0; i < change->n_items; i++)
    {
      const BookChangeListItem *item = &changes->list->items[change->items + i];
      g_autofree char *name = present_item_name (item);
      g_autofree char *labels = present_item_labels (item);
      g_autofree char *words = present_item_words (item);
      int row = (int) i;

      attach (GTK_GRID (grid), 0, row, name, (const char *[]){ "strong", NULL });
      attach (GTK_GRID (grid), 1, row, labels, (const char *[]){ "num", NULL });
      attach (GTK_GRID (grid), 2, row, words, (const char *[]){ "dim", NULL });
    }
  if (change->n_items > 0)
    gtk_box_append (GTK_BOX (self->box), grid);
  else
    g_object_unref (g_object_ref_sink (grid));
}

/* ---- what becomes of the readings ---- */

static const char *
sign_of (InsightChangeTouchKind kind)
{
  switch (kind)
    {
    case INSIGHT_TOUCH_AGAIN:
      return "○";
    case INSIGHT_TOUCH_CARRIED:
      return "●";
    case INSIGHT_TOUCH_LACKS_SECOND:
      return "◐";
    case INSIGHT_TOUCH_JUDGED_ANEW:
      return "◇";
    }
  return "";
}

static const InsightChange *
change_of (FettleChangeDetail *self)
{
  return fettle_changes_answer_get (self->answer, self->index);
}

static void
on_carry_over (GtkButton *button, FettleChangeDetail *self)
{
  begin_carry_over (self, GTK_WIDGET (button), *(gint64 *) g_object_get_data (G_OBJECT (button), "characteristic"));
}

/* Until a change is carried out, somebody may say that readings go on counting, or take that back. */
static GtkWidget *
make_touch (FettleChangeDetail *self, const InsightChange *change, const InsightChangeTouch *touch)
{
  g_autofree char *text = present_change_touch (touch, change->state);
  gboolean open = change->state == INSIGHT_CHANGE_PROPOSED || change->state == INSIGHT_CHANGE_AGREED;
  GtkWidget *sign = g_object_new (GTK_TYPE_LABEL, "label", sign_of (touch->kind), "yalign", 0.0f, "width-request", 16,
                                  "css-classes", (const char *[]){ touch->kind == INSIGHT_TOUCH_LACKS_SECOND ? "open" : "dim", NULL },
                                  NULL);
  GtkWidget *label = fettle_sentence_new (text, NULL);
  g_autofree char *words = NULL;
  GtkWidget *button, *line;

  if (!open || touch->kind == INSIGHT_TOUCH_JUDGED_ANEW)
    return fettle_beside_new (sign, label, 8);
  line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8); /* a dozen of these at most */
  words = g_strdup_printf (_("Carry over %s"), touch->name);
  button = g_object_new (GTK_TYPE_BUTTON, "label", touch->kind == INSIGHT_TOUCH_AGAIN ? _("Carry Over…") : _("Edit…"), "name",
                         "carry-over", "valign", GTK_ALIGN_START, "css-classes", (const char *[]){ "quiet", NULL }, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  g_object_set_data_full (G_OBJECT (button), "characteristic",
                          g_memdup2 (&touch->characteristic, sizeof touch->characteristic), g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (on_carry_over), self);
  gtk_box_append (GTK_BOX (line), sign);
  gtk_box_append (GTK_BOX (line), label);
  gtk_box_append (GTK_BOX (line), button);
  return line;
}

static void
add_touches (FettleChangeDetail *self, const InsightChange *change)
{
  g_autofree char *lead = present_change_touch_lead (change);
  GtkWidget *list = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "spacing", 2, "name", "touches", NULL);

  if (change->state == INSIGHT_CHANGE_WITHDRAWN)
    {
      g_object_unref (g_object_ref_sink (list));
      return;
    }
  add_text (self, lead, "strong");
  for (guint i = 0; i < change->touches->len; i++)
    gtk_box_append (GTK_BOX (list), make_touch (self, change, &g_array_index (change->touches, InsightChangeTouch, i)));
  gtk_box_append (GTK_BOX (self->box), list);
}

/* ---- the form below ---- */

static void
close_form (FettleChangeDetail *self)
{
  GtkWidget *back = self->came_from;

  self->came_from = NULL;
  if (back != NULL && gtk_widget_get_mapped (back))
    gtk_widget_grab_focus (back); /* before the form goes */
  else
    gtk_widget_child_focus (self->form_place, GTK_DIR_LEFT);
  fettle_unparent_children (self->form_place);
  g_signal_emit (self, signals[IDLE], 0);
}

gboolean
fettle_change_detail_is_busy (FettleChangeDetail *self)
{
  g_return_val_if_fail (FETTLE_IS_CHANGE_DETAIL (self), FALSE);

  return gtk_widget_get_first_child (self->form_place) != NULL;
}

static void
show_form (FettleChangeDetail *self, GtkWidget *form, GtkWidget *came_from)
{
  fettle_unparent_children (self->form_place);
  self->came_from = came_from;
  gtk_box_append (GTK_BOX (self->form_place), form);
  g_signal_connect_object (form, "closed", G_CALLBACK (close_form), self, G_CONNECT_SWAPPED);
  fettle_reveal (self->form_place);
}

static char *
place_of (FettleChangeDetail *self, const char *deed)
{
  return g_strdup_printf ("change-%s-%" G_GINT64_FORMAT, deed, self->change);
}

static void
preset_person (FettleChangeDetail *self, FettleDeedForm *form, const char *field)
{
  const BookOption *person = fettle_options_get (self->answer->persons, fettle_sitting_get_person (self->sitting));

  if (person != NULL)
    fettle_deed_form_preset (form, field, person->text, person->label);
}

static gint64
option_of (FettleDeedForm *form, const char *field, GPtrArray *options)
{
  g_autofree char *text = fettle_deed_form_dup_text (form, field);

  return fettle_options_find (options, text);
}

/* ---- agreeing ---- */

static BookEdit *
make_agree (FettleDeedForm *form, gpointer data)
{
  FettleChangeDetail *self = data;
  g_autofree char *on = fettle_deed_form_dup_text (form, "agreed_on");
  g_autofree char *serial = fettle_deed_form_dup_text (form, "from_serial");

  return book_change_agree (self->change, option_of (form, "agreed_by", self->answer->persons), on,
                            option_of (form, "from_round", self->answer->rounds), serial[0] != '\0' ? serial : NULL);
}

/* From the round that was proposed, else the first that is not built yet. */
static void
begin_agree (FettleChangeDetail *self)
{
  static const char *const fields[] = { "agreed_by", "agreed_on", "from_round", "from_serial", NULL };
  FettleDeedForm *form = FETTLE_DEED_FORM (fettle_deed_form_new (self->sitting, BOOK_RECORD_CHANGE, fields, _("Agree"),
                                                                 make_agree, self));
  const BookChangeListChange *data = change_of (self)->data;
  const GArray *rounds = self->answer->changes->rounds;
  gint64 round = data->from_round != 0 ? data->from_round : rounds->len > 0 ? g_array_index (rounds, InsightChoice, 0).key : 0;
  const BookOption *option = fettle_options_get (self->answer->rounds, round);
  g_autofree char *today = fettle_today ();
  g_autofree char *place = place_of (self, "agree");

  show_form (self, GTK_WIDGET (form), self->deeds[FETTLE_CHANGE_AGREE]);
  preset_person (self, form, "agreed_by");
  fettle_deed_form_preset (form, "agreed_on", today, "");
  if (option != NULL)
    fettle_deed_form_preset (form, "from_round", option->text, option->label);
  else
    fettle_deed_form_say (form, _("Every round is built already: agreed without a round, the change can be carried out, and the "
                                  "next round then takes what it writes."));
  fettle_deed_form_preset (form, "from_serial", data->from_serial, "");
  fettle_deed_form_begin (form, place, self->span.model);
  fettle_deed_form_focus (form, "from_round");
}

/* ---- withdrawing ---- */

static BookEdit *
make_withdraw (FettleDeedForm *form, gpointer data)
{
  FettleChangeDetail *self = data;
  g_autofree char *on = fettle_deed_form_dup_text (form, "withdrawn");
  g_autofree char *reason = fettle_deed_form_dup_text (form, "withdrawn_reason");

  return book_change_withdraw (self->change, on, reason);
}

static void
begin_withdraw (FettleChangeDetail *self)
{
  static const char *const fields[] = { "withdrawn", "withdrawn_reason", NULL };
  FettleDeedForm *form = FETTLE_DEED_FORM (fettle_deed_form_new (self->sitting, BOOK_RECORD_CHANGE, fields, _("Withdraw"),
                                                                 make_withdraw, self));
  g_autofree char *today = fettle_today ();
  g_autofree char *place = place_of (self, "withdraw");

  show_form (self, GTK_WIDGET (form), self->deeds[FETTLE_CHANGE_WITHDRAW]);
  fettle_deed_form_preset (form, "withdrawn", today, "");
  fettle_deed_form_begin (form, place, self->span.model);
}

/* ---- carrying readings over ---- */

static BookEdit *
make_carry_over (FettleDeedForm *form, gpointer data)
{
  FettleChangeDetail *self = data;
  g_autofree char *reason = fettle_deed_form_dup_text (form, "reason");

  return book_change_set_effect (self->change, self->characteristic,
                                 reason[0] != '\0' ? BOOK_EFFECT_CARRIED_OVER : BOOK_EFFECT_MEASURE_AGAIN,
                                 option_of (form, "person", self->answer->persons),
                                 option_of (form, "second_person", self->answer->persons), reason);
}

static void
preset_option (FettleDeedForm *form, const char *field, GPtrArray *options, const char *text)
{
  const BookOption *option = fettle_options_get (options, fettle_options_find (options, text));

  if (option != NULL)
    fettle_deed_form_preset (form, field, option->text, option->label);
}

/* An empty reason takes the carrying over back. */
static void
begin_carry_over (FettleChangeDetail *self, GtkWidget *button, gint64 characteristic)
{
  static const char *const fields[] = { "reason", "person", "second_person", NULL };
  const InsightChangeTouch *touch = fettle_changes_answer_find_touch (self->answer, self->index, characteristic);
  g_autofree char *label = g_strdup_printf (_("Carry Over %s"), touch->name);
  FettleDeedForm *form = FETTLE_DEED_FORM (fettle_deed_form_new (self->sitting, BOOK_RECORD_CHANGE_EFFECT, fields, label,
                                                                 make_carry_over, self));
  g_autofree char *place = g_strdup_printf ("change-carry-%" G_GINT64_FORMAT "-%" G_GINT64_FORMAT, self->change, characteristic);

  self->characteristic = characteristic;
  show_form (self, GTK_WIDGET (form), button);
  fettle_deed_form_preset (form, "reason", touch->reason, "");
  if (touch->person[0] != '\0')
    preset_option (form, "person", self->answer->persons, touch->person);
  else
    preset_person (self, form, "person");
  preset_option (form, "second_person", self->answer->persons, touch->second_person);
  fettle_deed_form_begin (form, place, self->span.model);
}

/* ---- deeds ---- */

static void
on_carried_out (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleChangeDetail) self G_GNUC_UNUSED = data;
  g_autoptr(GError) error = NULL;

  if (!fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error))
    fettle_sitting_say_error (FETTLE_SITTING (source), error);
}

static void
begin_edit (FettleChangeDetail *self)
{
  static const char *const fields[] = { "title", "proposed_by", "proposed_on", "reason", "expected_effect", "from_round",
                                        "from_serial", NULL };
  FettleRecordForm *form = FETTLE_RECORD_FORM (fettle_record_form_new (self->sitting, BOOK_RECORD_CHANGE, fields));

  show_form (self, GTK_WIDGET (form), self->deeds[FETTLE_CHANGE_EDIT]);
  fettle_record_form_show (form, self->change);
  fettle_record_form_focus (form, NULL);
}

static void
begin_add (FettleChangeDetail *self)
{
  FettleChangeItemForm *form = FETTLE_CHANGE_ITEM_FORM (fettle_change_item_form_new (self->sitting, self->answer, self->change));

  show_form (self, GTK_WIDGET (form), self->deeds[FETTLE_CHANGE_ADD]);
  fettle_change_item_form_begin (form);
}

gboolean
fettle_change_detail_can_do (FettleChangeDetail *self, FettleChangeDeed deed)
{
  InsightChangeState state;

  g_return_val_if_fail (FETTLE_IS_CHANGE_DETAIL (self), FALSE);

  state = change_of (self)->state;
  switch (deed)
    {
    case FETTLE_CHANGE_AGREE:
    case FETTLE_CHANGE_ADD:
      return state == INSIGHT_CHANGE_PROPOSED;
    case FETTLE_CHANGE_CARRY_OUT:
      return state == INSIGHT_CHANGE_AGREED;
    case FETTLE_CHANGE_WITHDRAW:
    case FETTLE_CHANGE_EDIT:
      return state == INSIGHT_CHANGE_PROPOSED || state == INSIGHT_CHANGE_AGREED;
    case FETTLE_N_CHANGE_DEEDS:
      break;
    }
  return FALSE;
}

/**
 * fettle_change_detail_do:
 * @self: an opened change
 * @deed: what is to be done with it
 *
 * Opens the form of a deed; carrying out needs none and is done at once, for it can be taken back.
 */
void
fettle_change_detail_do (FettleChangeDetail *self, FettleChangeDeed deed)
{
  g_return_if_fail (FETTLE_IS_CHANGE_DETAIL (self));

  if (!fettle_change_detail_can_do (self, deed))
    return;
  switch (deed)
    {
    case FETTLE_CHANGE_AGREE:
      begin_agree (self);
      break;
    case FETTLE_CHANGE_CARRY_OUT:
      fettle_sitting_edit (self->sitting, book_change_carry_out (self->change, NULL), on_carried_out, g_object_ref (self));
      break;
    case FETTLE_CHANGE_WITHDRAW:
      begin_withdraw (self);
      break;
    case FETTLE_CHANGE_EDIT:
      begin_edit (self);
      break;
    case FETTLE_CHANGE_ADD:
      begin_add (self);
      break;
    case FETTLE_N_CHANGE_DEEDS:
      break;
    }
}

static void
add_deeds (FettleChangeDetail *self)
{
  static const struct
  {
    const char *label;
    const char *tooltip;
  } deeds[FETTLE_N_CHANGE_DEEDS] = {
    [FETTLE_CHANGE_AGREE] = { N_("Agree…"), N_("Somebody agrees, from a round on (F4)") },
    [FETTLE_CHANGE_CARRY_OUT] = { N_("Carry Out"),
                                  N_("Writes the new revision, setting or limit, and puts it into the plan of its round (F5)") },
    [FETTLE_CHANGE_WITHDRAW] = { N_("Withdraw…"), N_("Gives it up, with a reason (F6)") },
    [FETTLE_CHANGE_EDIT] = { N_("Edit…"), N_("Its title, reason and expected effect (F2)") },
    [FETTLE_CHANGE_ADD] = { N_("Add Old and New…"), N_("One more part, setting or limit that it alters (F3)") },
  };
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  gtk_widget_set_margin_top (line, 8);
  for (guint i = 0; i < FETTLE_N_CHANGE_DEEDS; i++)
    {
      gboolean primary = i == FETTLE_CHANGE_AGREE || i == FETTLE_CHANGE_CARRY_OUT;

      self->deeds[i] = g_object_new (GTK_TYPE_BUTTON, "label", _(deeds[i].label), "name", fettle_change_deeds[i], "action-name",
                                     "win.change", "action-target", g_variant_new_string (fettle_change_deeds[i]), "visible",
                                     fettle_change_detail_can_do (self, i), "css-classes",
                                     (const char *[]){ primary ? "primary" : "plain", NULL }, NULL);
      fettle_tip_set (self->deeds[i], _(deeds[i].tooltip));
      gtk_box_append (GTK_BOX (line), self->deeds[i]);
    }
  gtk_box_append (GTK_BOX (self->box), line);
  self->form_place = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "margin-top", 6, NULL);
  gtk_box_append (GTK_BOX (self->box), self->form_place);
}

static void
add_attachments (FettleChangeDetail *self)
{
  GtkWidget *attachments = fettle_attachments_new (self->sitting, BOOK_RECORD_CHANGE, self->change);

  gtk_widget_set_margin_top (attachments, 6);
  fettle_attachments_drop_on (FETTLE_ATTACHMENTS (attachments), GTK_WIDGET (self));
  gtk_box_append (GTK_BOX (self->box), attachments);
}

/* ---- as a widget ---- */

static void
fettle_change_detail_dispose (GObject *object)
{
  FettleChangeDetail *self = FETTLE_CHANGE_DETAIL (object);

  self->came_from = NULL;
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->answer, fettle_changes_answer_unref);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_change_detail_parent_class)->dispose (object);
}

static void
fettle_change_detail_class_init (FettleChangeDetailClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_change_detail_dispose;
  signals[IDLE] = g_signal_new ("idle", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
fettle_change_detail_init (FettleChangeDetail *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_widget_set_name (GTK_WIDGET (self), "change-detail");
}

/**
 * fettle_change_detail_new:
 * @sitting: to be asked, and to write
 * @span: model and rounds
 * @answer: the changes of the model
 * @index: of the change
 *
 * Returns: what a selected row of the changes shows below its cells
 */
GtkWidget *
fettle_change_detail_new (FettleSitting *sitting, const FettleSpan *span, FettleChangesAnswer *answer, guint index)
{
  FettleChangeDetail *self = g_object_new (FETTLE_TYPE_CHANGE_DETAIL, NULL);
  const InsightChange *change;

  self->sitting = g_object_ref (sitting);
  self->span = *span;
  self->answer = fettle_changes_answer_ref (answer);
  self->index = index;
  change = change_of (self);
  self->change = change->data->id;
  add_items (self, answer->changes, change);
  add_story (self);
  add_attachments (self);
  add_touches (self, change);
  gtk_box_append (GTK_BOX (self->box), fettle_change_effects_new (sitting, span->model, answer, index));
  add_deeds (self);
  return GTK_WIDGET (self);
}
