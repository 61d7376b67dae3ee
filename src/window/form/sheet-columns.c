/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "sheet-columns.h"

#include <glib/gi18n.h>

#include "exchange-limit.h"
#include "choice.h"
#include "sheet-source.h"
#include "tip.h"
#include "typed.h"

static const char *const class_words[] = { "function", "safety", "appearance" };
static const char *const class_labels[] = { N_("function"), N_("safety"), N_("appearance"), NULL };

/*
 * The controls of one column. Each signal holds the line, since a control may outlive its place in the grid; @owner is
 * NULL from then on, and what it still tells means nothing.
 */
typedef struct
{
  FettleSheetColumns *owner;
  guint               column;
  GtkDropDown        *role;
  GtkEditable        *name;
  GtkEditable        *unit;
  GtkEditable        *limits;
  char               *typed_limits; /* what was typed and taken; NULL: nothing */
  GtkDropDown        *class_choice;
  GtkLabel           *reason;
} Line;

struct _FettleSheetColumns
{
  GtkWidget parent_instance;

  GtkGrid       *grid;
  ExchangeSheet *sheet; /* the page's */
  GPtrArray     *lines;
  gboolean       showing; /* the controls are being filled: their signals are ours */
};

enum
{
  SIGNAL_CORRECTED,
  SIGNAL_REFUSED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FettleSheetColumns, fettle_sheet_columns, GTK_TYPE_WIDGET)

enum
{
  AT_LETTER,
  AT_ROLE,
  AT_NAME,
  AT_UNIT,
  AT_LIMITS,
  AT_CLASS,
  AT_REASON
};

/* ---- showing ---- */

/* What was typed here, else what the sheet says. */
static char *
limits_text (const Line *line)
{
  return line->typed_limits != NULL ? g_strdup (line->typed_limits)
                                    : exchange_sheet_dup_limits (line->owner->sheet, line->column);
}

/* A field that is being typed into keeps what was typed, and so does one whose text could not be taken. */
static void
show_text (GtkEditable *entry, const char *text)
{
  GtkWidget *widget = GTK_WIDGET (entry);

  if ((gtk_widget_get_state_flags (widget) & GTK_STATE_FLAG_FOCUS_WITHIN) == 0 && !gtk_widget_has_css_class (widget, "wrong")
      && g_strcmp0 (gtk_editable_get_text (entry), text) != 0)
    fettle_typed_set (entry, text);
}

static void
show_line (Line *line)
{
  const ExchangeSheetColumn *column = exchange_sheet_get_column (line->owner->sheet, line->column);
  gboolean is_measured = column->role == EXCHANGE_COLUMN_MEASURED;
  gboolean is_characteristic = is_measured || column->role == EXCHANGE_COLUMN_CHECKED;
  g_autofree char *limits = limits_text (line);
  guint chosen = 0;

  for (guint i = 0; i < G_N_ELEMENTS (class_words); i++)
    if (g_strcmp0 (column->class_word, class_words[i]) == 0)
      chosen = i;
  gtk_drop_down_set_selected (line->role, column->role);
  gtk_drop_down_set_selected (line->class_choice, chosen);
  show_text (line->name, column->name != NULL ? column->name : "");
  show_text (line->unit, column->unit != NULL ? column->unit : "");
  show_text (line->limits, limits);
  gtk_label_set_label (line->reason, column->reason);
  fettle_tip_set (GTK_WIDGET (line->reason), column->reason);
  gtk_widget_set_visible (GTK_WIDGET (line->name), is_characteristic);
  gtk_widget_set_visible (GTK_WIDGET (line->class_choice), is_characteristic);
  gtk_widget_set_visible (GTK_WIDGET (line->unit), is_measured);
  gtk_widget_set_visible (GTK_WIDGET (line->limits), is_measured);
}

/**
 * fettle_sheet_columns_understood:
 * @self: the columns
 *
 * The sheet was understood anew: shows what it says now.
 */
