/* Kills the process at its n-th call that changes a file: loaded before the C library, armed by kill_at(n, half). */

#define _GNU_SOURCE
#include <dlfcn.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <sys/types.h>
#include <unistd.h>

static long left = 0;  /* calls until the kill; 0 is unarmed */
static long synced = 0;  /* calls since the arming that wait for the disk */
static int half = 0;   /* whether the last write still writes half of its bytes */

void kill_at(long n, int half_of_it) { left = n; synced = 0; half = half_of_it; }
long syncs_made(void) { return synced; }

static int due(void) { return left > 0 && --left == 0; }

static void die(void) { kill(getpid(), SIGKILL); for (;;) pause(); }

#define REAL(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))

ssize_t write(int file, const void *bytes, size_t size) {
    if (due()) { if (half) REAL(write)(file, bytes, size / 2); die(); }
    return REAL(write)(file, bytes, size);
}
ssize_t pwrite(int file, const void *bytes, size_t size, off_t at) {
    if (due()) { if (half) REAL(pwrite)(file, bytes, size / 2, at); die(); }
    return REAL(pwrite)(file, bytes, size, at);
}
ssize_t pwrite64(int file, const void *bytes, size_t size, off64_t at) {
    if (due()) { if (half) REAL(pwrite64)(file, bytes, size / 2, at); die(); }
    return REAL(pwrite64)(file, bytes, size, at);
}
int ftruncate(int file, off_t size) { if (due()) die(); return REAL(ftruncate)(file, size); }
int ftruncate64(int file, off64_t size) { if (due()) die(); return REAL(ftruncate64)(file, size); }
int fsync(int file) { synced++; if (due()) die(); return REAL(fsync)(file); }
int fdatasync(int file) { synced++; if (due()) die(); return REAL(fdatasync)(file); }
int unlink(const char *name) { if (due()) die(); return REAL(unlink)(name); }
int rename(const char *from, const char *to) { if (due()) die(); return REAL(rename)(from, to); }
int mkdir(const char *name, mode_t mode) { if (due()) die(); return REAL(mkdir)(name, mode); }
int rmdir(const char *name) { if (due()) die(); return REAL(rmdir)(name); }
