/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The menus are made each time they are opened, from what there is then; until then they cost nothing.
 *
 * Length: one action after the other, each a few lines, and the menus that name them.
 */
#include "config.h"

#include "window-private.h"

#include <glib/gi18n.h>

#include "application.h"
#include "demo.h"
#include "person-chooser.h"
#include "recent.h"

#define MENU_RECENT 8
#define MENU_WORDS  60 /* characters of what would be undone */

/* ---- menus ---- */

static GMenu *
section (GMenu *menu)
{
  GMenu *made = g_menu_new ();

  g_menu_append_section (menu, NULL, G_MENU_MODEL (made));
  g_object_unref (made);
  return made;
}

static void
submenu (GMenu *menu, const char *label, GMenu *child)
{
  g_menu_append_submenu (menu, label, G_MENU_MODEL (child));
  g_object_unref (child);
}

static GMenu *
recent_menu (void)
{
  GMenu *menu = g_menu_new ();
  g_autoptr(GPtrArray) books = fettle_recent_list (MENU_RECENT);

  for (guint i = 0; i < books->len; i++)
    {
      const FettleRecent *recent = g_ptr_array_index (books, i);
      g_autoptr(GMenuItem) item = g_menu_item_new (recent->name, NULL);

      g_menu_item_set_action_and_target (item, "win.open-path", "s", recent->path);
      g_menu_append_item (menu, item);
    }
  if (books->len == 0)
    g_menu_append (menu, _("No book yet"), "win.nothing");
  return menu;
}

static GMenu *
page_menu (void)
{
  GMenu *menu = g_menu_new ();
  guint n;
  const FettlePageKind *kinds = fettle_page_kinds (&n);

  for (guint i = 0; i < n; i++)
    if (kinds[i].in_list)
      {
        g_autofree char *action = g_strdup_printf ("win.page::%s", kinds[i].name);

        g_menu_append (menu, _(kinds[i].title), action);
      }
  return menu;
}

/* What is said of the unit at hand on the page of the bench. */
static GMenu *
bench_menu (void)
{
  GMenu *menu = g_menu_new ();

  g_menu_append (menu, _("_Passed"), "win.at-bench::passed");
  g_menu_append (menu, _("_Sent Back…"), "win.at-bench::sent-back");
  g_menu_append (menu, _("_Reworked…"), "win.at-bench::reworked");
  g_menu_append (menu, _("_Altered…"), "win.at-bench::altered");
  g_menu_append (menu, _("S_crapped…"), "win.at-bench::scrapped");
  g_menu_append (menu, _("_Measure"), "win.at-bench::measure");
  g_menu_append (menu, _("_Next Unit"), "win.at-bench::next");
  g_menu_append (menu, _("Pre_vious Unit"), "win.at-bench::previous");
  return menu;
}

/* What is done about the issue chosen on the page of issues. */
static GMenu *
issue_menu (void)
{
  GMenu *menu = g_menu_new ();

  g_menu_append (menu, _("_Raise an Issue…"), "win.raise-issue");
  g_menu_append (menu, _("_Change It…"), "win.issue::edit");
  g_menu_append (menu, _("Add a _Finding…"), "win.issue::find");
  g_menu_append (menu, _("C_ontained…"), "win.issue::contain");
  g_menu_append (menu, _("Cause _Known…"), "win.issue::cause");
  g_menu_append (menu, _("C_lose…"), "win.issue::close");
  g_menu_append (menu, _("_Decide About a Finding…"), "win.issue::decide");
  g_menu_append (menu, _("E_xcuse a Unit…"), "win.issue::excuse");
  g_menu_append (menu, _("Reo_pen"), "win.issue::reopen");
  g_menu_append (menu, _("_Attach a File…"), "win.issue::attach");
  g_menu_append (menu, _("Its _History"), "win.issue::history");
  return menu;
}

/* What is done about the change chosen on the page of changes. */
static GMenu *
change_menu (void)
{
  GMenu *menu = g_menu_new ();

  g_menu_append (menu, _("_Propose a Change…"), "win.propose-change");
  g_menu_append (menu, _("_Edit…"), "win.change::edit");
  g_menu_append (menu, _("Add _Old and New…"), "win.change::add");
  g_menu_append (menu, _("_Agree…"), "win.change::agree");
  g_menu_append (menu, _("_Carry Out"), "win.change::carry-out");
  g_menu_append (menu, _("_Withdraw…"), "win.change::withdraw");
  return menu;
}

