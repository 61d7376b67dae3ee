/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Source: ISO 286-1:2010, tables 1 to 5 (standard tolerances and fundamental deviations), from memory, and held against
 * the formulas of its annex by tests/exchange/test-exchange-fit.c.
 *
 * Method. A class is a letter, which says how far the nearer limit lies from the nominal size (the fundamental
 * deviation), and a grade, which says how wide the tolerance is. Capital letters are for holes, small ones for shafts. A
 * hole has the deviation of its shaft mirrored; for K to S up to certain grades, and above 3 mm, what its grade is wider
 * than the one before is added (the standard's delta), so that H7/p6 and P7/h6 give the same fit. js lies evenly about the
 * nominal size, j as its own table says. Not held: cd, ef and fg, and the letters of heavy press fits that are seldom drawn.
 */
#include "config.h"

#include "exchange-fit.h"

#include <string.h>

#define N_RANGES   8  /* of sizes, for tolerances */
#define N_PLACES   13 /* of sizes, for deviations: some ranges are divided */
#define GRADE_MOST 18

/* Upper ends in mm; each range is above the one before, up to and with its end. */
static const double places[N_PLACES] = { 3, 6, 10, 14, 18, 24, 30, 40, 50, 65, 80, 100, 120 };
static const guint range_of_place[N_PLACES] = { 0, 1, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7 };

/* Micrometres, by grade from 1 on. */
static const double grades[GRADE_MOST][N_RANGES] = {
  { 0.8, 1, 1, 1.2, 1.5, 1.5, 2, 2.5 },
  { 1.2, 1.5, 1.5, 2, 2.5, 2.5, 3, 4 },
  { 2, 2.5, 2.5, 3, 4, 4, 5, 6 },
  { 3, 4, 4, 5, 6, 7, 8, 10 },
  { 4, 5, 6, 8, 9, 11, 13, 15 },
  { 6, 8, 9, 11, 13, 16, 19, 22 },
  { 10, 12, 15, 18, 21, 25, 30, 35 },
  { 14, 18, 22, 27, 33, 39, 46, 54 },
  { 25, 30, 36, 43, 52, 62, 74, 87 },
  { 40, 48, 58, 70, 84, 100, 120, 140 },
  { 60, 75, 90, 110, 130, 160, 190, 220 },
  { 100, 120, 150, 180, 210, 250, 300, 350 },
  { 140, 180, 220, 270, 330, 390, 460, 540 },
  { 250, 300, 360, 430, 520, 620, 740, 870 },
  { 400, 480, 580, 700, 840, 1000, 1200, 1400 },
  { 600, 750, 900, 1100, 1300, 1600, 1900, 2200 },
  { 1000, 1200, 1500, 1800, 2100, 2500, 3000, 3500 },
  { 1400, 1800, 2200, 2700, 3300, 3900, 4600, 5400 },
};

/**
 * Letter:
 * @name: of the shaft
 * @deviations: micrometres, of the limit that is nearer to the nominal size, by place; below it for a to h, above it for k to x; 0 but for h and k: none
 * @delta_to: the last grade in which a hole of this letter gets the delta; 0: none
 */
typedef struct
{
  char   name;
  double deviations[N_PLACES];
  int    delta_to;
} Letter;

static const Letter letters[] = {
  { 'a', { 270, 270, 280, 290, 290, 300, 300, 310, 320, 340, 360, 380, 410 }, 0 },
  { 'b', { 140, 140, 150, 150, 150, 160, 160, 170, 180, 190, 200, 220, 240 }, 0 },
  { 'c', { 60, 70, 80, 95, 95, 110, 110, 120, 130, 140, 150, 170, 180 }, 0 },
  { 'd', { 20, 30, 40, 50, 50, 65, 65, 80, 80, 100, 100, 120, 120 }, 0 },
  { 'e', { 14, 20, 25, 32, 32, 40, 40, 50, 50, 60, 60, 72, 72 }, 0 },
  { 'f', { 6, 10, 13, 16, 16, 20, 20, 25, 25, 30, 30, 36, 36 }, 0 },
  { 'g', { 2, 4, 5, 6, 6, 7, 7, 9, 9, 10, 10, 12, 12 }, 0 },
  { 'h', { 0 }, 0 },
  { 'k', { 0, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2, 3, 3 }, 8 },
  { 'm', { 2, 4, 6, 7, 7, 8, 8, 9, 9, 11, 11, 13, 13 }, 8 },
  { 'n', { 4, 8, 10, 12, 12, 15, 15, 17, 17, 20, 20, 23, 23 }, 8 },
  { 'p', { 6, 12, 15, 18, 18, 22, 22, 26, 26, 32, 32, 37, 37 }, 7 },
  { 'r', { 10, 15, 19, 23, 23, 28, 28, 34, 34, 41, 43, 51, 54 }, 7 },
  { 's', { 14, 19, 23, 28, 28, 35, 35, 43, 43, 53, 59, 71, 79 }, 7 },
  { 't', { 0, 0, 0, 0, 0, 0, 41, 48, 54, 66, 75, 91, 104 }, 7 }, /* up to 24 mm it is u */
  { 'u', { 18, 23, 28, 33, 33, 41, 48, 60, 70, 87, 102, 124, 144 }, 7 },
  { 'x', { 20, 28, 34, 40, 45, 54, 64, 80, 97, 122, 146, 178, 210 }, 7 },
};

/* j and J lie about the nominal size, but not evenly, and follow no formula: micrometres from it, by range. */
static const struct
{
  const char *class;
  double      lower[N_RANGES]; /* of a shaft */
  double      upper[N_RANGES]; /* of a hole */
} uneven[] = {
  { "j5", { -2, -2, -2, -3, -4, -5, -7, -9 }, { 0 } },     { "j6", { -2, -2, -2, -3, -4, -5, -7, -9 }, { 0 } },
  { "j7", { -4, -4, -5, -6, -8, -10, -12, -15 }, { 0 } },  { "J6", { 0 }, { 2, 5, 5, 6, 8, 10, 13, 16 } },
  { "J7", { 0 }, { 4, 6, 8, 10, 12, 14, 18, 22 } },        { "J8", { 0 }, { 6, 10, 12, 15, 20, 24, 28, 34 } },
};

static int
place_of (double size)
{
  if (!(size > 0.0))
    return -1;
  for (int i = 0; i < N_PLACES; i++)
    if (size <= places[i])
      return i;
  return -1;
}

/**
 * exchange_fit_grade:
 * @grade: 1 to 18
 * @size: nominal, mm
 *
 * Returns: the standard tolerance, micrometres; 0 where none is held: sizes above %EXCHANGE_FIT_SIZE_MOST, and grades 14 to 18
 *   up to 1 mm, for which they are not meant
 */
double
exchange_fit_grade (int grade, double size)
{
  int place = place_of (size);

  if (place < 0 || grade < 1 || grade > GRADE_MOST || (grade >= 14 && size <= 1.0))
    return 0.0;
  return grades[grade - 1][range_of_place[place]];
}

static const Letter *
find_letter (char name)
{
  for (guint i = 0; i < G_N_ELEMENTS (letters); i++)
    if (letters[i].name == name)
      return &letters[i];
  return NULL;
}

static void
set_shaft (const Letter *letter, int grade, int place, double width, double *lower, double *upper)
{
  double deviation = letter->deviations[place];

  if (letter->name <= 'h')
    {
      *upper = -deviation;
      *lower = *upper - width;
      return;
    }
  /* k lies on the nominal size but in grades 4 to 7. */
  *lower = letter->name == 'k' && (grade < 4 || grade > 7) ? 0.0 : deviation;
  *upper = *lower + width;
}

static gboolean
set_hole (const Letter *letter, int grade, int place, double size, double width, double *lower, double *upper)
{
  double deviation = letter->deviations[place];

  if (letter->name <= 'h')
    {
      *lower = deviation;
      *upper = *lower + width;
      return TRUE;
    }
  if (size > 3.0 && grade <= letter->delta_to)
    {
      if (grade < 3)
        return FALSE; /* the tables begin there */
      deviation -= width - exchange_fit_grade (grade - 1, size);
    }
  else if (letter->name == 'n' && size > 3.0)
    deviation = 0.0;
  else if (letter->name == 'k' && size > 3.0)
    return FALSE; /* there is no K above grade 8 */
  *upper = -deviation;
  *lower = *upper - width;
  return TRUE;
}

/* Whether @text is a class with a table of its own. */
static gboolean
set_uneven (const char *text, int place, double width, double *lower, double *upper)
{
  guint range = range_of_place[place];

  for (guint i = 0; i < G_N_ELEMENTS (uneven); i++)
    if (g_str_equal (text, uneven[i].class))
      {
        *lower = g_ascii_isupper (text[0]) ? uneven[i].upper[range] - width : uneven[i].lower[range];
        *upper = *lower + width;
        return TRUE;
      }
  return FALSE;
}

static gboolean
is_held (const Letter *letter, int place)
{
  return letter != NULL && (letter->deviations[place] > 0.0 || letter->name == 'h' || letter->name == 'k');
}

/**
 * exchange_fit_read:
 * @text: a class, such as `H7`, `g6` or `JS9`, and nothing else
 * @size: nominal size, mm
 * @lower: (out): lower limit deviation, mm
 * @upper: (out): upper limit deviation, mm
 *
 * Returns: whether the class stands for limits at this size, or why not
 */
ExchangeFitResult
exchange_fit_read (const char *text, double size, double *lower, double *upper)
{
  gboolean is_hole = g_ascii_isupper (text[0]);
  gboolean is_even = g_ascii_strncasecmp (text, "js", 2) == 0 && is_hole == (gboolean) g_ascii_isupper (text[1]);
  const char *digits = text + (is_even ? 2 : 1);
  const Letter *letter;
  int grade = 0, place;
  double width;

  if (!g_ascii_isalpha (text[0]) || !g_ascii_isdigit (digits[0]) || strlen (digits) > 2)
    return EXCHANGE_FIT_NO_CLASS;
  for (; *digits != '\0'; digits++)
    {
      if (!g_ascii_isdigit (*digits))
        return EXCHANGE_FIT_NO_CLASS;
      grade = grade * 10 + (*digits - '0');
    }
  place = place_of (size);
  if (place < 0)
    return EXCHANGE_FIT_SIZE;
  letter = find_letter (g_ascii_tolower (text[0]));
  width = exchange_fit_grade (grade, size);
  if (width <= 0.0)
    return EXCHANGE_FIT_NOT_HELD;
  if (set_uneven (text, place, width, lower, upper))
    ;
  else if (!is_even && !is_held (letter, place))
    return EXCHANGE_FIT_NOT_HELD;
  else if (is_even)
    {
      *lower = -width / 2;
      *upper = width / 2;
    }
  else if (is_hole)
    {
      if (!set_hole (letter, grade, place, size, width, lower, upper))
        return EXCHANGE_FIT_NOT_HELD;
    }
  else
    set_shaft (letter, grade, place, width, lower, upper);
  *lower /= 1000.0;
  *upper /= 1000.0;
  return EXCHANGE_FIT_OK;
}
