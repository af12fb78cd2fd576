/* Find by what service maps say: invented maps and parts that come in as any others do. */
#include "fitting_help.h"
#include "scratch.h"

#include "base/buf.h"
#include "base/date.h"
#include "catalog/lookup.h"
#include "catalog/sources.h"
#include "find/find.h"
#include "garage/fitting.h"
#include "garage/vehicle.h"

static struct lb_error err;

struct map {
    struct scratch s;
    struct lb_store *store;
    struct lb_finder *finder;
    struct lb_find_result *result; /* of the last query */
    char text[4096];
};

static void expect_ok(lb_status status)
{
    cr_assert_eq(status, LB_OK, "%s", lb_error_text(&err));
}

static void put(struct map *x, const char *file, const char *heading, const char *rows)
{
    struct lb_buf text = {0};
    lb_buf_printf(&text, "%s\n%s", heading, rows);
    cr_assert(!text.failed);
    scratch_write(&x->s, file, text.text, text.length);
    lb_buf_free(&text);
}

static void fastenings(struct map *x, const char *rows)
{
    put(x, "fastenings.csv", "platform,component,item,kind,part_type,quantity,reuse,spec,when", rows);
}

static void take_in(struct map *x)
{
    lb_find_close(x->finder);
    fitting_import(x->store, x->s.folder);
    expect_ok(lb_find_open(&x->finder, x->store, &err));
}

static const char usual_parts[] = "Velmora,B-1,flange-bolt,Flange bolt,M6x25\n"
                                  "Velmora,B-2,flange-bolt,Flange bolt,M8x30\n"
                                  "Velmora,B-3,flange-bolt,Flange bolt long,M6x25 8.8\n"
                                  "Velmora,O-1,o-ring,O-ring,20.22x3.53\n"
                                  "Velmora,T-1,thermostat,Thermostat 88,\n"
                                  "Velmora,C-1,spring-clip,Clip,\n"
                                  "Velmora,S-1,thread-sealant,Sealant in a tube,\n"
                                  "Velmora,W-1,water-pump,Water pump,\n"
                                  "Velmora,K-1,caliper,Caliper left,\n";
static const char usual_fastenings[] =
    "orrin-k1,thermostat-housing,housing bolts,bolt,flange-bolt,3,never,M6x25,\n"
    "orrin-k1,water-pump,pump ring,o-ring,o-ring,1,never,20.22x3.53,\n"
    "orrin-k1,caliper,guide pin clip,clip,spring-clip,2,check,,\n";

/* The usual parts and platforms; `rows` of fastenings. */
static struct map map_make(const char *rows)
{
    struct map x = {.s = scratch_make()};
    expect_ok(lb_store_open(&x.store, scratch_path(&x.s, "i.db"), LB_STORE_WRITE, &err));
    expect_ok(lb_lookup_ready(x.store, &err));
    put(&x, "parts.csv", "brand,part_number,part_type,description,spec", usual_parts);
    put(&x, "platforms.csv", "platform,make,model", "orrin-k1,Orrin,Kestrel\nbrae-2,Brae,Heron\n");
    fastenings(&x, rows);
    take_in(&x);
    return x;
}

static void map_remove(struct map *x)
{
    lb_find_free(x->result);
    lb_find_close(x->finder);
    lb_store_close(x->store);
    lb_error_free(&err);
    scratch_remove(&x->s);
}

static void ask(struct map *x, const char *text, const struct lb_shortlist *list, int limit)
{
    struct lb_find_request request = {.text = text, .limit = limit, .today = 20454, .shortlist = list};
    lb_find_free(x->result);
    expect_ok(lb_find(x->finder, &request, &x->result, &err));
}

/* The numbers of the hits that a map has a note for, in their order. */
static const char *mapped(struct map *x, const char *text)
{
    size_t at = 0;
    ask(x, text, NULL, 50);
    x->text[0] = '\0';
    for (size_t i = 0; i < x->result->hit_count; i++)
        if (x->result->hits[i].note && strncmp(x->result->hits[i].note, "for the ", 8) == 0)
            at += (size_t)snprintf(x->text + at, sizeof x->text - at, "%s%s", at ? " " : "",
                                   x->result->hits[i].part_number);
    return x->text;
}

static const struct lb_find_hit *hit_of(const struct map *x, const char *number)
{
    for (size_t i = 0; i < x->result->hit_count; i++)
        if (strcmp(x->result->hits[i].part_number, number) == 0)
            return &x->result->hits[i];
    return NULL;
}

Test(find_map, the_bolts_of_a_component)
{
    struct map x = map_make(usual_fastenings);
    cr_expect_str_eq(mapped(&x, "thermostat bolts"), "B-1 B-3");
    cr_expect_str_eq(x.result->hits[0].part_number, "B-1");
    cr_expect_str_eq(x.result->hits[0].note,
                     "for the thermostat housing of the Kestrel (orrin-k1): 3, never used twice");
    cr_expect_str_eq(mapped(&x, "water pump o-ring"), "O-1");
    cr_expect_str_eq(mapped(&x, "caliper guide pin clip"), "C-1", "words that no title has");
    cr_expect_str_eq(hit_of(&x, "C-1")->note,
                     "for the caliper of the Kestrel (orrin-k1): 2, used again when sound");
    cr_expect_eq(x.result->remark_count, 0, "%s", x.result->remarks[0]);
    map_remove(&x);
}