/* What is done about the round chosen on the page of rounds. */
static GMenu *
round_menu (void)
{
  GMenu *menu = g_menu_new ();

  g_menu_append (menu, _("_Plan a Round…"), "win.plan-round");
  g_menu_append (menu, _("Enter _Readings"), "win.page::entry");
  g_menu_append (menu, _("_Edit…"), "win.on-round::edit");
  g_menu_append (menu, _("_Add a Part…"), "win.on-round::part");
  g_menu_append (menu, _("_Next Date Reached Today"), "win.on-round::reach");
  g_menu_append (menu, _("Next Date on An_other Day…"), "win.on-round::reach-on");
  g_menu_append (menu, _("_Wait…"), "win.on-round::wait");
  g_menu_append (menu, _("End _the Wait"), "win.on-round::end-wait");
  g_menu_append (menu, _("_Decide…"), "win.on-round::decide");
  return menu;
}

/* What is done on the page of the pilot run. */
static GMenu *
pilot_menu (void)
{
  GMenu *menu = g_menu_new ();
  g_autoptr(GMenuItem) store = g_menu_item_new (_("_Store the Figures Tried…"), "win.pilot-store");

  g_menu_append (menu, _("_Count What a Step Passed…"), "win.pilot::count");
  /* The key says why nothing can be stored; the entry is off then. */
  g_menu_item_set_attribute (store, "accel", "s", "F4");
  g_menu_append_item (menu, store);
  return menu;
}

/* What is done about the wait chosen on the page of lead time. */
static GMenu *
wait_menu (void)
{
  GMenu *menu = g_menu_new ();

  g_menu_append (menu, _("_Ended Today"), "win.wait::today");
  g_menu_append (menu, _("Ended on An_other Day…"), "win.wait::on");
  return menu;
}

/* What is done on the page of the set-up. */
static GMenu *
setup_menu (void)
{
  GMenu *menu = g_menu_new ();

  g_menu_append (menu, _("_Add a Row"), "win.setup::add");
  g_menu_append (menu, _("_Change the Row"), "win.setup::edit");
  g_menu_append (menu, _("_Delete the Row…"), "win.setup::remove");
  g_menu_append (menu, _("_Take Over, or Make One of Two…"), "win.setup::deed");
  g_menu_append (menu, _("_Look for Kinds and Rows"), "win.setup::filter");
  return menu;
}

static GMenu *
look_menu (void)
{
  GMenu *menu = g_menu_new ();

  g_menu_append (menu, _("As the Desktop"), "app.look::follow");
  g_menu_append (menu, _("Light"), "app.look::light");
  g_menu_append (menu, _("Dark"), "app.look::dark");
  return menu;
}

/* As much as has room in a menu; in its labels a line below a letter begins a mnemonic. */
static char *
shorten (const char *words)
{
  GString *text = g_string_new (words);

  if (g_utf8_strlen (text->str, -1) > MENU_WORDS)
    {
      g_string_truncate (text, (gsize) (g_utf8_offset_to_pointer (text->str, MENU_WORDS - 1) - text->str));
      g_string_append (text, "…");
    }
  g_string_replace (text, "_", "__", 0);
  return g_string_free (text, FALSE);
}

/* With what is undone. */
static void
append_reversal (FettleWindow *self, GMenu *menu, gboolean redo)
{
  g_autofree char *named = self->sitting != NULL ? fettle_sitting_dup_undo_words (self->sitting, redo) : NULL;
  g_autofree char *words = named != NULL ? shorten (named) : NULL;
  g_autofree char *label = words == NULL ? NULL
                           /* Translators: what was typed, as in '24 readings in P3' */
                           : g_strdup_printf (redo ? _("_Redo: %s") : _("_Undo: %s"), words);

  g_menu_append (menu, label != NULL ? label : redo ? _("_Redo") : _("_Undo"), redo ? "win.redo" : "win.undo");
}

