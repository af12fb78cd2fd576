/* Progress, stopping, being killed, and several at once. */
#include "bench.h"

#include <criterion/criterion.h>
#include <fcntl.h>
#include <signal.h>
#include <string.h>
#include <sys/file.h>
#include <sys/wait.h>
#include <unistd.h>

static void begin(void)
{
    bench_begin("DNS:localhost,IP:127.0.0.1");
}

TestSuite(together, .init = begin, .fini = bench_end, .timeout = 200);

struct watcher {
    uint64_t done, size, stop_at;
    bool backwards;
};

static int watch(void *context, uint64_t done, uint64_t size)
{
    struct watcher *watcher = context;
    watcher->backwards = watcher->backwards || done < watcher->done;
    watcher->done = done;
    watcher->size = size ? size : watcher->size;
    return watcher->stop_at && done >= watcher->stop_at;
}

Test(together, progress_and_stop)
{
    struct watcher watcher = {.stop_at = 40000};
    uint64_t size = (uint64_t)bench_size(bench_list("v1"));
    bench.options.context = &watcher;
    bench.options.progress = watch;
    bench_refused("slow/offers.csv", LB_SYSTEM, "the download was stopped. The ");
    long part = bench_size(bench_download(".part"));
    cr_assert(part >= 40000 && (uint64_t)part < size, "%ld", part);
    cr_assert_eq(watcher.size, size);
    cr_assert_not(watcher.backwards);
    watcher = (struct watcher){.done = (uint64_t)part}; /* goes on from there, not from 0 */
    bench_fetched("slow/offers.csv", "v1", false);
    bench_logged(1, "206 ", "If-Range=\"v1\"");
    cr_assert_eq(watcher.done, size);
    cr_assert_eq(watcher.size, size);
    cr_assert_not(watcher.backwards);
}

static pid_t fetch_in_child(const char *path)
{
    pid_t child = fork();
    cr_assert(child >= 0);
    if (child == 0) {
        lb_status status = bench_fetch(path);
        bool good = status == LB_OK && bench_same(bench.got.path, bench_list("v1"));
        _exit(!good ? 1 : bench.got.unchanged ? 4 : 3);
    }
    return child;
}

Test(together, killed)
{
    pid_t child = fetch_in_child("stall-50000,whole/offers.csv");
    for (int i = 0; i < 200 && bench_size(bench_download(".part")) < 50000; i++)
        usleep(20000);
    cr_assert_eq(bench_size(bench_download(".part")), 50000);
    kill(child, SIGKILL);
    cr_assert_eq(waitpid(child, NULL, 0), child);
    bench_fetched("stall-50000,whole/offers.csv", "v1", false);
    bench_logged(1, "206 ", "Range=bytes=50000-");
}

Test(together, four_at_once)
{
    int fetched = 0, unchanged = 0, status;
    for (int i = 0; i < 4; i++)
        fetch_in_child("slow/offers.csv");
    for (int i = 0; i < 4; i++) {
        pid_t child = wait(&status);
        cr_assert(child > 0 && WIFEXITED(status));
        fetched += WEXITSTATUS(status) == 3;
        unchanged += WEXITSTATUS(status) == 4;
    }
    cr_assert_eq(fetched, 1, "%d", fetched);
    cr_assert_eq(unchanged, 3, "%d", unchanged);
    bench_fetched("slow/offers.csv", "v1", true);
}

Test(together, locked_for_too_long)
{
    struct watcher watcher = {0};
    bench_fetched("whole/offers.csv", "v1", false);
    int lock = open(bench_beside(".lock"), O_RDWR);
    cr_assert_eq(flock(lock, LOCK_EX | LOCK_NB), 0, "the lock is still held, or there is none");
    bench.options.connect_seconds = 1;
    bench.options.context = &watcher;
    bench.options.progress = watch;
    bench_refused("whole/offers.csv", LB_SYSTEM, "another lastbolt is fetching");
    cr_assert_eq(bench_requests(), 1);
    close(lock);
    bench.options.connect_seconds = 30;
    bench_fetched("whole/offers.csv", "v1", true);
}
