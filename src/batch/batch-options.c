/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Options are read twice: those before the verb tell which verb it is, the rest by that verb's own table too, so that
 * an option of another verb is refused. Options that all verbs share may stand on either side.
 */

#include "config.h"

#include "batch-options.h"

#include "batch-verbs.h"
#include "present-text.h"

#include <glib/gi18n.h>
#include <string.h>

typedef struct
{
  gboolean help;
  gboolean version;
} Asked;

static GOptionContext *
new_context (BatchCall *call, Asked *asked, const char *usage)
{
  GOptionContext *context = g_option_context_new (usage);
  const GOptionEntry entries[] = {
    { "book", 'b', 0, G_OPTION_ARG_FILENAME, &call->book, N_("The book"), N_("FILE") },
    { "json", 'j', 0, G_OPTION_ARG_NONE, &call->json, N_("One JSON document, with unrounded figures"), NULL },
    { "model", 'm', 0, G_OPTION_ARG_STRING, &call->model, N_("The model; the only one where there is only one"), N_("CODE") },
    { "through", 't', 0, G_OPTION_ARG_STRING, &call->through, N_("Look through this round; the newest when left out"), N_("ROUND") },
    { "today", 0, 0, G_OPTION_ARG_STRING, &call->today, N_("The date that ages count from"), N_("DATE") },
    { "as", 0, 0, G_OPTION_ARG_STRING, &call->person, N_("Who writes"), N_("INITIALS") },
    { "help", 'h', 0, G_OPTION_ARG_NONE, &asked->help, N_("Show help"), NULL },
    { "version", 0, 0, G_OPTION_ARG_NONE, &asked->version, N_("Show the version"), NULL },
    G_OPTION_ENTRY_NULL
  };

  g_option_context_set_help_enabled (context, FALSE); /* GLib's own help exits, and prints to standard output */
  g_option_context_set_translation_domain (context, GETTEXT_PACKAGE);
  g_option_context_add_main_entries (context, entries, GETTEXT_PACKAGE);
  return context;
}

static void
show_overview (BatchCall *call)
{
  g_autoptr(GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s\n  fettle-batch %s\n\n", _("Usage:"), _("VERB [ARGUMENTS] [OPTIONS]"));
  g_string_append_printf (text, "%s\n\n%s\n", _("Everything of Fettle that needs no window."), _("Verbs:"));
  for (guint i = 0; batch_verbs[i] != NULL; i++)
    {
      g_autofree char *name = g_strdup_printf ("  %-10s", batch_verbs[i]->name);
      g_autofree char *lines = present_text_wrap (_(batch_verbs[i]->summary), PRESENT_TEXT_WIDTH, name, "            ");

      g_string_append (text, lines);
    }
  g_string_append_printf (text, "\n%s\n", _("'fettle-batch VERB --help' tells more about a verb."));
  g_string_append_printf (text, "%s\n", _("Exit status: 0 done, 1 something needs attention, 2 wrong usage, 3 the book cannot be used."));
  batch_write (call, text->str);
}

static void
show_verb (BatchCall *call, GOptionContext *context)
{
  const BatchVerb *verb = call->verb;
  g_autofree char *summary = present_text_wrap (_(verb->summary), PRESENT_TEXT_WIDTH, "", "");
  g_autofree char *more = verb->description == NULL ? NULL : present_text_wrap (_(verb->description), PRESENT_TEXT_WIDTH, "", "");
  g_autofree char *head = more == NULL ? g_strdup (summary) : g_strdup_printf ("%s\n%s", summary, more);
  g_autofree char *help = NULL;

  g_option_context_set_summary (context, g_strchomp (head));
  help = g_option_context_get_help (context, FALSE, NULL);
  batch_write (call, help);
}

static gboolean
check_today (BatchCall *call)
{
  guint year, month, day;
  int end = 0;

  if (call->today == NULL)
    {
      g_autoptr(GDateTime) now = g_date_time_new_now_local ();

      call->today = g_date_time_format (now, "%Y-%m-%d");
      return TRUE;
    }
  return strlen (call->today) == 10 && sscanf (call->today, "%4u-%2u-%2u%n", &year, &month, &day, &end) == 3 && end == 10 &&
         g_date_valid_dmy ((GDateDay) day, (GDateMonth) month, (GDateYear) year);
}

/* An error of GOption is a fragment; what to do belongs to it. */
static BatchStatus
refuse_options (BatchCall *call, GError *error)
{
  if (call->verb == NULL)
    return batch_usage (call, _("%s: 'fettle-batch --help' lists what there is."), error->message);
  return batch_usage (call, _("%s: 'fettle-batch %s --help' lists what there is."), error->message, call->verb->name);
}

static BatchStatus
refuse_verb (BatchCall *call, const char *name)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new ();
  const char *nearest;

  for (guint i = 0; batch_verbs[i] != NULL; i++)
    g_ptr_array_add (names, (gpointer) batch_verbs[i]->name);
  g_ptr_array_add (names, NULL);
  nearest = batch_nearest (name, (const char * const *) names->pdata);
  if (nearest == NULL)
    return batch_usage (call, _("There is no verb '%s': 'fettle-batch --help' lists the verbs."), name);
  return batch_usage (call, _("There is no verb '%s': did you mean '%s'?"), name, nearest);
}

