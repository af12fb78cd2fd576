/* Needs: which option answers, what boxes cover. */
#include "base/decimal.h"
#include "basket/model.h"

#include <math.h>

static bool is_boxed_only(const struct lb_basket_option *option)
{
    return option->quantity <= 0;
}

/* One choice among the options that are not off; a single one is no choice. */
static void add_choices(struct basket_model *m, size_t n)
{
    const struct lb_basket_need *need = &m->problem->market->needs[n];
    struct model_option *options = m->options + m->first_option[n];
    size_t open = 0, only = 0;
    for (size_t i = 0; i < need->option_count; i++) {
        options[i].off = m->off && m->off[m->made.count + i];
        open += !options[i].off;
        only = options[i].off ? only : i;
    }
    m->impossible |= !open;
    for (size_t i = 0; i < need->option_count; i++) {
        if (open == 1) {
            model_skip(m);
            continue;
        }
        options[i].choice = model_column(m, MODEL_BINARY, 1, (double)need->options[i].premium);
        model_term(m, options[i].choice, 1);
    }
    if (open == 1)
        m->constant += (double)need->options[only].premium;
    else
        model_end_row(m, 1, 1, 1);
}

/* Direct columns make up the need together with what boxes cover. */
static void add_need(struct basket_model *m, size_t n)
{
    const struct lb_basket_need *need = &m->problem->market->needs[n];
    struct model_option *options = m->options + m->first_option[n];
    add_choices(m, n);
    for (size_t i = 0; m->problem->boxable[n] && i < need->option_count; i++) {
        double quantity = (double)need->options[i].quantity;
        if (is_boxed_only(&need->options[i]) || options[i].off) {
            model_skip(m);
            continue;
        }
        options[i].direct = model_column(m, MODEL_REAL, quantity, 0);
        if (!options[i].choice)
            continue;
        model_term(m, options[i].direct, 1);
        model_term(m, options[i].choice, -quantity);
        model_end_row(m, -INFINITY, 0, 1 / quantity);
    }
}

void model_add_needs(struct basket_model *m)
{
    for (size_t n = 0; n < m->problem->market->need_count; n++)
        add_need(m, n);
}

/* Units of a part, each × factor. */
static void box_terms(struct basket_model *m, uint32_t part, double factor)
{
    for (size_t i = model_first_lot(m, part); i < model_end_lot(m, part); i++)
        model_count_packs(m, &m->lots.at[i], factor * (double)m->problem->offers[m->lots.at[i].offer].pack,
                          INFINITY, true);
}

static double boxes_on_hand(const struct basket_model *m, uint32_t part)
{
    return (double)(m->problem->market->parts[part].on_hand / LB_MILLION);
}

/* The boxes that a need opens by taking the part: as many as its option has quantity, at least one. */
static void opener_terms(struct basket_model *m, uint32_t part, uint32_t need, double quantity,
                         double *constant)
{
    const struct lb_basket_need *opener = &m->problem->market->needs[need];
    for (size_t i = 0; i < opener->option_count; i++) {
        if (opener->options[i].part != part || m->options[m->first_option[need] + i].off)
            continue;
        double boxes = fmax(1, (double)lb_decimal_ceil_div(opener->options[i].quantity, LB_MILLION));
        int choice = m->options[m->first_option[need] + i].choice;
        model_term(m, choice, -quantity * boxes);
        *constant += choice ? 0 : quantity * boxes;
    }
}

/* What bare contents give to a need, no more than its openers have opened. */
static void bound_by_openers(struct basket_model *m, const struct lb_basket_content *content,
                             const struct lb_basket_cover *cover, int column)
{
    double constant = 0;
    if (!cover->opener_count)
        return;
    model_term(m, column, 1);
    for (size_t i = 0; i < cover->opener_count; i++)
        opener_terms(m, content->part, cover->openers[i], (double)content->quantity, &constant);
    model_end_row(m, -INFINITY, constant, 1 / (double)content->quantity);
}

void model_add_contents(struct basket_model *m)
{
    for (size_t c = 0; c < m->problem->market->content_count; c++) {
        const struct lb_basket_content *content = &m->problem->market->contents[c];
        int *columns = m->covers + m->first_cover[c];
        if (content->quantity <= 0)
            continue;
        for (size_t i = 0; i < content->cover_count; i++) {
            double wanted = (double)m->problem->market->needs[content->covers[i].need].quantity;
            columns[i] = model_column(m, MODEL_REAL, wanted, 0);
        }
        for (size_t i = 0; i < content->cover_count; i++)
            bound_by_openers(m, content, &content->covers[i], columns[i]);
        for (size_t i = 0; i < content->cover_count; i++)
            model_term(m, columns[i], 1);
        box_terms(m, content->part, -(double)content->quantity / LB_MILLION);
        model_end_row(m, -INFINITY, boxes_on_hand(m, content->part) * (double)content->quantity,
                      1 / (double)content->quantity);
    }
}

/* direct × (need ÷ option's quantity) + covers >= need. */
static void meet_need(struct basket_model *m, size_t n)
{
    const struct lb_market *market = m->problem->market;
    const struct lb_basket_need *need = &market->needs[n];
    double quantity = (double)need->quantity;
    for (size_t i = 0; i < need->option_count; i++)
        if (!is_boxed_only(&need->options[i]) && !m->options[m->first_option[n] + i].off)
            model_term(m, m->options[m->first_option[n] + i].direct,
                       quantity / (double)need->options[i].quantity);
    for (size_t c = 0; c < market->content_count; c++)
        for (size_t i = 0; i < market->contents[c].cover_count; i++)
            if (market->contents[c].covers[i].need == n)
                model_term(m, m->covers[m->first_cover[c] + i], 1);
    model_end_row(m, quantity, INFINITY, 1 / quantity);
}

void model_meet_needs(struct basket_model *m)
{
    for (size_t n = 0; n < m->problem->market->need_count; n++)
        if (m->problem->boxable[n])
            meet_need(m, n);
}
