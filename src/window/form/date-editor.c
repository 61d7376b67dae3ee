/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "date-editor.h"

#include <glib/gi18n.h>
#include <langinfo.h>
#include <string.h>

#include "book-day.h"
#include "book-values.h"
#include "exchange-cell.h"
#include "tip.h"
#include "today.h"
#include "typed.h"
#include "unparent.h"

#define DATE_CHARS 11
#define MOMENT_CHARS 17

struct _FettleDateEditor
{
  GtkWidget parent_instance;

  GtkWidget *entry;    /* with the arrow of the calendar in it: a button beside it costs as much, and some forms have a dozen */
  GtkWidget *popover;  /* NULL until opened */
  GtkWidget *calendar; /* likewise */
  char      *before;   /* what stood there when it was opened */
  GtkLabel  *words;    /* NULL until a day stands there */
  gboolean   with_time; /* an hour may stand behind the day */
  gboolean   setting;
};

static void fettle_date_editor_editor_init (FettleEditorInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleDateEditor, fettle_date_editor, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_EDITOR, fettle_date_editor_editor_init))

static ExchangeDateOrder
order_of_country (void)
{
  const char *format = nl_langinfo (D_FMT);
  const char *day = strpbrk (format, "de"), *month = strstr (format, "%m");

  return (month != NULL && day != NULL && month < day) || strstr (format, "%D") != NULL ? EXCHANGE_DATE_MONTH_FIRST
                                                                                       : EXCHANGE_DATE_DAY_FIRST;
}

char *
fettle_date_read (const char *typed)
{
  g_autofree char *text = g_strstrip (g_strdup (typed));
  const char *rest = text;
  char iso[17];
  gboolean is_doubtful;

  if (!exchange_date_scan (&rest, order_of_country (), iso, &is_doubtful) || *rest != '\0')
    return NULL;
  iso[10] = '\0'; /* a day, whatever hour was written */
  return g_strdup (iso);
}

/* What stands there as the book writes it; NULL when it is no day, nor an hour of one. */
static char *
read_typed (FettleDateEditor *self)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->entry));
  g_autofree char *text = g_strstrip (g_strdup (typed));
  const char *rest = text;
  char iso[17];
  gboolean is_doubtful;

  if (!self->with_time)
    return fettle_date_read (typed);
  if (book_moment_is_valid (text, strlen (text))) /* with seconds, too */
    return g_steal_pointer (&text);
  if (!exchange_date_scan (&rest, order_of_country (), iso, &is_doubtful) || *rest != '\0')
    return NULL;
  return g_strdup (iso);
}

/* Another day, at the hour that stands there. */
static char *
with_hour (FettleDateEditor *self, const char *day)
{
  g_autofree char *iso = read_typed (self);

  return g_strconcat (day, iso != NULL && strlen (iso) > 10 ? iso + 10 : "", NULL);
}

static GDateTime *
noon (const char *iso)
{
  g_autofree char *moment = g_strconcat (iso, "T12:00:00Z", NULL);

  return g_date_time_new_from_iso8601 (moment, NULL);
}

static GDateTime *
day_of (FettleDateEditor *self)
{
  g_autofree char *iso = fettle_date_read (gtk_editable_get_text (GTK_EDITABLE (self->entry)));

  return iso != NULL ? noon (iso) : NULL;
}

static char *
day_words (GDateTime *day)
{
  /* Translators: a day with its weekday and the name of its month, short: 'Tue 31 Mar' */
  return g_date_time_format (day, _("%a %-e %b"));
}

static void
show_words (FettleDateEditor *self)
{
  g_autoptr(GDateTime) day = day_of (self);
  g_autofree char *words = day != NULL ? day_words (day) : NULL;

  if (self->words == NULL && words == NULL)
    return;
  if (self->words == NULL)
    {
      self->words = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0f, "hexpand", TRUE, "ellipsize", PANGO_ELLIPSIZE_END,
                                  "css-classes", (const char *[]){ "dim", "small", NULL }, NULL);
      gtk_widget_insert_after (GTK_WIDGET (self->words), GTK_WIDGET (self), self->entry);
    }
  gtk_label_set_label (self->words, words != NULL ? words : "");
}

