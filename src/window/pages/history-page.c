/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "history-page.h"

#include <glib/gi18n.h>
#include <string.h>

#include "book-day.h"
#include "book-models.h"
#include "choice.h"
#include "history-answer.h"
#include "history-check.h"
#include "present-journal.h"
#include "table.h"
#include "text-source.h"
#include "typed.h"
#include "unparent.h"
#include "wrap.h"

#define ACTIONS 300 /* shown at first, and more with each 'Show Older Ones' */

/* Kinds of record that people ask about, in the drop-down after 'every record'. */
static const BookRecordId kinds[] = {
  BOOK_RECORD_ISSUE,    BOOK_RECORD_FINDING,   BOOK_RECORD_CHANGE,    BOOK_RECORD_READING, BOOK_RECORD_UNIT,
  BOOK_RECORD_LIMIT,    BOOK_RECORD_REVISION,  BOOK_RECORD_ROUND,     BOOK_RECORD_CRITERION, BOOK_RECORD_CRITERION_TERM,
  BOOK_RECORD_LIFE_TEST, BOOK_RECORD_SIGNOFF,  BOOK_RECORD_WAIVER,    BOOK_RECORD_DECISION,
};

struct _FettleHistoryPage
{
  GtkBox parent_instance;

  FettleSitting    *sitting;
  FettleTextSource *actions_source;
  FettleTextSource *lines_source;
  GCancellable     *asking;
  GCancellable     *checking; /* NULL: no check is under way */
  FettleChecked    *checked;  /* what the last check found, until something else is asked */
  GPtrArray        *shown;    /* BookHistoryAction, of the last answer */
  GArray           *persons;  /* their keys, in the drop-down after 'everybody' */
  GPtrArray        *rounds;   /* BookRound, of the model in view */
  gint64            model;
  const BookRecord *record;   /* one record's history alone; NULL: by the drop-down */
  gint64            id;
  gint64            action; /* whose fields are told; 0: of the newest */
  guint             most;
  gboolean          filling; /* controls are being filled: their signals are ours */

  GtkLabel        *title;
  GtkLabel        *words;
  GtkButton       *check;
  GtkEntry        *from;
  GtkEntry        *to;
  GtkToggleButton *compare;
  GtkDropDown     *person;
  GtkDropDown     *kind;
  GtkWidget       *all;
  GtkWidget       *actions_sheet;
  FettleTable     *actions;
  GtkLabel        *heading;
  GtkWidget       *older;
  GtkWidget       *undo;
  FettleTable     *lines;
};

static void fettle_history_page_page_init (FettlePageInterface *iface);
static void ask (FettleHistoryPage *self);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleHistoryPage, fettle_history_page, GTK_TYPE_BOX,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_history_page_page_init))

/* ---- the answer ---- */

