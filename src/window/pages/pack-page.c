/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "pack-page.h"

#include <glib/gi18n.h>

#include "paper-leaf.h"
#include "paper-pack.h"
#include "store-reader.h"
#include "today.h"
#include "unparent.h"

struct _FettlePackPage
{
  GtkWidget parent_instance;

  GtkScrolledWindow *scroll;
  GtkLabel          *state;
  GtkWidget         *sheets; /* a leaf each */

  FettleSitting *sitting;
  FettleSpan     span;
  GCancellable  *asking;
};

static void fettle_pack_page_page_init (FettlePageInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettlePackPage, fettle_pack_page, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_pack_page_page_init))

/* ---- in the thread of a reader of its own: other pages go on asking theirs ---- */

typedef struct
{
  PaperPackAsk ask;
  char        *today;
  Book        *book; /* held by the sitting, which the task holds */
} Ask;

typedef struct
{
  GPtrArray *sheets; /* (element-type cairo_surface_t) */
  double     width;  /* points */
  double     height;
} Answer;

static void
ask_free (gpointer data)
{
  Ask *ask = data;

  g_free (ask->today);
  g_free (ask);
}

static void
answer_free (gpointer data)
{
  Answer *answer = data;

  g_ptr_array_unref (answer->sheets);
  g_free (answer);
}

static gpointer
draw (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  g_autoptr(PaperDocument) document = paper_pack_document (db, &((Ask *) data)->ask, cancellable, error);
  Answer *answer;

  if (document == NULL || g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  answer = g_new0 (Answer, 1);
  answer->sheets = paper_document_to_sheets (document);
  answer->width = paper_document_width (document);
  answer->height = paper_document_height (document);
  return answer;
}

static void
work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Ask *ask = data;
  GError *error = NULL;
  g_autoptr(StoreReader) reader = store_reader_new (book_get_store (ask->book), &error);
  Answer *answer = reader != NULL ? store_reader_run (reader, draw, ask, cancellable, &error) : NULL;

  if (answer != NULL)
    g_task_return_pointer (task, answer, answer_free);
  else
    g_task_return_error (task, error);
}

/* ---- the pages ---- */

/* Those within one screen of what is seen are painted. */
static void
follow_scrolling (FettlePackPage *self)
{
  const double height = gtk_adjustment_get_page_size (gtk_scrolled_window_get_vadjustment (self->scroll));

  for (GtkWidget *leaf = gtk_widget_get_first_child (self->sheets); leaf != NULL; leaf = gtk_widget_get_next_sibling (leaf))
    {
      graphene_rect_t bounds;

      if (gtk_widget_compute_bounds (leaf, GTK_WIDGET (self->scroll), &bounds))
        fettle_paper_leaf_set_near (FETTLE_PAPER_LEAF (leaf), bounds.origin.y < 2.0 * height && bounds.origin.y + bounds.size.height > -height);
    }
}

/* Where the pages lie is known once they have been given their places. */
static gboolean
follow_later (gpointer user_data)
{
  g_autoptr(FettlePackPage) self = FETTLE_PACK_PAGE (user_data);

  if (self->sitting != NULL)
    follow_scrolling (self);
  return G_SOURCE_REMOVE;
}

static void
on_answer (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettlePackPage) self = FETTLE_PACK_PAGE (user_data);
  g_autoptr(GError) error = NULL;
  Answer *answer = g_task_propagate_pointer (G_TASK (result), &error);
  g_autofree char *words = NULL;

  if (answer == NULL)
    {
      if (self->sitting != NULL)
        fettle_sitting_say_error (self->sitting, error);
      return;
    }
  if (self->sitting != NULL)
    {
      fettle_unparent_children (self->sheets);
      for (guint i = 0; i < answer->sheets->len; i++)
        {
          g_autofree char *label = g_strdup_printf (_("Page %u of %u"), i + 1, answer->sheets->len);

          gtk_box_append (GTK_BOX (self->sheets), fettle_paper_leaf_new (answer->sheets->pdata[i], answer->width, answer->height, label));
        }
      words = g_strdup_printf (ngettext ("%u page, as it will be printed", "%u pages, as they will be printed", answer->sheets->len),
                               answer->sheets->len);
      gtk_label_set_label (self->state, words);
      g_idle_add_full (G_PRIORITY_LOW, follow_later, g_object_ref (self), NULL);
    }
  answer_free (answer);
}

static void
ask (FettlePackPage *self)
{
  Ask *asked;
  g_autoptr(GTask) task = NULL;

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->span.model == 0)
    return;
  self->asking = g_cancellable_new ();
  asked = g_new0 (Ask, 1);
  asked->today = fettle_today ();
  asked->book = fettle_sitting_get_book (self->sitting);
  asked->ask = (PaperPackAsk) { .model = self->span.model, .through = self->span.to, .today = asked->today, .size = PAPER_SIZE_OF_BOOK,
                                .book = store_get_uuid (book_get_store (asked->book)) };
  task = g_task_new (self->sitting, self->asking, on_answer, g_object_ref (self));
  g_task_set_source_tag (task, ask);
  g_task_set_task_data (task, asked, ask_free);
  gtk_label_set_label (self->state, _("The pack is being put together."));
  g_task_run_in_thread (task, work);
}

static void
fettle_pack_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettlePackPage *self = FETTLE_PACK_PAGE (page);
  gboolean same = self->span.model == span->model && self->span.to == span->to;

  self->span = *span;
  if (!same)
    ask (self);
}

static void
fettle_pack_page_refresh (FettlePage *page)
{
  ask (FETTLE_PACK_PAGE (page));
}

static void
fettle_pack_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_pack_page_set_span;
  iface->refresh = fettle_pack_page_refresh;
}

static void
fettle_pack_page_dispose (GObject *object)
{
  FettlePackPage *self = FETTLE_PACK_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_PACK_PAGE);
  fettle_unparent_children (self);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_pack_page_parent_class)->dispose (object);
}

static void
fettle_pack_page_class_init (FettlePackPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_pack_page_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/pack-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettlePackPage, scroll);
  gtk_widget_class_bind_template_child (widget_class, FettlePackPage, state);
  gtk_widget_class_bind_template_child (widget_class, FettlePackPage, sheets);
}

static void
fettle_pack_page_init (FettlePackPage *self)
{
  GtkAdjustment *adjustment;

  gtk_widget_init_template (GTK_WIDGET (self));
  adjustment = gtk_scrolled_window_get_vadjustment (self->scroll);
  g_signal_connect_object (adjustment, "value-changed", G_CALLBACK (follow_scrolling), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (adjustment, "changed", G_CALLBACK (follow_scrolling), self, G_CONNECT_SWAPPED);
}

/**
 * fettle_pack_page_new:
 * @sitting: whose book
 *
 * Returns: the page, empty until a span is set
 */
GtkWidget *
fettle_pack_page_new (FettleSitting *sitting)
{
  FettlePackPage *self = g_object_new (FETTLE_TYPE_PACK_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}
