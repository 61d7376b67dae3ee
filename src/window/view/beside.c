/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "beside.h"

#define MOST_SPACING 100

struct _FettleBeside
{
  GtkWidget parent_instance;

  GtkWidget *first;
  GtkWidget *second;
  int        spacing;
};

enum { PROP_FIRST = 1, PROP_SECOND, PROP_SPACING, N_PROPS };
static GParamSpec *properties[N_PROPS];

G_DEFINE_FINAL_TYPE (FettleBeside, fettle_beside, GTK_TYPE_WIDGET)

static gboolean
is_shown (GtkWidget *child)
{
  return child != NULL && gtk_widget_should_layout (child);
}

/* What the first child and the gap take away from the second. */
static int
taken (FettleBeside *self)
{
  int natural;

  if (!is_shown (self->first))
    return 0;
  gtk_widget_measure (self->first, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &natural, NULL, NULL);
  return natural + (is_shown (self->second) ? self->spacing : 0);
}

static void
fettle_beside_measure (GtkWidget     *widget,
                       GtkOrientation orientation,
                       int            for_size,
                       int           *minimum,
                       int           *natural,
                       int           *minimum_baseline,
                       int           *natural_baseline)
{
  FettleBeside *self = FETTLE_BESIDE (widget);
  int before = taken (self), least = 0, wanted = 0;

  *minimum = *natural = 0;
  if (is_shown (self->second))
    gtk_widget_measure (self->second, orientation,
                        orientation == GTK_ORIENTATION_VERTICAL && for_size >= 0 ? MAX (0, for_size - before) : -1,
                        minimum, natural, NULL, NULL);
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum += before;
      *natural += before;
    }
  else if (is_shown (self->first))
    {
      gtk_widget_measure (self->first, orientation, -1, &least, &wanted, NULL, NULL);
      *minimum = MAX (*minimum, least);
      *natural = MAX (*natural, wanted);
    }
}

static void
fettle_beside_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  FettleBeside *self = FETTLE_BESIDE (widget);
  gboolean rtl = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  int before = taken (self), first;

  if (is_shown (self->first))
    {
      first = is_shown (self->second) ? before - self->spacing : width;
      gtk_widget_size_allocate (self->first, &(GtkAllocation){ rtl ? width - first : 0, 0, first, height }, -1);
    }
  if (is_shown (self->second))
    gtk_widget_size_allocate (self->second, &(GtkAllocation){ rtl ? 0 : before, 0, MAX (0, width - before), height }, -1);
}

static GtkSizeRequestMode
fettle_beside_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
take_child (FettleBeside *self, GtkWidget **place, GtkWidget *child)
{
  if (*place == child)
    return;
  g_clear_pointer (place, gtk_widget_unparent);
  *place = child;
  if (child != NULL)
    gtk_widget_insert_before (child, GTK_WIDGET (self), place == &self->first ? self->second : NULL);
}

static void
fettle_beside_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  FettleBeside *self = FETTLE_BESIDE (object);

  switch (id)
    {
    case PROP_FIRST: g_value_set_object (value, self->first); break;
    case PROP_SECOND: g_value_set_object (value, self->second); break;
    case PROP_SPACING: g_value_set_int (value, self->spacing); break;
    default: G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
fettle_beside_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  FettleBeside *self = FETTLE_BESIDE (object);

  switch (id)
    {
    case PROP_FIRST: take_child (self, &self->first, g_value_get_object (value)); break;
    case PROP_SECOND: take_child (self, &self->second, g_value_get_object (value)); break;
    case PROP_SPACING: self->spacing = g_value_get_int (value); break;
    default: G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
fettle_beside_dispose (GObject *object)
{
  FettleBeside *self = FETTLE_BESIDE (object);

  g_clear_pointer (&self->first, gtk_widget_unparent);
  g_clear_pointer (&self->second, gtk_widget_unparent);
  G_OBJECT_CLASS (fettle_beside_parent_class)->dispose (object);
}

static void
fettle_beside_class_init (FettleBesideClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->get_property = fettle_beside_get_property;
  object_class->set_property = fettle_beside_set_property;
  object_class->dispose = fettle_beside_dispose;
  widget_class->measure = fettle_beside_measure;
  widget_class->size_allocate = fettle_beside_size_allocate;
  widget_class->get_request_mode = fettle_beside_get_request_mode;

  properties[PROP_FIRST] = g_param_spec_object ("first", NULL, NULL, GTK_TYPE_WIDGET, G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS);
  properties[PROP_SECOND] = g_param_spec_object ("second", NULL, NULL, GTK_TYPE_WIDGET, G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS);
  properties[PROP_SPACING] = g_param_spec_int ("spacing", NULL, NULL, 0, MOST_SPACING, 0,
                                               G_PARAM_READWRITE | G_PARAM_CONSTRUCT_ONLY | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
fettle_beside_init (FettleBeside *self)
{
}

/**
 * fettle_beside_new:
 * @first: at its natural width
 * @second: takes the rest
 * @spacing: between them
 *
 * Returns: a container of the two; a hidden one leaves all the room to the other
 */
GtkWidget *
fettle_beside_new (GtkWidget *first, GtkWidget *second, int spacing)
{
  return g_object_new (FETTLE_TYPE_BESIDE, "first", first, "second", second, "spacing", spacing, NULL);
}
