/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "import-filter.h"

#include <glib/gi18n.h>

#include "look-source.h"

#define N_FILTERS (EXCHANGE_LOOK_N_STATES + 1)

G_STATIC_ASSERT (FETTLE_LOOK_ALL == -1); /* a button's number less one is what it shows */

static void
on_toggled (GtkToggleButton *button, FettleImportFilter *self)
{
  if (self->is_set || !gtk_toggle_button_get_active (button))
    return;
  for (int i = 0; i < N_FILTERS; i++)
    if (self->buttons[i] == button)
      self->chosen (i - 1, self->data);
}

FettleImportFilter *
fettle_import_filter_new (FettleWrap *place)
{
  static const char *const names[N_FILTERS] = { "filter-all", "filter-new", "filter-changed", "filter-equal", "filter-refused" };
  FettleImportFilter *self = g_new0 (FettleImportFilter, 1);

  for (guint i = 0; i < N_FILTERS; i++)
    {
      self->buttons[i] = GTK_TOGGLE_BUTTON (gtk_toggle_button_new ());
      gtk_widget_set_name (GTK_WIDGET (self->buttons[i]), names[i]);
      gtk_widget_add_css_class (GTK_WIDGET (self->buttons[i]), "plain");
      gtk_toggle_button_set_group (self->buttons[i], i > 0 ? self->buttons[0] : NULL);
      g_signal_connect (self->buttons[i], "toggled", G_CALLBACK (on_toggled), self);
      fettle_wrap_add (place, GTK_WIDGET (self->buttons[i]));
    }
  return self;
}

void
fettle_import_filter_show (FettleImportFilter *self, const ExchangeLook *look, const ExchangeLookAnswer *answer)
{
  static const char *const words[N_FILTERS] = { N_("All"), N_("New"), N_("Changed"), N_("Equal"), N_("Refused") };

  for (guint i = 0; i < N_FILTERS; i++)
    {
      guint n = i == 0           ? exchange_look_count_rows (look)
                : answer == NULL ? 0
                                 : exchange_look_answer_count (answer, (ExchangeLookState) (i - 1));
      /* Translators: a kind of rows and how many there are: 'Refused 3' */
      g_autofree char *label = g_strdup_printf (_("%s %u"), _(words[i]), n);

      gtk_button_set_label (GTK_BUTTON (self->buttons[i]), label);
      gtk_widget_set_sensitive (GTK_WIDGET (self->buttons[i]), answer != NULL || i == 0);
    }
}

void
fettle_import_filter_show_all (FettleImportFilter *self)
{
  self->is_set = TRUE;
  gtk_toggle_button_set_active (self->buttons[0], TRUE);
  self->is_set = FALSE;
}
