/* What fits a vehicle: the rows judged, what stands for them, the stored list and its stamp. */
#include "fitting_help.h"
#include "scratch.h"

#include "base/buf.h"
#include "base/date.h"
#include "base/fingerprint.h"
#include "base/hash.h"
#include "base/position.h"
#include "catalog/import.h"
#include "catalog/lookup.h"
#include "catalog/partkey.h"
#include "catalog/sources.h"
#include "catalog/title.h"
#include "garage/fitting.h"
#include "garage/vehicle.h"

static struct lb_error err;

struct index {
    struct scratch s;
    struct lb_store *store;
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
    lb_store_close(x->store);
    scratch_remove(&x->s);
    lb_error_free(&err);
}

void fitting_import(struct lb_store *store, const char *folder)
{
    const char *const paths[] = {folder};
    const struct lb_import_options options = {.paths = paths, .path_count = 1, .now = "2026-01-01T00:00:00Z"};
    struct lb_import_result result = {0};
    expect_ok(lb_import(store, &options, &result, &err));
    for (size_t i = 0; i < result.files.count; i++)
        cr_assert_null(result.files.at[i].problem, "%s", result.files.at[i].problem);
    cr_assert_eq(result.rejected, 0, "%s", result.files.at[0].refusals[0]);
    lb_import_result_free(&result);
}

static void import(struct index *x)
{
    fitting_import(x->store, x->s.folder);
}

static void put(struct index *x, const char *file, const char *text)
{
    scratch_write(&x->s, file, text, strlen(text));
}

/* Writes applications.csv and imports all that is in the folder. */
static void list(struct index *x, const char *rows)
{
    struct lb_buf text = {0};
    lb_buf_printf(&text, "brand,part_number,make,model,built_from,built_to,when,position\n%s", rows);
    cr_assert(!text.failed);
    put(x, "applications.csv", text.text);
    lb_buf_free(&text);
    import(x);
}

/* `facts`: "engine=k16 ac=yes"; NULL: none. */
static void add_vehicle(struct index *x, const char *name, const char *model, const char *facts)
{
    struct lb_vehicle vehicle = {.name = strdup(name), .interval = {LB_DATE_MIN, LB_DATE_MAX}};
    char *copy = strdup(facts ? facts : ""), *rest = copy;
    expect_ok(lb_vehicle_state(&vehicle, "make", "Orrin", &err));
    expect_ok(lb_vehicle_state(&vehicle, "model", model, &err));
    for (char *fact; (fact = strsep(&rest, " "));)
        if (*fact) {
            char *value = strchr(fact, '=');
            *value = '\0';
            expect_ok(lb_vehicle_state(&vehicle, fact, value + 1, &err));
        }
    expect_ok(lb_vehicle_save(x->store, &vehicle, &err));
    lb_vehicle_free(&vehicle);
    free(copy);
}

static void state(struct index *x, const char *name, const char *key, const char *value)
{
    struct lb_vehicle vehicle;
    expect_ok(lb_vehicle_load(x->store, name, &vehicle, &err));
    expect_ok(lb_vehicle_state(&vehicle, key, value, &err));
    expect_ok(lb_vehicle_save(x->store, &vehicle, &err));
    lb_vehicle_free(&vehicle);
}

static struct lb_fitting *load(struct index *x, const char *vehicle)
{
    struct lb_fitting *fitting;
    expect_ok(lb_fitting_load(&fitting, x->store, vehicle, &err));
    cr_assert_not_null(fitting);
    return fitting;
}

/* "H1 fits, H2 asks built, H3 fits 5": numbers with fit and position; all are Halvane's. */
static void write_parts(const struct lb_shortlist *list, struct lb_buf *out)
{
    lb_buf_clear(out);
    for (size_t i = 0; i < list->count; i++) {
        const struct lb_listed_part *part = &list->parts[i];
        lb_buf_printf(out, "%s%s %s", i ? "; " : "", lb_part_key_number(part->key),
                      part->fit == LB_FIND_FITS ? "fits" : "asks");
        cr_expect((part->fit == LB_FIND_ASK) == (part->asks != NULL));
        if (part->asks)
            lb_buf_printf(out, " %s", part->asks);
        if (part->position)
            lb_buf_printf(out, " at %u", part->position);
    }
}