static void
fill_persons (FettleHistoryPage *self, FettleHistoryAnswer *answer)
{
  g_autoptr(GtkStringList) names = NULL;
  guint selected = gtk_drop_down_get_selected (self->person);

  if (self->persons != NULL && self->persons->len == answer->persons->len
      && memcmp (self->persons->data, answer->persons->data, self->persons->len * sizeof (gint64)) == 0)
    return;
  names = gtk_string_list_new (NULL);
  gtk_string_list_append (names, _("Everybody"));
  for (guint i = 0; i < answer->names->len; i++)
    gtk_string_list_append (names, g_ptr_array_index (answer->names, i));
  self->filling = TRUE;
  fettle_choice_set_names (self->person, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (self->person, selected <= answer->names->len ? selected : 0);
  self->filling = FALSE;
  g_clear_pointer (&self->persons, g_array_unref);
  self->persons = g_array_ref (answer->persons);
}

static FettleTableTone
tone_of (const BookHistoryAction *action)
{
  return action->undone ? FETTLE_TONE_STRUCK : action->kind == STORE_DO ? FETTLE_TONE_INK : FETTLE_TONE_FAINT;
}

static void
show_actions (FettleHistoryPage *self, GPtrArray *actions)
{
  fettle_text_source_clear (self->actions_source);
  for (guint i = 0; i < actions->len; i++)
    {
      const BookHistoryAction *action = g_ptr_array_index (actions, i);
      const BookHistoryAction *before = i > 0 ? g_ptr_array_index (actions, i - 1) : NULL;
      char *cells[PRESENT_N_ACTION_COLUMNS];

      for (guint c = 0; c < PRESENT_N_ACTION_COLUMNS; c++)
        cells[c] = present_action_cell (action, before, (PresentActionColumn) c);
      fettle_text_source_add (self->actions_source, action->id, tone_of (action), (const char *const *) cells);
      for (guint c = 0; c < PRESENT_N_ACTION_COLUMNS; c++)
        g_free (cells[c]);
    }
  fettle_text_source_show (self->actions_source);
}

static void
show_lines (FettleHistoryPage *self, GPtrArray *lines)
{
  fettle_text_source_clear (self->lines_source);
  for (guint i = 0; lines != NULL && i < lines->len; i++)
    {
      const BookHistoryLine *line = g_ptr_array_index (lines, i);
      const BookHistoryLine *before = i > 0 ? g_ptr_array_index (lines, i - 1) : NULL;
      char *cells[PRESENT_N_LINE_COLUMNS];

      for (guint c = 0; c < PRESENT_N_LINE_COLUMNS; c++)
        cells[c] = present_line_cell (line, before, (PresentLineColumn) c);
      fettle_text_source_add (self->lines_source, i + 1, FETTLE_TONE_INK, (const char *const *) cells);
      for (guint c = 0; c < PRESENT_N_LINE_COLUMNS; c++)
        g_free (cells[c]);
    }
  fettle_text_source_show (self->lines_source);
}

static const BookHistoryAction *
current (FettleHistoryPage *self)
{
  for (guint i = 0; self->shown != NULL && i < self->shown->len; i++)
    if (((const BookHistoryAction *) g_ptr_array_index (self->shown, i))->id == self->action)
      return g_ptr_array_index (self->shown, i);
  return NULL;
}

static void
show_heading (FettleHistoryPage *self, guint64 n_records)
{
  const BookHistoryAction *action = current (self);
  g_autofree char *heading = NULL;

  if (gtk_toggle_button_get_active (self->compare))
    heading = g_strdup_printf (ngettext ("%u record differs", "%u records differ", (gulong) n_records), (guint) n_records);
  else if (action != NULL && n_records > FETTLE_HISTORY_RECORDS)
    heading = g_strdup_printf (_("%s: the first %d records"), action->sentence, FETTLE_HISTORY_RECORDS);
  else if (action != NULL)
    heading = g_strdup (action->sentence);
  gtk_label_set_label (self->heading, heading != NULL ? heading : "");
  gtk_widget_set_visible (self->undo, !gtk_toggle_button_get_active (self->compare));
  gtk_widget_set_sensitive (self->undo, action != NULL && !action->undone && !action->erased);
  fettle_table_set_placeholder (self->lines, action != NULL && action->erased
                                                 ? _("What it changed was erased from the journal; that it was done stays.")
                                                 : "");
}

static void
show_answer (FettleHistoryPage *self, FettleHistoryAnswer *answer)
{
  g_autofree char *title = answer->key != NULL ? g_strdup_printf (_("History of %s %s"), book_record_label (self->record), answer->key)
                                               : g_strdup (_("History"));
  guint row;

  gtk_label_set_label (self->title, title);
  gtk_widget_set_visible (self->all, self->id != 0);
  gtk_widget_set_visible (GTK_WIDGET (self->kind), self->id == 0);
  if (self->checking == NULL && self->checked == NULL)
    gtk_label_set_label (self->words, answer->journal);
  fill_persons (self, answer);
  g_clear_pointer (&self->rounds, g_ptr_array_unref);
  self->rounds = g_ptr_array_ref (answer->rounds);
  g_clear_pointer (&self->shown, g_ptr_array_unref);
  self->shown = g_ptr_array_ref (answer->actions);
  self->action = answer->action;
  self->filling = TRUE;
  show_actions (self, answer->actions);
  if (self->action != 0 && fettle_table_source_find (FETTLE_TABLE_SOURCE (self->actions_source), self->action, &row))
    fettle_table_go (self->actions, row);
  self->filling = FALSE;
  gtk_widget_set_visible (self->older, answer->is_cut);
  gtk_widget_set_visible (self->actions_sheet, !gtk_toggle_button_get_active (self->compare));
  show_lines (self, answer->lines);
  show_heading (self, answer->n_records);
}

static void
on_answer (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleHistoryPage) self = data;
  g_autoptr(GError) error = NULL;
  g_autoptr(FettleHistoryAnswer) answer = NULL;

  if (self->sitting == NULL)
    return;
  answer = fettle_sitting_ask_finish (self->sitting, result, &error);
  if (answer != NULL)
    show_answer (self, answer);
  else
    fettle_sitting_say_error (self->sitting, error);
}

