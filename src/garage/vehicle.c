#include "garage/vehicle.h"
#include "base/shell.h"
#include "base/text.h"
#include "base/vin.h"
#include "store/unknown.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

static lb_status replace(char **field, const char *value, struct lb_error *err)
{
    char *copy = value && *value ? strdup(value) : NULL;
    if (value && *value && !copy)
        return lb_fail_nomem(err);
    free(*field);
    *field = copy;
    return LB_OK;
}

static const struct lb_interval unknown_date = {LB_DATE_MIN, LB_DATE_MAX};

static lb_status state_built(struct lb_vehicle *vehicle, const char *value, struct lb_error *err)
{
    struct lb_interval interval = unknown_date;
    const char *reason = *value ? lb_date_parse(value, &interval) : NULL;
    if (reason)
        return lb_fail(err, LB_DATA, "built: \"%s\": %s. Write YYYY, YYYY-MM or YYYY-MM-DD.", value, reason);
    vehicle->interval = interval;
    return replace(&vehicle->built, value, err);
}

/* Vehicles older than the 17-character rule carry shorter numbers; those are kept as they are. */
static bool before_vins(const struct lb_vehicle *vehicle)
{
    return vehicle->built && lb_date_year(vehicle->interval.first) < 1981;
}

static lb_status state_vin(struct lb_vehicle *vehicle, const char *value, struct lb_error *err)
{
    struct lb_vin vin;
    const char *reason = *value && !before_vins(vehicle) ? lb_vin_parse(value, &vin) : NULL;
    if (reason)
        return lb_fail(err, LB_DATA,
                       "vin: \"%s\": %s. For a vehicle from before 1981 state --built first; its number is "
                       "then kept as it is.",
                       value, reason);
    return replace(&vehicle->vin, *value && !before_vins(vehicle) ? vin.text : value, err);
}

static bool is_key(const char *key)
{
    if (!isalpha((unsigned char)*key))
        return false;
    for (; *key; key++)
        if (!isalnum((unsigned char)*key) && !strchr("_-.", *key))
            return false;
    return true;
}

static lb_status state_fact(struct lb_vehicle *vehicle, const char *key, const char *value,
                            struct lb_error *err)
{
    size_t at = 0;
    while (at < vehicle->facts.count && strcmp(vehicle->facts.at[at].key, key) != 0)
        at++;
    if (at == vehicle->facts.count) {
        struct lb_vehicle_fact fact = {strdup(key), NULL};
        if (!fact.key || !LB_PUSH(&vehicle->facts, fact)) {
            free(fact.key);
            return lb_fail_nomem(err);
        }
    }
    return replace(&vehicle->facts.at[at].value, value, err);
}

lb_status lb_vehicle_state(struct lb_vehicle *vehicle, const char *key, const char *value,
                           struct lb_error *err)
{
    struct lb_buf folded = {0};
    lb_status status = LB_OK;
    lb_text_fold(&folded, key);
    const char *k = lb_buf_text(&folded);
    if (folded.failed)
        status = lb_fail_nomem(err);
    else if (!is_key(k))
        status = lb_fail(err, LB_DATA,
                         "\"%s\" is no name for a fact. Use a word such as engine, gearbox, ac.", key);
    else if (strcmp(k, "built") == 0)
        status = state_built(vehicle, value, err);
    else if (strcmp(k, "vin") == 0)
        status = state_vin(vehicle, value, err);
    else if (strcmp(k, "make") == 0 || strcmp(k, "model") == 0)
        status = *value ? replace(k[1] == 'a' ? &vehicle->make : &vehicle->model, value, err)
                        : lb_fail(err, LB_DATA, "the %s of a vehicle cannot be empty.", k);
    else
        status = state_fact(vehicle, k, value, err);
    lb_buf_free(&folded);
    return status;
}

void lb_vehicle_remarks(const struct lb_vehicle *vehicle, struct lb_buf *out)
{
    struct lb_vin vin;
    if (!vehicle->vin || before_vins(vehicle) || lb_vin_parse(vehicle->vin, &vin))
        return;
    if (vin.check_filler)
        lb_buf_printf(out,
                      "VIN %s: position 9 is a filler, as is usual outside North America; there is no check "
                      "character to test. Compare the number with the plate once more.\n",
                      vin.text);
    else if (!vin.check_ok)
        lb_buf_printf(
            out,
            "VIN %s: the check character in position 9 should be %c. In North America that means a "
            "reading error; elsewhere the rule does not apply. Compare the number with the plate.\n",
            vin.text, vin.expected);
    if (vin.check_ok && vin.model_year && vehicle->built) {
        int first = lb_date_year(vehicle->interval.first), last = lb_date_year(vehicle->interval.last);
        if (vin.model_year < first - 1 || vin.model_year > last + 2)
            lb_buf_printf(out, "VIN %s names model year %d, but the vehicle is said to be built in %s.\n",
                          vin.text, vin.model_year, vehicle->built);
    }
}

