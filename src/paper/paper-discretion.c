/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-discretion.h"

#include "book-record.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/*
 * Method. Two lists are made from the book: short signs (initials, codes of other models), which are found as they are
 * written; and names (of people, suppliers, other models; the whole and each word of it), which are found in any case. Both
 * only as whole words. A word that this model's own parts, steps or characteristics are called by is not a name: a person
 * called Spring must not make the springs vanish.
 */

#define LEAST_OF_NAME 3 /* letters of a single word */
#define AMOUNT "\\d+(?:[.,' ]\\d+)*"
#define MONEY                                                                                                            \
  "(?:[€$£¥]\\s?" AMOUNT "|" AMOUNT "\\s?(?:[€$£¥]|(?:EUR|USD|GBP|CHF|SEK|NOK|DKK|PLN|CZK|JPY)\\b|"                    \
  "(?i:euros?|dollars?|pounds sterling)\\b))"

struct _PaperDiscretion
{
  GRegex *signs; /* (nullable) */
  GRegex *strange; /* (nullable): of these, what is not a code of this model too */
  GRegex *shared;  /* (nullable): of these, what is the code of a characteristic too */
  GHashTable *called; /* such a code to the name of the characteristic */
  GRegex *names; /* (nullable) */
  GRegex *money; /* (nullable) */
};

typedef struct
{
  const BookEvidence *evidence;
  StoreDb            *db;
  GHashTable         *own;   /* words of this model's own things, in lower case */
  GHashTable         *codes; /* of this model's own things */
  GPtrArray          *signs;
  GPtrArray          *strange;
  GPtrArray          *shared;
  GHashTable         *called;
  GPtrArray          *names;
  gboolean            of_makers; /* only those who build and inspect */
  gint64              supplier;  /* key of one who may be named; 0: none */
} Reading;

static void
each_word (const char *text, void (*func) (Reading *reading, const char *word), Reading *reading)
{
  const char *start = NULL;

  for (const char *c = text;; c = g_utf8_next_char (c))
    {
      gboolean in_word = *c != '\0' && g_unichar_isalnum (g_utf8_get_char (c));

      if (in_word && start == NULL)
        start = c;
      if (!in_word && start != NULL)
        {
          g_autofree char *word = g_strndup (start, (gsize) (c - start));

          func (reading, word);
          start = NULL;
        }
      if (*c == '\0')
        return;
    }
}

static void
add_own (Reading *reading, const char *word)
{
  g_hash_table_add (reading->own, g_utf8_strdown (word, -1));
}

static void
read_codes (Reading *reading)
{
  const BookEvidence *evidence = reading->evidence;

  for (guint i = 0; i < evidence->n_rounds; i++)
    g_hash_table_add (reading->codes, (gpointer) evidence->rounds[i].label);
  for (guint i = 0; i < evidence->n_parts; i++)
    g_hash_table_add (reading->codes, (gpointer) evidence->parts[i].number);
  for (guint i = 0; i < evidence->n_revisions; i++)
    g_hash_table_add (reading->codes, (gpointer) evidence->revisions[i].label);
  for (guint i = 0; i < evidence->n_lots; i++)
    g_hash_table_add (reading->codes, (gpointer) evidence->lots[i].number);
  for (guint i = 0; i < evidence->n_characteristics; i++)
    g_hash_table_add (reading->codes, (gpointer) evidence->characteristics[i].code);
}

static void
read_own (Reading *reading)
{
  const BookEvidence *evidence = reading->evidence;

  each_word (evidence->name, add_own, reading);
  for (guint i = 0; i < evidence->n_parts; i++)
    each_word (evidence->parts[i].name, add_own, reading);
  for (guint i = 0; i < evidence->n_steps; i++)
    each_word (evidence->steps[i].name, add_own, reading);
  for (guint i = 0; i < evidence->n_settings; i++)
    each_word (evidence->settings[i].name, add_own, reading);
  for (guint i = 0; i < evidence->n_characteristics; i++)
    each_word (evidence->characteristics[i].name, add_own, reading);
}

/* 'Springs' too, where a part is called 'Lock spring', and the other way round. */
static gboolean
is_own (const Reading *reading, const char *word)
{
  g_autofree char *lower = g_utf8_strdown (word, -1);
  g_autofree char *more = g_strconcat (lower, "s", NULL);

  if (g_hash_table_contains (reading->own, lower) || g_hash_table_contains (reading->own, more))
    return TRUE;
  if (!g_str_has_suffix (lower, "s"))
    return FALSE;
  lower[strlen (lower) - 1] = '\0';
  return g_hash_table_contains (reading->own, lower);
}

