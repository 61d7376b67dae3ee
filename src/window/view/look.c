/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The rules stand in style.css once; dark.css redefines the colours and is added one step above it. Drawings redraw
 * on notify::gtk-application-prefer-dark-theme, which is set last. What the desktop prefers is asked of its settings
 * portal without waiting; until it answers, and where there is none, the light look holds.
 */
#include "config.h"

#include "look.h"

#define PORTAL_NAME "org.freedesktop.portal.Desktop"
#define PORTAL_PATH "/org/freedesktop/portal/desktop"
#define PORTAL_SETTINGS "org.freedesktop.portal.Settings"
#define PREFER_DARK 1 /* value of color-scheme in org.freedesktop.appearance */

GResource *fettle_get_resource (void);

static struct
{
  GdkDisplay     *display;
  GtkCssProvider *style;
  GtkCssProvider *dark;
  FettleLook      look;
  gboolean        desktop_dark;
  gboolean        is_dark;
  gboolean        portal_asked;
} state;

static void
on_parsing_error (GtkCssProvider *provider, GtkCssSection *section, const GError *error)
{
  g_autofree char *place = gtk_css_section_to_string (section);

  g_warning ("%s: %s", place, error->message);
}

static GtkCssProvider *
load (const char *path)
{
  GtkCssProvider *provider = gtk_css_provider_new ();

  g_signal_connect (provider, "parsing-error", G_CALLBACK (on_parsing_error), NULL);
  gtk_css_provider_load_from_resource (provider, path);
  return provider;
}

static void
apply (void)
{
  gboolean dark = state.look == FETTLE_LOOK_DARK || (state.look == FETTLE_LOOK_FOLLOW && state.desktop_dark);

  if (state.display == NULL || dark == state.is_dark)
    return;

  state.is_dark = dark;
  if (dark)
    {
      if (state.dark == NULL)
        state.dark = load ("/org/fettle/Fettle/dark.css");
      gtk_style_context_add_provider_for_display (state.display, GTK_STYLE_PROVIDER (state.dark),
                                                  GTK_STYLE_PROVIDER_PRIORITY_APPLICATION + 1);
    }
  else
    {
      gtk_style_context_remove_provider_for_display (state.display, GTK_STYLE_PROVIDER (state.dark));
    }
  g_object_set (gtk_settings_get_for_display (state.display), "gtk-application-prefer-dark-theme", dark, NULL);
}

static void
take_preference (GVariant *value)
{
  g_autoptr(GVariant) inner = g_variant_ref (value);

  while (g_variant_is_of_type (inner, G_VARIANT_TYPE_VARIANT))
    {
      GVariant *outer = inner;

      inner = g_variant_get_variant (outer);
      g_variant_unref (outer);
    }
  if (!g_variant_is_of_type (inner, G_VARIANT_TYPE_UINT32))
    return;

  state.desktop_dark = g_variant_get_uint32 (inner) == PREFER_DARK;
  apply ();
}

static void
on_setting_changed (GDBusConnection *bus,
                    const char      *sender,
                    const char      *path,
                    const char      *interface,
                    const char      *signal,
                    GVariant        *arguments,
                    gpointer         user_data)
{
  const char *space, *key;
  g_autoptr(GVariant) value = NULL;

  if (!g_variant_is_of_type (arguments, G_VARIANT_TYPE ("(ssv)")))
    return;

  g_variant_get (arguments, "(&s&sv)", &space, &key, &value);
  if (g_str_equal (space, "org.freedesktop.appearance") && g_str_equal (key, "color-scheme"))
    take_preference (value);
}

static void
on_portal_answer (GObject *bus, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(GVariant) answer = g_dbus_connection_call_finish (G_DBUS_CONNECTION (bus), result, NULL);
  g_autoptr(GVariant) value = NULL;

  if (answer == NULL) /* no portal: nothing to follow */
    return;

  value = g_variant_get_child_value (answer, 0);
  take_preference (value);
  g_dbus_connection_signal_subscribe (G_DBUS_CONNECTION (bus), PORTAL_NAME, PORTAL_SETTINGS, "SettingChanged",
                                      PORTAL_PATH, "org.freedesktop.appearance", G_DBUS_SIGNAL_FLAGS_NONE,
                                      on_setting_changed, NULL, NULL);
}

static void
on_bus (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(GDBusConnection) bus = g_bus_get_finish (result, NULL);

  if (bus == NULL)
    return;

  g_dbus_connection_call (bus, PORTAL_NAME, PORTAL_PATH, PORTAL_SETTINGS, "Read",
                          g_variant_new ("(ss)", "org.freedesktop.appearance", "color-scheme"),
                          G_VARIANT_TYPE ("(v)"), G_DBUS_CALL_FLAGS_NONE, -1, NULL, on_portal_answer, NULL);
}

/**
 * fettle_look_load:
 * @display: where the windows will be
 *
 * Puts the style sheets of the program on @display, once; later calls do nothing.
 */
void
fettle_look_load (GdkDisplay *display)
{
  if (state.display != NULL)
    return;

  g_resources_register (fettle_get_resource ());
  state.display = display;
  state.style = load ("/org/fettle/Fettle/style.css");
  gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (state.style),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
}

/**
 * fettle_look_choose:
 * @look: the look wanted from now on
 *
 * Changes the look of all windows at once.
 */
void
fettle_look_choose (FettleLook look)
{
  state.look = look;
  if (look == FETTLE_LOOK_FOLLOW && !state.portal_asked)
    {
      state.portal_asked = TRUE;
      g_bus_get (G_BUS_TYPE_SESSION, NULL, on_bus, NULL);
    }
  apply ();
}

/**
 * fettle_look_is_dark:
 *
 * Returns: whether the dark colours are in use now
 */
gboolean
fettle_look_is_dark (void)
{
  return state.is_dark;
}

/**
 * fettle_look_chart:
 *
 * Returns: the look that a drawing on the screen has to take now
 */
ChartLook
fettle_look_chart (void)
{
  return state.is_dark ? CHART_LOOK_DARK : CHART_LOOK_LIGHT;
}

/**
 * fettle_look_draw:
 * @widget: a widget
 * @snapshot: its snapshot
 * @chart: (nullable): a drawing; %NULL draws nothing
 *
 * Draws @chart over all of @widget in the look that holds now.
 */
void
fettle_look_draw (GtkWidget *widget, GtkSnapshot *snapshot, Chart *chart)
{
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr;

  if (chart == NULL || width <= 0 || height <= 0)
    return;

  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  chart_draw (chart, cr, width, height, chart_theme (fettle_look_chart ()));
  cairo_destroy (cr);
}

/**
 * fettle_look_redraw:
 * @widget: a widget that draws by fettle_look_draw()
 *
 * Lets it draw anew whenever the look changes.
 */
void
fettle_look_redraw (GtkWidget *widget)
{
  g_signal_connect_object (gtk_settings_get_default (), "notify::gtk-application-prefer-dark-theme",
                           G_CALLBACK (gtk_widget_queue_draw), widget, G_CONNECT_SWAPPED);
}
