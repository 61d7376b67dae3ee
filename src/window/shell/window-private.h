/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A window split by concern: window.c the frame and its pages, window-book.c the book in it, window-actions.c what can
 * be done, window-menus.c the menus that name it, window-files.c files that come and go, window-import.c rows that are
 * looked at first, window-letter.c the letters, window-paper.c paper for the bench, window-pack.c the decision pack, window-find.c the search across the
 * book, window-places.c going somewhere and back.
 */

#include "facts.h"
#include "find-hits.h"
#include "message-bar.h"
#include "places.h"
#include "round-strip.h"
#include "window.h"

G_BEGIN_DECLS

typedef struct _PaperBenchAsk PaperBenchAsk; /* paper-bench.h */

/* What the keyboard is due at, once the page has its answer. */
typedef enum
{
  FETTLE_KEYBOARD_NOT_DUE,
  FETTLE_KEYBOARD_ON_PAGE,   /* on what is seen of it */
  FETTLE_KEYBOARD_AT_RECORD, /* which is brought into view */
} FettleKeyboardDue;

struct _FettleWindow
{
  GtkApplicationWindow parent_instance;

  /* template children */
  GtkWidget        *undo_button;
  GtkWidget        *redo_button;
  GtkMenuButton    *model_button;
  GtkLabel         *model_label;
  GtkLabel         *where_label;
  GtkMenuButton    *menu_button;
  GtkWidget        *menu_back; /* what had the keyboard before a menu that was opened by a key; weak */
  GtkEntry         *find_entry;
  FettleMessageBar *message_bar;
  GtkWidget        *side;
  GtkListBox       *page_list;
  GtkMenuButton    *person_button;
  GtkWidget        *strip_box;
  FettleRoundStrip *strip;
  GtkToggleButton  *legend_button;
  GtkStack         *stack;

  /* the book */
  FettleSitting *sitting; /* NULL: no book */
  char          *path;    /* of the book, also while it is being opened; NULL: none */
  GCancellable  *asking;  /* of the questions of the window itself */
  FettleFacts   *facts;
  FettleSpan     span;
  gboolean       span_known; /* the strip of span.model is there: pages may be told */
  gboolean       refresh_due; /* the book has changed: the page in view is asked once it is known what it may speak about */

  /* wishes of the command line that wait for the facts */
  char *wish_model;
  char *wish_page;
  gint64 last_writer; /* who wrote here last and is offered; 0: nobody, or it was offered already */
  gboolean writer_offered;
  char *wish_person;

  /* pages, by row of fettle_page_kinds(); NULL until first shown */
  GtkWidget **pages;
  gboolean   *stale;
  int         page; /* row in view; -1: the first page */
  GtkWidget  *welcome;

  GtkFileChooserNative *chooser;
  GCancellable         *writing; /* of the letter or paper on its way; NULL: none */
  PaperBenchAsk        *paper;   /* for which a file is being chosen; NULL: none yet */
  gboolean              paper_wanted; /* the menu that opens next is that of papers */
  gboolean              supplier_wanted; /* likewise that of suppliers to write to */
  gint64                letter_to; /* supplier for whose letter a file is being chosen */
  guint                 present_wait; /* source: shown now at the latest */

  /* where one was */
  FettlePlaces *places;
  FettlePlace  *coming; /* to where one goes as soon as its model is read; NULL: nowhere */
  FettlePlace  *awaited; /* reached, but its page has no answer yet to give the keyboard to; NULL: none */
  FettleKeyboardDue keyboard_due; /* likewise, where the page says what takes it */
  gpointer      keyboard_from;    /* what had the keyboard then: never followed, only compared */
  gboolean      moving; /* what is shown now is on the way: no place that anybody left */

  /* the search */
  GtkWidget     *find_panel;
  GtkLabel      *find_told;
  GtkWidget     *find_scroll;
  GtkListBox    *find_list;
  FettleFinding *find_finding; /* what the list shows; NULL: nothing */
  const BookRecord *find_whole; /* the kind of which all are listed; NULL: the first few of each */
  GtkWidget     *find_back; /* had the keyboard before; weak */
  GCancellable  *finding; /* NULL: no answer is to come */
  guint          find_wait; /* source: a pause in typing */
  gboolean       find_go; /* Enter was pressed before the answer came */

  gboolean              narrow;
  const char *const    *first_pages; /* of the role that the page list is made for */
  gboolean              rebuilding; /* the page list is being filled: its row-selected means nothing */
};

/* window.c */
void fettle_window_show_page     (FettleWindow *self,
                                  int           kind);
void fettle_window_tell_pages    (FettleWindow *self);
void fettle_window_refresh_pages (FettleWindow *self);
void fettle_window_show_frame    (FettleWindow *self);
void fettle_window_show_title    (FettleWindow *self);
void fettle_window_fill_page_list (FettleWindow *self);

