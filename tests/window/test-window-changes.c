/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Changes and Compare pages on a small book of invented figures, from a proposal to the plan of the next round. */
#include "config.h"

#include <cairo.h>
#include <string.h>

#include "book-attach.h"
#include "change-form.h"
#include "changes-page.h"
#include "compare-page.h"
#include "deed-form.h"
#include "file-tray.h"
#include "ledger.h"
#include "window-book.h"
#include "window-look.h"
#include "window-private.h"

typedef WindowTestFixture Fixture;

static GtkWidget *
page (Fixture *fixture)
{
  return window_test_page (fixture->window);
}

static GtkWidget *
get (Fixture *fixture, const char *name)
{
  return window_test_get (page (fixture), name);
}

static gboolean
is_shown (gpointer data)
{
  FettlePage *shown = fettle_window_get_page (((Fixture *) data)->window);

  return FETTLE_IS_CHANGES_PAGE (shown) ? fettle_changes_page_is_shown (FETTLE_CHANGES_PAGE (shown))
                                        : fettle_compare_page_is_shown (FETTLE_COMPARE_PAGE (shown));
}

/* Two rounds of four units each, a lever in revision A, then B, which no change leads to; a third round is planned. */
static void
set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GString) units = g_string_new ("model,round,serial\n");
  g_autoptr(GString) readings = g_string_new ("model,round,unit,characteristic,value,taken\n");
  static const char *const rounds[] = { "P1", "P2" };

  for (guint r = 0; r < G_N_ELEMENTS (rounds); r++)
    for (guint u = 1; u <= 4; u++)
      {
        g_string_append_printf (units, "M1,%s,%s-%u\n", rounds[r], rounds[r], u);
        g_string_append_printf (readings, "M1,%s,%s-%u,ST,%u,2026-0%u-10\n", rounds[r], rounds[r], u, 230 + r * 30 + u * 3, r * 2 + 2);
        g_string_append_printf (readings, "M1,%s,%s-%u,PL,0.1%u,2026-0%u-10\n", rounds[r], rounds[r], u, u + r, r * 2 + 2);
      }
  window_test_set_up_of (fixture, (const WindowTestFile[]){
    { "person.csv", "initials,role\nAB,lead\nRB,designer\nMO,owner\n" },
    { "model.csv", "code,name\nM1,Test piece\n" },
    { "part.csv", "number,name,source\nL-20,Lever,made\nS-30,Spring,bought\n" },
    { "revision.csv", "part,label,state,date\nL-20,A,withdrawn,2026-01-05\nL-20,B,released,2026-03-05\n"
                      "S-30,A,released,2026-01-05\n" },
    { "round.csv", "model,label,kind,opened,design_fixed,built,tested,decided\n"
                   "M1,P1,prototype,2026-01-05,2026-01-15,2026-02-06,2026-02-13,2026-02-16\n"
                   "M1,P2,prototype,2026-02-17,2026-03-06,2026-03-27,2026-04-10,2026-04-13\n"
                   "M1,P3,prototype,2026-04-14,,,,\n" },
    { "round_part.csv", "model,round,part,revision\nM1,P1,L-20,A\nM1,P1,S-30,A\nM1,P2,L-20,B\nM1,P2,S-30,A\n" },
    { "step.csv", "model,position,name,kind\nM1,10,Harden,own\n" },
    { "step_setting.csv", "model,step,name,from_date,value,unit\nM1,10,temperature,2026-01-05,220,°C\n" },
    { "characteristic.csv", "model,code,name,kind,unit,decimals,class,per_unit,shape\n"
                            "M1,ST,Strength,measured,N,0,safety,worst,normal\n"
                            "M1,PL,Play,measured,mm,2,function,mean,normal\n" },
    { "limit.csv", "model,characteristic,from_date,lower,upper\nM1,ST,2026-01-05,200,\nM1,PL,2026-01-05,,0.25\n" },
    { "depends.csv", "model,characteristic,part\nM1,ST,L-20\nM1,PL,S-30\nM1,PL,L-20\n" },
    { "issue.csv", "model,no,title,class,found_round,found_on\nM1,1,It slips,safety,P1,2026-02-10\n" },
    { "unit.csv", units->str },
    { "reading.csv", readings->str },
    { NULL, NULL } }, data);
  window_test_wait (is_shown, fixture, data);
  window_test_settle ();
  fettle_sitting_set_person (fettle_window_get_sitting (fixture->window), 0);
}

