/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "present-setup.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "insight-class.h"
#include "present-number.h"

typedef struct
{
  BookRecordId record;
  const char  *purpose;
  const char  *begin;
} Words;

static const Words words[] = {
  { BOOK_RECORD_MODEL, N_("A model is what is brought from prototype to release."),
    N_("Add the first model: its code and its name are enough.") },
  { BOOK_RECORD_CHARACTERISTIC, N_("A characteristic is what is measured or checked on each unit; limits say what conforms."),
    N_("Add the first one: a code such as 'PLAY', its name, its unit and its class.") },
  { BOOK_RECORD_LIMIT, N_("Limits say which values of a characteristic conform, and from which day on."),
    N_("Add characteristics first; then type limits as on the drawing, such as '12.5 ±0.1'.") },
  { BOOK_RECORD_DEPENDS, N_("What a characteristic depends on decides which changes make its earlier readings count no longer."),
    N_("Name the parts and steps that a characteristic depends on; without any it depends on everything.") },
  { BOOK_RECORD_STEP, N_("The route is the way of a unit through the shop, step by step."),
    N_("Add the steps in the order in which they are done; Alt+Up and Alt+Down move a step.") },
  { BOOK_RECORD_STEP_SETTING, N_("A setting is what is set at a step, such as a temperature or a torque, and from which day on."),
    N_("Add steps first; then note what is set at each.") },
  { BOOK_RECORD_GATE, N_("A gate is a decision on the way to release, with what must be shown before it."),
    N_("Add the gates in their order, such as 'Pilot run' and 'Release'.") },
  { BOOK_RECORD_CRITERION, N_("A criterion is what must be shown at a gate."),
    N_("Add gates and characteristics first; then say what each gate asks for.") },
  { BOOK_RECORD_CRITERION_TERM, N_("Terms say which share, at which confidence, a criterion asks for, and from which day on."),
    N_("Without terms a criterion takes what its class asks for; add terms where it needs others.") },
  { BOOK_RECORD_HAZARD, N_("A hazard is a way in which somebody could be hurt, and what covers it."),
    N_("Write down what could hurt whom; then name the characteristic or document that covers it.") },
  { BOOK_RECORD_DOCUMENT, N_("Documents are what must be written and approved before release."),
    N_("Add what is wanted, such as the drawings and the instructions; its state follows later.") },
  { BOOK_RECORD_PART, N_("Parts are what a unit is made of; models can share them."),
    N_("Add a part with its number and name; a bought one with its supplier and lead time.") },
  { BOOK_RECORD_REVISION, N_("A revision is a state of a part's design."),
    N_("Add parts first; then the revision of each that is built now.") },
  { BOOK_RECORD_SUPPLIER, N_("Suppliers deliver parts and do outside steps."), N_("Add a supplier by its name.") },
  { BOOK_RECORD_BENCH, N_("A bench is a machine group or work place where steps are done."),
    N_("Add a bench with its machines and people: from these follows how many units a month it makes.") },
  { BOOK_RECORD_GAUGE, N_("Gauges are what characteristics are measured with."),
    N_("Add a gauge by the name engraved on it, and the smallest step it shows.") },
  { BOOK_RECORD_GAUGE_CALIBRATION, N_("A calibration says until when the readings of a gauge count."),
    N_("Add gauges first; then the day of each one's last calibration, and when it is due.") },
  { BOOK_RECORD_PERSON, N_("People are who measures, builds and decides; they write under their initials."),
    N_("Add a person by initials and role.") },
  { BOOK_RECORD_HOLIDAY, N_("Holidays are days on which the shop does not work; they are left out of working days."),
    N_("Add a day and what it is called.") },
  { BOOK_RECORD_SETTING, N_("Settings hold for the whole shop: working week, hourly cost, paper, who may widen limits."),
    N_("Add 'working week' with the hours of each weekday, such as '8 8 8 8 6 0 0'.") },
};
G_STATIC_ASSERT (G_N_ELEMENTS (words) == BOOK_N_SETUP_KINDS);

static const Words *
find (BookRecordId record)
{
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (words[i].record == record)
      return &words[i];
  g_assert_not_reached ();
}

/**
 * present_setup_purpose:
 * @record: one of book_setup_kinds()
 *
 * Returns: (transfer none): what the records of the kind are for
 */
