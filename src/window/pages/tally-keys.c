/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "tally-keys.h"

#include <glib/gi18n.h>

#include "large-key.h"
#include "unparent.h"

#define COLUMNS  4 /* of keys */
#define N_DIGITS 3 /* issues that have a key of the number pad */

/* The keys after those that count: ten more, ten fewer, the last tap undone. */
enum { KEY_MORE = BOOK_N_TALLY_KINDS, KEY_LESS, KEY_UNDO, N_KEYS };

/* A key is called by its word in menus, and 'tally-' with the word as a widget. */
static const struct
{
  const char *word;
  const char *label;
  const char *key;
  const char *action;
  int         target; /* of an action that has one */
  int         row, column;
} keys[N_KEYS] = {
  [BOOK_TALLY_GOOD] = { "good", N_("Good"), "1", "tally.count", BOOK_TALLY_GOOD, 0, 0 },
  [BOOK_TALLY_REWORKED] = { "reworked", N_("Reworked"), "2", "tally.count", BOOK_TALLY_REWORKED, 0, 1 },
  [BOOK_TALLY_WAITING] = { "waiting", N_("Waits for Rework"), "3", "tally.count", BOOK_TALLY_WAITING, 0, 2 },
  [BOOK_TALLY_SCRAPPED] = { "scrapped", N_("Scrapped"), "4", "tally.count", BOOK_TALLY_SCRAPPED, 0, 3 },
  [BOOK_TALLY_WAITING_GOOD] = { "waiting-good", N_("One That Waited Is Good"), "5", "tally.count", BOOK_TALLY_WAITING_GOOD, 2, 0 },
  [BOOK_TALLY_WAITING_SCRAPPED]
  = { "waiting-scrapped", N_("One That Waited Is Scrapped"), "6", "tally.count", BOOK_TALLY_WAITING_SCRAPPED, 2, 1 },
  [KEY_MORE] = { "more", N_("Ten More"), "+", "tally.ten", 1, 1, 0 },
  [KEY_LESS] = { "less", N_("Ten Back"), "−", "tally.ten", -1, 1, 1 },
  [KEY_UNDO] = { "undo", N_("Undo the Last Tap"), "⌫", "tally.undo", 0, 1, 2 },
};

struct _FettleTallyKeys
{
  GtkWidget      *issues; /* the page's */
  FettleLargeKey *buttons[N_KEYS];
};

/**
 * fettle_tally_keys_new:
 * @grid: of the page, empty: takes the keys that count
 * @issues: of the page, empty: takes a key for each open issue
 *
 * Returns: (transfer full): the keys, without figures
 */
FettleTallyKeys *
fettle_tally_keys_new (GtkGrid *grid, GtkGrid *issues)
{
  FettleTallyKeys *self = g_new0 (FettleTallyKeys, 1);

  self->issues = GTK_WIDGET (issues);
  for (guint i = 0; i < N_KEYS; i++)
    {
      GtkWidget *button = fettle_large_key_new (_(keys[i].label), keys[i].key);
      g_autofree char *name = g_strdup_printf ("tally-%s", keys[i].word);

      self->buttons[i] = FETTLE_LARGE_KEY (button);
      gtk_widget_set_name (button, name);
      gtk_actionable_set_action_name (GTK_ACTIONABLE (button), keys[i].action);
      if (i != KEY_UNDO)
        gtk_actionable_set_action_target_value (GTK_ACTIONABLE (button), g_variant_new_int32 (keys[i].target));
      gtk_grid_attach (grid, button, keys[i].column, keys[i].row, 1, 1);
    }
  return self;
}

void
fettle_tally_keys_free (FettleTallyKeys *self)
{
  g_free (self);
}

/* ---- figures ---- */

static void
show_figures (FettleTallyKeys *self, const InsightTally *tally)
{
  const guint figures[] = { tally->good, tally->reworked, tally->waiting, tally->scrapped };

  for (guint i = 0; i < G_N_ELEMENTS (figures); i++)
    {
      g_autofree char *figure = g_strdup_printf ("%u", figures[i]);

      fettle_large_key_set_figure (self->buttons[i], figure);
    }
  gtk_widget_set_visible (GTK_WIDGET (self->buttons[BOOK_TALLY_WAITING_GOOD]), tally->waiting_all > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->buttons[BOOK_TALLY_WAITING_SCRAPPED]), tally->waiting_all > 0);
}

static void
add_issue_key (FettleTallyKeys *self, guint number, const char *label, const char *key, const char *action, guint figure)
{
  GtkWidget *button = fettle_large_key_new (label, key);
  g_autofree char *name = g_strdup_printf ("tally-issue-%u", number);
  g_autofree char *units = figure > 0 ? g_strdup_printf ("%u", figure) : g_strdup ("");

  gtk_widget_set_name (button, name);
  fettle_large_key_set_figure (FETTLE_LARGE_KEY (button), units);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  if (g_str_equal (action, "tally.issue"))
    gtk_actionable_set_action_target_value (GTK_ACTIONABLE (button), g_variant_new_int32 ((gint32) number));
  gtk_grid_attach (GTK_GRID (self->issues), button, (int) number % COLUMNS, (int) number / COLUMNS, 1, 1);
}

