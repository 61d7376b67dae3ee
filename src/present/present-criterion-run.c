/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-criterion-private.h"

#include "present-number.h"
#include "present-reason.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* What is said of one kind. Each sentence quotes the claim first. */
typedef struct
{
  const char *support; /* the claim, the confidence reached, the one wanted */
  const char *so_far;  /* likewise */
  const char *against; /* the claim, the confidence of the contrary */
  const char *nothing; /* the claim: nothing that counts is there */
  const char *silent;  /* the claim: something is there, and no confidence */
} Words;

static const Words run_words = {
  N_("What was counted supports \"%s\" at %s confidence (wanted: %s), if the runs to come are like this one."),
  N_("So far what was counted supports \"%s\" at %s confidence (wanted: %s), if the runs to come are like this one."),
  N_("What was counted speaks against \"%s\": the confidence that it does not hold is %s."),
  N_("Nothing that counts was counted yet for \"%s\"."),
  N_("Nothing can be said yet about \"%s\"."),
};

static const Words life_words = {
  N_("The life tests support \"%s\" at %s confidence (wanted: %s), if the units tested are like those to be sold."),
  N_("So far the life tests support \"%s\" at %s confidence (wanted: %s), if the units tested are like those to be sold."),
  N_("The life tests speak against \"%s\": the confidence that it does not hold is %s."),
  N_("No unit that counts was cycled yet for \"%s\"."),
  N_("Nothing can be said yet about \"%s\"."),
};

static const Words method_words = {
  N_("The study supports \"%s\" at %s confidence (wanted: %s), if the pieces tried are like those to be measured."),
  N_("So far the study supports \"%s\" at %s confidence (wanted: %s), if the pieces tried are like those to be measured."),
  N_("The study speaks against \"%s\": the confidence that it does not hold is %s."),
  N_("There is no study yet that could show \"%s\"."),
  N_("Nothing can be said yet about \"%s\"."),
};

static const Words detection_words = {
  N_("The pieces known to be bad support \"%s\" at %s confidence (wanted: %s), if what is bad is like these pieces."),
  N_("So far the pieces known to be bad support \"%s\" at %s confidence (wanted: %s), if what is bad is like these pieces."),
  N_("The pieces known to be bad speak against \"%s\": the confidence that it does not hold is %s."),
  N_("No piece known to be bad was tried yet for \"%s\"."),
  N_("Nothing can be said yet about \"%s\"."),
};

static const Words *
words_of (BookCriterionKind kind)
{
  switch (kind)
    {
    case BOOK_CRITERION_YIELD:
    case BOOK_CRITERION_RATE:
      return &run_words;
    case BOOK_CRITERION_LIFE:
      return &life_words;
    case BOOK_CRITERION_METHOD:
      return &method_words;
    case BOOK_CRITERION_DETECTION:
      return &detection_words;
    case BOOK_CRITERION_CHECKED:
    case BOOK_CRITERION_MEASURED:
    case BOOK_CRITERION_FIX:
    case BOOK_CRITERION_ISSUES:
    case BOOK_CRITERION_REVISIONS:
    case BOOK_CRITERION_SIGN_OFFS:
    case BOOK_CRITERION_DOCUMENTS:
    case BOOK_CRITERION_LOTS:
      break;
    }
  return NULL;
}

/**
 * present_is_run_kind:
 * @kind: of a criterion
 *
 * Returns: whether its evidence is a run, lives, a study or known bad pieces
 */
gboolean
present_is_run_kind (BookCriterionKind kind)
{
  return words_of (kind) != NULL;
}

static char *
percent (double share)
{
  g_autofree char *number = present_number (100.0 * share, share < 0.1 ? 1 : 0);

  /* Translators: a share as a percentage */
  return g_strdup_printf (_("%s %%"), number);
}

/**
 * present_run_claim:
 * @c: a criterion of such a kind
 *
 * Returns: (transfer full): what is claimed; stands in quotes
 */
char *
present_run_claim (const InsightCriterion *c)
{
  g_autofree char *share = isnan (c->share) ? NULL : present_share_in (c->share);
  g_autofree char *target = c->kind == BOOK_CRITERION_METHOD ? percent (c->target) : present_number (c->target, 0);

  if (c->kind == BOOK_CRITERION_YIELD)
    return g_strdup_printf (_("at least %s units pass every step the first time"), share);
  if (c->kind == BOOK_CRITERION_DETECTION)
    return g_strdup_printf (_("the check finds at least %s bad pieces"), share);
  if (c->kind == BOOK_CRITERION_METHOD)
    return g_strdup_printf (_("the gauge takes up at most %s of the tolerance"), target);
  if (c->kind == BOOK_CRITERION_RATE)
    return isnan (c->target) ? g_strdup (_("enough good units a month can be made"))
                             : g_strdup_printf (_("%s good units a month can be made"), target);
  return isnan (c->target) ? g_strdup_printf (_("at least %s units live long enough"), share)
                           : g_strdup_printf (_("at least %s units live beyond %s cycles"), share, target);
}

