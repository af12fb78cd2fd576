/* Runs every file of a corpus through the fuzz target once, without libFuzzer: replay FOLDER... */
#include <dirent.h>
#include <errno.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static int replay_file(const char *path)
{
    FILE *file = fopen(path, "rb");
    if (!file) {
        fprintf(stderr, "%s: %s\n", path, strerror(errno));
        return 1;
    }
    static uint8_t bytes[1 << 20];
    size_t length = fread(bytes, 1, sizeof bytes, file);
    fclose(file);
    uint8_t *exact = malloc(length ? length : 1); /* its own block, so that a sanitizer sees its end */
    if (!exact)
        return 1;
    memcpy(exact, bytes, length);
    LLVMFuzzerTestOneInput(exact, length);
    free(exact);
    return 0;
}

/* The name is printed first, so that a crash says which input it was. */
static int replay_folder(const char *folder, int *count)
{
    DIR *listing = opendir(folder);
    if (!listing) {
        fprintf(stderr, "%s: %s\n", folder, strerror(errno));
        return 1;
    }
    int failed = 0;
    for (struct dirent *entry; (entry = readdir(listing));) {
        char path[4096];
        if (entry->d_name[0] == '.')
            continue;
        int length = snprintf(path, sizeof path, "%s/%s", folder, entry->d_name);
        printf("%s\n", path);
        fflush(stdout);
        failed |= length >= (int)sizeof path || replay_file(path);
        ++*count;
    }
    closedir(listing);
    return failed;
}

int main(int argc, char **argv)
{
    int failed = 0, count = 0;
    for (int i = 1; i < argc; i++)
        failed |= replay_folder(argv[i], &count);
    printf("%d inputs\n", count);
    return failed || count == 0;
}
