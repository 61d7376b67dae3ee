/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-bench-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "insight-as-built.h"
#include "insight-round.h"
#include "present-number.h"
#include "present-round.h"

static void
set_parts (const Bench *bench, PaperFlow *flow, const InsightRound *round)
{
  const PaperFormColumn columns[] = { { .head = _("Part or step"), .share = 3.2, .is_strong = TRUE },
                                      { .head = _("Revision"), .share = 1.1, .is_strong = TRUE },
                                      { .head = _("Lot"), .share = 1.4 },
                                      { .head = _("Units"), .share = 2.0 },
                                      { .head = _("Ready"), .share = 0.8 } };
  g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);

  bench_heading (flow, _("What goes in"), paper_flow_form_least (flow, columns, G_N_ELEMENTS (columns), NULL, PAPER_FORM_ROW));
  if (round->parts->len == 0)
    {
      bench_paragraph (flow, _("The plan of the round names no parts yet."));
      return;
    }
  for (guint i = 0; i < round->parts->len; i++)
    {
      const InsightRoundPart *part = &g_array_index (round->parts, InsightRoundPart, i);

      g_ptr_array_add (cells, g_strdup_printf ("%s%s%s", part->number, part->number[0] != '\0' ? " " : "", part->name));
      g_ptr_array_add (cells, g_strdup (part->revision));
      g_ptr_array_add (cells, g_strdup (part->lot));
      g_ptr_array_add (cells, present_round_part_units (part));
      g_ptr_array_add (cells, g_strdup ("☐"));
    }
  paper_flow_form (flow, columns, G_N_ELEMENTS (columns), (const char *const *) cells->pdata, round->parts->len, PAPER_FORM_ROW);
}

/* Settings of the steps in force on the day: a step is set up by them. */
static void
set_settings (const Bench *bench, PaperFlow *flow)
{
  const BookEvidence *e = bench->evidence;
  const PaperFormColumn columns[] = { { .head = _("Step"), .share = 3.0 },
                                      { .head = _("Setting"), .share = 3.0 },
                                      { .head = _("Value"), .share = 1.5, .is_strong = TRUE, .is_number = TRUE } };
  g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
  BookDay today = book_day_parse (bench->ask->today, NULL);
  guint n = 0;

  for (guint i = 0; i < e->n_settings; i++)
    {
      const BookEvidenceSetting *one = &e->settings[i];
      gboolean is_newest = i + 1 == e->n_settings || e->settings[i + 1].step != one->step
                           || !g_str_equal (e->settings[i + 1].name, one->name) || e->settings[i + 1].from > today;

      if (one->from > today || !is_newest)
        continue;
      g_ptr_array_add (cells, g_strdup_printf ("%d %s", e->steps[one->step].position, e->steps[one->step].name));
      g_ptr_array_add (cells, g_strdup (one->name));
      g_ptr_array_add (cells, present_value (one->value, -1, one->unit));
      n++;
    }
  if (n == 0)
    return;
  bench_heading (flow, _("Steps are set to"),
                 paper_flow_form_least (flow, columns, G_N_ELEMENTS (columns), (const char *const *) cells->pdata, PAPER_FORM_ROW));
  paper_flow_form (flow, columns, G_N_ELEMENTS (columns), (const char *const *) cells->pdata, n, PAPER_FORM_ROW);
}

/* 'HF-30 Spring C, lot S-43' */
static char *
takes_words (const InsightBuiltPart *part)
{
  g_autoptr(GString) text = g_string_new (part->name);

  if (part->revision[0] != '\0')
    g_string_append_printf (text, " %s", part->revision);
  if (part->lot[0] != '\0')
    g_string_append_printf (text, _(", lot %s"), part->lot);
  return g_strdup (text->str);
}

/* How many units take each thing: what all take needs no line of its own at each. */
static GHashTable *
count_taken (const Bench *bench, GPtrArray *built)
{
  GHashTable *taken = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint u = 0; u < built->len; u++)
    {
      const InsightAsBuilt *one = built->pdata[u];

      for (guint i = 0; one != NULL && i < one->parts->len; i++)
        {
          char *words = takes_words (one->parts->pdata[i]);
          guint n = GPOINTER_TO_UINT (g_hash_table_lookup (taken, words));

          g_hash_table_insert (taken, words, GUINT_TO_POINTER (n + 1));
        }
    }
  return taken;
}

