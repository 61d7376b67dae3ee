/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The canonical export: its form, and that going out and in again changes no byte. */
#include "exchange-desk.h"

#include "exchange-csv.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <string.h>

static void
test_form (Desk *desk, gconstpointer unused)
{
  g_autofree char *dump = NULL;

  g_test_summary (
      "Columns in the description's order, rows by key, numbers as numbers, shortest decimals, quotes where needed.");
  desk_put_base (desk);
  desk_put (desk, "unit.csv", "serial,round,model\nb,P1,A\nB,P1,A\n10,P1,A\n9,P1,A\n\"x,1\",P1,A\n");
  desk_put (desk, "reading.csv",
            "model,round,unit,characteristic,n,value,reason\nA,P1,9,W,10,0.1,\"say "
            "\"\"so\"\"\"\nA,P1,9,W,9,1e2,a;b\nA,P1,9,W,2,12.50,\n"
            "A,P1,9,W,1,0.30000000000000004,\n");
  desk_do (desk);
  dump = desk_dump (desk);
  g_assert_nonnull (strstr (dump,
                            "model,round,serial,part,variant,assembled_on,assembled_by,assembled_at,went_into_round,went_into\n"
                            "A,P1,10,,,,,,,\nA,P1,9,,,,,,,\nA,P1,B,,,,,,,\nA,P1,b,,,,,,,\nA,P1,\"x,1\",,,,,,,\n"));
  g_assert_nonnull (strstr (dump,
                            "A,P1,9,W,1,1,,0.30000000000000004,measured,no,,,,\n"
                            "A,P1,9,W,1,2,,12.5,measured,no,,,,\n"
                            "A,P1,9,W,1,9,,100,measured,no,a;b,,,\n"
                            "A,P1,9,W,1,10,,0.1,measured,no,\"say \"\"so\"\"\",,,\n"));
}

/* A text of a random kind, with what CSV must take care of. */
static void
append_text (GString *out, GRand *rand, gsize most)
{
  static const char * const pieces[] = { "a", "B", " ", ",", ";", "\"", "ä", "€", "0", "-", "'", "=", "/", "x" };
  g_autoptr(GString) text = g_string_new ("t");

  for (gint n = g_rand_int_range (rand, 0, (gint32) most); n > 0; n--)
    g_string_append (text, pieces[g_rand_int_range (rand, 0, G_N_ELEMENTS (pieces))]);
  g_string_append_c (text, '.');
  exchange_csv_write_field (out, text->str, text->len, ',');
}

static void
append_number (GString *out, GRand *rand)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  double value = g_rand_double_range (rand, -1.0, 1.0);

  for (gint n = g_rand_int_range (rand, 0, 12); n > 0; n--)
    value *= g_rand_boolean (rand) ? 10.0 : 0.1;
  g_string_append (out, g_ascii_dtostr (text, sizeof text, value));
}

/* What the models share. */
static void
append_shared (GString *people, GString *parts, GString *revisions, GRand *rand, guint n)
{
  static const char * const roles[] = { "lead", "maker", "inspector" };

  for (guint p = 0; p < n; p++)
    {
      g_string_append_printf (people, "P%u,%s,", p, roles[p % 3]);
      append_text (people, rand, 8);
      g_string_append_printf (parts, "\nN%u,", p);
      append_text (parts, rand, 20);
      g_string_append_printf (parts, ",%u.%02u", p, g_rand_int_range (rand, 0, 100));
      g_string_append_printf (revisions, "%c,N%u,released\n", 'A' + (int) (p % 20), p);
      g_string_append_c (people, '\n');
    }
}