void
fettle_sheet_columns_understood (FettleSheetColumns *self)
{
  self->showing = TRUE;
  for (guint i = 0; i < self->lines->len; i++)
    show_line (g_ptr_array_index (self->lines, i));
  self->showing = FALSE;
}

/* ---- correcting ---- */

static void
corrected (Line *line)
{
  g_signal_emit (line->owner, signals[SIGNAL_REFUSED], 0, NULL);
  g_signal_emit (line->owner, signals[SIGNAL_CORRECTED], 0);
}

static gboolean
is_ours (Line *line)
{
  return line->owner == NULL || line->owner->sheet == NULL || line->owner->showing;
}

static void
on_role (GtkDropDown *choice, GParamSpec *spec, Line *line)
{
  if (is_ours (line))
    return;
  if (gtk_drop_down_get_selected (choice) == EXCHANGE_COLUMN_SERIAL)
    exchange_sheet_set_serial_column (line->owner->sheet, line->column);
  else
    exchange_sheet_set_column_role (line->owner->sheet, line->column, gtk_drop_down_get_selected (choice));
  corrected (line);
}

static void
on_class (GtkDropDown *choice, GParamSpec *spec, Line *line)
{
  if (is_ours (line))
    return;
  exchange_sheet_set_column_class (line->owner->sheet, line->column, class_words[gtk_drop_down_get_selected (choice)]);
  corrected (line);
}

/* Returns FALSE, and says why, when the text is no limit; it stays in its field. */
static gboolean
take_limits (Line *line, const char *text)
{
  char sign = exchange_sheet_get_decimal_sign (line->owner->sheet);
  ExchangeLimit limit;

  exchange_limit_init (&limit);
  if (text[0] != '\0' && !exchange_limit_read (text, sign, &limit))
    {
      g_autofree char *sentence =
          g_strdup_printf (_("'%s' is no limit: write 12.5 ±0.1, 12.4 … 12.6, max 5 or ≥ 30, or leave it empty."), text);

      gtk_widget_add_css_class (GTK_WIDGET (line->limits), "wrong");
      g_signal_emit (line->owner, signals[SIGNAL_REFUSED], 0, sentence);
      return FALSE;
    }
  gtk_widget_remove_css_class (GTK_WIDGET (line->limits), "wrong");
  g_free (line->typed_limits);
  line->typed_limits = g_strdup (text);
  exchange_sheet_set_column_limits (line->owner->sheet, line->column, limit.nominal, limit.lower, limit.upper);
  corrected (line);
  return TRUE;
}

static void
settle (Line *line, GtkEditable *entry, const char *text)
{
  gtk_widget_remove_css_class (GTK_WIDGET (entry), "wrong");
  g_signal_emit (line->owner, signals[SIGNAL_REFUSED], 0, NULL);
  if (g_strcmp0 (gtk_editable_get_text (entry), text) != 0)
    fettle_typed_set (entry, text);
}

/*
 * Enter or leaving a field takes what was typed; text that says what the sheet says already changes nothing, and a name
 * cannot be nothing. FALSE when it cannot be taken.
 */
static gboolean
take_field (Line *line, GtkEditable *entry)
{
  const ExchangeSheetColumn *column = exchange_sheet_get_column (line->owner->sheet, line->column);
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (entry)));
  g_autofree char *limits = limits_text (line);
  const char *name = column->name != NULL ? column->name : "", *unit = column->unit != NULL ? column->unit : "";

  if (entry == line->limits)
    {
      if (g_strcmp0 (text, limits) != 0)
        return take_limits (line, text);
      settle (line, entry, limits);
      return TRUE;
    }
  if (entry == line->name && g_strcmp0 (text, name) != 0 && text[0] != '\0')
    exchange_sheet_set_column_name (line->owner->sheet, line->column, text);
  else if (entry == line->unit && g_strcmp0 (text, unit) != 0)
    exchange_sheet_set_column_unit (line->owner->sheet, line->column, text);
  else
    {
      settle (line, entry, entry == line->name ? name : unit);
      return TRUE;
    }
  settle (line, entry, text);
  corrected (line);
  return TRUE;
}

