/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be done in a window: one action after the other, each a few lines. */
#include "config.h"

#include "window-private.h"

#include <glib/gi18n.h>

#include "application.h"
#include "chart-next.h"
#include "deed-form.h"
#include "demo.h"
#include "record-form.h"
#include "tip.h"

#define ACTION(name) static void name (GtkWidget *widget, const char *action, GVariant *parameter)

ACTION (on_new) { fettle_window_ask_new (FETTLE_WINDOW (widget)); }
ACTION (on_open) { fettle_window_ask_open (FETTLE_WINDOW (widget)); }
ACTION (on_save_copy) { fettle_window_ask_copy (FETTLE_WINDOW (widget)); }
ACTION (on_letter) { fettle_window_ask_letter (FETTLE_WINDOW (widget)); }
ACTION (on_supplier_letter) { fettle_window_ask_supplier_letter (FETTLE_WINDOW (widget), g_variant_get_int64 (parameter)); }
ACTION (on_suppliers)
{
  FETTLE_WINDOW (widget)->supplier_wanted = TRUE;
  fettle_window_pop_up (FETTLE_WINDOW (widget), FETTLE_WINDOW (widget)->menu_button);
}
ACTION (on_stop_letter) { fettle_window_stop_letter (FETTLE_WINDOW (widget)); }
ACTION (on_print_paper) { fettle_window_ask_paper (FETTLE_WINDOW (widget), g_variant_get_string (parameter, NULL), FALSE); }
ACTION (on_save_paper) { fettle_window_ask_paper (FETTLE_WINDOW (widget), g_variant_get_string (parameter, NULL), TRUE); }
ACTION (on_paper)
{
  FETTLE_WINDOW (widget)->paper_wanted = TRUE;
  fettle_window_pop_up (FETTLE_WINDOW (widget), FETTLE_WINDOW (widget)->menu_button);
}
ACTION (on_pack) { fettle_window_pack (FETTLE_WINDOW (widget), g_variant_get_string (parameter, NULL)); }
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

/* Then what was done on the page in view and is not in the book. */
static gboolean
reverse_page (GtkWidget *window, gboolean redo)
{
  FettlePage *page = fettle_window_get_page (FETTLE_WINDOW (window));

  return page != NULL && fettle_page_reverse (page, redo);
}

/* Whether one types into a form of which nothing is in the book yet: what is, was done elsewhere. */
static gboolean
is_in_new_form (GtkWidget *window)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (window));
  GtkWidget *form;

  if (!GTK_IS_TEXT (focus) && !GTK_IS_TEXT_VIEW (focus))
    return FALSE;
  if (gtk_widget_get_ancestor (focus, FETTLE_TYPE_DEED_FORM) != NULL)
    return TRUE;
  form = gtk_widget_get_ancestor (focus, FETTLE_TYPE_RECORD_FORM);
  return form != NULL && fettle_record_form_get_id (FETTLE_RECORD_FORM (form)) == 0;
}

/* What the key would take back, or do again, is done only by the button: nobody looks there while typing. */
static void
offer_reversal (FettleWindow *self, gboolean redo)
{
  g_autofree char *named = fettle_window_dup_reversal (self, redo);
  g_autofree char *said = named == NULL ? NULL
                          : g_strdup_printf (redo ? _("Nothing that was typed here is left to do again; what was taken back elsewhere is: %s.")
                                                  : _("Nothing that was typed here is left to take back; what was done before is: %s."), named);

  if (said != NULL)
    fettle_window_say (self, said, redo ? _("Redo") : _("Undo"), redo ? "win.redo-book" : "win.undo-book");
}

/* What is for good says so when somebody would take it back. */
ACTION (on_undo)
{
  FettleWindow *self = FETTLE_WINDOW (widget);
  g_autofree char *bar = NULL;

  if (reverse_typing (widget, "text.undo"))
    return;
  bar = fettle_window_dup_undo_bar (self);
  if (bar != NULL)
    fettle_window_say (self, bar, NULL, NULL);
  else if (is_in_new_form (widget))
    offer_reversal (self, FALSE);
  else if (!reverse_page (widget, FALSE))
    fettle_sitting_undo (self->sitting);
}