static lb_status save_facts(struct lb_store *store, const struct lb_vehicle *vehicle, struct lb_error *err)
{
    struct lb_statement *clear = NULL, *insert = NULL;
    lb_status status = lb_store_prepare(store, &clear, "DELETE FROM vehicle_fact WHERE vehicle = ?", err);
    if (!status) {
        lb_bind_integer(clear, 1, vehicle->id);
        status = lb_run(clear, err);
    }
    if (!status)
        status = lb_store_prepare(store, &insert,
                                  "INSERT INTO vehicle_fact (vehicle, key, value) VALUES (?, ?, ?)", err);
    for (size_t i = 0; !status && i < vehicle->facts.count; i++) {
        if (!vehicle->facts.at[i].value)
            continue;
        lb_bind_integer(insert, 1, vehicle->id);
        lb_bind_text(insert, 2, vehicle->facts.at[i].key);
        lb_bind_text(insert, 3, vehicle->facts.at[i].value);
        status = lb_run(insert, err);
    }
    lb_statement_free(clear);
    lb_statement_free(insert);
    return status;
}

static lb_status save_row(struct lb_store *store, struct lb_vehicle *vehicle, struct lb_error *err)
{
    struct lb_statement *statement;
    lb_status status = lb_store_prepare(
        store, &statement,
        vehicle->id
            ? "UPDATE vehicle SET name = ?1, make = ?2, model = ?3, built = ?4, vin = ?5 WHERE id = ?6"
            : "INSERT INTO vehicle (name, make, model, built, vin) VALUES (?1, ?2, ?3, ?4, ?5)",
        err);
    if (status)
        return status;
    lb_bind_text(statement, 1, vehicle->name);
    lb_bind_text(statement, 2, vehicle->make);
    lb_bind_text(statement, 3, vehicle->model);
    lb_bind_text(statement, 4, vehicle->built);
    lb_bind_text(statement, 5, vehicle->vin);
    if (vehicle->id)
        lb_bind_integer(statement, 6, vehicle->id);
    status = lb_run(statement, err);
    lb_statement_free(statement);
    if (!status && !vehicle->id)
        vehicle->id = lb_store_last_id(store);
    return status;
}

static lb_status refuse_taken(struct lb_store *store, const char *name, struct lb_error *err)
{
    struct lb_statement *statement;
    struct lb_buf word = {0};
    bool row = false;
    lb_status status = lb_store_prepare(store, &statement, "SELECT name FROM vehicle WHERE name = ?", err);
    if (status)
        return status;
    lb_bind_text(statement, 1, name);
    status = lb_step(statement, &row, err);
    if (!status && row)
        status =
            lb_fail(err, LB_DATA,
                    "there is a vehicle \"%s\" already. Change it with: lastbolt vehicle set %s KEY=VALUE",
                    lb_text(statement, 0), lb_shell_word(&word, lb_text(statement, 0)));
    lb_statement_free(statement);
    return lb_shell_failed(&word, status, err);
}

lb_status lb_vehicle_save(struct lb_store *store, struct lb_vehicle *vehicle, struct lb_error *err)
{
    if (!vehicle->name || !*vehicle->name)
        return lb_fail(err, LB_DATA, "a vehicle needs a name.");
    if (!vehicle->id && lb_text_name_refusal(vehicle->name))
        return lb_fail(err, LB_DATA, "no vehicle can be called \"%.*s\": the name %s.",
                       LB_FIT(vehicle->name, 60), lb_text_name_refusal(vehicle->name));
    if (!vehicle->make || !vehicle->model)
        return lb_fail(err, LB_DATA, "vehicle %s: state --make and --model.", vehicle->name);
    lb_status status = lb_store_begin(store, err);
    if (!status && !vehicle->id)
        status = refuse_taken(store, vehicle->name, err);
    if (!status)
        status = save_row(store, vehicle, err);
    if (!status)
        status = save_facts(store, vehicle, err);
    if (!status)
        status = lb_store_commit(store, err);
    if (status)
        lb_store_rollback(store);
    return status;
}