/* window-book.c */
void fettle_window_ask_facts     (FettleWindow *self);
void fettle_window_choose_model  (FettleWindow *self,
                                  gint64        model);
void fettle_window_leave_book    (FettleWindow *self);
const FettleModel  *fettle_window_get_model  (FettleWindow *self);
const FettlePerson *fettle_window_get_person (FettleWindow *self);
/* Whether somebody was offered as who wrote last, and now writes. */
gboolean fettle_window_take_last_writer (FettleWindow *self);
char *fettle_window_dup_state    (FettleWindow *self) G_GNUC_WARN_UNUSED_RESULT;

/* window-actions.c */
void fettle_window_install_actions (GtkWidgetClass *class);
void fettle_window_update_actions  (FettleWindow   *self);
char *fettle_window_dup_reversal   (FettleWindow   *self,
                                    gboolean        redo) G_GNUC_WARN_UNUSED_RESULT;
char *fettle_window_dup_undo_bar   (FettleWindow   *self) G_GNUC_WARN_UNUSED_RESULT;

/* window-menus.c */
void fettle_window_set_up_menus    (FettleWindow   *self);
void fettle_window_pop_up           (FettleWindow      *self,
                                     GtkMenuButton     *button);
void fettle_window_forget_menu      (FettleWindow      *self);

/* window-files.c */
void fettle_window_set_up_drop     (FettleWindow *self);
void fettle_window_ask_new         (FettleWindow *self);
void fettle_window_ask_open        (FettleWindow *self);
void fettle_window_ask_copy        (FettleWindow *self);
void fettle_window_ask_import      (FettleWindow *self);
void fettle_window_take_file       (FettleWindow *self,
                                    GFile        *file);

/* Told of what was chosen; not called when nothing was. */
typedef void (*FettleChosen) (FettleWindow *self,
                              GListModel   *files);
GtkFileChooserNative *fettle_window_choose_file (FettleWindow         *self,
                                                 const char           *title,
                                                 GtkFileChooserAction  action,
                                                 const char           *accept,
                                                 FettleChosen          chosen);
void fettle_window_add_filter      (GtkFileChooserNative *chooser,
                                    const char           *name,
                                    const char *const    *patterns);

typedef enum
{
  FETTLE_OUTPUT_PDF,
  FETTLE_OUTPUT_WORKBOOK,
} FettleOutput;

void fettle_window_ask_output      (FettleWindow *self,
                                    FettleOutput  output,
                                    const char   *title,
                                    const char   *name,
                                    FettleChosen  chosen);
char *fettle_window_output_path    (FettleWindow *self,
                                    FettleOutput  output,
                                    GListModel   *files) G_GNUC_WARN_UNUSED_RESULT;

/* window-import.c */
void fettle_window_set_up_paste    (FettleWindow *self);
void fettle_window_take_rows_file  (FettleWindow *self,
                                    const char   *path);
void fettle_window_install_rows_actions (GtkWidgetClass *class);

/* window-letter.c */
void fettle_window_ask_letter      (FettleWindow *self);
void fettle_window_ask_supplier_letter (FettleWindow *self,
                                    gint64        supplier);
GMenu *fettle_window_supplier_menu (FettleWindow *self) G_GNUC_WARN_UNUSED_RESULT;
void fettle_window_stop_letter     (FettleWindow *self);

/* window-paper.c */
void   fettle_window_ask_paper     (FettleWindow *self,
                                    const char   *word,
                                    gboolean      into_file);
GMenu *fettle_window_paper_menu    (FettleWindow *self) G_GNUC_WARN_UNUSED_RESULT;

/* window-pack.c */
void fettle_window_pack            (FettleWindow *self,
                                    const char   *what);

/* window-places.c */
void fettle_window_set_up_places   (FettleWindow      *self);
void fettle_window_update_places   (FettleWindow      *self);
void fettle_window_end_places      (FettleWindow      *self);
void fettle_window_leave_place     (FettleWindow      *self);
void fettle_window_leave_rounds    (FettleWindow      *self);
void fettle_window_answered        (FettleWindow      *self);
void fettle_window_take_keyboard   (FettleWindow      *self);
void fettle_window_go              (FettleWindow      *self,
                                    const FettlePlace *place);
void fettle_window_arrive          (FettleWindow      *self);
void fettle_window_show_on         (FettleWindow      *self,
                                    const char        *page,
                                    const char        *record,
                                    gint64             key);
void fettle_window_show_record     (FettleWindow      *self,
                                    const char        *record,
                                    gint64             key);
void fettle_window_go_back         (FettleWindow      *self);
void fettle_window_go_forward      (FettleWindow      *self);

/* window-find.c */
void fettle_window_set_up_find     (FettleWindow *self);
void fettle_window_begin_find      (FettleWindow *self);
void fettle_window_end_find        (FettleWindow *self);

G_END_DECLS
