/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "page.h"

G_DEFINE_INTERFACE (FettlePage, fettle_page, GTK_TYPE_WIDGET)

static void
fettle_page_default_init (FettlePageInterface *iface)
{
}

/**
 * fettle_page_set_span:
 * @self: a page
 * @span: model and rounds now chosen
 *
 * Tells the page what to speak about.
 */
void
fettle_page_set_span (FettlePage *self, const FettleSpan *span)
{
  g_return_if_fail (FETTLE_IS_PAGE (self));

  FETTLE_PAGE_GET_IFACE (self)->set_span (self, span);
}

/**
 * fettle_page_refresh:
 * @self: a page
 *
 * The book has changed: ask again. What is shown stays until the new answer is there.
 */
void
fettle_page_refresh (FettlePage *self)
{
  g_return_if_fail (FETTLE_IS_PAGE (self));

  FETTLE_PAGE_GET_IFACE (self)->refresh (self);
}

/**
 * fettle_page_show_record:
 * @self: a page
 * @record: name of the record type ('characteristic')
 * @key: its key
 *
 * Brings a record into view and selects it.
 *
 * Returns: whether this page has a place for it
 */
gboolean
fettle_page_show_record (FettlePage *self, const char *record, gint64 key)
{
  g_return_val_if_fail (FETTLE_IS_PAGE (self), FALSE);

  if (FETTLE_PAGE_GET_IFACE (self)->show_record == NULL)
    return FALSE;
  return FETTLE_PAGE_GET_IFACE (self)->show_record (self, record, key);
}

/**
 * fettle_page_get_place:
 * @self: a page
 * @record: (out): name of the record type
 * @key: (out): its key
 *
 * What is selected on the page, so that one can come back to it.
 *
 * Returns: whether there is something
 */
gboolean
fettle_page_get_place (FettlePage *self, const char **record, gint64 *key)
{
  g_return_val_if_fail (FETTLE_IS_PAGE (self), FALSE);

  *record = NULL;
  *key = 0;
  return FETTLE_PAGE_GET_IFACE (self)->get_place != NULL && FETTLE_PAGE_GET_IFACE (self)->get_place (self, record, key);
}

/**
 * fettle_page_get_view:
 * @self: a page
 *
 * Returns: which of its views it shows; 0 where it has but one
 */
guint
fettle_page_get_view (FettlePage *self)
{
  g_return_val_if_fail (FETTLE_IS_PAGE (self), 0);

  return FETTLE_PAGE_GET_IFACE (self)->get_view != NULL ? FETTLE_PAGE_GET_IFACE (self)->get_view (self) : 0;
}

/**
 * fettle_page_set_view:
 * @self: a page
 * @view: from fettle_page_get_view()
 *
 * Shows that view again.
 */
void
fettle_page_set_view (FettlePage *self, guint view)
{
  g_return_if_fail (FETTLE_IS_PAGE (self));

  if (FETTLE_PAGE_GET_IFACE (self)->set_view != NULL)
    FETTLE_PAGE_GET_IFACE (self)->set_view (self, view);
}

/**
 * fettle_page_dup_reversal:
 * @self: a page
 * @redo: what was taken back, to be put again
 *
 * Returns: (transfer full) (nullable): what undo takes of the page before it takes anything of the book
 */
char *
fettle_page_dup_reversal (FettlePage *self, gboolean redo)
{
  g_return_val_if_fail (FETTLE_IS_PAGE (self), NULL);

  return FETTLE_PAGE_GET_IFACE (self)->dup_reversal != NULL ? FETTLE_PAGE_GET_IFACE (self)->dup_reversal (self, redo) : NULL;
}

/**
 * fettle_page_reverse:
 * @self: a page
 * @redo: what was taken back, to be put again
 *
 * Returns: whether the page had something to take back; else undo goes on to the book
 */
gboolean
fettle_page_reverse (FettlePage *self, gboolean redo)
{
  g_return_val_if_fail (FETTLE_IS_PAGE (self), FALSE);

  return FETTLE_PAGE_GET_IFACE (self)->reverse != NULL && FETTLE_PAGE_GET_IFACE (self)->reverse (self, redo);
}
