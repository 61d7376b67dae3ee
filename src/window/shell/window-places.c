/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Going somewhere, and back to where one was: page, model, rounds, the record selected, and the keyboard. Another model
 * is read first, so that going there arrives only with its rounds.
 */
#include "config.h"

#include "window-private.h"

#include <string.h>

#include "keyboard.h"
#include "way.h"

/* The caller frees the place's @way. */
static FettlePlace
here (FettleWindow *self)
{
  FettlePlace place = { .kind = self->page, .span = self->span };
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));

  if (self->page >= 0 && !fettle_page_get_place (FETTLE_PAGE (self->pages[self->page]), &place.record, &place.key))
    place.record = NULL;
  if (self->page >= 0)
    {
      place.viewed = TRUE;
      place.view = fettle_page_get_view (FETTLE_PAGE (self->pages[self->page]));
    }
  if (focus != NULL && gtk_widget_is_ancestor (focus, GTK_WIDGET (self->stack)))
    {
      place.focus = focus;
      place.way = self->page < 0 ? NULL : fettle_way_new (self->pages[self->page], focus);
    }
  place.in_history = self->page >= 0 && self->page == fettle_page_kind_find ("history");
  return place;
}

/* In an empty book there is one place to come back to: its first page. */
static gboolean
is_beside_first (FettleWindow *self)
{
  return self->page >= 0 && self->sitting != NULL && self->span.model == 0;
}

void
fettle_window_update_places (FettleWindow *self)
{
  if (self->places == NULL)
    return;
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.back", fettle_places_can_back (self->places) || is_beside_first (self));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.forward", fettle_places_can_forward (self->places));
}

/*
 * Called by whatever goes elsewhere, before it does. What is shown while one is on the way to a record (its model, its
 * round) is no place that anybody left.
 */
static void
leave (FettleWindow *self, gboolean for_rounds)
{
  FettlePlace place;

  if (self->moving || self->page < 0)
    return;
  place = here (self);
  fettle_places_leave (self->places, &place, for_rounds);
  g_free (place.way);
  fettle_window_update_places (self);
}

void
fettle_window_leave_place (FettleWindow *self)
{
  leave (self, FALSE);
}

/* The same page is going to speak about other rounds. */
void
fettle_window_leave_rounds (FettleWindow *self)
{
  leave (self, TRUE);
}

/* ---- arriving ---- */

static int
kind_for (const char *record)
{
  guint n;
  const FettlePageKind *kinds = fettle_page_kinds (&n);

  for (guint i = 0; i < n; i++)
    if (kinds[i].records != NULL && g_strv_contains (kinds[i].records, record))
      return (int) i;
  return -1;
}

static gboolean
shows (FettleWindow *self, const FettlePlace *place)
{
  const char *record;
  gint64 key;

  return fettle_page_get_place (FETTLE_PAGE (self->pages[self->page]), &record, &key) && g_strcmp0 (record, place->record) == 0
         && key == place->key;
}

/* What had the keyboard gets it, or what came in its place. */
static gboolean
give_back (FettleWindow *self, const FettlePlace *place)
{
  GtkWidget *page = self->page < 0 ? NULL : self->pages[self->page];
  GtkWidget *focus = place->focus;

  if (page == NULL)
    return FALSE;
  if (focus == NULL && place->way != NULL)
    focus = fettle_way_find (page, place->way);
  return focus != NULL && gtk_widget_is_ancestor (focus, page) && gtk_widget_get_mapped (focus) && gtk_widget_grab_focus (focus);
}

static void
await_keyboard (FettleWindow *self, FettleKeyboardDue due)
{
  self->keyboard_due = due;
  self->keyboard_from = gtk_window_get_focus (GTK_WINDOW (self));
}

