/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "insight-answer-private.h"
#include "insight-criterion-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/*
 * A standing as one value, so that the book can keep the last answer and show it at once. Members are listed once, by
 * kind, and both ways walk the lists; the number of the form changes whenever a list does. A double goes as its bits:
 * NAN and the infinities come back as they were.
 */

#define FORM 10

#define REASONS   "a(uasaxadax)"
#define CRITERION "(asaxaiadasaxaxaxax" REASONS ")"
#define SCORE     "(uudi)"
#define GAP       "(uxas)"
#define STEP      "(uuxasaxad)"
#define POINT     "(xsi" SCORE "a" SCORE ")"
#define STANDING  "(uxxasaix" "a" CRITERION SCORE "a" SCORE "a" GAP "a" STEP "a" POINT ")"

#define AT(type, base, offset) G_STRUCT_MEMBER (type, base, offset)
#define C(member) G_STRUCT_OFFSET (InsightCriterion, member)
#define S(member) G_STRUCT_OFFSET (InsightStanding, member)

static const gsize criterion_strings[] = { C (code), C (gate), C (about_code), C (about_name), C (unit) };
static const gsize criterion_keys[] = { C (id), C (characteristic) };
static const gsize criterion_ints[] = {
  C (gate_order), C (kind), C (klass), C (about_kind), C (decimals), C (blocking), C (blocks), C (strict),
  C (so_far), C (state), C (method), C (n), C (failed), C (done), C (lots), C (looks),
  C (attempts), C (earlier_units), C (earlier_failures), C (voided), C (units_needed),
};
static const gsize criterion_doubles[] = {
  C (lower), C (upper), C (nominal), C (share), C (wanted_base), C (wanted), C (confidence), C (contrary),
  C (mean), C (sd), C (min), C (max), C (share_estimate), C (share_low), C (failing_year), C (score),
  C (target), C (estimate), C (estimate_low), C (estimate_high),
};
static const gsize criterion_ids[] = { C (round_ids), C (counted), C (failing), C (no_longer) };
static const gsize standing_strings[] = { S (model_code), S (model_name), S (round_label), S (end), S (today) };
static const gsize standing_ints[] = { S (round_kind), S (round_open), S (n_total), S (n_met), S (n_block), S (no_safety) };

/* Every list member of these kinds is four bytes wide. */
G_STATIC_ASSERT (sizeof (BookCriterionKind) == sizeof (gint32) && sizeof (InsightState) == sizeof (gint32)
                 && sizeof (gboolean) == sizeof (gint32));

static void
put_array (GVariantBuilder *builder, const GVariantType *type, gconstpointer elements, gsize n, gsize size)
{
  g_variant_builder_add_value (builder, g_variant_new_fixed_array (type, elements != NULL ? elements : "", n, size));
}

static void
put_strings (GVariantBuilder *builder, gconstpointer base, const gsize *offsets, guint n)
{
  g_variant_builder_open (builder, G_VARIANT_TYPE ("as"));
  for (guint i = 0; i < n; i++)
    g_variant_builder_add (builder, "s", AT (char *, base, offsets[i]) != NULL ? AT (char *, base, offsets[i]) : "");
  g_variant_builder_close (builder);
}

static void
put_strv (GVariantBuilder *builder, char *const *names)
{
  g_variant_builder_add_value (builder, g_variant_new_strv ((const char *const *) names, -1));
}

static void
put_ints (GVariantBuilder *builder, gconstpointer base, const gsize *offsets, guint n)
{
  g_variant_builder_open (builder, G_VARIANT_TYPE ("ai"));
  for (guint i = 0; i < n; i++)
    g_variant_builder_add (builder, "i", AT (const gint32, base, offsets[i]));
  g_variant_builder_close (builder);
}

static void
put_score (GVariantBuilder *builder, const InsightScore *score)
{
  g_variant_builder_add (builder, SCORE, score->total, score->met, score->score, score->percent);
}

static void
put_scores (GVariantBuilder *builder, const InsightScore *scores)
{
  g_variant_builder_open (builder, G_VARIANT_TYPE ("a" SCORE));
  for (guint i = 0; i < INSIGHT_N_CLASSES; i++)
    put_score (builder, &scores[i]);
  g_variant_builder_close (builder);
}

static void
put_reasons (GVariantBuilder *builder, const GPtrArray *reasons)
{
  g_variant_builder_open (builder, G_VARIANT_TYPE (REASONS));
  for (guint i = 0; i < reasons->len; i++)
    {
      const InsightReason *reason = reasons->pdata[i];

      g_variant_builder_open (builder, G_VARIANT_TYPE ("(uasaxadax)"));
      g_variant_builder_add (builder, "u", (guint32) reason->code);
      put_strv (builder, reason->names);
      put_array (builder, G_VARIANT_TYPE_INT64, reason->counts, reason->n_counts, sizeof (gint64));
      put_array (builder, G_VARIANT_TYPE_DOUBLE, reason->numbers, reason->n_numbers, sizeof (double));
      put_array (builder, G_VARIANT_TYPE_INT64, reason->ids, reason->n_ids, sizeof (gint64));
      g_variant_builder_close (builder);
    }
  g_variant_builder_close (builder);
}