/* The day that a round of this label gives an entry; %NULL where there is no such round, "" where the day is not known. */
static const char *
day_of_round (FettleHistoryPage *self, GtkEntry *entry, const char *text)
{
  g_autofree char *folded = g_utf8_casefold (text, -1);

  for (guint i = 0; self->rounds != NULL && i < self->rounds->len; i++)
    {
      const BookRound *round = g_ptr_array_index (self->rounds, i);
      g_autofree char *label = g_utf8_casefold (round->label, -1);
      const char *first, *last, *day;

      if (!g_str_equal (label, folded))
        continue;
      book_rounds_days (round, round, &first, &last);
      day = entry == self->from ? first : last;
      return day != NULL ? day : "";
    }
  return NULL;
}

/* What stands in an entry as a day; the label of a round gives way to its first day, or its last. %FALSE where it is neither. */
static gboolean
take_day (FettleHistoryPage *self, GtkEntry *entry, char **day)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));
  const char *of_round = text[0] != '\0' && book_day_parse (text, NULL) == 0 ? day_of_round (self, entry, text) : NULL;
  gboolean ok;

  if (of_round != NULL)
    {
      fettle_typed_set (GTK_EDITABLE (entry), of_round);
      g_free (text);
      text = g_strdup (of_round);
    }
  ok = text[0] == '\0' || book_day_parse (text, NULL) != 0;
  *day = ok && text[0] != '\0' ? g_steal_pointer (&text) : NULL;
  if (ok)
    gtk_widget_remove_css_class (GTK_WIDGET (entry), "wrong");
  else
    gtk_widget_add_css_class (GTK_WIDGET (entry), "wrong");
  return ok;
}

static void
ask (FettleHistoryPage *self)
{
  FettleHistoryAsk *question = g_new0 (FettleHistoryAsk, 1);
  guint person = gtk_drop_down_get_selected (self->person), kind = gtk_drop_down_get_selected (self->kind);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (!take_day (self, self->from, &question->from) || !take_day (self, self->to, &question->to))
    {
      fettle_sitting_say (self->sitting,
                          _("That is neither a round nor a day: write a day as year-month-day, as in 2026-03-01, or leave it empty."),
                          NULL, NULL);
      fettle_history_ask_free (question);
      return;
    }
  if (self->persons != NULL && person > 0 && person <= self->persons->len)
    question->person = g_array_index (self->persons, gint64, person - 1);
  question->record = self->id != 0 ? self->record : kind > 0 && kind <= G_N_ELEMENTS (kinds) ? book_record (kinds[kind - 1]) : NULL;
  question->id = self->id;
  question->most = self->most;
  question->model = self->model;
  question->action = self->action;
  question->compare = gtk_toggle_button_get_active (self->compare);
  self->asking = g_cancellable_new ();
  fettle_sitting_ask (self->sitting, fettle_history_answer_read, question, fettle_history_ask_free, fettle_history_answer_free,
                      self->asking, on_answer, g_object_ref (self));
}