ACTION (on_redo)
{
  FettleWindow *self = FETTLE_WINDOW (widget);

  if (reverse_typing (widget, "text.redo"))
    return;
  if (is_in_new_form (widget))
    offer_reversal (self, TRUE);
  else if (!reverse_page (widget, TRUE))
    fettle_sitting_redo (self->sitting);
}

/* What a sentence about the book offers means the book, whatever was typed since. */
ACTION (on_undo_book) { fettle_sitting_undo (FETTLE_WINDOW (widget)->sitting); }
ACTION (on_redo_book) { fettle_sitting_redo (FETTLE_WINDOW (widget)->sitting); }
ACTION (on_close) { gtk_window_close (GTK_WINDOW (widget)); }
ACTION (on_menu) { fettle_window_pop_up (FETTLE_WINDOW (widget), FETTLE_WINDOW (widget)->menu_button); }
ACTION (on_choose_model) { fettle_window_pop_up (FETTLE_WINDOW (widget), FETTLE_WINDOW (widget)->model_button); }
ACTION (on_choose_person) { gtk_menu_button_popup (FETTLE_WINDOW (widget)->person_button); }
ACTION (on_go_strip) { gtk_widget_grab_focus (GTK_WIDGET (FETTLE_WINDOW (widget)->strip)); }
ACTION (on_go_chart)
{
  FettleWindow *self = FETTLE_WINDOW (widget);

  if (self->page >= 0 && !fettle_chart_next_focus (self->pages[self->page]))
    fettle_window_say (self, _("This page shows no chart now."), NULL, NULL);
}
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

/* Who goes to a page by its key types there next, where the page takes the keyboard as a whole. */
ACTION (on_page)
{
  FettleWindow *self = FETTLE_WINDOW (widget);
  int kind = fettle_page_kind_find (g_variant_get_string (parameter, NULL));

  if (kind < 0)
    return;
  fettle_window_show_page (self, kind);
  if (self->page == kind)
    fettle_window_take_keyboard (self);
}

/* Before a widget goes that has the keyboard: GTK would take it to whatever comes next, such as the buttons of the heading. */
ACTION (on_keyboard_to_page)
{
  FettleWindow *self = FETTLE_WINDOW (widget);

  if (self->page < 0)
    return;
  gtk_window_set_focus (GTK_WINDOW (self), NULL); /* else a page goes on from what has it */
  fettle_window_take_keyboard (self);
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

  if (fettle_window_take_last_writer (self))
    return;
  fettle_sitting_set_reading (self->sitting, reading);
  fettle_window_say (self, reading ? _("You are reading: nothing that is typed is stored. Press F9 to write.")
                                   : _("You are writing from now on. Press F9 to go back to reading."),
                     NULL, NULL);
}

ACTION (on_back) { fettle_window_go_back (FETTLE_WINDOW (widget)); }
ACTION (on_leave) { fettle_window_leave_place (FETTLE_WINDOW (widget)); }
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

static gboolean
is_in_view (FettleWindow *self, const char *page)
{
  return self->page >= 0 && self->page == fettle_page_kind_find (page);
}

static GtkWidget *
page_called (GtkWidget *window, const char *name)
{
  return FETTLE_WINDOW (window)->pages[fettle_page_kind_find (name)];
}

ACTION (on_at_bench)
{
  GtkWidget *page = page_called (widget, "bench");
  const char *deed = g_variant_get_string (parameter, NULL);

  if (g_str_equal (deed, "measure"))
    gtk_widget_activate_action (page, "bench.measure", NULL);
  else if (g_str_equal (deed, "next") || g_str_equal (deed, "previous"))
    gtk_widget_activate_action (page, "bench.step", "i", g_str_equal (deed, "next") ? 1 : -1);
  else
    gtk_widget_activate_action (page, "bench.act", "s", deed);
}

