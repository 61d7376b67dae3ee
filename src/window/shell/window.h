/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * One window a book: header bar, page list, round strip, the page in view, message bar. What can be done is actions;
 * pages reach the window by these alone:
 *
 *   win.say (s)            one sentence in the message bar
 *   win.show-record (sx)   the page that holds the record, with it in view: ("characteristic", key)
 *   win.show-history (sx)  the history of one record: ("issue", key)
 *   win.show-unit (x)      a unit as built
 *   win.page (s)           a page by name
 *   win.round (x)          chooses one round on the strip
 *   win.round-on-the-way (x)  the same, for a record that is being gone to: one does not come back to before it
 *   win.back, win.forward  where one was: page, model, rounds, record and keyboard
 *   win.leave              the page is going to show another view of itself, from which one comes back to this one
 *   win.raise-issue        a new issue, from the reading that is chosen on the page in view or from scratch
 *   win.raise-from (x)     a new issue, from a reading; 0: from scratch
 *   win.issue (s)          what is done about the issue chosen on the Issues page (pages/issue-detail.h)
 *   win.propose-change     a new change, on the Changes page
 *   win.change (s)         what is done about the change chosen there (pages/change-detail.h)
 *   win.begin              a row on the Set-up page, a new book elsewhere
 *   win.new-model          a new model, on the Set-up page, which needs none for it
 *   win.setup (s)          what is done on the Set-up page (add, edit, filter, remove)
 *   win.tally (s)          what a key of the Tally page does (pages/tally-keys.h)
 *   win.pilot (s)          what is done on the Pilot page (count, store)
 *   win.wait (s)           how the wait chosen on the Lead time page ended (today, on)
 *   win.plan-round         a new round, on the Rounds page
 *   win.on-round (s)       what is done about the round chosen there (pages/round-detail.h)
 *   win.at-bench (s)       what is said of the unit at hand on the Bench page (pages/bench-deed.h)
 *   win.choose-person      opens the choice of who writes
 *   win.import-file (s)    a CSV file or folder, or a measuring sheet, by path
 */

#include <gtk/gtk.h>

#include "page.h"
#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_WINDOW (fettle_window_get_type ())
G_DECLARE_FINAL_TYPE (FettleWindow, fettle_window, FETTLE, WINDOW, GtkApplicationWindow)

/**
 * FettleWish:
 * @model: (nullable): code of the model to show
 * @page: (nullable): name of the page to show
 * @person: (nullable): initials of who writes
 *
 * What the command line asked for beside the book.
 */
typedef struct
{
  const char *model;
  const char *page;
  const char *person;
} FettleWish;

FettleWindow     *fettle_window_new         (GtkApplication   *application) G_GNUC_WARN_UNUSED_RESULT;
void              fettle_window_open        (FettleWindow     *self,
                                             const char       *path,
                                             gboolean          create,
                                             const FettleWish *wish);
void              fettle_window_present_soon (FettleWindow    *self);
const char       *fettle_window_get_path    (FettleWindow     *self);
FettleSitting    *fettle_window_get_sitting (FettleWindow     *self);
const FettleSpan *fettle_window_get_span    (FettleWindow     *self);
FettlePage       *fettle_window_get_page    (FettleWindow     *self);
void              fettle_window_say         (FettleWindow     *self,
                                             const char       *sentence,
                                             const char       *label,
                                             const char       *action);

G_END_DECLS
