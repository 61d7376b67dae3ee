/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "issue-form.h"

#include <glib/gi18n.h>

#include "book-issue.h"
#include "today.h"

static const char *const raise_fields[] = { "title", "class", "found_round", "found_on", "found_step", "characteristic", "owner",
                                            "tolerated_share", "seen_load", "seen_cycles", "seen_in_life_test", NULL };
static const char *const finding_fields[] = { "unit", "lot", "affected", "inspected", "found_at", "caused_at", "in_field",
                                              "disposition", "date", "reason", NULL };
static const char *const contain_fields[] = { "contained", NULL };
static const char *const cause_fields[] = { "cause", "cause_basis", "cause_known", NULL };
static const char *const close_fields[] = { "outcome", "closed", NULL };
static const char *const decide_fields[] = { "disposition", "date", "reason", NULL };
static const char *const excuse_fields[] = { "date", "reason", NULL };

/* ---- commands ---- */

static const char *
text_of (const char *const *names, const char *const *texts, const char *field)
{
  for (guint i = 0; names[i] != NULL; i++)
    if (g_str_equal (names[i], field))
      return texts[i];
  return NULL;
}

/* 0: nothing is chosen; the command says what to do. */
static int
code_of (const char *const *names, const char *const *texts, const char *field, const BookChoice *choices)
{
  const BookChoice *choice = book_choice_by_text (choices, text_of (names, texts, field));

  return choice != NULL ? choice->code : 0;
}

static BookEdit *
contain (gint64 id, const char *const *names, const char *const *texts, const char *const *expected, gpointer data)
{
  return book_issue_contain (id, text_of (names, texts, "contained"));
}

static BookEdit *
know_cause (gint64 id, const char *const *names, const char *const *texts, const char *const *expected, gpointer data)
{
  return book_issue_know_cause (id, text_of (names, texts, "cause"),
                                (BookCauseBasis) code_of (names, texts, "cause_basis", book_cause_bases),
                                text_of (names, texts, "cause_known"));
}

/* Closing, deciding and excusing are done by name: of who writes. */
static BookEdit *
close_issue (gint64 id, const char *const *names, const char *const *texts, const char *const *expected, gpointer data)
{
  return book_issue_close (id, (BookIssueOutcome) code_of (names, texts, "outcome", book_issue_outcomes), 0,
                           text_of (names, texts, "closed"));
}

static BookEdit *
decide (gint64 id, const char *const *names, const char *const *texts, const char *const *expected, gpointer data)
{
  return book_finding_dispose (id, (BookDisposition) code_of (names, texts, "disposition", book_dispositions), 0,
                               text_of (names, texts, "date"), text_of (names, texts, "reason"));
}

static BookEdit *
excuse (gint64 id, const char *const *names, const char *const *texts, const char *const *expected, gpointer data)
{
  return book_finding_excuse (id, 0, text_of (names, texts, "date"), text_of (names, texts, "reason"));
}

static BookEdit *
raise_from (gint64 id, const char *const *names, const char *const *texts, const char *const *expected, gpointer reading)
{
  return book_issue_raise_from (*(const gint64 *) reading, names, texts, NULL, NULL);
}

/* ---- forms ---- */

/* A form of one step: the day may be any that has come. */
static FettleRecordForm *
make_step (FettleSitting *sitting, BookRecordId record, const char *const *fields, const char *day, const char *label,
           FettleRecordFormCommand command)
{
  FettleRecordForm *form = FETTLE_RECORD_FORM (fettle_record_form_new (sitting, record, fields));
  g_autofree char *today = fettle_today ();

  fettle_record_form_propose (form, day, today);
  fettle_record_form_set_label (form, label);
  fettle_record_form_set_command (form, command, NULL);
  return form;
}

GtkWidget *
fettle_issue_form_new (FettleSitting *sitting, const char *what, gint64 issue, gint64 finding, const char **heading)
{
  FettleRecordForm *form;
  gint64 shown = issue;

  if (g_str_equal (what, "contain"))
    {
      *heading = _("Since when can it no longer reach anybody?");
      form = make_step (sitting, BOOK_RECORD_ISSUE, contain_fields, "contained", _("Contained"), contain);
    }
  else if (g_str_equal (what, "cause"))
    {
      *heading = _("Why does it happen, and how is that known?");
      form = make_step (sitting, BOOK_RECORD_ISSUE, cause_fields, "cause_known", _("Cause Known"), know_cause);
    }
  else if (g_str_equal (what, "close"))
    {
      *heading = _("How did it end?");
      form = make_step (sitting, BOOK_RECORD_ISSUE, close_fields, "closed", _("Close"), close_issue);
    }
  else if (g_str_equal (what, "decide"))
    {
      *heading = _("What is done with what was found?");
      form = make_step (sitting, BOOK_RECORD_FINDING, decide_fields, "date", _("Decide"), decide);
      shown = finding;
    }
  else if (g_str_equal (what, "excuse"))
    {
      *heading = _("Why does this unit count for nothing?");
      form = make_step (sitting, BOOK_RECORD_FINDING, excuse_fields, "date", _("Excuse"), excuse);
      shown = finding;
    }
  else if (g_str_equal (what, "find"))
    {
      *heading = _("Where was it seen?");
      form = FETTLE_RECORD_FORM (fettle_record_form_new (sitting, BOOK_RECORD_FINDING, finding_fields));
      shown = 0;
    }
  else if (g_str_equal (what, "finding"))
    {
      *heading = _("This finding");
      form = FETTLE_RECORD_FORM (fettle_record_form_new (sitting, BOOK_RECORD_FINDING, NULL));
      shown = finding;
    }
  else
    {
      *heading = _("All that is written about the issue");
      form = FETTLE_RECORD_FORM (fettle_record_form_new (sitting, BOOK_RECORD_ISSUE, NULL));
    }
  if (shown != 0)
    fettle_record_form_show (form, shown);
  else
    fettle_record_form_begin (form, issue);
  return GTK_WIDGET (form);
}

GtkWidget *
fettle_issue_form_raise (FettleSitting *sitting, const gint64 *reading)
{
  GtkWidget *form = fettle_record_form_new (sitting, BOOK_RECORD_ISSUE, raise_fields);

  if (reading != NULL)
    fettle_record_form_set_command (FETTLE_RECORD_FORM (form), raise_from, (gpointer) reading);
  return form;
}