/* ---- what is seen ---- */

static void
wait_says (Fixture *fixture, const char *name, const char *text)
{
  window_test_wait_seen (fixture->window, name, text);
}

static void
wait_gone (Fixture *fixture, const char *name, const char *text)
{
  window_test_wait_unseen (fixture->window, name, text);
}

/* ---- what a person does ---- */

static void
do_action (Fixture *fixture, const char *action, const char *target)
{
  window_test_act (fixture->window, action, target);
  window_test_settle ();
}

static void
type (Fixture *fixture, const char *name, const char *text)
{
  window_test_type (page (fixture), name, text);
  window_test_settle ();
}

/* The lever goes from B to C, by a drawing that lies in the folder. */
static void
propose (Fixture *fixture)
{
  g_autofree char *path = g_build_filename (fixture->folder, "drawing.txt", NULL);
  g_autoptr(GFile) file = g_file_new_for_path (path);

  window_test_write_file (fixture->folder, "drawing.txt", "ramp radius 0.6, please");
  do_action (fixture, "win.propose-change", NULL);
  type (fixture, "title", "Ramp radius 0.6 mm");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "what")), 1);
  type (fixture, "words", "radius 0.6 mm");
  fettle_file_tray_take (FETTLE_FILE_TRAY (get (fixture, "file-tray")), file);
  wait_says (fixture, "file-tray", "drawing.txt");
  fettle_change_form_save (FETTLE_CHANGE_FORM (get (fixture, "change-form")));
  wait_says (fixture, "changes-table", "Ramp radius 0.6 mm");
}

static void
do_deed (Fixture *fixture)
{
  g_signal_emit_by_name (get (fixture, "do"), "clicked");
}

static void
on_written (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(GError) error = NULL;

  g_assert_true (fettle_sitting_edit_finish (FETTLE_SITTING (source), result, NULL, NULL, &error));
  *(gboolean *) data = TRUE;
}

static gboolean
is_true (gpointer data)
{
  return *(gboolean *) data;
}

typedef struct
{
  BookRecordId record;
  const char  *text;
} Wanted;

static gpointer
find_work (StoreDb *db, gpointer data, GCancellable *cancellable, GError **error)
{
  const Wanted *wanted = data;
  gint64 *id = g_new0 (gint64, 1);

  if (book_record_find_text (db, book_record (wanted->record), wanted->text, id, error))
    return id;
  g_free (id);
  return NULL;
}

static void
on_found (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(GError) error = NULL;

  *(gint64 **) data = fettle_sitting_ask_finish (FETTLE_SITTING (source), result, &error);
  g_assert_no_error (error);
}

static gboolean
is_found (gpointer data)
{
  return *(gint64 **) data != NULL;
}

static gint64
find_key (Fixture *fixture, BookRecordId record, const char *text)
{
  Wanted wanted = { record, text };
  g_autofree gint64 *id = NULL;

  fettle_sitting_ask (fettle_window_get_sitting (fixture->window), find_work, &wanted, NULL, g_free, NULL, on_found, &id);
  window_test_wait (is_found, &id, text);
  return *id;
}

/* ---- tests ---- */

static void
test_empty (Fixture *fixture, gconstpointer data)
{
  wait_says (fixture, "changes-empty", "Here stands what was altered between the rounds");
  wait_says (fixture, "changes-lead", "No change is written down yet.");
  wait_says (fixture, "unexplained", "L-20 Lever was fitted in revision B instead of A in round P2, and no change says why.");
  g_assert_true (gtk_widget_is_sensitive (get (fixture, "propose")));
}

