/* GLPK, asked and watched. A draft gives the price to beat; what the relaxation shows to be dearer than that
 * is left out of the model before the search, which gets the price as if it were a solution's. */
#include "basket/solver.h"

#include "basket/model.h"
#include "basket/tree.h"

#include <limits.h>
#include <math.h>
#include <setjmp.h>
#include <string.h>
#include <time.h>

enum { ROUNDS = 4 /* of leaving out */, SHAKES = 12 };

#define NEAR 0.03 /* of the relaxation: how far above it a better basket is looked for first */
#define FAR  3e-3 /* of the relaxation: a basket that is further above it is worth beginning anew for */
#define SAFE 1e-4 /* of a minor unit: what the solver may be wrong by */

struct search {
    struct basket_run *run;
    struct basket_model *model;
    struct draft draft; /* being tried */
    double *values;     /* of columns */
    bool *off;          /* by ordinal */
    size_t columns;     /* room in both */
    int64_t known;      /* nothing above this is of use: the best price so far, or one above the cutoff */
    int64_t to_beat;    /* only baskets below this price are looked for; below known: a guess */
    bool exhausted;     /* nothing is below to_beat */
    bool shaken;        /* other beginnings were tried */
    double until;
};

double basket_now(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

/* Prices are whole numbers, so a bound is one above what it is not clearly at. */
static int64_t whole_bound(double bound)
{
    double up = ceil(bound - SAFE - fabs(bound) * 1e-10);
    return up < -9e15 ? INT64_MIN : up > 9e15 ? INT64_MAX : (int64_t)up;
}

/* The draft is better than what was known: it is what is handed out so far. */
static void keep_draft(struct search *s)
{
    struct basket_solution *solution = &s->run->solution;
    const struct basket_problem *p = s->run->problem;
    s->known = s->draft.price;
    s->to_beat = s->known < s->to_beat ? s->known : s->to_beat;
    s->run->found = true;
    solution->purchase_count = 0;
    for (size_t i = 0; i < p->offer_count; i++)
        if (s->draft.packs[i] > 0)
            solution->purchases[solution->purchase_count++] =
                (struct basket_purchase){p->offers[i].part, p->offers[i].offer, s->draft.packs[i]};
    memcpy(solution->options, s->draft.options, p->market->need_count * sizeof *solution->options);
    memcpy(solution->covers, s->draft.poured, s->run->cover_count * sizeof *solution->covers);
}

static bool try_draft(struct search *s)
{
    if (!s->draft.possible || s->draft.price >= s->known)
        return false;
    keep_draft(s);
    return true;
}

/* A draft from where the relaxation is. */
static bool draft_from(struct search *s, glp_prob *lp)
{
    int columns = basket_glpk.glp_get_num_cols(s->model->lp);
    for (int j = 1; j <= columns; j++)
        s->values[j] = basket_glpk.glp_get_col_prim(lp, j);
    s->values[0] = 0;
    model_take_draft(s->model, s->values, &s->draft);
    basket_draft_improve(&s->draft);
    return try_draft(s);
}

static int64_t suggest(void *context, glp_prob *lp)
{
    struct search *s = context;
    return draft_from(s, lp) ? s->known : INT64_MAX;
}

static int64_t take(void *context, glp_prob *lp)
{
    struct search *s = context;
    s->run->found = true;
    model_read_solution(s->model, &s->run->solution, s->run->cover_count);
    s->known = s->to_beat = (int64_t)llround(basket_glpk.glp_get_obj_val(lp));
    return s->known;
}

/* Nothing is below what was to be beaten. */
static void conclude(struct search *s)
{
    s->exhausted = true;
    s->run->bound = s->to_beat > s->run->bound ? s->to_beat : s->run->bound;
}

static bool relax(struct search *s, double *relaxed)
{
    glp_smcp settings;
    basket_glpk.glp_init_smcp(&settings);
    settings.msg_lev = GLP_MSG_OFF;
    settings.meth = GLP_DUALP; /* nothing costs less than nothing: the empty basis is a start */
    double seconds = s->until - basket_now();
    settings.tm_lim = seconds < 2000000 ? (int)(fmax(seconds, 0) * 1000) + 1 : INT_MAX;
    basket_glpk.glp_scale_prob(s->model->lp, GLP_SF_AUTO);
    int result, status;
    do {
        result = tree_simplex(s->model->lp, &settings);
        status = basket_glpk.glp_get_status(s->model->lp);
    } while (!result && status == GLP_OPT && model_add_links(s->model, s->model->lp));
    *relaxed = basket_glpk.glp_get_obj_val(s->model->lp);
    if (!result && status == GLP_NOFEAS)
        conclude(s);
    return !result && status == GLP_OPT;
}

static void search(struct search *s)
{
    struct tree tree = {.model = s->model,
                        .to_beat = s->to_beat,
                        .until = s->until,
                        .suggest = suggest,
                        .take = take,
                        .context = s};
    tree_search(&tree);
    int64_t bound = tree.complete ? s->to_beat : whole_bound(tree.bound);
    if (tree.complete)
        conclude(s);
    else if (bound > s->run->bound)
        s->run->bound = bound < s->to_beat ? bound : s->to_beat;
}

/* What would cost as much as what is known, or more, were it in the basket. How much is left comes back. */
static size_t leave_out(struct search *s, double relaxed)
{
    const struct basket_model *m = s->model;
    size_t left = 0;
    for (size_t i = 0; i < m->made.count; i++) {
        int column = m->made.at[i];
        if (!column || m->kinds.at[column - 1] == MODEL_REAL)
            continue;
        bool unused = basket_glpk.glp_get_col_stat(m->lp, column) == GLP_NL;
        s->off[i] =
            unused && relaxed + basket_glpk.glp_get_col_dual(m->lp, column) - SAFE > (double)s->to_beat - 1;
        left += !s->off[i];
    }
    return left;
}

static void renew_model(struct search *s)
{
    basket_model_free(s->model);
    *s->model = (struct basket_model){0};
}

/* A draft that is close above the relaxation is mostly the best there is; where it is not, other beginnings
 * help, and cuts and what is left out get more of a better one. */
static void begin_anew(struct search *s, double relaxed)
{
    if (!s->run->likely || s->shaken || (double)s->known - relaxed < fabs(relaxed) * FAR)
        return;
    s->shaken = true;
    basket_draft_shake(&s->draft, SHAKES);
    try_draft(s);
}

/* One round: the model of what is left, its relaxation, a draft from that. False: all is said. */
static bool narrow(struct search *s, double *relaxed, lb_status *status, struct lb_error *err)
{
    *status = basket_model(s->model, s->run->problem, s->off, err);
    if (*status)
        return false;
    if (s->model->impossible) {
        conclude(s);
        return false;
    }
    if (!relax(s, relaxed))
        return false;
    begin_anew(s, *relaxed);
    if (!tree_cut(&(struct tree){.model = s->model, .to_beat = s->to_beat, .until = s->until})) {
        conclude(s);
        return false;
    }
    if (basket_glpk.glp_get_status(s->model->lp) != GLP_OPT)
        return false;
    *relaxed = basket_glpk.glp_get_obj_val(s->model->lp);
    int64_t bound = whole_bound(*relaxed);
    bound = bound < s->to_beat ? bound : s->to_beat;
    s->run->bound = bound > s->run->bound ? bound : s->run->bound;
    draft_from(s, s->model->lp);
    if (bound < s->to_beat)
        return true;
    conclude(s);
    return false;
}

/* Leaves out what is too dear as long as that is much, then searches what is left. */
static lb_status search_below(struct search *s, double relaxed, struct lb_error *err)
{
    lb_status status = LB_OK;
    bool open = true;
    for (int round = 0; open && round < ROUNDS; round++) {
        size_t columns = (size_t)basket_glpk.glp_get_num_cols(s->model->lp);
        if (leave_out(s, relaxed) > columns - columns / 8)
            break;
        renew_model(s);
        open = narrow(s, &relaxed, &status, err);
    }
    if (open)
        search(s);
    return status;
}

/* Where the best basket is far above the relaxation, a better one is likely: only what is not so far above is
 * looked at first, which leaves a small model. When that is in vain, three times as far. */
static lb_status narrow_and_search(struct search *s, struct lb_error *err)
{
    lb_status status = LB_OK;
    double relaxed, width = NEAR;
    for (bool first = true; narrow(s, &relaxed, &status, err); first = false) {
        double near = fabs(relaxed) * width + 1;
        if (relaxed + near < (double)s->known && (first || s->known < INT64_MAX))
            s->to_beat = (int64_t)ceil(relaxed + near);
        status = search_below(s, relaxed, err);
        if (status || !s->exhausted || s->to_beat >= s->known)
            break;
        s->exhausted = false;
        s->to_beat = s->known;
        memset(s->off, 0, s->columns * sizeof *s->off);
        renew_model(s);
        width *= 3;
    }
    if (s->exhausted && s->to_beat >= s->known)
        s->run->ending = s->run->found ? BASKET_OPTIMAL : BASKET_IMPOSSIBLE;
    return status;
}

/* An assertion in the library calls this instead of ending the program. */
static void escape(void *info)
{
    longjmp(*(jmp_buf *)info, 1);
}

static lb_status guarded(struct search *s, struct lb_error *err)
{
    static const char gave_up[] = "the solver gave up on this basket: an assertion in GLPK failed. Ask for "
                                  "fewer kits at once, or leave out suppliers with --without.";
    jmp_buf back;
    lb_status status;
    if (setjmp(back)) {
        s->model->lp = NULL; /* goes with GLPK's own memory */
        basket_glpk.glp_error_hook(NULL, NULL);
        basket_glpk.glp_free_env();
        return lb_fail(err, LB_SYSTEM, gave_up);
    }
    basket_glpk.glp_term_out(GLP_OFF);
    basket_glpk.glp_error_hook(escape, &back);
    status = narrow_and_search(s, err);
    basket_glpk.glp_error_hook(NULL, NULL);
    return status;
}

static lb_status make_room(struct search *s, struct lb_error *err)
{
    struct basket_run *run = s->run;
    const struct lb_market *market = run->problem->market;
    for (size_t i = 0; i < market->content_count; i++)
        run->cover_count += market->contents[i].cover_count;
    struct basket_solution *out = &run->solution;
    out->purchases = lb_arena_alloc(&run->arena, (run->problem->offer_count + 1) * sizeof *out->purchases);
    out->options = lb_arena_alloc(&run->arena, (market->need_count + 1) * sizeof *out->options);
    out->covers = lb_arena_alloc(&run->arena, (run->cover_count + 1) * sizeof *out->covers);
    s->model = lb_arena_alloc(&run->arena, sizeof *s->model);
    s->columns = model_most_columns(run->problem) + 1;
    s->values = lb_arena_alloc(&run->arena, s->columns * sizeof *s->values);
    s->off = lb_arena_alloc(&run->arena, s->columns * sizeof *s->off);
    return out->purchases && out->options && out->covers && s->model && s->values && s->off
               ? LB_OK
               : lb_fail_nomem(err);
}

lb_status basket_run(struct basket_run *run, struct lb_error *err)
{
    struct search s = {
        .run = run,
        .known = run->cutoff == INT64_MAX ? INT64_MAX : run->cutoff + 1,
        .to_beat = run->cutoff == INT64_MAX ? INT64_MAX : run->cutoff + 1,
        .until = basket_now() + run->seconds,
    };
    run->ending = BASKET_OUT_OF_TIME;
    run->bound = 0; /* nothing costs less than nothing */
    lb_status status = make_room(&s, err);
    if (!status && !basket_glpk_load())
        status = lb_fail(err, LB_SYSTEM,
                         "GLPK is not installed (Debian: libglpk40), and without it no basket can be "
                         "worked out.");
    if (!status)
        status = basket_draft(&s.draft, run->problem, &run->arena, err);
    if (status)
        return status;
    if (run->likely) {
        basket_draft_improve(&s.draft);
        try_draft(&s);
    }
    status = guarded(&s, err);
    basket_model_free(s.model);
    return status;
}

void basket_run_free(struct basket_run *run)
{
    lb_arena_free(&run->arena);
}