static lb_status load_facts(struct lb_store *store, struct lb_vehicle *vehicle, struct lb_error *err)
{
    struct lb_statement *statement;
    bool row;
    lb_status status = lb_store_prepare(
        store, &statement, "SELECT key, value FROM vehicle_fact WHERE vehicle = ? ORDER BY key", err);
    if (status)
        return status;
    lb_bind_integer(statement, 1, vehicle->id);
    while (!(status = lb_step(statement, &row, err)) && row) {
        status = state_fact(vehicle, lb_text(statement, 0), lb_text(statement, 1), err);
        if (status)
            break;
    }
    lb_statement_free(statement);
    return status;
}

#define VEHICLE_COLUMNS "SELECT id, name, make, model, built, vin FROM vehicle "

static lb_status load_row(struct lb_store *store, struct lb_statement *row, struct lb_vehicle *out,
                          struct lb_error *err)
{
    memset(out, 0, sizeof *out);
    out->interval = unknown_date;
    out->id = lb_integer(row, 0);
    lb_status status = replace(&out->name, lb_text(row, 1), err);
    if (!status)
        status = replace(&out->make, lb_text(row, 2), err);
    if (!status)
        status = replace(&out->model, lb_text(row, 3), err);
    if (!status && !lb_is_null(row, 4))
        status = state_built(out, lb_text(row, 4), err);
    if (!status && !lb_is_null(row, 5))
        status = replace(&out->vin, lb_text(row, 5), err);
    return status ? status : load_facts(store, out, err);
}

lb_status lb_vehicle_load(struct lb_store *store, const char *name, struct lb_vehicle *out,
                          struct lb_error *err)
{
    struct lb_statement *statement;
    bool row = false;
    memset(out, 0, sizeof *out);
    lb_status status = lb_store_prepare(store, &statement, VEHICLE_COLUMNS "WHERE name = ?", err);
    if (status)
        return status;
    lb_bind_text(statement, 1, name);
    status = lb_step(statement, &row, err);
    if (!status && row)
        status = load_row(store, statement, out, err);
    lb_statement_free(statement);
    if (!status && !row)
        status = lb_store_refuse_unknown(store, "vehicle", name, "SELECT name FROM vehicle ORDER BY name",
                                         "Add it with: lastbolt vehicle add NAME --make M --model M", err);
    if (status)
        lb_vehicle_free(out);
    return status;
}

lb_status lb_vehicle_each(struct lb_store *store, lb_status (*each)(void *, const struct lb_vehicle *),
                          void *context, struct lb_error *err)
{
    struct lb_statement *statement;
    bool row;
    lb_status status = lb_store_prepare(store, &statement, VEHICLE_COLUMNS "ORDER BY name", err);
    if (status)
        return status;
    while (!(status = lb_step(statement, &row, err)) && row) {
        struct lb_vehicle vehicle;
        status = load_row(store, statement, &vehicle, err);
        if (!status && (status = each(context, &vehicle)) == LB_NOMEM)
            lb_fail_nomem(err);
        lb_vehicle_free(&vehicle);
        if (status)
            break;
    }
    lb_statement_free(statement);
    return status;
}

const char *lb_vehicle_fact(const struct lb_vehicle *vehicle, const char *key)
{
    for (size_t i = 0; i < vehicle->facts.count; i++)
        if (strcmp(vehicle->facts.at[i].key, key) == 0)
            return vehicle->facts.at[i].value;
    return NULL;
}

static const char *look_up(void *context, const char *key)
{
    return lb_vehicle_fact(context, key);
}

struct lb_facts lb_vehicle_facts(const struct lb_vehicle *vehicle)
{
    return (struct lb_facts){look_up, (void *)vehicle, vehicle->interval};
}

void lb_vehicle_free(struct lb_vehicle *vehicle)
{
    free(vehicle->name);
    free(vehicle->make);
    free(vehicle->model);
    free(vehicle->built);
    free(vehicle->vin);
    for (size_t i = 0; i < vehicle->facts.count; i++) {
        free(vehicle->facts.at[i].key);
        free(vehicle->facts.at[i].value);
    }
    free(vehicle->facts.at);
    memset(vehicle, 0, sizeof *vehicle);
}