/* To the page in view that knows what is chosen on it. */
ACTION (on_issue) { gtk_widget_activate_action (page_called (widget, "issues"), "issue.act", "s", g_variant_get_string (parameter, NULL)); }
ACTION (on_unit) { gtk_widget_activate_action (page_called (widget, "unit"), "unit.act", "s", g_variant_get_string (parameter, NULL)); }
ACTION (on_change) { gtk_widget_activate_action (page_called (widget, "changes"), "changes.act", "s", g_variant_get_string (parameter, NULL)); }
ACTION (on_on_round) { gtk_widget_activate_action (page_called (widget, "rounds"), "rounds.act", "s", g_variant_get_string (parameter, NULL)); }
ACTION (on_pilot) { gtk_widget_activate_action (page_called (widget, "pilot"), "pilot.act", "s", g_variant_get_string (parameter, NULL)); }
ACTION (on_pilot_store) { gtk_widget_activate_action (page_called (widget, "pilot"), "pilot.act", "s", "store"); }
ACTION (on_release) { gtk_widget_activate_action (page_called (widget, "release"), "release.act", "s", g_variant_get_string (parameter, NULL)); }
ACTION (on_tally) { gtk_widget_activate_action (page_called (widget, "tally"), "tally.act", "s", g_variant_get_string (parameter, NULL)); }
ACTION (on_wait) { gtk_widget_activate_action (page_called (widget, "leadtime"), "leadtime.end-wait", "s", g_variant_get_string (parameter, NULL)); }
ACTION (on_setup) { gtk_widget_activate_action (page_called (widget, "setup"), "setup.act", "s", g_variant_get_string (parameter, NULL)); }

/* The one thing that an empty book lacks, without a sheet or file to take it from. */
ACTION (on_new_model)
{
  FettleWindow *self = FETTLE_WINDOW (widget);
  int kind = fettle_page_kind_find ("setup");

  fettle_window_show_page (self, kind);
  gtk_widget_activate_action (self->pages[kind], "setup.act", "s", "new-model");
}