static void
create_menu (GtkMenuButton *button, gpointer user_data)
{
  FettleWindow *self = FETTLE_WINDOW (user_data);
  g_autoptr(GMenu) menu = self->paper_wanted ? fettle_window_paper_menu (self) : g_menu_new ();
  GMenu *part;

  /* What opens by its own key stands alone. */
  if (self->paper_wanted)
    {
      self->paper_wanted = FALSE;
      gtk_menu_button_set_menu_model (button, G_MENU_MODEL (menu));
      return;
    }
  part = section (menu);
  g_menu_append (part, _("_New Book…"), "win.new");
  g_menu_append (part, _("_Open…"), "win.open");
  submenu (part, _("Open _Lately Used"), recent_menu ());
  g_menu_append (part, _("_Save a Copy…"), "win.save-copy");
  part = section (menu);
  if (fettle_page_kind_find ("sheet") >= 0)
    g_menu_append (part, _("_Paste a Measuring Sheet"), "win.paste-sheet");
  g_menu_append (part, _("Paste _Rows of Records"), "win.paste-rows");
  g_menu_append (part, _("_Import…"), "win.import");
  g_menu_append (part, _("Letter to the _Designer…"), "win.letter");
  submenu (part, _("Pa_per for the Bench"), fettle_window_paper_menu (self));
  part = section (menu);
  append_reversal (self, part, FALSE);
  append_reversal (self, part, TRUE);
  g_menu_append (part, _("_Find"), "win.find");
  g_menu_append (part, _("_Back to Where You Were"), "win.back");
  g_menu_append (part, _("For_ward Again"), "win.forward");
  part = section (menu);
  submenu (part, _("Pa_ges"), page_menu ());
  submenu (part, _("_Bench"), bench_menu ());
  if (fettle_page_kind_find ("issues") >= 0)
    submenu (part, _("_Issue"), issue_menu ());
  submenu (part, _("C_hange"), change_menu ());
  submenu (part, _("Roun_d"), round_menu ());
  submenu (part, _("Pilo_t"), pilot_menu ());
  submenu (part, _("_Wait"), wait_menu ());
  submenu (part, _("_Set-up"), setup_menu ());
  g_menu_append (part, _("Choose the _Model"), "win.choose-model");
  g_menu_append (part, _("Choose _Who Writes"), "win.choose-person");
  g_menu_append (part, self->sitting != NULL && fettle_sitting_is_reading (self->sitting) ? _("Begin to Wr_ite") : _("Only Rea_d"),
                 "win.write");
  g_menu_append (part, _("Go to the Roun_ds"), "win.go-strip");
  g_menu_append (part, _("_Key to the Rounds"), "win.legend");
  submenu (part, _("Loo_k"), look_menu ());
  part = section (menu);
  if (fettle_demo_is_there ())
    g_menu_append (part, _("Open the D_emo"), "win.demo");
  g_menu_append (part, _("Key_board Shortcuts"), "win.shortcuts");
  g_menu_append (part, _("_About Fettle"), "app.about");
  part = section (menu);
  g_menu_append (part, _("_Close"), "win.close");
  g_menu_append (part, _("_Quit"), "app.quit");
  gtk_menu_button_set_menu_model (button, G_MENU_MODEL (menu));
}

static void
create_model_menu (GtkMenuButton *button, gpointer user_data)
{
  FettleWindow *self = FETTLE_WINDOW (user_data);
  g_autoptr(GMenu) menu = g_menu_new ();

  for (guint i = 0; self->facts != NULL && i < self->facts->n_models; i++)
    {
      const FettleModel *model = &self->facts->models[i];
      g_autofree char *label = g_strdup_printf ("%s  %s", model->code, model->name);
      g_autoptr(GMenuItem) item = g_menu_item_new (label, NULL);

      g_menu_item_set_action_and_target (item, "win.model", "x", model->key);
      g_menu_append_item (menu, item);
    }
  gtk_menu_button_set_menu_model (button, G_MENU_MODEL (menu));
}

static void
create_person_popover (GtkMenuButton *button, gpointer user_data)
{
  FettleWindow *self = FETTLE_WINDOW (user_data);

  if (self->sitting != NULL)
    gtk_menu_button_set_popover (button, fettle_person_chooser_new (self->sitting, self->facts));
}

void
fettle_window_set_up_menus (FettleWindow *self)
{
  gtk_menu_button_set_create_popup_func (self->menu_button, create_menu, self, NULL);
  gtk_menu_button_set_create_popup_func (self->model_button, create_model_menu, self, NULL);
  gtk_menu_button_set_create_popup_func (self->person_button, create_person_popover, self, NULL);
}

/* ---- actions ---- */

#define ACTION(name) static void name (GtkWidget *widget, const char *action, GVariant *parameter)

