/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-measure.h"

#include <glib/gi18n.h>

#include "book-edit.h"
#include "present-bench.h"
#include "today.h"
#include "typed.h"
#include "words.h"

/* One reading to be taken; @wanted has its texts from here. */
typedef struct
{
  InsightBenchWanted wanted;
  char              *code;
  char              *name;
  char              *unit;
} Item;

struct _FettleBenchMeasure
{
  GtkWidget parent_instance;

  FettleSitting *sitting;
  GArray        *items; /* Item */
  gint64         unit;
  gint64         current; /* characteristic that is asked for */
  gboolean       storing;
  gboolean       filling;

  GtkWidget *box;
  GtkLabel  *prompt;
  GtkWidget *entry;
  GtkLabel  *rest;
  GtkLabel  *said;
};

enum { CLOSED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleBenchMeasure, fettle_bench_measure, GTK_TYPE_WIDGET)

static void
item_clear (gpointer data)
{
  Item *item = data;

  g_free (item->code);
  g_free (item->name);
  g_free (item->unit);
}

static int
find_current (FettleBenchMeasure *self)
{
  for (guint i = 0; i < self->items->len; i++)
    if (g_array_index (self->items, Item, i).wanted.characteristic == self->current)
      return (int) i;
  return self->items->len > 0 ? 0 : -1;
}

static char *
draft_name (FettleBenchMeasure *self)
{
  return g_strdup_printf ("bench-measure-%" G_GINT64_FORMAT "-%" G_GINT64_FORMAT, self->unit, self->current);
}

static void
tell (FettleBenchMeasure *self, const char *sentence)
{
  fettle_words_show (self->said, sentence);
}

/* Asks for one of the items; what was typed for it before is there again. */
static void
go (FettleBenchMeasure *self, int number)
{
  const Item *item = &g_array_index (self->items, Item, (guint) number);
  g_autofree char *prompt = present_bench_prompt (&item->wanted);
  g_autofree char *rest = g_strdup_printf (_("%d of %u"), number + 1, self->items->len);
  gboolean same = self->current == item->wanted.characteristic;
  g_autofree char *name = NULL;
  const char *draft;

  self->current = item->wanted.characteristic;
  gtk_label_set_label (self->prompt, prompt);
  gtk_label_set_label (self->rest, rest);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL, prompt, -1);
  if (same)
    return; /* somebody is typing */
  name = draft_name (self);
  draft = fettle_drafts_get (fettle_sitting_get_drafts (self->sitting), name);
  self->filling = TRUE;
  fettle_typed_set (GTK_EDITABLE (self->entry), draft != NULL ? draft : "");
  gtk_editable_set_position (GTK_EDITABLE (self->entry), -1);
  self->filling = FALSE;
}

static void
on_changed (FettleBenchMeasure *self)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->entry));
  g_autofree char *name = draft_name (self);

  if (!self->filling)
    fettle_drafts_keep (fettle_sitting_get_drafts (self->sitting), name, *typed != '\0' ? typed : NULL);
}

/* ---- storing ---- */

typedef struct
{
  FettleBenchMeasure *self;
  gint64              characteristic;
  char               *sentence;
} Storing;

static void
storing_free (Storing *storing)
{
  g_object_unref (storing->self);
  g_free (storing->sentence);
  g_free (storing);
}

static void
remove_item (FettleBenchMeasure *self, gint64 characteristic)
{
  for (guint i = 0; i < self->items->len; i++)
    if (g_array_index (self->items, Item, i).wanted.characteristic == characteristic)
      {
        g_array_remove_index (self->items, i);
        self->current = 0;
        if (self->items->len > 0)
          go (self, (int) MIN (i, self->items->len - 1));
        return;
      }
}

static void
on_stored (GObject *source, GAsyncResult *result, gpointer data)
{
  Storing *storing = data;
  FettleBenchMeasure *self = storing->self;
  g_autoptr(GError) error = NULL;
  gboolean stored = fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error);

  self->storing = FALSE;
  if (self->box != NULL && !stored && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    tell (self, error->message);
  if (self->box != NULL && stored)
    {
      if (self->current == storing->characteristic)
        fettle_typed_set (GTK_EDITABLE (self->entry), ""); /* and its draft goes */
      tell (self, storing->sentence);
      remove_item (self, storing->characteristic);
      if (self->items->len == 0)
        g_signal_emit (self, signals[CLOSED], 0);
    }
  storing_free (storing);
}

static void
on_activate (FettleBenchMeasure *self)
{
  int at = find_current (self);
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->entry));
  g_autofree char *today = fettle_today ();
  g_autoptr(GError) error = NULL;
  const InsightBenchWanted *wanted;
  BookTyped reading;
  Storing *storing;

  if (at < 0 || self->storing)
    return;
  wanted = &g_array_index (self->items, Item, (guint) at).wanted;
  if (!book_typed_parse (wanted->kind, typed, &reading, &error))
    {
      tell (self, *typed != '\0' ? error->message : _("Type the value, or leave it out with the Down key."));
      return;
    }
  storing = g_new0 (Storing, 1);
  storing->self = g_object_ref (self);
  storing->characteristic = wanted->characteristic;
  storing->sentence = present_bench_read (wanted, typed, insight_bench_is_outside (wanted, reading.mark, reading.value));
  self->storing = TRUE;
  fettle_sitting_edit (self->sitting, book_edit_reading (self->unit, wanted->characteristic, wanted->attempt, wanted->n, &reading, today),
                       on_stored, storing);
}

