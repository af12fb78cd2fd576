/* Find with a vehicle: lists that come in as any others do, the vehicle's own list, and what is shown of it
 * in which order. */
#include "find_help.h"

#include "garage/fitting.h"
#include "garage/vehicle.h"
#include "report/find_json.h"

struct garage {
    struct scratch s;
    struct lb_store *store;
    struct lb_finder *finder;
    struct lb_fitting *fitting;
    struct lb_find_result *result;
    bool all;
    int limit;
    char text[8192];
};

static struct garage garage_make(void)
{
    struct garage g = {.s = scratch_make(), .limit = 10};
    expect_ok(lb_store_open(&g.store, scratch_path(&g.s, "i.db"), LB_STORE_WRITE, &err));
    expect_ok(lb_lookup_ready(g.store, &err));
    return g;
}

static void put(struct garage *g, const char *file, const char *heading, const char *rows)
{
    char *text;
    cr_assert(asprintf(&text, "%s\n%s", heading, rows) > 0);
    scratch_write(&g->s, file, text, strlen(text));
    free(text);
}

static void put_parts(struct garage *g, const char *rows)
{
    put(g, "parts.csv", "brand,part_number,part_type,description,spec", rows);
}

static void put_applications(struct garage *g, const char *rows)
{
    put(g, "applications.csv", "brand,part_number,make,model,built_from,built_to,when,position", rows);
}

static void add_vehicle(struct garage *g)
{
    struct lb_vehicle vehicle = {.name = strdup("wren"), .interval = {LB_DATE_MIN, LB_DATE_MAX}};
    expect_ok(lb_vehicle_state(&vehicle, "make", "Orrin", &err));
    expect_ok(lb_vehicle_state(&vehicle, "model", "Wren", &err));
    expect_ok(lb_vehicle_state(&vehicle, "engine", "k16", &err));
    expect_ok(lb_vehicle_save(g->store, &vehicle, &err));
    lb_vehicle_free(&vehicle);
}

/* Takes in all that was put down, for the Orrin Wren with the k16 engine. */
static void open_garage(struct garage *g)
{
    const char *const paths[] = {g->s.folder};
    const struct lb_import_options options = {.paths = paths, .path_count = 1, .now = "2026-01-01T00:00:00Z"};
    struct lb_import_result result = {0};
    expect_ok(lb_import(g->store, &options, &result, &err));
    cr_assert_eq(result.rejected, 0);
    lb_import_result_free(&result);
    add_vehicle(g);
    expect_ok(lb_find_open(&g->finder, g->store, &err));
    expect_ok(lb_fitting_load(&g->fitting, g->store, "wren", &err));
}

static void close_garage(struct garage *g)
{
    lb_find_free(g->result);
    lb_fitting_free(g->fitting);
    lb_find_close(g->finder);
    lb_store_close(g->store);
    lb_error_free(&err);
    scratch_remove(&g->s);
}

static void ask(struct garage *g, const char *text)
{
    const struct lb_find_request request = {.text = text,
                                            .limit = g->limit,
                                            .today = 20454,
                                            .shortlist = lb_fitting_shortlist(g->fitting),
                                            .all = g->all};
    lb_find_free(g->result);
    g->result = NULL;
    expect_ok(lb_find(g->finder, &request, &g->result, &err));
}

/* "A-1 fits, A-2 ask built, A-3 ask, A-4 no". */
static const char *hits(struct garage *g, const char *text)
{
    static const char *const words[] = {[LB_FIND_FITS] = "fits", [LB_FIND_ASK] = "ask", [LB_FIND_NO] = "no"};
    size_t at = 0;
    ask(g, text);
    g->text[0] = '\0';
    for (size_t i = 0; i < g->result->hit_count; i++) {
        const struct lb_find_hit *hit = &g->result->hits[i];
        cr_assert_neq(hit->fit, LB_FIND_NO_VEHICLE);
        at += (size_t)snprintf(g->text + at, sizeof g->text - at, "%s%s %s%s%s", i ? ", " : "",
                               hit->part_number, words[hit->fit], hit->asks ? " " : "",
                               hit->asks ? hit->asks : "");
    }
    return g->text;
}

static const char *sentences(struct garage *g, const char *const *list, size_t count)
{
    size_t at = 0;
    g->text[0] = '\0';
    for (size_t i = 0; i < count; i++)
        at += (size_t)snprintf(g->text + at, sizeof g->text - at, "%s%s", i ? "; " : "", list[i]);
    return g->text;
}

