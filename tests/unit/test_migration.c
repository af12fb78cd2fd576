/* An index of the first shape is carried over, row by row. */
#include "scratch.h"

#include "catalog/lookup.h"
#include "store/migrate.h"

#include <sqlite3.h>

static const char rows[] =
    "INSERT INTO source VALUES (1, 'a.csv', '/x/a.csv', NULL, 'f', 'offers+parts', 3, 0, "
    "'2026-01-01T00:00:00Z'),"
    " (2, 'b.csv', '/x/b.csv', 'Nord', 'g', 'components', 2, 0, '2026-01-02T00:00:00Z');"
    "INSERT INTO parts (source, line, part, brand, part_number, part_type, description, spec, spec_key, "
    "unit, status)"
    " VALUES (1, 2, 'halvane' || char(31) || 'HV1', 'Halvane', 'HV-1', 'water-pump', 'PUMP', NULL, NULL, "
    "'each',"
    " 'current'), (1, 3, 'halvane' || char(31) || 'HV2', 'Halvane', 'HV-2', 'o-ring', NULL, '20x3', 'k', 'g',"
    " 'discontinued'), (1, 7, 'norrick' || char(31) || 'N9', 'Norrick', 'N 9', 'hose', 'HOSE', NULL, NULL, "
    "'each', NULL);"
    "INSERT INTO offers (source, line, part, supplier, brand, part_number, price, currency, pack_quantity,"
    " minimum_packs) VALUES (1, 3, 'halvane' || char(31) || 'HV2', 'Nord', 'Halvane', 'HV-2', 250, 'EUR', "
    "1000000, 1);"
    "INSERT INTO components (source, line, platform, component, part_type, quantity)"
    " VALUES (2, 2, 'p', 'pump', 'water-pump', 1000000), (2, 3, 'p', 'seal', 'o-ring', 1000000);"
    "INSERT INTO vehicle (name, make, model) VALUES ('maggie', 'Velmora', 'Tern');"
    "PRAGMA user_version = 1; PRAGMA application_id = 1279413332; PRAGMA journal_mode = WAL";

static void make_first(const char *path)
{
    sqlite3 *db;
    cr_assert_eq(sqlite3_open(path, &db), SQLITE_OK);
    cr_assert_eq(sqlite3_exec(db, lb_migrations[0].sql, NULL, NULL, NULL), SQLITE_OK);
    cr_assert_eq(sqlite3_exec(db, rows, NULL, NULL, NULL), SQLITE_OK, "%s", sqlite3_errmsg(db));
    sqlite3_close(db);
}

static void expect(struct lb_store *store, const char *sql, int64_t want)
{
    struct lb_error err = {0};
    int64_t got;
    cr_assert_eq(lb_store_integer(store, sql, &got, &err), LB_OK, "%s", lb_error_text(&err));
    cr_expect_eq(got, want, "%s: %lld", sql, (long long)got);
}

static void expect_rows(struct lb_store *store, const char *part_key, const char *want)
{
    struct lb_error err = {0};
    struct lb_lookup *lookup;
    struct lb_buf ids = {0};
    cr_assert_eq(lb_lookup_open(&lookup, store, &err), LB_OK);
    cr_assert_eq(lb_lookup_part(lookup, part_key, &ids, &err), LB_OK);
    cr_expect_str_eq(lb_buf_text(&ids), want);
    lb_lookup_close(lookup);
    lb_buf_free(&ids);
}

Test(migration, rows_keep_their_place_and_are_found)
{
    struct scratch s = scratch_make();
    struct lb_store *store;
    struct lb_error err = {0};
    make_first(scratch_path(&s, "i.db"));
    cr_assert_eq(lb_store_open(&store, s.path, LB_STORE_WRITE, &err), LB_OK, "%s", lb_error_text(&err));
    cr_assert_eq(lb_lookup_ready(store, &err), LB_OK, "%s", lb_error_text(&err));
    expect(store, "PRAGMA user_version", lb_migrate_latest());
    expect(store, "SELECT count(*) FROM parts", 3);
    expect(store, "SELECT count(*) FROM parts p JOIN offers o ON o.id = p.id WHERE o.price = 250", 1);
    expect(
        store,
        "SELECT p.line + r.id - p.first FROM parts r JOIN span p ON p.first = (SELECT max(first) FROM span "
        "WHERE first <= r.id) WHERE r.part_number = 'N 9' AND p.source = 1",
        7);
    expect(
        store,
        "SELECT p.line + r.id - p.first FROM components r JOIN span p ON p.first = (SELECT max(first) FROM "
        "span WHERE first <= r.id) WHERE r.component = 'seal' AND p.source = 2",
        3);
    expect(store, "SELECT count(*) FROM parts WHERE unit IS NULL AND status IS NULL", 2);
    expect(store, "SELECT count(*) FROM vehicle", 1);
    expect_rows(store, "halvane\x1fHV2", "[2]");
    expect_rows(store, "norrick\x1fN9", "[3]");
    expect_rows(store, "norrick\x1fHV2", "[]");
    lb_store_close(store);
    scratch_remove(&s);
}
