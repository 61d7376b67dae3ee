/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lines of a change as the book takes them: what was typed is checked, and limits are read as people write them. */
#include "config.h"

#include "change-items.h"

#include <glib/gi18n.h>
#include <string.h>

#include "book-number.h"
#include "book-values.h"
#include "exchange-limit.h"

/* Limits as people write them, with the decimal sign that they use. */
static gboolean
read_limits (const char *text, ExchangeLimit *limit)
{
  return exchange_limit_read (text, strchr (text, ',') != NULL && strchr (text, '.') == NULL ? ',' : '.', limit);
}

gboolean
fettle_change_items_check (FettleChangeItems *self)
{
  guint n;
  g_autofree FettleChangeItem *items = NULL;

  g_return_val_if_fail (FETTLE_IS_CHANGE_ITEMS (self), FALSE);

  items = fettle_change_items_list (self, &n);
  for (guint i = 0; i < n; i++)
    {
      BookValue value;
      ExchangeLimit limit;
      g_autoptr(GError) error = NULL;
      const BookField *field = book_field_find (book_record (BOOK_RECORD_CHANGE_ITEM),
                                                items[i].kind == INSIGHT_SUBJECT_PART ? "new_label" : "value");

      if (items[i].new[0] == '\0')
        continue;
      if (items[i].kind == INSIGHT_SUBJECT_LIMIT ? read_limits (items[i].new, &limit)
                                                 : book_value_parse (field, items[i].new, -1, TRUE, &value, &error))
        continue;
      fettle_change_items_tell (self, i, error != NULL ? error->message : _("Write limits such as 9 … 17, max 5 or 12.5 ±0.1."));
      return FALSE;
    }
  return TRUE;
}

/**
 * fettle_change_item_texts:
 * @item: a line
 * @keys: exact key texts of parts, steps and characteristics, by key
 * @fields: (out): names of the fields that the texts are of
 *
 * Returns: (transfer full): a text for each of @fields
 */
char **
fettle_change_item_texts (const FettleChangeItem *item, GHashTable *keys, const char *const **fields)
{
  static const char *const of_part[] = { "part", "new_label", "new", NULL };
  static const char *const of_setting[] = { "step", "setting", "value", "new", NULL };
  static const char *const of_limit[] = { "characteristic", "lower", "upper", "nominal", "new", NULL };
  g_autoptr(GPtrArray) texts = g_ptr_array_new ();
  ExchangeLimit limit;

  g_ptr_array_add (texts, g_strdup (g_hash_table_lookup (keys, &item->key)));
  switch (item->kind)
    {
    case INSIGHT_SUBJECT_PART:
      *fields = of_part;
      g_ptr_array_add (texts, g_strdup (item->new));
      break;
    case INSIGHT_SUBJECT_SETTING:
      *fields = of_setting;
      g_ptr_array_add (texts, g_strdup (item->setting));
      g_ptr_array_add (texts, g_strdup (item->new));
      break;
    case INSIGHT_SUBJECT_LIMIT:
      *fields = of_limit;
      exchange_limit_init (&limit);
      if (!read_limits (item->new, &limit))
        exchange_limit_init (&limit); /* nothing was typed; anything else was refused before */
      g_ptr_array_add (texts, book_number_dup (limit.lower));
      g_ptr_array_add (texts, book_number_dup (limit.upper));
      g_ptr_array_add (texts, book_number_dup (limit.nominal));
      break;
    }
  g_ptr_array_add (texts, g_strdup (item->words));
  g_ptr_array_add (texts, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&texts), FALSE);
}
