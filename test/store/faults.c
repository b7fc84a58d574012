// Plays a disk that fails, for one process: preloaded, it lets the FAULT_AT-th call of the kind FAULT_CALL ("sync", "write"
// or "short": half of it is written first) on files below FAULT_PATH fail once with FAULT_ERRNO, and says so on standard error.
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/types.h>
#include <unistd.h>

static int seen = 0;

static int below(int fd) {
  const char *path = getenv("FAULT_PATH");
  if (!path) return 0;
  char link[64], real[4096];
  snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
  ssize_t n = readlink(link, real, sizeof real - 1);
  return n > 0 && strncmp(real, path, strlen(path)) == 0;
}

static int strikes(int fd, const char *call) {
  const char *wanted = getenv("FAULT_CALL"), *at = getenv("FAULT_AT");
  int is_write = strcmp(call, "write") == 0;
  if (!wanted || !at || !(strcmp(wanted, call) == 0 || (is_write && strcmp(wanted, "short") == 0)) || !below(fd)) return 0;
  if (__sync_add_and_fetch(&seen, 1) != atoi(at)) return 0;
  char link[64], said[4096] = "fault struck ";
  snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
  size_t length = strlen(said);
  ssize_t n = readlink(link, said + length, sizeof said - length - 1);
  if (n > 0) length += (size_t)n;
  said[length++] = '\n';
  ssize_t ignored = write(2, said, length);
  (void)ignored;
  return 1;
}

static int failing(void) {
  const char *number = getenv("FAULT_ERRNO");
  errno = number ? atoi(number) : EIO;
  return -1;
}

static int is_short(void) {
  const char *wanted = getenv("FAULT_CALL");
  return wanted && strcmp(wanted, "short") == 0;
}

#define REAL(name, type) ((type)dlsym(RTLD_NEXT, name))

int fsync(int fd) {
  return strikes(fd, "sync") ? failing() : REAL("fsync", int (*)(int))(fd);
}

int fdatasync(int fd) {
  return strikes(fd, "sync") ? failing() : REAL("fdatasync", int (*)(int))(fd);
}

ssize_t write(int fd, const void *bytes, size_t n) {
  ssize_t (*real)(int, const void *, size_t) = REAL("write", ssize_t (*)(int, const void *, size_t));
  if (fd <= 2 || !strikes(fd, "write")) return real(fd, bytes, n);
  if (is_short()) real(fd, bytes, n / 2);
  return failing();
}

ssize_t pwrite64(int fd, const void *bytes, size_t n, off64_t at) {
  ssize_t (*real)(int, const void *, size_t, off64_t) = REAL("pwrite64", ssize_t (*)(int, const void *, size_t, off64_t));
  if (!strikes(fd, "write")) return real(fd, bytes, n, at);
  if (is_short()) real(fd, bytes, n / 2, at);
  return failing();
}

ssize_t pwrite(int fd, const void *bytes, size_t n, off_t at) {
  return pwrite64(fd, bytes, n, at);
}

int ftruncate64(int fd, off64_t length) {
  return strikes(fd, "write") ? failing() : REAL("ftruncate64", int (*)(int, off64_t))(fd, length);
}

int ftruncate(int fd, off_t length) {
  return ftruncate64(fd, length);
}
