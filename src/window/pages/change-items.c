/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "change-items.h"

#include <glib/gi18n.h>

#include "choice.h"
#include "drafts.h"
#include "present-change.h"
#include "typed.h"
#include "unparent.h"
#include "words.h"

#define NEW_CHARS   12
#define WORDS_CHARS 18
#define MOST_LINES  20
#define NAME_CHARS  26

/* Copied, since the answer of the page goes with the next one. */
typedef struct
{
  InsightSubjectKind kind;
  gint64             key;
  gint64             revision;
  char              *setting;
  char              *name;
  char              *old;
  char              *next;
} Subject;

/* The controls of one line, owned by the grid. Each signal holds the line; @owner is NULL once the line is gone. */
typedef struct
{
  FettleChangeItems *owner;
  GtkDropDown       *what;
  GtkLabel          *old;
  GtkEditable       *new;
  GtkEditable       *words;
  GtkWidget         *remove;
  GtkLabel          *said;
  char              *proposed; /* what the program wrote into @new */
} Line;

struct _FettleChangeItems
{
  GtkWidget parent_instance;

  FettleDrafts *drafts;
  char         *place;    /* names the drafts */
  gboolean      is_single;
  GArray       *subjects; /* Subject */
  GPtrArray    *lines;    /* Line */
  gboolean      filling;

  GtkGrid   *grid;
  GtkWidget *more;
};

G_DEFINE_FINAL_TYPE (FettleChangeItems, fettle_change_items, GTK_TYPE_WIDGET)

static void
subject_clear (gpointer data)
{
  Subject *subject = data;

  g_free (subject->setting);
  g_free (subject->name);
  g_free (subject->old);
  g_free (subject->next);
}

static void
line_clear (gpointer data)
{
  g_free (((Line *) data)->proposed);
}

static void
line_unref (gpointer line)
{
  g_rc_box_release_full (line, line_clear);
}

static void
line_unref_closure (gpointer line, GClosure *closure)
{
  line_unref (line);
}

static void
connect_line (gpointer control, const char *signal, GCallback callback, Line *line)
{
  g_signal_connect_data (control, signal, callback, g_rc_box_acquire (line), line_unref_closure, G_CONNECT_SWAPPED);
}

/* NULL: nothing is chosen. The first row of the list is 'choose'. */
static const Subject *
subject_of (const Line *line)
{
  guint selected = gtk_drop_down_get_selected (line->what);

  if (selected == 0 || selected == GTK_INVALID_LIST_POSITION || selected > line->owner->subjects->len)
    return NULL;
  return &g_array_index (line->owner->subjects, Subject, selected - 1);
}

/* ---- drafts ---- */

static char *
draft_name (FettleChangeItems *self, guint line, const char *part)
{
  return g_strdup_printf ("form-items-%s-%u-%s", self->place, line, part);
}

static void
keep_part (FettleChangeItems *self, guint line, const char *part, const char *text)
{
  g_autofree char *name = draft_name (self, line, part);

  fettle_drafts_keep (self->drafts, name, text != NULL && text[0] != '\0' ? text : NULL);
}

/* All lines anew, since their numbers shift when one goes. */
static void
keep (FettleChangeItems *self)
{
  if (self->filling)
    return;
  for (guint i = 0; i < MOST_LINES; i++)
    {
      Line *line = i < self->lines->len ? g_ptr_array_index (self->lines, i) : NULL;
      const Subject *subject = line != NULL ? subject_of (line) : NULL;

      keep_part (self, i, "what", subject != NULL ? subject->name : NULL);
      keep_part (self, i, "new", line != NULL && subject != NULL ? gtk_editable_get_text (line->new) : NULL);
      keep_part (self, i, "words", line != NULL ? gtk_editable_get_text (line->words) : NULL);
    }
}

/* ---- a line ---- */

static void
tell_line (Line *line, const char *sentence)
{
  fettle_words_show (line->said, sentence);
  if (sentence != NULL)
    gtk_widget_add_css_class (GTK_WIDGET (line->new), "wrong");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (line->new), "wrong");
}

/* The old as it stands, and the new as it would be called, unless something was typed there. */
static void
on_chosen (Line *line)
{
  const Subject *subject;
  const char *typed;

  if (line->owner == NULL)
    return;
  subject = subject_of (line);
  typed = gtk_editable_get_text (line->new);
  gtk_label_set_label (line->old, subject == NULL ? "" : subject->old[0] != '\0' ? subject->old : "–");
  if (typed[0] == '\0' || g_strcmp0 (typed, line->proposed) == 0)
    fettle_typed_set (line->new, subject != NULL ? subject->next : "");
  g_free (line->proposed);
  line->proposed = g_strdup (subject != NULL ? subject->next : "");
  gtk_widget_set_sensitive (GTK_WIDGET (line->new), subject != NULL);
  g_object_set (line->new, "placeholder-text",
                subject == NULL ? "" : subject->kind == INSIGHT_SUBJECT_PART ? _("label")
                : subject->kind == INSIGHT_SUBJECT_SETTING ? _("value") : _("such as 9 … 17"), NULL);
  tell_line (line, NULL);
  keep (line->owner);
}

