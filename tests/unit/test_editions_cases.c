/* Editions that are awkward: all of it changed, rows of any size, files that break off. */
#include "scratch.h"

#include "base/buf.h"
#include "catalog/spans.h"
#include "catalog/import.h"
#include "catalog/lookup.h"
#include "catalog/partkey.h"
#include "catalog/sources.h"

#ifdef LB_HAVE_ARCHIVE
#include <zlib.h>
#endif

static struct lb_error err;

struct index {
    struct scratch s;
    struct lb_store *store;
    struct lb_import_result result; /* of the last import */
};

static void expect_ok(lb_status status)
{
    cr_assert_eq(status, LB_OK, "%s", lb_error_text(&err));
}

static struct index index_make(void)
{
    struct index x = {.s = scratch_make()};
    expect_ok(lb_store_open(&x.store, scratch_path(&x.s, "index.db"), LB_STORE_WRITE, &err));
    expect_ok(lb_lookup_ready(x.store, &err));
    return x;
}

static void index_remove(struct index *x)
{
    lb_import_result_free(&x->result);
    lb_store_close(x->store);
    scratch_remove(&x->s);
}

static void put_file(struct index *x, const char *name, struct lb_buf *text)
{
    cr_assert(!text->failed);
    scratch_write(&x->s, name, text->text, text->length);
    lb_buf_free(text);
}

/* Everything in the folder. */
static const struct lb_imported_file *import(struct index *x, const char *supplier)
{
    const char *const paths[] = {x->s.folder};
    const struct lb_import_options options = {
        .paths = paths, .path_count = 1, .supplier = supplier, .now = "2026-01-01T00:00:00Z"};
    lb_import_result_free(&x->result);
    expect_ok(lb_import(x->store, &options, &x->result, &err));
    return x->result.files.at;
}

static int64_t ask(struct index *x, const char *sql)
{
    int64_t value;
    expect_ok(lb_store_integer(x->store, sql, &value, &err));
    return value;
}

static void expect_change(const struct lb_imported_file *file, int64_t added, int64_t changed,
                          int64_t unchanged, int64_t removed)
{
    cr_expect_null(file->problem, "%s", file->problem);
    cr_expect(file->change.added == added && file->change.changed == changed &&
                  file->change.unchanged == unchanged && file->change.removed == removed,
              "%s: %lld added, %lld changed, %lld unchanged, %lld removed", file->file,
              (long long)file->change.added, (long long)file->change.changed,
              (long long)file->change.unchanged, (long long)file->change.removed);
}

/* How many rows of parts the lookup has for `Halvane NUMBER`. */
static int64_t count_parts(struct index *x, const char *number)
{
    struct lb_lookup *lookup;
    struct lb_buf key = {0}, ids = {0}, sql = {0};
    lb_part_key(&key, "Halvane", number);
    expect_ok(lb_lookup_open(&lookup, x->store, &err));
    expect_ok(lb_lookup_part(lookup, lb_buf_text(&key), &ids, &err));
    lb_lookup_close(lookup);
    lb_buf_printf(&sql,
                  "SELECT count(*)" LB_PLACED("parts") "WHERE r.id IN (SELECT value FROM json_each('%s'))",
                  ids.text);
    int64_t count = ask(x, sql.text);
    lb_buf_free(&key);
    lb_buf_free(&ids);
    lb_buf_free(&sql);
    return count;
}

static void write_offers(struct index *x, int count, int price, const char *supplier)
{
    struct lb_buf text = {0};
    lb_buf_printf(&text, "%sbrand,part_number,price,currency\n", supplier ? "supplier," : "");
    for (int i = 0; i < count; i++)
        lb_buf_printf(&text, "%s%sHalvane,H-%d,%d.00,EUR\n", supplier ? supplier : "", supplier ? "," : "", i,
                      price + i);
    put_file(x, "offers.csv", &text);
}

