/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures as text; see the header for the two ways of writing. */

#include "config.h"

#include "present-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define MOST_DECIMALS 9
#define ROUNDING_SLACK 1e-9 /* 0.57 * 100 is a hair below 57: that hair is not a reason to say 56 */
#define MINUS "\xe2\x88\x92"
#define NO_BREAK "\xc2\xa0"
#define SHARE_DECIMALS 4 /* of a percentage that fails: below a millionth the figure would claim to know the tail */

static gboolean local_numbers;

/**
 * present_number_set_local:
 * @local: %TRUE for the locale's decimal sign and a true minus
 *
 * Chooses how all figures of this process are written. Called once, before any other thread writes figures.
 */
void
present_number_set_local (gboolean local)
{
  local_numbers = local;
}

static char *
localise (const char *ascii)
{
  g_autofree char *half = g_strdup_printf ("%.1f", 0.5); /* printf() writes in the locale: '0,5' */
  GString *text = g_string_new (ascii);

  half[strlen (half) - 1] = '\0';
  g_string_replace (text, ".", half + 1, 1);
  g_string_replace (text, "-", MINUS, 1);
  return g_string_free (text, FALSE);
}

static char *
format_fixed (double value, int decimals)
{
  char format[8];
  char ascii[G_ASCII_DTOSTR_BUF_SIZE + 320]; /* 1e308 written out has 309 digits */

  decimals = CLAMP (decimals, 0, MOST_DECIMALS);
  g_snprintf (format, sizeof format, "%%.%df", decimals);
  g_ascii_formatd (ascii, sizeof ascii, format, value);

  /* '-0.00' tells of a sign that the shown digits do not have. */
  if (ascii[0] == '-' && strspn (ascii + 1, "0.") == strlen (ascii + 1))
    memmove (ascii, ascii + 1, strlen (ascii));

  return local_numbers ? localise (ascii) : g_strdup (ascii);
}

static int
decimals_needed (double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  for (int decimals = 0; decimals < MOST_DECIMALS; decimals++)
    {
      char format[8];

      g_snprintf (format, sizeof format, "%%.%df", decimals);
      if (fabs (value) < 1e15 && g_ascii_strtod (g_ascii_formatd (text, sizeof text, format, value), NULL) == value)
        return decimals;
    }
  return 4; /* not a short decimal: a computed figure */
}

/**
 * present_number:
 * @value: the figure
 * @decimals: how many decimals; -1: as many as a short decimal needs, 4 for a computed figure
 *
 * Returns: (transfer full): the figure, or an empty string for a value that does not exist (NAN)
 */
char *
present_number (double value, int decimals)
{
  if (isnan (value))
    return g_strdup ("");
  if (isinf (value))
    return g_strdup (value > 0 ? _("unlimited") : _("unlimited below"));

  return format_fixed (value, decimals < 0 ? decimals_needed (value) : decimals);
}

/* A figure and what follows it never stand on two lines of the window. */
static const char *
gap (void)
{
  return local_numbers ? NO_BREAK : " ";
}

static char *
with_unit (const char *text, const char *unit)
{
  if (unit == NULL || *unit == '\0')
    return g_strdup (text);
  return g_strdup_printf ("%s%s%s", text, gap (), unit);
}

/**
 * present_value:
 * @value: a measured figure
 * @decimals: of its characteristic; -1: as many as needed
 * @unit: (nullable): its unit
 *
 * Returns: (transfer full): '12.031 mm'; empty for NAN
 */
char *
present_value (double value, int decimals, const char *unit)
{
  g_autofree char *text = present_number (value, decimals);

  return *text == '\0' ? g_steal_pointer (&text) : with_unit (text, unit);
}

/**
 * present_small_value:
 * @value: a computed figure that may be much smaller than what is measured, such as a guard band
 * @unit: (nullable): its unit
 *
 * Returns: (transfer full): the figure with two digits, '0.0047 mm'; empty for NAN
 */
char *
present_small_value (double value, const char *unit)
{
  const int decimals = value == 0 || !isfinite (value) ? 0 : 1 - (int) floor (log10 (fabs (value)));

  return present_value (value, CLAMP (decimals, 0, MOST_DECIMALS), unit);
}

/**
 * present_interval:
 * @low: lower end; NAN or infinite when open
 * @high: upper end; NAN or infinite when open
 * @decimals: of both ends; -1: as many as needed
 * @unit: (nullable): their unit
 *
 * Returns: (transfer full): '11.98 to 12.04 mm', with one end 'at least 11.98 mm', without any an empty string
 */
