/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The book in a window: opened in a thread, then its facts, then the strip of the model, and only then pages are told
 * what to speak about. After a change the same questions are asked again; what is shown stays until the answers come.
 */
#include "config.h"

#include "window-private.h"

#include <glib/gi18n.h>

#include "application.h"
#include "book-evidence.h"
#include "insight-days.h"
#include "present-chart.h"
#include "recent.h"
#include "remembered.h"
#include "roles.h"
#include "today.h"
#include "warm.h"

static void ask_strip (FettleWindow *self);

const FettleModel *
fettle_window_get_model (FettleWindow *self)
{
  for (guint i = 0; self->facts != NULL && i < self->facts->n_models; i++)
    if (self->facts->models[i].key == self->span.model)
      return &self->facts->models[i];
  return NULL;
}

/* ---- first sight ---- */

/*
 * A window that opens a book is shown when its page is complete, so that it is laid out and drawn once; a book that
 * takes longer does not keep anybody waiting before an empty screen.
 */
#define PRESENT_AT_LAST_MS 400
#define WRITERS            "writers" /* setting */

static void
present_now (FettleWindow *self)
{
  if (self->present_wait == 0)
    return;

  g_clear_handle_id (&self->present_wait, g_source_remove);
  gtk_window_present (GTK_WINDOW (self));
}

static gboolean
on_present_wait (gpointer user_data)
{
  FettleWindow *self = FETTLE_WINDOW (user_data);

  self->present_wait = 0;
  gtk_window_present (GTK_WINDOW (self));
  return G_SOURCE_REMOVE;
}

void
fettle_window_present_soon (FettleWindow *self)
{
  if (self->sitting != NULL || self->path == NULL || gtk_widget_get_mapped (GTK_WIDGET (self)))
    gtk_window_present (GTK_WINDOW (self));
  else if (self->present_wait == 0)
    {
      self->present_wait = g_timeout_add (PRESENT_AT_LAST_MS, on_present_wait, self);
      fettle_warm_fonts (GTK_WIDGET (self));
    }
}

/* Questions are answered in order: when this one is, the page in view has had its answer. */
static gpointer
page_answered_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  return g_strdup ("");
}

/* Who begins at a page types there next, where the page takes the keyboard as a whole; unless it is in use already.
 * Not before the window is shown: what has the keyboard then is told to a reader as its own child. */
static void
take_keyboard (FettleWindow *self)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));

  if (self->page >= 0 && (focus == NULL || focus == GTK_WIDGET (self->strip)))
    gtk_widget_grab_focus (self->pages[self->page]);
}

static void
on_page_answered (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleWindow) self = FETTLE_WINDOW (user_data);

  g_free (fettle_sitting_ask_finish (FETTLE_SITTING (source), result, NULL));
  present_now (self);
  take_keyboard (self);
}

/* ---- after a change ---- */

/* What a page speaks about may be gone, by an undo in this window or in another: then it waits for the strip, which
 * says what is there, and never asks for what the book does not have. */
static gboolean
span_is_there (FettleWindow *self)
{
  const gint64 from = self->span.from, to = self->span.to;

  return self->span.model == 0
         || (fettle_window_get_model (self) != NULL && (from == 0 || fettle_facts_has_round (self->facts, from))
             && (to == 0 || fettle_facts_has_round (self->facts, to)));
}

static void
refresh_if_due (FettleWindow *self)
{
  if (!self->refresh_due)
    return;
  self->refresh_due = FALSE;
  fettle_window_refresh_pages (self);
}

/* ---- strip ---- */

typedef struct
{
  gint64 model;
  char  *today;
} StripAsk;

static void
strip_ask_free (gpointer data)
{
  StripAsk *ask = data;

  g_free (ask->today);
  g_free (ask);
}

static gpointer
strip_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const StripAsk *ask = data;
  g_autoptr(BookEvidence) evidence = book_evidence_load (db, ask->model, error);
  g_autoptr(InsightDays) days = NULL;

  if (evidence == NULL)
    return NULL;

  store_reader_done_reading (db);
  days = insight_days (evidence, ask->today, error);
  return days == NULL ? NULL : present_chart_strip (days);
}

