/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The Issues page under a person's keys: what its tests share. */

#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

/* A window on the small book, with the Issues page in view. */
void       window_issues_set_up        (WindowTestFixture *fixture,
                                        gconstpointer      data);
void       window_issues_wait_shown    (WindowTestFixture *fixture);
GtkWidget *window_issues_get           (WindowTestFixture *fixture,
                                        const char        *name);

/* Presses a key where the keyboard is. */
void       window_issues_press         (WindowTestFixture *fixture,
                                        guint              key,
                                        GdkModifierType    modifiers);
/* The keyboard comes to a form with the book's answer; a form goes. */
void       window_issues_wait_focus_in (WindowTestFixture *fixture,
                                        const char        *name);
void       window_issues_wait_gone     (WindowTestFixture *fixture,
                                        const char        *name);
/* Raises one by keys, of the class at that place of the list, and waits until it is selected. */
void       window_issues_raise         (WindowTestFixture *fixture,
                                        const char        *title,
                                        guint              klass);
