/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Who goes from one model to another sees what he would see had he opened that one: nothing of the model before is left. */
#include "config.h"

#include "page.h"
#include "table.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

static void
add_words (GtkWidget *widget, gpointer words)
{
  if (!gtk_widget_get_mapped (widget))
    return;
  if (FETTLE_IS_TABLE (widget))
    {
      FettleTableSource *source = fettle_table_get_source (FETTLE_TABLE (widget));

      g_string_append_printf (words, "table %s of %u rows\n", gtk_widget_get_name (widget),
                              source != NULL ? fettle_table_source_n_rows (source) : 0);
    }
  if (GTK_IS_LABEL (widget) && *gtk_label_get_label (GTK_LABEL (widget)) != '\0')
    g_string_append_printf (words, "%s\n", gtk_label_get_text (GTK_LABEL (widget)));
}

/* All that a page says, in its order. */
static char *
dup_words (FettleWindow *window, const char *page)
{
  GString *words = g_string_new (NULL);

  gtk_widget_activate_action (GTK_WIDGET (window), "win.page", "s", page);
  window_test_wait_answers (window);
  window_test_wait_answers (window); /* also to what the first ones asked */
  window_test_each (window_test_page (window), add_words, words);
  return g_string_free (words, FALSE);
}

static void
compare (const char *page, const char *gone_over, const char *opened)
{
  g_auto(GStrv) one = g_strsplit (gone_over, "\n", -1), other = g_strsplit (opened, "\n", -1);

  for (guint i = 0; one[i] != NULL || other[i] != NULL; i++)
    if (g_strcmp0 (one[i], other[i]) != 0)
      {
        g_test_fail_printf ("%s: '%s' where '%s' stands in a window that opened the model", page, one[i] != NULL ? one[i] : "nothing",
                            other[i] != NULL ? other[i] : "nothing");
        return;
      }
}

/* The shelf is about all models and keeps the two that are laid side by side; the grid keeps the place of its cursor, and is
 * looked at in window-entry; the pack is put together when it is asked for. */
static const char *const others[] = { "shelf", "entry", "pack", NULL };

static void
check_models (const char *path, const char *from, const char *to)
{
  FettleWindow *window = window_test_open_model (path, from, NULL), *fresh = window_test_open_model (path, to, NULL);
  guint n;
  const FettlePageKind *kinds = fettle_page_kinds (&n);
  gint64 model = window_test_find_record (window, BOOK_RECORD_MODEL, to);

  for (guint i = 0; i < n; i++)
    g_free (dup_words (window, kinds[i].name));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.model", "x", model);
  window_test_wait_answers (window);
  for (guint i = 0; i < n; i++)
    if (!g_strv_contains (others, kinds[i].name))
      {
        g_autofree char *gone_over = dup_words (window, kinds[i].name), *opened = dup_words (fresh, kinds[i].name);

        compare (kinds[i].name, gone_over, opened);
      }
  window_test_close (window);
  window_test_close (fresh);
}

static void
test_few (void)
{
  g_autofree char *folder = g_dir_make_tmp ("fettle-models-XXXXXX", NULL);
  g_autofree char *path = window_test_make_book_of (folder, window_test_few);

  check_models (path, "ONE", "EMPTY");
  check_models (path, "EMPTY", "ONE");
  window_test_remove (folder);
}

static void
test_demo (void)
{
  g_autofree char *folder = g_dir_make_tmp ("fettle-models-XXXXXX", NULL);
  g_autofree char *path = window_test_make_demo (folder);

  check_models (path, "HF", "WT");
  check_models (path, "WT", "DU");
  window_test_remove (folder);
}

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  g_test_add_func ("/window/models/of-nothing-and-of-one-reading", test_few);
  g_test_add_func ("/window/models/of-the-demo", test_demo);
  return g_test_run ();
}