/* Where the page shows nothing yet, once it has its answer. */
static void
take_keyboard (FettleWindow *self, FettleKeyboardDue due)
{
  GtkWidget *page = self->page < 0 ? NULL : self->pages[self->page];

  self->keyboard_due = FETTLE_KEYBOARD_NOT_DUE;
  if (page == NULL)
    return;
  if (!gtk_widget_grab_focus (page) && !fettle_keyboard_begin (page))
    await_keyboard (self, due);
  else if (due == FETTLE_KEYBOARD_ON_PAGE)
    fettle_keyboard_settle (page);
}

/* Whoever goes to a page goes on there. */
void
fettle_window_take_keyboard (FettleWindow *self)
{
  take_keyboard (self, FETTLE_KEYBOARD_ON_PAGE);
}

/* Whoever goes to a record goes on with it: its page takes the keyboard there itself, but not always. */
static void
arrive_at_record (FettleWindow *self)
{
  if (fettle_keyboard_is_in (self->pages[self->page]))
    return;
  if (self->sitting != NULL && fettle_sitting_is_asking (self->sitting))
    await_keyboard (self, FETTLE_KEYBOARD_AT_RECORD);
  else
    take_keyboard (self, FETTLE_KEYBOARD_AT_RECORD);
}

static void
give_focus (FettleWindow *self, const FettlePlace *place)
{
  g_clear_pointer (&self->awaited, fettle_place_free);
  if (place->way != NULL && self->sitting != NULL && fettle_sitting_is_asking (self->sitting))
    self->awaited = fettle_place_copy (place);
  if (give_back (self, place))
    return;
  if (self->page >= 0 && !fettle_keyboard_is_in (self->pages[self->page]))
    fettle_window_take_keyboard (self);
}

/* The answer may have made anew what had the keyboard; whoever took it elsewhere meanwhile keeps it there. */
void
fettle_window_answered (FettleWindow *self)
{
  FettlePlace *place = self->coming == NULL ? g_steal_pointer (&self->awaited) : NULL;

  if (place != NULL && place->kind == self->page && give_back (self, place))
    self->keyboard_due = FETTLE_KEYBOARD_NOT_DUE;
  fettle_place_free (place);
  if (self->keyboard_due != FETTLE_KEYBOARD_NOT_DUE && self->page >= 0 && !fettle_keyboard_is_in (self->pages[self->page])
      && gtk_window_get_focus (GTK_WINDOW (self)) == self->keyboard_from)
    take_keyboard (self, self->keyboard_due);
}

static void
show_span (FettleWindow *self, const FettleSpan *span)
{
  if (span->to == 0 || (span->from == self->span.from && span->to == self->span.to))
    return;
  fettle_round_strip_set_span (self->strip, span->from, span->to);
  self->span.from = fettle_round_strip_get_from (self->strip);
  self->span.to = fettle_round_strip_get_to (self->strip);
  fettle_window_tell_pages (self);
}

static void
arrive (FettleWindow *self, const FettlePlace *place)
{
  int kind = place->kind >= 0 || place->record == NULL ? place->kind
             : place->in_history                        ? fettle_page_kind_find ("history")
                                                        : kind_for (place->record);

  show_span (self, &place->span);
  if (kind < 0)
    kind = fettle_page_kind_find ("standing");
  fettle_window_show_page (self, kind);
  if (self->page == kind && place->viewed && fettle_page_get_view (FETTLE_PAGE (self->pages[kind])) != place->view)
    fettle_page_set_view (FETTLE_PAGE (self->pages[kind]), place->view);
  if (self->page == kind && place->record != NULL && !shows (self, place))
    fettle_page_show_record (FETTLE_PAGE (self->pages[kind]), place->record, place->key);
  give_focus (self, place);
  fettle_window_update_places (self);
}

/* Called when the rounds of a model are there. */
void
fettle_window_arrive (FettleWindow *self)
{
  FettlePlace *place = g_steal_pointer (&self->coming);

  if (place == NULL)
    return;
  self->moving = TRUE;
  arrive (self, place);
  self->moving = FALSE;
  fettle_place_free (place);
}

