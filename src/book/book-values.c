/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-values.h"
#include "book.h"

#include <glib/gi18n-lib.h>

#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "book-text-private.h"

#define CHOICES_LISTED 15

/*
 * Parsing is strict, so that what is stored prints back to what was read: a date exists, a number is nothing but a
 * number, a text neither begins nor ends with a space. Every refusal is one sentence with the way out.
 */

static gboolean
refuse (GError **error, const char *format, ...) G_GNUC_PRINTF (2, 3);

static gboolean
refuse (GError **error, const char *format, ...)
{
  va_list arguments;
  g_autofree char *message = NULL;

  va_start (arguments, format);
  message = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_set_error_literal (error, BOOK_ERROR, BOOK_ERROR_VALUE, message);
  return FALSE;
}

static gboolean
two_digits (const char *text, guint *number)
{
  if (!g_ascii_isdigit (text[0]) || !g_ascii_isdigit (text[1]))
    return FALSE;
  *number = (guint) (text[0] - '0') * 10 + (guint) (text[1] - '0');
  return TRUE;
}

/**
 * book_date_is_valid:
 * @text: need not end in a zero byte
 * @length: its bytes
 *
 * Returns: whether it is YYYY-MM-DD and such a day exists, from 1900 to 2199
 */
gboolean
book_date_is_valid (const char *text, gsize length)
{
  guint century;
  guint year;
  guint month;
  guint day;

  if (length != 10 || text[4] != '-' || text[7] != '-')
    return FALSE;
  if (!two_digits (text, &century) || !two_digits (text + 2, &year) || !two_digits (text + 5, &month)
      || !two_digits (text + 8, &day))
    return FALSE;
  year += century * 100;
  return year >= 1900 && year <= 2199 && month >= 1 && month <= 12 && day >= 1
         && day <= g_date_get_days_in_month ((GDateMonth) month, (GDateYear) year);
}

/**
 * book_moment_is_valid:
 * @text: need not end in a zero byte
 * @length: its bytes
 *
 * Returns: whether it is a date, or a date with THH:MM or THH:MM:SS
 */
gboolean
book_moment_is_valid (const char *text, gsize length)
{
  guint hour;
  guint minute;
  guint second = 0;

  if (length == 10)
    return book_date_is_valid (text, length);
  if ((length != 16 && length != 19) || !book_date_is_valid (text, 10) || text[10] != 'T' || text[13] != ':')
    return FALSE;
  if (!two_digits (text + 11, &hour) || !two_digits (text + 14, &minute))
    return FALSE;
  if (length == 19 && (text[16] != ':' || !two_digits (text + 17, &second)))
    return FALSE;
  return hour <= 23 && minute <= 59 && second <= 59;
}

static gboolean
check_text (const BookField *field, const char *text, gsize length, GError **error)
{
  gsize characters = 0;
  gboolean plain = TRUE;

  for (gsize i = 0; i < length; i++)
    {
      guchar c = (guchar) text[i];

      if ((c < 0x20 && !(field->kind == BOOK_KIND_LONG_TEXT && (c == '\n' || c == '\t'))) || c == 0x7f
          || (c == 0xc2 && i + 1 < length && (guchar) text[i + 1] < 0xa0))
        {
          g_autofree char *shown = book_text_quote (text, length);

          if (c == '\n')
            return refuse (error, _("%s has more than one line: write it in one."), shown);
          return refuse (error, _("%s holds a control character: take it out."), shown);
        }
      plain = plain && c < 0x80;
      characters += (c & 0xc0) != 0x80;
    }
  if (!plain && !g_utf8_validate_len (text, length, NULL))
    {
      g_autofree char *shown = book_text_quote (text, length);

      return refuse (error, _("%s is not valid UTF-8: save the file as UTF-8."), shown);
    }
  if (characters > field->max_length)
    return refuse (error,
                   ngettext ("The text has %u character, and %u are allowed: shorten it.",
                             "The text has %u characters, and %u are allowed: shorten it.", (gulong) characters),
                   (guint) characters, field->max_length);
  return TRUE;
}