static void
test_propose (Fixture *fixture, gconstpointer data)
{
  window_test_choose_person (fixture->window, "AB");
  do_action (fixture, "win.propose-change", NULL);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "what")), 1);
  window_test_settle ();
  g_assert_cmpstr (gtk_label_get_label (GTK_LABEL (get (fixture, "old"))), ==, "B");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get (fixture, "new"))), ==, "C");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "what")), 3); /* after two parts comes the setting */
  window_test_settle ();
  g_assert_nonnull (strstr (gtk_label_get_label (GTK_LABEL (get (fixture, "old"))), "220"));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get (fixture, "new"))), ==, "");
  propose (fixture);

  wait_says (fixture, "changes-table", "Lever B → C");
  wait_says (fixture, "changes-table", "○ proposed");
  wait_says (fixture, "changes-table", "AB, ");
  wait_says (fixture, "change-detail", "drawing.txt");
  g_assert_false (gtk_widget_get_visible (gtk_widget_get_parent (get (fixture, "change-form"))));
}

static void
test_measured_again (Fixture *fixture, gconstpointer data)
{
  window_test_choose_person (fixture->window, "AB");
  propose (fixture);
  wait_says (fixture, "touches", "Strength is measured again: 4 units no longer count.");
  wait_says (fixture, "touches", "Play is measured again: 4 units no longer count.");
}

/* The first touched one is about safety. */
static void
test_second_person (Fixture *fixture, gconstpointer data)
{
  window_test_choose_person (fixture->window, "AB");
  propose (fixture);
  g_signal_emit_by_name (get (fixture, "carry-over"), "clicked");
  window_test_settle ();
  type (fixture, "reason", "the flank stays as it is");
  do_deed (fixture);
  wait_says (fixture, "change-detail", "second person");
  wait_gone (fixture, "touches", "is carried over by");
}

static void
test_agree_and_carry_out (Fixture *fixture, gconstpointer data)
{
  window_test_choose_person (fixture->window, "AB");
  propose (fixture);
  do_action (fixture, "win.change", "agree");
  do_deed (fixture);
  wait_says (fixture, "changes-table", "◐ agreed");
  wait_says (fixture, "change-detail", "Holds from round P3.");
  do_action (fixture, "win.change", "carry-out");
  wait_says (fixture, "changes-table", "● carried out");
  do_action (fixture, "win.propose-change", NULL);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "what")), 1);
  window_test_settle ();
  g_assert_cmpstr (gtk_label_get_label (GTK_LABEL (get (fixture, "old"))), ==, "C"); /* the plan of P3 has it */
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get (fixture, "new"))), ==, "D");
}

static void
test_undo (Fixture *fixture, gconstpointer data)
{
  window_test_choose_person (fixture->window, "AB");
  propose (fixture);
  do_action (fixture, "win.change", "agree");
  do_deed (fixture);
  wait_says (fixture, "changes-table", "◐ agreed");
  do_action (fixture, "win.undo", NULL);
  wait_says (fixture, "changes-table", "○ proposed");
  do_action (fixture, "win.undo", NULL);
  wait_says (fixture, "changes-lead", "No change is written down yet.");
}

static void
test_withdraw (Fixture *fixture, gconstpointer data)
{
  window_test_choose_person (fixture->window, "AB");
  propose (fixture);
  do_action (fixture, "win.change", "withdraw");
  do_deed (fixture);
  wait_says (fixture, "change-detail", "must be filled in"); /* the reason */
  wait_says (fixture, "changes-table", "○ proposed");
  type (fixture, "withdrawn_reason", "It flaked off.");
  do_deed (fixture);
  wait_says (fixture, "changes-table", "✕ withdrawn");
  wait_says (fixture, "change-detail", "It flaked off.");
}

