#include "fuzz_find.h"

#include "catalog/import.h"
#include "catalog/lookup.h"
#include "garage/vehicle.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Titles of the same few words, so many that the quick walk has something to pass over. */
enum { FILLER = 6000 };

struct file {
    const char *name, *text;
};

static const struct file files[] = {
    {"parts.csv",
     "brand,part_number,part_type,description,spec,unit,status\n"
     "Velmora,1140-0081,radiator-hose,HOSE RAD UPR,,each,discontinued\n"
     "Velmora,1140-0150,radiator-hose,Upper radiator hose 32 mm,ID 32,each,\n"
     "Velmora,1140-0151,radiator-hose,Lower radiator hose,ID 35,each,\n"
     "Velmora,6110-0100,earth-lead,Battery earth lead,,each,\n"
     "Velmora,0006110,battery,Battery 62 Ah 12V,,each,\n"
     "Halvane,HV-WP1123,water-pump,Water pump with seal,,each,\n"
     "Halvane,HV/TH 0088,thermostat,Thermostat 88 \302\260C,,each,\n"
     "Halvane,O1I0,oil-seal,Crankshaft seal 35x52x7 front,35x52x7,each,\n"
     "Halvane,O1I1,oil-seal,Crankshaft seal 90x110x8 rear,90x110x8,each,\n"
     "Ironmoss,IM59630,nut,Nut,M6,each,\n"
     "Ironmoss,IM33243,flange-bolt,Flange bolt,M8x1.25x30 8.8,each,\n"
     "Ironmoss,IM33244,flange-bolt,Flange bolt,M8x1.25x35 10.9,each,\n"
     "Stra\303\237enbau,\303\234-1,k\303\274hler-schlauch,K\303\274hlerschlauch oben links,,each,\n"
     "\320\236\321\200\320\273\320\276\320\277,\320\220-7,\320\275\320\260\321\201\320\276\321\201,"
     "\320\222\320\276\320\264\321\217\320\275\320\276\320\271 "
     "\320\275\320\260\321\201\320\276\321\201,,each,\n"
     "Fenwright,7,belt,V-belt 10x950,10x950,each,\n"
     "Fenwright,6PK1873,belt,Multi-rib belt 6 ribs 1873 mm,6PK1873,each,\n"
     "Oarlock,OL-B1-1,coolant-concentrate,Coolant concentrate,B1 silicate,L,\n"
     "Oarlock,OL-5W,engine-oil,Engine oil 5W-30,5W-30,L,\n"
     "Tidewell,123456789012345678901234567890,lamp,\"Lamp \"\"H7\"\" 12 V 55 W, clear\",,each,\n"
     "A,1,x,,,each,\n"},
    {"offers.csv", "supplier,brand,part_number,price,currency,pack_quantity,stock,valid_to\n"
                   "quayside,Velmora,1140-0150,19.95,EUR,1,3,\n"
                   "harbour,Velmora,1140-0150,18.95,GBP,2,,\n"
                   "quayside,Ironmoss,IM33243,0.40,EUR,50,,\n"
                   "quayside,Halvane,HV-WP1123,34.88,EUR,1,0,2001-01-01\n"
                   "quayside,Bulkhead,ZX-99,5.00,EUR,1,,\n"},
    {"crossrefs.csv", "brand,part_number,other_brand,other_number,relation\n"
                      "Pellworth,P-67459,Velmora,6110-0100,same\n"
                      "Velmora,6110-0100,Pellworth,P-67459,same\n"
                      "Tidewell,TW1,Velmora,1140-0150,instead\n"
                      "Tidewell,TW1,Tidewell,TW2,same\n"
                      "Tidewell,TW2,Tidewell,TW3,same\n"},
    {"supersessions.csv", "brand,part_number,new_brand,new_number,quantity,group\n"
                          "Velmora,1140-0081,Velmora,1140-0120,1,\n"
                          "Velmora,1140-0120,Velmora,1140-0150,1,\n"
                          "Halvane,L-1,Halvane,L-2,1,\n"
                          "Halvane,L-2,Halvane,L-3,1,\n"
                          "Halvane,L-3,Halvane,L-1,1,\n"
                          "Halvane,SELF,Halvane,SELF,1,\n"
                          "Ironmoss,KIT,Ironmoss,IM59630,2,a\n"
                          "Ironmoss,KIT,Ironmoss,IM33243,1,a\n"},
    {"applications.csv", "brand,part_number,make,model,built_from,built_to,when,position\n"
                         "Velmora,1140-0150,Velmora,Tern,,,,front\n"
                         "Velmora,1140-0151,Velmora,Tern,,,ac = yes,\n"
                         "Halvane,HV-WP1123,Velmora,Tern,2001,2004,,\n"
                         "Halvane,O1I0,Velmora,Tern,,,engine = k16,front\n"
                         "Halvane,O1I1,Velmora,Tern,,,,rear\n"
                         "Halvane,L-2,Velmora,Tern,,,,\n"
                         "Velmora,6110-0100,Velmora,Tern,,,,\n"
                         "Ironmoss,IM33243,Velmora,Dipper,,,,\n"},
    {"synonyms.csv", "term,means,note\n"
                     "coolant pipe,radiator hose,ours\n"
                     "squirrel,water pump,\n"
                     "water pump,squirrel,\n"
                     "big round thing there,oil seal,\n"
                     "\320\277\320\276\320\274\320\277\320\260,\320\275\320\260\321\201\320\276\321\201,\n"},
};

