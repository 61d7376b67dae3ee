/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The pages of the window, in the order of the page list. A new page is a row here.
 */
#include "config.h"

#include <glib/gi18n.h>

#include "bench-page.h"
#include "changes-page.h"
#include "compare-page.h"
#include "entry-page.h"
#include "gauge-page.h"
#include "history-page.h"
#include "import-page.h"
#include "issues-page.h"
#include "leadtime-page.h"
#include "life-page.h"
#include "pack-page.h"
#include "page.h"
#include "pilot-page.h"
#include "readings-page.h"
#include "release-page.h"
#include "rounds-page.h"
#include "setup-page.h"
#include "sheet-page.h"
#include "shelf-page.h"
#include "standing-page.h"
#include "tally-page.h"
#include "unit-page.h"

static const char *const standing_records[] = { "criterion", NULL };

static const char *const readings_records[] = { "characteristic", "unit", "reading", NULL };

static const char *const issues_records[] = { "issue", "finding", NULL };

static const char *const changes_records[] = { "change", NULL };

static const char *const rounds_records[] = { "round", NULL };

static const char *const life_records[] = { "life_test", NULL };

static const char *const release_records[] = { "signoff", "waiver", "decision", NULL };

static const char *const setup_records[] = { "model", "limit", "depends", "step", "step_setting", "gate", "criterion_term", "hazard",
                                             "document", "part", "supplier", "bench", "gauge", "gauge_calibration", "person",
                                             "holiday", "setting", NULL };

static const char *const unit_records[] = { "lot", "revision", NULL };

static const FettlePageKind kinds[] = {
  { "bench", N_("Bench"), "<Alt><Shift>B", NULL, TRUE, fettle_bench_page_new },
  { "standing", N_("Standing"), "<Alt>1", standing_records, TRUE, fettle_standing_page_new },
  { "readings", N_("Readings"), "<Alt>2", readings_records, TRUE, fettle_readings_page_new },
  { "issues", N_("Issues"), "<Alt>3", issues_records, TRUE, fettle_issues_page_new },
  { "changes", N_("Changes"), "<Alt>4", changes_records, TRUE, fettle_changes_page_new },
  { "compare", N_("Compare"), "<Alt>5", NULL, TRUE, fettle_compare_page_new },
  { "history", N_("History"), "<Alt>6", NULL, TRUE, fettle_history_page_new },
  { "rounds", N_("Rounds"), "<Alt>7", rounds_records, TRUE, fettle_rounds_page_new },
  { "pilot", N_("Pilot"), "<Alt>8", NULL, TRUE, fettle_pilot_page_new },
  { "tally", N_("Tally"), "<Alt><Shift>T", NULL, TRUE, fettle_tally_page_new },
  { "leadtime", N_("Lead time"), "<Alt>9", NULL, TRUE, fettle_leadtime_page_new },
  { "life", N_("Life tests"), "<Alt>0", life_records, TRUE, fettle_life_page_new },
  { "gauges", N_("Gauge studies"), "<Alt><Shift>G", NULL, TRUE, fettle_gauge_page_new },
  { "release", N_("Release"), "<Alt><Shift>D", release_records, TRUE, fettle_release_page_new },
  { "pack", N_("Decision pack"), NULL, NULL, FALSE, fettle_pack_page_new },
  { "shelf", N_("Shelf"), "<Alt><Shift>S", NULL, TRUE, fettle_shelf_page_new },
  { "setup", N_("Set-up"), "<Alt><Shift>E", setup_records, TRUE, fettle_setup_page_new },
  { "unit", N_("Unit"), NULL, unit_records, FALSE, fettle_unit_page_new },
  { "import", N_("Rows to take in"), NULL, NULL, FALSE, fettle_import_page_new },
  { "entry", N_("Enter readings"), "<Alt><Shift>R", NULL, FALSE, fettle_entry_page_new },
  { "sheet", N_("Measuring sheet"), NULL, NULL, FALSE, fettle_sheet_page_new },
};

/**
 * fettle_page_kinds:
 * @n: (out) (optional): how many
 *
 * Returns: (array length=n): the pages there are
 */
const FettlePageKind *
fettle_page_kinds (guint *n)
{
  if (n != NULL)
    *n = G_N_ELEMENTS (kinds);
  return kinds;
}

/**
 * fettle_page_kind_find:
 * @name: of a page
 *
 * Returns: its row, -1 when there is no such page
 */
int
fettle_page_kind_find (const char *name)
{
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (g_strcmp0 (kinds[i].name, name) == 0)
      return (int) i;
  return -1;
}