Test(editions, every_price_changes)
{
    struct index x = index_make();
    enum { COUNT = 3000 };
    for (int price = 1; price < 5; price++) {
        write_offers(&x, COUNT, price, "orlop");
        const struct lb_imported_file *file = import(&x, NULL);
        expect_change(file, price == 1 ? COUNT : 0, price == 1 ? 0 : COUNT, 0, 0);
        cr_expect_eq(ask(&x, "SELECT count(*) FROM price_was"), (price - 1) * COUNT);
        cr_expect_eq(ask(&x, "SELECT sum(count) FROM span"), COUNT);
        cr_expect_lt(ask(&x, "SELECT count(*) FROM offers"), 2 * COUNT, "nothing was tidied");
    }
    cr_expect_eq(
        ask(&x,
            "SELECT group_concat(price) = '100,200,300' FROM price_was WHERE row = (SELECT r.id" LB_PLACED(
                "offers") "WHERE r.part_number = 'H-0')"),
        1);
    index_remove(&x);
}

/* The text of a row says nothing of what is fixed for the whole file. */
Test(editions, another_supplier_is_fixed)
{
    struct index x = index_make();
    write_offers(&x, 20, 5, NULL);
    expect_change(import(&x, "orlop"), 20, 0, 0, 0);
    expect_change(import(&x, "quillon"), 20, 0, 0, 20);
    cr_expect_eq(ask(&x, "SELECT count(*)" LB_PLACED("offers") "WHERE r.supplier = 'quillon'"), 20);
    expect_change(import(&x, "quillon"), 0, 0, 20, 0);
    index_remove(&x);
}

static void append_long(struct lb_buf *text, int number, size_t length, char letter)
{
    lb_buf_printf(text, "Halvane,L-%d,hose,", number);
    for (size_t i = 0; i < length; i++)
        lb_buf_putc(text, i % 7 == 6 ? ' ' : letter);
    lb_buf_puts(text, ".\n");
}

/* Rows larger than a batch, and more of them than the spool keeps in memory. */
Test(editions, rows_of_any_size)
{
    struct index x = index_make();
    enum { LONG = 90, SHORT = 50 };
    for (char letter = 'a'; letter < 'd'; letter++) {
        struct lb_buf text = {0};
        lb_buf_puts(&text, "brand,part_number,part_type,description\n");
        for (int i = 0; i < LONG; i++)
            append_long(&text, i, i == 70 ? 900000 : i % 3 ? 90000 : 270000, letter);
        for (int i = 0; i < SHORT; i++)
            append_long(&text, LONG + i, 5, letter);
        put_file(&x, "parts.csv", &text);
        const struct lb_imported_file *file = import(&x, NULL);
        expect_change(file, letter == 'a' ? LONG + SHORT : 0, letter == 'a' ? 0 : LONG + SHORT, 0, 0);
        cr_expect_eq(ask(&x, "SELECT max(length(r.description))" LB_PLACED("parts")), 900001);
        cr_expect_eq(ask(&x, "SELECT sum(length(r.description))" LB_PLACED("parts")),
                     30 * 270001 + 59 * 90001 + 900001 + SHORT * 6);
        cr_expect_eq(ask(&x, "SELECT count(*)" LB_PLACED("parts") "WHERE r.description LIKE 'a%'"),
                     letter == 'a' ? LONG + SHORT : 0);
    }
    index_remove(&x);
}

/* Each row with `words` words that no other has. */
static void append_parts(struct lb_buf *text, const char *prefix, int count, int words)
{
    lb_buf_puts(text, "brand,part_number,part_type,description\n");
    for (int i = 0; i < count; i++) {
        lb_buf_printf(text, "Halvane,%s-%d,hose,x", prefix, i);
        for (int w = 0; w < words; w++)
            lb_buf_printf(text, " q%xz%x", i, w);
        lb_buf_puts(text, "\n");
    }
}

static void put_parts(struct index *x, const char *name, const char *prefix, int count)
{
    struct lb_buf text = {0};
    append_parts(&text, prefix, count, 1);
    put_file(x, name, &text);
}

#ifdef LB_HAVE_ARCHIVE

/* As zlib writes it, and without its end. */
static void put_cut_gz(struct index *x, const char *name, struct lb_buf *text)
{
    uLongf room = compressBound(text->length) + 64;
    unsigned char *out = malloc(room);
    z_stream z = {.next_in = (unsigned char *)text->text,
                  .avail_in = (uInt)text->length,
                  .next_out = out,
                  .avail_out = (uInt)room};
    cr_assert(out && deflateInit2(&z, 1, Z_DEFLATED, 15 + 16, 8, Z_DEFAULT_STRATEGY) == Z_OK);
    cr_assert_eq(deflate(&z, Z_FINISH), Z_STREAM_END);
    scratch_write(&x->s, name, out, z.total_out - z.total_out / 50 - 9);
    deflateEnd(&z);
    free(out);
    lb_buf_free(text);
}