/* Of one unit, a reading of most of @n characteristics. */
static void
append_readings (GString *readings, GRand *rand, guint model, guint round, guint unit, guint n)
{
  for (guint c = 0; c < n; c++)
    {
      if (g_rand_int_range (rand, 0, 4) == 0)
        continue;
      g_string_append_printf (readings, "M%u,R%u,U%u,C%u,%u,1,", model, round, unit, c, g_rand_int_range (rand, 1, 3));
      if (c % 3 == 2)
        g_string_append (readings, g_rand_boolean (rand) ? ",passed," : ",failed,");
      else
        {
          append_number (readings, rand);
          g_string_append (readings, g_rand_boolean (rand) ? ",measured," : ",above,");
        }
      if (g_rand_int_range (rand, 0, 5) == 0)
        append_text (readings, rand, 30);
      g_string_append_printf (readings, ",P%u\n", g_rand_int_range (rand, 0, (gint32) n));
    }
}

/* Files of a book with @n of most things, in no order. */
static void
put_random_book (Desk *desk, GRand *rand, guint n)
{
  g_autoptr(GString) models = g_string_new ("name,code,purpose,monthly_demand\n");
  g_autoptr(GString) people = g_string_new ("initials,role,name\n");
  g_autoptr(GString) parts = g_string_new ("number,name,price\n");
  g_autoptr(GString) revisions = g_string_new ("label,part,state\n");
  g_autoptr(GString) rounds = g_string_new ("model,label,kind,opened,question\n");
  g_autoptr(GString) units = g_string_new ("model,round,serial,variant,went_into\n");
  g_autoptr(GString) unit_parts = g_string_new ("model,round,unit,part,revision\n");
  g_autoptr(GString) kinds = g_string_new ("model,code,name,kind,class\n");
  g_autoptr(GString) limits = g_string_new ("model,characteristic,from_date,lower\n");
  g_autoptr(GString) readings = g_string_new ("model,round,unit,characteristic,attempt,n,value,mark,reason,person\n");
  static const char * const classes[] = { "safety", "function", "appearance" };

  append_shared (people, parts, revisions, rand, n);
  for (guint m = 0; m < 2; m++)
    {
      append_text (models, rand, 20);
      g_string_append_printf (models, ",M%u,", m);
      append_text (models, rand, 40);
      g_string_append_printf (models, ",%u\n", g_rand_int_range (rand, 0, 500));
      for (guint c = 0; c < n; c++)
        {
          g_string_append_printf (kinds, "M%u,C%u,", m, c);
          append_text (kinds, rand, 20);
          g_string_append_printf (kinds, ",%s,%s\n", c % 3 == 2 ? "checked" : "measured", classes[c % 3]);
          if (c % 3 != 2)
            {
              g_string_append_printf (limits, "M%u,C%u,2025-01-%02u,", m, c, c % 28 + 1);
              append_number (limits, rand);
              g_string_append_c (limits, '\n');
            }
        }
      for (guint r = 0; r < 3; r++)
        {
          g_string_append_printf (rounds, "M%u,R%u,prototype,2025-0%u-01,", m, r, r + 1);
          append_text (rounds, rand, 30);
          g_string_append_c (rounds, '\n');
          for (guint u = n; u > 0; u--)
            {
              g_string_append_printf (units, "M%u,R%u,U%u,", m, r, u);
              append_text (units, rand, 10);
              if (u > 1 && u % 4 == 0)
                g_string_append_printf (units, ",U%u\n", u - 1);
              else
                g_string_append (units, ",\n");
              g_string_append_printf (unit_parts, "M%u,R%u,U%u,N%u,%c\n", m, r, u, u % n, 'A' + (int) (u % n % 20));
              append_readings (readings, rand, m, r, u, n);
            }
        }
    }
  g_string_append_c (parts, '\n');
  desk_put (desk, "model.csv", models->str);
  desk_put (desk, "person.csv", people->str);
  desk_put (desk, "part.csv", parts->str);
  desk_put (desk, "revision.csv", revisions->str);
  desk_put (desk, "round.csv", rounds->str);
  desk_put (desk, "unit.csv", units->str);
  desk_put (desk, "unit_part.csv", unit_parts->str);
  desk_put (desk, "characteristic.csv", kinds->str);
  desk_put (desk, "limit.csv", limits->str);
  desk_put (desk, "reading.csv", readings->str);
}

