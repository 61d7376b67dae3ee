/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-release.h"

#include "insight-criterion-private.h"
#include "insight-span-private.h"

#include <stdlib.h>

static const char *const stop_names[] = { "no-criteria", "criteria", "no-safety", "safety-issue", "disposition", "other-state" };
G_STATIC_ASSERT (G_N_ELEMENTS (stop_names) == INSIGHT_N_STOPS);

/* What must be named wherever somebody decides, in this order. */
static const InsightReasonCode remarked[] = {
  INSIGHT_REASON_LIMIT_WIDENED, INSIGHT_REASON_WIDENED_SAFETY, INSIGHT_REASON_VOIDED,        INSIGHT_REASON_EXCUSED,
  INSIGHT_REASON_CARRIED_OVER,  INSIGHT_REASON_GAUGE_EXCUSED,  INSIGHT_REASON_WAIVED,        INSIGHT_REASON_ENTERED_LATER,
  INSIGHT_REASON_PLAN_LATE,     INSIGHT_REASON_LATER_ATTEMPTS, INSIGHT_REASON_ATTEMPTS,      INSIGHT_REASON_ISSUES_EXCEPTED,
  INSIGHT_REASON_ISSUE_NOT_SHOWN, INSIGHT_REASON_AFTER_ROUND,  INSIGHT_REASON_FAILED_AFTER,
};

/* An untranslated word, such as `safety-issue`. */
const char *
insight_stop_name (InsightStopCode code)
{
  g_return_val_if_fail ((guint) code < INSIGHT_N_STOPS, "");

  return stop_names[code];
}

static void
stop_free (gpointer data)
{
  InsightStop *stop = data;

  g_ptr_array_unref (stop->names);
  g_array_unref (stop->ids);
  g_free (stop);
}

static void
gate_free (gpointer data)
{
  InsightGate *gate = data;

  g_free (gate->name);
  g_array_unref (gate->criteria);
  g_ptr_array_unref (gate->stops);
  g_free (gate);
}

/**
 * insight_gate_find_stop:
 * @gate: a gate
 * @code: what stops
 *
 * Returns: (transfer none) (nullable): it, when it does
 */
const InsightStop *
insight_gate_find_stop (const InsightGate *gate, InsightStopCode code)
{
  for (guint i = 0; i < gate->stops->len; i++)
    if (((const InsightStop *) gate->stops->pdata[i])->code == code)
      return gate->stops->pdata[i];
  return NULL;
}

static InsightStop *
stop_of (InsightGate *gate, InsightStopCode code)
{
  InsightStop *stop = (InsightStop *) insight_gate_find_stop (gate, code);

  if (stop != NULL)
    return stop;
  stop = g_new0 (InsightStop, 1);
  stop->code = code;
  stop->names = g_ptr_array_new_null_terminated (0, g_free, TRUE);
  stop->ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_ptr_array_add (gate->stops, stop);
  return stop;
}

static void
stop_by (InsightGate *gate, InsightStopCode code, gint64 id, const char *name)
{
  InsightStop *stop = stop_of (gate, code);

  for (guint i = 0; i < stop->ids->len; i++)
    if (g_array_index (stop->ids, gint64, i) == id)
      return;
  g_array_append_val (stop->ids, id);
  g_ptr_array_add (stop->names, g_strdup (name));
}

/* A unit outside a limit of which nobody decided what becomes of it. */
typedef struct
{
  gint64 id;
  char  *name;
} Undecided;

static void
undecided_clear (gpointer data)
{
  g_free (((Undecided *) data)->name);
}

/* Units that fail at the attempt that is evidence, of any characteristic, whether a criterion asks about it or not: the same
 * for every gate. */
static gboolean
find_units (const InsightBasis *basis, const InsightLook *look, GArray *undecided, GCancellable *cancellable, GError **error)
{
  const BookEvidence *e = basis->e;

  for (guint c = 0; c < e->n_characteristics; c++)
    {
      g_autoptr(GArray) failing = NULL;

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      failing = insight_failing_units (look, (int) c);
      for (guint i = 0; i < failing->len; i++)
        {
          guint unit = g_array_index (failing, guint, i);
          Undecided found;

          if (insight_has_disposition (basis, (int) c, unit, look->said))
            continue;
          found = (Undecided){ e->units[unit].id, insight_unit_name (e, unit) };
          g_array_append_val (undecided, found);
        }
    }
  return TRUE;
}

static gboolean
is_duplicate (const InsightIssue *issue)
{
  return insight_issue_is_closed (issue) && issue->outcome == BOOK_OUTCOME_DUPLICATE;
}

/* A duplicate is one of something: where no other issue about safety is left, it stands for itself. */
static gboolean
has_twin (const InsightIssues *issues, const InsightIssue *issue)
{
  for (guint i = 0; i < issues->issues->len; i++)
    {
      const InsightIssue *other = issues->issues->pdata[i];

      if (other != issue && other->klass == BOOK_CLASS_SAFETY && !is_duplicate (other))
        return TRUE;
    }
  return FALSE;
}

static void
find_issues (const InsightIssues *issues, InsightGate *gate)
{
  for (guint i = 0; i < issues->issues->len; i++)
    {
      const InsightIssue *issue = issues->issues->pdata[i];
      g_autofree char *name = NULL;

      if (issue->klass != BOOK_CLASS_SAFETY || issue->state == INSIGHT_ISSUE_PROVEN
          || (is_duplicate (issue) && has_twin (issues, issue)))
        continue;
      name = g_strdup_printf ("%d %s", issue->no, issue->title);
      stop_by (gate, INSIGHT_STOP_SAFETY_ISSUE, issue->id, name);
    }
}

