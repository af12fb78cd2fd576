/* What service maps say: formats.md §1, platforms to pulleys.
 *
 * Keys: `when` is part of every key, since a map states the same component, circuit or bolt once per variant.
 */
#include "base/glycol.h"
#include "base/measure.h"
#include "importers/kinds_tables.h"

#include <stddef.h>

static const char *const fastening_kinds[] = {"bolt",  "nut",    "screw", "stud",   "clip",    "pin",
                                              "clamp", "gasket", "seal",  "o-ring", "sealant", NULL};
static const char *const reuses[] = {"never", "check", "always", NULL};
static const char *const states[] = {"loosened", "aside", "removed", NULL};
static const char *const actions[] = {"renew", "refit", NULL};
static const char *const sides[] = {"ribs", "back", NULL};

enum { PLATFORMS_FROM = 3, PLATFORMS_TO = 4 };
enum { CIRCUITS_MIX = 5, CIRCUITS_FREEZE = 6 };
enum { JOBS_COMPONENT = 2, JOBS_CIRCUIT = 3 };

const struct lb_column lb_platforms_columns[] = {
    {.name = "platform", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "make", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "model", .type = LB_CELL_TEXT, .required = true, .key = true},
    [PLATFORMS_FROM] = {.name = "built_from", .type = LB_CELL_DATE, .key = true},
    [PLATFORMS_TO] = {.name = "built_to", .type = LB_CELL_DATE, .key = true},
    {.name = "when", .type = LB_CELL_WHEN, .key = true},
};

const struct lb_column lb_components_columns[] = {
    {.name = "platform", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "component", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "part_type", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "name", .type = LB_CELL_TEXT},
    {.name = "quantity", .type = LB_CELL_QUANTITY, .fallback = "1"},
    {.name = "unit", .type = LB_CELL_UNIT, .fallback = "each"},
    {.name = "spec", .type = LB_CELL_TEXT, .key = true},
    {.name = "position", .type = LB_CELL_POSITION, .key = true},
    {.name = "when", .type = LB_CELL_WHEN, .key = true},
    {.name = "wear_km", .type = LB_CELL_MEASURE, .dimension = LB_DISTANCE, .bound = LB_BOUND_ABOVE_ZERO},
    {.name = "wear_months", .type = LB_CELL_COUNT, .bound = LB_BOUND_ABOVE_ZERO},
    {.name = "inspect", .type = LB_CELL_YES},
    {.name = "steps", .type = LB_CELL_VERBS, .fallback = "remove fit"},
};

/* at stays not stated: what it means by default depends on the kind (hardware from loosened on, sealing at
 * removed). */
const struct lb_column lb_fastenings_columns[] = {
    {.name = "platform", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "component", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "item", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "kind", .type = LB_CELL_CHOICE, .required = true, .choices = fastening_kinds},
    {.name = "part_type", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "quantity", .type = LB_CELL_QUANTITY, .required = true},
    {.name = "reuse", .type = LB_CELL_CHOICE, .required = true, .choices = reuses},
    {.name = "unit", .type = LB_CELL_UNIT, .fallback = "each"},
    {.name = "spec", .type = LB_CELL_TEXT},
    {.name = "joint", .type = LB_CELL_WORD},
    {.name = "torque", .type = LB_CELL_MEASURE, .dimension = LB_TORQUE, .bound = LB_BOUND_ABOVE_ZERO},
    {.name = "angle", .type = LB_CELL_MEASURE, .dimension = LB_ANGLE, .bound = LB_BOUND_ABOVE_ZERO},
    {.name = "tool", .type = LB_CELL_TEXT},
    {.name = "at", .type = LB_CELL_CHOICE, .choices = states},
    {.name = "when", .type = LB_CELL_WHEN, .key = true},
    {.name = "note", .type = LB_CELL_TEXT},
};

const struct lb_column lb_access_columns[] = {
    {.name = "platform", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "component", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "needs", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "state", .type = LB_CELL_CHOICE, .required = true, .choices = states},
    {.name = "to", .type = LB_CELL_CHOICE, .choices = states, .key = true},
    {.name = "when", .type = LB_CELL_WHEN, .key = true},
};

const struct lb_column lb_sequence_columns[] = {
    {.name = "platform", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "first", .type = LB_CELL_STEP, .required = true, .key = true},
    {.name = "then", .type = LB_CELL_STEP, .required = true, .key = true},
    {.name = "when", .type = LB_CELL_WHEN, .key = true},
    {.name = "note", .type = LB_CELL_TEXT},
};

const struct lb_column lb_circuits_columns[] = {
    {.name = "platform", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "circuit", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "capacity",
     .type = LB_CELL_MEASURE,
     .required = true,
     .dimension = LB_VOLUME,
     .bound = LB_BOUND_ABOVE_ZERO},
    {.name = "fluid_type", .type = LB_CELL_WORD, .required = true},
    {.name = "spec", .type = LB_CELL_TEXT},
    [CIRCUITS_MIX] = {.name = "mix_percent", .type = LB_CELL_SHARE},
    [CIRCUITS_FREEZE] = {.name = "freeze_to", .type = LB_CELL_MEASURE, .dimension = LB_TEMPERATURE},
    {.name = "diluent_type", .type = LB_CELL_WORD},
    {.name = "diluent_spec", .type = LB_CELL_TEXT},
    {.name = "when", .type = LB_CELL_WHEN, .key = true},
};