char *
present_interval (double low, double high, int decimals, const char *unit)
{
  const gboolean has_low = isfinite (low), has_high = isfinite (high);
  g_autofree char *low_text = has_low ? present_number (low, decimals) : NULL;
  g_autofree char *high_text = has_high ? present_value (high, decimals, unit) : NULL;

  if (has_low && has_high)
    /* Translators: an interval of measured values, '11.98 to 12.04 mm' */
    return g_strdup_printf (_("%s to %s"), low_text, high_text);
  if (has_low)
    {
      g_autofree char *value = with_unit (low_text, unit);

      return g_strdup_printf (_("at least %s"), value);
    }
  if (has_high)
    return g_strdup_printf (_("at most %s"), high_text);
  return g_strdup ("");
}

/**
 * present_limits:
 * @lower: lower limit; NAN or infinite when there is none
 * @upper: upper limit; NAN or infinite when there is none
 * @decimals: of the characteristic, at least; a limit that needs more gets them, so that it never looks like another
 * @unit: (nullable): their unit
 *
 * Returns: (transfer full): the limits as a maker says them
 */
char *
present_limits (double lower, double upper, int decimals, const char *unit)
{
  int shown = decimals;

  if (isfinite (lower))
    shown = MAX (shown, decimals_needed (lower));
  if (isfinite (upper))
    shown = MAX (shown, decimals_needed (upper));
  return present_interval (lower, upper, shown, unit);
}

static double
percent_floor (double share, int decimals)
{
  const double scale = pow (10, decimals);

  return floor (share * 100 * scale + ROUNDING_SLACK) / scale;
}

static double
percent_ceil (double share, int decimals)
{
  const double scale = pow (10, decimals);

  return ceil (share * 100 * scale - ROUNDING_SLACK) / scale;
}

static char *
percent (double value, int decimals)
{
  g_autofree char *text = format_fixed (value, decimals);
  GString *whole = g_string_new (NULL);

  /* Translators: a percentage; the space is the one your language writes before the sign */
  g_string_append_printf (whole, _("%s %%"), text);
  g_string_replace (whole, " ", gap (), 0);
  return g_string_free (whole, FALSE);
}

static int
wanted_decimals (double wanted)
{
  for (int decimals = 0; decimals < 2; decimals++)
    if (fabs (percent_ceil (wanted, decimals) - wanted * 100) < 1e-7)
      return decimals;
  return 2;
}

/**
 * present_confidence:
 * @reached: confidence, 0 to 1
 * @wanted: confidence asked for; NAN when none was
 *
 * Rounded down. It gets decimals only where whole percents would make a reached aim look missed, or all of
 * 99.2 and 99.9 the same.
 *
 * Returns: (transfer full): '87 %'; empty for NAN
 */
char *
present_confidence (double reached, double wanted)
{
  int decimals = reached >= 0.99 ? 1 : 0;

  if (isnan (reached))
    return g_strdup ("");

  /* No measurement makes certain: a 1 is a number so close to it that the computer cannot tell them apart. */
  if (reached >= wanted)
    while (decimals < 4 && percent_floor (reached, decimals) < percent_ceil (wanted, wanted_decimals (wanted)))
      decimals++;
  return percent (MIN (percent_floor (reached, decimals), 100 - pow (10, -decimals)), decimals);
}

/**
 * present_confidence_pair:
 * @one: a confidence
 * @other: another
 * @one_text: (out): @one, rounded down
 * @other_text: (out): @other, rounded down
 *
 * Writes two confidences that are told apart with as many decimals as that needs, up to 4.
 */
void
present_confidence_pair (double one, double other, char **one_text, char **other_text)
{
  int decimals = MAX (one, other) >= 0.99 ? 1 : 0;

  while (decimals < 4 && percent_floor (one, decimals) == percent_floor (other, decimals))
    decimals++;
  *one_text = percent (MIN (percent_floor (one, decimals), 100 - pow (10, -decimals)), decimals);
  *other_text = percent (MIN (percent_floor (other, decimals), 100 - pow (10, -decimals)), decimals);
}

/**
 * present_wanted:
 * @wanted: confidence asked for, 0 to 1
 *
 * Returns: (transfer full): '90 %', '97.5 %'; rounded up at the second decimal; empty for NAN
 */