static void
on_typed (Line *line)
{
  if (line->owner == NULL)
    return;
  tell_line (line, NULL);
  keep (line->owner);
}

static void number_lines (FettleChangeItems *self);

static int
find_line (FettleChangeItems *self, Line *line)
{
  guint index;

  return g_ptr_array_find (self->lines, line, &index) ? (int) index : -1;
}

static void
remove_line (FettleChangeItems *self, guint index)
{
  Line *line = g_ptr_array_index (self->lines, index);

  line->owner = NULL;
  gtk_grid_remove_row (self->grid, (int) index * 2 + 2);
  gtk_grid_remove_row (self->grid, (int) index * 2 + 1);
  g_ptr_array_remove_index (self->lines, index);
}

static void
on_remove (Line *line)
{
  FettleChangeItems *self = line->owner;
  int index = self != NULL ? find_line (self, line) : -1;

  if (index < 0)
    return;
  gtk_widget_grab_focus (self->more); /* before the button goes */
  remove_line (self, (guint) index);
  number_lines (self);
  keep (self);
}

static void
number_lines (FettleChangeItems *self)
{
  for (guint i = 0; i < self->lines->len; i++)
    {
      Line *line = g_ptr_array_index (self->lines, i);
      g_autofree char *new = g_strdup_printf (_("New %u"), i + 1);
      g_autofree char *words = g_strdup_printf (_("In words %u"), i + 1);
      g_autofree char *remove = g_strdup_printf (_("Leave out line %u"), i + 1);

      gtk_accessible_update_property (GTK_ACCESSIBLE (line->new), GTK_ACCESSIBLE_PROPERTY_LABEL, new, -1);
      gtk_accessible_update_property (GTK_ACCESSIBLE (line->words), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
      gtk_accessible_update_property (GTK_ACCESSIBLE (line->remove), GTK_ACCESSIBLE_PROPERTY_LABEL, remove, -1);
      gtk_widget_set_visible (line->remove, self->lines->len > 1);
    }
  gtk_widget_set_visible (self->more, self->lines->len < MOST_LINES && !self->is_single);
}

static void
fill_what (FettleChangeItems *self, GtkDropDown *what)
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);

  gtk_string_list_append (names, _("choose"));
  for (guint i = 0; i < self->subjects->len; i++)
    gtk_string_list_append (names, g_array_index (self->subjects, Subject, i).name);
  fettle_choice_set_names (what, G_LIST_MODEL (names));
}

static Line *
add_line (FettleChangeItems *self)
{
  Line *line = g_rc_box_new0 (Line);
  int row = (int) self->lines->len * 2 + 1;

  line->owner = self;
  line->what = g_object_new (GTK_TYPE_DROP_DOWN, "enable-search", TRUE, "name", "what", "hexpand", TRUE, NULL);
  fill_what (self, line->what);
  fettle_choice_set_up (line->what, _("What is changed"));
  line->old = g_object_new (GTK_TYPE_LABEL, "name", "old", "xalign", 0.0f, "css-classes",
                            (const char *[]){ "num", NULL }, NULL);
  line->new = g_object_new (GTK_TYPE_ENTRY, "name", "new", "width-chars", NEW_CHARS, "sensitive", FALSE, NULL);
  line->words = g_object_new (GTK_TYPE_ENTRY, "name", "words", "width-chars", WORDS_CHARS, "hexpand", TRUE, NULL);
  line->remove = g_object_new (GTK_TYPE_BUTTON, "label", _("Leave Out"), "name", "remove-item", "css-classes",
                               (const char *[]){ "quiet", NULL }, NULL);
  line->said = g_object_new (GTK_TYPE_LABEL, "name", "item-said", "xalign", 0.0f, "wrap", TRUE, "visible", FALSE,
                             "css-classes", (const char *[]){ "open", "small", NULL }, NULL);
  gtk_grid_attach (self->grid, GTK_WIDGET (line->what), 0, row, 1, 1);
  gtk_grid_attach (self->grid, GTK_WIDGET (line->old), 1, row, 1, 1);
  gtk_grid_attach (self->grid, g_object_new (GTK_TYPE_LABEL, "label", "→", "css-classes",
                                             (const char *[]){ "dim", NULL }, NULL), 2, row, 1, 1);
  gtk_grid_attach (self->grid, GTK_WIDGET (line->new), 3, row, 1, 1);
  gtk_grid_attach (self->grid, GTK_WIDGET (line->words), 4, row, 1, 1);
  gtk_grid_attach (self->grid, line->remove, 5, row, 1, 1);
  gtk_grid_attach (self->grid, GTK_WIDGET (line->said), 0, row + 1, 5, 1);
  g_ptr_array_add (self->lines, line);
  connect_line (line->what, "notify::selected", G_CALLBACK (on_chosen), line);
  connect_line (line->new, "changed", G_CALLBACK (on_typed), line);
  connect_line (line->words, "changed", G_CALLBACK (on_typed), line);
  connect_line (line->remove, "clicked", G_CALLBACK (on_remove), line);
  number_lines (self);
  return line;
}

