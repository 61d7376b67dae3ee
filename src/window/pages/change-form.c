/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "change-form.h"

#include <glib/gi18n.h>

#include "book-change.h"
#include "change-items.h"
#include "early-key.h"
#include "field-grid.h"
#include "file-tray.h"
#include "form-field.h"
#include "pair.h"
#include "restored-line.h"
#include "tip.h"
#include "today.h"
#include "unparent.h"
#include "words.h"

#define MOST_ISSUES 8
#define PAIR_WIDTH  300 /* least width of reason and expected effect beside one another */

/* Fields of the change itself, in order; then the issues it answers. */
static const char *const names[] = { "title", "proposed_by", "proposed_on", "reason", "expected_effect", NULL };

enum { TITLE, PROPOSED_BY, PROPOSED_ON, REASON, EXPECTED, N_FIELDS };

struct _FettleChangeForm
{
  GtkWidget parent_instance;

  FettleSitting       *sitting;
  FettleChangesAnswer *answer; /* what there is to choose from */
  gint64               model;
  gboolean             is_open;
  gboolean             storing;
  gboolean             save_soon; /* as soon as the files are read */

  FettleFormField   *fields[N_FIELDS];
  GPtrArray         *issues; /* FettleFormField, owned by the grid; the last one is empty */
  FettleChangeItems *items;
  FettleFileTray    *tray;
  GtkWidget         *restored;
  GtkWidget         *grid;
  GtkLabel          *said;
  GtkWidget         *store;
};

enum { SAVED, CLOSED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleChangeForm, fettle_change_form, GTK_TYPE_WIDGET)

static void
tell (FettleChangeForm *self, const char *sentence)
{
  fettle_words_show (self->said, sentence);
}

/**
 * fettle_change_form_leave:
 * @self: a form
 *
 * Closes it; what is typed is kept for the next time.
 */
void
fettle_change_form_leave (FettleChangeForm *self)
{
  g_return_if_fail (FETTLE_IS_CHANGE_FORM (self));

  if (!self->is_open)
    return;
  self->is_open = FALSE;
  g_signal_emit (self, signals[CLOSED], 0);
}

/* ---- issues ---- */

static void add_issue (FettleChangeForm *self, gboolean restore);

/* As the description has it, but the form may leave it empty. */
static const BookField *
issue_field (void)
{
  static BookField field;

  field = *book_field_find (book_record (BOOK_RECORD_CHANGE_ISSUE), "issue");
  field.required = FALSE;
  return &field;
}

static char *
issue_place (FettleChangeForm *self, guint index)
{
  return g_strdup_printf ("change-new-%" G_GINT64_FORMAT "-issue-%u", self->model, index);
}

static gboolean
is_filled (FettleFormField *field)
{
  g_autofree char *text = fettle_form_field_dup_text (field);

  return text[0] != '\0';
}

/* There is always an empty one to fill in. */
static void
on_issue_changed (FettleChangeForm *self)
{
  if (self->issues->len > 0 && self->issues->len < MOST_ISSUES
      && is_filled (g_ptr_array_index (self->issues, self->issues->len - 1)))
    add_issue (self, FALSE);
}

static void
add_issue (FettleChangeForm *self, gboolean restore)
{
  FettleFormField *field = FETTLE_FORM_FIELD (fettle_form_field_new (self->sitting, issue_field ()));
  g_autofree char *place = issue_place (self, self->issues->len);

  fettle_form_field_set_offer (field, self->model, 0);
  fettle_form_field_set_place (field, place);
  g_ptr_array_add (self->issues, field);
  fettle_field_grid_add (FETTLE_FIELD_GRID (self->grid), GTK_WIDGET (field), FALSE);
  g_signal_connect_object (field, "changed", G_CALLBACK (on_issue_changed), self, G_CONNECT_SWAPPED);
  if (restore && fettle_form_field_restore (field) && self->issues->len < MOST_ISSUES)
    add_issue (self, TRUE);
}