ACTION (on_new) { fettle_window_ask_new (FETTLE_WINDOW (widget)); }
ACTION (on_open) { fettle_window_ask_open (FETTLE_WINDOW (widget)); }
ACTION (on_save_copy) { fettle_window_ask_copy (FETTLE_WINDOW (widget)); }
ACTION (on_letter) { fettle_window_ask_letter (FETTLE_WINDOW (widget)); }
ACTION (on_stop_letter) { fettle_window_stop_letter (FETTLE_WINDOW (widget)); }
ACTION (on_print_paper) { fettle_window_ask_paper (FETTLE_WINDOW (widget), g_variant_get_string (parameter, NULL), FALSE); }
ACTION (on_save_paper) { fettle_window_ask_paper (FETTLE_WINDOW (widget), g_variant_get_string (parameter, NULL), TRUE); }
ACTION (on_paper)
{
  FETTLE_WINDOW (widget)->paper_wanted = TRUE;
  gtk_menu_button_popup (FETTLE_WINDOW (widget)->menu_button);
}
ACTION (on_import) { fettle_window_ask_import (FETTLE_WINDOW (widget)); }
/* In a field that is typed into, undo takes back the typing first; only then what the book has. */
static gboolean
reverse_typing (GtkWidget *window, const char *action)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (window));
  g_autofree char *before = NULL;

  if (GTK_IS_TEXT_VIEW (focus))
    {
      GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (focus));
      gboolean redo = g_str_equal (action, "text.redo");
      gboolean can = redo ? gtk_text_buffer_get_can_redo (buffer) : gtk_text_buffer_get_can_undo (buffer);

      if (can)
        (redo ? gtk_text_buffer_redo : gtk_text_buffer_undo) (buffer);
      return can;
    }
  if (!GTK_IS_TEXT (focus))
    return FALSE;
  before = g_strdup (gtk_editable_get_text (GTK_EDITABLE (focus)));
  gtk_widget_activate_action (focus, action, NULL);
  return g_strcmp0 (before, gtk_editable_get_text (GTK_EDITABLE (focus))) != 0;
}

ACTION (on_undo)
{
  if (!reverse_typing (widget, "text.undo"))
    fettle_sitting_undo (FETTLE_WINDOW (widget)->sitting);
}

ACTION (on_redo)
{
  if (!reverse_typing (widget, "text.redo"))
    fettle_sitting_redo (FETTLE_WINDOW (widget)->sitting);
}
ACTION (on_close) { gtk_window_close (GTK_WINDOW (widget)); }
ACTION (on_menu) { gtk_menu_button_popup (FETTLE_WINDOW (widget)->menu_button); }
ACTION (on_choose_model) { gtk_menu_button_popup (FETTLE_WINDOW (widget)->model_button); }
ACTION (on_choose_person) { gtk_menu_button_popup (FETTLE_WINDOW (widget)->person_button); }
ACTION (on_go_strip) { gtk_widget_grab_focus (GTK_WIDGET (FETTLE_WINDOW (widget)->strip)); }
ACTION (on_find) { fettle_window_begin_find (FETTLE_WINDOW (widget)); }
ACTION (on_nothing) {}

ACTION (on_open_path)
{
  GtkApplication *application = gtk_window_get_application (GTK_WINDOW (widget));

  fettle_application_open (FETTLE_APPLICATION (application), g_variant_get_string (parameter, NULL), FALSE,
                           GTK_WINDOW (widget));
}

ACTION (on_import_file)
{
  g_autoptr(GFile) file = g_file_new_for_path (g_variant_get_string (parameter, NULL));

  fettle_window_take_file (FETTLE_WINDOW (widget), file);
}

ACTION (on_say)
{
  fettle_window_say (FETTLE_WINDOW (widget), g_variant_get_string (parameter, NULL), NULL, NULL);
}

ACTION (on_page)
{
  int kind = fettle_page_kind_find (g_variant_get_string (parameter, NULL));

  if (kind >= 0)
    fettle_window_show_page (FETTLE_WINDOW (widget), kind);
}

ACTION (on_model)
{
  fettle_window_leave_place (FETTLE_WINDOW (widget));
  fettle_window_choose_model (FETTLE_WINDOW (widget), g_variant_get_int64 (parameter));
}