static void
add_word (Reading *reading, const char *word)
{
  if (g_utf8_strlen (word, -1) >= LEAST_OF_NAME && g_unichar_isupper (g_utf8_get_char (word)) && !is_own (reading, word))
    g_ptr_array_add (reading->names, g_strdup (word));
}

static void
add_name (Reading *reading, const char *name)
{
  if (name == NULL || *name == '\0')
    return;
  g_ptr_array_add (reading->names, g_strdup (name));
  each_word (name, add_word, reading);
}

/* What the model itself is called must stay, and so must 'A' and 'I', which are words. */
static void
add_sign (Reading *reading, const char *sign)
{
  if (g_str_equal (sign, reading->evidence->code) || g_str_equal (sign, "A") || g_str_equal (sign, "I"))
    return;
  g_ptr_array_add (reading->signs, g_strdup (sign));
  if (!g_hash_table_contains (reading->codes, sign))
    g_ptr_array_add (reading->strange, g_strdup (sign));
  for (guint i = 0; i < reading->evidence->n_characteristics; i++)
    if (g_str_equal (reading->evidence->characteristics[i].code, sign))
      {
        g_ptr_array_add (reading->shared, g_strdup (sign));
        g_hash_table_replace (reading->called, g_strdup (sign), g_strdup (reading->evidence->characteristics[i].name));
      }
}

static gboolean
add_person (const BookRow *row, gpointer data, GError **error)
{
  Reading *reading = data;
  g_autofree char *name = NULL;
  const gint64 role = book_row_get (row, "role")->integer;

  if (reading->of_makers && role != BOOK_ROLE_MAKER && role != BOOK_ROLE_INSPECTOR)
    return TRUE;
  add_sign (reading, book_row_get (row, "initials")->text);
  if (!book_person_name_read (reading->db, row->id, &name, error))
    return FALSE;
  add_name (reading, name);
  return TRUE;
}

static gboolean
add_supplier (const BookRow *row, gpointer data, GError **error)
{
  const Reading *reading = data;

  if (row->id != reading->supplier)
    add_name (data, book_row_get (row, "name")->text);
  return TRUE;
}

static gboolean
add_model (const BookRow *row, gpointer data, GError **error)
{
  Reading *reading = data;
  const char *name = book_row_get (row, "name")->text;
  const char *comma = strchr (name, ',');
  g_autofree char *first = comma != NULL ? g_strndup (name, (gsize) (comma - name)) : NULL;

  if (row->id == reading->evidence->model_id)
    return TRUE;
  add_sign (reading, book_row_get (row, "code")->text);
  /* 'Wagtail, grafting knife': knives may be spoken of, the Wagtail may not. */
  g_ptr_array_add (reading->names, g_strdup (name));
  if (first != NULL)
    g_ptr_array_add (reading->names, g_steal_pointer (&first));
  return TRUE;
}

static int
compare_longest (gconstpointer a, gconstpointer b)
{
  gsize one = strlen (*(char *const *) a), other = strlen (*(char *const *) b);

  return one > other ? -1 : one < other;
}

/* The longest first, so that a whole name goes before a word of it. */
static GRegex *
find_any (GPtrArray *words, GRegexCompileFlags flags)
{
  g_autoptr(GString) pattern = g_string_new ("(?<![\\p{L}\\p{N}])(?:");

  if (words->len == 0)
    return NULL;
  g_ptr_array_sort (words, compare_longest);
  for (guint i = 0; i < words->len; i++)
    {
      g_autofree char *escaped = g_regex_escape_string (words->pdata[i], -1);

      g_string_append_printf (pattern, "%s%s", i > 0 ? "|" : "", escaped);
    }
  g_string_append (pattern, ")(?![\\p{L}\\p{N}])");
  return g_regex_new (pattern->str, flags, 0, NULL);
}

static PaperDiscretion *
read_all (StoreDb *db, const BookEvidence *evidence, gboolean of_makers, gint64 supplier, GError **error)
{
  g_autoptr(GHashTable) own = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr(GHashTable) codes = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr(GPtrArray) signs = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(GPtrArray) strange = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(GPtrArray) shared = g_ptr_array_new_with_free_func (g_free);
  g_autoptr(GHashTable) called = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  Reading reading = { evidence, db, own, codes, signs, strange, shared, called, names, of_makers, supplier };
  PaperDiscretion *discretion;

  read_own (&reading);
  /* His name may hold a word of another's. */
  for (guint i = 0; i < evidence->n_suppliers; i++)
    if (evidence->suppliers[i].id == supplier)
      each_word (evidence->suppliers[i].name, add_own, &reading);
  read_codes (&reading);
  if (!book_record_each (db, book_record (BOOK_RECORD_PERSON), add_person, &reading, error)
      || (!of_makers && !book_record_each (db, book_record (BOOK_RECORD_SUPPLIER), add_supplier, &reading, error))
      || (!of_makers && !book_record_each (db, book_record (BOOK_RECORD_MODEL), add_model, &reading, error)))
    return NULL;
  discretion = g_new0 (PaperDiscretion, 1);
  discretion->signs = find_any (signs, 0);
  discretion->strange = find_any (strange, 0);
  discretion->shared = find_any (shared, 0);
  discretion->called = g_steal_pointer (&called);
  discretion->names = find_any (names, G_REGEX_CASELESS);
  discretion->money = of_makers ? NULL : g_regex_new (MONEY, 0, 0, NULL);
  return discretion;
}

