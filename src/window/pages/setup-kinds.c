/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "setup-kinds.h"

#include <glib/gi18n.h>
#include <string.h>

#include "book-search.h"
#include "tip.h"
#include "unparent.h"

struct _FettleSetupKinds
{
  GtkWidget parent_instance;

  GtkListBox *list;
  GtkWidget  *rows[BOOK_N_SETUP_KINDS];
  GtkLabel   *figures[BOOK_N_SETUP_KINDS];
  guint       counts[BOOK_N_SETUP_KINDS];
  gboolean    filling; /* a selection is ours */
};

enum { CHOSEN, ENTERED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleSetupKinds, fettle_setup_kinds, GTK_TYPE_WIDGET)

static const BookSetupKind *
kind_at (guint i)
{
  guint n;

  return &book_setup_kinds (&n)[i];
}

/* The route is what people call the steps of a model in their order. */
static const char *
label_of (BookRecordId record)
{
  return record == BOOK_RECORD_STEP ? _("Route") : book_record_plural (book_record (record));
}

static void
on_selected (FettleSetupKinds *self, GtkListBoxRow *row)
{
  if (row != NULL && !self->filling)
    g_signal_emit (self, signals[CHOSEN], 0, (guint) kind_at ((guint) gtk_list_box_row_get_index (row))->record);
}

static void
on_activated (FettleSetupKinds *self, GtkListBoxRow *row)
{
  g_signal_emit (self, signals[ENTERED], 0);
}

static void
set_header (GtkListBoxRow *row, GtkListBoxRow *before, gpointer data)
{
  gboolean shared = kind_at ((guint) gtk_list_box_row_get_index (row))->is_shared;

  if (before != NULL && kind_at ((guint) gtk_list_box_row_get_index (before))->is_shared == shared)
    gtk_list_box_row_set_header (row, NULL);
  else
    gtk_list_box_row_set_header (row, g_object_new (GTK_TYPE_LABEL, "label", shared ? _("Shared by all models") : _("This model"),
                                                    "xalign", 0.0f, "margin-top", before != NULL ? 10 : 0, "margin-bottom", 2,
                                                    "margin-start", 10, "css-classes",
                                                    (const char *[]){ "dim", "small", "strong", NULL }, NULL));
}

static void
add_row (FettleSetupKinds *self, guint i)
{
  const BookRecord *record = book_record (kind_at (i)->record);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *name = g_object_new (GTK_TYPE_LABEL, "label", label_of (record->id), "xalign", 0.0f, "hexpand", TRUE,
                                  "ellipsize", PANGO_ELLIPSIZE_END, NULL);

  self->figures[i] = g_object_new (GTK_TYPE_LABEL, "xalign", 1.0f, "css-classes", (const char *[]){ "count", "num", NULL }, NULL);
  gtk_box_append (GTK_BOX (line), name);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->figures[i]));
  self->rows[i] = g_object_new (GTK_TYPE_LIST_BOX_ROW, "child", line, "name", record->name, NULL);
  fettle_tip_set (self->rows[i], label_of (record->id));
  gtk_list_box_append (self->list, self->rows[i]);
}

static void
fettle_setup_kinds_dispose (GObject *object)
{
  fettle_unparent_children (object);
  FETTLE_SETUP_KINDS (object)->list = NULL;
  G_OBJECT_CLASS (fettle_setup_kinds_parent_class)->dispose (object);
}