static const char *remarks(struct garage *g)
{
    return sentences(g, g->result->remarks, g->result->remark_count);
}

static const char *advice(struct garage *g)
{
    return sentences(g, g->result->advice, g->result->advice_count);
}

static void with_all(struct garage *g, bool all)
{
    g->all = all;
}

Test(find_vehicle, fits_before_ask_before_no_list_before_the_rest)
{
    struct garage g = garage_make();
    put_parts(&g, "Velmora,H-1,hose,Radiator hose,\n"
                  "Velmora,H-2,hose,Radiator hose,\n"
                  "Velmora,H-3,hose,Radiator hose,\n"
                  "Velmora,H-4,hose,Radiator hose,\n"
                  "Velmora,H-5,hose,Radiator hose,\n"
                  "Velmora,H-6,hose,Radiator hose,\n"
                  "Velmora,H-7,hose,Radiator hose,\n");
    put_applications(&g, "Velmora,H-7,Orrin,Wren,,,engine = k16,\n"
                         "Velmora,H-6,Orrin,Wren,,,,\n"
                         "Velmora,H-5,Orrin,Wren,2004-03,,,\n"
                         "Velmora,H-4,Orrin,Wren,,,abs = yes,\n"
                         "Velmora,H-2,Orrin,Lark,,,,\n"
                         "Velmora,H-1,Orrin,Wren,,,engine = k18,\n");
    open_garage(&g);
    cr_assert_str_eq(hits(&g, "radiator hose"), "H-6 fits, H-7 fits, H-4 ask abs, H-5 ask built, H-3 ask");
    cr_assert_eq(g.result->total, 5);
    cr_assert_not(g.result->total_least);
    with_all(&g, true);
    cr_assert_str_eq(hits(&g, "radiator hose"),
                     "H-6 fits, H-7 fits, H-4 ask abs, H-5 ask built, H-3 ask, H-1 no, H-2 no");
    cr_assert_eq(g.result->total, 7);
    g.limit = 3;
    cr_assert_str_eq(hits(&g, "radiator hose"), "H-6 fits, H-7 fits, H-4 ask abs");
    close_garage(&g);
}

Test(find_vehicle, without_a_vehicle_nothing_is_said_of_fit)
{
    struct garage g = garage_make();
    put_parts(&g, "Velmora,H-1,hose,Radiator hose,\n");
    put_applications(&g, "Velmora,H-1,Orrin,Lark,,,,\n");
    open_garage(&g);
    const struct lb_find_request request = {.text = "hose", .limit = 10, .today = 20454};
    expect_ok(lb_find(g.finder, &request, &g.result, &err));
    cr_assert_eq(g.result->hit_count, 1);
    cr_assert_eq(g.result->hits[0].fit, LB_FIND_NO_VEHICLE);
    close_garage(&g);
}

Test(find_vehicle, a_poor_answer_that_fits_comes_behind_a_good_one)
{
    struct garage g = garage_make();
    put_parts(&g, "Velmora,H-1,radiator-hose,Lower radiator hose,\n"
                  "Velmora,H-2,radiator-hose,Radiator hose for export,\n"
                  "Studwell,C-1,lamp,Rear lamp,\n"
                  "Studwell,C-2,clamp,Hose clamp,\n"
                  "Studwell,C-3,washer,Lower washer,\n");
    put_applications(&g, "Velmora,H-1,Orrin,Wren,2004-03,,,\n"
                         "Velmora,H-2,Orrin,Wren,,,,\n");
    open_garage(&g);
    cr_assert_str_eq(hits(&g, "lower radiator hose"), "H-1 ask built, H-2 fits");
    cr_assert_str_eq(hits(&g, "hose clamp"), "C-2 ask", "hardware answers, the hoses hardly");
    cr_assert_str_eq(hits(&g, "lower hose"), "H-1 ask built",
                     "what no list says only when it answers nearly as well");
    close_garage(&g);
}