/* share_percent may exceed 100: a circuit that is flushed loses more than it holds. */
const struct lb_column lb_opens_columns[] = {
    {.name = "platform", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "component", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "circuit", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "share_percent", .type = LB_CELL_SHARE, .required = true},
    {.name = "at", .type = LB_CELL_CHOICE, .choices = states, .fallback = "removed", .key = true},
    {.name = "when", .type = LB_CELL_WHEN, .key = true},
};

const struct lb_column lb_consumables_columns[] = {
    {.name = "platform", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "component", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "part_type", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "quantity", .type = LB_CELL_QUANTITY, .required = true},
    {.name = "unit", .type = LB_CELL_UNIT, .required = true},
    {.name = "spec", .type = LB_CELL_TEXT, .key = true},
    {.name = "at", .type = LB_CELL_CHOICE, .choices = states, .key = true},
    {.name = "when", .type = LB_CELL_WHEN, .key = true},
    {.name = "note", .type = LB_CELL_TEXT},
};

const struct lb_column lb_cautions_columns[] = {
    {.name = "platform", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "component", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "text", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "when", .type = LB_CELL_WHEN, .key = true},
};

const struct lb_column lb_jobs_columns[] = {
    {.name = "platform", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "job", .type = LB_CELL_WORD, .required = true, .key = true},
    [JOBS_COMPONENT] = {.name = "component", .type = LB_CELL_WORD, .key = true},
    [JOBS_CIRCUIT] = {.name = "circuit", .type = LB_CELL_WORD, .key = true},
    {.name = "action", .type = LB_CELL_CHOICE, .choices = actions, .fallback = "renew"},
    {.name = "when", .type = LB_CELL_WHEN, .key = true},
};

const struct lb_column lb_facts_columns[] = {
    {.name = "key", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "where_to_look", .type = LB_CELL_TEXT, .required = true},
    {.name = "values", .type = LB_CELL_TEXT},
    {.name = "platform", .type = LB_CELL_WORD, .key = true},
};

const struct lb_column lb_pulleys_columns[] = {
    {.name = "platform", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "belt", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "order", .type = LB_CELL_COUNT, .required = true, .key = true},
    {.name = "component", .type = LB_CELL_WORD, .required = true},
    {.name = "x", .type = LB_CELL_MEASURE, .required = true, .dimension = LB_LENGTH},
    {.name = "y", .type = LB_CELL_MEASURE, .required = true, .dimension = LB_LENGTH},
    {.name = "diameter",
     .type = LB_CELL_MEASURE,
     .required = true,
     .dimension = LB_LENGTH,
     .bound = LB_BOUND_ABOVE_ZERO},
    {.name = "side", .type = LB_CELL_CHOICE, .required = true, .choices = sides},
    {.name = "slack_mm", .type = LB_CELL_MEASURE, .dimension = LB_LENGTH, .bound = LB_BOUND_NOT_NEGATIVE},
    {.name = "when", .type = LB_CELL_WHEN, .key = true},
};

/* What owners missed, as `lastbolt rules` writes it. The rule's number there says nothing here. */
const struct lb_column lb_rules_columns[] = {
    {.name = "platform", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "component", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "part_type", .type = LB_CELL_WORD, .required = true, .key = true},
    {.name = "quantity", .type = LB_CELL_QUANTITY, .required = true},
    {.name = "unit", .type = LB_CELL_UNIT, .required = true},
    {.name = "missed", .type = LB_CELL_DATE, .required = true},
    {.name = "spec", .type = LB_CELL_TEXT, .key = true},
    {.name = "kit", .type = LB_CELL_TEXT},
    {.name = "when", .type = LB_CELL_WHEN, .key = true},
    {.name = "rule", .type = LB_CELL_COUNT},
};

const char *lb_platforms_check(const struct lb_value *values, int *column)
{
    return lb_built_check(values, PLATFORMS_FROM, PLATFORMS_TO, column);
}

/* A percentage of the circuit cannot exceed it; past the coldest tabled mixture there is nothing to compute a
 * share from. */
const char *lb_circuits_check(const struct lb_value *values, int *column)
{
    const struct lb_value *mix = &values[CIRCUITS_MIX], *freeze = &values[CIRCUITS_FREEZE];
    if (mix->type == LB_VALUE_INTEGER && mix->integer > (int64_t)100000000) {
        *column = CIRCUITS_MIX;
        return "mix_percent is above 100";
    }
    if (freeze->type == LB_VALUE_INTEGER && freeze->integer < LB_GLYCOL_COLDEST) {
        *column = CIRCUITS_FREEZE;
        return "freeze_to is colder than -48.3 °C, the coldest that any mixture is tabled for";
    }
    return NULL;
}

const char *lb_jobs_check(const struct lb_value *values, int *column)
{
    bool component = values[JOBS_COMPONENT].type != LB_VALUE_NULL;
    bool circuit = values[JOBS_CIRCUIT].type != LB_VALUE_NULL;
    *column = component ? JOBS_CIRCUIT : JOBS_COMPONENT;
    if (component && circuit)
        return "a row of a job names a component or a circuit, not both; write two rows";
    if (!component && !circuit)
        return "a row of a job names a component or a circuit; both are empty";
    return NULL;
}