static char *
read_file (const char *folder, const char *name)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  char *text = NULL;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  return text;
}

static void
check_same_files (const char *a, const char *b, guint n_with_rows)
{
  guint with_rows = 0;

  for (guint i = 0; i < BOOK_N_RECORDS; i++)
    {
      g_autofree char *name = g_strconcat (book_record_in_order (i)->name, ".csv", NULL);
      g_autofree char *x = read_file (a, name);
      g_autofree char *y = read_file (b, name);

      g_assert_cmpstr (x, ==, y);
      with_rows += strchr (x, '\n')[1] != '\0';
    }
  g_assert_cmpuint (with_rows, ==, n_with_rows);
}

static void
test_round_trip (Desk *desk, gconstpointer unused)
{
  guint32 seed = g_test_rand_int ();
  g_autoptr(GRand) rand = g_rand_new_with_seed (seed);

  g_test_summary ("Export, import into a new book, export: the same bytes, for books of random contents.");
  g_test_message ("random numbers from %u", seed);
  for (guint i = 0; i < 4; i++)
    {
      g_autofree char *first = NULL;
      g_autofree char *second = NULL;

      desk_change_book (desk);
      desk_clear (desk);
      put_random_book (desk, rand, 3 + i * 5);
      desk_do (desk);
      first = desk_export (desk);
      desk_change_book (desk);
      g_free (desk->files);
      desk->files = g_strdup (first);
      desk_do (desk);
      second = desk_export (desk);
      check_same_files (first, second, 10);
    }
}