/* ---- keys ---- */

static gboolean
on_move (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  FettleBenchMeasure *self = FETTLE_BENCH_MEASURE (widget);
  int at = find_current (self) + g_variant_get_int32 (arguments);

  if (at >= 0 && at < (int) self->items->len)
    go (self, at);
  return TRUE;
}

static gboolean
on_escape (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  g_signal_emit (widget, signals[CLOSED], 0);
  return TRUE;
}

/**
 * fettle_bench_measure_show:
 * @self: the line
 * @unit: whose readings are asked for from now on
 *
 * With the same unit as before it stays at what is asked for, as long as that is not read.
 */
void
fettle_bench_measure_show (FettleBenchMeasure *self, const InsightBenchUnit *unit)
{
  g_return_if_fail (FETTLE_IS_BENCH_MEASURE (self));

  if (unit->unit != self->unit)
    {
      self->current = 0;
      tell (self, "");
    }
  self->unit = unit->unit;
  g_array_set_size (self->items, 0);
  for (guint i = 0; i < unit->wanted->len; i++)
    {
      Item item = { g_array_index (unit->wanted, InsightBenchWanted, i), NULL, NULL, NULL };

      if (item.wanted.life)
        continue;
      item.wanted.code = item.code = g_strdup (item.wanted.code);
      item.wanted.name = item.name = g_strdup (item.wanted.name);
      item.wanted.unit = item.unit = g_strdup (item.wanted.unit);
      g_array_append_val (self->items, item);
    }
  if (self->items->len > 0)
    go (self, find_current (self));
  else
    g_signal_emit (self, signals[CLOSED], 0);
}

/**
 * fettle_bench_measure_dup_last:
 * @self: the line
 *
 * Returns: (transfer full) (nullable): what is said of the last reading, once nothing more is asked for
 */
char *
fettle_bench_measure_dup_last (FettleBenchMeasure *self)
{
  g_return_val_if_fail (FETTLE_IS_BENCH_MEASURE (self), NULL);

  return self->items->len == 0 && gtk_widget_get_visible (GTK_WIDGET (self->said)) ? g_strdup (gtk_label_get_label (self->said)) : NULL;
}

void
fettle_bench_measure_focus (FettleBenchMeasure *self)
{
  g_return_if_fail (FETTLE_IS_BENCH_MEASURE (self));

  gtk_widget_grab_focus (self->entry);
}

static void
fettle_bench_measure_dispose (GObject *object)
{
  FettleBenchMeasure *self = FETTLE_BENCH_MEASURE (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->sitting);
  G_OBJECT_CLASS (fettle_bench_measure_parent_class)->dispose (object);
}

static void
fettle_bench_measure_finalize (GObject *object)
{
  g_array_unref (FETTLE_BENCH_MEASURE (object)->items);
  G_OBJECT_CLASS (fettle_bench_measure_parent_class)->finalize (object);
}

static void
fettle_bench_measure_class_init (FettleBenchMeasureClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_bench_measure_dispose;
  G_OBJECT_CLASS (class)->finalize = fettle_bench_measure_finalize;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, on_escape, NULL);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Down, 0, on_move, "i", 1);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Up, 0, on_move, "i", -1);
  signals[CLOSED] = g_signal_new ("closed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fettle_bench_measure_init (FettleBenchMeasure *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  self->items = g_array_new (FALSE, FALSE, sizeof (Item));
  g_array_set_clear_func (self->items, item_clear);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->prompt = g_object_new (GTK_TYPE_LABEL, "name", "measure-prompt", "xalign", 0.0f, "wrap", TRUE, NULL);
  self->entry = g_object_new (GTK_TYPE_ENTRY, "name", "measure-value", "width-chars", 12, "max-width-chars", 16, NULL);
  self->rest = g_object_new (GTK_TYPE_LABEL, "name", "measure-rest", "xalign", 0.0f, "hexpand", TRUE, "css-classes",
                             (const char *[]){ "dim", NULL }, NULL);
  self->said = g_object_new (GTK_TYPE_LABEL, "name", "measure-said", "xalign", 0.0f, "wrap", TRUE, "visible", FALSE, "css-classes",
                             (const char *[]){ "open", NULL }, NULL);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->prompt));
  gtk_box_append (GTK_BOX (line), self->entry);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->rest));
  gtk_box_append (GTK_BOX (self->box), line);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->said));
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (on_activate), self);
  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (on_changed), self);
}

/**
 * fettle_bench_measure_new:
 * @sitting: the window's
 *
 * Returns: (transfer floating): the line, empty until a unit is shown
 */
GtkWidget *
fettle_bench_measure_new (FettleSitting *sitting)
{
  FettleBenchMeasure *self = g_object_new (FETTLE_TYPE_BENCH_MEASURE, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}