char *
present_wanted (double wanted)
{
  const int decimals = isnan (wanted) ? 0 : wanted_decimals (wanted);

  return isnan (wanted) ? g_strdup ("") : percent (percent_ceil (wanted, decimals), decimals);
}

/**
 * present_failing_share:
 * @share: share that fails, 0 to 1
 *
 * Returns: (transfer full): a percentage rounded up: whole from 10 % on, else two digits, at least 0.0001 % if anything
 *   fails; empty for NAN
 */
char *
present_failing_share (double share)
{
  int decimals;

  if (isnan (share))
    return g_strdup ("");
  if (share <= 0)
    return percent (0, 0);

  decimals = share >= 0.1 ? 0 : CLAMP (1 - (int) floor (log10 (share * 100)), 0, SHARE_DECIMALS);
  while (decimals > 0 && fabs (percent_ceil (share, decimals - 1) - share * 100) < 1e-9)
    decimals--;
  return percent (MIN (percent_ceil (share, decimals), 100), decimals);
}

/* The smallest of 100, 1000, ... in which @share is a whole number; 0 when none is. */
static guint
whole_in (double share)
{
  for (guint in = 100; in <= 1000000; in *= 10)
    if (fabs (share * in - round (share * in)) < 1e-6)
      return in;
  return 0;
}

/**
 * present_percent:
 * @share: 0 to 1, or NAN
 * @decimals: of the percentage
 *
 * Returns: (transfer full): '63 %'; empty for NAN
 */
char *
present_percent (double share, int decimals)
{
  return isnan (share) ? g_strdup ("") : present_value (100.0 * share, decimals, "%");
}

/**
 * present_percent_range:
 * @low: lower end, 0 to 1
 * @high: upper end
 *
 * Returns: (transfer full): '54 to 71 %', one figure when both ends round to it; empty when one is NAN
 */
char *
present_percent_range (double low, double high)
{
  g_autofree char *first = present_number (100.0 * low, 0), *last = present_number (100.0 * high, 0);

  if (isnan (low) || isnan (high))
    return g_strdup ("");
  if (g_str_equal (first, last))
    return present_percent (low, 0);
  /* Translators: a range of percentages */
  return g_strdup_printf (_("%s to %s %%"), first, last);
}

/**
 * present_share_in:
 * @share: share that must conform, 0 to 1
 *
 * Returns: (transfer full): '95 in 100', '9999 in 10000'; '90.93 % of' where no such pair says it exactly. What it is
 *   a share of follows
 */
char *
present_share_in (double share)
{
  const guint in = whole_in (share);

  if (in == 0)
    {
      const int digits = share > 0.999 ? 4 : 2;
      g_autofree char *value = percent (percent_floor (share, digits), digits);

      /* Translators: a percentage before what it is a share of, '90.93 % of units' */
      return g_strdup_printf (_("%s of"), value);
    }
  /* Translators: a share as two counts, '95 in 100' */
  return g_strdup_printf (_("%u in %u"), (guint) round (share * in), in);
}

/**
 * present_fails_in:
 * @tolerated: share that fails, above 0
 *
 * Returns: (transfer full): '1 in 20' where that is exact, else '3 in 100'
 */
char *
present_fails_in (double tolerated)
{
  const double one_in = tolerated > 0 ? 1 / tolerated : 0;

  if (one_in >= 1 && fabs (one_in - round (one_in)) < 1e-6 * one_in && one_in < 1e7)
    return g_strdup_printf (_("%u in %u"), 1u, (guint) round (one_in));
  return present_share_in (tolerated);
}

/**
 * present_chance:
 * @chance: a chance, 0 to 1
 * @times: (out): counter
 * @in: (out): denominator: 2, 3, 4, 5, 10, 20, 50 or 100
 *
 * The plainest pair that says a chance well enough to feel it: the first denominator within 3 hundredths, finer
 * near both ends. 0 in 100 and 100 in 100 mean less than one in 200 and more than 199 in 200.
 */
void
present_chance (double chance, guint *times, guint *in)
{
  static const guint denominators[] = { 2, 3, 4, 5, 10, 20, 50, 100 };

  for (guint i = 0; i < G_N_ELEMENTS (denominators); i++)
    {
      const guint n = denominators[i];
      const double k = round (chance * n);
      const double allowed = MIN (0.03, 0.3 * MIN (chance, 1 - chance));

      if (n < 100 && (k < 1 || k > n - 1 || fabs (k / n - chance) > allowed))
        continue;
      *times = (guint) CLAMP (k, 0, n);
      *in = n;
      return;
    }
}