/* A row or more of every kind of record, in an order and with columns of their own. */
static void
put_every_record (Desk *desk)
{
  static const char frozen[] = "{\"met\": 3}";
  g_autofree char *sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, frozen, -1);
  g_autofree char *file = g_strconcat ("files/", sha256, NULL);
  g_autofree char *decisions = g_strconcat ("model,gate,no,verdict,evidence,person,date,withdraws,reason\n"
                                             "A,1,1,release,", sha256, ",KB,2025-06-01,,\nA,1,2,,,KB,2025-06-02,1,too early\n", NULL);
  const struct
  {
    const char *name;
    const char *text;
  } files[] = {
    { "supplier.csv", "name,note\nFern Springs,\"two lines\nof a note\"\n" },
    { "bench.csv", "name,machines,people,hours_week\nFitting,2,1.5,38.5\n" },
    { "gauge.csv", "name,resolution\nCaliper,0.01\n" },
    { "gauge_calibration.csv", "gauge,date,due,in_order\nCaliper,2025-01-02,2026-01-02,yes\n" },
    { "gauge_trial.csv", "gauge,model,characteristic,person,piece,trial,value\nCaliper,A,W,KB,p 1,1,12.5\nCaliper,A,W,KB,p 1,2,12.51\n" },
    { "part.csv", "number,name,supplier,price\nN1,Spring,Fern Springs,0.35\nN2,Blade,,\n" },
    { "revision.csv", "part,label,state,date\nN1,A,released,2025-01-01\nN1,B,draft,\nN2,A,released,\n" },
    { "document.csv", "model,kind,title\nA,drawing,\"Set, of 5 sheets\"\n" },
    { "step.csv", "model,position,name,kind,bench,cycle_min\nA,10,Mill,own,Fitting,12\nA,20,Harden,outside,,\n" },
    { "lot.csv", "part,model,step,number,quantity,verdict,person\nN1,,,L-1,100,accepted,KB\n,A,20,H-1,20,,\n" },
    { "hazard.csv", "model,what,characteristic\nA,closes on the fingers,L\n" },
    { "depends.csv", "model,characteristic,part,step\nA,W,N1,\nA,W,,20\n" },
    { "wait.csv", "model,round,reason,what,supplier,from_date,to_date\nA,P1,outside step,hardening,Fern Springs,2025-01-05,2025-01-09\n" },
    { "issue.csv", "model,title,class,found_round,characteristic,tolerated_share,owner\nA,Slips,safety,P1,L,0.05,KB\nA,Squeaks,appearance,P1,,,\n" },
    { "change.csv", "model,title,proposed_by,from_round\nA,Deeper notch,KB,P2\n" },
    { "change_item.csv", "model,change,part,old_revision,new_revision,old,new\nA,1,N1,A,B,0.2,0.4\n" },
    { "change_issue.csv", "model,change,issue\nA,1,1\n" },
    { "change_effect.csv", "model,change,characteristic,effect,reason,person\nA,1,W,carried over,not touched,KB\n" },
    { "limit.csv", "model,characteristic,from_date,nominal,lower,upper,change\nA,W,2025-01-01,12.5,12.4,12.6,\nA,W,2025-03-01,12.5,12.3,12.7,1\n" },
    { "step_setting.csv", "model,step,name,from_date,value,unit\nA,20,temperature,2025-01-01,820,°C\n" },
    { "round.csv", "model,label,kind\nA,P1,prototype\nA,P2,pilot\n" },
    { "round_part.csv", "model,round,part,step,revision,lot,units,first_serial\nA,P1,N1,,A,L-1,1,U1\nA,P1,N1,,B,L-1,1,U2\nA,P1,,20,,H-1,,\n" },
    { "round_test.csv", "model,round,serial,characteristic,load,destroyed\nA,P1,U2,L,250,yes\n" },
    { "unit.csv", "model,round,serial,part,went_into_round,went_into,assembled_by\nA,P1,U1,,,,KB\nA,P1,U2,,,,\nA,P1,B1,N2,P2,U1,\nA,P2,U1,,,,\nA,P1,B2,N2,,U2,\n" },
    { "unit_part.csv", "model,round,unit,part,step,revision,lot\nA,P1,U1,N1,,A,L-1\nA,P1,U1,,20,,H-1\n" },
    { "unit_event.csv", "model,round,unit,date,step,kind,issue,minutes,reason,person\nA,P1,U1,2025-02-01,10,altered,1,12.5,stoned,KB\n" },
    { "reading.csv", "model,round,unit,characteristic,attempt,n,step,value,mark,voided,reason,taken,person,gauge\n"
                     "A,P1,U1,W,1,1,10,12.45,measured,yes,typed wrong,2025-02-01T08:00,KB,Caliper\nA,P1,U1,W,1,2,,12.5,above,no,,2025-02-01,,\n"
                     "A,P1,U2,L,1,1,,,failed,no,,,LN,\n" },
    { "finding.csv", "model,issue,round,unit,part,lot,affected,inspected,found_at,disposition,person\nA,1,P1,U2,,,,,10,rework,KB\nA,1,,,N1,L-1,,,,scrap,\nA,2,,,,,3,40,20,,\n" },
    { "tally.csv", "model,step,date,person,round,units_in,good_first,scrapped\nA,10,2025-02-01,KB,P2,40,38,2\nA,10,2025-02-01,KB,P2,10,10,0\n" },
    { "tally_loss.csv", "model,step,date,person,tally,issue,units\nA,10,2025-02-01,KB,1,1,2\n" },
    { "life_test.csv", "model,date,round,unit,characteristic,load,cycles,ended,issue\nA,2025-02-03,P1,U2,L,20,12000,failed,1\n" },
    { "gate.csv", "model,name\nA,Release\n" },
    { "criterion.csv", "model,code,gate,kind,characteristic,issue,strict\nA,C1,1,measured,W,,\nA,C2,1,fix,,1,yes\n" },
    { "criterion_term.csv", "model,criterion,from_date,share,confidence,plan_units,plan_failures\nA,C1,2025-01-01,0.95,0.9,,\nA,C2,2025-01-01,0.95,0.9,22,0\n" },
    { "signoff.csv", "model,gate,person,no,opinion,date,withdraws,reason\nA,1,LN,2,,2025-05-02,1,second thoughts\nA,1,LN,1,disagree,2025-05-01,,\n" },
    { "waiver.csv", "model,criterion,reason,until,person,date\nA,C2,first series only,2025-12-31,KB,2025-05-05\n" },
    { "todo.csv", "what,person,due,about_record,about\nOrder springs,KB,2025-03-01,lot,N1///L-1\nAsk again,,,round,A/P1\nSweep,,,,\n" },
    { "attachment.csv", "owner_record,owner,kind,name,link\nround,A/P1,other,plan,\"https://example.invalid/a,b\"\n" },
    { "holiday.csv", "date,name\n2025-12-25,Christmas\n" },
    { "setting.csv", "name,value\nhourly cost,54\n" },
  };

  desk_put_base (desk);
  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    desk_put (desk, files[i].name, files[i].text);
  desk_put (desk, "decision.csv", decisions);
  desk_put (desk, file, frozen);
}

