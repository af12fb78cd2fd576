/* The words that make_catalog.c makes a trade of. All of it is invented or plain trade language. */
#ifndef LB_TESTS_MAKE_CATALOG_WORDS_H
#define LB_TESTS_MAKE_CATALOG_WORDS_H

struct trade_word {
    const char *word, *brief; /* as in a part type, as in a description */
};

static const char *const name_starts[] = {"Brall", "Corv", "Dunh", "Fenn", "Galm", "Hask", "Istr", "Jorv",
                                          "Kelb",  "Lund", "Marq", "Nord", "Ossk", "Pelt", "Quar", "Rudv",
                                          "Sterl", "Torb", "Ulmq", "Velm", "Wesk", "Yarr", "Zanb", "Brimm"};
static const char *const name_ends[] = {"ane", "ick",  "ora", "ulf",  "ex",  "ovar", "imo", "entis",
                                        "ado", "orin", "una", "eska", "iva", "olt",  "arn", "usko"};

static const struct trade_word heads[] = {
    {"hose", "HOSE"},   {"gasket", "GSKT"},  {"seal", "SEAL"},   {"filter", "FLTR"},    {"bolt", "BOLT"},
    {"pump", "PUMP"},   {"ring", "RING"},    {"bearing", "BRG"}, {"sensor", "SNSR"},    {"belt", "BELT"},
    {"valve", "VLV"},   {"bracket", "BRKT"}, {"clamp", "CLMP"},  {"cover", "CVR"},      {"bush", "BUSH"},
    {"switch", "SW"},   {"pulley", "PLY"},   {"cap", "CAP"},     {"housing", "HSG"},    {"shaft", "SHFT"},
    {"joint", "JNT"},   {"mount", "MTG"},    {"cable", "CBL"},   {"lamp", "LMP"},       {"relay", "RLY"},
    {"spring", "SPRG"}, {"disc", "DISC"},    {"pad", "PAD"},     {"tensioner", "TNSR"}, {"plug", "PLG"}};
static const struct trade_word uses[] = {
    {"water", "WTR"},   {"radiator", "RAD"},  {"oil", "OIL"},    {"brake", "BRK"},        {"fuel", "FUEL"},
    {"heater", "HTR"},  {"drive", "DRV"},     {"clutch", "CLU"}, {"timing", "TMG"},       {"intake", "INTK"},
    {"exhaust", "EXH"}, {"steering", "STRG"}, {"wheel", "WHL"},  {"thermostat", "TSTAT"}, {"gearbox", "GBX"}};

static const char *const places[] = {"UPR", "LWR", "FRT",    "RR",     "LH",    "RH",
                                     "INR", "OTR", "FRT LH", "FRT RH", "RR LH", "RR RH"};
static const char *const extras[] = {"ASSY",     "KIT",   "W/GSKT",   "W/PUMP HSG", "W/O SNSR", "SET",
                                     "EPDM",     "NBR",   "FKM",      "ALU",        "STL ZN",   "REINF",
                                     "W/CLAMPS", "HD",    "OE STYLE", "BLK",        "2-PIN",    "3-PIN",
                                     "ADJ",      "SHORT", "LONG",     "W/BOLTS",    "REMAN",    "VENTED"};
static const char *const rare_parts[] = {"ba", "ce", "di", "fo", "gu", "ka", "le", "mi",
                                         "no", "pu", "ra", "se", "ti", "vo", "zu", "kr"};

/* How a brand writes its numbers: # a digit, @ a letter, everything else as it is. Longer ones for the brands
 * that have more parts. */
static const char *const long_formats[] = {"####-###-##@", "##-## ####",   "@@ ####.####",
                                           "########",     "#.###.###-##", "@###/#####"};
static const char *const middle_formats[] = {"##-## ###", "@@###-####", "### ## ##", "#######@",
                                             "@-#####.##"};
static const char *const short_formats[] = {"@@ ####.##", "##-####", "@@@######", "###.###"};

#endif