static gboolean
check_count (BatchCall *call)
{
  return call->n_arguments >= call->verb->least && call->n_arguments <= call->verb->most;
}

/* Everything after the verb was found; TRUE when the verb shall run. */
static gboolean
parse_rest (BatchCall *call, Asked *asked, int argc, char **argv, BatchStatus *status)
{
  g_autofree char *usage = g_strdup_printf ("%s %s", call->verb->name, call->verb->arguments);
  g_autoptr(GOptionContext) context = new_context (call, asked, g_strchomp (usage));
  g_autoptr(GError) error = NULL;

  if (call->verb->options != NULL)
    {
      GOptionGroup *group = g_option_context_get_main_group (context);

      g_option_group_add_entries (group, call->verb->options);
    }
  if (!g_option_context_parse (context, &argc, &argv, &error))
    {
      *status = refuse_options (call, error);
      return FALSE;
    }
  if (asked->help)
    {
      show_verb (call, context);
      return FALSE;
    }

  /* GOption leaves a '--' where it stood when what follows could be taken for an option. */
  if (argc > 1 && g_str_equal (argv[1], "--"))
    {
      argv++;
      argc--;
    }
  call->arguments = argv + 1;
  call->n_arguments = argc > 0 ? (guint) argc - 1 : 0;
  if (!check_count (call))
    {
      *status = batch_usage (call, _("The arguments do not fit (%u given): write 'fettle-batch %s'."), call->n_arguments, usage);
      return FALSE;
    }
  if (!check_today (call))
    {
      *status = batch_usage (call, _("'%s' is not a date: write --today as year-month-day, as in 2026-03-01."), call->today);
      return FALSE;
    }
  return TRUE;
}

/**
 * batch_options_parse:
 * @call: gets what was given
 * @argc: of main()
 * @argv: of main(); kept
 * @status: (out): the exit status, when nothing shall run
 *
 * Returns: whether the verb shall run; otherwise help, version or a sentence was written
 */
gboolean
batch_options_parse (BatchCall *call, int argc, char **argv, BatchStatus *status)
{
  Asked asked = { FALSE, FALSE };
  g_autoptr(GOptionContext) context = new_context (call, &asked, NULL);
  g_autoptr(GError) error = NULL;

  *status = BATCH_DONE;
  g_option_context_set_strict_posix (context, TRUE);
  if (!g_option_context_parse (context, &argc, &argv, &error))
    {
      *status = refuse_options (call, error);
      return FALSE;
    }
  if (asked.version)
    {
      batch_write (call, "fettle-batch " PACKAGE_VERSION "\n");
      return FALSE;
    }
  if (argc < 2)
    {
      if (asked.help)
        show_overview (call);
      else
        *status = batch_usage (call, _("No verb was given: 'fettle-batch --help' lists the verbs."));
      return FALSE;
    }

  call->verb = batch_verb_find (argv[1]);
  if (call->verb == NULL)
    {
      *status = refuse_verb (call, argv[1]);
      return FALSE;
    }
  return parse_rest (call, &asked, argc - 1, argv + 1, status);
}