Test(find_vehicle, fluids_of_the_map_fit)
{
    struct garage g = garage_make();
    put_parts(&g, "Oarlock,O-1,engine-oil,Engine oil 5W-40,\n"
                  "Oarlock,O-2,gearbox-oil,Gearbox oil,\n"
                  "Oarlock,O-3,engine-oil,Engine oil for the Lark,\n"
                  "Velmora,F-1,oil-filter,Oil filter,\n"
                  "Velmora,F-2,sensor,Oil sensor,\n"
                  "Velmora,F-3,pump,Oil pump,\n");
    put_applications(&g, "Oarlock,O-3,Orrin,Lark,,,,\n"
                         "Velmora,F-1,Orrin,Wren,,,,\n"
                         "Velmora,F-2,Orrin,Wren,,,,\n"
                         "Velmora,F-3,Orrin,Wren,,,,\n");
    put(&g, "platforms.csv", "platform,make,model,built_from,built_to,when", "w1,Orrin,Wren,,,\n");
    put(&g, "circuits.csv", "platform,circuit,capacity,fluid_type,spec",
        "w1,engine-oil,4.2,engine-oil,5W-40\n");
    open_garage(&g);
    cr_assert_str_eq(hits(&g, "engine oil"), "O-1 fits");
    g.limit = 3;
    ask(&g, "oil");
    cr_assert(strstr(hits(&g, "oil"), "O-1 fits"), "a page of parts does not hide the fluid: %s", g.text);
    close_garage(&g);
}

Test(find_vehicle, position_words_are_held_against_the_applications)
{
    struct garage g = garage_make();
    put_parts(&g, "Velmora,P-1,brake-pad-set,Brake pads,\n"
                  "Velmora,P-2,brake-pad-set,Brake pads,\n"
                  "Velmora,P-3,brake-pad-set,Brake pads,\n"
                  "Velmora,P-4,brake-pad-set,Brake pads,\n"
                  "Velmora,P-5,spring,Front spring,\n"
                  "Velmora,P-6,lamp,Front lamp,\n"
                  "Velmora,P-7,seal,Front seal,\n"
                  "Velmora,P-8,lamp,Rear lamp,\n"
                  "Velmora,P-9,seal,Rear seal,\n"
                  "Velmora,P-10,spring,Rear spring,\n");
    put_applications(&g, "Velmora,P-1,Orrin,Wren,,,,rear\n"
                         "Velmora,P-2,Orrin,Wren,,,,front\n"
                         "Velmora,P-3,Orrin,Wren,,,,\n"
                         "Velmora,P-4,Orrin,Wren,,,,rear\n"
                         "Velmora,P-4,Orrin,Wren,,,,front\n");
    open_garage(&g);
    cr_assert_str_eq(hits(&g, "brake pads"), "P-1 fits, P-2 fits, P-3 fits, P-4 fits");
    cr_assert_str_eq(hits(&g, "front brake pads"), "P-2 fits, P-4 fits, P-3 fits");
    cr_assert_str_eq(hits(&g, "rear brake pads"), "P-1 fits, P-4 fits, P-3 fits");
    with_all(&g, true);
    static const char first[] = "P-1 fits, P-4 fits, P-3 fits, P-2 fits, ";
    cr_assert_eq(strncmp(hits(&g, "rear brake pads"), first, strlen(first)), 0, "%s", g.text);
    close_garage(&g);
}

static struct garage pumps(void)
{
    struct garage g = garage_make();
    put_parts(&g, "Velmora,1140-0081,water-pump,Water pump first version,\n"
                  "Velmora,1140-0112,water-pump,Water pump second version,\n"
                  "Velmora,1140-0150,water-pump,Water pump third version,\n"
                  "Brannoch,B11-010,water-pump,Water pump diesel,\n"
                  "Brannoch,B11-014,water-pump,Water pump diesel second version,\n"
                  "Halvane,HV-55,water-pump,Water pump diesel,\n"
                  "Studwell,SW-39160,flange-bolt,Flange bolt,M8x1.25x30 8.8\n");
    put_applications(&g, "Velmora,1140-0081,Orrin,Wren,,,,\n"
                         "Brannoch,B11-010,Orrin,Lark,,,,\n");
    put(&g, "supersessions.csv", "brand,part_number,new_brand,new_number,quantity",
        "Velmora,1140-0081,Velmora,1140-0112,1\n"
        "Velmora,1140-0112,Velmora,1140-0150,1\n"
        "Brannoch,B11-010,Brannoch,B11-014,1\n");
    put(&g, "crossrefs.csv", "brand,part_number,other_brand,other_number,relation",
        "Halvane,HV-55,Brannoch,B11-014,same\n");
    open_garage(&g);
    return g;
}

