/* The index file: made, migrated, refused without a touch. */
#include "scratch.h"

#include "base/buf.h"
#include "importers/kinds.h"
#include "store/migrate.h"

static struct lb_error err;

static void write_header(struct scratch *s, const char *name, unsigned application, unsigned version)
{
    unsigned char bytes[4096] = "SQLite format 3";
    for (int i = 0; i < 4; i++) {
        bytes[60 + i] = (unsigned char)(version >> (24 - 8 * i));
        bytes[68 + i] = (unsigned char)(application >> (24 - 8 * i));
    }
    scratch_write(s, name, bytes, sizeof bytes);
}

static char *slurp(const char *path, size_t *length)
{
    FILE *file = fopen(path, "rb");
    char *bytes = malloc(1 << 20);
    cr_assert(file && bytes);
    *length = fread(bytes, 1, 1 << 20, file);
    fclose(file);
    return bytes;
}

static void expect_refused(struct scratch *s, const char *name, const char *words)
{
    struct lb_store *store;
    size_t before_length, after_length;
    char *before = slurp(scratch_path(s, name), &before_length);
    cr_expect_eq(lb_store_open(&store, s->path, LB_STORE_WRITE, &err), LB_SYSTEM);
    cr_expect_null(store);
    cr_expect(strstr(lb_error_text(&err), words), "%s", lb_error_text(&err));
    char *after = slurp(s->path, &after_length);
    cr_expect(before_length == after_length && memcmp(before, after, before_length) == 0, "%s was touched",
              name);
    char companion[200];
    snprintf(companion, sizeof companion, "%s-wal", s->path);
    cr_expect_null(fopen(companion, "rb"), "a write-ahead log was left beside %s", name);
    free(before);
    free(after);
    lb_error_free(&err);
}

Test(store, foreign_files_are_refused_and_left_untouched)
{
    struct scratch s = scratch_make();
    write_header(&s, "newer.db", LB_APPLICATION_ID, (unsigned)lb_migrate_latest() + 1);
    expect_refused(&s, "newer.db", "newer lastbolt");
    write_header(&s, "other.db", 0x12345678, 1);
    expect_refused(&s, "other.db", "another program");
    scratch_write(&s, "text.db", "not an index at all\n", 20);
    expect_refused(&s, "text.db", "is not a lastbolt index");
    scratch_remove(&s);
}

Test(store, a_missing_index_is_made_only_for_writing)
{
    struct scratch s = scratch_make();
    struct lb_store *store;
    int64_t version;
    cr_expect_eq(lb_store_open(&store, scratch_path(&s, "new.db"), LB_STORE_READ, &err), LB_DATA);
    lb_error_free(&err);
    cr_assert_eq(lb_store_open(&store, scratch_path(&s, "new.db"), LB_STORE_WRITE, &err), LB_OK);
    cr_expect_eq(lb_store_integer(store, "PRAGMA user_version", &version, &err), LB_OK);
    cr_expect_eq(version, lb_migrate_latest());
    cr_expect_eq(lb_store_integer(store, "PRAGMA application_id", &version, &err), LB_OK);
    cr_expect_eq(version, LB_APPLICATION_ID);
    lb_store_close(store);
    cr_expect_eq(lb_store_open(&store, scratch_path(&s, "new.db"), LB_STORE_READ, &err), LB_OK);
    lb_store_close(store);
    scratch_remove(&s);
}

/* An index of an older program: user_version 0 with our application_id. A table in the way makes the
 * migration fail halfway; all of it must be undone. */
Test(store, an_older_index_is_migrated_in_one_transaction)
{
    struct scratch s = scratch_make();
    struct lb_store *store;
    int64_t count;
    const char *undo =
        "PRAGMA writable_schema = ON; DELETE FROM sqlite_schema WHERE name NOT LIKE 'sqlite_%';"
        "PRAGMA writable_schema = OFF; PRAGMA user_version = 0; VACUUM";
    cr_assert_eq(lb_store_open(&store, scratch_path(&s, "old.db"), LB_STORE_WRITE, &err), LB_OK);
    cr_assert_eq(lb_store_execute(store, undo, &err), LB_OK, "%s", lb_error_text(&err));
    cr_assert_eq(lb_store_execute(store, "CREATE TABLE kit_decision (x)", &err), LB_OK);
    lb_store_close(store);

    cr_expect_eq(lb_store_open(&store, s.path, LB_STORE_WRITE, &err), LB_SYSTEM);
    lb_error_free(&err);
    char command[300];
    snprintf(command, sizeof command,
             "test $(sqlite3 '%s' \"SELECT count(*) FROM sqlite_schema WHERE type = 'table'\") = 1", s.path);
    cr_expect_eq(system(command), 0, "half a migration was left behind");

    snprintf(command, sizeof command, "sqlite3 '%s' 'DROP TABLE kit_decision'", s.path);
    cr_assert_eq(system(command), 0);
    cr_assert_eq(lb_store_open(&store, s.path, LB_STORE_WRITE, &err), LB_OK, "%s", lb_error_text(&err));
    cr_expect_eq(
        lb_store_integer(store, "SELECT count(*) FROM sqlite_schema WHERE name = 'fastenings'", &count, &err),
        LB_OK);
    cr_expect_eq(count, 1);
    lb_store_close(store);
    scratch_remove(&s);
}

/* schema/current.sql is what the migrations come to. To renew it: LB_RENEW=1 (then read the difference). */
Test(store, the_migrations_come_to_current_sql)
{
    struct scratch s = scratch_make();
    struct lb_store *store;
    struct lb_statement *st;
    struct lb_buf dump = {0};
    bool row;
    cr_assert_eq(lb_store_open(&store, scratch_path(&s, "x.db"), LB_STORE_WRITE, &err), LB_OK);
    cr_assert_eq(
        lb_store_prepare(
            store, &st, "SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY type DESC, name", &err),
        LB_OK);
    while (lb_step(st, &row, &err) == LB_OK && row)
        lb_buf_printf(&dump, "%s;\n", lb_text(st, 0));
    lb_statement_free(st);
    lb_store_close(store);
    const char *path = LB_TESTS_DIR "/../schema/current.sql";
    if (getenv("LB_RENEW")) {
        FILE *file = fopen(path, "w");
        cr_assert(file);
        fputs(dump.text, file);
        fclose(file);
    }
    size_t length;
    char *current = slurp(path, &length);
    cr_expect(length == dump.length && memcmp(current, dump.text, length) == 0,
              "schema/current.sql is not what the migrations come to");
    free(current);
    lb_buf_free(&dump);
    scratch_remove(&s);
}

Test(store, every_column_of_every_kind_has_its_place)
{
    struct scratch s = scratch_make();
    struct lb_store *store;
    cr_assert_eq(lb_store_open(&store, scratch_path(&s, "x.db"), LB_STORE_WRITE, &err), LB_OK);
    for (int k = 0; k < lb_kind_count; k++) {
        for (int c = 0; c < lb_kinds[k].column_count; c++) {
            char sql[200];
            snprintf(sql, sizeof sql, "SELECT \"%s\".\"%s\" FROM \"%s\"", lb_kinds[k].name,
                     lb_kinds[k].columns[c].name, lb_kinds[k].name);
            cr_expect_eq(lb_store_execute(store, sql, &err), LB_OK, "%s", lb_error_text(&err));
        }
    }
    lb_store_close(store);
    scratch_remove(&s);
}