/* ---- what a person does ---- */

static void
on_moved (FettleHistoryPage *self, guint row, FettleTable *table)
{
  gint64 action = fettle_table_source_get_key (FETTLE_TABLE_SOURCE (self->actions_source), row);

  if (self->filling || action == 0 || action == self->action)
    return;
  self->action = action;
  ask (self);
}

static void
on_days (FettleHistoryPage *self)
{
  self->action = 0;
  self->most = ACTIONS;
  ask (self);
}

static void
on_chosen (FettleHistoryPage *self)
{
  if (!self->filling)
    on_days (self);
}

static void
on_compare (FettleHistoryPage *self)
{
  ask (self);
}

static void
on_all (FettleHistoryPage *self)
{
  self->record = NULL;
  self->id = 0;
  on_days (self);
  gtk_widget_grab_focus (GTK_WIDGET (self->actions));
}

static void
on_older (FettleHistoryPage *self)
{
  self->most += ACTIONS;
  ask (self);
}

static void
on_undo (FettleHistoryPage *self)
{
  const BookHistoryAction *action = current (self);

  if (action == NULL || !gtk_widget_get_visible (self->undo) || !gtk_widget_is_sensitive (self->undo))
    return;
  if (action->visit != NULL)
    fettle_sitting_take_back_all (self->sitting, action->visit, action->sentence);
  else
    fettle_sitting_take_back (self->sitting, action->id);
}

static gboolean
on_undo_shortcut (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  on_undo (FETTLE_HISTORY_PAGE (widget));
  return TRUE;
}

/* ---- checking ---- */

static void
show_findings (FettleHistoryPage *self)
{
  g_autoptr(GString) words = g_string_new (self->checked->words);

  for (guint i = 0; self->checked->findings[i] != NULL; i++)
    g_string_append_printf (words, "\n%s", self->checked->findings[i]);
  gtk_label_set_label (self->words, words->str);
}

static void
on_checked (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr(FettleHistoryPage) self = data;
  g_autoptr(GError) error = NULL;
  FettleChecked *checked = fettle_history_check_finish (result, &error);

  g_clear_object (&self->checking);
  if (self->sitting == NULL)
    {
      g_clear_pointer (&checked, fettle_checked_free);
      return;
    }
  gtk_button_set_label (self->check, _("Check the Book"));
  g_clear_pointer (&self->checked, fettle_checked_free);
  self->checked = checked;
  if (checked != NULL)
    show_findings (self);
  else if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    gtk_label_set_label (self->words, _("The check was stopped; nothing was changed."));
  else
    fettle_sitting_say (self->sitting, error->message, NULL, NULL);
}

static void
on_check_progress (double share, gpointer data)
{
  FettleHistoryPage *self = data;
  g_autofree char *words = g_strdup_printf (_("All records are made again from the journal and compared: %d %% done."), (int) fettle_progress_percent (share));

  if (self->checking != NULL && !g_cancellable_is_cancelled (self->checking) && self->sitting != NULL)
    gtk_label_set_label (self->words, words);
}

static void
on_check (FettleHistoryPage *self)
{
  g_autoptr(FettleProgress) progress = NULL;

  if (self->checking != NULL)
    {
      g_cancellable_cancel (self->checking);
      return;
    }
  g_clear_pointer (&self->checked, fettle_checked_free);
  self->checking = g_cancellable_new ();
  gtk_button_set_label (self->check, _("Stop Checking"));
  on_check_progress (0.0, self);
  progress = fettle_progress_new (on_check_progress, self);
  fettle_history_check_async (self->sitting, progress, self->checking, on_checked, g_object_ref (self));
}

/* ---- as a page ---- */

static void
fettle_history_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleHistoryPage *self = FETTLE_HISTORY_PAGE (page);

  self->model = span->model; /* the journal is the book's; the model only says which rounds can be written for days */
  ask (self);
}

