/* What is in the boxes of the market, and which needs it is for (formats.md §3.7). */
#include "purchase/making.h"

/* The need's option for a part, or NULL. */
static const struct lb_candidate *candidate_of(const struct making *m, uint32_t need, uint32_t part)
{
    const struct lb_basket_need *want = &m->wants.at[need];
    for (size_t i = 0; i < want->option_count; i++)
        if (want->options[i].part == part)
            return m->needs.at[need].candidates[i];
    return NULL;
}

/* The needs whose box a bare content may be taken from for this one: for the same component, in one kit. */
static lb_status find_openers(struct making *m, uint32_t part, uint32_t need, struct lb_basket_cover *cover)
{
    const struct lb_purchase_need *own = &m->needs.at[need];
    uint32_t *openers = lb_arena_alloc(&m->arena, (m->needs.count + 1) * sizeof *openers);
    if (!openers)
        return lb_fail_nomem(m->err);
    cover->openers = openers;
    for (uint32_t n = 0; n < m->needs.count; n++)
        if (n != need && m->needs.at[n].kit == own->kit && candidate_of(m, n, part) &&
            lb_line_shares_component(m->needs.at[n].line, own->line))
            openers[cover->opener_count++] = n;
    return LB_OK;
}

/* *covers: the content is for the need, out of boxes that the cover's openers open. */
static lb_status find_cover(struct making *m, uint32_t part, const struct lb_content *content, uint32_t need,
                            struct lb_basket_cover *cover, bool *covers)
{
    const struct lb_purchase_need *own = &m->needs.at[need];
    const struct lb_candidate *candidate = candidate_of(m, need, part);
    bool bare;
    *cover = (struct lb_basket_cover){.need = need};
    *covers = !own->beside && lb_kit_content_meets(m->kits.at[own->kit], content, own->line, &bare);
    /* Lines that ask for the box itself each need their own. */
    *covers &= !candidate || candidate->via == LB_VIA_BOX;
    /* A line that the box answers by its contents has said that the bare content is meant. */
    if (!*covers || !bare || candidate)
        return LB_OK;
    lb_status status = find_openers(m, part, need, cover);
    *covers = cover->opener_count > 0;
    return status;
}

static lb_status add_content(struct making *m, uint32_t part, const struct lb_content *content)
{
    struct lb_basket_cover *covers = lb_arena_alloc(&m->arena, (m->needs.count + 1) * sizeof *covers);
    struct lb_basket_content in = {part, content->quantity, covers, 0};
    lb_status status = covers ? LB_OK : lb_fail_nomem(m->err);
    for (uint32_t n = 0; !status && n < m->needs.count; n++) {
        bool found = false;
        status = find_cover(m, part, content, n, &covers[in.cover_count], &found);
        in.cover_count += found;
    }
    if (status || !in.cover_count)
        return status;
    return LB_PUSH(&m->contents, in) ? LB_OK : lb_fail_nomem(m->err);
}

lb_status making_boxes(struct making *m)
{
    lb_status status = LB_OK;
    for (uint32_t p = 0; !status && p < m->parts.count; p++)
        for (size_t i = 0; !status && i < m->parts.at[p]->content_count; i++)
            status = add_content(m, p, &m->parts.at[p]->contents[i]);
    m->purchase.market.contents = m->contents.at;
    m->purchase.market.content_count = m->contents.count;
    return status;
}

bool making_boxes_may_cover(const struct making *m, size_t need)
{
    for (size_t c = 0; c < m->contents.count; c++)
        for (size_t i = 0; i < m->contents.at[c].cover_count; i++)
            if (m->contents.at[c].covers[i].need == need)
                return true;
    return false;
}
