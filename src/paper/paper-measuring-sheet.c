/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-bench-private.h"

#include <glib/gi18n-lib.h>

/*
 * Units down and characteristics across, in the order of the grid that they are typed into. What does not fit side by side
 * goes on in a block below, with the serials again; blocks are about equally wide.
 */

#define COLUMN_WIDTH       57.0 /* 20 mm: five figures by hand */
#define COLUMN_WIDTH_SMALL 52.0
#define SERIAL_LEAST       40.0 /* to be written by hand where no unit has one yet */
#define SERIAL_MOST        130.0

static double
serial_width (const Bench *bench, PaperFlow *flow)
{
  double width = SERIAL_LEAST;

  for (guint r = 0; r < bench->sheet->rows->len; r++)
    {
      double needed = paper_flow_form_width (flow, g_array_index (bench->sheet->rows, InsightSheetRow, r).serial);

      width = MAX (width, needed);
    }
  return MIN (width, SERIAL_MOST);
}

static void
set_block (const Bench *bench, PaperFlow *flow, double serials, const guint *shown, guint n)
{
  const InsightSheet *sheet = bench->sheet;
  g_autofree PaperFormColumn *columns = g_new0 (PaperFormColumn, n + 1);
  g_autoptr(GPtrArray) heads = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
  double width = (paper_flow_width (flow) - serials) / n;

  columns[0] = (PaperFormColumn) { .code = _("Unit"), .head = "", .share = serials, .is_strong = TRUE };
  for (guint i = 0; i < n; i++)
    {
      const InsightSheetColumn *column = &g_array_index (sheet->columns, InsightSheetColumn, shown[i]);
      g_autofree char *limits = bench_limits (column);
      char *head = g_strdup_printf ("%s\n%s%s%s", column->name, limits, column->gauge[0] != '\0' ? "\n" : "", column->gauge);

      g_ptr_array_add (heads, head);
      columns[i + 1] = (PaperFormColumn) { .code = column->code, .head = head, .share = width, .is_number = TRUE };
    }
  for (guint r = 0; r < sheet->rows->len; r++)
    {
      g_ptr_array_add (cells, g_strdup (g_array_index (sheet->rows, InsightSheetRow, r).serial));
      for (guint i = 0; i < n; i++)
        g_ptr_array_add (cells, bench_cell (&g_array_index (sheet->columns, InsightSheetColumn, shown[i]),
                                            insight_sheet_cell (sheet, r, shown[i])));
    }
  paper_flow_form (flow, columns, n + 1, (const char *const *) cells->pdata, sheet->rows->len, PAPER_FORM_ROW);
}

void
bench_set_measuring_sheet (const Bench *bench, PaperFlow *flow)
{
  const InsightSheet *sheet = bench->sheet;
  const char *const boxes[] = { _("Measured by"), _("Day"), _("Gauges, if not those in the head"), NULL };
  g_autofree guint *shown = g_new (guint, sheet->columns->len + 1);
  gboolean is_cautious = FALSE;
  guint n = 0, room, blocks;
  double least, serials;
  g_autofree char *title = g_strdup_printf (ngettext ("Round %s, %u unit", "Round %s, %u units", sheet->rows->len),
                                            bench->evidence->rounds[bench->round].label, sheet->rows->len);

  bench_begin (bench, flow, title);
  for (guint c = 0; c < sheet->columns->len; c++)
    {
      const InsightSheetColumn *column = &g_array_index (sheet->columns, InsightSheetColumn, c);

      if (!column->is_wanted)
        continue;
      is_cautious |= column->klass == BOOK_CLASS_SAFETY || column->is_life;
      shown[n++] = c;
    }
  bench_boxes (flow, boxes);
  if (is_cautious)
    bench_say_caution (bench, flow);
  bench_remark (flow, _("What is printed is in the book already. A dash is not to be measured on that unit. Ring ✓ or ✗."));
  if (n == 0 || sheet->rows->len == 0)
    {
      bench_paragraph (flow, _("Nothing is to be measured: the round has no units, or its plan names none for a test."));
      return;
    }
  serials = serial_width (bench, flow);
  room = (guint) ((paper_flow_width (flow) - serials) / (bench->size == PAPER_A5 ? COLUMN_WIDTH_SMALL : COLUMN_WIDTH));
  room = MAX (room, 1);
  blocks = (n + room - 1) / room;
  for (guint b = 0, from = 0; b < blocks; b++)
    {
      guint wide = (n - from + blocks - b - 1) / (blocks - b);

      /* A block of few units stays whole; a long one begins on a page of its own. */
      least = (sheet->rows->len + 3) * PAPER_FORM_ROW;
      if (b > 0)
        paper_flow_need (flow, least);
      set_block (bench, flow, serials, shown + from, wide);
      from += wide;
    }
}
