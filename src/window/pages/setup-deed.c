/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "setup-deed.h"

#include <glib/gi18n.h>

#include "book-order.h"
#include "choice.h"
#include "tip.h"
#include "unparent.h"
#include "words.h"
#include "wrap.h"

static const char *const what_names[BOOK_N_COPY_WHAT] = {
  N_("Route and settings"), N_("Characteristics and limits"), N_("What they depend on"), N_("Gates and criteria"),
  N_("Documents wanted"),   N_("Hazards"),
};

struct _FettleSetupDeed
{
  GtkWidget parent_instance;

  FettleSitting *sitting;
  BookRecordId   kind;
  gint64         key;
  GArray        *others; /* gint64, of the choice */
  GtkLabel      *words;
  GtkDropDown   *choice;
  GtkWidget     *checks;
  GtkCheckButton *what[BOOK_N_COPY_WHAT];
  GtkLabel      *said;
  GtkButton     *store;
  gboolean       storing; /* the button keeps the keyboard meanwhile, and does nothing */
};

enum { CLOSED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleSetupDeed, fettle_setup_deed, GTK_TYPE_WIDGET)

const char *
fettle_setup_deed_label (BookRecordId kind)
{
  if (kind == BOOK_RECORD_MODEL)
    return _("Take Over…");
  return book_can_merge (kind) ? _("Same As…") : NULL;
}

static void
say (FettleSetupDeed *self, const char *sentence)
{
  fettle_words_show (self->said, sentence);
}

gboolean
fettle_setup_deed_is_open (FettleSetupDeed *self)
{
  g_return_val_if_fail (FETTLE_IS_SETUP_DEED (self), FALSE);

  return gtk_widget_get_visible (GTK_WIDGET (self));
}

void
fettle_setup_deed_close (FettleSetupDeed *self)
{
  g_return_if_fail (FETTLE_IS_SETUP_DEED (self));

  if (!fettle_setup_deed_is_open (self))
    return;
  g_signal_emit (self, signals[CLOSED], 0); /* before it goes, so that the keyboard is somewhere */
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

static void
on_done (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleSetupDeed) self = data;
  g_autoptr(GError) error = NULL;
  gboolean done = fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error);

  if (self->sitting == NULL)
    return;
  self->storing = FALSE;
  if (done)
    {
      fettle_sitting_say (self->sitting, self->kind == BOOK_RECORD_MODEL ? _("The set-up is taken over.") : _("The two are one now."),
                          _("Undo"), "win.undo-book");
      fettle_setup_deed_close (self);
    }
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    say (self, error->message);
}

static void
on_store (FettleSetupDeed *self)
{
  guint selected = gtk_drop_down_get_selected (self->choice), what = 0;
  gint64 other;

  if (self->storing)
    return;
  if (selected >= self->others->len || g_array_index (self->others, gint64, selected) == 0)
    {
      say (self, _("Choose the other one first."));
      return;
    }
  for (guint i = 0; i < BOOK_N_COPY_WHAT; i++)
    what |= gtk_check_button_get_active (self->what[i]) ? 1u << i : 0;
  if (self->kind == BOOK_RECORD_MODEL && what == 0)
    {
      say (self, _("Choose at least one thing to take over."));
      return;
    }
  other = g_array_index (self->others, gint64, selected);
  say (self, NULL);
  self->storing = TRUE;
  fettle_sitting_edit (self->sitting, self->kind == BOOK_RECORD_MODEL ? book_setup_copy (other, self->key, what)
                                                                      : book_merge (self->kind, self->key, other),
                       on_done, g_object_ref (self));
}

static const BookSetupRow *
row_at (const BookSetup *setup, guint i)
{
  return setup->rows->pdata[i];
}

static char *
name_of (const BookSetupRow *row)
{
  return row->cells[1] != NULL ? g_strdup_printf ("%s  %s", row->cells[0], row->cells[1]) : g_strdup (row->cells[0]);
}

/**
 * fettle_setup_deed_begin:
 * @self: the deed
 * @kind: of which there is a fettle_setup_deed_label()
 * @key: the row that takes over, or stays
 * @setup: with the rows of @kind
 */
