/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"
#include "book-history.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book-gone-private.h"
#include "book-history-private.h"
#include "book-record.h"

/*
 * The sentences of the journal. An action keeps the id of its message and arguments that are keys and counts; the
 * sentence is made when somebody reads it, in the reader's language and with the keys as they are now.
 */

/* In a sentence {1}, {2}, … stand for the records of the arguments in order, {n} for the count, {field} for the label of
 * the field of the first record that the count numbers, from 1. */
typedef struct
{
  const char *id;
  const char *text; /* NULL where something is counted */
  const char *(*counted) (gulong n);
} Message;

static const char *
import_text (gulong n)
{
  /* Translators: {n} stands for the number */
  return ngettext ("Imported {n} row", "Imported {n} rows", n);
}

static const char *
sheet_text (gulong n)
{
  /* Translators: {n} stands for the number, {1} for a round as in 'Round HF/P3' */
  return ngettext ("Took {n} reading from a measuring sheet into: {1}",
                   "Took {n} readings from a measuring sheet into: {1}", n);
}

/* Translators: here and below {n} stands for a number, {1} for a tally as in 'Tally HF/10/2026-11-25/TK/1' */
static const char *
good_text (gulong n)
{
  return ngettext ("Counted {n} good piece: {1}", "Counted {n} good pieces: {1}", n);
}

static const char *
reworked_text (gulong n)
{
  return ngettext ("Counted {n} reworked piece: {1}", "Counted {n} reworked pieces: {1}", n);
}

static const char *
waiting_text (gulong n)
{
  return ngettext ("Counted {n} piece that waits for rework: {1}", "Counted {n} pieces that wait for rework: {1}", n);
}

static const char *
scrapped_text (gulong n)
{
  return ngettext ("Counted {n} scrapped piece: {1}", "Counted {n} scrapped pieces: {1}", n);
}

static const char *
waiting_good_text (gulong n)
{
  return ngettext ("{n} piece that waited is good: {1}", "{n} pieces that waited are good: {1}", n);
}

static const char *
waiting_scrapped_text (gulong n)
{
  return ngettext ("{n} piece that waited is scrapped: {1}", "{n} pieces that waited are scrapped: {1}", n);
}

static const char *
taps_text (gulong n)
{
  return ngettext ("Tallied by {n} tap: {1}", "Tallied by {n} taps: {1}", n);
}

static const char *
less_text (gulong n)
{
  return ngettext ("Took back {n} counted piece: {1}", "Took back {n} counted pieces: {1}", n);
}

static const char *
blamed_text (gulong n)
{
  return ngettext ("Named the issue of {n} piece: {1}", "Named the issue of {n} pieces: {1}", n);
}

static const char *
rate_text (gulong n)
{
  /* Translators: {n} stands for the number, {1} for a model as in 'Model HF' */
  return ngettext ("Stored {n} figure that was tried for the rate of: {1}",
                   "Stored {n} figures that were tried for the rate of: {1}", n);
}

static const char *
readings_text (gulong n)
{
  /* Translators: {n} stands for the number, {1} for a round as in 'Round HF/P3' */
  return ngettext ("Typed {n} reading in: {1}", "Typed {n} readings in: {1}", n);
}

static const char *
voided_text (gulong n)
{
  /* Translators: {n} stands for the number, {1} for a round as in 'Round HF/P3' */
  return ngettext ("Voided {n} reading in: {1}", "Voided {n} readings in: {1}", n);
}

static const char *
trials_text (gulong n)
{
  /* Translators: {n} stands for the number, {1} for a characteristic as in 'Characteristic HF/BC' */
  return ngettext ("Typed {n} trial of: {1}", "Typed {n} trials of: {1}", n);
}