static void expect_parts(struct index *x, const char *vehicle, const char *expected)
{
    struct lb_buf seen = {0};
    struct lb_fitting *fitting = load(x, vehicle);
    write_parts(lb_fitting_shortlist(fitting), &seen);
    cr_expect_str_eq(lb_buf_text(&seen), expected);
    lb_buf_free(&seen);
    lb_fitting_free(fitting);
}

static int64_t ask(struct index *x, const char *sql)
{
    int64_t value;
    expect_ok(lb_store_integer(x->store, sql, &value, &err));
    return value;
}

Test(fitting, rows_are_judged)
{
    struct index x = index_make();
    list(&x, "Halvane,H-1,Orrin,Wren,,,,\n"
             "Halvane,H-2,ORRIN,wren,2001-03,,,\n"
             "Halvane,H-3,Orrin,Wren,,,engine = k16,\n"
             "Halvane,H-4,Orrin,Wren,,,engine = k18,\n"
             "Halvane,H-5,Orrin,Lark,,,,\n"
             "Halvane,H-6,Orrin,Wren,,2000-12,abs = yes,\n");
    add_vehicle(&x, "maggie", "Wren", "engine=k16 built=2001");
    expect_parts(&x, "maggie", "H1 fits; H2 asks built; H3 fits");
    state(&x, "maggie", "built", "2001-05");
    expect_parts(&x, "maggie", "H1 fits; H2 fits; H3 fits");
    state(&x, "maggie", "built", "");
    expect_parts(&x, "MAGGIE", "H1 fits; H2 asks built; H3 fits; H6 asks abs, built");
    index_remove(&x);
}

Test(fitting, several_rows_of_one_part)
{
    struct index x = index_make();
    list(&x, "Halvane,H-1,Orrin,Wren,,,abs = yes,front\n" /* the best counts, and only its place */
             "Halvane,H 1,Orrin,Wren,,,engine = k16,rear left\n"
             "Halvane,H-1,Orrin,Wren,,,engine = k16,rear right\n"
             "Halvane,H-2,Orrin,Wren,2002,,,left\n" /* all facts of the rows that are open, each once */
             "Halvane,H-2,Orrin,Wren,,,abs = yes,\n"
             "Halvane,H-2,Orrin,Wren,,,abs = no ; engine = k16,left\n"
             "Halvane,H-2,Orrin,Wren,,,engine = k18,left\n"
             "Halvane,H-3,Orrin,Wren,,,engine = k18,\n" /* none is open */
             "Halvane,H-3,Orrin,Wren,,,engine = k20,\n"
             "Halvane,H-4,Orrin,Wren,,,engine = k18,front\n"
             "Halvane,H-4,Orrin,Wren,,,,\n");
    add_vehicle(&x, "maggie", "Wren", "engine=k16");
    lb_position both;
    char expected[100];
    cr_assert(lb_position_parse("rear left right", &both));
    snprintf(expected, sizeof expected, "H1 fits at %u; H2 asks abs, built; H4 fits", both);
    expect_parts(&x, "maggie", expected);
    index_remove(&x);
}

