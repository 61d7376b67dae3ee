/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fettle-batch sheet: a measuring sheet as people keep it. */

#include "config.h"

#include "batch-verbs.h"

#include "batch-book.h"
#include "batch-sheet-answer.h"

#include <errno.h>
#include <glib/gi18n.h>
#include <string.h>
#include <unistd.h>

static gboolean dry_run;
static gboolean keep_good;
static char *round_label;
static char *round_kind;
static char *date;
static char *measured_by;

static const GOptionEntry options[] = {
  { "dry-run", 'n', 0, G_OPTION_ARG_NONE, &dry_run, N_("Say what was understood, and store nothing"), NULL },
  { "keep-good", 0, 0, G_OPTION_ARG_NONE, &keep_good, N_("Store what was understood, although some cells were not"), NULL },
  { "round", 'r', 0, G_OPTION_ARG_STRING, &round_label, N_("The round it belongs to; made when the model does not have it"), N_("LABEL") },
  { "kind", 0, 0, G_OPTION_ARG_STRING, &round_kind, N_("What kind of round is made: prototype when left out"), N_("KIND") },
  { "date", 0, 0, G_OPTION_ARG_STRING, &date, N_("The day of readings without one of their own"), N_("DATE") },
  { "measured-by", 0, 0, G_OPTION_ARG_STRING, &measured_by, N_("Who measured, where the sheet does not say"), N_("INITIALS") },
  G_OPTION_ENTRY_NULL
};

static ExchangeSheet *
read_sheet (const char *path, GError **error)
{
  g_autoptr(GString) text = NULL;
  char part[65536];
  ssize_t n;

  if (!g_str_equal (path, "-"))
    return exchange_sheet_read_file (path, error);

  text = g_string_new (NULL);
  while ((n = read (STDIN_FILENO, part, sizeof part)) > 0)
    g_string_append_len (text, part, n);
  if (n < 0)
    {
      g_set_error (error, G_IO_ERROR, g_io_error_from_errno (errno), _("Standard input cannot be read: %s."), g_strerror (errno));
      return NULL;
    }
  return exchange_sheet_read_text (_("standard input"), text->str, text->len, error);
}

static gboolean
find_kind (BatchCall *call, BookRoundKind *kind, BatchStatus *status)
{
  const BookChoice *choice = round_kind == NULL ? NULL : book_choice_by_text (book_round_kinds, round_kind);
  g_autoptr(GString) known = g_string_new (NULL);

  *kind = choice == NULL ? 0 : (BookRoundKind) choice->code;
  if (round_kind == NULL || choice != NULL)
    return TRUE;
  for (const BookChoice *c = book_round_kinds; c->text != NULL; c++)
    g_string_append_printf (known, "%s%s", known->len == 0 ? "" : ", ", c->text);
  *status = batch_usage (call, _("There is no kind of round '%s'; the kinds are: %s."), round_kind, known->str);
  return FALSE;
}

static void
write_result (BatchCall *call, const ExchangeSheet *sheet, const ExchangeSheetStored *stored)
{
  g_autofree char *text = call->json ? batch_sheet_json (sheet, stored) : batch_sheet_text (sheet, stored);

  batch_write (call, text);
}

static BatchStatus
store (BatchCall *call, ExchangeSheet *sheet, BookRoundKind kind)
{
  g_autoptr(Book) book = NULL;
  g_autoptr(GError) error = NULL;
  ExchangeSheetStored stored = { 0 };
  StoreIntent intent;
  BatchStatus status;
  ExchangeSheetTarget target = {
    .model = call->model, .round = round_label, .kind = kind, .date = date, .today = call->today,
    .person = measured_by, .allow_problems = keep_good
  };

  if (!batch_book_open (call, &book, &status) || !batch_intent (call, book, "sheet", &intent, &status))
    return status;
  target.writer = intent.person;
  target.sitting = store_new_sitting ();
  if (!exchange_sheet_store (book, sheet, &target, &stored, call->cancellable, &error))
    {
      batch_sheet_say_problems (sheet);
      return batch_fail (call, error);
    }
  write_result (call, sheet, &stored);
  return exchange_sheet_count_problems (sheet) > 0 ? BATCH_ATTENTION : BATCH_DONE;
}

static BatchStatus
run (BatchCall *call)
{
  g_autoptr(ExchangeSheet) sheet = NULL;
  g_autoptr(GError) error = NULL;
  BookRoundKind kind;
  BatchStatus status;

  if (date != NULL && (!batch_is_moment (date) || strlen (date) != 10))
    return batch_usage (call, _("'%s' is not a date: write it as year-month-day, as in 2026-03-01."), date);
  if (!find_kind (call, &kind, &status))
    return status;
  sheet = read_sheet (call->arguments[0], &error);
  if (sheet == NULL)
    return batch_fail (call, error);
  if (!dry_run)
    return store (call, sheet, kind);
  write_result (call, sheet, NULL);
  return exchange_sheet_count_problems (sheet) > 0 ? BATCH_ATTENTION : BATCH_DONE;
}

const BatchVerb batch_verb_sheet = {
  .name = "sheet",
  .arguments = N_("FILE"),
  .summary = N_("Read a measuring sheet: units down, characteristics across, limits in the head or not at all."),
  .description = N_("FILE is text with commas, semicolons or tabs; - reads standard input. Round, units, characteristics, limits, readings "
                    "and a gate are made in one action. A model that the book does not have is made. --dry-run needs no book."),
  .least = 1,
  .most = 1,
  .stops = TRUE,
  .options = options,
  .run = run,
};
