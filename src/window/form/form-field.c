/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "form-field.h"

#include <glib/gi18n.h>

#include "drafts.h"
#include "editor.h"
#include "keyboard.h"
#include "tip.h"
#include "unparent.h"
#include "words.h"

#define SAID_CHARS 20 /* the least width at which a sentence wraps */

struct _FettleFormField
{
  GtkWidget parent_instance;

  const BookField *field;
  FettleDrafts    *drafts;
  char            *draft; /* its name; NULL: nothing is kept */
  char            *base;  /* as the book has it */
  char            *base_shown;
  gboolean         is_asking; /* which of two values counts */
  gboolean         leaving;

  FettleEditor *editor;
  GtkLabel     *said; /* NULL until something is wrong: most fields of a form never need it, and a form is made within a frame */
  GtkWidget    *both; /* NULL until there are two values */
  GtkLabel     *both_words;
};

enum { CHANGED, REACHED, LEFT, ENTERED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleFormField, fettle_form_field, GTK_TYPE_WIDGET)

/* Two texts for one value are the same: '0,10' and '0.1'. */
static gboolean
is_same (const BookField *field, const char *a, const char *b)
{
  BookValue first, second;

  if (g_str_equal (a, b))
    return TRUE;
  if (field->kind == BOOK_KIND_REFERENCE || a[0] == '\0' || b[0] == '\0')
    return FALSE;
  return book_value_parse (field, a, -1, TRUE, &first, NULL) && book_value_parse (field, b, -1, TRUE, &second, NULL)
         && book_value_compare (&first, &second) == 0;
}

/* ---- drafts ---- */

static void ask_which (FettleFormField *self, gboolean ask);

/* Beside what is typed: how it reads, of a reference, and what the book had, so that it is seen when that changed. */
static char *
shown_name (FettleFormField *self)
{
  return g_strconcat (self->draft, "-shown", NULL);
}

static char *
base_name (FettleFormField *self)
{
  return g_strconcat (self->draft, "-base", NULL);
}

static void
keep (FettleFormField *self)
{
  g_autofree char *text = NULL, *shown = NULL, *name = NULL, *before = NULL;
  gboolean changed;

  if (self->draft == NULL)
    return;
  changed = fettle_form_field_is_changed (self);
  text = fettle_editor_dup_text (self->editor);
  before = base_name (self);
  fettle_drafts_keep (self->drafts, self->draft, changed ? text : NULL);
  if (!self->is_asking) /* while two values are shown, the one that was typed over stays what it was */
    fettle_drafts_keep (self->drafts, before, changed ? self->base : NULL);
  if (self->field->kind != BOOK_KIND_REFERENCE)
    return;
  name = shown_name (self);
  shown = fettle_editor_dup_shown (self->editor);
  fettle_drafts_keep (self->drafts, name, changed ? shown : NULL);
}

void
fettle_form_field_set_place (FettleFormField *self, const char *place)
{
  g_return_if_fail (FETTLE_IS_FORM_FIELD (self));

  g_clear_pointer (&self->draft, g_free);
  if (place == NULL)
    return;
  self->draft = g_strdup_printf ("form-%s-%s", place, self->field->name);
  g_strdelimit (self->draft, "_", '-');
}

gboolean
fettle_form_field_restore (FettleFormField *self)
{
  g_autofree char *text = NULL, *shown = NULL, *name = NULL, *before = NULL, *base = NULL;

  g_return_val_if_fail (FETTLE_IS_FORM_FIELD (self), FALSE);

  if (self->draft == NULL)
    return FALSE;
  text = g_strdup (fettle_drafts_get (self->drafts, self->draft));
  if (text == NULL)
    return FALSE;
  if (is_same (self->field, text, self->base))
    {
      keep (self);
      return FALSE;
    }
  name = shown_name (self);
  shown = g_strdup (fettle_drafts_get (self->drafts, name));
  fettle_editor_set_text (self->editor, text, shown);
  before = base_name (self);
  base = g_strdup (fettle_drafts_get (self->drafts, before));
  if (base != NULL && !is_same (self->field, base, self->base))
    ask_which (self, TRUE);
  return TRUE;
}

/* ---- what is said ---- */