Test(fitting, what_stands_for_a_listed_part)
{
    struct index x = index_make();
    add_vehicle(&x, "maggie", "Wren", "built=2001");
    put(&x, "crossrefs.csv",
        "brand,part_number,other_brand,other_number,relation\n"
        "Halvane,A-1,Halvane,A-2,same\n" /* there and back, on and on */
        "Halvane,A-3,Halvane,A-2,same\n"
        "Halvane,A-4,Halvane,A-3,same\n"
        "Halvane,A-1,Halvane,A-4,same\n"
        "Halvane,B-1,Halvane,A-4,instead\n" /* one way, once; nothing is the same as it */
        "Halvane,A-4,Halvane,B-2,instead\n"
        "Halvane,B-3,Halvane,B-1,instead\n"
        "Halvane,B-1,Halvane,B-4,same\n"
        "Halvane,C-1,Halvane,C-3,same\n"
        "Halvane,C-4,Halvane,C-2,instead\n");
    put(&x, "supersessions.csv",
        "brand,part_number,new_brand,new_number,quantity\n"
        "Halvane,A-2,Halvane,C-1,1\n"
        "Halvane,B-1,Halvane,C-2,1\n"
        "Halvane,C-2,Halvane,C-5,1\n"
        "Halvane,C-5,Halvane,A-1,1\n"); /* in a circle */
    list(&x, "Halvane,A-1,Orrin,Wren,,,,left\n");
    expect_parts(&x, "maggie",
                 "A1 fits at 4; A2 fits at 4; A3 fits at 4; A4 fits at 4; B1 fits at 4; C1 fits at 4; "
                 "C2 fits at 4; C3 fits at 4; C5 fits at 4");
    index_remove(&x);
}

Test(fitting, own_rows_say_otherwise)
{
    struct index x = index_make();
    add_vehicle(&x, "maggie", "Wren", "engine=k16");
    put(&x, "crossrefs.csv",
        "brand,part_number,other_brand,other_number,relation\n"
        "Halvane,A-1,Halvane,A-2,same\n" /* A-2 is false: nothing goes through it */
        "Halvane,A-2,Halvane,A-3,same\n"
        "Halvane,A-1,Halvane,A-4,same\n" /* A-4 hangs on abs, and so does what stands for it alone */
        "Halvane,A-4,Halvane,A-5,same\n"
        "Halvane,A-6,Halvane,A-5,instead\n"
        "Halvane,A-6,Halvane,A-1,instead\n" /* but this fits by A-1 */
        "Halvane,A-7,Halvane,A-1,same\n");  /* listed for another model only */
    list(&x, "Halvane,A-1,Orrin,Wren,,,,\n"
             "Halvane,A-2,Orrin,Wren,,,engine = k18,\n"
             "Halvane,A-4,Orrin,Wren,,,abs = yes,\n"
             "Halvane,A-7,Orrin,Lark,,,,\n");
    /* A-5 is the same as A-4, which is the same as A-1; but A-4's own row decides. */
    expect_parts(&x, "maggie", "A1 fits; A4 asks abs; A5 asks abs; A6 fits; A7 fits");
    index_remove(&x);
}

Test(fitting, best_of_those_that_it_stands_for)
{
    struct index x = index_make();
    add_vehicle(&x, "maggie", "Wren", NULL);
    put(&x, "crossrefs.csv",
        "brand,part_number,other_brand,other_number,relation\n"
        "Halvane,A-1,Halvane,Z-1,same\n"
        "Halvane,Z-1,Halvane,A-2,same\n"
        "Halvane,Z-1,Halvane,A-3,same\n"
        "Halvane,B-2,Halvane,Z-2,same\n"
        "Halvane,Z-2,Halvane,B-1,same\n");
    list(&x, "Halvane,A-1,Orrin,Wren,,,abs = yes,\n"
             "Halvane,A-2,Orrin,Wren,,,,left\n"
             "Halvane,A-3,Orrin,Wren,,,,front\n"
             "Halvane,B-1,Orrin,Wren,,,zoom = yes,left\n"
             "Halvane,B-2,Orrin,Wren,,,ac = yes,right\n");
    expect_parts(&x, "maggie",
                 "A1 asks abs; A2 fits at 4; A3 fits at 1; B1 asks zoom at 4; B2 asks ac at 8; Z1 fits at 5; "
                 "Z2 asks ac at 12");
    index_remove(&x);
}

