/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command-line program: everything that needs no window. */

#include "config.h"

#include "batch-options.h"
#include "batch-verbs.h"
#include "present-number.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <locale.h>
#include <pthread.h>
#include <signal.h>
#include <string.h>
#include <unistd.h>

/*
 * libRmath prints its warnings on standard output, where they would stand between results; and nobody who reads them
 * could do anything about it. So results get a descriptor of their own, and standard output leads nowhere from here on.
 */
static FILE *
open_results (void)
{
  const int descriptor = dup (STDOUT_FILENO);
  const int nowhere = open ("/dev/null", O_WRONLY | O_CLOEXEC);
  FILE *out = descriptor < 0 ? NULL : fdopen (descriptor, "w");

  if (nowhere >= 0)
    dup2 (nowhere, STDOUT_FILENO);
  if (nowhere > STDERR_FILENO)
    close (nowhere);
  return out;
}

/* Waits for a wish to stop. A signal handler could not cancel: g_cancellable_cancel() takes locks. */
static gpointer
watch_signals (gpointer data)
{
  GCancellable *cancellable = data;
  sigset_t set;
  int signal_number;

  sigemptyset (&set);
  sigaddset (&set, SIGINT);
  sigaddset (&set, SIGTERM);
  sigaddset (&set, SIGHUP);
  while (sigwait (&set, &signal_number) == 0)
    g_cancellable_cancel (cancellable);
  return NULL;
}

static void
start_watch (BatchCall *call)
{
  sigset_t set;

  sigemptyset (&set);
  sigaddset (&set, SIGINT);
  sigaddset (&set, SIGTERM);
  sigaddset (&set, SIGHUP);
  pthread_sigmask (SIG_BLOCK, &set, NULL); /* inherited by all threads, so that only the watch hears them */
  g_thread_unref (g_thread_new ("signals", watch_signals, call->cancellable));
}

/* A reader who closed the pipe has seen enough; a full disk must be told. */
static BatchStatus
close_results (BatchCall *call, BatchStatus status)
{
  const gboolean broken = ferror (call->out) != 0; /* the calculator writes by itself, and keeps no reason */

  batch_clear_progress (call);
  if (fclose (call->out) != 0 && call->out_errno == 0)
    call->out_errno = errno;
  if (broken && call->out_errno == 0)
    call->out_errno = EIO;
  if (call->out_errno == 0 || call->out_errno == EPIPE)
    return status;
  batch_say (call, _("The results could not be written: %s."), g_strerror (call->out_errno));
  return status == BATCH_DONE ? BATCH_ATTENTION : status;
}

static void
clear_call (BatchCall *call)
{
  g_free (call->book);
  g_free (call->model);
  g_free (call->through);
  g_free (call->today);
  g_free (call->person);
  g_object_unref (call->cancellable);
}

int
main (int argc, char *argv[])
{
  BatchCall call = { .out = open_results () };
  g_autofree char **rest = g_new0 (char *, argc + 1);
  BatchStatus status;

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, FETTLE_LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  signal (SIGPIPE, SIG_IGN);

  if (call.out == NULL)
    {
      fprintf (stderr, "fettle-batch: %s\n", _("Standard output is closed: the results have nowhere to go."));
      return BATCH_ATTENTION;
    }
  call.cancellable = g_cancellable_new ();
  memcpy (rest, argv, sizeof (char *) * (gsize) argc);

  if (batch_options_parse (&call, argc, rest, &status))
    {
      present_number_set_local (call.verb->prints);
      if (call.verb->stops)
        start_watch (&call);
      status = call.verb->run (&call);
    }
  status = close_results (&call, status);
  clear_call (&call);
  return status;
}