Test(find_vehicle, a_superseded_number_leads_to_the_living_part_that_fits)
{
    struct garage g = pumps();
    cr_assert_str_eq(hits(&g, "1140-0081"), "1140-0081 fits, 1140-0150 fits");
    cr_assert_str_eq(g.result->hits[0].now, "superseded twice; now Velmora 1140-0150");
    cr_assert_str_eq(g.result->hits[1].note, "takes the place of Velmora 1140-0081");
    cr_assert_str_eq(hits(&g, "1140 0112"), "1140-0112 fits, 1140-0150 fits");
    cr_assert_str_eq(remarks(&g), "");
    close_garage(&g);
}

Test(find_vehicle, a_number_for_others_does_not_vanish_without_a_word)
{
    struct garage g = pumps();
    cr_assert_str_eq(hits(&g, "B11-010"), "");
    cr_assert(strstr(remarks(&g), "Brannoch B11-010 is listed for other vehicles: --all shows it"), "%s",
              g.text);
    cr_assert(strstr(advice(&g), "listed for other vehicles alone: --all shows it"), "%s", g.text);
    with_all(&g, true);
    cr_assert_str_eq(hits(&g, "B11-010"), "B11-010 no, B11-014 no");
    cr_assert_str_eq(remarks(&g), "");
    close_garage(&g);
}

Test(find_vehicle, a_number_for_others_is_named_beside_what_fits)
{
    struct garage g = pumps();
    cr_assert_str_eq(hits(&g, "B11-010 water pump"), "1140-0150 fits, 1140-0081 fits, 1140-0112 fits");
    cr_assert(strstr(remarks(&g), "Brannoch B11-010 is listed for other vehicles"), "%s", g.text);
    close_garage(&g);
}

Test(find_vehicle, what_stands_for_a_part_for_others_is_for_others)
{
    struct garage g = pumps();
    cr_assert_str_eq(hits(&g, "diesel water pump"), "1140-0150 fits, 1140-0081 fits, 1140-0112 fits",
                     "neither B11-014 nor HV-55 has rows of its own, but both stand for B11-010");
    cr_assert_str_eq(remarks(&g), "what answers best is listed for other vehicles: --all shows it");
    close_garage(&g);
}

Test(find_vehicle, hardware_by_number_and_by_dimension)
{
    struct garage g = pumps();
    cr_assert_str_eq(hits(&g, "sw39160"), "SW-39160 ask");
    cr_assert_str_eq(hits(&g, "M8x30"), "SW-39160 ask");
    cr_assert_str_eq(hits(&g, "flange bolt m8x30"), "SW-39160 ask");
    cr_assert_str_eq(remarks(&g), "");
    close_garage(&g);
}

Test(find_vehicle, dimensions_of_listed_parts)
{
    struct garage g = garage_make();
    put_parts(&g, "Norrick,N-1,belt,Accessory belt,6PK1200\n"
                  "Norrick,N-2,belt,Accessory belt,6PK1200\n"
                  "Norrick,N-3,belt,Accessory belt,6PK1200\n"
                  "Norrick,N-4,belt,Accessory belt,6PK1205\n");
    put_applications(&g, "Norrick,N-1,Orrin,Lark,,,,\n"
                         "Norrick,N-2,Orrin,Wren,,,ac = yes,\n"
                         "Norrick,N-3,Orrin,Wren,,,,\n"
                         "Norrick,N-4,Orrin,Wren,,,,\n");
    open_garage(&g);
    cr_assert_str_eq(hits(&g, "6PK1200"), "N-3 fits, N-4 fits, N-2 ask ac");
    with_all(&g, true);
    cr_assert_str_eq(hits(&g, "6pk 1200"), "N-3 fits, N-4 fits, N-2 ask ac, N-1 no");
    close_garage(&g);
}

Test(find_vehicle, nothing_fits)
{
    struct garage g = garage_make();
    put_parts(&g, "Velmora,S-1,skid-plate,Skid plate,\n"
                  "Velmora,H-1,hose,Radiator hose,\n");
    put_applications(&g, "Velmora,S-1,Orrin,Lark,,,,\n"
                         "Velmora,H-1,Orrin,Wren,,,,\n");
    open_garage(&g);
    cr_assert_str_eq(hits(&g, "skid plate"), "");
    cr_assert_eq(g.result->total, 0);
    cr_assert_str_eq(advice(&g), "what was found is listed for other vehicles alone: --all shows it");
    cr_assert_str_eq(hits(&g, "zzzz"), "");
    cr_assert(strstr(advice(&g), "parts for other vehicles: add --all"), "%s", g.text);
    with_all(&g, true);
    cr_assert_str_eq(hits(&g, "skid plate"), "S-1 no");
    cr_assert_str_eq(hits(&g, "zzzz"), "");
    cr_assert_not(strstr(advice(&g), "--all"), "all was looked at: %s", g.text);
    close_garage(&g);
}

