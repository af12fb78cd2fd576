/* Why a line is in the kit, in words: each derivation from the job down to the row, then the part and how it
 * was chosen. */
#include "base/decimal.h"
#include "kit/build.h"
#include "kit/former.h"

#include <stdlib.h>
#include <string.h>

static void say_doubts(const struct lb_map *map, const struct lb_row *row, struct lb_buf *out)
{
    if (!row->doubt_count)
        return;
    lb_buf_puts(out, ", if ");
    for (uint32_t i = 0; i < row->doubt_count; i++)
        lb_buf_printf(out, "%s%s", i ? " and " : "", map->facts[row->doubts[i]]);
    lb_buf_puts(out, " is so");
}

static void say_row(const struct lb_map *map, const struct lb_row *row, struct lb_buf *out)
{
    if (row->source != LB_NO_NAME)
        lb_buf_printf(out, " (%s:%u)", map->sources[row->source], row->line);
    say_doubts(map, row, out);
}

/* The rows from a target to a node, nearest first; causes lead to the targets, since loops were refused. A
 * drained circuit may lead back to what opens it, so the chain is cut at the number of nodes. */
static size_t chain_of(const struct lb_plan *plan, size_t node, size_t *chain, size_t room)
{
    const struct lb_map *map = plan->map;
    size_t count = 0;
    while (count < room) {
        const struct lb_cause *cause = &plan->causes[node];
        chain[count++] = node;
        if (cause->kind == LB_CAUSE_ACCESS) {
            struct lb_thing thing = map->access[cause->index].thing;
            node = thing.is_circuit ? map->component_count + thing.id : thing.id;
        } else if (cause->kind == LB_CAUSE_OPENS) {
            node = map->opens[cause->index].component;
        } else {
            break;
        }
    }
    return count;
}

static void say_target(const struct lb_kit *kit, const struct lb_target *target, struct lb_buf *out)
{
    const struct lb_map *map = kit->plan->map;
    const char *name =
        target->thing.is_circuit ? map->circuits[target->thing.id] : map->components[target->thing.id];
    const char *verb = target->thing.is_circuit ? "drained and refilled"
                       : target->refit          ? "taken off and put back"
                                                : "renewed";
    lb_buf_printf(out, "  %s is to be %s: %s", name, verb,
                  target->row.source == LB_NO_NAME ? "you asked for it" : "the job says so");
    say_row(map, &target->row, out);
    lb_buf_puts(out, "\n");
}

static void say_link(const struct lb_kit *kit, const struct lb_cause *cause, struct lb_buf *out)
{
    const struct lb_map *map = kit->plan->map;
    if (cause->kind == LB_CAUSE_TARGET) {
        say_target(kit, &kit->plan->targets[cause->index], out);
    } else if (cause->kind == LB_CAUSE_ACCESS) {
        const struct lb_map_access *row = &map->access[cause->index];
        lb_buf_printf(out, "  to get at %s, %s must be %s",
                      row->thing.is_circuit ? map->circuits[row->thing.id] : map->components[row->thing.id],
                      map->components[row->needs],
                      row->state == LB_ASIDE ? "set aside" : lb_level_name(row->state));
        say_row(map, &row->row, out);
        lb_buf_puts(out, "\n");
    } else if (cause->kind == LB_CAUSE_OPENS) {
        const struct lb_map_opens *row = &map->opens[cause->index];
        lb_buf_printf(out, "  with %s %s, %s is opened", map->components[row->component],
                      lb_level_name(row->at), map->circuits[row->circuit]);
        say_row(map, &row->row, out);
        lb_buf_puts(out, "\n");
    }
}

static void say_chain(const struct lb_kit *kit, size_t node, struct lb_buf *out)
{
    size_t room = kit->plan->map->component_count + kit->plan->map->circuit_count;
    size_t *chain = calloc(room + 1, sizeof *chain);
    if (!chain) {
        out->failed = true;
        return;
    }
    for (size_t i = chain_of(kit->plan, node, chain, room); i-- > 0;)
        say_link(kit, &kit->plan->causes[chain[i]], out);
    free(chain);
}

static void say_amount(int64_t quantity, const char *unit, struct lb_buf *out)
{
    lb_decimal_print(out, quantity);
    lb_buf_printf(out, " %s", unit);
}

