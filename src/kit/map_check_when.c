/* Conditions: those that no vehicle meets, and facts that nobody explains. */
#include "kit/map_checker.h"

#include <stdlib.h>
#include <string.h>

/* Can some vehicle meet it, among those of `variants`? */
static bool possible(struct checker *c, const struct lb_variants *variants, const struct lb_condition *when)
{
    bool found = false;
    const struct lb_variant_question question = {.holds = &when, .hold_count = 1, .others = true};
    c->failed |= lb_variants_find(variants, &question, &found, NULL, NULL) != LB_OK;
    return found;
}

/* What the platform and the facts files say, taken apart: whose word it is that rules the condition out. */
struct worlds {
    struct lb_variants any;     /* whatever a fact may be, on any day */
    struct lb_variants any_day; /* the values that facts have here, on any day */
};

static void judge_condition(struct checker *c, const struct worlds *worlds, const char *words,
                            const struct tallied *met)
{
    const struct lb_condition *when = check_condition(c, met->row);
    struct lb_buf more = {0};
    if (possible(c, &c->variants, when))
        return;
    if (met->count > 1)
        lb_buf_printf(&more, " %zu rows state it.", met->count);
    if (!possible(c, &worlds->any, when))
        check_find(c, LB_ERROR, "never-true", met->row,
                   "no vehicle can meet `%s`: its clauses contradict each other.%s Correct it.", words,
                   lb_buf_text(&more));
    else if (!possible(c, &worlds->any_day, when))
        check_find(
            c, LB_WARNING, "unlisted-value", met->row,
            "`%s` asks for values that the facts file does not list.%s Correct it, or add the value there.",
            words, lb_buf_text(&more));
    else
        check_find(c, LB_WARNING, "never-built", met->row,
                   "`%s` lies outside the build dates of the platforms rows.%s Correct one of them.", words,
                   lb_buf_text(&more));
    c->failed |= more.failed;
    lb_buf_free(&more);
}

/* The same facts and values as the checker's, without build dates. */
static void copy_values(struct checker *c, struct lb_variants *to)
{
    const struct lb_variants *from = &c->variants;
    struct lb_buf values = {0};
    for (size_t i = 0; i < from->facts.count; i++) {
        const struct lb_variant_fact *fact = &from->facts.at[i];
        lb_buf_clear(&values);
        for (size_t w = 0; fact->whole && w < fact->words.count; w++)
            lb_buf_printf(&values, "%s%s", w ? "|" : "", fact->words.at[w]);
        if (fact->whole)
            c->failed |= values.failed || !lb_variants_list(to, from->keys.at[i], lb_buf_text(&values));
    }
    lb_buf_free(&values);
}

lb_status check_conditions(struct checker *c)
{
    struct tally tally = {0};
    struct worlds worlds = {0};
    struct lb_buf words = {0};
    copy_values(c, &worlds.any_day);
    for (size_t i = 0; i < c->rows.count && !c->failed; i++) {
        const struct lb_row *row = c->rows.at[i].row;
        if (!row->doubt_count)
            continue;
        lb_buf_clear(&words);
        lb_buf_append(&words, check_when(c, row), strcspn(check_when(c, row), "\x1f"));
        c->failed |= words.failed;
        check_tally(c, &tally, lb_buf_text(&words), row);
    }
    for (size_t i = 0; i < tally.at.count && !c->failed; i++)
        judge_condition(c, &worlds, tally.keys.at[i], &tally.at.at[i]);
    lb_buf_free(&words);
    lb_variants_free(&worlds.any);
    lb_variants_free(&worlds.any_day);
    check_tally_free(&tally);
    return LB_OK;
}

/* `year` follows from `built` (formats.md §2). */
static bool is_explained(const struct checker *c, const char *fact)
{
    return lb_names_find(&c->explained, fact) != LB_NO_NAME ||
           (strcmp(fact, "year") == 0 && lb_names_find(&c->explained, "built") != LB_NO_NAME);
}

lb_status check_facts(struct checker *c)
{
    struct tally tally = {0};
    for (size_t i = 0; i < c->rows.count && !c->failed; i++) {
        const struct lb_row *row = c->rows.at[i].row;
        for (uint32_t d = 0; d < row->doubt_count; d++)
            check_tally(c, &tally, c->map->facts[row->doubts[d]], row);
    }
    for (size_t i = 0; i < tally.at.count && !c->failed; i++)
        if (!is_explained(c, tally.keys.at[i]))
            check_find(c, LB_WARNING, "no-where", tally.at.at[i].row,
                       "no facts row says where the owner reads `%s`, which %zu row%s ask%s for. Add one.",
                       tally.keys.at[i], tally.at.at[i].count, tally.at.at[i].count == 1 ? "" : "s",
                       tally.at.at[i].count == 1 ? "s" : "");
    check_tally_free(&tally);
    return LB_OK;
}