static void
set_entry (FettleDateEditor *self, const char *text)
{
  self->setting = TRUE;
  if (strcmp (gtk_editable_get_text (GTK_EDITABLE (self->entry)), text) != 0)
    fettle_typed_set (GTK_EDITABLE (self->entry), text);
  self->setting = FALSE;
  show_words (self);
}

static void
on_changed (FettleDateEditor *self)
{
  if (self->setting)
    return;
  show_words (self);
  fettle_editor_tell_changed (FETTLE_EDITOR (self));
}

/* How it is written stands where it is about to be written: a form has a dozen dates, and is made within a frame. */
static void
on_state (FettleDateEditor *self)
{
  if ((gtk_widget_get_state_flags (self->entry) & GTK_STATE_FLAG_FOCUS_WITHIN) == 0
      || gtk_entry_get_placeholder_text (GTK_ENTRY (self->entry)) != NULL)
    return;
  /* Translators: how a date is written: year, month, day; then also hour and minute */
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entry), self->with_time ? _("YYYY-MM-DD HH:MM") : _("YYYY-MM-DD"));
}

static void
move (FettleDateEditor *self, int days)
{
  g_autofree char *iso = fettle_date_read (gtk_editable_get_text (GTK_EDITABLE (self->entry)));
  g_autofree char *today = fettle_today ();
  g_autofree char *hour = NULL;
  g_autofree char *moved = iso != NULL ? book_day_format (book_day_parse (iso, NULL) + days) : g_steal_pointer (&today);

  hour = with_hour (self, moved);
  set_entry (self, hour);
  gtk_editable_set_position (GTK_EDITABLE (self->entry), -1);
  fettle_editor_tell_changed (FETTLE_EDITOR (self));
}

static void open_calendar (FettleDateEditor *self);

static gboolean
on_key (FettleDateEditor *self, guint keyval, guint keycode, GdkModifierType modifiers)
{
  if ((modifiers & GDK_ALT_MASK) != 0 && keyval == GDK_KEY_Down)
    open_calendar (self);
  else if ((modifiers & gtk_accelerator_get_default_mod_mask ()) != 0)
    return GDK_EVENT_PROPAGATE;
  else if (keyval == GDK_KEY_Up || keyval == GDK_KEY_KP_Up)
    move (self, 1);
  else if (keyval == GDK_KEY_Down || keyval == GDK_KEY_KP_Down)
    move (self, -1);
  else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

/* ---- the calendar ---- */

/* A reader of the screen is told the day where the keyboard is: in the calendar. */
static void
name_calendar (FettleDateEditor *self)
{
  g_autoptr(GDateTime) day = gtk_calendar_get_date (GTK_CALENDAR (self->calendar));
  g_autofree char *date = day_words (day);
  g_autofree char *words = g_strdup_printf (_("%s: %s"), _("Calendar"), date);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self->calendar), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
}

static void
on_day (FettleDateEditor *self)
{
  g_autoptr(GDateTime) day = NULL;
  g_autofree char *iso = NULL, *hour = NULL;

  if (self->setting)
    return;
  day = gtk_calendar_get_date (GTK_CALENDAR (self->calendar));
  iso = g_date_time_format (day, "%Y-%m-%d");
  hour = with_hour (self, iso);
  set_entry (self, hour);
  name_calendar (self);
  fettle_editor_tell_changed (FETTLE_EDITOR (self));
}

/* GTK's own arrow keys move a mark, which only the space bar would take. */
static void
walk (FettleDateEditor *self, int days, int months)
{
  g_autoptr(GDateTime) day = gtk_calendar_get_date (GTK_CALENDAR (self->calendar));
  g_autoptr(GDateTime) moved = months != 0 ? g_date_time_add_months (day, months) : g_date_time_add_days (day, days);

  if (moved == NULL) /* before the first year, or after the last */
    return;
  self->setting = TRUE;
  gtk_calendar_select_day (GTK_CALENDAR (self->calendar), moved);
  self->setting = FALSE;
  on_day (self);
}

