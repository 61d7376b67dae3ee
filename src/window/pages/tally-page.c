/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "tally-page.h"

#include <glib/gi18n.h>

#include "book-tally.h"
#include "choice.h"
#include "issue-raise.h"
#include "record-form.h"
#include "remembered.h"
#include "sheet-view.h"
#include "tally-answer.h"
#include "tally-keys.h"
#include "tally-taps.h"
#include "today.h"
#include "unparent.h"
#include "words.h"

#define ROUNDS "tally-rounds" /* settings */
#define STEPS  "tally-steps"
#define TEN    10

struct _FettleTallyPage
{
  GtkBox parent_instance;

  FettleSitting     *sitting;
  FettleSpan         span;
  FettleTallyAnswer *answer; /* shown */
  GCancellable      *asking;
  gint64             round;
  gint64             step;
  BookTallyKind      last;    /* what was tapped last */
  guint              last_n;  /* how many, to be named by an issue at once */
  FettleTallyTaps   *taps;
  gint64             row;     /* that the form of minutes shows */
  gboolean           filling;
  gboolean           awaited; /* the keys get the keyboard once they are there */

  GtkWidget        *content;
  GtkDropDown      *round_choice;
  GtkDropDown      *step_choice;
  GtkLabel         *lead;
  GtkLabel         *yield;
  GtkWidget        *keys;
  GtkGrid          *grid;
  GtkLabel         *said;
  GtkLabel         *why;
  GtkGrid          *issues;
  FettleTallyKeys  *pad; /* in both grids */
  GtkWidget        *raise_place;
  GtkWidget        *minutes_place;
  FettleIssueRaise *raise;
  FettleRecordForm *minutes;
  FettleSheetView  *sheet;
};

static void fettle_tally_page_page_init (FettlePageInterface *iface);
static void ask (FettleTallyPage *self);

G_DEFINE_FINAL_TYPE_WITH_CODE (FettleTallyPage, fettle_tally_page, GTK_TYPE_BOX,
                               G_IMPLEMENT_INTERFACE (FETTLE_TYPE_PAGE, fettle_tally_page_page_init))

static void
tell (FettleTallyPage *self, const char *sentence)
{
  gtk_label_set_label (self->said, sentence);
}

static void
on_told (const char *sentence, gpointer data)
{
  tell (FETTLE_TALLY_PAGE (data), sentence);
}

/* ---- the answer ---- */

static void
fill_choices (FettleTallyPage *self)
{
  const BookEvidence *e = self->answer->evidence;
  g_autoptr(GtkStringList) rounds = gtk_string_list_new (NULL), steps = gtk_string_list_new (NULL);
  guint round = GTK_INVALID_LIST_POSITION;

  for (guint i = 0; i < self->answer->rounds->len; i++)
    for (guint r = 0; r < e->n_rounds; r++)
      if (e->rounds[r].id == g_array_index (self->answer->rounds, gint64, i))
        {
          gtk_string_list_append (rounds, e->rounds[r].label);
          if ((int) r == self->answer->data->round)
            round = i;
        }
  for (guint s = 0; s < e->n_steps; s++)
    {
      g_autofree char *name = g_strdup_printf ("%d %s", e->steps[s].position, e->steps[s].name);

      gtk_string_list_append (steps, name);
    }
  self->filling = TRUE;
  fettle_choice_show_names (self->round_choice, rounds, round);
  fettle_choice_show_names (self->step_choice, steps, self->answer->data->step >= 0 ? (guint) self->answer->data->step : GTK_INVALID_LIST_POSITION);
  gtk_widget_set_visible (GTK_WIDGET (self->round_choice), self->answer->rounds->len > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->step_choice), e->n_steps > 0);
  self->filling = FALSE;
}

static void
show_minutes (FettleTallyPage *self)
{
  gint64 row = self->answer->refusal == NULL ? self->answer->data->row : 0;

  gtk_widget_set_visible (self->minutes_place, row != 0);
  if (row == self->row)
    return; /* somebody may be typing */
  self->row = row;
  if (row != 0)
    fettle_record_form_show (self->minutes, row);
}