static void
on_activate (GtkEntry *entry, Line *line)
{
  if (!is_ours (line))
    take_field (line, GTK_EDITABLE (entry));
}

static void
on_leave (GtkEventControllerFocus *controller, Line *line)
{
  GtkWidget *entry = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller));

  if (!is_ours (line))
    take_field (line, GTK_EDITABLE (entry));
}

/**
 * fettle_sheet_columns_finish:
 * @self: the columns
 *
 * Takes what stands in the fields; one that cannot be taken gets the focus, and its sentence is said again.
 *
 * Returns: whether everything was taken
 */
gboolean
fettle_sheet_columns_finish (FettleSheetColumns *self)
{
  if (self->sheet == NULL)
    return FALSE;
  for (guint i = 0; i < self->lines->len; i++)
    {
      Line *line = g_ptr_array_index (self->lines, i);
      GtkEditable *const fields[] = { line->name, line->unit, line->limits };

      for (guint j = 0; j < G_N_ELEMENTS (fields); j++)
        if (gtk_widget_get_visible (GTK_WIDGET (fields[j])) && !take_field (line, fields[j]))
          {
            gtk_widget_grab_focus (GTK_WIDGET (fields[j]));
            return FALSE;
          }
    }
  return TRUE;
}

/* ---- making ---- */

static void
line_clear (gpointer data)
{
  Line *line = data;

  g_free (line->typed_limits);
}

static void
line_release (gpointer data, GClosure *closure)
{
  g_rc_box_release_full (data, line_clear);
}

static void
connect_line (gpointer object, const char *signal, GCallback callback, Line *line)
{
  g_signal_connect_data (object, signal, callback, g_rc_box_acquire (line), line_release, 0);
}

static void
line_leave (gpointer data)
{
  Line *line = data;

  line->owner = NULL;
  line_release (line, NULL);
}

static GtkEditable *
add_entry (Line *line, int at, int letters, const char *key, const char *label, const char *letter)
{
  GtkWidget *entry = gtk_entry_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  /* Translators: a column of a measuring sheet and one of its fields: 'C, unit' */
  g_autofree char *name = g_strdup_printf (_("%s, %s"), letter, label);
  g_autofree char *css_name = g_strdup_printf ("%s-%u", key, line->column);

  gtk_widget_set_name (entry, css_name);
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), letters);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), letters);
  gtk_entry_set_max_length (GTK_ENTRY (entry), 120);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  connect_line (entry, "activate", G_CALLBACK (on_activate), line);
  connect_line (focus, "leave", G_CALLBACK (on_leave), line);
  gtk_widget_add_controller (entry, focus);
  gtk_grid_attach (line->owner->grid, entry, at, (int) line->column + 1, 1, 1);
  return GTK_EDITABLE (entry);
}

static GtkDropDown *
add_choice (Line *line, int at, const char *const *words, const char *key, const char *label, const char *letter, GCallback changed)
{
  GtkWidget *choice = gtk_drop_down_new_from_strings (words);
  g_autofree char *name = g_strdup_printf (_("%s, %s"), letter, label);
  g_autofree char *css_name = g_strdup_printf ("%s-%u", key, line->column);

  gtk_widget_set_name (choice, css_name);
  gtk_widget_set_valign (choice, GTK_ALIGN_CENTER);
  fettle_choice_set_up (GTK_DROP_DOWN (choice), name);
  connect_line (choice, "notify::selected", changed, line);
  gtk_grid_attach (line->owner->grid, choice, at, (int) line->column + 1, 1, 1);
  return GTK_DROP_DOWN (choice);
}

static GtkWidget *
add_label (FettleSheetColumns *self, int at, int row, const char *words, const char *css_class)
{
  GtkWidget *label = gtk_label_new (words);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_widget_add_css_class (label, css_class);
  gtk_grid_attach (self->grid, label, at, row, 1, 1);
  return label;
}