static void say_fastening(const struct lb_kit *kit, const struct lb_origin *origin, struct lb_buf *out)
{
    const struct lb_map_fastening *row = &kit->plan->map->fastenings[origin->index];
    static const char *const reuse[] = {"must not go back", "may go back if it passes a check", "goes back"};
    lb_buf_printf(out, "  %s of %s: ", row->item, kit->plan->map->components[row->component]);
    say_amount(row->article.quantity, row->article.unit, out);
    lb_buf_printf(out, ", %s", reuse[row->reuse]);
    if (row->joint && !origin->quantity)
        lb_buf_puts(out, "; another row of the same joint counts");
    say_row(kit->plan->map, &row->row, out);
    lb_buf_puts(out, "\n");
}

static void say_fluid(const struct lb_kit *kit, const struct lb_origin *origin, struct lb_buf *out)
{
    const struct lb_map *map = kit->plan->map;
    const struct lb_map_circuit *row = &map->circuit_rows[origin->index];
    int64_t share = origin->opens == LB_NO_NAME ? 100 * LB_MILLION : map->opens[origin->opens].share;
    lb_buf_printf(out, "  %s holds ", map->circuits[row->circuit]);
    say_amount(row->fluid.quantity, "L", out);
    lb_buf_puts(out, ", of which ");
    lb_decimal_print(out, share);
    lb_buf_printf(out, " %% are lost; %s ",
                  origin->kind == LB_FROM_DILUENT ? "diluent" : "of that, as mixed,");
    say_amount(origin->quantity, "L", out);
    say_row(map, &row->row, out);
    lb_buf_puts(out, "\n");
}

void lb_kit_say_missed(const struct lb_kit *kit, const struct lb_map_consumable *row, struct lb_buf *out)
{
    lb_buf_puts(out, "missed before");
    if (row->missed_in && *row->missed_in)
        lb_buf_printf(out, ", in %s", row->missed_in);
    lb_buf_printf(out, "%s on %s", row->missed_in && *row->missed_in ? "" : ",", row->missed_on);
    if (row->own)
        lb_buf_printf(out, " (your own rule %u)", row->row.line);
    else
        lb_buf_printf(out, " (%s:%u)", kit->plan->map->sources[row->row.source], row->row.line);
}

static void say_consumable(const struct lb_kit *kit, const struct lb_origin *origin, struct lb_buf *out)
{
    const struct lb_map_consumable *row = &kit->plan->map->consumables[origin->index];
    lb_buf_printf(out, "  working on %s takes ", kit->plan->map->components[row->component]);
    say_amount(origin->quantity, row->article.unit, out);
    if (row->missed) {
        lb_buf_puts(out, "; ");
        lb_kit_say_missed(kit, row, out);
        say_doubts(kit->plan->map, &row->row, out);
    } else {
        say_row(kit->plan->map, &row->row, out);
    }
    lb_buf_puts(out, "\n");
}

static void say_origin(const struct lb_kit *kit, const struct lb_origin *origin, struct lb_buf *out)
{
    const struct lb_map *map = kit->plan->map;
    if (origin->kind == LB_FROM_FASTENING) {
        say_fastening(kit, origin, out);
    } else if (origin->kind == LB_FROM_COMPONENT) {
        const struct lb_map_component *row = &map->component_rows[origin->index];
        lb_buf_printf(out, "  %s takes ", map->components[row->component]);
        say_amount(origin->quantity, row->article.unit, out);
        say_row(map, &row->row, out);
        lb_buf_puts(out, "\n");
    } else if (origin->kind == LB_FROM_CONSUMABLE) {
        say_consumable(kit, origin, out);
    } else {
        say_fluid(kit, origin, out);
    }
}

static size_t node_of_origin(const struct lb_map *map, const struct lb_origin *origin)
{
    bool fluid = origin->kind == LB_FROM_FLUID || origin->kind == LB_FROM_DILUENT;
    return fluid ? map->component_count + map->circuit_rows[origin->index].circuit : origin->component;
}

static void say_misfit(const struct lb_part *part, struct lb_buf *out)
{
    const struct lb_former *row = lb_former_fit(part);
    lb_buf_puts(out, "; no catalogue says that it fits");
    if (row && row->applied)
        lb_buf_printf(out, " now, %s did until %.10s", row->place.file, row->gone);
}

