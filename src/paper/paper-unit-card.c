/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-bench-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "insight-as-built.h"
#include "present-unit.h"

#define ROW 18.0 /* a card is more printed than written */

static void
set_parts (PaperFlow *flow, const InsightAsBuilt *built)
{
  const PaperFormColumn columns[] = { { .head = _("Part or step"), .share = 3.0 },
                                      { .head = _("Revision"), .share = 1.0, .is_strong = TRUE },
                                      { .head = _("Lot"), .share = 1.4, .is_strong = TRUE },
                                      { .head = _("Planned otherwise"), .share = 2.0 } };
  g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
  guint n = PRESENT_BUILT_PLANNED; /* columns: what was planned is told where something was built otherwise */

  if (built->parts->len == 0)
    return;
  for (guint i = 0; i < built->parts->len; i++)
    if (((const InsightBuiltPart *) built->parts->pdata[i])->differs)
      n = PRESENT_N_BUILT_COLUMNS;
  for (guint i = 0; i < built->parts->len; i++)
    for (guint c = 0; c < n; c++)
      g_ptr_array_add (cells, present_built_cell (built->parts->pdata[i], (PresentBuiltColumn) c));
  bench_heading (flow, _("As built"), paper_flow_form_least (flow, columns, n, (const char *const *) cells->pdata, ROW));
  paper_flow_form (flow, columns, n, (const char *const *) cells->pdata, built->parts->len, ROW);
}

/* The day on which the unit last passed a step; "" while it has not. */
static char *
passed_on (const BookEvidence *e, int unit, int step)
{
  BookDay day = 0;

  for (guint i = 0; i < e->n_events; i++)
    if (e->events[i].unit == unit && e->events[i].step == step && e->events[i].kind == BOOK_EVENT_PASSED)
      day = MAX (day, e->events[i].day);
  return day > 1 ? book_day_format (day) : g_strdup ("");
}

static void
set_route (const Bench *bench, PaperFlow *flow, int unit)
{
  const BookEvidence *e = bench->evidence;
  const PaperFormColumn columns[] = { { .head = _("Step"), .share = 3.0 },
                                      { .head = _("Bench"), .share = 1.8 },
                                      { .head = _("Passed on"), .share = 1.7 },
                                      { .head = _("Initials"), .share = 0.9 },
                                      { .head = _("Remarks"), .share = 1.6 } };
  g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);

  if (e->n_steps == 0)
    return;
  for (guint s = 0; s < e->n_steps; s++)
    {
      g_ptr_array_add (cells, g_strdup_printf ("%d %s", e->steps[s].position, e->steps[s].name));
      g_ptr_array_add (cells, g_strdup (bench_of_step (bench, &e->steps[s])));
      g_ptr_array_add (cells, passed_on (e, unit, (int) s));
      g_ptr_array_add (cells, g_strdup (""));
      g_ptr_array_add (cells, g_strdup (""));
    }
  bench_heading (flow, _("Steps"), paper_flow_form_least (flow, columns, G_N_ELEMENTS (columns), (const char *const *) cells->pdata, ROW));
  paper_flow_form (flow, columns, G_N_ELEMENTS (columns), (const char *const *) cells->pdata, e->n_steps, ROW);
}

