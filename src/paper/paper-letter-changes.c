/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-letter-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define N_COLUMNS  3
#define NAMES_MOST 24 /* in a sentence */

/*
 * What changed between the rounds: part by part, old beside new with the drawings of both, why, and for which issue.
 */

static guint
states_of (const InsightCompareSide *side, const InsightCompareState **states)
{
  *states = side->n_built > 0 ? side->built : side->planned;
  return side->n_built > 0 ? side->n_built : side->n_planned;
}

static gboolean
holds (const InsightCompareSide *side, gint64 revision)
{
  const InsightCompareState *states;
  guint n = states_of (side, &states);

  for (guint i = 0; i < n; i++)
    if (states[i].id == revision && revision != 0)
      return TRUE;
  return FALSE;
}

static gboolean
is_of (const Letter *letter, const InsightDifference *difference, const BookChangeListItem *item)
{
  gint64 change = letter->changes->list->changes[item->change].id;

  if (item->part == 0 || item->part != difference->part)
    return FALSE;
  for (guint i = 0; i < difference->n_changes; i++)
    if (((InsightCompareChange *) letter->comparison->data->changes->pdata[difference->changes[i]])->id == change)
      return TRUE;
  return FALSE;
}

/* Whether one of several changes on the way made what the next one took away: neither old nor new. */
static gboolean
is_between (const Letter *letter, const InsightDifference *difference, const char *words, gboolean old)
{
  const BookChangeList *list = letter->changes->list;

  for (guint i = 0; i < list->n_items; i++)
    if (is_of (letter, difference, &list->items[i]) && g_str_equal (old ? list->items[i].new : list->items[i].old, words))
      return TRUE;
  return FALSE;
}

/* What changes said in words: 'wire 0.9 mm'; where a side has several revisions, that of each: 'B: wire 0.9 mm'. */
static void
add_words (const Letter *letter, GString *cell, const InsightDifference *difference, gboolean old, guint letters)
{
  const InsightCompareSide *side = old ? &difference->before : &difference->after;
  const BookChangeList *list = letter->changes->list;
  const InsightCompareState *states;
  gboolean several = states_of (side, &states) > 1;

  for (guint i = 0; i < list->n_items; i++)
    {
      const BookChangeListItem *item = &list->items[i];
      const char *words = old ? item->old : item->new;
      g_autofree char *told = NULL;

      if (*words == '\0' || !is_of (letter, difference, item) || (several && !holds (side, old ? item->old_revision : item->new_revision))
          || (!several && is_between (letter, difference, words, old)))
        continue;
      told = letter_shortened (letter_free_text (letter, words), letters);
      if (strstr (cell->str, told) != NULL)
        continue;
      g_string_append_c (cell, '\n');
      if (several)
        g_string_append_printf (cell, "%s: ", old ? item->old_label : item->new_label);
      g_string_append (cell, told);
    }
}

static void
add_line (GString *text, const char *line)
{
  if (*line != '\0')
    g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", line);
}

static void
add_change_words (const Letter *letter, GString *why, const PresentCompareChange *change, guint letters)
{
  g_autofree char *title = letter_free_text (letter, change->title);
  g_autofree char *reason = letter_shortened (letter_free_text (letter, change->reason), letters);
  g_autofree char *expected = letter_shortened (letter_free_text (letter, change->expected), letters);

  if (why->len > 0)
    g_string_append_c (why, '\n'); /* an empty line between changes */
  add_line (why, title);
  add_line (why, reason);
  if (*expected != '\0')
    {
      g_autofree char *told = g_strdup_printf (_("Expected: %s"), expected);

      add_line (why, told);
    }
  for (guint i = 0; i < change->data->n_issues; i++)
    {
      const InsightCompareIssue *issue = &change->data->issues[i];
      g_autofree char *name = letter_free_text (letter, issue->title);
      g_autofree char *told = g_strdup_printf (_("For issue %d: %s"), issue->no, name);

      add_line (why, told);
    }
  for (guint i = 0; i < change->remarks->len; i++)
    {
      g_autofree char *remark = letter_sentence (letter, change->remarks->pdata[i]);

      add_line (why, remark);
    }
}