/* One key begins what somebody comes for: a row where rows are kept, else a book. */
ACTION (on_begin)
{
  if (is_in_view (FETTLE_WINDOW (widget), "setup"))
    gtk_widget_activate_action (widget, "win.setup", "s", "add");
  else
    gtk_widget_activate_action (widget, "win.new", NULL);
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
  if (g_variant_get_int64 (parameter) != 0)
    gtk_widget_activate_action (self->pages[kind], "issue.raise-from", "x", g_variant_get_int64 (parameter));
  else
    gtk_widget_activate_action (self->pages[kind], "issue.raise", NULL);
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

ACTION (on_plan_round)
{
  int kind = fettle_page_kind_find ("rounds");

  fettle_window_show_page (FETTLE_WINDOW (widget), kind);
  gtk_widget_activate_action (FETTLE_WINDOW (widget)->pages[kind], "rounds.plan", NULL);
}

ACTION (on_demo)
{
  FettleWindow *self = FETTLE_WINDOW (widget);

  fettle_demo_open (FETTLE_APPLICATION (gtk_window_get_application (GTK_WINDOW (self))), self);
}

/* The section of ui/shortcuts.ui that has the keys of the page in view. */
static const char *
shortcuts_section (FettleWindow *self)
{
  static const struct
  {
    const char *page;
    const char *section;
  } sections[] = {
    { "bench", "bench" },     { "tally", "bench" },  { "pilot", "bench" },     { "issues", "issues" },    { "unit", "issues" },
    { "changes", "rounds" },  { "rounds", "rounds" }, { "release", "release" }, { "pack", "release" }, { "leadtime", "release" },
    { "setup", "release" },   { "readings", "pages" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (sections); i++)
    if (is_in_view (self, sections[i].page))
      return sections[i].section;
  return "book";
}

ACTION (on_shortcuts)
{
  g_autoptr(GtkBuilder) builder = gtk_builder_new_from_resource ("/org/fettle/Fettle/shortcuts.ui");
  GtkWindow *shown = GTK_WINDOW (gtk_builder_get_object (builder, "shortcuts"));

  g_object_set (shown, "section-name", shortcuts_section (FETTLE_WINDOW (widget)), NULL);
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
    { "win.begin", NULL, on_begin },
    { "win.new-model", NULL, on_new_model },
    { "win.open", NULL, on_open },
    { "win.open-path", "s", on_open_path },
    { "win.save-copy", NULL, on_save_copy },
    { "win.import", NULL, on_import },
    { "win.letter", NULL, on_letter },
    { "win.suppliers", NULL, on_suppliers },
    { "win.supplier-letter", "x", on_supplier_letter },
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
    { "win.unit", "s", on_unit },
    { "win.propose-change", NULL, on_propose_change },
    { "win.change", "s", on_change },
    { "win.plan-round", NULL, on_plan_round },
    { "win.on-round", "s", on_on_round },
    { "win.pilot", "s", on_pilot },
    { "win.pilot-store", NULL, on_pilot_store },
    { "win.release", "s", on_release },
    { "win.pack", "s", on_pack },
    { "win.on-pack", "s", on_pack },
    { "win.tally", "s", on_tally },
    { "win.setup", "s", on_setup },
    { "win.wait", "s", on_wait },
    { "win.demo", NULL, on_demo },
    { "win.undo", NULL, on_undo },
    { "win.redo", NULL, on_redo },
    { "win.undo-book", NULL, on_undo_book },
    { "win.redo-book", NULL, on_redo_book },
    { "win.find", NULL, on_find },
    { "win.say", "s", on_say },
    { "win.page", "s", on_page },
    { "win.keyboard-to-page", NULL, on_keyboard_to_page },
    { "win.model", "x", on_model },
    { "win.round", "x", on_round },
    { "win.round-on-the-way", "x", on_round_on_the_way },
    { "win.write", NULL, on_write },
    { "win.back", NULL, on_back },
    { "win.forward", NULL, on_forward },
    { "win.leave", NULL, on_leave },
    { "win.show-record", "(sx)", on_show_record },
    { "win.show-history", "(sx)", on_show_history },
    { "win.show-unit", "x", on_show_unit },
    { "win.choose-model", NULL, on_choose_model },
    { "win.choose-person", NULL, on_choose_person },
    { "win.go-strip", NULL, on_go_strip },
    { "win.go-chart", NULL, on_go_chart },
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

static char *
dup_page_reversal (FettleWindow *self, gboolean redo)
{
  FettlePage *page = self->sitting != NULL ? fettle_window_get_page (self) : NULL;

  return page != NULL ? fettle_page_dup_reversal (page, redo) : NULL;
}

/* What the next undo or redo takes, of the page in view or of the book; NULL: nothing. */
char *
fettle_window_dup_reversal (FettleWindow *self, gboolean redo)
{
  char *words = dup_page_reversal (self, redo);

  if (words != NULL || self->sitting == NULL)
    return words;
  return fettle_sitting_dup_undo_words (self->sitting, redo);
}

/* Why it takes nothing; NULL: it does, or there is nothing. */
char *
fettle_window_dup_undo_bar (FettleWindow *self)
{
  g_autofree char *of_page = dup_page_reversal (self, FALSE);

  return of_page == NULL && self->sitting != NULL ? fettle_sitting_dup_undo_bar (self->sitting) : NULL;
}

/* Says on the buttons what they take as one. */
static void
name_reversals (FettleWindow *self)
{
  g_autofree char *undo = fettle_window_dup_reversal (self, FALSE);
  g_autofree char *redo = fettle_window_dup_reversal (self, TRUE);
  g_autofree char *bar = fettle_window_dup_undo_bar (self);
  g_autofree char *undo_words = bar != NULL ? g_steal_pointer (&bar) : undo != NULL ? g_strdup_printf (_("Undo: %s (Ctrl+Z)"), undo) : NULL;
  g_autofree char *redo_words = redo != NULL ? g_strdup_printf (_("Redo: %s (Ctrl+Shift+Z)"), redo) : NULL;

  fettle_tip_set (self->undo_button,
                  undo_words != NULL ? undo_words : _("Take back the last action of this window (Ctrl+Z)"));
  fettle_tip_set (self->redo_button, redo != NULL ? redo_words : _("Do again what was taken back (Ctrl+Shift+Z)"));
}

static void
enable_reversals (FettleWindow *self)
{
  g_autofree char *undo = dup_page_reversal (self, FALSE);
  g_autofree char *redo = dup_page_reversal (self, TRUE);
  gboolean can_undo = self->sitting != NULL && fettle_sitting_can_undo (self->sitting);
  gboolean can_redo = self->sitting != NULL && fettle_sitting_can_redo (self->sitting);
  g_autofree char *bar = fettle_window_dup_undo_bar (self);

  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.undo", can_undo || undo != NULL || bar != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.redo", can_redo || redo != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.undo-book", can_undo);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.redo-book", can_redo);
}

/* What cannot be done now is grey in the menu and does nothing by its key. */
void
fettle_window_update_actions (FettleWindow *self)
{
  /* Their keys are plain ones, which mean something else on other pages. */
  static const struct
  {
    const char *action;
    const char *page;
    gboolean    without_model; /* there is something to do in an empty book */
  } of_page[] = {
    { "win.at-bench", "bench", FALSE }, { "win.issue", "issues", FALSE }, { "win.change", "changes", FALSE },
    { "win.on-round", "rounds", FALSE }, { "win.pilot", "pilot", FALSE }, { "win.tally", "tally", FALSE },
    { "win.wait", "leadtime", FALSE }, { "win.release", "release", FALSE }, { "win.on-pack", "pack", FALSE }, { "win.setup", "setup", TRUE },
    { "win.unit", "unit", FALSE },
  };
  static const char *const of_book[] = { "win.save-copy", "win.new-model", "win.import", "win.paste-rows", "win.try-again", "win.find",
                                         "win.choose-person", "win.write" };
  static const char *const of_model[] = { "win.page", "win.go-strip", "win.go-chart", "win.round", "win.round-on-the-way", "win.legend", "win.raise-issue", "win.raise-from",
                                          "win.propose-change", "win.plan-round" };
  gboolean has_book = self->sitting != NULL;
  gboolean has_model = has_book && self->span_known && self->span.model != 0;

  for (gsize i = 0; i < G_N_ELEMENTS (of_book); i++)
    gtk_widget_action_set_enabled (GTK_WIDGET (self), of_book[i], has_book);
  for (gsize i = 0; i < G_N_ELEMENTS (of_model); i++)
    gtk_widget_action_set_enabled (GTK_WIDGET (self), of_model[i], has_model);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.letter", has_model && self->span.to != 0 && self->writing == NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.suppliers", has_model);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.supplier-letter", has_model && self->writing == NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.paper", has_model);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.pack", has_model);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.print-paper", has_model && self->writing == NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.save-paper", has_model && self->writing == NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.stop-letter", self->writing != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.choose-model",
                                 has_model && self->facts != NULL && self->facts->n_models > 1);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.paste-sheet",
                                 has_book && fettle_page_kind_find ("sheet") >= 0);
  for (gsize i = 0; i < G_N_ELEMENTS (of_page); i++)
    gtk_widget_action_set_enabled (GTK_WIDGET (self), of_page[i].action,
                                   (of_page[i].without_model ? has_book : has_model) && is_in_view (self, of_page[i].page));
  if (!has_model || !is_in_view (self, "pilot"))
    gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.pilot-store", FALSE); /* else the page knows */
  enable_reversals (self);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.nothing", FALSE);
  fettle_window_update_places (self);
  name_reversals (self);
}
