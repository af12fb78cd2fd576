/* The kit: the plan's lines with what answers them, what the owner decided, what it costs and what is still
 * missing. A kit is stored as its definition and decisions only; everything else is computed from the index
 * as it is now.
 *
 *     struct lb_kit *kit;
 *     status = lb_kit_build(&kit, store, "saturday", &vehicle, wants, want_count, today, &err);
 *     status = lb_kit_open(&kit, store, "saturday", today, &err);
 *     if (kit->gap_count) …
 *     lb_kit_free(kit);
 */
#ifndef LB_KIT_KIT_H
#define LB_KIT_KIT_H

#include "basket/basket.h"
#include "kit/survey.h"
#include "plan/plan.h"

enum lb_decision { LB_BUY, LB_HAVE, LB_REUSE, LB_DROP };
enum lb_fit { LB_FIT_NO, LB_FIT_ASK, LB_FIT_YES };

/* Why a part is a candidate for a line. */
enum lb_via {
    LB_VIA_APPLICATION, /* its applications row covers the vehicle */
    LB_VIA_SPEC,        /* its spec meets the need's */
    LB_VIA_ANY,         /* a fluid or consumable without applications fits every vehicle */
    LB_VIA_BOX,         /* a box whose contents name the need */
    LB_VIA_SAME,        /* crossrefs: the same as another candidate */
    LB_VIA_INSTEAD,     /* crossrefs: may be used instead of another candidate */
    LB_VIA_SUCCESSOR,   /* supersessions: replaces another candidate */
    LB_VIA_OWNER,       /* named by `kit set` although the catalogues do not say that it fits */
    LB_VIA_ORDERED,     /* ordered, or taken off the shelf, when they still did */
};

struct lb_place {
    const char *file; /* NULL: not from a file */
    uint32_t line;
};

/* What an offer cost before. */
struct lb_price_was {
    int64_t price;                /* minor units of `currency` */
    const char *currency, *until; /* until: UTC, ISO 8601, when the edition that changed it was imported */
};

/* A row that a catalogue listed and no longer does: of kind "parts", "offers" or "applications". What its
 * kind does not have is NULL; so is what the row did not state. */
struct lb_former {
    const char *kind, *gone; /* gone: UTC, ISO 8601, when the edition without it was imported */
    struct lb_place place;   /* in the last edition that had it */
    const char *brand, *number;
    const char *part_type, *description, *spec,
        *unit;                               /* parts; offers: pack_quantity's base unit, NULL: each */
    const char *supplier, *label, *currency; /* offers; label: as people call the supplier */
    int64_t price, pack_quantity;            /* minor units of `currency`; millionths of `unit` */
    const char *make, *model, *built_from, *built_to, *when, *position; /* applications */
    bool applied; /* applications: it would not rule out the kit's vehicle */
};

/* One offer of one part. Money in minor units of `currency`. */
struct lb_part_offer {
    uint32_t supplier; /* index into kit->suppliers */
    const char *supplier_code, *currency;
    int64_t price, deposit, pack_quantity, minimum_packs;
    int64_t stock, lead_days; /* -1: not stated */
    const char *valid_to;
    bool live; /* not past valid_to, and stock not stated or enough for the least order */
    struct lb_place place;
    int64_t row;                    /* its id in the index */
    const struct lb_price_was *was; /* newest change first; on a part's card only */
    size_t was_count;
};

struct lb_content {
    const char *item_type, *item_part; /* item_part: its part key, or NULL */
    struct lb_spec spec;               /* LB_SPEC_NONE: not stated */
    int64_t quantity;
    struct lb_place place;
};

struct lb_part {
    const char *key; /* catalog/partkey.h */
    const char *brand, *number, *part_type,
        *description; /* part_type NULL: no parts row, known by reference only */
    struct lb_spec spec;
    bool discontinued, superseded, maker_part, live; /* live: some offer is */
    struct lb_place place;
    const struct lb_part_offer *offers;
    const struct lb_content *contents;
    size_t offer_count, content_count;
    const struct lb_former *former; /* newest first; in a kit only of those that lost something */
    size_t former_count;
};

/* A part that must be bought together with a candidate: a supersession that names several. */
struct lb_companion {
    const struct lb_part *part;
    int64_t quantity; /* for the line's whole need, millionths */
    int64_t to_buy;   /* of the chosen candidate's: what is neither here nor on its way nor on the shelf */
    int64_t seen_to;  /* of the chosen candidate's: here or on its way for this line */
};

struct lb_candidate {
    const struct lb_part *part;
    enum lb_fit fit;
    enum lb_via via;
    uint32_t through;      /* index of the candidate it stands for; LB_NO_NAME: none */
    struct lb_place place; /* the row that says so */
    const char *asks;      /* the facts that decide its fit, joined with ", "; NULL when fit is sure */
    int64_t quantity; /* what the line needs of this part (an application may say otherwise); millionths */
    const struct lb_companion *companions;
    size_t companion_count;
    bool eligible; /* may be chosen: not superseded or discontinued without a live offer */
};

struct lb_cover {
    const struct lb_part *box;
    uint32_t line; /* index of the line that the box was chosen for */
    int64_t quantity;
    int64_t seen_to;       /* of the quantity: in boxes that are here or on their way */
    struct lb_place place; /* the contents row */
};

enum { LB_GONE_SHOWN = 3 }; /* parts that are gone, a line */

