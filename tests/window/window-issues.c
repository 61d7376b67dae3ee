/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window-issues.h"

#include "issues-page.h"

GtkWidget *
window_issues_get (WindowTestFixture *fixture, const char *name)
{
  return window_test_get (window_test_page (fixture->window), name);
}

static gboolean
is_shown (gpointer data)
{
  WindowTestFixture *fixture = data;
  FettlePage *page = fettle_window_get_page (fixture->window);

  return FETTLE_IS_ISSUES_PAGE (page) && fettle_issues_page_is_shown (FETTLE_ISSUES_PAGE (page));
}

void
window_issues_wait_shown (WindowTestFixture *fixture)
{
  window_test_wait (is_shown, fixture, "the issues");
  window_test_settle ();
}

void
window_issues_set_up (WindowTestFixture *fixture, gconstpointer data)
{
  window_test_set_up (fixture, "issues");
  window_issues_wait_shown (fixture);
}

typedef struct
{
  WindowTestFixture *fixture;
  const char        *name;
} Named;

static gboolean
has_focus_in (gpointer data)
{
  Named *named = data;
  GtkWidget *place = window_test_find (GTK_WIDGET (named->fixture->window), named->name);
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (named->fixture->window));

  return place != NULL && focus != NULL && gtk_widget_is_ancestor (focus, place) && gtk_widget_get_mapped (focus);
}

void
window_issues_wait_focus_in (WindowTestFixture *fixture, const char *name)
{
  window_test_wait (has_focus_in, &(Named){ fixture, name }, name);
  window_test_settle ();
}

static gboolean
is_gone (gpointer data)
{
  Named *named = data;
  GtkWidget *place = window_test_find (GTK_WIDGET (named->fixture->window), named->name);

  return place == NULL || !gtk_widget_get_mapped (place);
}

void
window_issues_wait_gone (WindowTestFixture *fixture, const char *name)
{
  window_test_wait (is_gone, &(Named){ fixture, name }, name);
  window_test_settle ();
}

void
window_issues_press (WindowTestFixture *fixture, guint key, GdkModifierType modifiers)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (fixture->window));

  g_assert_true (window_test_shortcut (focus != NULL ? focus : GTK_WIDGET (fixture->window), key, modifiers));
  window_test_settle ();
}

void
window_issues_raise (WindowTestFixture *fixture, const char *title, guint klass)
{
  window_issues_press (fixture, GDK_KEY_e, GDK_CONTROL_MASK);
  window_issues_wait_focus_in (fixture, "new-issue");
  gtk_editable_set_text (GTK_EDITABLE (window_issues_get (fixture, "title")), title);
  window_test_choose (window_issues_get (fixture, "class"), klass);
  window_issues_press (fixture, GDK_KEY_Return, GDK_CONTROL_MASK);
  window_issues_wait_gone (fixture, "new-issue");
  window_test_wait_seen (fixture->window, "issues-table", title);
  window_issues_wait_focus_in (fixture, "issues-table");
}