/* Goes to a place; where its model is another one, once that has been read. */
void
fettle_window_go (FettleWindow *self, const FettlePlace *place)
{
  g_clear_pointer (&self->coming, fettle_place_free);
  self->coming = fettle_place_copy (place);
  if (place->span.model == 0 || place->span.model == self->span.model)
    {
      fettle_window_arrive (self);
      return;
    }
  self->moving = TRUE;
  fettle_window_choose_model (self, place->span.model);
  self->moving = FALSE;
}

/* ---- to a record ---- */

/* A record on the page of that name, whatever other page could show it. */
void
fettle_window_show_on (FettleWindow *self, const char *page, const char *record, gint64 key)
{
  int kind = fettle_page_kind_find (page);

  fettle_window_leave_place (self);
  fettle_window_show_page (self, kind);
  if (self->page != kind)
    return;
  fettle_page_show_record (FETTLE_PAGE (self->pages[kind]), record, key);
  arrive_at_record (self);
}

/* The page that holds the record; a link leads somewhere whatever it is about, since every record has a history. */
void
fettle_window_show_record (FettleWindow *self, const char *record, gint64 key)
{
  guint n;
  const FettlePageKind *kinds = fettle_page_kinds (&n);

  fettle_window_leave_place (self);
  if (g_str_equal (record, "model"))
    {
      const FettlePlace place = { .kind = fettle_page_kind_find ("standing"), .span = { .model = key } };

      fettle_window_go (self, &place);
      return;
    }
  for (guint i = 0; i < n; i++)
    if (kinds[i].records != NULL && g_strv_contains (kinds[i].records, record))
      {
        fettle_window_show_page (self, (int) i);
        if (self->page == (int) i && fettle_page_show_record (FETTLE_PAGE (self->pages[i]), record, key))
          {
            arrive_at_record (self);
            return;
          }
      }
  fettle_window_show_on (self, "history", record, key);
}

/* ---- back and forward ---- */

static void
turn (FettleWindow *self, FettlePlace *(*step) (FettlePlaces *, const FettlePlace *))
{
  FettlePlace now = here (self);
  FettlePlace *place = step (self->places, &now);

  if (place != NULL)
    fettle_window_go (self, place);
  fettle_place_free (place);
  g_free (now.way);
  fettle_window_update_places (self);
}

void
fettle_window_go_back (FettleWindow *self)
{
  if (!fettle_places_can_back (self->places) && is_beside_first (self))
    fettle_window_show_page (self, -1);
  else
    turn (self, fettle_places_back);
}

void
fettle_window_go_forward (FettleWindow *self)
{
  turn (self, fettle_places_forward);
}

static gboolean
on_any_key (FettleWindow *self)
{
  fettle_message_bar_see (self->message_bar);
  g_clear_pointer (&self->awaited, fettle_place_free);
  fettle_window_forget_menu (self);
  return GDK_EVENT_PROPAGATE;
}

/* The two buttons that many mice have at the side. */
static void
on_side_button (GtkGestureClick *gesture, int n_press, double x, double y, FettleWindow *self)
{
  guint button = gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture));

  fettle_message_bar_see (self->message_bar);
  g_clear_pointer (&self->awaited, fettle_place_free);
  if (button == 8)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.back", NULL);
  else if (button == 9)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.forward", NULL);
}

void
fettle_window_set_up_places (FettleWindow *self)
{
  GtkGesture *click = gtk_gesture_click_new ();
  GtkEventController *key = gtk_event_controller_key_new ();

  self->places = fettle_places_new ();
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (click), 0);
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (click), GTK_PHASE_CAPTURE);
  g_signal_connect (click, "pressed", G_CALLBACK (on_side_button), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  gtk_event_controller_set_propagation_phase (key, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (key, "key-pressed", G_CALLBACK (on_any_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), key);
  fettle_window_update_places (self);
}

void
fettle_window_end_places (FettleWindow *self)
{
  g_clear_pointer (&self->coming, fettle_place_free);
  g_clear_pointer (&self->awaited, fettle_place_free);
  g_clear_pointer (&self->places, fettle_places_free);
}