static void
on_strip (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleWindow) self = FETTLE_WINDOW (user_data);
  g_autoptr(GError) error = NULL;
  Chart *chart = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);
  gboolean first = !self->span_known;

  if (chart == NULL)
    {
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        fettle_window_say (self, error->message, NULL, NULL);
      return;
    }

  fettle_round_strip_take_chart (self->strip, chart);
  self->span.from = fettle_round_strip_get_from (self->strip);
  self->span.to = fettle_round_strip_get_to (self->strip);
  self->span_known = TRUE;
  if (first && self->page >= 0 && self->page == fettle_page_kind_find ("setup"))
    {
      /* The first model was made there: what belongs to it is set up next. */
      g_clear_pointer (&self->wish_page, g_free);
      first = FALSE;
    }
  if (first)
    {
      int kind = fettle_page_kind_find (self->wish_page);

      g_clear_pointer (&self->wish_page, g_free);
      fettle_window_show_page (self, MAX (kind, 0));
      fettle_sitting_ask (self->sitting, page_answered_work, NULL, NULL, g_free, NULL, on_page_answered,
                          g_object_ref (self));
    }
  else
    {
      fettle_window_show_frame (self);
      fettle_window_tell_pages (self);
      refresh_if_due (self);
    }
  fettle_window_arrive (self);
}

static void
ask_strip (FettleWindow *self)
{
  StripAsk *ask = g_new0 (StripAsk, 1);

  ask->model = self->span.model;
  ask->today = fettle_today ();
  fettle_sitting_ask (self->sitting, strip_work, ask, strip_ask_free, (GDestroyNotify) chart_free, self->asking,
                      on_strip, g_object_ref (self));
}

/* ---- facts ---- */

static gint64
find_model (const FettleFacts *facts, gint64 key, const char *code)
{
  for (guint i = 0; i < facts->n_models; i++)
    if (code != NULL ? g_strcmp0 (facts->models[i].code, code) == 0 : facts->models[i].key == key)
      return facts->models[i].key;
  return 0;
}

const FettlePerson *
fettle_window_get_person (FettleWindow *self)
{
  gint64 key = self->sitting == NULL ? 0 : fettle_sitting_get_person (self->sitting);

  for (guint i = 0; key != 0 && self->facts != NULL && i < self->facts->n_persons; i++)
    if (self->facts->persons[i].key == key)
      return &self->facts->persons[i];
  return NULL;
}

/* Who is there, and whether the window reads or writes. */
char *
fettle_window_dup_state (FettleWindow *self)
{
  const FettlePerson *person = fettle_window_get_person (self);
  gboolean reading = self->sitting != NULL && fettle_sitting_is_reading (self->sitting);

  if (person == NULL)
    return reading ? g_strdup (_("reading")) : NULL;
  return g_strdup_printf (reading ? _("%s reads") : _("%s writes"), person->initials);
}

static void
show_person (FettleWindow *self)
{
  g_autofree char *words = fettle_window_dup_state (self);

  gtk_menu_button_set_label (self->person_button, fettle_window_get_person (self) != NULL ? words : _("Who Writes?"));
  fettle_window_fill_page_list (self);
  fettle_window_show_title (self);
}

static void
take_wishes (FettleWindow *self)
{
  for (guint i = 0; self->wish_person != NULL && i < self->facts->n_persons; i++)
    if (g_str_equal (self->facts->persons[i].initials, self->wish_person))
      {
        fettle_sitting_set_person (self->sitting, self->facts->persons[i].key);
        g_clear_pointer (&self->wish_person, g_free);
      }
  if (self->wish_person != NULL)
    {
      g_autofree char *sentence = g_strdup_printf (_("The book has nobody with the initials '%s': say who writes."), self->wish_person);

      fettle_window_say (self, sentence, _("Who Writes?"), "win.choose-person");
      g_clear_pointer (&self->wish_person, g_free);
      self->writer_offered = TRUE;
    }
  if (self->wish_model != NULL && find_model (self->facts, 0, self->wish_model) == 0)
    {
      g_autofree char *sentence = g_strdup_printf (_("The book has no model '%s'; the newest is shown."), self->wish_model);

      fettle_window_say (self, sentence, NULL, NULL);
      g_clear_pointer (&self->wish_model, g_free);
    }
}

static char *
offer_words (const FettlePerson *person)
{
  return g_strdup_printf (_("Who writes? %s did last on this computer: press F9 for %s, Ctrl+P for somebody else."), person->initials,
                          person->initials);
}