Test(find_vehicle, a_vehicle_that_no_list_knows)
{
    struct garage g = garage_make();
    put_parts(&g, "Velmora,H-1,hose,Radiator hose,\n"
                  "Velmora,H-2,hose,Radiator hose,\n");
    put_applications(&g, "Velmora,H-1,Orrin,Lark,,,,\n");
    open_garage(&g);
    cr_assert_eq(lb_fitting_shortlist(g.fitting)->count, 0);
    cr_assert_str_eq(hits(&g, "radiator hose"), "H-2 ask");
    close_garage(&g);
}

/* Many like parts, so that the vehicle's own fill any page. */
static struct garage many(int own, int others)
{
    struct garage g = garage_make();
    char *parts = malloc((size_t)(own + others) * 64), *listed = malloc((size_t)(own + others) * 64);
    char *p = parts, *l = listed;
    cr_assert(parts && listed);
    for (int i = 0; i < own + others; i++) {
        p += sprintf(p, "Velmora,H-%03d,hose,Radiator hose,\n", i);
        l += sprintf(l, "Velmora,H-%03d,Orrin,%s,,,%s,\n", i, i < own ? "Wren" : "Lark",
                     i % 3 == 2 ? "abs = yes" : "");
    }
    put_parts(&g, parts);
    put_applications(&g, listed);
    free(parts);
    free(listed);
    open_garage(&g);
    return g;
}

Test(find_vehicle, totals_count_what_is_not_shown)
{
    struct garage g = many(90, 40);
    ask(&g, "radiator hose");
    cr_assert_eq(g.result->hit_count, 10);
    cr_assert_eq(g.result->total, 90);
    cr_assert(g.result->total_least, "whether some are in no list was not asked");
    g.limit = 200;
    ask(&g, "radiator hose");
    cr_assert_eq(g.result->hit_count, 90);
    cr_assert_eq(g.result->total, 90);
    cr_assert_not(g.result->total_least);
    with_all(&g, true);
    ask(&g, "radiator hose");
    cr_assert_eq(g.result->hit_count, 130);
    cr_assert_eq(g.result->total, 130);
    close_garage(&g);
}

Test(find_vehicle, ties_have_one_order_whatever_the_page)
{
    struct garage g = many(90, 0);
    char *first;
    cr_assert_str_eq(hits(&g, "radiator hose"),
                     "H-000 fits, H-001 fits, H-003 fits, H-004 fits, H-006 fits, H-007 fits, H-009 fits, "
                     "H-010 fits, H-012 fits, H-013 fits");
    first = strdup(g.text);
    g.limit = 80;
    cr_assert_eq(strncmp(hits(&g, "radiator hose"), first, strlen(first)), 0, "%s", g.text);
    free(first);
    cr_assert(strstr(g.text, "H-088 fits, H-002 ask abs, H-005 ask abs"), "%s", g.text);
    close_garage(&g);
}

Test(find_vehicle, json_says_how_it_fits)
{
    struct garage g = pumps();
    ask(&g, "sw39160");
    json_t *object = lb_report_find_json("sw39160", g.result, false);
    const json_t *hit = json_array_get(json_object_get(object, "hits"), 0);
    cr_assert_str_eq(json_string_value(json_object_get(hit, "fit")), "ask");
    cr_assert(json_is_null(json_object_get(hit, "asks")));
    json_decref(object);
    with_all(&g, true);
    ask(&g, "B11-010");
    object = lb_report_find_json("B11-010", g.result, false);
    hit = json_array_get(json_object_get(object, "hits"), 0);
    cr_assert_str_eq(json_string_value(json_object_get(hit, "fit")), "no");
    json_decref(object);
    with_all(&g, false);
    ask(&g, "1140-0081");
    object = lb_report_find_json("1140-0081", g.result, false);
    hit = json_array_get(json_object_get(object, "hits"), 0);
    cr_assert_str_eq(json_string_value(json_object_get(hit, "fit")), "fits");
    json_decref(object);
    close_garage(&g);
}
