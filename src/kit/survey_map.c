/* The rows of one platform, kind by kind. Names are learnt from false rows too, so that a row that refers to
 * them is understood; the rows themselves are left out. */
#include "kit/surveyor.h"

#include <string.h>

#define OWN(n) (ROW_OWN + (n))
#define QUERY(columns, table)                                                                                \
    "SELECT " ROW_COLUMNS ", " columns LB_PLACED(table) "WHERE r.platform = ?1" LB_IN_ORDER
#define KEEP(s, vec, value) (LB_PUSH(vec, value) ? LB_OK : lb_fail_nomem((s)->err))

/* "remove fit" -> the two verbs. Checked at import. */
static lb_status read_verbs(struct surveyor *s, const char *steps, struct lb_map_component *row)
{
    const char *blank = strchr(steps, ' ');
    char *off = lb_arena_text(&s->arena, steps, blank ? (size_t)(blank - steps) : strlen(steps));
    if (!off)
        return lb_fail_nomem(s->err);
    row->off = off;
    return survey_text(s, blank ? blank + 1 : "fit", &row->back);
}

static lb_status read_component(struct surveyor *s, struct lb_statement *st)
{
    struct lb_map_component row = {0};
    bool applies;
    const char *steps = lb_text(st, OWN(10));
    lb_status status = survey_name(s, &s->components, lb_text(st, OWN(0)), &row.component);
    if (!status)
        status = survey_row(s, st, -1, &applies, &row.row);
    if (status || !applies)
        return status;
    row.wear_km = lb_integer(st, OWN(7));
    row.wear_months = lb_integer(st, OWN(8));
    status = survey_article(s, lb_text(st, OWN(1)), lb_text(st, OWN(5)), lb_integer(st, OWN(3)),
                            lb_text(st, OWN(4)), &row.article);
    if (!status)
        status = survey_text(s, lb_text(st, OWN(2)), &row.name);
    if (!status)
        status = survey_text(s, lb_text(st, OWN(6)), &row.position);
    if (!status)
        status = survey_text(s, lb_text(st, OWN(9)), &row.inspect);
    if (!status)
        status = read_verbs(s, steps ? steps : "remove fit", &row);
    return status ? status : KEEP(s, &s->component_rows, row);
}

static bool is_sealing(const char *kind)
{
    static const char *const kinds[] = {"gasket", "seal", "o-ring", "sealant"};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (strcmp(kind, kinds[i]) == 0)
            return true;
    return false;
}

static enum lb_reuse read_reuse(const char *text)
{
    return text[0] == 'n' ? LB_REUSE_NEVER : text[0] == 'c' ? LB_REUSE_CHECK : LB_REUSE_ALWAYS;
}

static lb_status read_fastening(struct surveyor *s, struct lb_statement *st)
{
    struct lb_map_fastening row = {0};
    bool applies;
    lb_status status = survey_name(s, &s->components, lb_text(st, OWN(0)), &row.component);
    if (!status)
        status = survey_row(s, st, -1, &applies, &row.row);
    if (status || !applies)
        return status;
    row.sealing = is_sealing(lb_text(st, OWN(2)));
    row.reuse = read_reuse(lb_text(st, OWN(6)));
    row.torque = lb_integer(st, OWN(9));
    row.angle = lb_integer(st, OWN(10));
    row.at = survey_level(lb_text(st, OWN(12)), row.sealing ? LB_REMOVED : LB_LOOSENED);
    status = survey_article(s, lb_text(st, OWN(3)), lb_text(st, OWN(7)), lb_integer(st, OWN(4)),
                            lb_text(st, OWN(5)), &row.article);
    if (!status && !lb_is_null(st, OWN(8))) {
        status = survey_name(s, &s->joints, lb_text(st, OWN(8)), &row.joint);
        row.joint++;
    }
    const struct {
        int column;
        const char **text;
    } texts[] = {{OWN(1), &row.item}, {OWN(2), &row.kind}, {OWN(11), &row.tool}, {OWN(13), &row.note}};
    for (size_t i = 0; !status && i < sizeof texts / sizeof *texts; i++)
        status = survey_text(s, lb_text(st, texts[i].column), texts[i].text);
    return status ? status : KEEP(s, &s->fastenings, row);
}