static const Message messages[] = {
  /* Translators: {1} stands for a kind of record and its key, as in 'Unit HF/P3/P3-04' */
  { "reading-typed", N_("Typed a reading: {1}"), NULL },
  { "reading-changed", N_("Changed a reading: {1}"), NULL },
  { "reading-voided", N_("Voided a reading: {1}"), NULL },
  { "unit-added", N_("Added a unit: {1}"), NULL },
  { "person-added", N_("Added a person: {1}"), NULL },
  { "attached", N_("Attached a file or link to: {1}"), NULL },
  { "detached", N_("Took an attachment away from: {1}"), NULL },
  { "issue-raised", N_("Raised an issue: {1}"), NULL },
  { "issue-contained", N_("Contained: {1}"), NULL },
  { "issue-cause-known", N_("Wrote down the cause of: {1}"), NULL },
  { "issue-closed", N_("Closed: {1}"), NULL },
  { "issue-reopened", N_("Opened again: {1}"), NULL },
  { "finding-added", N_("Added a finding to: {1}"), NULL },
  { "finding-decided", N_("Decided what is done about: {1}"), NULL },
  { "finding-excused", N_("Excused: {1}"), NULL },
  { "unit-event", N_("Noted what happened to: {1}"), NULL },
  { "unit-passed", N_("Passed: {1}"), NULL },
  { "unit-altered", N_("Altered: {1}"), NULL },
  { "unit-set-aside", N_("Set aside: {1}"), NULL },
  { "unit-scrapped", N_("Scrapped: {1}"), NULL },
  { "unit-sent-back", N_("Sent back: {1}"), NULL },
  { "unit-reworked", N_("Reworked: {1}"), NULL },
  { "unit-as-built", N_("Corrected what was built into: {1}"), NULL },
  { "unit-serial", N_("Corrected the serial of: {1}"), NULL },
  { "change-proposed", N_("Proposed a change: {1}"), NULL },
  { "change-item-added", N_("Added an item to: {1}"), NULL },
  { "change-issue-added", N_("Said which issue it answers: {1}"), NULL },
  { "change-effect-set", N_("Said what is measured again or carried over: {1}"), NULL },
  { "change-agreed", N_("Agreed: {1}"), NULL },
  { "change-carried-out", N_("Carried out: {1}"), NULL },
  { "change-withdrawn", N_("Withdrew: {1}"), NULL },
  { "round-planned", N_("Planned: {1}"), NULL },
  { "round-copied", N_("Planned after the last round, with agreed changes: {1}"), NULL },
  { "round-test-set", N_("Said which unit is for which test in: {1}"), NULL },
  { "round-opened", N_("Opened: {1}"), NULL },
  { "round-design-fixed", N_("Fixed the design of: {1}"), NULL },
  { "round-parts-ready", N_("Had all parts ready for: {1}"), NULL },
  { "round-built", N_("Built all units of: {1}"), NULL },
  { "round-tested", N_("Finished testing: {1}"), NULL },
  { "round-decided", N_("Decided how to go on after: {1}"), NULL },
  { "wait-begun", N_("Began to wait: {1}"), NULL },
  { "gate-signed", N_("Noted an opinion: {1}"), NULL },
  { "signoff-withdrawn", N_("Withdrew an opinion: {1}"), NULL },
  { "criterion-waived", N_("Waived a criterion: {1}"), NULL },
  { "waiver-withdrawn", N_("Withdrew a waiver: {1}"), NULL },
  { "gate-decided", N_("Decided: {1}"), NULL },
  { "decision-withdrawn", N_("Withdrew a decision: {1}"), NULL },
  { "wait-ended", N_("Ended a wait: {1}"), NULL },
  { "tally-good", NULL, good_text },
  { "tally-reworked", NULL, reworked_text },
  { "tally-waiting", NULL, waiting_text },
  { "tally-scrapped", NULL, scrapped_text },
  { "tally-waiting-good", NULL, waiting_good_text },
  { "tally-waiting-scrapped", NULL, waiting_scrapped_text },
  { "tally-less", NULL, less_text },
  { "tally-blamed", NULL, blamed_text },
  { BOOK_MESSAGE_TAPS, NULL, taps_text }, /* told of several actions together, never written */
  { "limits-set", N_("Set limits: {1}"), NULL },
  { "order-moved", N_("Moved in its order: {1}"), NULL },
  /* Translators: {2} is the model that it comes from, {1} the one that takes it */
  { "setup-copied", N_("Took over the set-up of {2} into: {1}"), NULL },
  { "merged", N_("Made one of two, {2} went into: {1}"), NULL },
  { "record-added", N_("Added: {1}"), NULL },
  { "record-changed", N_("Changed: {1}"), NULL },
  { "record-deleted", N_("Deleted: {1}"), NULL },
  { "field-changed", N_("Changed a field of: {1}"), NULL }, /* written before fields were told apart */
  /* Translators: {field} stands for the label of a field, as in 'Role' */
  { "field-set", N_("Changed '{field}' of: {1}"), NULL },
  { "import", NULL, import_text },
  { "readings-typed", NULL, readings_text },
  { "readings-voided", NULL, voided_text },
  { "trials-typed", NULL, trials_text },
  { "sheet", NULL, sheet_text },
  { "rate-stored", NULL, rate_text },
  { "payload-erased", N_("Erased from the journal what an action changed"), NULL },
};