/**
 * present_run_sentence:
 * @c: a criterion of such a kind
 * @quoted: its claim
 *
 * Returns: (transfer full): how strongly the evidence supports it
 */
char *
present_run_sentence (const InsightCriterion *c, const char *quoted)
{
  const Words *words = words_of (c->kind);
  g_autofree char *reached = present_confidence (c->confidence, c->wanted);
  g_autofree char *contrary = present_confidence (c->contrary, NAN);
  g_autofree char *wanted = present_wanted (c->wanted);

  g_return_val_if_fail (words != NULL, g_strdup (""));

#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  if (c->n == 0)
    return g_strdup_printf (_(words->nothing), quoted);
  if (isnan (c->confidence))
    return g_strdup_printf (_(words->silent), quoted);
  if (c->state == INSIGHT_AGAINST)
    return g_strdup_printf (_(words->against), quoted, contrary);
  return g_strdup_printf (c->so_far ? _(words->so_far) : _(words->support), quoted, reached, wanted);
#pragma GCC diagnostic pop
}

static char *
estimate_of (const InsightCriterion *c, double value)
{
  if (c->kind == BOOK_CRITERION_RATE)
    return present_number (value, 0);
  return percent (value);
}

/**
 * present_run_estimate:
 * @c: a criterion of such a kind
 *
 * Returns: (transfer full): what was found, with its interval: '71 % (62 % to 79 %)'; empty where there is no estimate
 */
char *
present_run_estimate (const InsightCriterion *c)
{
  g_autofree char *estimate = NULL, *low = NULL, *high = NULL;

  if (isnan (c->estimate))
    return g_strdup ("");
  estimate = estimate_of (c, c->estimate);
  if (isnan (c->estimate_low))
    return g_steal_pointer (&estimate);
  low = estimate_of (c, c->estimate_low);
  high = estimate_of (c, c->estimate_high);
  /* Translators: an estimate and the ends of its interval */
  return g_strdup_printf (_("%s (%s to %s)"), estimate, low, high);
}

/**
 * present_run_result:
 * @c: a criterion of such a kind
 *
 * Returns: (transfer full): a few words for a column
 */
char *
present_run_result (const InsightCriterion *c)
{
  g_autofree char *estimate = isnan (c->estimate) ? NULL : estimate_of (c, c->estimate);

  if (c->n == 0)
    return g_strdup ("");
  if (c->kind == BOOK_CRITERION_RATE)
    return estimate != NULL ? g_strdup_printf (_("%s a month"), estimate) : g_strdup ("");
  if (c->kind == BOOK_CRITERION_LIFE)
    return g_strdup_printf (ngettext ("%u failed", "%u failed", c->failed), c->failed);
  return g_strdup (estimate != NULL ? estimate : "");
}

/**
 * present_run_figures:
 * @c: a criterion of such a kind
 *
 * Returns: (transfer full): its figures in one line
 */
char *
present_run_figures (const InsightCriterion *c)
{
  GString *line = g_string_new (NULL);
  g_autofree char *estimate = present_run_estimate (c);
  g_autofree char *reached = present_confidence (c->confidence, c->wanted);
  g_autofree char *wanted = present_wanted (c->wanted);

  g_string_append_printf (line, c->kind == BOOK_CRITERION_RATE ? _("run days %u") : _("n %u"), c->n);
  if (c->rounds != NULL && c->rounds[0] != NULL)
    g_string_append_printf (line, "; %s %s", _("rounds"), c->rounds[0]);
  if (c->kind == BOOK_CRITERION_LIFE || c->kind == BOOK_CRITERION_DETECTION)
    g_string_append_printf (line, "; %s %u", c->kind == BOOK_CRITERION_LIFE ? _("failing") : _("missed"), c->failed);
  if (*estimate != '\0')
    g_string_append_printf (line, "; %s %s", _("found"), estimate);
  if (*reached != '\0')
    g_string_append_printf (line, "; %s %s", _("confidence"), reached);
  g_string_append_printf (line, "; %s %s", _("wanted"), wanted);
  if (c->kind == BOOK_CRITERION_LIFE)
    {
      g_string_append (line, "; ");
      g_string_append_printf (line, _("looks %u"), c->looks);
      g_string_append (line, "; ");
      g_string_append_printf (line, _("attempt %u"), c->attempts);
    }
  return g_string_free (line, FALSE);
}