static void
show_answer (FettleTallyPage *self)
{
  const FettleTallyAnswer *answer = self->answer;
  gboolean can = answer->refusal == NULL;

  fill_choices (self);
  self->round = answer->data->round >= 0 ? answer->evidence->rounds[answer->data->round].id : 0;
  self->step = answer->data->step >= 0 ? answer->evidence->steps[answer->data->step].id : 0;
  gtk_label_set_label (self->lead, can ? answer->today : answer->refusal);
  fettle_words_show (self->yield, answer->yield);
  gtk_widget_set_visible (self->keys, can);
  if (can)
    {
      fettle_tally_keys_show (self->pad, answer->data);
      fettle_tally_keys_show_ten (self->pad, self->last);
      gtk_label_set_label (self->why, *answer->unnamed != '\0' ? answer->unnamed : _("What took pieces away"));
    }
  show_minutes (self);
  gtk_widget_set_visible (GTK_WIDGET (self->sheet), FALSE);
  if (answer->words != NULL)
    fettle_sheet_view_set (self->sheet, answer->words->steps);
  gtk_widget_set_visible (self->content, TRUE);
  if (self->awaited && can)
    fettle_tally_keys_focus (self->pad);
  self->awaited = FALSE;
}

static void
on_answer (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr(FettleTallyPage) self = FETTLE_TALLY_PAGE (user_data);
  g_autoptr(GError) error = NULL;
  FettleTallyAnswer *answer = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);

  if (answer == NULL)
    {
      fettle_sitting_say_error (FETTLE_SITTING (source), error);
      return;
    }
  if (self->sitting == NULL)
    {
      fettle_tally_answer_free (answer);
      return;
    }
  fettle_tally_answer_free (self->answer);
  self->answer = answer;
  show_answer (self);
}

static void
ask (FettleTallyPage *self)
{
  FettleTallyAsk *question;

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->span.model == 0)
    return;
  self->asking = g_cancellable_new ();
  question = g_new0 (FettleTallyAsk, 1);
  *question = (FettleTallyAsk){ self->span.model, self->round, self->step, fettle_sitting_get_person (self->sitting), fettle_today () };
  fettle_sitting_ask (self->sitting, fettle_tally_answer_read, question, fettle_tally_ask_free, fettle_tally_answer_free, self->asking,
                      on_answer, g_object_ref (self));
}

/* ---- taps ---- */

/* @said: (transfer full) */
static void
store (FettleTallyPage *self, BookEdit *edit, char *said)
{
  const BookEvidence *e = self->answer->evidence;
  const int step = self->answer->data->step;
  g_autofree char *where = step >= 0 ? g_strdup_printf ("%d %s", e->steps[step].position, e->steps[step].name) : g_strdup ("");

  fettle_tally_taps_store (self->taps, edit, where, said);
}

static gboolean
can_count (FettleTallyPage *self)
{
  return self->answer != NULL && self->answer->refusal == NULL && fettle_sitting_need_person (self->sitting);
}

static void
count (FettleTallyPage *self, BookTallyKind kind, int n)
{
  if (!can_count (self))
    return;
  self->last = kind;
  self->last_n = n > 0 ? (guint) n : 1;
  fettle_tally_keys_show_ten (self->pad, kind);
  store (self, book_tally_count (self->step, self->round, kind, n),
         /* Translators: what was counted and how many, as in 'Good: 1 more. Backspace takes it back.' */
         n > 0 ? g_strdup_printf (_("%s: %d more. Backspace takes it back."), fettle_tally_keys_label (kind), n)
               : g_strdup_printf (_("%s: %d back. Backspace counts them again."), fettle_tally_keys_label (kind), -n));
}

static void
on_count (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleTallyPage *self = FETTLE_TALLY_PAGE (widget);
  BookTallyKind kind = (BookTallyKind) g_variant_get_int32 (parameter);

  if (kind >= BOOK_TALLY_WAITING_GOOD && self->answer != NULL && self->answer->data->waiting_all == 0)
    tell (self, _("Nothing waits for rework at this step."));
  else
    count (self, kind, 1);
}

static void
on_ten (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleTallyPage *self = FETTLE_TALLY_PAGE (widget);

  count (self, self->last, TEN * g_variant_get_int32 (parameter));
}

static void
on_undo (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleTallyPage *self = FETTLE_TALLY_PAGE (widget);

  if (fettle_tally_taps_undo (self->taps))
    self->last_n = 1;
}

/* ---- issues ---- */

static void
blame (FettleTallyPage *self, gint64 issue, const char *title)
{
  guint n;

  if (!can_count (self))
    return;
  n = MIN (self->last_n, self->answer->data->unnamed);
  if (n == 0)
    {
      tell (self, _("All that you counted here today has its issue: tap first what became of the piece."));
      return;
    }
  store (self, book_tally_blame (self->answer->data->row, issue, (int) n),
         g_strdup_printf (ngettext ("%s: %u piece. Backspace takes it back.", "%s: %u pieces. Backspace takes it back.", n), title, n));
  self->last_n = 1;
}

static void
on_issue (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleTallyPage *self = FETTLE_TALLY_PAGE (widget);
  guint number = (guint) g_variant_get_int32 (parameter);
  const InsightTallyIssue *issue;

  if (self->answer == NULL || number >= self->answer->data->issues->len)
    return;
  issue = &g_array_index (self->answer->data->issues, InsightTallyIssue, number);
  blame (self, issue->id, issue->title);
}

