/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Undo and redo: what comes back, what stands in the way, what ends redo. */

#include "store-tray.h"

#include "store-check.h"
#include "store-history.h"
#include "store-undo.h"

#include <string.h>

static StoreIntent
by (gint64 sitting)
{
  return (StoreIntent){ .action = "undo", .sitting = sitting };
}

static gint64
undo_last (Store *store, gint64 sitting)
{
  StoreIntent intent = by (sitting);
  g_autoptr(GError) error = NULL;
  g_autoptr(StoreBlock) block = NULL;
  StoreReceipt receipt;
  gboolean ok = store_undo (store, &intent, 0, &receipt, &block, NULL, &error);

  g_assert_no_error (error);
  g_assert_true (ok);
  g_assert_null (block);
  return receipt.action;
}

static gint64
redo_last (Store *store, gint64 sitting)
{
  StoreIntent intent = by (sitting);
  g_autoptr(GError) error = NULL;
  StoreReceipt receipt;
  gboolean ok = store_redo (store, &intent, 0, &receipt, NULL, NULL, &error);

  g_assert_no_error (error);
  g_assert_true (ok);
  return receipt.action;
}

static void
check_nothing_left (Store *store, gint64 sitting, gboolean undo)
{
  StoreIntent intent = by (sitting);
  g_autoptr(GError) error = NULL;

  g_assert_false ((undo ? store_undo : store_redo) (store, &intent, 0, NULL, NULL, NULL, &error));
  tray_assert_sentence (&error, STORE_ERROR_NOTHING);
}

static StoreBlock *
blocked (Store *store, gint64 action, StoreError code)
{
  StoreIntent intent = by (0);
  g_autofree char *before = tray_dump (store), *after = NULL;
  g_autoptr(GError) error = NULL;
  StoreBlock *block = NULL;

  g_assert_false (store_undo (store, &intent, action, NULL, &block, NULL, &error));
  tray_assert_sentence (&error, code);
  g_assert_nonnull (block);
  after = tray_dump (store);
  g_assert_cmpstr (before, ==, after);
  return block;
}

static void
check_holds (Store *store)
{
  g_autoptr(GPtrArray) findings = NULL;
  g_autoptr(GError) error = NULL;

  if (!store_check (store, TRUE, &findings, NULL, NULL, NULL, &error))
    g_error ("%s", error->message);
  for (guint i = 0; i < findings->len; i++)
    g_test_message ("%s", ((StoreFinding *) findings->pdata[i])->sentence);
  g_assert_cmpuint (findings->len, ==, 0);
}

static void
test_restores_every_field (Tray *tray, gconstpointer unused)
{
  g_autofree char *empty = tray_dump (tray->store), *full = NULL, *changed = NULL, *back = NULL;

  tray_do (tray->store, 1,
           "INSERT INTO box VALUES (%id, 'a', 'note');"
           "INSERT INTO item VALUES (%id, %last - 1, 5, 1.25, 'größe', x'00ff00'), (%id, %last - 2, NULL, NULL, NULL, NULL)");
  full = tray_dump (tray->store);
  tray_do (tray->store, 1, "UPDATE item SET size = 7, weight = NULL, label = '', picture = NULL WHERE size = 5");
  changed = tray_dump (tray->store);
  g_assert_cmpstr (full, !=, changed);

  undo_last (tray->store, 1);
  back = tray_dump (tray->store);
  g_assert_cmpstr (back, ==, full);
  redo_last (tray->store, 1);
  g_free (back);
  back = tray_dump (tray->store);
  g_assert_cmpstr (back, ==, changed);

  undo_last (tray->store, 1);
  undo_last (tray->store, 1);
  g_free (back);
  back = tray_dump (tray->store);
  g_assert_cmpstr (back, ==, empty);
  check_nothing_left (tray->store, 1, TRUE);
  redo_last (tray->store, 1);
  redo_last (tray->store, 1);
  check_nothing_left (tray->store, 1, FALSE);
  g_free (back);
  back = tray_dump (tray->store);
  g_assert_cmpstr (back, ==, changed);
  check_holds (tray->store);
}

