/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-unit.h"

#include <glib/gi18n-lib.h>

static const char *const built_headings[] = {
  [PRESENT_BUILT_WHAT] = N_("Part or step"),
  [PRESENT_BUILT_REVISION] = N_("Revision"),
  [PRESENT_BUILT_LOT] = N_("Lot"),
  [PRESENT_BUILT_PLANNED] = N_("Planned otherwise"),
};
G_STATIC_ASSERT (G_N_ELEMENTS (built_headings) == PRESENT_N_BUILT_COLUMNS);

static const char *const event_headings[] = {
  [PRESENT_EVENT_DATE] = N_("Date"), [PRESENT_EVENT_WHAT] = N_("What happened"), [PRESENT_EVENT_STEP] = N_("Step"),
  [PRESENT_EVENT_WHY] = N_("Why"),   [PRESENT_EVENT_PERSON] = N_("By"),
};
G_STATIC_ASSERT (G_N_ELEMENTS (event_headings) == PRESENT_N_EVENT_COLUMNS);

static const char *const holder_headings[] = {
  [PRESENT_HOLDER_ROUND] = N_("Round"), [PRESENT_HOLDER_SERIAL] = N_("Unit"), [PRESENT_HOLDER_BUILT] = N_("Built"),
  [PRESENT_HOLDER_SOURCE] = N_("Known from"), [PRESENT_HOLDER_STATE] = N_("State"),
};
G_STATIC_ASSERT (G_N_ELEMENTS (holder_headings) == PRESENT_N_HOLDER_COLUMNS);

/* Translated heading of a column. */
const char *
present_built_heading (PresentBuiltColumn column)
{
  return _(built_headings[column]);
}

const char *
present_event_heading (PresentEventColumn column)
{
  return _(event_headings[column]);
}

const char *
present_holder_heading (PresentHolderColumn column)
{
  return _(holder_headings[column]);
}

/* ---- a unit ---- */

/* 'Unit B-08 of round B' */
char *
present_unit_title (const InsightAsBuilt *built)
{
  return g_strdup_printf (_("Unit %s of round %s"), built->serial, built->round);
}

/* 'issue 2, Lever sticks' */
static char *
issue_words (int no, const char *title)
{
  return title[0] != '\0' ? g_strdup_printf (_("issue %d, %s"), no, title) : g_strdup_printf (_("issue %d"), no);
}

static void
say (GString *words, char *sentence)
{
  g_string_append_printf (words, "%s%s", words->len > 0 ? " " : "", sentence);
  g_free (sentence);
}

static void
say_plan (GString *words, const InsightAsBuilt *built)
{
  guint n = 0;

  for (guint i = 0; i < built->parts->len; i++)
    n += ((const InsightBuiltPart *) g_ptr_array_index (built->parts, i))->differs ? 1 : 0;
  if (built->parts->len == 0)
    say (words, g_strdup (_("Nobody has said of which revisions and lots it is made.")));
  else if (n == 0)
    say (words, g_strdup (_("It is built as its round was planned.")));
  else
    say (words, g_strdup_printf (ngettext ("It differs from the plan of its round in %u part or step.",
                                           "It differs from the plan of its round in %u parts or steps.", n), n));
}

static void
say_altered (GString *words, const InsightAsBuilt *built)
{
  const InsightBuiltEvent *event = g_ptr_array_index (built->events, (guint) built->altered);
  g_autofree char *kept = g_strjoinv (", ", built->kept);
  g_autofree char *issue = event->issue != 0 ? issue_words (event->issue_no, event->issue_title) : NULL;

  if (issue != NULL)
    say (words, g_strdup_printf (_("It was altered on %s for %s, and is of another state of design since."), event->date, issue));
  else
    say (words, g_strdup_printf (_("It was altered on %s, and is of another state of design since."), event->date));
  if (kept[0] != '\0')
    say (words, g_strdup_printf (_("What is read after that counts only where the change is carried over: %s."), kept));
  else
    say (words, g_strdup (_("What is read after that counts for no criterion.")));
}

/**
 * present_unit_words:
 * @built: a unit
 *
 * Returns: (transfer full): when it was built, whether as planned, and from when it counts otherwise or no more
 */
char *
present_unit_words (const InsightAsBuilt *built)
{
  GString *words = g_string_new (NULL);

  if (built->part[0] != '\0')
    say (words, g_strdup_printf (_("A loose part: %s."), built->part));
  say (words, built->built[0] != '\0' ? g_strdup_printf (_("Built on %s."), built->built) : g_strdup (_("Planned, not built yet.")));
  say_plan (words, built);
  if (built->altered >= 0)
    say_altered (words, built);
  if (built->aside >= 0)
    {
      const InsightBuiltEvent *event = g_ptr_array_index (built->events, (guint) built->aside);

      say (words, g_strdup_printf (_("It was set aside on %s (%s), and counts for no criterion since."), event->date,
                                   event->reason[0] != '\0' ? event->reason : _("no reason was given")));
    }
  return g_string_free (words, FALSE);
}

static char *
planned_words (const InsightBuiltPart *part)
{
  if (part->is_split)
    return g_strdup (_("one of several revisions: nobody said which"));
  if (!part->differs)
    return g_strdup ("");
  if (part->planned_revision[0] != '\0' && part->planned_lot[0] != '\0')
    return g_strdup_printf (_("revision %s, lot %s"), part->planned_revision, part->planned_lot);
  if (part->planned_lot[0] != '\0')
    return g_strdup_printf (_("lot %s"), part->planned_lot);
  return part->planned_revision[0] != '\0' ? g_strdup_printf (_("revision %s"), part->planned_revision)
                                           : g_strdup (_("not planned"));
}

