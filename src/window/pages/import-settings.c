/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "import-settings.h"

#include <glib/gi18n.h>

#include "choice.h"
#include "sheet-source.h"
#include "typed.h"

static void show_columns (FettleImportSettings *self);

static void
settle (FettleImportSettings *self)
{
  show_columns (self);
  self->settled (self->data);
}

/* ---- what all rows have ---- */

static void
take_fixed (GtkWidget *entry, FettleImportSettings *self)
{
  guint field = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (entry), "field"));
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));

  if (self->look == NULL || self->showing || field >= exchange_look_count_fields (self->look)
      || g_strcmp0 (exchange_look_get_fixed (self->look, field), text) == 0)
    return;
  exchange_look_set_fixed (self->look, field, text);
  self->settled (self->data);
}

static void
on_fixed_left (GtkEventControllerFocus *controller, FettleImportSettings *self)
{
  take_fixed (gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller)), self);
}

static void
add_fixed (FettleImportSettings *self, guint field)
{
  const ExchangeLookField *at = exchange_look_get_field (self->look, field);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *entry = gtk_entry_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_autofree char *name = g_strdup_printf ("fixed-%s", at->name);
  /* Translators: a field that holds the same for all rows: 'Round of all rows' */
  g_autofree char *words = g_strdup_printf (_("%s of all rows"), at->label);
  GtkWidget *label = gtk_label_new (words);

  gtk_widget_add_css_class (label, "dim");
  gtk_widget_set_name (entry, name);
  fettle_typed_set (GTK_EDITABLE (entry), exchange_look_get_fixed (self->look, field));
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 10);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), 14);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  g_object_set_data (G_OBJECT (entry), "field", GUINT_TO_POINTER (field));
  g_signal_connect (entry, "activate", G_CALLBACK (take_fixed), self);
  g_signal_connect (focus, "leave", G_CALLBACK (on_fixed_left), self);
  gtk_widget_add_controller (entry, focus);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), entry);
  fettle_wrap_add (self->place, box);
  g_ptr_array_add (self->fixed, box);
}

static void
show_fixed (FettleImportSettings *self)
{
  self->showing = TRUE;
  g_ptr_array_set_size (self->fixed, 0);
  for (guint i = 0; i < exchange_look_count_fields (self->look); i++)
    if (exchange_look_needs (self->look, i))
      add_fixed (self, i);
  self->showing = FALSE;
}

/* Rows that do not say their model or round belong to those in view. */
static gboolean
preset (FettleImportSettings *self)
{
  gboolean any = FALSE;

  for (guint i = 0; i < exchange_look_count_fields (self->look); i++)
    {
      const char *name = exchange_look_get_field (self->look, i)->name;
      const char *text = g_str_equal (name, "model") ? self->model : g_str_equal (name, "round") ? self->round : NULL;

      if (text != NULL && *exchange_look_get_fixed (self->look, i) == '\0')
        {
          exchange_look_set_fixed (self->look, i, text);
          any = any || exchange_look_needs (self->look, i);
        }
    }
  return any;
}

/* ---- columns ---- */

static void
on_column (GtkDropDown *choice, GParamSpec *spec, FettleImportSettings *self)
{
  guint column = 0;

  if (self->showing || self->look == NULL || !g_ptr_array_find (self->columns, choice, &column))
    return;
  exchange_look_set_column (self->look, column, (int) gtk_drop_down_get_selected (choice) - 1);
  settle (self);
}

static void
on_make_label (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_list_item_set_child (item, label);
}

static void
on_bind_label (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  gtk_label_set_label (GTK_LABEL (gtk_list_item_get_child (item)),
                       gtk_string_object_get_string (GTK_STRING_OBJECT (gtk_list_item_get_item (item))));
}

/* A column may be narrower than the longest name of a field. */
static GtkListItemFactory *
narrow_labels (void)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  g_signal_connect (factory, "setup", G_CALLBACK (on_make_label), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (on_bind_label), NULL);
  return factory;
}