static void
put_criterion (GVariantBuilder *builder, const InsightCriterion *criterion)
{
  g_variant_builder_open (builder, G_VARIANT_TYPE (CRITERION));
  put_strings (builder, criterion, criterion_strings, G_N_ELEMENTS (criterion_strings));
  g_variant_builder_open (builder, G_VARIANT_TYPE ("ax"));
  for (guint i = 0; i < G_N_ELEMENTS (criterion_keys); i++)
    g_variant_builder_add (builder, "x", AT (const gint64, criterion, criterion_keys[i]));
  g_variant_builder_close (builder);
  put_ints (builder, criterion, criterion_ints, G_N_ELEMENTS (criterion_ints));
  g_variant_builder_open (builder, G_VARIANT_TYPE ("ad"));
  for (guint i = 0; i < G_N_ELEMENTS (criterion_doubles); i++)
    g_variant_builder_add (builder, "d", AT (const double, criterion, criterion_doubles[i]));
  g_variant_builder_close (builder);
  put_strv (builder, criterion->rounds);
  for (guint i = 0; i < G_N_ELEMENTS (criterion_ids); i++)
    {
      const InsightIds *ids = &AT (const InsightIds, criterion, criterion_ids[i]);

      put_array (builder, G_VARIANT_TYPE_INT64, ids->ids, ids->n, sizeof (gint64));
    }
  put_reasons (builder, criterion->reasons);
  g_variant_builder_close (builder);
}

static void
put_step (GVariantBuilder *builder, const InsightStep *step)
{
  g_variant_builder_open (builder, G_VARIANT_TYPE (STEP));
  g_variant_builder_add (builder, "u", (guint32) step->code);
  g_variant_builder_add (builder, "u", step->criterion);
  g_variant_builder_add (builder, "x", step->characteristic);
  put_strv (builder, step->names);
  put_array (builder, G_VARIANT_TYPE_INT64, step->counts, step->n_counts, sizeof (gint64));
  put_array (builder, G_VARIANT_TYPE_DOUBLE, step->numbers, step->n_numbers, sizeof (double));
  g_variant_builder_close (builder);
}

/**
 * insight_standing_to_variant:
 * @standing: a standing
 *
 * Returns: (transfer floating): the whole of it as one value
 */
GVariant *
insight_standing_to_variant (const InsightStanding *standing)
{
  GVariantBuilder builder;

  g_variant_builder_init (&builder, G_VARIANT_TYPE (STANDING));
  g_variant_builder_add (&builder, "u", FORM);
  g_variant_builder_add (&builder, "x", standing->model);
  g_variant_builder_add (&builder, "x", standing->round);
  put_strings (&builder, standing, standing_strings, G_N_ELEMENTS (standing_strings));
  put_ints (&builder, standing, standing_ints, G_N_ELEMENTS (standing_ints));
  g_variant_builder_add (&builder, "x", (gint64) standing->criteria->len);

  g_variant_builder_open (&builder, G_VARIANT_TYPE ("a" CRITERION));
  for (guint i = 0; i < standing->criteria->len; i++)
    put_criterion (&builder, standing->criteria->pdata[i]);
  g_variant_builder_close (&builder);
  put_score (&builder, &standing->score);
  put_scores (&builder, standing->classes);

  g_variant_builder_open (&builder, G_VARIANT_TYPE ("a" GAP));
  for (guint i = 0; i < standing->gaps->len; i++)
    {
      const InsightGap *gap = standing->gaps->pdata[i];

      g_variant_builder_open (&builder, G_VARIANT_TYPE (GAP));
      g_variant_builder_add (&builder, "u", (guint32) gap->code);
      g_variant_builder_add (&builder, "x", gap->id);
      put_strv (&builder, gap->names);
      g_variant_builder_close (&builder);
    }
  g_variant_builder_close (&builder);

  g_variant_builder_open (&builder, G_VARIANT_TYPE ("a" STEP));
  for (guint i = 0; i < standing->steps->len; i++)
    put_step (&builder, standing->steps->pdata[i]);
  g_variant_builder_close (&builder);

  g_variant_builder_open (&builder, G_VARIANT_TYPE ("a" POINT));
  for (guint i = 0; i < standing->course->len; i++)
    {
      const InsightCoursePoint *point = standing->course->pdata[i];

      g_variant_builder_open (&builder, G_VARIANT_TYPE (POINT));
      g_variant_builder_add (&builder, "x", point->round);
      g_variant_builder_add (&builder, "s", point->label);
      g_variant_builder_add (&builder, "i", (gint32) point->kind);
      put_score (&builder, &point->all);
      put_scores (&builder, point->classes);
      g_variant_builder_close (&builder);
    }
  g_variant_builder_close (&builder);
  return g_variant_builder_end (&builder);
}

