/* Words of the trade around a number: pieces, packs, currencies. */
#include "importers/recast.h"

#include "base/ascii.h"
#include "base/decimal.h"
#include "base/measure.h"
#include "base/money.h"
#include "base/text.h"

#include <string.h>
#include <strings.h>

/* Folded, without dots and blanks. */
static const char *const piece_words[] = {
    "pc",     "pcs",   "pce",    "pces",   "piece",    "pieces",  "ea",     "each",  "unit", "units",
    "stk",    "stck",  "st",     "stück",  "stueck",   "pièce",   "pièces", "pzas",  "pza",  "pieza",
    "piezas", "ud",    "uds",    "unidad", "unidades", "pz",      "pezzo",  "pezzi", "stuk", "stuks",
    "szt",    "sztuk", "sztuka", "sztuki", "styck",    "stycken", "個",     "本",    "枚",   "点",
};

static const char *const pack_words[] = {
    "ve",
    "vpe",
    "pack of",
    "box of",
    "bag of",
    "set of",
    "packung à",
    "packung zu",
    "packung mit",
    "karton à",
    "karton zu",
    "beutel à",
    "beutel zu",
    "beutel mit",
    "lot de",
    "boîte de",
    "sachet de",
    "paquet de",
    "caja de",
    "bolsa de",
    "paquete de",
    "conf. da",
    "confezione da",
    "scatola da",
    "doos van",
    "zak van",
    "verpakking van",
    "opak. po",
    "opakowanie po",
    "op. po",
    "förp om",
    "förpackning om",
    "påse om",
};

static bool is_in(const char *const *words, size_t count, const char *word)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(words[i], word) == 0)
            return true;
    return false;
}

bool lb_recast_is_piece(const char *word)
{
    struct lb_buf folded = {0}, plain = {0};
    lb_text_fold(&folded, word);
    for (const char *p = lb_buf_text(&folded); *p; p++)
        if (*p != '.' && *p != ' ')
            lb_buf_putc(&plain, *p);
    bool found =
        !plain.failed && is_in(piece_words, sizeof piece_words / sizeof *piece_words, lb_buf_text(&plain));
    lb_buf_free(&folded);
    lb_buf_free(&plain);
    return found;
}

/* The number of pieces when a word for a pack stands before it: "VE 10", "box of 10". */
static const char *skip_pack_word(const char *text)
{
    size_t words = strcspn(text, "0123456789");
    struct lb_buf lead = {0}, folded = {0};
    lb_buf_append(&lead, text, words);
    lb_text_fold(&folded, lb_buf_text(&lead));
    while (folded.length && strchr(" :=", folded.text[folded.length - 1]))
        folded.text[--folded.length] = '\0';
    bool known = is_in(pack_words, sizeof pack_words / sizeof *pack_words, lb_buf_text(&folded));
    lb_buf_free(&lead);
    lb_buf_free(&folded);
    return known ? text + words : text;
}

static bool is_pack_tail(const char *text)
{
    return strcasecmp(text, "er-pack") == 0 || strcasecmp(text, "er pack") == 0 ||
           strcasecmp(text, "-pack") == 0;
}

const char *lb_recast_pack(struct lb_buf *out, const char *text, char decimal, char thousands)
{
    static const char unsure[] =
        "is not a pack that can be read for sure, such as \"10 pcs\", \"VE 10\", \"box of 10\" or \"5 L\"";
    const char *rest, *from = skip_pack_word(text);
    if (lb_recast_number(out, from, decimal, thousands, &rest))
        return unsure;
    if (!*rest || lb_recast_is_piece(rest) || (from == text && is_pack_tail(rest)))
        return NULL;
    struct lb_unit unit = lb_unit_find(rest, LB_VOLUME);
    if (unit.dimension == LB_OTHER_UNIT || unit.dimension > LB_LENGTH)
        return unsure;
    if (unit.dimension != LB_COUNT)
        lb_buf_printf(out, " %s", rest);
    return NULL;
}

static size_t trimmed(const char *text, size_t length)
{
    while (length && text[length - 1] == ' ')
        length--;
    return length;
}

/* The first `/`, or a word that says as much; 0: none. */
static size_t find_per(const char *text, size_t *skip)
{
    static const char *const words[] = {"/", " per ", " pro ", " je "};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        const char *hit = strcasestr(text, words[i]);
        *skip = strlen(words[i]);
        if (hit && hit > text)
            return (size_t)(hit - text);
    }
    return 0;
}

