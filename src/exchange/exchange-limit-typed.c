/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange-limit-typed.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "exchange-error.h"
#include "exchange-fit.h"
#include "exchange-number.h"

#define MOST_LETTERS 200
#define FIT_DECIMALS 4 /* half a micrometre: js of an odd grade */

static gboolean G_GNUC_PRINTF (2, 3)
refuse (GError **error, const char *form, ...)
{
  va_list arguments;

  va_start (arguments, form);
  if (error != NULL)
    *error = g_error_new_valist (EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT, form, arguments);
  va_end (arguments);
  return FALSE;
}

/* Signs of a drawing that say what is measured, not how far (ISO 129-1): diameter, radius, square. */
static const char *
skip_signs (const char *text)
{
  static const char *const signs[] = { "Ø", "ø", "⌀", "□", "SØ", "R " };
  const char *p = exchange_text_skip_spaces (text);

  for (guint i = 0; i < G_N_ELEMENTS (signs); i++)
    if (g_str_has_prefix (p, signs[i]))
      return exchange_text_skip_spaces (p + strlen (signs[i]));
  if (*p == 'R' && g_ascii_isdigit (p[1]))
    p++;
  return p;
}

/* Deviations that a drawing adds in brackets behind a class say the same once more. */
static char *
class_of (const char *text)
{
  const char *end = text;

  while (g_ascii_isalnum (*end) || *end == '/')
    end++;
  if (end > text)
    {
      const char *behind = exchange_text_skip_spaces (end);

      if (*behind == '(' && strchr (behind, ')') != NULL && *exchange_text_skip_spaces (strchr (behind, ')') + 1) == '\0')
        return g_strndup (text, (gsize) (end - text));
    }
  return g_strdup (text);
}

/* `12 H7`. @is_fit: whether it was one, right or wrong. */
static gboolean
type_fit (const char *text, const char *unit, ExchangeLimit *limit, gboolean *is_fit, GError **error)
{
  const char *p = text;
  g_autofree char *class = NULL;
  const char *written = NULL;
  ExchangeNumber size;
  double lower = 0.0, upper = 0.0;
  guint decimals = FIT_DECIMALS;

  *is_fit = FALSE;
  if (!exchange_number_scan (&p, 0, &size))
    return FALSE;
  p = exchange_text_skip_spaces (p);
  if (g_str_has_prefix (p, "mm"))
    {
      written = "mm";
      p = exchange_text_skip_spaces (p + 2);
    }
  class = g_strchomp (class_of (p));
  if (g_ascii_isalpha (class[0]) && strchr (class, '/') != NULL && strchr (class, ' ') == NULL)
    {
      *is_fit = TRUE;
      return refuse (error, _("'%s' is the fit of two parts: type the class of this one alone, such as 'H7'."), class);
    }
  switch (exchange_fit_read (class, size.value, &lower, &upper))
    {
    case EXCHANGE_FIT_NO_CLASS:
      return FALSE;
    case EXCHANGE_FIT_NOT_HELD:
      *is_fit = TRUE;
      return refuse (error, _("The tolerance class '%s' is not known for this size: type its two limits instead."), class);
    case EXCHANGE_FIT_SIZE:
      *is_fit = TRUE;
      return refuse (error, _("Tolerance classes are known here for sizes above 0 and up to %g mm: type the two limits instead."),
                     EXCHANGE_FIT_SIZE_MOST);
    case EXCHANGE_FIT_OK:
      break;
    }
  *is_fit = TRUE;
  if (unit != NULL && *unit != '\0' && !g_str_equal (unit, "mm"))
    return refuse (error, _("'%s' is a class for sizes in mm, but the characteristic is in %s."), class, unit);
  exchange_limit_init (limit);
  limit->unit = written;
  limit->lower = exchange_number_round (size.value + lower, decimals + size.decimals);
  limit->upper = exchange_number_round (size.value + upper, decimals + size.decimals);
  while (decimals > size.decimals && decimals > 3) /* no digits that say nothing */
    {
      double low = exchange_number_round (limit->lower, decimals - 1), high = exchange_number_round (limit->upper, decimals - 1);

      if (fabs (low - limit->lower) > 1e-9 || fabs (high - limit->upper) > 1e-9)
        break;
      decimals--;
    }
  limit->decimals = MAX (decimals, size.decimals);
  if (lower <= 0.0 && upper >= 0.0)
    limit->nominal = size.value;
  limit->is_doubtful = size.is_doubtful;
  return TRUE;
}

/**
 * exchange_limit_type:
 * @text: what was typed
 * @unit: (nullable): of the characteristic; %NULL or "": none, or not known
 * @limit: (out): how it is understood; without a nominal value where that lies outside the limits, as with `10 g6`
 * @error: return location
 *
 * `12.5 +0.1 -0.05`, `12.5 ±0.1`, `12.4..12.6`, `>= 30`, `max 5 N`, `12 H7`; a decimal comma is taken as well.
 *
 * Returns: whether it is understood and has at least one limit; else %EXCHANGE_ERROR_CONTENT with a sentence for the field
 */
gboolean
exchange_limit_type (const char *text, const char *unit, ExchangeLimit *limit, GError **error)
{
  const char *p = skip_signs (text);
  const char *known = unit != NULL ? exchange_unit_find (unit) : NULL;
  gboolean is_fit;

  exchange_limit_init (limit);
  if (*p == '\0')
    return refuse (error, _("Type limits as they stand on the drawing, such as '12.5 ±0.1', '12.4..12.6', '>= 30' or '12 H7'."));
  if (!g_utf8_validate (text, -1, NULL) || g_utf8_strlen (text, -1) > MOST_LETTERS)
    return refuse (error, _("This is too long for limits: type numbers alone, such as '12.5 ±0.1'."));
  if (type_fit (p, unit, limit, &is_fit, error))
    return TRUE;
  if (is_fit)
    return FALSE;
  if (!exchange_limit_read (p, 0, limit))
    return refuse (error, _("This is not understood as limits: type them such as '12.5 ±0.1', '12.4..12.6', '>= 30' or '12 H7'."));
  if (isnan (limit->lower) && isnan (limit->upper))
    return refuse (error, _("This is the value aimed at alone: add how far it may be off, such as '±0.1'."));
  if (limit->lower >= limit->upper)
    return refuse (error, _("The upper limit must be greater than the lower one."));
  if (limit->unit != NULL && unit != NULL && *unit != '\0' && strcmp (limit->unit, known != NULL ? known : unit) != 0)
    return refuse (error, _("The limits are in %s, but the characteristic is in %s: type them in its unit."), limit->unit, unit);
  if (!isnan (limit->nominal) && (limit->nominal < limit->lower || limit->nominal > limit->upper))
    limit->nominal = NAN;
  return TRUE;
}
