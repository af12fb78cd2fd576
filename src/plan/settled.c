/* Does knowing some facts settle a line? It does not when the known facts can turn out so that one way stays
 * open and no other is true. */
#include "plan/open_lines.h"

#include <string.h>

struct look {
    struct open_lines *lines;
    const struct open_line *line;
    const struct line_ways *ways;
    uint64_t known;
    uint64_t left[64]; /* by fact: the outcomes that are still to choose from */
};

static bool is_decided(const struct look *look, unsigned way)
{
    return !(look->ways->hangs[way] & ~look->known);
}

/* Is the way false, whichever of the outcomes left it is? */
static bool is_false(const struct look *look, unsigned way)
{
    const uint64_t *meets = &look->ways->meets[way * look->line->fact_count];
    for (uint64_t facts = look->ways->hangs[way]; facts; facts &= facts - 1) {
        int fact = __builtin_ctzll(facts);
        if (!(look->left[fact] & meets[fact]))
            return true;
    }
    return false;
}

/* Can the facts turn out so that of the ways from this one on all that are decided are false? When no steps
 * are left the answer is yes: rather a fact too many. */
static bool may_be_false(struct look *look, unsigned way)
{
    while (way < look->line->way_count && (!is_decided(look, way) || is_false(look, way)))
        way++;
    if (way == look->line->way_count)
        return true;
    if (!look->lines->steps) {
        look->lines->doubtful = true;
        return true;
    }
    look->lines->steps--;
    const uint64_t *meets = &look->ways->meets[way * look->line->fact_count];
    for (uint64_t facts = look->ways->hangs[way]; facts; facts &= facts - 1) {
        int fact = __builtin_ctzll(facts);
        uint64_t before = look->left[fact];
        look->left[fact] &= ~meets[fact];
        bool found = look->left[fact] && may_be_false(look, way + 1);
        look->left[fact] = before;
        if (found)
            return true;
    }
    return false;
}

/* The same for all decided ways, when the facts turn out as `way` asks; one past the last asks nothing. */
static bool may_all_be_false(struct look *look, unsigned way)
{
    memcpy(look->left, &look->ways->meets[way * look->line->fact_count],
           look->line->fact_count * sizeof *look->left);
    return may_be_false(look, 0);
}

/* Can this way stay open while no other one is true? What it asks of the known facts must be met. */
static bool may_stay_open(struct look *look, unsigned way, bool any_decided)
{
    if (is_decided(look, way) || look->ways->dead[way] & look->known)
        return false;
    if (!any_decided)
        return true;
    return may_all_be_false(look, way);
}

bool open_line_settled(struct open_lines *lines, const struct open_line *line, uint64_t known)
{
    uint64_t all = line->fact_count < 64 ? ((uint64_t)1 << line->fact_count) - 1 : UINT64_MAX;
    if (line->whole || known == all)
        return known == all;
    if (!lines->steps) {
        lines->doubtful = true;
        return false;
    }
    lines->steps--;
    const struct line_ways *ways = line->teller & known ? &line->taught : &line->own;
    struct look look = {.lines = lines, .line = line, .ways = ways, .known = known};
    bool any_decided = false;
    for (unsigned i = 0; i < line->way_count; i++)
        any_decided |= is_decided(&look, i);
    for (unsigned i = 0; i < line->way_count; i++)
        if (may_stay_open(&look, i, any_decided))
            return false;
    /* What was thrown together may have any reason to stay open. */
    return !(line->has_rest && line->rest & ~known && may_all_be_false(&look, line->way_count));
}