static gboolean
check_content (const char *text, gsize length, GError **error)
{
  gboolean good = length == 64;

  for (gsize i = 0; i < length && good; i++)
    good = g_ascii_isdigit (text[i]) || (text[i] >= 'a' && text[i] <= 'f');
  if (!good)
    {
      g_autofree char *shown = book_text_quote (text, length);

      return refuse (error, _("%s is not a SHA-256: it has 64 digits from 0 to 9 and a to f."), shown);
    }
  return TRUE;
}

static gboolean
check_bounds (const BookField *field, double number, GError **error)
{
  g_autoptr(GString) shown = NULL;
  g_autoptr(GString) bound = NULL;

  /* Written so that NAN fails too. */
  if ((field->open_min ? number > field->min : number >= field->min)
      && (field->open_max ? number < field->max : number <= field->max))
    return TRUE;

  shown = g_string_new (NULL);
  bound = g_string_new (NULL);
  if (isfinite (number))
    book_number_append (shown, number);
  else
    g_string_append (shown, "?");

  if (field->kind == BOOK_KIND_SHARE)
    return refuse (error, _("%s is not a share: write a fraction between 0 and 1 or percent, such as 0.95 or 95 %%."), shown->str);
  if (number < field->min || (field->open_min && number <= field->min))
    {
      book_number_append (bound, field->min);
      if (field->open_min)
        return refuse (error, _("%s is too small: it must be more than %s."), shown->str, bound->str);
      return refuse (error, _("%s is too small: it must be at least %s."), shown->str, bound->str);
    }
  book_number_append (bound, field->max);
  if (field->open_max)
    return refuse (error, _("%s is too large: it must be less than %s."), shown->str, bound->str);
  return refuse (error, _("%s is too large: it must be at most %s."), shown->str, bound->str);
}

/* '5 %' is 0.05, to the last bit: the point is moved in the text, not by a division. */
static gboolean
read_share (const char *text, gsize length, gboolean decimal_comma, double *number)
{
  g_autofree char *moved = NULL;

  if (text[length - 1] != '%')
    return book_number_parse (text, length, decimal_comma, number);
  for (length--; length > 0 && text[length - 1] == ' '; length--)
    ;
  moved = g_strdup_printf ("%.*se-2", (int) length, text);
  return book_number_parse (moved, strlen (moved), decimal_comma, number);
}

static gboolean
parse_number (const BookField *field, const char *text, gsize length, gboolean decimal_comma, BookValue *value,
              GError **error)
{
  double number;

  if (field->kind == BOOK_KIND_SHARE ? !read_share (text, length, decimal_comma, &number)
                                     : !book_number_parse (text, length, decimal_comma, &number))
    {
      g_autofree char *shown = book_text_quote (text, length);

      return refuse (error, _("%s is not a number: write digits, such as 12.5."), shown);
    }
  if (!check_bounds (field, number, error))
    return FALSE;
  *value = book_value_real (number);
  return TRUE;
}

static gboolean
parse_integer (const BookField *field, const char *text, gsize length, BookValue *value, GError **error)
{
  gsize i = length > 1 && (text[0] == '-' || text[0] == '+') ? 1 : 0;
  gint64 integer = 0;
  gboolean whole = length - i <= 15;

  for (; i < length && whole; i++)
    {
      whole = g_ascii_isdigit (text[i]);
      integer = integer * 10 + (text[i] - '0');
    }
  if (!whole)
    {
      g_autofree char *shown = book_text_quote (text, length);

      return refuse (error, _("%s is not a whole number: write digits, such as 12."), shown);
    }
  if (text[0] == '-')
    integer = -integer;
  if (!check_bounds (field, (double) integer, error))
    return FALSE;
  *value = book_value_integer (integer);
  return TRUE;
}

/* Of a long list the near one is enough: nobody reads through the names of all records. */
static gboolean
refuse_word (const char *text, gsize length, const char *const *words, GError **error)
{
  g_autofree char *word = g_utf8_make_valid (text, (gssize) length);
  g_autofree char *shown = book_text_quote (text, length);
  g_autofree char *list = g_strjoinv (", ", (char **) words);
  const char *nearest = book_nearest_word (word, words);

  if (nearest != NULL && g_strv_length ((char **) words) > CHOICES_LISTED)
    return refuse (error, _("%s is none of the choices: did you mean '%s'?"), shown, nearest);
  if (g_strv_length ((char **) words) > CHOICES_LISTED)
    return refuse (error, _("%s is none of the choices: write the name of one, such as '%s'."), shown, words[0]);
  if (nearest != NULL)
    return refuse (error, _("%s is none of the choices; did you mean '%s'? The choices are: %s."), shown, nearest, list);
  return refuse (error, _("%s is none of the choices: write one of: %s."), shown, list);
}