/* A part key is written into a question as JSON. */
Test(fitting, odd_numbers)
{
    struct index x = index_make();
    add_vehicle(&x, "maggie", "Wren", NULL);
    put(&x, "crossrefs.csv",
        "brand,part_number,other_brand,other_number,relation\n"
        "\"Ha\"\"l\\vane\",*,\"Ö'brand\\u0041\",--,same\n");
    list(&x, "\"Ha\"\"l\\vane\",*,Orrin,Wren,,,,\n");
    expect_parts(&x, "maggie", "* fits; -- fits");
    index_remove(&x);
}

Test(fitting, rows_of_parts)
{
    struct index x = index_make();
    struct lb_buf key = {0};
    add_vehicle(&x, "maggie", "Wren", NULL);
    put(&x, "b.csv", "brand,part_number,part_type,description\nHalvane,H-1,hose,later\n");
    put(&x, "a.csv",
        "brand,part_number,part_type,description\n"
        "Halvane,H-2,hose,other\nHALVANE,H 1,hose,first\nHalvane,H-1,hose,second\n");
    list(&x, "Halvane,H-1,Orrin,Wren,,,,\nHalvane,H-9,Orrin,Wren,,,,\n");
    struct lb_fitting *fitting = load(&x, "maggie");
    const struct lb_shortlist *list = lb_fitting_shortlist(fitting);
    cr_assert_eq(list->count, 2);
    cr_expect_str_eq(list->vehicle, "maggie");
    lb_part_key(&key, "Halvane", "H1");
    cr_expect_str_eq(list->parts[0].key, lb_buf_text(&key));
    cr_expect_eq(list->parts[0].row, ask(&x, "SELECT id FROM parts WHERE description = 'first'"));
    cr_expect_eq(list->parts[1].row, 0, "nobody describes it");
    cr_expect_eq(list->parts[1].word_count, 0);
    lb_fitting_free(fitting);
    lb_buf_free(&key);
    index_remove(&x);
}

Test(fitting, fluids)
{
    struct index x = index_make();
    add_vehicle(&x, "maggie", "Wren", "engine=k16 gearbox=manual");
    put(&x, "platforms.csv",
        "platform,make,model,built_from,built_to,when\n"
        "wren-petrol,Orrin,Wren,,,engine = k16\n"
        "wren-diesel,Orrin,Wren,,,engine = d20\n"
        "wren-late,Orrin,Wren,2004,,\n" /* may be */
        "lark,Orrin,Lark,,,\n");
    put(&x, "circuits.csv",
        "platform,circuit,capacity,fluid_type,mix_percent,diluent_type,when\n"
        "wren-petrol,coolant,6,coolant-concentrate,50,water,\n"
        "wren-petrol,gearbox,2,gear-oil,,,gearbox = manual\n"
        "wren-petrol,automatic,7,gearbox-fluid,,,gearbox = automatic\n"
        "wren-diesel,fuel,7,diesel-fluid,,,\n"
        "wren-late,coolant,6,coolant-late,,,\n"
        "lark,coolant,6,coolant-lark,,,\n");
    put(&x, "consumables.csv",
        "platform,component,part_type,quantity,unit\n"
        "wren-petrol,water-pump,sealant,20,g\n"
        "wren-petrol,thermostat,sealant,5,g\n"
        "wren-diesel,water-pump,glue,20,g\n");
    list(&x, "");
    struct lb_fitting *fitting = load(&x, "maggie");
    const struct lb_shortlist *list = lb_fitting_shortlist(fitting);
    static const char *const expected[] = {"coolant-concentrate", "coolant-late", "gear-oil", "sealant",
                                           "water"};
    cr_expect_eq(list->count, 0);
    cr_assert_eq(list->fluid_type_count, sizeof expected / sizeof *expected);
    for (size_t i = 0; i < list->fluid_type_count; i++)
        cr_expect_str_eq(list->fluid_types[i], expected[i]);
    lb_fitting_free(fitting);
    index_remove(&x);
}