static const struct lb_imported_file *file_of(const struct index *x, const char *name)
{
    for (size_t i = 0; i < x->result.files.count; i++)
        if (strcmp(x->result.files.at[i].file, name) == 0)
            return &x->result.files.at[i];
    cr_assert_fail("%s?", name);
    return NULL;
}

static void expect_unusable(const struct index *x, const char *name)
{
    const struct lb_imported_file *file = file_of(x, name);
    cr_expect_eq(x->result.unusable, 1);
    cr_expect(file->problem && strstr(file->problem, "cut off"), "%s", file->problem);
    cr_expect_eq(file->change.added + file->change.changed + file->change.unchanged + file->change.removed,
                 0);
}

/* So much of it was good that a part of the lookup was written while it was read; what the file before it is
 * found by went along. */
Test(editions, one_of_three_breaks_off)
{
    struct index x = index_make();
    struct lb_buf text = {0};
    put_parts(&x, "a.csv", "A", 300);
    append_parts(&text, "B", 30000, 14);
    put_cut_gz(&x, "b.csv.gz", &text);
    put_parts(&x, "c.csv", "C", 300);
    import(&x, NULL);
    expect_unusable(&x, "b.csv.gz");
    expect_change(file_of(&x, "a.csv"), 300, 0, 0, 0);
    expect_change(file_of(&x, "c.csv"), 300, 0, 0, 0);
    cr_expect_eq(ask(&x, "SELECT count(*) FROM source"), 2);
    cr_expect_eq(ask(&x, "SELECT count(*) FROM parts"), 600);
    cr_expect_eq(ask(&x, "SELECT sum(count) FROM span"), 600);
    for (int i = 0; i < 300; i += 7) {
        char number[16];
        for (char prefix = 'A'; prefix <= 'C'; prefix++) {
            snprintf(number, sizeof number, "%c%d", prefix, i);
            cr_assert_eq(count_parts(&x, number), prefix != 'B', "%s", number);
        }
    }
    index_remove(&x);
}

Test(editions, an_edition_that_breaks_off_changes_nothing)
{
    struct index x = index_make();
    struct lb_buf text = {0};
    static const char rows[] = "SELECT sum(r.id * 31 + " LB_PLACE_LINE ")" LB_PLACED("parts");
    append_parts(&text, "B", 8000, 1);
    gzFile gz = gzopen(scratch_path(&x.s, "b.csv.gz"), "wb");
    cr_assert(gz && gzwrite(gz, text.text, (unsigned)text.length) == (int)text.length);
    cr_assert_eq(gzclose(gz), Z_OK);
    lb_buf_free(&text);
    expect_change(import(&x, NULL), 8000, 0, 0, 0);
    int64_t before = ask(&x, rows);
    append_parts(&text, "B", 9000, 1);
    text.text[text.length / 2] = '!';
    put_cut_gz(&x, "b.csv.gz", &text);
    import(&x, NULL);
    expect_unusable(&x, "b.csv.gz");
    cr_expect_eq(ask(&x, rows), before);
    cr_expect_eq(ask(&x, "SELECT count(*) FROM parts"), 8000);
    cr_expect_eq(ask(&x, "SELECT stale FROM state"), 0);
    cr_expect_eq(ask(&x, "SELECT rows_read FROM source"), 8000);
    cr_expect_eq(count_parts(&x, "B7999"), 1);
    index_remove(&x);
}

#endif

Test(editions, a_source_that_is_dropped)
{
    struct index x = index_make();
    put_parts(&x, "a.csv", "A", 2000);
    put_parts(&x, "b.csv", "B", 2000);
    import(&x, NULL);
    expect_ok(lb_sources_drop(x.store, "a.csv", &err));
    cr_expect_eq(ask(&x, "SELECT sum(count) FROM span"), 2000);
    cr_expect_eq(ask(&x, "SELECT count(*) FROM parts"), 2000);
    cr_expect_eq(ask(&x, "SELECT stale FROM state"), 0, "half of the lookup is stale, and stays so");
    cr_expect_eq(count_parts(&x, "A7"), 0);
    cr_expect_eq(count_parts(&x, "B7"), 1);
    index_remove(&x);
}