void
fettle_setup_deed_begin (FettleSetupDeed *self, BookRecordId kind, gint64 key, const BookSetup *setup)
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  g_autofree char *words = NULL;

  g_return_if_fail (FETTLE_IS_SETUP_DEED (self));

  self->kind = kind;
  self->key = key;
  g_array_set_size (self->others, 0);
  if (setup->rows->len > 2) /* the only other one needs no choosing */
    {
      gint64 none = 0;

      gtk_string_list_append (names, _("choose"));
      g_array_append_val (self->others, none);
    }
  for (guint i = 0; i < setup->rows->len; i++)
    {
      const BookSetupRow *row = row_at (setup, i);
      g_autofree char *name = name_of (row);

      if (row->id == key)
        {
          words = kind == BOOK_RECORD_MODEL
                      ? g_strdup_printf (_("%s takes over, as of today, from the model chosen here. What it has already stays; nothing measured comes along."),
                                         row->cells[0])
                      : g_strdup_printf (_("%s stays. What refers to the one chosen here will refer to it, and that one goes."), row->cells[0]);
          continue;
        }
      gtk_string_list_append (names, name);
      g_array_append_val (self->others, row->id);
    }
  gtk_label_set_label (self->words, words != NULL ? words : "");
  fettle_choice_set_names (self->choice, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (self->choice, 0);
  gtk_widget_set_visible (self->checks, kind == BOOK_RECORD_MODEL);
  gtk_button_set_label (self->store, kind == BOOK_RECORD_MODEL ? _("Take Over") : _("Make One of Both"));
  say (self, self->others->len == 0 ? _("There is no other one.") : NULL);
  gtk_widget_set_sensitive (GTK_WIDGET (self->store), self->others->len > 0);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  gtk_widget_grab_focus (GTK_WIDGET (self->choice));
}

static gboolean
on_escape (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  fettle_setup_deed_close (FETTLE_SETUP_DEED (widget));
  return TRUE;
}

static void
fettle_setup_deed_dispose (GObject *object)
{
  g_clear_object (&FETTLE_SETUP_DEED (object)->sitting);
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_setup_deed_parent_class)->dispose (object);
}

static void
fettle_setup_deed_finalize (GObject *object)
{
  g_array_unref (FETTLE_SETUP_DEED (object)->others);
  G_OBJECT_CLASS (fettle_setup_deed_parent_class)->finalize (object);
}

static void
fettle_setup_deed_class_init (FettleSetupDeedClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_setup_deed_dispose;
  G_OBJECT_CLASS (class)->finalize = fettle_setup_deed_finalize;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, on_escape, NULL);
  signals[CLOSED] = g_signal_new ("closed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static GtkLabel *
add_label (FettleSetupDeed *self, const char *name, const char *css)
{
  GtkLabel *label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "wrap", TRUE, "width-chars", 20, "max-width-chars", 90, "name", name,
                                  "css-classes", (const char *[]){ css, NULL }, NULL);

  gtk_widget_set_parent (GTK_WIDGET (label), GTK_WIDGET (self));
  return label;
}

static GtkWidget *
make_line (FettleSetupDeed *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *leave = g_object_new (GTK_TYPE_BUTTON, "label", _("Leave"), "name", "setup-deed-leave", "valign", GTK_ALIGN_CENTER,
                                   "css-classes", (const char *[]){ "plain", NULL }, NULL);

  fettle_tip_set (leave, _("Do nothing (Escape)"));
  self->choice = g_object_new (GTK_TYPE_DROP_DOWN, "name", "setup-deed-other", "enable-search", TRUE, "hexpand", TRUE, NULL);
  fettle_choice_set_up (self->choice, _("The other one"));
  self->store = g_object_new (GTK_TYPE_BUTTON, "label", _("Take Over"), "name", "setup-deed-do", "valign", GTK_ALIGN_CENTER, "css-classes",
                              (const char *[]){ "primary", NULL }, NULL);
  g_signal_connect_object (leave, "clicked", G_CALLBACK (fettle_setup_deed_close), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->store, "clicked", G_CALLBACK (on_store), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->choice));
  gtk_box_append (GTK_BOX (line), leave);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->store));
  return line;
}

static void
fettle_setup_deed_init (FettleSetupDeed *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));
  g_autoptr(GtkSizeGroup) columns = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 6);
  gtk_widget_set_margin_bottom (GTK_WIDGET (self), 8);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  gtk_widget_set_name (GTK_WIDGET (self), "setup-deed");
  gtk_widget_add_css_class (GTK_WIDGET (self), "told");
  self->others = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->words = add_label (self, "setup-deed-words", "words");
  self->checks = fettle_wrap_new (18);
  for (guint i = 0; i < BOOK_N_COPY_WHAT; i++)
    {
      self->what[i] = GTK_CHECK_BUTTON (gtk_check_button_new_with_label (_(what_names[i])));
      gtk_check_button_set_active (self->what[i], TRUE);
      gtk_size_group_add_widget (columns, GTK_WIDGET (self->what[i])); /* one below the other */
      fettle_wrap_add (FETTLE_WRAP (self->checks), GTK_WIDGET (self->what[i]));
    }
  gtk_widget_set_parent (self->checks, GTK_WIDGET (self));
  gtk_widget_set_parent (make_line (self), GTK_WIDGET (self));
  self->said = add_label (self, "setup-deed-said", "open");
  say (self, NULL);
}

GtkWidget *
fettle_setup_deed_new (FettleSitting *sitting)
{
  FettleSetupDeed *self = g_object_new (FETTLE_TYPE_SETUP_DEED, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}
