/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "issue-form.h"

#include <glib/gi18n.h>

#include "today.h"

static const char *const raise_fields[] = { "title", "class", "found_round", "found_on", "found_step", "characteristic", "owner",
                                            "tolerated_share", "seen_load", "seen_cycles", "seen_in_life_test", NULL };
static const char *const finding_fields[] = { "unit", "lot", "affected", "inspected", "found_at", "caused_at", "in_field",
                                              "disposition", "date", "reason", NULL };
static const char *const contain_fields[] = { "contained", NULL };
static const char *const cause_fields[] = { "cause", "cause_basis", "cause_known", NULL };
static const char *const close_fields[] = { "outcome", "closed", NULL };
static const char *const decide_fields[] = { "disposition", "date", "excused", "reason", NULL };

/* What is decided is decided by name: of who writes. */
static BookEdit *
by_name (BookRecordId record, const char *field, gint64 id, const char *const *names, const char *const *texts,
         const char *const *expected, FettleSitting *sitting)
{
  BookEdit *edit = book_edit_record (record, id, names, texts, expected);

  if (fettle_sitting_get_person (sitting) != 0)
    book_edit_record_refer (edit, field, fettle_sitting_get_person (sitting));
  return edit;
}

static BookEdit *
close_issue (gint64 id, const char *const *names, const char *const *texts, const char *const *expected, gpointer sitting)
{
  return by_name (BOOK_RECORD_ISSUE, "outcome_by", id, names, texts, expected, sitting);
}

static BookEdit *
decide (gint64 id, const char *const *names, const char *const *texts, const char *const *expected, gpointer sitting)
{
  return by_name (BOOK_RECORD_FINDING, "person", id, names, texts, expected, sitting);
}

/* A form of one step: the day may be any that has come. */
static FettleRecordForm *
make_step (FettleSitting *sitting, BookRecordId record, const char *const *fields, const char *day, const char *label)
{
  FettleRecordForm *form = FETTLE_RECORD_FORM (fettle_record_form_new (sitting, record, fields));
  g_autofree char *today = fettle_today ();

  fettle_record_form_propose (form, day, today);
  fettle_record_form_set_label (form, label);
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
      form = make_step (sitting, BOOK_RECORD_ISSUE, contain_fields, "contained", _("Contained"));
    }
  else if (g_str_equal (what, "cause"))
    {
      *heading = _("Why does it happen, and how is that known?");
      form = make_step (sitting, BOOK_RECORD_ISSUE, cause_fields, "cause_known", _("Cause Known"));
    }
  else if (g_str_equal (what, "close"))
    {
      *heading = _("How did it end?");
      form = make_step (sitting, BOOK_RECORD_ISSUE, close_fields, "closed", _("Close"));
      fettle_record_form_set_command (form, close_issue, sitting);
    }
  else if (g_str_equal (what, "decide"))
    {
      *heading = _("What is done with what was found?");
      form = make_step (sitting, BOOK_RECORD_FINDING, decide_fields, "date", _("Decide"));
      fettle_record_form_set_command (form, decide, sitting);
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
fettle_issue_form_raise (FettleSitting *sitting)
{
  return fettle_record_form_new (sitting, BOOK_RECORD_ISSUE, raise_fields);
}