/* The model's open issues as keys, those that took most away first, and a new one. A key that has the keyboard keeps it. */
static void
show_issues (FettleTallyKeys *self, const GArray *issues)
{
  GtkWidget *focus = gtk_widget_get_focus_child (self->issues);
  g_autofree char *focused = focus != NULL ? g_strdup (gtk_widget_get_name (focus)) : NULL;

  if (focus != NULL)
    fettle_tally_keys_focus (self); /* before the key goes */
  fettle_unparent_children (self->issues);
  for (guint i = 0; i < issues->len; i++)
    {
      const InsightTallyIssue *issue = &g_array_index (issues, InsightTallyIssue, i);
      g_autofree char *label = g_strdup_printf ("%d %s", issue->no, issue->title);
      g_autofree char *key = i < N_DIGITS ? g_strdup_printf ("%u", 7 + i) : g_strdup ("");

      add_issue_key (self, i, label, key, "tally.issue", issue->units);
    }
  add_issue_key (self, issues->len, _("A new issue…"), "0", "tally.new-issue", 0);
  for (GtkWidget *child = gtk_widget_get_first_child (self->issues); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (g_strcmp0 (gtk_widget_get_name (child), focused) == 0)
      gtk_widget_grab_focus (child);
}

/**
 * fettle_tally_keys_show:
 * @self: the keys
 * @tally: what was counted today, and the open issues
 */
void
fettle_tally_keys_show (FettleTallyKeys *self, const InsightTally *tally)
{
  show_figures (self, tally);
  show_issues (self, tally->issues);
}

/**
 * fettle_tally_keys_show_ten:
 * @self: the keys
 * @kind: what ten more or fewer of are counted
 */
void
fettle_tally_keys_show_ten (FettleTallyKeys *self, BookTallyKind kind)
{
  /* Translators: what is counted, as in 'Ten More: Good' */
  g_autofree char *more = g_strdup_printf (_("Ten More: %s"), fettle_tally_keys_label (kind));
  g_autofree char *less = g_strdup_printf (_("Ten Back: %s"), fettle_tally_keys_label (kind));

  fettle_large_key_set_label (self->buttons[KEY_MORE], more);
  fettle_large_key_set_label (self->buttons[KEY_LESS], less);
}

/**
 * fettle_tally_keys_focus:
 * @self: the keys
 *
 * Gives the first of them the keyboard.
 */
void
fettle_tally_keys_focus (FettleTallyKeys *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->buttons[BOOK_TALLY_GOOD]));
}

/* ---- what they do ---- */

/**
 * fettle_tally_keys_label:
 * @kind: what is counted
 *
 * Returns: as its key says it
 */
const char *
fettle_tally_keys_label (BookTallyKind kind)
{
  return _(keys[kind].label);
}

static void
bind_digit (GtkWidgetClass *page, guint digit, const char *action, int target)
{
  gtk_widget_class_add_binding_action (page, GDK_KEY_0 + digit, 0, action, "i", (gint32) target);
  gtk_widget_class_add_binding_action (page, GDK_KEY_KP_0 + digit, 0, action, "i", (gint32) target);
}

/**
 * fettle_tally_keys_bind:
 * @page: class of the page that has the actions
 *
 * Binds the number pad and the digits above the letters alike; a field that is typed into takes them first.
 */
void
fettle_tally_keys_bind (GtkWidgetClass *page)
{
  for (guint i = 0; i < BOOK_N_TALLY_KINDS; i++)
    bind_digit (page, 1 + i, "tally.count", (int) i);
  for (guint i = 0; i < N_DIGITS; i++)
    bind_digit (page, 7 + i, "tally.issue", (int) i);
  gtk_widget_class_add_binding_action (page, GDK_KEY_0, 0, "tally.new-issue", NULL);
  gtk_widget_class_add_binding_action (page, GDK_KEY_KP_0, 0, "tally.new-issue", NULL);
  gtk_widget_class_add_binding_action (page, GDK_KEY_plus, 0, "tally.ten", "i", 1);
  gtk_widget_class_add_binding_action (page, GDK_KEY_KP_Add, 0, "tally.ten", "i", 1);
  gtk_widget_class_add_binding_action (page, GDK_KEY_minus, 0, "tally.ten", "i", -1);
  gtk_widget_class_add_binding_action (page, GDK_KEY_KP_Subtract, 0, "tally.ten", "i", -1);
  gtk_widget_class_add_binding_action (page, GDK_KEY_BackSpace, 0, "tally.undo", NULL);
}

/**
 * fettle_tally_keys_act:
 * @page: that has the actions
 * @word: of a key ('good', 'more', 'undo'), or 'new-issue'
 *
 * Does what the key does.
 */
void
fettle_tally_keys_act (GtkWidget *page, const char *word)
{
  if (g_str_equal (word, "new-issue"))
    gtk_widget_activate_action (page, "tally.new-issue", NULL);
  for (guint i = 0; i < N_KEYS; i++)
    if (g_str_equal (keys[i].word, word))
      gtk_widget_activate_action (page, keys[i].action, i == KEY_UNDO ? NULL : "i", keys[i].target);
}