static lb_status read_circuit(struct surveyor *s, struct lb_statement *st)
{
    struct lb_map_circuit row = {.mix = lb_is_null(st, OWN(4)) ? -1 : lb_integer(st, OWN(4)),
                                 .has_freeze_to = !lb_is_null(st, OWN(5)),
                                 .freeze_to = lb_integer(st, OWN(5))};
    bool applies;
    lb_status status = survey_name(s, &s->circuits, lb_text(st, OWN(0)), &row.circuit);
    if (!status)
        status = survey_row(s, st, -1, &applies, &row.row);
    if (status || !applies)
        return status;
    status =
        survey_article(s, lb_text(st, OWN(2)), lb_text(st, OWN(3)), lb_integer(st, OWN(1)), "L", &row.fluid);
    if (!status && !lb_is_null(st, OWN(6)))
        status = survey_article(s, lb_text(st, OWN(6)), lb_text(st, OWN(7)), 0, "L", &row.diluent);
    return status ? status : KEEP(s, &s->circuit_rows, row);
}

static lb_status read_opens(struct surveyor *s, struct lb_statement *st)
{
    struct lb_map_opens row = {.share = lb_integer(st, OWN(2)),
                               .at = survey_level(lb_text(st, OWN(3)), LB_REMOVED)};
    bool applies;
    lb_status status = survey_name(s, &s->components, lb_text(st, OWN(0)), &row.component);
    if (!status)
        status = survey_name(s, &s->circuits, lb_text(st, OWN(1)), &row.circuit);
    if (!status)
        status = survey_row(s, st, -1, &applies, &row.row);
    return status || !applies ? status : KEEP(s, &s->opens, row);
}

static lb_status read_consumable(struct surveyor *s, struct lb_statement *st)
{
    struct lb_map_consumable row = {.at = survey_level(lb_text(st, OWN(5)), LB_LOOSENED)};
    bool applies;
    lb_status status = survey_name(s, &s->components, lb_text(st, OWN(0)), &row.component);
    if (!status)
        status = survey_row(s, st, -1, &applies, &row.row);
    if (status || !applies)
        return status;
    status = survey_article(s, lb_text(st, OWN(1)), lb_text(st, OWN(4)), lb_integer(st, OWN(2)),
                            lb_text(st, OWN(3)), &row.article);
    if (!status)
        status = survey_text(s, lb_text(st, OWN(6)), &row.note);
    return status ? status : KEEP(s, &s->consumables, row);
}

/* A name in a place that holds a component or a circuit. A name that no row describes is taken for a
 * component. */
static lb_status read_thing(struct surveyor *s, const char *name, struct lb_thing *thing)
{
    uint32_t id = lb_names_find(&s->components, name), circuit = lb_names_find(&s->circuits, name);
    thing->is_circuit = id == LB_NO_NAME && circuit != LB_NO_NAME;
    thing->id = thing->is_circuit ? circuit : id;
    return thing->id != LB_NO_NAME ? LB_OK : survey_name(s, &s->components, name, &thing->id);
}

static lb_status read_access(struct surveyor *s, struct lb_statement *st)
{
    struct lb_map_access row = {.state = survey_level(lb_text(st, OWN(2)), LB_REMOVED),
                                .to = survey_level(lb_text(st, OWN(3)), LB_UNTOUCHED)};
    bool applies;
    lb_status status = survey_row(s, st, -1, &applies, &row.row);
    if (status || !applies)
        return status;
    status = read_thing(s, lb_text(st, OWN(0)), &row.thing);
    if (!status)
        status = survey_name(s, &s->components, lb_text(st, OWN(1)), &row.needs);
    return status ? status : KEEP(s, &s->access, row);
}

static lb_status read_caution(struct surveyor *s, struct lb_statement *st)
{
    struct lb_map_caution row = {0};
    bool applies;
    lb_status status = survey_row(s, st, -1, &applies, &row.row);
    if (status || !applies)
        return status;
    status = read_thing(s, lb_text(st, OWN(0)), &row.thing);
    if (!status)
        status = survey_text(s, lb_text(st, OWN(1)), &row.text);
    return status ? status : KEEP(s, &s->cautions, row);
}

static bool is_circuit_verb(const char *verb)
{
    return strcmp(verb, "drain") == 0 || strcmp(verb, "fill") == 0 || strcmp(verb, "bleed") == 0;
}