static void
drop_issues (FettleChangeForm *self, gboolean forget)
{
  for (guint i = 0; i < self->issues->len; i++)
    {
      if (forget)
        fettle_form_field_revert (g_ptr_array_index (self->issues, i));
      gtk_widget_unparent (g_ptr_array_index (self->issues, i));
    }
  g_ptr_array_set_size (self->issues, 0);
}

static void
forget (FettleChangeForm *self)
{
  for (guint i = 0; i < N_FIELDS; i++)
    fettle_form_field_revert (self->fields[i]);
  drop_issues (self, TRUE);
  add_issue (self, FALSE);
  fettle_change_items_clear (self->items);
  fettle_file_tray_clear (self->tray);
  gtk_widget_set_visible (self->restored, FALSE);
  tell (self, NULL);
}

static void
on_forget (FettleChangeForm *self)
{
  forget (self);
  fettle_form_field_focus (self->fields[TITLE]);
}

/* ---- storing ---- */

static void
tell_error (FettleChangeForm *self, const GError *error)
{
  const char *field = book_error_field (error);

  for (guint i = 0; field != NULL && i < N_FIELDS; i++)
    if (g_str_equal (names[i], field))
      {
        fettle_form_field_tell (self->fields[i], error->message);
        fettle_form_field_focus (self->fields[i]);
        return;
      }
  tell (self, error->message);
}

static void
on_stored (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleChangeForm) self = data;
  g_autoptr(GError) error = NULL;
  gint64 id = 0;
  gboolean stored = fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, &id, &error);

  self->storing = FALSE;
  if (self->grid == NULL)
    return;
  if (!stored)
    {
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        tell_error (self, error);
      return;
    }
  forget (self);
  g_signal_emit (self, signals[SAVED], 0, id);
  fettle_change_form_leave (self);
}

/* ---- the command ---- */

static BookEdit *
make_edit (FettleChangeForm *self)
{
  g_autofree char **texts = g_new0 (char *, N_FIELDS + 1);
  guint n_items, n_files;
  g_autofree FettleChangeItem *items = fettle_change_items_list (self->items, &n_items);
  g_autofree BookAttachable *files = fettle_file_tray_list (self->tray, &n_files);
  BookEdit *edit;

  for (guint i = 0; i < N_FIELDS; i++)
    texts[i] = fettle_form_field_dup_text (self->fields[i]);
  edit = book_change_propose (self->model, names, (const char *const *) texts);
  for (guint i = 0; i < N_FIELDS; i++)
    g_free (texts[i]);
  for (guint i = 0; i < n_items; i++)
    {
      const char *const *fields;
      g_auto (GStrv) item = fettle_change_item_texts (&items[i], self->answer->texts, &fields);

      book_change_propose_item (edit, fields, (const char *const *) item);
    }
  for (guint i = 0; i < self->issues->len; i++)
    {
      g_autofree char *text = fettle_form_field_dup_text (g_ptr_array_index (self->issues, i));
      gint64 issue = fettle_options_find (self->answer->issues, text);

      if (issue != 0)
        book_change_propose_issue (edit, issue);
    }
  if (n_files > 0)
    book_change_propose_attach (edit, files, n_files);
  return edit;
}

static void
store (FettleChangeForm *self)
{
  self->storing = TRUE;
  fettle_sitting_edit (self->sitting, make_edit (self), on_stored, g_object_ref (self));
}

static FettleFormField *
find_wrong (FettleChangeForm *self)
{
  for (guint i = 0; i < N_FIELDS; i++)
    if (!fettle_form_field_check (self->fields[i]))
      return self->fields[i];
  return NULL;
}

/**
 * fettle_change_form_save:
 * @self: a form
 *
 * Stores the change and closes the form; with a wrong field it stays open, with the keyboard there.
 */