/**
 * book_message_id:
 * @i: from 0 on
 *
 * Returns: (nullable) (transfer none): the id of a message that the program knows; %NULL after the last one
 */
const char *
book_message_id (guint i)
{
  return i < G_N_ELEMENTS (messages) ? messages[i].id : NULL;
}

static const Message *
find_message (const char *id)
{
  for (guint i = 0; i < G_N_ELEMENTS (messages); i++)
    if (g_str_equal (messages[i].id, id))
      return &messages[i];
  return NULL;
}

/* A kind of record and its key, as in 'Unit P3/P3-04'; a row that is gone is named by the key it had last. */
static char *
name_of (BookGone *gone, const char *table, gint64 id)
{
  const BookRecord *record = book_record_find (table);
  g_autofree char *key = NULL;

  if (record == NULL)
    return g_strdup (table);
  key = book_gone_key_text (gone, record, id, NULL);
  if (key == NULL || *key == '\0')
    return g_strdup_printf (_("%s (no longer there)"), book_record_label (record));
  return g_strdup_printf ("%s %s", book_record_label (record), key);
}

static const char *
label_of (const char *table, gint64 number)
{
  const BookRecord *record = book_record_find (table);

  return record != NULL && number >= 1 && number <= record->n_fields ? book_field_label (&record->fields[number - 1]) : "?";
}

static char *
replace (StoreDb *db, const char *text, GVariant *arguments, gint64 count)
{
  g_autoptr(BookGone) gone = book_gone_new (db);
  GString *sentence = g_string_new (text);
  g_autofree char *number = g_strdup_printf ("%" G_GINT64_FORMAT, count);
  GVariantIter iter;
  const char *word;
  gint64 value;
  guint n = 0;

  g_string_replace (sentence, "{n}", number, 0);
  if (arguments != NULL)
    {
      g_variant_iter_init (&iter, arguments);
      while (g_variant_iter_next (&iter, "(&sx)", &word, &value))
        if (!g_str_equal (word, "count"))
          {
            g_autofree char *place = g_strdup_printf ("{%u}", ++n);
            g_autofree char *name = NULL;

            if (n == 1)
              g_string_replace (sentence, "{field}", label_of (word, count), 0);
            if (strstr (sentence->str, place) == NULL)
              continue;
            name = name_of (gone, word, value);
            g_string_replace (sentence, place, name, 0);
          }
    }
  return g_string_free (sentence, FALSE);
}

static gint64
count_of (GVariant *arguments)
{
  GVariantIter iter;
  const char *word;
  gint64 value;

  if (arguments == NULL)
    return 0;
  g_variant_iter_init (&iter, arguments);
  while (g_variant_iter_next (&iter, "(&sx)", &word, &value))
    if (g_str_equal (word, "count"))
      return value;
  return 0;
}

/**
 * book_message_text:
 * @db: any connection
 * @message: id of a message
 * @arguments: (nullable): of type %STORE_ARGUMENTS
 *
 * Returns: (transfer full): what was done, in the reader's language, without a full stop; a message that this version
 *   does not know is told by its id
 */
char *
book_message_text (StoreDb *db, const char *message, GVariant *arguments)
{
  const Message *known = find_message (message);
  gint64 count = count_of (arguments);

  if (known == NULL)
    return g_strdup_printf (_("Changed the book (%s)"), message);
  return replace (db, known->counted != NULL ? known->counted ((gulong) count) : _(known->text), arguments, count);
}
