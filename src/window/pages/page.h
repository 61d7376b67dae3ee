/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * A page of the window: one answer to one question, about the span of rounds chosen on the strip. Pages are made when
 * they are first shown. They ask the sitting for what they need off the main thread and drop an answer that has
 * been superseded. A page reaches the window by actions only ("win.show-record", see shell/window.h).
 */

#include <gtk/gtk.h>

#include "sitting.h"

G_BEGIN_DECLS

#define FETTLE_TYPE_PAGE (fettle_page_get_type ())
G_DECLARE_INTERFACE (FettlePage, fettle_page, FETTLE, PAGE, GtkWidget)

/**
 * FettleSpan:
 * @model: key of the model; 0: the book has none
 * @from: key of the first round looked at; 0: the model has no round
 * @to: key of the last round looked at; the same as @from when one round is chosen
 */
typedef struct
{
  gint64 model;
  gint64 from;
  gint64 to;
} FettleSpan;

/**
 * FettlePageInterface:
 * @set_span: the strip or the model has changed; called before the page is shown for the first time
 * @refresh: the book has changed (the sitting's signal 'changed' tells pages nothing: the window calls this for the
 *   page in view, and for the others when they come into view)
 * @show_record: bring a record into view, select it and take the focus; %FALSE when this page has no place for it
 * @get_place: (nullable): the record that is selected, or that the page is about: @show_record brings it back; the name
 *   lives as long as the program; %FALSE when there is none
 * @get_view: (nullable): which of its views the page shows, where it has several
 * @set_view: (nullable): shows that view again
 * @dup_reversal: (nullable): what undo, or redo, takes first of what was done on the page and is not in the book, without
 *   full stop; %NULL when there is none. When it answers otherwise the page calls fettle_sitting_tell_undo_changed()
 * @reverse: (nullable): takes it; %FALSE when there was nothing, so that the book comes next
 */
struct _FettlePageInterface
{
  GTypeInterface parent_iface;

  void     (*set_span)    (FettlePage       *self,
                           const FettleSpan *span);
  void     (*refresh)     (FettlePage       *self);
  gboolean (*show_record) (FettlePage       *self,
                           const char       *record,
                           gint64            key);
  gboolean (*get_place)   (FettlePage       *self,
                           const char      **record,
                           gint64           *key);
  guint    (*get_view)    (FettlePage       *self);
  void     (*set_view)    (FettlePage       *self,
                           guint             view);
  char    *(*dup_reversal) (FettlePage      *self,
                           gboolean          redo);
  gboolean (*reverse)     (FettlePage       *self,
                           gboolean          redo);
};

void     fettle_page_set_span    (FettlePage       *self,
                                  const FettleSpan *span);
void     fettle_page_refresh     (FettlePage       *self);
gboolean fettle_page_show_record (FettlePage       *self,
                                  const char       *record,
                                  gint64            key);
gboolean fettle_page_get_place   (FettlePage       *self,
                                  const char      **record,
                                  gint64           *key);
guint    fettle_page_get_view    (FettlePage       *self);
void     fettle_page_set_view    (FettlePage       *self,
                                  guint             view);
char    *fettle_page_dup_reversal (FettlePage      *self,
                                  gboolean          redo) G_GNUC_WARN_UNUSED_RESULT;
gboolean fettle_page_reverse     (FettlePage       *self,
                                  gboolean          redo);

/**
 * FettlePageKind:
 * @name: of the page in actions and settings ('standing')
 * @title: in the page list; marked with N_()
 * @accel: its shortcut ('<Alt>1')
 * @records: (nullable) (array zero-terminated=1): names of the records that @show_record can bring into view
 * @in_list: stands in the page list; %FALSE for a page that an action opens (the measuring sheet)
 * @make: makes the page; the caller takes the floating reference
 *
 * One row of the table in page-kinds.c. A new page is a row there and a file pair in this folder.
 */
typedef struct
{
  const char *name;
  const char *title;
  const char *accel;
  const char *const *records;
  gboolean in_list;
  GtkWidget *(*make) (FettleSitting *sitting);
} FettlePageKind;

const FettlePageKind *fettle_page_kinds     (guint      *n);
int                   fettle_page_kind_find (const char *name);

G_END_DECLS
