/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart-theme.h"

#define RGB(value)                                                                                             \
  {                                                                                                            \
    ((value) >> 16 & 0xff) / 255.0, ((value) >> 8 & 0xff) / 255.0, ((value) &0xff) / 255.0                     \
  }
#define SANS  "Open Sans, DejaVu Sans, sans-serif"
#define SERIF "Vollkorn, DejaVu Serif, serif"

static const ChartTheme themes[] = {
  [CHART_LOOK_LIGHT] = { RGB (0xf4eee2),
                         RGB (0xfcf9f2),
                         RGB (0xe9e0cf),
                         RGB (0xd2c6b0),
                         RGB (0x26221c),
                         RGB (0x6a6152),
                         RGB (0x9c4a1a),
                         RGB (0xfffaf3),
                         SANS,
                         SERIF,
                         8.5 },
  [CHART_LOOK_DARK] = { RGB (0x211d18),
                        RGB (0x2a2520),
                        RGB (0x191612),
                        RGB (0x453d33),
                        RGB (0xece3d3),
                        RGB (0xa89c88),
                        RGB (0xd98850),
                        RGB (0x1d1510),
                        SANS,
                        SERIF,
                        8.5 },
  [CHART_LOOK_PRINT] = { RGB (0xffffff),
                         RGB (0xffffff),
                         RGB (0xf2f2f2),
                         RGB (0xb0b0b0),
                         RGB (0x000000),
                         RGB (0x505050),
                         RGB (0x9c4a1a),
                         RGB (0xffffff),
                         SANS,
                         SERIF,
                         8.0 },
};

/**
 * chart_theme:
 * @look: where the drawing goes
 *
 * Returns: (transfer none): the palette and fonts for @look
 */
const ChartTheme *
chart_theme (ChartLook look)
{
  g_return_val_if_fail ((guint) look < G_N_ELEMENTS (themes), &themes[CHART_LOOK_LIGHT]);

  return &themes[look];
}