static void
fettle_history_page_refresh (FettlePage *page)
{
  ask (FETTLE_HISTORY_PAGE (page));
}

static gboolean
fettle_history_page_show_record (FettlePage *page, const char *record, gint64 key)
{
  FettleHistoryPage *self = FETTLE_HISTORY_PAGE (page);

  self->record = book_record_find (record);
  if (self->record == NULL)
    return FALSE;
  self->id = key;
  on_days (self);
  gtk_widget_grab_focus (GTK_WIDGET (self->actions));
  return TRUE;
}

static gboolean
fettle_history_page_get_place (FettlePage *page, const char **record, gint64 *key)
{
  FettleHistoryPage *self = FETTLE_HISTORY_PAGE (page);

  if (self->record == NULL)
    return FALSE;
  *record = self->record->name;
  *key = self->id;
  return TRUE;
}

static void
fettle_history_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_history_page_set_span;
  iface->refresh = fettle_history_page_refresh;
  iface->show_record = fettle_history_page_show_record;
  iface->get_place = fettle_history_page_get_place;
}

static void
fettle_history_page_dispose (GObject *object)
{
  FettleHistoryPage *self = FETTLE_HISTORY_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  g_cancellable_cancel (self->checking);
  g_clear_pointer (&self->checked, fettle_checked_free);
  if (self->actions != NULL)
    fettle_table_set_source (self->actions, NULL);
  if (self->lines != NULL)
    fettle_table_set_source (self->lines, NULL);
  g_clear_object (&self->actions_source);
  g_clear_object (&self->lines_source);
  g_clear_object (&self->sitting);
  g_clear_pointer (&self->shown, g_ptr_array_unref);
  g_clear_pointer (&self->persons, g_array_unref);
  g_clear_pointer (&self->rounds, g_ptr_array_unref);
  gtk_widget_dispose_template (GTK_WIDGET (self), FETTLE_TYPE_HISTORY_PAGE);
  fettle_unparent_children (self);

  G_OBJECT_CLASS (fettle_history_page_parent_class)->dispose (object);
}

static void
fettle_history_page_class_init (FettleHistoryPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = fettle_history_page_dispose;

  g_type_ensure (FETTLE_TYPE_TABLE);
  g_type_ensure (FETTLE_TYPE_WRAP);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/history-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleHistoryPage, title);
  gtk_widget_class_bind_template_child (widget_class, FettleHistoryPage, words);
  gtk_widget_class_bind_template_child (widget_class, FettleHistoryPage, check);
  gtk_widget_class_bind_template_child (widget_class, FettleHistoryPage, from);
  gtk_widget_class_bind_template_child (widget_class, FettleHistoryPage, to);
  gtk_widget_class_bind_template_child (widget_class, FettleHistoryPage, compare);
  gtk_widget_class_bind_template_child (widget_class, FettleHistoryPage, person);
  gtk_widget_class_bind_template_child_full (widget_class, "record", FALSE, G_STRUCT_OFFSET (FettleHistoryPage, kind));
  gtk_widget_class_bind_template_child (widget_class, FettleHistoryPage, all);
  gtk_widget_class_bind_template_child (widget_class, FettleHistoryPage, actions_sheet);
  gtk_widget_class_bind_template_child (widget_class, FettleHistoryPage, actions);
  gtk_widget_class_bind_template_child (widget_class, FettleHistoryPage, heading);
  gtk_widget_class_bind_template_child (widget_class, FettleHistoryPage, older);
  gtk_widget_class_bind_template_child (widget_class, FettleHistoryPage, undo);
  gtk_widget_class_bind_template_child (widget_class, FettleHistoryPage, lines);
  gtk_widget_class_bind_template_callback (widget_class, on_check);
  gtk_widget_class_bind_template_callback (widget_class, on_days);
  gtk_widget_class_bind_template_callback (widget_class, on_compare);
  gtk_widget_class_bind_template_callback (widget_class, on_chosen);
  gtk_widget_class_bind_template_callback (widget_class, on_all);
  gtk_widget_class_bind_template_callback (widget_class, on_moved);
  gtk_widget_class_bind_template_callback (widget_class, on_older);
  gtk_widget_class_bind_template_callback (widget_class, on_undo);

  gtk_widget_class_add_binding (widget_class, GDK_KEY_d, GDK_CONTROL_MASK, on_undo_shortcut, NULL);
}

