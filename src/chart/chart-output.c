/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Charts into files. The drawing is made in memory and stored in one go: the new file takes the old one's place
 * only when all of it is written.
 */
#include "config.h"

#include "chart-output.h"

#include "chart-private.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <glib/gi18n-lib.h>
#include <math.h>

#define POINTS_A_DOT 0.75 /* 96 dots and 72 points an inch */
#define PIXELS_MOST  20000.0

G_DEFINE_QUARK (chart - output - error - quark, chart_output_error)

typedef enum
{
  FORM_PNG,
  FORM_SVG,
  FORM_PDF
} Form;

static cairo_status_t
append (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static gboolean
form_of (const char *path, Form *form)
{
  static const struct
  {
    const char *ending;
    Form form;
  } forms[] = { { ".png", FORM_PNG }, { ".svg", FORM_SVG }, { ".pdf", FORM_PDF } };
  g_autofree char *lower = g_ascii_strdown (path, -1);

  for (guint i = 0; i < G_N_ELEMENTS (forms); i++)
    if (g_str_has_suffix (lower, forms[i].ending))
      {
        *form = forms[i].form;
        return TRUE;
      }
  return FALSE;
}

static void
draw_page (Chart *chart, cairo_t *cr, double width, double height, const ChartTheme *theme)
{
  const ChartColour *ground = chart->kind->on_paper ? &theme->paper : &theme->sheet;

  cairo_set_source_rgb (cr, ground->red, ground->green, ground->blue);
  cairo_paint (cr);
  chart_draw (chart, cr, width, height, theme);
}

static void
set_document (Chart *chart, cairo_surface_t *surface)
{
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, "Fettle");
  if (chart->title != NULL)
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, chart->title);
  if (chart->created != NULL)
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, chart->created);
}

static cairo_status_t
draw_bytes (Chart *chart, Form form, double width, double height, const ChartTheme *theme, GByteArray *bytes)
{
  cairo_surface_t *surface = NULL;
  cairo_status_t status;
  cairo_t *cr;

  switch (form)
    {
    case FORM_PNG:
      surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) ceil (width), (int) ceil (height));
      break;
    case FORM_SVG:
      surface = cairo_svg_surface_create_for_stream (append, bytes, width, height);
      cairo_svg_surface_set_document_unit (surface, CAIRO_SVG_UNIT_PX);
      break;
    case FORM_PDF:
      surface
          = cairo_pdf_surface_create_for_stream (append, bytes, width * POINTS_A_DOT, height * POINTS_A_DOT);
      set_document (chart, surface);
      break;
    }

  cr = cairo_create (surface);
  if (form == FORM_PDF)
    cairo_scale (cr, POINTS_A_DOT, POINTS_A_DOT);
  draw_page (chart, cr, width, height, theme);
  cairo_show_page (cr);
  status = cairo_status (cr);
  cairo_destroy (cr);
  if (status == CAIRO_STATUS_SUCCESS && form == FORM_PNG)
    status = cairo_surface_write_to_png_stream (surface, append, bytes);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  return status;
}

/**
 * chart_set_document:
 * @chart: a chart
 * @title: (nullable): title of a PDF document
 * @created: (nullable): date of a PDF document as ISO 8601 ('2026-05-03T12:00:00Z'); left out, it is the time
 * of writing
 *
 * What a PDF says about itself. A given date makes two writings of one chart the same bytes.
 */
void
chart_set_document (Chart *chart, const char *title, const char *created)
{
  g_return_if_fail (chart != NULL);

  g_free (chart->title);
  chart->title = title != NULL ? g_utf8_make_valid (title, -1) : NULL;
  g_free (chart->created);
  chart->created = g_strdup (created);
}

/**
 * chart_write:
 * @chart: a chart
 * @path: file to write; its ending (.png, .svg, .pdf) chooses the form
 * @width: in dots (a PDF's dot is 1/96 inch)
 * @height: in dots
 * @look: colours and fonts
 * @error: what went wrong, as a sentence; the file is then as it was before
 *
 * Writes the drawing, with its ground, to a file.
 *
 * Returns: whether it is written
 */
gboolean
chart_write (Chart *chart, const char *path, double width, double height, ChartLook look, GError **error)
{
  g_autoptr(GByteArray) bytes = g_byte_array_new ();
  g_autoptr(GError) cause = NULL;
  g_autofree char *shown = NULL;
  cairo_status_t status;
  Form form;

  g_return_val_if_fail (chart != NULL && path != NULL, FALSE);

  shown = g_filename_display_name (path);
  if (!form_of (path, &form))
    {
      g_set_error (error,
                   CHART_OUTPUT_ERROR,
                   CHART_OUTPUT_ERROR_KIND,
                   _("The chart cannot be written to '%s': give the file an ending of .png, .svg or .pdf."),
                   shown);
      return FALSE;
    }
  if (!(width >= 1.0 && height >= 1.0 && width <= PIXELS_MOST && height <= PIXELS_MOST))
    {
      g_set_error (error,
                   CHART_OUTPUT_ERROR,
                   CHART_OUTPUT_ERROR_SIZE,
                   _("A chart of %g by %g dots cannot be drawn: choose a width and a height from 1 to %g."),
                   width,
                   height,
                   PIXELS_MOST);
      return FALSE;
    }

  status = draw_bytes (chart, form, width, height, chart_theme (look), bytes);
  if (status != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error,
                   CHART_OUTPUT_ERROR,
                   CHART_OUTPUT_ERROR_DRAW,
                   _("The chart for '%s' could not be drawn, and nothing was written: %s."),
                   shown,
                   cairo_status_to_string (status));
      return FALSE;
    }

  if (!g_file_set_contents_full (
          path, (const char *) bytes->data, bytes->len, G_FILE_SET_CONTENTS_CONSISTENT, 0666, &cause))
    {
      g_set_error (error,
                   cause->domain,
                   cause->code,
                   _("The chart could not be written to '%s': choose another place or free some space; the "
                      "file is as it was. (%s)"),
                   shown,
                   cause->message);
      return FALSE;
    }
  return TRUE;
}