static void
test_wrong_limits (Fixture *fixture, gconstpointer data)
{
  window_test_choose_person (fixture->window, "AB");
  do_action (fixture, "win.propose-change", NULL);
  type (fixture, "title", "Wider");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "what")), 5); /* Strength */
  type (fixture, "new", "about two hundred");
  fettle_change_form_save (FETTLE_CHANGE_FORM (get (fixture, "change-form")));
  wait_says (fixture, "change-form", "Write limits such as");
  wait_says (fixture, "changes-lead", "No change is written down yet.");
  type (fixture, "new", "≥ 210");
  fettle_change_form_save (FETTLE_CHANGE_FORM (get (fixture, "change-form")));
  wait_says (fixture, "changes-table", "at least 210 N");
  wait_says (fixture, "touches", "Strength keeps its readings; they are judged by the new limits.");
}

/* While a form is open, what others write waits: here another title. */
static void
test_busy (Fixture *fixture, gconstpointer data)
{
  gboolean written = FALSE;

  window_test_choose_person (fixture->window, "AB");
  propose (fixture);
  do_action (fixture, "win.change", "withdraw");
  type (fixture, "withdrawn_reason", "It flaked");
  fettle_sitting_edit (fettle_window_get_sitting (fixture->window),
                       book_edit_field (BOOK_RECORD_CHANGE, find_key (fixture, BOOK_RECORD_CHANGE, "M1/1"), "title", "Another ramp"),
                       on_written, &written);
  window_test_wait (is_true, &written, "the title");
  find_key (fixture, BOOK_RECORD_CHANGE, "M1/1"); /* questions are answered in order: the page has had its answer */
  window_test_settle ();
  wait_says (fixture, "change-detail", "Why withdrawn");
  wait_gone (fixture, "changes-table", "Another ramp");
  do_deed (fixture);
  wait_says (fixture, "change-detail", "It flaked");
  wait_says (fixture, "changes-table", "✕ withdrawn");
  wait_says (fixture, "changes-table", "Another ramp");
}

/* A change without an item cannot be agreed to: it says so, and the item is added to it. */
static void
test_add_item (Fixture *fixture, gconstpointer data)
{
  window_test_choose_person (fixture->window, "AB");
  do_action (fixture, "win.propose-change", NULL);
  type (fixture, "title", "Softer spring");
  fettle_change_form_save (FETTLE_CHANGE_FORM (get (fixture, "change-form")));
  wait_says (fixture, "changes-table", "Softer spring");
  wait_says (fixture, "change-detail", "It names nothing yet that it alters");
  do_action (fixture, "win.change", "agree");
  do_deed (fixture);
  wait_says (fixture, "change-detail", "add an item first");
  do_action (fixture, "win.change", "add");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (window_test_get (get (fixture, "change-item-form"), "what")), 2);
  window_test_settle ();
  g_signal_emit_by_name (get (fixture, "add-item"), "clicked");
  wait_says (fixture, "changes-table", "Spring A → B");
  wait_says (fixture, "touches", "Play is measured again: 4 units no longer count.");
}

/* What is typed and not stored outlives leaving the form, another page, and what others write. */
static void
test_drafts (Fixture *fixture, gconstpointer data)
{
  window_test_choose_person (fixture->window, "AB");
  do_action (fixture, "win.propose-change", NULL);
  type (fixture, "title", "Half a thought");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (get (fixture, "what")), 2);
  type (fixture, "words", "softer");
  fettle_change_form_leave (FETTLE_CHANGE_FORM (get (fixture, "change-form")));
  do_action (fixture, "win.page", "standing");
  do_action (fixture, "win.propose-change", NULL);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get (fixture, "title"))), ==, "Half a thought");
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (get (fixture, "what"))), ==, 2);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get (fixture, "words"))), ==, "softer");
  g_signal_emit_by_name (get (fixture, "forget"), "clicked");
  window_test_settle ();
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get (fixture, "title"))), ==, "");
}