static void
test_redo_ends (Tray *tray, gconstpointer unused)
{
  g_test_summary ("Something newly done ends redo of its own sitting only");
  tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");
  tray_do (tray->store, 2, "INSERT INTO box VALUES (%id, 'b', NULL)");
  undo_last (tray->store, 1);
  undo_last (tray->store, 2);
  tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'c', NULL)");
  check_nothing_left (tray->store, 1, FALSE);
  redo_last (tray->store, 2);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM box WHERE name IN ('b', 'c')"), ==, 2);
  /* What was done after it and undone: that is redone, and nothing before it. */
  undo_last (tray->store, 1);
  redo_last (tray->store, 1);
  check_nothing_left (tray->store, 1, FALSE);
}

static void
test_own_sitting (Tray *tray, gconstpointer unused)
{
  gint64 undo, redo;
  gint64 a = tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");
  gint64 b = tray_do (tray->store, 2, "INSERT INTO box VALUES (%id, 'b', NULL)");
  g_autoptr(GError) error = NULL;

  g_assert_true (store_undo_find (store_front_db (tray->store, NULL), 1, &undo, &redo, &error));
  g_assert_cmpint (undo, ==, a);
  g_assert_cmpint (redo, ==, 0);
  g_assert_true (store_undo_find (store_front_db (tray->store, NULL), 0, &undo, &redo, &error));
  g_assert_cmpint (undo, ==, b);
  g_assert_true (store_undo_find (store_front_db (tray->store, NULL), 3, &undo, &redo, &error));
  g_assert_cmpint (undo, ==, 0);
  undo_last (tray->store, 1);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM box WHERE name = 'b'"), ==, 1);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM box"), ==, 1);
}

static void
test_changed_since (Tray *tray, gconstpointer unused)
{
  gint64 first = tray_do (tray->store, 1,
                          "INSERT INTO box VALUES (%id, 'a', NULL);"
                          "INSERT INTO item SELECT %id, id, 1, 0, NULL, NULL FROM box; INSERT INTO item SELECT %id, id, 2, 0, NULL, NULL FROM box");
  gint64 second = tray_do (tray->store, 1, "UPDATE item SET weight = 9");
  g_autoptr(StoreBlock) block = blocked (tray->store, first, STORE_ERROR_CONFLICT);

  g_assert_cmpint (block->reason, ==, STORE_BLOCK_CHANGED);
  g_assert_cmpint (block->action, ==, first);
  g_assert_cmpint (block->table, ==, TRAY_ITEM);
  g_assert_cmpuint (block->rows, ==, 2);
  g_assert_cmpuint (block->n_actions, ==, 1);
  g_assert_cmpint (block->actions[0], ==, second);

  undo_last (tray->store, 1);
  undo_last (tray->store, 1);
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM item"), ==, 0);
}

static void
test_trying_stores_nothing (Tray *tray, gconstpointer unused)
{
  const StoreIntent intent = { .action = "undo" };
  gint64 first = tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");
  gint64 second = tray_do (tray->store, 1, "INSERT INTO item SELECT %id, id, 1, 0, NULL, NULL FROM box");
  g_autofree char *before = tray_dump (tray->store);
  g_autofree char *after = NULL;
  g_autoptr(StoreBlock) block = NULL;
  g_autoptr(GError) error = NULL;

  g_assert_true (store_undo_try (tray->store, &intent, second, &block, NULL, &error));
  g_assert_null (block);
  g_assert_false (store_undo_try (tray->store, &intent, first, &block, NULL, &error));
  tray_assert_sentence (&error, STORE_ERROR_CONFLICT);
  g_assert_cmpint (block->reason, ==, STORE_BLOCK_REFERRED);
  g_assert_cmpint (block->actions[0], ==, second);
  after = tray_dump (tray->store);
  g_assert_cmpstr (after, ==, before);
  check_holds (tray->store);
}

