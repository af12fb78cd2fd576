/* The tables of the standards behind spec.h. Lengths in micrometres unless a name says otherwise. */
#include "base/spec.h"

#include <string.h>

#define COUNT(table) (sizeof(table) / sizeof(table)[0])

/* ISO 261, coarse series (ISO 262 is its selection for bolts and nuts). Across flats: ISO 272, hexagon
 * products; M3 is 5.5 mm and stays out of a column of whole millimetres. The sizes that tests/outside checks
 * come from published tables; the others are from memory of them. */
static const struct {
    int32_t diameter, pitch;
    int flats_mm;
} threads[] = {
    {1000, 250, 0},    {1100, 250, 0},    {1200, 250, 0},    {1400, 300, 0},    {1600, 350, 0},
    {1800, 350, 0},    {2000, 400, 4},    {2200, 450, 0},    {2500, 450, 5},    {3000, 500, 0},
    {3500, 600, 6},    {4000, 700, 7},    {4500, 750, 0},    {5000, 800, 8},    {6000, 1000, 10},
    {7000, 1000, 11},  {8000, 1250, 13},  {9000, 1250, 0},   {10000, 1500, 16}, {11000, 1500, 0},
    {12000, 1750, 18}, {14000, 2000, 21}, {16000, 2000, 24}, {18000, 2500, 27}, {20000, 2500, 30},
    {22000, 2500, 34}, {24000, 3000, 36}, {27000, 3000, 41}, {30000, 3500, 46}, {33000, 3500, 50},
    {36000, 4000, 55}, {39000, 4000, 60}, {42000, 4500, 65}, {45000, 4500, 70}, {48000, 5000, 75},
    {52000, 5000, 80}, {56000, 5500, 85}, {60000, 5500, 90}, {64000, 6000, 95},
};

int32_t lb_thread_coarse_pitch(int32_t diameter)
{
    for (size_t i = 0; i < COUNT(threads); i++)
        if (threads[i].diameter == diameter)
            return threads[i].pitch;
    return 0;
}

int32_t lb_thread_pitch_limit(int32_t diameter)
{
    for (size_t i = 0; i < COUNT(threads); i++)
        if (threads[i].diameter >= diameter)
            return threads[i].pitch;
    return threads[COUNT(threads) - 1].pitch;
}

int lb_thread_across_flats(int32_t diameter)
{
    for (size_t i = 0; i < COUNT(threads); i++)
        if (threads[i].diameter == diameter)
            return threads[i].flats_mm;
    return 0;
}

/* ISO 898-1, proof loads, coarse pitch, in newtons; 0: the standard gives none. Read, not computed: the
 * standard rounds area × stress in its own way. */
static const char *const classes[] = {"4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9"};

static const struct {
    int32_t diameter;
    int32_t load[COUNT(classes)];
} proof_loads[] = {
    {3000, {1130, 1560, 1410, 1910, 2210, 2920, 3270, 4180, 4880}},
    {3500, {1530, 2100, 1900, 2580, 2980, 3940, 4410, 5630, 6580}},
    {4000, {1980, 2720, 2460, 3340, 3860, 5100, 5710, 7290, 8520}},
    {5000, {3200, 4400, 3980, 5400, 6250, 8230, 9230, 11800, 13800}},
    {6000, {4520, 6230, 5630, 7640, 8840, 11600, 13100, 16700, 19500}},
    {7000, {6500, 8960, 8090, 11000, 12700, 16800, 18800, 24000, 28000}},
    {8000, {8240, 11400, 10200, 13900, 16100, 21200, 23800, 30400, 35500}},
    {10000, {13000, 18000, 16200, 22000, 25500, 33700, 37700, 48100, 56300}},
    {12000, {19000, 26100, 23600, 32000, 37100, 48900, 54800, 70000, 81800}},
    {14000, {25900, 35600, 32200, 43700, 50600, 66700, 74800, 95500, 112000}},
    {16000, {35300, 48700, 44000, 59700, 69100, 91000, 102000, 130000, 152000}},
    {18000, {43200, 59500, 53800, 73000, 84500, 115000, 0, 159000, 186000}},
    {20000, {55100, 76000, 68600, 93100, 108000, 147000, 0, 203000, 238000}},
    {22000, {68200, 93900, 84800, 115000, 133000, 182000, 0, 252000, 294000}},
    {24000, {79400, 109000, 98800, 134000, 155000, 212000, 0, 293000, 342000}},
    {27000, {103000, 142000, 128000, 174000, 202000, 275000, 0, 381000, 445000}},
};

static int32_t class_load(const int32_t *load, const char *grade)
{
    for (size_t i = 0; i < COUNT(classes); i++)
        if (strcmp(classes[i], grade) == 0)
            return load[i];
    return 0;
}

int32_t lb_thread_proof_load(int32_t diameter, const char *grade)
{
    for (size_t i = 0; i < COUNT(proof_loads); i++)
        if (proof_loads[i].diameter == diameter)
            return class_load(proof_loads[i].load, grade);
    return 0;
}

/* Nominal stress area over π/4, in µm²: (d - 0.9382 P)² (ISO 898-1, 9.1.6.1). */
static double stress_area(int32_t diameter, int32_t pitch)
{
    double core = diameter - 0.9382 * pitch;
    return core * core;
}

int64_t lb_thread_torque_limit(const struct lb_spec *spec)
{
    int32_t coarse = lb_thread_coarse_pitch(spec->diameter);
    if (spec->kind != LB_SPEC_THREAD || !coarse)
        return 0;
    int64_t load = lb_thread_proof_load(spec->diameter, spec->grade[0] ? spec->grade : "12.9");
    int64_t torque = load * spec->diameter / 5; /* N × µm are millionths of a N·m; K = 1/5 */
    if (!spec->pitch || spec->pitch == coarse)
        return torque;
    return (int64_t)((double)torque * stress_area(spec->diameter, spec->pitch) /
                         stress_area(spec->diameter, coarse) +
                     0.5);
}

/* SAE AS568: inside diameters; the section is fixed by the hundred (the small numbers 001 to 003 differ and
 * are not carried). Public tables contradict one another, so a number stands here only where two sources
 * agree; each is also the standard's inch size, rounded to 0.01 mm. */
static const struct {
    int dash;
    int32_t inside;
} o_rings[] = {
    {4, 1780},    {8, 4470},    {10, 6070},   {12, 9250},   {14, 12420},  {16, 15600},  {18, 18770},
    {20, 21950},  {24, 28300},  {110, 9190},  {112, 12370}, {115, 17120}, {120, 25070}, {210, 18640},
    {214, 24990}, {218, 31340}, {222, 37690}, {226, 50390}, {325, 37470},
};

static const int32_t sections[] = {1780, 2620, 3530, 5330, 6990};

bool lb_o_ring_as568(int dash, int32_t *inside, int32_t *section)
{
    for (size_t i = 0; i < COUNT(o_rings); i++)
        if (o_rings[i].dash == dash) {
            *inside = o_rings[i].inside;
            *section = sections[dash / 100];
            return true;
        }
    return false;
}
