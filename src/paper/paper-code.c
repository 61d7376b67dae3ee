/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "paper-code.h"

#include <string.h>
#include <zint.h>

/* Signs that every scanner sends as they are; others need an extension of the code that many do not know. */
static gboolean
is_plain (const char *text)
{
  for (const char *at = text; *at != '\0'; at++)
    if (*at < ' ' || *at > '~')
      return FALSE;
  return *text != '\0';
}

/**
 * paper_code_modules:
 * @text: what a scanner shall read
 *
 * The library chooses between the code's sets; the bars are drawn from its modules.
 *
 * Returns: (transfer full) (nullable): from the first bar to the last, '1' for black and '0' for white; %NULL when there is
 *   nothing to encode, or it has signs beside ASCII, or is too long for the code
 */
char *
paper_code_modules (const char *text)
{
  struct zint_symbol *symbol;
  GString *modules = NULL;

  if (!is_plain (text))
    return NULL;
  symbol = ZBarcode_Create ();
  if (symbol == NULL)
    return NULL;
  symbol->symbology = BARCODE_CODE128;
  if (ZBarcode_Encode (symbol, (const unsigned char *) text, (int) strlen (text)) < ZINT_ERROR && symbol->rows == 1)
    {
      modules = g_string_new (NULL);
      for (int i = 0; i < symbol->width; i++)
        g_string_append_c (modules, symbol->encoded_data[0][i / 8] & (1 << (i % 8)) ? '1' : '0');
    }
  ZBarcode_Delete (symbol);
  return modules != NULL ? g_string_free (modules, FALSE) : NULL;
}

/**
 * paper_place_code:
 * @flow: a flow
 * @text: what a scanner shall read
 * @right: where the white beside the last bar ends
 * @y: top of the bars
 * @width: that bars and white may take
 *
 * Returns: whether there is room for it and it can be encoded; else nothing is placed
 */
gboolean
paper_place_code (PaperFlow *flow, const char *text, double right, double y, double width)
{
  g_autofree char *modules = paper_code_modules (text);
  double module, wide;

  if (modules == NULL)
    return FALSE;
  wide = strlen (modules) + 2.0 * PAPER_CODE_QUIET;
  module = MIN (width / wide, PAPER_CODE_MODULE_MOST);
  if (module < PAPER_CODE_MODULE_LEAST)
    return FALSE;
  paper_place_bars (paper_flow_document (flow), paper_flow_page (flow), modules, right - (wide - PAPER_CODE_QUIET) * module, y, module,
                    PAPER_CODE_HEIGHT);
  return TRUE;
}