const char *
present_setup_purpose (BookRecordId record)
{
  return _(find (record)->purpose);
}

/**
 * present_setup_begin:
 * @record: one of book_setup_kinds()
 *
 * Returns: (transfer none): how to begin where there is none yet
 */
const char *
present_setup_begin (BookRecordId record)
{
  return _(find (record)->begin);
}

/**
 * present_setup_goes_with:
 * @counts: by #BookRecordId, of book_record_goes_with()
 *
 * Returns: (transfer full) (nullable): kinds and counts of what is deleted too, such as 'Limits 2, Dependences 3'; %NULL
 *   where nothing is
 */
char *
present_setup_goes_with (const guint counts[BOOK_N_RECORDS + 1])
{
  g_autoptr(GString) all = g_string_new (NULL);

  for (guint i = 1; i <= BOOK_N_RECORDS; i++)
    if (counts[i] > 0)
      g_string_append_printf (all, "%s%s\u00a0%u", all->len > 0 ? ", " : "", book_record_plural (book_record ((BookRecordId) i)),
                              counts[i]);
  return all->len > 0 ? g_string_free (g_steal_pointer (&all), FALSE) : NULL;
}

/**
 * present_setup_limits:
 * @nominal: the value aimed at; NAN: none
 * @lower: the least that conforms; NAN: no such limit
 * @upper: the greatest that conforms; NAN: no such limit
 * @decimals: shown at least
 * @unit: (nullable): of all of them
 *
 * Returns: (transfer full): one sentence that a person can hold against the drawing
 */
char *
present_setup_limits (double nominal, double lower, double upper, int decimals, const char *unit)
{
  g_autofree char *limits = present_limits (lower, upper, decimals, unit);
  g_autofree char *aimed = NULL;

  if (*limits == '\0')
    return g_strdup (_("Every value conforms."));
  if (isnan (nominal))
    /* Translators: %s is an interval, '11.98 to 12.04 mm' or 'at least 30 N' */
    return g_strdup_printf (_("What conforms: %s."), limits);
  aimed = present_value (nominal, -1, unit);
  /* Translators: the first %s is an interval, '11.98 to 12.04 mm', the second a value */
  return g_strdup_printf (_("What conforms: %s; aimed at is %s."), limits, aimed);
}

char *
present_setup_limits_now (const BookLimitNow *now)
{
  g_autofree char *limits = present_setup_limits (now->nominal, now->lower, now->upper, now->decimals, now->unit);

  if (*now->from == '\0')
    return g_strdup (_("There are no limits yet: every value conforms."));
  return g_strdup_printf (_("Since %s. %s"), now->from, limits);
}

static void
add_sentence (GString *text, char *sentence)
{
  if (text->len > 0)
    g_string_append_c (text, ' ');
  g_string_append (text, sentence);
  g_free (sentence);
}

/* What must be reached where a number is asked for, not a share of units. */
static char *
reached (const BookTermsNow *now)
{
  g_autofree char *share = isnan (now->target) || now->target > 1.0 ? NULL : present_wanted (now->target);
  g_autofree char *number = isnan (now->target) ? NULL : present_number (now->target, -1);

  if (now->kind == BOOK_CRITERION_RATE)
    return number != NULL ? g_strdup_printf (_("Good units a month: at least %s."), number)
                          : g_strdup (_("Good units a month: as many as the model's monthly demand."));
  if (now->kind == BOOK_CRITERION_METHOD)
    return share != NULL ? g_strdup_printf (_("The gauge takes up at most %s of the tolerance."), share)
                         : g_strdup (_("The gauge takes up at most 30 % of the tolerance, as is usual."));
  if (number == NULL)
    return g_strdup (_("All that is counted must be done."));
  return share != NULL ? g_strdup_printf (_("Of what is counted %s must be done."), share)
                       : g_strdup_printf (_("Of what is counted %s must be done."), number);
}

