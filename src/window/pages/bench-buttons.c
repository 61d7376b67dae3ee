/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-buttons.h"

#include <glib/gi18n.h>

#include "bench-deed.h"
#include "tip.h"
#include "wrap.h"

/* A button with its key beside its label. */
static GtkWidget *
make_button (const char *name, const char *label, const char *key, const char *help, const char *action, GVariant *target)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *button = g_object_new (GTK_TYPE_BUTTON, "name", name, "child", box, "css-classes",
                                    (const char *[]){ "plain", NULL }, NULL);

  fettle_tip_set (button, help);
  gtk_box_append (GTK_BOX (box), gtk_label_new (label));
  gtk_box_append (GTK_BOX (box), g_object_new (GTK_TYPE_LABEL, "label", key, "css-classes", (const char *[]){ "dim", "small", NULL }, NULL));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  if (target != NULL)
    gtk_actionable_set_action_target_value (GTK_ACTIONABLE (button), target);
  return button;
}

/**
 * fettle_bench_buttons_new:
 *
 * Returns: (transfer floating): a button for each deed of the page, one to measure, to see the unit, and for the next one
 */
GtkWidget *
fettle_bench_buttons_new (void)
{
  GtkWidget *wrap = fettle_wrap_new (8);

  for (guint i = 0; i < FETTLE_BENCH_N_DEEDS; i++)
    {
      const FettleBenchDeedKind *deed = &fettle_bench_deeds[i];

      fettle_wrap_add (FETTLE_WRAP (wrap), make_button (deed->name, _(deed->label), deed->key, _(deed->help), "bench.act",
                                                        g_variant_new_string (deed->name)));
    }
  fettle_wrap_add (FETTLE_WRAP (wrap), make_button ("measure", _("Measure"), "F7", _("What is to be measured, one after the other (F7)"),
                                                    "bench.measure", NULL));
  fettle_wrap_add (FETTLE_WRAP (wrap), make_button ("to-unit", _("Unit"), _("Ctrl+U"), _("The unit as built, with all that happened (Ctrl+U)"),
                                                    "bench.unit", NULL));
  fettle_wrap_add (FETTLE_WRAP (wrap), make_button ("next-unit", _("Next"), _("Ctrl+PgDn"), _("The next unit that waits here (Ctrl+Page Down)"),
                                                    "bench.step", g_variant_new_int32 (1)));
  gtk_widget_set_margin_top (wrap, 4);
  return wrap;
}
