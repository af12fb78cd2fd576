#include "kit/lock_text.h"

#include <stddef.h>

_Static_assert(sizeof(enum lb_reason) == sizeof(int) && sizeof(enum lb_decision) == sizeof(int) &&
                   sizeof(enum lb_reuse) == sizeof(int),
               "fields of type LOCK_NAMED are read and written as int");

static const char *reason_word(int value)
{
    return lb_reason_name((enum lb_reason)value);
}

static const char *decision_word(int value)
{
    return lb_decision_name((enum lb_decision)value);
}

static const char *reuse_word(int value)
{
    static const char *const words[] = {"never", "check", "always"};
    return words[value];
}

static const char *place_word(int spare)
{
    return spare ? "spare" : "need";
}

static const char *sure_word(int sure)
{
    return sure ? "sure" : "ask";
}

static const char *yes_word(int yes)
{
    return yes ? "yes" : "no";
}

#define TEXT(name, type, member)                                                                             \
    {                                                                                                        \
        name, offsetof(type, member), LOCK_WORDS, true, NULL, 0                                              \
    }
#define MAYBE(name, type, member)                                                                            \
    {                                                                                                        \
        name, offsetof(type, member), LOCK_WORDS, false, NULL, 0                                             \
    }
#define NUMBER(name, type, member)                                                                           \
    {                                                                                                        \
        name, offsetof(type, member), LOCK_QUANTITY, true, NULL, 0                                           \
    }
#define PERHAPS(name, type, member)                                                                          \
    {                                                                                                        \
        name, offsetof(type, member), LOCK_QUANTITY, false, NULL, 0                                          \
    }
#define WORD(name, type, member, of, most)                                                                   \
    {                                                                                                        \
        name, offsetof(type, member), LOCK_NAMED, true, of, most                                             \
    }
#define FLAG(name, type, member, of)                                                                         \
    {                                                                                                        \
        name, offsetof(type, member), LOCK_FLAG, true, of, 1                                                 \
    }

static const struct lock_field header[] = {
    TEXT("kit", struct lb_kit_lock, kit),
    {"locked", offsetof(struct lb_kit_lock, locked), LOCK_DAY, true, NULL, 0},
    TEXT("vehicle", struct lb_kit_lock, vehicle),
    TEXT("make", struct lb_kit_lock, make),
    TEXT("model", struct lb_kit_lock, model),
    MAYBE("built", struct lb_kit_lock, built),
    MAYBE("vin", struct lb_kit_lock, vin),
    TEXT("platform", struct lb_kit_lock, platform),
};

static const struct lock_field fact[] = {TEXT("fact", struct lb_lock_fact, key),
                                         TEXT("value", struct lb_lock_fact, value)};
static const struct lock_field source[] = {TEXT("source", struct lb_lock_source, name),
                                           TEXT("fingerprint", struct lb_lock_source, fingerprint)};

static const struct lock_field line[] = {
    TEXT("line", struct lb_lock_line, key),
    TEXT("part type", struct lb_lock_line, part_type),
    MAYBE("spec", struct lb_lock_line, spec),
    NUMBER("quantity", struct lb_lock_line, quantity),
    TEXT("unit", struct lb_lock_line, unit),
    WORD("reason", struct lb_lock_line, reason, reason_word, LB_MISSED_BEFORE),
    FLAG("as", struct lb_lock_line, spare, place_word),
    FLAG("needed", struct lb_lock_line, sure, sure_word),
    WORD("decision", struct lb_lock_line, decision, decision_word, LB_DROP),
    FLAG("decided by the owner", struct lb_lock_line, decided, yes_word),
    MAYBE("brand", struct lb_lock_line, part.brand),
    MAYBE("number", struct lb_lock_line, part.number),
    MAYBE("counted in", struct lb_lock_line, part.unit),
    MAYBE("replaced by", struct lb_lock_line, part.replaced_by),
    FLAG("discontinued", struct lb_lock_line, part.discontinued, yes_word),
};

static const struct lock_field place[] = {TEXT("for", struct lb_lock_place, component),
                                          MAYBE("item", struct lb_lock_place, item)};

static const struct lock_field offer[] = {
    TEXT("offer", struct lb_lock_offer, supplier),
    MAYBE("code", struct lb_lock_offer, code),
    TEXT("currency", struct lb_lock_offer, currency),
    {"price", offsetof(struct lb_lock_offer, price), LOCK_MONEY, true, NULL, 0},
    NUMBER("pack", struct lb_lock_offer, pack),
    {"minimum packs", offsetof(struct lb_lock_offer, minimum), LOCK_COUNT, true, NULL, 0},
};

static const struct lock_field fastening[] = {
    TEXT("fastening of", struct lb_lock_fastening, component),
    TEXT("item", struct lb_lock_fastening, item),
    TEXT("part type", struct lb_lock_fastening, part_type),
    MAYBE("spec", struct lb_lock_fastening, spec),
    NUMBER("quantity", struct lb_lock_fastening, quantity),
    TEXT("unit", struct lb_lock_fastening, unit),
    WORD("goes back", struct lb_lock_fastening, reuse, reuse_word, LB_REUSE_ALWAYS),
    PERHAPS("torque in N·m", struct lb_lock_fastening, torque),
    PERHAPS("angle in °", struct lb_lock_fastening, angle),
};

static const struct lock_field circuit[] = {
    TEXT("circuit", struct lb_lock_circuit, circuit),
    TEXT("fluid", struct lb_lock_circuit, fluid),
    MAYBE("spec", struct lb_lock_circuit, spec),
    NUMBER("capacity in L", struct lb_lock_circuit, capacity),
    PERHAPS("mix in %", struct lb_lock_circuit, mix),
    PERHAPS("protects to °C", struct lb_lock_circuit, freeze_to),
    MAYBE("thinned with", struct lb_lock_circuit, diluent),
};

static const struct lock_field want[] = {{"wanted", 0, LOCK_WORDS, true, NULL, 0}};
static const struct lock_field caution[] = {{"caution", 0, LOCK_WORDS, true, NULL, 0}};
static const struct lock_field step[] = {{"step", 0, LOCK_WORDS, true, NULL, 0}};
static const struct lock_field question[] = {{"to be asked", 0, LOCK_WORDS, true, NULL, 0}};

#define KIND(first_depth, depth, apart, fields)                                                              \
    {                                                                                                        \
        first_depth, depth, apart, fields, sizeof fields / sizeof *fields                                    \
    }

const struct lock_kind lock_kinds[LOCK_RECORDS] = {
    [LOCK_HEADER] = KIND(0, 0, false, header),  [LOCK_FACT] = KIND(0, 1, false, fact),
    [LOCK_WANT] = KIND(0, 1, false, want),      [LOCK_SOURCE] = KIND(0, 1, false, source),
    [LOCK_LINE] = KIND(0, 1, true, line),       [LOCK_PLACE] = KIND(1, 2, false, place),
    [LOCK_OFFER] = KIND(1, 2, false, offer),    [LOCK_FASTENING] = KIND(0, 1, true, fastening),
    [LOCK_CIRCUIT] = KIND(0, 1, true, circuit), [LOCK_CAUTION] = KIND(0, 1, false, caution),
    [LOCK_STEP] = KIND(0, 1, false, step),      [LOCK_QUESTION] = KIND(0, 1, false, question),
};