/* `VERB NAME`; a name that nothing else knows names no step of any plan. */
static lb_status read_step(struct surveyor *s, const char *text, struct lb_step_name *step)
{
    const char *blank = strchr(text, ' ');
    const char *name = blank ? blank + 1 : "";
    char *verb = lb_arena_text(&s->arena, text, blank ? (size_t)(blank - text) : strlen(text));
    if (!verb)
        return lb_fail_nomem(s->err);
    uint32_t component = lb_names_find(&s->components, name), circuit = lb_names_find(&s->circuits, name);
    step->verb = verb;
    step->thing.is_circuit = circuit != LB_NO_NAME && (component == LB_NO_NAME || is_circuit_verb(verb));
    step->thing.id = step->thing.is_circuit ? circuit : component;
    return LB_OK;
}

static lb_status read_sequence(struct surveyor *s, struct lb_statement *st)
{
    struct lb_map_sequence row = {0};
    bool applies;
    lb_status status = survey_row(s, st, -1, &applies, &row.row);
    if (status || !applies)
        return status;
    status = read_step(s, lb_text(st, OWN(0)), &row.first);
    if (!status)
        status = read_step(s, lb_text(st, OWN(1)), &row.then);
    if (!status)
        status = survey_text(s, lb_text(st, OWN(2)), &row.note);
    return status ? status : KEEP(s, &s->sequences, row);
}

/* Pulleys are only drawn: they make no component known that no other row names. */
static lb_status read_pulley(struct surveyor *s, struct lb_statement *st)
{
    struct lb_map_pulley row = {.belt = lb_names_find(&s->components, lb_text(st, OWN(0))),
                                .component = lb_names_find(&s->components, lb_text(st, OWN(2))),
                                .order = lb_integer(st, OWN(1)),
                                .x = lb_integer(st, OWN(3)),
                                .y = lb_integer(st, OWN(4)),
                                .diameter = lb_integer(st, OWN(5)),
                                .slack = lb_is_null(st, OWN(7)) ? -1 : lb_integer(st, OWN(7)),
                                .back = lb_text(st, OWN(6))[0] == 'b'};
    bool applies;
    lb_status status = survey_row(s, st, -1, &applies, &row.row);
    if (status || !applies || row.belt == LB_NO_NAME)
        return status;
    status = survey_text(s, lb_text(st, OWN(2)), &row.name);
    return status ? status : KEEP(s, &s->pulleys, row);
}

lb_status survey_map(struct surveyor *s)
{
    /* Rows that may name either a component or a circuit come after those that tell which is which. */
    static const struct {
        const char *sql;
        lb_status (*read)(struct surveyor *, struct lb_statement *);
    } kinds[] = {
        {QUERY("r.component, r.part_type, r.name, r.quantity, r.unit, r.spec, r.position, r.wear_km, "
               "r.wear_months, "
               "r.inspect, r.steps",
               "components"),
         read_component},
        {QUERY("r.component, r.item, r.kind, r.part_type, r.quantity, r.unit, r.reuse, r.spec, r.joint, "
               "r.torque, "
               "r.angle, r.tool, r.at, r.note",
               "fastenings"),
         read_fastening},
        {QUERY("r.circuit, r.capacity, r.fluid_type, r.spec, r.mix_percent, r.freeze_to, r.diluent_type, "
               "r.diluent_spec",
               "circuits"),
         read_circuit},
        {QUERY("r.component, r.circuit, r.share_percent, r.at", "opens"), read_opens},
        {QUERY("r.component, r.part_type, r.quantity, r.unit, r.spec, r.at, r.note", "consumables"),
         read_consumable},
        {QUERY("r.component, r.needs, r.state, r.\"to\"", "access"), read_access},
        {QUERY("r.component, r.text", "cautions"), read_caution},
        {QUERY("r.\"first\", r.\"then\", r.note", "sequence"), read_sequence},
        {QUERY("r.belt, r.\"order\", r.component, r.x, r.y, r.diameter, r.side, r.slack_mm", "pulleys"),
         read_pulley},
    };
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < sizeof kinds / sizeof *kinds; i++)
        status = survey_rows(s, kinds[i].sql, s->survey.platform, kinds[i].read);
    return status;
}