static guint
rank (const InsightCriterion *criterion)
{
  return criterion->blocks ? 0 : criterion->state != INSIGHT_MET ? 1 : 2;
}

static int
compare_criteria (gconstpointer a, gconstpointer b, gpointer data)
{
  const InsightStanding *standing = data;
  guint x = *(const guint *) a, y = *(const guint *) b;
  int order = (int) rank (insight_standing_get_criterion (standing, x)) - (int) rank (insight_standing_get_criterion (standing, y));

  return order != 0 ? order : (int) x - (int) y;
}

/* A gate asks for all that the gates before it asked for. */
static void
take_criteria (const InsightStanding *standing, InsightGate *gate)
{
  gboolean safety = FALSE;

  for (guint i = 0; i < standing->criteria->len; i++)
    {
      const InsightCriterion *criterion = insight_standing_get_criterion (standing, i);

      if (criterion->gate_order > gate->position)
        continue;
      gate->total++;
      gate->met += criterion->state == INSIGHT_MET;
      gate->block += criterion->blocks;
      safety |= criterion->klass == BOOK_CLASS_SAFETY;
      if (criterion->gate_order == gate->position)
        g_array_append_val (gate->criteria, i);
      if (criterion->blocks)
        stop_by (gate, INSIGHT_STOP_CRITERIA, criterion->id, criterion->code);
      if (criterion->state == INSIGHT_NO_LONGER)
        stop_by (gate, INSIGHT_STOP_OTHER_STATE, criterion->id, criterion->code);
    }
  g_array_sort_with_data (gate->criteria, compare_criteria, (gpointer) standing);
  if (gate->total == 0)
    stop_of (gate, INSIGHT_STOP_NO_CRITERIA);
  else if (!safety)
    stop_of (gate, INSIGHT_STOP_NO_SAFETY);
}

static int
compare_stops (gconstpointer a, gconstpointer b)
{
  const InsightStop *x = *(InsightStop *const *) a, *y = *(InsightStop *const *) b;

  return (int) x->code - (int) y->code;
}

static void
add_remarks (InsightRelease *release)
{
  for (guint k = 0; k < G_N_ELEMENTS (remarked); k++)
    for (guint i = 0; i < release->standing->criteria->len; i++)
      {
        InsightRemark remark = { i, insight_criterion_find_reason (insight_standing_get_criterion (release->standing, i), remarked[k]) };

        if (remark.reason != NULL)
          g_array_append_val (release->remarks, remark);
      }
}

static void
add_gate (InsightRelease *release, const BookEvidenceGate *from, const InsightIssues *issues, GArray *undecided)
{
  InsightGate *gate = g_new0 (InsightGate, 1);

  gate->id = from->id;
  gate->position = from->position;
  gate->name = g_strdup (from->name);
  gate->criteria = g_array_new (FALSE, FALSE, sizeof (guint));
  gate->stops = g_ptr_array_new_with_free_func (stop_free);
  g_ptr_array_add (release->gates, gate);
  take_criteria (release->standing, gate);
  find_issues (issues, gate);
  for (guint i = 0; i < undecided->len; i++)
    {
      const Undecided *unit = &g_array_index (undecided, Undecided, i);

      stop_by (gate, INSIGHT_STOP_DISPOSITION, unit->id, unit->name);
    }
  g_ptr_array_sort (gate->stops, compare_stops);
  gate->may_say_met = gate->stops->len == 0;
}

/**
 * insight_release:
 * @evidence: the records of a model
 * @standing: where it stands, by these records; kept
 * @issues: its issues, through the same round on the same day
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Returns: (transfer full) (nullable): its gates; %G_IO_ERROR_CANCELLED
 */
InsightRelease *
insight_release (const BookEvidence *evidence, const InsightStanding *standing, const InsightIssues *issues, GCancellable *cancellable,
                 GError **error)
{
  const InsightSpan span = { standing->round, standing->today };
  g_autoptr(InsightRelease) release = NULL;
  g_autoptr(InsightBasis) basis = NULL;
  g_autoptr(GPtrArray) looks = NULL;
  g_autoptr(GArray) undecided = g_array_new (FALSE, FALSE, sizeof (Undecided));
  int through;
  BookDay today;

  if (!insight_span_resolve (evidence, &span, &through, &today, error))
    return NULL;
  release = g_new0 (InsightRelease, 1);
  release->standing = standing;
  release->gates = g_ptr_array_new_with_free_func (gate_free);
  release->remarks = g_array_new (FALSE, FALSE, sizeof (InsightRemark));
  basis = insight_basis_new (evidence);
  looks = insight_look_list (basis, through, today);
  g_array_set_clear_func (undecided, undecided_clear);
  if (!find_units (basis, looks->pdata[looks->len - 1], undecided, cancellable, error))
    return NULL;
  for (guint i = 0; i < evidence->n_gates; i++)
    add_gate (release, &evidence->gates[i], issues, undecided);
  add_remarks (release);
  return g_steal_pointer (&release);
}

void
insight_release_free (InsightRelease *release)
{
  if (release == NULL)
    return;

  g_ptr_array_unref (release->gates);
  g_array_unref (release->remarks);
  g_free (release);
}
