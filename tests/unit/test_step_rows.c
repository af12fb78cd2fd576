/* What belongs to which step, on maps by hand and on random ones against an independent reading. */
#include "plan/step_rows.h"

#include "base/decimal.h"
#include "plan/wrenches.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct lb_error err;
static const char *const sources[] = {"map.csv"};

static struct lb_map_fastening bolt(uint32_t component, enum lb_reuse reuse, enum lb_level at, uint32_t joint,
                                    int64_t quantity)
{
    return (struct lb_map_fastening){
        .component = component,
        .article = {.part_type = "bolt", .quantity = quantity * LB_MILLION, .unit = "each"},
        .item = "bolt",
        .kind = "bolt",
        .reuse = reuse,
        .at = at,
        .joint = joint};
}

static uint32_t step_of(const struct lb_plan *plan, const char *verb, uint32_t component)
{
    for (uint32_t i = 0; i < plan->step_count; i++)
        if (strcmp(plan->steps[i].verb, verb) == 0 && !plan->steps[i].thing.is_circuit &&
            plan->steps[i].thing.id == component)
            return i;
    cr_assert_fail("no step %s %u", verb, component);
    return 0;
}

/* The belt must still be on to hold the pulley while its bolts are loosened. */
Test(step_rows, what_is_loosened_first_is_undone_there_and_comes_out_later)
{
    static const char *const names[] = {"belt", "pulley"};
    const struct lb_map_fastening rows[] = {bolt(1, LB_REUSE_NEVER, LB_LOOSENED, 0, 4),
                                            bolt(1, LB_REUSE_NEVER, LB_REMOVED, 0, 1)};
    const struct lb_map_access access[] = {
        {.thing = {0, 1}, .needs = 0, .state = LB_REMOVED, .to = LB_REMOVED}};
    const struct lb_map_sequence sequences[] = {
        {.first = {"loosen", {0, 1}}, .then = {"remove", {0, 0}}, .note = "the belt holds it"},
        {.first = {"fit", {0, 0}}, .then = {"tighten", {0, 1}}}};
    const struct lb_map map = {.sources = sources,
                               .components = names,
                               .component_count = 2,
                               .fastenings = rows,
                               .fastening_count = 2,
                               .access = access,
                               .access_count = 1,
                               .sequences = sequences,
                               .sequence_count = 2};
    const struct lb_target target = {.row = {.source = LB_NO_NAME}, .thing = {0, 1}};
    struct lb_plan *plan;
    struct lb_step_rows *steps;
    cr_assert_eq(lb_plan_make(&plan, &map, &target, 1, &err), LB_OK, "%s", lb_error_text(&err));
    cr_assert_eq(lb_step_rows_make(&steps, plan, &err), LB_OK);
    cr_assert_eq(steps->fastened_count, 2);
    const struct lb_fastened *hardware = &steps->fastened[0], *seal = &steps->fastened[1];
    cr_expect_eq(hardware->undone, step_of(plan, "loosen", 1));
    cr_expect_eq(hardware->out, step_of(plan, "remove", 1));
    cr_expect_eq(hardware->in, step_of(plan, "fit", 1));
    cr_expect_eq(hardware->tight, step_of(plan, "tighten", 1));
    cr_expect_eq(seal->undone, seal->out);
    cr_expect_eq(seal->in, seal->tight);
    uint32_t loosen = step_of(plan, "loosen", 1);
    const struct lb_step_row *first = &steps->at[steps->start[loosen]];
    cr_expect_eq(first->kind, LB_ROW_SEQUENCE);
    cr_expect_eq(first->other, step_of(plan, "remove", 0));
    cr_expect_eq(first[1].kind, LB_ROW_FASTENED);
    cr_expect_eq(first[1].roles, LB_IS_UNDONE);
    lb_step_rows_free(steps);
    lb_plan_free(plan);
}

/* One clamp holds hose and housing: once, off with the first and on with the last; largest and strictest. */
Test(step_rows, a_joint_is_undone_once)
{
    static const char *const names[] = {"hose", "housing"};
    const struct lb_map_fastening rows[] = {bolt(0, LB_REUSE_CHECK, LB_LOOSENED, 1, 1),
                                            bolt(0, LB_REUSE_ALWAYS, LB_LOOSENED, 0, 2),
                                            bolt(1, LB_REUSE_NEVER, LB_LOOSENED, 1, 3)};
    const struct lb_map_access access[] = {{.thing = {0, 1}, .needs = 0, .state = LB_REMOVED}};
    const struct lb_map map = {.sources = sources,
                               .components = names,
                               .component_count = 2,
                               .fastenings = rows,
                               .fastening_count = 3,
                               .joint_count = 1,
                               .access = access,
                               .access_count = 1};
    const struct lb_target target = {.row = {.source = LB_NO_NAME}, .thing = {0, 1}};
    struct lb_plan *plan;
    struct lb_step_rows *steps;
    cr_assert_eq(lb_plan_make(&plan, &map, &target, 1, &err), LB_OK, "%s", lb_error_text(&err));
    cr_assert_eq(lb_step_rows_make(&steps, plan, &err), LB_OK);
    cr_assert_eq(steps->fastened_count, 2);
    const struct lb_fastened *joint = &steps->fastened[0];
    cr_expect_eq(joint->row_count, 2);
    cr_expect_eq(joint->rows[1], 2);
    cr_expect_eq(joint->reuse, LB_REUSE_NEVER);
    cr_expect_eq(joint->quantity, 3 * LB_MILLION);
    cr_expect_eq(joint->out, step_of(plan, "remove", 0));
    cr_expect_eq(joint->in, step_of(plan, "fit", 0));
    cr_expect_eq(steps->fastened[1].rows[0], 1);
    lb_step_rows_free(steps);
    lb_plan_free(plan);
}

