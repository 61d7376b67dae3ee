/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "welcome-page.h"

#include <glib/gi18n.h>

#include "demo.h"
#include "recent.h"
#include "tip.h"
#include "unparent.h"

#define MOST_RECENT 5

struct _FettleWelcomePage
{
  GtkWidget parent_instance;

  GtkLabel  *title;
  GtkBox    *offers;
  GtkBox    *recent;
  gboolean   has_book;
  gboolean   filled;
};

G_DEFINE_FINAL_TYPE (FettleWelcomePage, fettle_welcome_page, GTK_TYPE_WIDGET)

/* @without_book, @with_book: in which of the two states it is offered. */
typedef struct
{
  const char *action;
  const char *title;
  const char *words;
  gboolean    without_book;
  gboolean    with_book;
  gboolean (*is_there) (void);
} Offer;

static const Offer offers[] = {
  { "win.new", N_("New Book…"), N_("An empty file for your workshop's models; paste or import into it next."), TRUE, FALSE, NULL },
  { "win.open", N_("Open a Book…"), N_("A file that ends in .fettle; or drop one on this window."), TRUE, FALSE, NULL },
  { "win.paste-sheet", N_("Paste a Measuring Sheet"),
    N_("Units down, characteristics across, as you keep it: copy it in your spreadsheet, then press this."), FALSE, TRUE, NULL },
  { "win.import", N_("Import Files…"),
    N_("CSV files named after what they hold (unit.csv, reading.csv), or a measuring sheet."), FALSE, TRUE, NULL },
  { "win.new-model", N_("Set Up a Model…"),
    N_("Typed into forms: first its code and name, then its parts, characteristics and limits."), FALSE, TRUE, NULL },
  { "win.demo", N_("Open the Demo"),
    N_("An invented workshop with a folding saw that is nearly ready. All of its figures are invented."), TRUE, TRUE,
    fettle_demo_is_there },
};

static GtkWidget *
make_offer (const Offer *offer)
{
  GtkWidget *button = g_object_new (GTK_TYPE_BUTTON, "action-name", offer->action, "name", offer->action,
                                    "css-classes", (const char *[]){ "offer", NULL }, NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *title = g_object_new (GTK_TYPE_LABEL, "label", _(offer->title), "xalign", 0.0f,
                                   "css-classes", (const char *[]){ "section", NULL }, NULL);
  GtkWidget *words = g_object_new (GTK_TYPE_LABEL, "label", _(offer->words), "xalign", 0.0f, "wrap", TRUE,
                                   "max-width-chars", 58, "css-classes", (const char *[]){ "dim", NULL }, NULL);

  gtk_box_append (GTK_BOX (box), title);
  gtk_box_append (GTK_BOX (box), words);
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, _(offer->title),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, _(offer->words), -1);
  return button;
}

static void
show_recent (FettleWelcomePage *self)
{
  g_autoptr(GPtrArray) books = NULL;

  gtk_widget_set_visible (GTK_WIDGET (self->recent), FALSE);
  if (self->has_book)
    return;

  books = fettle_recent_list (MOST_RECENT);
  for (guint i = 0; i < books->len; i++)
    {
      const FettleRecent *recent = g_ptr_array_index (books, i);
      GtkWidget *button = g_object_new (GTK_TYPE_BUTTON, "label", recent->name, "halign", GTK_ALIGN_START,
                                        "action-name", "win.open-path",
                                        "action-target", g_variant_new_string (recent->path),
                                        "css-classes", (const char *[]){ "words", NULL }, NULL);

      fettle_tip_set (button, recent->path);
      gtk_box_append (self->recent, button);
    }
  gtk_widget_set_visible (GTK_WIDGET (self->recent), books->len > 0);
}

static void
fettle_welcome_page_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), FETTLE_TYPE_WELCOME_PAGE);
  fettle_unparent_children (object);
  G_OBJECT_CLASS (fettle_welcome_page_parent_class)->dispose (object);
}

static void
fettle_welcome_page_class_init (FettleWelcomePageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_welcome_page_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/welcome-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleWelcomePage, title);
  gtk_widget_class_bind_template_child (widget_class, FettleWelcomePage, offers);
  gtk_widget_class_bind_template_child (widget_class, FettleWelcomePage, recent);
}

static void
fettle_welcome_page_init (FettleWelcomePage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

/**
 * fettle_welcome_page_new:
 *
 * Returns: the page; fettle_welcome_page_set_has_book() fills it
 */
GtkWidget *
fettle_welcome_page_new (void)
{
  return g_object_new (FETTLE_TYPE_WELCOME_PAGE, "name", "welcome", NULL);
}

/**
 * fettle_welcome_page_set_has_book:
 * @self: the page
 * @has_book: whether the window holds a book, an empty one
 *
 * Offers the steps that can be taken now.
 */
void
fettle_welcome_page_set_has_book (FettleWelcomePage *self, gboolean has_book)
{
  g_return_if_fail (FETTLE_IS_WELCOME_PAGE (self));

  if (self->filled && self->has_book == has_book)
    return;

  self->filled = TRUE;
  self->has_book = has_book;
  gtk_label_set_label (self->title, has_book ? _("An empty book") : "Fettle");
  fettle_unparent_children (self->offers);
  for (gsize i = 0; i < G_N_ELEMENTS (offers); i++)
    if ((has_book ? offers[i].with_book : offers[i].without_book)
        && (offers[i].is_there == NULL || offers[i].is_there ()))
      gtk_box_append (self->offers, make_offer (&offers[i]));
  show_recent (self);
}
