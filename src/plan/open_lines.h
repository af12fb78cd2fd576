/* Lines that must be asked about, and which facts settle them. A line is settled when, whatever the facts
 * that get known turn out to be, some way of it is true or all are false (Kleene, formats.md §2: a clause on
 * a fact that is not known is open, also when another clause on it contradicts). Private to plan/. */
#ifndef LB_PLAN_OPEN_LINES_H
#define LB_PLAN_OPEN_LINES_H

#include "plan/work.h"

/* What the ways of a line ask of its facts. Sets of facts are bits by place in open_line.facts, sets of
 * outcomes bits by outcome. */
struct line_ways {
    uint64_t *hangs; /* by way: the facts it hangs on */
    uint64_t *dead;  /* by way: facts of which no outcome meets all its clauses */
    uint64_t *meets; /* by way, then fact: the outcomes that meet its clauses; all where it has none. One
                      * more row than ways: all outcomes */
};

/* Lines that come about in the same ways. */
struct open_line {
    uint32_t lines; /* how many there are */
    uint32_t fact_count, way_count;
    uint32_t *facts; /* places among the candidates, ascending */
    bool whole;      /* not taken apart: all its facts have to be known */
    bool has_rest;   /* ways were thrown together: */
    uint64_t rest;   /* open until all these facts are known, then taken for false */
    struct line_ways own;
    uint64_t teller;         /* the fact that tells another one as well; once it is known, */
    struct line_ways taught; /* the ways as they then stand */
};

/* The facts to choose from, by name, and the lines. */
struct open_lines {
    struct work *w;
    uint32_t *facts; /* candidate -> fact of the map */
    uint32_t *place; /* fact of the map -> candidate, or LB_NO_NAME */
    size_t fact_count;
    struct open_line *at;
    size_t count;
    uint64_t steps; /* left for looking: sets of facts tried; none: a line is open unless all is known */
    bool doubtful;  /* some answer was cautious: fewer facts may do */
};

LB_CHECK lb_status open_lines_list(struct open_lines *lines, struct work *w);
/* Is the line settled once the facts in `known` are? fact_count <= 64. */
bool open_line_settled(struct open_lines *lines, const struct open_line *line, uint64_t known);

#endif
