/* §3.9: the least ordered set of facts that settles every line that asks. */
#include "plan/ask_first.h"

lb_status lb_plan_ask_first(struct work *w)
{
    struct open_lines lines;
    struct lb_plan *plan = w->plan;
    lb_status status = open_lines_list(&lines, w);
    if (status)
        return status;
    bool few = lines.fact_count <= ASK_EXACT_MOST;
    uint32_t *first = lb_plan_alloc(w, lines.fact_count + 1, sizeof *first);
    size_t count = !first ? SIZE_MAX : few ? ask_first_exact(&lines, first) : ask_first_greedy(&lines, first);
    if (count == SIZE_MAX)
        return lb_fail_nomem(w->err);
    for (size_t i = 0; i < count; i++)
        first[i] = lines.facts[first[i]];
    plan->ask_first = first;
    plan->ask_first_count = count;
    plan->ask_first_exact = few && !lines.doubtful;
    return LB_OK;
}