static int
compare_numbers (gconstpointer a, gconstpointer b)
{
  return (*(PresentCompareChange *const *) a)->data->no - (*(PresentCompareChange *const *) b)->data->no;
}

static char *
why_text (const Letter *letter, const PresentDifference *difference, guint letters)
{
  g_autoptr(GPtrArray) changes = g_ptr_array_copy (difference->changes, NULL, NULL);
  GString *why = g_string_new (NULL);

  g_ptr_array_set_free_func (changes, NULL);
  g_ptr_array_sort (changes, compare_numbers);
  for (guint i = 0; i < changes->len; i++)
    add_change_words (letter, why, changes->pdata[i], letters);
  for (guint i = 0; i < difference->remarks->len; i++)
    {
      g_autofree char *remark = letter_sentence (letter, difference->remarks->pdata[i]);

      add_line (why, remark);
    }
  return g_string_free (why, FALSE);
}

/* 'HF-20 Rocker lever'; a characteristic by its name, since a code says nothing outside the shop. (transfer full) */
char *
letter_thing (const PresentDifference *difference)
{
  return g_strdup (difference->data->characteristic != 0 ? difference->data->name : difference->group);
}

static void
add_row (const Letter *letter, GPtrArray *cells, const PresentDifference *difference, guint letters)
{
  GString *old = g_string_new (difference->before), *new = g_string_new (difference->after);

  if (difference->data->setting[0] != '\0')
    {
      g_string_prepend (old, ": ");
      g_string_prepend (old, difference->what);
      g_string_prepend (new, ": ");
      g_string_prepend (new, difference->what);
    }
  if (difference->data->kind == INSIGHT_DIFFERS_REVISION)
    {
      add_words (letter, old, difference->data, TRUE, letters);
      add_words (letter, new, difference->data, FALSE, letters);
    }
  g_ptr_array_add (cells, g_string_free (old, FALSE));
  g_ptr_array_add (cells, g_string_free (new, FALSE));
  g_ptr_array_add (cells, why_text (letter, difference, letters));
}

/* The picture of the last revision of a side, which is what the round ended with. */
static cairo_surface_t *
picture_of (const Letter *letter, const InsightDifference *difference, const InsightCompareSide *side)
{
  const InsightCompareState *states;
  guint n = states_of (side, &states);

  if (difference->kind != INSIGHT_DIFFERS_REVISION || n == 0 || states[n - 1].id == 0)
    return NULL;
  return letter_picture (letter, BOOK_RECORD_REVISION, states[n - 1].id, 0);
}

/* Differences of one thing from @first on, up to @end. @pairs: how many more pairs of pictures are wanted. Whether there
 * were any beside lots. */
static gboolean
set_thing (const Letter *letter, PaperFlow *flow, guint first, guint end, const LetterMeasure *measure, guint *pairs)
{
  double side = measure->picture_pairs > 0 ? 1.5 : 1.0; /* room for pictures */
  const PaperColumn columns[N_COLUMNS] = { { _("Old"), side, FALSE }, { _("New"), side, FALSE }, { _("Why"), 1.9, FALSE } };
  const GPtrArray *differences = letter->comparison->differences;
  g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(GPtrArray) pictures = g_ptr_array_new ();
  g_autofree char *name = NULL;

  for (guint i = first; i < end; i++)
    {
      const PresentDifference *difference = differences->pdata[i];
      cairo_surface_t *old = NULL, *new = NULL;

      if (difference->data->kind == INSIGHT_DIFFERS_LOT)
        continue;
      add_row (letter, cells, difference, measure->letters);
      if (*pairs > 0)
        {
          old = picture_of (letter, difference->data, &difference->data->before);
          new = picture_of (letter, difference->data, &difference->data->after);
        }
      if (old != NULL || new != NULL)
        (*pairs)--;
      g_ptr_array_add (pictures, old);
      g_ptr_array_add (pictures, new);
      g_ptr_array_add (pictures, NULL);
    }
  if (cells->len == 0)
    return FALSE;
  name = letter_thing (differences->pdata[first]);
  paper_flow_heading (flow, 2, name, NULL,
                      paper_flow_table_least (flow, columns, N_COLUMNS, (const char *const *) cells->pdata,
                                              (cairo_surface_t *const *) pictures->pdata, measure->picture_height));
  paper_flow_table_pictures (flow, columns, N_COLUMNS, (const char *const *) cells->pdata, (cairo_surface_t *const *) pictures->pdata,
                             cells->len / N_COLUMNS, measure->picture_height);
  return TRUE;
}