static void
fettle_setup_kinds_class_init (FettleSetupKindsClass *class)
{
  GType type = G_TYPE_FROM_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_setup_kinds_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
  signals[CHOSEN] = g_signal_new ("chosen", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[ENTERED] = g_signal_new ("entered", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fettle_setup_kinds_init (FettleSetupKinds *self)
{
  GtkWidget *scroll = g_object_new (GTK_TYPE_SCROLLED_WINDOW, "hscrollbar-policy", GTK_POLICY_NEVER, "vexpand", TRUE, NULL);

  self->list = GTK_LIST_BOX (gtk_list_box_new ());
  gtk_widget_set_name (GTK_WIDGET (self->list), "setup-kinds");
  gtk_widget_add_css_class (GTK_WIDGET (self->list), "kinds");
  gtk_list_box_set_header_func (self->list, set_header, NULL, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Kinds of records"), -1);
  for (guint i = 0; i < BOOK_N_SETUP_KINDS; i++)
    add_row (self, i);
  g_signal_connect_object (self->list, "row-selected", G_CALLBACK (on_selected), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->list, "row-activated", G_CALLBACK (on_activated), self, G_CONNECT_SWAPPED);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroll), GTK_WIDGET (self->list));
  gtk_widget_set_parent (scroll, GTK_WIDGET (self));
}

GtkWidget *
fettle_setup_kinds_new (void)
{
  return g_object_new (FETTLE_TYPE_SETUP_KINDS, NULL);
}

typedef enum
{
  NAME_OTHER,
  NAME_HAS, /* it has what is looked for in it */
  NAME_IS
} Name;

static Name
look_at_name (guint i, const char *filter)
{
  g_autofree char *folded = book_search_fold (label_of (kind_at (i)->record), -1);
  g_autofree char *wanted = g_strstrip (book_search_fold (filter, -1));

  return strcmp (folded, wanted) == 0 ? NAME_IS : strstr (folded, wanted) != NULL ? NAME_HAS : NAME_OTHER;
}

/**
 * fettle_setup_kinds_set_counts:
 * @self: the list
 * @counts: (array fixed-size=20): by book_setup_kinds()
 * @filter: what is looked for; "" for nothing
 */
void
fettle_setup_kinds_set_counts (FettleSetupKinds *self, const guint *counts, const char *filter)
{
  g_return_if_fail (FETTLE_IS_SETUP_KINDS (self));

  for (guint i = 0; i < BOOK_N_SETUP_KINDS; i++)
    {
      const char *name = label_of (kind_at (i)->record);
      g_autofree char *figure = g_strdup_printf ("%u", counts[i]);
      g_autofree char *words = g_strdup_printf (_("%s: %u"), name, counts[i]);

      self->counts[i] = counts[i];
      gtk_label_set_label (self->figures[i], figure);
      gtk_accessible_update_property (GTK_ACCESSIBLE (self->rows[i]), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
      gtk_widget_set_visible (self->rows[i], *filter == '\0' || counts[i] > 0 || look_at_name (i, filter) != NAME_OTHER);
    }
}

void
fettle_setup_kinds_choose (FettleSetupKinds *self, BookRecordId record)
{
  g_return_if_fail (FETTLE_IS_SETUP_KINDS (self));

  self->filling = TRUE;
  for (guint i = 0; i < BOOK_N_SETUP_KINDS; i++)
    if (kind_at (i)->record == record)
      gtk_list_box_select_row (self->list, GTK_LIST_BOX_ROW (self->rows[i]));
  self->filling = FALSE;
}

void
fettle_setup_kinds_step (FettleSetupKinds *self, int step)
{
  GtkListBoxRow *selected = gtk_list_box_get_selected_row (self->list);
  int i = selected != NULL ? gtk_list_box_row_get_index (selected) : -step;

  g_return_if_fail (FETTLE_IS_SETUP_KINDS (self));

  for (i += step; i >= 0 && i < BOOK_N_SETUP_KINDS; i += step)
    if (gtk_widget_get_visible (self->rows[i]))
      {
        gtk_list_box_select_row (self->list, GTK_LIST_BOX_ROW (self->rows[i]));
        return;
      }
}

BookRecordId
fettle_setup_kinds_first (FettleSetupKinds *self, const char *filter)
{
  g_return_val_if_fail (FETTLE_IS_SETUP_KINDS (self), BOOK_RECORD_NONE);

  for (guint i = 0; i < BOOK_N_SETUP_KINDS; i++) /* a whole name means that kind, wherever else the word occurs */
    if (look_at_name (i, filter) == NAME_IS)
      return kind_at (i)->record;
  for (guint i = 0; i < BOOK_N_SETUP_KINDS; i++)
    if (gtk_widget_get_visible (self->rows[i]) && self->counts[i] > 0)
      return kind_at (i)->record;
  for (guint i = 0; *filter != '\0' && i < BOOK_N_SETUP_KINDS; i++)
    if (look_at_name (i, filter) != NAME_OTHER)
      return kind_at (i)->record;
  return BOOK_RECORD_NONE;
}

gboolean
fettle_setup_kinds_is_named (FettleSetupKinds *self, BookRecordId record, const char *filter, gboolean wholly)
{
  g_return_val_if_fail (FETTLE_IS_SETUP_KINDS (self), FALSE);

  for (guint i = 0; i < BOOK_N_SETUP_KINDS; i++)
    if (kind_at (i)->record == record)
      {
        Name name = look_at_name (i, filter);

        return name == NAME_IS || (!wholly && name == NAME_HAS && self->counts[i] == 0);
      }
  return FALSE;
}