Test(fitting, nothing_is_listed)
{
    struct index x = index_make();
    add_vehicle(&x, "maggie", "Wren", NULL);
    for (int stored = 0; stored < 2; stored++) {
        struct lb_fitting *fitting = load(&x, "maggie");
        const struct lb_shortlist *list = lb_fitting_shortlist(fitting);
        cr_expect(list->count == 0 && list->fluid_type_count == 0);
        cr_expect_str_eq(list->vehicle, "maggie");
        lb_fitting_free(fitting);
        expect_ok(lb_fitting_refresh(x.store, &err));
        cr_expect_eq(ask(&x, "SELECT count(*) FROM fitting"), 1);
    }
    index_remove(&x);
}

Test(fitting, unknown_vehicle)
{
    struct index x = index_make();
    struct lb_fitting *fitting;
    add_vehicle(&x, "maggie", "Wren", NULL);
    cr_assert_eq(lb_fitting_load(&fitting, x.store, "magie", &err), LB_DATA);
    cr_expect_null(fitting);
    cr_expect(strstr(lb_error_text(&err), "\"maggie\""), "%s", lb_error_text(&err));
    lb_fitting_free(NULL);
    index_remove(&x);
}

static void expect_same(const struct lb_shortlist *a, const struct lb_shortlist *b)
{
    cr_assert_eq(a->count, b->count);
    cr_assert_eq(a->fluid_type_count, b->fluid_type_count);
    cr_expect_str_eq(a->vehicle, b->vehicle);
    for (size_t i = 0; i < a->fluid_type_count; i++)
        cr_expect_str_eq(a->fluid_types[i], b->fluid_types[i]);
    for (size_t i = 0; i < a->count; i++) {
        const struct lb_listed_part *p = &a->parts[i], *q = &b->parts[i];
        cr_expect_str_eq(p->key, q->key);
        cr_expect(p->row == q->row && p->fit == q->fit && p->position == q->position &&
                      p->length == q->length && p->type_words == q->type_words &&
                      p->word_count == q->word_count,
                  "%s", p->key);
        cr_expect_str_eq(p->asks ? p->asks : "", q->asks ? q->asks : "");
        for (size_t w = 0; w < p->word_count; w++)
            cr_expect(p->words[w].stem == q->words[w].stem && p->words[w].place == q->words[w].place);
        cr_expect(i == 0 || strcmp(a->parts[i - 1].key, p->key) < 0);
    }
}

static const char three_rows[] = "Halvane,H-1,Orrin,Wren,,,,\n"
                                 "Halvane,H-2,Orrin,Wren,2001-03,,,left\n"
                                 "Halvane,H-3,Orrin,Wren,,,abs = no,\n";
static const char three_parts[] = "H1 fits; H2 asks built at 4; H3 asks abs";

static void list_three(struct index *x)
{
    put(x, "parts.csv",
        "brand,part_number,part_type,description\n"
        "Halvane,H-1,radiator-hose,HOSE RAD UPR\nHalvane,H-2,radiator,\n");
    put(x, "consumables.csv", "platform,component,part_type,quantity,unit\nwren,pump,sealant,20,g\n");
    put(x, "platforms.csv", "platform,make,model\nwren,Orrin,Wren\n");
    list(x, three_rows);
}