/* What there is no room for is named. */
static void
set_rest (const Letter *letter, PaperFlow *flow, guint first)
{
  const GPtrArray *differences = letter->comparison->differences;
  g_autoptr(GString) names = g_string_new (NULL);
  g_autofree char *sentence = NULL;
  guint n = 0;

  for (guint i = first; i < differences->len; i++)
    {
      const PresentDifference *difference = differences->pdata[i];
      g_autofree char *name = letter_thing (difference);

      if (difference->data->kind == INSIGHT_DIFFERS_LOT || ++n > NAMES_MOST)
        continue;
      if (names->len > 0)
        g_string_append (names, "; ");
      g_string_append_printf (names, "%s (%s → %s)", name, difference->before, difference->after);
    }
  if (names->len == 0)
    return;
  if (n > NAMES_MOST)
    g_string_append_printf (names, ngettext ("; and %u more", "; and %u more", n - NAMES_MOST), n - NAMES_MOST);
  sentence = g_strdup_printf (_("Changed too, and without reasons here for want of room: %s."), names->str);
  paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, sentence);
}

/* Other lots need no change: a sentence is enough. */
static void
set_lots (const Letter *letter, PaperFlow *flow)
{
  const GPtrArray *differences = letter->comparison->differences;
  g_autoptr(GString) names = g_string_new (NULL);
  g_autofree char *sentence = NULL;
  g_autofree char *told = NULL;

  for (guint i = 0; i < differences->len; i++)
    {
      const PresentDifference *difference = differences->pdata[i];

      if (difference->data->kind == INSIGHT_DIFFERS_LOT)
        g_string_append_printf (names, "%s%s", names->len > 0 ? "; " : "", difference->group);
    }
  if (names->len == 0)
    return;
  sentence = g_strdup_printf (_("Other lots went in as well, of: %s."), names->str);
  told = letter_sentence (letter, sentence);
  paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, told);
}

static void
set_unseen (const Letter *letter, PaperFlow *flow)
{
  for (guint i = 0; i < letter->comparison->unseen->len; i++)
    {
      const PresentCompareChange *change = letter->comparison->unseen->pdata[i];
      g_autofree char *title = letter_free_text (letter, change->title);
      g_autofree char *sentence
        = g_strdup_printf (_("Said to begin with these rounds, but not to be seen in the records of the units: %s."), title);

      paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, sentence);
    }
}

void
letter_set_changes (const Letter *letter, PaperFlow *flow, const LetterMeasure *measure)
{
  const GPtrArray *differences = letter->comparison->differences;
  guint pairs = measure->picture_pairs, n = 0, first = 0;

  paper_flow_heading (flow, 1, _("What changed, and why"), "changes", 80.0);
  if (differences->len == 0)
    paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0,
                          _("Nothing that the book knows of differs between the two rounds: the same revisions, settings, lots and limits."));
  while (first < differences->len && n < measure->things)
    {
      guint end = first + 1;

      while (end < differences->len && !((PresentDifference *) differences->pdata[end])->first)
        end++;
      n += set_thing (letter, flow, first, end, measure, &pairs);
      first = end;
    }
  set_rest (letter, flow, first);
  set_lots (letter, flow);
  set_unseen (letter, flow);
}