static void
test_referred_since (Tray *tray, gconstpointer unused)
{
  gint64 first = tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL); INSERT INTO box VALUES (%id, 'b', NULL)");
  gint64 second = tray_do (tray->store, 2, "INSERT INTO item SELECT %id, id, 1, 0, NULL, NULL FROM box WHERE name = 'b'");
  gint64 third = tray_do (tray->store, 2, "INSERT INTO item SELECT %id, id, 2, 0, NULL, NULL FROM box WHERE name = 'b'");
  g_autoptr(StoreBlock) block = blocked (tray->store, first, STORE_ERROR_CONFLICT);

  g_assert_cmpint (block->reason, ==, STORE_BLOCK_REFERRED);
  g_assert_cmpint (block->table, ==, TRAY_ITEM);
  g_assert_cmpuint (block->rows, ==, 2);
  g_assert_cmpuint (block->n_actions, ==, 2);
  g_assert_cmpint (block->actions[0], ==, third);
  g_assert_cmpint (block->actions[1], ==, second);
}

static void
test_referred_without_index (Tray *tray, gconstpointer unused)
{
  gint64 first = tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL); INSERT INTO box VALUES (%id, 'b', NULL)");
  gint64 second = tray_do (tray->store, 2, "INSERT INTO seal SELECT %id, id, 'yes' FROM box WHERE name = 'b'");
  g_autoptr(StoreBlock) block = blocked (tray->store, first, STORE_ERROR_CONFLICT);

  g_assert_cmpint (block->reason, ==, STORE_BLOCK_REFERRED);
  g_assert_cmpint (block->table, ==, TRAY_SEAL);
  g_assert_cmpuint (block->rows, ==, 1);
  g_assert_cmpuint (block->n_actions, ==, 1);
  g_assert_cmpint (block->actions[0], ==, second);
}

static void
test_refers_to_gone (Tray *tray, gconstpointer unused)
{
  g_autoptr(StoreBlock) block = NULL;
  gint64 second, third;

  tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL); INSERT INTO item VALUES (%id, %last - 1, 1, 0, NULL, NULL)");
  second = tray_do (tray->store, 1, "DELETE FROM item");
  third = tray_do (tray->store, 1, "DELETE FROM box");
  block = blocked (tray->store, second, STORE_ERROR_CONFLICT);
  g_assert_cmpint (block->reason, ==, STORE_BLOCK_REFERS);
  g_assert_cmpint (block->table, ==, TRAY_BOX);
  g_assert_cmpuint (block->n_actions, ==, 1);
  g_assert_cmpint (block->actions[0], ==, third);
}

static void
test_rule_in_the_way (Tray *tray, gconstpointer unused)
{
  gint64 second;
  g_autoptr(StoreBlock) block = NULL;

  g_test_summary ("Undoing a renaming is refused when the old name was given away since");
  tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");
  second = tray_do (tray->store, 1, "UPDATE box SET name = 'b'");
  tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");
  block = blocked (tray->store, second, STORE_ERROR_RULE);
  g_assert_cmpint (block->reason, ==, STORE_BLOCK_RULE);
}

static void
test_never (Tray *tray, gconstpointer unused)
{
  gint64 sealed;
  g_autoptr(StoreBlock) block = NULL;

  tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");
  sealed = tray_do (tray->store, 1, "INSERT INTO seal SELECT %id, id, 'yes' FROM box; UPDATE box SET note = 'sealed'");
  block = blocked (tray->store, sealed, STORE_ERROR_CONFLICT);
  g_assert_cmpint (block->reason, ==, STORE_BLOCK_NEVER);
}

static gboolean
is_never (Tray *tray, gint64 action)
{
  g_autoptr(GError) error = NULL;
  gboolean never = TRUE;

  g_assert_true (store_undo_is_never (store_front_db (tray->store, NULL), action, &never, &error));
  g_assert_no_error (error);
  return never;
}