Test(fitting, stored_is_what_is_made)
{
    struct index x = index_make();
    add_vehicle(&x, "maggie", "Wren", NULL);
    list_three(&x);
    struct lb_fitting *made = load(&x, "maggie");
    cr_expect_eq(ask(&x, "SELECT count(*) FROM fitting"), 0, "loading stores nothing");
    expect_ok(lb_fitting_refresh(x.store, &err));
    cr_expect_eq(ask(&x, "SELECT count(*) FROM fitting"), 1);
    /* That it is read and not made again shows when the rows that it was made from are out of sight. */
    expect_ok(lb_store_execute(x.store, "DELETE FROM applications", &err));
    struct lb_fitting *stored = load(&x, "maggie");
    expect_same(lb_fitting_shortlist(made), lb_fitting_shortlist(stored));
    cr_expect_eq(lb_fitting_shortlist(stored)->count, 3);
    cr_expect_eq(lb_fitting_shortlist(stored)->fluid_type_count, 1);
    lb_fitting_free(made);
    lb_fitting_free(stored);
    index_remove(&x);
}

Test(fitting, stamp)
{
    struct index x = index_make();
    add_vehicle(&x, "maggie", "Wren", NULL);
    add_vehicle(&x, "otto", "Lark", NULL);
    list_three(&x);
    expect_ok(lb_fitting_refresh(x.store, &err));
    expect_parts(&x, "maggie", three_parts);
    expect_parts(&x, "otto", "");
    expect_ok(lb_fitting_refresh(x.store, &err));
    import(&x); /* the same bytes */
    int64_t own = ask(&x, "SELECT total_changes()");
    expect_ok(lb_fitting_refresh(x.store, &err));
    cr_expect_eq(ask(&x, "SELECT total_changes()"), own, "nothing was out of date");

    list(&x, "Halvane,H-1,Orrin,Wren,,,,\nHalvane,H-8,Orrin,Lark,,,,\n");
    expect_parts(&x, "maggie", "H1 fits");
    expect_parts(&x, "otto", "H8 fits");
    expect_ok(lb_fitting_refresh(x.store, &err));
    expect_ok(lb_store_execute(x.store, "SAVEPOINT hidden; DELETE FROM applications", &err));
    expect_parts(&x, "maggie", "H1 fits");
    expect_ok(lb_store_execute(x.store, "ROLLBACK TO hidden; RELEASE hidden", &err));

    put(&x, "offers.csv", "supplier,brand,part_number,price,currency\norlop,Halvane,H-1,7.00,EUR\n");
    import(&x);
    own = ask(&x, "SELECT total_changes()");
    expect_ok(lb_fitting_refresh(x.store, &err));
    cr_expect_eq(ask(&x, "SELECT total_changes()"), own, "prices have no say in it");

    expect_ok(lb_sources_drop(x.store, "applications.csv", &err));
    expect_parts(&x, "maggie", "");
    index_remove(&x);
}

/* The same bytes under the same name, but other rows. */
Test(fitting, stamp_of_a_source_that_comes_back)
{
    struct index x = index_make();
    add_vehicle(&x, "maggie", "Wren", NULL);
    put(&x, "parts.csv", "brand,part_number,part_type\nHalvane,H-1,hose\n");
    list(&x, "Halvane,H-1,Orrin,Wren,,,,\n");
    expect_ok(lb_fitting_refresh(x.store, &err));
    expect_ok(lb_sources_drop(x.store, "parts.csv", &err));
    struct lb_fitting *fitting = load(&x, "maggie");
    cr_expect_eq(lb_fitting_shortlist(fitting)->parts[0].row, 0);
    lb_fitting_free(fitting);
    import(&x);
    fitting = load(&x, "maggie");
    cr_expect_eq(lb_fitting_shortlist(fitting)->parts[0].row, ask(&x, "SELECT max(id) FROM parts"));
    lb_fitting_free(fitting);
    index_remove(&x);
}

/* A row that moves within its file, or a source that comes earlier, may make another row the first. */
Test(fitting, stamp_knows_the_order_of_rows)
{
    struct index x = index_make();
    add_vehicle(&x, "maggie", "Wren", NULL);
    put(&x, "parts.csv",
        "brand,part_number,part_type,description\n"
        "Halvane,H-1,hose,one\nHALVANE,H1,hose,two\n");
    list(&x, "Halvane,H-1,Orrin,Wren,,,,\n");
    expect_ok(lb_fitting_refresh(x.store, &err));
    put(&x, "parts.csv",
        "brand,part_number,part_type,description\n"
        "HALVANE,H1,hose,two\nHalvane,H-1,hose,one\n");
    import(&x);
    struct lb_fitting *fitting = load(&x, "maggie");
    cr_expect_eq(lb_fitting_shortlist(fitting)->parts[0].row,
                 ask(&x, "SELECT max(id) FROM parts WHERE description = 'two'"));
    lb_fitting_free(fitting);
    index_remove(&x);
}