static struct lb_error err;

static void expect(bool good, const char *what)
{
    if (good)
        return;
    fprintf(stderr, "fuzz_find: %s: %s\n", what, lb_error_text(&err));
    abort();
}

static FILE *begin_file(const char *folder, const char *name)
{
    char path[256];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "wb");
    expect(file != NULL, path);
    return file;
}

static void write_filler(const char *folder)
{
    static const char *const words[] = {"upper", "lower", "radiator", "hose",  "pump", "seal",
                                        "black", "long",  "steel",    "water", "rear", "front"};
    static const char *const types[] = {"hose", "water-pump", "oil-seal", "radiator-hose", "bolt"};
    FILE *file = begin_file(folder, "filler.csv");
    uint64_t state = 4711;
    fprintf(file, "brand,part_number,part_type,description\n");
    for (int row = 0; row < FILLER; row++) {
        state = state * UINT64_C(6364136223846793005) + 1442695040888963407u;
        fprintf(file, "B%u,N-%d,%s,", (unsigned)(state >> 61), row, types[(state >> 33) % 5]);
        for (uint64_t left = 1 + (state >> 40) % 7, draw = state; left; left--) {
            draw = draw * UINT64_C(6364136223846793005) + 1442695040888963407u;
            fprintf(file, "%s ", words[(draw >> 33) % 12]);
        }
        fputs("\n", file);
    }
    expect(fclose(file) == 0, "filler.csv");
}

static void write_files(const char *folder)
{
    for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
        FILE *file = begin_file(folder, files[i].name);
        fputs(files[i].text, file);
        expect(fclose(file) == 0, files[i].name);
    }
    write_filler(folder);
}

static void remove_files(const char *folder)
{
    char path[256];
    for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
        snprintf(path, sizeof path, "%s/%s", folder, files[i].name);
        unlink(path);
    }
    snprintf(path, sizeof path, "%s/filler.csv", folder);
    unlink(path);
    rmdir(folder);
}

static void import(struct lb_store *store, const char *folder)
{
    const char *const paths[] = {folder};
    const struct lb_import_options options = {.paths = paths, .path_count = 1, .now = "2026-01-01T00:00:00Z"};
    struct lb_import_result result = {0};
    expect(lb_import(store, &options, &result, &err) == LB_OK, "import");
    for (size_t i = 0; i < result.files.count; i++)
        expect(!result.files.at[i].problem && !result.files.at[i].rejected, result.files.at[i].file);
    lb_import_result_free(&result);
}

static void add_vehicle(struct lb_store *store)
{
    struct lb_vehicle vehicle = {.name = strdup("maggie")};
    expect(vehicle.name && !lb_vehicle_state(&vehicle, "make", "Velmora", &err) &&
               !lb_vehicle_state(&vehicle, "model", "Tern", &err) &&
               !lb_vehicle_state(&vehicle, "engine", "k16", &err) && !lb_vehicle_save(store, &vehicle, &err),
           "vehicle");
    lb_vehicle_free(&vehicle);
}

void fuzz_find_index(struct lb_store **store, struct lb_fitting **fitting)
{
    const char *place = getenv("TMPDIR");
    char folder[128];
    snprintf(folder, sizeof folder, "%.100s/lastbolt-fuzz-XXXXXX", place && *place ? place : "/tmp");
    expect(mkdtemp(folder) != NULL, folder);
    write_files(folder);
    expect(lb_store_open(store, ":memory:", LB_STORE_WRITE, &err) == LB_OK, "index");
    expect(lb_lookup_ready(*store, &err) == LB_OK, "lookup");
    import(*store, folder);
    remove_files(folder);
    add_vehicle(*store);
    expect(lb_fitting_load(fitting, *store, "maggie", &err) == LB_OK, "fitting");
}