static void
give_back (FettleDateEditor *self)
{
  set_entry (self, self->before);
  fettle_editor_tell_changed (FETTLE_EDITOR (self));
}

/* A click into the calendar is a choice; walking it by the arrows is not one yet. */
static void
on_released (FettleDateEditor *self, int n_press)
{
  if (n_press > 1)
    gtk_popover_popdown (GTK_POPOVER (self->popover));
}

static gboolean
on_calendar_key (FettleDateEditor *self, guint keyval, guint keycode, GdkModifierType modifiers)
{
  int left = gtk_widget_get_direction (self->calendar) == GTK_TEXT_DIR_RTL ? 1 : -1;

  switch (keyval)
    {
    case GDK_KEY_Return: case GDK_KEY_KP_Enter: case GDK_KEY_ISO_Enter:
      on_day (self); /* today, where no day stood */
      gtk_popover_popdown (GTK_POPOVER (self->popover));
      break;
    case GDK_KEY_Escape:
      give_back (self);
      gtk_popover_popdown (GTK_POPOVER (self->popover));
      break;
    case GDK_KEY_Left: case GDK_KEY_KP_Left:
      walk (self, left, 0);
      break;
    case GDK_KEY_Right: case GDK_KEY_KP_Right:
      walk (self, -left, 0);
      break;
    case GDK_KEY_Up: case GDK_KEY_KP_Up:
      walk (self, -7, 0);
      break;
    case GDK_KEY_Down: case GDK_KEY_KP_Down:
      walk (self, 7, 0);
      break;
    case GDK_KEY_Page_Up: case GDK_KEY_KP_Page_Up:
      walk (self, 0, -1);
      break;
    case GDK_KEY_Page_Down: case GDK_KEY_KP_Page_Down:
      walk (self, 0, 1);
      break;
    default:
      return GDK_EVENT_PROPAGATE;
    }
  return GDK_EVENT_STOP;
}

static void
on_closed (FettleDateEditor *self)
{
  gtk_widget_grab_focus (self->entry);
  fettle_editor_tell_chosen (FETTLE_EDITOR (self));
}

static void
make_calendar (FettleDateEditor *self)
{
  GtkEventController *key = gtk_event_controller_key_new ();
  GtkGesture *click = gtk_gesture_click_new ();

  self->calendar = gtk_calendar_new ();
  gtk_event_controller_set_propagation_phase (key, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (on_calendar_key), self);
  g_signal_connect_swapped (click, "released", G_CALLBACK (on_released), self);
  gtk_widget_add_controller (self->calendar, key);
  gtk_widget_add_controller (self->calendar, GTK_EVENT_CONTROLLER (click));
  g_signal_connect_swapped (self->calendar, "day-selected", G_CALLBACK (on_day), self);
  self->popover = gtk_popover_new ();
  gtk_popover_set_child (GTK_POPOVER (self->popover), self->calendar);
  g_signal_connect_swapped (self->popover, "closed", G_CALLBACK (on_closed), self);
  gtk_widget_set_parent (self->popover, GTK_WIDGET (self));
}

/* The popover points to the arrow. */
static void
point (FettleDateEditor *self)
{
  GdkRectangle arrow;
  double x, y;

  gtk_entry_get_icon_area (GTK_ENTRY (self->entry), GTK_ENTRY_ICON_SECONDARY, &arrow);
  if (!gtk_widget_translate_coordinates (self->entry, GTK_WIDGET (self), arrow.x, arrow.y, &x, &y))
    return;
  arrow.x = (int) x;
  arrow.y = (int) y;
  gtk_popover_set_pointing_to (GTK_POPOVER (self->popover), &arrow);
}

static void
open_calendar (FettleDateEditor *self)
{
  g_autoptr(GDateTime) day = day_of (self);
  g_autofree char *today = fettle_today ();

  if (day == NULL)
    day = noon (today);
  if (self->calendar == NULL)
    make_calendar (self);
  self->setting = TRUE; /* the calendar tells of this, too */
  gtk_calendar_select_day (GTK_CALENDAR (self->calendar), day);
  self->setting = FALSE;
  name_calendar (self);
  g_free (self->before);
  self->before = g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry)));
  point (self);
  gtk_popover_popup (GTK_POPOVER (self->popover));
  gtk_widget_grab_focus (self->calendar);
}