static void
choose_round (FettleWindow *self, gint64 round)
{
  fettle_round_strip_set_span (self->strip, round, round);
  self->span.from = fettle_round_strip_get_from (self->strip);
  self->span.to = fettle_round_strip_get_to (self->strip);
  fettle_window_tell_pages (self);
}

ACTION (on_round)
{
  fettle_window_leave_rounds (FETTLE_WINDOW (widget));
  choose_round (FETTLE_WINDOW (widget), g_variant_get_int64 (parameter));
}

/* On the way to a record that lies in another round: where one came from was left before. */
ACTION (on_round_on_the_way)
{
  choose_round (FETTLE_WINDOW (widget), g_variant_get_int64 (parameter));
}

ACTION (on_write)
{
  FettleWindow *self = FETTLE_WINDOW (widget);
  gboolean reading = !fettle_sitting_is_reading (self->sitting);

  fettle_sitting_set_reading (self->sitting, reading);
  fettle_window_say (self, reading ? _("You are reading: nothing that is typed is stored. Press F9 to write.")
                                   : _("You are writing from now on. Press F9 to go back to reading."),
                     NULL, NULL);
}

ACTION (on_back) { fettle_window_go_back (FETTLE_WINDOW (widget)); }
ACTION (on_forward) { fettle_window_go_forward (FETTLE_WINDOW (widget)); }

ACTION (on_paste_sheet)
{
  int kind = fettle_page_kind_find ("sheet");

  if (kind >= 0)
    {
      fettle_window_show_page (FETTLE_WINDOW (widget), kind);
      gtk_widget_activate_action (FETTLE_WINDOW (widget)->pages[kind], "sheet.paste", NULL);
    }
}

ACTION (on_at_bench)
{
  FettleWindow *self = FETTLE_WINDOW (widget);
  GtkWidget *page = self->pages[fettle_page_kind_find ("bench")];
  const char *deed = g_variant_get_string (parameter, NULL);

  if (g_str_equal (deed, "measure"))
    gtk_widget_activate_action (page, "bench.measure", NULL);
  else if (g_str_equal (deed, "next") || g_str_equal (deed, "previous"))
    gtk_widget_activate_action (page, "bench.step", "i", g_str_equal (deed, "next") ? 1 : -1);
  else
    gtk_widget_activate_action (page, "bench.act", "s", deed);
}

/* The page in view may know more to begin with: the reading that is chosen. */
ACTION (on_raise_issue)
{
  FettleWindow *self = FETTLE_WINDOW (widget);
  int kind = fettle_page_kind_find ("issues");

  if (self->page >= 0 && gtk_widget_activate_action (self->pages[self->page], "reading.raise", NULL))
    return;
  fettle_window_show_page (self, kind);
  gtk_widget_activate_action (self->pages[kind], "issue.raise", NULL);
}

ACTION (on_raise_from)
{
  FettleWindow *self = FETTLE_WINDOW (widget);
  int kind = fettle_page_kind_find ("issues");

  fettle_window_show_page (self, kind);
  gtk_widget_activate_action (self->pages[kind], "issue.raise-from", "x", g_variant_get_int64 (parameter));
}

ACTION (on_issue)
{
  FettleWindow *self = FETTLE_WINDOW (widget);

  gtk_widget_activate_action (self->pages[fettle_page_kind_find ("issues")], "issue.act", "s", g_variant_get_string (parameter, NULL));
}

ACTION (on_show_record)
{
  const char *record;
  gint64 key;

  g_variant_get (parameter, "(&sx)", &record, &key);
  fettle_window_show_record (FETTLE_WINDOW (widget), record, key);
}

ACTION (on_show_history)
{
  const char *record;
  gint64 key;

  g_variant_get (parameter, "(&sx)", &record, &key);
  fettle_window_show_on (FETTLE_WINDOW (widget), "history", record, key);
}

ACTION (on_show_unit)
{
  fettle_window_show_on (FETTLE_WINDOW (widget), "unit", "unit", g_variant_get_int64 (parameter));
}

ACTION (on_propose_change)
{
  int kind = fettle_page_kind_find ("changes");

  fettle_window_show_page (FETTLE_WINDOW (widget), kind);
  gtk_widget_activate_action (FETTLE_WINDOW (widget)->pages[kind], "changes.propose", NULL);
}

ACTION (on_change)
{
  gtk_widget_activate_action (FETTLE_WINDOW (widget)->pages[fettle_page_kind_find ("changes")], "changes.act", "s",
                              g_variant_get_string (parameter, NULL));
}

