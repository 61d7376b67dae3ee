/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "book-shelf.h"
#include "paper-discretion.h"

typedef struct
{
  Shelf            shelf;
  BookEvidence    *evidence;
  PaperDiscretion *discretion;
} Case;

static gboolean
name_people (StoreAction *action, gpointer data, GError **error)
{
  Shelf *shelf = data;

  return book_person_name_set (action, shelf_id (shelf, BOOK_RECORD_PERSON, "QX"), "Ada Spring", error)
         && book_person_name_set (action, shelf_id (shelf, BOOK_RECORD_PERSON, "LE"), "Bo Fernley-Ross", error);
}

static void
case_open (Case *self, gconstpointer unused)
{
  const StoreIntent intent = { .action = "test" };
  g_autoptr(GError) error = NULL;

  shelf_open (&self->shelf);
  shelf_fill (&self->shelf);
  shelf_write (&self->shelf, "person initials=QX | role=maker\n"
                             "person initials=LE | role=lead\n"
                             "supplier name=Marram & Sons\n"
                             "supplier name=Fernhill Springs\n"
                             "model code=WG | name=Wagtail, grafting knife\n"
                             "part number=HF-30 | name=Spring\n"
                             "round_part round=HF/P1 | part=HF-30 | units=1\n");
  g_assert_true (store_write (book_get_store (self->shelf.book), &intent, name_people, &self->shelf, NULL, NULL, &error));
  g_assert_no_error (error);
  self->evidence = book_evidence_load (shelf_db (&self->shelf), shelf_id (&self->shelf, BOOK_RECORD_MODEL, "HF"), &error);
  g_assert_no_error (error);
  self->discretion = paper_discretion_read (shelf_db (&self->shelf), self->evidence, &error);
  g_assert_no_error (error);
}

static void
case_close (Case *self, gconstpointer unused)
{
  paper_discretion_free (self->discretion);
  book_evidence_free (self->evidence);
  shelf_close (&self->shelf);
}

static void
check (Case *self, const char *text, const char *told)
{
  g_autofree char *got = paper_discretion_apply (self->discretion, text);

  g_assert_cmpstr (got, ==, told);
}

static void
test_people_are_left_out (Case *self, gconstpointer unused)
{
  check (self, "QX says: slips. Ask ada spring!", "[left out] says: slips. Ask [left out]!");
  check (self, "As Fernley found, and Ross too.", "As [left out] found, and [left out] too.");
  check (self, "QX's drawing (by QX)", "[left out]'s drawing (by [left out])");
}

static void
test_words_of_the_model_stay (Case *self, gconstpointer unused)
{
  /* a person is called Spring, but so is a part; QX stands within words, and in small letters */
  check (self, "Spring broke, spring B holds", "Spring broke, spring B holds");
  check (self, "AQXB qx HF", "AQXB qx HF");
  /* nor do the springs vanish with the supplier of that name */
  check (self, "Springs from Fernhill, from Fernhill Springs", "Springs from [left out], from [left out]");
}

static void
test_suppliers_models_and_sums_are_left_out (Case *self, gconstpointer unused)
{
  check (self, "Marram & Sons sent it; marram & sons again", "[left out] sent it; [left out] again");
  check (self, "As on the Wagtail (WG)", "As on the [left out] ([left out])");
  check (self, "It costs 1,250.50 EUR or € 12, 3 dollars", "It costs [left out] or [left out], [left out]");
  check (self, "0.3 mm at 250 N for 12 units", "0.3 mm at 250 N for 12 units");
}

static void
test_codes_of_the_model_stay_in_our_sentences (Case *self, gconstpointer unused)
{
  g_autofree char *sentence = paper_discretion_check (self->discretion, "LE: 3 of 5 units; excused by QX.");

  /* LE is a person and a characteristic */
  check (self, "LE asked", "[left out] asked");
  g_assert_cmpstr (sentence, ==, "Lock engagement: 3 of 5 units; excused by [left out].");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(path, func) g_test_add ("/paper/discretion/" path, Case, NULL, case_open, func, case_close)
  ADD ("people-are-left-out", test_people_are_left_out);
  ADD ("words-of-the-model-stay", test_words_of_the_model_stay);
  ADD ("suppliers-models-and-sums-are-left-out", test_suppliers_models_and_sums_are_left_out);
  ADD ("codes-of-the-model-are-told-by-name-in-our-sentences", test_codes_of_the_model_stay_in_our_sentences);
  return g_test_run ();
}
