/* What had to be fetched in the middle of a job, said of a kit: kept as a rule of the owner's (garage/rule.h)
 * for the kit's platform.
 *
 *     const struct lb_missing missing = {.kit = "saturday", .part_type = "o-ring", .component = "pump"};
 *     struct lb_missed *missed;
 *     status = lb_missed_keep(&missed, store, &missing, today, &err);
 *     if (!status && missed->line) printf("line %d\n", missed->line);
 *     lb_missed_free(missed);
 */
#ifndef LB_KIT_MISSED_H
#define LB_KIT_MISSED_H

#include "garage/rule.h"
#include "kit/kit.h"

/* As the owner says it. */
struct lb_missing {
    const char *kit, *part_type;
    const char *component; /* as the map calls it, or as people do ("water pump") */
    const char *quantity;  /* "2", "50 ml"; NULL: one piece */
    const char *spec;      /* NULL: none */
};

struct lb_missed {
    struct lb_rule rule;
    const struct lb_rule *was; /* the same rule with what it said before; NULL: it is new */
    struct lb_kit *kit;        /* as it is with the rule */
    int line;                  /* in which it counts there; 0: the kit does not disturb the component */
    const char *counted_in;    /* none of the parts that could answer it is counted in its unit, but in this
                                  one; NULL: some are, or there are none */
    bool type_known;           /* some catalogue has parts of that type */
    const char *near;          /* not known: types that are nearly called so, in words; NULL: none are */
};

enum { LB_MISSED_MOST = 1000000 }; /* of the unit */

/* In one transaction: when it fails, nothing was stored. LB_DATA: whatever lb_kit_open says; a component that
 * the platform does not have (nearest names) or that two go by; a part type, quantity, unit or spec that
 * makes no sense or is too long (LB_RULE_TEXT_MAX, LB_MISSED_MOST). */
LB_CHECK lb_status lb_missed_keep(struct lb_missed **out, struct lb_store *store,
                                  const struct lb_missing *missing, int32_t today, struct lb_error *err);
void lb_missed_free(struct lb_missed *missed);

/* missed_words.c: what can be judged without an index. LB_DATA: not UTF-8, or longer than LB_RULE_TEXT_MAX;
 * `what` is what messages call it. */
LB_CHECK lb_status lb_missed_judge_text(const char *what, const char *text, struct lb_error *err);
/* Read as the cell of a map is: "50 ml" are 0.05 L, and a unit that is not known stays its own word, appended
 * to `unit`. *quantity: millionths, above 0. LB_DATA: it makes no sense, and what does. */
LB_CHECK lb_status lb_missed_quantity(const char *words, int64_t *quantity, struct lb_buf *unit,
                                      struct lb_error *err);
/* Appends the text without blanks at both ends, as a cell of a catalogue is read. */
void lb_missed_trim(struct lb_buf *out, const char *text);

#endif
