/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "typed.h"

/**
 * fettle_typed_set:
 * @field: that people type into
 * @text: that takes the place of what it holds
 *
 * Sets @text so that what was typed before cannot be brought back: it is stored, or belongs to something else.
 */
void
fettle_typed_set (GtkEditable *field, const char *text)
{
  g_return_if_fail (GTK_IS_EDITABLE (field));

  gtk_editable_set_enable_undo (field, FALSE);
  gtk_editable_set_text (field, text);
  gtk_editable_set_enable_undo (field, TRUE);
}