/* The last action of a sitting is what undo takes: where that stays, nothing before it goes in its place. */
static void
test_never_last (Tray *tray, gconstpointer unused)
{
  const StoreIntent intent = { .action = "undo", .sitting = 1 };
  gint64 first = tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");
  gint64 sealed = tray_do (tray->store, 1, "INSERT INTO seal SELECT %id, id, 'yes' FROM box");
  gint64 undo, redo, later;
  g_autofree char *before = tray_dump (tray->store), *after = NULL;
  g_autoptr(GError) error = NULL;

  g_assert_true (store_undo_find (store_front_db (tray->store, NULL), 1, &undo, &redo, &error));
  g_assert_cmpint (undo, ==, sealed);
  g_assert_false (is_never (tray, 0));
  g_assert_false (is_never (tray, first));
  g_assert_true (is_never (tray, sealed));
  g_assert_false (store_undo (tray->store, &intent, 0, NULL, NULL, NULL, &error));
  tray_assert_sentence (&error, STORE_ERROR_CONFLICT);
  after = tray_dump (tray->store);
  g_assert_cmpstr (before, ==, after);

  /* what comes after it is undone, and then it is the last again */
  later = tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'c', NULL)");
  g_assert_false (is_never (tray, later));
  undo_last (tray->store, 1);
  g_assert_true (store_undo_find (store_front_db (tray->store, NULL), 1, &undo, &redo, &error));
  g_assert_cmpint (undo, ==, sealed);
}

static void
test_by_key (Tray *tray, gconstpointer unused)
{
  StoreIntent intent = by (5);
  g_autoptr(GError) error = NULL;
  g_autoptr(StoreBlock) block = NULL;
  g_autoptr(StoreActionInfo) info = NULL;
  StoreReceipt receipt;
  gint64 a = tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");

  tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'b', NULL)");
  g_assert_true (store_undo (tray->store, &intent, a, &receipt, NULL, NULL, &error));
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM box WHERE name = 'a'"), ==, 0);
  info = store_history_get (store_front_db (tray->store, NULL), receipt.action, &error);
  g_assert_no_error (error);
  g_assert_cmpint (info->kind, ==, STORE_UNDO);
  g_assert_cmpint (info->reverses, ==, a);
  g_assert_cmpint (info->sitting, ==, 5);

  block = blocked (tray->store, a, STORE_ERROR_CONFLICT);
  g_assert_cmpint (block->reason, ==, STORE_BLOCK_DONE);

  g_assert_true (store_redo (tray->store, &intent, receipt.action, NULL, NULL, NULL, &error));
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM box WHERE name = 'a'"), ==, 1);
  /* The action stands again, through its redo: undoing it by its own key undoes that. */
  g_assert_true (store_undo (tray->store, &intent, a, NULL, NULL, NULL, &error));
  g_assert_cmpint (tray_ask (tray->path, "SELECT count(*) FROM box WHERE name = 'a'"), ==, 0);
  g_assert_false (store_undo (tray->store, &intent, 12345, NULL, NULL, NULL, &error));
  tray_assert_sentence (&error, STORE_ERROR_MISSING);
}

static void
test_erased (Tray *tray, gconstpointer unused)
{
  StoreIntent intent = { .action = "payload-erased", .person = 3 };
  g_autoptr(GError) error = NULL;
  g_autoptr(StoreBlock) block = NULL;
  g_autoptr(GPtrArray) findings = NULL;
  gint64 a = tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");

  g_assert_true (store_erase_payload (tray->store, &intent, a, "a name stood in the note", &error));
  g_assert_no_error (error);
  block = blocked (tray->store, a, STORE_ERROR_ERASED);
  g_assert_cmpint (block->reason, ==, STORE_BLOCK_ERASED);
  g_assert_false (store_erase_payload (tray->store, &intent, a, "again", &error));
  tray_assert_sentence (&error, STORE_ERROR_ERASED);

  /* The chain still holds; only the replay says that it cannot be made. */
  g_assert_true (store_check (tray->store, FALSE, &findings, NULL, NULL, NULL, &error));
  g_assert_cmpuint (findings->len, ==, 0);
  g_clear_pointer (&findings, g_ptr_array_unref);
  g_assert_true (store_check (tray->store, TRUE, &findings, NULL, NULL, NULL, &error));
  g_assert_cmpuint (findings->len, ==, 1);
  g_assert_cmpint (((StoreFinding *) findings->pdata[0])->kind, ==, STORE_CHECK_REPLAY);
}