void
fettle_change_form_save (FettleChangeForm *self)
{
  FettleFormField *wrong;

  g_return_if_fail (FETTLE_IS_CHANGE_FORM (self));

  if (!self->is_open || self->storing)
    return;
  wrong = find_wrong (self);
  if (wrong != NULL)
    {
      fettle_form_field_focus (wrong);
      return;
    }
  if (!fettle_change_items_check (self->items))
    return;
  tell (self, NULL);
  self->save_soon = fettle_file_tray_is_busy (self->tray);
  if (!self->save_soon)
    store (self);
}

/* ---- what a person does ---- */

static void
on_tray_changed (FettleChangeForm *self)
{
  if (!self->save_soon || fettle_file_tray_is_busy (self->tray))
    return;
  self->save_soon = FALSE;
  fettle_change_form_save (self);
}

static gboolean
on_save_key (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  fettle_change_form_save (FETTLE_CHANGE_FORM (widget));
  return TRUE;
}

static gboolean
on_escape (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  fettle_change_form_leave (FETTLE_CHANGE_FORM (widget));
  return TRUE;
}

/**
 * fettle_change_form_begin:
 * @self: a form
 * @model: key
 * @answer: what the model has to choose from
 *
 * Shows a change that is not in the book yet, with what an earlier form kept, and gives its title the keyboard.
 */
void
fettle_change_form_begin (FettleChangeForm *self, gint64 model, FettleChangesAnswer *answer)
{
  g_autofree char *place = g_strdup_printf ("change-new-%" G_GINT64_FORMAT, model);
  g_autofree char *today = fettle_today ();
  gboolean restored = FALSE;

  g_return_if_fail (FETTLE_IS_CHANGE_FORM (self));

  fettle_change_form_take_answer (self, answer);
  if (!self->is_open || self->model != model)
    {
      self->model = model;
      for (guint i = 0; i < N_FIELDS; i++)
        {
          fettle_form_field_set_offer (self->fields[i], model, 0);
          fettle_form_field_set_place (self->fields[i], place);
          fettle_form_field_take (self->fields[i], i == PROPOSED_ON ? today : "", "");
          restored = fettle_form_field_restore (self->fields[i]) || restored;
        }
      drop_issues (self, FALSE);
      add_issue (self, TRUE);
      fettle_change_items_begin (self->items, place, answer->changes);
      gtk_widget_set_visible (self->restored, restored);
      tell (self, NULL);
    }
  self->is_open = TRUE;
  fettle_form_field_focus (self->fields[TITLE]);
}

/* A newer answer: keys of records that came meanwhile. What is being chosen from stays. */
void
fettle_change_form_take_answer (FettleChangeForm *self, FettleChangesAnswer *answer)
{
  g_return_if_fail (FETTLE_IS_CHANGE_FORM (self));

  fettle_changes_answer_ref (answer);
  g_clear_pointer (&self->answer, fettle_changes_answer_unref);
  self->answer = answer;
}

gboolean
fettle_change_form_is_open (FettleChangeForm *self)
{
  g_return_val_if_fail (FETTLE_IS_CHANGE_FORM (self), FALSE);

  return self->is_open;
}

/* ---- as a widget ---- */

static void
fettle_change_form_dispose (GObject *object)
{
  FettleChangeForm *self = FETTLE_CHANGE_FORM (object);

  self->is_open = FALSE;
  self->grid = NULL;
  if (self->tray != NULL)
    g_signal_handlers_disconnect_by_data (self->tray, self);
  g_ptr_array_set_size (self->issues, 0);
  fettle_unparent_children (object);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_change_form_parent_class)->dispose (object);
}

static void
fettle_change_form_finalize (GObject *object)
{
  g_ptr_array_unref (FETTLE_CHANGE_FORM (object)->issues);
  g_clear_pointer (&FETTLE_CHANGE_FORM (object)->answer, fettle_changes_answer_unref);
  G_OBJECT_CLASS (fettle_change_form_parent_class)->finalize (object);
}