/* The text of a cell. */
char *
present_built_cell (const InsightBuiltPart *part, PresentBuiltColumn column)
{
  switch (column)
    {
    case PRESENT_BUILT_WHAT:
      return g_strdup (part->name);
    case PRESENT_BUILT_REVISION:
      return g_strdup (part->revision);
    case PRESENT_BUILT_LOT:
      return g_strdup (part->lot);
    case PRESENT_BUILT_PLANNED:
      return planned_words (part);
    case PRESENT_N_BUILT_COLUMNS:
      break;
    }
  g_return_val_if_reached (g_strdup (""));
}

static const char *
label_of (const BookChoice *choices, gint code)
{
  const BookChoice *choice = book_choice_by_code (choices, code);

  return choice != NULL ? book_choice_label (choice) : "";
}

static char *
why_words (const InsightBuiltEvent *event)
{
  g_autofree char *issue = event->issue != 0 ? issue_words (event->issue_no, event->issue_title) : NULL;

  if (issue == NULL)
    return g_strdup (event->reason);
  return event->reason[0] != '\0' ? g_strdup_printf ("%s: %s", issue, event->reason) : g_steal_pointer (&issue);
}

/* The text of a cell. */
char *
present_event_cell (const InsightBuiltEvent *event, PresentEventColumn column)
{
  switch (column)
    {
    case PRESENT_EVENT_DATE:
      return g_strdup (event->date);
    case PRESENT_EVENT_WHAT:
      return g_strdup (label_of (book_event_kinds, event->kind));
    case PRESENT_EVENT_STEP:
      return g_strdup (event->step);
    case PRESENT_EVENT_WHY:
      return why_words (event);
    case PRESENT_EVENT_PERSON:
      return g_strdup (event->by);
    case PRESENT_N_EVENT_COLUMNS:
      break;
    }
  g_return_val_if_reached (g_strdup (""));
}

/**
 * present_finding_words:
 * @finding: an issue that was seen on a unit
 *
 * Returns: (transfer full): the issue, what was decided about the unit, by whom and why
 */
char *
present_finding_words (const InsightBuiltFinding *finding)
{
  g_autofree char *title = finding->issue_title[0] != '\0'
                               ? g_strdup_printf (_("Issue %d, %s"), finding->issue_no, finding->issue_title)
                               : g_strdup_printf (_("Issue %d"), finding->issue_no);
  GString *words = g_string_new (title);

  if (finding->disposition == 0)
    {
      g_string_append (words, _(": nobody has decided yet what is done with the unit."));
      return g_string_free (words, FALSE);
    }
  g_string_append_printf (words, ": %s", label_of (book_dispositions, finding->disposition));
  if (finding->by[0] != '\0' && finding->date[0] != '\0')
    g_string_append_printf (words, " (%s, %s)", finding->by, finding->date);
  else if (finding->by[0] != '\0' || finding->date[0] != '\0')
    g_string_append_printf (words, " (%s%s)", finding->by, finding->date);
  if (finding->reason[0] != '\0')
    g_string_append_printf (words, ": %s", finding->reason);
  if (finding->excused)
    g_string_append (words, _("; the unit counts for no criterion"));
  return g_string_free (words, FALSE);
}

/* ---- the other way round ---- */

/**
 * present_holders_words:
 * @holders: (element-type InsightHolder): from insight_holders()
 * @what: the lot or revision, by name
 *
 * Returns: (transfer full): how many units hold it
 */
char *
present_holders_words (const GPtrArray *holders, const char *what)
{
  guint failed = 0;
  GString *words = g_string_new (NULL);

  for (guint i = 0; i < holders->len; i++)
    failed += ((const InsightHolder *) g_ptr_array_index (holders, i))->failed ? 1 : 0;
  if (holders->len == 0)
    say (words, g_strdup_printf (_("No unit of this model holds %s."), what));
  else
    say (words, g_strdup_printf (ngettext ("%u unit holds %s.", "%u units hold %s.", holders->len), holders->len, what));
  if (failed > 0)
    say (words, g_strdup_printf (ngettext ("An issue was found on %u of them.", "An issue was found on %u of them.", failed), failed));
  return g_string_free (words, FALSE);
}

/* The text of a cell. */
char *
present_holder_cell (const InsightHolder *holder, PresentHolderColumn column)
{
  switch (column)
    {
    case PRESENT_HOLDER_ROUND:
      return g_strdup (holder->round);
    case PRESENT_HOLDER_SERIAL:
      return g_strdup (holder->serial);
    case PRESENT_HOLDER_BUILT:
      return g_strdup (holder->built);
    case PRESENT_HOLDER_SOURCE:
      return g_strdup (holder->is_planned ? _("the round's plan") : _("the unit"));
    case PRESENT_HOLDER_STATE:
      return g_strdup (holder->aside    ? _("counts for nothing")
                       : holder->failed ? _("an issue was found")
                                        : "");
    case PRESENT_N_HOLDER_COLUMNS:
      break;
    }
  g_return_val_if_reached (g_strdup (""));
}