enum { COMPONENTS = 12, FASTENINGS = 30, JOINTS = 4, ACCESS = 14, SEQUENCES = 4 };

static uint64_t seed;

static uint32_t dice(uint32_t sides)
{
    seed = seed * 6364136223846793005U + 1442695040888963407U;
    return (uint32_t)(seed >> 33) % sides;
}

struct random_map {
    char names[COMPONENTS][8];
    const char *name_list[COMPONENTS];
    struct lb_map_fastening fastenings[FASTENINGS];
    struct lb_map_access access[ACCESS];
    struct lb_map_sequence sequences[SEQUENCES];
    struct lb_map map;
};

static void make_map(struct random_map *m)
{
    static const char *const verbs[] = {"loosen", "tighten", "remove", "fit"};
    *m = (struct random_map){0};
    for (uint32_t i = 0; i < COMPONENTS; i++) {
        snprintf(m->names[i], sizeof m->names[i], "c%u", i);
        m->name_list[i] = m->names[i];
    }
    for (uint32_t i = 0; i < FASTENINGS; i++)
        m->fastenings[i] = bolt(dice(COMPONENTS), (enum lb_reuse)dice(3), (enum lb_level)(1 + dice(3)),
                                dice(3) ? 0 : 1 + dice(JOINTS), 1 + dice(9));
    for (uint32_t i = 0; i < ACCESS; i++) { /* needs a higher one: no loops */
        uint32_t thing = dice(COMPONENTS - 1);
        m->access[i] = (struct lb_map_access){.thing = {0, thing},
                                              .needs = thing + 1 + dice(COMPONENTS - thing - 1),
                                              .state = (enum lb_level)(1 + dice(3)),
                                              .to = (enum lb_level)dice(4)};
    }
    for (uint32_t i = 0; i < SEQUENCES; i++)
        m->sequences[i] = (struct lb_map_sequence){.first = {verbs[dice(4)], {0, dice(COMPONENTS)}},
                                                   .then = {verbs[dice(4)], {0, dice(COMPONENTS)}}};
    m->map = (struct lb_map){.sources = sources,
                             .components = m->name_list,
                             .component_count = COMPONENTS,
                             .joint_count = JOINTS,
                             .fastenings = m->fastenings,
                             .fastening_count = FASTENINGS,
                             .access = m->access,
                             .access_count = ACCESS,
                             .sequences = m->sequences,
                             .sequence_count = SEQUENCES};
}

/* By the words of the steps alone: where a component comes off and goes back, and where it is loosened and
 * tightened. */
static void read_steps(const struct lb_plan *plan, uint32_t component, uint32_t at[4])
{
    static const char *const off[] = {"remove", "set-aside", "loosen"}, *const back[] = {"fit", "refit",
                                                                                         "tighten"};
    at[0] = at[1] = at[2] = at[3] = LB_NO_STEP;
    for (uint32_t i = 0; i < plan->step_count; i++) {
        if (plan->steps[i].thing.id != component)
            continue;
        const char *verb = plan->steps[i].verb;
        const char *own_off = off[LB_REMOVED - plan->levels[component]];
        const char *own_back = back[LB_REMOVED - plan->levels[component]];
        at[0] = strcmp(verb, "loosen") == 0 ? i : at[0];
        at[1] = strcmp(verb, own_off) == 0 ? i : at[1];
        at[2] = strcmp(verb, own_back) == 0 ? i : at[2];
        at[3] = strcmp(verb, "tighten") == 0 ? i : at[3];
    }
}