/* Once somebody is chosen F9 is about reading and writing, and the bar must not say otherwise. */
static void
withdraw_offer (FettleWindow *self)
{
  const gint64 last = self->last_writer;

  self->last_writer = 0;
  for (guint i = 0; last != 0 && self->facts != NULL && i < self->facts->n_persons; i++)
    if (self->facts->persons[i].key == last)
      {
        g_autofree char *words = offer_words (&self->facts->persons[i]);

        if (g_strcmp0 (fettle_message_bar_get_said (self->message_bar), words) == 0)
          fettle_message_bar_hide (self->message_bar);
      }
}

/* Somebody opened the book: whoever wrote in it last on this computer goes on with one key. */
static void
offer_writer (FettleWindow *self)
{
  gint64 last;

  if (self->writer_offered)
    return;
  self->writer_offered = TRUE;
  if (fettle_sitting_get_person (self->sitting) != 0 || self->wish_person != NULL)
    return;
  last = fettle_remembered_get (WRITERS, self->span.model);
  for (guint i = 0; i < self->facts->n_persons; i++)
    if (self->facts->persons[i].key == last)
      {
        g_autofree char *words = offer_words (&self->facts->persons[i]);

        self->last_writer = last;
        fettle_window_say (self, words, self->facts->persons[i].initials, "win.write");
      }
}

static void
on_facts (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleWindow) self = FETTLE_WINDOW (user_data);
  g_autoptr(GError) error = NULL;
  g_autoptr(FettleFacts) facts = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);
  guint n_kinds;
  const FettlePageKind *kinds = fettle_page_kinds (&n_kinds);
  gint64 model;

  if (facts == NULL)
    {
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        fettle_window_say (self, error->message, NULL, NULL);
      return;
    }

  fettle_facts_free (self->facts);
  self->facts = g_steal_pointer (&facts);
  take_wishes (self);
  show_person (self);
  if (span_is_there (self))
    refresh_if_due (self);

  model = find_model (self->facts, self->span.model, self->wish_model);
  g_clear_pointer (&self->wish_model, g_free);
  if (model == 0 && self->facts->n_models > 0)
    model = self->facts->models[0].key;
  if (model == 0)
    {
      /* A sheet that is being understood stays, and so does Set-up where the first model is being made. */
      gboolean stays = self->page >= 0 && (!kinds[self->page].in_list
                                           || (self->span.model == 0 && self->page == fettle_page_kind_find ("setup")));

      self->span = (FettleSpan){ 0, 0, 0 };
      self->span_known = FALSE;
      if (!stays)
        fettle_window_show_page (self, -1);
      refresh_if_due (self);
      present_now (self);
      return;
    }
  self->span.model = model;
  offer_writer (self);
  ask_strip (self);
}

void
fettle_window_ask_facts (FettleWindow *self)
{
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_facts_read, NULL, NULL, (GDestroyNotify) fettle_facts_free, self->asking,
                      on_facts, g_object_ref (self));
}

void
fettle_window_choose_model (FettleWindow *self, gint64 model)
{
  if (self->sitting == NULL || model == self->span.model)
    return;

  self->span = (FettleSpan){ model, 0, 0 };
  fettle_round_strip_take_chart (self->strip, NULL);
  fettle_window_ask_facts (self);
}

/* ---- the sitting's signals ---- */

static void
on_changed (FettleWindow *self)
{
  self->refresh_due = TRUE;
  fettle_window_ask_facts (self);
}

static void
on_say (FettleWindow *self, const char *sentence, const char *label, const char *action)
{
  fettle_window_say (self, sentence, label, action);
}

/* The button of an earlier sentence would take back another deed than it says. */
static void
on_stored (FettleWindow *self)
{
  fettle_message_bar_withdraw (self->message_bar, "win.undo-book");
  fettle_message_bar_withdraw (self->message_bar, "win.redo-book");
  fettle_message_bar_go_on (self->message_bar);
}

static void
on_person_wanted (FettleWindow *self)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.choose-person", NULL);
}

static void
on_reading_changed (FettleWindow *self)
{
  show_person (self);
  fettle_window_update_actions (self);
}

gboolean
fettle_window_take_last_writer (FettleWindow *self)
{
  const gint64 last = self->last_writer;

  self->last_writer = 0;
  if (last == 0 || fettle_sitting_get_person (self->sitting) != 0)
    return FALSE;
  fettle_message_bar_hide (self->message_bar);
  fettle_sitting_set_person (self->sitting, last);
  return TRUE;
}

