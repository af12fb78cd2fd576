/* The lists of the sample's vehicles against what their kits propose. */
#include "fitting_help.h"
#include "scratch.h"

#include "base/date.h"
#include "catalog/lookup.h"
#include "garage/fitting.h"
#include "kit/kit.h"

enum { TODAY = 20000 }; /* 2024-10-04 */

static struct lb_error err;

static void expect_ok(lb_status status)
{
    cr_assert_eq(status, LB_OK, "%s", lb_error_text(&err));
}

static const struct lb_listed_part *find(const struct lb_shortlist *list, const char *key)
{
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->parts[i].key, key) == 0)
            return &list->parts[i];
    return NULL;
}

/* By application, or standing for one that is. */
static bool is_by_application(const struct lb_line *line, const struct lb_candidate *candidate)
{
    while (candidate->through != LB_NO_NAME)
        candidate = &line->candidates[candidate->through];
    return candidate->via == LB_VIA_APPLICATION;
}

/* A kit asks for each place that a line is for; a list takes the best. */
static int compare_candidates(const struct lb_shortlist *list, const struct lb_line *line)
{
    int compared = 0;
    for (size_t i = 0; i < line->candidate_count; i++) {
        const struct lb_candidate *candidate = &line->candidates[i];
        if (!is_by_application(line, candidate))
            continue;
        const struct lb_listed_part *part = find(list, candidate->part->key);
        cr_assert(part, "%s %s is not listed", candidate->part->brand, candidate->part->number);
        cr_expect(candidate->fit != LB_FIT_YES || part->fit == LB_FIND_FITS, "%s %s", candidate->part->brand,
                  candidate->part->number);
        if (part->fit == LB_FIND_ASK && candidate->asks)
            cr_expect_str_eq(part->asks, candidate->asks, "%s %s", candidate->part->brand,
                             candidate->part->number);
        cr_expect_eq(part->row != 0, candidate->part->part_type != NULL);
        compared++;
    }
    return compared;
}

static bool has_candidate(const struct lb_line *line, const char *key)
{
    for (size_t i = 0; i < line->candidate_count; i++)
        if (strcmp(line->candidates[i].part->key, key) == 0)
            return true;
    return false;
}

/* The other way round: a listed part of a line's type that may go anywhere is one of its candidates. */
static int compare_listed(struct lb_store *store, const struct lb_shortlist *list, const struct lb_kit *kit)
{
    struct lb_statement *st;
    int compared = 0;
    bool row;
    expect_ok(lb_store_prepare(store, &st, "SELECT part_type FROM parts WHERE id = ?1", &err));
    for (size_t i = 0; i < list->count; i++) {
        lb_bind_integer(st, 1, list->parts[i].row);
        expect_ok(lb_step(st, &row, &err));
        for (size_t l = 0; row && list->parts[i].position == 0 && l < kit->line_count; l++)
            if (strcmp(kit->lines[l].need->article.part_type, lb_text(st, 0)) == 0) {
                cr_expect(has_candidate(&kit->lines[l], list->parts[i].key), "%s", list->parts[i].key);
                compared++;
            }
        lb_statement_reset(st);
    }
    lb_statement_free(st);
    return compared;
}

static void compare_kit(struct lb_store *store, const struct lb_vehicle *vehicle, const char *job,
                        int *compared)
{
    struct lb_kit *kit;
    struct lb_fitting *fitting;
    char name[64];
    snprintf(name, sizeof name, "%s", job);
    const struct lb_want want = {LB_WANT_JOB, name};
    expect_ok(lb_fitting_load(&fitting, store, vehicle->name, &err));
    expect_ok(lb_kit_build(&kit, store, job, vehicle, &want, 1, TODAY, &err));
    const struct lb_shortlist *list = lb_fitting_shortlist(fitting);
    for (size_t i = 0; i < kit->line_count; i++)
        *compared += compare_candidates(list, &kit->lines[i]);
    *compared += compare_listed(store, list, kit);
    lb_kit_free(kit);
    lb_fitting_free(fitting);
}

struct sample {
    struct scratch s;
    struct lb_store *store;
    struct lb_vehicle vehicle;
};

/* The vehicle as the sample's README adds it. */
static struct sample sample_make(const char *make, const char *model, const char *const (*facts)[2])
{
    struct sample x = {.s = scratch_make()};
    x.vehicle = (struct lb_vehicle){.name = strdup("vehicle"), .interval = {LB_DATE_MIN, LB_DATE_MAX}};
    expect_ok(lb_store_open(&x.store, scratch_path(&x.s, "index.db"), LB_STORE_WRITE, &err));
    expect_ok(lb_lookup_ready(x.store, &err));
    fitting_import(x.store, LB_TESTS_DIR "/../sample-catalog");
    expect_ok(lb_vehicle_state(&x.vehicle, "make", make, &err));
    expect_ok(lb_vehicle_state(&x.vehicle, "model", model, &err));
    for (; (*facts)[0]; facts++)
        expect_ok(lb_vehicle_state(&x.vehicle, (*facts)[0], (*facts)[1], &err));
    expect_ok(lb_vehicle_save(x.store, &x.vehicle, &err));
    expect_ok(lb_fitting_refresh(x.store, &err));
    return x;
}

static void sample_remove(struct sample *x)
{
    lb_vehicle_free(&x->vehicle);
    lb_store_close(x->store);
    scratch_remove(&x->s);
}

Test(fitting_sample, maggie)
{
    static const char *const facts[][2] = {
        {"built", "2004"}, {"engine", "tq20"}, {"gearbox", "manual"}, {"ac", "yes"}, {0}};
    static const char *const jobs[] = {"cooling-system", "timing-drive", "front-brakes", "front-suspension",
                                       "clutch"};
    struct sample x = sample_make("Velmora", "Tern", facts);
    int compared = 0;
    for (size_t i = 0; i < sizeof jobs / sizeof *jobs; i++)
        compare_kit(x.store, &x.vehicle, jobs[i], &compared);
    cr_expect_gt(compared, 200, "%d", compared);
    struct lb_fitting *fitting;
    expect_ok(lb_fitting_load(&fitting, x.store, "vehicle", &err));
    const struct lb_shortlist *list = lb_fitting_shortlist(fitting);
    bool water = false;
    for (size_t i = 0; i < list->fluid_type_count; i++)
        water |= strcmp(list->fluid_types[i], "distilled-water") == 0;
    cr_expect(water);
    lb_fitting_free(fitting);
    sample_remove(&x);
}

Test(fitting_sample, hector)
{
    static const char *const facts[][2] = {{"built", "1999-05"}, {"engine", "bw25"}, {"gearbox", "manual"},
                                           {"drive", "4wd"},     {"ac", "no"},       {0}};
    static const char *const jobs[] = {"cooling-system", "timing-drive", "front-brakes"};
    struct sample x = sample_make("Brannoch", "Pike", facts);
    int compared = 0;
    for (size_t i = 0; i < sizeof jobs / sizeof *jobs; i++)
        compare_kit(x.store, &x.vehicle, jobs[i], &compared);
    cr_expect_gt(compared, 50, "%d", compared);
    sample_remove(&x);
}