static gboolean
parse_choice (const BookField *field, const char *text, gsize length, BookValue *value, GError **error)
{
  const char *words[BOOK_N_RECORDS + 1];
  guint n = 0;

  for (const BookChoice *choice = field->choices; choice->text != NULL; choice++)
    {
      if (strlen (choice->text) == length && memcmp (choice->text, text, length) == 0)
        {
          *value = book_value_integer (choice->code);
          return TRUE;
        }
      words[n++] = choice->text;
    }
  words[n] = NULL;
  return refuse_word (text, length, words, error);
}

static gboolean
parse_boolean (const char *text, gsize length, BookValue *value, GError **error)
{
  static const char *const words[] = { "yes", "no", NULL };

  if (length == 3 && memcmp (text, "yes", 3) == 0)
    *value = book_value_integer (1);
  else if (length == 2 && memcmp (text, "no", 2) == 0)
    *value = book_value_integer (0);
  else
    return refuse_word (text, length, words, error);
  return TRUE;
}

static gboolean
parse_record (const char *text, gsize length, BookValue *value, GError **error)
{
  const char *words[BOOK_N_RECORDS + 1];

  for (guint id = 1; id <= BOOK_N_RECORDS; id++)
    {
      const char *name = book_record (id)->name;

      if (strlen (name) == length && memcmp (name, text, length) == 0)
        {
          *value = book_value_integer (id);
          return TRUE;
        }
      words[id - 1] = name;
    }
  words[BOOK_N_RECORDS] = NULL;
  return refuse_word (text, length, words, error);
}

static gboolean
refuse_date (const char *text, gsize length, gboolean moment, GError **error)
{
  g_autofree char *shown = book_text_quote (text, length);

  if (moment)
    return refuse (error, _("%s is not a date or time that exists: write it like 2026-03-31 or 2026-03-31T14:05."), shown);
  return refuse (error, _("%s is not a date that exists: write it like 2026-03-31."), shown);
}

static gboolean
parse_text (const BookField *field, const char *text, gsize length, BookValue *value, GError **error)
{
  gboolean good;

  switch (field->kind)
    {
    case BOOK_KIND_DATE:
      good = book_date_is_valid (text, length) || refuse_date (text, length, FALSE, error);
      break;
    case BOOK_KIND_MOMENT:
      good = book_moment_is_valid (text, length) || refuse_date (text, length, TRUE, error);
      break;
    case BOOK_KIND_CONTENT:
      good = check_content (text, length, error);
      break;
    default:
      good = check_text (field, text, length, error);
      break;
    }
  if (good)
    *value = book_value_text (text, (gssize) length);
  return good;
}

/**
 * book_value_parse:
 * @field: any field but a reference
 * @text: as a file or a person writes it; spaces around it do not count
 * @length: its bytes; -1 if it ends in a zero byte
 * @decimal_comma: whether a comma may stand for the decimal point
 * @value: (out): the value; its text is part of @text. Empty text gives the field's fallback, or empty
 * @error: return location: one sentence, without the name of the field
 *
 * A key of any record (%BOOK_KIND_ANY) stays text: what it names depends on another field.
 *
 * Returns: whether the field can hold it; an empty required field cannot
 */