ACTION (on_plan_round)
{
  int kind = fettle_page_kind_find ("rounds");

  fettle_window_show_page (FETTLE_WINDOW (widget), kind);
  gtk_widget_activate_action (FETTLE_WINDOW (widget)->pages[kind], "rounds.plan", NULL);
}

ACTION (on_on_round)
{
  gtk_widget_activate_action (FETTLE_WINDOW (widget)->pages[fettle_page_kind_find ("rounds")], "rounds.act", "s",
                              g_variant_get_string (parameter, NULL));
}

ACTION (on_pilot)
{
  gtk_widget_activate_action (FETTLE_WINDOW (widget)->pages[fettle_page_kind_find ("pilot")], "pilot.act", "s",
                              g_variant_get_string (parameter, NULL));
}

ACTION (on_pilot_store)
{
  gtk_widget_activate_action (FETTLE_WINDOW (widget)->pages[fettle_page_kind_find ("pilot")], "pilot.act", "s", "store");
}

ACTION (on_setup)
{
  gtk_widget_activate_action (FETTLE_WINDOW (widget)->pages[fettle_page_kind_find ("setup")], "setup.act", "s",
                              g_variant_get_string (parameter, NULL));
}

ACTION (on_wait)
{
  gtk_widget_activate_action (FETTLE_WINDOW (widget)->pages[fettle_page_kind_find ("leadtime")], "leadtime.end-wait", "s",
                              g_variant_get_string (parameter, NULL));
}

ACTION (on_demo)
{
  FettleWindow *self = FETTLE_WINDOW (widget);

  fettle_demo_open (FETTLE_APPLICATION (gtk_window_get_application (GTK_WINDOW (self))), self);
}

ACTION (on_shortcuts)
{
  g_autoptr(GtkBuilder) builder = gtk_builder_new_from_resource ("/org/fettle/Fettle/shortcuts.ui");
  GtkWindow *shown = GTK_WINDOW (gtk_builder_get_object (builder, "shortcuts"));

  gtk_widget_add_css_class (GTK_WIDGET (shown), "fettle");
  gtk_window_set_transient_for (shown, GTK_WINDOW (widget));
  gtk_window_present (shown);
}

ACTION (on_legend)
{
  FettleWindow *self = FETTLE_WINDOW (widget);

  gtk_toggle_button_set_active (self->legend_button, !gtk_toggle_button_get_active (self->legend_button));
}

void
fettle_window_install_actions (GtkWidgetClass *class)
{
  static const struct
  {
    const char *name;
    const char *type;
    GtkWidgetActionActivateFunc activate;
  } actions[] = {
    { "win.new", NULL, on_new },
    { "win.open", NULL, on_open },
    { "win.open-path", "s", on_open_path },
    { "win.save-copy", NULL, on_save_copy },
    { "win.import", NULL, on_import },
    { "win.letter", NULL, on_letter },
    { "win.stop-letter", NULL, on_stop_letter },
    { "win.paper", NULL, on_paper },
    { "win.print-paper", "s", on_print_paper },
    { "win.save-paper", "s", on_save_paper },
    { "win.import-file", "s", on_import_file },
    { "win.paste-sheet", NULL, on_paste_sheet },
    { "win.at-bench", "s", on_at_bench },
    { "win.raise-issue", NULL, on_raise_issue },
    { "win.raise-from", "x", on_raise_from },
    { "win.issue", "s", on_issue },
    { "win.propose-change", NULL, on_propose_change },
    { "win.change", "s", on_change },
    { "win.plan-round", NULL, on_plan_round },
    { "win.on-round", "s", on_on_round },
    { "win.pilot", "s", on_pilot },
    { "win.pilot-store", NULL, on_pilot_store },
    { "win.setup", "s", on_setup },
    { "win.wait", "s", on_wait },
    { "win.demo", NULL, on_demo },
    { "win.undo", NULL, on_undo },
    { "win.redo", NULL, on_redo },
    { "win.find", NULL, on_find },
    { "win.say", "s", on_say },
    { "win.page", "s", on_page },
    { "win.model", "x", on_model },
    { "win.round", "x", on_round },
    { "win.round-on-the-way", "x", on_round_on_the_way },
    { "win.write", NULL, on_write },
    { "win.back", NULL, on_back },
    { "win.forward", NULL, on_forward },
    { "win.show-record", "(sx)", on_show_record },
    { "win.show-history", "(sx)", on_show_history },
    { "win.show-unit", "x", on_show_unit },
    { "win.choose-model", NULL, on_choose_model },
    { "win.choose-person", NULL, on_choose_person },
    { "win.go-strip", NULL, on_go_strip },
    { "win.legend", NULL, on_legend },
    { "win.menu", NULL, on_menu },
    { "win.shortcuts", NULL, on_shortcuts },
    { "win.close", NULL, on_close },
    { "win.nothing", NULL, on_nothing },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (actions); i++)
    gtk_widget_class_install_action (class, actions[i].name, actions[i].type, actions[i].activate);
  fettle_window_install_rows_actions (class);
}