static void
fettle_change_form_class_init (FettleChangeFormClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  GType type = G_TYPE_FROM_CLASS (class);

  object_class->dispose = fettle_change_form_dispose;
  object_class->finalize = fettle_change_form_finalize;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, on_escape, NULL);
  signals[SAVED] = g_signal_new ("saved", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[CLOSED] = g_signal_new ("closed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fettle_change_form_init (FettleChangeForm *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  fettle_early_key (GTK_WIDGET (self), "<Control>Return|<Control>KP_Enter", on_save_key);
  self->issues = g_ptr_array_new ();
  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 10);
  gtk_widget_add_css_class (GTK_WIDGET (self), "form");
  gtk_widget_set_name (GTK_WIDGET (self), "change-form");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Propose a change"), -1);
}

static GtkWidget *
make_foot (FettleChangeForm *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *leave = g_object_new (GTK_TYPE_BUTTON, "label", _("Leave"), "name", "leave", "valign", GTK_ALIGN_CENTER, "css-classes",
                                   (const char *[]){ "plain", NULL }, NULL);

  fettle_tip_set (leave, _("Close the form; what is typed is kept for the next time (Escape)"));
  self->store = g_object_new (GTK_TYPE_BUTTON, "label", _("Propose"), "name", "store", "valign", GTK_ALIGN_CENTER, "css-classes",
                              (const char *[]){ "primary", NULL }, NULL);
  fettle_tip_set (self->store, _("Store it in the book (Ctrl+Return)"));
  self->said = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "hexpand", TRUE, "width-chars", 20, "max-width-chars", 90,
                             "name", "said", "visible", FALSE, "css-classes", (const char *[]){ "open", NULL }, NULL);
  g_signal_connect_swapped (leave, "clicked", G_CALLBACK (fettle_change_form_leave), self);
  g_signal_connect_swapped (self->store, "clicked", G_CALLBACK (fettle_change_form_save), self);
  gtk_box_append (GTK_BOX (line), self->store);
  gtk_box_append (GTK_BOX (line), leave);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->said));
  return line;
}

static void
make_fields (FettleChangeForm *self)
{
  const BookRecord *record = book_record (BOOK_RECORD_CHANGE);

  self->grid = fettle_field_grid_new ();
  for (guint i = 0; i < N_FIELDS; i++)
    {
      self->fields[i] = FETTLE_FORM_FIELD (fettle_form_field_new (self->sitting, book_field_find (record, names[i])));
      if (i <= PROPOSED_ON)
        fettle_field_grid_add (FETTLE_FIELD_GRID (self->grid), GTK_WIDGET (self->fields[i]), i == TITLE);
    }
}

/**
 * fettle_change_form_new:
 * @sitting: the window's
 *
 * Returns: (transfer floating): a form; to be begun when it is on the screen
 */
GtkWidget *
fettle_change_form_new (FettleSitting *sitting)
{
  FettleChangeForm *self = g_object_new (FETTLE_TYPE_CHANGE_FORM, NULL);

  self->sitting = g_object_ref (sitting);
  make_fields (self);
  self->items = FETTLE_CHANGE_ITEMS (fettle_change_items_new (sitting));
  self->tray = FETTLE_FILE_TRAY (fettle_file_tray_new (sitting, _("Drawing, mail or pictures"), BOOK_ATTACHMENT_DRAWING));
  g_signal_connect_swapped (self->tray, "changed", G_CALLBACK (on_tray_changed), self);
  self->restored = fettle_restored_line_new (G_CALLBACK (on_forget), self);
  gtk_widget_set_parent (self->restored, GTK_WIDGET (self));
  gtk_widget_set_parent (self->grid, GTK_WIDGET (self));
  gtk_widget_set_parent (GTK_WIDGET (self->items), GTK_WIDGET (self));
  gtk_widget_set_parent (fettle_pair_new (GTK_WIDGET (self->fields[REASON]), GTK_WIDGET (self->fields[EXPECTED]), PAIR_WIDTH),
                         GTK_WIDGET (self));
  gtk_widget_set_parent (GTK_WIDGET (self->tray), GTK_WIDGET (self));
  gtk_widget_set_parent (make_foot (self), GTK_WIDGET (self));
  fettle_file_tray_serve (self->tray, GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