/* ---- as an editor ---- */

static char *
fettle_date_editor_dup_text (FettleEditor *editor)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (FETTLE_DATE_EDITOR (editor)->entry));
  g_autofree char *iso = read_typed (FETTLE_DATE_EDITOR (editor));

  return iso != NULL ? g_steal_pointer (&iso) : g_strdup (typed);
}

static void
fettle_date_editor_set_text (FettleEditor *editor, const char *text, const char *shown)
{
  set_entry (FETTLE_DATE_EDITOR (editor), text);
}

static GtkWidget *
fettle_date_editor_get_control (FettleEditor *editor)
{
  return FETTLE_DATE_EDITOR (editor)->entry;
}

static void
fettle_date_editor_tidy (FettleEditor *editor)
{
  FettleDateEditor *self = FETTLE_DATE_EDITOR (editor);
  g_autofree char *iso = read_typed (self);

  if (iso != NULL)
    set_entry (self, iso);
}

static void
fettle_date_editor_editor_init (FettleEditorInterface *iface)
{
  iface->dup_text = fettle_date_editor_dup_text;
  iface->set_text = fettle_date_editor_set_text;
  iface->get_control = fettle_date_editor_get_control;
  iface->tidy = fettle_date_editor_tidy;
}

static void
fettle_date_editor_dispose (GObject *object)
{
  FettleDateEditor *self = FETTLE_DATE_EDITOR (object);

  if (self->popover != NULL)
    g_signal_handlers_disconnect_by_data (self->popover, self);
  g_clear_pointer (&self->popover, gtk_widget_unparent);
  self->calendar = NULL;
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_date_editor_parent_class)->dispose (object);
}

static void
fettle_date_editor_finalize (GObject *object)
{
  g_free (FETTLE_DATE_EDITOR (object)->before);
  G_OBJECT_CLASS (fettle_date_editor_parent_class)->finalize (object);
}

static void
fettle_date_editor_class_init (FettleDateEditorClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fettle_date_editor_dispose;
  G_OBJECT_CLASS (class)->finalize = fettle_date_editor_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
}

static void
fettle_date_editor_init (FettleDateEditor *self)
{
  GtkEventController *key = gtk_event_controller_key_new ();

  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (gtk_widget_get_layout_manager (GTK_WIDGET (self))), 6);
  self->entry = g_object_new (GTK_TYPE_ENTRY, "width-chars", DATE_CHARS, "max-width-chars", DATE_CHARS,
                              "secondary-icon-name", "pan-down-symbolic", "css-classes", (const char *[]){ "num", NULL }, NULL);
  /* Alt+Down opens it, too: one stop of the Tab key a field. */
  fettle_tip_set (self->entry, _("Pick the day from a calendar (Alt+Down)"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_HAS_POPUP, TRUE,
                                  GTK_ACCESSIBLE_PROPERTY_KEY_SHORTCUTS, "Alt+Down", -1);
  gtk_event_controller_set_propagation_phase (key, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (self->entry, key);
  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (on_changed), self);
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (fettle_editor_tell_entered), self);
  g_signal_connect_swapped (self->entry, "icon-press", G_CALLBACK (open_calendar), self);
  g_signal_connect_swapped (self->entry, "state-flags-changed", G_CALLBACK (on_state), self);
  gtk_widget_set_parent (self->entry, GTK_WIDGET (self));
}

/**
 * fettle_date_editor_new:
 * @with_time: whether an hour may stand behind the day
 *
 * Returns: (transfer floating): an entry for a day
 */
GtkWidget *
fettle_date_editor_new (gboolean with_time)
{
  FettleDateEditor *self = g_object_new (FETTLE_TYPE_DATE_EDITOR, NULL);

  self->with_time = with_time;
  if (with_time)
    {
      gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), MOMENT_CHARS);
      gtk_editable_set_max_width_chars (GTK_EDITABLE (self->entry), MOMENT_CHARS);
    }
  return GTK_WIDGET (self);
}
