/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-letter-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/*
 * Method. The letter is set with all that there is; when it takes more than five pages it is set anew with less: smaller
 * pictures, then fewer of them, and fewer effects, issues and questions, the weighty first. What is left out is said. Setting takes some
 * milliseconds, so that trying is cheaper than foretelling.
 */

static const LetterMeasure measures[] = {
  { 40, 130.0, 12, 6, 40, 20, 4, 60, 0 },
  { 24, 105.0, 8, 6, 24, 12, 3, 40, 0 },
  { 14, 90.0, 4, 3, 14, 8, 3, 30, 0 },
  { 8, 75.0, 2, 3, 9, 6, 2, 20, 240 },
  { 6, 60.0, 0, 0, 6, 5, 2, 12, 120 },
  { 3, 60.0, 0, 0, 4, 4, 2, 5, 60 },
};

/* Steps of progress. */
enum
{
  STEP_READ = 60,
  STEP_SET = 80,
  STEP_ALL = 100
};

static void
tell (const PaperLetterAsk *ask, guint64 done)
{
  if (ask->progress != NULL)
    ask->progress (done, STEP_ALL, ask->progress_data);
}

static void
set_beginning (const Letter *letter, PaperFlow *flow, guint n_questions)
{
  const InsightComparison *data = letter->comparison->data;
  g_autofree char *what = g_strdup_printf (_("What changed from round %s to round %s, and what the readings say"), data->from_label,
                                           data->to_label);
  g_autofree char *when
    = g_str_equal (data->end, letter->ask->today)
        ? g_strdup_printf (_("To the designer, %s. Model %s."), letter->ask->today, data->model_code)
        : g_strdup_printf (_("To the designer, %s. Model %s, as it stood on %s."), letter->ask->today, data->model_code, data->end);
  g_autofree char *headline = letter_sentence (letter, letter->comparison->headline);
  g_autofree char *issues = letter_sentence (letter, letter->issues->headline);
  g_autofree char *questions = g_strdup_printf (ngettext ("We ask you %u question; there is room for the answer at the end of this letter.",
                                                          "We ask you %u questions; there is room for the answers at the end of this letter.",
                                                          n_questions),
                                                n_questions);

  paper_flow_title (flow, data->model_name);
  paper_flow_paragraph (flow, PAPER_TEXT_SUBHEADING, PAPER_INK, 0.0, what);
  paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_FAINT, 0.0, when);
  paper_flow_space (flow, 6.0);
  paper_flow_paragraph (flow, PAPER_TEXT_BODY, PAPER_INK, 0.0, headline);
  if (*issues != '\0')
    {
      g_autofree char *told = g_strdup_printf (_("Issues: %s."), issues);

      paper_flow_link (flow, told, "issues");
    }
  if (n_questions > 0)
    paper_flow_link (flow, questions, "questions");
}

/* About strength: a characteristic or an issue of safety is spoken of. */
static const char *
caution_of (const Letter *letter)
{
  return letter->comparison->caution != NULL ? letter->comparison->caution : letter->issues->caution;
}

static void
set_lost (const Letter *letter, PaperFlow *flow)
{
  g_autofree char *lost = g_strdup_printf (
    ngettext ("%u picture is left out, since its file is missing or damaged.", "%u pictures are left out, since their files are missing or damaged.",
              letter->n_lost),
    letter->n_lost);

  if (letter->n_lost > 0)
    paper_flow_paragraph (flow, PAPER_TEXT_SMALL, PAPER_FAINT, 0.0, lost);
}

static PaperDocument *
set_letter (const Letter *letter, GPtrArray *questions, const LetterMeasure *measure)
{
  const InsightComparison *data = letter->comparison->data;
  g_autofree char *title = g_strdup_printf (_("%s: what changed from %s to %s"), data->model_name, data->from_label, data->to_label);
  g_autofree char *span = g_strdup_printf (_("%s to %s, %s"), data->from_label, data->to_label, letter->ask->today);
  PaperDocument *document = paper_document_new (letter->ask->size, title, _("Letter to the designer"), letter->ask->today);
  g_autoptr(PaperFlow) flow = paper_flow_new (document);
  const char *caution = caution_of (letter);

  paper_document_set_heads (document, data->model_name, span, _("Names of people, costs, suppliers and other models are left out."));
  set_beginning (letter, flow, questions->len);
  if (caution != NULL)
    {
      g_autofree char *told = letter_sentence (letter, caution);

      paper_flow_note (flow, told);
    }
  letter_set_changes (letter, flow, measure);
  letter_set_effects (letter, flow, measure);
  letter_set_issues (letter, flow, measure);
  set_lost (letter, flow);
  /* Answers are sent back: they begin on a page of their own where there is little before them. */
  if (paper_document_count_pages (document) < PAPER_LETTER_LEAST_PAGES)
    paper_flow_new_page (flow);
  letter_set_questions (flow, questions, measure);
  return document;
}

/**
 * paper_letter_write:
 * @db: the connection of a reader, within its request; the transaction is ended early (store_reader_done_reading())
 * @ask: what it is about
 * @cancellable: (nullable): to stop
 * @error: return location
 *
 * Makes the letter to the designer. Blocks; never in the main thread of a window.
 *
 * Returns: (transfer full) (nullable): the PDF; %PAPER_ERROR_INPUT when there are no two rounds, %PAPER_ERROR_DRAW, or what
 *   reading gives
 */
GBytes *
paper_letter_write (StoreDb *db, const PaperLetterAsk *ask, GCancellable *cancellable, GError **error)
{
  g_autoptr(PaperDocument) document = NULL;
  g_autoptr(GPtrArray) questions = NULL;
  GBytes *pdf = NULL;
  Letter letter;

  tell (ask, 0);
  if (letter_read (db, ask, &letter, cancellable, error))
    {
      tell (ask, STEP_READ);
      questions = letter_questions (&letter);
      for (guint i = 0; i < G_N_ELEMENTS (measures); i++)
        {
          g_clear_pointer (&document, paper_document_free);
          document = set_letter (&letter, questions, &measures[i]);
          if (paper_document_count_pages (document) <= PAPER_LETTER_MOST_PAGES)
            break;
        }
      tell (ask, STEP_SET);
      pdf = paper_document_to_pdf (document, cancellable, error);
      tell (ask, STEP_ALL);
    }
  letter_clear (&letter);
  return pdf;
}

/**
 * paper_letter_name:
 * @model: code of the model
 * @today: the day that the letter bears
 *
 * Returns: (transfer full): a name for the file, without a folder
 */
char *
paper_letter_name (const char *model, const char *today)
{
  char *name = g_strdup_printf (_("%s letter %s.pdf"), model, today);

  return g_strdelimit (name, "/\\:", '-');
}

/**
 * paper_save:
 * @pdf: the document
 * @path: where to; a file there is replaced only when all is written
 * @error: return location
 *
 * Returns: whether it is written; errors of #G_FILE_ERROR with a sentence
 */
gboolean
paper_save (GBytes *pdf, const char *path, GError **error)
{
  g_autoptr(GError) cause = NULL;
  g_autofree char *shown = g_filename_display_name (path);

  if (g_file_set_contents_full (path, g_bytes_get_data (pdf, NULL), (gssize) g_bytes_get_size (pdf), G_FILE_SET_CONTENTS_CONSISTENT,
                                0666, &cause))
    return TRUE;
  g_set_error (error, cause->domain, cause->code,
               _("The pages could not be written to '%s': choose another place or free some space; the file is as it was. (%s)"), shown,
               cause->message);
  return FALSE;
}