static void
set_up_tables (FettleHistoryPage *self)
{
  static const FettleTableColumn action_shapes[PRESENT_N_ACTION_COLUMNS] = {
    [PRESENT_ACTION_DAY] = { NULL, 10, FALSE, FALSE, 0 },   [PRESENT_ACTION_TIME] = { NULL, 6, FALSE, FALSE, 0 },
    [PRESENT_ACTION_PERSON] = { NULL, 5, FALSE, FALSE, 0 }, [PRESENT_ACTION_WHAT] = { NULL, 40, FALSE, TRUE, 0 },
    [PRESENT_ACTION_STATE] = { NULL, 16, FALSE, FALSE, 0 },
  };
  static const FettleTableColumn line_shapes[PRESENT_N_LINE_COLUMNS] = {
    [PRESENT_LINE_RECORD] = { NULL, 24, FALSE, FALSE, 0 }, [PRESENT_LINE_OP] = { NULL, 9, FALSE, FALSE, 900 },
    [PRESENT_LINE_FIELD] = { NULL, 14, FALSE, FALSE, 0 },  [PRESENT_LINE_BEFORE] = { NULL, 17, FALSE, FALSE, 0 },
    [PRESENT_LINE_AFTER] = { NULL, 17, FALSE, TRUE, 0 },
  };
  FettleTableColumn actions[PRESENT_N_ACTION_COLUMNS], lines[PRESENT_N_LINE_COLUMNS];

  memcpy (actions, action_shapes, sizeof actions);
  memcpy (lines, line_shapes, sizeof lines);
  for (guint i = 0; i < PRESENT_N_ACTION_COLUMNS; i++)
    actions[i].title = present_action_heading ((PresentActionColumn) i);
  for (guint i = 0; i < PRESENT_N_LINE_COLUMNS; i++)
    lines[i].title = present_line_heading ((PresentLineColumn) i);
  self->actions_source = fettle_text_source_new (actions, PRESENT_N_ACTION_COLUMNS);
  self->lines_source = fettle_text_source_new (lines, PRESENT_N_LINE_COLUMNS);
  fettle_table_set_source (self->actions, FETTLE_TABLE_SOURCE (self->actions_source));
  fettle_table_set_source (self->lines, FETTLE_TABLE_SOURCE (self->lines_source));
  fettle_table_set_placeholder (self->actions, _("Nothing was done in these days, by this person or to this kind of record."));
}

static void
fettle_history_page_init (FettleHistoryPage *self)
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  g_autoptr(GtkStringList) nobody = gtk_string_list_new (NULL);

  gtk_widget_init_template (GTK_WIDGET (self));
  self->most = ACTIONS;
  self->filling = TRUE;
  gtk_string_list_append (names, _("Every record"));
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    gtk_string_list_append (names, book_record_label (book_record (kinds[i])));
  fettle_choice_set_up (self->kind, _("Kind of record"));
  fettle_choice_set_names (self->kind, G_LIST_MODEL (names));
  gtk_string_list_append (nobody, _("Everybody"));
  fettle_choice_set_up (self->person, _("Done by"));
  fettle_choice_set_names (self->person, G_LIST_MODEL (nobody));
  self->filling = FALSE;
  set_up_tables (self);
}

/**
 * fettle_history_page_new:
 * @sitting: the window's
 *
 * Returns: (transfer floating): the page, empty until its span is set
 */
GtkWidget *
fettle_history_page_new (FettleSitting *sitting)
{
  FettleHistoryPage *self = g_object_new (FETTLE_TYPE_HISTORY_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  return GTK_WIDGET (self);
}
