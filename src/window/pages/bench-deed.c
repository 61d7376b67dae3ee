/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-deed.h"

#include <glib/gi18n.h>

#include "book-unit.h"
#include "deed-form.h"

const FettleBenchDeedKind fettle_bench_deeds[FETTLE_BENCH_N_DEEDS] = {
  [FETTLE_BENCH_PASSED] = { "passed", N_("Passed"), N_("It passed the step that it waits for (F2)"), "F2", BOOK_EVENT_PASSED },
  [FETTLE_BENCH_SENT_BACK] = { "sent-back", N_("Sent Back…"), N_("To which step, for which issue, and why (F3)"), "F3", BOOK_EVENT_SENT_BACK },
  [FETTLE_BENCH_REWORKED] = { "reworked", N_("Reworked…"), N_("It is put right: how, and in how many minutes (F4)"), "F4", BOOK_EVENT_REWORKED },
  [FETTLE_BENCH_ALTERED] = { "altered", N_("Altered…"), N_("It is no longer as it was built: how, and for which issue (F5)"), "F5",
                             BOOK_EVENT_ALTERED },
  [FETTLE_BENCH_SCRAPPED] = { "scrapped", N_("Scrapped…"), N_("It is lost: for which issue, and why (F6)"), "F6", BOOK_EVENT_SCRAPPED },
};

static const char *const fields[FETTLE_BENCH_N_DEEDS][5] = {
  [FETTLE_BENCH_PASSED] = { NULL },
  [FETTLE_BENCH_SENT_BACK] = { "issue", "back_to", "minutes", "reason", NULL },
  [FETTLE_BENCH_REWORKED] = { "issue", "minutes", "reason", NULL },
  [FETTLE_BENCH_ALTERED] = { "issue", "minutes", "reason", NULL },
  [FETTLE_BENCH_SCRAPPED] = { "issue", "minutes", "reason", NULL },
};

/* The words on the form's button. */
static const char *const does[FETTLE_BENCH_N_DEEDS] = { N_("Passed"), N_("Send Back"), N_("Reworked"), N_("Altered"), N_("Scrapped") };

typedef struct
{
  gint64          unit;
  gint64          step;
  FettleBenchDeed deed;
} About;

static BookEdit *
make (FettleDeedForm *form, gpointer data)
{
  const About *about = data;
  const char *names[5] = { NULL };
  g_auto(GStrv) texts = g_new0 (char *, 5);
  BookEdit *edit;

  for (guint i = 0; fields[about->deed][i] != NULL; i++)
    {
      names[i] = fields[about->deed][i];
      texts[i] = fettle_deed_form_dup_text (form, names[i]);
    }
  edit = book_unit_add_event (about->unit, fettle_bench_deeds[about->deed].kind, names, (const char *const *) texts);
  book_unit_event_at (edit, about->step);
  return edit;
}

/* What it came back for is what it is put right for. */
static void
preset_issue (FettleDeedForm *form, const FettleBenchAnswer *answer, const InsightBenchUnit *unit)
{
  g_autofree char *key = g_strdup_printf ("%s/%d", answer->evidence->code, unit->issue_no);
  g_autofree char *shown = g_strdup_printf ("%d %s", unit->issue_no, unit->issue_title);

  if (unit->issue != 0)
    fettle_deed_form_preset (form, "issue", key, shown);
}

/* Where it would go by itself, to be seen and to be said otherwise. */
static void
preset_step (FettleDeedForm *form, const FettleBenchAnswer *answer, const InsightBenchUnit *unit)
{
  int step = insight_bench_usual_back (answer->evidence, unit->unit, unit->step);
  g_autofree char *key = NULL, *shown = NULL;

  if (step < 0)
    return;
  key = g_strdup_printf ("%s/%d", answer->evidence->code, answer->evidence->steps[step].position);
  shown = g_strdup_printf ("%d %s", answer->evidence->steps[step].position, answer->evidence->steps[step].name);
  fettle_deed_form_preset (form, "back_to", key, shown);
}

/**
 * fettle_bench_deed_new:
 * @sitting: the window's
 * @answer: of the page
 * @unit: of @answer
 * @deed: what is said of it; not that it passed, which needs no form
 *
 * Returns: (transfer floating): the form, to be begun when it is on the screen (fettle_deed_form_begin())
 */
GtkWidget *
fettle_bench_deed_new (FettleSitting *sitting, const FettleBenchAnswer *answer, const InsightBenchUnit *unit, FettleBenchDeed deed)
{
  const About about = { unit->unit, unit->step_id, deed };
  About *kept = g_memdup2 (&about, sizeof about);
  GtkWidget *form = fettle_deed_form_new (sitting, BOOK_RECORD_UNIT_EVENT, fields[deed], _(does[deed]), make, kept);

  g_object_set_data_full (G_OBJECT (form), "about", kept, g_free);
  if (deed == FETTLE_BENCH_REWORKED || deed == FETTLE_BENCH_SCRAPPED)
    preset_issue (FETTLE_DEED_FORM (form), answer, unit);
  if (deed == FETTLE_BENCH_SENT_BACK)
    preset_step (FETTLE_DEED_FORM (form), answer, unit);
  return form;
}