/**
 * paper_discretion_read:
 * @db: any connection
 * @evidence: the model that is written about
 * @error: return location
 *
 * Returns: (transfer full) (nullable): what to take out of texts about the model
 */
PaperDiscretion *
paper_discretion_read (StoreDb *db, const BookEvidence *evidence, GError **error)
{
  return read_all (db, evidence, FALSE, 0, error);
}

/**
 * paper_discretion_read_makers:
 * @db: any connection
 * @evidence: the model that is written about
 * @error: return location
 *
 * For what stays in the house but names nobody who builds or inspects.
 *
 * Returns: (transfer full) (nullable): their initials and names
 */
PaperDiscretion *
paper_discretion_read_makers (StoreDb *db, const BookEvidence *evidence, GError **error)
{
  return read_all (db, evidence, TRUE, 0, error);
}

/**
 * paper_discretion_read_supplier:
 * @db: any connection
 * @evidence: the model that is written about
 * @supplier: key of the supplier who is written to
 * @error: return location
 *
 * Returns: (transfer full) (nullable): as paper_discretion_read(), but this supplier's own name stays
 */
PaperDiscretion *
paper_discretion_read_supplier (StoreDb *db, const BookEvidence *evidence, gint64 supplier, GError **error)
{
  return read_all (db, evidence, FALSE, supplier, error);
}

/**
 * paper_discretion_free:
 * @discretion: (transfer full) (nullable): what was read
 */
void
paper_discretion_free (PaperDiscretion *discretion)
{
  if (discretion == NULL)
    return;
  g_clear_pointer (&discretion->signs, g_regex_unref);
  g_clear_pointer (&discretion->strange, g_regex_unref);
  g_clear_pointer (&discretion->shared, g_regex_unref);
  g_clear_pointer (&discretion->called, g_hash_table_unref);
  g_clear_pointer (&discretion->names, g_regex_unref);
  g_clear_pointer (&discretion->money, g_regex_unref);
  g_free (discretion);
}

static char *
replace (GRegex *regex, char *text)
{
  g_autofree char *old = text;

  /* Translators: stands in a letter for a name or a sum that is not told */
  return regex != NULL ? g_regex_replace_literal (regex, old, -1, 0, _("[left out]"), 0, NULL) : g_steal_pointer (&old);
}

/**
 * paper_discretion_apply:
 * @discretion: what to take out
 * @text: (nullable): what somebody wrote
 *
 * Returns: (transfer full): the text without it; never %NULL
 */
char *
paper_discretion_apply (const PaperDiscretion *discretion, const char *text)
{
  char *plain = g_utf8_make_valid (text != NULL ? text : "", -1);

  return replace (discretion->money, replace (discretion->signs, replace (discretion->names, plain)));
}

static gboolean
add_called (const GMatchInfo *match, GString *result, gpointer data)
{
  g_autofree char *code = g_match_info_fetch (match, 0);

  g_string_append (result, g_hash_table_lookup (data, code));
  return FALSE;
}

/* Codes of characteristics that are somebody's initials too are told by the characteristic's name. */
static char *
call_by_name (const PaperDiscretion *discretion, char *text)
{
  g_autofree char *old = text;

  if (discretion->shared == NULL)
    return g_steal_pointer (&old);
  return g_regex_replace_eval (discretion->shared, old, -1, 0, 0, add_called, discretion->called, NULL);
}

/**
 * paper_discretion_check:
 * @discretion: what to take out
 * @text: (nullable): a sentence of ours that may quote what somebody wrote
 *
 * As paper_discretion_apply(), but initials that are also a code of this model are taken for the code; a characteristic with
 * such a code is told by its name.
 *
 * Returns: (transfer full): the text without it; never %NULL
 */
char *
paper_discretion_check (const PaperDiscretion *discretion, const char *text)
{
  char *plain = g_utf8_make_valid (text != NULL ? text : "", -1);

  plain = replace (discretion->strange, replace (discretion->names, plain));
  return replace (discretion->money, call_by_name (discretion, plain));
}
