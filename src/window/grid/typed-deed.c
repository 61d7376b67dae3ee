/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "typed-deed.h"

#include <glib/gi18n.h>

struct _FettleTypedDeed
{
  FettleTableSource *source;
  FettleDrafts      *drafts;
  FettleTypedEnded   ended;
  GPtrArray         *names; /* of drafts */
  GPtrArray         *texts;
  guint              refused;
  char              *first; /* why the first of them was */
};

/**
 * fettle_typed_deed_new:
 * @source: a grid that has the signal 'refused' with a sentence
 * @drafts: where it keeps what is typed
 * @ended: told of each value when the deed is in the book, or was refused
 *
 * Returns: (transfer full): a deed of no value
 */
FettleTypedDeed *
fettle_typed_deed_new (FettleTableSource *source, FettleDrafts *drafts, FettleTypedEnded ended)
{
  FettleTypedDeed *deed = g_new0 (FettleTypedDeed, 1);

  deed->source = g_object_ref (source);
  deed->drafts = drafts;
  deed->ended = ended;
  deed->names = g_ptr_array_new_with_free_func (g_free);
  deed->texts = g_ptr_array_new_with_free_func (g_free);
  return deed;
}

void
fettle_typed_deed_free (FettleTypedDeed *deed)
{
  g_object_unref (deed->source);
  g_ptr_array_unref (deed->names);
  g_ptr_array_unref (deed->texts);
  g_free (deed->first);
  g_free (deed);
}

/* One value more. */
void
fettle_typed_deed_add (FettleTypedDeed *deed, const char *draft, const char *text)
{
  fettle_drafts_keep (deed->drafts, draft, text);
  g_ptr_array_add (deed->names, g_strdup (draft));
  g_ptr_array_add (deed->texts, g_strdup (text));
}

/* What is no value stays in its cell, typed and not stored. */
void
fettle_typed_deed_refuse (FettleTypedDeed *deed, const char *draft, const char *text, const GError *error)
{
  fettle_drafts_keep (deed->drafts, draft, text);
  if (deed->refused++ == 0)
    deed->first = g_strdup (error->message);
}

/**
 * fettle_typed_deed_dup_refused:
 * @deed: a deed
 *
 * Returns: (nullable): the sentence how many values were refused, and why the first was
 */
char *
fettle_typed_deed_dup_refused (FettleTypedDeed *deed)
{
  if (deed->refused == 0)
    return NULL;
  return g_strdup_printf (ngettext ("%u cell was not taken and stays underlined: %s",
                                    "%u cells were not taken and stay underlined; the first: %s", deed->refused),
                          deed->refused, deed->first);
}

static void
on_stored (GObject *sitting, GAsyncResult *result, gpointer data)
{
  FettleTypedDeed *deed = data;
  g_autoptr(GError) error = NULL;
  gint64 id = 0;
  gboolean stored = fettle_sitting_edit_finish (FETTLE_SITTING (sitting), result, NULL, &id, &error);

  if (!stored)
    g_signal_emit_by_name (deed->source, "refused", error->message);
  for (guint i = 0; i < deed->names->len; i++)
    deed->ended (deed->source, deed->names->pdata[i], deed->texts->pdata[i], stored, deed->names->len == 1 ? id : 0);
  fettle_table_source_rows_changed (deed->source);
  fettle_typed_deed_free (deed);
}

/**
 * fettle_typed_deed_store:
 * @deed: (transfer full): a deed of one value or more
 * @sitting: whose book
 * @visit: to which it belongs
 * @edit: (transfer full): what stores them
 */
void
fettle_typed_deed_store (FettleTypedDeed *deed, FettleSitting *sitting, FettleVisit *visit, BookEdit *edit)
{
  fettle_sitting_edit_in (sitting, visit, edit, deed->names->len, on_stored, deed);
}