gboolean
book_value_parse (const BookField *field, const char *text, gssize length, gboolean decimal_comma, BookValue *value,
                  GError **error)
{
  gsize bytes = length >= 0 ? (gsize) length : strlen (text);

  g_return_val_if_fail (field->kind != BOOK_KIND_REFERENCE, FALSE);

  *value = BOOK_VALUE_EMPTY;
  while (bytes > 0 && (text[0] == ' ' || text[0] == '\t' || text[0] == '\n'))
    text++, bytes--;
  while (bytes > 0 && (text[bytes - 1] == ' ' || text[bytes - 1] == '\t' || text[bytes - 1] == '\n'))
    bytes--;

  if (bytes == 0)
    {
      if (field->fallback == NULL)
        return !field->required || refuse (error, _("It is empty, but must be filled in."));
      text = field->fallback;
      bytes = strlen (text);
    }

  switch (field->kind)
    {
    case BOOK_KIND_INTEGER:
      return parse_integer (field, text, bytes, value, error);
    case BOOK_KIND_REAL:
    case BOOK_KIND_SHARE:
    case BOOK_KIND_MONEY:
      return parse_number (field, text, bytes, decimal_comma, value, error);
    case BOOK_KIND_BOOLEAN:
      return parse_boolean (text, bytes, value, error);
    case BOOK_KIND_CHOICE:
      return parse_choice (field, text, bytes, value, error);
    case BOOK_KIND_RECORD:
      return parse_record (text, bytes, value, error);
    case BOOK_KIND_TEXT:
    case BOOK_KIND_LONG_TEXT:
    case BOOK_KIND_DATE:
    case BOOK_KIND_MOMENT:
    case BOOK_KIND_CONTENT:
      return parse_text (field, text, bytes, value, error);
    case BOOK_KIND_ANY:
      *value = book_value_text (text, (gssize) bytes);
      return TRUE;
    case BOOK_KIND_REFERENCE:
      break;
    }
  g_return_val_if_reached (FALSE);
}

/**
 * book_value_fallback:
 * @field: any field
 *
 * Returns: what the field holds in a new record of which nothing else is said: its fallback, or empty
 */
BookValue
book_value_fallback (const BookField *field)
{
  BookValue value = BOOK_VALUE_EMPTY;

  if (field->fallback != NULL && !book_value_parse (field, field->fallback, -1, FALSE, &value, NULL))
    g_assert_not_reached (); /* descriptions are ours, and a test reads every fallback */
  return value;
}

static gboolean
check_integer (const BookField *field, gint64 integer, GError **error)
{
  switch (field->kind)
    {
    case BOOK_KIND_INTEGER:
      return check_bounds (field, (double) integer, error);
    case BOOK_KIND_BOOLEAN:
      return integer == 0 || integer == 1 || refuse (error, _("It must be yes or no."));
    case BOOK_KIND_CHOICE:
      return book_choice_by_code (field->choices, integer) != NULL
             || refuse (error, _("%" PRId64 " is the code of none of the choices."), integer);
    case BOOK_KIND_RECORD:
      return (integer >= 1 && integer <= BOOK_N_RECORDS)
             || refuse (error, _("%" PRId64 " is the code of no kind of record."), integer);
    case BOOK_KIND_REFERENCE:
    case BOOK_KIND_ANY:
      return TRUE; /* that the record exists is another rule */
    default:
      return refuse (error, _("It cannot hold a whole number."));
    }
}

static gboolean
check_stored_text (const BookField *field, const BookValue *value, GError **error)
{
  const char *text = value->text;
  gsize length = value->length;

  switch (field->kind)
    {
    case BOOK_KIND_TEXT:
    case BOOK_KIND_LONG_TEXT:
      if (length == 0 || strchr (" \t\n", text[0]) != NULL || strchr (" \t\n", text[length - 1]) != NULL)
        return refuse (error, _("The text is blank, or begins or ends with a space: take the space away."));
      return check_text (field, text, length, error);
    case BOOK_KIND_DATE:
      return book_date_is_valid (text, length) || refuse_date (text, length, FALSE, error);
    case BOOK_KIND_MOMENT:
      return book_moment_is_valid (text, length) || refuse_date (text, length, TRUE, error);
    case BOOK_KIND_CONTENT:
      return check_content (text, length, error);
    default:
      return refuse (error, _("It cannot hold a text."));
    }
}

/**
 * book_value_check:
 * @field: a field
 * @value: what it is to hold, already of a type; %STORE_UNCHANGED always passes
 * @error: return location: one sentence, without the name of the field
 *
 * Returns: whether the field can hold it
 */