/* Who reviews reads, until they say otherwise. */
static void
on_person_changed (FettleWindow *self)
{
  const FettlePerson *person = fettle_window_get_person (self);
  g_autofree char *words = NULL;

  if (person != NULL && self->span.model != 0)
    fettle_remembered_set (WRITERS, self->span.model, person->key);
  if (person != NULL)
    withdraw_offer (self);
  fettle_sitting_set_reading (self->sitting, person != NULL && fettle_role_reviews (person->role_code));
  show_person (self);
  if (!fettle_sitting_is_reading (self->sitting))
    return;
  words = g_strdup_printf (_("%s reads: nothing that is typed is stored. Press F9 to write."), person->initials);
  fettle_window_say (self, words, _("Write"), "win.write");
}

static void
take_sitting (FettleWindow *self, FettleSitting *sitting)
{
  self->sitting = sitting;
  g_signal_connect_object (sitting, "changed", G_CALLBACK (on_changed), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (sitting, "undo-changed", G_CALLBACK (fettle_window_update_actions), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (sitting, "answered", G_CALLBACK (fettle_window_answered), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (sitting, "say", G_CALLBACK (on_say), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (sitting, "stored", G_CALLBACK (on_stored), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (sitting, "person-wanted", G_CALLBACK (on_person_wanted), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (sitting, "person-changed", G_CALLBACK (on_person_changed), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (sitting, "reading-changed", G_CALLBACK (on_reading_changed), self, G_CONNECT_SWAPPED);
  fettle_window_ask_facts (self);
}

static void
remember_recent (gpointer data)
{
  g_autofree char *path = data;

  fettle_recent_add (path);
}

static void
on_opened (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleWindow) self = FETTLE_WINDOW (user_data);
  g_autoptr(GError) error = NULL;
  FettleSitting *sitting = fettle_sitting_open_finish (result, &error);

  if (sitting == NULL)
    {
      if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        return;
      g_clear_pointer (&self->path, g_free);
      fettle_window_show_page (self, -1);
      fettle_window_say (self, error->message, _("Open Another…"), "win.open");
      present_now (self);
      return;
    }

  take_sitting (self, sitting);
  if (store_is_remote (book_get_store (fettle_sitting_get_book (sitting))))
    fettle_window_say (self, _("This book does not lie on a local disk, where only one program writes: when you have entered "
                               "something, others can write after you have closed it."), NULL, NULL);
  /* The list of recent files is a file of its own: after the first frames. */
  g_timeout_add_once (1000, remember_recent, g_strdup (self->path));
}

/* Ends what is asked and gives the book back; the window may go on without one, or end. */
void
fettle_window_leave_book (FettleWindow *self)
{
  g_clear_handle_id (&self->present_wait, g_source_remove);
  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  fettle_window_stop_letter (self);
  if (self->sitting != NULL)
    {
      g_signal_handlers_disconnect_by_data (self->sitting, self);
      fettle_sitting_give_up (self->sitting);
    }
  g_clear_object (&self->sitting);
  if (self->places != NULL)
    fettle_places_clear (self->places);
  g_clear_pointer (&self->facts, fettle_facts_free);
  self->span = (FettleSpan){ 0, 0, 0 };
  self->span_known = FALSE;
  self->refresh_due = FALSE;
  self->last_writer = 0;
  self->writer_offered = FALSE;
}

/**
 * fettle_window_open:
 * @self: a window without a book
 * @path: (nullable): of a book; %NULL shows the first page
 * @create: make the book
 * @wish: (nullable): what to show of it
 *
 * Opens a book without waiting; what is wrong with it is said in the bar. fettle_window_present_soon() shows the window.
 */
void
fettle_window_open (FettleWindow *self, const char *path, gboolean create, const FettleWish *wish)
{
  g_autoptr(GSettings) settings = NULL;

  g_return_if_fail (FETTLE_IS_WINDOW (self));
  g_return_if_fail (self->sitting == NULL);

  if (path == NULL)
    {
      fettle_window_show_page (self, -1);
      return;
    }

  settings = g_object_ref (fettle_application_get_settings (FETTLE_APPLICATION (gtk_window_get_application (GTK_WINDOW (self)))));
  self->path = g_strdup (path);
  if (wish != NULL)
    {
      self->wish_model = g_strdup (wish->model);
      self->wish_person = g_strdup (wish->person);
    }
  self->wish_page = wish != NULL && wish->page != NULL ? g_strdup (wish->page) : g_settings_get_string (settings, "page");
  self->asking = g_cancellable_new ();
  fettle_window_show_frame (self);
  fettle_sitting_open_async (path, create, self->asking, on_opened, g_object_ref (self));
}