/* Whatever byte is wrong, and wherever the bytes end: the list is made anew. */
Test(fitting, damaged_bytes)
{
    struct index x = index_make();
    struct lb_statement *spoil, *cut;
    add_vehicle(&x, "maggie", "Wren", NULL);
    list_three(&x);
    expect_ok(lb_fitting_refresh(x.store, &err));
    int64_t length = ask(&x, "SELECT length(parts) FROM fitting");
    cr_assert(length > 100);
    expect_ok(lb_store_execute(x.store, "CREATE TEMP TABLE good AS SELECT * FROM fitting", &err));
    expect_ok(lb_store_prepare(
        x.store, &spoil,
        "UPDATE fitting SET parts = (SELECT CAST(substr(parts, 1, ?1) || "
        "CASE hex(substr(parts, ?1 + 1, 1)) WHEN 'FF' THEN x'00' ELSE x'FF' END || substr(parts, ?1 + 2) "
        "AS BLOB) FROM good)",
        &err));
    expect_ok(lb_store_prepare(x.store, &cut,
                               "UPDATE fitting SET parts = (SELECT substr(parts, 1, ?1) FROM good)", &err));
    for (int64_t at = 0; at < length; at++) {
        lb_bind_integer(spoil, 1, at);
        expect_ok(lb_run(spoil, &err));
        expect_parts(&x, "maggie", three_parts);
        lb_bind_integer(cut, 1, at);
        expect_ok(lb_run(cut, &err));
        expect_parts(&x, "maggie", three_parts);
    }
    lb_statement_free(spoil);
    lb_statement_free(cut);
    index_remove(&x);
}

static bool has_word(const struct lb_listed_part *part, const char *stem, uint32_t place)
{
    uint32_t hash = (uint32_t)lb_hash(LB_HASH_START, stem, strlen(stem));
    for (size_t i = 0; i < part->word_count; i++)
        if (part->words[i].stem == hash)
            return part->words[i].place == place;
    return false;
}

/* The example of catalog/title.h. */
Test(fitting, words_of_titles)
{
    struct index x = index_make();
    add_vehicle(&x, "maggie", "Wren", NULL);
    list_three(&x);
    for (int stored = 0; stored < 2; stored++) {
        struct lb_fitting *fitting = load(&x, "maggie");
        const struct lb_listed_part *parts = lb_fitting_shortlist(fitting)->parts;
        cr_expect(parts[0].word_count == 5 && parts[0].length == 4 && parts[0].type_words == 2);
        cr_expect(has_word(&parts[0], "radiat", 0) && has_word(&parts[0], "hose", 1) &&
                  has_word(&parts[0], "rad", 2) && has_word(&parts[0], "upr", 3));
        cr_expect(has_word(&parts[0], "halvan", LB_PLACE_BRAND));
        cr_expect(parts[1].word_count == 2 && parts[1].length == 1 && parts[1].type_words == 1);
        cr_expect_eq(parts[2].word_count, 0);
        lb_fitting_free(fitting);
        expect_ok(lb_fitting_refresh(x.store, &err));
    }
    cr_expect_eq(ask(&x, "SELECT titles FROM state"), 2, "titles are counted when they are taken in only");
    index_remove(&x);
}

