#include "basket/model.h"

#include <math.h>
#include <stdlib.h>

bool model_next_off(const struct basket_model *m)
{
    return m->off && m->off[m->made.count];
}

void model_skip(struct basket_model *m)
{
    m->failed |= !LB_PUSH(&m->made, 0);
}

int model_column(struct basket_model *m, enum model_kind kind, double most, double cost)
{
    if (model_next_off(m)) {
        model_skip(m);
        return 0;
    }
    int column = basket_glpk.glp_add_cols(m->lp, 1);
    m->failed |= !LB_PUSH(&m->made, column);
    m->failed |= !LB_PUSH(&m->ranks, m->rank) || !LB_PUSH(&m->kinds, kind);
    if (kind != MODEL_REAL)
        basket_glpk.glp_set_col_kind(m->lp, column, GLP_IV);
    if (kind == MODEL_BINARY)
        most = 1;
    basket_glpk.glp_set_col_bnds(m->lp, column, isinf(most) ? GLP_LO : most > 0 ? GLP_DB : GLP_FX, 0, most);
    if (cost != 0)
        basket_glpk.glp_set_obj_coef(m->lp, column, cost);
    return column;
}

void model_term(struct basket_model *m, int column, double value)
{
    if (!column || value == 0)
        return;
    for (size_t i = 0; i < m->row.columns.count; i++) {
        if (m->row.columns.at[i] == column) {
            m->row.values.at[i] += value;
            return;
        }
    }
    m->failed |= !LB_PUSH(&m->row.columns, column) || !LB_PUSH(&m->row.values, value);
}

void model_end_row(struct basket_model *m, double least, double most, double scale)
{
    size_t count = m->row.columns.count;
    if (!count) {
        m->impossible |= least > 0 || most < 0;
        return;
    }
    int row = basket_glpk.glp_add_rows(m->lp, 1);
    for (size_t i = 0; i < count; i++)
        m->row.values.at[i] *= scale;
    basket_glpk.glp_set_mat_row(m->lp, row, (int)count, m->row.columns.at - 1, m->row.values.at - 1);
    basket_glpk.glp_set_row_bnds(m->lp, row,
                                 isinf(least)   ? GLP_UP
                                 : isinf(most)  ? GLP_LO
                                 : least < most ? GLP_DB
                                                : GLP_FX,
                                 least * scale, most * scale);
    m->row.columns.count = m->row.values.count = 0;
}

double model_amount(const struct basket_model *m, size_t need, size_t option, int *column)
{
    const struct model_option *o = &m->options[m->first_option[need] + option];
    *column = o->direct ? o->direct : o->choice;
    return o->direct ? 1 : (double)m->problem->market->needs[need].options[option].quantity;
}

static lb_status make_room(struct basket_model *m, struct lb_error *err)
{
    const struct lb_market *market = m->problem->market;
    size_t options = 0, covers = 0;
    m->first_option = lb_arena_alloc(&m->arena, (market->need_count + 1) * sizeof *m->first_option);
    m->first_cover = lb_arena_alloc(&m->arena, (market->content_count + 1) * sizeof *m->first_cover);
    m->first_lot = lb_arena_alloc(&m->arena, (m->problem->offer_count + 1) * sizeof *m->first_lot);
    m->sellers = lb_arena_alloc(&m->arena, (market->supplier_count + 1) * sizeof *m->sellers);
    if (!m->first_option || !m->first_cover || !m->first_lot || !m->sellers)
        return lb_fail_nomem(err);
    for (size_t i = 0; i < market->need_count; i++) {
        m->first_option[i] = options;
        options += market->needs[i].option_count;
    }
    for (size_t i = 0; i < market->content_count; i++) {
        m->first_cover[i] = covers;
        covers += market->contents[i].cover_count;
    }
    m->options = lb_arena_alloc(&m->arena, (options + 1) * sizeof *m->options);
    m->covers = lb_arena_alloc(&m->arena, (covers + 1) * sizeof *m->covers);
    return m->options && m->covers ? LB_OK : lb_fail_nomem(err);
}

lb_status basket_model(struct basket_model *out, const struct basket_problem *problem, const bool *off,
                       struct lb_error *err)
{
    out->problem = problem;
    out->off = off;
    lb_status status = make_room(out, err);
    if (status)
        return status;
    out->lp = basket_glpk.glp_create_prob();
    basket_glpk.glp_set_obj_dir(out->lp, GLP_MIN);
    out->rank = MODEL_SELLERS;
    model_add_sellers(out);
    out->rank = MODEL_PACKS;
    model_add_offers(out);
    out->rank = MODEL_OPTIONS;
    model_add_needs(out);
    model_add_contents(out);
    model_meet_needs(out);
    model_add_parts(out);
    out->rank = MODEL_ROUNDED;
    model_close_sellers(out);
    basket_glpk.glp_set_obj_coef(out->lp, 0, out->constant);
    return out->failed ? lb_fail_nomem(err) : LB_OK;
}

size_t model_most_columns(const struct basket_problem *problem)
{
    const struct lb_market *market = problem->market;
    size_t most = 1 + market->part_count, rows = 1;
    for (size_t s = 0; s < market->supplier_count; s++) {
        rows = market->suppliers[s].shipping_count > rows ? market->suppliers[s].shipping_count : rows;
        most += 4 + (market->suppliers[s].shipping_count > 1 ? market->suppliers[s].shipping_count : 1);
    }
    for (size_t i = 0; i < market->need_count; i++)
        most += 2 * market->needs[i].option_count;
    for (size_t i = 0; i < market->content_count; i++)
        most += market->contents[i].cover_count;
    return most + problem->offer_count * ((MODEL_MOST_ENUMERATED + 1) * rows + 1);
}

void basket_model_free(struct basket_model *model)
{
    if (model->lp)
        basket_glpk.glp_delete_prob(model->lp);
    free(model->lots.at);
    free(model->pack_columns.at);
    free(model->made.at);
    free(model->ranks.at);
    free(model->kinds.at);
    free(model->tiers.at);
    free(model->row.columns.at);
    free(model->row.values.at);
    free(model->spare.columns.at);
    free(model->spare.values.at);
    lb_arena_free(&model->arena);
}