/* Elements of a fixed array, copied; %NULL when empty. */
static gpointer
take_array (GVariant *parent, gsize i, gsize size, guint *n)
{
  g_autoptr(GVariant) array = g_variant_get_child_value (parent, i);
  gsize length;
  gconstpointer elements = g_variant_get_fixed_array (array, &length, size);

  *n = (guint) length;
  return length > 0 ? g_memdup2 (elements, length * size) : NULL;
}

static char **
take_strv (GVariant *parent, gsize i)
{
  g_autoptr(GVariant) array = g_variant_get_child_value (parent, i);

  return g_variant_dup_strv (array, NULL);
}

static gboolean
take_strings (GVariant *parent, gsize i, gpointer base, const gsize *offsets, guint n)
{
  g_auto(GStrv) strings = take_strv (parent, i);

  if (g_strv_length (strings) != n)
    return FALSE;
  for (guint k = 0; k < n; k++)
    AT (char *, base, offsets[k]) = g_strdup (strings[k]);
  return TRUE;
}

static gboolean
take_fixed (GVariant *parent, gsize i, gpointer base, const gsize *offsets, guint n, gsize size)
{
  guint length;
  g_autofree char *elements = take_array (parent, i, size, &length);

  if (length != n)
    return FALSE;
  for (guint k = 0; k < n; k++)
    memcpy ((char *) base + offsets[k], elements + k * size, size);
  return TRUE;
}

static void
take_score (GVariant *parent, gsize i, InsightScore *score)
{
  g_autoptr(GVariant) value = g_variant_get_child_value (parent, i);

  g_variant_get (value, SCORE, &score->total, &score->met, &score->score, &score->percent);
}

static gboolean
take_scores (GVariant *parent, gsize i, InsightScore *scores)
{
  g_autoptr(GVariant) array = g_variant_get_child_value (parent, i);

  if (g_variant_n_children (array) != INSIGHT_N_CLASSES)
    return FALSE;
  for (guint k = 0; k < INSIGHT_N_CLASSES; k++)
    take_score (array, k, &scores[k]);
  return TRUE;
}

static gboolean
take_reasons (GVariant *parent, gsize i, GPtrArray *reasons)
{
  g_autoptr(GVariant) array = g_variant_get_child_value (parent, i);

  for (gsize k = 0; k < g_variant_n_children (array); k++)
    {
      g_autoptr(GVariant) value = g_variant_get_child_value (array, k);
      InsightReason *reason = g_new0 (InsightReason, 1);
      guint32 code;

      g_ptr_array_add (reasons, reason);
      g_variant_get_child (value, 0, "u", &code);
      if (code >= INSIGHT_N_REASONS)
        return FALSE;
      reason->code = (InsightReasonCode) code;
      reason->names = take_strv (value, 1);
      reason->counts = take_array (value, 2, sizeof (gint64), &reason->n_counts);
      reason->numbers = take_array (value, 3, sizeof (double), &reason->n_numbers);
      reason->ids = take_array (value, 4, sizeof (gint64), &reason->n_ids);
    }
  return TRUE;
}

static gboolean
take_criterion (GVariant *value, GPtrArray *criteria)
{
  InsightCriterion *criterion = insight_criterion_new ();

  g_ptr_array_add (criteria, criterion);
  if (!take_strings (value, 0, criterion, criterion_strings, G_N_ELEMENTS (criterion_strings))
      || !take_fixed (value, 1, criterion, criterion_keys, G_N_ELEMENTS (criterion_keys), sizeof (gint64))
      || !take_fixed (value, 2, criterion, criterion_ints, G_N_ELEMENTS (criterion_ints), sizeof (gint32))
      || !take_fixed (value, 3, criterion, criterion_doubles, G_N_ELEMENTS (criterion_doubles), sizeof (double)))
    return FALSE;
  g_strfreev (criterion->rounds);
  criterion->rounds = take_strv (value, 4);
  for (guint i = 0; i < G_N_ELEMENTS (criterion_ids); i++)
    {
      InsightIds *ids = &AT (InsightIds, criterion, criterion_ids[i]);

      ids->ids = take_array (value, 5 + i, sizeof (gint64), &ids->n);
    }
  return take_reasons (value, 9, criterion->reasons) && (guint) criterion->state <= INSIGHT_NO_DATA
         && (guint) criterion->method < INSIGHT_N_METHODS
         && criterion->klass >= BOOK_CLASS_SAFETY && criterion->klass <= BOOK_CLASS_APPEARANCE;
}

