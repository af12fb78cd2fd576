#include "report/fleet_json.h"

#include "report/kit_json.h"
#include "report/parcel_json.h"

#include <string.h>

/* Whose line it is, and which one there. */
static void set_whose(struct lb_maker *m, json_t *object, const struct lb_fleet *fleet, size_t kit, int line)
{
    json_t *of = lb_maker_object(m);
    lb_maker_set(m, of, "kit", lb_report_json_text(fleet->kits[kit]->name));
    lb_maker_set(m, of, "line", json_integer(line));
    lb_maker_set(m, object, "line", json_integer(lb_fleet_number(fleet, kit, line)));
    lb_maker_set(m, object, "vehicle", lb_report_json_text(fleet->kits[kit]->vehicle.name));
    lb_maker_set(m, object, "of", of);
}

static json_t *vehicle_json(struct lb_maker *m, const struct lb_fleet *fleet, size_t k)
{
    json_t *object = lb_maker_object(m), *whole = lb_report_kit_json(fleet->kits[k]);
    const char *key;
    json_t *value;
    lb_maker_set(m, object, "vehicle", lb_report_json_text(fleet->kits[k]->vehicle.name));
    lb_maker_set(m, object, "kit", lb_report_json_text(fleet->kits[k]->name));
    lb_maker_set(m, object, "first_line", json_integer(lb_fleet_number(fleet, k, 1)));
    json_object_foreach(whole, key, value) if (strcmp(key, "version") != 0)
        lb_maker_set(m, object, key, json_incref(value));
    m->failed = m->failed || !whole;
    json_decref(whole);
    return object;
}

/* Boxes that cover a line stand on lines of the same kit. */
static json_t *covered_json(struct lb_maker *m, const struct lb_fleet *fleet, size_t k, json_t *covered)
{
    json_t *array = lb_maker_array(m), *item;
    size_t i;
    json_array_foreach(covered, i, item)
    {
        json_t *copy = json_copy(item);
        int line = (int)json_integer_value(json_object_get(item, "line"));
        lb_maker_set(m, copy, "line", json_integer(lb_fleet_number(fleet, k, line)));
        lb_maker_add(m, array, copy);
    }
    return array;
}

static json_t *line_json(struct lb_maker *m, const struct lb_fleet *fleet, size_t k, bool spare, json_t *line)
{
    json_t *object = lb_maker_object(m), *value;
    const char *key;
    set_whose(m, object, fleet, k, (int)json_integer_value(json_object_get(line, "line")));
    lb_maker_set(m, object, "spare", json_boolean(spare));
    json_object_foreach(line, key, value)
    {
        if (strcmp(key, "covered") == 0)
            lb_maker_set(m, object, key, covered_json(m, fleet, k, value));
        else if (strcmp(key, "line") != 0)
            lb_maker_set(m, object, key, json_incref(value));
    }
    return object;
}

static json_t *lines_json(struct lb_maker *m, const struct lb_fleet *fleet, json_t *vehicles)
{
    json_t *array = lb_maker_array(m), *line;
    size_t i;
    for (size_t k = 0; k < fleet->kit_count; k++)
        for (int spare = 0; spare < 2; spare++)
            json_array_foreach(json_object_get(json_array_get(vehicles, k), spare ? "spares" : "lines"), i,
                               line) lb_maker_add(m, array, line_json(m, fleet, k, spare, line));
    return array;
}

static json_t *gaps_json(struct lb_maker *m, const struct lb_fleet *fleet)
{
    json_t *array = lb_maker_array(m);
    for (size_t k = 0; k < fleet->kit_count; k++)
        for (size_t i = 0; i < fleet->kits[k]->gap_count; i++) {
            const struct lb_gap *gap = &fleet->kits[k]->gaps[i];
            json_t *object = lb_maker_object(m);
            lb_maker_set(m, object, "code", lb_report_json_text(lb_gap_name(gap->code)));
            set_whose(m, object, fleet, k, gap->line);
            lb_maker_set(m, object, "message", lb_report_json_text(gap->message));
            lb_maker_add(m, array, object);
        }
    return array;
}

static json_t *shares_json(struct lb_maker *m, const struct lb_fleet *fleet, const struct lb_fleet_need *need)
{
    json_t *array = lb_maker_array(m);
    for (size_t i = 0; i < need->share_count; i++) {
        const struct lb_fleet_share *share = &need->shares[i];
        json_t *object = lb_maker_object(m);
        lb_maker_set(m, object, "vehicle", lb_report_json_text(fleet->kits[share->kit]->vehicle.name));
        lb_maker_set(m, object, "line",
                     json_integer(lb_fleet_number(fleet, share->kit, share->line->number)));
        lb_maker_set(m, object, "quantity", lb_report_json_quantity(share->line->need->article.quantity));
        lb_maker_add(m, array, object);
    }
    return array;
}

static json_t *needs_json(struct lb_maker *m, const struct lb_fleet *fleet)
{
    struct lb_fleet_needs needs;
    json_t *array = lb_maker_array(m);
    m->failed = m->failed || lb_fleet_needs(&needs, fleet, NULL);
    for (size_t i = 0; i < needs.count; i++) {
        const struct lb_fleet_need *need = &needs.at[i];
        json_t *object = lb_maker_object(m);
        lb_maker_set(m, object, "part_type", lb_report_json_text(need->part_type));
        lb_maker_set(m, object, "spec", lb_report_json_text(need->spec));
        lb_maker_set(m, object, "quantity", lb_report_json_quantity(need->quantity));
        lb_maker_set(m, object, "unit", lb_report_json_text(need->unit));
        lb_maker_set(m, object, "chosen", need->part ? lb_report_part_name_json(m, need->part) : json_null());
        lb_maker_set(m, object, "to_buy", need->part ? lb_report_json_quantity(need->to_buy) : json_null());
        lb_maker_set(m, object, "of", shares_json(m, fleet, need));
        lb_maker_add(m, array, object);
    }
    lb_fleet_needs_free(&needs);
    return array;
}

json_t *lb_report_fleet_json(const struct lb_fleet *fleet)
{
    struct lb_maker m = {0};
    json_t *object = lb_maker_object(&m), *vehicles = lb_maker_array(&m);
    for (size_t k = 0; k < fleet->kit_count; k++)
        lb_maker_add(&m, vehicles, vehicle_json(&m, fleet, k));
    lb_maker_set(&m, object, "version", json_integer(1));
    lb_maker_set(&m, object, "kit", lb_report_json_text(fleet->name));
    lb_maker_set(&m, object, "verdict", lb_report_json_text(lb_fleet_gap_count(fleet) ? "gaps" : "complete"));
    lb_maker_set(&m, object, "vehicles", vehicles);
    lb_maker_set(&m, object, "lines", lines_json(&m, fleet, vehicles));
    lb_maker_set(&m, object, "needs", needs_json(&m, fleet));
    lb_maker_set(&m, object, "gaps", gaps_json(&m, fleet));
    return lb_maker_end(&m, object);
}
