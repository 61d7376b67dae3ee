/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-bench-private.h"

#include <glib/gi18n-lib.h>

#include "present-change.h"
#include "present-number.h"

static void
set_items (const Bench *bench, PaperFlow *flow, const InsightChange *change)
{
  const PaperFormColumn columns[] = { { .head = _("What"), .share = 2.6 },
                                      { .head = _("Old"), .share = 2.0 },
                                      { .head = _("New"), .share = 2.0, .is_strong = TRUE },
                                      { .head = _("Done"), .share = 0.7 } };
  g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);

  bench_heading (flow, _("From old to new"), paper_flow_form_least (flow, columns, G_N_ELEMENTS (columns), NULL, PAPER_FORM_ROW));
  if (change->n_items == 0)
    {
      bench_paragraph (flow, _("Nobody has written down yet what becomes of what."));
      return;
    }
  for (guint i = 0; i < change->n_items; i++)
    {
      const BookChangeListItem *item = &bench->changes->list->items[change->items + i];
      g_autofree char *old = present_item_old (item);
      g_autofree char *new = present_item_new (item);
      gboolean tells_old = item->old[0] != '\0' && g_strcmp0 (item->old, old) != 0;
      gboolean tells_new = item->new[0] != '\0' && g_strcmp0 (item->new, new) != 0;

      g_ptr_array_add (cells, present_item_name (item));
      g_ptr_array_add (cells, g_strdup_printf ("%s%s%s", old, tells_old ? "\n" : "", tells_old ? item->old : ""));
      g_ptr_array_add (cells, g_strdup_printf ("%s%s%s", new, tells_new ? "\n" : "", tells_new ? item->new : ""));
      g_ptr_array_add (cells, g_strdup ("☐"));
    }
  paper_flow_form (flow, columns, G_N_ELEMENTS (columns), (const char *const *) cells->pdata, change->n_items, PAPER_FORM_ROW);
}

static const InsightSheetColumn *
find_column (const InsightSheet *sheet, gint64 characteristic)
{
  for (guint c = 0; sheet != NULL && c < sheet->columns->len; c++)
    if (g_array_index (sheet->columns, InsightSheetColumn, c).id == characteristic)
      return &g_array_index (sheet->columns, InsightSheetColumn, c);
  return NULL;
}

/* What becomes of the readings, in a word: who carried over stays in the book. */
static const char *
touch_words (InsightChangeTouchKind kind)
{
  switch (kind)
    {
    case INSIGHT_TOUCH_AGAIN:
      return _("measure again");
    case INSIGHT_TOUCH_CARRIED:
      return _("carried over");
    case INSIGHT_TOUCH_LACKS_SECOND:
      return _("measure again, until a second person agrees to carry it over");
    case INSIGHT_TOUCH_JUDGED_ANEW:
      return _("readings stay, judged by the new limits");
    }
  return "";
}

static void
set_touches (const Bench *bench, PaperFlow *flow, const InsightChange *change)
{
  const PaperFormColumn columns[] = { { .head = _("Characteristic"), .share = 2.6, .is_strong = TRUE },
                                      { .head = _("Limits in force"), .share = 2.0 },
                                      { .head = _("Its readings"), .share = 2.6 },
                                      { .head = _("Done"), .share = 0.7 } };
  const BookEvidence *e = bench->evidence;
  g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(InsightSheet) sheet = e->n_rounds > 0 ? insight_sheet_new (e, e->rounds[e->n_rounds - 1].id, bench->ask->today) : NULL;
  gboolean is_cautious = FALSE;

  bench_heading (flow, _("What it means for what was measured"),
                 paper_flow_form_least (flow, columns, G_N_ELEMENTS (columns), NULL, PAPER_FORM_ROW));
  if (change->touches->len == 0)
    {
      bench_paragraph (flow, _("Nothing that is measured depends on what is changed, as far as the book says."));
      return;
    }
  for (guint i = 0; i < change->touches->len; i++)
    {
      const InsightChangeTouch *touch = &g_array_index (change->touches, InsightChangeTouch, i);
      const InsightSheetColumn *column = find_column (sheet, touch->characteristic);

      is_cautious |= touch->klass == BOOK_CLASS_SAFETY;
      g_ptr_array_add (cells, g_strdup_printf ("%s %s", touch->code, touch->name));
      g_ptr_array_add (cells, column != NULL ? bench_limits (column) : g_strdup (""));
      g_ptr_array_add (cells, g_strdup (touch_words (touch->kind)));
      g_ptr_array_add (cells, g_strdup (touch->kind == INSIGHT_TOUCH_AGAIN || touch->kind == INSIGHT_TOUCH_LACKS_SECOND ? "☐" : "–"));
    }
  paper_flow_form (flow, columns, G_N_ELEMENTS (columns), (const char *const *) cells->pdata, change->touches->len, PAPER_FORM_ROW);
  if (is_cautious)
    bench_say_caution (bench, flow);
}