static char *
differing (const InsightAsBuilt *built, GHashTable *taken, guint n_units)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; built != NULL && i < built->parts->len; i++)
    {
      g_autofree char *words = takes_words (built->parts->pdata[i]);

      if (GPOINTER_TO_UINT (g_hash_table_lookup (taken, words)) < n_units)
        g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", words);
    }
  return g_string_free (text, FALSE);
}

static char *
tests_of (const InsightRound *round, const char *serial)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; *serial != '\0' && i < round->tests->len; i++)
    {
      const InsightRoundTest *test = &g_array_index (round->tests, InsightRoundTest, i);
      g_autofree char *what = NULL;

      if (!g_str_equal (test->serial, serial))
        continue;
      what = present_round_test (test);
      g_string_append_printf (text, "%s%s %s", text->len > 0 ? "\n" : "", test->code, what);
    }
  return g_string_free (text, FALSE);
}

static void
set_units (const Bench *bench, PaperFlow *flow, const InsightRound *round)
{
  const InsightSheet *sheet = bench->sheet;
  const PaperFormColumn columns[] = { { .head = _("Unit"), .share = 0.9, .is_strong = TRUE },
                                      { .head = _("Takes, where not all units take the same"), .share = 2.1 },
                                      { .head = _("Test"), .share = 2.6 },
                                      { .head = _("Built on"), .share = 1.5 },
                                      { .head = _("Initials"), .share = 0.9 } };
  g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(GPtrArray) built = g_ptr_array_new_with_free_func ((GDestroyNotify) insight_as_built_free);
  g_autoptr(GHashTable) taken = NULL;

  if (sheet->rows->len == 0)
    return;
  for (guint r = 0; r < sheet->rows->len; r++)
    {
      int unit = g_array_index (sheet->rows, InsightSheetRow, r).unit;

      g_ptr_array_add (built, unit >= 0 ? insight_as_built (bench->evidence, bench->evidence->units[unit].id) : NULL);
    }
  taken = count_taken (bench, built);
  for (guint r = 0; r < sheet->rows->len; r++)
    {
      const InsightAsBuilt *one = built->pdata[r];
      const char *serial = g_array_index (sheet->rows, InsightSheetRow, r).serial;

      g_ptr_array_add (cells, g_strdup (serial));
      g_ptr_array_add (cells, differing (one, taken, sheet->rows->len));
      g_ptr_array_add (cells, tests_of (round, serial));
      g_ptr_array_add (cells, g_strdup (one != NULL ? one->built : ""));
      g_ptr_array_add (cells, g_strdup (""));
    }
  bench_heading (flow, _("Which unit gets which"),
                 paper_flow_form_least (flow, columns, G_N_ELEMENTS (columns), (const char *const *) cells->pdata, PAPER_FORM_ROW));
  paper_flow_form (flow, columns, G_N_ELEMENTS (columns), (const char *const *) cells->pdata, sheet->rows->len, PAPER_FORM_ROW);
}

void
bench_set_build_list (const Bench *bench, PaperFlow *flow)
{
  const BookEvidenceRound *row = &bench->evidence->rounds[bench->round];
  g_autoptr(InsightRounds) rounds = insight_rounds (bench->evidence, bench->ask->today, NULL);
  const InsightRound *round = NULL;
  g_autofree char *title = g_strdup_printf (ngettext ("Round %s, %d unit", "Round %s, %d units", (gulong) row->planned_units), row->label,
                                            row->planned_units);

  for (guint i = 0; rounds != NULL && i < rounds->rounds->len; i++)
    if (g_array_index (rounds->rounds, InsightRound, i).id == row->id)
      round = &g_array_index (rounds->rounds, InsightRound, i);
  bench_begin (bench, flow, title);
  if (row->question[0] != '\0')
    paper_flow_paragraph (flow, PAPER_TEXT_STRONG, PAPER_INK, 0.0, row->question);
  if (round == NULL)
    return;
  if (round->tests->len > 0)
    bench_say_caution (bench, flow);
  set_parts (bench, flow, round);
  set_settings (bench, flow);
  set_units (bench, flow, round);
}