struct lb_line {
    int number; /* 1 and up; spares continue after the needs */
    const struct lb_need *need;
    bool spare;
    enum lb_decision decision;
    bool decided; /* by the owner; otherwise it is the default */
    const struct lb_candidate *candidates;
    size_t candidate_count;
    uint32_t chosen;     /* index into candidates; LB_NO_NAME: nothing */
    bool named;          /* the owner named the part */
    const char *because; /* why this candidate, in words; "" when nothing is chosen */
    const struct lb_cover *covers;
    size_t cover_count;
    /* What has been seen to, in millionths of the unit that the line's part is counted in. Of other parts
     * than the chosen one nothing is counted: when the owner names another, it is bought from scratch. */
    int64_t here;   /* came as it should be, or was taken off the shelf for this line */
    int64_t on_way; /* was ordered and has not come yet; without what is wrong, damaged or will not come */
    bool lost; /* something that was ordered for it, of whatever part, was wrong, damaged or will not come */
    int64_t from_shelf; /* lies on the shelf and is taken when the kit is ordered; lines share what is there
                           in their order. Nothing is set apart: another kit sees the same shelf */
    bool opened;        /* from_shelf comes, or may come, from a container that was opened */
    int64_t to_buy; /* of the chosen part after coverage and all of the above, millionths; 0 unless decision
                       is LB_BUY */
    const struct lb_part *gone[LB_GONE_SHOWN]; /* nothing is chosen: what was listed once and would do */
    size_t gone_count;
};

enum lb_gap_code {
    LB_GAP_NO_PART,
    LB_GAP_NO_OFFER,
    LB_GAP_FIT_UNKNOWN,
    LB_GAP_SUPERSEDED,
    LB_GAP_DISCONTINUED,
    LB_GAP_STOCK_SHORT,
    LB_GAP_REUSED_SINGLE_USE,
    LB_GAP_ASK,
};
/* "no-part", "no-offer" … as formats.md spells them. */
const char *lb_gap_name(enum lb_gap_code code);
const char *lb_decision_name(enum lb_decision decision);
const char *lb_fit_name(enum lb_fit fit); /* "fits", "ask", "no" */

struct lb_gap {
    enum lb_gap_code code;
    int line; /* number */
    const char *message;
};

struct lb_kit {
    const char *name;
    struct lb_vehicle vehicle;
    const struct lb_want *wants;
    size_t want_count;
    struct lb_survey *survey;
    struct lb_plan *plan;
    const struct lb_line *lines; /* needs, then spares */
    size_t line_count, need_count;
    const struct lb_gap *gaps; /* by line number */
    size_t gap_count;
    const struct lb_supplier *suppliers; /* basket/basket.h */
    const struct lb_rate *rates;
    size_t supplier_count, rate_count;
    struct lb_basket *basket; /* what the lines to buy cost; each part at its cheapest live offer */
    const struct lb_part *const *bought; /* the basket's parts */
    const char *const *component_names;  /* by component: what people call it ("water pump") */
    const char *const
        *remarks; /* what the map leaves open: components it does not describe, circuits it does not fill */
    size_t remark_count;
};

/* Stores (or replaces) a kit's definition and computes it, in one transaction: a kit that cannot be worked
 * out is not stored. Decisions on lines that still exist are kept. LB_DATA: an empty name, and whatever
 * lb_kit_open says. It is lb_fleet_build (kit/fleet.h) of one vehicle. */
LB_CHECK lb_status lb_kit_build(struct lb_kit **out, struct lb_store *store, const char *name,
                                const struct lb_vehicle *vehicle, const struct lb_want *wants,
                                size_t want_count, int32_t today, struct lb_error *err);
/* Computes a kit. `today` is the day (days since 1970-01-01) that offers must be valid on.
 * LB_DATA: no such kit (nearest names), a fleet's name (its kits), and whatever lb_survey_make and
 * lb_plan_make say. */
LB_CHECK lb_status lb_kit_open(struct lb_kit **out, struct lb_store *store, const char *name, int32_t today,
                               struct lb_error *err);
void lb_kit_free(struct lb_kit *kit);
/* Its id in the index; what is stored about it hangs on that. */
int64_t lb_kit_id(const struct lb_kit *kit);
/* Is something of the line to be bought again, since what was ordered for it was wrong, damaged or did not
 * come? */
bool lb_line_wants_again(const struct lb_line *line);
/* The unit that a part's quantities count, in an open kit or on its card: "each", "L", "g" … or a word of the
 * catalogue's own. Borrowed. */
const char *lb_part_unit(const struct lb_part *part);
/* The line of that number, or NULL and *err filled with the range. */
const struct lb_line *lb_kit_line(const struct lb_kit *kit, long number, struct lb_error *err);
/* Stores what the owner decides for a line. brand and number may be NULL (the part stays free); with them the
 * part must be in a catalogue: LB_DATA otherwise. */
LB_CHECK lb_status lb_kit_decide(struct lb_store *store, const struct lb_kit *kit, const struct lb_line *line,
                                 enum lb_decision decision, const char *brand, const char *number,
                                 struct lb_error *err);
/* Calls `each` with name, vehicle and targets ("cooling-system, radiator") of every kit, by name. Kits of a
 * fleet are one, with the fleet's name, all its vehicles ("maggie, hector") and targets. */
LB_CHECK lb_status lb_kit_each(struct lb_store *store,
                               lb_status (*each)(void *, const char *name, const char *vehicle,
                                                 const char *targets),
                               void *context, struct lb_error *err);

/* An offer as a market has it. */
struct lb_basket_offer lb_kit_offer(const struct lb_part_offer *offer);
/* Appends why a line is in the kit, in words: the chain of rows from the job to it, and how its part was
 * chosen. */
void lb_kit_why(const struct lb_kit *kit, const struct lb_line *line, struct lb_buf *out);
/* Appends when a rule's part was missed, and whose rule it is: "missed before, in saturday on 2026-11-30
 * (your own rule 3)". `row` is one with `missed`. */
void lb_kit_say_missed(const struct lb_kit *kit, const struct lb_map_consumable *row, struct lb_buf *out);

#endif
