/* The order of work on generated maps, held against a reading of the contract of its own. */
#include "order_of_work_help.h"

enum { MAPS = 10000 };

static void expect_steps(const struct work_map *m, const struct lb_plan *plan, int number, int *place)
{
    for (int i = 0; i < m->step_count; i++)
        place[i] = -1;
    for (size_t i = 0; i < plan->step_count; i++) {
        int step = find_step(m, plan->steps[i].verb, index_of(plan->steps[i].thing));
        cr_assert(step >= 0, "map %d: %s, which is no step", number, plan->steps[i].verb);
        cr_assert_eq(place[step], -1, "map %d: %s twice", number, m->steps[step]);
        place[step] = (int)i;
    }
    cr_assert_eq(plan->step_count, (size_t)m->step_count, "map %d", number);
}

static void expect_rules(const struct work_map *m, const int *place, int number)
{
    enum force kept = !go_round(m, WEAK, NULL) ? WEAK : !go_round(m, STRONG, NULL) ? STRONG : FIRM;
    for (int i = 0; i < m->rule_count; i++) {
        const struct rule *rule = &m->rules[i];
        if (rule->force <= kept)
            cr_assert_lt(place[rule->before], place[rule->after], "map %d: %s must come before %s (%s:%u)",
                         number, m->steps[rule->before], m->steps[rule->after], sources[rule->source],
                         rule->row + 2);
    }
}

/* The rows that the message names, as bits by source. */
static void read_places(const char *words, unsigned *rows)
{
    for (int source = ACCESS; source <= OPENS; source++) {
        char start[32];
        snprintf(start, sizeof start, "(%s:", sources[source]);
        for (const char *at = words; (at = strstr(at, start)); at++)
            rows[source] |= 1U << (atoi(at + strlen(start)) - 2);
    }
}

/* The named rows contradict each other, and without any one of them they do not. */
static int expect_minimal(const struct work_map *m, const char *words, int number)
{
    unsigned rows[4] = {0};
    int count = 0;
    read_places(words, rows);
    cr_assert(go_round(m, FIRM, rows), "map %d: no contradiction: %s", number, words);
    for (int source = ACCESS; source <= OPENS; source++) {
        for (unsigned row = 0; row < ROWS; row++) {
            if (!(rows[source] >> row & 1))
                continue;
            rows[source] ^= 1U << row;
            cr_assert_not(go_round(m, FIRM, rows), "map %d: %s:%u is not needed: %s", number, sources[source],
                          row + 2, words);
            rows[source] ^= 1U << row;
            count++;
        }
    }
    return count;
}

Test(order_of_work, generated_maps)
{
    int seen[ROWS] = {0}, fine = 0, given_way = 0;
    state = 1868;
    for (int n = 0; n < MAPS; n++) {
        struct work_map *m = malloc(sizeof *m);
        struct lb_error err = {0};
        struct lb_plan *plan;
        int place[STEPS];
        cr_assert_not_null(m);
        draw(m);
        read_map(m);
        lb_status status = lb_plan_make(&plan, &m->map, m->targets, m->target_count, &err);
        bool contradiction = go_round(m, FIRM, NULL);
        cr_assert_eq(status, contradiction ? LB_DATA : LB_OK, "map %d: %s", n, lb_error_text(&err));
        if (contradiction) {
            seen[expect_minimal(m, lb_error_text(&err), n)]++;
        } else {
            expect_steps(m, plan, n, place);
            expect_rules(m, place, n);
            fine++;
            given_way += go_round(m, WEAK, NULL);
        }
        lb_error_free(&err);
        lb_plan_free(plan);
        free(m);
    }
    /* The maps say something only if orders, wishes that give way and contradictions of all sizes come up. */
    cr_expect_gt(fine, 3000, "%d", fine);
    cr_expect_gt(given_way, 200, "%d", given_way);
    for (int rows = 1; rows <= 5; rows++)
        cr_expect_gt(seen[rows], 20, "%d of %d rows", seen[rows], rows);
}

static void name_things(struct work_map *m, unsigned circuits)
{
    memset(m, 0, sizeof *m);
    state = 1;
    draw_names(m, 2, circuits);
    for (int i = 0; i < 2; i++) {
        m->components[i].off = "remove";
        m->components[i].back = "fit";
    }
}

static void expect_order(struct work_map *m, const char *want)
{
    struct lb_error err = {0};
    struct lb_plan *plan;
    char seen[512] = "";
    cr_assert_eq(lb_plan_make(&plan, &m->map, m->targets, m->target_count, &err), LB_OK, "%s",
                 lb_error_text(&err));
    for (size_t i = 0; i < plan->step_count; i++) {
        size_t at = strlen(seen);
        snprintf(seen + at, sizeof seen - at, "%s%s %s", i ? ", " : "", plan->steps[i].verb,
                 m->name_text[index_of(plan->steps[i].thing)]);
    }
    cr_expect_str_eq(seen, want);
    lb_plan_free(plan);
}

/* To loosen c0 c1 has to be loose; c1 comes off only after c0 is loose. */
Test(order_of_work, what_needs_loosening_needs_no_removal)
{
    struct work_map m;
    name_things(&m, 0);
    m.access[0] = (struct lb_map_access){.row = {.source = ACCESS, .line = 2},
                                         .thing = {0, 0},
                                         .needs = 1,
                                         .state = LB_LOOSENED,
                                         .to = LB_LOOSENED};
    m.sequences[0] = (struct lb_map_sequence){
        .row = {.source = SEQUENCE, .line = 2}, .first = {"loosen", {0, 0}}, .then = {"remove", {0, 1}}};
    m.sequences[1] = (struct lb_map_sequence){
        .row = {.source = SEQUENCE, .line = 3}, .first = {"loosen", {0, 1}}, .then = {"remove", {0, 1}}};
    m.map.access_count = 1;
    m.map.sequence_count = 2;
    for (unsigned i = 0; i < 2; i++)
        m.targets[m.target_count++] = (struct lb_target){.row = {.source = LB_NO_NAME}, .thing = {0, i}};
    expect_order(&m, "loosen c1, loosen c0, remove c1, remove c0, fit c0, fit c1");
}

/* To drain k0 c0 has to be loose; c0 comes off only after the draining. */
Test(order_of_work, draining_needs_loosening_only)
{
    struct work_map m;
    name_things(&m, 1);
    m.access[0] = (struct lb_map_access){
        .row = {.source = ACCESS, .line = 2}, .thing = {1, 0}, .needs = 0, .state = LB_LOOSENED};
    m.opens[0] = (struct lb_map_opens){.row = {.source = OPENS, .line = 2},
                                       .component = 0,
                                       .circuit = 0,
                                       .share = 1000000,
                                       .at = LB_REMOVED};
    m.sequences[0] = (struct lb_map_sequence){
        .row = {.source = SEQUENCE, .line = 2}, .first = {"loosen", {0, 0}}, .then = {"remove", {0, 0}}};
    m.map.access_count = m.map.opens_count = m.map.sequence_count = 1;
    m.targets[m.target_count++] = (struct lb_target){.row = {.source = LB_NO_NAME}, .thing = {0, 0}};
    expect_order(&m, "loosen c0, drain k0, remove c0, fit c0, fill k0, bleed k0");
}
