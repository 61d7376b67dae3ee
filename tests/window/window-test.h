/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * What window tests share: the program without its main loop, waiting for conditions, finding widgets by name, acting
 * on them as a person would, and pictures. Books are in window-book.h, words to wait for in window-look.h.
 */

#include <gtk/gtk.h>

#include "application.h"
#include "facts.h"
#include "window.h"

G_BEGIN_DECLS

/* As g_test_init(), with a display, the program's style and every warning fatal. */
void            window_test_init       (int            *argc,
                                        char         ***argv);
/* The same for a program that is to find nothing of what others typed: with a folder for that of its own; and g_test_run() for it. */
void            window_test_init_apart (int            *argc,
                                        char         ***argv);
int             window_test_run_apart  (void);
GtkApplication *window_test_program    (void);

/* Lets the main loop run until it has nothing to do; until @met is true, which fails after half a minute. */
void            window_test_settle     (void);
typedef gboolean (*WindowTestMet)      (gpointer        data);
void            window_test_wait       (WindowTestMet   met,
                                        gpointer        data,
                                        const char     *what);

/* A window on a book, complete: the page in view has its answer. @path NULL: the first page. */
FettleWindow   *window_test_open       (const char     *path,
                                        const char     *page);
/* The same of a model, by its code; NULL: the first. */
FettleWindow   *window_test_open_model (const char     *path,
                                        const char     *model,
                                        const char     *page);
void            window_test_wait_standing (FettleWindow *window);
void            window_test_close      (FettleWindow   *window);
void            window_test_destroy    (GtkWindow      *window);

GtkWidget      *window_test_find       (GtkWidget      *root,
                                        const char     *name);
GtkWidget      *window_test_get        (GtkWidget      *root,
                                        const char     *name);
typedef void (*WindowTestEach)         (GtkWidget      *widget,
                                        gpointer        data);
void            window_test_each       (GtkWidget      *root,
                                        WindowTestEach  each,
                                        gpointer        data);

/* Does what another part of the program would, and waits until it is in the book. @edit is taken. */
void            window_test_edit       (FettleWindow   *window,
                                        BookEdit       *edit);

/* How many controls there are below @root; one without an accessible name fails the test. */
guint           window_test_count_named (GtkWidget     *root);

gboolean        window_test_press      (GtkWidget      *widget,
                                        guint           keyval,
                                        GdkModifierType modifiers);
gboolean        window_test_shortcut   (GtkWidget      *widget,
                                        guint           keyval,
                                        GdkModifierType modifiers);

/* Activates an action of the window as its menus and keys do; it must be there. @target: the word it takes, or NULL. */
void            window_test_act        (FettleWindow   *window,
                                        const char     *action,
                                        const char     *target);
/* Types into a field of one line or of many, wherever the keyboard is. */
void            window_test_type       (GtkWidget      *root,
                                        const char     *field,
                                        const char     *text);
/* The person with these initials, NULL if there is none; chooses who writes, as the button at the top does. */
const FettlePerson *window_test_find_person (FettleWindow *window,
                                        const char     *initials);
void            window_test_choose_person (FettleWindow *window,
                                        const char     *initials);
/* One of the choices of a form's field, or of a drop-down; 0: none. */
void            window_test_choose     (GtkWidget      *control,
                                        guint           selected);
/* Chooses the one that is found by @text for a field that refers to another record. */
void            window_test_choose_reference (GtkWidget *form,
                                        const char     *field,
                                        const char     *text);
char           *window_test_dup_clipboard (GtkWidget   *widget) G_GNUC_WARN_UNUSED_RESULT;
/* Drops something at a place of @widget, which must take it; a file anywhere. */
void            window_test_drop       (GtkWidget      *widget,
                                        const GValue   *value,
                                        double          x,
                                        double          y);
void            window_test_drop_file  (GtkWidget      *widget,
                                        const char     *path);

gboolean        window_test_picture    (GtkWidget      *widget,
                                        const char     *path);

G_END_DECLS