static void
add_column (FettleImportSettings *self, guint column, GListModel *names, GtkListItemFactory *factory)
{
  GtkWidget *choice = gtk_drop_down_new (NULL, NULL);
  const char *head = exchange_look_get_head (self->look, column);
  g_autofree char *letter = fettle_sheet_letter (column);
  /* Translators: the head of a column in a file; behind it stands what is chosen */
  g_autofree char *label = g_strdup_printf (_("Column %s gives"), *head != '\0' ? head : letter);
  g_autofree char *name = g_strdup_printf ("field-%u", column);

  gtk_widget_set_name (choice, name);
  gtk_drop_down_set_enable_search (GTK_DROP_DOWN (choice), TRUE);
  gtk_drop_down_set_factory (GTK_DROP_DOWN (choice), factory);
  fettle_choice_set_names (GTK_DROP_DOWN (choice), names);
  fettle_choice_set_up (GTK_DROP_DOWN (choice), label);
  g_signal_connect (choice, "notify::selected", G_CALLBACK (on_column), self);
  g_ptr_array_add (self->columns, choice);
  fettle_column_heads_add (self->heads, column + 1, choice);
}

static void
make_columns (FettleImportSettings *self)
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  g_autoptr(GtkListItemFactory) factory = narrow_labels ();

  self->showing = TRUE;
  g_ptr_array_set_size (self->columns, 0);
  fettle_column_heads_clear (self->heads);
  gtk_string_list_append (names, _("Leave out"));
  for (guint i = 0; i < exchange_look_count_fields (self->look); i++)
    gtk_string_list_append (names, exchange_look_get_field (self->look, i)->label);
  for (guint i = 0; i < exchange_look_count_columns (self->look); i++)
    add_column (self, i, G_LIST_MODEL (names), factory);
  self->showing = FALSE;
}

/* What is taken of each column, and how numbers and dates in them are written. */
static void
show_columns (FettleImportSettings *self)
{
  preset (self);
  self->showing = TRUE;
  for (guint i = 0; i < self->columns->len; i++)
    gtk_drop_down_set_selected (self->columns->pdata[i], (guint) (exchange_look_get_column (self->look, i) + 1));
  gtk_drop_down_set_selected (self->sign, exchange_look_get_decimal_sign (self->look) == ',');
  gtk_drop_down_set_selected (self->dates, exchange_look_get_date_order (self->look) == EXCHANGE_DATE_MONTH_FIRST);
  gtk_check_button_set_active (self->has_head, exchange_look_get_has_head (self->look));
  self->showing = FALSE;
  show_fixed (self);
}

/* ---- the whole ---- */

static void
on_record (FettleImportSettings *self)
{
  guint at = gtk_drop_down_get_selected (self->record);

  if (self->showing || self->look == NULL || at >= self->records->len)
    return;
  exchange_look_set_record (self->look, self->records->pdata[at]);
  make_columns (self);
  settle (self);
}

static void
on_sign (FettleImportSettings *self)
{
  if (self->showing || self->look == NULL)
    return;
  exchange_look_set_decimal_sign (self->look, gtk_drop_down_get_selected (self->sign) == 1 ? ',' : '.');
  settle (self);
}

static void
on_dates (FettleImportSettings *self)
{
  if (self->showing || self->look == NULL)
    return;
  exchange_look_set_date_order (self->look, gtk_drop_down_get_selected (self->dates) == 1 ? EXCHANGE_DATE_MONTH_FIRST : EXCHANGE_DATE_DAY_FIRST);
  settle (self);
}

static void
on_has_head (FettleImportSettings *self)
{
  if (self->showing || self->look == NULL)
    return;
  exchange_look_set_has_head (self->look, gtk_check_button_get_active (self->has_head));
  make_columns (self);
  settle (self);
}

static GtkDropDown *
add_choice (FettleImportSettings *self, const char *label, const char *name, const char *const *words, GCallback changed)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *words_label = gtk_label_new (label);
  GtkWidget *choice = gtk_drop_down_new_from_strings (words);

  gtk_widget_add_css_class (words_label, "dim");
  gtk_widget_set_name (choice, name);
  gtk_widget_set_valign (choice, GTK_ALIGN_CENTER);
  fettle_choice_set_up (GTK_DROP_DOWN (choice), label);
  g_signal_connect_swapped (choice, "notify::selected", changed, self);
  gtk_box_append (GTK_BOX (box), words_label);
  gtk_box_append (GTK_BOX (box), choice);
  fettle_wrap_add (self->place, box);
  return GTK_DROP_DOWN (choice);
}