gboolean
book_value_check (const BookField *field, const BookValue *value, GError **error)
{
  switch (value->type)
    {
    case STORE_UNCHANGED:
      return TRUE;
    case SQLITE_NULL:
      return !field->required || refuse (error, _("It is empty, but must be filled in."));
    case SQLITE_INTEGER:
      return check_integer (field, value->integer, error);
    case SQLITE_FLOAT:
      if (field->kind != BOOK_KIND_REAL && field->kind != BOOK_KIND_SHARE && field->kind != BOOK_KIND_MONEY)
        return refuse (error, _("It cannot hold a number with decimals."));
      return check_bounds (field, value->real, error);
    case SQLITE_TEXT:
      return check_stored_text (field, value, error);
    default:
      return refuse (error, _("It cannot hold bytes."));
    }
}

/**
 * book_value_compare:
 * @a: a value
 * @b: a value
 *
 * Empty before numbers, numbers by size, then texts bytewise: the order of exported files.
 *
 * Returns: below, equal to or above 0 as @a comes before, with or after @b
 */
int
book_value_compare (const BookValue *a, const BookValue *b)
{
  gboolean a_number = a->type == SQLITE_INTEGER || a->type == SQLITE_FLOAT;
  gboolean b_number = b->type == SQLITE_INTEGER || b->type == SQLITE_FLOAT;
  int order;

  if (a->type == SQLITE_INTEGER && b->type == SQLITE_INTEGER)
    return (a->integer > b->integer) - (a->integer < b->integer);
  if (a_number && b_number)
    {
      double x = store_value_real (a, 0.0);
      double y = store_value_real (b, 0.0);

      return (x > y) - (x < y);
    }
  if (a->type == SQLITE_TEXT && b->type == SQLITE_TEXT)
    {
      order = memcmp (a->text, b->text, MIN (a->length, b->length));
      return order != 0 ? order : (a->length > b->length) - (a->length < b->length);
    }
  return (a_number ? 1 : a->type == SQLITE_TEXT ? 2 : 0) - (b_number ? 1 : b->type == SQLITE_TEXT ? 2 : 0);
}

/**
 * book_value_append:
 * @text: appended to
 * @field: a field that is no reference
 * @value: what it holds
 *
 * The value as files carry it; book_value_parse() reads it back equal. Nothing is appended for an empty value.
 */
void
book_value_append (GString *text, const BookField *field, const BookValue *value)
{
  switch (value->type)
    {
    case SQLITE_FLOAT:
      book_number_append (text, value->real);
      break;
    case SQLITE_TEXT:
      g_string_append_len (text, value->text, (gssize) value->length);
      break;
    case SQLITE_INTEGER:
      if (field->kind == BOOK_KIND_BOOLEAN)
        g_string_append (text, value->integer != 0 ? "yes" : "no");
      else if (field->kind == BOOK_KIND_RECORD && book_record ((BookRecordId) value->integer) != NULL)
        g_string_append (text, book_record ((BookRecordId) value->integer)->name);
      else
        {
          const BookChoice *choice = field->choices != NULL ? book_choice_by_code (field->choices, value->integer) : NULL;

          if (choice != NULL)
            g_string_append (text, choice->text);
          else
            g_string_append_printf (text, "%" G_GINT64_FORMAT, value->integer);
        }
      break;
    default:
      break;
    }
}

/**
 * book_value_print:
 * @field: a field that is no reference
 * @value: what it holds
 *
 * Returns: (transfer full): as book_value_append()
 */
char *
book_value_print (const BookField *field, const BookValue *value)
{
  GString *text = g_string_new (NULL);

  book_value_append (text, field, value);
  return g_string_free (text, FALSE);
}

/**
 * book_value_show:
 * @field: a field that is no reference
 * @value: what it holds
 *
 * Returns: (transfer full): the value for people: labels instead of words
 */
char *
book_value_show (const BookField *field, const BookValue *value)
{
  if (value->type == SQLITE_INTEGER)
    {
      const BookChoice *choice = field->choices != NULL ? book_choice_by_code (field->choices, value->integer) : NULL;

      if (choice != NULL)
        return g_strdup (book_choice_label (choice));
      if (field->kind == BOOK_KIND_BOOLEAN)
        return g_strdup (value->integer != 0 ? _("yes") : _("no"));
      if (field->kind == BOOK_KIND_RECORD && book_record ((BookRecordId) value->integer) != NULL)
        return g_strdup (book_record_label (book_record ((BookRecordId) value->integer)));
    }
  return book_value_print (field, value);
}