/* Reads all that a list leads to; the sanitizers see whether it is there. */
static size_t walk(const struct lb_shortlist *list)
{
    size_t sum = strlen(list->vehicle);
    for (size_t i = 0; i < list->fluid_type_count; i++)
        sum += strlen(list->fluid_types[i]);
    for (size_t i = 0; i < list->count; i++) {
        const struct lb_listed_part *part = &list->parts[i];
        sum += strlen(part->key) + (part->asks ? strlen(part->asks) : 0);
        for (size_t w = 0; w < part->word_count; w++)
            sum += part->words[w].stem;
    }
    return sum;
}

/* The bytes add up, but say what cannot be: each number in turn is another, and the sum is right again. */
Test(fitting, bytes_of_a_liar)
{
    static const uint32_t lies[] = {0, 1, 2, 500, 0x7FFFFFFF, 0x80000000, 0xFFFFFFFE, 0xFFFFFFFF};
    struct index x = index_make();
    struct lb_statement *get, *set;
    struct lb_buf good = {0}, bytes = {0};
    size_t length;
    bool row;
    add_vehicle(&x, "maggie", "Wren", NULL);
    list_three(&x);
    expect_ok(lb_fitting_refresh(x.store, &err));
    expect_ok(lb_store_prepare(x.store, &get, "SELECT parts FROM fitting", &err));
    expect_ok(lb_store_prepare(x.store, &set, "UPDATE fitting SET parts = ?1", &err));
    expect_ok(lb_step(get, &row, &err));
    const char *stored = lb_blob(get, 0, &length);
    lb_buf_append(&good, stored, length);
    lb_statement_free(get);
    for (size_t at = 8; at + 4 <= good.length; at += 4)
        for (size_t lie = 0; lie < sizeof lies / sizeof *lies; lie++) {
            lb_buf_clear(&bytes);
            lb_buf_append(&bytes, good.text, good.length);
            memcpy(bytes.text + at, &lies[lie], sizeof *lies);
            uint64_t sum = lb_fingerprint_of(bytes.text + 8, bytes.length - 8);
            memcpy(bytes.text, &sum, sizeof sum);
            lb_bind_blob(set, 1, bytes.text, bytes.length);
            expect_ok(lb_run(set, &err));
            struct lb_fitting *fitting = load(&x, "maggie");
            cr_expect_gt(walk(lb_fitting_shortlist(fitting)), 0);
            lb_fitting_free(fitting);
        }
    lb_statement_free(set);
    lb_buf_free(&good);
    lb_buf_free(&bytes);
    index_remove(&x);
}

Test(fitting, read_only)
{
    struct index x = index_make();
    struct lb_store *writer = x.store;
    add_vehicle(&x, "maggie", "Wren", NULL);
    list_three(&x);
    expect_ok(lb_store_open(&x.store, scratch_path(&x.s, "index.db"), LB_STORE_READ, &err));
    expect_parts(&x, "maggie", three_parts);
    lb_store_close(x.store);
    x.store = writer;
    expect_ok(lb_fitting_refresh(x.store, &err));
    expect_ok(lb_store_open(&x.store, scratch_path(&x.s, "index.db"), LB_STORE_READ, &err));
    expect_parts(&x, "maggie", three_parts);
    lb_store_close(x.store);
    x.store = writer;
    index_remove(&x);
}

Test(fitting, refresh_is_not_for_transactions)
{
    struct index x = index_make();
    expect_ok(lb_store_begin(x.store, &err));
    expect_ok(
        lb_store_execute(x.store, "INSERT INTO vehicle (name, make, model) VALUES ('a', 'b', 'c')", &err));
    cr_expect_eq(lb_fitting_refresh(x.store, &err), LB_SYSTEM);
    expect_ok(lb_store_commit(x.store, &err)); /* it is still ours */
    cr_expect_eq(ask(&x, "SELECT count(*) FROM vehicle"), 1);
    expect_ok(lb_fitting_refresh(x.store, &err));
    cr_expect_eq(ask(&x, "SELECT count(*) FROM fitting"), 1);
    index_remove(&x);
}