static void
on_new_issue (GtkWidget *widget, const char *action, GVariant *parameter)
{
  FettleTallyPage *self = FETTLE_TALLY_PAGE (widget);
  FettleSpan span = self->span;

  if (!can_count (self))
    return;
  span.from = span.to = self->round;
  fettle_issue_raise_begin (self->raise, &span);
}

/* It is there: what was tapped last was because of it. */
static void
on_raised (FettleTallyPage *self, gint64 issue)
{
  if (self->answer != NULL && self->answer->data->unnamed > 0)
    blame (self, issue, _("The new issue"));
}

static void
on_raise_closing (FettleTallyPage *self)
{
  if ((gtk_widget_get_state_flags (GTK_WIDGET (self->raise)) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0)
    fettle_tally_keys_focus (self->pad);
}

/* From the menu: what the key of that word does. */
static void
on_act (GtkWidget *widget, const char *action, GVariant *parameter)
{
  fettle_tally_keys_act (widget, g_variant_get_string (parameter, NULL));
}

/* ---- what a person chooses ---- */

static void
on_round (FettleTallyPage *self)
{
  guint selected = gtk_drop_down_get_selected (self->round_choice);

  if (self->filling || self->answer == NULL || selected >= self->answer->rounds->len)
    return;
  self->round = g_array_index (self->answer->rounds, gint64, selected);
  fettle_remembered_set (ROUNDS, fettle_sitting_get_person (self->sitting), self->round);
  tell (self, "");
  ask (self);
}

static void
on_step (FettleTallyPage *self)
{
  guint selected = gtk_drop_down_get_selected (self->step_choice);

  if (self->filling || self->answer == NULL || selected >= self->answer->evidence->n_steps)
    return;
  self->step = self->answer->evidence->steps[selected].id;
  fettle_remembered_set (STEPS, fettle_sitting_get_person (self->sitting), self->step);
  self->last = BOOK_TALLY_GOOD;
  tell (self, "");
  ask (self);
}

static void
remember (FettleTallyPage *self)
{
  gint64 person = fettle_sitting_get_person (self->sitting);
  gint64 round = fettle_remembered_get (ROUNDS, person), step = fettle_remembered_get (STEPS, person);

  self->round = round != 0 ? round : self->round;
  self->step = step != 0 ? step : self->step;
}

static void
on_person_changed (FettleTallyPage *self)
{
  remember (self);
  ask (self);
}

/* ---- as a page ---- */

static void
fettle_tally_page_set_span (FettlePage *page, const FettleSpan *span)
{
  FettleTallyPage *self = FETTLE_TALLY_PAGE (page);

  if (self->span.model != span->model)
    {
      fettle_issue_raise_close (self->raise);
      self->round = self->step = 0;
      remember (self);
      tell (self, "");
    }
  self->span = *span;
  ask (self);
}

static void
fettle_tally_page_refresh (FettlePage *page)
{
  fettle_tally_taps_refresh (FETTLE_TALLY_PAGE (page)->taps);
  ask (FETTLE_TALLY_PAGE (page));
}

static void
fettle_tally_page_page_init (FettlePageInterface *iface)
{
  iface->set_span = fettle_tally_page_set_span;
  iface->refresh = fettle_tally_page_refresh;
}

/* The digits count only where the keyboard is in the page. */
static gboolean
fettle_tally_page_grab_focus (GtkWidget *widget)
{
  FettleTallyPage *self = FETTLE_TALLY_PAGE (widget);

  self->awaited = self->answer == NULL;
  if (self->answer != NULL && self->answer->refusal == NULL)
    fettle_tally_keys_focus (self->pad);
  return TRUE;
}

static void
fettle_tally_page_dispose (GObject *object)
{
  FettleTallyPage *self = FETTLE_TALLY_PAGE (object);

  g_cancellable_cancel (self->asking);
  g_clear_object (&self->asking);
  if (self->raise != NULL)
    g_signal_handlers_disconnect_by_data (self->raise, self);
  self->raise = NULL;
  g_clear_pointer (&self->taps, fettle_tally_taps_end);
  g_clear_object (&self->sitting);
  g_clear_pointer (&self->answer, fettle_tally_answer_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), FETTLE_TYPE_TALLY_PAGE);
  fettle_unparent_children (self);
  G_OBJECT_CLASS (fettle_tally_page_parent_class)->dispose (object);
}

static void
fettle_tally_page_finalize (GObject *object)
{
  fettle_tally_keys_free (FETTLE_TALLY_PAGE (object)->pad);
  G_OBJECT_CLASS (fettle_tally_page_parent_class)->finalize (object);
}

