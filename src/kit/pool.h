/* What whoever buys for kits, several at once perhaps, asks of each: what its lines want before anything is
 * bought, and what stands in the way of a candidate. The kit's own basket takes every line by itself; here
 * is what lets all of them be weighed against each other.
 *
 *     lb_kit_compare_in(kit, currency);
 *     struct lb_wanting wanting = lb_kit_wanting(kit, &kit->lines[i]);
 */
#ifndef LB_KIT_POOL_H
#define LB_KIT_POOL_H

#include "kit/kit.h"

/* What a line to buy still wants of suppliers, shelf and boxes that are to come. */
struct lb_wanting {
    int64_t
        of_need; /* millionths of the need's unit: beside what is here, on its way, or in boxes that are */
    bool fixed;  /* some of its chosen part is here or on its way, so the rest is that part, too */
    int64_t of_part; /* fixed: millionths of the part's unit */
};

struct lb_wanting lb_kit_wanting(const struct lb_kit *kit, const struct lb_line *line);

/* The currency that most live offers of the kits' candidates are in, each part once; ties by code; "": no
 * offers. One kit: the kit's own. Borrowed from a kit. LB_NOMEM only. */
LB_CHECK lb_status lb_kits_currency(const char **out, struct lb_kit *const *kits, size_t kit_count,
                                    struct lb_error *err);
/* From now on the kit's prices are compared in this currency, which outlives the kit. */
void lb_kit_compare_in(struct lb_kit *kit, const char *currency);
/* May the candidate be chosen, and is there some of it (and of what must be bought with it): offered where
 * it can be compared, or on the shelf? Not: enough of it. */
bool lb_kit_can_have(const struct lb_kit *kit, const struct lb_candidate *candidate);
/* The gaps that the line would have with this candidate when so much of its part is to come from suppliers
 * and shelf: first whether it fits, then whether it can be had. Borrowed from the kit. */
LB_CHECK lb_status lb_kit_judge(struct lb_kit *kit, const struct lb_line *line,
                                const struct lb_candidate *candidate, int64_t quantity,
                                const struct lb_gap **gaps, size_t *gap_count, struct lb_error *err);

/* Does a content of a box answer the line? *bare: it says neither number nor spec, so it is meant for the
 * component that the box was chosen for. */
bool lb_kit_content_meets(const struct lb_kit *kit, const struct lb_content *content,
                          const struct lb_line *line, bool *bare);
/* Are two lines of one kit for a common component? */
bool lb_line_shares_component(const struct lb_line *a, const struct lb_line *b);

#endif