static void expect_placed(const struct lb_plan *plan, const struct lb_step_rows *steps, uint32_t fastening)
{
    const struct lb_map_fastening *row = &plan->map->fastenings[fastening];
    uint32_t undone = LB_NO_STEP, out = LB_NO_STEP, in = 0, tight = 0, first = LB_NO_STEP;
    for (uint32_t i = 0; i < plan->map->fastening_count; i++) { /* all that are one with it */
        const struct lb_map_fastening *other = &plan->map->fastenings[i];
        uint32_t at[4];
        if (plan->levels[other->component] < other->at ||
            (i != fastening && (!row->joint || other->joint != row->joint)))
            continue;
        read_steps(plan, other->component, at);
        bool loose = other->at == LB_LOOSENED;
        uint32_t own_undone = loose && at[0] != LB_NO_STEP ? at[0] : at[1];
        uint32_t own_tight = loose && at[3] != LB_NO_STEP ? at[3] : at[2];
        undone = own_undone < undone ? own_undone : undone;
        out = at[1] < out ? at[1] : out;
        in = at[2] > in ? at[2] : in;
        tight = own_tight > tight ? own_tight : tight;
        first = first == LB_NO_STEP ? i : first;
    }
    size_t found[4] = {0};
    for (uint32_t s = 0; s < plan->step_count; s++)
        for (uint32_t i = steps->start[s]; i < steps->start[s + 1]; i++) {
            const struct lb_step_row *entry = &steps->at[i];
            if (entry->kind != LB_ROW_FASTENED || steps->fastened[entry->index].rows[0] != first)
                continue;
            const uint32_t want[] = {undone, out, in, tight};
            for (unsigned k = 0; k < 4; k++) {
                cr_expect_eq((entry->roles >> k & 1U) != 0, want[k] == s);
                found[k] += entry->roles >> k & 1U;
            }
        }
    for (unsigned k = 0; k < 4; k++)
        cr_expect_eq(found[k], 1, "role %u of %u: %zu times", k, fastening, found[k]);
}

Test(step_rows, random_maps_as_read_from_the_steps)
{
    int planned = 0, loosened = 0;
    for (uint64_t n = 1; n <= 2000; n++) {
        struct random_map m;
        struct lb_plan *plan;
        struct lb_step_rows *steps;
        seed = n;
        make_map(&m);
        const struct lb_target targets[] = {{.row = {.source = LB_NO_NAME}, .thing = {0, dice(4)}},
                                            {.row = {.source = LB_NO_NAME}, .thing = {0, dice(COMPONENTS)}}};
        if (lb_plan_make(&plan, &m.map, targets, 2, &err) != LB_OK)
            continue; /* sequence rows that contradict access */
        cr_assert_eq(lb_step_rows_make(&steps, plan, &err), LB_OK);
        planned++;
        for (uint32_t i = 0; i < FASTENINGS; i++)
            if (plan->levels[m.fastenings[i].component] >= m.fastenings[i].at)
                expect_placed(plan, steps, i);
        for (size_t i = 0; i < steps->fastened_count; i++)
            loosened += steps->fastened[i].undone != steps->fastened[i].out;
        lb_step_rows_free(steps);
        lb_plan_free(plan);
    }
    cr_expect_gt(planned, 1000, "%d plans", planned);
    cr_expect_gt(loosened, 100, "%d loosened first", loosened);
    lb_error_free(&err);
}

Test(step_rows, an_empty_plan_has_no_rows)
{
    const struct lb_map map = {0};
    const struct lb_plan plan = {.map = &map};
    struct lb_step_rows *steps;
    cr_assert_eq(lb_step_rows_make(&steps, &plan, &err), LB_OK);
    cr_expect_eq(steps->start[0], 0);
    cr_expect_eq(steps->fastened_count, 0);
    lb_step_rows_free(steps);
    lb_step_rows_free(NULL);
}

/* "2 8 9 22 110" and what wrenches serve them. */
static void expect_wrenches(const int64_t *values, size_t count, const int64_t *want, size_t groups)
{
    int64_t torques[16];
    struct lb_wrench wrenches[16];
    memcpy(torques, values, count * sizeof *values);
    cr_assert_eq(lb_wrenches(torques, count, wrenches), groups);
    size_t served = 0;
    for (size_t i = 0; i < groups; i++) {
        cr_expect_eq(wrenches[i].least, want[2 * i]);
        cr_expect_eq(wrenches[i].most, want[2 * i + 1]);
        served += wrenches[i].count;
    }
    cr_expect_eq(served, count);
}

Test(wrenches, values_that_are_five_times_apart_share_one)
{
    expect_wrenches((const int64_t[]){22, 2, 110, 9, 8}, 5, (const int64_t[]){2, 9, 22, 110}, 2);
    expect_wrenches((const int64_t[]){10, 50}, 2, (const int64_t[]){10, 50}, 1);
    expect_wrenches((const int64_t[]){10, 51}, 2, (const int64_t[]){10, 10, 51, 51}, 2);
    expect_wrenches((const int64_t[]){7}, 1, (const int64_t[]){7, 7}, 1);
    expect_wrenches((const int64_t[]){1, INT64_MAX}, 2, (const int64_t[]){1, 1, INT64_MAX, INT64_MAX}, 2);
    cr_expect_eq(lb_wrenches(NULL, 0, NULL), 0);
}