/* A superseded number is never chosen but always explained. */
static void say_candidate(const struct lb_line *line, uint32_t index, struct lb_buf *out)
{
    static const char *const via[] = {"its catalogue lists this vehicle",
                                      "spec as asked for",
                                      "made for any vehicle",
                                      "in its box",
                                      "same as",
                                      "may be used instead of",
                                      "replaces",
                                      "you named it",
                                      "was ordered for this line"};
    const struct lb_candidate *c = &line->candidates[index];
    lb_buf_printf(out, "  %s %s %s: %s", index == line->chosen ? ">" : " ", c->part->brand, c->part->number,
                  via[c->via]);
    if (c->through != LB_NO_NAME)
        lb_buf_printf(out, " %s %s", line->candidates[c->through].part->brand,
                      line->candidates[c->through].part->number);
    if (c->place.file)
        lb_buf_printf(out, " (%s:%u)", c->place.file, c->place.line);
    if (c->fit == LB_FIT_ASK)
        lb_buf_printf(out, "; fits depending on %s", c->asks ? c->asks : "facts not known");
    if (c->fit == LB_FIT_NO)
        say_misfit(c->part, out);
    for (size_t i = 0; i < c->companion_count; i++)
        lb_buf_printf(out, "%s%s %s", i ? ", " : "; needs with it ", c->companions[i].part->brand,
                      c->companions[i].part->number);
    lb_buf_puts(out, c->part->superseded ? "; superseded" : "");
    lb_buf_puts(out, c->part->discontinued ? "; discontinued" : "");
    lb_buf_puts(out, c->part->live ? "" : "; no live offer");
    lb_former_say_lost(out, c->part, "; ", "; ");
    lb_buf_puts(out, c->eligible ? "\n" : "; not to be chosen\n");
}

/* What would have answered it in an earlier edition. */
static void say_gone(const struct lb_line *line, struct lb_buf *out)
{
    for (size_t i = 0; i < line->gone_count; i++) {
        lb_buf_printf(out, "  There was %s %s", line->gone[i]->brand, line->gone[i]->number);
        lb_former_say_lost(out, line->gone[i], ": ", "; ");
        lb_buf_puts(out, "\n");
    }
}

static void say_supply(const struct lb_line *line, struct lb_buf *out)
{
    const struct {
        int64_t quantity;
        const char *words;
    } kinds[] = {{line->here, "Here"}, {line->on_way, "On its way"}, {line->from_shelf, "On the shelf"}};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        if (!kinds[i].quantity)
            continue;
        lb_buf_printf(out, "%s: ", kinds[i].words);
        say_amount(kinds[i].quantity, lb_part_unit(line->candidates[line->chosen].part), out);
        lb_buf_puts(out, i == 2 && line->opened ? "; opened, see that it may still be used.\n" : ".\n");
    }
}

void lb_kit_why(const struct lb_kit *kit, const struct lb_line *line, struct lb_buf *out)
{
    const struct lb_need *need = line->need;
    lb_buf_printf(out, "Line %d: ", line->number);
    say_amount(need->article.quantity, need->article.unit, out);
    lb_buf_printf(out, " %s%s%s (%s%s)\n", need->article.part_type, need->article.spec.text ? " " : "",
                  need->article.spec.text ? need->article.spec.text : "", lb_reason_name(need->reason),
                  need->sure ? "" : ", to be asked");
    for (size_t i = 0; i < need->origin_count; i++) {
        lb_buf_puts(out, "Because\n");
        say_chain(kit, node_of_origin(kit->plan->map, &need->origins[i]), out);
        say_origin(kit, &need->origins[i], out);
    }
    lb_buf_puts(out, line->candidate_count ? "Parts that could answer it\n"
                                           : "No catalogue has a part that could answer it.\n");
    for (uint32_t i = 0; i < line->candidate_count; i++)
        say_candidate(line, i, out);
    say_gone(line, out);
    if (line->chosen != LB_NO_NAME)
        lb_buf_printf(out, "Chosen: %s %s, because %s.\n", line->candidates[line->chosen].part->brand,
                      line->candidates[line->chosen].part->number, line->because);
    for (size_t i = 0; i < line->cover_count; i++) {
        lb_buf_puts(out, "Covered: ");
        say_amount(line->covers[i].quantity, need->article.unit, out);
        lb_buf_printf(out, " in the box of %s %s, bought for line %u (%s:%u)\n", line->covers[i].box->brand,
                      line->covers[i].box->number, line->covers[i].line + 1, line->covers[i].place.file,
                      line->covers[i].place.line);
    }
    say_supply(line, out);
    lb_buf_printf(out, "Decision: %s%s.\n", lb_decision_name(line->decision), line->decided ? ", yours" : "");
}