/* The share of units, or what stands for it. */
static char *
conforming (const BookTermsNow *now)
{
  double asked = now->kind == BOOK_CRITERION_YIELD && !isnan (now->target) ? now->target : now->share;
  g_autofree char *share = isnan (asked) ? NULL : present_share_in (asked);

  if (now->kind == BOOK_CRITERION_RATE || now->kind == BOOK_CRITERION_METHOD || (now->kind >= BOOK_CRITERION_ISSUES && isnan (now->share)))
    return reached (now);
  if (share == NULL)
    return now->kind == BOOK_CRITERION_FIX ? g_strdup (_("As many units must not show the issue as it tolerates, or as its class asks."))
                                           : g_strdup (_("As many units must conform as the class asks."));
  switch (now->kind)
    {
    case BOOK_CRITERION_YIELD:
      return g_strdup_printf (_("At least %s units must pass every step the first time."), share);
    case BOOK_CRITERION_FIX:
      return g_strdup_printf (_("At least %s units with the change must not show the issue."), share);
    case BOOK_CRITERION_DETECTION:
      return g_strdup_printf (_("At least %s bad pieces must be found."), share);
    case BOOK_CRITERION_LIFE:
      return g_strdup_printf (_("At least %s units must live as long as is asked."), share);
    default:
      return g_strdup_printf (_("At least %s units must conform."), share);
    }
}

static void
add_life (GString *text, const BookTermsNow *now)
{
  g_autofree char *cycles = isnan (now->cycles) ? NULL : present_number (now->cycles, 0);
  g_autofree char *load = isnan (now->load) ? NULL : present_number (now->load, -1);
  g_autofree char *low = isnan (now->shape_low) ? NULL : present_number (now->shape_low, -1);
  g_autofree char *high = isnan (now->shape_high) ? NULL : present_number (now->shape_high, -1);

  add_sentence (text, cycles != NULL ? g_strdup_printf (_("They must live beyond %s cycles."), cycles)
                                      : g_strdup (_("How many cycles is not said yet: nothing can be judged without.")));
  if (load != NULL)
    add_sentence (text, g_strdup_printf (_("Only tests at a load of at least %s count."), load));
  if (low != NULL)
    add_sentence (text, high != NULL ? g_strdup_printf (_("With fewer than three failures a Weibull shape between %s and %s is assumed."), low, high)
                                      : g_strdup_printf (_("With fewer than three failures a Weibull shape of %s is assumed."), low));
}

/**
 * present_setup_terms_now:
 * @now: what a criterion asks for
 *
 * Returns: (transfer full): the same in sentences; of what its kind does not ask for nothing is said
 */
char *
present_setup_terms_now (const BookTermsNow *now)
{
  GString *text = g_string_new (NULL);
  g_autofree char *confidence = isnan (now->confidence) ? NULL : present_wanted (now->confidence);

  if (*now->from == '\0')
    add_sentence (text, g_strdup (_("There are no terms of its own yet.")));
  else
    add_sentence (text, g_strdup_printf (_("Since %s."), now->from));
  add_sentence (text, conforming (now));
  if (now->kind == BOOK_CRITERION_LIFE)
    add_life (text, now);
  if (now->kind < BOOK_CRITERION_ISSUES)
    add_sentence (text, confidence != NULL ? g_strdup_printf (_("Wanted is a confidence of %s."), confidence)
                                            : g_strdup (_("Wanted is the confidence that the class asks.")));
  if (now->plan_units > 0)
    add_sentence (text, g_strdup_printf (_("It is judged once, by a declared plan: units %u, of which may fail %u."), now->plan_units,
                                          now->plan_failures));
  return g_string_free (text, FALSE);
}

/**
 * present_setup_defaults:
 * @record: one of book_setup_kinds()
 *
 * Returns: (transfer full) (nullable): what each class asks for where the terms of a criterion leave it open; %NULL for kinds
 *   that are no criteria
 */
char *
present_setup_defaults (BookRecordId record)
{
  g_autoptr(GString) all = NULL;

  if (record != BOOK_RECORD_CRITERION && record != BOOK_RECORD_CRITERION_TERM)
    return NULL;
  all = g_string_new (_("Where its terms leave it open, a criterion asks what the class of its characteristic asks."));
  for (const BookChoice *klass = book_classes; klass->text != NULL; klass++)
    {
      g_autofree char *share = present_wanted (insight_class_share ((BookClass) klass->code));
      g_autofree char *confidence = present_wanted (insight_class_confidence ((BookClass) klass->code));

      /* Translators: a class such as 'Safety', the share that must conform, and the confidence */
      g_string_append_printf (all, _(" %s: %s of units conform, shown with a confidence of %s."), book_choice_label (klass), share, confidence);
    }
  return g_string_free (g_steal_pointer (&all), FALSE);
}