static void
set_measures (const Bench *bench, PaperFlow *flow, int unit)
{
  const InsightSheet *sheet = bench->sheet;
  const PaperFormColumn columns[] = { { .head = _("Characteristic"), .share = 2.6 },
                                      { .head = _("Limits"), .share = 2.4, .is_strong = TRUE },
                                      { .head = _("Gauge"), .share = 1.7 },
                                      { .head = _("Measured"), .share = 1.3, .is_number = TRUE },
                                      { .head = _("Initials"), .share = 0.9 } };
  g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
  int row = insight_sheet_find (sheet, unit);
  gboolean is_cautious = FALSE;
  guint n = 0;

  for (guint c = 0; row >= 0 && c < sheet->columns->len; c++)
    {
      const InsightSheetColumn *column = &g_array_index (sheet->columns, InsightSheetColumn, c);
      const InsightSheetCell *cell = insight_sheet_cell (sheet, (guint) row, c);

      if (cell->state == INSIGHT_SHEET_LEFT_OUT)
        continue;
      is_cautious |= column->klass == BOOK_CLASS_SAFETY || column->is_life;
      g_ptr_array_add (cells, g_strdup_printf ("%s %s", column->code, column->name));
      g_ptr_array_add (cells, bench_limits (column));
      g_ptr_array_add (cells, g_strdup (column->gauge));
      g_ptr_array_add (cells, bench_cell (column, cell));
      g_ptr_array_add (cells, g_strdup (""));
      n++;
    }
  if (n == 0)
    return;
  bench_heading (flow, _("To be measured"),
                 paper_flow_form_least (flow, columns, G_N_ELEMENTS (columns), (const char *const *) cells->pdata, ROW));
  paper_flow_form (flow, columns, G_N_ELEMENTS (columns), (const char *const *) cells->pdata, n, ROW);
  if (is_cautious)
    bench_say_caution (bench, flow);
}

static gboolean
is_closed (const BookEvidence *e, gint64 issue)
{
  int number = book_evidence_find (e, issues, issue);

  return number >= 0 && e->issues[number].closed != 0;
}

/* Why it is not as others are: what was altered, why it came back, and issues on it that nobody has closed. */
static void
set_story (const Bench *bench, PaperFlow *flow, const InsightAsBuilt *built)
{
  g_autoptr(GPtrArray) lines = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < built->events->len; i++)
    {
      const InsightBuiltEvent *event = built->events->pdata[i];
      g_autofree char *what = NULL, *why = NULL;

      if (event->kind != BOOK_EVENT_ALTERED && event->kind != BOOK_EVENT_SENT_BACK && event->kind != BOOK_EVENT_SET_ASIDE
          && event->kind != BOOK_EVENT_SCRAPPED && event->kind != BOOK_EVENT_LENT)
        continue;
      what = present_event_cell (event, PRESENT_EVENT_WHAT);
      why = present_event_cell (event, PRESENT_EVENT_WHY);
      g_ptr_array_add (lines, g_strdup_printf ("%s %s%s%s", event->date, what, why[0] != '\0' ? ": " : "", why));
    }
  for (guint i = 0; i < built->findings->len; i++)
    {
      const InsightBuiltFinding *finding = built->findings->pdata[i];
      const BookChoice *decided = book_choice_by_code (book_dispositions, finding->disposition);

      if (!is_closed (bench->evidence, finding->issue))
        g_ptr_array_add (lines, g_strdup_printf (_("Issue %d, %s: %s"), finding->issue_no, finding->issue_title,
                                                 decided != NULL ? book_choice_label (decided) : _("not decided yet")));
    }
  if (lines->len == 0)
    return;
  bench_heading (flow, _("What is known of it"), 20.0);
  for (guint i = 0; i < lines->len; i++)
    bench_paragraph (flow, lines->pdata[i]);
}

static void
set_card (const Bench *bench, PaperFlow *flow, int unit)
{
  g_autoptr(InsightAsBuilt) built = insight_as_built (bench->evidence, bench->evidence->units[unit].id);

  bench_begin (bench, flow, bench->evidence->units[unit].serial);
  if (built == NULL)
    return;
  if (built->part[0] != '\0')
    bench_paragraph (flow, built->part);
  set_story (bench, flow, built);
  set_parts (flow, built);
  set_route (bench, flow, unit);
  set_measures (bench, flow, unit);
}

/* One card, or those of all units of the round, each with pages of its own. */
void
bench_set_unit_cards (const Bench *bench, PaperFlow *flow)
{
  const BookEvidence *e = bench->evidence;

  if (bench->unit >= 0)
    {
      set_card (bench, flow, bench->unit);
      return;
    }
  for (guint u = 0; u < e->n_units; u++)
    if (e->units[u].round == bench->round && e->units[u].part < 0)
      set_card (bench, flow, (int) u);
}