/**
 * fettle_change_items_add:
 * @self: the lines
 * @focus: give the new line the keyboard
 *
 * Adds an empty line.
 */
void
fettle_change_items_add (FettleChangeItems *self, gboolean focus)
{
  Line *line;

  g_return_if_fail (FETTLE_IS_CHANGE_ITEMS (self));

  if (self->lines->len >= MOST_LINES)
    return;
  line = add_line (self);
  if (focus)
    gtk_widget_grab_focus (GTK_WIDGET (line->what));
}

static void
on_more (FettleChangeItems *self)
{
  fettle_change_items_add (self, TRUE);
}

/* ---- all lines ---- */

static void
take_subjects (FettleChangeItems *self, const InsightChanges *changes)
{
  g_array_set_size (self->subjects, 0);
  for (guint i = 0; i < changes->subjects->len; i++)
    {
      const InsightSubject *one = &g_array_index (changes->subjects, InsightSubject, i);
      Subject subject = { one->kind, one->key, one->revision, g_strdup (one->setting), present_subject_name (one),
                          present_subject_old (one), g_strdup (one->next) };

      g_array_append_val (self->subjects, subject);
    }
}

/* What an earlier form kept in line @index; FALSE when it kept nothing there. */
static gboolean
restore_line (FettleChangeItems *self, guint index)
{
  g_autofree char *what_name = draft_name (self, index, "what");
  g_autofree char *new_name = draft_name (self, index, "new");
  g_autofree char *words_name = draft_name (self, index, "words");
  const char *what = fettle_drafts_get (self->drafts, what_name);
  const char *new = fettle_drafts_get (self->drafts, new_name);
  const char *words = fettle_drafts_get (self->drafts, words_name);
  Line *line;

  if (what == NULL && words == NULL)
    return FALSE;
  line = add_line (self);
  for (guint i = 0; what != NULL && i < self->subjects->len; i++)
    if (g_str_equal (g_array_index (self->subjects, Subject, i).name, what))
      gtk_drop_down_set_selected (line->what, i + 1);
  if (new != NULL)
    fettle_typed_set (line->new, new);
  if (words != NULL)
    fettle_typed_set (line->words, words);
  return TRUE;
}

static void
drop_lines (FettleChangeItems *self)
{
  while (self->lines->len > 0)
    remove_line (self, self->lines->len - 1);
}

/**
 * fettle_change_items_begin:
 * @self: the lines
 * @place: names the drafts
 * @changes: what there is to choose from; not kept
 *
 * Shows what an earlier form of this place kept, else one empty line.
 */
void
fettle_change_items_begin (FettleChangeItems *self, const char *place, const InsightChanges *changes)
{
  guint n = 0;

  g_return_if_fail (FETTLE_IS_CHANGE_ITEMS (self));

  self->filling = TRUE;
  g_free (self->place);
  self->place = g_strdup (place);
  drop_lines (self);
  take_subjects (self, changes);
  while (n < MOST_LINES && restore_line (self, n))
    n++;
  if (n == 0)
    add_line (self);
  self->filling = FALSE;
}

/**
 * fettle_change_items_clear:
 * @self: the lines
 *
 * Forgets what was typed, and its drafts.
 *
 * Returns: whether there was anything
 */
gboolean
fettle_change_items_clear (FettleChangeItems *self)
{
  guint n;
  g_autofree FettleChangeItem *items = NULL;

  g_return_val_if_fail (FETTLE_IS_CHANGE_ITEMS (self), FALSE);

  items = fettle_change_items_list (self, &n);
  drop_lines (self);
  add_line (self);
  keep (self);
  return n > 0;
}

/**
 * fettle_change_items_list:
 * @self: the lines
 * @n: (out): how many
 *
 * Returns: (transfer container) (array length=n): the lines in which something is chosen
 */
