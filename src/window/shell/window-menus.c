/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The menus are made each time they are opened, from what there is then; until then they cost nothing. */
#include "config.h"

#include "window-private.h"

#include <glib/gi18n.h>

#include "demo.h"
#include "early-key.h"
#include "person-chooser.h"
#include "recent.h"

#define MENU_RECENT 8
#define MENU_WORDS  60 /* characters of what would be undone */

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

/* With a key that is not the action's own: the window gives it, or the page takes it only while nothing is typed into. */
static void
append_keyed (GMenu *menu, const char *label, const char *action, const char *accel)
{
  g_autoptr(GMenuItem) item = g_menu_item_new (label, action);

  g_menu_item_set_attribute (item, "accel", "s", accel);
  g_menu_append_item (menu, item);
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

/* What is said of the unit in view on a page of its own. */
static GMenu *
unit_menu (void)
{
  GMenu *menu = g_menu_new ();

  g_menu_append (menu, _("_Something Happened…"), "win.unit::event");
  g_menu_append (menu, _("_Built Otherwise…"), "win.unit::built");
  g_menu_append (menu, _("Set _Aside…"), "win.unit::aside");
  g_menu_append (menu, _("_Correct the Serial…"), "win.unit::serial");
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

  g_menu_append (menu, _("_Count What a Step Passed…"), "win.pilot::count");
  /* The key says why nothing can be stored; the entry is off then. */
  append_keyed (menu, _("_Store the Figures Tried…"), "win.pilot-store", "F4");
  return menu;
}

/* What is counted on the page of the tally. */
static GMenu *
tally_menu (void)
{
  GMenu *menu = g_menu_new ();

  append_keyed (menu, _("_Good"), "win.tally::good", "1");
  append_keyed (menu, _("_Reworked"), "win.tally::reworked", "2");
  append_keyed (menu, _("_Waits for Rework"), "win.tally::waiting", "3");
  append_keyed (menu, _("_Scrapped"), "win.tally::scrapped", "4");
  append_keyed (menu, _("_One That Waited Is Good"), "win.tally::waiting-good", "5");
  append_keyed (menu, _("One That Waited Is S_crapped"), "win.tally::waiting-scrapped", "6");
  append_keyed (menu, _("Ten _More"), "win.tally::more", "plus");
  append_keyed (menu, _("Ten _Back"), "win.tally::less", "minus");
  append_keyed (menu, _("_Undo the Last Tap"), "win.tally::undo", "BackSpace");
  append_keyed (menu, _("A _New Issue…"), "win.tally::new-issue", "0");
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

/* What is done at a gate. */
static GMenu *
release_menu (void)
{
  GMenu *menu = g_menu_new ();

  g_menu_append (menu, _("Note an _Opinion…"), "win.release::opinion");
  g_menu_append (menu, _("_Waive the Criterion…"), "win.release::waive");
  g_menu_append (menu, _("_Decide…"), "win.release::decide");
  g_menu_append (menu, _("With_draw…"), "win.release::withdraw");
  g_menu_append (menu, _("Decision _Pack"), "win.pack::show");
  g_menu_append (menu, _("_Save the Pack as PDF…"), "win.pack::save");
  g_menu_append (menu, _("Save as Wor_kbook…"), "win.pack::workbook");
  g_menu_append (menu, _("P_rint the Pack…"), "win.pack::print");
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
  g_autofree char *named = fettle_window_dup_reversal (self, redo);
  g_autofree char *words = named != NULL ? shorten (named) : NULL;
  g_autofree char *bar = !redo ? fettle_window_dup_undo_bar (self) : NULL;
  g_autofree char *label = words == NULL ? NULL
                           /* Translators: what was typed, as in '24 readings in P3' */
                           : g_strdup_printf (redo ? _("_Redo: %s") : _("_Undo: %s"), words);

  if (bar != NULL)
    {
      g_free (label);
      label = g_strdup (_("_Undo: an opinion, waiver or decision stays"));
    }
  g_menu_append (menu, label != NULL ? label : redo ? _("_Redo") : _("_Undo"), redo ? "win.redo" : "win.undo");
}

static void
create_menu (GtkMenuButton *button, gpointer user_data)
{
  FettleWindow *self = FETTLE_WINDOW (user_data);
  g_autoptr(GMenu) menu = self->paper_wanted ? fettle_window_paper_menu (self)
                         : self->supplier_wanted ? fettle_window_supplier_menu (self) : g_menu_new ();
  GMenu *part;

  /* What opens by its own key stands alone. */
  if (self->paper_wanted || self->supplier_wanted)
    {
      self->paper_wanted = self->supplier_wanted = FALSE;
      gtk_menu_button_set_menu_model (button, G_MENU_MODEL (menu));
      return;
    }
  part = section (menu);
  if (self->page >= 0 && self->page == fettle_page_kind_find ("setup"))
    g_menu_append (part, _("_New Book…"), "win.new");
  else
    append_keyed (part, _("_New Book…"), "win.new", "<Control>n");
  g_menu_append (part, _("_Open…"), "win.open");
  submenu (part, _("Open _Lately Used"), recent_menu ());
  g_menu_append (part, _("_Save a Copy…"), "win.save-copy");
  part = section (menu);
  if (fettle_page_kind_find ("sheet") >= 0)
    g_menu_append (part, _("_Paste a Measuring Sheet"), "win.paste-sheet");
  g_menu_append (part, _("Paste _Rows of Records"), "win.paste-rows");
  g_menu_append (part, _("_Import…"), "win.import");
  g_menu_append (part, _("Set Up a New Mode_l…"), "win.new-model");
  g_menu_append (part, _("Letter to the _Designer…"), "win.letter");
  submenu (part, _("Letter to a S_upplier"), fettle_window_supplier_menu (self));
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
  submenu (part, _("_Unit"), unit_menu ());
  if (fettle_page_kind_find ("issues") >= 0)
    submenu (part, _("_Issue"), issue_menu ());
  submenu (part, _("C_hange"), change_menu ());
  submenu (part, _("Roun_d"), round_menu ());
  submenu (part, _("Pilo_t"), pilot_menu ());
  submenu (part, _("Tall_y"), tally_menu ());
  submenu (part, _("_Wait"), wait_menu ());
  submenu (part, _("R_elease"), release_menu ());
  submenu (part, _("_Set-up"), setup_menu ());
  g_menu_append (part, _("Choose the _Model"), "win.choose-model");
  g_menu_append (part, _("Choose _Who Writes"), "win.choose-person");
  g_menu_append (part, self->sitting != NULL && fettle_sitting_is_reading (self->sitting) ? _("Begin to Wr_ite") : _("Only Rea_d"),
                 "win.write");
  g_menu_append (part, _("Go to the Roun_ds"), "win.go-strip");
  g_menu_append (part, _("Go to the Ne_xt Chart"), "win.go-chart");
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

/* ---- opened by a key ---- */

static gboolean
is_open (GtkMenuButton *button)
{
  GtkPopover *popover = gtk_menu_button_get_popover (button);

  return popover != NULL && gtk_widget_get_visible (GTK_WIDGET (popover));
}

/**
 * fettle_window_pop_up:
 * @self: a window
 * @button: its menu or its choice of models
 *
 * Opens a menu by a key: once it has closed, what had the keyboard has it again.
 */
void
fettle_window_pop_up (FettleWindow *self, GtkMenuButton *button)
{
  g_set_weak_pointer (&self->menu_back, gtk_window_get_focus (GTK_WINDOW (self)));
  gtk_menu_button_popup (button);
}

/* GTK takes the keyboard to the button with the first frame after a menu; from there it goes on. */
static void
on_focus (FettleWindow *self)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self)), *back = self->menu_back;

  if (focus == NULL || back == NULL || is_open (self->menu_button) || is_open (self->model_button))
    return;
  g_clear_weak_pointer (&self->menu_back);
  if ((gtk_widget_is_ancestor (focus, GTK_WIDGET (self->menu_button)) || gtk_widget_is_ancestor (focus, GTK_WIDGET (self->model_button)))
      && gtk_widget_get_mapped (back))
    gtk_widget_grab_focus (back);
}

/* Whoever presses a key while no menu is open goes on elsewhere. */
void
fettle_window_forget_menu (FettleWindow *self)
{
  if (self->menu_back != NULL && !is_open (self->menu_button) && !is_open (self->model_button))
    g_clear_weak_pointer (&self->menu_back);
}

/* GTK has the same key for the menu, without what comes after it. */
static gboolean
on_menu_key (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  return gtk_widget_activate_action (widget, "win.menu", NULL);
}

void
fettle_window_set_up_menus (FettleWindow *self)
{
  fettle_early_key (GTK_WIDGET (self), "F10", on_menu_key);
  g_signal_connect (self, "notify::focus-widget", G_CALLBACK (on_focus), NULL);
  gtk_menu_button_set_create_popup_func (self->menu_button, create_menu, self, NULL);
  gtk_menu_button_set_create_popup_func (self->model_button, create_model_menu, self, NULL);
  gtk_menu_button_set_create_popup_func (self->person_button, create_person_popover, self, NULL);
}