static Line *
line_new (FettleSheetColumns *self, guint column)
{
  const char *roles[EXCHANGE_N_COLUMN_ROLES + 1] = { NULL };
  const char *classes[G_N_ELEMENTS (class_labels)] = { NULL };
  g_autofree char *letter = fettle_sheet_letter (column);
  g_autofree char *place = exchange_sheet_place (-1, (int) column);
  Line *line = g_rc_box_new0 (Line);

  for (guint i = 0; i < EXCHANGE_N_COLUMN_ROLES; i++)
    roles[i] = exchange_column_role_label (i);
  for (guint i = 0; class_labels[i] != NULL; i++)
    classes[i] = _(class_labels[i]);

  line->owner = self;
  line->column = column;
  add_label (self, AT_LETTER, (int) column + 1, letter, "dim");
  line->role = add_choice (line, AT_ROLE, roles, "role", _("is"), place, G_CALLBACK (on_role));
  line->name = add_entry (line, AT_NAME, 20, "name", _("name"), place);
  line->unit = add_entry (line, AT_UNIT, 5, "unit", _("unit"), place);
  line->limits = add_entry (line, AT_LIMITS, 13, "limits", _("limits"), place);
  line->class_choice = add_choice (line, AT_CLASS, classes, "class", _("class"), place, G_CALLBACK (on_class));
  line->reason = GTK_LABEL (add_label (self, AT_REASON, (int) column + 1, "", "dim"));
  gtk_widget_add_css_class (GTK_WIDGET (line->reason), "small");
  gtk_label_set_ellipsize (line->reason, PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (GTK_WIDGET (line->reason), TRUE);
  return line;
}

static void
add_heads (FettleSheetColumns *self)
{
  static const char *const heads[] = { "", N_("is"), N_("name"), N_("unit"), N_("limits"), N_("class"), N_("because") };

  for (guint i = 1; i < G_N_ELEMENTS (heads); i++)
    gtk_widget_add_css_class (add_label (self, (int) i, 0, _(heads[i]), "dim"), "small");
}

/**
 * fettle_sheet_columns_set_sheet:
 * @self: the columns
 * @sheet: (nullable): the sheet, which must outlive what is shown of it
 */
void
fettle_sheet_columns_set_sheet (FettleSheetColumns *self, ExchangeSheet *sheet)
{
  GtkWidget *child;

  self->sheet = NULL;
  g_ptr_array_set_size (self->lines, 0); /* fields that lose the focus while they go take nothing */
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->grid))) != NULL)
    gtk_grid_remove (self->grid, child);
  self->sheet = sheet;
  if (sheet == NULL)
    return;
  self->showing = TRUE;
  add_heads (self);
  for (guint i = 0; i < exchange_sheet_count_columns (sheet); i++)
    g_ptr_array_add (self->lines, line_new (self, i));
  fettle_sheet_columns_understood (self);
}

static void
fettle_sheet_columns_dispose (GObject *object)
{
  FettleSheetColumns *self = FETTLE_SHEET_COLUMNS (object);

  self->sheet = NULL;
  g_clear_pointer (&self->lines, g_ptr_array_unref);
  if (self->grid != NULL)
    {
      gtk_widget_unparent (GTK_WIDGET (self->grid));
      self->grid = NULL;
    }

  G_OBJECT_CLASS (fettle_sheet_columns_parent_class)->dispose (object);
}

static void
fettle_sheet_columns_class_init (FettleSheetColumnsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = fettle_sheet_columns_dispose;

  signals[SIGNAL_CORRECTED] = g_signal_new ("corrected", FETTLE_TYPE_SHEET_COLUMNS, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                            NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_REFUSED] = g_signal_new ("refused", FETTLE_TYPE_SHEET_COLUMNS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                          G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
fettle_sheet_columns_init (FettleSheetColumns *self)
{
  self->lines = g_ptr_array_new_with_free_func (line_leave);
  self->grid = GTK_GRID (gtk_grid_new ());
  gtk_grid_set_column_spacing (self->grid, 8);
  gtk_grid_set_row_spacing (self->grid, 4);
  gtk_widget_set_parent (GTK_WIDGET (self->grid), GTK_WIDGET (self));
}