/* Another page is looked at: what was tapped here is one thing from now on. */
static void
fettle_tally_page_unmap (GtkWidget *widget)
{
  GtkWidget *window = GTK_WIDGET (gtk_widget_get_root (widget));

  /* A window that goes tells nobody of its actions any more. */
  if (FETTLE_TALLY_PAGE (widget)->taps != NULL && window != NULL && gtk_widget_get_visible (window) && !gtk_widget_in_destruction (window))
    fettle_tally_taps_leave (FETTLE_TALLY_PAGE (widget)->taps);
  GTK_WIDGET_CLASS (fettle_tally_page_parent_class)->unmap (widget);
}

static void
fettle_tally_page_class_init (FettleTallyPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = fettle_tally_page_dispose;
  widget_class->grab_focus = fettle_tally_page_grab_focus;
  G_OBJECT_CLASS (class)->finalize = fettle_tally_page_finalize;
  widget_class->unmap = fettle_tally_page_unmap;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/fettle/Fettle/tally-page.ui");
  gtk_widget_class_bind_template_child (widget_class, FettleTallyPage, content);
  gtk_widget_class_bind_template_child (widget_class, FettleTallyPage, round_choice);
  gtk_widget_class_bind_template_child (widget_class, FettleTallyPage, step_choice);
  gtk_widget_class_bind_template_child (widget_class, FettleTallyPage, lead);
  gtk_widget_class_bind_template_child (widget_class, FettleTallyPage, yield);
  gtk_widget_class_bind_template_child (widget_class, FettleTallyPage, keys);
  gtk_widget_class_bind_template_child (widget_class, FettleTallyPage, grid);
  gtk_widget_class_bind_template_child (widget_class, FettleTallyPage, said);
  gtk_widget_class_bind_template_child (widget_class, FettleTallyPage, why);
  gtk_widget_class_bind_template_child (widget_class, FettleTallyPage, issues);
  gtk_widget_class_bind_template_child (widget_class, FettleTallyPage, raise_place);
  gtk_widget_class_bind_template_child (widget_class, FettleTallyPage, minutes_place);
  gtk_widget_class_bind_template_callback (widget_class, on_round);
  gtk_widget_class_bind_template_callback (widget_class, on_step);
  gtk_widget_class_install_action (widget_class, "tally.count", "i", on_count);
  gtk_widget_class_install_action (widget_class, "tally.ten", "i", on_ten);
  gtk_widget_class_install_action (widget_class, "tally.undo", NULL, on_undo);
  gtk_widget_class_install_action (widget_class, "tally.issue", "i", on_issue);
  gtk_widget_class_install_action (widget_class, "tally.new-issue", NULL, on_new_issue);
  gtk_widget_class_install_action (widget_class, "tally.act", "s", on_act);
  fettle_tally_keys_bind (widget_class);
}

static void
fettle_tally_page_init (FettleTallyPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->last_n = 1;
  self->pad = fettle_tally_keys_new (self->grid, self->issues);
  fettle_choice_set_up (self->round_choice, _("Round"));
  fettle_choice_set_up (self->step_choice, _("Step"));
  self->sheet = FETTLE_SHEET_VIEW (fettle_sheet_view_new ("tally-steps"));
  gtk_box_append (GTK_BOX (self->content), GTK_WIDGET (self->sheet));
}

/**
 * fettle_tally_page_new:
 * @sitting: whose book
 *
 * Returns: (transfer floating): the page, empty until a span is set
 */
GtkWidget *
fettle_tally_page_new (FettleSitting *sitting)
{
  static const char *const minutes[] = { "minutes", "setup_minutes", "rework_minutes", NULL };
  FettleTallyPage *self = g_object_new (FETTLE_TYPE_TALLY_PAGE, NULL);

  self->sitting = g_object_ref (sitting);
  self->taps = fettle_tally_taps_new (sitting, on_told, G_OBJECT (self));
  remember (self);
  self->raise = FETTLE_ISSUE_RAISE (fettle_issue_raise_new (sitting));
  gtk_box_append (GTK_BOX (self->raise_place), GTK_WIDGET (self->raise));
  g_signal_connect_swapped (self->raise, "raised", G_CALLBACK (on_raised), self);
  g_signal_connect_swapped (self->raise, "closing", G_CALLBACK (on_raise_closing), self);
  self->minutes = FETTLE_RECORD_FORM (fettle_record_form_new (sitting, BOOK_RECORD_TALLY, minutes));
  gtk_box_append (GTK_BOX (self->minutes_place), GTK_WIDGET (self->minutes));
  g_signal_connect_object (sitting, "person-changed", G_CALLBACK (on_person_changed), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}