static void
set_signing (PaperFlow *flow)
{
  const PaperFormColumn columns[] = { { .head = "", .share = 1.6, .is_strong = TRUE },
                                      { .head = _("Name"), .share = 2.0 },
                                      { .head = _("Day"), .share = 1.2 },
                                      { .head = _("Signature"), .share = 2.4 } };
  const char *const cells[] = { _("Designed"), "", "", "", _("Agreed"), "", "", "", _("Carried out"), "", "", "", _("Looked over"), "", "", "" };
  guint rows = G_N_ELEMENTS (cells) / G_N_ELEMENTS (columns);

  bench_heading (flow, _("Signed"), paper_flow_form_least (flow, columns, G_N_ELEMENTS (columns), NULL, PAPER_FORM_ROW * rows * 1.2));
  paper_flow_form (flow, columns, G_N_ELEMENTS (columns), cells, rows, PAPER_FORM_ROW * 1.2);
}

void
bench_set_change_notice (const Bench *bench, PaperFlow *flow)
{
  int index = insight_changes_find (bench->changes, bench->ask->change);
  const InsightChange *change = &g_array_index (bench->changes->changes, InsightChange, index);
  const BookChangeListChange *data = change->data;
  g_autofree char *title = g_strdup_printf (_("Change %d: %s"), data->no, data->title);
  g_autofree char *state = g_strdup_printf (_("State: %s."), present_change_state_words (change->state));
  g_autofree char *from = NULL;

  bench_begin (bench, flow, title);
  if (data->from_label[0] != '\0' && data->from_serial[0] != '\0')
    from = g_strdup_printf (_("From round %s on, beginning with unit %s."), data->from_label, data->from_serial);
  else if (data->from_label[0] != '\0')
    from = g_strdup_printf (_("From round %s on."), data->from_label);
  else
    from = g_strdup (_("Nobody has said yet from which round or unit on."));
  paper_flow_paragraph (flow, PAPER_TEXT_STRONG, PAPER_INK, 0.0, from);
  bench_paragraph (flow, state);
  if (data->withdrawn_reason[0] != '\0')
    bench_paragraph (flow, data->withdrawn_reason);
  bench_heading (flow, _("Why"), 20.0);
  bench_paragraph (flow, data->reason[0] != '\0' ? data->reason : _("No reason is written down."));
  for (guint i = 0; i < change->n_issues; i++)
    {
      const BookChangeListIssue *issue = &bench->changes->list->issues[change->issues + i];
      g_autofree char *line = g_strdup_printf (_("It answers issue %d, %s."), issue->no, issue->title);

      bench_paragraph (flow, line);
    }
  if (data->expected_effect[0] != '\0')
    {
      g_autofree char *expected = g_strdup_printf (_("Expected: %s"), data->expected_effect);

      bench_paragraph (flow, expected);
    }
  set_items (bench, flow, change);
  set_touches (bench, flow, change);
  set_signing (flow);
}