Test(find_map, careless_words)
{
    struct map x = map_make(usual_fastenings);
    static const char *const same[] = {"thermostats bolt",
                                       "bolt for the thermostat",
                                       "thermostt bolts",
                                       "thermostat blot",
                                       "tstat bolts",
                                       "THERMOSTAT BOLTS",
                                       "thermostat-bolts",
                                       "thermostat bol",
                                       "thermostat housing bolt"};
    for (size_t i = 0; i < sizeof same / sizeof *same; i++)
        cr_expect_str_eq(mapped(&x, same[i]), "B-1 B-3", "%s", same[i]);
    map_remove(&x);
}

/* Neither the component itself, nor what titles know, nor half of what was typed. */
Test(find_map, a_map_has_to_say_more)
{
    struct map x = map_make(usual_fastenings);
    static const char *const none[] = {"thermostat",    "bolts",           "thermostat housing",
                                       "flange bolt",   "water pump",      "thermostat clip",
                                       "caliper bolts", "radiator bolts",  "thermostat bolts left",
                                       "B-1 bolt",      "thermostat M6x25"};
    for (size_t i = 0; i < sizeof none / sizeof *none; i++)
        cr_expect_str_eq(mapped(&x, none[i]), "", "%s", none[i]);
    map_remove(&x);
}

Test(find_map, without_maps_and_without_their_parts)
{
    struct map x = map_make("orrin-k1,thermostat-housing,cover nut,nut,dome-nut,2,always,M6,\n");
    cr_expect_str_eq(mapped(&x, "thermostat nut"), "", "no part is of that type");
    cr_expect_eq(x.result->hit_count, 1);
    lb_find_close(x.finder);
    x.finder = NULL;
    expect_ok(lb_sources_drop(x.store, "fastenings.csv", &err));
    expect_ok(lb_find_open(&x.finder, x.store, &err));
    cr_expect_str_eq(mapped(&x, "thermostat bolts"), "");
    map_remove(&x);
}

Test(find_map, consumables)
{
    struct map x = map_make(usual_fastenings);
    put(&x, "consumables.csv", "platform,component,part_type,quantity,unit",
        "orrin-k1,oil-pressure-sender,thread-sealant,2,mL\n");
    take_in(&x);
    cr_expect_str_eq(mapped(&x, "oil pressure sender sealant"), "S-1");
    cr_expect_str_eq(x.result->hits[0].note, "for the oil pressure sender of the Kestrel (orrin-k1): 2 mL");
    map_remove(&x);
}

Test(find_map, titles_with_all_words_come_first)
{
    struct map x = map_make(usual_fastenings);
    put(&x, "more.csv", "brand,part_number,part_type,description,spec",
        "Halvane,X-1,bolt-set,Set of bolts for the thermostat of many vehicles,\n"
        "Halvane,X-2,thermostat,Thermostat for vans,\n");
    take_in(&x);
    cr_expect_str_eq(mapped(&x, "thermostat bolts"), "B-1 B-3");
    cr_expect_str_eq(x.result->hits[0].part_number, "X-1");
    cr_expect_str_eq(x.result->hits[1].part_number, "B-1");
    cr_expect_str_eq(x.result->hits[2].part_number, "B-3");
    for (size_t i = 1; i < x.result->hit_count; i++)
        cr_expect_geq(x.result->hits[i - 1].score, x.result->hits[i].score);
    map_remove(&x);
}

/* A part that both have is there once, and its title alone counts. */
Test(find_map, a_title_that_has_all_words_anyway)
{
    struct map x = map_make(usual_fastenings);
    put(&x, "more.csv", "brand,part_number,part_type,description,spec",
        "Halvane,X-1,flange-bolt,Flange bolt thermostat,M6x25\n");
    take_in(&x);
    cr_expect_str_eq(mapped(&x, "thermostat bolts"), "X-1 B-1 B-3");
    cr_expect_eq(x.result->total, 5); /* B-2 and T-1 too */
    map_remove(&x);
}

Test(find_map, rows_that_are_gone)
{
    struct map x = map_make(usual_fastenings);
    cr_expect_str_eq(mapped(&x, "thermostat bolts"), "B-1 B-3");
    fastenings(&x, "orrin-k1,thermostat-housing,housing bolts,bolt,flange-bolt,2,always,M8x30,\n"
                   "orrin-k1,water-pump,pump ring,o-ring,o-ring,1,never,20.22x3.53,\n");
    take_in(&x);
    cr_expect_str_eq(mapped(&x, "thermostat bolts"), "B-2");
    cr_expect_str_eq(x.result->hits[0].note, "for the thermostat housing of the Kestrel (orrin-k1): 2");
    cr_expect_str_eq(mapped(&x, "caliper guide pin clip"), "");
    cr_expect_str_eq(mapped(&x, "water pump o-ring"), "O-1", "a row that stayed");
    expect_ok(lb_store_begin(x.store, &err));
    expect_ok(lb_lookup_rebuild(x.store, &err));
    expect_ok(lb_store_commit(x.store, &err));
    take_in(&x);
    cr_expect_str_eq(mapped(&x, "thermostat bolts"), "B-2");
    map_remove(&x);
}