/* The help of the field, or what is wrong with it: read out when the control has the keyboard. */
static void
describe (FettleFormField *self, const char *sentence)
{
  GtkAccessible *control = GTK_ACCESSIBLE (fettle_editor_get_control (self->editor));

  gtk_accessible_update_property (control, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  sentence != NULL ? sentence : book_field_help (self->field), -1);
  gtk_accessible_update_state (control, GTK_ACCESSIBLE_STATE_INVALID,
                               sentence != NULL ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
}

/* Below the control, and above the choice of two values. */
static void
make_said (FettleFormField *self)
{
  self->said = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "width-chars", SAID_CHARS, "max-width-chars", 60,
                             "name", "wrong", "visible", FALSE, "css-classes", (const char *[]){ "open", "small", NULL }, NULL);
  gtk_widget_insert_after (GTK_WIDGET (self->said), GTK_WIDGET (self), GTK_WIDGET (self->editor));
}

void
fettle_form_field_tell (FettleFormField *self, const char *sentence)
{
  g_return_if_fail (FETTLE_IS_FORM_FIELD (self));

  if (self->said == NULL && sentence == NULL)
    return;
  if (self->said == NULL)
    make_said (self);
  fettle_words_show (self->said, sentence);
  if (sentence != NULL)
    gtk_widget_add_css_class (GTK_WIDGET (self), "wrong");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "wrong");
  describe (self, sentence);
}

static gboolean
is_good (FettleFormField *self, GError **error)
{
  g_autofree char *text = fettle_editor_dup_text (self->editor);
  BookValue value = BOOK_VALUE_EMPTY;

  if (self->field->kind == BOOK_KIND_REFERENCE)
    return text[0] != '\0' || book_value_check (self->field, &value, error);
  return book_value_parse (self->field, text, -1, TRUE, &value, error);
}

/**
 * fettle_form_field_check:
 * @self: a field
 *
 * Says what is wrong with what stands in it, or that nothing is any more.
 *
 * Returns: whether the field can hold it
 */
gboolean
fettle_form_field_check (FettleFormField *self)
{
  g_autoptr(GError) error = NULL;

  g_return_val_if_fail (FETTLE_IS_FORM_FIELD (self), FALSE);

  if (is_good (self, &error))
    {
      fettle_form_field_tell (self, NULL);
      return TRUE;
    }
  fettle_form_field_tell (self, error->message);
  return FALSE;
}

static void on_take_theirs (FettleFormField *self);
static void on_keep_mine (FettleFormField *self);

static void
make_both (FettleFormField *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *theirs = g_object_new (GTK_TYPE_BUTTON, "label", _("Take That"), "name", "take-theirs", "css-classes",
                                    (const char *[]){ "plain", NULL }, NULL);
  GtkWidget *mine = g_object_new (GTK_TYPE_BUTTON, "label", _("Keep Mine"), "name", "keep-mine", "css-classes",
                                  (const char *[]){ "plain", NULL }, NULL);

  self->both = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  self->both_words = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "width-chars", SAID_CHARS, "max-width-chars", 60,
                                   "name", "both", "css-classes", (const char *[]){ "open", "small", NULL }, NULL);
  g_signal_connect_swapped (theirs, "clicked", G_CALLBACK (on_take_theirs), self);
  g_signal_connect_swapped (mine, "clicked", G_CALLBACK (on_keep_mine), self);
  gtk_box_append (GTK_BOX (line), theirs);
  gtk_box_append (GTK_BOX (line), mine);
  gtk_box_append (GTK_BOX (self->both), GTK_WIDGET (self->both_words));
  gtk_box_append (GTK_BOX (self->both), line);
  gtk_widget_insert_before (self->both, GTK_WIDGET (self), NULL);
}

static void
ask_which (FettleFormField *self, gboolean ask)
{
  g_autofree char *words = NULL;

  self->is_asking = ask;
  if (self->both == NULL && ask)
    make_both (self);
  if (self->both != NULL)
    gtk_widget_set_visible (self->both, ask);
  if (!ask)
    return;
  words = self->base_shown[0] != '\0' ? g_strdup_printf (_("Somebody else wrote here meanwhile: '%s'."), self->base_shown)
                                      : g_strdup (_("Somebody else emptied this field meanwhile."));
  gtk_label_set_label (self->both_words, words);
}

static void
on_take_theirs (FettleFormField *self)
{
  fettle_form_field_revert (self);
  fettle_form_field_focus (self);
}

static void
on_keep_mine (FettleFormField *self)
{
  ask_which (self, FALSE);
  fettle_form_field_focus (self);
  g_signal_emit (self, signals[LEFT], 0);
}

/* ---- typing and leaving ---- */