static void
test_compare (Fixture *fixture, gconstpointer data)
{
  /* Of the newest round there is nothing yet; P2 against P1 is what its block on the strip asks for. */
  window_test_press (window_test_get (GTK_WIDGET (fixture->window), "strip"), GDK_KEY_Left, 0);
  wait_says (fixture, "compare-title", "From round P1 to round P2");
  wait_says (fixture, "differences", "L-20 Lever");
  wait_says (fixture, "differences", "none on record leads from A to B");
  wait_says (fixture, "effects", "Strength");
  fettle_ledger_select (FETTLE_LEDGER (get (fixture, "effects")), 0, TRUE);
  wait_says (fixture, "effects", "How It Is Computed");
  window_test_press (window_test_get (GTK_WIDGET (fixture->window), "strip"), GDK_KEY_Left, 0);
  wait_says (fixture, "compare-how", "There are no two rounds yet");
  wait_gone (fixture, "differences", "L-20 Lever");
}

static cairo_status_t
append_bytes (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static void
attach_picture (Fixture *fixture, const char *revision, const char *name)
{
  FettleSitting *sitting = fettle_window_get_sitting (fixture->window);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 60, 40);
  GByteArray *array = g_byte_array_new ();
  g_autoptr(GBytes) bytes = NULL;
  gboolean attached = FALSE;

  cairo_surface_write_to_png_stream (surface, append_bytes, array);
  cairo_surface_destroy (surface);
  bytes = g_byte_array_free_to_bytes (array);
  fettle_sitting_edit (sitting, book_edit_attach (BOOK_RECORD_REVISION, find_key (fixture, BOOK_RECORD_REVISION, revision),
                                                  &(BookAttachable){ .kind = BOOK_ATTACHMENT_DRAWING, .name = name, .bytes = bytes }, 1),
                       on_written, &attached);
  window_test_wait (is_true, &attached, "the picture");
}

static void
count_picture (GtkWidget *widget, gpointer data)
{
  if (g_str_equal (gtk_widget_get_name (widget), "picture"))
    ++*(guint *) data;
}

static gboolean
has_two_pictures (gpointer data)
{
  guint n = 0;

  window_test_each (get (data, "differences"), count_picture, &n);
  return n == 2;
}

static void
test_pictures (Fixture *fixture, gconstpointer data)
{
  window_test_press (window_test_get (GTK_WIDGET (fixture->window), "strip"), GDK_KEY_Left, 0);
  wait_says (fixture, "compare-title", "From round P1 to round P2");
  attach_picture (fixture, "L-20/A", "lever-A.png");
  attach_picture (fixture, "L-20/B", "lever-B.png");
  window_test_wait (has_two_pictures, fixture, "both pictures");
  wait_says (fixture, "differences", "round P1: A");
  wait_says (fixture, "differences", "round P2: B");
}

#define CHANGES(path, test) g_test_add ("/window/changes/" path, Fixture, "changes", set_up, test, window_test_tear_down)
#define COMPARE(path, test) g_test_add ("/window/compare/" path, Fixture, "compare", set_up, test, window_test_tear_down)

int
main (int argc, char **argv)
{
  window_test_init (&argc, &argv);
  CHANGES ("say-what-goes-there-and-name-what-no-change-leads-to", test_empty);
  CHANGES ("are-proposed-in-place-with-the-old-filled-in-and-the-drawing-attached", test_propose);
  CHANGES ("list-what-is-measured-again-before-anybody-agrees", test_measured_again);
  CHANGES ("want-a-second-person-to-carry-over-what-is-about-safety", test_second_person);
  CHANGES ("are-agreed-and-carried-out-into-the-plan-of-the-next-round", test_agree_and_carry_out);
  CHANGES ("are-taken-back-deed-by-deed", test_undo);
  CHANGES ("are-withdrawn-only-with-a-reason", test_withdraw);
  CHANGES ("keep-wrong-limits-as-typed-and-say-so-beside-them", test_wrong_limits);
  CHANGES ("take-one-more-old-to-new-before-anybody-agrees", test_add_item);
  CHANGES ("keep-a-form-open-while-others-write", test_busy);
  CHANGES ("keep-what-is-typed-and-not-stored", test_drafts);
  COMPARE ("puts-old-beside-new-with-what-the-readings-say", test_compare);
  COMPARE ("shows-the-pictures-of-both-revisions", test_pictures);
  return g_test_run ();
}