static void add_vehicle(struct map *x, const char *name, const char *make, const char *model)
{
    struct lb_vehicle vehicle = {.name = strdup(name), .interval = {LB_DATE_MIN, LB_DATE_MAX}};
    expect_ok(lb_vehicle_state(&vehicle, "make", make, &err));
    expect_ok(lb_vehicle_state(&vehicle, "model", model, &err));
    expect_ok(lb_vehicle_save(x->store, &vehicle, &err));
    lb_vehicle_free(&vehicle);
}

static void expect_fit(struct map *x, const char *vehicle, const char *number, enum lb_find_fit fit)
{
    struct lb_fitting *fitting;
    expect_ok(lb_fitting_load(&fitting, x->store, vehicle, &err));
    ask(x, "thermostat bolts", lb_fitting_shortlist(fitting), 10);
    const struct lb_find_hit *hit = hit_of(x, number);
    cr_expect(hit && hit->note && hit->fit == fit, "%s %s: %s", vehicle, number,
              hit ? hit->note ? "another fit" : "no note" : "not found");
    lb_fitting_free(fitting);
}

static void expect_none(struct map *x, const char *vehicle, const char *number)
{
    struct lb_fitting *fitting;
    expect_ok(lb_fitting_load(&fitting, x->store, vehicle, &err));
    ask(x, "thermostat bolts", lb_fitting_shortlist(fitting), 10);
    const struct lb_find_hit *hit = hit_of(x, number);
    cr_expect(!hit || !hit->note, "%s %s", vehicle, number);
    lb_fitting_free(fitting);
}

Test(find_map, only_the_platforms_of_the_vehicle)
{
    struct map x = map_make("orrin-k1,thermostat-housing,bolts,bolt,flange-bolt,3,never,M6x25,\n"
                            "brae-2,thermostat,bolts,bolt,flange-bolt,4,always,M8x30,abs = yes\n");
    cr_expect_str_eq(mapped(&x, "thermostat bolts"), "B-1 B-2 B-3");
    add_vehicle(&x, "kes", "Orrin", "Kestrel");
    add_vehicle(&x, "her", "Brae", "Heron");
    add_vehicle(&x, "other", "Brae", "Merlin");
    for (int stored = 0; stored < 2; stored++) {
        expect_fit(&x, "kes", "B-1", LB_FIND_FITS);
        expect_none(&x, "kes", "B-2");
        expect_fit(&x, "her", "B-2", LB_FIND_ASK); /* on a condition */
        expect_none(&x, "her", "B-1");
        expect_none(&x, "other", "B-1");
        expect_none(&x, "other", "B-2");
        expect_ok(lb_fitting_refresh(x.store, &err));
    }
    map_remove(&x);
}

Test(find_map, many_rows_are_bounded)
{
    struct map x = map_make(usual_fastenings);
    struct lb_buf rows = {0}, parts = {0};
    for (int i = 0; i < 3000; i++)
        lb_buf_printf(&rows, "orrin-k1,flap-%d,flap bolt %d,bolt,flange-bolt,1,never,M10x%d,\n", i, i,
                      20 + i % 100);
    for (int i = 0; i < 300; i++)
        for (int k = 0; i < 100 && k < 12; k++)
            lb_buf_printf(&parts, "Velmora,F%03d%02d,flange-bolt,Flange bolt,M10x%d\n", i, k, 20 + i);
    fastenings(&x, lb_buf_text(&rows));
    put(&x, "more.csv", "brand,part_number,part_type,description,spec", lb_buf_text(&parts));
    take_in(&x);
    ask(&x, "flap bolts", NULL, 1000);
    size_t count = 0;
    for (size_t i = 0; i < x.result->hit_count; i++)
        count += x.result->hits[i].note != NULL;
    cr_expect(count >= 60 && count <= 200, "%zu", count); /* ten each of twenty, at the most */
    cr_expect_str_eq(mapped(&x, "flap 2999 bolt"), "", "titles may not have numbers of maps");
    lb_buf_free(&rows);
    lb_buf_free(&parts);
    map_remove(&x);
}

Test(find_map, the_sample)
{
    struct map x = {.s = scratch_make()};
    expect_ok(lb_store_open(&x.store, scratch_path(&x.s, "i.db"), LB_STORE_WRITE, &err));
    expect_ok(lb_lookup_ready(x.store, &err));
    fitting_import(x.store, LB_TESTS_DIR "/../sample-catalog");
    expect_ok(lb_find_open(&x.finder, x.store, &err));
    mapped(&x, "thermostat bolts");
    const struct lb_find_hit *hit = hit_of(&x, "9310-0620");
    cr_assert(hit && hit - x.result->hits < 6);
    cr_expect_str_eq(hit->note, "for the thermostat housing of the Tern (velmora-t2): 3, never used twice");
    map_remove(&x);
}
