/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-print.h"

static void
on_draw_page (GtkPrintOperation *operation, GtkPrintContext *context, int page, GPtrArray *sheets)
{
  cairo_t *cr = gtk_print_context_get_cairo_context (context);

  if (page < 0 || (guint) page >= sheets->len)
    return;
  cairo_set_source_surface (cr, sheets->pdata[page], 0.0, 0.0);
  cairo_paint (cr);
}

static GtkPageSetup *
setup_of (const PaperShape *shape)
{
  static const char *const names[] = { [PAPER_A4] = GTK_PAPER_NAME_A4, [PAPER_LETTER] = GTK_PAPER_NAME_LETTER, [PAPER_A5] = GTK_PAPER_NAME_A5 };
  g_autoptr(GtkPaperSize) size = gtk_paper_size_new (names[shape->size]);
  GtkPageSetup *setup = gtk_page_setup_new ();

  gtk_page_setup_set_paper_size_and_default_margins (setup, size);
  gtk_page_setup_set_orientation (setup, shape->landscape ? GTK_PAGE_ORIENTATION_LANDSCAPE : GTK_PAGE_ORIENTATION_PORTRAIT);
  return setup;
}

/**
 * fettle_paper_print_new:
 * @name: of the job, as the printer's queue shows it
 * @sheets: (element-type cairo_surface_t): of paper_document_to_sheets(); referred to
 * @shape: of the pages
 *
 * Pages keep the size and the margins that they were set with: nothing is scaled, so that bars and boxes stay as wide as they
 * must be.
 *
 * Returns: (transfer full): to be run
 */
GtkPrintOperation *
fettle_paper_print_new (const char *name, GPtrArray *sheets, const PaperShape *shape)
{
  GtkPrintOperation *operation = gtk_print_operation_new ();
  g_autoptr(GtkPageSetup) setup = setup_of (shape);

  gtk_print_operation_set_job_name (operation, name);
  gtk_print_operation_set_default_page_setup (operation, setup);
  gtk_print_operation_set_use_full_page (operation, TRUE);
  gtk_print_operation_set_unit (operation, GTK_UNIT_POINTS);
  gtk_print_operation_set_n_pages (operation, (int) sheets->len);
  gtk_print_operation_set_allow_async (operation, TRUE);
  g_signal_connect_data (operation, "draw-page", G_CALLBACK (on_draw_page), g_ptr_array_ref (sheets),
                         (GClosureNotify) (void (*) (void)) g_ptr_array_unref, 0);
  return operation;
}
