/* What leaves no basket, and what is to be settled before one is ordered. A line is stuck when none of what
 * could answer it can be had; that the kit's own proposal cannot is no gap as long as something else can. */
#include "purchase/making.h"

#include <string.h>

const char *making_words(struct making *m, struct lb_buf *words)
{
    const char *kept = words->failed ? NULL : lb_arena_text(&m->arena, lb_buf_text(words), words->length);
    if (!kept)
        lb_fail_nomem(m->err);
    lb_buf_free(words);
    *words = (struct lb_buf){0};
    return kept;
}

lb_status making_gap(struct making *m, uint32_t kit, int line, const char *code, const char *message)
{
    if (!message)
        return LB_NOMEM;
    return LB_PUSH(&m->gaps, ((struct lb_purchase_gap){code, kit, line, message})) ? LB_OK
                                                                                   : lb_fail_nomem(m->err);
}

static lb_status copy_gap(struct making *m, uint32_t kit, const struct lb_gap *gap)
{
    return making_gap(m, kit, gap->line, lb_gap_name(gap->code), gap->message);
}

static bool is_question(enum lb_gap_code code)
{
    return code == LB_GAP_ASK || code == LB_GAP_FIT_UNKNOWN || code == LB_GAP_REUSED_SINGLE_USE;
}

static bool has_need(const struct making *m, const struct lb_line *line)
{
    for (size_t n = 0; n < m->needs.count; n++)
        if (m->needs.at[n].line == line)
            return true;
    return false;
}

/* No candidate that may be chosen: the kit says what became of them. Of a spare, which is no gap of the kit,
 * it says nothing. */
static lb_status stuck_line(struct making *m, uint32_t kit, const struct lb_line *line)
{
    const struct lb_kit *k = m->kits.at[kit];
    struct lb_buf words = {0};
    bool told = false;
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < k->gap_count; i++) {
        if (k->gaps[i].line != line->number || is_question(k->gaps[i].code))
            continue;
        status = copy_gap(m, kit, &k->gaps[i]);
        told = true;
    }
    if (status || told)
        return status;
    lb_buf_printf(&words, "%s: no part that answers it can be bought", line->need->article.part_type);
    return making_gap(m, kit, line->number,
                      lb_gap_name(line->candidate_count ? LB_GAP_NO_OFFER : LB_GAP_NO_PART),
                      making_words(m, &words));
}

static bool can_be_met(const struct making *m, size_t need)
{
    for (size_t i = 0; i < m->wants.at[need].option_count; i++)
        if (m->facts.at[need][i].supplied)
            return true;
    return false;
}

/* What is said of the kit's proposal when that is an option, else of the first. */
static lb_status stuck_need(struct making *m, size_t n)
{
    const struct lb_purchase_need *need = &m->needs.at[n];
    size_t option = 0;
    lb_status status = LB_OK;
    for (size_t i = 0; i < m->wants.at[n].option_count; i++)
        if (need->line->chosen != LB_NO_NAME &&
            need->candidates[i] == &need->line->candidates[need->line->chosen])
            option = i;
    const struct making_option *facts = &m->facts.at[n][option];
    for (size_t i = 0; !status && i < facts->gap_count; i++)
        if (!is_question(facts->gaps[i].code))
            status = copy_gap(m, need->kit, &facts->gaps[i]);
    return status;
}

static lb_status stuck_needs(struct making *m, bool boxed)
{
    lb_status status = LB_OK;
    for (size_t n = 0; !status && n < m->needs.count; n++)
        if (!can_be_met(m, n) && making_boxes_may_cover(m, n) == boxed)
            status = stuck_need(m, n);
    return status;
}

lb_status making_stuck(struct making *m)
{
    lb_status status = LB_OK;
    for (uint32_t k = 0; !status && k < m->kits.count; k++) {
        for (size_t i = 0; !status && i < m->kits.at[k]->line_count; i++) {
            const struct lb_line *line = &m->kits.at[k]->lines[i];
            if (line->decision == LB_BUY && !has_need(m, line) && lb_kit_wanting(m->kits.at[k], line).of_need)
                status = stuck_line(m, k, line);
        }
    }
    if (!status)
        status = stuck_needs(m, false);
    m->purchase.blocked = m->gaps.count > 0;
    return status;
}

lb_status making_stuck_boxed(struct making *m, bool *any)
{
    size_t before = m->gaps.count;
    lb_status status = stuck_needs(m, true);
    *any = m->gaps.count > before;
    return status;
}

/* Does what the basket has chosen fit? */
static lb_status ask_fits(struct making *m)
{
    lb_status status = LB_OK;
    for (size_t n = 0; !status && n < m->needs.count; n++) {
        uint32_t option = m->purchase.basket->answers[n].option;
        if (option == UINT32_MAX)
            continue; /* the boxes that cover it are chosen elsewhere */
        const struct making_option *facts = &m->facts.at[n][option];
        for (size_t i = 0; !status && i < facts->gap_count; i++)
            if (facts->gaps[i].code == LB_GAP_FIT_UNKNOWN)
                status = copy_gap(m, m->needs.at[n].kit, &facts->gaps[i]);
    }
    return status;
}

lb_status making_questions(struct making *m)
{
    lb_status status = LB_OK;
    for (uint32_t k = 0; !status && k < m->kits.count; k++) {
        const struct lb_kit *kit = m->kits.at[k];
        for (size_t i = 0; !status && i < kit->gap_count; i++)
            if (is_question(kit->gaps[i].code) &&
                (kit->gaps[i].code != LB_GAP_FIT_UNKNOWN || !m->purchase.basket))
                status = copy_gap(m, k, &kit->gaps[i]);
    }
    return status || !m->purchase.basket ? status : ask_fits(m);
}

static bool goes_before(const struct lb_purchase_gap *a, const struct lb_purchase_gap *b)
{
    return a->kit != b->kit ? a->kit < b->kit : a->line < b->line;
}

/* By insertion: there are few, and those of one line keep their order. */
lb_status making_hand_gaps(struct making *m)
{
    for (size_t i = 1; i < m->gaps.count; i++) {
        struct lb_purchase_gap gap = m->gaps.at[i];
        size_t at = i;
        for (; at > 0 && goes_before(&gap, &m->gaps.at[at - 1]); at--)
            m->gaps.at[at] = m->gaps.at[at - 1];
        m->gaps.at[at] = gap;
    }
    m->purchase.gaps = m->gaps.at;
    m->purchase.gap_count = m->gaps.count;
    return LB_OK;
}