static void
test_every_record (Desk *desk, gconstpointer unused)
{
  g_autofree char *first = NULL;
  g_autofree char *second = NULL;

  g_test_summary ("Every kind of record goes out and in again, files and references of all shapes included.");
  put_every_record (desk);
  desk_do (desk);
  first = desk_export (desk);
  desk_change_book (desk);
  g_free (desk->files);
  desk->files = g_strdup (first);
  desk_do (desk);
  second = desk_export (desk);
  check_same_files (first, second, BOOK_N_RECORDS);
}

static void
test_own_files_equal (Desk *desk, gconstpointer unused)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed (7);
  g_autofree char *first = NULL;
  g_autofree char *got = NULL;

  g_test_summary ("A book finds every row of its own export equal.");
  put_random_book (desk, rand, 6);
  desk_do (desk);
  first = desk_export (desk);
  g_free (desk->files);
  desk->files = g_strdup (first);
  got = desk_import (desk, NULL);
  g_assert_null (strchr (got, '+'));
  g_assert_null (strchr (got, '~'));
  g_assert_nonnull (strstr (got, "reading ="));
}

static void
test_refuses (Desk *desk, gconstpointer unused)
{
  g_autofree char *folder = NULL;
  g_autofree char *file = g_build_filename (desk->files, "model.csv", "x", NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(GCancellable) cancellable = g_cancellable_new ();
  g_autofree char *other = g_build_filename (desk->folder, "other", NULL);
  g_autofree char *model = g_build_filename (other, "model.csv", NULL);

  g_test_summary (
      "A folder with an earlier export, a path below a file and a cancelled call are refused, leaving nothing.");
  desk_put_base (desk);
  desk_do (desk);
  folder = desk_export (desk);
  g_assert_false (exchange_export (desk->book, folder, NULL, &error));
  g_assert_true (g_str_has_suffix (error->message, ".csv: the file is there already: export into an empty folder"));
  g_clear_error (&error);
  g_assert_false (exchange_export (desk->book, file, NULL, &error));
  g_assert_nonnull (strstr (error->message, ": the folder cannot be made: "));
  g_clear_error (&error);
  g_cancellable_cancel (cancellable);
  g_assert_false (exchange_export (desk->book, other, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_false (g_file_test (model, G_FILE_TEST_EXISTS));
}

#define TEST(path, func) g_test_add ("/exchange/export/" path, Desk, NULL, desk_open, func, desk_close)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  TEST ("writes-the-canonical-form", test_form);
  TEST ("going-out-and-in-changes-no-byte", test_round_trip);
  TEST ("holds-every-kind-of-record", test_every_record);
  TEST ("finds-its-own-rows-equal", test_own_files_equal);
  TEST ("refuses-and-leaves-nothing-behind", test_refuses);
  return g_test_run ();
}