/* What cannot be done now is grey in the menu and does nothing by its key. */
/* Says on the buttons what they take as one. */
static void
name_reversals (FettleWindow *self)
{
  g_autofree char *undo = self->sitting != NULL ? fettle_sitting_dup_undo_words (self->sitting, FALSE) : NULL;
  g_autofree char *redo = self->sitting != NULL ? fettle_sitting_dup_undo_words (self->sitting, TRUE) : NULL;
  g_autofree char *undo_words = undo != NULL ? g_strdup_printf (_("Undo: %s (Ctrl+Z)"), undo) : NULL;
  g_autofree char *redo_words = redo != NULL ? g_strdup_printf (_("Redo: %s (Ctrl+Shift+Z)"), redo) : NULL;

  gtk_widget_set_tooltip_text (self->undo_button,
                               undo != NULL ? undo_words : _("Take back the last action of this window (Ctrl+Z)"));
  gtk_widget_set_tooltip_text (self->redo_button, redo != NULL ? redo_words : _("Do again what was taken back (Ctrl+Shift+Z)"));
}

void
fettle_window_update_actions (FettleWindow *self)
{
  static const char *const of_book[] = { "win.save-copy", "win.import", "win.paste-rows", "win.try-again", "win.find", "win.choose-person",
                                         "win.write" };
  static const char *const of_model[] = { "win.page", "win.go-strip", "win.round", "win.round-on-the-way", "win.legend", "win.raise-issue", "win.raise-from",
                                          "win.propose-change", "win.plan-round" };
  gboolean has_book = self->sitting != NULL;
  gboolean has_model = has_book && self->span_known && self->span.model != 0;

  for (gsize i = 0; i < G_N_ELEMENTS (of_book); i++)
    gtk_widget_action_set_enabled (GTK_WIDGET (self), of_book[i], has_book);
  for (gsize i = 0; i < G_N_ELEMENTS (of_model); i++)
    gtk_widget_action_set_enabled (GTK_WIDGET (self), of_model[i], has_model);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.letter", has_model && self->span.to != 0 && self->writing == NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.paper", has_model);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.print-paper", has_model && self->writing == NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.save-paper", has_model && self->writing == NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.stop-letter", self->writing != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.choose-model",
                                 has_model && self->facts != NULL && self->facts->n_models > 1);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.paste-sheet",
                                 has_book && fettle_page_kind_find ("sheet") >= 0);
  /* Their keys are plain ones, which mean something else on other pages. */
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.at-bench",
                                 has_model && self->page >= 0 && self->page == fettle_page_kind_find ("bench"));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.issue",
                                 has_model && self->page >= 0 && self->page == fettle_page_kind_find ("issues"));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.change",
                                 has_model && self->page >= 0 && self->page == fettle_page_kind_find ("changes"));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.on-round",
                                 has_model && self->page >= 0 && self->page == fettle_page_kind_find ("rounds"));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.pilot",
                                 has_model && self->page >= 0 && self->page == fettle_page_kind_find ("pilot"));
  if (!has_model || self->page < 0 || self->page != fettle_page_kind_find ("pilot"))
    gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.pilot-store", FALSE); /* else the page knows */
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.wait",
                                 has_model && self->page >= 0 && self->page == fettle_page_kind_find ("leadtime"));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.setup",
                                 has_book && self->page >= 0 && self->page == fettle_page_kind_find ("setup"));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.undo", has_book && fettle_sitting_can_undo (self->sitting));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.redo", has_book && fettle_sitting_can_redo (self->sitting));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.nothing", FALSE);
  name_reversals (self);
}