static gboolean
take_gap (GVariant *value, GPtrArray *gaps)
{
  guint32 code;
  gint64 id;
  g_auto(GStrv) names = take_strv (value, 2);

  g_variant_get_child (value, 0, "u", &code);
  g_variant_get_child (value, 1, "x", &id);
  if (code >= INSIGHT_N_GAPS || g_strv_length (names) != 2)
    return FALSE;
  g_ptr_array_add (gaps, insight_gap_new ((InsightGapCode) code, id, names[0], names[1]));
  return TRUE;
}

static gboolean
take_step (GVariant *value, GPtrArray *steps, guint n_criteria)
{
  InsightStep *step = g_new0 (InsightStep, 1);
  guint32 code;

  g_ptr_array_add (steps, step);
  g_variant_get_child (value, 0, "u", &code);
  g_variant_get_child (value, 1, "u", &step->criterion);
  g_variant_get_child (value, 2, "x", &step->characteristic);
  step->code = (InsightStepCode) code;
  step->names = take_strv (value, 3);
  step->counts = take_array (value, 4, sizeof (gint64), &step->n_counts);
  step->numbers = take_array (value, 5, sizeof (double), &step->n_numbers);
  return code < INSIGHT_N_STEPS && step->criterion < n_criteria;
}

static gboolean
take_point (GVariant *value, GPtrArray *course)
{
  InsightCoursePoint *point = g_new0 (InsightCoursePoint, 1);
  gint32 kind;

  g_ptr_array_add (course, point);
  g_variant_get_child (value, 0, "x", &point->round);
  g_variant_get_child (value, 1, "s", &point->label);
  g_variant_get_child (value, 2, "i", &kind);
  point->kind = (BookRoundKind) kind;
  take_score (value, 3, &point->all);
  return take_scores (value, 4, point->classes);
}

static gboolean
take_standing (GVariant *variant, InsightStanding *standing)
{
  g_autoptr(GVariant) criteria = g_variant_get_child_value (variant, 6);
  g_autoptr(GVariant) gaps = g_variant_get_child_value (variant, 9);
  g_autoptr(GVariant) steps = g_variant_get_child_value (variant, 10);
  g_autoptr(GVariant) course = g_variant_get_child_value (variant, 11);
  gboolean ok = TRUE;

  g_variant_get_child (variant, 1, "x", &standing->model);
  g_variant_get_child (variant, 2, "x", &standing->round);
  ok = take_strings (variant, 3, standing, standing_strings, G_N_ELEMENTS (standing_strings))
       && take_fixed (variant, 4, standing, standing_ints, G_N_ELEMENTS (standing_ints), sizeof (gint32));
  for (gsize i = 0; ok && i < g_variant_n_children (criteria); i++)
    {
      g_autoptr(GVariant) value = g_variant_get_child_value (criteria, i);

      ok = take_criterion (value, standing->criteria);
    }
  take_score (variant, 7, &standing->score);
  ok = ok && take_scores (variant, 8, standing->classes);
  for (gsize i = 0; ok && i < g_variant_n_children (gaps); i++)
    {
      g_autoptr(GVariant) value = g_variant_get_child_value (gaps, i);

      ok = take_gap (value, standing->gaps);
    }
  for (gsize i = 0; ok && i < g_variant_n_children (steps); i++)
    {
      g_autoptr(GVariant) value = g_variant_get_child_value (steps, i);

      ok = take_step (value, standing->steps, standing->criteria->len);
    }
  for (gsize i = 0; ok && i < g_variant_n_children (course); i++)
    {
      g_autoptr(GVariant) value = g_variant_get_child_value (course, i);

      ok = take_point (value, standing->course);
    }
  return ok;
}

/**
 * insight_standing_from_variant:
 * @variant: a kept value; may be damaged or of another version
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the standing; %INSIGHT_ERROR_KEPT when it is not one of this version
 */
InsightStanding *
insight_standing_from_variant (GVariant *variant, GError **error)
{
  g_autoptr(InsightStanding) standing = insight_standing_new ();
  guint32 form = 0;

  if (g_variant_is_of_type (variant, G_VARIANT_TYPE (STANDING)))
    g_variant_get_child (variant, 0, "u", &form);
  if (form != FORM || !take_standing (variant, standing))
    {
      g_set_error_literal (error, INSIGHT_ERROR, INSIGHT_ERROR_KEPT,
                           _("The kept answer is of another version of the program: compute it again."));
      return NULL;
    }
  return g_steal_pointer (&standing);
}