FettleChangeItem *
fettle_change_items_list (FettleChangeItems *self, guint *n)
{
  FettleChangeItem *items;

  *n = 0;
  g_return_val_if_fail (FETTLE_IS_CHANGE_ITEMS (self), NULL);

  items = g_new0 (FettleChangeItem, self->lines->len + 1);
  for (guint i = 0; i < self->lines->len; i++)
    {
      const Line *line = g_ptr_array_index (self->lines, i);
      const Subject *subject = subject_of (line);

      if (subject != NULL)
        items[(*n)++] = (FettleChangeItem){ subject->kind, subject->key, subject->setting, subject->revision, subject->old,
                                            gtk_editable_get_text (line->new), gtk_editable_get_text (line->words) };
    }
  return items;
}

/**
 * fettle_change_items_tell:
 * @self: the lines
 * @item: index into what fettle_change_items_list() gave
 * @sentence: (nullable): what is wrong with it; %NULL: nothing
 *
 * Says it beside the line, and gives that the keyboard.
 */
void
fettle_change_items_tell (FettleChangeItems *self, guint item, const char *sentence)
{
  guint n = 0;

  g_return_if_fail (FETTLE_IS_CHANGE_ITEMS (self));

  for (guint i = 0; i < self->lines->len; i++)
    {
      Line *line = g_ptr_array_index (self->lines, i);

      if (subject_of (line) == NULL || n++ != item)
        continue;
      tell_line (line, sentence);
      if (sentence != NULL)
        gtk_widget_grab_focus (GTK_WIDGET (line->new));
    }
}

void
fettle_change_items_set_single (FettleChangeItems *self)
{
  g_return_if_fail (FETTLE_IS_CHANGE_ITEMS (self));

  self->is_single = TRUE;
  number_lines (self);
}

/* ---- as a widget ---- */

static void
fettle_change_items_dispose (GObject *object)
{
  FettleChangeItems *self = FETTLE_CHANGE_ITEMS (object);

  for (guint i = 0; i < self->lines->len; i++)
    ((Line *) g_ptr_array_index (self->lines, i))->owner = NULL;
  fettle_unparent_children (object);
  g_ptr_array_set_size (self->lines, 0);
  g_clear_object (&self->drafts);
  G_OBJECT_CLASS (fettle_change_items_parent_class)->dispose (object);
}

static void
fettle_change_items_finalize (GObject *object)
{
  FettleChangeItems *self = FETTLE_CHANGE_ITEMS (object);

  g_ptr_array_unref (self->lines);
  g_array_unref (self->subjects);
  g_free (self->place);
  G_OBJECT_CLASS (fettle_change_items_parent_class)->finalize (object);
}

static void
fettle_change_items_class_init (FettleChangeItemsClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_change_items_dispose;
  G_OBJECT_CLASS (class)->finalize = fettle_change_items_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
}

static void
attach_head (FettleChangeItems *self, const char *label, int column)
{
  gtk_grid_attach (self->grid, g_object_new (GTK_TYPE_LABEL, "label", label, "xalign", 0.0f, "css-classes",
                                             (const char *[]){ "field-label", NULL }, NULL),
                   column, 0, 1, 1);
}

static void
fettle_change_items_init (FettleChangeItems *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  self->subjects = g_array_new (FALSE, TRUE, sizeof (Subject));
  g_array_set_clear_func (self->subjects, subject_clear);
  self->lines = g_ptr_array_new_with_free_func (line_unref);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 4);
  self->grid = g_object_new (GTK_TYPE_GRID, "column-spacing", 8, "row-spacing", 4, NULL);
  attach_head (self, _("What is changed"), 0);
  attach_head (self, _("Old"), 1);
  attach_head (self, _("New"), 3);
  attach_head (self, _("In words"), 4);
  gtk_widget_set_parent (GTK_WIDGET (self->grid), GTK_WIDGET (self));
  self->more = g_object_new (GTK_TYPE_BUTTON, "label", _("Another Part, Setting or Limit"), "name", "more-items", "halign",
                             GTK_ALIGN_START, "css-classes", (const char *[]){ "quiet", NULL }, NULL);
  g_signal_connect_swapped (self->more, "clicked", G_CALLBACK (on_more), self);
  gtk_widget_set_parent (self->more, GTK_WIDGET (self));
}

/**
 * fettle_change_items_new:
 * @sitting: the window's
 *
 * Returns: (transfer floating): no line yet
 */
GtkWidget *
fettle_change_items_new (FettleSitting *sitting)
{
  FettleChangeItems *self = g_object_new (FETTLE_TYPE_CHANGE_ITEMS, NULL);

  self->drafts = g_object_ref (fettle_sitting_get_drafts (sitting));
  return GTK_WIDGET (self);
}