static int
compare_plurals (gconstpointer a, gconstpointer b)
{
  return g_utf8_collate (book_record_plural (*(const BookRecord *const *) a), book_record_plural (*(const BookRecord *const *) b));
}

static void
add_records (FettleImportSettings *self)
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);

  self->records = g_ptr_array_new ();
  for (guint i = 0; i < BOOK_N_RECORDS; i++)
    if (exchange_look_can_take (book_record_in_order (i)))
      g_ptr_array_add (self->records, (gpointer) book_record_in_order (i));
  g_ptr_array_sort (self->records, compare_plurals);
  self->record = add_choice (self, _("The rows are"), "import-record", (const char *const[]){ NULL }, G_CALLBACK (on_record));
  gtk_drop_down_set_enable_search (self->record, TRUE);
  for (guint i = 0; i < self->records->len; i++)
    gtk_string_list_append (names, book_record_plural (self->records->pdata[i]));
  fettle_choice_set_names (self->record, G_LIST_MODEL (names));
}

void
fettle_import_settings_set_look (FettleImportSettings *self, ExchangeLook *look)
{
  guint at = 0;

  self->look = NULL; /* fields that lose the focus while they go take nothing */
  g_ptr_array_set_size (self->columns, 0);
  g_ptr_array_set_size (self->fixed, 0);
  fettle_column_heads_clear (self->heads);
  self->look = look;
  if (look == NULL)
    return;
  self->showing = TRUE;
  g_ptr_array_find (self->records, exchange_look_get_record (look), &at);
  gtk_drop_down_set_selected (self->record, at);
  make_columns (self);
  show_columns (self);
}

void
fettle_import_settings_set_place (FettleImportSettings *self, const char *model, const char *round)
{
  g_free (self->model);
  g_free (self->round);
  self->model = g_strdup (model);
  self->round = g_strdup (round);
  if (self->look != NULL && preset (self))
    settle (self);
}

void
fettle_import_settings_set_sensitive (FettleImportSettings *self, gboolean sensitive)
{
  gtk_widget_set_sensitive (GTK_WIDGET (self->place), sensitive);
  gtk_widget_set_sensitive (GTK_WIDGET (self->heads), sensitive);
}

FettleImportSettings *
fettle_import_settings_new (FettleWrap *place, FettleColumnHeads *heads)
{
  FettleImportSettings *self = g_new0 (FettleImportSettings, 1);

  self->place = place;
  self->fixed = g_ptr_array_new_with_free_func ((GDestroyNotify) gtk_widget_unparent);
  self->heads = heads;
  self->columns = g_ptr_array_new ();
  self->showing = TRUE;
  add_records (self);
  self->sign = add_choice (self, _("Decimal sign"), "import-sign", (const char *const[]){ _("point"), _("comma"), NULL },
                           G_CALLBACK (on_sign));
  self->dates = add_choice (self, _("Dates"), "import-dates",
                            (const char *const[]){ _("day before month"), _("month before day"), NULL }, G_CALLBACK (on_dates));
  self->has_head = GTK_CHECK_BUTTON (gtk_check_button_new_with_label (_("The first line names the columns")));
  gtk_widget_set_name (GTK_WIDGET (self->has_head), "import-has-head");
  g_signal_connect_swapped (self->has_head, "toggled", G_CALLBACK (on_has_head), self);
  fettle_wrap_add (place, GTK_WIDGET (self->has_head));
  self->showing = FALSE;
  return self;
}

void
fettle_import_settings_free (FettleImportSettings *self)
{
  g_ptr_array_unref (self->records);
  g_ptr_array_unref (self->fixed);
  g_ptr_array_unref (self->columns);
  g_free (self->model);
  g_free (self->round);
  g_free (self);
}