const char *lb_recast_split_per(const char *text, size_t *length, int64_t *per)
{
    size_t skip, at = find_per(text, &skip);
    *per = 0;
    *length = trimmed(text, at ? at : strlen(text));
    if (!at)
        return NULL;
    const char *behind = text + at + skip;
    while (*behind == ' ')
        behind++;
    *per = LB_MILLION;
    if (lb_recast_is_piece(behind))
        return NULL;
    struct lb_buf pack = {0};
    const char *why = lb_recast_pack(&pack, behind, 0, 0);
    if (why || !lb_decimal_parse(lb_buf_text(&pack), per) || *per <= 0)
        why =
            "does not say how many pieces the price is for in a way that can be read, such as \"/ 100 pcs\"";
    lb_buf_free(&pack);
    return why;
}

/* Signs of one currency, and signs that several share. Capitals of ASCII count, since `Kr` and `kr` are one.
 */
static const struct {
    const char *sign, *codes;
} signs[] = {
    {"US$", "USD"},
    {"A$", "AUD"},
    {"C$", "CAD"},
    {"NZ$", "NZD"},
    {"HK$", "HKD"},
    {"R$", "BRL"},
    {"€", "EUR"},
    {"Euro", "EUR"},
    {"£", "GBP"},
    {"zł", "PLN"},
    {"Kč", "CZK"},
    {"Ft", "HUF"},
    {"₹", "INR"},
    {"₺", "TRY"},
    {"₽", "RUB"},
    {"₩", "KRW"},
    {"₪", "ILS"},
    {"₫", "VND"},
    {"₴", "UAH"},
    {"円", "JPY"},
    {"元", "CNY"},
    {"$", "USD AUD CAD NZD HKD SGD TWD MXN ARS CLP COP"},
    {"¥", "JPY CNY"},
    {"￥", "JPY CNY"},
    {"kr.", "SEK NOK DKK ISK"},
    {"kr", "SEK NOK DKK ISK"},
    {"Fr.", "CHF XAF XOF XPF"},
};

/* A sign where it was found: at the front or at the end of a text. */
struct hit {
    size_t length;
    bool front;
    const char *codes; /* one, or several with blanks between */
};

static bool is_letter(char c)
{
    c = lb_ascii_lower(c);
    return c >= 'a' && c <= 'z';
}

/* A longer sign is the better one; letters next to letters are part of a word. */
static void try_sign(struct hit *best, const char *text, size_t length, const char *sign, const char *codes)
{
    size_t size = strlen(sign);
    if (size > length || size <= best->length)
        return;
    const char *end = text + length - size;
    bool front = strncasecmp(text, sign, size) == 0 &&
                 !(is_letter(sign[size - 1]) && size < length && is_letter(text[size]));
    bool back =
        strncasecmp(end, sign, size) == 0 && !(is_letter(sign[0]) && end > text && is_letter(end[-1]));
    if (front || back)
        *best = (struct hit){size, front, codes};
}

static void try_code(struct hit *best, const char *text, size_t length, char code[4])
{
    for (int front = 1; front >= 0 && length >= 3; front--) {
        const char *at = front ? text : text + length - 3;
        bool apart = length == 3 || !is_letter(front ? text[3] : at[-1]);
        for (int i = 0; i < 3; i++)
            code[i] = lb_ascii_upper(at[i]);
        code[3] = '\0';
        if (apart && lb_currency_digits(code) >= 0) {
            *best = (struct hit){3, front, code};
            return;
        }
    }
}

static void cut(const char *text, const struct hit *hit, size_t *from, size_t *length)
{
    *from += hit->front ? hit->length : 0;
    *length -= hit->length;
    while (*length && (text[*from] == ' ' || strncmp(text + *from, "\u00A0", 2) == 0)) {
        size_t blank = text[*from] == ' ' ? 1 : 2;
        *from += blank;
        *length -= blank;
    }
    while (*length && (text[*from + *length - 1] == ' ' ||
                       (*length >= 2 && strncmp(text + *from + *length - 2, "\u00A0", 2) == 0)))
        *length -= text[*from + *length - 1] == ' ' ? 1 : 2;
}

const char *lb_recast_currency(struct lb_buf *out, const char *text, size_t *from, size_t *length,
                               const struct lb_pair *own, size_t own_count, const char *currency)
{
    struct hit hit = {0};
    char code[4];
    for (size_t i = 0; i < own_count; i++)
        try_sign(&hit, text + *from, *length, own[i].from, own[i].to);
    if (!hit.codes)
        try_code(&hit, text + *from, *length, code);
    bool found = hit.codes != NULL;
    for (size_t i = 0; !found && i < sizeof signs / sizeof *signs; i++)
        try_sign(&hit, text + *from, *length, signs[i].sign, signs[i].codes);
    if (!hit.codes)
        return NULL;
    if (strlen(hit.codes) == 3)
        lb_buf_puts(out, hit.codes);
    else if (currency && strlen(currency) == 3 && strstr(hit.codes, currency))
        lb_buf_puts(out, currency);
    else
        return "has a sign that several currencies share; the profile must say which, such as `currency "
               "$=USD`";
    cut(text, &hit, from, length);
    return NULL;
}