static void
on_changed (FettleFormField *self)
{
  keep (self);
  /* What was wrong and is good now is no longer called wrong; what is typed is not judged before the field is left. */
  if (self->said != NULL && gtk_widget_get_visible (GTK_WIDGET (self->said)) && is_good (self, NULL))
    fettle_form_field_tell (self, NULL);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_entered (FettleFormField *self)
{
  fettle_editor_tidy (self->editor);
  g_signal_emit (self, signals[ENTERED], 0);
}

static void
leave (FettleFormField *self)
{
  if (self->leaving || self->editor == NULL)
    return;
  self->leaving = TRUE;
  fettle_editor_tidy (self->editor);
  g_signal_emit (self, signals[LEFT], 0);
  self->leaving = FALSE;
}

static void
on_focus_reached (FettleFormField *self)
{
  g_signal_emit (self, signals[REACHED], 0);
}

static void
on_focus_left (FettleFormField *self)
{
  if (!fettle_keyboard_comes_back (GTK_WIDGET (self)))
    leave (self);
}

/* ---- the value ---- */

void
fettle_form_field_take (FettleFormField *self, const char *text, const char *shown)
{
  g_autofree char *typed = NULL;
  gboolean changed, news;

  g_return_if_fail (FETTLE_IS_FORM_FIELD (self));

  typed = fettle_editor_dup_text (self->editor);
  changed = !is_same (self->field, typed, self->base);
  news = !is_same (self->field, text, self->base);
  g_free (self->base);
  self->base = g_strdup (text);
  g_free (self->base_shown);
  self->base_shown = g_strdup (shown);
  if (is_same (self->field, typed, text))
    changed = FALSE;
  if (changed)
    {
      if (news || self->is_asking)
        ask_which (self, TRUE);
      return;
    }
  ask_which (self, FALSE);
  /* Under the cursor '12.' stays what it is. */
  if (news || self->field->kind == BOOK_KIND_REFERENCE
      || (gtk_widget_get_state_flags (GTK_WIDGET (self)) & GTK_STATE_FLAG_FOCUS_WITHIN) == 0)
    fettle_editor_set_text (self->editor, text, shown);
  keep (self);
}

void
fettle_form_field_propose (FettleFormField *self, const char *text)
{
  g_autofree char *typed = NULL;

  g_return_if_fail (FETTLE_IS_FORM_FIELD (self));

  typed = fettle_editor_dup_text (self->editor);
  if (self->base[0] == '\0' && typed[0] == '\0')
    fettle_editor_set_text (self->editor, text, text);
}

void
fettle_form_field_revert (FettleFormField *self)
{
  g_return_if_fail (FETTLE_IS_FORM_FIELD (self));

  fettle_editor_set_text (self->editor, self->base, self->base_shown);
  ask_which (self, FALSE);
  fettle_form_field_tell (self, NULL);
  keep (self);
}

void
fettle_form_field_stored (FettleFormField *self, const char *text)
{
  g_autofree char *shown = NULL;

  g_return_if_fail (FETTLE_IS_FORM_FIELD (self));

  shown = fettle_editor_dup_shown (self->editor);
  g_free (self->base);
  self->base = g_strdup (text);
  g_free (self->base_shown);
  self->base_shown = g_steal_pointer (&shown);
  ask_which (self, FALSE);
  keep (self);
}

char *
fettle_form_field_dup_text (FettleFormField *self)
{
  g_return_val_if_fail (FETTLE_IS_FORM_FIELD (self), NULL);

  return fettle_editor_dup_text (self->editor);
}

const char *
fettle_form_field_get_base (FettleFormField *self)
{
  g_return_val_if_fail (FETTLE_IS_FORM_FIELD (self), NULL);

  return self->base;
}

const BookField *
fettle_form_field_get_field (FettleFormField *self)
{
  g_return_val_if_fail (FETTLE_IS_FORM_FIELD (self), NULL);

  return self->field;
}

/**
 * fettle_form_field_is_changed:
 * @self: a field
 *
 * Returns: whether something else stands in it than the book holds
 */
gboolean
fettle_form_field_is_changed (FettleFormField *self)
{
  g_autofree char *text = NULL;

  g_return_val_if_fail (FETTLE_IS_FORM_FIELD (self), FALSE);

  text = fettle_editor_dup_text (self->editor);
  return !is_same (self->field, text, self->base);
}

/* Whether two values are shown, of which a person has to choose one. */
gboolean
fettle_form_field_is_asking (FettleFormField *self)
{
  g_return_val_if_fail (FETTLE_IS_FORM_FIELD (self), FALSE);

  return self->is_asking;
}

void
fettle_form_field_set_offer (FettleFormField *self, gint64 model, gint64 within)
{
  g_return_if_fail (FETTLE_IS_FORM_FIELD (self));

  fettle_editor_set_offer (self->editor, model, within);
}

void
fettle_form_field_focus (FettleFormField *self)
{
  g_return_if_fail (FETTLE_IS_FORM_FIELD (self));

  gtk_widget_grab_focus (fettle_editor_get_control (self->editor));
}

/* ---- as an object ---- */

static void
fettle_form_field_dispose (GObject *object)
{
  FettleFormField *self = FETTLE_FORM_FIELD (object);

  if (self->editor != NULL)
    g_signal_handlers_disconnect_by_data (self->editor, self);
  self->editor = NULL;
  fettle_unparent_children (object);
  g_clear_object (&self->drafts);
  G_OBJECT_CLASS (fettle_form_field_parent_class)->dispose (object);
}

static void
fettle_form_field_finalize (GObject *object)
{
  FettleFormField *self = FETTLE_FORM_FIELD (object);

  g_free (self->draft);
  g_free (self->base);
  g_free (self->base_shown);
  G_OBJECT_CLASS (fettle_form_field_parent_class)->finalize (object);
}

static void
fettle_form_field_class_init (FettleFormFieldClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GType type = G_TYPE_FROM_CLASS (class);

  object_class->dispose = fettle_form_field_dispose;
  object_class->finalize = fettle_form_field_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
  signals[CHANGED] = g_signal_new ("changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ENTERED] = g_signal_new ("entered", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[REACHED] = g_signal_new ("reached", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[LEFT] = g_signal_new ("left", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fettle_form_field_init (FettleFormField *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 2);
  gtk_widget_add_css_class (GTK_WIDGET (self), "field");
  self->base = g_strdup ("");
  self->base_shown = g_strdup ("");
}

static GtkWidget *
make_label (const BookField *field)
{
  const char *words = field->kind == BOOK_KIND_BOOLEAN && field->required ? " " : book_field_label (field);
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", words, "xalign", 0.0f, "ellipsize", PANGO_ELLIPSIZE_END,
                                   "css-classes", (const char *[]){ "field-label", NULL }, NULL);
  GtkWidget *line;

  fettle_tip_set (label, book_field_help (field));
  if ((!field->required && !field->asked) || field->fallback != NULL)
    return label;
  line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_box_append (GTK_BOX (line), label);
  gtk_box_append (GTK_BOX (line), g_object_new (GTK_TYPE_LABEL, "label", /* Translators: of a field that must be filled in */
                                                _("needed"), "css-classes", (const char *[]){ "field-label", "dim", "italic", NULL }, NULL));
  return line;
}

/* A control that shows what is chosen in it names itself. */
static void
name_control (FettleFormField *self)
{
  GtkWidget *control = fettle_editor_get_control (self->editor);

  if (GTK_IS_ENTRY (control) || GTK_IS_TEXT_VIEW (control))
    gtk_accessible_update_property (GTK_ACCESSIBLE (control), GTK_ACCESSIBLE_PROPERTY_LABEL, book_field_label (self->field),
                                    GTK_ACCESSIBLE_PROPERTY_REQUIRED, self->field->required, -1);
  gtk_widget_set_name (control, self->field->name);
  describe (self, NULL);
}

/**
 * fettle_form_field_new:
 * @sitting: the window's
 * @field: of a description
 *
 * Returns: (transfer floating): an empty field; its control has the field's name as widget name
 */
GtkWidget *
fettle_form_field_new (FettleSitting *sitting, const BookField *field)
{
  FettleFormField *self = g_object_new (FETTLE_TYPE_FORM_FIELD, NULL);
  GtkEventController *focus = gtk_event_controller_focus_new ();

  self->field = field;
  self->drafts = g_object_ref (fettle_sitting_get_drafts (sitting));
  gtk_widget_set_parent (make_label (field), GTK_WIDGET (self));
  self->editor = FETTLE_EDITOR (fettle_editor_new (field, sitting));
  gtk_widget_set_parent (GTK_WIDGET (self->editor), GTK_WIDGET (self));
  name_control (self);
  g_signal_connect_swapped (self->editor, "changed", G_CALLBACK (on_changed), self);
  g_signal_connect_swapped (self->editor, "chosen", G_CALLBACK (leave), self);
  g_signal_connect_swapped (self->editor, "entered", G_CALLBACK (on_entered), self);
  g_signal_connect_swapped (focus, "enter", G_CALLBACK (on_focus_reached), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (on_focus_left), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
  return GTK_WIDGET (self);
}