static gboolean
bulk_work (StoreAction *action, gpointer data, GError **error)
{
  static const char sql[] = "INSERT INTO box VALUES (?1, ?2, NULL)";
  StoreDb *db = store_action_db (action);

  for (guint i = 0; i < 3000; i++)
    {
      g_autoptr(StoreStatement) statement = store_db_statement (db, sql, error);
      g_autofree char *name = g_strdup_printf ("box %u", i);

      sqlite3_bind_int64 (statement, 1, store_action_new_id (action));
      sqlite3_bind_text (statement, 2, name, -1, SQLITE_TRANSIENT);
      if (!store_db_run (db, statement, "The box could not be stored", error) ||
          (i % 500 == 499 && !store_action_split (action, error)))
        return FALSE;
    }
  return store_db_exec (db, "UPDATE box SET note = 'last'", error);
}

static void
test_split_action (Tray *tray, gconstpointer unused)
{
  StoreIntent intent = { .action = "bulk", .sitting = 1 };
  g_autoptr(GError) error = NULL;
  g_autofree char *empty = tray_dump (tray->store), *full = NULL, *back = NULL;
  StoreReceipt receipt;

  g_test_summary ("An action of several entries, the last of which changes rows of the others, is undone as one");
  g_assert_true (store_write (tray->store, &intent, bulk_work, NULL, &receipt, NULL, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (receipt.entries, ==, 7);
  full = tray_dump (tray->store);
  undo_last (tray->store, 1);
  back = tray_dump (tray->store);
  g_assert_cmpstr (back, ==, empty);
  redo_last (tray->store, 1);
  g_free (back);
  back = tray_dump (tray->store);
  g_assert_cmpstr (back, ==, full);
  check_holds (tray->store);
}

static void
on_undone (GObject *source, GAsyncResult *result, gpointer data)
{
  GAsyncResult **kept = data;

  *kept = g_object_ref (result);
}

static void
test_async (Tray *tray, gconstpointer unused)
{
  StoreIntent intent = by (1);
  g_autoptr(GError) error = NULL;
  g_autoptr(GAsyncResult) first = NULL;
  g_autoptr(GAsyncResult) second = NULL;
  g_autoptr(GAsyncResult) third = NULL;
  StoreReceipt receipt;

  tray_do (tray->store, 1, "INSERT INTO box VALUES (%id, 'a', NULL)");
  store_undo_async (tray->store, &intent, 0, NULL, on_undone, &first);
  store_redo_async (tray->store, &intent, 0, NULL, on_undone, &second);
  store_redo_async (tray->store, &intent, 0, NULL, on_undone, &third);
  while (third == NULL)
    g_main_context_iteration (NULL, TRUE);
  g_assert_true (store_undo_finish (tray->store, first, &receipt, NULL, &error));
  g_assert_cmpuint (receipt.deleted, ==, 1);
  g_assert_true (store_undo_finish (tray->store, second, &receipt, NULL, &error));
  g_assert_cmpuint (receipt.inserted, ==, 1);
  g_assert_false (store_undo_finish (tray->store, third, &receipt, NULL, &error));
  tray_assert_sentence (&error, STORE_ERROR_NOTHING);
}

/* One random change that keeps the rules, as SQL text. */
static char *
random_sql (GRand *rand, guint n)
{
  guint pick = (guint) g_rand_int_range (rand, 0, 9);
  gint size = g_rand_int_range (rand, 0, 1000);
  gint modulus = g_rand_int_range (rand, 2, 30), rest = g_rand_int_range (rand, 0, 2);

  switch (pick)
    {
    case 0:
      return g_strdup_printf ("INSERT INTO box VALUES (%%id, 'box %u', NULL)", n);
    case 1:
    case 2:
      return g_strdup_printf ("INSERT INTO item SELECT %%id, max(id), %d, %d / 7.0, 'item %u', x'%04x' FROM box HAVING max(id) NOTNULL",
                              size, size, n, size);
    case 3:
      return g_strdup_printf ("INSERT INTO tag SELECT %%id, min(id), 'tag %u' FROM item WHERE size < %d HAVING min(id) NOTNULL", n, size);
    case 4:
      return g_strdup_printf ("UPDATE item SET size = %d, label = NULL WHERE id %% %d = %d", size, modulus, rest);
    case 5:
      return g_strdup_printf ("UPDATE item SET box = (SELECT min(id) FROM box), weight = -weight WHERE id %% %d = %d", modulus, rest);
    case 6:
      return g_strdup_printf ("UPDATE tag SET word = word || '%d' WHERE id %% %d = %d", size % 10, modulus, rest);
    case 7:
      return g_strdup_printf ("DELETE FROM tag WHERE item IN (SELECT id FROM item WHERE size > %d AND id %% 5 = 1);"
                              "DELETE FROM item WHERE size > %d AND id %% 5 = 1", size, size);
    default:
      return g_strdup_printf ("UPDATE box SET note = 'note %d' WHERE id %% %d = %d", size, modulus, rest);
    }
}

static void
test_random (Tray *tray, gconstpointer unused)
{
  g_autoptr(GPtrArray) dumps = g_ptr_array_new_with_free_func (g_free);
  guint32 seed = (guint32) g_test_rand_int ();
  g_autoptr(GRand) rand = g_rand_new_with_seed (seed);

  g_test_summary ("A thousand random actions, undone one by one, give back the same bytes, and redone the same again");
  g_test_message ("seed %u", seed);
  g_ptr_array_add (dumps, tray_dump (tray->store));
  for (guint n = 0; dumps->len <= 1000; n++)
    {
      g_autofree char *sql = random_sql (rand, n);

      if (tray_do (tray->store, 1, sql) != 0)
        g_ptr_array_add (dumps, tray_dump (tray->store));
    }
  for (guint i = dumps->len - 1; i-- > 0;)
    {
      g_autofree char *back = NULL;

      undo_last (tray->store, 1);
      back = tray_dump (tray->store);
      g_assert_cmpstr (back, ==, dumps->pdata[i]);
    }
  check_nothing_left (tray->store, 1, TRUE);
  for (guint i = 1; i < dumps->len; i++)
    {
      g_autofree char *again = NULL;

      redo_last (tray->store, 1);
      again = tray_dump (tray->store);
      g_assert_cmpstr (again, ==, dumps->pdata[i]);
    }
  check_nothing_left (tray->store, 1, FALSE);
  check_holds (tray->store);
}

int
main (int argc, char **argv)
{
  tray_in_memory ();
  g_test_init (&argc, &argv, NULL);

  tray_test ("/store/undo/restores-every-field", test_restores_every_field);
  tray_test ("/store/undo/something-new-ends-redo", test_redo_ends);
  tray_test ("/store/undo/takes-the-last-of-its-own-sitting", test_own_sitting);
  tray_test ("/store/undo/names-the-action-that-changed-rows-since", test_changed_since);
  tray_test ("/store/undo/trying-stores-nothing", test_trying_stores_nothing);
  tray_test ("/store/undo/names-the-actions-that-refer-to-its-rows", test_referred_since);
  tray_test ("/store/undo/names-the-actions-that-refer-to-its-rows-without-an-index", test_referred_without_index);
  tray_test ("/store/undo/names-the-action-that-took-what-it-refers-to", test_refers_to_gone);
  tray_test ("/store/undo/a-rule-can-stand-in-the-way", test_rule_in_the_way);
  tray_test ("/store/undo/some-tables-are-never-undone", test_never);
  tray_test ("/store/undo/nothing-goes-in-place-of-what-is-never-undone", test_never_last);
  tray_test ("/store/undo/any-action-by-its-key", test_by_key);
  tray_test ("/store/undo/an-erased-payload-is-refused-and-the-chain-holds", test_erased);
  tray_test ("/store/undo/takes-all-entries-of-an-action", test_split_action);
  tray_test ("/store/undo/runs-beside-the-main-loop", test_async);
  tray_test ("/store/undo/a-thousand-random-actions-there-and-back", test_random);
  return g_test_run ();
}
